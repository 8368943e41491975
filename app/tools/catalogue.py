"""The table of tools: toolbar, menus, shortcuts and help are made from it."""

from __future__ import annotations

from typing import Final, Literal, TypeAlias

import msgspec
from PySide6.QtGui import QIcon

from app.canvas.table import CuttingTable
from app.canvas.tool import Tool
from app.theme import Theme
from app.tools import icons
from app.tools.choose import Choose

ToolMenu: TypeAlias = Literal["Draw", "Darts", "Pieces", "Seams"]
"""The part of the Tools menu that a tool stands in."""


class ToolInfo(msgspec.Struct, frozen=True):
    """One tool: its id, the words on its button, what it does in a sentence, its key, its picture."""

    id: str
    name: str
    hint: str
    shortcut: str
    draw: icons.Draw
    is_on_bar: bool = True
    """Whether it has a button: two rows hold no more at twice the text size; all tools are in the menu."""

    menu: ToolMenu = "Pieces"
    short: str = ""
    """What its button says where the name is long; the name begins with it."""

    def icon(self, theme: Theme) -> QIcon:
        """The tool's picture in the theme's ink."""
        return icons.icon(self.draw, theme)

    def make(self, table: CuttingTable) -> Tool:
        """The tool itself, which `app/tools/makers.py` makes by this one's id."""
        if self is CHOOSE:
            return Choose(table)
        # The first picture has the first tool in hand: the others are imported when one of them is first taken up.
        from app.tools.makers import MAKERS

        return MAKERS[self.id](table)


CHOOSE: Final = ToolInfo(
    "choose", "Choose", "Take up a piece, or a line to alter it by its points.", "V", icons.choose, menu="Draw"
)
TOOLS: Final[tuple[ToolInfo, ...]] = (
    CHOOSE,
    ToolInfo(
        "neckline",
        "Neckline",
        "Drag the neckline's width on the shoulder and its depth at front and back.",
        "N",
        icons.neckline,
        menu="Draw",
    ),
    ToolInfo(
        "sheer-line",
        "Sheer line",
        "Draw where the sheer ends, by placing points from edge to edge.",
        "S",
        icons.sheer_line,
        menu="Draw",
    ),
    ToolInfo(
        "panel-line",
        "Panel seam",
        "Draw a seam that divides a piece, from an edge or a line to an edge or a dart's pivot.",
        "L",
        icons.panel_line,
        menu="Draw",
    ),
    ToolInfo("mark", "Mark", "Draw a line that is marked and not cut.", "M", icons.mark_line, menu="Draw"),
    ToolInfo(
        "pivot",
        "Pivot a dart",
        "Pick a dart, place the pin, pick where the dart goes, and turn.",
        "P",
        icons.pivot,
        short="Pivot",
        menu="Darts",
    ),
    ToolInfo(
        "cut",
        "Cut into panels",
        "Choose lines, and darts that go into the seam; each panel gets a number, a name and a fabric.",
        "C",
        icons.cut,
        short="Cut",
    ),
    ToolInfo(
        "flatten",
        "Flatten",
        "Lay a panel flat that holds the end of a dart, by letting its angle out into an edge.",
        "Q",
        icons.flatten,
        is_on_bar=False,
        menu="Darts",
    ),
    ToolInfo(
        "take-in",
        "Take in",
        "Pick a seam and drag the pins at its levels into the cloth, to contour above the bust or tighten below it.",
        "I",
        icons.take_in,
        menu="Seams",
    ),
    ToolInfo(
        "toile",
        "Toile corrections",
        "After a fitting, click each place that was pinned and type how much; all of it becomes steps.",
        "Z",
        icons.toile,
        is_on_bar=False,
        menu="Seams",
    ),
    ToolInfo(
        "slash",
        "Slash and spread",
        "Click where a piece opens, click the hinge, and spread it; the gap is filled with paper.",
        "H",
        icons.slash,
        is_on_bar=False,
        menu="Darts",
    ),
    ToolInfo(
        "set-back",
        "Set a dart back",
        "End the sewing of a dart short of its pivot.",
        "K",
        icons.set_back,
        is_on_bar=False,
        menu="Darts",
    ),
    ToolInfo(
        "true",
        "True a line",
        "Smooth, straighten or square an edge, or cut a dart's base for its fold.",
        "R",
        icons.true_line,
        short="True",
        menu="Seams",
    ),
    ToolInfo(
        "trim",
        "Trim to match",
        "Click a seam whose sides differ, then the end at which the longer is cut back.",
        "T",
        icons.trim,
        short="Trim",
        menu="Seams",
    ),
    ToolInfo(
        "join",
        "Join",
        "Pick a seam and the end at which its two pieces are laid together, to make them one piece.",
        "J",
        icons.join,
        is_on_bar=False,
        menu="Seams",
    ),
    ToolInfo(
        "walk",
        "Walk a seam",
        "Roll one edge of a seam along the other and see where they part; nothing is altered.",
        "W",
        icons.walk,
        is_on_bar=False,
        menu="Seams",
    ),
    ToolInfo(
        "lay-together",
        "Lay together at a seam",
        "Turn a piece and lay its edge at its mate's, to draw or measure across the seam; the design stays as it is.",
        "A",
        icons.lay_together,
        is_on_bar=False,
        short="Lay together",
        menu="Seams",
    ),
    ToolInfo(
        "tape",
        "Tape",
        "Measure from place to place, straight and along the edges; nothing is altered.",
        "D",
        icons.tape,
        is_on_bar=False,
        menu="Draw",
    ),
    ToolInfo(
        "style-picture",
        "Picture of the style",
        "Lay a picture over the block by pins at its landmarks, to draw the line where the picture has it.",
        "B",
        icons.style_picture,
        is_on_bar=False,
        menu="Draw",
    ),
    ToolInfo(
        "move-edge",
        "Move an edge",
        "Set an edge farther out or in, parallel to itself.",
        "E",
        icons.move_edge,
        is_on_bar=False,
    ),
    ToolInfo(
        "copy",
        "Copy",
        "Lay a copy beside a piece, as its lining, underlining or another layer of it.",
        "Y",
        icons.copy,
        is_on_bar=False,
    ),
    ToolInfo(
        "mirror",
        "Mirror",
        "Turn a piece to its mirror image, with all that is sewn to it.",
        "X",
        icons.mirror,
        is_on_bar=False,
    ),
    ToolInfo(
        "unfold",
        "Unfold",
        "Draw both halves out, so that left and right can differ.",
        "O",
        icons.unfold,
        is_on_bar=False,
    ),
    ToolInfo(
        "grain",
        "Turn the grain",
        "See how far each edge lies off straight grain, and turn a piece's grain or lay an edge along it.",
        "G",
        icons.grain,
        is_on_bar=False,
    ),
    ToolInfo(
        "cup",
        "Cup",
        "Draft a cup in two or three pieces behind what the sheer bares, or alter the one there is.",
        "U",
        icons.cup,
    ),
)


def tool_named(id_: str) -> ToolInfo:
    """The tool of that id."""
    return next(info for info in TOOLS if info.id == id_)

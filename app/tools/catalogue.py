"""The table of tools: toolbar, menus, shortcuts and help are made from it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from PySide6.QtGui import QIcon

from app.canvas.table import CuttingTable
from app.canvas.tool import Tool
from app.theme import Theme
from app.tools import icons
from app.tools.choose import Choose
from app.tools.cup import CupTool
from app.tools.cut import CutTool
from app.tools.draw_line import DrawLine
from app.tools.join import JoinTool
from app.tools.neckline import NecklineTool
from app.tools.pivot import PivotTool
from app.tools.slash import SlashTool
from app.tools.take_in import TakeInTool
from app.tools.trim import TrimTool
from app.tools.walk import WalkTool
from core.pieces.records import LinePurpose


@dataclass(frozen=True, slots=True)
class ToolInfo:
    """One tool: its id, the words on its button, what it does in a sentence, its key, its picture, how it is made."""

    id: str
    name: str
    hint: str
    shortcut: str
    draw: icons.Draw
    make: Callable[[CuttingTable], Tool]

    def icon(self, theme: Theme) -> QIcon:
        """The tool's picture in the theme's ink."""
        return icons.icon(self.draw, theme)


def _drawing(purpose: LinePurpose) -> Callable[[CuttingTable], Tool]:
    def make(table: CuttingTable) -> Tool:
        return DrawLine(table, purpose)

    return make


CHOOSE: Final = ToolInfo(
    "choose",
    "Choose",
    "Take up a piece, or a line to alter it by its points.",
    "V",
    icons.choose,
    Choose,
)
TOOLS: Final[tuple[ToolInfo, ...]] = (
    CHOOSE,
    ToolInfo(
        "neckline",
        "Neckline",
        "Drag the neckline's width on the shoulder and its depth at front and back.",
        "N",
        icons.neckline,
        NecklineTool,
    ),
    ToolInfo(
        "sheer-line",
        "Sheer line",
        "Draw where the sheer ends, by placing points from edge to edge.",
        "S",
        icons.sheer_line,
        _drawing("sheer"),
    ),
    ToolInfo(
        "panel-line",
        "Panel seam",
        "Draw a seam that divides a piece, from an edge or a line to an edge or a dart's pivot.",
        "L",
        icons.panel_line,
        _drawing("panel"),
    ),
    ToolInfo("mark", "Mark", "Draw a line that is marked and not cut.", "M", icons.mark_line, _drawing("mark")),
    ToolInfo(
        "pivot",
        "Pivot a dart",
        "Pick a dart, place the pin, pick where the dart goes, and turn.",
        "P",
        icons.pivot,
        PivotTool,
    ),
    ToolInfo(
        "cut",
        "Cut into panels",
        "Choose lines, and darts that go into the seam; each panel gets a number, a name and a fabric.",
        "C",
        icons.cut,
        CutTool,
    ),
    ToolInfo(
        "take-in",
        "Take in",
        "Pick a seam and drag the pins at its levels into the cloth, to contour above the bust or tighten below it.",
        "I",
        icons.take_in,
        TakeInTool,
    ),
    ToolInfo(
        "slash",
        "Slash and spread",
        "Click where a piece opens, click the hinge, and spread it; the gap is filled with paper.",
        "H",
        icons.slash,
        SlashTool,
    ),
    ToolInfo(
        "trim",
        "Trim to match",
        "Click a seam whose sides differ, then the end at which the longer is cut back.",
        "T",
        icons.trim,
        TrimTool,
    ),
    ToolInfo(
        "join",
        "Join",
        "Pick a seam and the end at which its two pieces are laid together, to make them one piece.",
        "J",
        icons.join,
        JoinTool,
    ),
    ToolInfo(
        "walk",
        "Walk a seam",
        "Roll one edge of a seam along the other and see where they part; nothing is altered.",
        "W",
        icons.walk,
        WalkTool,
    ),
    ToolInfo("cup", "Cup", "Draft a first cup in two pieces for what the sheer bares.", "U", icons.cup, CupTool),
)


def tool_named(id_: str) -> ToolInfo:
    """The tool of that id."""
    return next(info for info in TOOLS if info.id == id_)

"""What every tool of the table is: a hand's work in progress, drawn over the table until it is done or dropped.

The table tells clicks from drags and calls a tool at most once a frame. A tool asks the core what its gesture would do,
shows that by `session.preview`, and calls `session.do` once at the end. Handles are what it can be taken hold of by;
each is reached by Tab and moved by arrow keys as well as by the mouse.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, Literal, TypeAlias

import msgspec
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter

from app.canvas.hits import nearest_within
from app.canvas.laid import Laid
from core.design.replay import Refused
from core.geometry.polyline import Point

if TYPE_CHECKING:
    from app.canvas.table import CuttingTable

ENTER: Final = frozenset({Qt.Key.Key_Return, Qt.Key.Key_Enter})
"""Both keys that say "keep it": the large one, and that of the number pad."""

HandleKind: TypeAlias = Literal["point", "corner", "pivot", "choice", "quiet"]
"""A quiet one is not drawn: it is there for the keyboard and for assistive technology."""


class Pointer(msgspec.Struct, frozen=True):
    """Where the pointer is: in pixels of the widget and in mm on the table. `free`: Alt is held, nothing snaps."""

    pixel: Point
    at: Point
    reach: float
    free: bool = False
    shift: bool = False


class Handle(msgspec.Struct, frozen=True):
    """A place to take hold of: `words` name it ("Point 2 of sheer line"); `at` in mm on the table.

    `moves` tells whether it can be moved, or only chosen. `shown` is the place in the piece's own mm, for its name.
    """

    key: str
    words: str
    at: Point
    shown: Point
    kind: HandleKind = "point"
    moves: bool = True

    @property
    def accessible_name(self) -> str:
        """For example: Point 2 of sheer line, x 120.5 mm, y 210.0 mm."""
        return f"{self.words}, x {self.shown[0]:.1f} mm, y {self.shown[1]:.1f} mm"


class Tool:
    """A tool that does nothing; the others override what they need. All places are on the table, in mm."""

    called = ""
    """Its name, and what it alters, for the status bar while it is in hand."""
    cursor = Qt.CursorShape.ArrowCursor
    keys: frozenset[Qt.Key] = frozenset()
    """Letters that mean something to the tool while it is in hand, and are then no shortcuts of the window."""
    gathers: str = ""
    """The block whose panels lie where they were cut, not spread, while the tool is at work."""
    folds: tuple[str, ...] = ()
    """Darts that are shown folded meanwhile, on every piece of that block that has them."""

    def __init__(self, table: CuttingTable) -> None:
        self.table = table

    def begin(self) -> None:
        """The tool has been taken up."""

    def end(self) -> None:
        """The tool is laid down; nothing uncommitted may stay in view."""
        self.table.session.drop_preview()

    def hover(self, at: Pointer) -> None:
        """The pointer has moved, no button down."""

    def press(self, at: Pointer) -> bool:
        """The button went down; True takes hold of something that can be dragged."""
        return False

    def drag(self, at: Pointer) -> None:
        """The pointer has moved with the button down, farther than a click may."""

    def drop(self, at: Pointer) -> None:
        """The button went up after a drag."""

    def click(self, at: Pointer) -> None:
        """The button went down and up on one spot."""

    def double_click(self, at: Pointer) -> None:
        """The second of two quick clicks."""

    def key(self, key: Qt.Key, *, shift: bool) -> bool:
        """A key went down on the table; True when the tool made use of it."""
        return False

    def arrow(self, dx: float, dy: float) -> bool:
        """An arrow key on the table, no handle having the keyboard; in mm. True when the tool made use of it."""
        return False

    def escape(self) -> bool:
        """Esc: drop what is under way; False when there was nothing to drop."""
        return False

    def accept(self) -> None:
        """Do what is shown: the button of the tool's slip, or Enter."""

    def handles(self) -> list[Handle]:
        """What can be taken hold of now, in the order of Tab."""
        return []

    def handle_at(self, at: Pointer) -> str:
        """The key of the handle under the pointer; "" for none."""
        shown = self.table.shown_handles
        index = nearest_within(at.at, [handle.at for handle in shown], at.reach)
        return shown[index].key if index is not None else ""

    def nudge(self, key: str, dx: float, dy: float) -> None:
        """An arrow key on a handle: move it by so many mm."""

    def activate(self, key: str) -> None:
        """Enter or Space on a handle: what a click on it does."""

    def remove(self, key: str) -> None:
        """Delete on a handle."""

    def paint(self, painter: QPainter) -> None:
        """Draw over the table, in pixels."""

    @property
    def carries(self) -> bool:
        """Whether something goes along with the pointer, though no button is down."""
        return False

    def covers(self) -> QRectF | None:
        """The pixels that `paint` draws on, for the frames of a drag; None: any."""
        return None

    def ghost(self) -> Laid | None:
        """The piece before the step that is being altered, drawn as a faint outline."""
        return None

    def worked_out(self, refused: Refused | None) -> None:
        """What was tried out under the hand is shown now, or refused."""

    def follow(self) -> None:
        """The design has changed, by this tool or by anything else."""

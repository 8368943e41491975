"""What tools that work on a seam have in common: it is picked by a click on either of its edges, or by its handle."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from math import inf

from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter

from app.canvas.hits import seam_at
from app.canvas.laid import Laid
from app.canvas.slip import Slip
from app.canvas.table import CuttingTable
from app.canvas.table_drawing import draw_chalk
from app.canvas.tool import ENTER, Handle, Pointer
from app.tools.step_tool import StepTool
from core.errors import Refusal
from core.geometry.polyline import Point, as_point, nearest, point_at
from core.pieces.names import spoken_in_full
from core.pieces.records import Piece
from core.pieces.seams import Link, Match, match, matches, on_chain


class SeamTool(StepTool):
    """Handles stand at every seam that is offered; once one is picked, the tool has its own."""

    cursor = Qt.CursorShape.PointingHandCursor
    ask = "Click a seam."
    none = "There is no seam yet: cut the pieces into panels first."

    def __init__(self, table: CuttingTable) -> None:
        super().__init__(table)
        self.seam = ""
        self._under = ""
        self.slip: Slip | None = None

    # --- what the tools say of themselves

    def refuses(self, found: Match) -> str:
        """Why nothing can be done with a seam, or ""."""
        return "" if found.a and found.b else f"The seam {spoken_in_full(found.seam.name)} has lost a side."

    def picked(self) -> None:
        """A seam has been picked."""

    def let_go_of(self) -> None:
        """The seam is in hand no longer."""

    def own_handles(self) -> list[Handle]:
        """What can be taken hold of once a seam is picked."""
        return []

    def own_hover(self, at: Pointer) -> None:
        """The pointer moves while a seam is in hand."""

    def own_click(self, at: Pointer) -> None:
        """A click while a seam is in hand."""

    def own_activate(self, key: str) -> None:
        """Enter on one of the tool's own handles."""

    # --- the seam in hand

    @property
    def found(self) -> Match | None:
        """The seam in hand before it is worked at, or None."""
        return match(self.garment, self.garment.seam(self.seam)) if self.seam else None

    @property
    def said(self) -> str:
        """The seam's name as it is spoken."""
        return spoken_in_full(self.seam)

    def begin(self) -> None:
        """Say what can be picked."""
        self.table.say(self.ask if self._offered() else self.none)

    def _offered(self) -> list[Match]:
        return [found for found in matches(self.garment) if not self.refuses(found)]

    def follow(self) -> None:
        """Begin afresh: the seam may be gone."""
        self._under = ""
        self.drop_seam()

    def pick(self, name: str) -> None:
        """Take a seam in hand, its pieces unfolded; or say why not."""
        found = match(self.garment, self.garment.seam(name))
        refusal = self.refuses(found)
        if refusal:
            self.table.say(refusal)
            return
        self.seam = name
        for piece in found.pieces:
            self.table.set_folded(piece)
        self.picked()
        self.table.refresh()

    def take_seam(self, name: str) -> None:
        """Take the seam of a step in hand. Refusal where it is there no more, or nothing can be done with it."""
        refusal = self.refuses(match(self.garment, self.garment.seam(name)))
        if refusal:
            raise Refusal(refusal)
        self.pick(name)

    def drop_seam(self) -> None:
        """Let go of the seam and take the slip away."""
        was, self.seam = self.seam, ""
        if self.slip is not None:
            self.slip.take_away()
            self.slip = None
        if was:
            self.let_go_of()

    def pin_slip(self, accept: str) -> Slip:
        """A slip of the tool's own, its buttons connected."""
        self.slip = Slip(self.table, accept=self.accept_word(accept))
        return self.slip

    def escape(self) -> bool:
        """Choose another seam; a step that was taken up to be altered is left as it was."""
        if self.altered:
            return False
        was = bool(self.seam)
        self.put_back()
        if was:
            self.begin()
        return was

    def end(self) -> None:
        """Nothing uncommitted stays in view."""
        self.drop_seam()
        super().end()

    # --- handles

    def handles(self) -> list[Handle]:
        """The seams that are offered, or the tool's own."""
        if self.seam:
            return self.own_handles()
        return [_middle(self, found) for found in self._offered()]

    def on_table(self, link: Link, place: Point) -> Point:
        """A place of a committed piece as it lies."""
        return self.table.scene.former(link.piece).to_table(place)

    def end_handles(self, words: str) -> list[Handle]:
        """One at both ends of both sides, named by the words and the end: "end 0 a" and so on."""
        found, made = self.found, []
        if found is None:
            return []
        for side, chain in (("a", found.a), ("b", found.b)):
            for which, index in ((0, 0), (1, -1)):
                link = chain[index]
                place = as_point(link.points[index])
                name = f"{words} {spoken_in_full(found.seam.ends[which])}"
                at = self.on_table(link, place)
                made.append(Handle(f"end {which} {side}", name, at, place, "choice", moves=False))
        return made

    # --- the mouse and the keys

    def hover(self, at: Pointer) -> None:
        """Show which seam a click would pick."""
        if self.seam:
            self.own_hover(at)
            return
        before, self._under = self._under, self._seam_at(at)
        self.table.say(f"Click to take up the seam {spoken_in_full(self._under)}." if self._under else self.ask)
        if before != self._under:
            self.table.update()

    def _seam_at(self, at: Pointer) -> str:
        key = self.handle_at(at)
        if key:
            return key.removeprefix("seam ")
        hit = seam_at(self.table.scene.garment, self.table.scene.laid, at.at, at.reach)
        return hit.seam.name if hit is not None else ""

    def click(self, at: Pointer) -> None:
        """Pick a seam, then whatever the tool asks for."""
        if self.seam:
            self.own_click(at)
        elif name := self._seam_at(at):
            self.pick(name)

    def activate(self, key: str) -> None:
        """As a click on the handle."""
        if self.seam:
            self.own_activate(key)
        else:
            self.pick(key.removeprefix("seam "))

    def key(self, key: Qt.Key, *, shift: bool) -> bool:
        """Enter does what is shown."""
        if key in ENTER and self.trial is not None and not self.refusal:
            self.accept()
            return True
        return False

    # --- drawing

    def about(self) -> Iterator[Laid]:
        """The pieces of the seam."""
        found = self.found
        for piece in found.pieces if found is not None else ():
            yield self.table.scene.former(self.garment.piece(piece))
            now = self.table.scene.piece(piece)
            if now is not None:
                yield now

    def paint(self, painter: QPainter) -> None:
        """Both edges of the seam under the pointer, or in hand."""
        name = self.seam or self._under
        if name in self.table.scene.garment.seams:
            paths = self.table.scene.seam_paths(self.table.scene.garment.seam(name))
            draw_chalk(self.table.sheet(painter), paths, colour=self.table.theme.selected, wide=3.0)


def _middle(tool: SeamTool, found: Match) -> Handle:
    """The handle of a seam, halfway along its first side."""
    link, half = on_chain(found.a, found.length_a / 2)
    place, name = point_at(link.points, half), found.seam.name
    words = f"Seam {spoken_in_full(name)}"
    return Handle(f"seam {name}", words, tool.on_table(link, place), place, "choice", moves=False)


def along_side(chain: Sequence[Link], lying: Callable[[Piece], Laid | None], at: Point) -> float:
    """How far along a side (mm) the place nearest to a point of the table lies; `lying` says how its pieces lie."""
    best, best_off, passed = 0.0, inf, 0.0
    for link in chain:
        item = lying(link.piece)
        if item is not None:
            along, off = nearest(link.points, item.to_piece(at))
            if off < best_off:
                best, best_off = passed + along, off
        passed += link.edge.length
    return best

"""The tape: measure from place to place, straight and along the edges, on one piece or from piece to piece.

Nothing is altered. What is measured is what lies on the table: pieces that lie together at a seam are measured across
it, straight as they lie, and along their edges through the end of the seam that is nearer that way.
"""

from __future__ import annotations

from itertools import pairwise

import msgspec
from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter

from app.canvas.hits import edge_at, piece_at
from app.canvas.laid import Laid
from app.canvas.snaps import snap
from app.canvas.table import CuttingTable
from app.canvas.table_drawing import draw_chalk, draw_needle, draw_words
from app.canvas.tool import ENTER, Handle, Pointer, Tool
from app.tools.draw_line import as_sentence
from app.tools.line_edits import straight
from app.tools.needle import needle_start
from core.checks.through_seam import through_seam
from core.geometry.placement import gap
from core.geometry.polyline import Point
from core.geometry.tolerances import ON_EDGE
from core.pieces.names import spoken, spoken_in_full
from core.pieces.outline import OnLoop, along_outline, locate
from core.units import show_length


class Stop(msgspec.Struct, frozen=True):
    """A place that the tape passes: on the table, on which piece as it is shown, and where on its outline, if there."""

    at: Point
    words: str
    item: Laid | None = None
    on: OnLoop | None = None


class Along(msgspec.Struct, frozen=True):
    """What the tape reads along edges, in mm, and where it goes from piece to piece."""

    length: float
    through: str = ""


class TapeTool(Tool):
    """Places are clicked one after the other; the tape runs on until Enter, and a click then begins anew."""

    cursor = Qt.CursorShape.CrossCursor

    def __init__(self, table: CuttingTable) -> None:
        super().__init__(table)
        self._stops: tuple[Stop, ...] = ()
        self._next: Stop | None = None
        self._needle: Point | None = None
        self._is_done = False

    def begin(self) -> None:
        """Say how it is used."""
        self.table.say("Click where the tape begins: a landmark, an edge, or anywhere on a piece.")

    def _stop(self, at: Pointer) -> Stop:
        """The place meant by a pointer."""
        laid = self.table.scene.laid
        near = edge_at(laid, at.at, at.reach)
        item = near.laid if near is not None else piece_at(laid, at.at)
        if item is None:
            return Stop(at.at, "on the table")
        here, words = item.to_piece(at.at), f"on the {item.name}"
        if not at.free:
            found = snap(self.table.scene.garment, item.shown, here, at.reach, unit=self.table.unit)
            if found is not None:
                here, words = found.at, found.name
        on, off = locate(item.shown.edges, here)
        return Stop(item.to_table(here), words, item, on if off <= ON_EDGE else None)

    # --- what is measured

    def _run(self) -> tuple[Stop, ...]:
        return self._stops if self._next is None else (*self._stops, self._next)

    def _report(self) -> str:
        """The last stretch, straight and along the edge; with more than one, the whole as well."""
        run, unit = self._run(), self.table.unit
        if len(run) < 2:
            return as_sentence(f"{run[0].words}; click to begin the tape here") if run else ""
        words = [f"to {run[-1].words}", f"{show_length(gap(run[-2].at, run[-1].at), unit)} straight"]
        along = self._along(run[-2], run[-1])
        if along is not None:
            words.append(f"{show_length(along.length, unit)} along the edge{along.through}")
        elif _lie_apart(run[-2], run[-1]):
            words.append("to read along the edges, lay the two pieces together at their seam")
        if len(run) > 2:
            words.append(f"{show_length(sum(gap(a.at, b.at) for a, b in pairwise(run)), unit)} in all, straight")
            ways = [way for a, b in pairwise(run) if (way := self._along(a, b)) is not None]
            if len(ways) == len(run) - 1:
                words.append(f"{show_length(sum(way.length for way in ways), unit)} in all along the edges")
        return as_sentence("; ".join(words))

    def _along(self, first: Stop, second: Stop) -> Along | None:
        """What the tape reads along edges, on one piece or through the seam at which two lie together."""
        if first.item is None or second.item is None or first.on is None or second.on is None:
            return None
        if first.item.name == second.item.name:
            return Along(along_outline(first.item.shown.edges, first.on, second.on))
        seam = next((told for name, told in self.table.scene.mates(first.item.name) if name == second.item.name), None)
        found = through_seam(seam, (first.item.shown, first.on), (second.item.shown, second.on)) if seam else None
        if seam is None or found is None:
            return None
        length, end = found
        return Along(length, f", over the {spoken_in_full(seam.seam.name)} at the {spoken(end)}")

    def _say(self) -> None:
        self.table.say(self._report())
        self.table.refresh()

    # --- the mouse and the keys

    def hover(self, at: Pointer) -> None:
        """Show what the tape reads up to here."""
        self._needle = None
        if not self._is_done:
            self._next = self._stop(at)
            self._say()

    def click(self, at: Pointer) -> None:
        """The tape passes here."""
        self._place(self._stop(at))

    def _place(self, stop: Stop) -> None:
        if self._is_done:
            self._stops, self._is_done = (), False
        self._next = None
        if not self._stops or gap(self._stops[-1].at, stop.at) > ON_EDGE:
            self._stops = (*self._stops, stop)
        self._say()

    def double_click(self, at: Pointer) -> None:
        """The tape ends where the first of the two clicks was."""
        self._finish()

    def _finish(self) -> None:
        self._next, self._is_done = None, len(self._stops) > 1
        self._say()

    def key(self, key: Qt.Key, *, shift: bool) -> bool:
        """Enter ends the tape, Backspace takes the last place back, Space places one with the needle."""
        if key in ENTER and self._stops:
            self._finish()
        elif key in (Qt.Key.Key_Backspace, Qt.Key.Key_Delete) and self._stops:
            self._take_back()
        elif key == Qt.Key.Key_Space and self._needle is not None and self._next is not None:
            self._place(self._next)
        else:
            return False
        return True

    def _take_back(self) -> None:
        self._stops, self._is_done = self._stops[:-1], False
        self._say()

    def remove(self, key: str) -> None:
        """As Backspace on the table."""
        self._take_back()

    def arrow(self, dx: float, dy: float) -> bool:
        """Move the needle, which begins at the last place, or in the middle of the piece that is taken up."""
        x, y = self._needle or self._needle_start()
        self._needle = (x + dx, y + dy)
        self._next = self._stop(self.table.pointer_at_mm(self._needle))
        self._say()
        return True

    def _needle_start(self) -> Point:
        if self._stops:
            return self._stops[-1].at
        return needle_start(self.table)

    def escape(self) -> bool:
        """Take the tape off the table."""
        was = bool(self._stops)
        self._stops, self._next, self._needle, self._is_done = (), None, None, False
        self.table.refresh()
        return was

    def follow(self) -> None:
        """What was measured may lie elsewhere now."""
        self.escape()

    # --- handles and drawing

    def handles(self) -> list[Handle]:
        """The places of the tape, and every landmark of the pieces for the keyboard to choose."""
        made = [
            Handle(f"stop {i}", f"Place {i + 1} of the tape, {stop.words}", stop.at, stop.at, moves=False)
            for i, stop in enumerate(self._stops)
        ]
        for item in self.table.scene.laid:
            for name, place in item.shown.landmarks.items():
                words = f"{name.replace('_', ' ').capitalize()} of the {item.name}"
                key, at = f"mark {item.name}|{name}", item.to_table(place)
                made.append(Handle(key, words, at, place, "quiet", moves=False))
        return made

    def activate(self, key: str) -> None:
        """The tape passes the landmark."""
        kind, _, rest = key.partition(" ")
        if kind == "mark":
            piece, _, name = rest.partition("|")
            item = self.table.scene.piece(piece)
            if item is not None and name in item.shown.landmarks:
                self._place(self._stop(self.table.pointer_at_mm(item.to_table(item.shown.landmarks[name]))))

    def paint(self, painter: QPainter) -> None:
        """The tape in chalk, and what each stretch reads beside its middle."""
        sheet, theme, run = self.table.sheet(painter), self.table.theme, self._run()
        if len(run) > 1:
            draw_chalk(sheet, [straight([stop.at for stop in run])], colour=theme.chalk)
        for a, b in pairwise(run):
            middle = ((a.at[0] + b.at[0]) / 2, (a.at[1] + b.at[1]) / 2)
            words = show_length(gap(a.at, b.at), self.table.unit)
            along = self._along(a, b)
            if along is not None:
                words += f", along {show_length(along.length, self.table.unit)}"
            draw_words(painter, words, sheet.frame.point(middle), sheet.look, colour=theme.chalk)
        if self._needle is not None:
            draw_needle(sheet, self._needle)
        if self._next is not None and not self._stops:
            draw_words(painter, self._next.words, sheet.frame.point(self._next.at), sheet.look, colour=theme.snap)


def _lie_apart(first: Stop, second: Stop) -> bool:
    """Whether both lie on outlines, of two pieces."""
    on_both = first.on is not None and second.on is not None
    return on_both and first.item is not None and second.item is not None and first.item.name != second.item.name

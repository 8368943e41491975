"""Laying two pieces together at a seam, as paper is laid edge to edge to draw or measure across. Nothing is altered."""

from __future__ import annotations

from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter

from app.canvas.laid import Laid
from app.canvas.pairs import Pair, Pairs
from app.canvas.slip import Slip
from app.canvas.table import CuttingTable
from app.canvas.tool import Handle, Pointer
from app.tools.seam_tool import SeamTool, along_side
from app.tools.walk import parting_words
from core.checks.walk import walk
from core.pieces.names import spoken, spoken_in_full
from core.pieces.outline import is_centre
from core.pieces.records import Piece
from core.pieces.seams import Match, chain_length
from core.units import show_length


class LayTogetherTool(SeamTool):
    """Two moments: no seam picked; its pieces together, touching where the handle stands."""

    keys = frozenset({Qt.Key.Key_E, Qt.Key.Key_X})
    ask = "Click the seam at which two pieces are to lie together."

    def __init__(self, table: CuttingTable) -> None:
        super().__init__(table)
        self._before = Pairs()
        self._held: Pair | None = None

    def refuses(self, found: Match) -> str:
        """A seam within one piece lays nothing together."""
        if super().refuses(found) or len(found.pieces) > 1:
            return super().refuses(found)
        name, piece = spoken_in_full(found.seam.name), found.pieces[0]
        return f"Both sides of the seam {name} lie on the {piece}: there is no second piece to lay at it."

    # --- the pair in hand

    @property
    def _pair(self) -> Pair | None:
        return next((pair for pair in self.table.scene.pairs.pairs if pair.seam == self.seam), None)

    def _told(self, pair: Pair) -> Match | None:
        """The seam as it is seen, its darts folded, told from the end where the pair meets."""
        return pair.told(self.table.scene.shown_garment)

    def picked(self) -> None:
        """Lay the two together where the seam begins, or as they lay before."""
        assert self.found is not None
        self._before = self.table.scene.pairs
        self._make_slip()
        self._lay(self._pair or Pair(self.seam, turns_first=self._first_turns(self.found)))
        self.table.focus_handle("contact")

    def _first_turns(self, found: Match) -> bool:
        """What is taken up lies still, else what is nearer the centre front stays upright; the other comes to it."""
        sides = [{link.piece.name for link in chain} for chain in (found.a, found.b)]
        if any(self.table.selection in side for side in sides):
            return self.table.selection in sides[1]
        first, second = (max(_uprightness(link.piece) for link in chain) for chain in (found.a, found.b))
        return second > first

    def _make_slip(self) -> None:
        self.slip = Slip(self.table, accept="Done", drop="Lay apart", drops=self._apart)
        self.slip.button("Meet at the other end", key="E").clicked.connect(self._other_end)
        self.slip.button("Turn the other piece", key="X").clicked.connect(self._other_piece)

    def _lay(self, pair: Pair) -> None:
        before = {one.seam for one in self.table.scene.pairs.pairs}
        self.table.lay_together(pair)
        self._report()
        for seam in before - {one.seam for one in self.table.scene.pairs.pairs}:
            self.table.say(f"No piece lies at two others: along the {spoken_in_full(seam)} they lie apart now.")

    def _other_end(self) -> None:
        """Let them meet end on end at the seam's other end."""
        if (pair := self._pair) is not None:
            self._lay(replace(pair, end=1 - pair.end, along=0.0))

    def _other_piece(self) -> None:
        """The piece that lay still is turned and laid at the other."""
        if (pair := self._pair) is not None:
            self._lay(replace(pair, turns_first=not pair.turns_first))

    def _apart(self) -> None:
        """The two lie where they lay by themselves."""
        self.table.lay_pairs(self.table.scene.pairs.without(self.seam))
        self.table.tool_finished.emit()

    def _roll(self, along: float, *, ends: float = 0.0) -> None:
        """Let them touch so far (mm) from the seam's first end; nearer to an end than `ends`, at that end."""
        pair = self._pair
        told = self._told(replace(pair, end=0)) if pair is not None else None
        if pair is None or told is None:
            return
        whole = chain_length(told.a)
        along = min(max(along, 0.0), whole)
        end, off = (0, along) if along <= whole / 2 else (1, whole - along)
        self._lay(replace(pair, end=end, along=0.0 if off <= ends else off))

    def _along(self) -> float:
        """Where they touch, in mm from the seam's first end."""
        pair = self._pair
        told = self._told(pair) if pair is not None else None
        if pair is None or told is None:
            return 0.0
        return pair.along if pair.end == 0 else chain_length(told.a) - pair.along

    # --- what is said

    def _report(self) -> None:
        """Which piece lies at which and where they touch, on the slip; how the edges go on, in the status line."""
        pair, unit = self._pair, self.table.unit
        told = self._told(pair) if pair is not None else None
        if pair is None or told is None or self.slip is None:
            return
        end = spoken(told.seam.ends[0])
        where = f"{show_length(pair.along, unit)} from the {end}" if pair.along else f"end on end at the {end}"
        if self.table.hand.is_dragging:
            self.table.say(f"Let go where they are to touch: {where}.")
            return
        rolled = walk(told, pair.along)
        moving, still = rolled.moving.piece.name, rolled.still.piece.name
        self.slip.ask(f"The {moving} lies at the {still} along the {self.said}, {where}.")
        words = parting_words(told, rolled, pair.along, unit)
        self.table.say(f"{words} Drag along the seam to let them touch elsewhere.")

    # --- the mouse and the keys

    def own_handles(self) -> list[Handle]:
        """Where the two touch."""
        pair, scene = self._pair, self.table.scene
        rolled = pair.contact(scene.shown_garment) if pair is not None else None
        item = scene.piece(rolled.still.piece.name) if rolled is not None else None
        if rolled is None or item is None:
            return []
        words = f"Where the {rolled.moving.piece.name} touches the {rolled.still.piece.name}"
        return [Handle("contact", words, item.to_table(rolled.at), rolled.at)]

    def own_hover(self, at: Pointer) -> None:
        """What is seen stays said."""
        self._report()

    def press(self, at: Pointer) -> bool:
        """Anywhere: the place on the seam nearest to the pointer is where they touch."""
        self._held = self._pair if self.seam else None
        return self._held is not None

    def drag(self, at: Pointer) -> None:
        """Roll to the place of the still side that is nearest to the pointer; near an end, to that end."""
        pair = self._pair
        told = self._told(replace(pair, end=0)) if pair is not None else None
        if told is not None:
            self._roll(along_side(told.a, self._lying, at.at), ends=0.0 if at.free else at.reach)

    def _lying(self, piece: Piece) -> Laid | None:
        return self.table.scene.piece(piece.name)

    def drop(self, at: Pointer) -> None:
        """They lie so."""
        self.drag(at)
        self._held = None
        self._report()

    def own_click(self, at: Pointer) -> None:
        """Let them touch at the place that was clicked."""
        self.drop(at)

    def nudge(self, key: str, dx: float, dy: float) -> None:
        """Right and up roll on, left and down roll back."""
        if key == "contact":
            self._roll(self._along() + dx + dy)

    def own_activate(self, key: str) -> None:
        """Enter leaves them together."""
        self.accept()

    def remove(self, key: str) -> None:
        """Delete lays them apart."""
        self._apart()

    def arrow(self, dx: float, dy: float) -> bool:
        """As on the handle."""
        if self.seam:
            self.nudge("contact", dx, dy)
        return bool(self.seam)

    def key(self, key: Qt.Key, *, shift: bool) -> bool:
        """Home and End go to the seam's ends, E to the other one, X turns the other piece, Enter leaves them so."""
        acts = {
            Qt.Key.Key_E: self._other_end,
            Qt.Key.Key_X: self._other_piece,
            Qt.Key.Key_Home: self._to_first_end,
            Qt.Key.Key_End: self._to_last_end,
            Qt.Key.Key_Delete: self._apart,
            Qt.Key.Key_Return: self.accept,
            Qt.Key.Key_Enter: self.accept,
        }
        if not self.seam or key not in acts:
            return False
        acts[key]()
        return True

    def _to_first_end(self) -> None:
        self._roll(0.0)

    def _to_last_end(self) -> None:
        self._roll(float("inf"))

    def accept(self) -> None:
        """Leave them together, and say what can be done now."""
        if self.seam:
            said = self.said
            self.table.tool_finished.emit()
            self.table.say(
                f"They lie together along the {said}: draw or measure across it. View, Lay apart parts them."
            )

    def escape(self) -> bool:
        """Let go where the drag began; else lay all as it lay before, and pick another seam."""
        held, self._held = self._held, None
        if held is not None:
            self._lay(held)
            return True
        if self.seam:
            self.table.lay_pairs(self._before)
        return super().escape()

    def paint(self, painter: QPainter) -> None:
        """The seam under the pointer; once they lie together, the pieces' own outlines show it."""
        if not self.seam:
            super().paint(painter)


def _uprightness(piece: Piece) -> tuple[bool, bool]:
    """What makes a piece be left as it lies: a centre edge, and that it is of the front."""
    return any(is_centre(edge) for edge in piece.edges), piece.block == "front"

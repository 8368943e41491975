"""What lies on the table: the garment's pieces at their places, folded or open, and the match marks of their seams."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from app.canvas.laid import Laid, laid
from app.canvas.places import block_place, extent, places
from app.canvas.seam_marks import Mark, seam_marks, shown_edge
from app.canvas.view import Box
from core.geometry.placement import Placement
from core.geometry.polyline import Point, Points
from core.pieces.records import Garment, Piece, Seam
from core.pieces.seams import match
from core.units import Unit


class Scene:
    """The pieces as they lie. Places stay while a hand drags and are worked out anew when something is done."""

    def __init__(self, garment: Garment, unit: Unit) -> None:
        self.garment = garment
        self.laid: tuple[Laid, ...] = ()
        self.marks: list[Mark] = []
        self._unit: Unit = unit
        self._places: dict[str, Point] = {}
        self._by_hand: dict[str, Point] = {}
        self._folded: dict[str, tuple[str, ...]] = {}
        self._gathered = ""
        self._folds: tuple[str, ...] = ()

    def show(
        self, garment: Garment, unit: Unit, *, anew: bool, gathered: str = "", folds: tuple[str, ...] = ()
    ) -> None:
        """Lay a garment out. `gathered`: the block whose panels lie where they were cut, the darts in `folds` shut."""
        self._folds = folds
        anew = anew or gathered != self._gathered
        self.garment, self._unit, self._gathered = garment, unit, gathered
        self._places = places(garment, None if anew else self._places, gathered=gathered)
        self.marks = seam_marks(garment, unit)
        self._lay()

    def _lay(self) -> None:
        """Lay the pieces; one that is as it was keeps its record, and so its picture."""
        old = {item.name: item for item in self.laid}
        now = []
        for name, piece in self.garment.pieces.items():
            place, folded, known = self._place(piece), self._wanted_folds(piece), old.get(name)
            if known is not None and known.piece is piece and known.place == place and known.asked == folded:
                now.append(known)
            else:
                now.append(laid(piece, place, folded))
        self.laid = tuple(now)

    def _place(self, piece: Piece) -> Placement:
        """Where a piece lies: where the table lays it, and from there what a hand has moved it by.

        While a tool gathers a block, its panels lie where they were cut.
        """
        x, y = self._places.get(piece.name) or block_place(self.garment, piece.block)
        dx, dy = (0.0, 0.0) if piece.block == self._gathered else self._by_hand.get(piece.name, (0.0, 0.0))
        return Placement(0.0, x + dx, y + dy)

    def shift(self, piece: str) -> Point:
        """What a hand has moved a piece by, in mm."""
        return self._by_hand.get(piece, (0.0, 0.0))

    def lay_by_hand(self, piece: str, shift: Point) -> None:
        """Lay a piece so far from where the table lays it; its geometry stays as it is."""
        self._by_hand[piece] = shift
        self._lay()

    def lay_anew(self) -> None:
        """Lay every piece back where the table lays it."""
        self._by_hand.clear()
        self._lay()

    def _wanted_folds(self, piece: Piece) -> tuple[str, ...]:
        own = {dart.name for dart in piece.darts}
        for_now = tuple(name for name in self._folds if name in own) if piece.block == self._gathered else ()
        return for_now or self._folded.get(piece.name, ())

    def fold(self, piece: str, dart: str | None) -> None:
        """Show a piece with one of its darts folded, or with none."""
        self._folded[piece] = (dart,) if dart else ()
        self._lay()

    def folded(self, piece: str) -> tuple[str, ...]:
        """The darts that are shown folded on a piece now."""
        item = self.piece(piece)
        return item.folded if item is not None else ()

    def piece(self, name: str) -> Laid | None:
        """The piece of that name as it lies, or None."""
        return next((item for item in self.laid if item.name == name), None)

    def former(self, piece: Piece, folded: tuple[str, ...] = ()) -> Laid:
        """A piece of an earlier garment, laid where it or its block lies now."""
        return laid(piece, self._place(piece), folded)

    def block_marks(self, block: str) -> dict[str, Point]:
        """The landmarks of a block as it was drafted, on the table where the block lies; none for another name."""
        piece = self.garment.blocks.get(block)
        x, y = block_place(self.garment, block)
        return {name: (px + x, py + y) for name, (px, py) in piece.landmarks.items()} if piece is not None else {}

    def block_box(self, block: str) -> Box:
        """The box round the pieces of a block as they lie, in mm."""
        return extent([item.on_table(item.shown.loop) for item in self.laid if item.piece.block == block])

    def extent(self) -> Box:
        """The box round everything, in mm."""
        return extent([item.on_table(item.shown.loop) for item in self.laid])

    def seam_paths(self, seam: Seam) -> Sequence[Points]:
        """The edges of both sides of a seam as they lie on the table."""
        found = match(self.garment, seam)
        return tuple(path for link in (*found.a, *found.b) for path in self._lying(link.piece.name, link.edge.name))

    def _lying(self, piece: str, edge: str) -> Iterator[Points]:
        item = self.piece(piece)
        shown = shown_edge(item, item.piece.edge(edge)) if item is not None else None
        if item is not None and shown is not None:
            yield item.on_table(shown.points)

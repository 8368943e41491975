"""What lies on the table: the garment's pieces at their places, folded or open, and the match marks of their seams."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from msgspec.structs import replace

from app.canvas.arrangement import Arrangement
from app.canvas.laid import Laid, laid
from app.canvas.pairs import Held, Pair, Pairs, darts_in, laid_by, pieces_of
from app.canvas.places import block_place, extent, places
from app.canvas.seam_marks import Mark, seam_marks, shown_edge
from app.canvas.view import Box
from core.checks.walk import with_sides_changed
from core.geometry.placement import Placement
from core.geometry.polyline import Point, Points
from core.pieces.records import Garment, Piece, Seam
from core.pieces.seams import Match, match
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
        self.pairs = Pairs()
        self._contacts: list[Held] = []
        self._shown_garment: Garment | None = None
        self._opens_again: dict[str, tuple[str, ...]] = {}
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
        """Lay the pieces, those that lie together uppermost; one that is as it was keeps its record."""
        old = {item.name: item for item in self.laid}
        self.laid = tuple(self._alone(piece, old.get(name)) for name, piece in self.garment.pieces.items())
        self._shown_garment, self._contacts = None, []
        if self.pairs.pairs:
            self._lay_pairs(old)

    def _alone(self, piece: Piece, known: Laid | None) -> Laid:
        place, folded = self._apart(piece), self._wanted_folds(piece)
        if known is None or known.piece is not piece or known.asked != folded:
            return laid(piece, place, folded)
        return known if known.place == place else replace(known, place=place)

    def _lay_pairs(self, old: Mapping[str, Laid]) -> None:
        """Turn and move the pieces that lie at another, above those that lie alone."""
        self._contacts = self._free_contacts()
        places = laid_by(self._contacts, {item.name: item.place for item in self.laid})
        now = [replace(item, place=places[item.name]) for item in self.laid]
        kept = [known if (known := old.get(item.name)) is not None and _is_same(known, item) else item for item in now]
        together = self.together
        self.laid = tuple(sorted(kept, key=lambda item: item.name in together))

    def _free_contacts(self) -> list[Held]:
        """The pairs but for those that would take a panel from where a tool wants it: where it was cut."""
        panels = [name for name, piece in self.garment.pieces.items() if piece.block == self._gathered]
        bound = panels if len(panels) > 1 else []
        return [held for held in self.pairs.contacts(self.shown_garment) if held[1].moving.piece.name not in bound]

    @property
    def together(self) -> frozenset[str]:
        """The pieces that lie together with another."""
        return pieces_of(self._contacts)

    @property
    def shown_garment(self) -> Garment:
        """The garment with the darts folded that are shown so: seams run along the edges that are seen."""
        if self._shown_garment is None:
            shown = {item.name: item.shown for item in self.laid if item.folded}
            pieces = {**self.garment.pieces, **shown}
            self._shown_garment = replace(self.garment, pieces=pieces) if shown else self.garment
        return self._shown_garment

    def _place(self, piece: Piece) -> Placement:
        """How a piece of any garment lies: as the one of its name does now, else where its block lies."""
        item = self.piece(piece.name)
        return item.place if item is not None else self._apart(piece)

    def _apart(self, piece: Piece) -> Placement:
        """Where a piece lies by itself: where the table lays it, and from there what a hand has moved it by.

        While a tool gathers a block, its panels lie where they were cut.
        """
        x, y = self._places.get(piece.name) or block_place(self.garment, piece.block)
        dx, dy = (0.0, 0.0) if piece.block == self._gathered else self._by_hand.get(piece.name, (0.0, 0.0))
        return Placement(0.0, x + dx, y + dy)

    def shift(self, piece: str) -> Point:
        """What a hand has moved a piece by, in mm, or the piece that it lies at."""
        return self._by_hand.get(self.pairs.root(self.shown_garment, piece), (0.0, 0.0))

    def lay_by_hand(self, piece: str, shift: Point) -> None:
        """Lay a piece so far from where the table lays it, with all that lies together; its geometry stays as it is."""
        self._by_hand[self.pairs.root(self.shown_garment, piece)] = shift
        self._lay()

    def lay_together(self, pair: Pair) -> None:
        """Lay two pieces together at a seam, the darts that are sewn before it folded shut."""
        self._fold_darts_in(pair)
        self.pairs = self.pairs.with_pair(self.shown_garment, pair)
        self._lay()

    def _fold_darts_in(self, pair: Pair) -> None:
        found = pair.told(self.garment)
        for chain in (found.a, found.b) if found is not None else ():
            for name in {link.piece.name for link in chain}:
                piece = self.garment.pieces[name]
                darts = darts_in(piece, [link.edge.name for link in chain if link.piece is piece])
                known = self._folded.get(name, ())
                if set(darts) - set(known):
                    self._opens_again.setdefault(name, known)
                    self._folded[name] = (*known, *(dart for dart in darts if dart not in known))
                    self._lay()

    def lay_pairs(self, pairs: Pairs) -> None:
        """Let these pieces lie together and no others. Darts that were folded for it are opened when it is over."""
        was, self.pairs = self.together, pairs
        self._lay()
        over = [name for name in was - self.together if name in self._opens_again]
        for name in over:
            self._folded[name] = self._opens_again.pop(name)
        if over:
            self._lay()

    def mates(self, piece: str) -> list[tuple[str, Match]]:
        """The pieces that lie together with a piece, each with their seam, told with this one's side first."""
        garment, found = self.shown_garment, []
        for pair, met in self._contacts:
            told, names = pair.told(garment), [met.still.piece.name, met.moving.piece.name]
            if told is not None and piece in names:
                mine = told if names[0] == piece else with_sides_changed(told)
                found.append((names[1 - names.index(piece)], mine))
        return found

    @property
    def arrangement(self) -> Arrangement:
        """How the table is left: what was laid by hand and what is folded, as far as this garment has it."""
        apart, folded, again = dict(self._by_hand), dict(self._folded), dict(self._opens_again)
        return Arrangement(apart, self.pairs.pairs, folded, again).of(self.garment)

    def arrange(self, arrangement: Arrangement) -> None:
        """Lay and fold everything as it was left; what the garment has no more is passed over."""
        self._by_hand, self._folded = dict(arrangement.apart), dict(arrangement.folded)
        self._opens_again = dict(arrangement.opens_again)
        self.pairs = Pairs(arrangement.pairs)
        self._lay()

    def lay_anew(self) -> None:
        """Lay every piece back where the table lays it, apart from every other."""
        self._by_hand.clear()
        self.lay_pairs(Pairs())
        self._lay()

    def _wanted_folds(self, piece: Piece) -> tuple[str, ...]:
        own = {dart.name for dart in piece.darts}
        for_now = tuple(name for name in self._folds if name in own) if piece.block == self._gathered else ()
        return for_now or self._folded.get(piece.name, ())

    def fold(self, piece: str, darts: tuple[str, ...]) -> None:
        """Show a piece with these of its darts folded, the others open."""
        self._folded[piece] = darts
        self._opens_again.pop(piece, None)
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
        """The landmarks of a block as it was drafted, on the table as the block lies; none for another name."""
        piece = self.garment.blocks.get(block)
        marks = piece.landmarks if piece is not None else {}
        lies = self._place(piece) if piece is not None else Placement()
        return {name: lies.point(at) for name, at in marks.items()}

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


def _is_same(first: Laid, second: Laid) -> bool:
    return first.shown is second.shown and first.place == second.place and first.asked == second.asked

"""A line while it is drawn: the points placed so far, the one that the pointer would place, and on which pieces.

It begins on one piece. Where another lies together with that at a seam, the line may go on over the seam on to it.
"""

from __future__ import annotations

from collections.abc import Sequence

from app.canvas.hits import dart_at, edge_at, piece_at
from app.canvas.laid import Laid
from app.canvas.snaps import Snap, snap
from app.canvas.table import CuttingTable
from app.canvas.tool import Handle, Pointer
from app.tools.line_across import Stretch, Whole, lay_where_it_crosses, line_course, step_refused, whole_line
from app.tools.line_edits import ONE_SPOT, line_point, straight
from core.errors import Refusal
from core.geometry.placement import gap
from core.geometry.polyline import Points, as_point
from core.pieces.records import LinePurpose
from core.steps.step import LinePoint
from core.steps.style_line import PURPOSE_WORDS


class LineInHand:
    """`item` is the piece that the line is on now, `points` what is placed there, `left` what it left on others.

    `next` is what a click would place, on `next_on`, and `snap` what that snapped to.
    """

    def __init__(self, table: CuttingTable, purpose: LinePurpose) -> None:
        self._table = table
        self._purpose: LinePurpose = purpose
        self._known: tuple[tuple[Stretch, ...], Sequence[Laid], Whole | None] | None = None
        self.drop()

    def drop(self) -> None:
        """Nothing is placed."""
        self.left: tuple[Stretch, ...] = ()
        self.points: tuple[LinePoint, ...] = ()
        self.item: Laid | None = None
        self._forget_next()

    def _forget_next(self) -> None:
        self.next: LinePoint | None = None
        self.next_on: Laid | None = None
        self.snap: Snap | None = None

    @property
    def count(self) -> int:
        """The points placed so far, on all pieces."""
        return len(self.points) + sum(len(stretch.points) for stretch in self.left)

    @property
    def on(self) -> Laid | None:
        """The piece of the next point, else the one that the line is on."""
        return self.next_on or self.item

    @property
    def last(self) -> LinePoint | None:
        """The next point, else the last that was placed."""
        return self.next or (self.points[-1] if self.points else None)

    # --- aiming

    def aim(self, at: Pointer) -> None:
        """Find the piece and the place that the pointer means."""
        self._forget_next()
        if not self.points:
            self.item = self._under(self._table.scene.laid, at)
        self.next_on = self._meant(at)
        if self.next_on is not None:
            here = self.next_on.to_piece(at.at)
            if not at.free:
                garment, shown = self._table.scene.garment, self.next_on.shown
                self.snap = snap(garment, shown, here, at.reach, unit=self._table.unit)
            self.next = line_point(self.snap or here)

    def aim_at(self, item: Laid, place: Snap) -> None:
        """The next point lies at a place that was named."""
        self.item = self.item or item
        self.snap, self.next, self.next_on = place, line_point(place), item

    def _under(self, items: Sequence[Laid], at: Pointer) -> Laid | None:
        near = edge_at(items, at.at, at.reach)
        return near.laid if near is not None else piece_at(items, at.at)

    def _meant(self, at: Pointer) -> Laid | None:
        """The piece in hand, or one that lies together with it once the pointer is on that and off this one."""
        if self.item is None or not self.points or self._under([self.item], at) is not None:
            return self.item
        return self._under(self._mates(self.item), at) or self.item

    @property
    def reached(self) -> list[Laid]:
        """The pieces on which the next point may lie: the one in hand first, then those that lie together with it."""
        if self.item is None:
            return []
        return [self.item, *(self._mates(self.item) if self.points else ())]

    def _mates(self, item: Laid) -> list[Laid]:
        """The pieces that lie together with one and that the line has not left."""
        gone = {stretch.piece for stretch in self.left}
        mates = [self._table.scene.piece(name) for name, _ in self._table.scene.mates(item.name)]
        return [mate for mate in mates if mate is not None and mate.name not in gone]

    @property
    def goes_on_to(self) -> str:
        """The piece on to which the line may go on over a seam, or ""."""
        mates = self._mates(self.item) if self.item is not None and self.points else []
        return mates[0].name if mates else ""

    @property
    def ends_here(self) -> bool:
        """Whether a click ends the line: on an edge, but not where it may go on to another piece."""
        on, place = self.on, self.snap.place if self.snap is not None else None
        if not self.points or place is None or on is None or self.item is None:
            return False
        gone = {stretch.piece for stretch in self.left} | ({self.item.name} - {on.name})
        seams = [told for name, told in self._table.scene.mates(on.name) if name not in gone]
        return place.edge not in {link.edge.origin.edge for told in seams for link in told.a}

    @property
    def seam_here(self) -> str:
        """The seam in which the edge under the pointer is sewn, or ""."""
        place = self.snap.place if self.snap is not None else None
        seams = self._table.scene.garment.seams.values() if place is not None else ()
        edge = place.edge if place is not None else ""
        return next((seam.name for seam in seams if edge in {span.edge for span in (*seam.a, *seam.b)}), "")

    # --- placing

    def add(self) -> bool:
        """Place the next point; False where there is none, or for a second click on one spot."""
        if self.next is None or self.item is None:
            return False
        if self.next_on is not None and self.next_on.name != self.item.name:
            self.left = (*self.left, Stretch(self.item.name, self.points))
            self.item, self.points = self.next_on, ()
        if self.points and _is_same(self.points[-1], self.next):
            return False
        self.points = (*self.points, self.next)
        self._forget_next()
        return True

    def take_back(self) -> None:
        """Take the last point back; the first on a piece gives the line back to the piece before."""
        self.points = self.points[:-1]
        if not self.points and self.left:
            self.item, self.points = self._table.scene.piece(self.left[-1].piece), self.left[-1].points
            self.left = self.left[:-1]
        self._forget_next()

    # --- what it comes to

    def stretches(self, *, with_next: bool) -> tuple[Stretch, ...]:
        """What is placed on each piece, with what a click would place if that is asked for."""
        if self.item is None:
            return ()
        here, on = self.points, self.on or self.item
        more = (self.next,) if with_next and self.next is not None else ()
        if more and on.name != self.item.name:
            return (*self.left, Stretch(self.item.name, here), Stretch(on.name, more))
        if more and here and _is_same(here[-1], more[0]):
            more = ()
        return (*self.left, Stretch(self.item.name, (*here, *more)))

    def whole(self, *, with_next: bool = False) -> Whole:
        """The line over all its pieces. Refusal when it does not pass the seams between them."""
        return whole_line(self._table, self._purpose, self.stretches(with_next=with_next))

    def tried(self, *, with_next: bool = False) -> Whole | None:
        """As `whole`; None while no point is placed, or where it is refused. Kept, as it is said and drawn alike."""
        if not self.points:
            return None
        stretches, laid, known = self.stretches(with_next=with_next), self._table.scene.laid, self._known
        if known is None or known[0] != stretches or known[1] is not laid:
            self._known = known = (stretches, laid, self._worked_out(stretches))
        return known[2]

    def _worked_out(self, stretches: Sequence[Stretch]) -> Whole | None:
        try:
            return whole_line(self._table, self._purpose, stretches)
        except Refusal:
            return None

    def refused_at_a_seam(self) -> Refusal | None:
        """Why the line so far cannot pass a seam as its pieces lie."""
        whole = self.tried() if self.left else None
        words = PURPOSE_WORDS[self._purpose]
        return step_refused(whole, words, self._table.unit) if whole is not None else None

    def lay_where_it_crosses(self) -> None:
        """Let the pieces touch where the line passes their seam; its points stay on their pieces."""
        whole = self.tried()
        if whole is not None and self.item is not None:
            lay_where_it_crosses(self._table, whole)
            self.item = self._table.scene.piece(self.item.name)
            self._forget_next()

    def crossed_dart(self) -> str:
        """The open dart that the line so far runs over on the piece it is on, or ""."""
        item = self.item
        if item is None or len(self.points) < 2:
            return ""
        curve = line_course(self._table, item, self.points, self._purpose)
        hits = (dart_at([item], item.to_table(as_point(at)), 0.0) for at in curve)
        return next((hit.dart.name for hit in hits if hit is not None), "")

    # --- what is seen of it

    def paths(self) -> Sequence[Points]:
        """Its course on the table with the next point; straight from point to point where no fair curve goes there."""
        if not self.points:
            return ()
        whole = self.tried(with_next=True)
        if whole is not None:
            return whole.paths
        stretches = [(self._table.scene.piece(one.piece), one.points) for one in self.stretches(with_next=True)]
        places = [item.to_table((p.x, p.y)) for item, points in stretches if item is not None for p in points]
        return [straight([*places, places[-1]])]

    def handles(self) -> list[Handle]:
        """The points placed so far, so that they can be seen and read."""
        made: list[Handle] = []
        for stretch in self.stretches(with_next=False):
            item = self._table.scene.piece(stretch.piece)
            for point in stretch.points if item is not None else ():
                at, number = (point.x, point.y), len(made) + 1
                words = f"Point {number} of the new {PURPOSE_WORDS[self._purpose]}"
                on_table = item.to_table(at) if item is not None else at
                made.append(Handle(str(number - 1), words, on_table, at, moves=False))
        return made


def _is_same(first: LinePoint, second: LinePoint) -> bool:
    return gap((first.x, first.y), (second.x, second.y)) < ONE_SPOT

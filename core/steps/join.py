"""Join: lay two pieces together along a seam and make them one."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, TypeAlias

from msgspec.structs import replace

from core.errors import Refusal
from core.geometry.placement import Placement, laying
from core.geometry.planar import farthest_apart, is_simple_loop
from core.geometry.polyline import Points, as_points, backwards
from core.geometry.tolerances import JOIN_GAP
from core.pieces.names import spoken, spoken_in_full
from core.pieces.outline import OnLoop, closed, is_centre, merged, named, placed_piece, run
from core.pieces.records import Change, Edge, Garment, Piece, Side
from core.pieces.seams import Link, Match, chain_points, match
from core.pieces.truing import joint_smoothed, paper
from core.pieces.turning import with_bases
from core.steps.step import Effect, Note, Step
from core.steps.trim import touched_seams
from core.steps.true import paper_note
from core.units import Unit

TRUED_OVER: Final = 40.0
"""A joint is drawn fair over so much (mm) of the edges on both its sides, or half of a shorter edge (house value)."""


class Join(Step, frozen=True, tag="join"):
    """Lay the piece on the seam's side b to that on its side a, at a named end of the seam, and make them one piece.

    The joined piece keeps the number and grain of the piece that lies still and takes the name given. `trued`: where
    edges of both meet at the joint, they are drawn as one fair curve, as a neckline is levelled over the shoulder.
    """

    seam: str
    end: str
    name: str
    trued: bool = False

    @property
    def said(self) -> str:
        """The seam's name as it is spoken."""
        return spoken_in_full(self.seam)

    def reads(self, garment: Garment) -> tuple[object, ...]:
        """The seam, both pieces, and the names that other pieces have taken."""
        seam = garment.seam(self.seam)
        joined = match(garment, seam).pieces
        return (seam, *(garment.pieces[name] for name in joined), *garment.taken(*joined))

    def effect(self, garment: Garment) -> Effect:
        """One piece of area A + B + gap - overlap; the seam is gone. Refusal when the edges part by over 0.5 mm."""
        found = match(garment, garment.seam(self.seam))
        if len(found.pieces) != 2:
            count = len(found.pieces)
            raise Refusal(f"The seam {self.said} joins {count} pieces; only a seam between two is laid shut.")
        still, moving = found.a[0].piece, found.b[0].piece
        self._refuse_ease(found)
        placement = self._placement(found.a, found.b, found.seam.ends)
        moved = placed_piece(moving, placement)
        self._refuse_gap(chain_points(found.a), placement.points(chain_points(found.b)))
        joined_piece = self._joined(still, moved, found.a, found.b)
        if self.name in dict(garment.taken(still.name, moving.name)):
            raise Refusal(f"There is a piece {self.name} already; give the joined piece another name.", piece=self.name)
        notes: tuple[Note, ...] = ()
        if self.trued:
            rough, joined_piece = joined_piece, _trued(joined_piece, _joints(still, moved, found.a, found.b))
            notes = (paper_note(joined_piece.name, *paper(rough, joined_piece)),)
            as_it_lies = Change(pieces={still.name: (rough,), moving.name: ()}, seams={self.seam: None}).on(garment)
            notes += tuple(
                Note("touched", f"Truing the joint changes the seam {spoken_in_full(seam.name)} by {by:+.2f} mm.")
                for seam, by in touched_seams(as_it_lies, self.seam, [joined_piece])
            )
        change = Change(pieces={still.name: (joined_piece,), moving.name: ()}, seams={self.seam: None})
        return Effect(change, notes)

    def _placement(self, a: Sequence[Link], b: Sequence[Link], ends: tuple[str, str]) -> Placement:
        if self.end not in ends:
            raise Refusal(f"The seam {self.said} ends at the {ends[0]} and the {ends[1]}, not at the {self.end}.")
        first, second = chain_points(tuple(a)), chain_points(tuple(b))
        if self.end == ends[1]:
            first, second = backwards(first), backwards(second)
        return laying(second[0], second[-1], onto=first[0], onto_towards=first[-1])

    def _refuse_ease(self, found: Match) -> None:
        ease = abs(found.seam.ease)
        if ease > JOIN_GAP:
            raise Refusal(
                f"One side of the seam {self.said} is to be {ease:.1f} mm longer than the other, as ease, and cannot "
                f"be laid shut; draft the block without that ease, or fold it out of the longer side and then allow "
                f"none.",
            )

    def _refuse_gap(self, a: Points, b: Points) -> None:
        apart = farthest_apart(a, b)
        if apart > JOIN_GAP:
            raise Refusal(
                f"The two sides of the seam {self.said} part by {apart:.1f} mm when laid together, over the "
                f"{JOIN_GAP} mm that a joint may show; true or trim them first."
            )

    def _joined(self, still: Piece, moved: Piece, a: Sequence[Link], b: Sequence[Link]) -> Piece:
        edges = named(closed(merged((*_without(still, a), *_without(moved, b)))))
        lines = {line.name: line for line in (*moved.lines, *still.lines)}
        whole = replace(
            still,
            name=self.name,
            edges=edges,
            darts=with_bases((*still.darts, *moved.darts), edges),
            lines=tuple(lines.values()),
            landmarks={**moved.landmarks, **still.landmarks},
            eased=(*still.eased, *moved.eased),
        )
        if not is_simple_loop(as_points(whole.loop)):
            raise Refusal(
                f"Laid together at the seam {self.said}, pieces {still.name} and {moved.name} overlap; join them at "
                f"the other end.",
                piece=still.name,
            )
        return whole

    def sentence(self, garment: Garment, unit: Unit) -> str:
        """For example: Join the front yoke and the back yoke at the shoulder, laid together at the neck."""
        a, b = match(garment, garment.seam(self.seam)).pieces[:2]
        seam, end = self.said, spoken(self.end)
        trued = ", the joint trued" if self.trued else ""
        return f"Join the {a} and the {b} at the {seam}, laid together at the {end}, into {self.name}{trued}."


def _without(piece: Piece, chain: Sequence[Link]) -> tuple[Edge, ...]:
    """A piece's edges in loop order from the end of the chain round to its beginning, the chain left out."""
    names = [edge.name for edge in piece.edges]
    held = {names.index(link.edge.name) for link in chain}
    after = next(i for i in held if (i + 1) % len(names) not in held)
    first = next(i for i in held if (i - 1) % len(names) not in held)
    start = OnLoop((after + 1) % len(names), 0.0)
    stop = OnLoop((first - 1) % len(names), piece.edges[first - 1].length)
    return run(piece.edges, start, stop)


_Corner: TypeAlias = tuple[tuple[str, Side], tuple[str, Side]]
"""The origins of the two edges that meet at an end of the joint, in loop order."""


def _joints(still: Piece, moved: Piece, a: Sequence[Link], b: Sequence[Link]) -> tuple[_Corner, ...]:
    own, other = ([(e.origin.edge, e.origin.side) for e in _without(p, c)] for p, c in ((still, a), (moved, b)))
    return ((own[-1], other[0]), (other[-1], own[0]))


def _trued(piece: Piece, joints: Sequence[_Corner]) -> Piece:
    """The piece with the edges at its joints drawn fair; ends on a fold, a dart or a centre seam stay as they are."""
    for joint in joints:
        for before, after in zip(piece.edges, (*piece.edges[1:], piece.edges[0]), strict=True):
            ends = (before.origin.edge, before.origin.side), (after.origin.edge, after.origin.side)
            if ends == joint and not any(is_centre(edge) or edge.kind == "dart base" for edge in (before, after)):
                reach = min(TRUED_OVER, before.length / 2, after.length / 2)
                piece = joint_smoothed(piece, (before.name, after.name), reach)
                break
    return piece

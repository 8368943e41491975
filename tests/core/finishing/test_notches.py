"""Notches meet when the seam is sewn."""

from __future__ import annotations

from itertools import accumulate, pairwise

import pytest

from core.finishing.finish import finish
from core.finishing.notches import mates, seam_notches
from core.geometry.placement import gap
from core.geometry.polyline import point_at
from core.pieces.records import Garment
from core.pieces.seams import Link, chain_points, matches
from tests.samples import NAMES, design, replayed


def from_first_end(garment: Garment, chain: tuple[Link, ...]) -> list[float]:
    """How far along a chain its notches stand, from the seam's first end."""
    notches = seam_notches(garment)
    found: list[float] = []
    reached = 0.0
    for link in chain:
        size = link.edge.length
        here = [notch.at for notch in notches[link.piece.name] if notch.edge == link.edge.name]
        found += [reached + (size - at if link.reversed else at) for at in here]
        reached += size
    return sorted(found)


def joints(chain: tuple[Link, ...]) -> list[float]:
    """Where along a chain two pieces meet."""
    ends = accumulate(link.edge.length for link in chain)
    return [end for end, (here, after) in zip(ends, pairwise(chain), strict=False) if here.piece is not after.piece]


@pytest.mark.parametrize("name", NAMES)
def test_notches_lie_opposite(name: str) -> None:
    """Both sides of an exact seam have the same notches at the same distances from its first end.

    Where two pieces of one side meet, the corner itself is the mark on that side.
    """
    garment = replayed(name).garment
    for match in matches(garment):
        if match.seam.ease:
            continue
        a, b = (sorted(from_first_end(garment, chain) + joints(chain)) for chain in (match.a, match.b))
        assert a == pytest.approx(b, abs=0.2)


def test_the_bust_point_is_notched_with_two_inches_above_and_below() -> None:
    """On both sides of the princess seam that passes it, 50.8 mm either way (common practice)."""
    garment = replayed("concert").garment
    seam = next(match for match in matches(garment) if match.seam.name == "front.princess")
    for chain in (seam.a, seam.b):
        at = from_first_end(garment, chain)
        assert len(at) == 3
        assert [at[1] - at[0], at[2] - at[1]] == pytest.approx([50.8, 50.8], abs=1e-6)
        path = chain_points(chain)  # both edges of this chain lie in one piece
        assert gap(point_at(path, at[1]), chain[0].piece.landmarks["bust_point"]) < 0.01


def test_every_open_dart_is_notched_at_both_leg_ends() -> None:
    """The block's darts, on their bases."""
    for finished in finish(design("block"), replayed("block").garment):
        for dart in finished.piece.darts:
            base = finished.piece.edge(dart.base)
            at = [notch.at for notch in finished.notches if notch.edge == dart.base]
            assert [point_at(base.points, place) for place in at] == [pytest.approx(leg) for leg in dart.legs]


def test_no_notch_leaves_its_edge() -> None:
    """Each stands on an edge of its own piece, between its ends."""
    for name in NAMES:
        for finished in finish(design(name), replayed(name).garment):
            for notch in finished.notches:
                assert 0.0 <= notch.at <= finished.piece.edge(notch.edge).length + 1e-9


def test_each_edge_knows_the_number_of_its_mate() -> None:
    """The concert bodice: its yoke is sewn to the back's side at the shoulder; both princess sides name each other."""
    garment = replayed("concert").garment
    numbers = {piece.name: piece.number for piece in garment.pieces.values()}
    found = mates(garment, numbers)
    assert found["side front", "side"] == numbers["side back"]
    assert found["side back", "side"] == numbers["side front"]
    assert found["side front", "princess"] == numbers["centre front"]
    assert found["centre front", "sheer_line"] == numbers["front yoke"]
    assert ("front yoke", "neck") not in found

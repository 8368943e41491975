"""Notches meet when the seam is sewn."""

from __future__ import annotations

from itertools import accumulate, pairwise

import pytest
from msgspec.structs import replace

from core.design.replay import replay
from core.finishing.finish import finish
from core.finishing.notches import FROM_END, mates, seam_notches
from core.geometry.placement import gap
from core.geometry.polyline import as_points, point_at
from core.pieces.records import Eased, Edge, Garment, Origin, Piece, Seam, Span
from core.pieces.seams import Link, chain_points, matches
from core.steps.unfold import Unfold
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


def test_each_edge_knows_the_pieces_that_it_meets() -> None:
    """The concert bodice: both princess sides name each other, and the yoke both fronts, each where it is sewn."""
    garment = replayed("concert").garment
    names = {piece.number: piece.name for piece in garment.pieces.values()}
    found = mates(garment, {name: number for number, name in names.items()})

    def met(piece: str, edge: str) -> list[str]:
        return [names[mate.number] for mate in found[piece, edge]]

    assert met("side front", "side") == ["side back"]
    assert met("side back", "side") == ["side front"]
    assert met("side front", "princess") == ["centre front"]
    assert met("centre front", "sheer_line") == ["front yoke"]
    assert ("front yoke", "neck") not in found
    assert sorted(met("front yoke", "sheer_line")) == ["centre front", "side front"]
    for mate in found["front yoke", "sheer_line"]:
        sewn = garment.piece(names[mate.number]).edge("sheer_line").length
        assert mate.stop - mate.start == pytest.approx(sewn, abs=1.0)
    yoke = garment.piece("front yoke").edge("sheer_line")
    inner = next(mate for mate in found["front yoke", "sheer_line"] if names[mate.number] == "centre front")
    middle = point_at(yoke.points, (inner.start + inner.stop) / 2)
    outer = next(mate for mate in found["front yoke", "sheer_line"] if mate != inner)
    assert middle[0] < point_at(yoke.points, (outer.start + outer.stop) / 2)[0]


def test_back_seams_have_double_notches_and_front_seams_single_ones() -> None:
    """The trade's convention (a factory pattern-maker's site, at second hand); front to back they are single."""
    found = seam_notches(replayed("concert").garment)
    front_to_back = ("side", "shoulder")
    for name in ("centre back", "side back"):
        doubles = {notch.is_double for notch in found[name] if notch.edge not in front_to_back}
        assert doubles == {True}
    for name in ("centre front", "side front"):
        assert not any(notch.is_double for notch in found[name])


def test_a_long_seam_is_notched_ten_inches_from_its_end() -> None:
    """A straight seam of 400 mm between two pieces: 254 mm from its first end on both (trade.md D2)."""
    garment = tall(400.0)
    match = next(match for match in matches(garment) if match.seam.name == "side")
    for chain in (match.a, match.b):
        assert from_first_end(garment, chain) == pytest.approx([FROM_END])
    assert FROM_END == 254.0


@pytest.mark.parametrize("height", [160.0, 300.0, 400.0, 520.0, 560.0, 600.0, 635.0, 690.0, 900.0])
def test_a_seam_cannot_be_sewn_the_wrong_way_up(height: float) -> None:
    """Turned end for end, some notch of it lies 15 mm or more from every notch of its mate (trade.md D2)."""
    garment = tall(height)
    match = next(match for match in matches(garment) if match.seam.name == "side")
    at = from_first_end(garment, match.a)
    assert max(min(abs(height - here - there) for there in at) for here in at) >= 15.0


def test_the_right_half_has_notches_at_its_bust_point_too() -> None:
    """A bodice unfolded to both halves: the right princess seam is notched as the left one is."""
    front_cut = design("concert")
    garment = replay(front_cut.with_step(Unfold("unfold-9", "centre front"))).garment
    left, right = (
        sorted(at for chain in (seam.a, seam.b) for at in from_first_end(garment, chain))
        for seam in matches(garment)
        if seam.seam.name in ("front.princess", "right.front.princess")
    )
    assert len(left) == 6
    assert left == pytest.approx(right, abs=1e-6)


def test_ease_is_notched_where_it_begins_and_ends_on_both_sides() -> None:
    """400 mm with 12 mm of ease from 100 to 180 mm, sewn to 388: the mate's notches stand at 100 and 168 mm."""
    garment = tall(400.0, mate=388.0)
    left = replace(garment.piece("left"), eased=(Eased("left.east", "", 100.0, 180.0, 12.0, 0.1, "ease"),))
    garment = replace(garment, pieces={**garment.pieces, "left": left})
    match = next(match for match in matches(garment) if match.seam.name == "side")
    assert from_first_end(garment, match.a) == pytest.approx([100.0, 180.0])
    assert from_first_end(garment, match.b) == pytest.approx([100.0, 168.0])


def test_gathers_on_an_edge_in_no_seam_are_notched_too() -> None:
    """The upper edge of the paper, 100 mm wide, gathered from 20 to 60 mm: as at a waist that waits for its skirt."""
    garment = tall(400.0)
    left = replace(garment.piece("left"), eased=(Eased("left.north", "", 20.0, 60.0, 10.0, 0.1, "gathers"),))
    garment = replace(garment, pieces={**garment.pieces, "left": left})
    at = [notch.at for notch in seam_notches(garment)["left"] if notch.edge == "north"]
    assert at == pytest.approx([20.0, 60.0])


def tall(height: float, *, mate: float = 0.0) -> Garment:
    """Two rectangles sewn together along a side that high; the second may be another height."""
    left = rectangle("left", 0.0, height)
    right = rectangle("right piece", 100.0, mate or height)
    seam = Seam("side", (Span("left.east"),), (Span("right piece.west", backwards=True),), ("south", "north"))
    pieces = {"left": left, "right piece": right}
    return Garment(pieces, {"side": seam}, {}, {}, {})


def rectangle(name: str, x: float, height: float) -> Piece:
    """A piece 100 mm wide with its lower left corner at (x, 0)."""
    corners = [(x, 0.0), (x + 100.0, 0.0), (x + 100.0, height), (x, height), (x, 0.0)]
    sides = zip(("south", "east", "north", "west"), pairwise(corners), strict=True)
    edges = tuple(
        Edge(side, "seam", as_points(ends), Origin(f"{name}.{side}", 0.0, gap(*ends))) for side, ends in sides
    )
    return Piece(name, "front", edges)

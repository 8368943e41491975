"""What every handbook block holds, whatever its darts."""

from __future__ import annotations

from itertools import pairwise
from math import degrees, hypot

import numpy as np
import pytest

from core.blocks.ease import Ease
from core.body.catalogue import MEASUREMENTS
from core.geometry.planar import distance_into, is_simple_loop
from core.geometry.polyline import Points, as_points, signed_area
from core.pieces.outline import cloth_area
from core.pieces.places import Place
from core.pieces.records import Garment, Line, Piece
from core.pieces.seams import matches
from core.steps.cup import Cup
from core.steps.cut import Cut, Tag
from core.steps.mapping import landmarks_of
from core.steps.neckline import Neckline
from core.steps.pivot import Pivot
from core.steps.step import LinePoint
from core.steps.style_line import StyleLine
from tests.core.blocks.drafted_bodies import Sample, corner, direction, pinned
from tests.core.blocks.handbooks import HANDBOOKS, by_handbook, women_by

both = pytest.mark.parametrize("method", HANDBOOKS)


def women(method: str) -> tuple[Sample, ...]:
    """The client with the method's own ease, and women of the survey with the default ease."""
    return (by_handbook(method), *women_by(method)[0])


def pieces(method: str) -> list[Piece]:
    """Both pieces of each."""
    return [piece for sample in women(method) for piece in sample.garment.pieces.values()]


@both
def test_few_women_are_refused_and_by_measurement(method: str) -> None:
    """At most 1 in 100 (as the tape method), each by name."""
    drawn, refused = women_by(method)
    assert len(refused) <= max(1, (len(drawn) + len(refused)) // 100), refused
    for sentence in refused:
        assert any(row.name in sentence for row in MEASUREMENTS.values()) or "ease" in sentence


@both
def test_outlines_are_closed_simple_and_counter_clockwise(method: str) -> None:
    """Edges begin bit for bit where the one before ends; front x >= 0, back x <= 0 (design.md 2)."""
    for piece in pieces(method):
        for before, after in zip(piece.edges, (*piece.edges[1:], piece.edges[0]), strict=True):
            assert (before.points[-1] == after.points[0]).all(), (before.name, after.name)
        assert is_simple_loop(piece.loop)
        assert signed_area(piece.loop) > cloth_area(piece) > 0.0
        side = 1.0 if piece.name == "front" else -1.0
        assert (side * piece.loop[:, 0]).min() >= 0.0


@both
def test_bust_and_waist_are_as_wide_as_asked(method: str) -> None:
    """Body and ease within 0.2 mm on the bust line (cutting.md 20) and 0.1 mm at the waist, darts closed (G6)."""
    own = by_handbook(method)
    for sample in (own, *women_by(method)[0]):
        ease = _own(method) if sample is own else Ease()
        found = sample.garment.pieces.values()
        bust = sum(piece.line(f"{piece.name}.bust_line").length for piece in found)
        waist = sum(sample.garment.origins[f"{piece.name}.waist"].length for piece in found)
        assert bust == pytest.approx((sample["bust"] + ease.bust) / 2, abs=0.2), sample.name
        assert waist == pytest.approx((sample["waist"] + ease.waist) / 2, abs=0.1), sample.name


def _own(method: str) -> Ease:
    return {"shoulder-dart": Ease(bust=100.0, waist=60.0), "armhole-dart": Ease(bust=120.0, waist=60.0)}[method]


@both
def test_seams_agree(method: str) -> None:
    """Side seams are equal and shoulders differ by the ease within 0.01 mm (trade.md G6)."""
    for sample in women(method):
        for match in matches(sample.garment):
            assert abs(match.difference) <= 0.01, (sample.name, match.seam.name)


@both
def test_legs_are_equal_and_edges_run_on_over_closed_darts(method: str) -> None:
    """Pinned shut, a dart leaves no gap, and no corner over 0.5 degrees in its edge (cutting.md 15, 20)."""
    for piece in pieces(method):
        for dart in piece.darts:
            legs = [hypot(leg[0] - dart.pivot[0], leg[1] - dart.pivot[1]) for leg in dart.legs]
            assert legs[0] == pytest.approx(legs[1], abs=1e-9)
            assert dart.closing_turn < 0.0
            before, after = pinned(piece, dart)
            assert np.hypot(*(before[-1] - after[0])) <= 1e-6
            bend = direction(after, at_end=False) - direction(before, at_end=True)
            assert abs((bend + 180.0) % 360.0 - 180.0) <= 0.5, (piece.name, dart.name)


@both
def test_armholes_bend_one_way(method: str) -> None:
    """With its own ease a handbook's armhole turns back by 3 degrees in all at the most (house value)."""
    for piece in by_handbook(method).garment.pieces.values():
        for edge in piece.edges:
            if edge.origin.edge.endswith(".armhole"):
                steps = np.diff(edge.points, axis=0)
                turns = np.degrees(np.diff(np.unwrap(np.arctan2(steps[:, 1], steps[:, 0]))))
                assert min(turns[turns > 0.0].sum(), -turns[turns < 0.0].sum()) <= 3.0, (piece.name, edge.name)


@both
def test_corners_are_square(method: str) -> None:
    """Centre and waist, centre and neck, underarm, waist and side: 90 degrees within 1 (trade.md D5, G6)."""
    for piece in pieces(method):
        pairs = zip(piece.edges, (*piece.edges[1:], piece.edges[0]), strict=True)
        square = [pair for pair in pairs if {_local(pair[0].name), _local(pair[1].name)} in SQUARE]
        assert len(square) == 4
        for before, after in square:
            assert corner(before, after) == pytest.approx(90.0, abs=1.0), (piece.name, before.name, after.name)


SQUARE = [
    {"centre_front", "waist"}, {"centre_back", "waist"}, {"centre_front", "neck"}, {"centre_back", "neck"},
    {"side", "waist"}, {"side", "armhole"},
]  # fmt: skip


def _local(name: str) -> str:
    return name.partition(".")[0]


@both
def test_marks_and_landmarks_lie_on_the_cloth(method: str) -> None:
    """Inside the outline and nowhere in an open dart; a crossed dart is met at one distance from its pivot."""
    for piece in pieces(method):
        wedges = [as_points((dart.pivot, *dart.legs)) for dart in piece.darts]
        for place in piece.landmarks.values():
            assert distance_into(piece.loop, place) >= -1e-6
        for line in piece.lines:
            for place in line.path:
                assert distance_into(piece.loop, place) >= -0.05, (piece.name, line.name)
                assert max(distance_into(wedge, place) for wedge in wedges) <= 1e-6, (piece.name, line.name)
            for ends in crossed(line):
                reach = [[float(np.hypot(*(end - dart.pivot))) for end in ends] for dart in piece.darts]
                assert min(abs(a - b) for a, b in reach) <= 0.01, (piece.name, line.name)


def crossed(line: Line) -> list[tuple[Points, Points]]:
    """The ends of a mark on both sides of each dart; the bust circle's two stretches begin and end at one dart each."""
    if line.name == "front.bust_circle":
        centre, side = line.stretches
        return [(centre[0], side[0]), (centre[-1], side[-1])]
    return [(before[-1], after[0]) for before, after in pairwise(line.stretches)]


# --------------------------------------------------------------------------------------------------------------
# work on them


def block(method: str) -> Garment:
    """The client's block."""
    return by_handbook(method).garment


@pytest.mark.parametrize(("method", "dart"), [("shoulder-dart", "shoulder_dart"), ("armhole-dart", "armhole_dart")])
def test_the_bust_dart_pivots_into_the_waist_dart(method: str, dart: str) -> None:
    """Both turn about the bust point: the angles add and the cloth stays (trade.md C1)."""
    before = block(method).piece("front")
    after = (
        Pivot("pivot-1", "front", f"front.{dart}", into="front.waist_dart").apply(block(method)).garment.piece("front")
    )
    whole = degrees(before.dart(f"front.{dart}").angle + before.dart("front.waist_dart").angle)
    assert degrees(after.dart("front.waist_dart").angle) == pytest.approx(whole, abs=1e-6)
    assert cloth_area(after) == pytest.approx(cloth_area(before), abs=1e-3)
    assert {edge.name for edge in after.edges} & {"shoulder", "armhole"} == {"shoulder", "armhole"}


def panels(method: str, dart: str) -> Garment:
    """A sheer line over the bust point and a princess line down from it, the bust dart pivoted out first, then cut."""
    garment = Pivot("pivot-1", "front", f"front.{dart}", into="front.waist_dart").apply(block(method)).garment
    front = garment.piece("front")
    x, y = front.landmarks["bust_point"]
    side = Place("front.armhole", "side", share=0.2)
    points = (LinePoint(0.0, y + 30.0), LinePoint(x, y + 60.0), LinePoint(x + 90.0, y + 60.0, place=side))
    sheer = StyleLine("line-1", "front", "front.sheer", points, landmarks_of(front), intended=True)
    garment = sheer.apply(garment).garment
    path = garment.piece("front").line("front.sheer").path
    top = min(path.tolist(), key=lambda place: abs(place[0] - x))
    down = (LinePoint(*top), LinePoint(x, y, landmark="bust_point"))
    princess = StyleLine("line-2", "front", "front.princess", down, landmarks_of(front), purpose="panel")
    garment = princess.apply(garment).garment
    tags = (
        Tag(0.5 * x, y + 110.0, "yoke", 1, "sheer"),
        Tag(0.4 * x, 0.5 * y, "centre", 2),
        Tag(x + 60.0, 0.8 * y, "side", 3),
    )
    cut = Cut(
        "cut-1", "front", ("front.sheer", "front.princess"), tags, landmarks_of(front), darts=("front.waist_dart",)
    )
    return cut.apply(garment).garment


@pytest.mark.parametrize(("method", "dart"), [("shoulder-dart", "shoulder_dart"), ("armhole-dart", "armhole_dart")])
def test_panels_are_cut_from_them(method: str, dart: str) -> None:
    """The panels hold all the cloth, every new seam has equal sides, and dart b stays in the side panel."""
    garment = panels(method, dart)
    names = ("yoke", "centre", "side")
    total = sum(cloth_area(garment.piece(name)) for name in names)
    assert total == pytest.approx(cloth_area(block(method).piece("front")), abs=0.01)
    assert max(abs(match.difference) for match in matches(garment)) <= 0.01
    kept = {dart.name for name in names for dart in garment.piece(name).darts}
    assert kept == ({"front.side_waist_dart"} if method == "armhole-dart" else set())


@both
def test_the_back_takes_a_princess_line_over_its_own_pivots(method: str) -> None:
    """From the shoulder blade to the waist dart's pivot; both darts go into the seam."""
    garment = block(method)
    back = garment.piece("back")
    ends = (back.landmarks["shoulder_blade"], back.dart("back.waist_dart").pivot)
    points = tuple(LinePoint(*end) for end in ends)
    line = StyleLine("line-1", "back", "back.princess", points, landmarks_of(back), purpose="panel")
    (ax, ay), (bx, _) = ends
    tags = (Tag(0.3 * bx, ay, "centre back", 4), Tag(ax - 60.0, ends[1][1] + 10.0, "side back", 5))
    darts = ("back.shoulder_dart", "back.waist_dart")
    cut = Cut("cut-1", "back", ("back.princess",), tags, landmarks_of(back), darts=darts)
    garment = cut.apply(line.apply(garment).garment).garment
    total = cloth_area(garment.piece("centre back")) + cloth_area(garment.piece("side back"))
    assert total == pytest.approx(cloth_area(back), abs=0.01)


@both
def test_a_neckline_and_a_cup_can_be_drawn_on_them(method: str) -> None:
    """Neither step needs the tape method's darts; the cup's two sides are equal."""
    garment = Neckline("neckline-1", 20.0, 30.0, 10.0, width_from="neck").apply(block(method)).garment
    garment = Cup("cup-1", (6, 7)).apply(garment).garment
    cup = next(match for match in matches(garment) if match.seam.name == "cup.seam")
    assert abs(cup.difference) <= 0.2

"""Drafting: every tenth woman of the survey gets a block that a pattern cutter would accept, or a refusal."""

from __future__ import annotations

from collections.abc import Callable
from math import asin, degrees, hypot, tan

import numpy as np
import pytest

from core.body.catalogue import MEASUREMENTS
from core.geometry.planar import is_simple_loop
from core.geometry.polyline import Points, signed_area
from core.pieces.outline import cloth_area
from core.pieces.records import Dart, Piece
from core.pieces.seams import matches
from tests.core.blocks.drafted_bodies import (
    EASE,
    Sample,
    client,
    corner,
    crossed_at,
    direction,
    every_tenth,
    means,
    pinned,
    samples,
)


def farthest_off(value: Callable[[Sample], float]) -> float:
    """The value farthest from nought over all women."""
    return max((value(sample) for sample in samples()), key=abs)


def wedge_width(dart: Dart, height: float) -> float:
    """How wide an upright open waist dart is at a level: similar triangles."""
    return max(dart.pivot[1] - height, 0.0) * 2 * tan(dart.angle / 2)


def pieces() -> list[Piece]:
    """Both pieces of every woman."""
    return [piece for sample in samples() for piece in sample.garment.pieces.values()]


# --------------------------------------------------------------------------------------------------------------
# refusals


def test_at_most_one_woman_in_a_hundred_is_refused() -> None:
    """Of every tenth woman at most 1 in 100 is refused (issue "main job"; trade.md G6 allows a clear refusal)."""
    drawn, refused = every_tenth()
    assert len(refused) <= max(1, (len(drawn) + len(refused)) // 100), refused


def test_a_refusal_names_measurements() -> None:
    """The sentence of each refusal names at least one measurement as the measurement list calls it."""
    for woman, sentence in every_tenth()[1]:
        assert any(row.name in sentence for row in MEASUREMENTS.values()), (woman, sentence)


# --------------------------------------------------------------------------------------------------------------
# what was measured


def test_bust_point_lies_half_the_span_from_the_centre() -> None:
    """The bust point's x is half the bust span within 0.1 mm (trade.md G6)."""
    assert abs(farthest_off(lambda s: s.front.landmarks["bust_point"][0] - s["bust_span"] / 2)) <= 0.1


def test_bust_point_lies_as_far_from_the_side_neck_as_measured() -> None:
    """Straight on the block, side neck point to bust point is the measurement; the dart lies beyond it."""

    def off(sample: Sample) -> float:
        (ax, ay), (bx, by) = sample.front.landmarks["side_neck"], sample.front.landmarks["bust_point"]
        return hypot(ax - bx, ay - by) - sample["neck_to_bust_point"]

    assert abs(farthest_off(off)) <= 0.1


def test_front_length_runs_over_the_bust_point() -> None:
    """Side neck to bust point and down the waist dart's leg is the front waist length."""

    def off(sample: Sample) -> float:
        leg = sample.front.dart("front.waist_dart").leg_length
        return sample["neck_to_bust_point"] + leg - sample["front_waist_length"]

    assert abs(farthest_off(off)) <= 0.1


def test_centres_are_as_long_as_measured() -> None:
    """Centre front is pit of neck to waist, centre back nape to waist, each on x = 0 and ending at level 0."""
    for sample in samples():
        for piece, edge, measure in (
            (sample.front, "centre_front", "centre_front_length"),
            (sample.back, "centre_back", "back_waist_length"),
        ):
            points = piece.edge(edge).points
            assert (points[:, 0] == 0.0).all()
            assert points[:, 1].min() == 0.0
            assert piece.edge(edge).length == pytest.approx(sample[measure], abs=0.01)


def test_shoulders_are_as_long_as_measured() -> None:
    """The front shoulder is the measured length, the back longer by exactly the set ease (trade.md G6)."""
    for sample in samples():
        origins = sample.garment.origins
        assert origins["front.shoulder"].length == pytest.approx(sample["shoulder"], abs=0.01)
        assert origins["back.shoulder"].length == pytest.approx(sample["shoulder"] + EASE.shoulder, abs=0.01)


def test_front_shoulder_has_the_measured_slope() -> None:
    """With the dart closed the front shoulder falls as measured, or less where a note says so."""
    for sample in samples():
        slope = degrees(asin(abs(np.sin(np.radians(direction(sample.front.edge("shoulder.2"), at_end=True))))))
        raised = any("slope" in note for note in sample.draft.notes)
        assert slope <= sample["shoulder_slope_deg"] + 0.1
        assert raised or slope == pytest.approx(sample["shoulder_slope_deg"], abs=0.1), sample.name


def test_bust_line_is_bust_and_ease() -> None:
    """At the bust point's level the cloth is half the bust and its ease within 0.2 mm (cutting.md 20)."""

    def off(sample: Sample) -> float:
        height = sample.front.landmarks["bust_point"][1]
        front, back = crossed_at(sample.front, height), crossed_at(sample.back, height)
        open_dart = wedge_width(sample.back.dart("back.waist_dart"), height)
        return max(front) - min(back) - open_dart - (sample["bust"] + EASE.bust) / 2

    assert abs(farthest_off(off)) <= 0.2


def test_waist_is_waist_and_ease() -> None:
    """With all darts closed the waist edges are half the waist and its ease within 0.1 mm (trade.md G6)."""

    def off(sample: Sample) -> float:
        waist = [edge.length for _, edge in sample.garment.edges() if edge.origin.edge.endswith(".waist")]
        assert len(waist) == 4
        return sum(waist) - (sample["waist"] + EASE.waist) / 2

    assert abs(farthest_off(off)) <= 0.1


# --------------------------------------------------------------------------------------------------------------
# darts


def test_every_dart_opens() -> None:
    """All four darts have a positive angle, also where the bust is smaller than the high bust (trade.md 0.2)."""
    smaller = [sample for sample in samples() if sample["bust"] < sample["high_bust"]]
    assert smaller
    for piece in pieces():
        assert len(piece.darts) == 2
        for dart in piece.darts:
            assert dart.closing_turn < 0.0
            assert 2.0 < degrees(dart.angle) < 65.0


def test_both_front_darts_turn_about_the_bust_point() -> None:
    """The pivots of the front darts are the bust point itself, so that their angles add (trade.md C1)."""
    for sample in samples():
        assert {dart.pivot for dart in sample.front.darts} == {sample.front.landmarks["bust_point"]}
        assert len({dart.pivot for dart in sample.back.darts}) == 2


def test_legs_are_of_one_length() -> None:
    """Both legs of a dart are equally long, and its base runs from leg end to leg end."""
    for piece in pieces():
        for dart in piece.darts:
            legs = [hypot(leg[0] - dart.pivot[0], leg[1] - dart.pivot[1]) for leg in dart.legs]
            assert legs[0] == pytest.approx(legs[1], abs=1e-9)
            assert piece.edge(dart.base).points.tolist() == [list(leg) for leg in dart.legs]


def test_darts_are_sewn_to_points_short_of_the_pivot() -> None:
    """Front waist 1/2 in, front shoulder 2 in, back waist 1 in (trade.md C2), at most a third of the legs."""
    for sample in samples():
        for name, wanted in (("front.waist", 13.0), ("front.shoulder", 50.0), ("back.waist", 25.0)):
            dart = sample.garment.piece(name.split(".")[0]).dart(f"{name}_dart")
            short = hypot(dart.point[0] - dart.pivot[0], dart.point[1] - dart.pivot[1])
            assert short == pytest.approx(min(wanted, dart.leg_length / 3), abs=0.5)


def test_edges_run_on_across_closed_darts() -> None:
    """Pinned shut, a dart leaves no gap and no corner over 0.5 degrees in its edge (cutting.md 15, 20)."""
    for piece in pieces():
        for dart in piece.darts:
            before, after = pinned(piece, dart)
            assert np.hypot(*(before[-1] - after[0])) <= 1e-6
            bend = direction(after, at_end=False) - direction(before, at_end=True)
            assert abs((bend + 180.0) % 360.0 - 180.0) <= 0.5, (piece.name, dart.name)


# --------------------------------------------------------------------------------------------------------------
# seams and corners


def test_side_seams_are_equal_with_equal_run_in() -> None:
    """Front and back side seams agree within 0.01 mm in length, height and how far they come in (cutting.md 20)."""
    for sample in samples():
        front, back = sample.front.edge("side").points, sample.back.edge("side").points
        assert sample.front.edge("side").length == pytest.approx(sample.back.edge("side").length, abs=0.01)
        np.testing.assert_allclose(front[-1] - front[0], (back[0] - back[-1]) * (-1.0, 1.0), atol=0.01)


def test_seams_match_with_the_wanted_ease() -> None:
    """Side and shoulder seam both measure exact: length_a - length_b - ease is nought."""
    for sample in samples():
        found = {match.seam.name: match.difference for match in matches(sample.garment)}
        assert found.keys() == {"side", "shoulder"}
        assert max(map(abs, found.values())) <= 0.001


def test_corners_at_the_centres_are_square() -> None:
    """Centre front and back meet neck and waist at 90 degrees (trade.md D5, cutting.md 20: chord of 5 mm, 0.5)."""
    for sample in samples():
        for piece, centre, waist in (
            (sample.front, "centre_front", "waist.1"),
            (sample.back, "centre_back", "waist.2"),
        ):
            before, after = piece.neighbours(centre)
            assert waist in {before.name, after.name}
            assert corner(before, piece.edge(centre)) == pytest.approx(90.0, abs=0.5)
            assert corner(piece.edge(centre), after) == pytest.approx(90.0, abs=0.5)


@pytest.mark.parametrize(
    ("front", "back"),
    [
        (("shoulder.2", "neck"), ("neck", "shoulder.1")),
        (("armhole", "shoulder.1"), ("shoulder.2", "armhole")),
        (("side", "armhole"), ("armhole", "side")),
        (("waist.2", "side"), ("side", "waist.1")),
    ],
)
def test_edges_run_on_across_seams(front: tuple[str, str], back: tuple[str, str]) -> None:
    """Laid together at the shoulder and side seams, neck, armhole and waist make 180 degrees (trade.md D5)."""
    for sample in samples():
        angles = [
            corner(piece.edge(names[0]), piece.edge(names[1]))
            for piece, names in ((sample.front, front), (sample.back, back))
        ]
        assert sum(angles) == pytest.approx(180.0, abs=0.5), sample.name


def test_armhole_leaves_the_side_square() -> None:
    """At the underarm each armhole stands square to its side seam (trade.md B10)."""
    for sample in samples():
        assert corner(sample.front.edge("side"), sample.front.edge("armhole")) == pytest.approx(90.0, abs=0.5)
        assert corner(sample.back.edge("armhole"), sample.back.edge("side")) == pytest.approx(90.0, abs=0.5)


# --------------------------------------------------------------------------------------------------------------
# neck and armhole


def test_armhole_lets_the_arm_through() -> None:
    """The whole armhole is 0 to 80 mm longer than the armhole girth (trade.md G6)."""
    for sample in samples():
        origins = sample.garment.origins
        longer = origins["front.armhole"].length + origins["back.armhole"].length - sample["scye_girth"]
        assert 0.0 <= longer <= 80.0, sample.name


def test_neckline_goes_round_the_neck() -> None:
    """The whole neckline is 10 mm shorter to 60 mm longer than the neck base (trade.md G6)."""
    for sample in samples():
        origins = sample.garment.origins
        longer = 2 * (origins["front.neck"].length + origins["back.neck"].length) - sample["neck_base"]
        assert -10.0 <= longer <= 60.0, sample.name


def test_necklines_bend_one_way() -> None:
    """Seen along the loop, a neckline turns always to the right: no flat or hollow spot turns back."""
    for piece in pieces():
        steps = np.diff(piece.edge("neck").points, axis=0)
        turns = steps[:-1, 0] * steps[1:, 1] - steps[:-1, 1] * steps[1:, 0]
        assert turns.max() <= 1e-6, piece.name


def test_underarm_lies_above_the_bust_line() -> None:
    """The underarm never reaches the bust line (cutting.md 21); a block that moves it far says so in a note."""
    for sample in samples():
        underarm = sample.front.landmarks["underarm"][1]
        assert underarm > sample.front.landmarks["bust_point"][1]
        natural = sample["back_waist_length"] - sample["scye_depth"] - EASE.armhole_depth
        noted = any("underarm" in note for note in sample.draft.notes)
        assert noted == (abs(underarm - natural) >= 12.0)


def corner_offset(piece: Piece) -> float:
    """How far the armhole lies from the corner under its innermost point, on the line of 45 degrees, in mm."""
    points = np.abs(piece.edge("armhole").points)
    from_corner = points - (points[:, 0].min(), abs(piece.landmarks["underarm"][1]))
    angles = np.degrees(np.arctan2(from_corner[:, 1], from_corner[:, 0]))
    order = np.argsort(angles)
    return float(np.interp(45.0, angles[order], np.hypot(*from_corner.T)[order]))


def test_armhole_corners_lie_as_deep_as_a_handbook_draws_them() -> None:
    """At bust 88 the curves pass 2.0 and 2.5 cm from their corners (handbook, second-hand: trade.md B3)."""
    sample = client()
    assert corner_offset(sample.front) == pytest.approx(20.0, abs=3.0)
    assert corner_offset(sample.back) == pytest.approx(25.0, abs=3.0)


def test_front_armhole_is_hollower_than_the_back() -> None:
    """Below, the front armhole is cut nearer to its corner than the back (trade.md B10), at every size."""
    for sample in (client(), *means()):
        assert corner_offset(sample.front) < corner_offset(sample.back), sample.name


def test_armholes_bend_one_way() -> None:
    """From underarm to shoulder an armhole turns back by 3 degrees in all at the most (house value): no S is seen."""
    for sample in (client(), *means()):
        for piece in sample.garment.pieces.values():
            steps = np.diff(piece.edge("armhole").points, axis=0)
            headings = np.unwrap(np.arctan2(steps[:, 1], steps[:, 0]))
            assert np.degrees(np.maximum(np.diff(headings), 0.0).sum()) <= 3.0, (sample.name, piece.name)


# --------------------------------------------------------------------------------------------------------------
# the pieces


def test_outlines_are_closed_simple_and_counter_clockwise() -> None:
    """Each edge begins bit for bit where the one before ends; the loop nowhere crosses itself and runs left about."""
    for piece in pieces():
        for before, after in zip(piece.edges, (*piece.edges[1:], piece.edges[0]), strict=True):
            assert (before.points[-1] == after.points[0]).all(), (before.name, after.name)
        assert is_simple_loop(piece.loop)
        assert signed_area(piece.loop) > cloth_area(piece) > 0.0


def test_front_lies_right_and_back_left_of_the_centre() -> None:
    """Front x >= 0 and back x <= 0, both with the waist's level at 0 (design.md 2)."""
    for sample in samples():
        assert sample.front.loop[:, 0].min() == 0.0
        assert sample.back.loop[:, 0].max() == 0.0


def test_marks_meet_both_legs_alike() -> None:
    """A mark that crosses a dart meets both legs at one distance from the pivot within 0.01 mm (design.md 5)."""
    for piece in pieces():
        for name, stretches in crossing_marks(piece):
            before, after = stretches
            dart = piece.dart(name)
            reaches = [np.hypot(*(place - dart.pivot)) for place in (before, after)]
            assert reaches[0] == pytest.approx(reaches[1], abs=0.01)
            for place, leg in zip((before, after), dart.legs, strict=True):
                along = (np.array(leg) - dart.pivot) / dart.leg_length
                off = along[0] * (place - dart.pivot)[1] - along[1] * (place - dart.pivot)[0]
                assert abs(off) <= 0.01, (piece.name, name)


def crossing_marks(piece: Piece) -> list[tuple[str, tuple[Points, Points]]]:
    """Each dart that a mark crosses, with the ends of the mark's two stretches, in the order of the dart's legs."""
    lines = {line.name: line.stretches for line in piece.lines}
    ends = {name: (parts[0][-1], parts[1][0]) for name, parts in lines.items() if len(parts) == 2}
    if piece.name == "front":
        centre, side = lines["front.bust_circle"]
        return [
            ("front.waist_dart", ends["front.under_bust_line"]),
            ("front.waist_dart", (centre[0], side[0])),
            ("front.shoulder_dart", ends["front.upper_bust_line"][::-1]),
            ("front.shoulder_dart", (side[-1], centre[-1])),
        ]
    return [("back.waist_dart", pair[::-1]) for pair in ends.values()]

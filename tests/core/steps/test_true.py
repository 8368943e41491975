"""True: edges straight, smooth or square, bases cut as folded; corners stay and paper is counted."""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2, degrees, hypot, pi, radians, tan

import numpy as np
import pytest
from msgspec.structs import replace
from shapely.geometry import LineString, Polygon

from core.errors import Refusal
from core.geometry.polyline import Point, Points, as_points, end_direction, length, nearest
from core.pieces.outline import closed, cloth_area
from core.pieces.places import Place
from core.pieces.records import Garment, Piece
from core.steps.pivot import Pivot
from core.steps.true import DartBase, SmoothEdge, SmoothJoint, SquareCorner, Straighten, Truing, Way
from tests.core.laws.sample_steps import drafted
from tests.paper_block import BUST_POINT, edge, garment


def trued(way: Way, piece: str = "back", start: Garment | None = None) -> Piece:
    """A piece of the paper block after one truing."""
    return Truing("t", piece, way).apply(start or garment()).garment.piece(piece)


def corners(piece: Piece) -> list[Point]:
    """Where the edges of a piece meet."""
    return [(float(edge.points[0][0]), float(edge.points[0][1])) for edge in piece.edges]


def with_edge(name: str, points: Sequence[Point]) -> Garment:
    """The paper garment, one edge of its back drawn otherwise between the same ends."""
    start = garment()
    back = start.piece("back")
    edges = closed([replace(e, points=as_points(points)) if e.name == name else e for e in back.edges])
    return replace(start, pieces={**start.pieces, "back": replace(back, edges=edges)})


def test_straightening_lays_an_edge_on_its_chord() -> None:
    """The back's neck of two straight lines becomes one, and every corner stays bit for bit."""
    before, after = garment().piece("back"), trued(Straighten(("neck",)))
    assert after.edge("neck").points.tolist() == [[0.0, 400.0], [-65.0, 420.0]]
    assert corners(after) == corners(before)


def test_straightening_says_both_areas_of_paper() -> None:
    """(0, 400), (-50, 405), (-65, 420): the triangle under the chord is 337.5 mm² by the shoelace, all of it added."""
    triangle = Polygon([(0.0, 400.0), (-50.0, 405.0), (-65.0, 420.0)]).area
    assert triangle == pytest.approx(337.5)
    note = Truing("t", "back", Straighten(("neck",))).apply(garment()).notes[0]
    assert note.kind == "paper"
    assert "back: 3.38 cm², taken off: 0.00 cm²" in note.sentence


def test_a_shoulder_whose_dart_was_closed_is_one_straight_edge() -> None:
    """Side neck and shoulder point stay where the pivot left them (cutting.md 15)."""
    start = Pivot("p", "front", "front.shoulder_dart", into="front.waist_dart").apply(garment()).garment
    before = start.piece("front")
    after = trued(Straighten(("shoulder.1", "shoulder.2")), "front", start)
    (shoulder,) = [edge for edge in after.edges if edge.origin.edge == "front.shoulder"]
    first, second = before.edge("shoulder.1"), before.edge("shoulder.2")
    chord = as_points((first.points[0], second.points[-1]))
    assert (shoulder.points[[0, -1]] == chord).all()
    assert shoulder.length == pytest.approx(length(chord), abs=1e-9)
    assert (shoulder.origin.start, shoulder.origin.stop) == (first.origin.start, second.origin.stop)


def test_the_shoulder_that_is_straightened_is_found_by_its_places() -> None:
    """A share along the old shoulder still resolves after both halves became one edge."""
    start = Pivot("p", "front", "front.shoulder_dart", into="front.waist_dart").apply(garment()).garment
    after = Truing("t", "front", Straighten(("shoulder.1", "shoulder.2"))).apply(start).garment
    step = Pivot("q", "front", "front.waist_dart", place=Place("front.shoulder", "neck", share=0.5), share=0.2)
    assert step.apply(after).garment.piece("front").darts


def test_a_seam_that_truing_changes_is_named() -> None:
    """The back's side bent outwards is 2 x hypot(105, 15) long, its chord hypot(210, 10): the difference is listed."""
    bent = with_edge("side", [(-230.0, 210.0), (-240.0, 105.0), (-220.0, 0.0)])
    outcome = Truing("t", "back", Straighten(("side",))).apply(bent)
    shorter = hypot(10.0, 105.0) + hypot(20.0, 105.0) - hypot(10.0, 210.0)
    assert any(f"seam side by {shorter:+.2f} mm" in note.sentence for note in outcome.notes)


def test_smoothing_keeps_the_points_it_is_drawn_through() -> None:
    """A bumpy edge drawn through its thirds: those lie on the new line, the bumps between do not."""
    start = drafted("middling")
    edge = start.piece("back").edge("armhole")
    after = trued(SmoothEdge("armhole", points=2), start=start).edge("armhole")
    for share in (0.0, 1 / 3, 2 / 3, 1.0):
        here = LineString(edge.points).interpolate(share, normalized=True)
        assert LineString(after.points).distance(here) < 1e-6
    assert length(after.points) == pytest.approx(edge.length, rel=0.02)


def test_a_smoothed_arc_stays_the_arc() -> None:
    """Through points of a circle of 60 mm the fair curve keeps to it: Hobby's rule is made to draw circles well.

    The directions at its ends are those of chords of 5 mm, 2.4 degrees off the circle's own: 0.1 mm by hand.
    """
    half = hypot(65.0, 20.0) / 2
    along = (-65.0 / (2 * half), 20.0 / (2 * half))
    rise = (60.0**2 - half**2) ** 0.5
    centre = (-32.5 - rise * along[1], 410.0 + rise * along[0])
    first, last = (atan2(y - centre[1], x - centre[0]) for x, y in ((0.0, 400.0), (-65.0, 420.0)))
    turns = np.linspace(first, last, 300)
    arc = [(centre[0] + 60.0 * float(np.cos(turn)), centre[1] + 60.0 * float(np.sin(turn))) for turn in turns]
    arc[0], arc[-1] = (0.0, 400.0), (-65.0, 420.0)
    after = trued(SmoothEdge("neck", points=3), start=with_edge("neck", arc)).edge("neck").points
    radii = np.hypot(after[:, 0] - centre[0], after[:, 1] - centre[1])
    assert radii == pytest.approx(np.full(len(radii), 60.0), abs=0.15)


def test_a_smoothed_stretch_runs_out_into_the_old_line() -> None:
    """Between 30 and 70 % of a straight line with a dent, the line before and after stays and no corner is left."""
    dented = with_edge("side", [(-230.0, 210.0), (-227.0, 120.0), (-219.0, 105.0), (-224.0, 90.0), (-220.0, 0.0)])
    old, new = (
        g.edge("side").points for g in (dented.piece("back"), trued(SmoothEdge("side", 0.3, 0.7, 0), start=dented))
    )
    for share in (0.1, 0.25, 0.75, 0.9):
        here = LineString(old).interpolate(share, normalized=True)
        assert LineString(new).distance(here) < 1e-6
    assert sharpest(new) < 8.0


def sharpest(points: Points) -> float:
    """The largest turn from chord to chord, in degrees."""
    ways = np.unwrap(np.arctan2(*np.diff(points, axis=0).T[::-1]))
    return float(np.degrees(np.abs(np.diff(ways)).max()))


def test_a_smoothed_joint_has_no_corner() -> None:
    """The paper back's side and waist meet nearly squarely; drawn as one curve they run on into each other."""
    after = trued(SmoothJoint(("side", "waist"), 20.0))
    here, there = after.edge("side"), after.edge("waist")
    turn = end_direction(there.points, at_end=False, chord=1.0) - end_direction(here.points, at_end=True, chord=1.0)
    assert abs(degrees(turn)) < 8.0
    assert (here.points[0] == (-230.0, 210.0)).all()
    assert (there.points[-1] == (0.0, 0.0)).all()
    cut_off = cloth_area(garment().piece("back")) - cloth_area(after)
    # A square corner rounded 20 mm from it loses (1 - pi / 4) r² where the curve is a quarter circle: 86 mm².
    assert cut_off == pytest.approx((1 - pi / 4) * 20.0**2, rel=0.15)


@pytest.mark.parametrize(("angle", "lost"), [(20.0, 0.6), (30.0, 1.4)])
def test_shaving_a_corner_loses_length_and_rounding_through_it_does_not(angle: float, lost: float) -> None:
    """20 degrees over 30 mm lose 0.6 mm, 30 degrees 1.4 (cutting.md 12); through the point nothing is lost."""
    start = with_corner(angle)
    shaved, through = (trued(SmoothJoint(("side", "side_low"), 30.0, adds), start=start) for adds in (False, True))
    before = side_length(start.piece("back"))
    assert before - side_length(shaved) == pytest.approx(lost, abs=0.05)
    assert side_length(through) >= before - 0.05


def test_rounding_at_the_bust_point_only_adds_paper() -> None:
    """The corner stays on the line, bit for bit, and no cloth is shaved off (cutting.md 12)."""
    start = with_corner(20.0)
    through = trued(SmoothJoint(("side", "side_low"), 30.0, through=True), start=start)
    corner = start.piece("back").edge("side_low").points[0]
    assert nearest(through.edge("side").points, corner)[1] == pytest.approx(0.0, abs=1e-9)
    old, new = (Polygon(piece.loop) for piece in (start.piece("back"), through))
    assert old.difference(new).area < 0.05
    assert new.difference(old).area > 1.0


def test_a_pivot_says_that_a_trued_base_is_straight_again() -> None:
    """The base of the waist dart was cut for its fold; more angle in the dart and it has to be cut anew."""
    start = Truing("t", "front", DartBase("front.waist_dart")).apply(garment()).garment
    notes = Pivot("p", "front", "front.shoulder_dart", into="front.waist_dart").apply(start).notes
    assert any("base of the waist dart is straight again: true it" in note.sentence for note in notes)
    assert not Pivot("p", "front", "front.shoulder_dart", into="front.waist_dart").apply(garment()).notes


def with_corner(angle: float) -> Garment:
    """The paper garment, the back's side seam bent outward by an angle half-way, as two edges."""
    start = garment()
    back = start.piece("back")
    (top, low), turn = back.edge("side").points, tan(radians(angle / 2)) * 105.0
    middle = ((top + low) / 2 + np.array((-turn, 0.0))).tolist()
    edges = [e for e in back.edges if e.name != "side"]
    index = next(i for i, e in enumerate(edges) if e.name == "waist")
    first = edge("back.side", "seam", 0.0, tuple(top), tuple(middle))
    second = edge("back.side_low", "seam", 0.0, tuple(middle), tuple(low))
    edges[index:index] = [replace(first, name="side"), replace(second, name="side_low")]
    return replace(start, pieces={**start.pieces, "back": replace(back, edges=closed(edges))})


def side_length(piece: Piece) -> float:
    """Both halves of the bent side seam."""
    return piece.edge("side").length + piece.edge("side_low").length


def test_a_squared_corner_is_square_where_it_begins() -> None:
    """The back's neck leaves the centre back at 84 degrees; squared it leaves at 90 for 8 mm (trade.md D5)."""
    before, after = garment().piece("back"), trued(SquareCorner("neck", "centre_back", fade=40.0))
    slope = degrees(atan2(5.0, 50.0))
    assert end_direction(before.edge("neck").points, at_end=False, chord=5.0) == pytest.approx(pi - radians(slope))
    neck = after.edge("neck").points
    assert neck[1].tolist() == pytest.approx([-8.0, 400.0])
    assert corners(after) == corners(before)
    assert LineString(neck).distance(LineString([(-45.0, 404.5), (-65.0, 420.0)])) < 1e-6


def test_a_trued_base_is_the_folded_edge() -> None:
    """Level waist, upright centre line: the cap of a dart of half angle a falls by half its intake times tan 2a.

    Worked by reflecting the waist in the sewn leg (cutting.md 25); the paper block's dart stands 1.7 degrees off
    upright towards the centre, so the piece is first made upright.
    """
    piece = upright()
    half = 100.0 * tan(radians(6.0))
    start = replace(garment(), pieces={"front": piece})
    after = Truing("t", "front", DartBase("front.waist_dart")).apply(start)
    base = after.garment.piece("front").edge("waist_dart").points
    assert base == pytest.approx(
        np.array([(90.0 - half, 80.0), (90.0, 80.0 - half * tan(radians(12.0))), (90.0 + half, 80.0)]), abs=1e-9
    )
    assert f"{half * half * tan(radians(12.0)) / 100:.2f} cm²" in after.notes[0].sentence
    assert cloth_area(after.garment.piece("front")) == pytest.approx(cloth_area(piece))


def upright() -> Piece:
    """The paper front with its waist 100 mm below the bust point and the waist dart's middle upright."""
    piece = garment().piece("front")
    half = 100.0 * tan(radians(6.0))
    legs = ((90.0 - half, 80.0), (90.0 + half, 80.0))
    now = {
        "centre_front": [(0.0, 330.0), (0.0, 80.0)],
        "waist.1": [(0.0, 80.0), legs[0]],
        "waist_dart": list(legs),
        "waist.2": [legs[1], (220.0, 80.0)],
        "side": [(220.0, 80.0), (230.0, 210.0)],
    }
    edges = tuple(replace(e, points=as_points(now[e.name])) if e.name in now else e for e in piece.edges)
    darts = (replace(piece.darts[0], legs=legs), piece.darts[1])
    return replace(piece, edges=edges, darts=darts)


def test_pressed_to_the_other_side_it_follows_the_other_edge() -> None:
    """The side's waist rising 10 degrees, the cap pressed there falls by tan(12 + 10 degrees), not by tan 12."""
    piece = upright()
    low = piece.edge("waist.2").points[0]
    high = (220.0, low[1] + (220.0 - low[0]) * tan(radians(10.0)))
    moved = {"waist.2": [low, high], "side": [high, (230.0, 210.0)]}
    edges = tuple(replace(e, points=as_points(moved[e.name])) if e.name in moved else e for e in piece.edges)
    start = replace(garment(), pieces={"front": replace(piece, edges=edges)})
    half = 100.0 * tan(radians(6.0))
    tips = {}
    for pressed in ("centre", "side"):
        base = Truing("t", "front", DartBase("front.waist_dart", pressed)).apply(start).garment.piece("front")
        tips[pressed] = float(base.edge("waist_dart").points[:, 1].min())
    assert tips["centre"] == pytest.approx(80.0 - half * tan(radians(12.0)), abs=1e-9)
    assert tips["side"] == pytest.approx(80.0 - half * tan(radians(12.0 - 10.0)), abs=1e-9)


def test_the_sewn_point_counts_when_it_is_set_back() -> None:
    """Set back 20 mm the sewn half angle is atan(half / 80): the cap falls by half times tan of twice that."""
    piece = upright()
    darts = (replace(piece.darts[0], point=(90.0, BUST_POINT[1] - 20.0)), piece.darts[1])
    start = replace(garment(), pieces={"front": replace(piece, darts=darts)})
    half = 100.0 * tan(radians(6.0))
    base = Truing("t", "front", DartBase("front.waist_dart")).apply(start).garment.piece("front").edge("waist_dart")
    assert base.points[:, 1].min() == pytest.approx(80.0 - half * tan(2 * atan2(half, 80.0)), abs=1e-9)


@pytest.mark.parametrize(
    ("piece", "way", "words"),
    [
        ("front", Straighten(("centre_front",)), "fold"),
        ("front", Straighten(("waist_dart",)), "dart base"),
        ("back", Straighten(()), "Name the edge"),
        ("back", Straighten(("elbow",)), "has no edge"),
        ("back", Straighten(("neck", "side")), "does not follow"),
        ("back", SmoothEdge("neck", 0.6, 0.2), "rising shares"),
        ("back", SmoothEdge("neck", points=9), "0 to 5 points"),
        ("back", SmoothJoint(("neck", "shoulder"), 90.0), "smooth it over less"),
        ("back", SmoothJoint(("neck", "shoulder"), 0.0), "more than 0"),
        ("back", SquareCorner("neck", "side"), "share no corner"),
        ("back", SquareCorner("neck", "centre_back", 20.0), "5 to 10 mm"),
        ("back", SquareCorner("neck", "centre_back", 8.0, 4.0), "too short"),
        ("back", SquareCorner("neck", "shoulder"), "degrees off square"),
        ("front", DartBase("front.hip_dart"), "no open"),
    ],
)
def test_what_cannot_be_trued_is_refused(piece: str, way: Way, words: str) -> None:
    """Each refusal names piece or edge and the way out."""
    with pytest.raises(Refusal, match=words):
        trued(way, piece)


def test_a_line_that_is_true_is_left_alone() -> None:
    """The very same piece, and nothing to say."""
    start = garment()
    outcome = Truing("t", "back", Straighten(("side",))).apply(start)
    assert outcome.garment.piece("back") is start.piece("back")
    assert outcome.notes == ()

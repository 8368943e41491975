"""Move edge: parallel to itself; the edges beside it run on or are cut off along themselves."""

from __future__ import annotations

from math import hypot

import numpy as np
import pytest
from msgspec.structs import replace
from shapely.geometry import LineString
from shapely.geometry import Point as PlanePoint

from core.errors import Refusal
from core.geometry.polyline import as_points
from core.pieces.outline import cloth_area
from core.pieces.places import Place, resolved_point
from core.pieces.records import Garment, Line, Piece
from core.pieces.seams import match
from core.steps.move_edge import MoveEdge
from core.steps.unfold import Unfold
from tests.paper_block import garment


def moved(edge: str, amount: float, start: Garment | None = None) -> Piece:
    """The paper back with an edge moved."""
    return MoveEdge("m", "back", edge, amount).apply(start or garment()).garment.piece("back")


@pytest.mark.parametrize("amount", [21.0, -21.0])
def test_the_neighbours_run_on_or_are_cut_off_along_themselves(amount: float) -> None:
    """The side falls 210 mm over 10: 21 mm below the waist its end lies 1 mm farther in, above it 1 mm farther out."""
    after = moved("waist", amount)
    low = -amount
    assert after.edge("waist").points == pytest.approx(np.array([[-220 + amount / 21, low], [0.0, low]]))
    assert after.edge("side").points == pytest.approx(np.array([[-230.0, 210.0], [-220 + amount / 21, low]]))
    assert after.edge("centre_back").points == pytest.approx(np.array([[0.0, low], [0.0, 400.0]]))


def test_paper_and_seams_are_said() -> None:
    """A trapeze of 220 and 219 by 21 mm, 46.1 cm²; the side seam is hypot(1, 21) longer on side b."""
    outcome = MoveEdge("m", "back", "waist", 21.0).apply(garment())
    assert "back: 46.1" in outcome.notes[0].sentence
    assert "taken off: 0.00 cm²" in outcome.notes[0].sentence
    before, after = garment(), outcome.garment
    change = match(after, after.seam("side")).difference - match(before, before.seam("side")).difference
    assert change == pytest.approx(-hypot(1.0, 21.0))
    assert any(f"the seam side by {-hypot(1.0, 21.0):+.2f}" in note.sentence for note in outcome.notes)
    assert cloth_area(after.piece("back")) - cloth_area(before.piece("back")) == pytest.approx(219.5 * 21)


@pytest.mark.parametrize("amount", [50.0, -50.0])
def test_places_on_the_neighbours_stay_where_they_were(amount: float) -> None:
    """60 mm from the armhole along the side is the same point, however long the side is now."""
    place = Place("back.side", "armhole", distance=60.0)
    start = garment()
    after = MoveEdge("m", "back", "waist", amount).apply(start).garment
    points = [resolved_point(g, g.piece("back"), place) for g in (start, after)]
    assert points[1] == pytest.approx(points[0], abs=1e-9)


@pytest.mark.parametrize("amount", [5.0, -5.0])
def test_an_edge_with_a_corner_stays_parallel(amount: float) -> None:
    """Every part of the neck lies 5 mm from the line it lay on; at the centre that is more, along x = 0."""
    after = moved("neck", amount).edge("neck").points
    old = [LineString([(60.0, 394.0), (-200.0, 420.0)]), LineString([(-10.0, 365.0), (-165.0, 520.0)])]
    for line, (start, stop) in zip(old, ((0, 1), (1, 2)), strict=True):
        for place in (after[start], after[stop]):
            assert line.distance(PlanePoint(place)) == pytest.approx(5.0, abs=1e-9)
    assert after[0].tolist() == pytest.approx([0.0, 400.0 + amount * hypot(50.0, 5.0) / 50.0])


def test_a_curve_moves_to_the_curve_of_another_radius() -> None:
    """A round neck of 60 mm radius about (0, 460) moved out by 5 is one of 55 mm, up to where it is run on."""
    turn = np.linspace(-np.pi / 2, -np.pi / 2 - 1.0, 200)
    arc = as_points(np.column_stack((60.0 * np.cos(turn), 460.0 + 60.0 * np.sin(turn))))
    start = garment()
    back = start.piece("back")
    tip = arc[-1]
    shoulder = as_points([tip, back.edge("shoulder").points[-1]])
    now = {"neck": arc, "shoulder": shoulder}
    edges = tuple(replace(e, points=now.get(e.name, e.points)) for e in back.edges)
    round_neck = replace(start, pieces={**start.pieces, "back": replace(back, edges=edges)})
    for amount in (5.0, -5.0):
        neck = moved("neck", amount, round_neck).edge("neck").points
        radii = np.hypot(neck[:-1, 0], neck[:-1, 1] - 460.0)
        assert radii == pytest.approx(np.full(len(radii), 60.0 - amount), abs=0.02)


def test_marks_at_its_corners_go_with_it() -> None:
    """The nape lies at the new end of the neck; the underarm stays."""
    after = moved("neck", 5.0)
    assert after.landmarks["nape"] == pytest.approx((0.0, 400.0 + 5.0 * hypot(50.0, 5.0) / 50.0))
    assert after.landmarks["underarm"] == (-230.0, 210.0)


@pytest.mark.parametrize("amount", [15.0, -15.0])
def test_a_line_that_ended_on_it_ends_on_it_again(amount: float) -> None:
    """Run on straight, or cut off."""
    start = garment()
    back = start.piece("back")
    line = Line("back.panel", "panel", (as_points([(-100.0, 0.0), (-100.0, 300.0), (-168.0, 314.5)]),))
    drawn = replace(start, pieces={**start.pieces, "back": replace(back, lines=(line,))})
    after = moved("waist", amount, drawn)
    assert after.line("back.panel").path[0].tolist() == pytest.approx([-100.0, -amount])
    assert after.line("back.panel").path[-1].tolist() == [-168.0, 314.5]


def test_nothing_moved_is_the_very_same_piece() -> None:
    """An amount of nothing changes nothing."""
    start = garment()
    outcome = MoveEdge("m", "back", "waist", 0.0).apply(start)
    assert outcome.garment.piece("back") is start.piece("back")
    assert outcome.notes == ()


def test_moved_out_and_in_again_it_is_as_it_was() -> None:
    """Straight edges come back to their corners."""
    start = garment()
    out = MoveEdge("m", "back", "waist", 30.0).apply(start).garment
    after = MoveEdge("n", "back", "waist", -30.0).apply(out).garment.piece("back")
    assert after.loop == pytest.approx(start.piece("back").loop, abs=1e-9)


def test_on_the_right_half_only_the_right_moves() -> None:
    """Unfolded, the right armhole is cut deeper and the left one stays."""
    start = Unfold("u", "front").apply(garment()).garment
    after = MoveEdge("m", "front", "right.armhole", -6.0).apply(start).garment.piece("front")
    assert after.edge("armhole").points.tolist() == start.piece("front").edge("armhole").points.tolist()
    assert after.edge("right.armhole").points[:, 0].min() > -230.0


@pytest.mark.parametrize(
    ("piece", "edge", "amount", "words"),
    [
        ("front", "centre_front", 5.0, "unfold the piece first"),
        ("front", "waist_dart", 5.0, "pivot or cut the dart first"),
        ("front", "waist.1", 5.0, "ends at an open dart"),
        ("front", "side", -140.0, "move it less"),
        ("back", "shoulder", -430.0, "move it less"),
        ("back", "waist", 900.0, "up to 600 mm"),
        ("back", "elbow", 5.0, "has no edge"),
    ],
)
def test_what_cannot_be_moved_is_refused(piece: str, edge: str, amount: float, words: str) -> None:
    """Each refusal names piece and edge and the way out."""
    with pytest.raises(Refusal, match=words):
        MoveEdge("m", piece, edge, amount).apply(garment())

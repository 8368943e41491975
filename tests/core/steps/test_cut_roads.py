"""Every way in which a line can run through a piece: it is cut, or refused by name (cutting.md 1 to 10)."""

from __future__ import annotations

from math import cos, degrees, hypot, radians, sin

import pytest

from core.errors import Refusal
from core.finishing.notches import FROM_BUST_POINT
from core.geometry.polyline import nearest
from core.pieces.outline import cloth_area
from core.pieces.places import place_at
from core.pieces.records import Garment
from core.pieces.seams import match
from core.steps.cut import Cut
from core.steps.cut_tags import proposed_darts, proposed_tags
from core.steps.mapping import landmarks_of
from core.steps.pivot import Pivot
from core.steps.step import LinePoint
from core.steps.style_line import StyleLine
from tests.paper_block import BUST_POINT, front, garment

MARKS = landmarks_of(front())
AT_BUST = LinePoint(*BUST_POINT, landmark="bust_point")
BASE = front().dart("front.waist_dart").legs


def line(name: str, *points: tuple[float, float] | LinePoint, folded: tuple[str, ...] = ()) -> StyleLine:
    """A panel line through points of the front."""
    placed = tuple(point if isinstance(point, LinePoint) else LinePoint(*point) for point in points)
    return StyleLine(name, "front", f"front.{name}", placed, MARKS, "panel", folded=folded)


ACROSS = line("across", (0.0, 260.0), (181.0, 265.0), folded=("front.shoulder_dart",))
"""From the centre to the armhole above the bust point, over the folded shoulder dart."""


def drawn(*lines: StyleLine, on: Garment | None = None) -> Garment:
    """The garment with lines drawn."""
    now = on or garment()
    for step in lines:
        now = step.apply(now).garment
    return now


def cut(
    *lines: StyleLine,
    darts: tuple[str, ...] | None = None,
    keep_open: tuple[str, ...] = (),
    apart: tuple[str, ...] = (),
) -> Garment:
    """The garment cut along lines, named and numbered as it is proposed; cloth areas add up and the cuts match."""
    start = drawn(*lines)
    piece, names = start.piece("front"), tuple(step.name for step in lines)
    taken = proposed_darts(piece, names) if darts is None else darts
    tags = proposed_tags(start, piece, names, taken, apart=apart)
    outcome = Cut("cut", "front", names, tags, MARKS, taken, keep_open, apart).apply(start)
    after = outcome.garment
    panels = [after.piece(name) for name in outcome.names["front"]]
    assert sum(cloth_area(panel) for panel in panels) == pytest.approx(cloth_area(front()), abs=1e-6)
    for name in names:
        assert match(after, after.seam(name)).difference == pytest.approx(0.0, abs=0.01)
    return after


def open_darts(after: Garment) -> dict[str, list[str]]:
    """The open darts of every panel of the front."""
    return {p.name: [dart.name for dart in p.darts] for p in after.pieces.values() if p.block == "front"}


def test_a_corner_is_cut_off() -> None:
    """From the side to the waist: a small side panel, both darts stay in the rest."""
    after = cut(line("corner", (225.0, 105.0), (180.0, 0.0)))
    assert open_darts(after) == {"side front": [], "centre front": ["front.waist_dart", "front.shoulder_dart"]}
    assert {edge.name for edge in after.piece("side front").edges} == {"corner", "waist", "side"}


def test_a_line_that_meets_another_is_cut_after_it() -> None:
    """A line from the waist up to the first line: three panels, two seams."""
    after = cut(ACROSS, line("down", (60.0, 262.0), (60.0, 0.0)))
    assert len(open_darts(after)) == 3


def test_a_line_that_ends_at_a_pivot_takes_the_legs_into_the_seam() -> None:
    """From armhole, neck or centre front to the bust point: no dart is left, the seam goes on to the waist."""
    for start in ((181.0, 270.0), (50.0, 350.0), (0.0, 180.0)):
        after = cut(line("princess", start, AT_BUST), darts=("front.waist_dart",))
        assert all(not darts for darts in open_darts(after).values())
        seam = match(after, after.seam("front.princess"))
        assert [link.edge.origin.edge for link in seam.a] == ["front.princess", "front.waist_dart"]


@pytest.mark.parametrize(
    ("end", "side", "without"),
    [
        ((50.0, 0.0), (0.0, 230.0), "lower centre front"),
        (BASE[0], (0.0, 230.0), "lower centre front"),
        (BASE[1], (228.0, 150.0), "side front"),
        ((150.0, 0.0), (228.0, 150.0), "side front"),
    ],
)
def test_at_the_waist_a_line_ends_beside_the_dart_or_at_a_leg(
    end: tuple[float, float], side: tuple[float, float], without: str
) -> None:
    """On the centre side, on the side's side, or at a leg: the panel that it cuts off has no dart (cutting.md 8)."""
    after = cut(line("low", side, ((side[0] + end[0]) / 2, 100.0), end))
    darts = open_darts(after)
    assert darts.pop(without) == []
    assert sorted(*darts.values()) == ["front.shoulder_dart", "front.waist_dart"]


@pytest.mark.parametrize(("x", "leg"), [(80.0, BASE[0]), (110.0, BASE[1])])
def test_in_the_dart_base_an_end_is_laid_on_the_nearer_leg(x: float, leg: tuple[float, float]) -> None:
    """Between the legs there is no cloth to be sewn to (cutting.md 8)."""
    share = (x - BASE[0][0]) / (BASE[1][0] - BASE[0][0])
    inside = (x, BASE[0][1] + share * (BASE[1][1] - BASE[0][1]))
    begun = ((0.0, 230.0), (40.0, 120.0)) if x < 95.0 else ((228.0, 150.0), (160.0, 100.0))
    shown = drawn(line("low", *begun, inside)).piece("front").line("front.low")
    assert tuple(shown.stretches[-1][-1]) == pytest.approx(leg)


def test_a_line_across_an_open_dart_leaves_a_shorter_dart_by_its_pivot() -> None:
    """The part with the bust point keeps 15 degrees, the part above is closed (design.md 5)."""
    after = cut(ACROSS)
    kept = next(dart for p in after.pieces.values() for dart in p.darts if dart.name == "front.shoulder_dart")
    assert degrees(kept.angle) == pytest.approx(15.0, abs=1e-9)
    assert kept.leg_length < front().dart("front.shoulder_dart").leg_length
    assert sum("front.shoulder_dart" in darts for darts in open_darts(after).values()) == 1


def test_the_end_of_a_crossed_dart_is_left_as_two_panels_on_request() -> None:
    """Above the line a centre and a side panel with a seam along the legs (design.md 5); the dart below is kept.

    The legs of the paper block's shoulder dart are straight to the bust point, so that the seam is what the line left.
    """
    after = cut(ACROSS, apart=("front.shoulder_dart",))
    assert sorted(map(len, open_darts(after).values())) == [0, 0, 2]
    kept = next(dart for p in after.pieces.values() for dart in p.darts if dart.name == "front.shoulder_dart")
    found = match(after, after.seam("front.shoulder_dart_end"))
    assert found.difference == pytest.approx(0.0, abs=0.01)
    whole = front().dart("front.shoulder_dart").leg_length
    assert found.length_a == pytest.approx(whole - kept.leg_length, abs=0.01)
    assert after.origins["front.shoulder_dart_end"].length == pytest.approx(found.length_a)
    assert set(found.seam.ends) == {"across", "shoulder"}


def test_a_dart_that_no_line_crosses_cannot_stay_apart() -> None:
    """There is no end of it without its pivot."""
    with pytest.raises(Refusal, match="No line of the cut crosses the waist dart of piece front"):
        cut(ACROSS, apart=("front.waist_dart",))


def round_bust(place: tuple[float, float], angle: float) -> tuple[float, float]:
    """A place turned about the bust point (degrees), as it lies once darts before it are folded."""
    (x, y), (c, s) = BUST_POINT, (cos(radians(angle)), sin(radians(angle)))
    dx, dy = place[0] - x, place[1] - y
    return (x + c * dx - s * dy, y + s * dx + c * dy)


def test_both_darts_are_crossed_at_equal_leg_distances() -> None:
    """From the centre over the shoulder dart, round outside the bust point, back over the waist dart (cutting.md 8).

    The panel with the bust point keeps both darts, shorter; the other is closed along both.
    """
    beyond = [round_bust(place, 15.0) for place in ((170.0, 180.0), (120.0, 100.0))]
    home = round_bust((0.0, 80.0), 15.0 + 12.0)
    both = ("front.shoulder_dart", "front.waist_dart")
    after = cut(line("round", (0.0, 260.0), (100.0, 255.0), *beyond, home, folded=both))
    (held,) = (p for p in after.pieces.values() if p.darts)
    assert {dart.name: round(degrees(dart.angle), 6) for dart in held.darts} == dict(
        zip(both, (15.0, 12.0), strict=True)
    )
    for dart in held.darts:
        a, b = (hypot(leg[0] - dart.pivot[0], leg[1] - dart.pivot[1]) for leg in dart.legs)
        assert a == pytest.approx(b, abs=0.01)
    assert held.edge("centre_front").length == pytest.approx(180.0, abs=0.01)


def test_a_line_over_both_darts_cannot_run_on_to_the_centre_that_lies_still() -> None:
    """Beside the centre is a gap while both are folded: the sentence says so, and not that an edge was missed."""
    beyond = [round_bust(place, 15.0) for place in ((170.0, 180.0), (120.0, 100.0))]
    both = ("front.shoulder_dart", "front.waist_dart")
    with pytest.raises(Refusal, match="runs over the gap that is open only while the shoulder dart and the waist dart"):
        drawn(line("round", (0.0, 260.0), (100.0, 255.0), *beyond, (0.0, 60.0), folded=both))


@pytest.mark.parametrize("down_first", [False, True])
def test_one_line_across_another_makes_four_panels(down_first: bool) -> None:
    """In one step, in either order; each line is one seam through the crossing."""
    lines = (ACROSS, line("down", (25.0, 340.0), (25.0, 0.0)))
    after = cut(*(lines[::-1] if down_first else lines))
    assert set(open_darts(after)) == {
        "upper centre front", "lower centre front", "upper side front", "lower side front",
    }  # fmt: skip
    found = match(after, after.seam("front.down"))
    assert [len(found.a), len(found.b)] == [2, 2]


def test_a_line_from_the_centre_and_back_to_it_cuts_a_piece_out_of_the_edge() -> None:
    """It turns 2 mm above the waist, inside the cloth: one panel, and the rest with both darts."""
    after = cut(line("notch", (0.0, 100.0), LinePoint(40.0, 2.0, corner=True), (0.0, 60.0)))
    assert sorted(map(len, open_darts(after).values())) == [0, 2]


def test_a_princess_line_from_the_sheer_line_through_the_bust_point() -> None:
    """The waist dart goes into its seam; the shoulder dart, whose point then lies on a cut edge, is closed with it."""
    after = cut(ACROSS, line("princess", (70.0, 261.0), AT_BUST), darts=("front.waist_dart",))
    assert list(open_darts(after).values()).count([]) == len(open_darts(after))


def test_a_princess_line_from_the_sheer_line_beside_the_bust_point_names_the_residual() -> None:
    """20 mm on the centre's side: 2 e sin(6 degrees) of the waist dart, 4.2 mm, is eased between notches."""
    start = drawn(ACROSS)
    (x, y), leg = BUST_POINT, BASE[0]
    step = line("princess", (x - 20.0, 261.0), (x - 20.0, y), ((x + leg[0]) / 2 - 20.0, y / 2), (leg[0] - 20.0, 0.0))
    (told,) = [n.sentence for n in step.apply(start).notes if n.kind == "residual" and "waist dart" in n.sentence]
    left = float(told.split("that seam, ")[1].split(" mm")[0])
    assert left == pytest.approx(2 * 20.0 * sin(radians(6.0)), abs=0.15)
    assert "ease between notches" in told
    after = cut(ACROSS, step)
    assert len(open_darts(after)) == 3


def test_an_island_is_refused() -> None:
    """A closed loop inside the piece: the sentence names line, piece and both ways out."""
    with pytest.raises(Refusal, match="island out; draw it from one edge to another, or as a marking"):
        drawn(line("loop", (20.0, 100.0), (60.0, 100.0), (60.0, 140.0), (20.0, 140.0), (20.0, 100.0)))


def test_a_line_that_hangs_inside_is_refused() -> None:
    """Both ends in the cloth cut nothing off."""
    with pytest.raises(Refusal, match=r"misses piece front.*draw it to an edge"):
        drawn(line("short", (20.0, 100.0), (60.0, 100.0)))


def test_a_line_that_leaves_the_piece_and_comes_back_is_refused() -> None:
    """Out over the armhole's hollow and in again: it would cut the piece in two stretches."""
    with pytest.raises(Refusal, match=r"leaves piece front between its ends.*each of its stretches as a line"):
        drawn(line("twice", (228.0, 150.0), (170.0, 230.0), (200.0, 280.0), (186.0, 330.0)))


def test_a_line_that_touches_an_edge_on_its_way_is_refused() -> None:
    """From centre to waist and back to the centre: two stretches, each of which would cut a corner off."""
    foot = BASE[0][1] * 40.0 / BASE[0][0]
    with pytest.raises(Refusal, match=r"touches the outline of piece front.*each of its stretches as a line"):
        drawn(line("twice", (0.0, 100.0), LinePoint(40.0, foot, corner=True), (0.0, 60.0)))


def test_two_stretches_drawn_as_two_lines_each_cut() -> None:
    """A corner at the centre and one at the side in one step: three panels."""
    after = cut(line("one", (0.0, 100.0), (40.0, 0.0)), line("two", (150.0, 0.0), (225.0, 105.0)))
    assert sorted(map(len, open_darts(after).values())) == [0, 0, 2]


def test_a_line_across_a_dart_that_is_not_folded_is_refused() -> None:
    """The legs are met at unequal distances: the seam would show a step (cutting.md 1)."""
    with pytest.raises(Refusal, match="draw it with the dart folded"):
        drawn(line("low", (0.0, 60.0), (222.0, 60.0)))


def test_a_line_close_past_the_pivot_is_refused() -> None:
    """2 mm beside the bust point is too near for a dart that could be sewn: a point is snapped to it (cutting.md 2)."""
    with pytest.raises(Refusal, match="snap a point of it to the pivot"):
        drawn(line("near", (181.0, 270.0), (92.0, 181.0), (60.0, 0.0)))


def test_a_princess_line_ends_within_three_millimetres_of_the_pivot() -> None:
    """Such an end is the pivot: no residual is left (cutting.md 10)."""
    shown = drawn(line("near", (181.0, 270.0), (92.0, 181.0))).piece("front").line("front.near")
    assert tuple(shown.stretches[-1][-1]) == BUST_POINT


def test_after_a_pivot_the_shoulder_princess_is_cut_through_the_bust_point() -> None:
    """The shoulder dart pivoted into the waist, a line from the shoulder down: two panels without darts."""
    turned = Pivot("p", "front", "front.shoulder_dart", into="front.waist_dart").apply(garment()).garment
    piece = turned.piece("front")
    shoulder = piece.edge("shoulder.2").points
    middle = tuple(((shoulder[0] + shoulder[-1]) / 2).tolist())
    step = StyleLine("l", "front", "front.princess", (LinePoint(*middle), AT_BUST), landmarks_of(piece), "panel")
    start = step.apply(turned).garment
    tags = proposed_tags(start, start.piece("front"), ("front.princess",), ("front.waist_dart",))
    after = Cut("c", "front", ("front.princess",), tags, {}, darts=("front.waist_dart",)).apply(start).garment
    assert open_darts(after) == {"centre front": [], "side front": []}


def beside(east: float) -> StyleLine:
    """A princess line from the armhole to the waist, so far (mm) from the bust point and from the outer leg."""
    bust_x, bust_y = BUST_POINT
    leg_x = (bust_x + BASE[1][0]) / 2
    waist = (BASE[1][0] + east, 0.0)
    return line("princess", (181.0, 270.0), (bust_x + east, bust_y), (leg_x + east, bust_y / 2), waist)


@pytest.mark.parametrize(("east", "words"), [(8.0, "ignored"), (20.0, "ease between notches")])
def test_a_princess_line_beside_the_bust_point_tells_what_the_dart_leaves(east: float, words: str) -> None:
    """2 e sin(6 degrees) for a dart of 12: 1.7 mm at 8 mm are ignored, 4.2 mm at 20 are eased (cutting.md 10)."""
    notes = beside(east).apply(garment()).notes
    told = next(note.sentence for note in notes if note.kind == "residual" and "waist dart" in note.sentence)
    assert words in told


def test_the_dart_is_pivoted_into_the_seam_beside_it_as_ease() -> None:
    """The panel that holds the bust point loses its waist dart; 2 e sin(6 degrees) of ease is left (cutting.md 10).

    Half a millimetre is allowed for the edge's being drawn fair anew between the notches.
    """
    after = cut(beside(20.0))
    centre = after.piece("centre front")
    edge = next(e for e in centre.edges if e.origin.edge == "front.princess")
    on, off = nearest(edge.points, BUST_POINT)
    place = place_at(after, edge, on)
    step = Pivot("p", "centre front", "front.waist_dart", place=place, becomes="ease", reach=FROM_BUST_POINT)
    now = step.apply(after).garment
    assert "front.waist_dart" not in [dart.name for dart in now.piece("centre front").darts]
    (held,) = now.piece("centre front").eased
    assert held.amount == pytest.approx(2 * off * sin(radians(12.0) / 2), abs=0.5)
    assert match(now, now.seam("front.princess")).difference == pytest.approx(0.0, abs=0.01)


def test_a_line_that_dips_into_an_open_dart_is_refused() -> None:
    """In over one leg and out over the same one: there is no cloth in between, and the other leg is not met."""
    with pytest.raises(Refusal, match="dips into the open waist dart"):
        drawn(line("dip", (222.0, 60.0), (105.0, 30.0), (150.0, 0.0)))

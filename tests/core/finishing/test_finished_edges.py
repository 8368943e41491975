"""What a design says about edges: overrides, stretches, closures, darts pressed the other way, turned pieces."""

from __future__ import annotations

import msgspec
import numpy as np
import pytest
from shapely.geometry import LineString
from shapely.geometry import Point as PlanePoint

from core.design.design import Design
from core.design.finishes import Doubled, EdgeFinish, Finishing, PressedDart
from core.design.replay import replay
from core.errors import Refusal
from core.finishing.allowances import beside, pressed
from core.finishing.caps import cap_of
from core.finishing.finish import Finished, finish
from core.finishing.turning import gap_places, turned, turning_words
from core.geometry.polyline import between, point_at
from core.pieces.places import Place
from core.steps.step import LinePoint
from core.steps.style_line import StyleLine
from core.steps.unfold import Unfold
from tests.paper_block import front
from tests.samples import design, replayed


def finished(made: Design, name: str, sample: str = "concert") -> Finished:
    """One piece of a sample's garment, finished by another design's wishes."""
    return next(piece for piece in finish(made, replayed(sample).garment) if piece.name == name)


def with_edges(*finishes: EdgeFinish, sample: str = "concert", **more: object) -> Design:
    """A sample design with finishes."""
    return msgspec.structs.replace(design(sample), finishing=Finishing(edges=finishes, **more))  # type: ignore[arg-type]


def clearance(piece: Finished, edge: str, start: float, stop: float) -> float:
    """The least distance in mm of the cutting line from a stretch of an edge."""
    return LineString(piece.cutting_line).distance(LineString(between(piece.piece.edge(edge).points, start, stop)))


def test_an_edge_can_have_an_allowance_of_its_own() -> None:
    """25.4 mm at the side of one panel; its mate keeps the fabric's."""
    made = with_edges(EdgeFinish("side front", "front.side", allowance=25.4))
    panel = finished(made, "side front")
    assert panel.allowances["side"] == 25.4
    assert clearance(panel, "side", 30.0, 150.0) == pytest.approx(25.4, abs=0.05)
    assert finished(made, "side back").allowances["side"] == 12.7


def test_none_is_an_allowance_too() -> None:
    """The neck of the yoke's back mate cut on its line: the cutting line is the stitching line there."""
    panel = finished(with_edges(EdgeFinish("centre back", "back.neck", allowance=0.0)), "centre back")
    assert clearance(panel, "neck", 5.0, 40.0) == pytest.approx(0.0, abs=1e-6)


def test_a_stretch_of_an_edge_can_have_another_allowance() -> None:
    """From 30 to 150 mm from the waist the side has 25.4 mm, before and after it 12.7, with square steps between."""
    low, high = (Place("front.side", "waist", distance=along) for along in (30.0, 150.0))
    made = with_edges(EdgeFinish("side front", "front.side", allowance=25.4, start=low, stop=high))
    panel = finished(made, "side front")
    assert panel.allowances["side"] == 12.7
    assert clearance(panel, "side", 60.0, 120.0) == pytest.approx(25.4, abs=0.05)
    assert clearance(panel, "side", 5.0, 16.0) == pytest.approx(12.7, abs=0.05)
    edge = panel.edges["side"]
    assert [edge.allowance_at(at) for at in (20.0, 60.0, 160.0)] == [12.7, 25.4, 12.7]
    assert [part.start for part in edge.stretches] == pytest.approx([0.0, 30.0, 150.0])


def test_a_finish_stays_where_it_was_put_when_a_line_moves() -> None:
    """The sheer line is raised: the panels change, and the stretch lies as far from the waist as before."""
    place = Place("front.side", "waist", distance=40.0), Place("front.side", "waist", distance=90.0)
    finish_ = EdgeFinish("side front", "front.side", allowance=25.4, start=place[0], stop=place[1])
    made = with_edges(finish_)
    line = next(step for step in made.steps if isinstance(step, StyleLine) and step.id == "sheer-line-1")
    points = tuple(
        LinePoint(p.x, p.y + 6.0, p.corner, p.landmark, p.place) if index == 1 else p
        for index, p in enumerate(line.points)
    )
    moved = made.with_step(msgspec.structs.replace(line, points=points))
    panel = next(p for p in finish(moved, replay(moved).garment) if p.name == "side front")
    assert panel.edges["side"].allowance_at(60.0) == 25.4
    assert panel.edges["side"].allowance_at(30.0) == 12.7


@pytest.mark.parametrize(
    ("use", "wanted"),
    [("zip", 19.05), ("facing", 6.35), ("binding", 6.35), ("lapped raw", 0.0), ("buttons", 20.0 + 12.7)],
)
def test_closures_and_edge_finishes_want_allowances_of_their_own(use: str, wanted: float) -> None:
    """A bridal dressmaker's widths, 3/4 in at the zip and 1/4 at necks and bindings (trade.md D1); net laps raw.

    Buttons want their stand, 20 mm (common practice), and the seam's allowance beyond it.
    """
    said = msgspec.convert({"piece": "centre back", "edge": "back.centre_back", "use": use}, EdgeFinish)
    assert finished(with_edges(said), "centre back").allowances["centre_back"] == pytest.approx(wanted)


def test_a_hem_is_turned_back_on_the_piece() -> None:
    """30 mm of hem at the waist: the turn-back, folded up over the waist line, ends at the side's cutting line."""
    panel = finished(with_edges(EdgeFinish("side front", "front.waist", use="hem", allowance=30.0)), "side front")
    waist, side = panel.piece.edge("waist"), panel.piece.edge("side")
    corner = waist.points[-1]
    assert (corner == side.points[0]).all()
    across = (waist.points[-1] - waist.points[-2]) / ((waist.points[-1] - waist.points[-2]) ** 2).sum() ** 0.5
    line = LineString(panel.cutting_line)
    outside = [p for p in panel.cutting_line if (p - corner) @ across > 1.0 and -29.9 < _beyond(p, corner, across) < -1]
    for place in outside:
        over = _beyond(place, corner, across)
        folded = place - 2 * over * np.array((-across[1], across[0]))
        assert line.distance(PlanePoint(folded)) < 0.3


def _beyond(place: object, corner: object, across: object) -> float:
    """How far inside the line along `across` through a corner a place lies."""
    (dx, dy), (ax, ay) = place - corner, across  # type: ignore[operator, misc]
    return float(ax * dy - ay * dx)  # type: ignore[has-type]


def test_a_dart_is_capped_for_the_side_to_which_it_is_pressed() -> None:
    """The paper block's shoulder dart is 58 mm wide at its base; half of that is 29 mm.

    Towards the neck only 28 mm of shoulder are beside it, so it is cut open; towards the armhole 43, and it has a cap.
    """
    piece = front()
    dart = piece.dart("front.shoulder_dart")
    edges = [beside(piece, dart, towards)[0] for towards in ("centre", "side")]
    assert [edge.name for edge in edges] == ["shoulder.2", "shoulder.1"]
    assert edges[0].length < dart.width / 2 < edges[1].length
    assert [cap_of(piece, dart, 12.7, towards=to)[0] for to in ("centre", "side")] == ["cut open", "cap"]
    made = Finishing(darts=(PressedDart("front", "front.shoulder_dart", "side"),))
    assert pressed(msgspec.structs.replace(design("block"), finishing=made), piece, dart) == "side"


def test_squared_corners_are_those_of_seams_and_not_within_a_seam() -> None:
    """The side seam ends square at the waist; at the bust point, inside the princess seam, both lines are mitred."""
    made = msgspec.structs.replace(design("concert"), finishing=Finishing(corners="squared"))
    edges = finished(made, "side front").edges
    assert edges["side"].ends == ("squared", "squared")
    assert edges["armhole"].ends == ("mitred", "mitred")
    assert "mitred" in edges["waist_dart"].ends
    assert "squared" in edges["waist_dart"].ends


# --------------------------------------------------------------------------------------------------------------
# cut double and turned


def test_a_turned_yoke_is_cut_double_with_six_millimetres_and_a_gap() -> None:
    """6 mm trimmed to 3 (common practice), two layers, a gap of 60 mm in the middle of the shoulder, named."""
    garment = replayed("concert").garment
    doubled = turned(garment, "front yoke", unit="in")
    made = msgspec.structs.replace(design("concert"), finishing=Finishing(doubled=(doubled,)))
    yoke = finished(made, "front yoke")
    assert (doubled.allowance, doubled.trimmed, doubled.gap) == (6.0, 3.0, 60.0)
    assert yoke.layers == 2
    assert {yoke.allowances[edge.name] for edge in yoke.piece.edges if edge.kind != "fold"} == {6.0}
    gap = yoke.edges["shoulder"].gap
    assert gap is not None
    middle = yoke.piece.edge("shoulder").length / 2
    assert gap == pytest.approx((middle - 30.0, middle + 30.0))
    words = " ".join(turning_words(doubled, yoke.piece, "mm"))
    assert "turning gap of 60 mm in the shoulder" in words
    assert "from 6 mm to 3 mm" in words


def test_a_turned_piece_may_be_cut_without_allowance() -> None:
    """Then its cutting line is the stitched edge, which is what the seam is compared by anyway."""
    doubled = msgspec.structs.replace(turned(replayed("concert").garment, "front yoke", unit="in"), allowance=0.0)
    made = msgspec.structs.replace(design("concert"), finishing=Finishing(doubled=(doubled,)))
    yoke = finished(made, "front yoke")
    assert clearance(yoke, "shoulder", 5.0, 60.0) == pytest.approx(0.0, abs=1e-6)
    assert not any("Trim" in sentence for sentence in turning_words(doubled, yoke.piece, "in"))


def test_a_piece_without_a_shoulder_is_turned_elsewhere() -> None:
    """Refused with the edges that would do (cutting.md 26); through one of those it can be turned."""
    garment = replayed("concert").garment
    with pytest.raises(Refusal, match=r"centre front cannot be turned through the shoulder.*leave the gap in another"):
        turned(garment, "centre front", unit="in")
    other = gap_places(garment.piece("centre front"))[0]
    assert turned(garment, "centre front", through=other.name, unit="in").through == other.origin.edge


def test_a_gap_too_small_for_a_hand_is_refused() -> None:
    """Less than 60 mm, or longer than the edge it lies in (cutting.md 26)."""
    garment = replayed("concert").garment
    with pytest.raises(Refusal, match="too short for a hand; give 60 mm or more"):
        turned(garment, "front yoke", unit="mm", gap=40.0)
    with pytest.raises(Refusal, match=r"shorter than the gap of 30\.0 cm"):
        turned(garment, "front yoke", unit="cm", gap=300.0)
    with pytest.raises(msgspec.ValidationError):
        msgspec.convert({"piece": "a", "through": "b", "gap": 10.0}, Doubled)


def test_a_negative_allowance_is_refused() -> None:
    """By the document, and over 100 mm too: a slip of the pen."""
    for allowance in (-1.0, 101.0):
        with pytest.raises(msgspec.ValidationError):
            msgspec.convert({"piece": "a", "edge": "b", "allowance": allowance}, EdgeFinish)


def test_finishes_survive_the_document() -> None:
    """Encoded as JSON and decoded, they are the same records."""
    place = Place("front.side", "waist", distance=40.0)
    whole = Finishing(
        edges=(EdgeFinish("a", "front.side", "left", "zip", 3.0, place, place, ("squared", "")),),
        doubled=(Doubled("a", "front.shoulder"),),
        darts=(PressedDart("a", "front.waist_dart", "side"),),
        waist_stay=True,
        corners="squared",
    )
    assert msgspec.json.decode(msgspec.json.encode(whole), type=Finishing) == whole


def test_what_is_said_about_an_edge_that_is_gone_is_left_out() -> None:
    """A stage before the cut has no such piece, and is finished all the same."""
    made = with_edges(EdgeFinish("nowhere", "front.side", allowance=3.0))
    assert finished(made, "side front").allowances["side"] == 12.7
    assert point_at(finished(made, "side front").piece.edge("side").points, 0.0) is not None


def test_the_right_half_is_finished_as_the_left_until_something_else_is_said() -> None:
    """Unfolded, the right side front has the left one's inch at the side; its own word wins."""
    inch = EdgeFinish("side front", "front.side", allowance=25.4)
    made = with_edges(inch).with_step(Unfold("unfold-9", "centre front"))
    garment = replay(made).garment
    right = next(piece for piece in finish(made, garment) if piece.name == "right side front")
    assert right.edges["right.side"].allowance == 25.4
    own = EdgeFinish("right side front", "right.front.side", allowance=6.0)
    made = msgspec.structs.replace(made, finishing=made.finishing.with_edge(own))
    sides = {p.name: p.allowances for p in finish(made, garment) if p.name.endswith("side front")}
    assert sides["side front"]["side"] == 25.4
    assert sides["right side front"]["right.side"] == 6.0

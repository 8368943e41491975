"""What a new block consists of: edges, origins, seams, darts, landmarks and marks by their fixed names."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest

from core.blocks.draft import METHODS, draft, drafted
from core.blocks.ease import Ease
from core.body.body import complete, entered
from core.errors import Refusal
from core.geometry.planar import covers, distance_into
from core.geometry.polyline import as_points
from core.pieces.places import Place, resolved_point
from core.pieces.records import Garment
from core.pieces.seams import seams_of
from tests.core.blocks.drafted_bodies import CLIENT, client, extreme, samples

FRONT_LOOP = "centre_front waist.1 waist_dart waist.2 side armhole shoulder.1 shoulder_dart shoulder.2 neck"
BACK_LOOP = "centre_back neck shoulder.1 shoulder_dart shoulder.2 armhole side waist.1 waist_dart waist.2"
SHARED = {"side_neck", "shoulder_point", "underarm", "waist_centre", "waist_side"}
LEVELS = {"upper_bust_line", "bust_line", "under_bust_line"}


def block() -> Garment:
    """The client's block."""
    return client().garment


def test_edges_come_in_loop_order_under_their_fixed_names() -> None:
    """Counter-clockwise, an edge that a dart divides is numbered along the loop (design.md 2)."""
    assert [edge.name for edge in block().piece("front").edges] == FRONT_LOOP.split()
    assert [edge.name for edge in block().piece("back").edges] == BACK_LOOP.split()


def test_edge_kinds() -> None:
    """The centre front is a fold, neck and armhole are openings, what a dart opens is a dart base, the rest seams."""
    kinds = {edge.origin.edge: edge.kind for _, edge in block().edges()}
    assert kinds.pop("front.centre_front") == "fold"
    assert {kinds.pop(f"{piece}.{name}") for piece in ("front", "back") for name in ("neck", "armhole")} == {"opening"}
    bases = {name for name in kinds if name.endswith("_dart")}
    assert {kinds.pop(name) for name in bases} == {"dart base"}
    assert len(bases) == 4
    assert set(kinds.values()) == {"seam"}


def test_every_origin_is_held_once_from_end_to_end() -> None:
    """The edges of an origin cover it from 0 to its length, darts closed, without gap or overlap."""
    garment = block()
    for name, origin in garment.origins.items():
        held = sorted((edge.origin.start, edge.origin.stop) for _, edge in garment.edges() if edge.origin.edge == name)
        assert held[0][0] == 0.0
        assert held[-1][1] == pytest.approx(origin.length, abs=1e-9)
        for (_, stop), (start, _) in pairwise(held):
            assert stop == start
        total = sum(edge.length for _, edge in garment.edges() if edge.origin.edge == name)
        assert total == pytest.approx(origin.length, abs=1e-9)


@pytest.mark.parametrize("piece", ["front", "back"])
def test_ends_of_an_origin_are_called_after_what_lies_there(piece: str) -> None:
    """At the neck's end of the shoulder lies the side neck point, at the armhole's the shoulder point."""
    garment = block()
    for end, landmark in (("neck", "side_neck"), ("armhole", "shoulder_point")):
        place = resolved_point(garment, garment.piece(piece), Place(f"{piece}.shoulder", end, distance=0.0))
        assert place == pytest.approx(garment.piece(piece).landmarks[landmark], abs=1e-6)
    for end, landmark in (("armhole", "underarm"), ("waist", "waist_side")):
        place = resolved_point(garment, garment.piece(piece), Place(f"{piece}.side", end, distance=0.0))
        assert place == pytest.approx(garment.piece(piece).landmarks[landmark], abs=1e-6)


def test_every_seam_edge_is_sewn_once_or_open_on_purpose() -> None:
    """Each edge of kind seam lies in exactly one seam or among the open edges, with a reason."""
    garment = block()
    for _, edge in garment.edges():
        if edge.kind == "seam":
            sewn = len(seams_of(garment, edge))
            assert sewn + (edge.origin.edge in garment.open_edges) == 1, edge.name
    assert all(garment.open_edges.values())


def test_seams_run_from_their_first_end() -> None:
    """The side seam is listed from the waist up, the shoulder seam from the armhole in; the back has the ease."""
    side, shoulder = block().seam("side"), block().seam("shoulder")
    assert side.ends == ("waist", "armhole")
    assert side.ease == 0.0
    assert shoulder.ends == ("armhole", "neck")
    assert shoulder.ease == Ease().shoulder
    assert shoulder.a[0].edge == "back.shoulder"


def test_landmarks() -> None:
    """Both pieces carry the landmarks of design.md 2 that they have, the back its blade and its dart's pivot."""
    assert set(block().piece("front").landmarks) == SHARED | LEVELS | {"neck_pit", "bust_point"}
    assert set(block().piece("back").landmarks) == SHARED | LEVELS | {"nape", "shoulder_blade", "waist_dart_pivot"}


def test_landmarks_lie_on_the_cloth() -> None:
    """Every landmark lies inside its piece or on its outline."""
    for sample in samples():
        for piece in sample.garment.pieces.values():
            for name, place in piece.landmarks.items():
                assert distance_into(piece.loop, place) >= -1e-6, (sample.name, piece.name, name)


def test_marks_lie_on_the_cloth() -> None:
    """Level lines and bust circle lie inside the outline, and nowhere in an open dart."""
    for sample in samples():
        for piece in sample.garment.pieces.values():
            wedges = [as_points((dart.pivot, *dart.legs)) for dart in piece.darts]
            for line in piece.lines:
                for place in line.path:
                    inside_wedge = max(distance_into(wedge, place) for wedge in wedges)
                    assert distance_into(piece.loop, place) >= -0.05, (sample.name, line.name)
                    assert inside_wedge <= 1e-6, (sample.name, line.name)


def test_marks_are_levels() -> None:
    """Upper bust, bust and under-bust line are on both pieces, the bust circle on the front."""
    names = {line.name for piece in block().pieces.values() for line in piece.lines}
    assert names == {f"{piece}.{line}" for piece in ("front", "back") for line in LEVELS} | {"front.bust_circle"}
    assert {line.purpose for piece in block().pieces.values() for line in piece.lines} == {"level"}


def test_marks_lie_at_their_measured_distances() -> None:
    """On the shoulder dart's leg and the waist dart's the lines lie as far from the bust point as the levels say."""
    sample = client()
    pivot = np.array(sample.front.landmarks["bust_point"])
    upper = sample.front.line("front.upper_bust_line").stretches[0][-1]
    under = sample.front.line("front.under_bust_line").stretches[0][-1]
    assert np.hypot(*(upper - pivot)) == pytest.approx(10 * (CLIENT["neck_to_bust_point"] - 18.5), abs=0.01)
    assert np.hypot(*(under - pivot)) == pytest.approx(10 * (34.5 - CLIENT["neck_to_bust_point"]), abs=0.01)


def test_side_ends_of_the_levels_meet() -> None:
    """The under-bust lines of front and back end at one height on the side seam, and so do the bust lines."""
    for sample in samples():
        for line in ("bust_line", "under_bust_line"):
            front, back = (
                sample.garment.piece(piece).line(f"{piece}.{line}").stretches[-1][-1] for piece in ("front", "back")
            )
            assert front[1] == pytest.approx(back[1], abs=0.01)


def test_bust_circle_is_an_ellipse_on_the_cloth() -> None:
    """With levels 80 mm above and below the bust point, the circle's points lie 80 mm from it (a circle)."""
    sample = client()
    centre, side = sample.front.line("front.bust_circle").stretches
    pivot = np.array(sample.front.landmarks["bust_point"])
    assert np.hypot(*(side - pivot).T) == pytest.approx(np.full(len(side), 80.0), abs=0.01)
    assert np.hypot(*(centre - pivot).T).max() == pytest.approx(80.0, abs=0.01)


def test_the_circle_stops_short_of_the_fold() -> None:
    """On the narrowest span the circle keeps clear of the centre front."""
    sample = extreme("narrowest span")
    assert all(stretch[:, 0].min() > 0.0 for stretch in sample.front.line("front.bust_circle").stretches)


def test_blocks_are_kept_as_drafted() -> None:
    """The garment keeps the two drafted pieces, numbered 0, beside those that steps will change."""
    garment = block()
    assert garment.blocks == garment.pieces
    assert {(piece.name, piece.block, piece.number) for piece in garment.pieces.values()} == {
        ("front", "front", 0),
        ("back", "back", 0),
    }
    assert covers(garment.piece("front").loop, garment.piece("front").dart("front.waist_dart").point)


def test_drafting_twice_gives_the_same_numbers() -> None:
    """Equal measurements give equal points, bit for bit."""
    first, second = client().garment, client().garment
    for name, piece in first.pieces.items():
        assert piece.loop.tolist() == second.piece(name).loop.tolist()


def test_a_larger_woman_of_the_same_shape_gets_the_same_block_larger() -> None:
    """All lengths and eases 1.1 times: every landmark lies 1.1 times as far out, but for the square ends of 6 mm."""
    grown = {id_: value * (1.0 if id_.endswith("_deg") else 1.1) for id_, value in CLIENT.items()}
    ease = Ease(**{name: 1.1 * getattr(Ease(), name) for name in Ease.__struct_fields__})
    larger = draft(complete(entered("Larger", "cm", grown)), ease)
    for name, piece in block().pieces.items():
        for landmark, place in piece.landmarks.items():
            expected = (1.1 * place[0], 1.1 * place[1])
            assert larger.piece(name).landmarks[landmark] == pytest.approx(expected, abs=0.6), landmark


def test_an_unknown_method_is_refused_with_those_there_are() -> None:
    """The refusal lists the methods by name."""
    with pytest.raises(Refusal, match="choose one of: tape"):
        drafted(complete(entered("Client", "cm", CLIENT)), Ease(), "guess")
    assert METHODS["tape"].words

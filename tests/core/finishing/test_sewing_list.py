"""Closures, bindings, tapes, bones and stays on the list, with their lengths."""

from __future__ import annotations

from math import cos, pi, sin

import msgspec
import pytest
from msgspec.structs import replace

from core.design.finishes import Bone, EdgeFinish, Finishing
from core.design.replay import replay
from core.finishing.finish import Finished, finish
from core.finishing.sewing_list import SewingLine, sewing_list
from core.finishing.stay_tape import off_grain, stay_tapes
from core.finishing.turning import turned
from core.geometry.polyline import as_points
from core.pieces.records import Edge, EdgeKind, Origin
from core.steps.unfold import Unfold
from tests.samples import design, replayed


def lines(finishing: Finishing) -> tuple[SewingLine, ...]:
    """The concert bodice's list with a finishing."""
    made = msgspec.structs.replace(design("concert"), finishing=finishing)
    return sewing_list(finish(made, replayed("concert").garment), made)


def length_of(piece: str, edge: str) -> float:
    """An edge's length in the concert bodice."""
    return replayed("concert").garment.piece(piece).edge(edge).length


def test_a_zip_is_listed_with_its_opening() -> None:
    """As long as the edge, once; an invisible one is bought 25 mm longer (a maker's brochure, at second hand)."""
    found = lines(Finishing(edges=(_use("centre back", "back.centre_back", "zip"),)))
    zips = [line for line in found if line.kind == "closure"]
    assert len(zips) == 1
    assert (zips[0].piece, zips[0].edge, zips[0].count) == ("centre back", "centre_back", 1)
    assert zips[0].length == pytest.approx(length_of("centre back", "centre_back"))
    assert "Zip at the centre back of 4 centre back" in zips[0].words


def test_one_zip_closes_both_halves() -> None:
    """Once left and right backs are two pieces, the zip between them is still one; one on the right alone is listed."""
    made = design("concert").with_step(Unfold("unfold-1", "centre front"))
    garment = replay(made).garment
    for edges, on in (
        ((_use("centre back", "back.centre_back", "zip"),), "centre back"),
        ((_use("right centre back", "right.back.centre_back", "zip"),), "right centre back"),
    ):
        zipped = msgspec.structs.replace(made, finishing=Finishing(edges=edges))
        found = sewing_list(finish(zipped, garment), zipped)
        assert [line.piece for line in found if line.kind == "closure"] == [on]


def test_a_bound_edge_on_the_fold_takes_binding_for_both_halves() -> None:
    """Twice the half's neck and 40 mm to turn in (common practice)."""
    found = lines(Finishing(edges=(_use("front yoke", "front.neck", "binding"),)))
    binding = next(line for line in found if line.kind == "edge")
    assert binding.length == pytest.approx(2 * length_of("front yoke", "neck") + 40.0)


def test_a_bone_ends_short_of_the_edges() -> None:
    """10 mm before both ends, two for a pair; nearer than 6 mm to an edge at the skin is refused (trade.md I)."""
    bone = next(line for line in lines(Finishing(bones=(Bone("side front", "front.side"),))) if line.kind == "bone")
    assert bone.length == pytest.approx(length_of("side front", "side") - 20.0)
    assert bone.count == 2
    with pytest.raises(msgspec.ValidationError):
        msgspec.convert({"piece": "a", "edge": "b", "short": 3.0}, Bone)


def test_a_waist_stay_is_the_waist_and_its_ends() -> None:
    """Her waist and 50 mm to close it (common practice)."""
    stay = next(line for line in lines(Finishing(waist_stay=True)) if line.kind == "waist stay")
    assert stay.length == design("concert").body.measurements["waist"] + 50.0


def test_a_turned_piece_says_how_it_is_sewn() -> None:
    """Four sentences, in the order of the work."""
    doubled = turned(replayed("concert").garment, "front yoke", unit="in")
    words = [line.words for line in lines(Finishing(doubled=(doubled,))) if line.kind == "turning"]
    assert [word.split()[0] for word in words] == ["Cut", "Sew", "Trim", "Turn"]


def _use(piece: str, edge: str, use: str) -> EdgeFinish:
    return msgspec.convert({"piece": piece, "edge": edge, "use": use}, EdgeFinish)


# --------------------------------------------------------------------------------------------------------------
# stay tape


def slanting(angle: float, kind: EdgeKind = "opening") -> Edge:
    """A straight edge of 200 mm at an angle to the level."""
    points = as_points([(0.0, 0.0), (200.0 * cos(angle), 200.0 * sin(angle))])
    return Edge("neck", kind, points, Origin("front.neck", 0.0, 200.0))


@pytest.mark.parametrize(("degrees", "off"), [(0, 0.0), (10, 0.0), (45, 200.0), (70.5, 0.0), (60, 200.0), (90, 0.0)])
def test_an_edge_is_off_the_grain_where_it_runs_slanting(degrees: float, off: float) -> None:
    """More than 20 degrees off both straight grains, upright and level (common practice)."""
    assert off_grain(slanting(degrees * pi / 180), pi / 2) == pytest.approx(off)


def test_a_tape_is_three_millimetres_shorter_for_each_ten_centimetres_of_bias() -> None:
    """200 mm at 45 degrees: the tape is 194 mm (rule of thumb, trade.md C4); stretch mesh has none."""
    piece = next(p for p in finish(design("concert"), replayed("concert").garment) if p.name == "centre back")
    bare = replace(piece, piece=replace(piece.piece, edges=(slanting(pi / 4),)))
    (tape,) = stay_tapes([bare])
    assert (tape.edge_length, tape.length, tape.count) == pytest.approx((200.0, 194.0, 2))
    assert stay_tapes([_of(bare, stretch_across=50.0)]) == ()


def test_a_v_is_taped_to_its_length_on_the_pattern() -> None:
    """The cloth is eased to it (a dressmaking lesson on V necks, trade.md C4)."""
    piece = next(p for p in finish(design("concert"), replayed("concert").garment) if p.name == "centre back")
    pointed = replace(piece.piece, edges=(slanting(pi / 4),), intended=frozenset({"neck"}))
    (tape,) = stay_tapes([replace(piece, piece=pointed)])
    assert tape.length == tape.edge_length == pytest.approx(200.0)


def test_the_edge_that_a_sheer_is_sewn_to_is_taped() -> None:
    """The satin under the yoke runs off the grain; the yoke itself, of stretch mesh, has no tape."""
    tapes = {
        (tape.piece, tape.edge): tape for tape in stay_tapes(finish(design("concert"), replayed("concert").garment))
    }
    assert ("centre front", "sheer_line") in tapes
    assert not [piece for piece, _ in tapes if piece == "front yoke"]


def test_a_curve_takes_narrow_tape_and_a_straight_edge_wide() -> None:
    """1/4 in round curves, wider where it is straight (a sewing page, trade.md C4)."""
    tapes = stay_tapes(finish(design("concert"), replayed("concert").garment))
    assert {tape.wide for tape in tapes if tape.edge == "armhole"} == {6.35}
    piece = next(p for p in finish(design("concert"), replayed("concert").garment) if p.name == "centre back")
    (straight,) = stay_tapes([replace(piece, piece=replace(piece.piece, edges=(slanting(pi / 4),)))])
    assert straight.wide == 12.7


def _of(piece: Finished, *, stretch_across: float) -> Finished:
    return replace(piece, fabric=msgspec.structs.replace(piece.fabric, stretch_across=stretch_across))

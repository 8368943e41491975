"""Where a dart lies that is folded shut: along the leg that lies still, or where the cloth beside it was turned to."""

from __future__ import annotations

import msgspec
import pytest
from msgspec.structs import replace

from core.design.replay import replay
from core.geometry.placement import gap
from core.geometry.polyline import as_points, crossings
from core.pieces.fold_lines import fold_lines
from core.pieces.folded_piece import SLIT, with_folded
from core.pieces.records import Piece
from tests.demo_designs import concert
from tests.paper_block import BUST_POINT, front


def with_point_short(piece: Piece, name: str, share: float) -> Piece:
    """The piece with a dart sewn to a point that lies so far (a share) from its pivot towards a leg end."""
    dart = piece.dart(name)
    (px, py), (x, y) = dart.pivot, dart.legs[0]
    short = replace(dart, point=(px + share * (x - px), py + share * (y - py)))
    return replace(piece, darts=tuple(short if one is dart else one for one in piece.darts))


@pytest.mark.parametrize(
    ("name", "leg"),
    [("front.shoulder_dart", 1), ("front.waist_dart", 0)],
)
def test_a_shut_dart_lies_along_the_leg_on_the_side_of_the_fold(name: str, leg: int) -> None:
    """On the paper block the centre lies still, so the leg on its side is where both meet, from outline to pivot."""
    piece = front()
    (line,) = fold_lines(piece, with_folded(piece, (name,)), (name,))
    assert line.mouth == pytest.approx(piece.dart(name).legs[leg], abs=1e-6)
    assert line.pivot == pytest.approx(BUST_POINT, abs=1e-6)
    assert line.point == line.pivot


def test_two_shut_darts_of_one_pivot_end_there_both() -> None:
    """Shut together they keep their own lengths, and both end at the bust point, which lies still."""
    piece, names = front(), ("front.shoulder_dart", "front.waist_dart")
    lines = fold_lines(piece, with_folded(piece, names), names)
    assert [line.dart for line in lines] == list(names)
    for line in lines:
        assert line.pivot == pytest.approx(BUST_POINT, abs=1e-6)
        assert gap(line.mouth, line.pivot) == pytest.approx(piece.dart(line.dart).leg_length, abs=1e-6)


def test_the_sewing_ends_as_far_from_the_pivot_as_on_the_flat_piece() -> None:
    """A dart sewn to a quarter short of its pivot ends a quarter of the leg from it on the fold."""
    name = "front.waist_dart"
    piece = with_point_short(front(), name, 0.25)
    (line,) = fold_lines(piece, with_folded(piece, (name,)), (name,))
    leg = piece.dart(name).leg_length
    assert gap(line.point, line.pivot) == pytest.approx(leg / 4, abs=1e-6)
    assert gap(line.point, line.mouth) == pytest.approx(3 * leg / 4, abs=1e-6)


def test_no_slit_is_thought_open_through_a_dart_that_lies_shut() -> None:
    """With both darts of a drafted back shut, what opens meanwhile runs past the folds: nobody cuts a pinned dart."""
    piece = replay(msgspec.structs.replace(concert(), steps=())).garment.piece("back")
    names = ("back.shoulder_dart", "back.waist_dart")
    shown = with_folded(piece, names)
    folds = {fold.dart: as_points((fold.mouth, fold.pivot)) for fold in fold_lines(piece, shown, names)}
    gaps = {dart.name.removesuffix(SLIT): dart for dart in shown.darts if dart.name.endswith(SLIT)}
    assert set(folds) == set(gaps) == set(names)
    for name, other in (names, names[::-1]):
        for leg in gaps[name].legs:
            assert not crossings(as_points((gaps[name].pivot, leg)), folds[other])

"""The method "shoulder dart" against its handbook's worked numbers (trade.md B3: second-hand, results computed)."""

from __future__ import annotations

from math import asin, degrees, sin

import numpy as np
import pytest

from core.blocks.ease import Ease
from core.blocks.shoulder_dart import own_shoulder
from core.errors import Refusal
from core.geometry.placement import about, gap
from core.pieces.records import Piece
from tests.core.blocks.drafted_bodies import Sample, direction
from tests.core.blocks.handbooks import by_handbook, own_ease

SIZE_12 = {
    "shoulder": 12.25,
    "neck_base": 34.0,
    "scye_depth": 18.3,
    "waist": 68.0,
    "across_back": 34.4,
    "across_front": 32.4,
}
"""Its size for bust 88 (trade.md A5): its neck of 37 is 3 longer than the body's, its armhole depth of 21 is 2.7 more
than the body's (B9)."""


def size_12() -> Sample:
    """The handbook's own size, drafted."""
    return by_handbook("shoulder-dart", None, **SIZE_12)


def test_rise_and_armhole_depth() -> None:
    """0-1: 1.5; 1-2: armhole depth 21 + 0.5 = 21.5 [2nd]."""
    back = size_12().back.landmarks
    assert back["side_neck"][1] - back["nape"][1] == pytest.approx(15.0, abs=0.01)
    assert back["nape"][1] - back["underarm"][1] == pytest.approx(215.0, abs=0.01)


def test_half_bust() -> None:
    """2-3: half bust + 5 = 49.0 [2nd], laid out at the bust point's level."""
    sample = size_12()
    width = sum(piece.line(f"{piece.name}.bust_line").length for piece in sample.garment.pieces.values())
    assert width == pytest.approx(490.0, abs=0.1)


def test_necks() -> None:
    """Back neck width 7.2; front neck width 6.7 and depth 7.2, of a neck of 37 [2nd]."""
    sample = size_12()
    front, back = sample.front.landmarks, sample.back.landmarks
    assert -back["side_neck"][0] == pytest.approx(72.0, abs=0.01)
    assert front["side_neck"][0] == pytest.approx(67.0, abs=0.01)
    assert front["side_neck"][1] - front["neck_pit"][1] == pytest.approx(72.0, abs=0.01)


def test_back_shoulder() -> None:
    """1-10: 3.5 under the nape; 9-11: shoulder + 1 = 13.25; slope 22.2 degrees [2nd, calc]."""
    sample = size_12()
    inner, dart = sample.back.edge("shoulder.1"), sample.back.dart("back.shoulder_dart")
    closed = sample.garment.origins["back.shoulder"].length
    assert closed + dart.width == pytest.approx(132.5, abs=0.05)
    (ax, ay), (bx, by) = inner.points[0], inner.points[-1]
    slope = asin(abs(ay - by) / float(np.hypot(bx - ax, by - ay)))
    assert degrees(slope) == pytest.approx(22.2, abs=0.05)
    fall = sample.back.landmarks["nape"][1] - (sample.back.landmarks["side_neck"][1] - 132.5 * sin(slope))
    assert fall == pytest.approx(35.0, abs=0.1)


def test_front_shoulder() -> None:
    """27-30: as long as the shoulder, 12.25; with the dart at the side neck it ends 1.5 lower than the back's [2nd]."""
    sample = size_12()
    assert sample.garment.origins["front.shoulder"].length == pytest.approx(122.5, abs=0.01)
    end, neck = sample.front.landmarks["shoulder_point"], sample.front.landmarks["side_neck"]
    assert neck[1] - end[1] == pytest.approx(15.0 + 35.0 + 15.0, abs=0.01)


def test_bust_dart() -> None:
    """7.0 wide at bust 88 (the size table), 15.18 degrees at 26.5 (trade.md C1)."""
    dart = size_12().front.dart("front.shoulder_dart")
    assert degrees(dart.angle) == pytest.approx(15.18, abs=0.01)


SIZES = {
    80.0: (11.75, 5.8), 84.0: (12.0, 6.4), 88.0: (12.25, 7.0), 92.0: (12.5, 7.6), 96.0: (12.75, 8.2),
    100.0: (13.0, 8.8), 104.0: (13.25, 9.4), 110.0: (13.6, 10.0), 116.0: (13.9, 10.6), 122.0: (14.2, 11.2),
}  # fmt: skip
"""By bust, the handbook's shoulder and bust dart (trade.md A5 [2nd])."""


@pytest.mark.parametrize("bust", SIZES)
def test_every_size_has_the_tables_dart_and_shoulder(bust: float) -> None:
    """The dart opens the table's width at the side neck point; the shoulder whose slope is taken is the table's."""
    shoulder, width = SIZES[bust]
    girths = {"bust": bust, "high_bust": bust - 4.0, "under_bust": bust - 13.0, "waist": bust - 18.0}
    more = {"scye_girth": 0.41 * bust, "bust_span": 0.21 * bust, "across_back": 34.4 + (bust - 88.0) / 4}
    sample = by_handbook("shoulder-dart", **girths, **more)
    point, neck = sample.front.landmarks["bust_point"], sample.front.landmarks["side_neck"]
    opened = about(point, sample.front.dart("front.shoulder_dart").angle).point(neck)
    assert gap(neck, opened) == pytest.approx(10 * width, abs=0.1)
    assert own_shoulder({"bust": 10 * bust}) == pytest.approx(10 * shoulder, abs=2.0)


def innermost(piece: Piece) -> float:
    """Where the armhole comes nearest to the centre."""
    return float(np.abs(piece.edge("armhole").points[:, 0]).min())


def test_widths() -> None:
    """Half back width 17.7, front width 19.7 with half the dart [2nd]; the curve may swing a mm past them."""
    sample = size_12()
    assert innermost(sample.back) == pytest.approx(177.0, abs=1.0)
    assert innermost(sample.front) == pytest.approx(197.0, abs=1.0)


@pytest.mark.parametrize(
    ("bust", "shoulder", "neck", "front", "back"),
    [(88.0, 12.25, 37.0, 20.0, 25.0), (100.0, 13.0, 40.0, 25.0, 30.0), (110.0, 13.6, 42.4, 30.0, 35.0)],
)
def test_armhole_corners(bust: float, shoulder: float, neck: float, front: float, back: float) -> None:
    """2.0 and 2.5 for sizes 8 to 14, 2.5 and 3 for 16 to 20, 3 and 3.5 for 22 to 26 [2nd]; sizes from trade.md A5.

    Measured from where the curve comes nearest to the centre, up to 1.2 mm inside the width that it was drawn to.
    """
    chest, across = 32.4 + 0.3 * (bust - 88.0), 34.4 + (bust - 88.0) / 4
    girths = {"bust": bust, "high_bust": bust - 4.0, "under_bust": bust - 13.0, "waist": bust - 18.0}
    down = 26.5 + 0.2 * (bust - 88.0)
    lengths = {"shoulder": shoulder, "neck_base": neck - 3.0, "scye_girth": 0.41 * bust, "bust_span": 0.21 * bust}
    levels = {"neck_to_bust_point": down, "front_waist_length": down + 17.0, "under_bust_level": down + 8.0}
    sample = by_handbook("shoulder-dart", None, across_back=across, across_front=chest, **girths, **lengths, **levels)
    assert corner_offset(sample.front) == pytest.approx(front, abs=1.5)
    assert corner_offset(sample.back) == pytest.approx(back, abs=1.5)


def corner_offset(piece: Piece) -> float:
    """How far the armhole lies from the corner under its innermost point, on the line of 45 degrees, in mm."""
    off = np.abs(piece.edge("armhole").points) - (innermost(piece), piece.landmarks["underarm"][1])
    angles = np.degrees(np.arctan2(off[:, 1], off[:, 0]))
    order = np.argsort(angles)
    return float(np.interp(45.0, angles[order], np.hypot(*off.T)[order]))


@pytest.mark.parametrize(
    ("ease", "half", "waist", "shaping"),
    [(100.0, 49.0, 68.0, 12.0), (100.0, 49.0, 72.0, 10.0), (40.0, 46.0, 68.0, 9.0), (140.0, 51.0, 68.0, 14.0)],
)
def test_half_bust_and_waist_shaping(ease: float, half: float, waist: float, shaping: float) -> None:
    """Half bust + 5, 3 less without sleeves, + 7 for an easy fit; less half waist + 3 darts and side seams [2nd].

    The shaping of the easy fit is computed from the two rules.
    """
    sample = by_handbook("shoulder-dart", Ease(bust=ease, waist=60.0), **(SIZE_12 | {"waist": waist}))
    width = sum(piece.line(f"{piece.name}.bust_line").length for piece in sample.garment.pieces.values())
    left = sum(sample.garment.origins[f"{piece}.waist"].length for piece in ("front", "back"))
    assert width == pytest.approx(10 * half, abs=0.1)
    assert width - left == pytest.approx(10 * shaping, abs=0.1)


def test_the_clients_own_lengths_are_laid_down() -> None:
    """Bust span, side neck to bust point and front waist length are the client's, not the handbook's."""
    sample = size_12()
    point, neck = sample.front.landmarks["bust_point"], sample.front.landmarks["side_neck"]
    assert 2 * point[0] == pytest.approx(sample["bust_span"], abs=0.1)
    assert gap(point, neck) == pytest.approx(sample["neck_to_bust_point"], abs=0.1)
    assert gap(point, neck) + sample.front.dart("front.waist_dart").leg_length == pytest.approx(
        sample["front_waist_length"], abs=0.1
    )


def test_what_is_laid_down_otherwise_is_said() -> None:
    """A centre front 3 cm longer than the handbook's neck leaves it, and a thick arm, are named in notes."""
    usual = size_12().front.edge("centre_front").length
    sample = by_handbook(
        "shoulder-dart", **(SIZE_12 | {"centre_front_length": (usual + 30.0) / 10, "scye_girth": 54.0})
    )
    assert any("centre front length 30 mm less" in note for note in sample.draft.notes)
    assert any("shorter than the armhole girth" in note for note in sample.draft.notes)


def test_a_low_bust_line_lifts_the_underarm() -> None:
    """The underarm stays over the bust line (cutting.md 21), and a note says by how much it was lifted."""
    sample = by_handbook("shoulder-dart", None, **(SIZE_12 | {"scye_depth": 23.0, "front_waist_length": 45.5}))
    assert sample.front.landmarks["underarm"][1] > sample.front.landmarks["bust_point"][1]
    assert any("lifted" in note for note in sample.draft.notes)


def test_a_shoulder_measured_to_the_bone_keeps_the_handbooks_slope() -> None:
    """2 cm more shoulder (cutting.md 21) run on along the slope of the handbook's own: 22.2 degrees (trade.md B3)."""
    usual, longer = size_12(), by_handbook("shoulder-dart", None, **(SIZE_12 | {"shoulder": 14.25}))
    for piece, edge in (("back", "shoulder.1"), ("front", "shoulder.2")):
        slopes = [direction(sample.garment.piece(piece).edge(edge), at_end=False) for sample in (usual, longer)]
        assert slopes[1] == pytest.approx(slopes[0], abs=0.01)
    assert longer.garment.origins["front.shoulder"].length == pytest.approx(142.5, abs=0.01)


def test_an_arm_that_wants_room_lowers_the_underarm() -> None:
    """A thick arm goes through (trade.md G6: no armhole shorter than the armhole girth), and a note says how."""
    usual = size_12()
    origins = usual.garment.origins
    girth = origins["front.armhole"].length + origins["back.armhole"].length + 25.0
    thick = by_handbook("shoulder-dart", None, **(SIZE_12 | {"scye_girth": girth / 10}))
    origins = thick.garment.origins
    assert origins["front.armhole"].length + origins["back.armhole"].length == pytest.approx(girth, abs=0.1)
    assert thick.front.landmarks["underarm"][1] < usual.front.landmarks["underarm"][1]
    assert any("under where the method has it, for the armhole girth" in note for note in thick.draft.notes)


def test_a_shoulder_that_is_none_is_refused() -> None:
    """Far beyond the handbook's sizes its dart would lift the front shoulder to the level: measurements are named."""
    girths = {"bust": 150.0, "high_bust": 138.0, "under_bust": 125.0, "waist": 125.0, "hip": 150.0, "scye_girth": 58.0}
    lengths = {"across_back": 44.0, "across_front": 42.0, "neck_base": 42.0, "bust_span": 26.0, "scye_depth": 20.0}
    with pytest.raises(Refusal, match="shoulder length, armhole depth"):
        by_handbook("shoulder-dart", own_ease("shoulder-dart"), **girths, **lengths)


def test_the_ease_decides_between_shoulder_dart_and_ease() -> None:
    """What the back shoulder has over the front is ease first and dart for the rest, at least one that can be sewn."""
    ease = Ease(bust=100.0, waist=60.0, shoulder=0.0)
    assert by_handbook("shoulder-dart", ease).back.dart("back.shoulder_dart").width == pytest.approx(10.0, abs=0.01)

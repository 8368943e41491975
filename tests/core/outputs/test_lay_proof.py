"""The proof of a lay finds every kind of fault, each put there by hand."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from core.design.kept_lay import LayChoices
from core.outputs.lay_plan import Laid, Lay
from core.outputs.lay_proof import clear_of, faults
from tests.core.outputs.lay_samples import parts, piece, rectangle

GAP = LayChoices(gap=3.0, grain="both ways")


def two_rectangles(*, apart: float = 3.0, up: float = 0.0, turn: float = -90.0) -> tuple[Lay, tuple[object, ...]]:
    """A pair of rectangles of 300 by 200 mm, the mirrored one above the other."""
    found = rectangle(300.0, 200.0)
    (part,) = parts(found, choices=GAP)
    first = Laid(part, 0.0, 200.0 + up, turn, mirrored=False)
    second = Laid(part, 0.0, 403.0 + apart - 3.0 + up, -90.0, mirrored=True)
    # A rectangle x 0..200, y 0..300 turned by -90 degrees lies at x 0..300, y -200..0; mirrored at y 0..200.
    second = replace(second, y=second.y - 200.0)
    return Lay(found.fabric, "open", GAP, (first, second)), (part,)


def said(lay: Lay, wanted: tuple[object, ...]) -> str:
    """All faults in one text."""
    return " ".join(faults(lay, wanted))  # type: ignore[arg-type]  # parts


def test_a_sound_lay_has_no_fault() -> None:
    """Two rectangles with the gap between them."""
    assert said(*two_rectangles()) == ""


def test_an_overlap_is_found() -> None:
    """Pieces that share 0.06 mm of width over 300 mm: 18 mm2."""
    assert "lie over each other" in said(*two_rectangles(apart=-0.06))


def test_an_overlap_of_a_hundredth_of_a_square_millimetre_is_none() -> None:
    """The limit is 0.01 mm2 of shared cloth; then they still are too near each other."""
    lay, _ = two_rectangles(apart=-0.00003)
    assert clear_of(*lay.laid) == 0.0


def test_a_gap_too_small_is_found() -> None:
    """0.16 mm too near is a fault, 0.05 mm is not."""
    assert "2.8 mm apart, with 3 mm wanted" in said(*two_rectangles(apart=2.84))
    assert said(*two_rectangles(apart=2.95)) == ""


def test_a_piece_past_the_usable_width_is_found() -> None:
    """Over either selvedge."""
    assert "past the usable width" in said(*two_rectangles(up=-0.5))
    assert "past the usable width" in said(*two_rectangles(up=1375.0 - 403.0 + 0.5))
    assert said(*two_rectangles(up=1375.0 - 403.0)) == ""


def test_a_lay_longer_than_a_bolt_is_found() -> None:
    """100 m is the longest."""
    lay, wanted = two_rectangles()
    assert "longer than any bolt" in said(replace(lay, laid=(lay.laid[0], lay.laid[1].moved(100_000.0, 0.0))), wanted)


def test_a_piece_turned_off_its_grain_is_found() -> None:
    """A tenth of a degree."""
    assert "turned off its grain" in said(*two_rectangles(turn=-90.1))


def test_wrong_counts_are_found() -> None:
    """One of a pair left out, and two lefts in the place of a left and a right."""
    lay, wanted = two_rectangles()
    one = replace(lay, laid=lay.laid[:1])
    assert "lies there 0 times mirrored and is cut 1 times" in said(one, wanted)
    lefts = replace(lay, laid=(lay.laid[0], replace(lay.laid[0], y=lay.laid[0].y + 400.0)))
    assert "lies there 2 times and is cut 1 times" in said(lefts, wanted)
    assert "not cut from this cloth" in said(lay, ())


def test_a_fold_piece_off_the_fold_is_found() -> None:
    """Half a millimetre off the fold would make the piece a millimetre wider."""
    (part,) = parts(piece("front yoke"), model="folded", choices=GAP)
    turn = part.allowed(is_mirrored=True)[0]
    laid = tuple(Laid(part, 600.0 * index, 0.0, turn, mirrored=True) for index in range(part.copies))
    lay = Lay(part.finished.fabric, "folded", GAP, laid)
    assert faults(lay, (part,)) == ()
    off = replace(lay, laid=tuple(replace(one, y=0.5) for one in laid))
    assert "does not lie on the fold" in said(off, (part,))


@pytest.mark.parametrize("up", [0.005, 0.0])
def test_rounding_is_no_fault(up: float) -> None:
    """Five thousandths of a millimetre past the selvedge are rounding."""
    assert said(*two_rectangles(up=-up)) == ""

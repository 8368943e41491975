"""Contours: the usual amounts, each at its level of a seam, to nothing where the table says."""

from __future__ import annotations

import pytest

from core.design.replay import replay
from core.pieces.levels import CIRCLE, level_girth, passed_at, seam_levels
from core.pieces.records import Garment
from core.pieces.seams import Match, chain_points, match
from core.steps.contours import CONTOURS, GAPE, Contour, Taking, takings
from tests.core.laws.sample_steps import done, drafted, panels, sheer
from tests.demo_designs import concert, stage
from tests.paper_block import garment

INCH = 25.4


def princess(design: str) -> Match:
    """The front princess seam of a demo: from the sheer line, or from the armhole."""
    made = replay({"concert": concert, "stage": stage}[design]()).garment
    return match(made, made.seam("front.princess"))


def called(name: str) -> Contour:
    """A contour of the table."""
    return next(contour for contour in CONTOURS if contour.name == name)


@pytest.mark.parametrize(
    ("name", "inches"),
    [("Low neckline", 0.25), ("Cut-away armhole", 0.5), ("Hollow below the shoulder", 0.13), ("Empire line", 0.75)],
)
def test_the_amounts_are_those_of_the_table(name: str, inches: float) -> None:
    """Standard contouring amounts in inches for half the body (trade.md C4)."""
    assert called(name).amount == pytest.approx(inches * INCH)
    assert "C4" in called(name).source


def test_the_gape_comes_to_nothing_at_the_bust_point() -> None:
    """66 mm above the bust point: 1/2 in there, nothing at it."""
    assert takings(GAPE, princess("concert")) == (Taking("sheer_line", 12.7), Taking("bust_point", 0.0))


def test_a_cut_away_armhole_is_taken_in_at_the_bust_circle() -> None:
    """Zero at the armhole's edge and at the bust point, as the table has it; a low neckline has no place there."""
    found = {taking.level: taking.amount for taking in takings(called("Cut-away armhole"), princess("stage"))}
    assert found == {"armhole": 0.0, "upper_bust_circle": 12.7, "bust_point": 0.0}
    assert takings(called("Low neckline"), princess("stage")) == ()


def test_inside_the_circle_a_low_neckline_takes_in_less() -> None:
    """The course counts the circle at 3 in: 66.5 mm from the bust point it is 0.25 in times 66.5 / 76.2."""
    found = princess("concert")
    away = abs(seam_levels(found)[0].a.along - seam_levels(found)[1].a.along)
    first, second = takings(called("Low neckline"), found)
    assert first.level == "sheer_line"
    assert first.amount == pytest.approx(0.25 * INCH * away / (3 * INCH))
    assert second == Taking("bust_point", 0.0)


def test_below_a_sheer_line_through_the_bust_point_only_tightening_has_a_place() -> None:
    """The seam begins at the bust point: nothing there, 1/2 in at the under-bust, nothing at the waist."""
    start = drafted("middling")
    made = done(start, (sheer(start), panels(start)))
    found = match(made, made.seam("front.waist_dart"))
    assert takings(called("Tighten under the bust"), found) == (
        Taking("sheer_line", 0.0),
        Taking("under_bust_line", 12.7),
        Taking("waist", 0.0),
    )
    assert takings(GAPE, found) == ()


def test_a_seam_beside_the_bust_point_has_no_contour() -> None:
    """The side seam passes no bust point."""
    side = match(garment(), garment().seam("side"))
    assert all(takings(contour, side) == () for contour in (GAPE, *CONTOURS))


def test_the_bust_circle_is_passed_above_and_below() -> None:
    """On a seam through the bust point both lie at the circle's reach from it."""
    found = princess("stage")
    points, piece = chain_points(found.a), found.a[0].piece
    bust, *reaches = (passed_at(piece, points, name) for name in ("bust_point", *CIRCLE))
    assert bust is not None
    assert [reach is not None and 40.0 < abs(reach - bust) < 120.0 for reach in reaches] == [True, True]
    assert reaches[0] is not None
    assert reaches[1] is not None
    assert (reaches[0] - bust) * (reaches[1] - bust) < 0.0


def test_the_girth_at_a_level_counts_both_halves() -> None:
    """The bust line of the paper block is not drawn, so it is 0; of a bodice it is round the whole body."""
    assert level_girth(garment(), "bust_line") == 0.0
    made: Garment = replay(concert()).garment
    lines = [
        line.length for piece in made.pieces.values() for line in piece.lines if line.name.endswith("under_bust_line")
    ]
    assert level_girth(made, "under_bust_line") == pytest.approx(2.0 * sum(lines))

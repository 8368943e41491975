"""The seam table."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from core.checks.seam_rows import seam_rows
from core.pieces.records import Seam, Span
from tests.paper_block import garment


def test_lengths_are_measured_and_compared() -> None:
    """The paper block's shoulder: back sqrt(110² + 25²), front 127.5... less its dart; side seams alike."""
    rows = {row.name: row for row in seam_rows(garment())}
    side = rows["side"]
    assert side.length_a == pytest.approx((10**2 + 210**2) ** 0.5)
    assert side.difference == pytest.approx(0.0, abs=1e-9)
    assert (side.verdict, side.sign) == ("exact", "=")
    shoulder = rows["shoulder"]
    assert shoulder.length_a == pytest.approx((110**2 + 25**2) ** 0.5)
    front = [edge for edge in garment().piece("front").edges if edge.origin.edge == "front.shoulder"]
    assert shoulder.length_b == pytest.approx(sum(((e.points[0] - e.points[-1]) ** 2).sum() ** 0.5 for e in front))


def test_ease_counts_as_wanted() -> None:
    """A side that is 6 mm longer where 6 mm of ease are wanted is exact."""
    plain = garment()
    seam = plain.seams["shoulder"]
    length_a, length_b = seam_rows(plain)[0].length_a, seam_rows(plain)[0].length_b
    eased = replace(plain, seams={"shoulder": replace(seam, ease=length_a - length_b)})
    assert seam_rows(eased)[0].difference == pytest.approx(0.0, abs=1e-9)
    assert seam_rows(eased)[0].verdict == "exact"


def test_each_side_is_told_in_words() -> None:
    """By piece and edge, as they are spoken; an edge in two runs, with a dart between them, is said once."""
    rows = {row.name: row for row in seam_rows(garment())}
    assert rows["side"].sides == ("front", "back")
    assert rows["side"].edges == ("front (side)", "back (side)")
    assert rows["shoulder"].edges[1] == "front (shoulder)"


def test_a_seam_that_lost_a_side_is_wrong() -> None:
    """Nothing to sew to is wrong even where the other side is short."""
    lost = Seam("short", (Span("front.side"),), (Span("nowhere"),), ("waist", "armhole"), ease=(210**2 + 10**2) ** 0.5)
    rows = seam_rows(replace(garment(), seams={"short": lost}))
    assert abs(rows[0].difference) < 1e-6
    assert rows[0].verdict == "wrong"
    assert rows[0].edges[1] == "nothing"

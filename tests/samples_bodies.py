"""Bodies to test on: 1,104 women of a survey where its file lies beside the project, else tables made from it.

The survey is NATICK/TR-89/044 (1988, US Government work, public domain), in cm. Its across-back is taken at mid armhole
("interscye mid"); its shoulder ends about 2 cm outside a dressmaker's.
"""

from __future__ import annotations

import csv
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Final

from core.body.body import Body, entered
from core.body.catalogue import MEASUREMENTS

SURVEY: Final = Path(__file__).resolve().parents[2] / "shared" / "data" / "bodies.csv"

COLUMN_OF: Final = {"across_back": "interscye_mid"}
"""Where the survey's column is not called as the measurement is."""

# Means of the survey's 2,208 women by bust class (trade.md A6): bust, high bust, under-bust, waist, hip, span, side
# neck to bust point, back waist, centre front, shoulder, interscye mid, scye depth, scye girth, neck base, stature.
MEANS: Final = """
76.4 78.2 68.1 62.3  86.9 16.3 23.8 36.3 31.2 14.0 35.1 16.9 33.3 32.3 160.3
80.4 81.0 70.1 64.3  89.4 17.0 24.4 36.3 30.9 14.3 35.4 17.9 34.4 32.9 160.4
84.1 83.7 72.3 67.3  91.8 17.5 25.4 36.3 30.8 14.4 36.3 18.0 35.3 33.6 161.2
88.0 86.7 75.1 69.9  95.1 18.2 26.1 36.7 31.0 14.5 37.2 18.4 36.3 34.2 162.5
91.7 89.4 77.5 73.0  97.9 18.6 27.1 36.8 31.2 14.5 37.8 18.7 37.4 34.8 163.6
95.8 92.5 80.5 76.8 100.0 19.1 28.0 36.8 31.2 14.5 38.5 19.0 38.5 35.4 163.9
99.7 95.7 83.1 80.3 102.6 19.8 28.8 37.1 31.6 14.6 39.6 19.4 39.8 36.0 164.9
103.6 98.2 86.3 84.4 104.9 20.1 29.9 37.8 32.4 14.6 40.1 19.7 40.7 36.4 164.4
107.3 101.9 89.8 88.9 107.2 20.5 29.8 38.6 33.3 14.6 41.2 20.0 42.3 37.5 167.1
"""
MEAN_COLUMNS: Final = (
    *("bust", "high_bust", "under_bust", "waist", "hip", "bust_span", "neck_to_bust_point", "back_waist_length"),
    *("centre_front_length", "shoulder", "across_back", "scye_depth", "scye_girth", "neck_base", "stature"),
)

# Women at the survey's edges (trade.md G): bust, high bust, under-bust, span, side neck to bust point, waist, hip, back
# waist, centre front, front waist, shoulder, scye depth, scye girth, neck base, stature.
EXTREMES: Final = {
    "smallest bust": "71.1 75.8 66.4 17.2 22.3 60.6 85.1 31.9 28.8 36.1 15.5 16.4 31.1 32.0 153.0",
    "largest bust": "115.9 112.1 98.3 21.8 30.0 95.5 107.3 36.3 31.1 40.6 14.2 19.7 43.8 38.5 166.6",
    "largest bust over high bust": "103.2 90.2 84.5 19.8 32.3 82.3 98.5 42.2 37.0 43.5 15.4 19.8 37.4 34.7 163.2",
    "narrowest span": "80.3 86.4 73.6 12.8 25.0 60.6 90.3 36.5 33.2 40.2 15.8 17.2 35.5 31.0 160.5",
    "least waist drop": "96.7 94.8 82.8 17.3 30.5 90.9 105.2 41.3 34.0 43.8 15.8 18.1 37.7 34.9 161.0",
    "most waist drop": "101.3 98.2 80.2 19.5 30.0 70.6 101.7 35.6 31.2 40.0 15.1 18.0 39.5 34.4 159.7",
    "widest span": "108.3 99.6 87.3 24.1 29.9 97.3 113.6 43.7 39.7 46.3 12.9 19.1 39.4 38.8 173.0",
    "longest neck to bust point": "100.2 91.6 79.9 22.0 35.4 77.1 105.7 36.9 30.5 39.9 16.2 21.0 39.4 36.5 171.9",
    "shortest shoulder": "80.0 80.8 71.4 16.3 22.4 66.8 89.3 30.9 27.1 33.2 11.4 15.5 34.3 33.4 155.5",
    "largest bust over under-bust": "98.7 91.9 72.1 22.2 29.1 70.4 104.3 36.8 30.0 41.0 13.8 19.6 39.0 35.7 172.2",
    "nearest the median": "88.9 92.4 77.0 18.2 26.5 72.1 95.2 36.8 30.6 35.7 15.0 19.6 39.3 35.7 164.7",
}
EXTREME_COLUMNS: Final = (
    *("bust", "high_bust", "under_bust", "bust_span", "neck_to_bust_point", "waist", "hip", "back_waist_length"),
    *("centre_front_length", "front_waist_length", "shoulder", "scye_depth", "scye_girth", "neck_base", "stature"),
)


def from_survey_row(row: Mapping[str, str]) -> Body:
    """The body of one row of the survey."""
    columns = {id_: COLUMN_OF.get(id_, id_) for id_ in MEASUREMENTS}
    taken = {id_: float(row[column]) for id_, column in columns.items() if row.get(column)}
    return entered(f"Survey {row['id']}", "cm", taken)


@cache
def bodies() -> tuple[Body, ...]:
    """Every woman of the survey; where its file is absent, the survey's means and its extremes."""
    if not SURVEY.exists():
        return (*mean_bodies(), *(extreme_body(case) for case in EXTREMES))
    with SURVEY.open(encoding="utf-8", newline="") as file:
        return tuple(from_survey_row(row) for row in csv.DictReader(file))


@cache
def mean_bodies() -> tuple[Body, ...]:
    """One body for each bust class of table A6.

    The table has no front waist length: the bust point lies 11.8 cm over the waist on average, and the tape runs 1.05
    times that over the body.
    """
    found = []
    for line in MEANS.split("\n")[1:-1]:
        taken = dict(zip(MEAN_COLUMNS, map(float, line.split()), strict=True))
        taken["front_waist_length"] = taken["neck_to_bust_point"] + 1.05 * 11.8
        found.append(entered(f"Mean of bust {taken['bust']:.0f}", "cm", taken))
    return tuple(found)


def extreme_body(case: str = "nearest the median") -> Body:
    """One of the women at the survey's edges, or the one nearest its middle."""
    return entered(case, "cm", dict(zip(EXTREME_COLUMNS, map(float, EXTREMES[case].split()), strict=True)))

"""The largest demo on every paper, read back: how far any stitching or cutting line lies off where the map says."""

from __future__ import annotations

from typing import Any, TypeAlias

import numpy as np
import shapely
from shapely.geometry import LineString, MultiLineString

from core.design.replay import replay
from core.outputs.papers import PAPERS
from core.outputs.pdf import print_pdf
from core.outputs.pieces_json import pieces_document
from tests.core.outputs.reading import ReadPage, by_pypdfium2
from tests.core.outputs.test_pdf import on_sheet
from tests.demo_designs import gala

MARGIN = 10.0
Entry: TypeAlias = dict[str, Any]
Read: TypeAlias = tuple[list[ReadPage], list[MultiLineString]]


def off_on(paper: str) -> tuple[int, float]:
    """Pages of the print, and the greatest distance in mm of a line's point from what is drawn on its page."""
    made = gala()
    done = replay(made)
    job = print_pdf(made, done, paper=paper)
    pages = by_pypdfium2(job.pdf)
    drawn = [MultiLineString([LineString(path) for path in page.paths]) for page in pages]
    shapely.prepare(drawn)
    places = {placement["piece"]: placement for placement in job.map["placements"]}
    worst = 0.0
    for piece in pieces_document(made, done)["pieces"]:
        for line in (piece["cutting_line"], *(edge["points"] for edge in piece["edges"])):
            worst = max(worst, _off(line, places[piece["name"]], job.map["pages"], (pages, drawn)))
    return len(pages), worst


def _off(
    line: list[list[float]],
    place: dict[str, Any],
    entries: list[dict[str, Any]],
    read: tuple[list[ReadPage], list[MultiLineString]],
) -> float:
    """How far one line is off on the pages that show it; endless where a point of it is on none."""
    pages, drawn = read
    shown, worst = np.zeros(len(line), dtype=bool), 0.0
    for entry in entries:
        if entry["kind"] == "tile" and entry["sheet"] == place["sheet"]:
            points = on_sheet(line, place) - entry["origin_mm"]
            size = np.array(pages[entry["page"] - 1].size)
            held = ((points >= MARGIN - 1e-6) & (points <= size - MARGIN + 1e-6)).all(axis=1)
            off = shapely.distance(drawn[entry["page"] - 1], shapely.points(points[held]))
            worst = max(worst, float(off.max(initial=0.0)))
            shown |= held
    return worst if shown.all() else np.inf


if __name__ == "__main__":
    for name in (*PAPERS, "roll-750mm"):
        count, worst = off_on(name)
        print(f"{name}: {count} pages, {worst:.4f} mm off at most")

"""`lay`: what is said, drawn and written of how the pieces lie on their fabrics."""

from __future__ import annotations

import json
import os
import time
from itertools import combinations
from math import cos, radians, sin
from pathlib import Path
from typing import NoReturn

import numpy as np
import pdfplumber
import pytest
from numpy.typing import NDArray
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from core.commands import lay as lay_command
from core.errors import Refusal
from core.shipped import assets
from tests.core.commands.running import command, contents, refused

CONCERT = assets() / "demo" / "concert-bodice.sheer"
SKATER = assets() / "demo" / "skater-bodice.sheer"
DEMOS = sorted((assets() / "demo").glob("*.sheer"))


def test_the_lay_says_what_to_buy_of_every_fabric() -> None:
    """A line a fabric, in the design's unit, with the other way of laying beside it."""
    done = command("lay", CONCERT, "--seconds", "1")
    assert done.status == 0
    lines = done.out.splitlines()
    assert [line.split(" of ")[1].split(" (")[0] for line in lines] == ["sheer", "main", "cup"]
    assert all(line.startswith("Buy ") and " yd of " in line for line in lines)
    assert all("Folded, the pieces take" in line or "Open, the pieces take" in line for line in lines)


@pytest.mark.parametrize("demo", DEMOS, ids=lambda path: path.stem)
def test_every_demo_is_laid_and_its_json_is_sound_by_itself(demo: Path, tmp_path: Path) -> None:
    """Read beside `pieces --json`, by shapely alone: nothing overlaps, all lies inside, the density is what it says.

    Every piece lies on its own fabric.
    """
    lays, pieces = tmp_path / "lay.json", tmp_path / "pieces.json"
    assert command("lay", demo, "--seconds", "1", "--json", lays).status == 0
    assert command("pieces", demo, "--json", pieces).status == 0
    found = json.loads(pieces.read_text())["pieces"]
    lines = {piece["name"]: piece["cutting_line"] for piece in found}
    document = json.loads(lays.read_text())
    assert document["units"] == "mm"
    where = {placed["piece"]: lay["fabric"] for lay in document["lays"] for placed in lay["placements"]}
    assert where == {piece["name"]: piece["fabric"] for piece in found}
    for lay in document["lays"]:
        shapes = [_shape(placed, lines) for placed in lay["placements"]]
        for first, second in combinations(shapes, 2):
            assert first.intersection(second).area <= 0.01
            assert first.distance(second) >= lay["gap"] - 0.1
        boxes = np.array([shape.bounds for shape in shapes])
        across = lay["width"] / (2.0 if lay["model"] == "folded" else 1.0)
        assert boxes[:, 1].min() >= -0.01
        assert boxes[:, 3].max() <= across + 0.01
        assert np.ptp(boxes[:, [0, 2]]) == pytest.approx(lay["length"], abs=1e-3)
        plies = 2.0 if lay["model"] == "folded" else 1.0
        share = plies * sum(shape.area for shape in shapes) / (lay["width"] * lay["length"])
        assert lay["density"] == pytest.approx(share, rel=1e-4)


def _shape(placed: dict[str, object], lines: dict[str, list[list[float]]]) -> BaseGeometry:
    """A placement as it stands in the document's own words: mirrored, turned, shifted; a fold piece on both sides."""
    line = np.array(lines[str(placed["piece"])])
    turn = radians(float(str(placed["turn"])))
    rotation = np.array(((cos(turn), -sin(turn)), (sin(turn), cos(turn))))
    shift = np.array((float(str(placed["x"])), float(str(placed["y"]))))

    def lying(points: NDArray[np.float64]) -> Polygon:
        sign = (-1.0 if placed["mirrored"] else 1.0, 1.0)
        return Polygon((points * sign) @ rotation.T + shift)

    shape = lying(line)
    return shape.union(lying(line * (-1.0, 1.0))) if placed["unfolded"] else shape


def test_plans_and_markers_are_drawn(tmp_path: Path) -> None:
    """A page a fabric; the marker's cloth is as wide as the cloth, and its lay as long as the lay, at true size."""
    plans, markers, lays = tmp_path / "plans.pdf", tmp_path / "markers.pdf", tmp_path / "lay.json"
    done = command("lay", CONCERT, "--seconds", "1", "-o", plans, "--marker", markers, "--json", lays)
    assert done.status == 0
    found = json.loads(lays.read_text())["lays"]
    with pdfplumber.open(plans) as pdf:
        assert len(pdf.pages) == len(found)
        assert "Lay plan: sheer (stretch mesh)" in (pdf.pages[0].extract_text() or "")
    with pdfplumber.open(markers) as pdf:
        for page, lay in zip(pdf.pages, found, strict=True):
            margin = 80.0
            across = lay["width"] / (2.0 if lay["model"] == "folded" else 1.0)
            assert float(page.width) / 72.0 * 25.4 == pytest.approx(lay["length"] + margin, abs=0.1)
            assert float(page.height) / 72.0 * 25.4 == pytest.approx(across + margin, abs=0.1)
            edges = [line["x0"] / 72.0 * 25.4 for line in page.lines if line["height"] / 72.0 * 25.4 > 0.99 * across]
            assert (min(edges), max(edges)) == pytest.approx((40.0, 40.0 + lay["length"]), abs=0.01)
            selvedges = [line["y0"] / 72.0 * 25.4 for line in page.lines if line["width"] / 72.0 * 25.4 > lay["length"]]
            assert max(selvedges) - min(selvedges) == pytest.approx(across, abs=0.01)


def test_designs_are_laid_together(tmp_path: Path) -> None:
    """Two designs on one cloth take less than each by itself, and every placement says whose it is."""
    both = tmp_path / "both.json"
    assert command("lay", CONCERT, SKATER, "--seconds", "1", "--json", both).status == 0
    document = json.loads(both.read_text())
    main = next(lay for lay in document["lays"] if lay["fabric"] == "main")
    assert len(document["designs"]) == 2
    assert {placed["design"] for placed in main["placements"]} == {0, 1}


@pytest.mark.parametrize(("cores", "at_once"), [(1, 1), (4, 2), (64, 3)])
def test_no_more_is_searched_at_once_than_there_are_cores(
    monkeypatch: pytest.MonkeyPatch, cores: int, at_once: int
) -> None:
    """A fabric is searched open and folded at the same time, so half as many fabrics as cores; the demo has three."""
    running: list[int] = []
    most: list[int] = []

    def held(*_: object, workers: int, **__: object) -> NoReturn:
        running.append(1)
        most.append(len(running) * workers)
        time.sleep(0.05)
        running.pop()
        raise Refusal("Enough.")

    monkeypatch.setattr(os, "cpu_count", lambda: cores)
    monkeypatch.setattr(lay_command, "laid_both_ways", held)
    refused(command("lay", CONCERT))
    assert max(most) <= max(1, cores // 2)
    assert len(most) >= at_once


def test_equal_lays_give_equal_pages(tmp_path: Path) -> None:
    """The page holds no clock: its date is the design's own."""
    plans = tmp_path / "plans.pdf"
    command("lay", CONCERT, "--seconds", "1", "-o", plans)
    with pdfplumber.open(plans) as pdf:
        assert str(pdf.metadata["CreationDate"]).startswith("D:20261125")


@pytest.mark.parametrize("seconds", ["0", "-1", "soon", "1e9"])
def test_a_time_that_is_none_is_refused(seconds: str) -> None:
    """In a sentence that says what is taken."""
    assert "give 1 to 3600 seconds" in refused(command("lay", CONCERT, "--seconds", seconds))


def test_an_output_over_an_input_is_refused(tmp_path: Path) -> None:
    """Nothing is written, the design least of all."""
    design = tmp_path / "mine.sheer"
    design.write_bytes(CONCERT.read_bytes())
    before = contents(tmp_path)
    assert "give another name" in refused(command("lay", design, "-o", design))
    assert "give another name" in refused(
        command("lay", design, "-o", tmp_path / "a.pdf", "--marker", tmp_path / "a.pdf")
    )
    assert contents(tmp_path) == before

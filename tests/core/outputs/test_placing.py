"""Pieces on sheets and sheets on pages."""

from __future__ import annotations

from functools import cache
from itertools import combinations

import pytest
from shapely.affinity import rotate
from shapely.geometry import LineString, Polygon, box
from shapely.ops import unary_union

from core.design.design import PaperName
from core.finishing.finish import finish
from core.outputs.papers import MARGIN, OVERLAP, PAPERS
from core.outputs.plan import Plan, plan
from core.outputs.sheet import Grid, grid_for, letters, tiles_of
from tests.samples import NAMES, design, replayed

TRIED = ("a4", "letter", "tabloid")
CASES = [*((name, paper, 1.0) for name in NAMES for paper in TRIED), *((name, "a4", 0.5) for name in NAMES)]


@cache
def planned(name: str, paper: PaperName, scale: float) -> Plan:
    """A sample design laid out."""
    return plan(design(name), finish(design(name), replayed(name).garment), PAPERS[paper], scale=scale)


def test_the_grid_is_that_of_the_paper() -> None:
    """Live area, step and pages for 600 x 800 mm as computed beside desktop.md 5: A4 190 x 277, 180 x 267, 4 x 3."""
    grid = grid_for(PAPERS["a4"], 1.0)
    assert (grid.width, grid.height) == (190.0, 277.0)
    assert grid.step == (180.0, 267.0)
    assert grid_for(PAPERS["letter"], 1.0).step == pytest.approx((185.9, 249.4))
    assert grid_for(PAPERS["a4"], 0.5) == Grid(380.0, 554.0, 20.0)
    assert OVERLAP >= MARGIN  # the overlap is no less than what the printer leaves bare


def test_columns_are_lettered_on_and_on() -> None:
    """A to Z, AA to AZ, BA."""
    assert [letters(index) for index in (0, 25, 26, 51, 52)] == ["A", "Z", "AA", "AZ", "BA"]


@pytest.mark.parametrize(("name", "paper", "scale"), CASES)
def test_each_piece_lies_once_inside_its_sheet_and_over_no_other(name: str, paper: PaperName, scale: float) -> None:
    """With 3 mm of paper or more between two pieces."""
    made = planned(name, paper, scale)
    grid = grid_for(made.paper, scale)
    assert sorted(p.finished.name for p in made.placed) == sorted(replayed(name).garment.pieces)
    for sheet in made.sheets:
        whole = box(0.0, 0.0, *grid.size(sheet.columns, sheet.rows))
        lying = [Polygon(p.placement.points(p.finished.cutting_line)) for p in sheet.placed]
        assert all(whole.contains(loop) for loop in lying)
        assert all(a.distance(b) * scale >= 3.0 for a, b in combinations(lying, 2))


@pytest.mark.parametrize(("name", "paper", "scale"), CASES)
def test_a_piece_that_fits_on_one_page_stays_on_one(name: str, paper: PaperName, scale: float) -> None:
    """Upright, lying or aslant by steps of 5 degrees; no joint cuts it."""
    made = planned(name, paper, scale)
    grid = grid_for(made.paper, scale)
    for placed in made.placed:
        if any(_fits(Polygon(placed.finished.cutting_line), turn, grid, 8.0 / scale) for turn in range(0, 180, 5)):
            loop = Polygon(placed.placement.points(placed.finished.cutting_line))
            sheet = made.sheets[placed.sheet - 1]
            assert any(box(*tile.box).contains(loop) for tile in tiles_of(sheet, grid))


def _fits(loop: Polygon, turn: int, grid: Grid, room: float) -> bool:
    left, bottom, right, top = rotate(loop, turn).bounds
    return right - left + room <= grid.width and top - bottom + room <= grid.height


@pytest.mark.parametrize(("name", "paper", "scale"), CASES)
def test_pages_cover_every_piece(name: str, paper: PaperName, scale: float) -> None:
    """No part of a cutting line is on no page, every page shows something, no label comes twice."""
    made = planned(name, paper, scale)
    assert len({tile.label for tile in made.tiles}) == len(made.tiles)
    for placed in made.placed:
        loop = Polygon(placed.placement.points(placed.finished.cutting_line))
        shown = unary_union([box(*tile.box) for tile in made.tiles if tile.sheet.number == placed.sheet])
        assert loop.difference(shown).area < 1e-6
    for tile in made.tiles:
        assert any(
            box(*tile.box).intersects(Polygon(p.placement.points(p.finished.cutting_line))) for p in tile.sheet.placed
        )


@pytest.mark.parametrize(("name", "paper"), [(name, paper) for name in NAMES for paper in TRIED])
def test_both_pages_at_a_joint_have_the_same_marks(name: str, paper: PaperName) -> None:
    """Right fits left and bottom fits top, each number is on two pages and no more, 10 mm or more inside the sheet."""
    made = planned(name, paper, 1.0)
    by_number: dict[int, list[tuple[str, float]]] = {}
    for joints in made.joints.values():
        for joint in joints:
            for distance, number in joint.marks:
                by_number.setdefault(number, []).append((joint.edge, distance))
                live = made.paper.live[1 if joint.edge in ("left", "right") else 0]
                assert 10.0 <= distance <= live - 10.0
    assert sorted(by_number) == list(range(1, len(by_number) + 1))
    for found in by_number.values():
        (first, at_first), (second, at_second) = found
        assert {first, second} in ({"left", "right"}, {"top", "bottom"})
        assert at_first == at_second


def test_marks_keep_clear_of_the_lines_they_can_avoid() -> None:
    """On every joint of the block each mark has 5 mm on both sides along the joint without any line of the piece.

    Nothing hinders that here: no joint of it has lines everywhere.
    """
    made = planned("block", "a4", 1.0)
    for tile in made.tiles:
        lying = [made.lines[p.finished.name].placed(p.placement) for p in tile.sheet.placed]
        strokes = unary_union([LineString(stroke.points) for drawing in lying for stroke in drawing.strokes()])
        left, _, _, top = tile.box
        for joint in made.joints[tile.label]:
            for distance, _ in joint.marks:
                if joint.edge == "left":
                    assert box(left - 5, tile.box[1] + distance - 5, left + 5, tile.box[1] + distance + 5).disjoint(
                        strokes
                    )
                if joint.edge == "top":
                    assert box(left + distance - 5, top - 5, left + distance + 5, top + 5).disjoint(strokes)

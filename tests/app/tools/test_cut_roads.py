"""Every way in which a line runs through a piece, drawn and cut by real mouse: what is cut, and what is said."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from core.design.design import Design
from core.geometry.polyline import Point, point_at
from core.pieces.seams import match
from tests.app.at_table import AtTable, first_steps, inside

ABOVE, BELOW = ("centre_front", 0.5), ("armhole", 0.5)
"""Both ends of a line over the shoulder dart, above the bust point: edges as they are shown, and shares of them."""


def place(at: AtTable, where: tuple[str, float] | Point | str) -> Point:
    """A place on the table: a share of an edge of the front as it is shown, a landmark, or mm of the piece."""
    item = at.table.scene.piece("front")
    assert item is not None
    if isinstance(where, str):
        return item.to_table(item.shown.landmarks[where])
    edge, share = where
    if isinstance(edge, str):
        points = item.shown.edge(edge)
        return item.to_table(point_at(points.points, share * points.length))
    return item.to_table((edge, share))


def draw(at: AtTable, *where: tuple[str, float] | Point | str, fold: str = "") -> None:
    """Draw a panel seam by clicks, with a dart folded where one is named, and end it."""
    if fold:
        at.hover(at.on("front", inside(at.piece("front").dart(fold))))
        QTest.keyClick(at.table, Qt.Key.Key_F)
        at.settle()
    at.take("panel-line")
    before = at.acts()
    for one in where:
        at.click(place(at, one))
    if at.acts() == before:
        at.press_key(Qt.Key.Key_Return)
    assert at.acts() == before + 1, at.said[-1]


def panels(at: AtTable) -> dict[str, int]:
    """The panels of the front, each with how many darts it holds."""
    return {p.name: len(p.darts) for p in at.session.replay.garment.pieces.values() if p.block == "front"}


def block() -> AtTable:
    """A new block, nothing drawn."""
    return AtTable(first_steps(0))


def cut(at: AtTable) -> None:
    """Take up the tool, all lines being chosen, and push its button."""
    at.take("cut")
    at.push("Cut")


def test_a_corner() -> None:
    """From the side to the waist beside the dart: a panel without darts."""
    at = block()
    draw(at, ("side", 0.4), ("waist.2", 0.6))
    cut(at)
    assert sorted(panels(at).values()) == [0, 2]


@pytest.mark.parametrize("apart", [False, True])
def test_over_a_dart_its_end_is_closed_or_left_as_two_panels(apart: bool) -> None:
    """Closed without more ado; a tick on the slip leaves a centre and a side panel with a seam between."""
    at = block()
    draw(at, ABOVE, BELOW, fold="front.shoulder_dart")
    at.take("cut")
    if apart:
        at.push("Leave the end of a crossed dart as two panels")
    at.push("Cut")
    assert sorted(panels(at).values()) == ([0, 0, 2] if apart else [0, 2])
    seams = at.session.replay.garment.seams
    assert ("front.shoulder_dart_end" in seams) == apart
    if apart:
        assert match(at.session.replay.garment, seams["front.shoulder_dart_end"]).difference == pytest.approx(
            0, abs=0.01
        )


def test_the_key_ticks_the_box() -> None:
    """A on the table is the same, and again closes the dart's end."""
    at = block()
    draw(at, ABOVE, BELOW, fold="front.shoulder_dart")
    at.take("cut")
    for count in (3, 2):
        at.press_key(Qt.Key.Key_A)
        tags = at.table.tool._tags  # type: ignore[attr-defined]
        assert len(tags) == count


def test_to_the_bust_point() -> None:
    """From the armhole: the waist dart runs on as the seam, the shoulder dart closes on the cut edge."""
    at = block()
    draw(at, ("armhole", 0.5), "bust_point")
    cut(at)
    assert list(panels(at).values()) == [0, 0]


def test_one_across_another() -> None:
    """A line over the shoulder dart and one from neck to waist: four panels in one cut."""
    at = block()
    draw(at, ABOVE, BELOW, fold="front.shoulder_dart")
    draw(at, ("neck", 0.7), ("waist.1", 0.4))
    cut(at)
    assert len(panels(at)) == 4
    assert sorted(panels(at).values()) == [0, 0, 0, 2]


def test_from_the_sheer_line_to_the_bust_point() -> None:
    """The demo's own order: three panels, no dart left."""
    at = AtTable(concert_lines())
    cut(at)
    assert list(panels(at).values()) == [0, 0, 0]


def concert_lines() -> Design:
    """The demo with its sheer line and princess line drawn."""
    return first_steps(4)


def test_beside_the_bust_point_the_residual_is_told() -> None:
    """15 mm towards the side: the note is in sight before anything is cut, and the dart stays in its panel."""
    at = block()
    x, y = at.piece("front").landmarks["bust_point"]
    end = at.piece("front").dart("front.waist_dart").legs[1]
    draw(at, ("armhole", 0.4), (x + 15.0, y), ((x + end[0]) / 2 + 15.0, (y + end[1]) / 2), ("waist.2", 0.2))
    notes = [note.sentence for stage in at.session.replay.stages for note in stage.notes]
    assert any("beside the pivot of the waist dart" in sentence for sentence in notes)
    cut(at)
    assert sorted(panels(at).values()) == [0, 2]


def test_a_line_over_an_open_dart_is_refused_with_the_way_out() -> None:
    """Not folded, the legs are met unequally: a sentence, nothing drawn."""
    at = block()
    at.take("panel-line")
    for one in (ABOVE, BELOW):
        at.click(place(at, one))
    assert "folded" in at.said[-1]
    assert at.acts() == 0

"""A frame of a drag: the line at once, the garment soon after, no more drawn than has changed, and all of it right."""

from __future__ import annotations

from collections.abc import Callable

import msgspec
import numpy as np
import pytest
from numpy.typing import NDArray
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QImage, QPixmap, QRegion
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from app.canvas.table import CuttingTable
from app.tools.choose import tool_for
from app.tools.edit_line import EditLine
from app.tools.editing import take_up
from core.design.design import Design
from core.design.replay import replay
from core.steps.move_edge import MoveEdge
from core.steps.pivot import Pivot
from core.steps.step import Step
from core.steps.take_in import Level, TakeIn
from tests.app.at_table import LEFT, AtTable
from tests.demo_designs import concert


def at_step(step_id: str) -> AtTable:
    """A table with the tool that alters a step of the demo in hand."""
    at = AtTable(concert())
    step = next(step for step in at.session.design.steps if step.id == step_id)
    at.table.set_tool(tool_for(at.table, step))
    at.settle()
    return at


def pixels(picture: QPixmap) -> NDArray[np.uint32]:
    """The pixels of a picture (rows, columns)."""
    image = picture.toImage().convertToFormat(QImage.Format.Format_RGB32)
    return np.frombuffer(image.constBits(), np.uint32).reshape(image.height(), image.width()).copy()


def on_screen(table: CuttingTable) -> NDArray[np.uint32]:
    """What the screen shows of the table: every frame that was drawn, one over the other."""
    QApplication.processEvents()
    return pixels(table.screen().grabWindow(table.winId()))


def is_behind(at: AtTable) -> bool:
    """Whether the garment has still to follow the hand."""
    return at.session.is_trying


def refusal(at: AtTable) -> str:
    """Why the line cannot lie where it is, or ""."""
    assert isinstance(at.table.tool, EditLine)
    return at.table.tool.refusal


def never_at_once(at: AtTable) -> None:
    """Let no more than one step be worked out in a frame, as for a large design."""
    at.session._trial.share = 0.0


@pytest.mark.parametrize(
    ("step", "handle"), [("sheer-line-1", "Point 2"), ("sheer-line-1", "Point 4"), ("neckline-1", "Width")]
)
def test_what_was_drawn_in_parts_is_what_is_drawn_whole(step: str, handle: str) -> None:
    """After every frame of a drag the screen shows, pixel for pixel, what it shows when all of it is drawn anew."""
    at = at_step(step)
    key = next(one.at for one in at.table.shown_handles if one.words.startswith(handle))
    start = at.pixel(key)
    QTest.mousePress(at.table, LEFT, pos=start)
    for number in range(1, 9):
        QTest.mouseMove(at.table, start + QPoint(5 * number % 23 - 9, 7 * number % 31))
        at.settle()
        assert np.array_equal(on_screen(at.table), pixels(at.table.grab()))
    QTest.mouseRelease(at.table, LEFT, pos=start)


def seam_taken_in() -> Design:
    """The demo with its front princess seam taken in before the cup."""
    levels = (Level("sheer_line", 3.0, 3.0), Level("bust_point", 0.0, 0.0))
    *before, cup = concert().steps
    return msgspec.structs.replace(concert(), steps=(*before, TakeIn("take-in-1", "front.princess", levels), cup))


def edge_moved() -> Design:
    """The demo with the waist of its side front moved before the cup."""
    *before, cup = concert().steps
    step = MoveEdge("move-edge-1", "side front", "waist", 10.0)
    return msgspec.structs.replace(concert(), steps=(*before, step, cup))


ALTERED: tuple[tuple[Callable[[], Design], type[Step], str], ...] = (
    (concert, Pivot, "Share"),
    (seam_taken_in, TakeIn, "side front at the sheer line"),
    (edge_moved, MoveEdge, ""),
)


@pytest.mark.parametrize(("design", "kind", "handle"), ALTERED, ids=[kind.__name__ for _, kind, _ in ALTERED])
def test_a_tool_that_alters_a_step_draws_in_parts_what_it_draws_whole(
    design: Callable[[], Design], kind: type[Step], handle: str
) -> None:
    """The same for tools that make a step and are taken up for one that is there: no word of theirs is left behind."""
    at = AtTable(design())
    assert take_up(at.table, next(step for step in at.session.design.steps if isinstance(step, kind)))
    at.settle()
    start = at.pixel(next(one.at for one in at.table.shown_handles if one.words.startswith(handle) and one.moves))
    QTest.mousePress(at.table, LEFT, pos=start)
    in_parts = 0
    for number in range(1, 9):
        QTest.mouseMove(at.table, start + QPoint(5 * number % 23 - 9, 7 * number % 31))
        at.settle()
        in_parts += at.table.tool.covers() is not None
        assert np.array_equal(on_screen(at.table), pixels(at.table.grab()))
    QTest.mouseRelease(at.table, LEFT, pos=start)
    assert in_parts == 8


def test_a_frame_draws_little_of_the_table(monkeypatch: pytest.MonkeyPatch) -> None:
    """While only the line has moved, less than a tenth of the table is drawn anew."""
    at = at_step("sheer-line-1")
    never_at_once(at)
    asked: list[QRegion] = []
    keep: Callable[..., QRegion | None] = at.table.redrawing.region

    def region(table: CuttingTable) -> QRegion | None:
        found = keep(table)
        if found is not None:
            asked.append(found)
        return found

    monkeypatch.setattr(at.table.redrawing, "region", region)
    start = at.pixel(at.handle("Point 2 of sheer line").at)
    QTest.mousePress(at.table, LEFT, pos=start)
    for number in range(1, 9):
        QTest.mouseMove(at.table, start + QPoint(3, 6 + number))
        QApplication.processEvents()
    QTest.mouseRelease(at.table, LEFT, pos=start)
    least = min(one.boundingRect().width() * one.boundingRect().height() for one in asked)
    assert least < 0.1 * at.table.width() * at.table.height()


def test_the_line_is_there_at_once_and_the_garment_soon_after() -> None:
    """In the frame of the move the handle is under the pointer; the panels follow without another move."""
    at = at_step("sheer-line-1")
    never_at_once(at)
    before, start = at.session.shown, at.pixel(at.handle("Point 2 of sheer line").at)
    QTest.mousePress(at.table, LEFT, pos=start)
    there = start + QPoint(4, 15)
    QTest.mouseMove(at.table, there)
    QApplication.processEvents()
    x, y = at.table.view.to_pixels(at.handle("Point 2 of sheer line").at)
    assert (x, y) == pytest.approx((there.x(), there.y()), abs=0.5)
    assert is_behind(at)
    assert at.session.shown is before
    at.settle()
    assert at.session.shown is not before
    QTest.mouseRelease(at.table, LEFT, pos=there)


def test_on_release_all_of_it_is_what_a_fresh_replay_gives() -> None:
    """Let go before the garment has followed: it is worked out whole, and kept as one act."""
    at = at_step("sheer-line-1")
    never_at_once(at)
    start = at.pixel(at.handle("Point 2 of sheer line").at)
    QTest.mousePress(at.table, LEFT, pos=start)
    for number in range(1, 6):
        QTest.mouseMove(at.table, start + QPoint(number, 4 * number))
        QApplication.processEvents()
    QTest.mouseRelease(at.table, LEFT, pos=start + QPoint(5, 20))
    assert not is_behind(at)
    assert at.acts() == 1
    fresh = replay(at.session.design).garment
    assert {name: piece.loop.tobytes() for name, piece in at.session.shown.garment.pieces.items()} == {
        name: piece.loop.tobytes() for name, piece in fresh.pieces.items()
    }


def test_esc_drops_what_has_not_followed_yet() -> None:
    """Nothing of the drag comes into view afterwards."""
    at = at_step("sheer-line-1")
    never_at_once(at)
    before, start = at.session.design, at.pixel(at.handle("Point 2 of sheer line").at)
    QTest.mousePress(at.table, LEFT, pos=start)
    QTest.mouseMove(at.table, start + QPoint(4, 15))
    QApplication.processEvents()
    assert is_behind(at)
    QTest.keyClick(at.table, Qt.Key.Key_Escape)
    assert not is_behind(at)
    at.settle()
    assert at.session.shown is at.session.replay
    assert at.session.design is before
    QTest.mouseRelease(at.table, LEFT, pos=start)


def test_a_line_that_cannot_lie_there_is_said_once_it_is_known() -> None:
    """The refusal comes as soon as it is worked out; back on good ground it is gone again."""
    at = at_step("sheer-line-1")
    never_at_once(at)
    start = at.pixel(at.handle("Point 2 of sheer line").at)
    QTest.mousePress(at.table, LEFT, pos=start)
    at.said.clear()
    QTest.mouseMove(at.table, start + QPoint(400, 150))
    at.settle()
    assert refusal(at)
    assert at.said[-1] == refusal(at)
    QTest.mouseMove(at.table, start + QPoint(2, 8))
    at.settle()
    assert at.said[-1].startswith("Sheer line ")
    assert not refusal(at)
    QTest.mouseRelease(at.table, LEFT, pos=start)

"""The neckline is dragged where it lies, front and back as one."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from core.steps.neckline import Neckline
from tests.app.at_table import AtTable, first_steps
from tests.demo_designs import concert


def neckline(at: AtTable) -> Neckline:
    """The one neckline of the design."""
    (found,) = (step for step in at.session.design.steps if isinstance(step, Neckline))
    return found


def test_a_first_neckline_is_shown_and_kept_when_it_has_been_dragged() -> None:
    """The depth at centre front follows the pointer live; one act is added."""
    at = AtTable(first_steps(1), tool="neckline")
    start = at.handle("Depth at centre front").at
    at.press(start)
    QTest.mouseMove(at.table, at.pixel((start[0] + 20.0, start[1] - 15.0)))
    at.settle()
    assert at.session.shown.garment.piece("front").edge("neck").points[-1][1] == pytest.approx(
        start[1] - 15.0, abs=1.0 / at.table.view.scale
    )
    assert at.acts() == 0
    at.release((start[0], start[1] - 30.0))
    assert at.acts() == 1
    assert neckline(at).front_depth == pytest.approx(50.8 + 30.0, abs=1.0 / at.table.view.scale)


def test_enter_keeps_the_first_one_as_it_is_shown() -> None:
    """For a hand that does not drag."""
    at = AtTable(first_steps(1), tool="neckline")
    at.press_key(Qt.Key.Key_Return)
    assert neckline(at).front_depth == 50.8


def test_esc_leaves_the_neck_as_drafted() -> None:
    """Nothing is added."""
    at = AtTable(first_steps(1), tool="neckline")
    at.press_key(Qt.Key.Key_Escape)
    assert at.session.shown is at.session.replay
    assert at.acts() == 0


def test_the_neckline_of_a_finished_bodice_is_altered_through_its_panels() -> None:
    """Widened along the shoulder by a drag: the yoke of net and the back panel follow, the seams still match."""
    at = AtTable(concert(), tool="neckline")
    before = neckline(at)
    start = at.handle("Width of the neckline").at
    shoulder = at.session.replay.block.piece("front").edge("shoulder.2").points
    along = (shoulder[0] - shoulder[-1]) / float(((shoulder[0] - shoulder[-1]) ** 2).sum() ** 0.5)
    at.drag(
        start,
        (start[0] + 8.0 * along[0], start[1] + 8.0 * along[1]),
        (start[0] + 16.0 * along[0], start[1] + 16.0 * along[1]),
    )
    after = neckline(at)
    assert after.width > before.width + 12.0
    assert (after.front_depth, after.back_depth) == (before.front_depth, before.back_depth)
    assert all(mark.verdict in ("exact", "good") for mark in at.table.scene.marks)


def test_arrow_keys_deepen_it_by_exact_steps() -> None:
    """10 mm with Shift, at the back."""
    at = AtTable(concert(), tool="neckline")
    before = neckline(at)
    at.table.focus_handle("back")
    at.press_key(Qt.Key.Key_Down, Qt.KeyboardModifier.ShiftModifier)
    assert neckline(at).back_depth == pytest.approx(before.back_depth + 10.0, abs=1e-6)


def test_a_new_neckline_goes_before_the_first_cut() -> None:
    """On a bodice that is cut already it is laid where there is still a whole front."""
    whole = concert()
    at = AtTable(whole.without_step("neckline-1"), tool="neckline")
    at.press_key(Qt.Key.Key_Return)
    kinds = [type(step).__name__ for step in at.session.design.steps]
    assert kinds.index("Neckline") < kinds.index("Cut")
    assert at.session.replay.refused is None

"""From a new client to her printed pages with nothing but mouse and keys."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QApplication,
    QLabel,
    QLineEdit,
    QMainWindow,
    QMenu,
    QPushButton,
    QToolButton,
    QWidget,
)

if TYPE_CHECKING:
    from pathlib import Path

    from pytestqt.qtbot import QtBot

from tests.app.at_window import dialog, opened
from tests.app.journeys import (
    CONTROL,
    HERS,
    LEFT,
    choose_seam,
    click,
    click_at,
    drag,
    hover,
    named,
    seams,
    step_texts,
    take,
    take_in_one_side,
)


def test_from_a_new_client_to_her_pages(qtbot: QtBot, tmp_path: Path) -> None:
    """Measured, drafted, drawn, pivoted, cut, trimmed, the pages lie in a file; undo and redo give both ends again."""
    window = opened(qtbot)
    assert state(window, "Measure").startswith("next")
    draft_new_client(qtbot, window)
    begun = reads(window)
    assert state(window, "Measure") == state(window, "Draft") == "done"
    assert state(window, "Draw") == "next: neckline"
    draw_neckline(window)
    draw_sheer_line(window)
    pivot_shoulder_dart(window)
    take(window, "Cut into panels")
    QTest.mouseClick(named(QPushButton, "Cut", window), LEFT)
    assert seams(window)["front sheer line"][-1] == "= exact"
    assert seams(window)["front sheer line"][0] == "front yoke to lower front"
    assert state(window, "Panels") == state(window, "Match") == "done"
    take_in_one_side_and_trim(window)
    ended = reads(window)
    path = tmp_path / "hers.pdf"
    print_pages(qtbot, window, path)
    assert path.read_bytes().startswith(b"%PDF")
    assert travelled(window, "Undo", begun) == travelled(window, "Redo", ended) == 6


def state(window: QWidget, station: str) -> str:
    """What a station of the order of work says of itself, in the turn of the loop after an act."""
    QTest.qWait(1)
    return named(QLabel, f"{station}: ", window).accessibleName().partition(": ")[2]


def draft_new_client(qtbot: QtBot, window: QWidget) -> None:
    """New, her name, her measurements, draft."""
    QTest.mouseClick(named(QToolButton, "New", window), LEFT)
    box = dialog(qtbot, "New client")
    QTest.keyClicks(named(QLineEdit, "Client", box), "Mrs Thornapple")
    for name, text in HERS.items():
        field = named(QLineEdit, name, box)
        QTest.mouseClick(field, LEFT)
        field.selectAll()
        QTest.keyClicks(field, text)
    with qtbot.waitActive(window):
        QTest.mouseClick(named(QPushButton, "Draft the block", box), LEFT)
        window.activateWindow()


def draw_neckline(window: QWidget) -> None:
    """Lower the proposed neckline at the centre front by a drag, which keeps it."""
    take(window, "Neckline")
    drag(window, "Depth at centre front", QPoint(0, 8))
    QApplication.processEvents()
    assert step_texts(window)[0].startswith("1. Cut a round neckline")


def draw_sheer_line(window: QMainWindow) -> None:
    """With the shoulder dart folded, from the centre front to wherever the armhole is met."""
    take(window, "Choose")
    click(window, "Piece front")
    fold_shoulder_dart(window)
    take(window, "Sheer line")
    centre = below_the_pit(window)
    click_at(window, centre)
    click_at(window, centre + QPoint(40, 6))
    click_at(window, first_spot(window, "Armhole", centre + QPoint(60, 14), QPoint(3, 0)))
    assert "with the shoulder dart folded" in step_texts(window)[1]


def below_the_pit(window: QWidget) -> QPoint:
    """A spot on the centre front a little under the neckline, wherever the table shows it now."""
    half_way = QPoint(30, named(QWidget, "Cutting table", window).height() // 2)
    on_fold = first_spot(window, "Centre front", half_way, QPoint(6, 0))
    top = first_spot(window, "Centre front", QPoint(on_fold.x(), 40), QPoint(0, 2))
    return first_spot(window, "Centre front", top + QPoint(0, 12), QPoint(0, 2))


def pivot_shoulder_dart(window: QWidget) -> None:
    """Three clicks: the dart, where it goes, and the button."""
    take(window, "Pivot a dart")
    click(window, "Shoulder dart of front")
    click(window, "To the waist dart")
    QTest.mouseClick(named(QPushButton, "Pivot", window), LEFT)
    assert step_texts(window)[2].startswith("3. Pivot the shoulder dart into the waist dart")


def take_in_one_side_and_trim(window: QWidget) -> None:
    """Half an inch off the front alone at the side seam, and both sides made equal again."""
    take_in_one_side(window, "side", "lower front", "1/2")
    assert seams(window)["side"][-1] != "= exact"
    choose_seam(window, "side")
    QTest.mouseClick(named(QPushButton, "Trim to match", window), LEFT)
    assert seams(window)["side"][-1] == "= exact"


def reads(window: QWidget) -> tuple[object, ...]:
    """All that the window says of the design: steps, seams, and the pieces with their places."""
    take(window, "Choose")
    lying = named(QWidget, "Cutting table", window).findChildren(QWidget)
    return (step_texts(window), seams(window), {w.accessibleName() for w in lying if w.isVisible()})


def travelled(window: QWidget, button: str, goal: tuple[object, ...]) -> int:
    """Press Undo or Redo until the window reads as it did once; how often that took."""
    for count in range(1, 40):
        QTest.mouseClick(named(QToolButton, button, window), LEFT)
        if reads(window) == goal:
            return count
    pytest.fail(f"{reads(window)} is not {goal}")


def first_spot(window: QWidget, words: str, start: QPoint, step: QPoint) -> QPoint:
    """The first spot on the way from a start where the status line begins with these words."""
    return next(spot for spot in (start + step * n for n in range(200)) if hover(window, spot).startswith(words))


def fold_shoulder_dart(window: QMainWindow) -> None:
    """Fold one dart of the piece after the other until it is the one at the shoulder."""
    actions = [action for menu in window.findChildren(QMenu) for action in menu.actions()]
    fold = next(action for action in actions if action.text().startswith("&Fold"))
    for _ in range(3):
        words = fold.text()
        QTest.keyClick(named(QWidget, "Cutting table", window), Qt.Key.Key_D, CONTROL)
        if "shoulder" in words:
            return
    pytest.fail("no dart at the shoulder could be folded")


def print_pages(qtbot: QtBot, window: QWidget, path: Path) -> None:
    """Press the last station, name the file, print, and wait until it is said that the pages are there."""
    QTest.mouseClick(named(QPushButton, "Print", window), LEFT)
    box = dialog(qtbot, "Print")
    counted = named(QLabel, "Page count", box)
    qtbot.waitUntil(lambda: "pages of" in counted.text(), timeout=10_000)
    count = counted.text().split()[0]
    field = named(QLineEdit, "File", box)
    field.selectAll()
    QTest.keyClicks(field, str(path))
    QTest.mouseClick(named(QPushButton, "Print", box), LEFT)
    words = f"{count} pages were written to {path.name}."
    qtbot.waitUntil(lambda: named(QLabel, "How to print", box).text().startswith(words), timeout=10_000)

"""The whole window with real mouse and keys, widgets found by their accessible names."""

from __future__ import annotations

import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QFont
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QDialog, QFileDialog, QLineEdit, QPushButton, QWidget

from app.__main__ import make_window

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window.main_window import MainWindow
    from core.design.design import Design

W = TypeVar("W", bound=QWidget)


@contextmanager
def text_size(times: float) -> Iterator[None]:
    """The desktop's text, so many times its size."""
    before = QApplication.font()
    font = QFont(before)
    font.setPointSizeF(times * before.pointSizeF())
    QApplication.setFont(font)
    try:
        yield
    finally:
        QApplication.setFont(before)


LEFT = Qt.MouseButton.LeftButton


def opened(qtbot: QtBot, path: Path | None = None, *, demo: bool = False) -> MainWindow:
    """The window, shown and ready for keys."""
    window = make_window(path, demo)
    with qtbot.waitActive(window):
        window.show()
        window.activateWindow()
    return window


def found(kind: type[W], name: str, within: QWidget) -> W:
    """The one visible widget of that accessible name."""
    named = [w for w in within.findChildren(kind) if w.accessibleName() == name and w.isVisible()]
    assert len(named) == 1, f"{len(named)} visible widgets are called {name}"
    return named[0]


def dialog(qtbot: QtBot, name: str) -> QDialog:
    """The open dialog of that accessible name."""

    def is_open() -> bool:
        return any(w.accessibleName() == name and w.isVisible() for w in QApplication.topLevelWidgets())

    qtbot.waitUntil(is_open)
    box = next(w for w in QApplication.topLevelWidgets() if w.accessibleName() == name and w.isVisible())
    assert isinstance(box, QDialog)
    return box


def press(name: str, within: QWidget) -> None:
    """Click the button of that name."""
    QTest.mouseClick(found(QPushButton, name, within), LEFT)


def name_file(qtbot: QtBot, title: str, path: Path) -> None:
    """Give a file dialog a path and accept it by Enter."""
    box = dialog(qtbot, title)
    assert isinstance(box, QFileDialog)
    field = box.findChild(QLineEdit, "fileNameEdit")
    assert field is not None
    field.setText(str(path))
    QTest.keyClick(field, Qt.Key.Key_Return)


def alter(window: MainWindow, name: str, text: str) -> None:
    """Type another measurement."""
    field = found(QLineEdit, name, window)
    field.setFocus()
    field.selectAll()
    QTest.keyClicks(field, text)
    QTest.keyClick(field, Qt.Key.Key_Return)


def bust(design: Design) -> float:
    """Her bust, in inches."""
    return design.body.measurements["bust"] / 25.4


def wait_for_handler(process: subprocess.Popen[str], number: int) -> None:
    """Wait until a process has a handler for a signal (the bit mask that proc(5) calls SigCgt)."""
    status = Path(f"/proc/{process.pid}/status")
    while process.poll() is None:
        mask = next(line for line in status.read_text().splitlines() if line.startswith("SigCgt:"))
        if int(mask.split()[1], 16) >> (number - 1) & 1:
            return
    errors = process.stderr.read() if process.stderr else ""
    pytest.fail(f"the process ended before it opened a window: {errors}")

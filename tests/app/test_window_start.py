"""Starting the window: the garment first, then the rest; nothing is imported that only a later act needs."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLineEdit, QListWidget, QMessageBox, QTableWidget, QWidget

from app.__main__ import make_window
from app.window.start import first_window, greet, why_empty
from tests.app.at_window import found

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window.main_window import MainWindow

LIBRARIES = ("scipy", "reportlab", "ezdxf", "spyrrow", "PIL", "numpy.ma")
"""The form, PDF, DXF, lays and lesson pictures have a library each; numpy brings masked arrays by its `unique`."""

LATER = ("app.dialogs.new_design", "app.panels.seams", "app.panels.measurements", "app.tools.makers", "core.form")
"""Some of what no first picture shows."""

STARTED = f"""
import sys
import app.window.before_qt
assert not any(name.startswith("PySide6") for name in sys.modules)
before = set(sys.modules)
from app.window.start import Running, first_window
application = Running()
assert application.style().objectName() == "fusion"
window = first_window(demo=True)
window.show()
window.grab()
print("late:", *(name for name in sys.modules if name.startswith("core.") and name not in before))
print("not yet:", *(name for name in {LATER!r} if name in sys.modules))
window.fill()
application.processEvents()
print("slow:", *(name for name in {LIBRARIES!r} if name in sys.modules))
window.close()
window.deleteLater()
application.processEvents()
"""


def test_the_start_imports_what_it_needs_and_no_more() -> None:
    """The core before Qt, for the first picture no more than it shows, and for the rest no slow library."""
    done = subprocess.run([sys.executable, "-c", STARTED], capture_output=True, text=True, check=True, timeout=120)
    assert done.stdout.splitlines() == ["late:", "not yet:", "slow:"]


def parts(window: MainWindow) -> list[QWidget]:
    """What shows the design round the table."""
    return [w for kind in (QTableWidget, QListWidget, QLineEdit) for w in window.findChildren(kind)]


def places(window: MainWindow) -> list[object]:
    """Where everything stands."""
    around = (window.order.geometry(), window.table.geometry(), window.bars.buttons["tool-cup"].geometry())
    return [*around, window.across.sizes(), window.down.sizes(), window.beside.sizes()]


def test_the_garment_is_painted_first_and_stays_where_it_is(qtbot: QtBot) -> None:
    """With the first picture no panel is there; all come by themselves, and nothing moves for them."""
    window = first_window(demo=True)
    window.resize(1280, 800)
    with qtbot.waitSignal(window.filled):
        window.show()
        assert not parts(window)
        assert window.table.scene.laid
        before = places(window)
    assert len(parts(window)) > 20
    QApplication.processEvents()
    assert places(window) == before


def test_nothing_is_said_of_the_work_before_it_is_looked_at(qtbot: QtBot) -> None:
    """The stations keep silent until their states are known: a verdict is never shown that is not true."""
    window = first_window(demo=True)
    qtbot.addWidget(window)
    assert [mark.words.text() for mark in window.order.marks] == [""] * 8
    window.fill()
    assert all(mark.words.text() for mark in window.order.marks)


def test_a_panel_is_there_as_soon_as_it_is_wanted(qtbot: QtBot) -> None:
    """Going to the measurements before they have come makes them at once, and gives them the keyboard."""
    window = first_window(demo=True)
    with qtbot.waitActive(window):
        window.show()
        window.activateWindow()
    window.desk.wanted.emit("Measurements")
    focused = QApplication.focusWidget()
    assert isinstance(focused, QLineEdit)
    assert window.measurements.isAncestorOf(focused)


def test_an_act_before_the_panels_come_is_shown_in_them(qtbot: QtBot) -> None:
    """What is done, selected and recoloured meanwhile is what they show when they are made."""
    window = first_window(demo=True)
    design = window.session.design
    window.session.do("Centimetres", replace(design, unit="cm"))
    window.table.select("side front")
    window.desk.set_theme("dark")
    window.show()
    qtbot.waitUntil(lambda: "seams" in window.__dict__)
    window.fill()
    length = found(QTableWidget, "Seam table", window).item(0, 2)
    assert length is not None
    assert length.text().endswith("cm")
    assert "side front" in " ".join(w.text() for w in window.piece.findChildren(QWidget) if hasattr(w, "text"))
    assert all(panel.theme is window.table.theme for panel in window.panels)


def test_closed_before_it_is_full_it_stays_closed(qtbot: QtBot) -> None:
    """No panel is made for a window that has gone, and nobody is greeted by it."""
    window = first_window(demo=True)
    told: list[bool] = []
    window.filled.connect(lambda: told.append(True))
    window.show()
    window.close()
    qtbot.wait(100)
    assert not told
    assert not parts(window)


def test_the_keyboard_comes_to_the_parts_in_one_order(qtbot: QtBot) -> None:
    """Tab goes from the order of work to the table, the tools, the measurements, the steps, and the seams."""
    window = make_window(None, demo=True)
    qtbot.addWidget(window)
    window.show()
    stops = [window.order, window.table, *window.bars.buttons.values()][:3]
    stops += [window.measurements, window.steps, window.seams]
    order: list[QWidget] = []
    at = window.nextInFocusChain()
    while at is not None and at is not window:
        part = next((stop for stop in stops if stop is at or stop.isAncestorOf(at)), None)
        if part is not None and part not in order and at.focusPolicy() & Qt.FocusPolicy.TabFocus:
            order.append(part)
        at = at.nextInFocusChain()
    assert order == stops


RUN = """
from app.window import start

def greet(window, why, *, is_new):
    print(len(window.panels), is_new, why)
    window.close_now()

start.greet = greet
print(start.run_window(None, demo=False))
"""


def test_nothing_is_asked_before_everything_is_in_its_place() -> None:
    """A start without a file asks once, when all five panels are there, and ends well when the window is closed."""
    done = subprocess.run([sys.executable, "-c", RUN], capture_output=True, text=True, check=True, timeout=120)
    assert done.stdout.split() == ["5", "True", "0"]


def test_after_bad_ends_it_says_why_it_is_empty(qtbot: QtBot) -> None:
    """The file that was not opened is named, and no client is asked for."""
    window = make_window()
    window.show()
    greet(window, why_empty(Path("gown.sheer")), is_new=True)
    qtbot.waitUntil(lambda: QApplication.activeModalWidget() is not None)
    box = QApplication.activeModalWidget()
    assert isinstance(box, QMessageBox)
    assert "gown.sheer was not opened" in box.text()


def test_a_newcomer_is_asked_for_her_client_when_all_is_there(qtbot: QtBot) -> None:
    """The walk is offered on the table, and the dialog of a new client stands before it."""
    window = make_window()
    window.show()
    greet(window, "", is_new=True)
    qtbot.waitUntil(lambda: QApplication.activeModalWidget() is not None)
    modal = QApplication.activeModalWidget()
    assert modal is not None
    assert modal.accessibleName() == "New client"

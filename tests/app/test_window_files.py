"""The window with real mouse and keys: files, history, closing, and what is asked before work is lost."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel, QLineEdit, QMessageBox

from app import settings
from app.__main__ import make_window
from app.actions.bar import TableMenu
from core.errors import Refusal
from core.file.reader import read_design
from core.units import parse_length
from tests.app.at_window import LEFT, alter, dialog, found, name_file, opened, press

if TYPE_CHECKING:
    from pathlib import Path

    from pytestqt.qtbot import QtBot

    from app.window.main_window import MainWindow


def bust(window: MainWindow) -> float:
    """The bust of the open design in mm."""
    return window.session.design.body.measurements["bust"]


def test_the_demo_opens_as_an_unsaved_copy(qtbot: QtBot) -> None:
    """The demo has no file, is named by its own name, is not modified, and its seams are in the seam table."""
    window = opened(qtbot, demo=True)
    assert window.session.path is None
    assert window.windowTitle() == "Concert bodice with a sheer yoke[*] \N{EN DASH} Sheerwright"
    assert not window.isWindowModified()
    assert window.seams.table.accessibleName() == "Seam table"
    assert window.seams.table.rowCount() == len(window.session.replay.garment.seams)


def test_undo_and_redo_name_the_act_and_mark_the_window(qtbot: QtBot) -> None:
    """A typed bust is one act: Ctrl+Z takes it back by name, Ctrl+Y and Ctrl+Shift+Z do it again."""
    window = opened(qtbot)
    before = bust(window)
    alter(window, "bust", "37 1/4")
    assert bust(window) == pytest.approx(37.25 * 25.4)
    assert window.isWindowModified()
    assert window.bars.actions["undo"].text() == "&Undo bust 37 1/4 in"
    QTest.keyClick(window.table, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert bust(window) == before
    assert not window.isWindowModified()
    assert window.bars.actions["redo"].text() == "&Redo bust 37 1/4 in"
    QTest.keyClick(window.table, Qt.Key.Key_Y, Qt.KeyboardModifier.ControlModifier)
    assert bust(window) == pytest.approx(37.25 * 25.4)
    window.session.undo()
    both = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier
    QTest.keyClick(window.table, Qt.Key.Key_Z, both)
    assert bust(window) == pytest.approx(37.25 * 25.4)


def test_a_design_saved_and_opened_again_is_the_same(qtbot: QtBot, tmp_path: Path) -> None:
    """Save asks for a file where there is none; what is opened from it equals what was saved."""
    window = opened(qtbot)
    alter(window, "waist", "29")
    QTest.keyClick(window.table, Qt.Key.Key_S, Qt.KeyboardModifier.ControlModifier)
    path = tmp_path / "hers.sheer"
    name_file(qtbot, "Save the design", path)
    assert read_design(path) == window.session.design
    assert not window.isWindowModified()
    assert window.windowTitle() == "hers.sheer[*] \N{EN DASH} Sheerwright"
    assert settings.recent_files() == (path,)
    again = opened(qtbot, path)
    assert again.session.design == window.session.design


def test_a_second_save_asks_nothing(qtbot: QtBot, tmp_path: Path) -> None:
    """A design that has a file is saved to it at once."""
    path = tmp_path / "hers.sheer"
    window = opened(qtbot)
    window.session.save(path)
    alter(window, "waist", "29")
    QTest.keyClick(window.table, Qt.Key.Key_S, Qt.KeyboardModifier.ControlModifier)
    assert read_design(path).body.measurements["waist"] == pytest.approx(29 * 25.4)


def test_closing_with_unsaved_work_asks_and_cancel_keeps_it(qtbot: QtBot) -> None:
    """Cancel leaves the window open with its work; discard closes it."""
    window = opened(qtbot)
    alter(window, "bust", "38")
    window.close()
    press("Cancel", dialog(qtbot, "Unsaved work"))
    assert window.isVisible()
    assert window.isWindowModified()
    window.close()
    press("Discard", dialog(qtbot, "Unsaved work"))
    assert not window.isVisible()


def test_closing_can_save_first(qtbot: QtBot, tmp_path: Path) -> None:
    """Save asks for the file, writes it, and then the window closes as was wanted."""
    window = opened(qtbot)
    alter(window, "bust", "38")
    window.close()
    press("Save", dialog(qtbot, "Unsaved work"))
    path = tmp_path / "kept.sheer"
    name_file(qtbot, "Save the design", path)
    qtbot.waitUntil(lambda: not window.isVisible())
    assert read_design(path).body.measurements["bust"] == pytest.approx(38 * 25.4)


def test_a_file_that_is_no_design_is_refused_in_a_sentence_and_nothing_changes(qtbot: QtBot, tmp_path: Path) -> None:
    """The sentence names the file, and the design in hand stays open."""
    broken = tmp_path / "broken.sheer"
    broken.write_text("no design")
    window = opened(qtbot)
    before = window.session.design
    window.desk.files.open_path(broken)
    box = dialog(qtbot, "Message")
    assert isinstance(box, QMessageBox)
    assert "broken.sheer" in box.text()
    assert window.session.design is before
    press("OK", box)
    with pytest.raises(Refusal, match=r"broken\.sheer"):
        make_window(broken)


def test_a_dropped_design_is_opened(qtbot: QtBot, tmp_path: Path) -> None:
    """One .sheer file dropped on the window opens; another kind of file is not taken."""
    path = tmp_path / "hers.sheer"
    make_window().session.save(path)
    window = opened(qtbot)
    assert not drop(window, tmp_path / "picture.png")
    assert drop(window, path)
    assert window.session.path == path


def drop(window: MainWindow, path: Path) -> bool:
    """Drop a file on the window; whether it was taken."""
    mime = QMimeData()
    mime.setUrls([QUrl.fromLocalFile(str(path))])
    action, none = Qt.DropAction.CopyAction, Qt.KeyboardModifier.NoModifier
    entering = QDragEnterEvent(QPoint(300, 300), action, mime, LEFT, none)
    entering.ignore()
    QApplication.sendEvent(window, entering)
    if not entering.isAccepted():
        return False
    QApplication.sendEvent(window, QDropEvent(QPointF(300, 300), action, mime, LEFT, none))
    return True


def test_a_new_client_begins_at_the_average_figure_marked_so(qtbot: QtBot) -> None:
    """Each says whether it is the average's, the size table's or hers; the window says what nobody has measured."""
    window = opened(qtbot)
    QTest.keyClick(window.table, Qt.Key.Key_N, Qt.KeyboardModifier.ControlModifier)
    box = dialog(qtbot, "New client")
    marks = [label for label in box.findChildren(QLabel) if label.text() == "average figure, replace with hers"]
    assert len(marks) == 9
    QTest.keyClicks(found(QLineEdit, "Client", box), "Mrs Thornapple")
    field = found(QLineEdit, "Bust", box)
    field.selectAll()
    QTest.keyClicks(field, "37 1/2")
    assert found(QLabel, "Bust: hers", box).text() == "hers"
    # Her bust brings the size table's figure for the rest: her waist between rows 917 and 958 (trade.md A6).
    assert found(QLabel, "Waist: size table, replace with hers", box).isVisible()
    waist = parse_length(found(QLineEdit, "Waist", box).text(), "in")
    assert waist == pytest.approx(730.0 + 38.0 * (952.5 - 917.0) / 41.0, abs=1.0)
    press("Draft the block", box)
    design = window.session.design
    assert design.name == "Bodice for Mrs Thornapple"
    assert "waist" in design.body.from_table
    assert "bust" not in design.body.from_table
    assert design.body.measurements["bust"] == parse_length("37 1/2", "in")
    words = found(QLabel, "Not measured yet", window)
    assert words.text() == "8 measurements: size table, replace with hers"
    assert words.toolTip().startswith("high bust, under-bust, waist")
    assert window.measurements.rows["bust"].state.text() == "hers"
    assert window.measurements.rows["waist"].state.text() == "size table"
    alter(window, "waist", "29")
    assert words.text().startswith("7 ")
    assert window.measurements.rows["waist"].state.text() == "hers"


def test_a_new_client_who_cannot_be_drafted_is_refused_in_the_dialog(qtbot: QtBot) -> None:
    """The sentence names the measurement, the dialog stays at its field, and the design in hand is untouched.

    Where two contradict each other and one of them was never measured, that one is asked for.
    """
    window = opened(qtbot)
    before = window.session.design
    window.desk.files.new()
    box = dialog(qtbot, "New client")
    field = found(QLineEdit, "Waist", box)
    field.selectAll()
    QTest.keyClicks(field, "nine")
    press("Draft the block", box)
    words = found(QLabel, "What to do", box)
    assert words.text().startswith("Waist: ")
    assert box.isVisible()
    assert box.focusWidget() is field
    assert field.selectedText() == "nine"
    QTest.keyClicks(field, "28")
    depth = found(QLineEdit, "Side neck to bust point", box)
    depth.selectAll()
    QTest.keyClicks(depth, "15")
    press("Draft the block", box)
    assert words.text().endswith("The front waist length is not hers yet: take that first.")
    assert box.focusWidget() is found(QLineEdit, "Front waist length", box)
    press("Cancel", box)
    assert window.session.design is before


def test_recent_files_are_made_anew_whenever_their_menu_is_shown(qtbot: QtBot, tmp_path: Path) -> None:
    """The newest first, a file that is gone left out; choosing one opens it."""
    window = opened(qtbot)
    menu = next(menu for menu in window.findChildren(TableMenu) if menu.title() == "&Recent")
    menu.aboutToShow.emit()
    assert [(row.text(), row.isEnabled()) for row in menu.actions()] == [("No file yet", False)]
    for name in ("gone.sheer", "first.sheer", "second.sheer"):
        window.session.save(tmp_path / name)
        settings.add_recent(tmp_path / name)
    (tmp_path / "gone.sheer").unlink()
    menu.aboutToShow.emit()
    assert [row.text() for row in menu.actions()] == ["&1  second.sheer", "&2  first.sheer"]
    menu.actions()[1].trigger()
    assert window.session.path == tmp_path / "first.sheer"


def type_only(window: MainWindow, name: str, text: str) -> QLineEdit:
    """Type into a field and leave the cursor in it, without Enter."""
    field = found(QLineEdit, name, window)
    field.setFocus()
    field.selectAll()
    QTest.keyClicks(field, text)
    return field


def test_saving_takes_what_is_half_typed(qtbot: QtBot, tmp_path: Path) -> None:
    """Ctrl+S with the cursor still in a field saves the number that stands there, not the one before it."""
    path = tmp_path / "hers.sheer"
    window = opened(qtbot)
    window.session.save(path)
    field = type_only(window, "bust", "37 1/2")
    QTest.keyClick(field, Qt.Key.Key_S, Qt.KeyboardModifier.ControlModifier)
    assert read_design(path).body.measurements["bust"] == pytest.approx(37.5 * 25.4)
    assert not window.isWindowModified()
    assert window.status.words.text() == "hers.sheer is saved."


def test_saving_elsewhere_takes_what_is_half_typed(qtbot: QtBot, tmp_path: Path) -> None:
    """Save as takes the number before it asks for the file."""
    window = opened(qtbot)
    field = type_only(window, "bust", "37 1/2")
    both = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier
    QTest.keyClick(field, Qt.Key.Key_S, both)
    name_file(qtbot, "Save the design", tmp_path / "hers.sheer")
    assert read_design(tmp_path / "hers.sheer").body.measurements["bust"] == pytest.approx(37.5 * 25.4)


def test_a_save_says_what_it_could_not_take(qtbot: QtBot, tmp_path: Path) -> None:
    """A refused number stays in its field, and the sentence of the save names the field."""
    path = tmp_path / "hers.sheer"
    window = opened(qtbot)
    window.session.save(path)
    field = type_only(window, "bust", "lots")
    QTest.keyClick(field, Qt.Key.Key_S, Qt.KeyboardModifier.ControlModifier)
    assert window.status.words.text() == "hers.sheer is saved, but not what is typed at bust: that was refused."
    assert field.text() == "lots"


def test_leaving_a_design_takes_what_is_half_typed(qtbot: QtBot) -> None:
    """Opening the demo with a number half typed asks about it first, and printing prints with it."""
    window = opened(qtbot)
    type_only(window, "bust", "37 1/2")
    window.desk.files.open_demo()
    press("Cancel", dialog(qtbot, "Unsaved work"))
    assert bust(window) == pytest.approx(37.5 * 25.4)
    type_only(window, "bust", "38")
    window.desk.files.print()
    assert bust(window) == pytest.approx(38 * 25.4)


def test_undo_and_redo_work_from_within_a_field(qtbot: QtBot) -> None:
    """Ctrl+Z after Enter takes the act back though the cursor is in the field still; Ctrl+Shift+Z does it again."""
    window = opened(qtbot)
    before, shown = bust(window), found(QLineEdit, "bust", window).text()
    alter(window, "bust", "37 1/4")
    field = found(QLineEdit, "bust", window)
    assert field.hasFocus()
    QTest.keyClick(field, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert bust(window) == before
    QTest.keyClick(field, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert (bust(window), field.text()) == (before, shown)
    both = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier
    QTest.keyClick(field, Qt.Key.Key_Z, both)
    assert bust(window) == pytest.approx(37.25 * 25.4)
    assert field.text() == "37 1/4 in"


def test_undo_in_a_field_that_is_being_typed_into_is_the_fields_own(qtbot: QtBot) -> None:
    """What is half typed goes back to what was there; the design keeps its acts until then."""
    window = opened(qtbot)
    alter(window, "waist", "29")
    field = type_only(window, "bust", "37 1/4")
    QTest.keyClick(field, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert window.session.design.body.measurements["waist"] == pytest.approx(29 * 25.4)
    for _ in range(10):
        QTest.keyClick(field, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert window.session.history.undo_label == ""
    assert not window.isWindowModified()

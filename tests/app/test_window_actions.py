"""The window's actions, made from tables: keys, menus, help, view, and the parts that are always in sight."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

import msgspec
import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QStatusTipEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QApplication,
    QDialog,
    QLineEdit,
    QPushButton,
    QTextBrowser,
    QWidget,
)

from app import settings
from app.__main__ import make_window
from app.actions.access_keys import with_access_keys
from app.actions.bar import TableMenu
from app.actions.catalogue import MENUS, TOOL_ACTIONS
from app.actions.help_pages import SAFETY, THE_FORM
from app.actions.info import ActionInfo, MenuInfo
from app.theme import DARK
from app.tools.catalogue import TOOLS, tool_named

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window.main_window import MainWindow

CONTROL = Qt.KeyboardModifier.ControlModifier


def opened(qtbot: QtBot, *, demo: bool = False) -> MainWindow:
    """The window, shown and ready for keys."""
    window = make_window(None, demo)
    with qtbot.waitActive(window):
        window.show()
        window.activateWindow()
    window.table.setFocus()
    return window


def menus_within(menu: MenuInfo) -> list[MenuInfo]:
    """A menu and all menus in it."""
    inner = [row for row in menu.rows if isinstance(row, MenuInfo)]
    return [menu, *(found for row in inner for found in menus_within(row))]


EVERY_MENU = [found for menu in MENUS for found in menus_within(menu)]


@pytest.mark.parametrize("menu", EVERY_MENU, ids=lambda menu: menu.text)
def test_every_row_of_a_menu_has_an_access_key_of_its_own(menu: MenuInfo) -> None:
    """A letter after an ampersand, none twice in one menu (GNOME HIG, keyboard)."""
    texts = [row.text for row in menu.rows if row is not None]
    letters = [text.partition("&")[2][:1].casefold() for text in texts]
    assert all(letters)
    assert max(Counter(letters).values(), default=1) == 1


@pytest.mark.usefixtures("qapp")
def test_no_key_has_two_meanings() -> None:
    """Every shortcut belongs to one action, whatever the desktop's own keys are."""
    actions = [info for menu in MENUS for info in menu.actions()]
    keys = Counter(key.toString() for info in actions for key in info.shortcuts())
    assert [key for key, times in keys.items() if times > 1] == []


@pytest.mark.usefixtures("qapp")
def test_the_keys_that_every_desktop_has() -> None:
    """Both ways of redoing, both ways of zooming in, and Ctrl+Q, whatever Qt's own table says."""
    keys = {info.id: {key.toString() for key in info.shortcuts()} for menu in MENUS for info in menu.actions()}
    assert {"Ctrl+Shift+Z", "Ctrl+Y"} <= keys["redo"]
    assert {"Ctrl++", "Ctrl+="} <= keys["zoom-in"]
    assert "Ctrl+Q" in keys["quit"]
    assert {"Ctrl+0"} <= keys["fit"]
    assert {"Ctrl+1"} <= keys["true-size"]


def test_access_keys_are_found_for_any_names() -> None:
    """First letters of words first, then any letter that is free."""
    assert with_access_keys(["Cut", "Cup", "Trim to match"]) == ["&Cut", "C&up", "&Trim to match"]


@pytest.mark.parametrize("tool", TOOLS, ids=lambda tool: tool.id)
def test_a_single_letter_takes_up_its_tool(qtbot: QtBot, tool: object) -> None:
    """Pressed on the table, the letter takes the tool; its button stands pressed."""
    info = next(info for info in TOOLS if info is tool)
    window = opened(qtbot)
    QTest.keyClick(window.table, Qt.Key(ord(info.shortcut)))
    assert window.desk.tool_id == info.id
    checked = [id_ for id_, action in window.bars.actions.items() if id_.startswith("tool-") and action.isChecked()]
    assert checked == [f"tool-{info.id}"]


def test_keys_of_one_letter_can_be_turned_off(qtbot: QtBot) -> None:
    """Off, a letter takes up no tool, now and at the next start; other keys work still (WCAG 2.2, 2.1.4)."""
    window = opened(qtbot)
    window.bars.actions["letters"].trigger()
    assert not window.bars.actions["letters"].isChecked()
    QTest.keyClick(window.table, Qt.Key.Key_N)
    assert window.desk.tool_id == TOOLS[0].id
    assert "(N)" not in window.bars.buttons["tool-neckline"].toolTip()
    again = opened(qtbot)
    QTest.keyClick(again.table, Qt.Key.Key_N)
    assert again.desk.tool_id == TOOLS[0].id
    zoom = again.table.view.zoom
    QTest.keyClick(again.table, Qt.Key.Key_Equal, CONTROL)
    assert again.table.view.zoom > zoom
    again.bars.actions["letters"].trigger()
    QTest.keyClick(again.table, Qt.Key.Key_N)
    assert again.desk.tool_id == "neckline"


def test_letters_typed_into_a_field_stay_letters(qtbot: QtBot) -> None:
    """While a text field has the keyboard, no letter takes up a tool (WCAG 2.2, 2.1.4)."""
    window = opened(qtbot)
    field = next(f for f in window.findChildren(QLineEdit) if f.accessibleName() == "client's name")
    field.setFocus()
    field.clear()
    letters = "".join(info.shortcut.lower() for info in TOOLS)
    QTest.keyClicks(field, letters)
    assert field.text() == letters
    assert window.desk.tool_id == TOOLS[0].id


def test_zoom_keys(qtbot: QtBot) -> None:
    """Ctrl+= goes nearer, Ctrl+- back, Ctrl+1 shows true size, Ctrl+0 everything, again and again the same."""
    window = opened(qtbot, demo=True)
    start = window.table.view.zoom
    QTest.keyClick(window.table, Qt.Key.Key_Equal, CONTROL)
    assert window.table.view.zoom > start
    QTest.keyClick(window.table, Qt.Key.Key_Minus, CONTROL)
    assert window.table.view.zoom == pytest.approx(start)
    QTest.keyClick(window.table, Qt.Key.Key_1, CONTROL)
    assert window.table.view.zoom == 1.0
    for _ in range(2):
        QTest.keyClick(window.table, Qt.Key.Key_0, CONTROL)
        assert window.table.view.zoom == pytest.approx(start)


def test_the_unit_is_an_act_and_every_part_follows(qtbot: QtBot) -> None:
    """Centimetres on the rulers, in the seam table and for the next new design; undo goes back to inches."""
    window = opened(qtbot, demo=True)
    window.bars.actions["unit-cm"].trigger()
    assert (window.table.unit, side_a(window)[-2:]) == ("cm", "cm")
    assert window.bars.actions["unit-cm"].isChecked()
    assert settings.unit() == "cm"
    QTest.keyClick(window.table, Qt.Key.Key_Z, CONTROL)
    assert (window.table.unit, side_a(window)[-2:]) == ("in", "in")


def side_a(window: MainWindow) -> str:
    """The length of the first seam's first side, as the seam table says it."""
    item = window.seams.table.item(0, 2)
    assert item is not None
    return item.text()


def test_a_theme_reaches_table_panels_and_the_next_start(qtbot: QtBot) -> None:
    """Dark colours everywhere at once, remembered; “as the desktop” takes them back."""
    window = opened(qtbot)
    light = window.table.theme
    window.bars.actions["theme-dark"].trigger()
    assert window.table.theme is DARK
    assert all(panel.theme is DARK for panel in window.panels)
    assert settings.theme() == "dark"
    assert window.grab(window.table.geometry()).toImage().pixelColor(5, 5).lightness() < 100
    window.bars.actions["theme-system"].trigger()
    assert window.table.theme is light
    assert settings.theme() is None


def test_darts_of_the_selected_piece_are_folded_one_after_the_other(qtbot: QtBot) -> None:
    """Ctrl+D folds each dart in turn, all together, and opens them; without a piece there is nothing to fold."""
    window = opened(qtbot)
    assert not window.bars.actions["fold"].isEnabled()
    window.table.select("front")
    darts = [dart.name for dart in window.session.replay.garment.piece("front").darts]
    for dart in darts:
        QTest.keyClick(window.table, Qt.Key.Key_D, CONTROL)
        assert window.table.scene.folded("front") == (dart,)
    assert window.bars.actions["fold"].text() == "&Fold all darts of front"
    QTest.keyClick(window.table, Qt.Key.Key_D, CONTROL)
    assert window.table.scene.folded("front") == tuple(darts)
    assert window.bars.actions["fold"].text() == "&Open the darts of front"
    QTest.keyClick(window.table, Qt.Key.Key_D, CONTROL)
    assert window.table.scene.folded("front") == ()


def test_any_darts_of_the_selected_piece_are_ticked_to_be_folded(qtbot: QtBot) -> None:
    """A row for each in the menu, ticked while it is shut; the status bar names those that are."""
    window = opened(qtbot)
    window.table.select("front")
    menu = next(menu for menu in window.findChildren(TableMenu) if menu.accessibleName() == "Darts folded shut")
    menu.aboutToShow.emit()
    names = [row.text().replace("&", "") for row in menu.actions()]
    assert set(names) == {"Shoulder dart", "Waist dart"}
    for row in menu.actions():
        row.trigger()
    assert set(window.table.scene.folded("front")) == {"front.shoulder_dart", "front.waist_dart"}
    assert "are folded shut" in window.status.words.text()
    menu.aboutToShow.emit()
    assert all(row.isChecked() for row in menu.actions())
    menu.actions()[0].trigger()
    assert len(window.table.scene.folded("front")) == 1


def test_the_list_of_keys_names_every_action_that_has_one(qtbot: QtBot) -> None:
    """F1 shows it; it is made from the tables, and each key stands beside its action."""
    window = opened(qtbot)
    QTest.keyClick(window.table, Qt.Key.Key_F1)
    page = open_page("Keys")
    text = page.toPlainText()
    for info in [*TOOL_ACTIONS, *(row for menu in MENUS for row in menu.actions() if row.shortcuts())]:
        assert isinstance(info, ActionInfo)
        assert info.plain_text in text
        assert info.shortcuts()[0].toString(QKeySequence.SequenceFormat.NativeText) in text


def test_what_to_beware_of(qtbot: QtBot) -> None:
    """Blades, irons on net, flame and boning, each with its sentence, and whose word counts."""
    window = opened(qtbot)
    window.bars.actions["safety"].trigger()
    text = open_page("Safety").toPlainText()
    assert all(word in text and sentence in text for word, sentence in SAFETY)
    assert "labels" in text


def test_how_the_form_is_read(qtbot: QtBot) -> None:
    """What its numbers mean, what the button does, and what it does not know, which a toile decides."""
    window = opened(qtbot)
    window.bars.actions["read form"].trigger()
    text = open_page("Reading the form").toPlainText()
    assert all(word in text and sentence in text for word, sentence in THE_FORM)
    assert "check it on a toile" in text


def open_page(title: str) -> QTextBrowser:
    """The text of the open page of help."""
    dialogs = [w for w in QApplication.topLevelWidgets() if isinstance(w, QDialog) and w.isVisible()]
    assert [dialog.windowTitle() for dialog in dialogs] == [title]
    page = dialogs[0].findChild(QTextBrowser)
    assert page is not None
    return page


def test_the_order_of_work_leads_to_the_work(qtbot: QtBot) -> None:
    """Pressing a station takes up its tool, its field, or asks how to print."""
    window = opened(qtbot)
    stations = {button.accessibleName(): button for button in window.order.findChildren(QPushButton)}
    for station, tool in (("Draw", "neckline"), ("Darts", "pivot"), ("Panels", "cut")):
        QTest.mouseClick(stations[station], Qt.MouseButton.LeftButton)
        assert window.desk.tool_id == tool
    QTest.mouseClick(stations["Measure"], Qt.MouseButton.LeftButton)
    assert window.measurements.isAncestorOf(focused())
    QTest.mouseClick(stations["Match"], Qt.MouseButton.LeftButton)
    assert focused() is window.seams.table
    QTest.mouseClick(stations["Finish"], Qt.MouseButton.LeftButton)
    assert window.table.selection
    assert window.status.words.text().startswith("Choose each piece's fabric")
    QTest.mouseClick(stations["Print"], Qt.MouseButton.LeftButton)
    assert any(w.accessibleName() == "Print" and w.isVisible() for w in QApplication.topLevelWidgets())


def test_a_tool_says_first_what_it_lacks_and_a_look_at_another_button_takes_no_sentence_away(qtbot: QtBot) -> None:
    """Where there is no line to cut along, that is what the tool says; a button's tip gives way to it again."""
    window = opened(qtbot)
    window.desk.take_tool("cut")
    begun = window.status.words.text()
    assert begun.startswith("No line to cut along is drawn yet")
    QApplication.sendEvent(window, QStatusTipEvent("Save the design."))
    assert window.status.words.text() == "Save the design."
    QApplication.sendEvent(window, QStatusTipEvent(""))
    assert window.status.words.text() == begun
    window.desk.take_tool("walk")
    assert window.status.words.text() == (window.table.said or tool_named("walk").hint)


def focused() -> QWidget:
    """What has the keyboard."""
    widget = QApplication.focusWidget()
    assert widget is not None
    return widget


def test_what_is_not_hers_is_called_by_where_it_comes_from(qtbot: QtBot) -> None:
    """The average figure's measurements and those of a size table are counted apart."""
    window = opened(qtbot)
    assert window.status.average.text() == "9 measurements: average figure, replace with hers"
    design = window.session.design
    from_table = msgspec.structs.replace(design.body, from_table=tuple(design.body.measurements))
    window.session.do("Size table", msgspec.structs.replace(design, body=from_table))
    assert window.status.average.text() == "9 measurements: size table, replace with hers"
    some = msgspec.structs.replace(design.body, from_table=("bust", "waist"))
    window.session.do("Size table", msgspec.structs.replace(design, body=some))
    assert window.status.average.text() == "7 measurements: average figure, 2: size table, replace with hers"

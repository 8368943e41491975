from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit
from pytestqt.qtbot import QtBot

from app.panels.body_entry import in_unit
from app.panels.measurements import MeasurementsPanel
from app.session import Session
from app.theme import LIGHT
from core.body.catalogue import MEASUREMENTS
from tests.app.panels.sample_sessions import block_session, demo_session

INCH = 25.4


def panel_on(qtbot: QtBot, session: Session) -> MeasurementsPanel:
    """The panel in a window of its own, shown."""
    panel = MeasurementsPanel(session, LIGHT)
    qtbot.addWidget(panel)
    panel.resize(400, 700)
    with qtbot.waitActive(panel):
        panel.show()
        panel.activateWindow()
    return panel


def field_of(panel: MeasurementsPanel, name: str) -> QLineEdit:
    """The field of an accessible name."""
    return next(field for field in panel.findChildren(QLineEdit) if field.accessibleName() == name)


def type_into(panel: MeasurementsPanel, name: str, text: str, *, enter: bool = True) -> QLineEdit:
    """Click into a field, replace its text, and press Enter."""
    field = field_of(panel, name)
    QTest.mouseClick(field, Qt.MouseButton.LeftButton)
    field.selectAll()
    if text:
        QTest.keyClicks(field, text)
    else:
        QTest.keyClick(field, Qt.Key.Key_Delete)
    if enter:
        QTest.keyClick(field, Qt.Key.Key_Return)
    return field


def test_every_measurement_has_a_field_of_its_plain_name_in_the_order_of_work(qtbot: QtBot) -> None:
    """The fields stand as the catalogue lists the measurements, each under its plain name."""
    panel = panel_on(qtbot, demo_session())
    names = [field.accessibleName() for field in panel.findChildren(QLineEdit)]
    assert names[0] == "client's name"
    assert names[1 : 1 + len(MEASUREMENTS)] == [row.name for row in MEASUREMENTS.values()]
    assert panel.accessibleName() == "Measurements"


@pytest.mark.parametrize(("text", "mm"), [("37 1/2", 37.5 * INCH), ("37.5in", 37.5 * INCH), ("95cm", 950.0)])
def test_a_typed_measurement_is_one_act_in_any_unit(qtbot: QtBot, text: str, mm: float) -> None:
    """Fractions, inches and centimetres are taken; the block is drafted anew and undo names the measurement."""
    session = demo_session()
    panel = panel_on(qtbot, session)
    before = session.replay.block
    type_into(panel, "bust", text)
    assert session.design.body.measurements["bust"] == pytest.approx(mm)
    assert session.history.undo_label.startswith("Bust 37 ")
    assert session.replay.block is not before
    session.undo()
    assert field_of(panel, "bust").text() == "37 in"
    assert session.history.undo_label == ""


def test_leaving_a_field_takes_what_was_typed(qtbot: QtBot) -> None:
    """Tab means the text as Enter does, and goes to the next field."""
    session = demo_session()
    panel = panel_on(qtbot, session)
    field = type_into(panel, "waist", "29", enter=False)
    QTest.keyClick(field, Qt.Key.Key_Tab)
    assert session.design.body.measurements["waist"] == pytest.approx(29 * INCH)
    assert session.history.undo_label == "Waist 29 in"
    assert field_of(panel, "hip").hasFocus()


def test_a_bad_value_is_refused_under_its_field_and_kept(qtbot: QtBot) -> None:
    """What cannot be is said beside the field; text and design stay, and Esc brings the old value back."""
    session = demo_session()
    panel = panel_on(qtbot, session)
    design = session.design
    for text, words in (("lots", "is not a length"), ("3", "not believable"), ("", "missing")):
        field = type_into(panel, "bust", text)
        row = panel.rows["bust"]
        assert words in row.refusal.text()
        assert row.refusal.isVisible()
        assert field.text() == text
        assert session.design is design
    QTest.keyClick(field_of(panel, "bust"), Qt.Key.Key_Escape)
    assert field_of(panel, "bust").text() == "37 in"
    assert not panel.rows["bust"].refusal.isVisible()
    assert session.design is design


def test_estimates_are_marked_in_words_and_come_back_when_cleared(qtbot: QtBot) -> None:
    """A measured optional value that is cleared is estimated again, and the rule is said."""
    session = demo_session()
    panel = panel_on(qtbot, session)
    row = panel.rows["hip"]
    assert row.state.text() == "hers"
    field = type_into(panel, "hip", "")
    assert "hip" not in session.design.body.measurements
    assert session.history.undo_label == "Hip estimated"
    assert row.state.text() == "estimated"
    assert field.text() == ""
    assert field.placeholderText().endswith(" in")
    assert "of the waist" in field.toolTip()
    assert "of the waist" in panel.how.text()
    assert panel.rows["bust"].state.text() == "hers"


def test_the_way_of_measuring_is_said_for_the_focused_field(qtbot: QtBot) -> None:
    """Going into a field shows under the list how the measurement is taken."""
    panel = panel_on(qtbot, demo_session())
    for id_ in ("bust", "scye_depth"):
        QTest.mouseClick(field_of(panel, MEASUREMENTS[id_].name), Qt.MouseButton.LeftButton)
        assert MEASUREMENTS[id_].how in panel.how.text()


def test_two_values_that_contradict_are_named_at_the_top_until_they_agree(qtbot: QtBot) -> None:
    """The first of two values that hold only together waits in its field; with the second, both are one act."""
    session = block_session("full")
    panel = panel_on(qtbot, session)
    entries = len(session.history.entries)
    type_into(panel, "bust", "140")
    assert "bust" in panel.contradiction.text()
    assert "high bust" in panel.contradiction.text()
    assert panel.contradiction.isVisible()
    assert "Not taken yet" in panel.rows["bust"].refusal.text()
    assert field_of(panel, "bust").text() == "140"
    assert len(session.history.entries) == entries
    type_into(panel, "high bust", "112")
    assert session.design.body.measurements["bust"] == pytest.approx(1400.0)
    assert session.design.body.measurements["high_bust"] == pytest.approx(1120.0)
    assert not panel.contradiction.isVisible()
    assert not panel.rows["bust"].refusal.isVisible()
    assert len(session.history.entries) == entries + 1
    assert session.history.undo_label == "Bust 140.0 cm, high bust 112.0 cm"


def test_a_value_that_holds_alone_is_taken_beside_one_that_waits(qtbot: QtBot) -> None:
    """A refused bust does not keep a believable shoulder from being taken."""
    session = block_session()
    panel = panel_on(qtbot, session)
    type_into(panel, "bust", "125")
    type_into(panel, "shoulder length", "12.8")
    assert session.design.body.measurements["shoulder"] == pytest.approx(128.0)
    assert session.design.body.measurements["bust"] == pytest.approx(920.0)
    assert field_of(panel, "bust").text() == "125"


def test_drop_and_cup_difference_are_shown(qtbot: QtBot) -> None:
    """The demo's bust of 37 in stands 8 1/2 in over its waist and 2 in over its high bust."""
    panel = panel_on(qtbot, demo_session())
    assert "8 1/2 in" in panel.shape.text()
    assert "2 in" in panel.shape.text().splitlines()[1]


def test_ease_and_client_are_acts_too(qtbot: QtBot) -> None:
    """An ease is taken or refused as a measurement is; the client's name labels its own act."""
    session = demo_session()
    panel = panel_on(qtbot, session)
    type_into(panel, "bust ease", "2 1/2")
    assert session.design.ease.bust == pytest.approx(2.5 * INCH)
    assert session.history.undo_label == "Bust ease 2 1/2 in"
    type_into(panel, "bust ease", "30")
    assert "bust ease" in panel.eases["bust"].refusal.text()
    assert session.design.ease.bust == pytest.approx(2.5 * INCH)
    type_into(panel, "client's name", "Madame Teasel")
    assert session.design.body.name == "Madame Teasel"
    assert session.history.undo_label == "Client's name Madame Teasel"


def test_entering_and_leaving_without_typing_changes_nothing(qtbot: QtBot) -> None:
    """A length that the ruler shows rounded is not rounded by looking at it."""
    session = block_session()
    panel = panel_on(qtbot, session)
    design = session.design
    for name in ("bust", "hip", "bust ease", "client's name"):
        field = field_of(panel, name)
        QTest.mouseClick(field, Qt.MouseButton.LeftButton)
        QTest.keyClick(field, Qt.Key.Key_Return)
        QTest.keyClick(field, Qt.Key.Key_Tab)
    assert session.design is design


def test_a_refusal_is_brought_into_sight(qtbot: QtBot) -> None:
    """The sentence under the last field in view is not left below the edge of the list."""
    panel = panel_on(qtbot, demo_session())
    panel.resize(300, 300)
    QApplication.processEvents()
    fields = [row.field for row in panel.rows.values()]
    name = [field for field in fields if field.visibleRegion().boundingRect().height() == field.height()][-1]
    type_into(panel, name.accessibleName(), "lots")
    refusal = next(row.refusal for row in panel.rows.values() if row.field is name)
    qtbot.waitUntil(lambda: refusal.visibleRegion().boundingRect().height() == refusal.height())


def test_rules_of_estimating_speak_in_her_unit(qtbot: QtBot) -> None:
    """436 mm are 17 5/32 in to the nearest thirty-second (17.165 in), and 43.6 cm; a part of the waist has no unit."""
    session = demo_session()
    panel = panel_on(qtbot, session)
    type_into(panel, "hip", "")
    assert "17 5/32 in and 0.73 of the waist" in panel.how.text()
    assert " mm" not in panel.how.text()
    assert "17 5/32 in" in field_of(panel, "hip").toolTip()
    assert in_unit("436 mm and 0.73 of the waist, spread 40 mm", "cm") == "43.6 cm and 0.73 of the waist, spread 4.0 cm"
    assert in_unit("436 mm; nine in ten", "mm") == "436 mm; nine in ten"


def test_in_a_narrow_window_the_names_stand_over_their_fields(qtbot: QtBot) -> None:
    """Every name then lies above its own field, no two fields on each other; in a wide window they lie beside again."""
    panel = panel_on(qtbot, demo_session())
    rows = [*panel.rows.values(), *panel.eases.values()]
    beside = panel.minimumSizeHint().width()
    assert panel.fit(50 * panel.fontMetrics().averageCharWidth())
    QApplication.processEvents()
    assert all(row.label.geometry().bottom() < row.field.geometry().top() for row in rows)
    assert len({row.field.y() for row in rows}) == len(rows)
    assert panel.minimumSizeHint().width() < beside
    assert panel.fit(500 * panel.fontMetrics().averageCharWidth())
    QApplication.processEvents()
    assert all(row.label.geometry().right() < row.field.geometry().left() for row in rows)
    assert panel.minimumSizeHint().width() == beside

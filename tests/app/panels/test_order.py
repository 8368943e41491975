from __future__ import annotations

import msgspec
import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter, QRegion
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QPushButton
from pytestqt.qtbot import QtBot

from app.canvas.table import CuttingTable
from app.canvas.table_drawing import draw_everything
from app.panels.body_entry import with_values
from app.panels.order import OrderPanel
from app.panels.stations import stations
from app.session import Session
from app.theme import LIGHT
from core.body.average import AVERAGE_FIGURE
from core.body.body import Body
from core.checks.report import Report, report
from core.design.design import Design
from core.design.replay import Replay
from core.steps.choose_fabric import ChooseFabric
from core.steps.mapping import landmarks_of
from core.steps.move_edge import MoveEdge
from core.steps.step import LinePoint
from core.steps.style_line import StyleLine
from core.steps.take_in import Level, TakeIn
from tests.app.at_window import opened
from tests.app.panels.sample_sessions import block_session, demo_session, panels_session
from tests.app.panels.test_seams import uneven_session
from tests.demo_designs import ice

NAMES = ["Measure", "Draft", "Draw", "Darts", "Panels", "Match", "Finish", "Print"]


def states(session: Session) -> dict[str, str]:
    """What each station says."""
    return {found.name: found.words for found in stations(session.replay, report(session.replay))}


def test_a_new_block_is_to_be_drawn_on_next() -> None:
    """Measured and drafted, the rest waits for what comes before it."""
    assert states(block_session()) == {
        "Measure": "done",
        "Draft": "done",
        "Draw": "next: neckline",
        "Darts": "waits for draw",
        "Panels": "waits for draw",
        "Match": "waits for panels",
        "Finish": "waits for match",
        "Print": "waits for finish",
    }


def test_the_average_figure_is_to_be_measured_next() -> None:
    """Until she is measured, the block is nobody's: nothing counts as done, and how much is to be measured is said."""
    session = average_session()
    now = states(session)
    assert now["Measure"] == "next: 9 to measure"
    assert now["Draft"] == "waits for measure"
    assert "done" not in now.values()
    measured(session, {id_: value + 3.0 for id_, value in AVERAGE_FIGURE.items()})
    assert states(session) == states(block_session())


def average_session() -> Session:
    """The block of the average figure, as a new design begins."""
    return Session(Design("new", Body("Average figure", "cm", dict(AVERAGE_FIGURE)), unit="cm"))


def measured(session: Session, values: dict[str, float]) -> None:
    """Take measurements."""
    session.do("Measure", with_values(session.design, values))


def test_the_finished_demo_is_to_be_printed_next() -> None:
    """All seams match and every edge is sewn or left open on purpose."""
    now = states(demo_session())
    assert now.pop("Print") == "next"
    assert set(now.values()) == {"done"}


def test_a_neckline_alone_is_not_all_that_is_drawn() -> None:
    """The line where the sheer ends is what the whole garment hangs on: it comes before the darts."""
    session = session_until("Neckline")
    assert states(session)["Draw"] == "next: sheer line"
    assert states(session_until("StyleLine"))["Draw"] == "done"


def test_a_line_that_is_not_cut_yet_keeps_the_panels_open() -> None:
    """The front is cut, and a line on the back waits for the shears."""
    session = panels_session()
    assert states(session)["Panels"] == "done"
    back = session.replay.garment.piece("back")
    underarm = LinePoint(*back.landmarks["underarm"])
    points = (LinePoint(0.0, underarm.y), underarm)
    line = StyleLine("sheer-9", "back", "back.sheer_line", points, landmarks_of(back), purpose="sheer")
    session.do("Draw the back's sheer line", session.design.with_step(line))
    assert session.replay.refused is None
    assert states(session)["Panels"] != "done"


def session_until(kind: str) -> Session:
    """The demo up to its first step of a kind."""
    whole = demo_session().design
    count = next(at for at, step in enumerate(whole.steps) if type(step).__name__ == kind) + 1
    return Session(msgspec.structs.replace(whole, steps=whole.steps[:count]))


def test_a_seam_that_differs_stops_at_the_match() -> None:
    """Without panels a differing seam keeps nobody from drawing."""
    assert states(uneven_session())["Match"] == "waits for panels"


def test_seams_that_differ_are_counted_in_few_words() -> None:
    """No wider than what a station says while it waits, so that the strip does not break into two rows for it."""
    session = demo_session()
    levels = (Level("bust_point", 0.0, 0.0), Level("waist", 30.0, 0.0))
    session.do("Take in", session.design.with_step(TakeIn("take-in-9", "front.princess", levels)))
    words = states(session)["Match"]
    assert words == "next: 1 seam"
    assert len(words) <= len("waits for panels")


def test_darts_in_the_sheer_keep_the_darts_and_the_finish_open(qtbot: QtBot) -> None:
    """Sheer must lie flat (cutting.md 2): the station counts them, and its tip names each with the ways out."""
    session = Session(ice())
    assert states(session)["Darts"] == "done"
    session.do("Sheer", ice().with_step(ChooseFabric("choose-fabric-1", "lower back", "sheer")))
    assert states(session)["Darts"] == "next: 1 in the sheer"
    assert states(session)["Finish"] == "waits for darts"
    panel = OrderPanel(session, LIGHT)
    qtbot.addWidget(panel)
    mark = next(mark for mark in panel.marks if mark.id == "darts")
    assert "waist dart (11.5 degrees) is open in the lower back" in mark.button.toolTip()
    assert mark.button.accessibleDescription() == f"next: 1 in the sheer. {mark.button.toolTip()}"


def test_a_refused_step_is_marked_at_its_station() -> None:
    """A cut whose line was deleted stops the panels, in sign and words."""
    session = panels_session()
    session.do("Delete step 1", session.design.without_step("sheer-1"))
    found = {station.name: station for station in stations(session.replay, report(session.replay))}
    assert found["Panels"].state == "refused"
    assert found["Panels"].sign == "≠"
    assert found["Match"].words == "waits for panels"


def test_nothing_is_next_but_what_is_refused() -> None:
    """With a neckline drawn and the sheer line refused, the panels wait for the drawing to be mended."""
    session = demo_session()
    session.do("Delete step 3", session.design.without_step("sheer-line-1"))
    now = states(session)
    assert now["Draw"] == "a step is refused"
    assert now["Panels"] == "waits for draw"
    assert not any(words.startswith("next") for words in now.values())


def test_eight_stations_are_buttons_that_say_where_to_go(qtbot: QtBot) -> None:
    """Each station is pressed by its visible name and passes its id on."""
    panel = OrderPanel(block_session(), LIGHT)
    qtbot.addWidget(panel)
    panel.resize(1200, 60)
    panel.show()
    buttons = panel.findChildren(QPushButton)
    assert [found.accessibleName() for found in buttons] == NAMES
    assert [found.text() for found in buttons] == NAMES
    with qtbot.waitSignal(panel.go) as went:
        QTest.mouseClick(buttons[2], Qt.MouseButton.LeftButton)
    assert went.args == ["draw"]
    assert panel.marks[2].words.text() == "→ next: neckline"
    assert "neckline" in panel.marks[2].button.toolTip()
    assert all(mark.button.toolTip() for mark in panel.marks)


def test_the_strip_folds_where_there_is_no_room(qtbot: QtBot) -> None:
    """At twice the text size in a narrow window the stations stand in several rows, none of them cut off."""
    panel = OrderPanel(block_session(), LIGHT)
    qtbot.addWidget(panel)
    font = panel.font()
    font.setPointSizeF(2 * font.pointSizeF())
    panel.setFont(font)
    panel.resize(700, 300)
    panel.show()
    for mark in panel.marks:
        assert mark.width() >= mark.minimumSizeHint().width()
        assert panel.rect().contains(mark.geometry())


def test_what_was_done_is_seen_before_its_checks_are_worked_out(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    """An act is painted on the table first; cutting lines, and what is said of them, come in the turn after it."""
    window = opened(qtbot, demo=True)
    qtbot.wait(50)
    turns: list[str] = []

    def painted(table: CuttingTable, painter: QPainter, region: QRegion) -> None:
        turns.append("painted")
        draw_everything(table, painter, region)

    def checked(replay: Replay) -> Report:
        turns.append("checked")
        return report(replay)

    monkeypatch.setattr("app.canvas.table.draw_everything", painted)
    monkeypatch.setattr("core.checks.report.report", checked)
    design = window.session.design
    window.session.do("Move", design.with_step(MoveEdge("move-edge-1", "side front", "waist", 10.0)))
    assert turns == []
    qtbot.waitUntil(lambda: "checked" in turns)
    assert turns[0] == "painted"

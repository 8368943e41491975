from __future__ import annotations

import pytest
from PySide6.QtWidgets import QLabel, QWidget
from pytestqt.qtbot import QtBot

from app.canvas.flow import SPACE, Flow

WIDE = 60


def flow_of(qtbot: QtBot, count: int) -> tuple[QWidget, Flow, list[QLabel]]:
    """A page of labels that are each as wide as the others."""
    page = QWidget()
    qtbot.addWidget(page)
    flow = Flow()
    page.setLayout(flow)
    labels = [QLabel(str(number), page) for number in range(count)]
    for label in labels:
        label.setFixedSize(WIDE, 20)
        flow.add(label)
    return page, flow, labels


@pytest.mark.parametrize(("room", "lines"), [(10_000, 1), (3 * (WIDE + SPACE), 2), (2 * (WIDE + SPACE), 3), (1, 5)])
def test_what_finds_no_room_goes_on_in_the_next_line(qtbot: QtBot, room: int, lines: int) -> None:
    """Five labels with room for three stand in two lines, in their order, and none is wider than the room."""
    page, flow, labels = flow_of(qtbot, 5)
    flow.spread(room)
    page.show()
    places = [(label.y(), label.x()) for label in labels]
    assert len({y for y, _ in places}) == lines
    assert places == sorted(places)
    flow.spread(10_000)
    assert flow.count() == 1


def test_a_name_stays_with_its_field_and_a_line_begins_where_it_must(qtbot: QtBot) -> None:
    """A pair that does not fit goes on as a whole; after next_line there is a new line, however much room there is."""
    page, flow, labels = flow_of(qtbot, 1)
    first, second, last = (QLabel(words, page) for words in ("name", "field", "last"))
    flow.add(first, second)
    flow.next_line()
    flow.add(last)
    flow.spread(labels[0].width() + first.sizeHint().width() + 3 * SPACE)
    page.show()
    assert first.y() == second.y() > labels[0].y()
    flow.spread(10_000)
    assert flow.count() == 2

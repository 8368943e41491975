"""The order of work on screen: eight labelled stations that say what is done and what comes next."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QLabel, QSizePolicy, QVBoxLayout, QWidget

from app.messages import guard
from app.panels.panel import Panel, button, coloured, next_turn
from app.panels.stations import NEEDS, Station, StationId
from app.session import Changed, Session
from app.theme import Theme

COLUMNS: Final = (8, 4, 2)
"""How many stations stand side by side, most first: as many as there is room for."""


class StationMark(QWidget):
    """One station: a button, and its state under it in a sign and words."""

    chosen = Signal(str)

    def __init__(self, id_: StationId, parent: QWidget) -> None:
        super().__init__(parent)
        self.id = id_
        self.button = button(id_.capitalize(), self)
        self.button.clicked.connect(self._choose)
        self.words = QLabel(self)
        self.words.setTextFormat(Qt.TextFormat.PlainText)
        self.words.setAlignment(Qt.AlignmentFlag.AlignHCenter)
        column = QVBoxLayout(self)
        column.setContentsMargins(2, 2, 2, 2)
        column.setSpacing(1)
        column.addWidget(self.button)
        column.addWidget(self.words)

    def _choose(self) -> None:
        self.chosen.emit(self.id)

    def show_station(self, station: Station, theme: Theme) -> None:
        """Say the state."""
        self.words.setText(f"{station.sign} {station.words}")
        self.words.setAccessibleName(f"{station.name}: {station.words}")
        self.button.setAccessibleDescription(f"{station.words}. {station.why}")
        for widget in (self.button, self.words):
            widget.setToolTip(station.why)
        colours = {"done": theme.verdicts["exact"], "next": theme.focus, "refused": theme.verdicts["wrong"]}
        coloured(self.words, colours.get(station.state, theme.faint_text))
        font = self.words.font()
        font.setBold(station.state in {"next", "refused"})
        self.words.setFont(font)


class OrderPanel(Panel):
    """Measure, draft, draw, darts, panels, match, finish, print, each with its state."""

    go = Signal(str)
    """The id of the station that was pressed."""

    def __init__(
        self, session: Session, theme: Theme, parent: QWidget | None = None, *, is_empty: bool = False
    ) -> None:
        """`is_empty`: the stations say nothing until `refresh` is first called."""
        super().__init__(session, theme, parent)
        self.setAccessibleName("Order of work")
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(4, 2, 4, 2)
        self._grid.setHorizontalSpacing(4)
        self._grid.setVerticalSpacing(2)
        self.marks = tuple(StationMark(id_, self) for id_ in NEEDS)
        for mark in self.marks:
            mark.chosen.connect(self.go)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Maximum)
        self._due = next_turn(self, self._show_due)
        self._columns = 0
        self._lay(COLUMNS[0])
        if not is_empty:
            self.refresh(Changed())

    def _follow(self, changed: Changed) -> None:
        """Say the states in the next turn of the loop: what a hand let go of is seen first, its cutting lines later."""
        if changed.design and not changed.preview:
            self._due.start()

    def _show_due(self) -> None:
        self.refresh(Changed())

    def refresh(self, changed: Changed) -> None:
        """Say the states anew; while a drag is under way they stay."""
        if changed.preview or not changed.design:
            return
        from app.panels.stations import stations
        from core.checks.report import report

        now = self.session.replay
        for mark, station in zip(self.marks, stations(now, report(now)), strict=True):
            mark.show_station(station, self.theme)
        self._lay_to_width()

    def _lay(self, columns: int) -> None:
        if columns == self._columns:
            return
        self._columns = columns
        for index, mark in enumerate(self.marks):
            self._grid.addWidget(mark, index // columns, index % columns)
        for column in range(COLUMNS[0]):
            self._grid.setColumnStretch(column, int(column < columns))
        self.updateGeometry()

    def _lay_to_width(self) -> None:
        wanted = max(mark.sizeHint().width() for mark in self.marks) + self._grid.horizontalSpacing()
        self._lay(next((n for n in COLUMNS if n * wanted <= self.width()), COLUMNS[-1]))

    @guard(None)
    def resizeEvent(self, event: QResizeEvent) -> None:
        """Take as many columns as there is room for."""
        super().resizeEvent(event)
        self._lay_to_width()

    @guard(QSize())
    def minimumSizeHint(self) -> QSize:
        """Room for the narrowest way of laying the stations, so that the strip never widens its window."""
        widest = max(mark.sizeHint().width() for mark in self.marks)
        return QSize(COLUMNS[-1] * widest, super().minimumSizeHint().height())

"""The window: the order of work over the cutting table, measurements, steps and piece beside it, seams below."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent, QGuiApplication, QResizeEvent, QStatusTipEvent
from PySide6.QtWidgets import QApplication, QLineEdit, QMainWindow, QSplitter, QVBoxLayout, QWidget

from app import settings
from app.actions.bar import Bars
from app.actions.catalogue import PIECE_ACTS
from app.actions.compare_file import CompareFile
from app.actions.desk import Desk
from app.actions.files import dropped_design
from app.actions.stations import go_to
from app.canvas.table import CuttingTable
from app.dialogs.average_figure import not_hers
from app.dialogs.fault import FaultBox
from app.messages import faults, guard
from app.panels.measurements import MeasurementsPanel
from app.panels.order import OrderPanel
from app.panels.panel import Panel, heading
from app.panels.piece import PiecePanel
from app.panels.seams import SeamsPanel
from app.panels.steps import StepsPanel
from app.session import Changed, Session
from app.window.announcing import Announcer
from app.window.look import dress, theme_now
from app.window.status import StatusLine
from core.body.average import still_average
from core.body.catalogue import MEASUREMENTS

GEOMETRY: Final = "geometry"
SPLITTERS: Final = ("across", "beside", "down")
HANDLE: Final = 5
"""Pixels of the bars by which the parts of the window are made larger and smaller."""


class MainWindow(QMainWindow):
    """The one window of one design."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session
        session.setParent(self)
        theme = theme_now(settings.theme())
        # Before there is any widget: a stylesheet costs half a second once they have to be polished anew.
        dress(theme)
        self.table = CuttingTable(session, theme)
        self.measurements = MeasurementsPanel(session, theme)
        self.desk = Desk(session, self.table, self.measurements, self)
        self.order = OrderPanel(session, theme)
        self.steps = StepsPanel(session, theme)
        self.piece = PiecePanel(session, theme)
        self.seams = SeamsPanel(session, theme)
        self.panels: tuple[Panel, ...] = (self.order, self.measurements, self.steps, self.piece, self.seams)
        self.status = StatusLine(self)
        self._may_close = self._keeps = False
        self._faults: list[str] = []
        self._told: set[str] = set()
        self._said = ""
        self._lay_out()
        self.bars = Bars(self.desk, self)
        self._connect()
        self.bars.set_theme(theme)
        self.setAcceptDrops(True)
        self._restore()
        self._show_title()
        self._show_average()
        self.desk.take_first_tool()

    # --- laying out

    def _lay_out(self) -> None:
        # From the outside in: whatever is put somewhere else is dressed anew with all that it holds.
        centre = QWidget(self)
        self.setCentralWidget(centre)
        column = QVBoxLayout(centre)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        self.down = _splitter(Qt.Orientation.Vertical, centre)
        column.addWidget(self.order)
        column.addWidget(self.down, 1)
        self.across = _splitter(Qt.Orientation.Horizontal, self.down)
        self.down.addWidget(self.seams)
        _titled("Measurements", self.measurements, self.across)
        self.across.addWidget(self.table)
        self.form = self.desk.form
        self.form.set_theme(self.order.theme)
        _titled("The form", self.form, self.across)
        self.form.set_shown(is_shown=False)
        self.beside = _splitter(Qt.Orientation.Vertical, self.across)
        _titled("Steps", self.steps, self.beside)
        _titled("Selected piece", self.piece, self.beside)
        self.across.setStretchFactor(1, 1)
        self.down.setStretchFactor(0, 1)
        self.across.setSizes([290, 720, 330, 290])
        self.beside.setSizes([260, 260])
        below = max(216, self.seams.wanted_height)
        self.down.setSizes([671 - below, below])
        self.setStatusBar(self.status)

    def _connect(self) -> None:
        self.table.status.connect(self._say)
        self.table.selected.connect(self.piece.show_piece)
        self.piece.finish_requested.connect(self.desk.sewing.finish_edge_of)
        self.piece.turn_requested.connect(self.desk.sewing.turn_piece)
        self.piece.offer([self.bars.actions[name] for name in PIECE_ACTS])
        self.piece.fabrics_requested.connect(self.desk.sewing.show_fabrics)
        self.desk.said.connect(self._say)
        self.compare_file = CompareFile(self.form.compare, self)
        self.desk.in_hand.connect(self.status.show_tool)
        self.desk.whole_asked.connect(self.status.words.show_whole)
        self.desk.theme_chosen.connect(self._take_theme)
        self.desk.wanted.connect(self._go_into)
        self.order.go.connect(self._go)
        self.steps.chosen.connect(self.desk.look_back)
        self.steps.edit_requested.connect(self.desk.edit_step)
        self.steps.numbers_requested.connect(self.desk.edit_by_numbers)
        self.seams.show_requested.connect(self.table.reveal_seam)
        self.seams.walk_requested.connect(self.desk.walk_seam)
        self.seams.together_requested.connect(self.desk.lay_seam_together)
        self.seams.trim_requested.connect(self.desk.trim_seam)
        self.session.changed.connect(self._follow)
        QGuiApplication.styleHints().colorSchemeChanged.connect(self._take_theme)
        Announcer(self.session, self.table)
        faults.recorded.connect(self._tell_fault, Qt.ConnectionType.QueuedConnection)

    # --- following

    def _follow(self, changed: Changed) -> None:
        if changed.preview:
            return
        unit = self.session.design.unit
        if self.table.unit != unit:
            self.table.set_unit(unit)
        if changed.file and changed.design:
            self.desk.begin_anew()
        self._show_title()
        self._show_average()

    def _show_title(self) -> None:
        self.setWindowTitle(f"{self.desk.files.name}[*] \N{EN DASH} Sheerwright")
        self.setWindowFilePath(str(self.session.path) if self.session.path else "")
        self.setWindowModified(self.session.is_dirty)

    def _show_average(self) -> None:
        """Say how much of the figure is nobody's, as long as it is."""
        names = [MEASUREMENTS[id_].name for id_ in still_average(self.session.design.body)]
        self.status.average.setText(not_hers(self.session.design.body))
        self.status.average.setToolTip(", ".join(names))
        self.status.average.setVisible(bool(names))

    def _say(self, words: str) -> None:
        self._said = words
        self.status.words.show_sentence(words)

    def _tell_fault(self, trace: str) -> None:
        """Say once that the program failed: the same fault may come again with every frame, and others in its wake."""
        if trace in self._told:
            return
        self._told.add(trace)
        self._faults.append(trace)
        if len(self._faults) == 1:
            is_kept = self.keep_aside()
            box = FaultBox(QApplication.activeModalWidget() or self, self._faults, is_kept=is_kept)
            box.finished.connect(self._fault_read)
            box.open()

    def _fault_read(self) -> None:
        self._faults.clear()

    def _take_theme(self) -> None:
        theme = theme_now(self.desk.theme)
        dress(theme)
        self.bars.set_theme(theme)
        self.table.set_theme(theme)
        for panel in (*self.panels, self.form):
            panel.set_theme(theme)

    def _go(self, station: str) -> None:
        go_to(station, self.desk)

    def _go_into(self, name: str) -> None:
        panels: dict[str, QWidget] = {"Measurements": self.measurements, "Seam table": self.seams.table}
        widget = panels[name]
        widget.setFocus(Qt.FocusReason.ShortcutFocusReason)
        if not widget.hasFocus():
            # A panel as such takes no keyboard; its first field does.
            field = widget.findChild(QLineEdit)
            if field is not None:
                field.setFocus(Qt.FocusReason.ShortcutFocusReason)

    # --- coming and going

    def _restore(self) -> None:
        self.resize(1280, 800)
        self.restoreGeometry(settings.kept_bytes(GEOMETRY))
        for name in SPLITTERS:
            splitter: QSplitter = getattr(self, name)
            splitter.restoreState(settings.kept_bytes(name))
        self._keep_on_screen()

    def _keep_on_screen(self) -> None:
        """A monitor that is gone must not keep the window."""
        if not any(screen.availableGeometry().intersects(self.geometry()) for screen in QGuiApplication.screens()):
            self.move(QGuiApplication.primaryScreen().availableGeometry().topLeft())

    def _remember(self) -> None:
        settings.keep_bytes(GEOMETRY, self.saveGeometry())
        for name in SPLITTERS:
            splitter: QSplitter = getattr(self, name)
            settings.keep_bytes(name, splitter.saveState())

    def keep_aside(self) -> bool:
        """Write unsaved work to its recovery copy, which the next start offers; whether no work can be lost."""
        return self.desk.autosave.keep_now()

    def close_now(self) -> None:
        """Close without asking: everything has been asked."""
        self._may_close = True
        self.close()

    def close_keeping(self) -> None:
        """Close without asking, as the system goes down; the recovery copy stays."""
        self.measurements.commit()
        self._keeps = self.keep_aside()
        self.close_now()

    @property
    def _may_lose(self) -> bool:
        """Whether something would be lost with the window: unsaved work, or what is typed or shown and not kept."""
        return self.session.is_dirty or bool(self.measurements.untaken) or bool(self.desk.loose())

    @guard(None)
    def closeEvent(self, event: QCloseEvent) -> None:
        """Ask first when work would be lost; remember how the window was left."""
        self.measurements.commit()
        if self._may_lose and not self._may_close:
            event.ignore()
            self.desk.files.unless_unsaved(self.close_now)
            return
        self.desk.outputs.abandon()
        self.form.abandon()
        self.desk.autosave.end(keeps=self._keeps)
        self.desk.files.leave()
        self.desk.arrangements.keep()
        self._remember()
        event.accept()

    @guard(None)
    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep every tool in sight."""
        super().resizeEvent(event)
        self.bars.fit(event.size().width())

    @guard(None)
    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take one design, dropped anywhere on the window."""
        if _dropped(event) is not None:
            event.acceptProposedAction()

    @guard(None)
    def dropEvent(self, event: QDropEvent) -> None:
        """Open what was dropped."""
        path = _dropped(event)
        if path is not None:
            event.acceptProposedAction()
            self.desk.files.open_path(path)

    @guard(False)
    def event(self, event: QEvent) -> bool:
        """The status tips of menus and buttons go to the line that speaks of the pointer, which then speaks on."""
        if isinstance(event, QStatusTipEvent):
            self.status.words.show_sentence(event.tip() or self._said)
            return True
        return super().event(event)


def _splitter(orientation: Qt.Orientation, parent: QWidget) -> QSplitter:
    """A splitter, which takes its place in the one that it is made in; it takes its own parts in order."""
    splitter = QSplitter(orientation, parent)
    splitter.setHandleWidth(HANDLE)
    # Nothing can be pushed out of sight.
    splitter.setChildrenCollapsible(False)
    return splitter


def _titled(title: str, panel: QWidget, splitter: QSplitter) -> None:
    """Put a panel under its title into a splitter."""
    part = QWidget(splitter)
    column = QVBoxLayout(part)
    column.setContentsMargins(6, 6, 4, 2)
    column.setSpacing(2)
    column.addWidget(heading(title, part))
    column.addWidget(panel, 1)


def _dropped(event: QDropEvent) -> Path | None:
    urls = event.mimeData().urls()
    return dropped_design([url.toLocalFile() for url in urls if url.isLocalFile()])

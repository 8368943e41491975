"""The window: the order of work over the cutting table, measurements, steps and piece beside it, seams below."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Final, TypeVar

from PySide6.QtCore import QEvent, Qt, QTimer, Signal
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent, QGuiApplication, QResizeEvent, QStatusTipEvent
from PySide6.QtWidgets import QMainWindow, QSplitter, QVBoxLayout, QWidget

from app import settings
from app.actions.bar import Bars
from app.actions.catalogue import PIECE_ACTS
from app.actions.desk import Desk
from app.actions.files import dropped_design
from app.canvas.table import CuttingTable
from app.dialogs.average_figure import not_hers
from app.messages import guard
from app.panels.order import OrderPanel
from app.panels.panel import Panel, heading, put_in_place
from app.session import Changed, Session
from app.theme import Theme
from app.window.fault_teller import FaultTeller
from app.window.look import dress, theme_now
from app.window.status import StatusLine
from core.body.average import still_average
from core.body.catalogue import MEASUREMENTS

if TYPE_CHECKING:
    from app.panels.form import FormPanel
    from app.panels.measurements import MeasurementsPanel
    from app.panels.piece import PiecePanel
    from app.panels.seams import SeamsPanel
    from app.panels.steps import StepsPanel

P = TypeVar("P", bound=Panel)

GEOMETRY: Final = "geometry"
SPLITTERS: Final = ("across", "beside", "down")
MEASUREMENTS_WIDE: Final = 290
HEIGHT: Final = 671
SEAMS_HEIGHT: Final = 216
"""Pixels that table and seams share in a window of 800, and those that the seams have at an ordinary size of text."""

HANDLE: Final = 5
"""Pixels of the bars by which the parts of the window are made larger and smaller."""


class MainWindow(QMainWindow):
    """The one window of one design.

    The first picture of it is menus, tools, and the garment on the table, the panels' places empty under their titles.
    Each panel is made, and what it needs imported, when it is first wanted: by `fill`, or in turns of the event loop
    from the first picture on.
    """

    filled = Signal()
    """Everything is in its place."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session
        session.setParent(self)
        theme = theme_now(settings.theme())
        # Before there is any widget: a stylesheet costs half a second once they have to be polished anew.
        dress(theme)
        self.panels: list[Panel] = []
        self._left = self._filling()
        self._has_painted = False
        self.status = StatusLine(self)
        self._may_close = self._keeps = False
        self._said = ""
        self._lay_out(theme)
        self.desk = Desk(session, self.table, self._form_place, self)
        self.bars = Bars(self.desk, self)
        self._connect()
        self.bars.set_theme(theme)
        self.setAcceptDrops(True)
        self._restore()
        self._show_title()
        self._show_average()
        self.desk.take_first_tool()

    # --- laying out

    def _lay_out(self, theme: Theme) -> None:
        # From the outside in: whatever is put somewhere else is dressed anew with all that it holds.
        centre = QWidget(self)
        self.setCentralWidget(centre)
        column = QVBoxLayout(centre)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        self.down = _splitter(Qt.Orientation.Vertical, centre)
        self.order = OrderPanel(self.session, theme, centre, is_empty=True)
        self.panels.append(self.order)
        column.addWidget(self.order)
        column.addWidget(self.down, 1)
        self.across = _splitter(Qt.Orientation.Horizontal, self.down)
        self._seams_place = _place("", self.down)
        self._measurements_place = _place("Measurements", self.across)
        self.table = CuttingTable(self.session, theme, self.across)
        self._form_place = _place("The form", self.across)
        self._form_place.hide()
        self.beside = _splitter(Qt.Orientation.Vertical, self.across)
        self._steps_place = _place("Steps", self.beside)
        self._piece_place = _place("Selected piece", self.beside)
        self.across.setStretchFactor(1, 1)
        self.down.setStretchFactor(0, 1)
        self.across.setSizes([MEASUREMENTS_WIDE, 720, 330, 290])
        self.beside.setSizes([260, 260])
        self.down.setSizes([HEIGHT - SEAMS_HEIGHT, SEAMS_HEIGHT])
        self.setStatusBar(self.status)

    def _connect(self) -> None:
        self.table.status.connect(self._say)
        self.desk.said.connect(self._say)
        self.desk.in_hand.connect(self.status.show_tool)
        self.desk.whole_asked.connect(self.status.words.show_whole)
        self.desk.theme_chosen.connect(self._take_theme)
        self.desk.wanted.connect(self._go_into)
        self.order.go.connect(self._go)
        self.session.changed.connect(self._follow)
        QGuiApplication.styleHints().colorSchemeChanged.connect(self._take_theme)
        FaultTeller(self, self.keep_aside)

    # --- filling

    @cached_property
    def measurements(self) -> MeasurementsPanel:
        """What was measured, beside the table."""
        from app.panels.measurements import MeasurementsPanel

        panel = self._put(MeasurementsPanel(self.session, self.table.theme, self._measurements_place))
        panel.block.own_requested.connect(self.desk.client.own_block)
        panel.typing.connect(self.desk.autosave.wait)
        self.desk.typed.panel = panel
        self._fit_measurements(panel)
        return panel

    @cached_property
    def steps(self) -> StepsPanel:
        """The list of steps."""
        from app.panels.steps import StepsPanel

        panel = self._put(StepsPanel(self.session, self.table.theme, self._steps_place))
        panel.chosen.connect(self.desk.look_back)
        panel.edit_requested.connect(self.desk.edit_step)
        panel.numbers_requested.connect(self.desk.edit_by_numbers)
        return panel

    @cached_property
    def piece(self) -> PiecePanel:
        """The piece that is selected on the table."""
        from app.panels.piece import PiecePanel

        panel = self._put(PiecePanel(self.session, self.table.theme, self._piece_place))
        self.table.selected.connect(panel.show_piece)
        panel.finish_requested.connect(self.desk.sewing.finish_edge_of)
        panel.turn_requested.connect(self.desk.sewing.turn_piece)
        panel.offer([self.bars.actions[name] for name in PIECE_ACTS])
        panel.fabrics_requested.connect(self.desk.sewing.show_fabrics)
        panel.show_piece(self.table.selection)
        return panel

    @cached_property
    def seams(self) -> SeamsPanel:
        """The seam table and the girths."""
        from app.panels.seams import SeamsPanel

        panel = self._put(SeamsPanel(self.session, self.table.theme, self._seams_place))
        panel.show_requested.connect(self.table.reveal_seam)
        panel.walk_requested.connect(self.desk.walk_seam)
        panel.together_requested.connect(self.desk.lay_seam_together)
        panel.trim_requested.connect(self.desk.trim_seam)
        if panel.wanted_height > SEAMS_HEIGHT and settings.kept_bytes("down").isEmpty():
            height = self.down.height() if self.isVisible() else HEIGHT
            self.down.setSizes([height - panel.wanted_height, panel.wanted_height])
        return panel

    @property
    def form(self) -> FormPanel:
        """The form beside the table."""
        return self.desk.form

    def _put(self, panel: P) -> P:
        put_in_place(panel)
        self.panels.append(panel)
        return panel

    def _filling(self) -> Iterator[object]:
        """What the first picture goes without, part by part."""
        from app.window.announcing import Announcer

        yield Announcer(self.session, self.table)
        self.order.refresh(Changed())
        yield self.order
        # The keyboard will come to them in this order.
        yield self.measurements
        yield self.steps
        yield self.piece
        yield self.seams
        self.filled.emit()

    def fill(self) -> None:
        """Put everything into its place now."""
        for _part in self._left:
            pass

    def _fill_on(self) -> None:
        """Put the next part into its place, and leave the event loop a turn before the one after it."""
        if next(self._left, self) is not self:
            QTimer.singleShot(0, self, self._fill_on)

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

    def _take_theme(self) -> None:
        theme = theme_now(self.desk.theme)
        dress(theme)
        self.bars.set_theme(theme)
        self.table.set_theme(theme)
        for panel in self.panels:
            panel.set_theme(theme)
        self.desk.dress_form(theme)

    def _go(self, station: str) -> None:
        from app.actions.stations import go_to

        go_to(station, self.desk)

    def _go_into(self, name: str) -> None:
        widget = self.seams.table if name == "Seam table" else self.measurements.client.field
        widget.setFocus(Qt.FocusReason.ShortcutFocusReason)

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
        self.desk.typed.commit()
        self._keeps = self.keep_aside()
        self.close_now()

    @property
    def _may_lose(self) -> bool:
        """Whether something would be lost with the window: unsaved work, or what is typed or shown and not kept."""
        return self.session.is_dirty or bool(self.desk.typed.untaken) or bool(self.desk.loose())

    @guard(None)
    def closeEvent(self, event: QCloseEvent) -> None:
        """Ask first when work would be lost; remember how the window was left."""
        self.desk.typed.commit()
        if self._may_lose and not self._may_close:
            event.ignore()
            self.desk.files.unless_unsaved(self.close_now)
            return
        self._left = iter(())
        self.desk.outputs.abandon()
        self.desk.abandon_form()
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
        if self.desk.typed.panel is not None:
            self._fit_measurements(self.desk.typed.panel)

    def _fit_measurements(self, panel: MeasurementsPanel) -> None:
        if panel.fit(self.width()) and settings.kept_bytes("across").isEmpty():
            # Only once the measurements have been laid out is it known how little they need.
            QTimer.singleShot(0, self, self._give_table_room)

    def _give_table_room(self) -> None:
        """The measurements take no more of the window than they must where there is little of it."""
        beside, table, *others = self.across.sizes()
        part = self.across.widget(0)
        assert part is not None
        least = max(part.minimumSizeHint().width(), MEASUREMENTS_WIDE)
        self.across.setSizes([least, table + beside - least, *others])

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
        if event.type() == QEvent.Type.Paint and not self._has_painted:
            self._has_painted = True
            QTimer.singleShot(0, self, self._fill_on)
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


def _place(title: str, splitter: QSplitter) -> QWidget:
    """The place of a panel in a splitter, under its title if it has one."""
    place = QWidget(splitter)
    column = QVBoxLayout(place)
    if title:
        column.setContentsMargins(6, 6, 4, 2)
        column.setSpacing(2)
        column.addWidget(heading(title, place), 0, Qt.AlignmentFlag.AlignTop)
    else:
        column.setContentsMargins(0, 0, 0, 0)
    return place


def _dropped(event: QDropEvent) -> Path | None:
    urls = event.mimeData().urls()
    return dropped_design([url.toLocalFile() for url in urls if url.isLocalFile()])

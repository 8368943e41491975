"""The seam table on screen, and the finished girths beside it: live while a line is dragged."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QSize, Signal
from PySide6.QtGui import QBrush, QColor, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QHeaderView,
    QStyle,
    QVBoxLayout,
    QWidget,
)

from app.messages import guard
from app.panels.panel import Panel, button, coloured, heading, next_turn
from app.panels.sentence_line import SentenceLine
from app.panels.tables import put, table
from app.session import Changed, Session
from app.theme import Theme
from core.body.body import complete
from core.checks.cup_over_opening import NAME, cup_checks, cup_headline, cup_words
from core.checks.cutting import cutting_checks
from core.checks.girths import Girth, as_worked, girths
from core.checks.outlines import outline_faults, unsewn
from core.checks.seam_rows import NO_SIDE, SeamRow, seam_rows
from core.checks.verdict import VERDICTS, worst
from core.geometry.tolerances import TRIMMED
from core.pieces.records import Garment
from core.units import show_length

COLUMNS: Final = ("Seam", "Pieces", "1st side", "2nd side", "Ease", "Difference", "Verdict")
GIRTH_COLUMNS: Final = ("Level", "Finished", "Body", "Ease")
VERDICT: Final = COLUMNS.index("Verdict")
PIECES, EASE = COLUMNS.index("Pieces"), COLUMNS.index("Ease")
ROWS_IN_SIGHT: Final = 4
LEAST_ROWS: Final = 2
"""Seams that are in sight when the window is first shown, and however it is divided; more are scrolled to."""

MARGIN: Final = 2
SPACING: Final = QStyle.PixelMetric.PM_LayoutVerticalSpacing
SHOWN: Final = ("Seam", "Verdict", "Difference", "1st side", "2nd side", "Ease", "Pieces")
"""The columns from left to right: where there is little room, the names of the pieces give way first."""

BODY: Final = GIRTH_COLUMNS.index("Body")
HEADER_TIPS: Final = {
    "Pieces": "The pieces of the first side, and those of the second that they are sewn to.",
    "1st side": "Length of the side whose pieces are named first.",
    "2nd side": "Length of the side whose pieces are named second.",
    "Difference": "First side less second side less ease.",
}

CHOOSE_FIRST: Final = "Choose a seam in the table first."
HALF: Final = "One side of it is sewn to nothing."
EQUAL: Final = "The two sides are equal already."
"""Why a button beside the table cannot be pressed."""

WIDEST_LENGTH: Final = "-88 31/32 in "
"""Columns that hold lengths leave room for this, so that they keep their width while the lengths change."""


class SeamsPanel(Panel):
    """Every seam with its two sides and its verdict; the girths; what is at fault besides."""

    show_requested = Signal(str)
    """The seam that is to be shown on the table."""
    walk_requested = Signal(str)
    """The seam that is to be walked."""
    together_requested = Signal(str)
    """The seam at which its pieces are to be laid together on the table."""
    trim_requested = Signal(str)
    """The seam whose sides are to be made equal."""

    def __init__(self, session: Session, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(session, theme, parent)
        self._due = next_turn(self, self._show_checks)
        self._measured: Garment | None = None
        self._of_block: tuple[Girth, ...] = ()
        self._found_girths: tuple[Girth, ...] = ()
        self.table = table("Seam table", COLUMNS, self)
        self.girths = table("Finished girths", GIRTH_COLUMNS, self)
        for column, name in enumerate(COLUMNS):
            item = self.table.horizontalHeaderItem(column)
            if item is not None:
                item.setToolTip(HEADER_TIPS.get(name, ""))
        header = self.table.horizontalHeader()
        header.setSectionResizeMode(COLUMNS.index("Pieces"), QHeaderView.ResizeMode.Stretch)
        for place, name in enumerate(SHOWN):
            header.moveSection(header.visualIndex(COLUMNS.index(name)), place)
        self.girths.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)
        self.faults, self.cups, self.sides = SentenceLine(self), SentenceLine(self), SentenceLine(self)
        self.show_button = button("Show", self, tip="Show the seam on the cutting table.")
        self.walk_button = button("Walk", self, tip="Roll the second side along the first, to see where they part.")
        tip = "Lay the pieces edge to edge on the cutting table, to draw or measure across the seam."
        self.together_button = button("Lay together", self, tip=tip)
        self.trim_button = button("Trim to match", self, tip="Make the two sides of the seam equal.")
        self.show_button.clicked.connect(self._ask_show)
        self.walk_button.clicked.connect(self._ask_walk)
        self.together_button.clicked.connect(self._ask_together)
        self.trim_button.clicked.connect(self._ask_trim)
        self.table.itemSelectionChanged.connect(self._follow_selection)
        self.table.itemActivated.connect(self._ask_show)
        self._rows: tuple[SeamRow, ...] = ()
        self._lay()
        self.refresh(Changed())

    def _lay(self) -> None:
        buttons = QHBoxLayout()
        buttons.addWidget(self.show_button)
        buttons.addWidget(self.walk_button)
        buttons.addWidget(self.together_button)
        buttons.addWidget(self.trim_button)
        said = QVBoxLayout()
        said.setSpacing(0)
        said.addWidget(self.sides)
        said.addWidget(self.faults)
        said.addWidget(self.cups)
        buttons.addLayout(said, 1)
        seams = QVBoxLayout()
        seams.addWidget(self.table, 1)
        seams.addLayout(buttons)
        beside = QVBoxLayout()
        beside.addWidget(heading("Finished girths", self))
        beside.addWidget(self.girths, 1)
        row = QHBoxLayout(self)
        row.setContentsMargins(2 * MARGIN, MARGIN, 2 * MARGIN, MARGIN)
        row.addLayout(seams, 1)
        row.addLayout(beside)

    # ------------------------------------------------------------------------------------------------------------
    # showing

    def refresh(self, changed: Changed) -> None:
        """Show the seams and girths as they are now; faults only after an act."""
        if not changed.design:
            return
        self._show_lengths(changed)
        if not changed.preview:
            self._show_checks()

    def _follow(self, changed: Changed) -> None:
        """Show the lengths at once; what is at fault in the next turn of the loop, when what was done has been seen."""
        if changed.design:
            self._show_lengths(changed)
            if not changed.preview:
                self._due.start()

    def _show_lengths(self, changed: Changed) -> None:
        self._show_girths(afresh=not changed.preview)
        self._show_seams(seam_rows(self.session.shown.garment), afresh=not changed.preview)
        self._show_lines()

    def _show_checks(self) -> None:
        self._show_faults()
        self._show_cups()
        self._show_lines()

    def _show_lines(self) -> None:
        """What was checked is said of all the work, not of what it was after an earlier step."""
        for line in (self.faults, self.cups):
            line.setVisible(bool(line.text()) and self.session.looks_back is None)

    def _show_seams(self, rows: tuple[SeamRow, ...], *, afresh: bool) -> None:
        """Write what differs from what stands there; `afresh` writes all, as unit or colours may have changed."""
        before, self._rows = self._rows, rows
        other_seams = [row.name for row in before] != [row.name for row in rows]
        if other_seams:
            self.table.setRowCount(len(rows))
        for index, row in enumerate(rows):
            if afresh or other_seams or row != before[index]:
                self._write(index, row)
        if other_seams or afresh:
            self._widen()
            self._count(len(rows))
        self._follow_selection()

    def _write(self, index: int, row: SeamRow) -> None:
        unit = self.session.design.unit
        lengths = (row.length_a, row.length_b, row.ease, row.difference)
        shown = [show_length(length, unit) for length in lengths]
        pieces = " to ".join(row.sides)
        texts = (row.words, pieces, *shown, f"{row.sign} {row.verdict}")
        exact = [f"{length:.3f} mm" for length in lengths]
        exact[:2] = [f"{edges}: {length}" for edges, length in zip(row.edges, exact, strict=False)]
        tips = ("", pieces, *exact, "")
        for column, (text, tip) in enumerate(zip(texts, tips, strict=True)):
            put(self.table, (index, column), text, tip=tip, right=2 <= column < VERDICT)
        item = self.table.item(index, VERDICT)
        if item is not None:
            item.setForeground(QBrush(QColor(self.theme.verdicts[row.verdict])))

    def _count(self, number: int) -> None:
        """Say over the first column how many seams there are: not all of them need be in sight."""
        item = self.table.horizontalHeaderItem(0)
        if item is not None:
            item.setText(f"{number} seams" if number != 1 else "1 seam")

    def _widen(self) -> None:
        """Give the columns their width: lengths stay in place while they change, and the verdict is always in sight."""
        self.table.resizeColumnToContents(0)
        length = self.table.fontMetrics().horizontalAdvance(WIDEST_LENGTH)
        for column in range(2, len(COLUMNS)):
            self.table.setColumnWidth(column, max(length, self.table.horizontalHeader().sectionSizeHint(column)))

    def _show_girths(self, *, afresh: bool) -> None:
        """Write the girths; during a drag only when one has changed, as few drags change any."""
        now = self.session.shown
        if self._measured is not now.block:
            self._measured = now.block
            self._of_block = girths(now.block, complete(now.design.body), now.design.ease)
        found = as_worked(self._of_block, now.garment)
        if found == self._found_girths and not afresh:
            return
        self._found_girths = found
        self.girths.setRowCount(len(found))
        for index, girth in enumerate(found):
            self._write_girth(index, girth)
        self._fit_girths()

    def _fit_girths(self) -> None:
        """Leave the body's own girths out where the seams need the room: they stand among the measurements."""
        self.girths.setColumnHidden(BODY, False)
        self.girths.resizeColumnsToContents()
        needed = self.table.horizontalHeader().length() + self._girths_width()
        self.girths.setColumnHidden(BODY, needed > self.width())
        self.girths.setFixedWidth(self._girths_width())

    def _fit_seams(self) -> None:
        """Leave out the names of the pieces, then the ease, where there is no room: each has them in its tips."""
        bar = self.table.verticalScrollBar().sizeHint().width()
        room = self.width() - self.girths.width() - 6 * MARGIN - 2 * self.table.frameWidth() - bar
        for column in (PIECES, EASE):
            self.table.setColumnHidden(column, False)
        header = self.table.horizontalHeader()
        fixed = sum(header.sectionSize(column) for column in range(len(COLUMNS)) if column != PIECES)
        self.table.setColumnHidden(PIECES, fixed + header.sectionSizeHint(PIECES) > room)
        self.table.setColumnHidden(EASE, fixed > room)

    @property
    def wanted_height(self) -> int:
        """How high the panel is with so many seams in sight that the table is of use."""
        return self._height_with(ROWS_IN_SIGHT)

    def _height_with(self, rows: int) -> int:
        shown = self.table.horizontalHeader().sizeHint().height() + 2 * self.table.frameWidth()
        shown += rows * self.table.verticalHeader().defaultSectionSize()
        around = self.contentsMargins().top() + self.contentsMargins().bottom() + 2 * MARGIN
        return shown + self.show_button.sizeHint().height() + around + 2 * self.style().pixelMetric(SPACING)

    @guard(QSize())
    def minimumSizeHint(self) -> QSize:
        """Never less than some rows of the table: it is always in sight."""
        return QSize(super().minimumSizeHint().width(), self._height_with(LEAST_ROWS))

    def _girths_width(self) -> int:
        bar = self.girths.verticalScrollBar().sizeHint().width()
        return self.girths.horizontalHeader().length() + 2 * self.girths.frameWidth() + bar

    @guard(None)
    def resizeEvent(self, event: QResizeEvent) -> None:
        """Show as much of the girths as there is room for."""
        super().resizeEvent(event)
        self._fit_girths()
        self._fit_seams()

    def _write_girth(self, index: int, girth: Girth) -> None:
        unit = self.session.design.unit
        lengths = (girth.finished, girth.body, girth.ease)
        wanted = "" if girth.wanted is None else f"; wanted {show_length(girth.wanted, unit)}"
        put(self.girths, (index, 0), girth.name)
        for column, length in enumerate(lengths, start=1):
            tip = f"{length:.2f} mm{wanted}"
            put(self.girths, (index, column), show_length(length, unit), tip=tip, right=True)

    def _show_faults(self) -> None:
        replay = self.session.replay
        faults = (*outline_faults(replay.garment), *unsewn(replay.garment))
        cutting = sorted(cutting_checks(replay), key=lambda one: -VERDICTS.index(one.verdict))
        found = [f"≠ {fault.sentence}" for fault in faults]
        found += [f"{one.sign} {one.verdict}  {one.sentence}" for one in cutting]
        more = f" And {len(found) - 1} more." if len(found) > 1 else ""
        self.faults.show_sentence(f"{found[0]}{more}" if found else "", "\n".join(found))
        least = "wrong" if faults else worst(one.verdict for one in cutting)
        coloured(self.faults, self.theme.verdicts[least])

    def _show_cups(self) -> None:
        """What the check of the cup comes to in a line, all of it in the tip; nothing where there is no cup."""
        unit, found = self.session.design.unit, cup_checks(self.session.replay)
        lines = [f"{check.sign} {check.verdict}  {NAME}: {cup_headline(check, unit)}" for check in found]
        self.cups.show_sentence("; ".join(lines), "\n".join(cup_words(check, unit) for check in found))
        if found:
            coloured(self.cups, self.theme.verdicts[worst(check.verdict for check in found)])

    # ------------------------------------------------------------------------------------------------------------
    # asking

    @property
    def chosen(self) -> SeamRow | None:
        """The seam whose row is selected."""
        index = self.table.currentRow()
        return (
            self._rows[index] if self.table.selectionModel().hasSelection() and 0 <= index < len(self._rows) else None
        )

    def _follow_selection(self) -> None:
        row = self.chosen
        none = CHOOSE_FIRST if row is None else ""
        half = HALF if row is not None and NO_SIDE in row.edges else ""
        equal = EQUAL if row is not None and abs(row.difference) <= TRIMMED else ""
        self.show_button.allow(unless=none)
        self.walk_button.allow(unless=none or half)
        self.together_button.allow(unless=none or half)
        self.trim_button.allow(unless=none or equal)
        words = exact_words(row) if row is not None else ""
        if self.sides.text() != words:
            self.sides.show_sentence(words)
        self.sides.setVisible(bool(words))

    def _ask_show(self) -> None:
        row = self.chosen
        if row is not None:
            self.show_requested.emit(row.name)

    def _ask_walk(self) -> None:
        row = self.chosen
        if row is not None:
            self.walk_requested.emit(row.name)

    def _ask_together(self) -> None:
        row = self.chosen
        if row is not None:
            self.together_requested.emit(row.name)

    def _ask_trim(self) -> None:
        row = self.chosen
        if row is not None:
            self.trim_requested.emit(row.name)


def exact_words(row: SeamRow) -> str:
    """Both sides of a seam in words, with what they measure exactly: the table has them to the nearest mark."""
    lengths = (row.length_a, row.length_b)
    return " to ".join(f"{edges} {length:.2f} mm" for edges, length in zip(row.edges, lengths, strict=True)) + "."

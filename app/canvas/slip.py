"""A slip of paper pinned to the table: a sentence that asks, two buttons, and under it what can be chosen or typed.

Where that would hide most of the table, only the sentence and the buttons are shown until she asks for the rest.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, QPoint, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFocusEvent, QKeyEvent, QMouseEvent, QPalette
from PySide6.QtWidgets import (
    QAbstractButton,
    QBoxLayout,
    QCheckBox,
    QFrame,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)
from shiboken6 import isValid

from app.canvas.flow import Flow
from app.canvas.rulers import wide
from app.canvas.tool import ENTER
from app.messages import guard

if TYPE_CHECKING:
    from app.canvas.table import CuttingTable

FROM_EDGE = 16
"""Pixels between the slip and the table's edges."""

SPACING = 3
MOST = 0.5
"""The share of the table's height above which a slip is shown short at first."""


class SlipField(QLineEdit):
    """A field on a slip, with its name before it. Enter means its text; Esc is the table's."""

    meant = Signal(str)

    def __init__(self, slip: Slip, *, letters: int) -> None:
        super().__init__(slip)
        self._slip = slip
        self._letters = letters
        self._is_entered = False
        self._is_typed = self._is_answered = False
        self.textEdited.connect(self._type)
        self.label = QLabel(slip)
        self.label.setTextFormat(Qt.TextFormat.PlainText)
        self.label.setBuddy(self)

    def call(self, name: str) -> None:
        """Give the field its name, seen and accessible."""
        self.label.setText(name)
        self.setAccessibleName(name)

    def _type(self) -> None:
        self._is_typed = True

    @property
    def is_pending(self) -> bool:
        """Whether something is typed that nobody has meant yet."""
        return self._is_typed and bool(self.text())

    def mean(self) -> bool:
        """Mean what is typed; whether the tool took it, and so wrote what it holds now."""
        self._is_typed = self._is_answered = False
        self.meant.emit(self.text())
        return self._is_answered

    def setText(self, arg__1: str | None) -> None:
        """What the tool holds: nothing is being typed then."""
        self._is_typed, self._is_answered = False, True
        super().setText(arg__1)

    def clear(self) -> None:
        """As `setText`."""
        self.setText("")

    def begin(self, text: str) -> None:
        """Begin to type: what was typed on the table goes on here."""
        self._slip.show_all()
        self.setText(text)
        self._is_typed = bool(text)
        self.setFocus(Qt.FocusReason.OtherFocusReason)

    @guard(default=QSize())
    def sizeHint(self) -> QSize:
        """Room for so many letters."""
        return QSize(self.fontMetrics().horizontalAdvance("n" * self._letters), super().sizeHint().height())

    @guard(default=None)
    def mousePressEvent(self, event: QMouseEvent) -> None:
        """The click that enters the field takes up all of its text, so that what is typed takes its place."""
        super().mousePressEvent(event)
        if not self._is_entered:
            self.selectAll()
        self._is_entered = True

    @guard(default=None)
    def focusOutEvent(self, event: QFocusEvent) -> None:
        """The next click enters it anew."""
        self._is_entered = False
        super().focusOutEvent(event)

    @guard(default=None)
    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter means the text and does not reach the table."""
        self._is_entered = True
        if event.key() in ENTER:
            self.mean()
        else:
            super().keyPressEvent(event)


class Slip(QFrame):
    """Asks whether what is shown shall be done. It lies at the foot of the table and goes with its tool.

    The table shows its pieces above it; where a hand has looked nearer, it can be dragged elsewhere by its paper.
    """

    accepted = Signal()
    dropped = Signal()

    def __init__(
        self,
        table: CuttingTable,
        *,
        accept: str,
        drop: str = "Leave it",
        does: Callable[[], None] | None = None,
        drops: Callable[[], None] | None = None,
    ) -> None:
        """Without `does` and `drops` it does what the tool in hand shows, and lays the tool down."""
        super().__init__(table)
        self._table, self._theme = table, table.theme
        self._place: QPoint | None = None
        self._held: QPoint | None = None
        self._is_whole = False
        self.setCursor(Qt.CursorShape.ArrowCursor)
        self.setFrameShape(QFrame.Shape.StyledPanel)
        self.setAutoFillBackground(True)
        self._paper, self._scroll = QWidget(self), QScrollArea(self)
        self._words = QLabel(self._paper)
        self._words.setTextFormat(Qt.TextFormat.PlainText)
        self._accept, self._drop = QPushButton(accept, self._paper), QPushButton(drop, self._paper)
        self._all_button = QPushButton("More", self._paper)
        self._below = QWidget(self._paper)
        self._lay()
        self._accept.clicked.connect(self._take_and_accept)
        self._drop.clicked.connect(self.dropped)
        self.accepted.connect(does or table.accept_tool)
        self.dropped.connect(drops or table.leave_tool)
        self._all_button.clicked.connect(self._turn_whole)
        table.installEventFilter(self)

    def _lay(self) -> None:
        """Sentence and buttons at the top, under them what is put away where there is no room."""
        self._column, below = QVBoxLayout(self._paper), QVBoxLayout(self._below)
        # What it lies on is being worked at: it takes no more of the table than it must.
        self._column.setContentsMargins(10, 6, 10, 6)
        below.setContentsMargins(0, 0, 0, 0)
        self._top, self._buttons = QHBoxLayout(), QHBoxLayout()
        self._fields, self._choices = Flow(), Flow()
        for button in (self._accept, self._drop, self._all_button):
            button.setAccessibleName(button.text())
            button.setAutoDefault(True)
            self._buttons.addWidget(button)
        self._top.addWidget(self._words, 1)
        self._top.addLayout(self._buttons)
        for lines in (self._fields, self._choices):
            lines.setSpacing(SPACING)
            below.addLayout(lines)
        self._column.addLayout(self._top)
        self._column.addWidget(self._below)
        for column in (self._column, below):
            column.setSpacing(SPACING)
        self._scroll.setWidget(self._paper)
        self._scroll.setWidgetResizable(True)
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._paper.setAutoFillBackground(False)
        self._scroll.viewport().setAutoFillBackground(False)

    def field(self, *, letters: int = 12) -> SlipField:
        """A new field under the sentence."""
        found = SlipField(self, letters=letters)
        self._fields.add(found.label, found)
        return found

    def next_row(self) -> None:
        """Begin a new row of fields under those there are."""
        self._fields.next_line()

    def button(self, words: str, *, key: str) -> QPushButton:
        """A new button under the sentence; `key` does the same on the table."""
        found = QPushButton(words, self)
        self._add(found, words, key)
        return found

    def toggle(self, words: str, *, key: str) -> QCheckBox:
        """A new box to be ticked under the sentence; `key` does the same on the table."""
        found = QCheckBox(words, self)
        self._add(found, words, key)
        return found

    def _add(self, button: QAbstractButton, words: str, key: str) -> None:
        button.setAccessibleName(words)
        button.setToolTip(f"{words} ({key})")
        self._choices.add(button)

    def pending(self) -> list[SlipField]:
        """The fields in which something is typed that nobody has meant yet."""
        return [field for field in self.findChildren(SlipField) if not field.isHidden() and field.is_pending]

    def take_typed(self) -> bool:
        """Mean what is typed in the fields; False where that was refused, or was all there was to do."""
        return all(field.mean() and isValid(self) and not self.isHidden() for field in self.pending())

    def _take_and_accept(self) -> None:
        """What is typed counts before anything is done with it."""
        if self.take_typed():
            self.accepted.emit()

    def ask(self, words: str, *, can_accept: bool = True) -> None:
        """Show a sentence; the first button is there only when it can be done."""
        self._words.setText(words)
        self.setAccessibleName(words)
        self._accept.setEnabled(can_accept)
        self._fit()
        self.setPalette(self._on_paper())
        self.show()
        self.raise_()
        self._make_room()

    def _on_paper(self) -> QPalette:
        """The table's own paper and ink, whatever the window's buttons look like."""
        found = QPalette(self.palette())
        found.setColor(QPalette.ColorRole.Window, QColor(self._theme.label))
        found.setColor(QPalette.ColorRole.WindowText, QColor(self._theme.ink))
        return found

    def show_all(self) -> None:
        """Show what was put away for want of room."""
        self._show_whole(is_whole=True)

    def _turn_whole(self) -> None:
        self._show_whole(is_whole=not self._is_whole)

    def _show_whole(self, *, is_whole: bool) -> None:
        if self._is_whole != is_whole:
            self._is_whole = is_whole
            self._fit()
            self._make_room()

    def _make_room(self) -> None:
        if self._place is None:
            self._table.leave_room(self.height() + FROM_EDGE)

    def _fit(self) -> None:
        """As small as its words allow, and no larger than the table: a longer sentence goes on in a second line.

        What would hide most of the table is put away until she asks for it, and is scrolled where it is higher than the
        table.
        """
        wide_at_most = self._table.width() - wide(self._table.font()) - 2 * FROM_EDGE
        high_at_most = self._table.height() - wide(self._table.font()) - FROM_EDGE
        self._below.setVisible(self._has_more())
        self._all_button.hide()
        wanted = self._wanted(wide_at_most)
        if self._has_more() and wanted.height() > MOST * self._table.height():
            self._all_button.setText("Less" if self._is_whole else "More")
            self._all_button.setAccessibleName(self._all_button.text())
            self._all_button.setToolTip(
                "Leave the table its room." if self._is_whole else "What can be chosen or typed."
            )
            self._all_button.show()
            self._below.setVisible(self._is_whole)
            wanted = self._wanted(wide_at_most)
        if wanted.height() > high_at_most:
            bar = self._scroll.verticalScrollBar().sizeHint().width()
            wanted = QSize(min(wanted.width() + bar, wide_at_most), high_at_most)
        self.resize(wanted)
        self._scroll.setGeometry(self.contentsRect())
        self._pin()

    def _has_more(self) -> bool:
        """Whether there is anything besides the sentence and its buttons."""
        inside = self._below.findChildren(QWidget, options=Qt.FindChildOption.FindDirectChildrenOnly)
        return any(not widget.isHidden() for widget in inside)

    def _wanted(self, room: int) -> QSize:
        """How large it would be at most so wide, once everything stands as it has to for that."""
        edges = 2 * self.frameWidth()
        inside = room - edges
        margins = self._column.contentsMargins()
        for lines in (self._fields, self._choices):
            lines.spread(inside - margins.left() - margins.right())
        self._narrow(0)
        wanted = self._column.totalSizeHint()
        if wanted.width() > inside:
            self._narrow(min((1, 2, 3), key=partial(self._height_in, inside)))
            wanted = QSize(inside, self._column.totalHeightForWidth(inside))
        return QSize(wanted.width() + edges, wanted.height() + edges)

    def _height_in(self, room: int, times: int) -> tuple[bool, int]:
        """Whether something would be cut off, and how high it would be, so narrow."""
        self._narrow(times)
        return self._column.totalMinimumSize().width() > room, self._column.totalHeightForWidth(room)

    def _narrow(self, times: int) -> None:
        """Once: break the sentence into lines; twice: the buttons go under it; three times: and under each other."""
        self._words.setWordWrap(times > 0)
        self._top.setDirection(_way(is_stacked=times > 1))
        self._buttons.setDirection(_way(is_stacked=times > 2))
        # Rows inside the column forget their old sizes only when it is laid out.
        for column in (self._below.layout(), self._column):
            if column is not None:
                column.invalidate()
                column.activate()

    def _pin(self) -> None:
        ruler = wide(self._table.font())
        foot = QPoint(ruler + FROM_EDGE, self._table.height() - self.height() - FROM_EDGE)
        wanted = self._place or foot
        right, bottom = self._table.width() - self.width(), self._table.height() - self.height()
        self.move(max(min(wanted.x(), right), ruler), max(min(wanted.y(), bottom), ruler))

    @guard(default=None)
    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take the slip by its paper."""
        self._held = event.position().toPoint()

    @guard(default=None)
    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Drag it elsewhere; it stays on the table."""
        if self._held is not None:
            self._place = self.pos() + event.position().toPoint() - self._held
            self._pin()
            self._table.leave_room(0.0)

    @guard(default=None)
    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let it lie there."""
        self._held = None

    @guard(default=False)
    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """The slip stays at the foot of a table whose size changes."""
        if event.type() == QEvent.Type.Resize:
            self._fit()
        return False

    def take_away(self) -> None:
        """Take the slip off the table for good."""
        self._table.leave_room(0.0)
        self._table.removeEventFilter(self)
        self.hide()
        self.deleteLater()


def _way(*, is_stacked: bool) -> QBoxLayout.Direction:
    return QBoxLayout.Direction.TopToBottom if is_stacked else QBoxLayout.Direction.LeftToRight

"""A slip of paper pinned to the table: a sentence that asks, two buttons, and under it what can be chosen or typed."""

from __future__ import annotations

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
    QVBoxLayout,
    QWidget,
)
from shiboken6 import isValid

from app.canvas.rulers import wide
from app.messages import guard
from app.theme import Theme

if TYPE_CHECKING:
    from app.canvas.table import CuttingTable

FROM_EDGE = 16
"""Pixels between the slip and the table's edges."""


class SlipField(QLineEdit):
    """A field on a slip, with its name before it. Enter means its text; Esc is the table's."""

    meant = Signal(str)

    def __init__(self, slip: QWidget, *, letters: int) -> None:
        super().__init__(slip)
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
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.mean()
        else:
            super().keyPressEvent(event)


class Slip(QFrame):
    """Asks whether what is shown shall be done. It lies at the foot of the table and goes with its tool.

    The table shows its pieces above it; where a hand has looked nearer, it can be dragged elsewhere by its paper.
    """

    accepted = Signal()
    dropped = Signal()

    def __init__(self, table: CuttingTable, theme: Theme, *, accept: str, drop: str = "Leave it") -> None:
        super().__init__(table)
        self._table, self._theme = table, theme
        self._place: QPoint | None = None
        self._held: QPoint | None = None
        self.setCursor(Qt.CursorShape.ArrowCursor)
        self.setFrameShape(QFrame.Shape.StyledPanel)
        self.setAutoFillBackground(True)
        self._words = QLabel(self)
        self._words.setTextFormat(Qt.TextFormat.PlainText)
        self._accept, self._drop = QPushButton(accept, self), QPushButton(drop, self)
        self._column = QVBoxLayout(self)
        # What it lies on is being worked at: it takes no more of the table than it must.
        self._column.setContentsMargins(10, 6, 10, 6)
        self._column.setSpacing(3)
        self._top, self._fields, self._choices = QHBoxLayout(), QHBoxLayout(), QHBoxLayout()
        self._rows, buttons = QVBoxLayout(), QHBoxLayout()
        self._rows.addLayout(self._fields)
        for line in (self._top, self._rows, self._choices):
            self._column.addLayout(line)
        for button in (self._accept, self._drop):
            button.setAccessibleName(button.text())
            button.setAutoDefault(True)
        self._accept.clicked.connect(self._take_and_accept)
        self._drop.clicked.connect(self.dropped)
        buttons.addWidget(self._accept)
        buttons.addWidget(self._drop)
        self._top.addWidget(self._words, 1)
        self._top.addLayout(buttons)
        table.installEventFilter(self)

    def field(self, *, letters: int = 12) -> SlipField:
        """A new field under the sentence."""
        found = SlipField(self, letters=letters)
        self._fields.addWidget(found.label)
        self._fields.addWidget(found)
        self._fields.addStretch(1)
        return found

    def next_row(self) -> None:
        """Begin a new row of fields under those there are."""
        self._fields = QHBoxLayout()
        self._rows.addLayout(self._fields)

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
        if self._choices.count() == 0:
            self._choices.addStretch(1)
        self._choices.insertWidget(self._choices.count() - 1, button)

    def pending(self) -> list[SlipField]:
        """The fields in which something is typed that nobody has meant yet."""
        return [field for field in self.findChildren(SlipField) if field.isVisible() and field.is_pending]

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
        self.setPalette(self._paper())
        self.show()
        self.raise_()
        if self._place is None:
            self._table.leave_room(self.height() + FROM_EDGE)

    def _paper(self) -> QPalette:
        """The table's own paper and ink, whatever the window's buttons look like."""
        found = QPalette(self.palette())
        found.setColor(QPalette.ColorRole.Window, QColor(self._theme.label))
        found.setColor(QPalette.ColorRole.WindowText, QColor(self._theme.ink))
        return found

    def _fit(self) -> None:
        """As small as its words allow, and no wider than the table: a longer sentence goes on in a second line.

        Where even its buttons find no room beside each other, they stand under each other.
        """
        room = self._table.width() - wide(self._table.font()) - 2 * FROM_EDGE
        self._wrap(is_wrapped=False, is_stacked=False)
        wanted = self._column.totalSizeHint()
        if wanted.width() > room:
            self._wrap(is_wrapped=True, is_stacked=False)
            if self._column.totalMinimumSize().width() > room:
                self._wrap(is_wrapped=True, is_stacked=True)
            wanted = QSize(room, self._column.totalHeightForWidth(room))
        self.resize(wanted)
        self._pin()

    def _wrap(self, *, is_wrapped: bool, is_stacked: bool) -> None:
        self._words.setWordWrap(is_wrapped)
        way = QBoxLayout.Direction.TopToBottom if is_stacked else QBoxLayout.Direction.LeftToRight
        for line in (self._top, self._choices, *(row for row in self._rows.children() if isinstance(row, QBoxLayout))):
            line.setDirection(way)
        # Rows inside the column forget their old sizes only when it is laid out.
        self._column.invalidate()
        self._column.activate()

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

"""One field with its plain name, the words of its state, and the sentence that refuses what was typed."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QEvent, QObject, QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QGridLayout, QLabel, QLineEdit, QWidget

from app.messages import guard
from app.panels.panel import coloured, sentence_label
from app.theme import Theme

LONGEST_TEXT: Final = " 22.0 degrees "
GRID_ROWS: Final = 3


class EntryField(QLineEdit):
    """A field that says when its text is meant (Enter, or the keyboard going elsewhere) and when it is given up."""

    meant = Signal()
    given_up = Signal()
    entered = Signal()

    shown = ""
    """What the design holds; another text is being typed, and undo and redo are the field's own until it is meant."""

    @guard(False)
    def event(self, event: QEvent) -> bool:
        """While nothing is being typed, the keys of undo and redo are left to the window."""
        if event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent) and self._is_history(event):
            event.ignore()
            return False
        return super().event(event)

    def _is_history(self, event: QKeyEvent) -> bool:
        keys = (QKeySequence.StandardKey.Undo, QKeySequence.StandardKey.Redo)
        return self.text() == self.shown and any(event.matches(key) for key in keys)

    @guard(QSize())
    def sizeHint(self) -> QSize:
        """Room for the longest length."""
        return QSize(self.fontMetrics().horizontalAdvance(LONGEST_TEXT), super().sizeHint().height())

    @guard(QSize())
    def minimumSizeHint(self) -> QSize:
        """The same room: a measurement is never cut off."""
        return self.sizeHint()

    @guard(None)
    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter means the text, Esc gives it up; both stay in the field."""
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self.meant.emit()
        elif event.key() == Qt.Key.Key_Escape:
            self.given_up.emit()
        elif self._is_history(event):
            # There is no act to undo; the field's own history reaches back to before the text was taken.
            event.ignore()
        else:
            super().keyPressEvent(event)

    @guard(None)
    def focusInEvent(self, event: QFocusEvent) -> None:
        """Come in with the old text selected, so that typing replaces it."""
        super().focusInEvent(event)
        self.entered.emit()
        if event.reason() in {Qt.FocusReason.TabFocusReason, Qt.FocusReason.BacktabFocusReason}:
            self.selectAll()

    @guard(None)
    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Going elsewhere means the text, but for a look at the field's own menu."""
        super().focusOutEvent(event)
        if event.reason() != Qt.FocusReason.PopupFocusReason:
            self.meant.emit()


class EntryRow(QObject):
    """Name, field and state side by side in a grid, the refusal under them.

    `typed` is emitted with the row's id and the text when another text than the shown one is meant, `typing` at every
    change until then.
    """

    typed = Signal(str, str)
    typing = Signal()
    given_up = Signal(str)
    entered = Signal(str)
    refused = Signal(str)

    def __init__(self, id_: str, name: str, parent: QWidget) -> None:
        super().__init__(parent)
        self.id = id_
        self.name = name
        self.label = sentence_label(name, parent)
        self.label.setMinimumWidth(0)
        self.field = EntryField(parent)
        self.field.setAccessibleName(name)
        self.label.setBuddy(self.field)
        self.state = QLabel(parent)
        self.refusal = sentence_label(parent=parent)
        self.refusal.hide()
        self.field.textEdited.connect(self.typing)
        self.field.meant.connect(self._mean)
        self.field.given_up.connect(self.restore)
        self.field.entered.connect(self._enter)

    def add_to(self, grid: QGridLayout, row: int, *, wide: bool = False) -> None:
        """Take `GRID_ROWS` rows of a grid of three columns; a wide field takes the room of the state as well."""
        self._grid, self._row, self._is_wide = grid, row, wide
        grid.addWidget(self.refusal, row + 2, 0, 1, 3)
        self.stand(is_narrow=False)

    def stand(self, *, is_narrow: bool) -> None:
        """Let the name stand beside its field, or in a narrow grid over it."""
        at, column, span = (self._row + 1, 0, 2) if is_narrow else (self._row, 1, 1)
        self._grid.addWidget(self.label, self._row, 0, 1, 3 if is_narrow else 1)
        self._grid.addWidget(self.field, at, column, 1, span + self._is_wide)
        if not self._is_wide:
            self._grid.addWidget(self.state, at, 2)

    @property
    def is_refused(self) -> bool:
        """Whether a text stands in the field that was refused."""
        return bool(self.refusal.text())

    @property
    def is_half_typed(self) -> bool:
        """Whether another text stands in the field than the design holds: not meant yet, or refused."""
        return self.field.text() != self.field.shown

    def show_text(self, text: str, *, estimate: str = "", state: str = "", tip: str = "") -> None:
        """Show what the design holds; a text that was refused or is being typed stays."""
        being_typed = self.field.hasFocus() and self.field.text() != self.field.shown
        self.field.shown = text
        self.field.setPlaceholderText(estimate)
        self.state.setText(state)
        for widget in (self.label, self.field, self.state):
            widget.setToolTip(tip)
        self.field.setAccessibleDescription(", ".join(part for part in (state, estimate, tip) if part))
        if not self.is_refused and not being_typed:
            self._put(text)

    def _put(self, text: str) -> None:
        if self.field.text() != text:
            self.field.setText(text)
            self.field.setCursorPosition(0)

    def take(self) -> None:
        """What was typed stands in the design now: show it as the design has it."""
        self.refuse("")
        self._put(self.field.shown)

    def restore(self) -> None:
        """Give up what was typed."""
        self.take()
        self.field.selectAll()
        self.given_up.emit(self.id)

    def refuse(self, sentence: str) -> None:
        """Say why the text cannot be taken; the text stays to be corrected. "" takes the sentence away."""
        self.refusal.setText(f"≠ {sentence}" if sentence else "")
        self.refusal.setVisible(bool(sentence))
        if sentence:
            self.refused.emit(self.id)

    def set_theme(self, theme: Theme) -> None:
        """Take other colours."""
        coloured(self.refusal, theme.verdicts["wrong"])
        coloured(self.state, theme.faint_text)

    def commit(self) -> None:
        """Mean what is in the field, as if the keyboard had gone elsewhere."""
        self._mean()

    def _mean(self) -> None:
        if self.field.text() != self.field.shown:
            self.typed.emit(self.id, self.field.text())
        elif self.is_refused:
            self.restore()

    def _enter(self) -> None:
        self.entered.emit(self.id)

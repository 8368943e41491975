"""The steps on screen: numbered sentences with their notes; the one that cannot be done says why."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QBrush, QColor, QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QListView, QListWidget, QListWidgetItem, QVBoxLayout, QWidget

from app.messages import guard
from app.panels.panel import Panel, button, coloured, sentence_label
from app.panels.step_lines import Sentences, StepLine, index_of, moved, step_lines, what_waits
from app.session import Changed, Session
from app.theme import Theme
from core.design.design import Design
from core.errors import Refusal

STEP_ID = Qt.ItemDataRole.UserRole
NOTHING_DONE: Final = "Nothing is done to the block yet. Each thing you do to it is written here, and can be altered."
MARGIN: Final = 6
CHOOSE_FIRST: Final = "Choose a step in the list first."
IS_OFF: Final = "It is switched off: switch it on first."


class StepList(QListWidget):
    """The list itself: Delete asks to delete the step that is selected; empty, it says what will stand in it."""

    delete_asked = Signal()

    @guard(None)
    def paintEvent(self, event: QPaintEvent) -> None:
        """The steps, or the words that stand in for them."""
        super().paintEvent(event)
        if self.count() == 0:
            with QPainter(self.viewport()) as painter:
                painter.setPen(self.palette().placeholderText().color())
                room = self.viewport().rect().adjusted(MARGIN, MARGIN, -MARGIN, -MARGIN)
                painter.drawText(room, Qt.TextFlag.TextWordWrap, NOTHING_DONE)

    @guard(None)
    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Delete deletes; all other keys are the list's own."""
        if event.key() == Qt.Key.Key_Delete:
            self.delete_asked.emit()
        else:
            super().keyPressEvent(event)


class StepsPanel(Panel):
    """Every step in one sentence, in order; edit, delete, move."""

    chosen = Signal(str)
    """The id of the step that is selected, "" for none."""
    edit_requested = Signal(str)
    """The id of the step that is to be edited."""
    numbers_requested = Signal(str)
    """The id of the step that is to be edited in a form."""

    def __init__(self, session: Session, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(session, theme, parent)
        self._sentences: Sentences = {}
        self._shown: tuple[tuple[StepLine, ...], Theme] | None = None
        self.draft_notes = sentence_label(parent=self)
        self.list = StepList(self)
        self.list.setAccessibleName("Steps")
        self.list.setWordWrap(True)
        self.list.setSpacing(2)
        self.list.setResizeMode(QListView.ResizeMode.Adjust)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        self.refusal = sentence_label(parent=self)
        self.edit_button = button("Edit", self, tip="Change this step.")
        self.delete_button = button("Delete", self, tip="Take this step out; undo brings it back.")
        self.switch_button = button("Switch off", self, tip="Keep this step but do not do it, or do it again.")
        self.up_button = button("Move up", self, tip="Do this step before the one above it.")
        self.numbers_button = button("By numbers", self, tip="Change the lengths, names and choices of this step.")
        self.down_button = button("Move down", self, tip="Do this step after the one below it.")
        self._lay()
        self._connect()
        self.refresh(Changed())

    def _lay(self) -> None:
        first, second = QHBoxLayout(), QHBoxLayout()
        # Two rows about as wide: the wider of them keeps the panel from being made narrower.
        for made in (self.edit_button, self.numbers_button, self.switch_button):
            first.addWidget(made)
        for made in (self.up_button, self.down_button, self.delete_button):
            second.addWidget(made)
        column = QVBoxLayout(self)
        column.setContentsMargins(4, 4, 4, 4)
        column.addWidget(self.draft_notes)
        column.addWidget(self.list, 1)
        column.addWidget(self.refusal)
        column.addLayout(first)
        column.addLayout(second)

    def _connect(self) -> None:
        self.list.itemSelectionChanged.connect(self._choose)
        self.list.itemActivated.connect(self._edit)
        self.list.delete_asked.connect(self._delete)
        self.edit_button.clicked.connect(self._edit)
        self.numbers_button.clicked.connect(self._edit_numbers)
        self.delete_button.clicked.connect(self._delete)
        self.switch_button.clicked.connect(self._switch)
        self.up_button.clicked.connect(self._move_up)
        self.down_button.clicked.connect(self._move_down)

    # ------------------------------------------------------------------------------------------------------------
    # showing

    def refresh(self, changed: Changed) -> None:
        """Show the committed steps; while a drag is under way they stay."""
        if changed.preview or not changed.design:
            return
        now = self.session.replay
        lines = step_lines(now, self._sentences)
        self.draft_notes.setText("\n".join(now.drafting_notes))
        self.draft_notes.setVisible(bool(now.draft.notes))
        coloured(self.draft_notes, self.theme.faint_text)
        coloured(self.refusal, self.theme.verdicts["wrong"])
        self._refuse("")
        self.list.setAccessibleDescription("" if lines else NOTHING_DONE)
        if self._shown != (lines, self.theme):
            self._shown = (lines, self.theme)
            self._show(lines)
        self._enable()

    def _show(self, lines: tuple[StepLine, ...]) -> None:
        """Fill the list, the same step selected as before if it is still there."""
        selected, before = self.selected, self.list.count()
        self.list.blockSignals(True)
        try:
            self.list.clear()
            for line in lines:
                self.list.addItem(self._item(line))
                if line.step_id == selected:
                    self.list.setCurrentRow(self.list.count() - 1)
        finally:
            self.list.blockSignals(False)
        if 0 < before < len(lines):
            self.list.scrollToBottom()
        self._reveal_refused(lines)
        if self.selected != selected:
            self.chosen.emit(self.selected)

    def _reveal_refused(self, lines: tuple[StepLine, ...]) -> None:
        """Bring the step that cannot be done into sight, with the sentence under it."""
        for row, line in enumerate(lines):
            if line.state == "refused":
                self.list.scrollToItem(self.list.item(row))

    def _item(self, line: StepLine) -> QListWidgetItem:
        item = QListWidgetItem(line.text)
        item.setData(STEP_ID, line.step_id)
        colours = {"done": self.theme.ink, "refused": self.theme.verdicts["wrong"], "waits": self.theme.faint_text}
        colours["off"] = self.theme.faint_text
        item.setForeground(QBrush(QColor(colours[line.state])))
        return item

    def select(self, step_id: str) -> None:
        """Select a step; "" selects none."""
        for row in range(self.list.count()):
            if self.list.item(row).data(STEP_ID) == step_id:
                self.list.setCurrentRow(row)
                return
        self.list.clearSelection()

    @property
    def selected(self) -> str:
        """The id of the selected step, "" for none."""
        items = self.list.selectedItems()
        return str(items[0].data(STEP_ID)) if items else ""

    def _enable(self) -> None:
        steps = self.session.design.steps
        selected = self.selected
        at = index_of(self.session.design, selected) if selected else -1
        is_off = selected in self.session.design.off
        none = "" if selected else CHOOSE_FIRST
        for alters in (self.edit_button, self.numbers_button):
            alters.allow(unless=none or (IS_OFF if is_off else ""))
        self.switch_button.allow(unless=none)
        self.switch_button.setText("Switch on" if is_off else "Switch off")
        self.switch_button.setAccessibleName(self.switch_button.text())
        self.delete_button.allow(unless=none)
        self.up_button.allow(unless=none or ("" if at > 0 else "It is the first."))
        self.down_button.allow(unless=none or ("" if at < len(steps) - 1 else "It is the last."))

    def _refuse(self, sentence: str) -> None:
        self.refusal.setText(f"≠ {sentence}" if sentence else "")
        self.refusal.setVisible(bool(sentence))

    # ------------------------------------------------------------------------------------------------------------
    # asking

    def _choose(self) -> None:
        self._refuse("")
        self._enable()
        self.chosen.emit(self.selected)

    def _edit(self) -> None:
        if self.selected:
            self.edit_requested.emit(self.selected)

    def _edit_numbers(self) -> None:
        if self.selected:
            self.numbers_requested.emit(self.selected)

    def _delete(self) -> None:
        """Take the step out. What depended on it says so at its own line, and one undo brings all back."""
        selected = self.selected
        if selected:
            design = self.session.design
            self._do(f"Delete step {index_of(design, selected) + 1}", design.without_step(selected))

    def _do(self, label: str, design: Design) -> None:
        """Commit a design, and say what can no longer be done."""
        before = self.session.replay
        self.session.do(label, design)
        self._refuse(what_waits(before, self.session.replay))

    def _switch(self) -> None:
        """Leave the step out, or do it again; what depended on it is named."""
        selected, design = self.selected, self.session.design
        if selected:
            verb = "on" if selected in design.off else "off"
            self._do(f"Switch {verb} step {index_of(design, selected) + 1}", design.switched(selected))

    def _move_up(self) -> None:
        self._move(-1)

    def _move_down(self) -> None:
        self._move(1)

    def _move(self, by: int) -> None:
        selected = self.selected
        if not selected:
            return
        number = index_of(self.session.design, selected) + 1
        try:
            self.session.do(f"Move step {number} to {number + by}", moved(self.session.replay, selected, by))
        except Refusal as refusal:
            self._refuse(refusal.sentence)

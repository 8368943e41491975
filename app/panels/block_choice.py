"""How the block is made: the way of drafting or her own block, and an ease to begin with."""

from __future__ import annotations

from typing import Final

from msgspec.structs import replace
from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QGridLayout, QLabel, QWidget

from app.messages import say
from app.panels.panel import button, coloured, sentence_label
from app.session import Session
from app.theme import Theme
from core.blocks.draft import METHODS
from core.blocks.ease import EASE_PRESETS
from core.blocks.own_block import OWN, OWN_WORDS
from core.design.design import Design
from core.design.following import followed
from core.errors import Refusal

METHOD: Final = "drafting method"
PRESET: Final = "how close"
TYPED: Final = "as typed above"


class BlockChoice(QWidget):
    """Two choices with a sentence under each; a change is one act that undo takes back."""

    own_requested = Signal()
    """Her own block is to be typed, or looked at again."""

    def __init__(self, session: Session, parent: QWidget) -> None:
        super().__init__(parent)
        self.session = session
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setColumnStretch(1, 1)
        self.preset, self.preset_words = _choice(PRESET, grid, self)
        self.preset.addItem(TYPED, None)
        for index, preset in enumerate(EASE_PRESETS):
            self.preset.addItem(preset.name, index)
            self.preset.setItemData(index + 1, preset.words, Qt.ItemDataRole.ToolTipRole)
        self.method, self.method_words = _choice(METHOD, grid, self)
        for name, words in {**{m.name: m.words for m in METHODS.values()}, OWN: OWN_WORDS}.items():
            self.method.addItem("her own block" if name == OWN else name, name)
            self.method.setItemData(self.method.count() - 1, words, Qt.ItemDataRole.ToolTipRole)
        self.own = button("Her own block…", self, tip="Type a block from paper, or look at it again.")
        grid.addWidget(self.own, grid.rowCount(), 0, 1, 2)
        self.lost = sentence_label(parent=self)
        self.lost.setAccessibleName("Steps that cannot follow")
        grid.addWidget(self.lost, grid.rowCount(), 0, 1, 2)
        self.preset.activated.connect(self._take_preset)
        self.method.activated.connect(self._take_method)
        self.own.clicked.connect(self.own_requested)

    def show_design(self, design: Design) -> None:
        """Show what the design says."""
        index = next((i for i, preset in enumerate(EASE_PRESETS) if preset.ease == design.ease), None)
        self.preset.setCurrentIndex(0 if index is None else index + 1)
        preset = None if index is None else EASE_PRESETS[index]
        self.preset_words.setText(f"{preset.words} From: {preset.source}." if preset else "")
        self.preset_words.setVisible(preset is not None)
        self.method.setCurrentIndex(self.method.findData(design.method))
        self.method_words.setText(OWN_WORDS if design.method == OWN else METHODS[design.method].words)

        self._show_lost()

    def _show_lost(self) -> None:
        """Every step that cannot follow the body, ease and block there are now, not the first alone."""
        now = self.session.replay
        lost = followed(now.design, now).lost if now.refused else ()
        reasons = "\n".join(f"{refused.step_id}: {refused.sentence}" for refused in lost)
        self.lost.setText(f"≠ Cannot follow: switch off, mend or undo.\n{reasons}")
        self.lost.setVisible(bool(lost))

    def set_theme(self, theme: Theme) -> None:
        """Take other colours."""
        for words in (self.preset_words, self.method_words):
            coloured(words, theme.faint_text)
        coloured(self.lost, theme.verdicts["wrong"])

    def _take_preset(self, index: int) -> None:
        held = self.preset.itemData(index)
        if held is None:
            self.show_design(self.session.design)
            return
        preset = EASE_PRESETS[int(held)]
        if preset.ease != self.session.design.ease:
            self._do(f"Ease: {preset.name}", replace(self.session.design, ease=preset.ease))

    def _take_method(self, index: int) -> None:
        method, design = str(self.method.itemData(index)), self.session.design
        if method == design.method:
            return
        if method == OWN and design.own_block is None:
            self.show_design(design)
            self.own_requested.emit()
            return
        self._do(f"Drafting method {self.method.itemText(index)}", replace(design, method=method))

    def _do(self, label: str, design: Design) -> None:
        try:
            self.session.do(label, design)
        except Refusal as refusal:
            self.show_design(self.session.design)
            say(self, refusal.sentence)


def _choice(name: str, grid: QGridLayout, parent: QWidget) -> tuple[QComboBox, QLabel]:
    box = QComboBox(parent)
    box.setAccessibleName(name)
    # The longest row must not widen the window.
    box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
    box.setMinimumContentsLength(14)
    label = sentence_label(name, parent)
    label.setBuddy(box)
    words = sentence_label(parent=parent)
    row = grid.rowCount()
    grid.addWidget(label, row, 0)
    grid.addWidget(box, row, 1)
    grid.addWidget(words, row + 1, 0, 1, 2)
    return box, words

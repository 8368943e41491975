"""Preferences: what new designs begin with, and how the window looks. Each is taken at once, none is in the design."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QCheckBox, QComboBox, QDialog, QDialogButtonBox, QFormLayout, QVBoxLayout, QWidget

from app import settings
from app.dialogs.new_design import UNIT_WORDS
from app.theme import THEMES, ThemeName
from core.outputs.papers import PAPERS
from core.units import UNITS, Unit

THEME_WORDS: Final[dict[str, str]] = {"light": "light", "dark": "dark", "contrast": "high contrast"}


class PreferencesDialog(QDialog):
    """One form; closing it changes nothing more."""

    theme_chosen = Signal(object)
    letters_chosen = Signal(bool)
    grid_chosen = Signal(bool)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle("Preferences")
        self.setAccessibleName("Preferences")
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._form = QFormLayout()
        self.unit = self._box("New designs in", [(UNIT_WORDS[unit], unit) for unit in UNITS], settings.unit())
        self.paper = self._box("New designs on", [(p.words, p.name) for p in PAPERS.values()], settings.paper())
        themes: list[tuple[str, object]] = [("as the desktop", None)]
        themes += [(THEME_WORDS[name], name) for name in THEMES]
        self.theme = self._box("Colours", themes, settings.theme())
        self.grid = self._tick("Lines on the table at round numbers", is_on=settings.grid())
        self.letters = self._tick("Keys of one letter take up tools", is_on=settings.letters())
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close, self)
        buttons.button(QDialogButtonBox.StandardButton.Close).setAccessibleName("Close")
        buttons.rejected.connect(self.close)
        column = QVBoxLayout(self)
        column.addLayout(self._form)
        column.addWidget(buttons)
        self.unit.activated.connect(self._take_unit)
        self.paper.activated.connect(self._take_paper)
        self.theme.activated.connect(self._take_theme)
        self.grid.toggled.connect(self.grid_chosen)
        self.letters.toggled.connect(self.letters_chosen)

    def _box(self, name: str, rows: list[tuple[str, object]], now: object) -> QComboBox:
        box = QComboBox(self)
        box.setAccessibleName(name)
        for words, value in rows:
            box.addItem(words, value)
            if value == now:
                box.setCurrentIndex(box.count() - 1)
        self._form.addRow(name, box)
        return box

    def _tick(self, words: str, *, is_on: bool) -> QCheckBox:
        box = QCheckBox(words, self)
        box.setAccessibleName(words)
        box.setChecked(is_on)
        self._form.addRow(box)
        return box

    def _take_unit(self, _row: int) -> None:
        unit: Unit = self.unit.currentData()
        settings.set_unit(unit)

    def _take_paper(self, _row: int) -> None:
        settings.set_paper(str(self.paper.currentData()))

    def _take_theme(self, _row: int) -> None:
        chosen: ThemeName | None = self.theme.currentData()
        self.theme_chosen.emit(chosen)

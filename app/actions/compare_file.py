"""Asking for the file whose line is compared on the form."""

from __future__ import annotations

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QMainWindow

from app import settings
from app.dialogs.choose_file import open_dialog
from app.panels.form_compare import FormCompare


class CompareFile(QObject):
    """Hands the form the design that she chooses; the document in the window is left alone."""

    def __init__(self, compare: FormCompare, window: QMainWindow) -> None:
        super().__init__(window)
        self.compare, self.window = compare, window
        compare.file_wanted.connect(self._ask)

    def _ask(self) -> None:
        dialog = open_dialog(self.window, settings.last_folder())
        dialog.fileSelected.connect(self.compare.take_file)
        dialog.open()

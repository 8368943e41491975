"""Which file to open, to save to, or to print to."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFileDialog, QWidget

DESIGNS = "Designs (*.sheer)"
BODIES = "Bodies and designs (*.json *.sheer)"
PICTURES = "Pictures (*.png *.jpg *.jpeg)"
PAGES = "Pages (*.pdf)"


def open_dialog(parent: QWidget, folder: Path) -> QFileDialog:
    """Asks for a design to open; `fileSelected` gives its path."""
    dialog = _dialog(parent, "Open a design", folder)
    dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
    dialog.setNameFilters([DESIGNS, "All files (*)"])
    return dialog


def body_dialog(parent: QWidget, folder: Path) -> QFileDialog:
    """Asks for the file of a body, or of a design whose body is meant; `fileSelected` gives its path."""
    dialog = _dialog(parent, "Open a body", folder)
    dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
    dialog.setNameFilters([BODIES, "All files (*)"])
    return dialog


def picture_dialog(parent: QWidget, folder: Path) -> QFileDialog:
    """Asks for a photograph or a sketch; `fileSelected` gives its path."""
    dialog = _dialog(parent, "Choose a picture of the style", folder)
    dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
    dialog.setNameFilters([PICTURES, "All files (*)"])
    return dialog


def save_dialog(parent: QWidget, proposal: Path, *, title: str, kind: str, suffix: str) -> QFileDialog:
    """Asks where to save, and before it replaces a file; `fileSelected` gives the path with its suffix."""
    dialog = _dialog(parent, title, proposal.parent)
    dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
    dialog.setNameFilters([kind])
    dialog.setDefaultSuffix(suffix)
    dialog.selectFile(proposal.name)
    return dialog


def _dialog(parent: QWidget, title: str, folder: Path) -> QFileDialog:
    dialog = QFileDialog(parent, title, str(folder))
    dialog.setAccessibleName(title)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    return dialog


def file_name_for(name: str, suffix: str) -> str:
    """A name that every file system takes: letters, digits, dots and dashes of the design's name."""
    kept = "".join(c if c.isalnum() else "-" for c in name.casefold())
    words = "-".join(part for part in kept.split("-") if part)[:60]
    return f"{words or 'design'}.{suffix}"

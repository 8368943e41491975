"""Pages to read: the keys, what to beware of, what this is."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QTextBrowser, QVBoxLayout, QWidget


def show_page(parent: QWidget, title: str, html: str) -> QDialog:
    """Show a page of our own text; returns at once."""
    dialog = QDialog(parent)
    dialog.setWindowTitle(title)
    dialog.setAccessibleName(title)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    page = QTextBrowser(dialog)
    page.setAccessibleName(f"{title}: text")
    page.setHtml(html)
    box = QDialogButtonBox(dialog)
    box.addButton("Close", QDialogButtonBox.ButtonRole.RejectRole).setAccessibleName("Close")
    box.rejected.connect(dialog.reject)
    column = QVBoxLayout(dialog)
    column.addWidget(page)
    column.addWidget(box)
    dialog.resize(620, 560)
    page.setFocus(Qt.FocusReason.OtherFocusReason)
    dialog.open()
    return dialog


def keys_page(sections: Sequence[tuple[str, Sequence[tuple[str, str]]]]) -> str:
    """A table of what is done by which keys, a heading a section."""
    parts = []
    for title, rows in sections:
        lines = "".join(
            f"<tr><td>{escape(what)}</td><td>&nbsp;&nbsp;<b>{escape(keys)}</b></td></tr>" for what, keys in rows
        )
        parts.append(f"<h3>{escape(title)}</h3><table cellspacing='4'>{lines}</table>")
    return "".join(parts)


def sentences_page(title: str, rows: Sequence[tuple[str, str]]) -> str:
    """A heading, and paragraphs that each begin with a bold word."""
    return f"<h3>{escape(title)}</h3>" + "".join(f"<p><b>{escape(word)}.</b> {escape(text)}</p>" for word, text in rows)

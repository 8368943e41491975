"""What the lay plan's window holds: the picture, the fields beside it, and what is to be pressed."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QHBoxLayout, QProgressBar, QVBoxLayout, QWidget

from app.canvas.table import CuttingTable
from app.dialogs.form import beside, named_label, plain_button
from app.dialogs.lay_fields import LayFields
from app.dialogs.lay_view import LayView

BESIDE: Final = 320
"""Pixels of the column beside the picture."""


class LayForm(QDialog):
    """The widgets in their places; `LayDialog` says what they do."""

    def __init__(self, table: CuttingTable, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle("Lay plan")
        self.setAccessibleName("Lay plan")
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.view = LayView(table, self)
        self.fields = LayFields(self)
        self._make_buttons()
        self._lay_out()

    def _make_buttons(self) -> None:
        self.begin = plain_button("Lay out", self)
        self.stop = plain_button("Stop and keep", self)
        self.cancel = plain_button("Cancel", self)
        self.turn = plain_button("Turn", self)
        self.flip = plain_button("Flip", self)
        self.lock = plain_button("Lock", self)
        self.fill = plain_button("Fill in the rest", self)
        self.plan = plain_button("Plan on paper…", self)
        self.marker = plain_button("Marker at true size…", self)
        self.leave = plain_button("Close", self)
        self.begin.setDefault(True)
        self.progress = QProgressBar(self)
        self.progress.setAccessibleName("Time tried")
        self.progress.setTextVisible(False)
        policy = self.progress.sizePolicy()
        policy.setRetainSizeWhenHidden(True)
        self.progress.setSizePolicy(policy)
        self.summary = named_label("What to buy", self)
        self.hint = named_label("What to do", self)
        for label in (self.summary, self.hint):
            label.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)

    def _lay_out(self) -> None:
        left = QVBoxLayout()
        left.addWidget(self.fields)
        left.addLayout(beside(self.begin, self.stop, self.cancel))
        left.addWidget(self.progress)
        left.addWidget(self.summary, 1)
        for widget in (self.fields, self.summary):
            widget.setFixedWidth(BESIDE)
        right = QVBoxLayout()
        right.addWidget(self.view, 1)
        self.hint.setMinimumHeight(2 * self.fontMetrics().lineSpacing())
        right.addWidget(self.hint)
        right.addLayout(beside(self.turn, self.flip, self.lock, self.fill, None, self.plan, self.marker, self.leave))
        across = QHBoxLayout(self)
        across.addLayout(left)
        across.addLayout(right, 1)
        self.resize(1080, 660)

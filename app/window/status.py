"""The status bar: the tool in hand, what the pointer would do, and how much of the figure is nobody's yet."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QStatusBar, QWidget

from app.panels.sentence_line import SentenceLine


class StatusLine(QStatusBar):
    """Tool in hand on the left, then the sentence, then what is not measured yet."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.tool = QLabel(self)
        self.tool.setTextFormat(Qt.TextFormat.PlainText)
        self.tool.setAccessibleName("Tool in hand")
        font = self.tool.font()
        font.setBold(True)
        self.tool.setFont(font)
        self.words = SentenceLine(self)
        self.words.setAccessibleName("What the pointer would do")
        self.average = QLabel(self)
        self.average.setAccessibleName("Not measured yet")
        self.addWidget(self.tool)
        self.addWidget(self.words, 1)
        self.addPermanentWidget(self.average)

    def show_tool(self, name: str) -> None:
        """Say which tool is in hand."""
        self.tool.setText(name)
        self.tool.setAccessibleDescription(name)

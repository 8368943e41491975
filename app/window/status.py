"""The status bar: the tool in hand, what the pointer would do, and how much of the figure is nobody's yet.

A sentence that is too long for its place is cut with dots; all of it is in its tip, in a slip that a button or a key
opens, and in what assistive technology is told.
"""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QPoint, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QFrame, QLabel, QStatusBar, QToolButton, QVBoxLayout, QWidget

from app.messages import guard

WIDEST: Final = 56
"""Letters in a line of the slip with the whole sentence."""


class SentenceLine(QLabel):
    """One line of plain text; what does not fit is left out at the end, with dots for it."""

    cut = Signal(bool)
    """Emitted when the text begins to be cut, or to fit again."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.is_cut = False

    def show_sentence(self, words: str) -> None:
        """Show a sentence, all of it in the tip and for assistive technology."""
        self.setText(words)
        self.setToolTip(words)
        self.setAccessibleDescription(words)
        self._judge()

    def _judge(self) -> None:
        is_cut = self.fontMetrics().horizontalAdvance(self.text()) > self.width()
        if is_cut != self.is_cut:
            self.is_cut = is_cut
            self.cut.emit(is_cut)

    @guard(QSize())
    def minimumSizeHint(self) -> QSize:
        """A long sentence must not widen the window."""
        return QSize(1, super().minimumSizeHint().height())

    @guard(None)
    def resizeEvent(self, event: QResizeEvent) -> None:
        """More or less of the sentence fits."""
        super().resizeEvent(event)
        self._judge()

    @guard(None)
    def paintEvent(self, event: QPaintEvent) -> None:
        """As much of the sentence as fits."""
        shown = self.fontMetrics().elidedText(self.text(), Qt.TextElideMode.ElideRight, self.width())
        with QPainter(self) as painter:
            painter.drawText(self.rect(), Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, shown)


class WholeSentence(QFrame):
    """A slip with all of a sentence; any key or a click puts it away."""

    def __init__(self, words: str, parent: QWidget) -> None:
        super().__init__(parent, Qt.WindowType.Popup)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setFrameShape(QFrame.Shape.StyledPanel)
        self.setAccessibleName(words)
        label = QLabel(words, self)
        label.setTextFormat(Qt.TextFormat.PlainText)
        label.setWordWrap(True)
        label.setFixedWidth(WIDEST * self.fontMetrics().averageCharWidth())
        column = QVBoxLayout(self)
        column.addWidget(label)
        self.resize(column.totalSizeHint())

    @guard(None)
    def keyPressEvent(self, event: QKeyEvent) -> None:
        """It has been read."""
        self.close()


class StatusLine(QStatusBar):
    """Tool in hand on the left, then the sentence and a button for all of it, then what is not measured yet."""

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
        self.more = QToolButton(self)
        self.more.setText("…")
        self.more.setAccessibleName("Whole sentence")
        self.more.setToolTip("Read all of it (F2)")
        self.more.setAutoRaise(True)
        self.more.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.more.hide()
        self.average = QLabel(self)
        self.average.setAccessibleName("Not measured yet")
        self.addWidget(self.tool)
        self.addWidget(self.words, 1)
        self.addPermanentWidget(self.more)
        self.addPermanentWidget(self.average)
        self.words.cut.connect(self.more.setVisible)
        self.more.clicked.connect(self.show_whole)

    def show_tool(self, name: str) -> None:
        """Say which tool is in hand."""
        self.tool.setText(name)
        self.tool.setAccessibleDescription(name)

    def show_whole(self) -> None:
        """Show all of the sentence over the bar, until a key or a click puts it away."""
        if not self.words.text():
            return
        slip = WholeSentence(self.words.text(), self)
        corner = self.words.mapToGlobal(QPoint(0, 0))
        slip.move(corner - QPoint(0, slip.height() + 4))
        slip.show()

"""A sentence in one line: what does not fit is left out with dots, and all of it is a key or a click away."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QPoint, QSize, Qt
from PySide6.QtGui import QColor, QFocusEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QApplication, QFrame, QLabel, QVBoxLayout, QWidget
from shiboken6 import isValid

from app.messages import guard

WIDEST: Final = 56
"""Letters in a line of the slip with the whole sentence."""

EDGE: Final = 4
"""Pixels between the slip and what it lies beside."""

OPENS: Final = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space)


class SentenceLine(QLabel):
    """Plain text in one line. While it is cut, Tab comes to it, and Enter, Space or a click shows all of it."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.is_cut = False
        self._whole = ""

    def show_sentence(self, words: str, whole: str = "") -> None:
        """Show a sentence; `whole`, or all of it, is in the tip, in the slip and told to assistive technology."""
        self._whole = whole or words
        self.setText(words)
        self.setToolTip(self._whole)
        self.setAccessibleDescription(self._whole)
        self._judge()

    def _judge(self) -> None:
        is_cut = self._whole != self.text() or self.fontMetrics().horizontalAdvance(self.text()) > self.width()
        if is_cut != self.is_cut:
            self.is_cut = is_cut
            self.setFocusPolicy(Qt.FocusPolicy.TabFocus if is_cut else Qt.FocusPolicy.NoFocus)
            self.setCursor(Qt.CursorShape.PointingHandCursor if is_cut else Qt.CursorShape.ArrowCursor)

    def show_whole(self) -> None:
        """Show all of it over the line, until a key or a click puts it away."""
        if not self._whole:
            return
        WholeSentence(self._whole, self).read()

    @guard(QSize())
    def sizeHint(self) -> QSize:
        """As wide as the sentence, and one line high."""
        return QSize(self.fontMetrics().horizontalAdvance(self.text()), self.fontMetrics().lineSpacing())

    @guard(QSize())
    def minimumSizeHint(self) -> QSize:
        """A long sentence must not widen the window."""
        return QSize(1, self.fontMetrics().lineSpacing())

    @guard(None)
    def resizeEvent(self, event: QResizeEvent) -> None:
        """More or less of the sentence fits."""
        super().resizeEvent(event)
        self._judge()

    @guard(None)
    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter or Space shows all of it."""
        if event.key() in OPENS:
            self.show_whole()
        else:
            super().keyPressEvent(event)

    @guard(None)
    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """So does a click, while it is cut."""
        if self.is_cut:
            self.show_whole()

    @guard(None)
    def paintEvent(self, event: QPaintEvent) -> None:
        """As much of the sentence as fits, in the label's colour; a ring while it has the keyboard."""
        shown = self.fontMetrics().elidedText(self.text(), Qt.TextElideMode.ElideRight, self.width())
        with QPainter(self) as painter:
            painter.setPen(self.palette().color(self.foregroundRole()))
            painter.drawText(self.rect(), Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, shown)
            if self.hasFocus():
                painter.setPen(QColor(self.palette().highlight().color()))
                painter.drawRect(self.rect().adjusted(0, 0, -1, -1))


class WholeSentence(QFrame):
    """A slip with all of a sentence, over the window; any key or a click puts it away, and so does going elsewhere."""

    def __init__(self, words: str, over: QWidget) -> None:
        window = over.window()
        super().__init__(window)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setFrameShape(QFrame.Shape.StyledPanel)
        self.setAutoFillBackground(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(words)
        self._before = QApplication.focusWidget()
        label = QLabel(words, self)
        label.setTextFormat(Qt.TextFormat.PlainText)
        label.setWordWrap(True)
        label.setFixedWidth(min(WIDEST * self.fontMetrics().averageCharWidth(), window.width() - 4 * EDGE))
        column = QVBoxLayout(self)
        column.addWidget(label)
        self.resize(column.totalSizeHint())
        corner = over.mapTo(window, QPoint(0, -self.height() - EDGE))
        self.move(max(min(corner.x(), window.width() - self.width() - EDGE), EDGE), max(corner.y(), EDGE))

    def read(self) -> None:
        """Show it; the keyboard goes back to where it was when it is put away."""
        self.show()
        self.raise_()
        self.setFocus(Qt.FocusReason.PopupFocusReason)

    @guard(None)
    def keyPressEvent(self, event: QKeyEvent) -> None:
        """It has been read."""
        if self._before is not None and isValid(self._before):
            self._before.setFocus(Qt.FocusReason.PopupFocusReason)
        self.close()

    @guard(None)
    def mousePressEvent(self, event: QMouseEvent) -> None:
        """It has been read."""
        self.close()

    @guard(None)
    def focusOutEvent(self, event: QFocusEvent) -> None:
        """She has gone elsewhere."""
        self.close()

"""What every panel is: a widget that shows one part of the session's design and follows its changes."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QSize, Qt, QTimer
from PySide6.QtGui import QColor, QPalette
from PySide6.QtWidgets import QFrame, QLabel, QPushButton, QScrollArea, QVBoxLayout, QWidget

from app.messages import guard
from app.session import Changed, Session
from app.theme import Theme


class Panel(QWidget):
    """A part of the window that shows the session's design. Subclasses give `refresh`."""

    def __init__(self, session: Session, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.theme = theme
        session.changed.connect(self._follow)

    def _follow(self, changed: Changed) -> None:
        self.refresh(changed)

    def refresh(self, changed: Changed) -> None:
        """Show the design as it is now; a preview asks only for what follows a drag."""
        raise NotImplementedError

    def set_theme(self, theme: Theme) -> None:
        """Take other colours."""
        self.theme = theme
        self.refresh(Changed())


def next_turn(panel: Panel, work: Callable[[], None]) -> QTimer:
    """A timer of a panel that, once started, does a work in the next turn of the loop, when what was done is seen."""
    timer = QTimer(panel)
    timer.setSingleShot(True)
    timer.setInterval(0)
    timer.timeout.connect(work)
    return timer


class TallList(QScrollArea):
    """What scrolls up and down only, and is never narrower than what it holds."""

    def __init__(self, content: QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setWidget(content)

    @guard(QSize())
    def minimumSizeHint(self) -> QSize:
        """The width of the content and of the scroll bar."""
        hint = super().minimumSizeHint()
        content = self.widget()
        inside = content.minimumSizeHint().width() if content is not None else 0
        return QSize(inside + self.verticalScrollBar().sizeHint().width(), hint.height())


def put_in_place(panel: QWidget) -> None:
    """Put a panel into the column of the place that it was made in."""
    place = panel.parentWidget()
    column = place.layout() if place is not None else None
    assert isinstance(column, QVBoxLayout)
    column.addWidget(panel, 1)
    # A layout shows what it is given only a turn of the event loop later.
    panel.show()


def sentence_label(text: str = "", parent: QWidget | None = None) -> QLabel:
    """A label for sentences: it wraps, can be selected by mouse, and takes text for what it is, never for markup."""
    label = QLabel(text, parent)
    label.setWordWrap(True)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    label.setMinimumWidth(1)
    return label


def heading(text: str, parent: QWidget | None = None) -> QLabel:
    """The title over a part of a panel."""
    label = QLabel(text, parent)
    label.setTextFormat(Qt.TextFormat.PlainText)
    font = label.font()
    font.setBold(True)
    label.setFont(font)
    return label


class PanelButton(QPushButton):
    """A button whose accessible name is its text; its tip says what it does, and why it cannot be pressed now."""

    def __init__(self, text: str, parent: QWidget | None = None, *, does: str = "") -> None:
        super().__init__(text, parent)
        self._does = does
        self.setAccessibleName(text)
        self.setAutoDefault(False)
        self._tell(does)

    def allow(self, *, unless: str) -> None:
        """Let it be pressed, unless there is a sentence that says why not."""
        self.setEnabled(not unless)
        self._tell(" ".join(part for part in (self._does, unless) if part))

    def _tell(self, words: str) -> None:
        self.setToolTip(words)
        self.setAccessibleDescription(words)


def button(text: str, parent: QWidget | None = None, *, tip: str = "") -> PanelButton:
    """A button whose accessible name is its text."""
    return PanelButton(text, parent, does=tip)


def coloured(label: QLabel, colour: str) -> None:
    """Write a label's text in a colour of the theme."""
    palette = label.palette()
    palette.setColor(QPalette.ColorRole.WindowText, QColor(colour))
    label.setPalette(palette)

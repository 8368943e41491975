"""A dialog of fields under each other, a sentence that says what is wrong or done, and a row of buttons."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QDialog,
    QFormLayout,
    QFrame,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)


class FormDialog(QDialog):
    """The frame of such a dialog; subclasses add rows and end with `finish`."""

    def __init__(self, title: str, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle(title)
        self.setAccessibleName(title)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.content = QWidget(self)
        self.form = QFormLayout(self.content)
        self.form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapLongRows)
        self.sentence = named_label("What to do", self)
        self.sentence.setMinimumHeight(3 * self.fontMetrics().lineSpacing())
        self.sentence.setAlignment(Qt.AlignmentFlag.AlignTop)

    def row(self, words: str, widget: QWidget) -> None:
        """A row, as `add_row` has it."""
        add_row(self.form, words, widget)

    def field(self, words: str, *, letters: int = 40) -> QLineEdit:
        """A row with a field for text."""
        field = QLineEdit(self.content)
        field.setMaxLength(letters)
        self.row(words, field)
        return field

    def choice(self, words: str, rows: Mapping[str, str] | Sequence[str]) -> QComboBox:
        """A row with a choice; the rows are the words to show, with what each stands for where that is another."""
        box = QComboBox(self.content)
        fill(box, rows)
        self.row(words, box)
        return box

    def tick(self, words: str) -> QCheckBox:
        """A row with a box to tick."""
        box = QCheckBox(words, self.content)
        box.setAccessibleName(words.replace("&", ""))
        self.form.addRow("", box)
        return box

    def finish(self, buttons: Sequence[tuple[str, Callable[[], None]]], *, scrolls: bool = False) -> None:
        """Lay all out over the buttons; the first answers Enter."""
        column = QVBoxLayout(self)
        column.addWidget(_scrolling(self.content, self) if scrolls else self.content, 1)
        column.addWidget(self.sentence)
        made = [plain_button(words, self) for words, _ in buttons]
        for button, (_, run) in zip(made, buttons, strict=True):
            button.clicked.connect(run)
        made[0].setDefault(True)
        column.addLayout(beside(None, *made))

    def say(self, sentence: str) -> None:
        """Say what is wrong, or what was done."""
        self.sentence.setText(sentence)


def add_row(form: QFormLayout, words: str, widget: QWidget) -> None:
    """A row: the words, with an ampersand before the access key, and the widget, which is called by them."""
    label = QLabel(words, form.parentWidget())
    label.setBuddy(widget)
    widget.setAccessibleName(words.replace("&", ""))
    form.addRow(label, widget)


def beside(*widgets: QWidget | None) -> QHBoxLayout:
    """Widgets beside each other; None is where room is left."""
    row = QHBoxLayout()
    for widget in widgets:
        if widget is None:
            row.addStretch(1)
        else:
            row.addWidget(widget)
    return row


def plain_button(words: str, parent: QWidget) -> QPushButton:
    """A button, called by its words, that does not answer Enter by itself: Enter belongs to the fields."""
    button = QPushButton(words, parent)
    button.setAccessibleName(words.replace("&", ""))
    button.setAutoDefault(False)
    return button


def fill(box: QComboBox, rows: Mapping[str, str] | Sequence[str]) -> None:
    """Put rows into a choice: words to show, by what they stand for where that is another."""
    box.clear()
    pairs = rows.items() if isinstance(rows, Mapping) else ((word, word) for word in rows)
    for stands_for, words in pairs:
        box.addItem(words, stands_for)


def take(box: QComboBox, stands_for: str) -> None:
    """Choose the row that stands for something; the first where there is none."""
    box.setCurrentIndex(max(box.findData(stands_for), 0))


def plain_label(text: str, parent: QWidget) -> QLabel:
    """A label that wraps and takes text for what it is."""
    label = QLabel(text, parent)
    label.setWordWrap(True)
    label.setTextFormat(Qt.TextFormat.PlainText)
    return label


def named_label(name: str, parent: QWidget) -> QLabel:
    """A place for sentences, of an accessible name."""
    label = plain_label("", parent)
    label.setAccessibleName(name)
    return label


def _scrolling(content: QWidget, parent: QWidget) -> QScrollArea:
    area = QScrollArea(parent)
    area.setWidget(content)
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    return area

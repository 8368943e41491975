"""Printing: paper, scale and file are chosen, the pages counted, and the pages made beside the window."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QCloseEvent
from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QProgressBar,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from app.background import Progress, Work
from app.dialogs.choose_file import PAGES, file_name_for, save_dialog
from app.dialogs.replace import REPLACE, replace_box
from app.messages import guard
from core.design.design import PaperName
from core.design.replay import Replay
from core.errors import Refusal
from core.file.naming import shown_name

PAPER_WORDS: Final[dict[PaperName, str]] = {"a4": "A4", "letter": "US Letter"}
SCALES: Final[dict[str, float]] = {"1 (true size)": 1.0, "1/2": 0.5, "1/4": 0.25}
SUFFIX: Final = ".pdf"
HOW_TO_PRINT: Final = "Print it at actual size, without “fit to page”, and measure the squares on the first page."


def page_count(replay: Replay, paper: PaperName, scale: float) -> int:
    """How many pages a print takes, the map among them. Refusal as for the print itself."""
    # Printing is imported when it is first asked for: opening the window need not wait for it.
    from core.outputs.choices import Choices  # noqa: PLC0415
    from core.outputs.plan import planned  # noqa: PLC0415

    if replay.refused is not None:
        raise Refusal(f"Nothing is printed while a step is refused: {replay.refused.sentence}")
    return planned(replay.design, replay, paper, scale=scale, choices=Choices()).count


def printable_path(text: str, design: Path | None) -> Path:
    """The file that the pages go into. Refusal for a name that would put them in the place of a design, or is none."""
    path = Path(text.strip()).expanduser()
    if not path.name:
        raise Refusal("Give the file that the pages are to go into.")
    # A link is followed when the file is written, so where it leads counts too.
    if any(name.suffix.casefold() != SUFFIX for name in (path, path.resolve())):
        raise Refusal(f"{shown_name(path)} would be no file of pages: give it a name that ends in {SUFFIX}.")
    if design is not None and path.resolve() == design.resolve():
        raise Refusal(f"{shown_name(path)} holds the design itself: give the pages another name.")
    return path


class PrintTask:
    """The work of the thread: plain records in, a file and its number of pages out."""

    def __init__(self, replay: Replay, path: Path, *, paper: PaperName, scale: float) -> None:
        self.replay, self.path, self.paper, self.scale = replay, path, paper, scale

    def __call__(self, progress: Progress) -> int:
        """Make the pages, then put the whole file in its place; the number of pages."""
        from core.file.writer import write_atomically  # noqa: PLC0415
        from core.outputs.pdf import print_pdf  # noqa: PLC0415

        job = print_pdf(self.replay.design, self.replay, paper=self.paper, scale=self.scale, progress=progress)
        write_atomically(self.path, job.pdf, keep_previous=False)
        return len(job.map["pages"])


class PrintDialog(QDialog):
    """Asks how and where to print, prints, and says when it is done; the window stays usable meanwhile."""

    printed = Signal(str)
    """The sentence that says what was printed."""

    def __init__(self, replay: Replay, folder: Path, parent: QWidget, *, design_path: Path | None = None) -> None:
        super().__init__(parent)
        self.replay = replay
        self.design_path = design_path
        self.work: Work | None = None
        self._path = Path()
        self._agreed: set[Path] = set()
        """Files that may be replaced without a question: she was asked, or this dialog wrote them itself."""
        self._leave_word = "Cancel"
        self.setWindowTitle("Print")
        self.setAccessibleName("Print")
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.paper = self._box("Paper", list(PAPER_WORDS.values()), list(PAPER_WORDS).index(replay.design.paper))
        self.scale = self._box("Scale", list(SCALES), 0)
        self.file = QLineEdit(str(folder / file_name_for(replay.design.name, "pdf")), self)
        self.file.setAccessibleName("File")
        self.choose = _button("Choose…", self)
        self.count = _sentence("Page count", self)
        self.sentence = _sentence("How to print", self)
        self.progress = QProgressBar(self)
        self.print = _button("Print", self)
        self.cancel = _button("Cancel", self)
        self._lay_out()
        self._connect()
        self._count()

    def _box(self, name: str, rows: list[str], index: int) -> QComboBox:
        box = QComboBox(self)
        box.setAccessibleName(name)
        box.addItems(rows)
        box.setCurrentIndex(index)
        return box

    def _lay_out(self) -> None:
        form = QFormLayout()
        form.addRow("&Paper", self.paper)
        form.addRow("&Scale", self.scale)
        line = QHBoxLayout()
        line.addWidget(self.file)
        line.addWidget(self.choose)
        label = QLabel("&File", self)
        label.setBuddy(self.file)
        form.addRow(label, line)
        buttons = QHBoxLayout()
        buttons.addStretch()
        buttons.addWidget(self.print)
        buttons.addWidget(self.cancel)
        column = QVBoxLayout(self)
        column.addLayout(form)
        for widget in (self.count, self.sentence, self.progress):
            column.addWidget(widget)
        column.addStretch()
        column.addLayout(buttons)
        self.sentence.setText(HOW_TO_PRINT)
        self.progress.setAccessibleName("Pages made")
        self.progress.hide()
        self.print.setDefault(True)
        self.resize(520, 240)

    def _connect(self) -> None:
        self.paper.currentIndexChanged.connect(self._count)
        self.scale.currentIndexChanged.connect(self._count)
        self.choose.clicked.connect(self._choose)
        self.print.clicked.connect(self._print)
        self.cancel.clicked.connect(self._cancel)

    @property
    def _asked(self) -> tuple[PaperName, float]:
        return list(PAPER_WORDS)[self.paper.currentIndex()], list(SCALES.values())[self.scale.currentIndex()]

    def _count(self) -> None:
        paper, scale = self._asked
        try:
            count = page_count(self.replay, paper, scale)
        except Refusal as refusal:
            self.count.setText(refusal.sentence)
            self.print.setEnabled(False)
            return
        self.count.setText(f"{count} pages of {PAPER_WORDS[paper]}, the first of them the map.")
        self.print.setEnabled(True)

    def _choose(self) -> None:
        dialog = save_dialog(self, Path(self.file.text()), title="Print to a file", kind=PAGES, suffix="pdf")
        dialog.fileSelected.connect(self._take_file)
        dialog.open()

    def _take_file(self, name: str) -> None:
        """Take a file from the file dialog, which has asked before replacing it."""
        self._agreed.add(Path(name))
        self.file.setText(name)

    def _print(self) -> None:
        try:
            self._path = printable_path(self.file.text(), self.design_path)
        except Refusal as refusal:
            self.sentence.setText(refusal.sentence)
            return
        if self._path.exists() and self._path not in self._agreed:
            box = replace_box(self, shown_name(self._path))
            box.finished.connect(self._answered)
            box.open()
            return
        self._begin()

    def _answered(self, button: int) -> None:
        if button == REPLACE:
            self._agreed.add(self._path)
            self._begin()
        else:
            self.sentence.setText(f"{shown_name(self._path)} was left as it is: give the pages another name.")

    def _begin(self) -> None:
        paper, scale = self._asked
        self.work = Work(PrintTask(self.replay, self._path, paper=paper, scale=scale), self)
        self.work.progressed.connect(self._show_progress)
        self.work.done.connect(self._finish)
        self.work.refused.connect(self._refuse)
        self.work.cancelled.connect(self._stopped)
        self._set_working(working=True)
        self.sentence.setText(f"The pages are being made; {shown_name(self._path)} is written when all are there.")
        self.work.start()

    def _set_working(self, *, working: bool) -> None:
        for widget in (self.paper, self.scale, self.file, self.choose, self.print):
            widget.setEnabled(not working)
        self.progress.setVisible(working)
        self.progress.setRange(0, 0)
        word = "Cancel" if working else self._leave_word
        self.cancel.setText(word)
        self.cancel.setAccessibleName(word)

    def _show_progress(self, done: int, total: int) -> None:
        self.progress.setRange(0, total)
        self.progress.setValue(done)

    def _finish(self, count: object) -> None:
        self._agreed.add(self._path)
        self._leave_word = "Close"
        self._set_working(working=False)
        words = f"{count} pages were written to {shown_name(self._path)}."
        self.sentence.setText(f"{words} {HOW_TO_PRINT}")
        self.printed.emit(words)

    def _refuse(self, sentence: str) -> None:
        self._set_working(working=False)
        self.sentence.setText(sentence)

    def _stopped(self) -> None:
        self._set_working(working=False)
        self.sentence.setText("The print was stopped; no file was written.")

    def _cancel(self) -> None:
        if self.work is not None and self.work.is_running:
            self.work.cancel()
        else:
            self.reject()

    @guard(None)
    def reject(self) -> None:
        """Esc: what is being printed is stopped first."""
        if self.work is not None:
            self.work.abandon()
        super().reject()

    @guard(None)
    def closeEvent(self, event: QCloseEvent) -> None:
        """The thread ends before the dialog does."""
        if self.work is not None:
            self.work.abandon()
        super().closeEvent(event)


def _button(words: str, parent: QWidget) -> QPushButton:
    button = QPushButton(words, parent)
    button.setAccessibleName(words)
    button.setAutoDefault(False)
    return button


def _sentence(name: str, parent: QWidget) -> QLabel:
    label = QLabel(parent)
    label.setAccessibleName(name)
    label.setWordWrap(True)
    label.setTextFormat(Qt.TextFormat.PlainText)
    return label

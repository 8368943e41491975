"""Printing: paper, scale and file are chosen, the pages counted, and the pages made beside the window."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QCloseEvent
from PySide6.QtWidgets import (
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
from app.dialogs.page_preview import PagePreview
from app.dialogs.print_form import PrintForm
from app.dialogs.replace import REPLACE, replace_box
from app.messages import guard
from core.design.replay import Replay
from core.errors import Refusal
from core.file.naming import shown_name
from core.file.writer import write_atomically
from core.outputs.plan import Plan, planned
from core.units import show_length

SUFFIX: Final = ".pdf"
HOW_TO_PRINT: Final = "Print it at actual size, without “fit to page”, and measure the squares on the first page."


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
    """The work of the thread: a plan in, a file and its number of pages out."""

    def __init__(self, plan: Plan, path: Path) -> None:
        self.plan, self.path = plan, path

    def __call__(self, progress: Progress) -> int:
        """Make the pages, then put the whole file in its place; the number of pages."""
        from core.outputs.pdf import printed  # noqa: PLC0415 - it takes half a second to import

        job = printed(self.plan, progress)
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
        self.plan: Plan | None = None
        self.form = PrintForm(replay, self)
        self.preview = PagePreview(self)
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

    def _lay_out(self) -> None:
        form = QFormLayout()
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
        column = QVBoxLayout()
        column.addWidget(self.form)
        column.addLayout(form)
        for widget in (self.count, self.sentence, self.progress):
            column.addWidget(widget)
        column.addStretch()
        column.addLayout(buttons)
        self.sentence.setText(HOW_TO_PRINT)
        self.progress.setAccessibleName("Pages made")
        self.progress.hide()
        self.print.setDefault(True)
        whole = QHBoxLayout(self)
        whole.addLayout(column, 2)
        whole.addWidget(self.preview, 3)
        self.resize(980, 680)

    def _connect(self) -> None:
        self.form.changed.connect(self._count)
        self.choose.clicked.connect(self._choose)
        self.print.clicked.connect(self._print)
        self.cancel.clicked.connect(self._cancel)

    def _count(self) -> None:
        """Lay the pieces on pages anew, say how many there are, and show them."""
        try:
            self.plan = self._planned()
        except Refusal as refusal:
            self.plan = None
            self.count.setText(refusal.sentence)
        else:
            self.count.setText(_count_words(self.plan))
        self.preview.show_plan(self.plan)
        self.print.setEnabled(self.plan is not None)

    def _planned(self) -> Plan:
        refused, form = self.replay.refused, self.form
        if refused is not None:
            raise Refusal(f"Nothing is printed while a step is refused: {refused.sentence}")
        design = self.replay.design
        return planned(design, self.replay, form.paper_name, scale=form.scale_chosen, choices=form.choices)

    def _choose(self) -> None:
        dialog = save_dialog(self, Path(self.file.text()), title="Print to a file", kind=PAGES, suffix="pdf")
        dialog.fileSelected.connect(self._take_file)
        dialog.open()

    def _take_file(self, name: str) -> None:
        """Take a file from the file dialog, which has asked before replacing it."""
        self._agreed.add(Path(name))
        self.file.setText(name)

    def _print(self) -> None:
        self.form.take_typed()
        if self.plan is None:
            return
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
        if self.plan is None:
            return
        self.work = Work(PrintTask(self.plan, self._path), self)
        self.work.progressed.connect(self._show_progress)
        self.work.done.connect(self._finish)
        self.work.refused.connect(self._refuse)
        self.work.cancelled.connect(self._stopped)
        self._set_working(working=True)
        self.sentence.setText(f"The pages are being made; {shown_name(self._path)} is written when all are there.")
        self.work.start()

    def _set_working(self, *, working: bool) -> None:
        for widget in (self.form, self.file, self.choose, self.print):
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


def _count_words(plan: Plan) -> str:
    """How many pages there are; of a roll also how long they are, and how to save paper."""
    words = f"{plan.count} pages of {plan.paper.words}"
    if not plan.paper.is_roll:
        return f"{words}, the first of them the map."
    long = show_length(plan.paper.height, plan.design.unit)
    return f"{words}, each {long} long. The first is the map: a shop can print from the second on."


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

"""Printing: paper, scale and file are chosen, the pages counted, and the pages made beside the window."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QHideEvent
from PySide6.QtWidgets import (
    QDialog,
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QProgressBar,
    QVBoxLayout,
    QWidget,
)

from app.background import Work
from app.dialogs.choose_file import PAGES, file_name_for, save_dialog
from app.dialogs.form import beside, named_label, plain_button
from app.dialogs.page_preview import PagePreview
from app.dialogs.print_form import PrintForm
from app.dialogs.replace import REPLACE, replace_box
from app.messages import guard
from core.design.replay import Replay
from core.errors import Refusal
from core.file.naming import shown_name
from core.file.writer import write_atomically
from core.outputs.plan import Plan, planned
from core.progress import Progress
from core.units import show_length

SUFFIX: Final = ".pdf"
SLOW: Final = 1000
"""Milliseconds of counting after which it is shown how far it is."""

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


class PlanTask:
    """The work of the thread before: the pieces laid on pages."""

    def __init__(self, replay: Replay, form: PrintForm) -> None:
        """Take what the form says now. Refusal for what cannot be had, and while a step is refused."""
        if replay.refused is not None:
            raise Refusal(f"Nothing is printed while a step is refused: {replay.refused.sentence}")
        self.replay = replay
        self.paper, self.scale, self.choices = form.paper_name, form.scale_chosen, form.choices

    def __call__(self, progress: Progress) -> Plan:
        """The plan; Cancelled, raised by `progress`, ends it."""
        design, scale = self.replay.design, self.scale
        return planned(design, self.replay, self.paper, scale=scale, choices=self.choices, progress=progress)


class PrintDialog(QDialog):
    """Asks how and where to print, prints, and says when it is done; the window stays usable meanwhile."""

    printed = Signal(str)
    """The sentence that says what was printed."""

    def __init__(self, replay: Replay, folder: Path, parent: QWidget, *, design_path: Path | None = None) -> None:
        super().__init__(parent)
        self.replay = replay
        self.design_path = design_path
        self.work: Work | None = None
        self.counting: Work | None = None
        """Lays the pieces on pages; until it ends `plan` is None."""
        self._counts_anew = False
        self._waits_to_print = False
        self._slow = QTimer(self)
        self._slow.setSingleShot(True)
        self._slow.setInterval(SLOW)
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
        self.choose = plain_button("Choose…", self)
        self.count = named_label("Page count", self)
        self.sentence = named_label("How to print", self)
        self.progress = QProgressBar(self)
        self.print = plain_button("Print", self)
        self.print.setToolTip("Write the pages to the file, to be printed at actual size.")
        self.cancel = plain_button("Cancel", self)
        self._lay_out()
        self._connect()
        self._count()

    def _lay_out(self) -> None:
        form = QFormLayout()
        label = QLabel("&File", self)
        label.setBuddy(self.file)
        form.addRow(label, beside(self.file, self.choose))
        column = QVBoxLayout()
        column.addWidget(self.form)
        column.addLayout(form)
        for widget in (self.count, self.sentence, self.progress):
            column.addWidget(widget)
        column.addStretch()
        column.addLayout(beside(None, self.print, self.cancel))
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
        self._slow.timeout.connect(self._show_counting)
        self.choose.clicked.connect(self._choose)
        self.print.clicked.connect(self._print)
        self.cancel.clicked.connect(self._cancel)

    # --- counting

    def _count(self) -> None:
        """Lay the pieces on pages anew beside the window; what is being laid for older choices is stopped first."""
        if self._is_counting and self.counting is not None:
            self._counts_anew = True
            self.counting.cancel()
            return
        self.plan = None
        try:
            self.counting = Work(PlanTask(self.replay, self.form), self)
        except Refusal as refusal:
            self._show_plan(None, refusal.sentence)
            return
        self.counting.progressed.connect(self._show_progress)
        self.counting.done.connect(self._counted)
        self.counting.refused.connect(self._not_counted)
        self.counting.cancelled.connect(self._not_counted)
        self.count.setText("The pages are being counted.")
        self.print.setEnabled(self.work is None or not self.work.is_running)
        self._slow.start()
        self.counting.start()

    @property
    def _is_counting(self) -> bool:
        return self.counting is not None and self.counting.is_running

    def _show_counting(self) -> None:
        self.progress.setVisible(self._is_counting)

    def _counted(self, plan: object) -> None:
        if not isinstance(plan, Plan) or self._began_anew():
            return
        self._show_plan(plan, _count_words(plan))
        if self._waits_to_print:
            self._make_pages()

    def _not_counted(self, sentence: str = "") -> None:
        if self._began_anew():
            return
        if self._waits_to_print:
            self._refuse(sentence)
        self._show_plan(None, sentence)

    def _began_anew(self) -> bool:
        """Whether other choices were made meanwhile, for which counting begins now."""
        if not self._counts_anew:
            return False
        self._counts_anew = False
        self._count()
        return True

    def _show_plan(self, plan: Plan | None, words: str) -> None:
        """Take the plan, say how many pages it has or why there is none, and show them."""
        self._slow.stop()
        self.progress.setVisible(self._waits_to_print)
        self.plan = plan
        self.count.setText(words)
        self.preview.show_plan(plan)
        self.print.setEnabled(plan is not None and not self._waits_to_print)

    # --- printing

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
        if self.plan is None and not self._is_counting:
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
        """Make the pages, once they are counted."""
        self._waits_to_print = True
        self._set_working(working=True)
        self.sentence.setText(f"The pages are being made; {shown_name(self._path)} is written when all are there.")
        if not self._is_counting:
            self._make_pages()

    def _make_pages(self) -> None:
        self._waits_to_print = False
        if self.plan is None:
            self._refuse(self.count.text())
            return
        self._set_working(working=True)
        self.work = Work(PrintTask(self.plan, self._path), self)
        self.work.progressed.connect(self._show_progress)
        self.work.done.connect(self._finish)
        self.work.refused.connect(self._refuse)
        self.work.cancelled.connect(self._stopped)
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
        self._waits_to_print = False
        self._set_working(working=False)
        self.sentence.setText(sentence)

    def _stopped(self) -> None:
        self._waits_to_print = False
        self._set_working(working=False)
        self.sentence.setText("The print was stopped; no file was written.")

    def _cancel(self) -> None:
        if self.work is not None and self.work.is_running:
            self.work.cancel()
        elif self._waits_to_print:
            self._stopped()
        else:
            self.reject()

    @guard(None)
    def hideEvent(self, event: QHideEvent) -> None:
        """However the dialog is left, its threads end before it does; the desktop may hide it for a while only."""
        if not event.spontaneous():
            self._slow.stop()
            for work in (self.counting, self.work):
                if work is not None:
                    work.abandon()
        super().hideEvent(event)


def _count_words(plan: Plan) -> str:
    """How many pages there are; of a roll also how long they are, and how to save paper."""
    words = f"{plan.count} pages of {plan.paper.words}"
    if not plan.paper.is_roll:
        return f"{words}, the first of them the map."
    long = show_length(plan.paper.height, plan.design.unit)
    return f"{words}, each {long} long. The first is the map: a shop can print from the second on."

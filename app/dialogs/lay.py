"""The lay plan: how much of a fabric the design takes, how its pieces lie, and a hand to move them.

What is shown is what the design keeps: laying out and every move of a hand are acts of the session, so that undo takes
them back and saving saves them. Once a piece of the fabric changes, the lay is out of date and shown faintly.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Final

from PySide6.QtCore import QCoreApplication
from PySide6.QtGui import QCloseEvent
from PySide6.QtWidgets import QWidget

from app.background import Work
from app.canvas.table import CuttingTable
from app.dialogs.choose_file import PAGES, file_name_for, save_dialog
from app.dialogs.lay_form import LayForm
from app.dialogs.lay_paper import TITLES, Kind, write_pages
from app.dialogs.lay_task import LayTask
from app.messages import guard
from app.session import Changed, Session
from core.errors import Refusal
from core.fabrics.catalogue import Fabric
from core.finishing.finish import Finished, finish
from core.outputs.lay_amounts import kept_of, laid_again, with_kept
from core.outputs.lay_by_hand import flipped, locked, moved, turned
from core.outputs.lay_parts import choices_for, pieces_digest
from core.outputs.lay_plan import Lay
from core.outputs.lay_plans import FabricPlan, comparison, fabrics_cut, notes, summary, usual_seconds

HOW_TO_BEGIN: Final = (
    "“Lay out” looks for a short lay; it stays in the design, and its pieces can then be moved by hand."
)
NO_PIECE: Final = "There is no piece to lay out: draft a block and cut it first."


class LayDialog(LayForm):
    """Shows and makes the lay of one fabric at a time, beside the window."""

    def __init__(self, session: Session, table: CuttingTable, folder: Path, parent: QWidget) -> None:
        super().__init__(table, parent)
        self.session, self.folder = session, folder
        self.work: Work | None = None
        self._task: LayTask | None = None
        self._pieces: tuple[Finished, ...] = ()
        self._fabrics: tuple[Fabric, ...] = ()
        self._lays: dict[str, Lay] = {}
        """The last sound lay of each fabric, to be shown faintly once it is out of date."""
        self._plans: dict[str, tuple[str, FabricPlan]] = {}
        """What a search of each fabric found, with the digest of the pieces that it laid."""
        self._why_not = ""
        self._kind: Kind = "plan"
        self._connect()
        self._follow(Changed())

    def _connect(self) -> None:
        self.session.changed.connect(self._follow)
        application = QCoreApplication.instance()
        assert application is not None
        application.aboutToQuit.connect(self._abandon)
        self.fields.fabric_chosen.connect(self._take_fabric)
        self.view.shifted.connect(self._shift)
        self.view.wanted.connect(self._want)
        self.view.chosen.connect(self._show_chosen)
        for pressed, run in (
            (self.begin, self._begin),
            (self.stop, self._stop),
            (self.cancel, self._cancel),
            (self.fill, self._fill),
            (self.turn, self._turn),
            (self.flip, self._flip),
            (self.lock, self._lock),
            (self.plan, self._ask_plan),
            (self.marker, self._ask_marker),
            (self.leave, self.close),
        ):
            pressed.clicked.connect(run)

    # --- following the design

    def _follow(self, changed: Changed) -> None:
        if changed.preview or not changed.design:
            return
        if changed.file:
            self._abandon()
            self._lays, self._plans = {}, {}
        self._finish_pieces()
        if self.fields.show_fabrics(self._fabrics):
            self._show_choices()
        self._show()

    def _finish_pieces(self) -> None:
        """The pieces as they are now, or why there are none to be laid out."""
        refused = self.session.replay.refused
        self._pieces, self._fabrics, self._why_not = (), (), ""
        if refused is not None:
            self._why_not = f"Nothing is laid out while a step is refused: {refused.sentence}"
            return
        try:
            self._pieces = finish(self.session.design, self.session.replay.garment)
            self._fabrics = fabrics_cut([self._pieces])
            self._why_not = "" if self._fabrics else NO_PIECE
        except Refusal as refusal:
            self._why_not = refusal.sentence

    @property
    def _fabric(self) -> Fabric | None:
        return next((fabric for fabric in self._fabrics if fabric.name == self.fields.name), None)

    def _take_fabric(self) -> None:
        self._show_choices()
        self._show()

    def _show_choices(self) -> None:
        fabric = self._fabric
        if fabric is None:
            return
        kept, unit = kept_of(self.session.design, fabric.name), self.session.design.unit
        choices = kept.choices if kept else choices_for(fabric, unit)
        self.fields.show_choices(choices, unit)
        self.fields.time.setValue(round(usual_seconds([self._pieces], fabric)))

    def _show(self) -> None:
        """Show the lay that the design keeps of the fabric, faintly where it is out of date."""
        self.view.unit = self.session.design.unit
        if self._is_working:
            return
        fabric, lay, why = self._fabric, None, ""
        kept = kept_of(self.session.design, fabric.name) if fabric else None
        if kept is not None:
            try:
                lay = self._lays[kept.fabric] = laid_again(self.session.design, kept, self._pieces)
            except Refusal as refusal:
                why = refusal.sentence
        if lay is None and kept is not None:
            self.view.show_lay(self._lays.get(kept.fabric), is_editable=False, is_stale=True)
        else:
            self.view.show_lay(lay, is_editable=lay is not None)
        self.summary.setText(self._summary(lay))
        self.hint.setText(why or self.view.words() or self._why_not or HOW_TO_BEGIN)
        self._enable()

    def _summary(self, lay: Lay | None) -> str:
        if lay is None:
            return ""
        plan = self._plan_of(lay)
        minded = (f"\N{BULLET} {note}" for note in notes(lay, plan.needed(), plan.unit))
        return "\n".join((summary(plan), comparison(plan), *minded))

    def _plan_of(self, lay: Lay) -> FabricPlan:
        """A lay with the other ways of laying that were tried for its fabric."""
        design, (digest, known) = self.session.design, self._plans.get(lay.fabric.name, ("", None))
        kept = kept_of(design, lay.fabric.name)
        if known is None or kept is None or kept.pieces != digest:
            return FabricPlan((design.name,), (lay,), design.unit, {})
        others = (other for other in known.lays if other.model != lay.model)
        return FabricPlan((design.name,), (lay, *others), design.unit, known.refused)

    def _show_chosen(self) -> None:
        self.hint.setText(self.view.words())
        self._enable()

    def _enable(self) -> None:
        working, lay = self._is_working, self.view.lay
        is_there = lay is not None and self.view.is_editable and not working
        is_chosen = is_there and self.view.selection >= 0
        for act in (self.turn, self.flip, self.lock):
            act.setEnabled(is_chosen)
        for act in (self.fill, self.plan, self.marker):
            act.setEnabled(is_there)
        self.fields.setEnabled(not working)
        self.begin.setEnabled(not working and self._fabric is not None)
        self.stop.setEnabled(working)
        self.cancel.setEnabled(working)
        self.progress.setVisible(working)
        is_locked = is_chosen and lay is not None and lay.laid[self.view.selection].locked
        self.lock.setText("Unlock" if is_locked else "Lock")
        self.lock.setAccessibleName(self.lock.text())

    # --- laying out

    @property
    def _is_working(self) -> bool:
        return self.work is not None and self.work.is_running

    def _begin(self) -> None:
        self._start(held=None)

    def _fill(self) -> None:
        self._start(held=self.view.lay)

    def _start(self, *, held: Lay | None) -> None:
        fabric = self._fabric
        if fabric is None or self._is_working:
            return
        try:
            choices = held.choices if held else self.fields.choices(self.session.design.unit)
        except Refusal as refusal:
            self.hint.setText(refusal.sentence)
            return
        task = LayTask(
            self.session.design,
            self._pieces,
            fabric,
            choices=choices,
            models=self.fields.models,
            seconds=self.fields.seconds,
            held=held,
        )
        self._task = task
        self.work = Work(task, self)
        self.work.progressed.connect(self._show_progress)
        self.work.done.connect(self._finish)
        self.work.refused.connect(self._refuse)
        self.work.cancelled.connect(self._stopped)
        self.work.start()
        self.hint.setText("Looking for a shorter lay. Stop when it is short enough.")
        self._enable()
        # Not left to chance: once “Lay out” cannot be pressed, the keyboard would go on to “Close”.
        self.stop.setFocus()

    def _show_progress(self, done: int, total: int) -> None:
        self.progress.setRange(0, total)
        self.progress.setValue(done)
        best = self._task.best if self._task is not None else None
        if best is not None and best is not self.view.lay:
            self.view.show_lay(best, is_editable=False)
            self.summary.setText(self._summary(best))

    def _stop(self) -> None:
        if self._task is not None:
            self._task.keep()

    def _cancel(self) -> None:
        if self.work is not None:
            self.work.cancel()

    def _finish(self, plan: object) -> None:
        task, self.work, self._task = self._task, None, None
        assert isinstance(plan, FabricPlan)
        assert task is not None
        self._plans[plan.lay.fabric.name] = (pieces_digest(task.pieces, plan.lay.fabric), plan)
        what = "Fill in the lay of" if task.held is not None else "Lay out"
        self._keep(f"{what} {plan.lay.fabric.name}", plan.lay, task.pieces)
        self.view.setFocus()

    def _refuse(self, why: str) -> None:
        self.work = self._task = None
        self._show()
        self.hint.setText(why)

    def _stopped(self) -> None:
        self._refuse("Laying out was cancelled; the lay is as it was.")

    def _abandon(self) -> None:
        if self.work is not None:
            self.work.abandon()
        self.work = self._task = None

    # --- by hand

    def _keep(self, label: str, lay: Lay, pieces: Sequence[Finished] | None = None, *, amends: bool = False) -> None:
        """Make a lay the design's."""
        design = with_kept(self.session.design, lay, self._pieces if pieces is None else pieces)
        self.session.do(label, design, amends=amends)

    def _shift(self, index: int, x: float, y: float) -> None:
        lay = self.view.lay
        if lay is not None:
            self._act("Move", lambda: moved(lay, index, (x, y), unit=self.session.design.unit))

    def _turn(self) -> None:
        self._want("turn")

    def _flip(self) -> None:
        self._want("flip")

    def _lock(self) -> None:
        self._want("lock")

    def _want(self, act: str) -> None:
        lay, index, unit = self.view.lay, self.view.selection, self.session.design.unit
        if lay is None or index < 0:
            return
        if act == "turn":
            self._act("Turn", lambda: turned(lay, index, unit=unit))
        elif act == "flip":
            self._act("Flip", lambda: flipped(lay, index, unit=unit))
        else:
            is_locked = lay.laid[index].locked
            self._act("Unlock" if is_locked else "Lock", lambda: locked(lay, index, is_locked=not is_locked))

    def _act(self, word: str, act: Callable[[], Lay]) -> None:
        """Do what a hand wants with the chosen piece, or say why it cannot be done."""
        lay, index = self.view.lay, self.view.selection
        if lay is None or not self.view.is_editable or index < 0:
            return
        try:
            after = act()
        except Refusal as refusal:
            self.view.update()
            self.hint.setText(refusal.sentence)
            return
        label = f"{word} piece {lay.laid[index].part.finished.number} on the lay of {lay.fabric.name}"
        self._keep(label, after, amends=word == "Move")

    # --- on paper

    def _ask_plan(self) -> None:
        self._ask("plan")

    def _ask_marker(self) -> None:
        self._ask("marker")

    def _ask(self, kind: Kind) -> None:
        self._kind = kind
        name = file_name_for(f"{self.session.design.name} {self.fields.name} {kind}", "pdf")
        dialog = save_dialog(self, self.folder / name, title=TITLES[kind], kind=PAGES, suffix="pdf")
        dialog.fileSelected.connect(self._write)
        dialog.open()

    def _write(self, name: str) -> None:
        """Write the pages of the lay that is shown."""
        if self.view.lay is None:
            return
        try:
            said = write_pages(Path(name), self._kind, self._plan_of(self.view.lay), self.session.design)
        except Refusal as refusal:
            said = refusal.sentence
        self.hint.setText(said)

    # --- leaving

    @guard(None)
    def reject(self) -> None:
        """Esc: a search is ended first."""
        self._abandon()
        super().reject()

    @guard(None)
    def closeEvent(self, event: QCloseEvent) -> None:
        """No search outlives the dialog."""
        self._abandon()
        super().closeEvent(event)

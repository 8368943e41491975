"""The one object that changes anything: it holds the history, replays the design and says what changed."""

from __future__ import annotations

from pathlib import Path

import msgspec
from msgspec.structs import replace
from PySide6.QtCore import QObject, Signal

from app.trial import Trial
from core.design.design import Design
from core.design.history import History, begun
from core.design.replay import BLOCK, Refused, Replay, replay, replay_until
from core.design.settling import settled
from core.errors import Refusal
from core.file.naming import shown_name
from core.file.reader import fingerprint, read_design
from core.file.writer import save_design


class Changed(msgspec.Struct, frozen=True):
    """What a change touched, so that views can leave alone what they show already.

    `preview` is a drag under way: nothing is committed, and only the table and the seams need follow.
    """

    design: bool = True
    preview: bool = False
    file: bool = False


class ChangedOnDisk(Refusal):
    """The file holds something else than when it was opened or saved here."""

    def __init__(self, path: Path) -> None:
        super().__init__(f"{shown_name(path)} was changed by somebody else since you opened it.")
        self.path = path


class Session(QObject):
    """History, current replay, file path and dirty mark of the one open design."""

    changed = Signal(object)
    """Emitted with a `Changed` after every change, undo, redo, preview, save and open."""
    worked_out = Signal(object)
    """Emitted when what was tried out under a hand is worked out: with the `Refused` that stopped it, or None."""

    def __init__(self, design: Design) -> None:
        super().__init__()
        self.history: History = begun(design)
        self.replay: Replay = replay(design)
        self.path: Path | None = None
        self._saved: Design | None = design
        self._on_disk = ""
        self._preview: Replay | None = None
        self._tried: Replay | None = None
        """All of a design of which less is shown."""
        self._is_ahead = False
        """Whether what is shown is ahead of what is being tried, and not to be replaced by it."""
        self._trial = Trial(self)
        self._trial.whole.connect(self._take_trial)

    @classmethod
    def of_file(cls, path: Path) -> Session:
        """A session on a file. Refusal when it cannot be read."""
        seen = fingerprint(path)
        session = cls(read_design(path))
        session.path, session._on_disk = path, seen
        return session

    @property
    def design(self) -> Design:
        """The committed design."""
        return self.history.design

    @property
    def shown(self) -> Replay:
        """What is to be shown: the preview of a drag under way, else the committed replay."""
        return self._preview or self.replay

    @property
    def is_dirty(self) -> bool:
        """Whether the design differs from what the file holds."""
        return self.design is not self._saved

    def do(self, label: str, design: Design, *, amends: bool = False) -> None:
        """Commit a design under a label that undo will show. Refusal, with nothing changed, if no block drafts.

        Copies of a piece that it alters, and finishes of one that it renames, follow in the same act.

        `amends`: when the act before has the same label, the two become one, as for taps of an arrow key.
        """
        done = settled(replay(design, self._tried or self.shown), self.replay)
        self._forget_preview()
        before = self.history.undone() if amends and self.history.undo_label == label else self.history
        self.history = before.done(label, done.design)
        self._show(done)

    def preview(self, design: Design, *, until: str = "") -> Refused | None:
        """Show a design without committing it, unless a step refuses it: the last view then stays, and why comes back.

        While the committed design has a refusal of its own, a preview that comes as far is shown too. `until`: all of
        the design is tried, that step by any means, and the garment is shown as it is just after it.
        """
        self._trial.drop()
        return self._take(replay(design, self._tried or self.shown), until)

    def try_out(self, design: Design) -> bool:
        """Preview a design while a hand drags, whatever it takes: whether anything was shown at once.

        Else it is shown within a tenth of a second, and of several that come meanwhile only the last.
        """
        self._is_ahead = False
        return self._trial.ask(design, self._tried or self.shown)

    def try_until(self, design: Design, step_id: str) -> Refused | None:
        """Preview a design while a hand drags, at once, as it is just after a step; why that step refuses, or None.

        Whether what comes after it can still be done is worked out in shares of the next frames: `worked_out` tells.
        """
        known = self._tried or self.shown
        head = replay_until(design, step_id, known)
        if head.refused is not None:
            self._trial.drop()
            return head.refused
        rest = known.stages[len(head.stages) :]
        self._preview, self._tried = head, replace(head, stages=(*head.stages, *rest))
        self.changed.emit(Changed(preview=True))
        self._is_ahead = True
        self._trial.ask(design, self._tried)
        return None

    @property
    def is_trying(self) -> bool:
        """Whether something that a hand tried out is still to be shown."""
        return not self._trial.is_idle

    def _take_trial(self, tried: Replay) -> None:
        if not self._is_ahead:
            self.worked_out.emit(self._take(tried))
            return
        if tried.refused is None:
            self._tried = tried
        self.worked_out.emit(tried.refused if self._stops_sooner(tried) else None)

    def _take(self, tried: Replay, until: str = "") -> Refused | None:
        """Show what was tried, unless a step refuses it."""
        if tried.refused is not None and (self._stops_sooner(tried) or tried.refused.step_id == until):
            return tried.refused
        self._tried, self._preview = tried, tried.until(until)
        self.changed.emit(Changed(preview=True))
        return None

    def _stops_sooner(self, tried: Replay) -> bool:
        """Whether a step refuses that the committed design comes past."""
        is_refused = self.replay.refused is not None
        return tried.refused is not None and not (is_refused and len(tried.stages) >= len(self.replay.stages))

    def look_back(self, step_id: str) -> bool:
        """Show the garment as it was after a step, until anything else is shown; False when that is how it is now."""
        then = self.replay.until(step_id)
        if len(then.stages) == len(self.replay.stages):
            self.drop_preview()
            return False
        self._forget_preview()
        self._preview = then
        self.changed.emit(Changed(preview=True))
        return True

    def look_before(self, step_id: str) -> None:
        """Show the garment as it was before a step, until anything else is shown; all of it for a step not done."""
        done = [BLOCK, *(stage.step.id for stage in self.replay.stages)]
        self.look_back(done[done.index(step_id) - 1] if step_id in done[1:] else done[-1])

    @property
    def looks_back(self) -> int | None:
        """How many steps the garment shown has behind it, while fewer than all are shown on purpose; else None."""
        shown = self._preview
        if shown is None or shown.design is not self.design or len(shown.stages) >= len(self.replay.stages):
            return None
        return len(shown.stages)

    def drop_preview(self) -> None:
        """Show the committed design again; nothing was changed."""
        is_shown = self._preview is not None
        self._forget_preview()
        if is_shown:
            self.changed.emit(Changed(preview=True))

    def _forget_preview(self) -> None:
        self._trial.drop()
        self._preview = self._tried = None

    def undo(self) -> None:
        """Take the last act back."""
        self._travel(self.history.undone())

    def redo(self) -> None:
        """Do the act again that was taken back."""
        self._travel(self.history.redone())

    def _travel(self, history: History) -> None:
        if history.index != self.history.index:
            self._forget_preview()
            self.history = history
            self._show(replay(history.design, self.replay))

    def _show(self, now: Replay) -> None:
        self.replay = now
        self.changed.emit(Changed())

    def begin(self, design: Design, path: Path | None = None, *, is_saved: bool = True) -> None:
        """Show another design with a history of its own. A demo or a recovered design has no path."""
        now = replay(design)
        self.history, self.path = begun(design), path
        self._forget_preview()
        self._saved = design if is_saved else None
        self._on_disk = ""
        self.replay = now
        self.changed.emit(Changed(file=True))

    def open(self, path: Path) -> None:
        """Open a file. Refusal, with the current design still in place, when it cannot be read."""
        # Taken before it is read: what changes in between is then asked about, and not written over.
        seen = fingerprint(path)
        self.begin(read_design(path), path)
        self._on_disk = seen

    def save(self, path: Path | None = None, *, over: bool = False) -> None:
        """Write the design to its file, or to a new one. Refusal, the design still marked unsaved, when it fails.

        ChangedOnDisk when somebody else wrote the file since it was opened or saved here, unless it is to go `over`.
        """
        target = path or self.path
        if target is None:
            raise Refusal("The design has no file yet: choose where to save it.")
        if target == self.path and not over and fingerprint(target) not in {self._on_disk, ""}:
            raise ChangedOnDisk(target)
        save_design(target, self.design)
        self.path, self._saved, self._on_disk = target, self.design, fingerprint(target)
        self.changed.emit(Changed(design=False, file=True))

"""The cup: shown as it would be drafted, and made when it is asked for."""

from __future__ import annotations

from collections.abc import Collection
from itertools import count

from PySide6.QtCore import Qt

from app.canvas.slip import Slip
from app.canvas.table import CuttingTable
from app.tools.step_tool import StepTool
from core.pieces.records import Garment
from core.steps.cup import Cup


class CupTool(StepTool):
    """Makes a first cup in two pieces; its levels are altered beside the table afterwards."""

    def __init__(self, table: CuttingTable) -> None:
        super().__init__(table)
        self._slip: Slip | None = None

    def begin(self) -> None:
        """Show the cup and ask."""
        session = self.table.session
        if any(isinstance(step, Cup) for step in session.design.steps):
            self.table.say("There is a cup already: alter it in the list of steps, or take that step out first.")
            return
        garment = session.replay.garment
        step = Cup(session.design.fresh_id("cup"), free_numbers(garment), names=_free_names(garment))
        done = self.show(step)
        self._slip = Slip(self.table, self.table.theme, accept="Make the cup")
        self._slip.accepted.connect(self.table.accept_tool)
        self._slip.dropped.connect(self.table.leave_tool)
        words = step.sentence(session.replay.garment, self.table.unit) if done else self.refusal
        self._slip.ask(words, can_accept=done)
        self.table.fit_all()
        self.table.say("Enter makes the cup, Esc leaves it.")

    def accept(self) -> None:
        """Make it."""
        if self.keep("Make the cup"):
            self.table.tool_finished.emit()

    def key(self, key: Qt.Key, *, shift: bool) -> bool:
        """Enter makes it."""
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.trial is not None:
            self.accept()
            return True
        return False

    def end(self) -> None:
        """Nothing uncommitted stays in view."""
        if self._slip is not None:
            self._slip.take_away()
            self._slip = None
        super().end()


def free_numbers(garment: Garment) -> tuple[int, int]:
    """The two lowest numbers that no piece has."""
    used = {piece.number for piece in garment.pieces.values()}
    free = (number for number in count(1) if number not in used)
    return next(free), next(free)


def _free_names(garment: Garment) -> tuple[str, str]:
    return _free("inner cup", garment.pieces), _free("outer cup", garment.pieces)


def _free(wanted: str, taken: Collection[str]) -> str:
    return next(name for name in (wanted, *(f"{wanted} {n}" for n in range(2, 99))) if name not in taken)

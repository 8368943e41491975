"""Joining: pick a seam between two pieces and the end at which they are laid together; they become one piece."""

from __future__ import annotations

import msgspec
from PySide6.QtWidgets import QCheckBox

from app.canvas.slip import SlipField
from app.canvas.table import CuttingTable
from app.canvas.tool import Handle, Pointer
from app.tools.seam_tool import SeamTool
from core.errors import Refusal
from core.pieces.names import free_name, spoken, spoken_in_full
from core.pieces.records import Garment
from core.pieces.seams import Match
from core.steps.catalogue import AnyStep
from core.steps.join import Join

PICK_END = "Click the end at which the two pieces are laid together."


class JoinTool(SeamTool):
    """Three moments: no seam picked; its end to be picked; the joined piece in view, its name to be given."""

    ask = "Click the seam that is to be laid shut."

    def __init__(self, table: CuttingTable) -> None:
        super().__init__(table)
        self._field: SlipField | None = None
        self._box: QCheckBox | None = None

    def refuses(self, found: Match) -> str:
        """Only a seam between two pieces is laid shut."""
        if super().refuses(found) or (len(found.pieces) == 2 and found.a[0].piece is not found.b[0].piece):
            return super().refuses(found)
        count = len(found.pieces)
        pieces = f"{count} piece" + ("" if count == 1 else "s")
        return f"The seam {spoken_in_full(found.seam.name)} joins {pieces}; only a seam between two is laid shut."

    def fill(self, step: AnyStep) -> None:
        """The seam laid shut at the step's end, under its name."""
        assert isinstance(step, Join)
        self.take_seam(step.seam)
        assert self.found is not None
        if step.end not in self.found.seam.ends:
            raise Refusal(f"The {spoken(step.end)} is no end of the seam {self.said}.")
        self.own_activate(f"end {self.found.seam.ends.index(step.end)} a")
        if self._field is not None and self._box is not None:
            self._box.setChecked(step.trued)
            self._true()
            self._field.setText(step.name)

    def picked(self) -> None:
        """Ask for the end."""
        self.table.say(PICK_END)
        self.table.refresh()
        self.table.focus_handle("end 0 a")

    def let_go_of(self) -> None:
        """The field went with the slip."""
        self._field = self._box = None

    def own_handles(self) -> list[Handle]:
        """Both ends on both sides, until one is picked."""
        return [] if self.trial is not None else self.end_handles(f"Join the {self.said} at the")

    def own_hover(self, at: Pointer) -> None:
        """Say what a click on an end does."""
        if self.trial is None:
            key = self.handle_at(at)
            self.table.say(f"{self._step(key).sentence(self.garment, self.table.unit)}" if key else PICK_END)

    def own_click(self, at: Pointer) -> None:
        """Pick the end."""
        key = self.handle_at(at)
        if key:
            self.own_activate(key)

    def own_activate(self, key: str) -> None:
        """Show the two pieces as one, and ask for its name."""
        if not self.show(self._step(key)):
            # The seam stays in hand, so that the other end can be tried.
            self.trial, self.refusal = None, ""
            self.table.refresh()
            return
        slip = self.pin_slip("Join")
        self._field = slip.field(letters=20)
        self._field.call("Name of the joined piece")
        self._field.setText(joined_name(self.garment, self._pieces()))
        self._field.textChanged.connect(self._rename)
        self._field.meant.connect(self.table.accept_tool)
        self._box = slip.toggle("True the joint", key="Space")
        self._box.clicked.connect(self._true)
        self._ask()
        self.table.say("Enter joins them, Esc leaves them apart.")
        self.table.refresh()
        self._field.setFocus()
        self._field.selectAll()

    def _pieces(self) -> tuple[str, str]:
        assert self.found is not None
        return self.found.a[0].piece.name, self.found.b[0].piece.name

    def _step(self, key: str) -> Join:
        assert self.found is not None
        end = self.found.seam.ends[int(key.split()[1])]
        name = joined_name(self.garment, self._pieces())
        return Join(self.step_id("join"), self.seam, end, name)

    def _rename(self, text: str) -> None:
        """Try the name as it is typed."""
        name = " ".join(text.split())
        if not name:
            self.refusal = "Give the joined piece a name."
            self.table.say(self.refusal)
        elif isinstance(self.trial, Join):
            self.show(msgspec.structs.replace(self.trial, name=name))
        self._ask()

    def _true(self) -> None:
        """Try the joint trued, or as the edges lie."""
        if isinstance(self.trial, Join) and self._box is not None:
            self.show(msgspec.structs.replace(self.trial, trued=self._box.isChecked()))
        self._ask()

    def _ask(self) -> None:
        if self.slip is None or not isinstance(self.trial, Join):
            return
        self.slip.ask(self.refusal or self.told(), can_accept=not self.refusal)

    def accept(self) -> None:
        """Join."""
        if self.trial is not None and not self.refusal and self.keep(f"Join at the {self.said}"):
            self.table.tool_finished.emit()

    def escape(self) -> bool:
        """Pick another end; else another seam."""
        if self.altered:
            return False
        seam, was_shown = self.seam, self.trial is not None
        done = super().escape()
        if was_shown:
            self.pick(seam)
        return done


def joined_name(garment: Garment, pieces: tuple[str, str]) -> str:
    """What the joined piece is called by default: the words that both names share, else both with "and" between."""
    first, second = (name.split() for name in pieces)
    shared = " ".join(word for word in first if word in second)
    taken = {name for name, _ in garment.taken(*pieces)}
    whole = f"{spoken(pieces[0])} and {spoken(pieces[1])}"
    wanted = shared if shared and shared not in taken else whole
    return free_name(wanted, taken)

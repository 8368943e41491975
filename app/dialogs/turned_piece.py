"""Cutting a piece double and turning it: where the gap is, what is left round it, and how it is sewn."""

from __future__ import annotations

from typing import Final

from msgspec.structs import replace
from PySide6.QtWidgets import QWidget

from app.dialogs.form import FormDialog, take
from app.session import Session
from core.design.finishes import Doubled
from core.errors import Refusal
from core.finishing.turning import gap_places, turned, turning_words
from core.pieces.names import spoken
from core.pieces.records import Piece
from core.units import parse_length, show_as_meant, show_length

HOW: Final = "Two layers are sewn together round the edge and turned right side out through a gap."
WIDEST: Final = 25.4
IN_INCHES: Final = {"gap": 63.5, "allowance": 6.35, "trimmed": 3.175}
"""mm: what is proposed to one who works in inches: 2 1/2 in, 1/4 in and 1/8 in (common practice, no source)."""


class TurnedPieceDialog(FormDialog):
    """Each of its buttons is one act that undo takes back."""

    def __init__(self, session: Session, piece: str, parent: QWidget) -> None:
        super().__init__("Cut double and turn", parent)
        self.session = session
        self.name = piece
        self.setWindowTitle(f"Cut {piece} double and turn it")
        unit, known = session.design.unit, session.design.finishing.doubled_piece(piece)
        places = gap_places(self._piece())
        rows = {e.name: f"{spoken(e.name)}, {show_length(e.length, unit)}" for e in places}
        self.through = self.choice("Turned &through", rows or {"shoulder": "shoulder"})
        self.gap = self.field("Turning &gap")
        self.allowance = self.field("&Allowance round it")
        self.trimmed = self.field("T&rimmed to")
        self._show(known or replace(Doubled(piece, ""), **(IN_INCHES if unit == "in" else {})))
        self.finish((("Cut &double", self.double), ("Cut &single", self.single), ("Close", self.reject)))
        self.resize(480, 300)

    def _piece(self) -> Piece:
        return self.session.replay.garment.piece(self.name)

    def _show(self, doubled: Doubled) -> None:
        unit = self.session.design.unit
        for edge in self._piece().edges:
            if (edge.origin.edge, edge.origin.side) == (doubled.through, doubled.side):
                take(self.through, edge.name)
        self.gap.setText(show_as_meant(doubled.gap, unit))
        self.allowance.setText(show_as_meant(doubled.allowance, unit))
        self.trimmed.setText(show_as_meant(doubled.trimmed, unit))
        words = turning_words(doubled, self._piece(), unit) if doubled.through else (HOW,)
        self.say(" ".join(words))

    def _wanted(self) -> Doubled:
        """As typed. Refusal for what is no length, a gap too small for a hand, an allowance out of reason."""
        unit = self.session.design.unit
        gap, allowance, trimmed = (parse_length(f.text(), unit) for f in (self.gap, self.allowance, self.trimmed))
        if not 0.0 <= trimmed <= allowance <= WIDEST:
            raise Refusal(
                f"Round {self.name} give an allowance from 0 to {show_length(WIDEST, unit)}, and trim it to no more "
                f"than that."
            )
        made = turned(
            self.session.replay.garment, self.name, through=str(self.through.currentData()), unit=unit, gap=gap
        )
        return replace(made, allowance=allowance, trimmed=trimmed)

    def double(self) -> None:
        """Cut it double, as typed."""
        try:
            wanted = self._wanted()
        except Refusal as refusal:
            self.say(f"≠ {refusal.sentence}")
            return
        design = self.session.design
        finishing = design.finishing.with_doubled(wanted)
        self.session.do(f"Cut {self.name} double and turn it", replace(design, finishing=finishing))
        self._show(wanted)

    def single(self) -> None:
        """Cut it as its fabric has it."""
        design = self.session.design
        if design.finishing.doubled_piece(self.name) is not None:
            finishing = design.finishing.without_doubled(self.name)
            self.session.do(f"Cut {self.name} single", replace(design, finishing=finishing))
        self.say(f"{self.name.capitalize()} is not turned: its edges are finished one by one.")

"""Cutting an edge smaller for stretch cloth: how much of it, and what that does to the piece or its seam."""

from __future__ import annotations

from msgspec.structs import replace
from PySide6.QtWidgets import QWidget

from app.dialogs.form import FormDialog
from app.session import Session
from core.design.design import Design
from core.errors import Refusal
from core.fabrics.catalogue import Fabric, named
from core.fabrics.stretch import reduction_limit, working_reduction
from core.pieces.names import spoken
from core.pieces.records import Piece
from core.steps.stretch_reduction import reduced
from core.units import show_length


class ReduceEdgeDialog(FormDialog):
    """One act: folds in a free edge, or ease of less than nothing on the seam of a sewn one."""

    def __init__(self, session: Session, piece: str, parent: QWidget) -> None:
        super().__init__("Cut smaller for stretch", parent)
        self.session = session
        self.name = piece
        self.setWindowTitle(f"Cut {piece} smaller for stretch")
        unit = session.design.unit
        edges = [e for e in self._piece().edges if e.kind not in ("fold", "dart base")]
        free = sorted(edges, key=lambda edge: edge.kind == "seam")
        self.edge = self.choice("&Edge", {e.name: f"{spoken(e.name)}, {show_length(e.length, unit)}" for e in free})
        self.percent = self.field("&Smaller by, %")
        fabric = named(session.design.fabrics, self._piece().fabric)
        most = max(fabric.stretch_along, fabric.stretch_across)
        self.percent.setText(f"{100 * working_reduction(fabric.stretch_across):g}")
        self.finish((("&Apply", self.apply), ("Close", self.reject)))
        self.say(
            f"{_stretch_words(fabric, most)} A free edge is folded out; a sewn edge keeps its length, and its seam "
            "says how much it is stretched."
        )
        self.resize(480, 240)
        self.percent.setFocus()

    def _piece(self) -> Piece:
        return self.session.replay.garment.piece(self.name)

    def apply(self) -> None:
        """Do it as one act; what cannot be done is said here."""
        try:
            design, words = self._wanted()
        except Refusal as refusal:
            self.say(f"≠ {refusal.sentence}")
            return
        refused = self.session.preview(design)
        self.session.drop_preview()
        if refused is not None:
            self.say(f"≠ {refused.sentence}")
            return
        self.session.do(f"Cut the {words} of {self.name} smaller", design)
        self.accept()

    def _wanted(self) -> tuple[Design, str]:
        """The design with the steps, and the edge in words. Refusal for what is no number, or cannot be."""
        edge = self._piece().edge(str(self.edge.currentData()))
        text = self.percent.text().strip().rstrip("%").strip().replace(",", ".")
        try:
            share = float(text) / 100.0
        except ValueError:
            raise Refusal(f"“{self.percent.text()}” is no number of percent: write it like 3 or 2.5.") from None
        design = self.session.design
        for step in reduced(self.session.replay.garment, self._piece(), edge, share=share):
            kind = "ease" if step.__struct_config__.tag == "ease" else "slash"
            design = design.with_step(replace(step, id=design.fresh_id(kind)))
        return design, spoken(edge.name)


def _stretch_words(fabric: Fabric, most: float) -> str:
    if most <= 0:
        return f"{fabric.words.capitalize()} does not stretch: an edge of it cannot be cut smaller without puckers."
    return (
        f"{fabric.words.capitalize()} stretches by {most:g} %. Cut {reduction_limit(most):.0%} smaller it would be "
        "stretched all it can, which nobody can wear."
    )

"""How an edge of a piece is finished: its use, its allowance, a stretch with another one, its corners, a bone."""

from __future__ import annotations

from typing import Final

from msgspec import convert
from msgspec.structs import replace
from PySide6.QtWidgets import QWidget

from app.dialogs.form import FormDialog, fill, take
from app.session import Session
from core.design.design import Design
from core.design.finishes import EDGE_USES, Bone, EdgeFinish, EdgeUse
from core.errors import Refusal
from core.fabrics.catalogue import named
from core.finishing.allowances import finished_edges
from core.finishing.both_halves import for_both_halves
from core.finishing.edge_wishes import EdgeWish, edge_finish, ends_of, wish_of
from core.pieces.names import spoken
from core.pieces.records import Edge, Piece
from core.units import show_length

HOW: Final = "Leave the allowance empty for what the fabric and the finish want. Enter applies; the dialog stays."
CORNERS: Final = {"": "as usual", "mitred": "mitred", "squared": "squared to this edge", "mirrored": "turned back"}
USE_WORDS: Final = {
    "plain": "as its kind has it",
    "hem": "hem, turned back",
    "facing": "facing",
    "binding": "binding",
    "zip": "zip",
    "buttons": "buttons on a stand",
    "lapped raw": "raw, lapped over its mate",
    "turning gap": "turning gap",
}


class EdgeFinishDialog(FormDialog):
    """Alters the edges of one piece, one after the other; each Apply is one act that undo takes back."""

    def __init__(self, session: Session, piece: str, edge: str, parent: QWidget) -> None:
        super().__init__("Finish an edge", parent)
        self.session = session
        self.name = piece
        edges = [e for e in self._piece().edges if e.kind not in ("fold", "dart base")]
        unit = session.design.unit
        rows = {e.name: f"{spoken(e.name)}, {show_length(e.length, unit)}" for e in edges}
        self.edge = self.choice("&Edge", rows)
        self.use = self.choice("&Finish", {use: USE_WORDS[use] for use in EDGE_USES})
        self.allowance = self.field("&Allowance")
        self.start = self.field("Only f&rom")
        self.stop = self.field("&to")
        self.counted = self.choice("&counted from", ["", ""])
        self.first = self.choice("First corner", CORNERS)
        self.last = self.choice("Last corner", CORNERS)
        self.extension = self.field("&Button stand")
        self.bone = self.tick("A &bone along it")
        self.edge.currentIndexChanged.connect(self._show)
        self.use.currentIndexChanged.connect(self._show_usual)
        self.finish((("&Apply", self.apply), ("As &usual", self.reset), ("Close", self.reject)))
        take(self.edge, edge)
        self._show()
        self.say(HOW)
        self.use.setFocus()

    def _piece(self) -> Piece:
        return self.session.replay.garment.piece(self.name)

    def _edge(self) -> Edge:
        return self._piece().edge(str(self.edge.currentData()))

    def _finish(self) -> EdgeFinish | None:
        held = self._edge().origin
        return self._whole().finishing.edge_of(self.name, held.edge, held.side)

    def _whole(self) -> Design:
        """The design with what its right half takes over from the left."""
        return for_both_halves(self.session.design, self.session.replay.garment)

    def _bone(self) -> Bone:
        held = self._edge().origin
        return Bone(self.name, held.edge, held.side)

    def _show(self) -> None:
        """Show what the design says about the chosen edge."""
        edge, unit = self._edge(), self.session.design.unit
        wish = wish_of(edge, self._finish(), unit)
        ends = ends_of(self._piece(), edge)
        self.setWindowTitle(f"Finish an edge of {self.name}")
        take(self.use, wish.use)
        self.allowance.setText(wish.allowance)
        self.start.clear()
        self.stop.clear()
        fill(self.counted, {"first": f"the {ends[0]}", "last": f"the {ends[1]}"})
        for box, where, end in ((self.first, ends[0], wish.ends[0]), (self.last, ends[1], wish.ends[1])):
            self._call(box, f"Corner at the {where}")
            take(box, end)
        self.extension.setText(wish.extension)
        same = (self._bone().piece, self._bone().edge, self._bone().side)
        bones = self._whole().finishing.bones
        self.bone.setChecked(any((b.piece, b.edge, b.side) == same for b in bones))
        self._show_usual()

    def _call(self, widget: QWidget, words: str) -> None:
        label = self.form.labelForField(widget)
        label.setProperty("text", words)
        widget.setAccessibleName(words)

    def _show_usual(self) -> None:
        """Say in the empty field what would be left outside the edge without a word about it."""
        design, edge = self.session.design, self._edge()
        bare = replace(design, finishing=design.finishing.with_edge(self._wanted(EdgeWish(use=self._use()))))
        garment = self.session.replay.garment
        usual = finished_edges(garment, self._piece(), named(design.fabrics, self._piece().fabric), bare)[edge.name]
        self.allowance.setPlaceholderText(f"{show_length(usual.allowance, design.unit)}, as usual")
        for field in (self.start, self.stop):
            field.setPlaceholderText("all of the edge")
        self.form.setRowVisible(self.extension, self._use() == "buttons")

    def _use(self) -> EdgeUse:
        use: EdgeUse = convert(self.use.currentData(), EdgeUse)
        return use

    def _wanted(self, wish: EdgeWish) -> EdgeFinish:
        unit, garment = self.session.design.unit, self.session.replay.garment
        return edge_finish(garment, self._piece(), self._edge(), wish=wish, unit=unit)

    def _wish(self) -> EdgeWish:
        return EdgeWish(
            self._use(),
            self.allowance.text(),
            self.start.text(),
            self.stop.text(),
            from_last=self.counted.currentData() == "last",
            ends=(self.first.currentData(), self.last.currentData()),
            extension=self.extension.text() if self._use() == "buttons" else "",
        )

    def apply(self) -> None:
        """Write what is typed into the design as one act; what cannot be is said here."""
        try:
            wanted = self._wanted(self._wish())
        except Refusal as refusal:
            self.say(f"≠ {refusal.sentence}")
            return
        design = self.session.design
        finishing = design.finishing.with_edge(wanted)
        if wanted == EdgeFinish(wanted.piece, wanted.edge, wanted.side):
            finishing = design.finishing.without_edge(wanted)
        if not wanted.is_stretch:
            bone = self._bone()
            finishing = finishing.with_bone(bone) if self.bone.isChecked() else finishing.without_bone(bone)
        self._do(f"Finish the {spoken(self._edge().name)} of {self.name}", replace(design, finishing=finishing))
        what = f"{USE_WORDS[wanted.use]}, {self._shown_allowance()}" if not wanted.is_stretch else "the stretch is set"
        self.say(f"Done: {spoken(self._edge().name)}, {what}.")

    def _shown_allowance(self) -> str:
        design, piece = self._whole(), self._piece()
        made = finished_edges(self.session.replay.garment, piece, named(design.fabrics, piece.fabric), design)
        return f"{show_length(made[self._edge().name].allowance, design.unit)} outside it"

    def reset(self) -> None:
        """Take back all that was said about the edge, its stretches and its bone."""
        design, held = self.session.design, self._edge().origin
        key = (self.name, held.edge, held.side)
        edges = tuple(f for f in design.finishing.edges if (f.piece, f.edge, f.side) != key)
        finishing = replace(design.finishing.without_bone(self._bone()), edges=edges)
        if finishing != design.finishing:
            self._do(f"Usual {spoken(self._edge().name)} of {self.name}", replace(design, finishing=finishing))
        self._show()
        self.say(f"As usual: {self._shown_allowance()}.")

    def _do(self, label: str, design: Design) -> None:
        self.session.do(label, design)
        self._show()

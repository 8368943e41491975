"""Flattening: pick the dart that a panel holds the end of; its angle is let out into an edge, which can be changed."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter

from app.canvas.hits import edge_at
from app.canvas.table import CuttingTable
from app.canvas.tool import Handle, Pointer
from app.tools.pick_tool import PickTool, Target
from core.design.replay import replay
from core.errors import Refusal
from core.geometry.polyline import nearest, point_at
from core.pieces.names import spoken
from core.pieces.outline import is_centre, local_name
from core.pieces.places import Place, place_at, resolve, resolved_point
from core.pieces.records import Edge, Piece
from core.pieces.seams import seams_of
from core.steps.catalogue import AnyStep
from core.steps.flatten import Flatten
from core.steps.through_point import line_through_pivot


class FlattenTool(PickTool):
    """The nearest edge that can take the angle is proposed; a click on another edge lets it out there."""

    wants = ("dart",)
    ask = "Click the dart whose end the panel holds and that is to be laid flat."
    verb = "lay flat"
    accept_words = "Flatten"
    keys = frozenset({Qt.Key.Key_G, Qt.Key.Key_M})

    def __init__(self, table: CuttingTable) -> None:
        super().__init__(table)
        self._place: Place | None = None
        self._ends: tuple[str, str] = ("", "")
        self._at_last = False
        self._stretch: float | None = None

    def fill(self, step: AnyStep) -> None:
        """The dart, let out where the step lets it out and taken off at its end."""
        assert isinstance(step, Flatten)
        piece = self.garment.piece(step.piece)
        piece.dart(step.dart)
        on = resolve(self.garment, piece, step.place)
        self._stretch = step.stretch
        self.take(Target("dart", step.piece, step.dart))
        self._receive(Target("dart", step.piece, step.dart), piece.edges[on.index], on.distance)
        if step.end in self._ends:
            self._at_last = self._ends.index(step.end) == 1
        self._place = step.place
        self.try_now()

    def picked(self, target: Target) -> None:
        """Propose the nearest edge that takes it, and the end at which it is taken off again."""
        assert self.slip is not None
        self.slip.button("Take it off at the other end", key="G").clicked.connect(self._turn)
        self.slip.button("Move the sheer line through the point instead", key="M").clicked.connect(self._move_line)
        piece = self.garment.piece(target.piece)
        pivot = piece.dart(target.name).pivot
        edges = sorted(self._edges(piece), key=lambda edge: nearest(edge.points, pivot)[1])
        # An edge without a mate is better: nothing has to match it (cutting.md 3).
        for edge in (*sorted(edges, key=lambda edge: bool(seams_of(self.garment, edge))), edges[0]):
            if self._receive(target, edge, edge.length / 2):
                return

    def _edges(self, piece: Piece) -> list[Edge]:
        kept = (edge for edge in piece.edges if edge.kind != "dart base" and not is_centre(edge))
        return [edge for edge in kept if edge.origin.edge in self.garment.origins]

    def _receive(self, target: Target, edge: Edge, distance: float) -> bool:
        """Let it out there and take it off at the end that can pay; False when neither can."""
        before, after = self.garment.piece(target.piece).neighbours(edge.name)
        self._place = place_at(self.garment, edge, distance)
        self._ends = (local_name(before.origin.edge), local_name(after.origin.edge))
        return self._is_possible(target, at_last=True) or self._is_possible(target, at_last=False)

    def _is_possible(self, target: Target, *, at_last: bool) -> bool:
        self._at_last = at_last
        try:
            self.step(target).effect(self.garment)
        except Refusal:
            return False
        return True

    def step(self, target: Target) -> Flatten:
        """The step as it is set, in cloth that stretches as the panel's does."""
        assert self._place is not None
        cloth = self.garment.piece(target.piece).fabric
        fabrics = [fabric for fabric in self.table.session.design.fabrics if fabric.name == cloth]
        stretch = max((max(f.stretch_along, f.stretch_across) for f in fabrics), default=0.0) / 100.0
        stretch = stretch if self._stretch is None else self._stretch
        id_ = self.step_id("flatten")
        return Flatten(id_, target.piece, target.name, self._place, self._ends[self._at_last], stretch=stretch)

    def label(self, target: Target) -> str:
        """What undo calls it."""
        return f"Flatten the {target.piece}"

    def _turn(self) -> None:
        self._at_last = not self._at_last
        self.try_now()

    def _move_line(self) -> None:
        """Lead the line that cut the panel through the dart's pivot, as one act; or say why it cannot be."""
        assert self.target is not None
        session, piece = self.table.session, self.garment.piece(self.target.piece)
        try:
            line = line_through_pivot(session.design.steps, piece, self.target.name)
            design = session.design.with_step(line)
        except Refusal as refusal:
            self.table.say(refusal.sentence)
            return
        refused = replay(design, session.replay).refused
        if refused is not None:
            self.table.say(f"Moved through the point, the line does not do: {refused.sentence}")
            return
        self.put_back()
        self.table.commit(f"Move the {line.said} through the point", design)
        self.table.tool_finished.emit()

    # --- another edge

    def own_handles(self) -> list[Handle]:
        """The middles of the edges, for the keyboard."""
        if self.target is None:
            return []
        base = self.base(self.target.piece)
        made = []
        for edge in self._edges(base.piece):
            at = point_at(edge.points, edge.length / 2)
            words = f"Let it out into the {spoken(edge.name)}"
            made.append(Handle(f"into|{edge.name}", words, base.to_table(at), at, "quiet", moves=False))
        return made

    def activate(self, key: str) -> None:
        """Enter on an edge lets it out there."""
        if self.target is not None and key.startswith("into|"):
            edge = self.garment.piece(self.target.piece).edge(key.removeprefix("into|"))
            self._receive(self.target, edge, edge.length / 2)
            self.try_now()
        else:
            super().activate(key)

    def click(self, at: Pointer) -> None:
        """Pick a dart; then the place where its angle is let out."""
        if self.target is None:
            super().click(at)
            return
        base = self.base(self.target.piece)
        hit = edge_at([base], at.at, at.reach)
        if hit is not None and hit.edge in self._edges(base.piece):
            self._receive(self.target, hit.edge, hit.distance)
            self.try_now()

    def key(self, key: Qt.Key, *, shift: bool) -> bool:
        """G takes it off at the other end, M moves the line instead."""
        if key == Qt.Key.Key_M and self.target is not None:
            self._move_line()
            return True
        if key == Qt.Key.Key_G and self.target is not None:
            self._turn()
            return True
        return super().key(key, shift=shift)

    def paint(self, painter: QPainter) -> None:
        """A ring where the angle is let out."""
        super().paint(painter)
        if self.target is not None and self._place is not None:
            base, sheet = self.base(self.target.piece), self.table.sheet(painter)
            at = resolved_point(self.garment, base.piece, self._place)
            painter.setPen(sheet.look.inks.mark)
            painter.drawEllipse(sheet.frame.point(base.to_table(at)), 7.0, 7.0)

"""Moving an edge: dragged farther out or in, parallel to itself."""

from __future__ import annotations

from math import cos, sin

from app.tools.pick_tool import AmountTool, Target
from core.geometry.polyline import Point, point_at, tangent_at
from core.pieces.names import spoken
from core.steps.catalogue import AnyStep
from core.steps.move_edge import MoveEdge


class MoveEdgeTool(AmountTool):
    """Pick an edge and drag its pin; outwards is more."""

    wants = ("edge",)
    ask = "Click or drag the edge that is to be moved."
    verb = "move"
    accept_words = "Move"
    shows_paper = True
    field_words = "Outwards by"
    is_signed = True
    _fitting: str | None = None
    """What was said of the step that is altered when it was pinned on the toile."""

    def fill(self, step: AnyStep) -> None:
        """The edge, moved as far as the step does."""
        assert isinstance(step, MoveEdge)
        self.garment.piece(step.piece).edge(step.edge)
        self._fitting = step.fitting
        self.take_at(Target("edge", step.piece, step.edge), step.amount)

    def way(self, target: Target) -> tuple[Point, Point]:
        """From the middle of the edge, square to it, out of the piece."""
        edge = self.garment.piece(target.piece).edge(target.name)
        direction = tangent_at(edge.points, edge.length / 2)
        return point_at(edge.points, edge.length / 2), (sin(direction), -cos(direction))

    def step(self, target: Target) -> MoveEdge:
        """The step at the amount."""
        return MoveEdge(self.step_id("move-edge"), target.piece, target.name, self.amount, self._fitting)

    def label(self, target: Target) -> str:
        """What undo calls it."""
        return f"Move the {spoken(target.name)} of the {target.piece}"

    def accept(self) -> None:
        """Move, unless by nothing."""
        if self.amount != 0.0:
            super().accept()

"""Setting back: where the sewing of a dart ends, short of its pivot."""

from __future__ import annotations

from math import hypot

from app.tools.pick_tool import AmountTool, Target
from core.errors import Refusal
from core.geometry.placement import gap
from core.geometry.polyline import Point
from core.pieces.names import spoken
from core.steps.catalogue import AnyStep
from core.steps.set_back import ALONE, SetBack


class SetBackTool(AmountTool):
    """Pick a dart; its point is set back by the usual amount at once, and can be dragged along its middle."""

    wants = ("dart",)
    ask = "Click the dart whose point is to be set back."
    verb = "set back the point of"
    accept_words = "Set back"
    field_words = "From its pivot"
    _usual: float | None = None
    """What is usual for the step that is altered, while it says no other."""

    def fill(self, step: AnyStep) -> None:
        """The dart, set back as far as the step does."""
        assert isinstance(step, SetBack)
        self.garment.piece(step.piece).dart(step.dart)
        target = Target("dart", step.piece, step.dart)
        self._usual = self.first_amount(target) if step.distance is None else None
        self.take_at(target, step.distance)

    def first_amount(self, target: Target) -> float:
        """What is usual for a dart alone at its pivot, or for two."""
        step = SetBack("trial", target.piece, target.name)
        try:
            dart = step.apply(self.garment).garment.piece(target.piece).dart(target.name)
        except Refusal:
            return ALONE
        return gap(dart.pivot, dart.point)

    def way(self, target: Target) -> tuple[Point, Point]:
        """From the pivot down the middle of the dart."""
        dart = self.garment.piece(target.piece).dart(target.name)
        dx, dy = dart.mouth[0] - dart.pivot[0], dart.mouth[1] - dart.pivot[1]
        size = max(hypot(dx, dy), 1e-9)
        return dart.pivot, (dx / size, dy / size)

    def step(self, target: Target) -> SetBack:
        """The step at the amount."""
        distance = None if self.amount == self._usual else self.amount
        return SetBack(self.step_id("set-back"), target.piece, target.name, distance)

    def label(self, target: Target) -> str:
        """What undo calls it."""
        return f"Set back the {spoken(target.name)}"

"""What is half typed into a measurement: it counts before all saving, printing and leaving, and in a recovery copy."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from app.panels.measurements import MeasurementsPanel
    from core.design.design import Design


class Typed:
    """The fields of the measurements' panel, once the window has one: before that nothing can be typed."""

    def __init__(self) -> None:
        self.panel: MeasurementsPanel | None = None

    def commit(self) -> None:
        """Take what is typed and not yet taken."""
        if self.panel is not None:
            self.panel.commit()

    def in_design(self, design: Design) -> Design:
        """The design as it would be if what is half typed counted; the same one where nothing is, or it cannot."""
        return self.panel.with_half_typed(design) if self.panel is not None else design

    @property
    def untaken(self) -> list[str]:
        """The names of the fields that hold what was refused."""
        return self.panel.untaken if self.panel is not None else []

"""What is half typed into a measurement: it counts as typed before anything is saved, printed or left."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from app.panels.measurements import MeasurementsPanel


class Typed:
    """The fields of the measurements' panel, once the window has one: before that nothing can be typed."""

    def __init__(self) -> None:
        self.panel: MeasurementsPanel | None = None

    def commit(self) -> None:
        """Take what is typed and not yet taken."""
        if self.panel is not None:
            self.panel.commit()

    @property
    def untaken(self) -> list[str]:
        """The names of the fields that hold what was refused."""
        return self.panel.untaken if self.panel is not None else []

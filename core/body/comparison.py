"""Two bodies side by side, measurement by measurement."""

from __future__ import annotations

import msgspec

from core.body.body import Body, complete
from core.body.catalogue import MEASUREMENTS, Measurement
from core.units import Unit


class Compared(msgspec.Struct, frozen=True):
    """One measurement on two bodies, in mm (degrees for an angle); "estimated" where it was not taken."""

    about: Measurement
    before: float
    after: float
    was_estimated: bool
    is_estimated: bool

    @property
    def difference(self) -> float:
        """How much more the second has."""
        return self.after - self.before

    def said(self, unit: Unit) -> tuple[str, str, str]:
        """Both values and the difference as they are shown."""
        before, after = self.about.show(self.before, unit), self.about.show(self.after, unit)
        sign = "+" if self.difference > 0.0 else "\N{MINUS SIGN}"
        more = "same" if before == after else f"{sign} {self.about.show(abs(self.difference), unit)}"
        marks = [" (estimated)" if estimated else "" for estimated in (self.was_estimated, self.is_estimated)]
        return before + marks[0], after + marks[1], more


def compared(before: Body, after: Body) -> tuple[Compared, ...]:
    """Every measurement of two bodies in the order of measuring. Refusal when one of them is not complete."""
    one, other = complete(before), complete(after)
    return tuple(
        Compared(row, one.values[id_], other.values[id_], id_ in one.estimated, id_ in other.estimated)
        for id_, row in MEASUREMENTS.items()
    )

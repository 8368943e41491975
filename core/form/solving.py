"""The form found from the tape: bounded least squares over nine unknowns, every reading matched or none shown."""

from __future__ import annotations

from typing import Final

import msgspec
import numpy as np
from numpy.typing import NDArray

from core.body.body import Measured
from core.body.catalogue import MEASUREMENTS
from core.body.shape import AVERAGE, Shape
from core.errors import Refusal
from core.form.figure import Figure, Unknowns
from core.form.fits import crossing, least_squares_within
from core.form.sections import Sections
from core.form.surface import Surface
from core.form.tape import girth, taut_length

Values = NDArray[np.float64]

MATCHED: Final = 0.1
"""A reading of the form may differ from the client's by so much (mm)."""

READ: Final = ("hip", "waist", "under_bust", "high_bust", "bust", "neck_to_bust_point", "front_waist_length")
"""The readings that the unknowns are found from."""

AGAINST: Final = {
    "hip": "waist",
    "waist": "under_bust",
    "under_bust": "bust",
    "high_bust": "bust",
    "bust": "high_bust",
    "neck_to_bust_point": "front_waist_length",
    "front_waist_length": "neck_to_bust_point",
}
"""With which other measurement each contradicts, where it cannot be matched."""

LOW: Final = np.array([0.10, 0.09, 0.09, 0.10, 0.005, 0.06, 0.65, -0.02, 0.05])
HIGH: Final = np.array([0.26, 0.28, 0.26, 0.26, 0.22, 0.75, 1.5, 0.2, 0.95])
"""Bounds of the unknowns, each a share of its own girth (the mound: of the bust; heights: of the back waist length)."""

_STEPS: Final = np.array([0.05] * 7 + [0.05, 0.5])

USUAL: Final = np.array([0.06, 0.5])
KEPT: Final = np.array([4.0, 2.0])
"""What no tape tells is drawn to a usual value, so weakly (mm a whole) that no reading gives way for it."""


class Form(msgspec.Struct, frozen=True, eq=False):
    """A solved figure with its surface, and where the pit of the neck and the nape lie (heights, mm)."""

    figure: Figure
    sections: Sections
    pit_height: float
    nape_height: float

    @property
    def bust_point(self) -> tuple[float, float]:
        """The left bust point: from the centre, and over the waist."""
        return self.figure.half_span, self.figure.unknowns.bust_point_height

    def bust_point_at(self, surface: Surface) -> tuple[float, float]:
        """t and z of the left bust point on one of the form's surfaces."""
        across, height = self.bust_point
        z = np.array([height])
        t = crossing(lambda t: float(surface.x.ev(np.array([t]), z)[0]) - across, 0.02, 1.5)
        return t, height


def solved(measured: Measured, shape: Shape = AVERAGE) -> Form:
    """The form on which the tape reads what it read on the client, to 0.1 mm.

    Refusal that names the two measurements which no such form can have together.
    """
    sizes = np.array([measured.values[id_] for id_ in ("hip", "waist", "under_bust", "high_bust", "bust")])
    scale = np.concatenate((sizes, np.repeat(measured.values["back_waist_length"], 2), (1.0, 1.0)))

    def missed(shares: Values) -> Values:
        read = readings(Sections(_figure(measured, shape, shares * scale)))
        return np.append(read - wanted, (shares[-2:] - USUAL) * KEPT)

    wanted = np.array([measured.values[id_] for id_ in READ])
    found, left = least_squares_within(missed, _first_guess(measured), bounds=(LOW, HIGH), steps=_STEPS)
    _refuse_unmatched(left[: len(READ)], measured)
    sections = Sections(_figure(measured, shape, found * scale))
    if not sections.figure.is_in_order():
        raise _contradiction(measured, "scye_depth", "neck_to_bust_point")
    return _with_centres(sections, measured)


def readings(sections: Sections) -> Values:
    """What the tape reads on a figure (7,), in the order of `READ`, mm."""
    figure = sections.figure
    height = figure.unknowns.bust_point_height
    levels = (figure.hip_height, 0.0, figure.under_bust_height, figure.high_bust_height, height)
    girths = [girth(half) for half in sections.halves(np.array(levels))]
    bust_point = (figure.half_span, height)
    upper = taut_length(sections.front_profile((figure.side_neck, figure.unknowns.side_neck_height), bust_point))
    lower = taut_length(sections.front_profile(bust_point, (figure.half_span, 0.0)))
    return np.array([*girths, upper, upper + lower])


def _figure(measured: Measured, shape: Shape, unknowns: Values) -> Figure:
    return Figure(measured, shape, Unknowns(*(float(value) for value in unknowns)))


def _first_guess(measured: Measured) -> Values:
    values = measured.values
    fall = (values["front_waist_length"] - values["neck_to_bust_point"]) / values["back_waist_length"]
    swell = 0.35 * (values["bust"] - values["under_bust"]) / values["bust"]
    guess = np.array([0.175, 0.175, 0.175, 0.175, swell, 0.9 * fall, 1.0, *USUAL])
    return np.asarray(np.clip(guess, LOW + 0.005, HIGH - 0.005), dtype=np.float64)


def _refuse_unmatched(missed: Values, measured: Measured) -> None:
    worst = int(np.argmax(np.abs(missed)))
    if abs(missed[worst]) > MATCHED:
        raise _contradiction(measured, READ[worst], AGAINST[READ[worst]])


def _contradiction(measured: Measured, first: str, second: str) -> Refusal:
    named = (
        f"{MEASUREMENTS[id_].name} ({measured.values[id_]:.0f} mm{', estimated' if id_ in measured.estimated else ''})"
        for id_ in (first, second)
    )
    return Refusal(
        f"No form has both this {' and this '.join(named)} with her other measurements: measure both again; until then "
        "nothing is shown on the form."
    )


def _with_centres(sections: Sections, measured: Measured) -> Form:
    """The form with the pit and the nape where the centre lengths end."""
    front = _height_of(sections, measured, "centre_front_length", "front_waist_length")
    back = _height_of(sections, measured, "back_waist_length", "neck_to_bust_point")
    return Form(sections.figure, sections, front, back)


def _height_of(sections: Sections, measured: Measured, length: str, against: str) -> float:
    """The level from which the tape down the centre to the waist reads a length. Refusal where none does."""
    figure = sections.figure
    wanted, is_back = measured.values[length], length == "back_waist_length"

    def over(top: float) -> float:
        return taut_length(sections.centre_profile(top, is_back=is_back)) - wanted

    low, high = figure.unknowns.bust_point_height, figure.neck_top
    if over(low) > 0.0 or over(high) < 0.0:
        raise _contradiction(measured, length, against)
    return crossing(over, low, high)

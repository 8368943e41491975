"""A cup on the form: what its seams ought to take out at its rim, and whether it lies on the breast.

A rim is a closed curve about the bust point. Laid down flat round the point it takes less than a full turn: what is
wanting is the angle that the seams must take out there (for a circle, 2 pi - C / r: Gauss and Bonnet).
"""

from __future__ import annotations

from math import degrees, pi, radians, sin, tau
from typing import Final

import msgspec
import numpy as np
from numpy.typing import NDArray

from core.checks.bust_depth import BAND
from core.checks.verdict import SIGNS, Verdict
from core.form.cloth import Cloth
from core.form.fits import crossing
from core.form.shown import FOOT
from core.steps.cup import CupPlan
from core.units import Unit, show_length

Values = NDArray[np.float64]

PLACES: Final = 361
"""Places of the rim at which it is laid on the body."""


class CupFit(msgspec.Struct, frozen=True):
    """A cup on the breast: `radius` and `below` (mm) of its rim, on the whole and straight below; angles in degrees.

    `foot` is how far the foot of the breast lies straight below the bust point.
    """

    radius: float
    below: float
    intake: float
    wanted: float
    foot: float

    @property
    def over(self) -> float:
        """How much (mm) the rim is too long for the body; below nothing it is too short."""
        return self.radius * radians(self.wanted - self.intake)

    @property
    def band(self) -> float:
        """How far (mm) that can be off: by as much as the angle can."""
        return self.radius * radians(BAND)

    @property
    def verdict(self) -> Verdict:
        """Whether it lies on the breast; an estimate alone is never more than to be looked at."""
        return "good" if abs(self.wanted - self.intake) <= BAND else "check"

    @property
    def tighten(self) -> float:
        """How much (mm at the rim) to tighten it above, and as much below; below nothing, to tighten it less."""
        by = radians(self.wanted - self.intake) / 2.0
        return 2.0 * self.radius * sin(by / 2.0)


def rim_dart(radii: Values, turn: Values, long: float) -> float:
    """The angle (radians) that a closed rim of length `long` (mm) on the body wants taken out of its cloth.

    Radii (N,) are given over `turn` (N,), the share of the cloth gone round, 0 to 1.
    """
    before, after, step = radii[:-1], radii[1:], np.diff(turn)

    def too_long(cloth: float) -> float:
        chords = np.sqrt(before**2 + after**2 - 2.0 * before * after * np.cos(step * cloth))
        return float(chords.sum()) - long

    return tau - crossing(too_long, 0.05, 2.0 * tau)


def cup_fit(cloth: Cloth, plan: CupPlan) -> CupFit:
    """The cup of a plan on the body that a block is laid on."""
    cone, rim = plan.shape.cone, plan.bare.rim
    turn = np.linspace(0.0, 1.0, PLACES)
    closed = cone.low + turn * cone.cloth
    radii = rim.at(cone.round(closed))
    _, _, places = cloth.laid(radii, closed)
    long = float(np.linalg.norm(np.diff(places, axis=0), axis=1).sum())
    below = float(rim.at(cone.down))
    return CupFit(
        float(radii.mean()), below, degrees(plan.shape.intake), degrees(rim_dart(radii, turn, long)), _foot(cloth)
    )


def _foot(cloth: Cloth) -> float:
    """How far (mm) below the bust point the breast ends."""
    rays, sections = cloth.body.rays, cloth.body.form.sections
    ray = int(np.argmin(np.abs(rays.phi - 1.5 * pi)))
    off = sections.on_mound(rays.t[ray], rays.z[ray])
    return float(rays.r[int(np.argmax(off >= FOOT))])


def cup_fit_words(fit: CupFit, unit: Unit) -> tuple[str, ...]:
    """What the form says of a cup, with its band."""
    band = f"{max(fit.wanted, 0.0):.0f} ± {BAND:.0f} degrees"
    told = (
        f"{SIGNS[fit.verdict]} The cup: at its rim, {show_length(fit.radius, unit)} from the bust point, the breast "
        f"wants {band} taken out; its seams take out {fit.intake:.0f}."
    )
    return (f"{told} {_so(fit, unit)}", _reach(fit, unit), ROUGHER)


ROUGHER: Final = "This reckons with her figure; the check of the cup itself knows only how deep her bust is."


def _so(fit: CupFit, unit: Unit) -> str:
    by = show_length(abs(fit.tighten), unit)
    over = f"{show_length(abs(fit.over), unit)}, ± {show_length(fit.band, unit)}"
    if fit.verdict == "good":
        return "So it lies on the breast, as near as a tape can tell."
    if fit.wanted > fit.intake:
        return f"So its rim is too long by {over}, and stands off: tighten it by {by} above and {by} below, and try it."
    return f"So its rim is too short by {over}, and it stands out at the point: tighten it by {by} less on either side."


def _reach(fit: CupFit, unit: Unit) -> str:
    past = fit.below - fit.foot
    where = "beyond" if past >= 0.0 else "short of"
    return f"Below, its rim lies {show_length(abs(past), unit)} {where} the foot of the breast (± 5 mm)."

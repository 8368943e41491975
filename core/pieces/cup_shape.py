"""The shape of a cup: a disc about the bust point on the block's cone, divided by seams that run through the point.

Straight seams would leave the cone's own sharp point. Each seam is therefore *rounded*: inside a radius about the bust
point its sides curve into what would have been sewn away, until at the point itself nothing is taken out and the seam
runs smoothly through. With `u` = radius / rounding, a seam takes out its angle times `1 - (1 - u)²`, and all of it
from there on: at half the rounding three quarters, much as the angle that a bust wants grows with the distance from its
point (48, 62 and 67 degrees at 50, 75 and 100 mm on one figure, form.md 4). Paper is added and none shaved off
(cutting.md 12). Both sides of a seam are mirror images, so they are equal.

Every seam takes out an equal share of the block's two darts; what the cup is tightened comes on top. Where a part is
narrower than the cloth it was drafted from, its places are moved round the bust point in proportion, from the middle of
the part out to the seam, and keep their radius.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import accumulate, pairwise
from math import asin, cos, pi
from typing import Final, Literal, TypeAlias

import msgspec
import numpy as np
from msgspec.structs import replace
from numpy.typing import ArrayLike

from core.geometry.polyline import Points, as_points
from core.pieces.cone import Cone, Values

Ray: TypeAlias = Literal["upper", "under", "inner_cross", "outer_cross"]

STATIONS: Final = 97
"""Points along a quarter of the rim or a side of a seam: their chords leave a circle of 150 mm by 0.005 mm."""


class Rim(msgspec.Struct, frozen=True, eq=False):
    """The cup's outer edge: radii (mm) at rising closed angles, (N,), and the angles of its reaches in and out.

    `turned` is how much of each radius is to be turned under, None where nothing is.
    """

    closed: Values
    radii: Values
    inner: float
    outer: float
    turned: Values | None = None

    @property
    def bare(self) -> Rim:
        """The rim as it is once it is turned under."""
        return self if self.turned is None else Rim(self.closed, self.radii - self.turned, self.inner, self.outer)

    def at(self, closed: ArrayLike) -> Values:
        """The radius in each direction."""
        return np.interp(np.asarray(closed, dtype=np.float64), self.closed, self.radii)


class Taken(msgspec.Struct, frozen=True):
    """What a seam takes out, in radians: its share of the block's darts, and what the cup is tightened there."""

    share: float
    tightened: float = 0.0

    @property
    def whole(self) -> float:
        """Both together."""
        return self.share + self.tightened


class Part(msgspec.Struct, frozen=True, eq=False):
    """One piece of a cup: the cloth between two seams. `turned` is how far it is laid round, to part it from others.

    `first` and `last` are the seams at its lower and its higher closed angle, at `low` and `high`.
    """

    name: str
    low: float
    high: float
    first: Ray
    last: Ray
    turned: float = 0.0

    @property
    def middle(self) -> float:
        """The closed angle half-way."""
        return (self.low + self.high) / 2


class Way(msgspec.Struct, frozen=True, eq=False):
    """A way over the cloth of a part: radii (mm) and closed angles, each (N,), counted on the block's cloth."""

    part: Part
    radii: Values
    closed: Values


class CupShape(msgspec.Struct, frozen=True, eq=False):
    """A cup about `centre`: its parts, what each seam takes out, its rim, and the radius (mm) within it is rounded."""

    cone: Cone
    parts: tuple[Part, ...]
    taken: Mapping[Ray, Taken]
    rim: Rim
    rounding: float

    @property
    def intake(self) -> float:
        """All that the seams take out, in radians."""
        return sum(taken.whole for taken in self.taken.values())

    def part_at(self, closed: float) -> Part:
        """The part that holds a direction."""
        angle = self.cone.down + (closed - self.cone.down) % self.cone.cloth
        return next((part for part in self.parts if part.low <= angle <= part.high), self.parts[-1])

    def outlines(self, stops: Sequence[Sequence[float]]) -> list[list[Points]]:
        """The outline of every part in loop order, (STATIONS, 2) each, neighbours sharing their point.

        Out along its last seam, round the rim from one of the part's falling closed angles in `stops` to the next, and
        back along its first seam.
        """
        loops = self.laid([self._round(part, own) for part, own in zip(self.parts, stops, strict=True)])
        return [[loop[start : start + STATIONS] for start in range(0, len(loop) - 1, STATIONS - 1)] for loop in loops]

    def _round(self, part: Part, stops: Sequence[float]) -> Way:
        rim = [spread(*ends)[1:] for ends in pairwise(stops)]
        closed = np.concatenate((np.full(STATIONS, part.high), *rim, np.full(STATIONS - 1, part.low)))
        radii = self.rim.at(closed)
        radii[:STATIONS] *= EVENLY
        radii[-STATIONS:] *= EVENLY[::-1]
        return Way(part, radii, closed)

    def laid(self, ways: Sequence[Way]) -> list[Points]:
        """The places (N, 2) of each way on its part, as that is laid.

        All are reckoned at once, as a cup is drafted anew while it is typed and while the opening is dragged.
        """
        sizes = [len(way.closed) for way in ways]
        bounds = np.repeat([self._bounds(way.part) for way in ways], sizes, axis=0).T
        half, middle, turned, first_tight, first_whole, last_tight, last_whole = bounds
        radii, closed = (np.concatenate(values) for values in zip(*((w.radii, w.closed) for w in ways), strict=True))
        off = closed - middle
        is_first = off < 0.0
        tight, whole = np.where(is_first, first_tight, last_tight), np.where(is_first, first_whole, last_whole)
        let_in = 0.5 * left_in(radii / self.rounding)
        way = pi - middle - turned - off * (half - tight / 2 + let_in * whole) / half
        x, y = self.cone.centre
        places = as_points(np.column_stack((x + radii * np.cos(way), y + radii * np.sin(way))))
        return [places[stop - size : stop] for size, stop in zip(sizes, accumulate(sizes), strict=True)]

    def _bounds(self, part: Part) -> tuple[float, ...]:
        """What `laid` has to know of a part: half its angle, its middle, how it is turned, what its seams take out."""
        first, last = self.taken[part.first], self.taken[part.last]
        half, middle = (part.high - part.low) / 2, part.middle
        return half, middle, part.turned, first.tightened, first.whole, last.tightened, last.whole


def spread(first: float, last: float) -> Values:
    """STATIONS values from one to another, evenly."""
    values: Values = first + (last - first) * EVENLY
    values[-1] = last
    return values


EVENLY: Final = np.linspace(0.0, 1.0, STATIONS)


def left_in(share: Values) -> Values:
    """How much of its angle a seam does not take out at a share u of the rounding: (1 - u)², nothing from u = 1 on."""
    found: Values = np.maximum(1.0 - share, 0.0) ** 2
    return found


def angle_of(width: float, radius: float) -> float:
    """The angle (radians) that a width in mm shows at a radius: the other way from `2 r sin(angle / 2)`."""
    return 2.0 * asin(min(width / (2.0 * radius), 1.0))


def two_parts(cone: Cone, above: float, below: float) -> tuple[tuple[Part, ...], dict[Ray, Taken]]:
    """An inner and an outer part; the seam runs straight over the bust point. Angles in radians."""
    taken: dict[Ray, Taken] = {"upper": Taken(cone.intake / 2, above), "under": Taken(cone.intake / 2, below)}
    inner = Part("inner cup", cone.down, cone.top, "under", "upper")
    outer = Part("outer cup", cone.top, cone.down + cone.cloth, "upper", "under", turned=taken["upper"].whole)
    return (inner, outer), taken


def three_parts(cone: Cone, above: float, below: float) -> tuple[tuple[Part, ...], dict[Ray, Taken]]:
    """An upper part over a cross seam, and an inner and an outer lower part with a seam from the point down.

    The upper part spans a half turn less one share, so that the cross seam runs smoothly through the bust point; what
    is tightened above is taken out half at each end of the cross seam. Angles in radians.
    """
    share = cone.intake / 3
    cross, under = Taken(share, above / 2), Taken(share, below)
    inner, outer = cone.top - (pi - share) / 2, cone.top + (pi - share) / 2
    upper = Part("upper cup", inner, outer, "inner_cross", "outer_cross")
    low_inner = Part("inner lower cup", cone.down, inner, "under", "inner_cross", turned=-cross.whole)
    low_outer = Part("outer lower cup", outer, cone.down + cone.cloth, "outer_cross", "under", turned=cross.whole)
    return (upper, low_inner, low_outer), {"inner_cross": cross, "outer_cross": cross, "under": under}


class Reaches(msgspec.Struct, frozen=True):
    """How far the rim lies from the bust point (mm), up, down, in and out; None leaves the bust circle to decide."""

    top: float | None = None
    bottom: float | None = None
    inner: float | None = None
    outer: float | None = None


def rim_of(cone: Cone, circle: tuple[Values, Values], reaches: Reaches, *, underlap: float) -> Rim:
    """The rim without its turning: the bust circle grown by the underlap, drawn out or in to the four reaches.

    A reach is met exactly in its own direction and fades to nothing in the neighbouring two. The rim never passes the
    centre front: it is drawn in there.
    """
    down, quarter = cone.down, cone.cloth / 4
    ways = {"inner": down + quarter, "top": cone.top, "outer": cone.top + quarter}
    # numpy's own unique is slow to begin with: it imports masked arrays when it is first called.
    closed = np.array(sorted({*np.linspace(down, down + cone.cloth, 4 * STATIONS).tolist(), *ways.values()}))
    base = np.interp(closed, *circle, period=cone.cloth) + underlap
    radii = base.copy()
    for name, way in (*ways.items(), ("bottom", down), ("bottom", down + cone.cloth)):
        wanted = getattr(reaches, name)
        if wanted is not None:
            radii = _drawn(radii, float(np.interp(way, closed, base)), wanted, np.abs(closed - way) / quarter)
    return Rim(closed, _before_centre(cone, closed, radii), ways["inner"], ways["outer"])


def with_turning(cone: Cone, rim: Rim, turning: float) -> Rim:
    """The rim with so many mm below to be turned under, evenly but for where it runs out; not past the centre front."""
    off = np.minimum(rim.closed - rim.closed[0], rim.closed[-1] - rim.closed) / (cone.cloth / 4)
    radii = np.minimum(rim.radii + turning * turned_under(off), _to_centre(cone, rim.closed))
    return replace(rim, radii=radii, turned=radii - rim.radii)


def _drawn(radii: Values, now: float, wanted: float, off: Values) -> Values:
    """The rim drawn out or in from `now` to `wanted` (mm) in one direction; `off` is the way from it, 1 a quarter.

    Drawn out it swells by a squared cosine. Drawn in it is cut off level, as by a line square to the direction, and
    rounded into what is left.
    """
    turned = np.clip(off, 0.0, 1.0) * pi / 2
    if wanted >= now:
        return radii * (1.0 + (wanted / now - 1.0) * np.cos(turned) ** 2)
    level = (wanted**-ROUND - now**-ROUND) ** (-1.0 / ROUND)
    found: Values = (radii**-ROUND + (np.cos(turned) / level) ** ROUND) ** (-1.0 / ROUND)
    return found


ROUND: Final = 4.0
"""The sharper, the greater: how a rim that is cut off level runs into the rest of it."""


def turned_under(off: Values) -> Values:
    """How much of the turning there is at a way from the lowest direction, 1 being a quarter.

    All of it about the lowest place, running out to nothing at the sides.
    """
    return np.cos(np.clip((off - RUNS_OUT) / (1.0 - RUNS_OUT), 0.0, 1.0) * pi / 2) ** 2


RUNS_OUT: Final = 0.2
"""From this share of a quarter on the turning runs out."""


def _before_centre(cone: Cone, closed: Values, radii: Values) -> Values:
    """The radii cut off along the centre front, the corner that this would leave rounded away."""
    limit = np.minimum(_to_centre(cone, closed), radii + ROUNDED)
    share = np.clip(0.5 + (limit - radii) / (2.0 * ROUNDED), 0.0, 1.0)
    found: Values = limit + (radii - limit) * share - ROUNDED * share * (1.0 - share)
    return found


ROUNDED: Final = 8.0
"""mm from the centre front within which the rim runs into it; a quarter of this is lost at the corner at most."""


def _to_centre(cone: Cone, closed: Values) -> Values:
    """How far the centre front lies in each direction; for ever in those that do not lead there."""
    towards = (closed < cone.top) & (np.cos(closed) > 1e-3)
    return np.where(towards, cone.centre[0] / np.where(towards, np.cos(closed), 1.0), np.inf)


def reach_to_centre(cone: Cone, closed: float) -> float:
    """How far the centre front lies from the bust point in a direction towards it, in mm."""
    return cone.centre[0] / cos(closed)

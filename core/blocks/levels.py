"""Marks on a block: upper bust, bust and under-bust lines, and the bust circle, each interrupted at open darts.

All are drafted on the wearer's left as the front lies. A line that crosses a dart meets both legs at the same distance
from the pivot, so that it is whole when the dart is closed (cutting.md 1).
"""

from __future__ import annotations

from math import cos, pi, sin, tan
from typing import Final

import numpy as np

from core.blocks.assembly import segment
from core.blocks.curves import along, direction_of, squared
from core.blocks.shoulders import Shoulder
from core.blocks.waist import Lower
from core.errors import Refusal
from core.geometry.polyline import Point, Points, as_points, crossings, point_at

Stretches = tuple[Points, ...]

CIRCLE_STEPS: Final = 48
"""Chords to a quarter of the bust circle: at 90 mm they leave the curve by about 0.01 mm."""

FOLD_CLEARANCE: Final = 6.0
"""The bust circle stays this far (mm) from the centre front."""


def level_across(lower: Lower, height: float) -> Stretches:
    """The level line at a height from the centre to the side seam."""
    wedge = max(lower.pivot[1] - height, 0.0) * tan(lower.angle / 2)
    start, end = (0.0, height), lower.side.at(height)
    x = lower.pivot[0]
    if wedge == 0.0:
        return (as_points((start, (x, height), end)),)
    return as_points((start, (x - wedge, height))), as_points(((x + wedge, height), end))


def level_square(lower: Lower, reach: float) -> Stretches:
    """The line that crosses the waist dart square, `reach` mm below its pivot, and meets centre and side square."""
    half = lower.angle / 2
    inner, outer = along(lower.pivot, -pi / 2 - half, reach), along(lower.pivot, -pi / 2 + half, reach)
    start = (0.0, inner[1] + inner[0] * tan(half / 2))
    end_height = outer[1]
    for _ in range(8):
        width = lower.side.at(end_height)[0] - outer[0]
        end_height = outer[1] + width * tan((half - lower.side.lean) / 2)
    end = lower.side.at(end_height)
    return squared(start, 0.0, inner, -half).points, squared(outer, half, end, -lower.side.lean).points


def reach_for(lower: Lower, height: float) -> float:
    """How far below the pivot a square line must cross the dart to meet the side seam at `height`."""
    half, rise = lower.angle / 2, tan((lower.angle / 2 - lower.side.lean) / 2)
    end, pivot = lower.side.at(height)[0], lower.pivot
    return (pivot[1] - height + (end - pivot[0]) * rise) / (cos(half) + sin(half) * rise)


def level_above(shoulder: Shoulder, reach: float, edge: Points) -> Stretches:
    """The line that crosses the shoulder dart `reach` mm from its pivot, level at the centre and at its outer end.

    It turns by half the dart's angle on either side of it, so that it is whole when the dart is closed, and ends on
    `edge`, the side seam and armhole in loop order (N, 2). Refusal when it lies too high to reach that.
    """
    pivot, half = shoulder.pivot, shoulder.angle / 2
    inner, outer = (along(pivot, direction_of(pivot, leg), reach) for leg in (shoulder.inner_leg, shoulder.outer_leg))
    start = (0.0, inner[1] - inner[0] * tan(half / 2))
    end = outer
    for _ in range(4):
        end = level_end((outer[0], outer[1] - (end[0] - outer[0]) * tan(half / 2)), edge)
    return squared(start, 0.0, inner, half).points, squared(outer, -half, end, 0.0).points


def level_end(start: Point, edge: Points, *, direction: float = 0.0) -> Point:
    """Where a ray towards the side, level unless a direction is given, meets the edge; Refusal where it does not."""
    ray = as_points((start, along(start, direction, 1000.0)))
    met = crossings(ray, edge)
    if not met:
        raise Refusal(
            "The upper bust line does not reach the armhole or the side; check the measurement upper bust level."
        )
    return point_at(ray, met[0][0])


def level_to(lower: Lower, height: float, edge: Points) -> Stretches:
    """The level line at a height from the centre to `edge`, side seam and armhole in loop order (N, 2)."""
    wedge = max(lower.pivot[1] - height, 0.0) * tan(lower.angle / 2)
    x = lower.pivot[0]
    if wedge == 0.0:
        return (segment((0.0, height), level_end((0.0, height), edge)),)
    return as_points(((0.0, height), (x - wedge, height))), segment(
        (x + wedge, height), level_end((x + wedge, height), edge)
    )


def bust_circle(lower: Lower, shoulder: Shoulder, *, above: float, below: float, across: float) -> Stretches:
    """The foot of the breast on the flat block: four quarters of ellipses about the bust point, read on the cloth.

    Radii in mm, `across` towards the side and, as far as the fold allows, towards the centre. Each quarter spans the
    cloth between two axes: the centre, the closed shoulder dart, the side, the closed waist dart. The first stretch
    lies towards the centre, both run from the waist dart to the shoulder dart.
    """
    pivot = lower.pivot
    inside = min(across, pivot[0] - FOLD_CLEARANCE)
    up_in, up_out = direction_of(pivot, shoulder.inner_leg), direction_of(pivot, shoulder.outer_leg)
    down_in, down_out = 1.5 * pi - lower.angle / 2, -pi / 2 + lower.angle / 2
    centre = _quarters(pivot, (down_in, pi, up_in), (below, inside, above))
    side = _quarters(pivot, (down_out, 0.0, up_out), (below, across, above))
    return centre, side


def _quarters(pivot: Point, turns: tuple[float, float, float], radii: tuple[float, float, float]) -> Points:
    first = quarter(pivot, turns[:2], radii[:2])
    return as_points(np.vstack((first[:-1], quarter(pivot, turns[1:], radii[1:]))))


def quarter(
    pivot: Point, turns: tuple[float, ...], radii: tuple[float, ...], *, shares: tuple[float, float] = (0.0, 1.0)
) -> Points:
    """A quarter of an ellipse, or the part of it between two shares of its right angle, (N, 2).

    It spans the cloth between two directions (radians), whatever the angle between them; `radii` in mm belong to the
    ends of the whole quarter.
    """
    step = np.linspace(0.0, 1.0, CIRCLE_STEPS + 1)
    direction = turns[0] + step * (turns[1] - turns[0])
    share = shares[0] + step * (shares[1] - shares[0])
    cosine, sine = np.cos(share * pi / 2), np.sin(share * pi / 2)
    radius = radii[0] * radii[1] / np.hypot(radii[1] * cosine, radii[0] * sine)
    return as_points(np.column_stack((pivot[0] + radius * np.cos(direction), pivot[1] + radius * np.sin(direction))))

"""Marks on a block: upper bust, bust and under-bust lines, and the bust circle, each interrupted at open darts.

All are drafted on the wearer's left as the front lies. A line that crosses a dart meets both legs at the same distance
from the pivot, so that it is whole when the dart is closed (cutting.md 1).
"""

from __future__ import annotations

from math import atan2, cos, pi, sin, tan
from typing import Final

import numpy as np

from core.blocks.curves import along, squared
from core.blocks.shoulders import Shoulder
from core.blocks.waist import Lower
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


def level_folded(shoulder: Shoulder, height: float, edge: Points) -> Stretches:
    """The line level from the centre to the shoulder dart, and on straight beyond it with the dart closed.

    It ends where it meets `edge`, the side seam and armhole in loop order (N, 2).
    """
    pivot, inner, outer = shoulder.pivot, shoulder.inner_leg, shoulder.outer_leg
    share = (height - pivot[1]) / (inner[1] - pivot[1])
    first = (pivot[0] + share * (inner[0] - pivot[0]), height)
    second = (pivot[0] + share * (outer[0] - pivot[0]), pivot[1] + share * (outer[1] - pivot[1]))
    return as_points(((0.0, height), first)), _to_edge(second, -shoulder.angle, edge)


def _to_edge(start: Point, direction: float, edge: Points) -> Points:
    ray = as_points((start, along(start, direction, 1000.0)))
    reach = crossings(ray, edge)[0][0]
    return as_points((start, point_at(ray, reach)))


def level_to(lower: Lower, height: float, edge: Points) -> Stretches:
    """The level line at a height from the centre to `edge`, side seam and armhole in loop order (N, 2)."""
    wedge = max(lower.pivot[1] - height, 0.0) * tan(lower.angle / 2)
    x = lower.pivot[0]
    if wedge == 0.0:
        return (_to_edge((0.0, height), 0.0, edge),)
    return as_points(((0.0, height), (x - wedge, height))), _to_edge((x + wedge, height), 0.0, edge)


def bust_circle(lower: Lower, shoulder: Shoulder, *, above: float, below: float, across: float) -> Stretches:
    """The foot of the breast on the flat block: four quarters of ellipses about the bust point, read on the cloth.

    Radii in mm, `across` towards the side and, as far as the fold allows, towards the centre. Each quarter spans the
    cloth between two axes: the centre, the closed shoulder dart, the side, the closed waist dart. The first stretch
    lies towards the centre, both run from the waist dart to the shoulder dart.
    """
    pivot = lower.pivot
    inside = min(across, pivot[0] - FOLD_CLEARANCE)
    up_in, up_out = (atan2(leg[1] - pivot[1], leg[0] - pivot[0]) for leg in (shoulder.inner_leg, shoulder.outer_leg))
    down_in, down_out = 1.5 * pi - lower.angle / 2, -pi / 2 + lower.angle / 2
    centre = _quarters(pivot, (down_in, pi, up_in), (below, inside, above))
    side = _quarters(pivot, (down_out, 0.0, up_out), (below, across, above))
    return centre, side


def _quarters(pivot: Point, turns: tuple[float, float, float], radii: tuple[float, float, float]) -> Points:
    first = _quarter(pivot, turns[:2], radii[:2])
    return as_points(np.vstack((first[:-1], _quarter(pivot, turns[1:], radii[1:]))))


def _quarter(pivot: Point, turns: tuple[float, ...], radii: tuple[float, ...]) -> Points:
    share = np.linspace(0.0, 1.0, CIRCLE_STEPS + 1)
    direction = turns[0] + share * (turns[1] - turns[0])
    cosine, sine = np.cos(share * pi / 2), np.sin(share * pi / 2)
    radius = radii[0] * radii[1] / np.hypot(radii[1] * cosine, radii[0] * sine)
    return as_points(np.column_stack((pivot[0] + radius * np.cos(direction), pivot[1] + radius * np.sin(direction))))

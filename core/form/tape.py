"""What a tape reads on a surface: it is taut, so it bridges every hollow."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from core.geometry.polyline import Points

Values = NDArray[np.float64]

DIRECTIONS: Final = 181
"""Looks from straight behind round one side to straight before: those of the other side are their mirror images."""

_ANGLES: Final = np.linspace(-np.pi / 2.0, np.pi / 2.0, DIRECTIONS)
_LOOKS: Final = np.vstack((np.cos(_ANGLES), np.sin(_ANGLES)))
_SHARES: Final = np.where(np.abs(_ANGLES) < 1.57, 2.0, 1.0) * (np.pi / (DIRECTIONS - 1))


def girth(half: Values) -> float:
    """The length (mm) of a tape round a closed section: the perimeter of its convex hull.

    Only half of the section is given, (N, 2) with x >= 0; the other half is its mirror image. By Cauchy's formula the
    perimeter is the integral, over all directions, of how far the section reaches in each.
    """
    return float((half @ _LOOKS).max(axis=0) @ _SHARES)


def taut(profile: Points) -> Points:
    """The path (M, 2) of a tape held on both ends of a profile (N, 2): its upper hull, first place to last.

    The first coordinate of the profile rises; the second is how far the body stands out.
    """
    kept: list[tuple[float, float]] = []
    for x, y in profile.tolist():
        while len(kept) > 1 and _is_hollow(kept[-2], kept[-1], (x, y)):
            kept.pop()
        kept.append((x, y))
    return np.array(kept)


def _is_hollow(first: tuple[float, float], middle: tuple[float, float], last: tuple[float, float]) -> bool:
    """Whether the middle place lies on the line of its neighbours or below it."""
    across = (middle[0] - first[0]) * (last[1] - first[1])
    return across >= (middle[1] - first[1]) * (last[0] - first[0])


def taut_length(profile: Points) -> float:
    """The length (mm) of a tape held on both ends of a profile (N, 2) whose first coordinate rises."""
    return float(np.hypot(*np.diff(taut(profile), axis=0).T).sum())


def taut_over(path: Values, outwards: Values) -> float:
    """The length (mm) of a tape drawn taut along a path on a body (N, 3), whose outward normals (N, 3) are given.

    Seen square to the chord, with the outside up, the tape is the upper hull of the path; sideways it keeps to it.
    """
    chord = path[-1] - path[0]
    along = chord / np.linalg.norm(chord)
    up = outwards.sum(axis=0)
    up = up - (up @ along) * along
    up /= np.linalg.norm(up)
    off = path - path[0]
    seen = np.column_stack((off @ along, off @ up, off @ np.cross(along, up)))
    kept = np.maximum.accumulate(seen[:, 0]) <= seen[:, 0]
    hull = taut(seen[kept, :2])
    aside = np.interp(hull[:, 0], seen[kept, 0], seen[kept, 2])
    return float(np.linalg.norm(np.diff(np.column_stack((hull, aside)), axis=0), axis=1).sum())

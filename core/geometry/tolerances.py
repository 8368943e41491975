"""Every tolerance of the project, named and explained here, in millimetres unless another unit is said."""

from __future__ import annotations

from math import radians
from typing import Final

SAME_POINT: Final = 1e-6
"""Two computed points nearer than this are one point: far above float64 noise at metre size, far below paper."""

CHORD_ERROR: Final = 0.01
"""A curve is drawn as chords that leave it by no more than this: a tenth of the finest pencil line."""

ON_EDGE: Final = 0.5
"""A drawn end within this of an outline is meant to lie on it: less than a pencil line at full size."""

AT_PIVOT: Final = 3.0
"""A line that passes a dart's pivot nearer than this is snapped to it (cutting.md 2, 10)."""

LEG_DIFFERENCE: Final = 0.01
"""A line must meet both legs of a crossed dart at distances from the pivot that agree within this (design law)."""

SMOOTH_JOINT: Final = radians(2.0)
"""Two edges of one origin whose directions differ by less are one smooth edge again."""

JOIN_GAP: Final = 0.5
"""Two seam edges laid together may part by this much; more is refused (design law of `join`)."""

EXACT: Final = 0.2
GOOD: Final = 0.8
CHECK: Final = 3.0
"""Seam differences: exact, good (1/32 in), check, and wrong above. House values; no standard has any (trade.md D3)."""

TRIMMED: Final = 0.01
"""A trimmed seam agrees within this (design law)."""

LONGEST_TRIM: Final = 6.0
LARGEST_TRIM_SHARE: Final = 0.02
"""Trimming takes at most 6 mm or 2 % of the seam, whichever is less (cutting.md 14)."""

CORNER_CHORD: Final = 5.0
"""Corners are judged by the chord over this length next to the corner (cutting.md 20)."""

SLIVER: Final = 25.0
"""mm2: a panel smaller than a square of 5 mm is no piece of cloth, but two lines that cross beside their ends."""

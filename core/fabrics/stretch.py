"""How far a fabric stretches, as measured on a strip of it, and how much smaller it may be cut for that."""

from __future__ import annotations

from typing import Final

from core.errors import Refusal
from core.units import Unit, show_length

MOST: Final = 300.0
"""Percent: no cloth is stretched to more than four times its length; a larger figure is a slip of the pen."""

_WORKING: Final = ((25.0, 0.0), (50.0, 0.02), (75.0, 0.03), (100.0, 0.05))
_MOST_WORKING: Final = 0.10


def stretch_percent(relaxed: float, stretched: float, unit: Unit) -> float:
    """How much longer in percent a relaxed length (mm) of cloth can be pulled.

    (stretched - relaxed) / relaxed: 10 in that reach 14 in stretch by 40 % (a fabric seller's page, trade.md D6).
    Refusal for lengths of nothing, one that is shorter stretched than relaxed, and more than 300 percent.
    """
    if relaxed <= 0.0:
        raise Refusal(
            "Measure a relaxed length of more than nothing: lay the cloth flat and mark 10 in or 20 cm on it."
        )
    if stretched < relaxed:
        raise Refusal(
            f"Stretched it is {show_length(stretched, unit)}, shorter than the {show_length(relaxed, unit)} relaxed; "
            f"check which is which."
        )
    percent = 100.0 * (stretched - relaxed) / relaxed
    if percent > MOST:
        raise Refusal(f"A stretch of {percent:.0f} % is more than any cloth has; check both lengths.")
    return percent


def reduction_limit(percent: float) -> float:
    """The largest share by which cloth can be cut smaller and still reach: 1 - 1/s for a stretch ratio s.

    Half as long again (s = 1.5) allows a third (a pattern maker's page, trade.md D6). Nobody fits at the limit.
    """
    return 1.0 - 1.0 / (1.0 + percent / 100.0)


def working_reduction(percent: float) -> float:
    """The share by which cloth is usually cut smaller across, by its stretch: half of it in length.

    0 up to 25 %, 2 % up to 50, 3 % up to 75, 5 % up to 100, 10 % above: from memory of handbooks on stretch cloth
    (trade.md D6), no source at hand.
    """
    return next((share for most, share in _WORKING if percent <= most), _MOST_WORKING)

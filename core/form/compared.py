"""Two variants of a line on one form, number beside number: which shows more of her."""

from __future__ import annotations

from typing import Final

import numpy as np

from core.form.line import banded
from core.form.shown import Laid
from core.form.words import AT_CENTRE, Facts
from core.units import Unit, show_length

NONE: Final = "none"
"""Stands where a variant has no such number."""


def compared(kept: Laid, now: Laid, unit: Unit) -> tuple[tuple[str, str, str], ...]:
    """Rows of what is compared, the variant that was kept, and the one at hand."""
    rows = (
        ("nearest to the bust point, ± 5 mm", _nearest(kept.facts, unit), _nearest(now.facts, unit)),
        ("of the breast sheer, ± 5 points", _share(kept.facts), _share(now.facts)),
        ("below the pit, at the centre front", _depth(kept.facts, unit), _depth(now.facts, unit)),
        ("cloth over body", _over(kept, unit), _over(now, unit)),
    )
    return tuple(row for row in rows if row[1:] != (NONE, NONE))


def _nearest(facts: Facts | None, unit: Unit) -> str:
    if facts is None:
        return NONE
    return f"{show_length(float(facts.line.radii.min()), unit)}, {'under sheer' if facts.bares_point else 'covered'}"


def _share(facts: Facts | None) -> str:
    return NONE if facts is None or facts.share is None else f"{100.0 * facts.share:.0f} %"


def _depth(facts: Facts | None, unit: Unit) -> str:
    depth = None if facts is None else below_pit(facts)
    return NONE if depth is None else show_length(depth, unit)


def below_pit(facts: Facts) -> float | None:
    """How deep (mm) the line is below the pit of the neck at the centre front; None where it does not come so far."""
    ends = [end for end in (0, -1) if abs(facts.line.t[end]) < AT_CENTRE]
    return facts.form.pit_height - float(facts.line.z[ends[0]]) if ends else None


def _over(laid: Laid, unit: Unit) -> str:
    return banded(float(np.sum([part.amount for part in laid.parts])), unit) if laid.parts else NONE

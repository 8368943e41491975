"""What the form has to say about a line, in sentences, each number with how far it can be trusted."""

from __future__ import annotations

from typing import Final

import msgspec
import numpy as np

from core.form.line import BAND, Excess, LaidLine, banded
from core.form.solving import Form
from core.units import Unit, show_length

CAUTION: Final = "An estimate from the tape, which does not tell the shape of a breast: check on a toile."

AT_CENTRE: Final = 0.06
"""A line that ends nearer to the centre front than this (radians of t) meets it."""

UNDER_THE_BREAST: Final = 0.8
"""How far out, in shares of the bust point's distance from the centre, a line is held against the under-bust line."""


class Facts(msgspec.Struct, frozen=True, eq=False):
    """What is known of a line: `share` of the breast that is sheer (None: not known), whether the bust point is."""

    form: Form
    line: LaidLine
    parts: tuple[Excess, ...]
    share: float | None
    bares_point: bool
    is_eased: bool = False
    """Whether the block's ease was taken off the excess, as the edge is to keep it."""


def said(facts: Facts, unit: Unit) -> tuple[str, ...]:
    """The sentences, the most wanted first."""
    return (_distance(facts, unit), *_share(facts), *_centre(facts, unit), *_under(facts, unit), *_excess(facts, unit))


def _distance(facts: Facts, unit: Unit) -> str:
    nearest = float(facts.line.radii.min())
    if nearest < 3.0:
        return "The line runs over the bust point."
    state = "which is under the sheer" if facts.bares_point else "which is covered"
    return f"The line comes within {show_length(nearest, unit)} of the bust point, {state} (± 5 mm)."


def _share(facts: Facts) -> tuple[str, ...]:
    if facts.share is None:
        return ()
    return (f"Of the breast, {100.0 * facts.share:.0f} % is sheer (± 5 points).",)


def _centre(facts: Facts, unit: Unit) -> tuple[str, ...]:
    """How deep the line is at the centre front, where it comes so far."""
    line, form = facts.line, facts.form
    ends = [end for end in (0, -1) if abs(line.t[end]) < AT_CENTRE]
    if not ends:
        return ()
    z = float(line.z[ends[0]])
    deep, over = form.pit_height - z, z - form.bust_point[1]
    where = "above" if over >= 0.0 else "below"
    deep_said, over_said = show_length(deep, unit), show_length(abs(over), unit)
    return (f"At the centre front: {deep_said} below the pit of the neck, {over_said} {where} the bust level.",)


def _under(facts: Facts, unit: Unit) -> tuple[str, ...]:
    """A warning where the line dips below the under-bust, looked for under the breast only."""
    line, form = facts.line, facts.form
    is_near = np.abs(line.places[:, 0] - form.bust_point[0]) < UNDER_THE_BREAST * form.bust_point[0]
    if not is_near.any():
        return ()
    dips = form.figure.under_bust_height - float(line.z[is_near].min())
    if dips <= 0.0:
        return ()
    return (f"Under the breast it dips {show_length(dips, unit)} below the under-bust line.",)


def _excess(facts: Facts, unit: Unit) -> tuple[str, ...]:
    if not facts.parts:
        return ("No excess is given: the whole line lies within 40 mm of the armhole.",)
    whole = sum(part.amount for part in facts.parts)
    how = "the block's ease taken off" if facts.is_eased else "no ease wanted in it"
    return (
        f"Cloth over body along the line, half front, {how}: {banded(whole, unit)}.",
        *(_part(part, whole, unit) for part in facts.parts),
    )


def _part(part: Excess, whole: float, unit: Unit) -> str:
    """One part; a gape or a pull is said only where its neighbours do not make up for it, as the map may shift it."""
    told = f"{part.where}: {banded(part.amount, unit, part.band)}"
    if part.amount > part.band and whole > BAND:
        return f"{told}; it would stand off about {show_length(part.stands_off, unit)}, so contour it there."
    if part.amount > part.band:
        return f"{told}; the parts beside it have as much less, so the edge can be eased along."
    if part.over_body < -part.band and whole < -BAND:
        return f"{told}; it would pull tight there."
    if part.over_body < -part.band:
        return f"{told}; the parts beside it have as much more, so the edge can be eased along."
    return f"{told}; no more than ease and tape account for."

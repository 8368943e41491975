"""Ease: how much larger than the body the block is drafted."""

from __future__ import annotations

from math import isfinite
from typing import Final

import msgspec

from core.errors import Refusal


class Ease(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Ease in mm. Bust and waist are totals round the body; the rest is said beside each.

    The defaults are those of a close-fitting bodice without sleeves; the under-bust is not set but reported, as it
    follows from bust, waist and the darts between them.
    """

    bust: float = 50.8
    """Close-fitting is 0 to 3 in (a sewing magazine of 2023, quoted second-hand: trade.md C6); 2 in is taken."""
    waist: float = 25.4
    """1 in: the least for a dress (the same magazine)."""
    armhole_depth: float = 27.0
    """Underarm below the body's own; the handbooks leave 27 mm on average (computed on the survey of 1988, trade.md
    B9)."""
    back_width: float = 10.0
    """Across the whole back; a handbook adds 5 mm to the half (trade.md B3, quoted second-hand)."""
    front_width: float = 4.0
    """Across the whole front: the front fits closer than the back (common practice, no source)."""
    shoulder: float = 6.0
    """Each back shoulder longer than its front: 1/4 in (a women's encyclopaedia of 1910 to 1912, trade.md B2, D4)."""


class EasePreset(msgspec.Struct, frozen=True):
    """An ease to begin with: its name, what it is for in plain words, and where its numbers come from."""

    name: str
    words: str
    ease: Ease
    source: str


MAGAZINE: Final = "a sewing magazine of 2023, quoted second-hand"
"""trade.md C6, as are the other styles; the handbooks are trade.md B3, B4, D4."""

EASE_PRESETS: Final = (
    EasePreset(
        "strapless",
        "Held up by the fit alone, with bones: 1/2 in round bust and waist.",
        Ease(bust=12.7, waist=12.7),
        "bust 0 to 2.5 cm for a strapless or bridal bodice (common practice); waist a house value",
    ),
    EasePreset("close", "A close bodice without sleeves: 2 in round the bust, 1 in round the waist.", Ease(), MAGAZINE),
    EasePreset(
        "fitted",
        "Follows the figure with room to move: 3 1/2 in round the bust, 1 1/2 in round the waist.",
        Ease(bust=88.9, waist=38.1),
        f"bust 3 to 4 in: {MAGAZINE}; waist a house value, the magazine's most for a waistband",
    ),
    EasePreset(
        "semi-fitted",
        "Skims the figure: 4 1/2 in round the bust, 3 in round the waist.",
        Ease(bust=114.3, waist=76.2),
        f"bust 4 to 5 in: {MAGAZINE}; waist a house value",
    ),
    EasePreset(
        "handbook, shoulder dart",
        "What the draft with a shoulder dart is written for: 10 cm round the bust, 6 cm round the waist.",
        Ease(bust=100.0, waist=60.0, front_width=0.0, shoulder=5.0),
        "half bust + 5 and half waist + 3 cm, half back width + 0.5, half chest as it is, 0.5 of "
        "shoulder ease (a handbook, second-hand)",
    ),
    EasePreset(
        "handbook, armhole dart",
        "What the draft with an armhole dart is written for: 12 cm round the bust, 6 cm round the waist.",
        Ease(bust=120.0, waist=60.0),
        "half bust + 6 and half waist + 3 cm (bust in a paper of 2017, waist from memory)",
    ),
)
"""Loosest last among the styles, then what the handbook methods are written for."""

LEAST: Ease = Ease(bust=-60.0, waist=-60.0, armhole_depth=-20.0, back_width=-20.0, front_width=-20.0, shoulder=0.0)
MOST: Ease = Ease(bust=250.0, waist=250.0, armhole_depth=60.0, back_width=60.0, front_width=60.0, shoulder=20.0)
"""Corset-firm is -50 mm round the bust, very loose over 200 (trade.md C6); beyond these the draft is another one."""


def refuse_absurd(ease: Ease) -> None:
    """Refuse an ease that is no number, or outside what this block is made for, by its name."""
    for name in Ease.__struct_fields__:
        amount, least, most = getattr(ease, name), getattr(LEAST, name), getattr(MOST, name)
        if not (isfinite(amount) and least <= amount <= most):
            words = name.replace("_", " ")
            raise Refusal(f"The {words} ease is {amount:g} mm; give one from {least:g} to {most:g} mm.")

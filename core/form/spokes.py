"""Block less body, from the bust point to each landmark: ease and mistakes are seen at one look.

Both are lengths of cloth and of a taut tape; the ease that the block was drafted with is taken off before they are
compared. A sign and a word say what lies beyond the band.
"""

from __future__ import annotations

from typing import Final

import msgspec

from core.checks.verdict import SIGNS
from core.form.cloth import Cloth
from core.form.landmarks import BELOW, Landmark, spokes_of
from core.units import Unit, show_length

TAPED: Final = 5.0
"""Millimetres within which block and body agree where a tape was laid: along the centre front, and over the bust."""

ROUGH: Final = 15.0
"""The same where the form is drawn from the girths alone: shoulder, arm and side (a house value, from the shipped
designs: 15 mm at most)."""

SAID: Final = {
    "neck_pit": "neck pit",
    "side_neck": "side neck",
    "shoulder_point": "shoulder point",
    "underarm": "underarm",
    "waist_side": "side waist",
    BELOW: "waist below",
    "waist_centre": "centre waist",
    "under_bust_line": "centre under-bust",
    "bust_line": "centre at bust level",
}

BANDS: Final = dict.fromkeys(("neck_pit", "side_neck", BELOW, "waist_centre", "bust_line"), TAPED)


class Spoke(msgspec.Struct, frozen=True):
    """From the bust point to a landmark (mm): on the block as drafted, the ease in that, on the body, the band."""

    name: str
    block: float
    ease: float
    body: float
    band: float

    @property
    def over(self) -> float:
        """How much longer the block is than body and ease together."""
        return self.block - self.ease - self.body

    @property
    def word(self) -> str:
        """What that is: "close", "long" or "short"."""
        if abs(self.over) <= self.band:
            return "close"
        return "long" if self.over > 0.0 else "short"

    @property
    def sign(self) -> str:
        """The sign of the verdict; an estimate alone is never more than to be looked at."""
        return SIGNS["good" if self.word == "close" else "check"]


def spokes_on(cloth: Cloth) -> tuple[Spoke, ...]:
    """The spokes of a block on a body, in the order in which a fitter walks round."""
    return tuple(map(_spoke, spokes_of(cloth.landmarks)))


def _spoke(mark: Landmark) -> Spoke:
    band = BANDS.get(mark.name, ROUGH)
    return Spoke(SAID[mark.name], mark.on_block, mark.on_block - mark.bare, mark.on_body, band)


def spoke_cells(spoke: Spoke, unit: Unit) -> tuple[str, str, str, str]:
    """Landmark, block without ease, body, and how they differ with a sign and a word, in the user's unit."""
    block, body, over = (show_length(length, unit) for length in (spoke.block - spoke.ease, spoke.body, spoke.over))
    name = f"{spoke.name}, ease off" if abs(spoke.ease) >= 0.5 else spoke.name
    return name, block, body, f"{_signed(over)} {spoke.sign} {spoke.word}"


def spoke_words(spoke: Spoke, unit: Unit) -> str:
    """A row in a sentence, with what the block has of ease there."""
    block, ease, body, over = (
        show_length(abs(length), unit) for length in (spoke.block, spoke.ease, spoke.body, spoke.over)
    )
    drafted = f"{block} on the block, {ease} of it ease" if abs(spoke.ease) >= 0.5 else f"{block} on the block"
    so = {"close": "as near as the form can tell", "long": f"{over} too long", "short": f"{over} too short"}[spoke.word]
    return f"From the bust point to the {spoke.name}: {drafted}, {body} on her; {so}."


def _signed(length: str) -> str:
    """A length with its sign; nothing has none."""
    if not set(length) & set("123456789"):
        return length.removeprefix("-")
    return length if length.startswith("-") else f"+{length}"

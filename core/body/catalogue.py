"""The measurements: what each is called, how it is taken, what is believable, and where its definition comes from.

Words: *side neck point*, where the shoulder seam meets the neck; *shoulder point*, the outer end of the shoulder;
*bust point*, the fullest point of the bust; *nape*, the bone at the back of the neck (seventh cervical); *pit of the
neck*, the hollow between the collar bones; *scye*, the armhole.
"""

from __future__ import annotations

from math import degrees
from types import MappingProxyType
from typing import Final, Literal, TypeAlias

import msgspec

from core.body import estimates
from core.body.estimates import Rule
from core.units import Unit, parse_angle, parse_length, show_length

Kind: TypeAlias = Literal["length", "angle"]


class Measurement(msgspec.Struct, frozen=True):
    """One row of the table. `low` to `high` is believable, in mm (degrees for an angle); no rule means required."""

    id: str
    name: str
    how: str
    low: float
    high: float
    source: str
    rule: Rule | None = None
    kind: Kind = "length"

    @property
    def required(self) -> bool:
        """Whether no block can be drafted without it."""
        return self.rule is None

    def show(self, value: float, unit: Unit) -> str:
        """A value of this measurement as text with its unit."""
        return f"{value:.1f} degrees" if self.kind == "angle" else show_length(value, unit)

    def read(self, text: str, unit: Unit) -> float | None:
        """The value that a text means; None for an empty text. Refusal, in one sentence, for what is none."""
        if not text.strip():
            return None
        return degrees(parse_angle(text)) if self.kind == "angle" else parse_length(text, unit)


TRADE: Final = "the trade's own definition; no clause of ISO 8559-1 known"
LIST_OF_1989: Final = "named in ISO 8559:1989"

_TABLE: Final = (
    Measurement(
        id="bust",
        name="bust",
        how="Pass the tape level round the body over both bust points, over the bra that will be worn.",
        low=600.0,
        high=1700.0,
        source="ISO 8559-1:2017, 5.3.4 bust girth",
    ),
    Measurement(
        id="high_bust",
        name="high bust",
        how="Pass the tape round the body close under the arms, above the breasts, and keep it level across the back.",
        low=600.0,
        high=1500.0,
        source=TRADE,
    ),
    Measurement(
        id="under_bust",
        name="under-bust",
        how="Pass the tape level round the ribs just below the breasts.",
        low=500.0,
        high=1500.0,
        source="ISO 8559-1:2017, 5.3.8 under-bust girth",
    ),
    Measurement(
        id="waist",
        name="waist",
        how="Tie a thin elastic where the waist is narrowest, measure round it, and take all lengths to this elastic.",
        low=450.0,
        high=1600.0,
        source="the trade's narrowest place; ISO 8559-1:2017, 5.3.10 waist girth lies midway between ribs and hip bone",
    ),
    Measurement(
        id="hip",
        name="hip",
        how="Pass the tape level round the fullest part of the seat.",
        low=650.0,
        high=1800.0,
        source="ISO 8559-1:2017, 5.3.13 hip girth",
        rule=estimates.HIP,
    ),
    Measurement(
        id="neck_base",
        name="neck base girth",
        how="Stand the tape on its edge round the foot of the neck, over the nape and the pit of the neck.",
        low=250.0,
        high=560.0,
        source="ISO 8559-1:2017, 5.3.3 neck base girth",
        rule=estimates.NECK_BASE,
    ),
    Measurement(
        id="bust_span",
        name="bust span",
        how="Measure straight across from bust point to bust point, without dipping between them.",
        low=110.0,
        high=320.0,
        source=TRADE,
    ),
    Measurement(
        id="neck_to_bust_point",
        name="side neck to bust point",
        how="Measure from the side neck point straight down to the bust point.",
        low=170.0,
        high=480.0,
        source=f"{LIST_OF_1989}: neck shoulder point to breast point",
    ),
    Measurement(
        id="front_waist_length",
        name="front waist length",
        how="Measure from the side neck point over the bust point, then straight down to the waist.",
        low=260.0,
        high=680.0,
        source=TRADE,
    ),
    Measurement(
        id="centre_front_length",
        name="centre front length",
        how="Measure from the pit of the neck straight down to the waist, bridging the hollow between the breasts.",
        low=200.0,
        high=520.0,
        source=TRADE,
        rule=estimates.CENTRE_FRONT_LENGTH,
    ),
    Measurement(
        id="back_waist_length",
        name="back waist length",
        how="Bend the head to find the nape, then measure from it straight down to the waist, head upright.",
        low=250.0,
        high=560.0,
        source="ISO 8559-1:2017, 5.4.5 back neck point to waist",
    ),
    Measurement(
        id="shoulder",
        name="shoulder length",
        how="Measure from the side neck point to the shoulder point, where the armhole seam will lie.",
        low=80.0,
        high=200.0,
        source=TRADE,
    ),
    Measurement(
        id="shoulder_slope_deg",
        name="shoulder slope",
        how="Lay a protractor with a level on the shoulder and read its angle below the level, in degrees.",
        low=5.0,
        high=45.0,
        source=TRADE,
        rule=estimates.SHOULDER_SLOPE,
        kind="angle",
    ),
    Measurement(
        id="shoulder_point_to_bust_point",
        name="shoulder point to bust point",
        how="Measure from the shoulder point straight to the bust point.",
        low=130.0,
        high=480.0,
        source=TRADE,
        rule=estimates.SHOULDER_POINT_TO_BUST_POINT,
    ),
    Measurement(
        id="across_back",
        name="across back",
        how="Measure from arm crease to arm crease over the shoulder blades, midway between nape and underarm.",
        low=240.0,
        high=560.0,
        source=f"{LIST_OF_1989}: back width",
        rule=estimates.ACROSS_BACK,
    ),
    Measurement(
        id="across_front",
        name="across front",
        how="Measure from arm crease to arm crease over the chest, midway between pit of the neck and underarm.",
        low=210.0,
        high=540.0,
        source=TRADE,
        rule=estimates.ACROSS_FRONT,
    ),
    Measurement(
        id="scye_depth",
        name="armhole depth",
        how="Tie a tape level round the body under the arms, and measure from the nape straight down to it.",
        low=120.0,
        high=300.0,
        source=f"{LIST_OF_1989}: scye depth",
        rule=estimates.SCYE_DEPTH,
    ),
    Measurement(
        id="scye_girth",
        name="armhole girth",
        how="Pass the tape under the arm and up over the shoulder point, arm hanging, touching and not tight.",
        low=250.0,
        high=650.0,
        source=f"{LIST_OF_1989}: armscye girth",
        rule=estimates.SCYE_GIRTH,
    ),
    Measurement(
        id="upper_bust_level",
        name="upper bust level",
        how="Measure from the side neck point towards the bust point, down to where the breast begins.",
        low=60.0,
        high=420.0,
        source=TRADE,
        rule=estimates.UPPER_BUST_LEVEL,
    ),
    Measurement(
        id="under_bust_level",
        name="under-bust level",
        how="Measure from the side neck point over the bust point, down to the fold under the breast.",
        low=190.0,
        high=600.0,
        source=TRADE,
        rule=estimates.UNDER_BUST_LEVEL,
    ),
    Measurement(
        id="stature",
        name="height",
        how="Stand upright against a wall without shoes, and measure from the floor to the top of the head.",
        low=1200.0,
        high=2200.0,
        source="the usual definition; clause not known",
        rule=estimates.STATURE,
    ),
)

MEASUREMENTS: Final = MappingProxyType({row.id: row for row in _TABLE})
"""Every measurement by id, in the order in which they are taken; a rule reads only rows above it and required ones."""

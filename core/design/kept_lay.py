"""A lay as the document keeps it: which piece lies where on the cloth, and what was chosen for it.

The lay's frame: x runs along the cloth, y across it from one selvedge (usable cloth begins at y = 0). On folded cloth
y = 0 is the fold. A point p of a piece, reflected in x = 0 where it is `mirrored`, lies at p turned by `turn` degrees
and shifted by (x, y).
"""

from __future__ import annotations

from typing import Annotated, Final, Literal, TypeAlias

import msgspec

LONGEST_CLOTH: Final = 100_000.0
"""mm. Cloth comes on bolts of some ten to a hundred metres (common practice, no source): no lay is longer."""

FARTHEST: Final = LONGEST_CLOTH + 10_000.0
"""mm that a piece is shifted by at most: its own frame begins up to ten metres from it."""

Model: TypeAlias = Literal["open", "folded"]
GrainChoice: TypeAlias = Literal["one way", "both ways", "free"]

Shift: TypeAlias = Annotated[float, msgspec.Meta(ge=-FARTHEST, le=FARTHEST)]
Gap: TypeAlias = Annotated[float, msgspec.Meta(ge=0, le=50)]
Squaring: TypeAlias = Annotated[float, msgspec.Meta(ge=0, le=2000)]
Shrinkage: TypeAlias = Annotated[float, msgspec.Meta(ge=0, le=30)]
Extent: TypeAlias = Annotated[float, msgspec.Meta(gt=0, le=LONGEST_CLOTH)]


class LayChoices(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """How a cloth is laid: `gap` mm between pieces, `squaring` mm to buy over, `shrink` percent lost in pre-washing.

    Without a source: 3 mm is a blade's room; 10 cm to square the ends is the low end of common practice (10 to 15).
    `repeat` is a note on a plaid or a lace, printed on the lay: nothing is matched to it.
    """

    grain: GrainChoice = "both ways"
    gap: Gap = 3.0
    squaring: Squaring = 100.0
    shrink: Shrinkage = 0.0
    repeat: str = ""


class LaidPiece(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One piece on the cloth; `locked`: it stays where it is when the rest is filled in."""

    piece: str
    x: Shift
    y: Shift
    turn: Annotated[float, msgspec.Meta(ge=-3600, le=3600)]
    mirrored: bool = False
    locked: bool = False


class KeptLay(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The lay of one fabric. `width` and `length` of what it takes in mm, folded cloth opened; `used` is a share.

    `pieces` is the digest of the pieces that were laid: where it differs from that of the pieces now, the lay is out of
    date.
    """

    fabric: str
    model: Model
    width: Extent
    length: Extent
    used: Annotated[float, msgspec.Meta(ge=0, le=1)]
    pieces: str
    placed: tuple[LaidPiece, ...] = ()
    choices: LayChoices = LayChoices()

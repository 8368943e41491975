"""Fabrics: the record that a design keeps.

A piece names its fabric by `name`; the *role* says what the fabric does in the garment. *Usable width* is between the
selvedges. *Stretch* is how much longer a relaxed strip can be pulled, in percent, along or across the grain.
"""

from __future__ import annotations

from typing import Annotated, Final, Literal, TypeAlias, get_args

import msgspec

from core.errors import Refusal

Role: TypeAlias = Literal["main", "sheer", "lining", "cup", "interlining"]
ROLES: Final[tuple[Role, ...]] = get_args(Role)

Width: TypeAlias = Annotated[float, msgspec.Meta(gt=0, le=5000)]
Percent: TypeAlias = Annotated[float, msgspec.Meta(ge=0, le=300)]
Layers: TypeAlias = Annotated[int, msgspec.Meta(ge=1, le=8)]
Allowance: TypeAlias = Annotated[float, msgspec.Meta(ge=0, le=100)]
Price: TypeAlias = Annotated[float, msgspec.Meta(ge=0, le=10_000)]

SELVEDGE: Final = 12.5
"""mm at each side that are not cut into: 1 to 1.5 cm is common practice (trade.md F)."""


class OwnAllowances(msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """What a fabric wants outside its edges by their kind, in mm; None is what the design has for that kind."""

    seam: Allowance | None = None
    hem: Allowance | None = None
    opening: Allowance | None = None
    raw: Allowance | None = None


class Fabric(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One fabric. Widths and allowances in mm.

    `nap` is true where all pieces must lie one way; `layers` is how often each piece is cut for one layer of the
    drawing; `allowance` None means by the kind of each edge: the fabric's own `allowances`, else the design's. `price`
    is for a metre, in the `currency` that the user writes; None is not known.
    """

    name: str
    role: Role
    cloth: str = ""
    usable_width: Width = 1400.0 - 2 * SELVEDGE
    stretch_along: Percent = 0.0
    stretch_across: Percent = 0.0
    nap: bool = False
    layers: Layers = 1
    allowance: Allowance | None = None
    allowances: OwnAllowances = OwnAllowances()
    price: Price | None = None
    currency: str = ""

    @property
    def words(self) -> str:
        """For example: "main (duchess satin)"."""
        return f"{self.name} ({self.cloth})" if self.cloth and self.cloth != self.name else self.name


def named(fabrics: tuple[Fabric, ...], name: str) -> Fabric:
    """The fabric that a piece names. Refusal, with the names there are, where there is none."""
    for fabric in fabrics:
        if fabric.name == name:
            return fabric
    known = ", ".join(fabric.name for fabric in fabrics)
    raise Refusal(f"There is no fabric “{name}” in this design (there are {known}): choose one of them for the piece.")

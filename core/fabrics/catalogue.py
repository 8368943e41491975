"""Fabrics: the record that a design keeps, and the fabrics that a new design begins with.

A piece names its fabric by `name`; the *role* says what the fabric does in the garment. *Usable width* is between the
selvedges. *Stretch* is how much longer a relaxed strip can be pulled, in percent, along or across the grain.
"""

from __future__ import annotations

from typing import Annotated, Final, Literal, TypeAlias

import msgspec

from core.errors import Refusal

Role: TypeAlias = Literal["main", "sheer", "lining", "cup", "interlining"]

Width: TypeAlias = Annotated[float, msgspec.Meta(gt=0, le=5000)]
Percent: TypeAlias = Annotated[float, msgspec.Meta(ge=0, le=300)]
Layers: TypeAlias = Annotated[int, msgspec.Meta(ge=1, le=8)]
Allowance: TypeAlias = Annotated[float, msgspec.Meta(ge=0, le=100)]

SELVEDGE: Final = 12.5
"""mm at each side that are not cut into: 1 to 1.5 cm is common practice (trade.md F)."""


class Fabric(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One fabric. Widths and allowances in mm.

    `nap` is true where all pieces must lie one way; `layers` is how often each piece is cut for one layer of the
    drawing; `allowance` None means by the kind of each edge; `price` is as the user writes it, for a unit of length.
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
    price: str = ""


_DEFAULTS: Final = (
    Fabric(
        name="main",
        role="main",
        cloth="duchess satin",
        usable_width=1400.0 - 2 * SELVEDGE,  # 140 cm goods: from memory (trade.md F)
        nap=True,  # satin shines by direction and is laid like napped goods (trade.md F, two teaching texts)
    ),
    Fabric(
        name="sheer",
        role="sheer",
        cloth="stretch mesh",
        usable_width=1500.0 - 2 * SELVEDGE,  # 150 cm goods: from memory (trade.md F)
        stretch_along=25.0,  # common practice; net gives more in the width (trade.md D6)
        stretch_across=50.0,  # common practice
        layers=2,  # cut double and turned: common practice of this garment
        allowance=0.0,  # none, or 6 mm trimmed to 3: common practice (trade.md D1)
    ),
    Fabric(
        name="lining",
        role="lining",
        cloth="lining satin",
        usable_width=1400.0 - 2 * SELVEDGE,  # 140 cm goods: from memory (trade.md F)
        nap=True,  # as the main satin
    ),
    Fabric(
        name="cup",
        role="cup",
        cloth="powernet",
        usable_width=1500.0 - 2 * SELVEDGE,  # 150 cm goods: from memory (trade.md F)
        stretch_along=40.0,  # common practice
        stretch_across=25.0,  # common practice
    ),
)


def default_fabrics() -> tuple[Fabric, ...]:
    """The fabrics that a new design begins with: satin, stretch mesh, lining and powernet for the cup."""
    return _DEFAULTS


def named(fabrics: tuple[Fabric, ...], name: str) -> Fabric:
    """The fabric that a piece names. Refusal, with the names there are, where there is none."""
    for fabric in fabrics:
        if fabric.name == name:
            return fabric
    known = ", ".join(fabric.name for fabric in fabrics)
    raise Refusal(f"There is no fabric “{name}” in this design (there are {known}): choose one of them for the piece.")

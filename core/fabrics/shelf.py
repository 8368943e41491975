"""The shelf: the cloths that a new design begins with, each value beside where it comes from.

Widths, stretches and allowances differ from bolt to bolt: these are to be replaced by what is measured on the cloth.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import msgspec

from core.fabrics.catalogue import SELVEDGE, Fabric, OwnAllowances

COMMON: Final = "common practice, no source"
WIDTH: Final = f"width between selvedges, {SELVEDGE:g} mm lost on each side (common practice)"

_METRIC: Final = f"metric dress goods, from memory; {WIDTH}"
_BRIDAL: Final = f"net and tulle come 54 to 108 in wide (a sewing guild's page); {WIDTH}"
_SATIN: Final = "satin shines by direction and is laid like napped goods (two teaching texts)"
_WOVEN: Final = "woven cloth on the straight grain gives next to nothing (common practice)"
_NET_STRETCH: Final = "net gives more in the width (a handbook on fabrics); the amount is common practice"
_NET_EDGE: Final = "net and tulle do not fray; 6 mm, trimmed to 3 once sewn (common practice)"
_NET_NAP: Final = "no right side; the direction that stretches is kept the same for left and right"
_KIND: Final = "by the kind of each edge, as the design has it"


class Stocked(msgspec.Struct, frozen=True):
    """A cloth on the shelf. `sources` says for each field that is not told by the cloth's name where it is from."""

    fabric: Fabric
    sources: Mapping[str, str]


SHELF: Final = (
    Stocked(
        Fabric("main", "main", "duchess satin", usable_width=1400.0 - 2 * SELVEDGE, nap=True),
        {"usable_width": _METRIC, "stretch_along": _WOVEN, "stretch_across": _WOVEN, "nap": _SATIN, "allowance": _KIND},
    ),
    Stocked(
        Fabric(
            "sheer",
            "sheer",
            "stretch mesh",
            usable_width=1500.0 - 2 * SELVEDGE,
            stretch_along=25.0,
            stretch_across=50.0,
            layers=2,
            allowance=0.0,
        ),
        {
            "usable_width": _METRIC,
            "stretch_along": _NET_STRETCH,
            "stretch_across": _NET_STRETCH,
            "layers": f"cut double: {COMMON}",
            "allowance": f"none where it is cut to the finished edge, 6 mm where it is overlocked: {COMMON}",
        },
    ),
    Stocked(
        Fabric("lining", "lining", "lining satin", usable_width=1400.0 - 2 * SELVEDGE, nap=True),
        {"usable_width": _METRIC, "stretch_along": _WOVEN, "stretch_across": _WOVEN, "nap": _SATIN, "allowance": _KIND},
    ),
    Stocked(
        Fabric(
            "cup",
            "cup",
            "powernet",
            usable_width=1500.0 - 2 * SELVEDGE,
            stretch_along=40.0,
            stretch_across=25.0,
        ),
        {
            "usable_width": _METRIC,
            "stretch_along": COMMON,
            "stretch_across": COMMON,
            "allowance": _KIND,
        },
    ),
    Stocked(
        Fabric("crêpe", "main", "crêpe", usable_width=1400.0 - 2 * SELVEDGE),
        {
            "usable_width": _METRIC,
            "stretch_along": _WOVEN,
            "stretch_across": _WOVEN,
            "nap": f"none: {COMMON}",
            "allowance": _KIND,
        },
    ),
    Stocked(
        Fabric(
            "silk tulle",
            "sheer",
            "silk tulle",
            usable_width=1372.0 - 2 * SELVEDGE,
            stretch_across=10.0,
            allowances=OwnAllowances(seam=6.0, raw=0.0),
        ),
        {
            "usable_width": _BRIDAL,
            "stretch_along": COMMON,
            "stretch_across": _NET_STRETCH,
            "nap": _NET_NAP,
            "allowance": _NET_EDGE,
        },
    ),
    Stocked(
        Fabric(
            "nylon net",
            "sheer",
            "nylon net",
            usable_width=1372.0 - 2 * SELVEDGE,
            stretch_across=5.0,
            allowances=OwnAllowances(seam=6.0, raw=0.0),
        ),
        {
            "usable_width": _BRIDAL,
            "stretch_along": COMMON,
            "stretch_across": _NET_STRETCH,
            "nap": _NET_NAP,
            "allowance": f"{_NET_EDGE}; bind what touches skin, for it scratches",
        },
    ),
    Stocked(
        Fabric(
            "organza",
            "sheer",
            "organza",
            usable_width=1400.0 - 2 * SELVEDGE,
            allowances=OwnAllowances(seam=12.7),
        ),
        {
            "usable_width": _METRIC,
            "stretch_along": _WOVEN,
            "stretch_across": _WOVEN,
            "nap": f"none: {COMMON}",
            "allowance": f"12.7 mm, made narrow as a French seam, for it frays: {COMMON}",
        },
    ),
    Stocked(
        Fabric(
            "foam",
            "interlining",
            "cup foam",
            usable_width=1500.0,
            stretch_along=10.0,
            stretch_across=10.0,
            allowance=0.0,
        ),
        {
            "usable_width": f"sold without selvedges: {COMMON}",
            "stretch_along": COMMON,
            "stretch_across": COMMON,
            "allowance": f"none: the edges are butted and covered: {COMMON}",
        },
    ),
)


def default_fabrics() -> tuple[Fabric, ...]:
    """The fabrics that a new design begins with: one for every role that steps ask for, and what else is common."""
    return tuple(stocked.fabric for stocked in SHELF)


def source_of(fabric: Fabric, field: str) -> str:
    """Where a value of a fabric comes from; "yours" where it is not the shelf's any more.

    The allowances of an edge's kind come from where the allowance does.
    """
    for stocked in SHELF:
        if stocked.fabric.cloth == fabric.cloth:
            own = getattr(stocked.fabric, field) == getattr(fabric, field)
            known = stocked.sources.get("allowance" if field == "allowances" else field)
            return (known or COMMON) if own else "yours"
    return "yours"

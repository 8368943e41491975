"""The table of a design's fabrics: rows altered, added and taken away, and what may not be."""

from __future__ import annotations

from collections.abc import Collection
from itertools import count

import msgspec

from core.errors import Refusal
from core.fabrics.catalogue import Fabric, named

Fabrics = tuple[Fabric, ...]

_BOUNDS = {
    "usable_width": ("width", 1.0, 5000.0, "mm"),
    "stretch_along": ("stretch along", 0.0, 300.0, "%"),
    "stretch_across": ("stretch across", 0.0, 300.0, "%"),
    "layers": ("number of layers", 1, 8, ""),
    "allowance": ("allowance", 0.0, 100.0, "mm"),
    "price": ("price", 0.0, 10_000.0, ""),
}


def altered(fabrics: Fabrics, name: str, fabric: Fabric, used: Collection[str]) -> Fabrics:
    """The table with a row in the place of the one called `name`.

    Refusal for a value out of its bounds, and for another name that is empty, taken, or leaves pieces without cloth.
    """
    refuse_absurd(fabric)
    if fabric.name != name:
        _refuse_name(fabrics, name, fabric.name, used)
    named(fabrics, name)
    return tuple(fabric if row.name == name else row for row in fabrics)


def refuse_absurd(fabric: Fabric) -> None:
    """Refusal, in a sentence that names the fabric, for a value that no cloth has."""
    for field, (words, low, high, unit) in _BOUNDS.items():
        value = getattr(fabric, field)
        if value is not None and not low <= value <= high:
            raise Refusal(
                f"The {words} of {fabric.name} cannot be {value:g} {unit}".rstrip()
                + f"; give from {low:g} to {high:g}{' ' + unit if unit else ''}."
            )
    for kind in ("seam", "hem", "opening", "raw"):
        value = getattr(fabric.allowances, kind)
        if value is not None and not 0.0 <= value <= 100.0:
            raise Refusal(
                f"{fabric.name.capitalize()} cannot have {value:g} mm outside a {kind}; give from 0 to 100 mm."
            )


def _refuse_name(fabrics: Fabrics, name: str, new: str, used: Collection[str]) -> None:
    if not new.strip():
        raise Refusal("Give the fabric a name.")
    if any(row.name == new for row in fabrics):
        raise Refusal(f"There is a fabric {new} already; give this one another name.")
    if name in used:
        raise Refusal(f"Pieces are cut from {name}: keep its name, or add another fabric and choose that for them.")


def added(fabrics: Fabrics, like: str) -> tuple[Fabrics, Fabric]:
    """The table with a copy of a row under a name that is free, and that row."""
    taken = {row.name for row in fabrics}
    name = next(f"{like} {n}" for n in count(2) if f"{like} {n}" not in taken)
    new = msgspec.structs.replace(named(fabrics, like), name=name)
    return (*fabrics, new), new


def removed(fabrics: Fabrics, name: str, used: Collection[str]) -> Fabrics:
    """The table without a row. Refusal while pieces are cut from it, and for the last one."""
    named(fabrics, name)
    if name in used:
        raise Refusal(f"Pieces are cut from {name}: choose another fabric for them first.")
    if len(fabrics) == 1:
        raise Refusal(f"{name.capitalize()} is the only fabric; a design needs one.")
    return tuple(row for row in fabrics if row.name != name)

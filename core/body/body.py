"""A client's body: the record that a design keeps, the complete set of measurements, and the body file."""

from __future__ import annotations

import json
from collections.abc import Mapping
from difflib import get_close_matches
from math import isfinite
from types import MappingProxyType
from typing import Any, Final, NoReturn, TypeGuard

import msgspec

from core.body.catalogue import MEASUREMENTS, Measurement
from core.body.contradictions import refuse_contradictions
from core.body.shape import Shape
from core.errors import Refusal
from core.units import MM_PER, UNITS, Unit

LONGEST_NAME: Final = 200
LONGEST_FILE: Final = 100_000
"""Characters: a body file has some twenty numbers."""


class Body(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What was measured on one client.

    `measurements` are mm by id (degrees for `shoulder_slope_deg`), only those that were taken; `units` is what they
    were typed in, and nothing but their showing depends on it. The mapping is never altered. `from_table` are ids of
    those that a size table gave and nobody has measured. `shape` is what was seen and no tape tells.
    """

    name: str
    units: Unit
    measurements: dict[str, float]
    from_table: tuple[str, ...] = ()
    shape: Shape = Shape()


class Measured(msgspec.Struct, frozen=True, eq=False):
    """A value in mm (degrees for the slope) for every measurement of the catalogue, and which of them are estimated."""

    values: Mapping[str, float]
    estimated: frozenset[str]


def entered(name: str, units: Unit, numbers: Mapping[str, float]) -> Body:
    """The body whose lengths were typed in `units`; angles are degrees in any units."""
    lengths = {id_: MM_PER[units] * number for id_, number in numbers.items() if not _is_angle(id_)}
    return Body(name, units, {id_: lengths.get(id_, float(number)) for id_, number in numbers.items()})


def complete(body: Body) -> Measured:
    """Every measurement of the catalogue: as taken, or estimated by its rule.

    Refusal, in one sentence, for an unknown or a missing measurement, for one that is no number or not believable, and
    for two that contradict each other.
    """
    for id_, value in body.measurements.items():
        _refuse_unbelievable(_known(id_), value, body.units)
    _refuse_missing(body)
    values: dict[str, float] = {}
    taken = body.measurements
    known = dict(taken)
    for row in MEASUREMENTS.values():
        values[row.id] = known[row.id] = taken[row.id] if row.rule is None or row.id in taken else row.rule.value(known)
    estimated = frozenset(values) - frozenset(taken)
    refuse_contradictions(values, estimated, body.units)
    return Measured(MappingProxyType(values), estimated)


def read_body(text: str) -> Body:
    """The body that a body file holds: `{"name": …, "units": "mm|cm|in", "measurements": {id: number}}`.

    Refusal, in one sentence, for text that is no such JSON: NaN, a key twice, an unknown or missing key, a wrong type.
    """
    if len(text) > LONGEST_FILE:
        raise Refusal("The body file is far too long to be one: give the file with one client's measurements.")
    fields = _parsed(text.removeprefix("\ufeff"))
    _refuse_other_keys(fields)
    units, numbers = fields["units"], fields["measurements"]
    if not _is_unit(units):
        raise Refusal('The units of the body file are not known: write "mm", "cm" or "in".')
    if not isinstance(numbers, dict):
        raise Refusal('The measurements of the body file are no list of names and numbers: write {"bust": 88, …}.')
    for id_, number in numbers.items():
        row = _known(id_)
        if not isinstance(number, float) or not isfinite(number):
            raise Refusal(f"The {row.name} of the body file is not a number: write it without quotes, like 88.5.")
    return entered(_name(fields["name"]), units, numbers)


# --------------------------------------------------------------------------------------------------------------
# one measurement


def _is_angle(id_: str) -> bool:
    return id_ in MEASUREMENTS and MEASUREMENTS[id_].kind == "angle"


def _known(id_: str) -> Measurement:
    """The row of the catalogue. Refusal, with the nearest known id, where there is none."""
    row = MEASUREMENTS.get(id_)
    if row is None:
        near = get_close_matches(id_, MEASUREMENTS, n=1)
        hint = f"“{near[0]}” may be meant" if near else f"known are {', '.join(MEASUREMENTS)}"
        raise Refusal(f"“{id_[:40]}” is not a measurement: {hint}.")
    return row


def _refuse_unbelievable(row: Measurement, value: float, unit: Unit) -> None:
    if not isfinite(value):
        raise Refusal(f"The {row.name} is not a number: measure it again.")
    if not row.low <= value <= row.high:
        low, high = row.show(row.low, unit), row.show(row.high, unit)
        raise Refusal(
            f"A {row.name} of {row.show(value, unit)} is not believable ({low} to {high} is): check the number and its "
            "unit."
        )


def _refuse_missing(body: Body) -> None:
    missing = [row for row in MEASUREMENTS.values() if row.required and row.id not in body.measurements]
    if not missing:
        return
    first, *others = missing
    also = f" (also missing: {', '.join(row.name for row in others)})" if others else ""
    raise Refusal(
        f"The {first.name} is missing and no block can be drafted without it{also}; to take it: "
        f"{first.how[0].lower()}{first.how[1:]}"
    )


# --------------------------------------------------------------------------------------------------------------
# the body file


def _parsed(text: str) -> dict[str, Any]:
    """The file's fields; numbers are floats throughout."""
    try:
        fields = json.loads(text, object_pairs_hook=_each_once, parse_constant=_no_number, parse_int=float)
    except json.JSONDecodeError as error:
        raise Refusal(f"The body file is not JSON: line {error.lineno} cannot be read ({error.msg}).") from error
    except RecursionError as error:
        raise Refusal("The body file is not JSON that describes a body: it is nested too deeply.") from error
    if not isinstance(fields, dict):
        raise Refusal('The body file does not describe a body: write {"name": …, "units": …, "measurements": …}.')
    return fields


def _each_once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    fields = dict(pairs)
    if len(fields) < len(pairs):
        names = [name for name, _ in pairs]
        twice = next(name for name in names if names.count(name) > 1)
        raise Refusal(f"The body file gives “{twice[:40]}” twice: keep one of them.")
    return fields


def _no_number(word: str) -> NoReturn:
    raise Refusal(f"The body file holds {word}, which is not a number: measure again or leave the measurement out.")


def _refuse_other_keys(fields: dict[str, Any]) -> None:
    wanted = ("name", "units", "measurements")
    for key in wanted:
        if key not in fields:
            raise Refusal(f"The body file has no “{key}”: it needs name, units and measurements.")
    for key in fields:
        if key not in wanted:
            raise Refusal(f"The body file has an unknown field “{key[:40]}”: it holds name, units and measurements.")


def _is_unit(value: object) -> TypeGuard[Unit]:
    return value in UNITS


def _name(name: object) -> str:
    """The client's name, which labels and file names will carry: printable text on one line."""
    if not isinstance(name, str) or not name.isprintable() or len(name) > LONGEST_NAME:
        raise Refusal(f"The name in the body file is not one line of text of at most {LONGEST_NAME} characters.")
    return name

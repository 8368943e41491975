"""What of a step can be altered in a form: its lengths, shares, choices and words, each by a name for the user.

What a step is about (pieces, seams, edges, places on them) is not among them: another seam is another step.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import isfinite
from typing import Final, Literal, TypeAlias, TypeVar

import msgspec
from msgspec.structs import fields, replace

from core.errors import Refusal
from core.pieces.names import spoken
from core.pieces.places import Place
from core.steps.cut import Tag
from core.steps.step import LinePoint
from core.steps.take_in import Level
from core.units import Unit, parse_length, show_as_meant

Measure: TypeAlias = Literal["length", "share", "number", "tick", "choice", "text", "fabric", "end"]
S = TypeVar("S", bound=msgspec.Struct)


class Known(msgspec.Struct, frozen=True):
    """A field that steps have: its words, how it is written, and what can be chosen."""

    words: str
    measure: Measure
    choices: Mapping[str, str] | None = None


class StepField(msgspec.Struct, frozen=True):
    """A field of one step, by the way to it from the record, and what stands in it."""

    path: tuple[str | int, ...]
    words: str
    known: Known
    value: object


KNOWN: Final[Mapping[str, Known]] = {
    "share": Known("share of the angle", "share"),
    "becomes": Known("it becomes", "choice", {"dart": "a dart", "ease": "ease, held in", "gathers": "gathers"}),
    "reach": Known("over how much to each side", "length"),
    "stretch": Known("what the cloth stretches", "share"),
    "width": Known("opened by", "length"),
    "parallel": Known("open at both ends", "tick"),
    "a": Known("off the first side", "length"),
    "b": Known("off the second side", "length"),
    "offset": Known("so far above the level", "length"),
    "taper": Known("towards the bust point", "choice", {"wedge": "to nothing there", "fade": "faded, adding no angle"}),
    "across": Known(
        "the piece across the sheer line",
        "choice",
        {"leave": "left as it is", "ease": "eased in", "fold": "folded out", "trim": "cut back at its end"},
    ),
    "distance": Known("short of the pivot by", "length"),
    "end": Known("at the end", "end"),
    "side": Known(
        "the side that changes",
        "choice",
        {"longer": "the longer", "a": "the first", "b": "the second", "shared": "both, half each"},
    ),
    "start": Known("from, as a share of the edge", "share"),
    "stop": Known("to, as a share of the edge", "share"),
    "through": Known("through the joint as it is", "tick"),
    "square": Known("square for", "length"),
    "fade": Known("run in over", "length"),
    "pressed": Known("pressed towards", "choice", {"centre": "the centre", "side": "the side"}),
    "amount": Known("farther out by", "length"),
    "word": Known("called by the word", "text"),
    "fabric": Known("fabric", "fabric"),
    "ease": Known("ease", "length"),
    "degrees": Known("degrees to the left", "number"),
    "name": Known("name", "text"),
    "trued": Known("the joint trued", "tick"),
}
"""By the name in the record, which means the same in every step."""


def step_fields(step: msgspec.Struct) -> tuple[StepField, ...]:
    """What of a step can be altered, in the order of its record."""
    return tuple(_fields(step, (), ""))


def _fields(record: msgspec.Struct, path: tuple[str | int, ...], called: str) -> Iterator[StepField]:
    for info in fields(record):
        value, here, known = getattr(record, info.name), (*path, info.name), KNOWN.get(info.name)
        if isinstance(value, tuple) and value and isinstance(value[0], (Level, Tag)):
            for index, part in enumerate(value):
                yield from _fields(part, (*here, index), _called(part))
        elif isinstance(value, msgspec.Struct) and not isinstance(value, (Place, LinePoint)):
            yield from _fields(value, here, called)
        elif known is not None and not _is_inner(record, known, value):
            yield StepField(here, f"{called}{known.words}", known, value)


def _is_inner(record: msgspec.Struct, known: Known, value: object) -> bool:
    """Whether it means nothing to the user: an end without a seam, or the name by which other steps find a line."""
    if known.measure == "end":
        return not hasattr(record, "seam")
    return known.measure == "text" and "." in str(value)


def _called(part: object) -> str:
    if isinstance(part, Level):
        return f"{spoken(part.at)}: "
    return f"panel {part.number}: " if isinstance(part, Tag) else ""


def with_value(record: S, path: tuple[str | int, ...], value: object) -> S:
    """The record with another value at the end of a way."""
    head, *rest = path
    old = getattr(record, str(head))
    if not rest:
        return replace(record, **{str(head): value})
    if isinstance(old, tuple):
        index, *inner = rest
        assert isinstance(index, int)
        part = with_value(old[index], tuple(inner), value)
        return replace(record, **{str(head): (*old[:index], part, *old[index + 1 :])})
    return replace(record, **{str(head): with_value(old, tuple(rest), value)})


def shown(field: StepField, unit: Unit) -> str:
    """What stands in a field that is typed into; nothing where the step takes what is usual."""
    if field.value is None:
        return ""
    if isinstance(field.value, float):
        if field.known.measure == "length":
            return show_as_meant(field.value, unit)
        return f"{100.0 * field.value:g} %" if field.known.measure == "share" else f"{field.value:g}"
    return str(field.value)


def read(field: StepField, text: str, unit: Unit) -> object:
    """What a text means: what stood there, to the last digit, where it says that still. Refusal for nonsense."""
    text = text.strip()
    if text == shown(field, unit):
        return field.value
    if field.known.measure == "text":
        if not text:
            raise Refusal(f"Nothing is written for “{field.words}”: give it a word.")
        return text
    if not text and field.value is None:
        return None
    if field.known.measure == "length":
        return parse_length(text, unit)
    number = _number(text.rstrip("%").strip(), field.words)
    return number / 100.0 if field.known.measure == "share" else number


def _number(text: str, words: str) -> float:
    try:
        found = float(text.replace(",", "."))
    except ValueError:
        raise Refusal(f"“{text}” is no number for “{words}”: write it like 40 or 12.5.") from None
    if not isfinite(found):
        raise Refusal(f"“{text}” is no number for “{words}”: write it like 40 or 12.5.")
    return found

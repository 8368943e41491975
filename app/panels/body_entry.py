"""From what is typed beside a measurement to another design, and back: pure, without a widget."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Final

from msgspec.structs import replace

from core.blocks.ease import Ease
from core.body.body import complete
from core.body.catalogue import MEASUREMENTS, Measurement
from core.design.design import Design
from core.errors import Refusal
from core.units import Unit, parse_length, show_length

EASES: Mapping[str, str] = {
    "bust": "How much larger than the bust the bodice is all round: 2 in is close-fitting.",
    "waist": "How much larger than the waist the bodice is all round: 1 in is the least for a dress.",
    "armhole_depth": "How far the underarm lies below the body's own.",
    "back_width": "How much wider than the back the bodice is, all the way across.",
    "front_width": "How much wider than the chest the bodice is, all the way across.",
    "shoulder": "How much longer each back shoulder is than the front one it is sewn to.",
}
"""The fields of `Ease` in order, each with what it means."""

_LENGTH: Final = re.compile(r"\d+(?:\.\d+)? (mm|cm|in)\b")


def in_unit(sentence: str, unit: Unit) -> str:
    """A sentence about estimating with its lengths in a unit: `436 mm and 0.73 of the waist` in inches or cm."""

    def shown(found: re.Match[str]) -> str:
        return found[0] if found[1] == unit else show_length(parse_length(found[0], unit), unit)

    return _LENGTH.sub(shown, sentence)


def is_believable(row: Measurement, value: float | None) -> bool:
    """Whether a value stands within the believable range; an estimate always does, and a required value must be there.

    What is refused although every value is believable is a contradiction of two, or a block that cannot be drafted.
    """
    return not row.required if value is None else row.low <= value <= row.high


def with_values(design: Design, values: Mapping[str, float | None]) -> Design:
    """The design with measurements taken anew; None leaves one to its estimate."""
    taken = {**design.body.measurements, **values}
    kept = {id_: taken[id_] for id_ in MEASUREMENTS if taken.get(id_) is not None}
    measurements = {id_: value for id_, value in kept.items() if value is not None}
    untaken = tuple(id_ for id_ in design.body.from_table if id_ not in values)
    return replace(design, body=replace(design.body, units=design.unit, measurements=measurements, from_table=untaken))


def act_label(values: Mapping[str, float | None], unit: Unit) -> str:
    """What undo calls the act: `Bust 37 in`, `Hip estimated`, several with commas between."""
    parts = (_part(MEASUREMENTS[id_], value, unit) for id_, value in values.items())
    text = ", ".join(parts)
    return text[:1].upper() + text[1:]


def _part(row: Measurement, value: float | None, unit: Unit) -> str:
    return f"{row.name} {'estimated' if value is None else row.show(value, unit)}"


def differences(design: Design) -> tuple[tuple[str, float], ...]:
    """What the figure's shape is read from: bust less waist, less high bust, and less under-bust, in mm."""
    values = complete(design.body).values
    return (
        ("Drop (bust less waist)", values["bust"] - values["waist"]),
        ("Cup difference (bust less high bust)", values["bust"] - values["high_bust"]),
        ("Cup (bust less under-bust)", values["bust"] - values["under_bust"]),
    )


def ease_words(name: str) -> str:
    """An ease as its field names it: `armhole depth ease`."""
    return f"{name.replace('_', ' ')} ease"


def with_ease(design: Design, name: str, text: str) -> Design:
    """The design with one ease as typed. Refusal, in one sentence, for text that is no length."""
    amounts = {field: getattr(design.ease, field) for field in EASES}
    amounts[name] = parse_length(text, design.unit)
    return replace(design, ease=Ease(**amounts))


def with_client(design: Design, name: str) -> Design:
    """The design for a client of that name. Refusal for a name with signs that cannot be printed."""
    if not name.isprintable():
        raise Refusal("The client's name holds a sign that cannot be printed: type it again on one line.")
    return replace(design, body=replace(design.body, name=name))

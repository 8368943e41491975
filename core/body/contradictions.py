"""Pairs of measurements that bound one another, and the sentence for a pair that cannot both be true.

The bounds are house values: wide enough for every woman of the survey with room to spare for larger and older figures,
narrow enough to catch a tape read at the wrong end or two numbers typed into each other's fields.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from collections.abc import Set as AbstractSet
from typing import Final

import msgspec

from core.body.catalogue import MEASUREMENTS
from core.errors import Refusal
from core.units import Unit, show_length

TRIANGLE_ROOM: Final = 5.0
"""Three lengths on a body make a triangle that is not quite flat: so much is allowed for it, in mm."""


class Relation(msgspec.Struct, frozen=True):
    """Two measurements of which `holds` is true on every believable body; `reason` says it in the user's unit."""

    first: str
    second: str
    holds: Callable[[Mapping[str, float]], bool]
    reason: Callable[[Unit], str]


def _difference(first: str, second: str, bounds: tuple[float, float]) -> Relation:
    """first - second lies within the bounds, in mm."""
    low, high = bounds

    def reason(unit: Unit) -> str:
        if low < 0 < high:
            less, more = show_length(-low, unit), show_length(high, unit)
            return f"the {_name(first)} is at most {less} less and {more} more than the {_name(second)}"
        return (
            f"the {_name(first)} is {show_length(low, unit)} to {show_length(high, unit)} more than the {_name(second)}"
        )

    return Relation(first, second, lambda body: low <= body[first] - body[second] <= high, reason)


def _share(first: str, second: str, bounds: tuple[float, float]) -> Relation:
    """first / second lies within the bounds."""
    low, high = bounds

    def reason(_unit: Unit) -> str:
        return f"the {_name(first)} is {100 * low:.0f} to {100 * high:.0f} % of the {_name(second)}"

    return Relation(first, second, lambda body: low <= body[first] / body[second] <= high, reason)


def _triangle() -> Relation:
    """Shoulder, side neck to bust point and shoulder point to bust point are the sides of a triangle."""

    def holds(body: Mapping[str, float]) -> bool:
        side, shoulder = body["neck_to_bust_point"], body["shoulder"]
        third = body["shoulder_point_to_bust_point"]
        return abs(side - shoulder) - TRIANGLE_ROOM <= third <= side + shoulder + TRIANGLE_ROOM

    def reason(_unit: Unit) -> str:
        return "with the shoulder length they are the three sides of a triangle, and these do not meet"

    return Relation("shoulder_point_to_bust_point", "neck_to_bust_point", holds, reason)


def _name(measurement: str) -> str:
    return MEASUREMENTS[measurement].name


RELATIONS: Final = (
    _difference("bust", "high_bust", (-100.0, 300.0)),
    _difference("bust", "under_bust", (10.0, 450.0)),
    _difference("high_bust", "under_bust", (-60.0, 300.0)),
    _difference("bust", "waist", (-150.0, 450.0)),
    _difference("under_bust", "waist", (-300.0, 300.0)),
    _difference("hip", "waist", (-150.0, 600.0)),
    _share("bust_span", "bust", (0.11, 0.32)),
    _difference("across_front", "bust_span", (20.0, 280.0)),
    _difference("across_back", "across_front", (-120.0, 150.0)),
    _share("across_back", "bust", (0.26, 0.65)),
    _share("neck_base", "bust", (0.2, 0.6)),
    _difference("front_waist_length", "neck_to_bust_point", (30.0, 320.0)),
    _difference("front_waist_length", "centre_front_length", (10.0, 230.0)),
    _difference("front_waist_length", "back_waist_length", (-80.0, 220.0)),
    _difference("back_waist_length", "centre_front_length", (-60.0, 180.0)),
    _difference("back_waist_length", "scye_depth", (60.0, 350.0)),
    _share("scye_girth", "bust", (0.26, 0.62)),
    _triangle(),
    _difference("neck_to_bust_point", "upper_bust_level", (5.0, 250.0)),
    _difference("under_bust_level", "neck_to_bust_point", (5.0, 250.0)),
    _difference("front_waist_length", "under_bust_level", (5.0, 320.0)),
    _share("back_waist_length", "stature", (0.16, 0.34)),
)


def refuse_contradictions(values: Mapping[str, float], estimated: AbstractSet[str], unit: Unit) -> None:
    """Refusal that names the first pair which cannot both be true, with both values and what is believable."""
    for relation in RELATIONS:
        if not relation.holds(values):
            first, second = (
                f"{_name(id_)} ({MEASUREMENTS[id_].show(values[id_], unit)}{', estimated' if id_ in estimated else ''})"
                for id_ in (relation.first, relation.second)
            )
            raise Refusal(
                f"The {first} and the {second} contradict each other: {relation.reason(unit)}, so measure both again."
            )

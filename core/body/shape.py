"""The shape of a figure that no tape tells and the eye does: plain choices, kept with the body they were seen on."""

from __future__ import annotations

from typing import Final, Literal, TypeAlias

import msgspec

Fullness: TypeAlias = Literal["above", "average", "below"]
Profile: TypeAlias = Literal["round", "average", "pointed"]
Stance: TypeAlias = Literal["upright", "average", "stooping"]


class Shape(msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """Where the breast is fuller, how its profile runs, and how the figure stands."""

    fullness: Fullness = "average"
    profile: Profile = "average"
    stance: Stance = "average"


AVERAGE: Final = Shape()

SHAPES: Final = {
    "fullness": {"above": "fuller above", "average": "evenly full", "below": "fuller below"},
    "profile": {"round": "round", "average": "medium", "pointed": "pointed"},
    "stance": {"upright": "upright", "average": "relaxed", "stooping": "forward"},
}
"""Each choice in words."""


def shape_words(shape: Shape) -> str:
    """The shape as it is told in print.

    >>> shape_words(Shape(profile="pointed"))
    'evenly full, of pointed profile, relaxed stance'
    """
    fullness, profile, stance = (words[getattr(shape, name)] for name, words in SHAPES.items())
    return f"{fullness}, of {profile} profile, {stance} stance"

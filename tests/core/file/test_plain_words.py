"""What is wrong in a file is said in a dressmaker's words, with the place, and never in the reader library's own.

Every message is one that the library, msgspec, gives here and now.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Annotated, Any, Literal

import msgspec
import pytest

from core.file.plain_words import said


class Point(msgspec.Struct, forbid_unknown_fields=True):
    """Of a step."""

    x: float = 0.0


class Step(msgspec.Struct, forbid_unknown_fields=True, tag_field="kind", tag="cut"):
    """Of a design."""

    id: str
    points: tuple[Point, ...] = ()
    most_often: int | None = None
    along: tuple[tuple[float, ...], ...] = ()
    shares: tuple[float, float] = (0.0, 0.0)


class Named(msgspec.Struct, forbid_unknown_fields=True):
    """A picture, or anything else with a name."""

    name: str
    image: bytes = b""


class Sample(msgspec.Struct, forbid_unknown_fields=True):
    """As much of a design as the messages need."""

    steps: tuple[Step, ...] = ()
    pictures: tuple[Named, ...] = ()
    sizes: dict[str, Annotated[float, msgspec.Meta(ge=0.0)]] = {}
    swatches: tuple[Named, ...] = ()
    extras: dict[str, Named] = {}
    rows: dict[str, tuple[float, ...]] = {}
    unit: Literal["cm", "in"] = "cm"
    sleeves: bool = False


def step(**fields: object) -> dict[str, Any]:
    """A design whose first step has these fields."""
    return {"steps": [{"kind": "cut", "id": "sheer-1", **fields}]}


@pytest.mark.parametrize(
    ("design", "words"),
    [
        (step(points=[{"x": 1.0}, {"x": "2"}]), "its step 1 (“sheer-1”): point 2: x should be a number and is a text"),
        (step(points=[{"z": 1}]), "its step 1 (“sheer-1”): point 1 has an entry “z” that this version does not know"),
        (step(most_often="2"), "its step 1 (“sheer-1”): most often should be a whole number or nothing and is a text"),
        (step(id=None), "its step 1: id should be a text and is nothing"),
        (step(kind="sorcery"), "its step 1 (“sheer-1”): kind is “sorcery”, which this version does not know"),
        (step(points="many"), "its step 1 (“sheer-1”): points should be a list and is a text"),
        (step(along=[[1.0], ["a"]]), "its step 1 (“sheer-1”): along, 2, 1 should be a number and is a text"),
        (step(shares=[1.0]), "its step 1 (“sheer-1”): shares is a list outside what is possible there"),
        ({"steps": [{"kind": "cut"}]}, "its step 1 lacks its id"),
        ({"steps": [7]}, "its step 1 should be a group of named values and is a whole number"),
        ({"sleeves": 1.5}, "its sleeves should be yes or no and is a number"),
        ({"sizes": {"bust": -1.0}}, "its sizes: one of the values is a number outside what is possible there"),
        ({"unit": "ell"}, "its unit is “ell”, which this version does not know"),
        ({"swatches": [{"name": "tulle"}, {}]}, "its swatches, 2 lacks its name"),
        (
            {"pictures": [{"name": "the back " * 6, "image": "A"}]},
            f"its picture 1 (“{('the back ' * 6)[:39]}…”): image does not read as it should",
        ),
        ({"a\nb": 1}, "its design has an entry “a?b” that this version does not know"),
        ({"x" * 40: 1}, f"its design has an entry “{'x' * 40}” that this version does not know"),
        ({"x" * 41: 1}, f"its design has an entry “{'x' * 39}…” that this version does not know"),
        ({"a - at `$.b` c": 1}, "its design has an entry “a - at `$.b` c” that this version does not know"),
        ({"extras": {"a": {"name": 7}}}, "its extras: one of the values: name should be a text and is a whole number"),
        ({"rows": {"a": ["b"]}}, "its rows: one of the values, 1 should be a number and is a text"),
        (
            {"pictures": [{"name": "", "image": 7}]},
            "its picture 1 (“”): image should be another value and is a whole number",
        ),
        ({"unit": Decimal(1)}, "its unit should be a text and is something else"),
        ([], "its design should be a group of named values and is a list"),
    ],
    ids=range(24),
)
def test_a_message_becomes_half_a_sentence(design: object, words: str) -> None:
    """Where in the design, by number and id, then what is wrong there."""
    with pytest.raises(msgspec.ValidationError) as found:
        msgspec.convert(design, Sample)
    assert said(str(found.value), design) == words

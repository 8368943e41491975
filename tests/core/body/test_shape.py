"""The shape of a figure: kept with the body it was seen on."""

from __future__ import annotations

import msgspec
import pytest

from core.body.shape import AVERAGE, SHAPES, Shape, shape_words
from core.design.replay import replay
from core.errors import Refusal
from core.file.envelope import sealed
from core.file.reader import design_from_bytes
from core.file.writer import design_to_bytes
from tests.core.file.sample_designs import panel_design


def test_every_choice_has_its_words() -> None:
    """Each field of a shape, and each of its values; the words say all three."""
    assert tuple(SHAPES) == Shape.__struct_fields__
    for name, words in SHAPES.items():
        for value, word in words.items():
            assert word in shape_words(msgspec.convert({name: value}, Shape))


def test_a_file_keeps_the_shape_and_one_without_has_the_average() -> None:
    """What was chosen opens again; a file from before there was a shape opens too; a word that is none is refused."""
    given = panel_design()
    shaped = msgspec.structs.replace(given, body=msgspec.structs.replace(given.body, shape=Shape("below", "round")))
    assert design_from_bytes(design_to_bytes(shaped)).body.shape == Shape("below", "round")
    plain = msgspec.to_builtins(given)
    del plain["body"]["shape"]
    assert design_from_bytes(sealed(plain)).body.shape == AVERAGE
    plain["body"]["shape"] = {"profile": "square"}
    with pytest.raises(Refusal):
        design_from_bytes(sealed(plain))


def test_another_shape_leaves_the_block_alone() -> None:
    """Nothing is drafted anew, and every step is remembered: only the form asks for it."""
    done = replay(panel_design())
    body = msgspec.structs.replace(done.design.body, shape=Shape(stance="upright"))
    again = replay(msgspec.structs.replace(done.design, body=body), done)
    assert again.block is done.block
    assert all(a.effect is b.effect for a, b in zip(again.stages, done.stages, strict=True))

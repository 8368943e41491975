"""Another fabric for a piece."""

from __future__ import annotations

import pytest

from core.errors import Refusal
from core.steps.choose_fabric import ChooseFabric
from tests.paper_block import garment


def test_the_piece_has_the_fabric_and_is_else_as_it_was() -> None:
    """Its edges are the very records; the other piece is not touched."""
    before = garment()
    after = ChooseFabric("fabric-1", "front", "organza").apply(before).garment
    assert after.piece("front").fabric == "organza"
    assert after.piece("front").edges is before.piece("front").edges
    assert after.piece("back") is before.piece("back")


def test_the_same_fabric_changes_nothing() -> None:
    """The piece stays the very record, so that nothing is drawn anew."""
    before = garment()
    assert ChooseFabric("fabric-1", "front", "main").apply(before).garment.piece("front") is before.piece("front")


def test_a_piece_that_is_not_there_and_no_name_are_refused() -> None:
    """By the piece's name."""
    with pytest.raises(Refusal, match="no piece sleeve"):
        ChooseFabric("fabric-1", "sleeve", "main").apply(garment())
    with pytest.raises(Refusal, match="Name the fabric that piece front"):
        ChooseFabric("fabric-1", "front", " ").apply(garment())


def test_it_says_itself_in_one_sentence() -> None:
    """As to an apprentice."""
    assert ChooseFabric("f", "front", "organza").sentence(garment(), "in") == "Cut the front from organza."

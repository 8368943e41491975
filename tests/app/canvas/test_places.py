"""Pieces lie apart on the table, panels near where they were cut, and stay while something is dragged."""

from __future__ import annotations

from itertools import combinations

import pytest

from app.canvas.places import BETWEEN_PANELS, block_place, places
from core.design.replay import replay
from core.geometry.planar import distance_between, shared_area
from core.steps.catalogue import AnyStep
from core.steps.copy_pieces import CopyPieces
from core.steps.mirror import Mirror
from core.steps.unfold import Unfold
from tests.app.at_table import first_steps
from tests.demo_designs import concert


def test_front_at_the_right_back_at_the_left() -> None:
    """The front lies at its own coordinates, the back clear of it at the left."""
    garment = replay(first_steps(0)).garment
    found = places(garment)
    assert found["front"] == (0.0, 0.0)
    right_of_back = float((garment.piece("back").loop + found["back"])[:, 0].max())
    assert right_of_back < float(garment.piece("front").loop[:, 0].min()) - 20.0


def test_every_piece_of_the_demo_can_be_seen_whole() -> None:
    """No piece covers another, and panels of one block are parted."""
    garment = replay(concert()).garment
    found = places(garment)
    for a, b in combinations(garment.pieces.values(), 2):
        first, second = a.loop + found[a.name], b.loop + found[b.name]
        assert shared_area(first, second) < 1e-6, (a.name, b.name)
        assert distance_between(first, second) >= BETWEEN_PANELS - 1e-6, (a.name, b.name)


@pytest.mark.parametrize(
    "step",
    [
        Unfold("u", "side front"),
        Mirror("m", ("front yoke", "side front", "centre front", "centre back", "side back")),
        CopyPieces("c", ("side front", "centre front")),
    ],
)
def test_halves_images_and_copies_have_room(step: AnyStep) -> None:
    """Unfolded, mirrored or copied, the demo's pieces still lie clear of each other."""
    garment = replay(concert().with_step(step)).garment
    found = places(garment)
    for a, b in combinations(garment.pieces.values(), 2):
        assert shared_area(a.loop + found[a.name], b.loop + found[b.name]) < 1e-6, (a.name, b.name)


def test_places_stay_while_a_hand_drags() -> None:
    """With the places of a moment ago, no piece jumps, however its outline changed."""
    before = replay(first_steps(7)).garment
    kept = places(before)
    now = places(replay(first_steps(7)).garment, kept)
    assert now == kept


def test_a_gathered_block_lies_as_it_was_cut() -> None:
    """All its panels have the block's own shift, so that they meet along the lines."""
    garment = replay(first_steps(7)).garment
    found = places(garment, gathered="front")
    panels = [name for name, piece in garment.pieces.items() if piece.block == "front"]
    assert len(panels) == 3
    assert {found[name] for name in panels} == {block_place(garment, "front")}


def test_cups_lie_beside_the_front() -> None:
    """They have a frame of their own and are laid at the right of everything."""
    garment = replay(concert()).garment
    found = places(garment)
    front = max(
        float((piece.loop + found[name])[:, 0].max())
        for name, piece in garment.pieces.items()
        if piece.block == "front"
    )
    cups = [name for name, piece in garment.pieces.items() if piece.block == "cup"]
    assert cups
    assert all(float((garment.piece(name).loop + found[name])[:, 0].min()) > front for name in cups)

"""Whatever a hand does, in whatever order, the table shows a garment and says no more than sentences."""

from __future__ import annotations

import os

import pytest

from tests.app.at_table import AtTable, first_steps
from tests.app.wandering import Wanderer, broken_by, walked
from tests.demo_designs import concert


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_a_wandering_hand_breaks_nothing(seed: int) -> None:
    """After every act all outlines are simple and no step is refused; laid down, no trial stays in view."""
    at = AtTable(concert() if seed % 2 else first_steps(2))
    hand = Wanderer(at, seed)
    for _ in range(120):
        hand.chance.choice(hand.acts)()
        at.settle()
        assert broken_by(at.session.shown) == ""
    at.take("choose")
    assert at.session.shown is at.session.replay
    at.table.grab()


@pytest.mark.parametrize("seed", [0, 1])
def test_undo_and_redo_lead_to_the_same_ends(seed: int) -> None:
    """A hand that alters things: at both ends of the history the garment is the same to the last bit.

    With the walks above a thousand gestures in CI; three in ten must have changed something.
    """
    gestures = 320 if os.environ.get("CI") else 100
    walk = walked(concert() if seed % 2 else first_steps(4), 100 + seed, gestures)
    assert walk.fault == ""
    assert walk.is_equal
    assert walk.changes >= 0.3 * gestures

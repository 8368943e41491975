"""Ease and its presets."""

from __future__ import annotations

import pytest

from core.blocks.ease import EASE_PRESETS, Ease, EasePreset, refuse_absurd
from core.units import show_length
from tests.core.blocks.drafted_bodies import client

INCH = 25.4
BY_NAME = {preset.name: preset for preset in EASE_PRESETS}


def test_the_default_shows_as_on_a_tape() -> None:
    """2 in round the bust and 1 in round the waist, not 1 31/32."""
    assert (show_length(Ease().bust, "in"), show_length(Ease().waist, "in")) == ("2 in", "1 in")


@pytest.mark.parametrize(
    ("name", "least", "most"),
    [("strapless", 0.0, 1.0), ("close", 0.0, 3.0), ("fitted", 3.0, 4.0), ("semi-fitted", 4.0, 5.0)],
)
def test_bust_ease_lies_in_its_styles_range(name: str, least: float, most: float) -> None:
    """Inches round the bust by style (a sewing magazine, second-hand; strapless common practice: trade.md C6)."""
    assert least * INCH <= BY_NAME[name].ease.bust <= most * INCH


def test_handbook_presets_are_the_handbooks() -> None:
    """+10 and +6 cm with the shoulder dart, +12 and +6 with the armhole dart (trade.md B3, B4)."""
    found = {name: (preset.ease.bust, preset.ease.waist) for name, preset in BY_NAME.items() if "handbook" in name}
    assert found == {"handbook, shoulder dart": (100.0, 60.0), "handbook, armhole dart": (120.0, 60.0)}


@pytest.mark.parametrize("preset", EASE_PRESETS, ids=lambda preset: preset.name)
def test_a_block_can_be_drafted_with_every_preset(preset: EasePreset) -> None:
    """None is absurd; the bust line is as wide as body and ease; each says where it comes from."""
    refuse_absurd(preset.ease)
    sample = client(preset.ease)
    width = sum(piece.line(f"{piece.name}.bust_line").length for piece in sample.garment.pieces.values())
    assert width == pytest.approx((880.0 + preset.ease.bust) / 2, abs=0.1)
    assert any(word in preset.source for word in ("magazine", "handbook", "paper of 2017", "common practice"))
    assert "trade.md" not in preset.source, "she has no such page"

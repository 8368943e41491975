"""Names as a sentence says them."""

from __future__ import annotations

import pytest

from core.pieces.names import all_of


@pytest.mark.parametrize(
    ("names", "said"),
    [
        (["waist"], "the waist"),
        (["waist", "side"], "the waist and the side"),
        (["waist", "side", "neck"], "the waist, the side and the neck"),
    ],
)
def test_things_are_listed_as_in_a_sentence(names: list[str], said: str) -> None:
    """With commas, and one "and" before the last: British usage, without a comma before it (common practice)."""
    assert all_of(names) == said

"""What layers are cut from by their names (common practice)."""

from __future__ import annotations

import pytest

from core.fabrics.layers import layer_cloth
from core.fabrics.shelf import default_fabrics


@pytest.mark.parametrize(
    ("word", "own", "wanted"),
    [
        ("lining", "main", "lining"),
        ("underlining", "main", "organza"),
        ("second", "silk tulle", "silk tulle"),
        ("facing", "main", "lining"),
        ("foam", "cup", "foam"),
    ],
)
def test_a_layer_has_its_usual_cloth(word: str, own: str, wanted: str) -> None:
    """Lining from lining, underlining from organza, a second tulle from the piece's own, else by the word."""
    assert layer_cloth(word, own, default_fabrics()) == wanted


def test_without_lining_in_the_table_it_is_the_pieces_own() -> None:
    """A design of one fabric has no other."""
    assert layer_cloth("lining", "main", default_fabrics()[:1]) == "main"

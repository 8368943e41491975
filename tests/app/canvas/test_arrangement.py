"""How a table was left, as text: it comes back exactly, and what makes no sense counts as everything in order."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.canvas.arrangement import FARTHEST, IN_ORDER, Arrangement, read, written
from app.canvas.pairs import Pair
from tests.samples import replayed

MM = st.floats(-FARTHEST, FARTHEST)
NAMES = st.text(min_size=1, max_size=20)
DARTS = st.dictionaries(NAMES, st.lists(NAMES, max_size=3).map(tuple), max_size=3)
PAIRS = st.builds(Pair, NAMES, st.sampled_from((0, 1)), st.floats(0.0, FARTHEST), st.booleans())


@given(
    st.builds(
        Arrangement,
        st.dictionaries(NAMES, st.tuples(MM, MM), max_size=4),
        st.lists(PAIRS, max_size=3).map(tuple),
        DARTS,
        DARTS,
    )
)
def test_what_is_written_is_read_back(arrangement: Arrangement) -> None:
    """Names in any letters, places to the last digit."""
    assert read(written(arrangement)) == arrangement


@pytest.mark.parametrize(
    "text",
    [
        "",
        "no table",
        "[]",
        '{"apart": {"front": [1]}}',
        '{"apart": {"front": [1e300, 0]}}',
        '{"pairs": [{"seam": "side", "end": 7}]}',
        '{"pairs": [{"seam": "side", "along": -1}]}',
        '{"folded": {"front": "waist"}}',
    ],
)
def test_a_spoilt_text_counts_as_everything_in_order(text: str) -> None:
    """A state file is nobody's work: whatever is wrong in it costs the arrangement, and nothing is said."""
    assert read(text) == IN_ORDER


def test_only_what_the_garment_has_is_kept() -> None:
    """Pieces, seams and darts of an earlier state of the design are left out, and so is what was not moved."""
    garment = replayed("concert").garment
    left = Arrangement(
        {"front yoke": (5.0, 0.0), "gone": (1.0, 1.0), "centre front": (0.0, 0.0)},
        (Pair("shoulder"), Pair("gone")),
        {"gone": ("gone.dart",)},
    )
    assert left.of(garment) == Arrangement({"front yoke": (5.0, 0.0)}, (Pair("shoulder"),))

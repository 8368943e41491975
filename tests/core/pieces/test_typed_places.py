"""Places typed in the dressmaker's words, worked out by hand on the paper block."""

from __future__ import annotations

import pytest

from core.errors import Refusal
from core.pieces.records import Piece
from core.pieces.typed_places import typed_place
from tests.paper_block import garment


def piece(name: str = "front") -> Piece:
    """A piece of the paper block."""
    return garment().piece(name)


def test_a_landmark_is_meant_by_its_name() -> None:
    """In small letters or large ones, with any spaces."""
    for words in ("bust point", "Bust  Point", "bust point."):
        found = typed_place(garment(), piece(), words, "in")
        assert found.landmark == "bust_point"
        assert found.at == piece().landmarks["bust_point"]


def test_a_length_along_an_edge() -> None:
    """Stored as a distance from the end that was named, so that it holds when the edge moves; 2 in are 50.8 mm."""
    ends = garment().origins["front.shoulder"].ends
    found = typed_place(garment(), piece(), f"2 in from the {ends[0].replace('_', ' ')} along the shoulder", "cm")
    assert found.place is not None
    assert (found.place.edge, found.place.end) == ("front.shoulder", ends[0])
    assert found.place.distance == pytest.approx(50.8)


def test_the_end_of_an_edge_may_be_called_by_its_landmark() -> None:
    """The shoulder's neck end is the side neck point."""
    named = typed_place(garment(), piece(), "5 cm from the side neck point along the shoulder", "in")
    assert named.place is not None
    assert named.place.distance == pytest.approx(50.0)


def test_mid_armhole_is_a_share() -> None:
    """The middle stays the middle (a share, not a distance)."""
    found = typed_place(garment(), piece(), "mid armhole", "in")
    assert found.place is not None
    assert found.place.share == 0.5


@pytest.mark.parametrize(
    ("words", "dx", "dy"),
    [
        ("1 in below the bust point", 0.0, -25.4),
        ("1 in above the bust point", 0.0, 25.4),
        ("1 in towards the side of the bust point", 25.4, 0.0),
        ("1 in towards the centre of the bust point", -25.4, 0.0),
    ],
)
def test_a_length_off_a_landmark(words: str, dx: float, dy: float) -> None:
    """Straight up, down, out or in on the flat piece."""
    x, y = piece().landmarks["bust_point"]
    assert typed_place(garment(), piece(), words, "in").at == pytest.approx((x + dx, y + dy))


def test_on_the_back_the_side_lies_the_other_way() -> None:
    """The wearer's left back lies at x below 0, its side at the smallest x."""
    back = piece("back")
    name = next(iter(back.landmarks))
    x, _ = back.landmarks[name]
    found = typed_place(garment(), back, f"10 mm towards the side of the {name.replace('_', ' ')}", "in")
    assert found.at[0] == pytest.approx(x - 10.0)


def test_from_the_centre_and_the_waist() -> None:
    """As it is measured off paper: so far from the centre front, so far above the waist line y = 0."""
    assert typed_place(
        garment(), piece(), "3 in from the centre front, 7 in above the waist", "in"
    ).at == pytest.approx((76.2, 177.8))


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("", "Type a place"),
        ("somewhere", "is no place that is understood"),
        ("2 in from the moon along the shoulder", "ends at"),
        ("2 in from the neck along the hem", "has no edge hem"),
        ("2 in below the moon", "has no landmark moon"),
        ("two in below the bust point", "is not a length"),
        ("900 in from the side neck along the shoulder", "only"),
        ("x" * 200, "Type a place"),
    ],
)
def test_what_is_not_understood_is_refused_with_a_way_out(words: str, said: str) -> None:
    """One sentence with what this piece has, or with examples."""
    with pytest.raises(Refusal, match=said):
        typed_place(garment(), piece(), words, "in")

"""Slash and spread: cloth let in along a slash, hinged or parallel; every other edge keeps its length."""

from __future__ import annotations

import pytest

from core.errors import Refusal
from core.geometry.placement import gap
from core.geometry.polyline import as_point
from core.pieces.outline import cloth_area
from core.pieces.places import Place
from core.pieces.records import Piece
from core.pieces.seams import match
from core.steps.slash import SlashAndSpread
from tests.paper_block import garment

NECK, WAIST = Place("back.neck", "shoulder", share=0.5), Place("back.waist", "side", share=0.4)
SIDE = Place("back.side", "waist", share=0.5)


def slashed(opens: Place, hinge: Place, width: float, *, parallel: bool = False) -> Piece:
    """The paper back, slashed."""
    return SlashAndSpread("s", "back", opens, hinge, width, parallel).apply(garment()).garment.piece("back")


def held(piece: Piece, name: str) -> float:
    """Length of all edges that descend from one of the back's."""
    return sum(edge.length for edge in piece.edges if edge.origin.edge == f"back.{name}")


@pytest.mark.parametrize("hinge", [NECK, SIDE])
def test_hinged_only_the_opened_edge_grows(hinge: Place) -> None:
    """By the width, chord over the gap; the hinge and all other edges keep their lengths (design law)."""
    before, after = garment().piece("back"), slashed(WAIST, hinge, 20.0)
    for name in ("centre_back", "neck", "shoulder", "armhole", "side"):
        assert held(after, name) == pytest.approx(held(before, name), abs=1e-9)
    assert held(after, "waist") == pytest.approx(held(before, "waist") + 20.0, abs=1e-6)


def test_hinged_it_adds_a_triangle_of_paper() -> None:
    """A gap of 20 mm over a slash of length L adds L x 20 / 2, nearly: legs L, base 20 (plane geometry)."""
    before, after = garment().piece("back"), slashed(WAIST, NECK, 20.0)
    top = (-50.0 - 7.5, 405.0 + 7.5)
    low = (-220.0 + 0.4 * 220.0, 0.0)
    reach = gap(low, (top[0], top[1]))
    triangle = 0.5 * 20.0 * (reach**2 - 10.0**2) ** 0.5
    assert cloth_area(after) - cloth_area(before) == pytest.approx(triangle, rel=0.02)


def test_parallel_both_ends_open() -> None:
    """Waist and neck each grow by the width; the paper is a strip of that width, as long as the slash."""
    before, after = garment().piece("back"), slashed(WAIST, NECK, 20.0, parallel=True)
    assert held(after, "neck") == pytest.approx(held(before, "neck") + 20.0, abs=1e-6)
    assert held(after, "waist") > held(before, "waist") + 19.0
    assert held(after, "side") == pytest.approx(held(before, "side"))


def test_the_centre_back_lies_still() -> None:
    """The part without the centre moves, whichever way the slash is named."""
    for piece in (slashed(WAIST, NECK, 20.0), slashed(NECK, WAIST, 20.0)):
        assert as_point(piece.edge("centre_back").points[0]) == (0.0, 0.0)


def test_seams_still_find_their_edges() -> None:
    """The side seam, slashed and hinged on its far edge, is longer by the paper and says so."""
    step = SlashAndSpread("s", "back", SIDE, NECK, 12.0)
    before = garment()
    after = step.apply(before).garment
    change = match(after, after.seam("side")).difference - match(before, before.seam("side")).difference
    assert change == pytest.approx(-12.0, abs=1e-6)


def test_it_says_how_much_paper_went_in() -> None:
    """The note counts the paper; nothing spread is nothing changed."""
    note = SlashAndSpread("s", "back", WAIST, NECK, 20.0).apply(garment()).notes[0]
    assert note.kind == "paper"
    start = garment()
    assert SlashAndSpread("s", "back", WAIST, NECK, 0.0).apply(start).garment.piece("back") is start.piece("back")


@pytest.mark.parametrize(
    ("step", "words"),
    [
        (SlashAndSpread("s", "back", WAIST, NECK, 500.0), "from 0 to 200"),
        (SlashAndSpread("s", "back", WAIST, Place("back.waist", "side", share=0.8), 9.0), "one edge"),
        (
            SlashAndSpread(
                "s", "back", Place("back.armhole", "shoulder", share=0.05), Place("back.side", "waist", share=0.9), 9.0
            ),
            "leaves",
        ),
        (
            SlashAndSpread(
                "s",
                "front",
                Place("front.centre_front", "neck", share=0.5),
                Place("front.waist", "side", share=0.1),
                9.0,
            ),
            "fold",
        ),
        (
            SlashAndSpread(
                "s", "front", Place("front.side", "waist", share=0.9), Place("front.neck", "shoulder", share=0.5), 9.0
            ),
            "dart",
        ),
    ],
)
def test_what_cannot_be_spread_is_refused(step: SlashAndSpread, words: str) -> None:
    """Each refusal names the piece and the way out."""
    with pytest.raises(Refusal, match=words):
        step.apply(garment())

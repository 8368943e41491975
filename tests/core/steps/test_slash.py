"""Slash and spread: cloth let in along a slash, hinged or parallel; every other edge keeps its length."""

from __future__ import annotations

from math import asin, hypot, tan

import pytest

from core.errors import Refusal
from core.geometry.placement import gap
from core.geometry.polyline import as_point
from core.pieces.outline import cloth_area
from core.pieces.places import Place
from core.pieces.records import Garment, Piece
from core.pieces.seams import match
from core.steps.slash import SlashAndSpread
from core.steps.step import Outcome
from tests.paper_block import edge, garment, origins

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


def test_a_fold_to_nothing_leaves_every_other_edge() -> None:
    """4 mm folded out at the waist on a slant, to nothing at the side: only the waist is shorter (design law)."""
    before, after = garment().piece("back"), slashed(WAIST, SIDE, -4.0)
    for name in ("centre_back", "neck", "shoulder", "armhole", "side"):
        assert held(after, name) == pytest.approx(held(before, name), abs=1e-6)
    # Square to the fold 4 mm wide, a straight edge at an angle loses 4 sin(angle), the step being shared.
    slash = (-220.0 - 10.0 * 0.5 + 132.0, 105.0)
    assert held(before, "waist") - held(after, "waist") == pytest.approx(4.0 * 105.0 / hypot(*slash), rel=0.05)


def test_a_fold_square_to_its_edge_meets_without_a_step() -> None:
    """A panel of 200 by 100 mm folded by 10 from the middle of its top to the middle of its foot: legs of one length.

    Its lines meet the top 2 x 100 tan(half the angle) apart, and so much times 100 / 2 mm² of cloth are gone.
    """
    panel, outcome = folded(10.0, parallel=False)
    lengths = [sum(e.length for e in panel.edges if e.origin.edge == name) for name in ("p.top", "p.foot")]
    wide = 2.0 * 100.0 * tan(asin(5.0 / 100.0))
    assert lengths == pytest.approx([200.0 - wide, 200.0])
    assert 200.0 * 100.0 - cloth_area(panel) == pytest.approx(wide * 50.0)
    assert [note.kind for note in outcome.notes] == ["paper"]


def test_a_fold_all_along_takes_a_strip_out() -> None:
    """Parallel, 10 mm wide: top and foot are 190 mm, and 10 x 100 mm² of cloth are gone."""
    panel, _ = folded(10.0, parallel=True)
    assert [panel.edge(name).length for name in ("top", "foot")] == pytest.approx([190.0, 190.0])
    assert 200.0 * 100.0 - cloth_area(panel) == pytest.approx(1000.0)


def test_a_slanting_fold_shares_the_step_and_says_so() -> None:
    """Parallel from (60, 100) to (140, 0), 10 mm wide: each edge meets with a step of 10 / tan(angle to the edge).

    The slash leaves the top at the angle whose tangent is 100 / 80: pushed 10 mm square to itself, the strip's end
    slides 10 x cos along the fold's own direction.
    """
    along = hypot(80.0, 100.0)
    _, outcome = folded(10.0, parallel=True, opens=140.0)
    step = 10.0 / (100.0 / along) * (80.0 / along)
    assert any(f"a step of {step:.1f} mm" in note.sentence for note in outcome.notes)


def test_a_fold_lists_the_seams_that_it_shortens() -> None:
    """The side seam loses what is folded out of it, by name."""
    outcome = SlashAndSpread("s", "back", SIDE, NECK, -12.0).apply(garment())
    assert any(note.kind == "touched" and "seam side" in note.sentence for note in outcome.notes)


def test_it_says_what_was_pinned_at_the_fitting() -> None:
    """The sentence stays one sentence, whatever was noted."""
    step = SlashAndSpread("s", "back", WAIST, NECK, -12.7, fitting="Gapes when she bows. Left more than right.")
    words = step.sentence(garment(), "in")
    assert words.startswith("Fold 1/2 in out of the back from 40%")
    assert words.endswith("as pinned at the fitting (Gapes when she bows; Left more than right).")


def panel_of_cloth() -> Garment:
    """A panel of 200 by 100 mm."""
    corners = (0.0, 0.0), (200.0, 0.0), (200.0, 100.0), (0.0, 100.0)
    names = ("foot", "end", "top", "begin")
    edges = tuple(edge(f"p.{name}", "raw", 0.0, corners[i], corners[(i + 1) % 4]) for i, name in enumerate(names))
    panel = Piece("panel", "front", edges)
    return Garment({"panel": panel}, {}, origins(panel), {}, {"panel": panel})


def folded(width: float, *, parallel: bool, opens: float = 100.0) -> tuple[Piece, Outcome]:
    """The panel with a fold from its top, so far from its end, to its foot as far from the other."""
    places = Place("p.top", "end", distance=opens), Place("p.foot", "begin", distance=opens)
    outcome = SlashAndSpread("s", "panel", *places, -width, parallel).apply(panel_of_cloth())
    return outcome.garment.piece("panel"), outcome


@pytest.mark.parametrize(
    ("step", "words"),
    [
        (SlashAndSpread("s", "back", WAIST, NECK, 500.0), "up to 200 mm"),
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
        (SlashAndSpread("s", "back", Place("back.waist", "side", share=0.01), NECK, -12.0), "runs off the waist"),
        (
            SlashAndSpread(
                "s",
                "front",
                Place("front.waist", "centre_front", distance=110.0),
                Place("front.neck", "shoulder", share=0.5),
                -12.0,
            ),
            "dart|runs off",
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

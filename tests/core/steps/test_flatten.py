"""Flatten: a panel that holds a dart's end laid flat; edges keep their lengths, the strain is said."""

from __future__ import annotations

from itertools import pairwise
from math import degrees, radians, remainder, sin, tan, tau

import pytest
from msgspec.structs import replace

from core.errors import Refusal
from core.geometry.polyline import end_direction, length
from core.pieces.outline import bridge, cloth_area, named
from core.pieces.places import Place
from core.pieces.records import Dart, Edge, Garment, Piece, Seam, Span
from core.pieces.seams import match
from core.steps.flatten import Flatten, strain
from tests.paper_block import edge, origins

POINT = (100.0, 60.0)


def yoke(angle: float) -> Piece:
    """A panel of 200 by 100 mm, its fold at x = 0, with a dart from the middle of its lower edge to (100, 60)."""
    half = 60.0 * tan(radians(angle) / 2)
    first, last = (100.0 - half, 0.0), (100.0 + half, 0.0)
    left = edge("p.sheer", "seam", 0.0, (0.0, 0.0), first)
    edges = named(
        (
            edge("p.centre_front", "fold", 0.0, (0.0, 100.0), (0.0, 0.0)),
            left,
            bridge("p.dart", first, last),
            edge("p.sheer", "seam", left.length, last, (200.0, 0.0)),
            edge("p.shoulder", "seam", 0.0, (200.0, 0.0), (200.0, 100.0)),
            edge("p.neck", "opening", 0.0, (200.0, 100.0), (0.0, 100.0)),
        )
    )
    return Piece("yoke", "front", edges, (Dart("p.dart", POINT, (first, last), "dart", POINT),))


def worn(angle: float) -> Garment:
    """The panel sewn along its lower edge to a straight one as long as that edge with the dart shut."""
    panel = yoke(angle)
    held = sum(e.length for e in panel.edges if e.origin.edge == "p.sheer")
    lower = Piece(
        "lower",
        "front",
        (
            edge("q.sheer", "seam", 0.0, (held, 0.0), (0.0, 0.0)),
            edge("q.waist", "hem", 0.0, (0.0, 0.0), (0.0, -50.0), (held, -50.0), (held, 0.0)),
        ),
    )
    seam = Seam("sheer", (Span("p.sheer"),), (Span("q.sheer", backwards=True),), ("centre_front", "shoulder"))
    pieces = {"yoke": panel, "lower": lower}
    return Garment(pieces, {"sheer": seam}, origins(panel, lower), {"p.shoulder": "left open"}, pieces)


def flat(*, stretch: float = 0.5, at: float = 100.0, end: str = "shoulder") -> Flatten:
    """The step that lets the dart out into the neck."""
    return Flatten("f", "yoke", "p.dart", Place("p.neck", "shoulder", distance=at), end, stretch)


def test_receiving_and_mating_edges_keep_their_lengths() -> None:
    """The neck is 200 mm again, the lower edge as long as its mate, and no dart is left (design law)."""
    before, after = worn(6.0), flat().apply(worn(6.0)).garment
    panel = after.piece("yoke")
    assert panel.edge("neck").length == pytest.approx(200.0, abs=1e-6)
    assert match(after, after.seam("sheer")).difference == pytest.approx(0.0, abs=1e-9)
    assert match(before, before.seam("sheer")).difference == pytest.approx(0.0, abs=1e-9)
    assert panel.darts == ()
    assert not any(e.kind == "dart base" for e in panel.edges)


def test_the_fold_lies_still_and_the_other_side_turns() -> None:
    """The lower edge right of the dart turns down by the dart's angle, so that it runs on from the left."""
    after = flat().apply(worn(6.0)).garment.piece("yoke")
    assert after.edge("centre_front").points.tolist() == [[0.0, 100.0], [0.0, 0.0]]
    right = [e for e in after.edges if e.origin.edge == "p.sheer"][-1]
    assert degrees(end_direction(right.points, at_end=True, chord=5.0)) == pytest.approx(-6.0, abs=1e-6)


def test_the_paper_is_the_opened_wedge_less_what_the_neighbour_pays() -> None:
    """Wedge of 40 mm: r² sin(t) / 2 = 84 mm²; 2 r sin(t / 2) = 4.19 mm off over 8 mm and half of 72 mm: 184 mm².

    Drawn fair from 32 mm on both sides of its middle, the neck loses a third of the triangle that its turn makes.
    """
    before, after = yoke(6.0), flat().apply(worn(6.0)).garment.piece("yoke")
    wedge = 40.0**2 * sin(radians(6.0)) / 2
    paid = 2 * 40.0 * sin(radians(3.0)) * (8.0 + 72.0 / 2)
    rounded = 32.0**2 * sin(radians(6.0)) / 2 / 3
    assert cloth_area(after) - cloth_area(before) == pytest.approx(wedge - paid - rounded, abs=4.0)


def test_the_note_counts_paper_not_the_turn() -> None:
    """Added less taken off is what the cloth grew by, though a part of the panel was turned."""
    outcome = flat().apply(worn(6.0))
    note = next(note for note in outcome.notes if note.kind == "paper")
    added, removed = (float(words.split()[0]) for words in note.sentence.split(": ")[1:])
    grown = cloth_area(outcome.garment.piece("yoke")) - cloth_area(yoke(6.0))
    assert 100.0 * (added - removed) == pytest.approx(grown, abs=2.0)
    assert removed < 3.0


def test_the_neck_has_no_corner_left() -> None:
    """On both sides of the paper it turned by half the angle; drawn fair it turns a little at a time."""
    neck = flat().apply(worn(6.0)).garment.piece("yoke").edge("neck").points
    ways = [end_direction(neck[i : i + 2], at_end=False, chord=1.0) for i in range(len(neck) - 1)]
    turns = [abs(remainder(b - a, tau)) for a, b in pairwise(ways)]
    assert max(turns) < radians(2.0)
    assert length(neck) > 195.0


@pytest.mark.parametrize(("angle", "share"), [(6.0, 0.017), (12.6, 0.036), (27.7, 0.083)])
def test_the_strain_is_that_of_a_cone_laid_flat(angle: float, share: float) -> None:
    """1.7, 3.6 and 8.3 % at 6, 12.6 and 27.7 degrees (cutting.md 3)."""
    assert strain(yoke(angle).darts[0]) == pytest.approx(share, abs=0.0005)


def test_strain_paper_and_payer_are_said() -> None:
    """The residual strain with what the cloth gives, the paper, and who pays how much."""
    notes = {note.kind: note.sentence for note in flat().apply(worn(6.0)).notes}
    assert "strained by 1.7%" in notes["residual"]
    assert "gives 12.5%" in notes["residual"]
    assert "cm²" in notes["paper"]
    assert "The shoulder of piece yoke pays 4." in notes["advice"]


def test_a_seam_that_the_payer_is_in_is_named() -> None:
    """The shoulder sewn to something is longer by its fade, and its seam is listed."""
    start = worn(6.0)
    seam = Seam("front shoulder", (Span("p.shoulder"),), (Span("q.waist"),), ("sheer", "neck"))
    outcome = flat().apply(replace(start, seams={**start.seams, "front shoulder": seam}))
    assert any(note.kind == "touched" and "front shoulder" in note.sentence for note in outcome.notes)


def test_a_small_base_is_eased_instead() -> None:
    """2 degrees at 60 mm are 2.1 mm: the edge keeps them, and the seam is allowed them as ease (cutting.md 10)."""
    width = 2 * 60.0 * tan(radians(1.0))
    after = flat().apply(worn(2.0)).garment
    panel = after.piece("yoke")
    assert panel.darts == ()
    assert panel.edge("sheer").length == pytest.approx(200.0)
    assert after.seam("sheer").ease == pytest.approx(width)
    assert match(after, after.seam("sheer")).difference == pytest.approx(0.0, abs=1e-9)


def test_on_the_other_side_of_the_seam_the_ease_counts_the_other_way() -> None:
    """difference = a - b - ease: where the panel is side b, more of it is negative ease."""
    start = worn(2.0)
    seam = start.seam("sheer")
    turned = replace(start, seams={"sheer": replace(seam, a=seam.b, b=seam.a)})
    after = flat().apply(turned).garment
    assert after.seam("sheer").ease < 0.0
    assert match(after, after.seam("sheer")).difference == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize(
    ("angle", "step", "words"),
    [
        (12.6, flat(at=145.0), "would open 13 mm"),
        (6.0, flat(stretch=0.0), "strained by 1.7%"),
        (6.0, flat(stretch=0.05), "gives 1.5%"),
        (27.7, flat(stretch=0.3), "gives 7.5%"),
        (6.0, flat(stretch=-1.0), "0 or more"),
        (6.0, flat(end="centre_front"), "is a fold, so it cannot pay"),
        (6.0, flat(end="elbow"), "not at the elbow"),
        (6.0, flat(at=2.0), "within 5 mm"),
        (6.0, Flatten("f", "yoke", "p.dart", Place("p.centre_front", "neck", share=0.3), "neck", 0.5), "is a fold"),
        (6.0, Flatten("f", "yoke", "p.dart", Place("p.sheer", "shoulder", share=0.2), "shoulder", 0.5), "holds the"),
        (6.0, Flatten("f", "yoke", "p.dart", Place("p.shoulder", "neck", share=0.5), "sheer", 0.5), "cannot pay"),
        (6.0, Flatten("f", "yoke", "p.tuck", Place("p.neck", "shoulder", share=0.5), "shoulder", 0.5), "no open"),
    ],
)
def test_every_refusal_offers_the_line_through_the_bust_point(angle: float, step: Flatten, words: str) -> None:
    """One sentence with the figure, the piece, and both ways out (cutting.md 2, 3)."""
    with pytest.raises(Refusal, match=words) as refused:
        step.apply(worn(angle))
    sentence = refused.value.sentence
    assert sentence.endswith("or move the sheer line through the bust point.")
    assert "yoke" in sentence
    assert ". " not in sentence.replace("1. ", "")


def test_a_dart_that_ends_on_the_outline_is_not_flattened() -> None:
    """There the panel lies flat once the dart is closed."""
    start = worn(6.0)
    panel = start.piece("yoke")
    moved: list[Edge] = [
        edge("p.neck", "opening", 0.0, (200.0, 100.0), POINT, (0.0, 100.0)) if e.name == "neck" else e
        for e in panel.edges
    ]
    start = replace(start, pieces={**start.pieces, "yoke": replace(panel, edges=tuple(moved))})
    with pytest.raises(Refusal, match="does not end inside"):
        flat().apply(start)

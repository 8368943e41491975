"""Copy: the same shapes under names of their own; what was there is left alone."""

from __future__ import annotations

import pytest

from core.errors import Refusal
from core.pieces.seams import match
from core.steps.copy_pieces import CopyPieces
from core.steps.mapping import landmarks_of
from core.steps.move_edge import MoveEdge
from core.steps.pivot import Pivot
from core.steps.unfold import Unfold
from tests.core.laws.sample_steps import done, drafted, panels, sheer
from tests.paper_block import garment
from tests.samples import replayed

BOTH = CopyPieces("c", ("front", "back"))


def test_a_copy_has_the_same_shape_and_its_own_names() -> None:
    """Outline, darts and landmarks lie as they lay; origins, darts and lines have the word before them."""
    before, after = garment().piece("front"), BOTH.apply(garment()).garment.piece("lining front")
    assert after.loop.tolist() == before.loop.tolist()
    assert [edge.name for edge in after.edges] == [edge.name for edge in before.edges]
    assert {edge.origin.edge for edge in after.edges} == {f"lining.{edge.origin.edge}" for edge in before.edges}
    assert [dart.name for dart in after.darts] == ["lining.front.waist_dart", "lining.front.shoulder_dart"]
    assert landmarks_of(after) == landmarks_of(before)
    assert (after.fabric, before.fabric) == ("lining", "main")
    assert after.cut == "fold"


def test_seams_between_copies_are_copied() -> None:
    """As long as the first, and the first are not sewn twice."""
    start = garment()
    after = BOTH.apply(start).garment
    assert set(after.seams) == {"shoulder", "side", "lining.shoulder", "lining.side"}
    for name in start.seams:
        old, first, copy = (match(g, g.seam(n)) for g, n in ((start, name), (after, name), (after, f"lining.{name}")))
        assert (first.length_a, first.length_b) == (old.length_a, old.length_b)
        assert (copy.length_a, copy.length_b) == (old.length_a, old.length_b)
        assert set(copy.pieces) == {"lining front", "lining back"}


def test_what_is_copied_alone_is_sewn_in_with_its_piece() -> None:
    """Its edges wait for no mate: they are open on purpose, with the reason."""
    after = CopyPieces("c", ("front",), "underlining").apply(garment()).garment
    assert not any(name.startswith("underlining") for name in after.seams)
    assert after.open_edges["underlining.front.side"] == "sewn in with the front"


def test_numbers_are_free_ones() -> None:
    """Panels 11, 12, 13: their copies get numbers that no piece has."""
    start = drafted("middling")
    cut = done(start, (sheer(start), panels(start)))
    after = CopyPieces("c", ("yoke", "centre front"), "lining").apply(cut).garment
    numbers = [piece.number for piece in after.pieces.values() if piece.number]
    assert len(numbers) == len(set(numbers)) == 5


def test_a_copy_can_be_changed_without_its_original() -> None:
    """Moving the lining's neck leaves the front's, and a pivot in it finds its own darts."""
    start = BOTH.apply(garment()).garment
    moved = MoveEdge("m", "lining back", "neck", -5.0).apply(start).garment
    assert moved.piece("back") is start.piece("back")
    step = Pivot("p", "lining front", "lining.front.shoulder_dart", into="lining.front.waist_dart")
    assert len(step.apply(start).garment.piece("lining front").darts) == 1


def test_a_copy_of_an_unfolded_piece_keeps_its_halves_apart() -> None:
    """Right names stay right names behind the word."""
    after = done(garment(), (Unfold("u", "front"), CopyPieces("c", ("front",)))).piece("lining front")
    assert {"side", "right.side"} <= {edge.name for edge in after.edges}


@pytest.mark.parametrize(
    ("step", "words"),
    [
        (CopyPieces("c", ()), "at least one"),
        (CopyPieces("c", ("front", "front")), "once"),
        (CopyPieces("c", ("front",), ""), "a word such as lining"),
        (CopyPieces("c", ("front",), "a.b"), "a word such as lining"),
        (CopyPieces("c", ("front",), "right"), "a word such as lining"),
        (CopyPieces("c", ("sleeve",)), "no piece sleeve"),
    ],
)
def test_what_cannot_be_copied_is_refused(step: CopyPieces, words: str) -> None:
    """Each refusal names the piece or the way out."""
    with pytest.raises(Refusal, match=words):
        step.apply(garment())


def test_a_word_that_is_taken_is_refused() -> None:
    """Two linings of one piece need two words."""
    start = BOTH.apply(garment()).garment
    with pytest.raises(Refusal, match="lining front already"):
        CopyPieces("d", ("front",)).apply(start)
    assert "interlining front" in CopyPieces("d", ("front",), "interlining").apply(start).garment.pieces


def test_what_is_done_to_other_pieces_leaves_the_copy_the_same_record() -> None:
    """A copy of the back is not made again when the front is moved: what is drawn of it can be kept."""
    start, step = garment(), CopyPieces("c", ("back",))
    moved = MoveEdge("m", "front", "neck", -4.0).apply(start).garment
    assert [a == b for a, b in zip(step.reads(start), step.reads(moved), strict=True)].count(False) == 0
    changed = MoveEdge("m", "back", "neck", -4.0).apply(start).garment
    assert step.reads(changed) != step.reads(start)


def test_pieces_can_be_lined_one_after_the_other() -> None:
    """The yoke is lined after the panels under one word, though both hold part of the armhole; twice is refused."""
    garment = replayed("concert").garment
    first = CopyPieces("copy-1", ("side front",)).apply(garment).garment
    both = CopyPieces("copy-2", ("front yoke",)).apply(first).garment
    assert {"lining side front", "lining front yoke"} <= set(both.pieces)
    with pytest.raises(Refusal, match="lining front yoke already"):
        CopyPieces("copy-3", ("front yoke",)).apply(both)

"""A hand at the lay: every act gives a sound lay or a sentence, and never alters the lay before it."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from msgspec.structs import replace

from core.design.kept_lay import LayChoices
from core.errors import Refusal
from core.outputs.lay_by_hand import filled, flipped, locked, moved, turned
from core.outputs.lay_parts import Part
from core.outputs.lay_plan import Laid, Lay
from core.outputs.lay_proof import faults
from tests.core.outputs.lay_samples import parts, piece, rectangle

CHOICES = LayChoices(gap=3.0, grain="both ways")


def pair(choices: LayChoices = CHOICES) -> tuple[Lay, tuple[Part, ...]]:
    """A left and a right rectangle of 300 by 200 mm, the right one 203 mm above the left."""
    found = rectangle(300.0, 200.0)
    (part,) = parts(found, choices=choices)
    # The left, x 0..200 and y 0..300, turned by -90 degrees lies at x 0..300, y -200..0; the right at y 0..200.
    left, right = Laid(part, 0.0, 200.0, -90.0), Laid(part, 0.0, 203.0, -90.0, mirrored=True)
    return Lay(found.fabric, "open", choices, (left, right)), (part,)


def test_a_piece_moves_where_nothing_is_in_the_way() -> None:
    """Along and across; the lay before it is as it was."""
    lay, wanted = pair()
    after = moved(lay, 1, (50.0, 100.0))
    assert (after.laid[1].x, after.laid[1].y) == pytest.approx((50.0, 303.0))
    assert lay.laid[1].x == 0.0
    assert faults(after, wanted) == ()
    assert after.length == pytest.approx(350.0)


def test_a_piece_comes_up_to_what_is_in_its_way() -> None:
    """Pushed down onto the other from 100 mm above, it stops where the gap is kept, short of it by a step at most."""
    lay, wanted = pair()
    away = moved(lay, 1, (0.0, 100.0))
    back = moved(away, 1, (0.0, -140.0))
    assert faults(back, wanted) == ()
    assert 3.0 - 0.1 <= back.laid[1].box[1] - back.laid[0].box[3] <= 3.0 + 140.0 / 60.0


def test_a_piece_slides_along_the_selvedge() -> None:
    """Pulled over it, it stays inside."""
    lay, _ = pair()
    after = moved(lay, 1, (400.0, 5000.0))
    assert after.laid[1].box[3] == pytest.approx(lay.strip)
    assert after.laid[1].x == pytest.approx(400.0)


def test_no_piece_is_moved_past_the_end_of_any_bolt() -> None:
    """Pushed a kilometre along, it stops within 100 m, past which no lay can be saved."""
    lay, _ = pair()
    after = moved(lay, 1, (1e6, 0.0))
    assert 10_000.0 < after.length <= 100_000.0


def test_a_piece_that_cannot_move_says_what_is_in_the_way() -> None:
    """Both pieces are named."""
    lay, _ = pair()
    with pytest.raises(Refusal, match=r"Pieces 4 centre back and 4 centre back .*Move it elsewhere"):
        moved(lay, 1, (0.0, -50.0))


def test_a_piece_turns_end_for_end_in_its_place() -> None:
    """The middle of its box stays, and twice is as before."""
    lay, wanted = pair()
    once = turned(lay, 0)
    assert once.laid[0].box == pytest.approx(lay.laid[0].box)
    assert faults(once, wanted) == ()
    twice = turned(once, 0)
    assert twice.laid[0].loop == pytest.approx(lay.laid[0].loop)


def test_a_piece_turned_ever_so_often_is_turned_by_less_than_all_round() -> None:
    """Else the file, which takes ten times round at most, could not be saved any more."""
    lay, wanted = pair()
    for _ in range(41):
        lay = turned(lay, 0)
    assert faults(lay, wanted) == ()
    assert abs(lay.laid[0].turn) <= 180.0


def test_a_locked_piece_stays_until_it_is_unlocked() -> None:
    """Neither moved nor turned nor flipped; each says so, and unlocked it is free again."""
    lay, _ = pair()
    held = locked(lay, 0, is_locked=True)
    acts: tuple[Callable[[Lay, int], Lay], ...] = (lambda of, index: moved(of, index, (50.0, 0.0)), turned, flipped)
    for act in acts:
        with pytest.raises(Refusal, match="4 centre back is locked in its place: unlock it first"):
            act(held, 0)
    assert turned(locked(held, 0, is_locked=False), 0).laid[0].turn != lay.laid[0].turn


def test_nap_forbids_turning() -> None:
    """The sentence says why, and what to choose."""
    lay, _ = pair(LayChoices(gap=3.0, grain="one way"))
    with pytest.raises(Refusal, match=r"one way.*either way"):
        turned(lay, 0)


def test_flipping_one_of_a_pair_exchanges_it() -> None:
    """There still are one left and one right."""
    lay, wanted = pair()
    after = flipped(lay, 0)
    assert [laid.mirrored for laid in after.laid] == [True, False]
    assert faults(after, wanted) == ()


def test_a_piece_that_is_cut_once_is_not_flipped() -> None:
    """It has a right side."""
    found = rectangle(300.0, 200.0)
    single = replace(found, piece=replace(found.piece, is_single=True))
    (part,) = parts(single, choices=CHOICES)
    lay = Lay(single.fabric, "open", CHOICES, (Laid(part, 0.0, 200.0, -90.0),))
    with pytest.raises(Refusal, match="cut once, right side up"):
        flipped(lay, 0)


def test_a_piece_on_the_fold_stays_on_it() -> None:
    """Moved across it slides along; turned it lies the other way along the fold."""
    (part,) = parts(piece("front yoke"), model="folded", choices=CHOICES)
    turn = part.allowed(is_mirrored=True)[0]
    lay = Lay(
        part.finished.fabric,
        "folded",
        CHOICES,
        tuple(Laid(part, 600.0 * index, 0.0, turn, mirrored=True) for index in range(part.copies)),
    ).settled()
    assert faults(moved(lay, 1, (30.0, 80.0)), (part,)) == ()
    other = turned(lay, 0)
    assert faults(other, (part,)) == ()
    assert not other.laid[0].mirrored


def test_what_is_locked_is_kept_when_the_rest_is_filled_in() -> None:
    """The left is locked far from the end; the right is laid anew, and the lay is sound."""
    lay, wanted = pair()
    held = locked(moved(lay, 0, (0.0, 700.0)), 0, is_locked=True)
    after = filled(held, seconds=5.0, told=lambda best: best is not None, workers=1)
    assert faults(after, wanted) == ()
    first = next(laid for laid in after.laid if laid.locked)
    assert first.y == held.laid[0].y


def test_filling_with_nothing_or_everything_locked_is_refused() -> None:
    """The sentence says what to lock."""
    lay, _ = pair()
    with pytest.raises(Refusal, match="no piece is locked"):
        filled(lay, seconds=1.0, told=lambda _: True)
    both = locked(locked(lay, 0, is_locked=True), 1, is_locked=True)
    with pytest.raises(Refusal, match="every piece is locked"):
        filled(both, seconds=1.0, told=lambda _: True)

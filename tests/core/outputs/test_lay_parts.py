"""What is laid on the cloth: outlines, counts, hands and turns, and the sentences for what cannot be laid."""

from __future__ import annotations

import msgspec
import numpy as np
import pytest
from msgspec.structs import replace
from shapely.geometry import Polygon

from core.design.finishes import Doubled
from core.design.kept_lay import LayChoices
from core.errors import Refusal
from core.outputs.lay_parts import choices_for, has_direction, pieces_digest, rotated, turns_for
from tests.core.outputs.lay_samples import fabric_of, outlined, parts, piece, pieces, quickly_laid, rectangle

SQUARE = [(0, 0), (200, 0), (200, 200), (0, 200), (0, 0)]


@pytest.mark.parametrize(
    ("line", "why"),
    [
        pytest.param([(0, 0), (300, 0), (600, 0), (0, 0)], "nowhere wide enough", id="zero area"),
        pytest.param([(0, 0), (300, 0), (0, 0)], "no cloth inside", id="two points"),
        pytest.param([(0, 0), (200, 0), (np.nan, 200), (0, 0)], "no number", id="not a number"),
        pytest.param([(0, 0), (200, 0), (np.inf, 200), (0, 0)], "no number", id="infinity"),
        pytest.param([(0, 0), (500, 0), (500, 0.3), (0, 0.3), (0, 0)], "nowhere wide enough", id="sliver"),
        pytest.param(
            [(0, 0), (200, 0), (100, 100), (200, 200), (0, 200), (100, 100), (0, 0)], "itself", id="vertex twice"
        ),
        pytest.param(
            [(0, 0), (300, 0), (300, 300), (150, 300), (150, 200), (200, 200), (200, 100), (100, 100), (100, 200),
             (150, 200), (150, 300), (0, 300), (0, 0)],
            "touches itself", id="keyhole",
        ),
        pytest.param([(0, 0), (200, 200), (200, 0), (0, 100), (0, 0)], "crosses", id="crossing"),
    ],
)  # fmt: skip
def test_an_outline_that_the_engine_fails_on_is_refused_by_name(line: list[tuple[float, float]], why: str) -> None:
    """What the engine was measured to fail on becomes a sentence that names the piece, before the engine is asked."""
    with pytest.raises(Refusal, match=why) as refused:
        parts(outlined(line))
    assert "4 centre back" in refused.value.sentence
    assert refused.value.piece == "centre back"


def test_a_piece_wider_than_the_cloth_is_refused_by_name() -> None:
    """The sentence gives the piece, its width across the grain, and the cloth's."""
    wide = rectangle(300.0, 700.0)
    with pytest.raises(Refusal, match=r"4 centre back is 700 mm across the grain.* 699.9 mm between the selvedges"):
        parts(wide, fabric=fabric_of(wide, usable_width=699.9))


def test_a_piece_as_wide_as_the_cloth_is_laid() -> None:
    """An exact fit, on which the engine fails by itself."""
    wide = rectangle(300.0, 700.0)
    fabric = fabric_of(wide, usable_width=700.0)
    lay = quickly_laid(parts(wide, fabric=fabric), fabric=fabric)
    assert lay.length == pytest.approx(600.0, abs=1.0)  # two of them, one after the other


def test_a_piece_far_from_the_origin_is_laid() -> None:
    """Coordinates of a kilometre, on which the engine fails, say nothing about the cloth."""
    far = outlined(np.array(SQUARE) + 1e6)
    lay = quickly_laid(parts(far))
    assert lay.length == pytest.approx(200.0, abs=0.2)


def test_a_repeated_point_is_dropped() -> None:
    """A point that follows itself is no fault of the piece."""
    doubled = [SQUARE[0], SQUARE[1], SQUARE[1], *SQUARE[2:]]
    assert parts(outlined(doubled))[0].area == pytest.approx(200.0 * 200.0)


def test_pairs_are_mirrored_on_open_cloth_and_cut_through_both_plies_on_folded() -> None:
    """Single and folded lay as the trade has them (trade.md F)."""
    (open_pair,) = parts(piece("centre back"))
    assert (open_pair.plain, open_pair.turned_over, open_pair.either) == (1, 1, False)
    (folded_pair,) = parts(piece("centre back"), model="folded")
    assert (folded_pair.copies, folded_pair.either) == (1, True)


def test_cut_double_is_laid_twice_as_often() -> None:
    """The fabric's layers multiply every count."""
    double = replace(piece("centre back"), fabric=fabric_of(piece("centre back"), layers=2))
    assert (parts(double)[0].plain, parts(double)[0].turned_over) == (2, 2)
    assert parts(piece("front yoke"))[0].copies == piece("front yoke").fabric.layers == 2


def test_what_is_sewn_double_and_turned_is_cut_once_either_way_up() -> None:
    """Its two layers lie right sides together while they are sewn: one as drawn, one mirrored."""
    found = piece("centre back")
    single = replace(found, piece=replace(found.piece, is_single=True), doubled=Doubled(found.name, "back.side"))
    for model in ("open", "folded"):
        (part,) = parts(single, model=model)
        assert (part.plain, part.turned_over) == (1, 1)


def test_a_fold_piece_is_unfolded_on_open_cloth() -> None:
    """Its outline is both halves, as shapely puts them together."""
    half = piece("front yoke")
    (part,) = parts(half)
    left = Polygon(half.cutting_line)
    right = Polygon(half.cutting_line * (-1.0, 1.0))
    whole = left.union(right)
    assert Polygon(part.outline).symmetric_difference(whole).area < 1e-6 * whole.area


def test_a_fold_piece_lies_on_the_fold_of_folded_cloth_the_right_way_up() -> None:
    """Only turns that lay its fold along the cloth, and the piece above it, are allowed."""
    (part,) = parts(piece("front yoke"), model="folded")
    assert part.on_fold
    for hand in (False, True):
        for turn in part.allowed(is_mirrored=hand):
            laid = rotated(part.loop(is_mirrored=hand), turn)
            fold = rotated(np.array(part.fold_line(is_mirrored=hand)), turn)
            assert np.ptp(fold[:, 1]) < 1e-9
            assert laid[:, 1].min() == pytest.approx(fold[0, 1], abs=1e-9)


def test_a_fold_off_the_grain_is_refused_on_folded_cloth() -> None:
    """The sentence names the piece and says to lay the cloth open."""
    half = piece("front yoke")
    tilted = replace(half, piece=replace(half.piece, grain=half.piece.grain + 0.3))
    with pytest.raises(Refusal, match=r"1 front yoke cannot be laid on a fold.*open"):
        parts(tilted, model="folded")


def test_a_piece_turned_off_the_straight_by_its_grain_lies_turned_on_the_cloth() -> None:
    """Whatever its grain choice, the grain line runs along the cloth, mirrored or not."""
    for found in pieces():
        if found.fabric.name != "main":
            continue
        (part,) = parts(found, choices=LayChoices(grain="one way", gap=0.0))
        for hand in (False, True):
            (turn,) = part.allowed(is_mirrored=hand)
            line = rotated(np.array(found.grain) * ((-1.0 if hand else 1.0), 1.0), turn)
            assert line[1, 0] > line[0, 0]
            assert line[1, 1] == pytest.approx(line[0, 1], abs=1e-9)


def test_nap_lies_one_way_and_net_keeps_its_direction_of_stretch() -> None:
    """Satin is laid like napped goods (trade.md F); net that stretches more one way is turned by half turns only."""
    satin, net = piece("centre back").fabric, piece("front yoke").fabric
    assert satin.nap
    assert choices_for(satin, "cm").grain == "one way"
    assert turns_for(satin, "one way") == (0.0,)
    assert has_direction(net)
    assert turns_for(net, "free") == (0.0, 180.0)
    even = msgspec.structs.replace(net, stretch_along=20.0, stretch_across=20.0)
    assert {0.0, 90.0, 180.0, 270.0} < set(turns_for(even, "free"))


def test_net_at_a_free_grain_lies_either_way_up_and_keeps_its_direction_of_stretch() -> None:
    """It has no right side, but more stretch in the width (trade.md D6): a quarter turned it pulls the other way."""
    found = rectangle(300.0, 200.0)
    net = fabric_of(found, nap=False, stretch_along=25.0, stretch_across=50.0)
    (part,) = parts(found, fabric=net, choices=LayChoices(grain="free"))
    assert part.either
    for hand in (False, True):
        turns = {round(turn - part.turn_on_grain(is_mirrored=hand)) % 360 for turn in part.allowed(is_mirrored=hand)}
        assert turns == {0, 180}
    (satin,) = parts(found, fabric=net, choices=LayChoices(grain="both ways"))
    assert not satin.either


def test_a_fabric_that_nothing_is_cut_from_is_refused() -> None:
    """The sentence names the fabric."""
    with pytest.raises(Refusal, match="No piece is cut from foam"):
        parts(piece("centre back"), fabric=fabric_of(piece("centre back"), name="foam", cloth="foam"))


def test_the_digest_changes_with_what_is_cut_and_with_nothing_else() -> None:
    """A piece of another fabric does not make a lay stale; an outline, a count or the cloth's width does."""
    main = piece("centre back").fabric
    before = pieces_digest(pieces(), main)
    assert pieces_digest([found for found in pieces() if found.fabric.name == "main"], main) == before
    moved = [replace(found, cutting_line=found.cutting_line * (1.0, 1.001)) for found in pieces()]
    assert pieces_digest(moved, main) != before
    assert pieces_digest(pieces(), fabric_of(piece("centre back"), usable_width=1000.0)) != before


def test_the_digest_changes_with_what_decides_turns_and_hands() -> None:
    """Net that stretches more one way is laid at no free angle; of what is turned every other copy is mirrored."""
    net = fabric_of(piece("centre back"), stretch_along=10.0, stretch_across=10.0)
    assert turns_for(net, "free") != turns_for(directed := fabric_of(piece("centre back"), stretch_across=50.0), "free")
    assert pieces_digest(pieces(), net) != pieces_digest(pieces(), directed)
    whole = replace(piece("centre back").piece, is_single=True)
    flat = replace(piece("centre back"), piece=whole, fabric=fabric_of(piece("centre back"), layers=2))
    doubled = replace(flat, doubled=Doubled("centre back", "back.shoulder", allowance=0.0))
    assert [(part.plain, part.turned_over) for part in (*parts(flat), *parts(doubled))] == [(2, 0), (1, 1)]
    assert pieces_digest([flat], flat.fabric) != pieces_digest([doubled], flat.fabric)

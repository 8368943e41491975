"""Lays that are found, proved here once more by shapely alone, and what stays in place while the rest is filled in."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

import numpy as np
import pytest
from msgspec.structs import replace
from shapely.geometry import Polygon

from core.design.kept_lay import LayChoices, Model
from core.errors import Cancelled, Refusal
from core.outputs import lay_search
from core.outputs.lay_fold import starts
from core.outputs.lay_parts import Part, choices_for, parts_for
from core.outputs.lay_plan import Lay
from core.outputs.lay_process import Item, Packing, Watch, pack
from core.outputs.lay_proof import faults
from core.outputs.lay_search import nothing_laid, search
from tests.core.outputs.lay_samples import fabric_of, only_bare, outlined, parts, piece, pieces, quickly_laid, rectangle

GAP = LayChoices(gap=3.0)


@pytest.fixture(autouse=True)
def without_rows(monkeypatch: pytest.MonkeyPatch) -> None:
    """The engine is what is tried here, and the first lay is its own."""
    monkeypatch.setattr(lay_search, "in_rows", only_bare)


def of_fabric(name: str, model: Model) -> tuple[Part, ...]:
    """The parts of the concert bodice that are cut from a fabric."""
    fabric = next(found.fabric for found in pieces() if found.fabric.name == name)
    return parts_for([pieces()], fabric, choices_for(fabric, "cm"), model=model, unit="cm")


@pytest.mark.parametrize("model", ["open", "folded"])
@pytest.mark.parametrize("fabric", ["main", "sheer", "cup"])
def test_every_lay_of_the_demo_is_sound(fabric: str, model: Model) -> None:
    """By shapely alone: no overlap over 0.01 mm2, the gap within 0.1 mm, inside the width, every copy there."""
    wanted = of_fabric(fabric, model)
    choices = choices_for(wanted[0].finished.fabric, "cm")
    lay = quickly_laid(wanted, model=model, choices=choices)
    shapes = [Polygon(laid.loop) for laid in lay.laid]
    for first, second in combinations(shapes, 2):
        assert first.intersection(second).area <= 0.01
        assert first.distance(second) >= choices.gap - 0.1
    bounds = np.array([shape.bounds for shape in shapes])
    assert bounds[:, 1].min() >= -0.01
    assert bounds[:, 3].max() <= lay.strip + 0.01
    assert lay.length == pytest.approx(np.ptp(bounds[:, [0, 2]]))
    assert len(shapes) == sum(part.copies for part in wanted)
    assert faults(lay, wanted) == ()


def test_net_without_a_direction_is_laid_at_any_angle_and_is_sound() -> None:
    """A right-angled triangle of 400 by 300 mm on 265 mm of cloth: only turned does it fit across."""
    found = outlined([(0.0, 0.0), (400.0, 0.0), (0.0, 300.0), (0.0, 0.0)])
    net = fabric_of(found, usable_width=265.0, nap=False, stretch_along=20.0, stretch_across=20.0)
    with pytest.raises(Refusal, match=r"between the selvedges"):
        parts(found, fabric=net, choices=LayChoices(grain="both ways"))
    free = LayChoices(grain="free", gap=3.0)
    (part,) = parts(found, fabric=net, choices=free)
    # Laid on its hypotenuse, off by 37 degrees, it is 400 x 300 / 500 = 240 mm high; turns go in steps of 15.
    lay = quickly_laid((part,), fabric=net, choices=free)
    assert faults(lay, (part,)) == ()
    assert {laid.turn % 90.0 for laid in lay.laid} != {0.0}


def test_what_is_cut_once_lies_face_down_on_folded_cloth() -> None:
    """The upper ply shows its wrong side there; cut through one ply, the pieces come out as drawn."""
    single = rectangle(300.0, 200.0)
    single = replace(single, piece=replace(single.piece, is_single=True))
    lay = quickly_laid(parts(single, model="folded"), model="folded")
    assert [laid.mirrored for laid in lay.laid] == [True]
    assert lay.used == pytest.approx(300.0 * 200.0 / (1375.0 * lay.length), rel=1e-6)


def test_used_is_the_share_of_the_cloth() -> None:
    """Two rectangles of 300 x 680 mm side by side on 1375 mm, whichever way the cloth is laid."""
    found = rectangle(300.0, 680.0)
    for model in ("open", "folded"):
        lay = quickly_laid(parts(found, model=model), model=model)
        assert lay.used == pytest.approx(2 * 300.0 * 680.0 / (1375.0 * lay.length), rel=1e-6)
        assert lay.length == pytest.approx(300.0, abs=0.5)


def test_what_is_locked_stays_and_the_rest_is_filled_in() -> None:
    """A piece set by hand in the middle of the cloth is where it was, and all others lie round it."""
    wanted = of_fabric("main", "open")
    choices = choices_for(wanted[0].finished.fabric, "cm")
    lay = quickly_laid(wanted, choices=choices)
    held = replace(lay.laid[2].moved(-lay.laid[2].box[0] + 80.0, 600.0 - lay.laid[2].box[1]), locked=True)
    bare = Lay(lay.fabric, lay.model, lay.choices, (held,))
    filled = search(bare, wanted, seconds=5.0, told=lambda best: best is not None, workers=1)
    assert faults(filled, wanted) == ()
    assert filled.laid[0].y == held.y
    assert filled.laid[0].turn == held.turn
    assert filled.laid[0].locked
    assert len(filled.laid) == len(lay.laid)


def test_two_that_are_locked_keep_their_places_to_each_other() -> None:
    """Whatever is filled in before the first of them."""
    wanted = of_fabric("main", "open")
    choices = choices_for(wanted[0].finished.fabric, "cm")
    lay = quickly_laid(wanted, choices=choices)
    held = tuple(replace(laid, locked=True) for laid in lay.laid[:2])
    bare = Lay(lay.fabric, lay.model, lay.choices, held)
    filled = search(bare, wanted, seconds=5.0, told=lambda best: best is not None, workers=1)
    first, second = filled.laid[:2]
    assert second.x - first.x == pytest.approx(held[1].x - held[0].x, abs=1e-9)
    assert (first.y, second.y) == (held[0].y, held[1].y)


def test_a_lay_with_a_fault_is_neither_told_nor_given(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever the engine says: both of a pair in one place are refused, and nobody sees them."""
    found = rectangle(300.0, 200.0)

    def on_one_heap(items: Sequence[Item], _height: float, *, watch: Watch, **_: object) -> Packing:
        heap = Packing(200.0, tuple((item.id, item.turns[0], 200.0, 200.0) for item in items))
        watch(heap)
        return heap

    monkeypatch.setattr(lay_search, "pack", on_one_heap)
    seen: list[Lay | None] = []

    def told(best: Lay | None) -> bool:
        seen.append(best)
        return False

    with pytest.raises(Refusal, match="No lay was found that keeps the gap and the grain"):
        search(nothing_laid(found.fabric, "open", GAP), parts(found, choices=GAP), seconds=1.0, told=told)
    assert set(seen) == {None}


def test_a_cancel_reaches_the_one_who_asked() -> None:
    """Cancelled, raised by whoever watches, comes through."""

    def stop(_: Lay | None) -> bool:
        raise Cancelled

    with pytest.raises(Cancelled):
        search(
            nothing_laid(piece("centre back").fabric, "open", GAP), of_fabric("main", "open"), seconds=9.0, told=stop
        )


def test_a_piece_that_may_lie_either_way_up_is_also_tried_turned_over(monkeypatch: pytest.MonkeyPatch) -> None:
    """Pairs cut through both plies: among the ways to begin some have them turned over, and such a lay is sound."""
    wanted = of_fabric("main", "folded")
    choices = choices_for(wanted[0].finished.fabric, "cm")
    begun = starts(nothing_laid(wanted[0].finished.fabric, "folded", choices), wanted)
    assert not any(begun[0].over)
    turned = next(start for start in begun if any(start.over))
    monkeypatch.setattr(lay_search, "starts", lambda *_: (turned,))
    lay = quickly_laid(wanted, model="folded", choices=choices)
    assert faults(lay, wanted) == ()
    for part, over in zip(wanted, turned.over, strict=True):
        assert part.on_fold or sum(laid.mirrored for laid in lay.laid if laid.part is part) == over


def test_a_way_along_the_fold_that_gives_nothing_leaves_the_best_of_the_others(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Satin has two ways to begin on the fold: the second gives nothing, the first is kept."""
    wanted = of_fabric("main", "folded")
    choices = choices_for(wanted[0].finished.fabric, "cm")
    calls = []

    def once(items: Sequence[Item], height: float, *, seconds: float, workers: int, watch: Watch) -> Packing:
        calls.append(seconds)
        if len(calls) > 1:
            raise Refusal("The engine gave up.")
        return pack(items, height, seconds=seconds, workers=workers, watch=watch)

    monkeypatch.setattr(lay_search, "pack", once)
    monkeypatch.setattr(lay_search, "AS_SHORT", -1.0)  # else the first may be as short as can be, and ends it
    bare = nothing_laid(wanted[0].finished.fabric, "folded", choices)
    lay = search(bare, wanted, seconds=2.0, told=lambda _: False, workers=1)
    assert len(calls) == 3
    assert faults(lay, wanted) == ()


def test_a_lay_as_long_as_its_longest_piece_ends_the_search() -> None:
    """The cups' net cannot be laid shorter than the longest of them; the minute that was allowed is not waited for."""
    wanted = of_fabric("cup", "open")
    longest = max(float(np.ptp(piece(name).cutting_line[:, 1])) for name in ("inner cup", "outer cup"))
    choices = choices_for(wanted[0].finished.fabric, "cm")
    bare = nothing_laid(wanted[0].finished.fabric, "open", choices)
    lay = search(bare, wanted, seconds=60.0, told=lambda _: False, workers=1)
    assert lay.length == pytest.approx(longest, abs=1.0)

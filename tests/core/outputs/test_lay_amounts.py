"""How much to buy, in steps that shops cut, and the lay that a design keeps."""

from __future__ import annotations

from functools import cache

import msgspec
import pytest
from msgspec.structs import replace

from core.design.design import Design
from core.design.kept_lay import KeptLay, LayChoices
from core.errors import Refusal
from core.file.reader import design_in
from core.file.writer import design_to_bytes
from core.outputs.lay_amounts import (
    is_stale,
    kept_of,
    laid_again,
    left_over,
    needed,
    needed_of_kept,
    show_cloth,
    show_price,
    with_kept,
)
from core.outputs.lay_parts import parts_for
from core.outputs.lay_plan import Lay
from core.outputs.lay_plans import best_first, usual_seconds
from core.units import Unit
from tests.core.outputs.lay_samples import fabric_of, piece, pieces, quickly_laid
from tests.samples import design

BARE = LayChoices(squaring=0.0)


@pytest.mark.parametrize(
    ("length", "unit", "bought"),
    [
        (914.4, "in", "1 yd"),  # 36 in
        (915.0, "in", "1 1/8 yd"),
        (1028.7, "in", "1 1/8 yd"),  # 40 1/2 in
        (114.3, "in", "1/8 yd"),
        (1371.6, "in", "1 1/2 yd"),
        (600.0, "cm", "0.60 m"),
        (600.2, "cm", "0.70 m"),
        (1210.0, "mm", "1.30 m"),
    ],
)
def test_a_length_is_rounded_up_to_what_shops_cut(length: float, unit: Unit, bought: str) -> None:
    """Eighths of a yard, a yard being 914.4 mm; 10 cm (common practice)."""
    found = needed(piece("centre back").fabric, length, BARE, unit)
    assert show_cloth(found.to_buy, unit) == bought


def test_squaring_and_shrinking_are_bought_too() -> None:
    """What loses 10 % of its length is bought a ninth longer: 900 mm are left of 1000; then 100 mm to square it."""
    found = needed(piece("centre back").fabric, 900.0, LayChoices(squaring=100.0, shrink=10.0), "cm")
    assert found.with_extra == pytest.approx(1100.0)
    assert found.to_buy == pytest.approx(1100.0)


def test_the_price_is_for_what_is_bought() -> None:
    """24 a metre, 60 cm: 14.40; no price, no words."""
    priced = fabric_of(piece("centre back"), price=24.0, currency="EUR")
    assert show_price(needed(priced, 540.0, BARE, "cm")) == "14.40 EUR"
    assert show_price(needed(piece("centre back").fabric, 540.0, BARE, "cm")) == ""


def test_a_kept_lay_is_the_same_after_saving() -> None:
    """What the design keeps is laid again as it was, and says what to buy."""
    kept, lay = kept_design()
    read = design_in(design_to_bytes(kept))
    again = laid_again(read, kept_entry(read), pieces())
    assert again.length == pytest.approx(lay.length)
    assert [(laid.x, laid.y, laid.turn) for laid in again.laid] == [(laid.x, laid.y, laid.turn) for laid in lay.laid]
    found = needed_of_kept(read, pieces(), "main")
    assert found is not None
    assert found.length == pytest.approx(lay.length)
    assert not found.is_stale
    assert needed_of_kept(read, pieces(), "sheer") is None


def test_a_lay_longer_than_ten_metres_is_saved_and_opened() -> None:
    """Nothing in a garment is so long, but cloth is: it comes back as it was, and its pieces lie where they lay."""
    _, lay = kept_design()
    *most, last = lay.laid
    far = replace(lay, laid=(*most, last.moved(12_000.0, 0.0)))
    again = design_in(design_to_bytes(with_kept(design("concert"), far, pieces())))
    assert kept_entry(again).length == pytest.approx(far.length)
    assert kept_entry(again).length > 12_000.0
    assert laid_again(again, kept_entry(again), pieces()).laid[-1].x == pytest.approx(far.laid[-1].x)


def test_a_kept_lay_is_stale_once_a_piece_of_its_fabric_changes() -> None:
    """It is said to be so and not drawn; a piece of another fabric changes nothing."""
    kept, _ = kept_design()
    entry, fabric = kept_entry(kept), piece("centre back").fabric
    other = [replace(p, cutting_line=p.cutting_line * 1.01) if p.name == "front yoke" else p for p in pieces()]
    assert not is_stale(entry, other, fabric)
    changed = [replace(p, cutting_line=p.cutting_line * 1.01) if p.name == "side back" else p for p in pieces()]
    assert is_stale(entry, changed, fabric)
    with pytest.raises(Refusal, match="out of date"):
        laid_again(kept, entry, changed)
    found = needed_of_kept(kept, changed, "main")
    assert found is not None
    assert found.is_stale


def test_a_kept_lay_that_was_tampered_with_is_not_shown() -> None:
    """Two pieces on one place: the proof finds it when the file is opened."""
    kept, _ = kept_design()
    entry = kept_entry(kept)
    first = entry.placed[0]
    pushed = msgspec.structs.replace(entry.placed[1], x=first.x, y=first.y)
    bad = msgspec.structs.replace(entry, placed=(first, pushed, *entry.placed[2:]))
    with pytest.raises(Refusal, match="not sound"):
        laid_again(kept, bad, pieces())


def test_what_is_left_over_is_told() -> None:
    """A strip that the pieces leave along the selvedge over the whole length, and the end of what was bought."""
    _, lay = kept_design()
    narrow = replace(lay, fabric=msgspec.structs.replace(lay.fabric, usable_width=lay.fabric.usable_width + 300.0))
    words = left_over(narrow, needed(narrow.fabric, narrow.length, LayChoices(), "cm"), "cm")
    assert "along one selvedge" in words
    assert "at the end" in words


@cache
def kept_design() -> tuple[Design, Lay]:
    """The concert bodice with a lay of its satin."""
    fabric = piece("centre back").fabric
    choices = LayChoices(grain="one way")
    lay = quickly_laid(parts_for([pieces()], fabric, choices, model="open", unit="cm"), choices=choices, fabric=fabric)
    return with_kept(design("concert"), lay, pieces()), lay


def kept_entry(kept: Design) -> KeptLay:
    """The lay that it keeps."""
    found = kept_of(kept, "main")
    assert found is not None
    return found


def test_of_equal_lays_satin_is_folded_and_sheer_lies_open() -> None:
    """Folded is quicker to cut; slippery sheer is laid in a single layer (trade.md F). A shorter lay wins over both."""
    _, lay = kept_design()
    folded = replace(lay, model="folded")
    assert [found.model for found in best_first((lay, folded), "cm")] == ["folded", "open"]
    sheer = [replace(found, fabric=msgspec.structs.replace(found.fabric, role="sheer")) for found in (folded, lay)]
    assert [found.model for found in best_first(sheer, "cm")] == ["open", "folded"]
    longer = replace(folded, laid=(*folded.laid[:-1], folded.laid[-1].moved(5000.0, 0.0)))
    assert best_first((longer, lay), "cm")[0] is lay


def test_many_pieces_are_tried_for_longer() -> None:
    """One bodice 4 seconds; ten of them together longer, and never over a minute."""
    fabric = piece("centre back").fabric
    assert usual_seconds([pieces()], fabric) == 4.0
    assert 4.0 < usual_seconds([pieces()] * 4, fabric) < 60.0
    assert usual_seconds([pieces()] * 100, fabric) == 60.0

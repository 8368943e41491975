"""Lay plans and markers on paper: words that do not lie over each other, and lays of any length."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from msgspec.structs import replace

from core.design.kept_lay import LayChoices
from core.outputs.drawing import Text
from core.outputs.lay_pages import PlanPage, marker_pages, plan_page
from core.outputs.lay_parts import parts_for
from core.outputs.lay_plan import Lay
from core.outputs.lay_plans import FabricPlan, notes
from core.outputs.lay_rows import in_rows
from tests.core.outputs.lay_samples import piece, pieces

GAP = LayChoices(gap=3.0)


@cache
def lay() -> Lay:
    """The satin of the concert bodice in rows."""
    fabric = piece("centre back").fabric
    parts = parts_for([pieces()], fabric, GAP, model="open", unit="cm")
    return in_rows(Lay(fabric, "open", GAP, ()), parts)


def plan(found: Lay, *names: str) -> FabricPlan:
    """Its plan, for one design or several laid together."""
    return FabricPlan(names or ("Concert bodice",), (found,), "cm", {})


def words(page: PlanPage) -> list[Text]:
    """All texts of a page."""
    return [item for item in page.drawing.items if isinstance(item, Text)]


def test_words_beside_a_short_lay_do_not_lie_over_each_other() -> None:
    """A lay of 30 mm, at 1 to 10 three millimetres of paper: its two words at each side stand clear of each other."""
    (one, *_) = lay().laid
    short = replace(lay(), laid=(replace(one, part=replace(one.part, outline=one.part.outline * 0.05)),))
    said = {text.text: text for text in words(plan_page(plan(short), ""))}
    for first, last in (("selvedge", "pieces take"), ("selvedge", "buy ")):
        end = next(text for words, text in said.items() if words.startswith(last))
        begin = next(text for words, text in said.items() if words == first)
        assert end.anchor == "start"
        assert end.at[0] >= begin.at[0] + begin.width


def test_the_picture_shows_cloth_numbers_hands_and_grain() -> None:
    """Selvedges or the fold, a number and hand on every piece, a grain line on every piece along the cloth."""
    open_page, folded = plan_page(plan(lay()), ""), plan_page(plan(replace(lay(), model="folded")), "")
    said = [text.text for text in words(open_page)]
    assert said.count("selvedge") == 2
    assert {"fold of the cloth", "both selvedges"} <= {text.text for text in words(folded)}
    assert {"2", "3 L", "3 R", "4 L", "4 R", "5 L", "5 R"} <= set(said)
    grains = [stroke for stroke in open_page.drawing.strokes() if stroke.role == "grain" and len(stroke.points) == 2]
    assert len(grains) == len(lay().laid)
    for line in grains:
        assert np.ptp(line.points[:, 1]) < 1e-6 < np.ptp(line.points[:, 0])


def test_what_to_mind_is_told() -> None:
    """A repeat is a note and nothing is matched to it; what shrinks is washed first; nap lies one way."""
    choices = replace(GAP, grain="one way", shrink=5.0, repeat="8 cm lace")
    found = replace(lay(), choices=choices)
    said = " ".join(notes(found, plan(found).needed(), "cm"))
    assert "Repeat: 8 cm lace. The pieces are not matched to it." in said
    assert "5 % that it shrinks: wash or steam it before it is laid" in said
    assert "All pieces lie one way along the cloth" in said


def test_of_designs_laid_together_every_piece_says_whose_it_is() -> None:
    """Also where only the first of them has pieces on the cloth; they are listed in the order of their numbers."""
    page = plan_page(plan(lay(), "Concert bodice", "Skater bodice"), "2026-11-25")
    said = " ".join(text.text for text in words(page))
    assert "2 designs laid together" in said
    assert {"A2", "A3 L", "A3 R"} <= {text.text for text in words(page)}
    numbers = [said.index(f"A{number} ", said.index("Pieces:")) for number in (2, 3, 4, 5)]
    assert numbers == sorted(numbers)


def test_a_marker_of_twelve_metres_goes_on_over_three_pages() -> None:
    """No page is longer than a PDF may be (200 in, ISO 32000-1 annex C); together they are as long as the lay."""
    *most, last = lay().laid
    far = replace(lay(), laid=(*most, last.moved(12_000.0 - last.box[2], 0.0)))
    pages = list(marker_pages(plan(far)))
    assert len(pages) == 3
    assert max(page.width for page in pages) <= 200 * 25.4
    assert sum(page.width for page in pages) == pytest.approx(12_000.0 + 80.0)
    for page in pages:
        for text in words(page):
            assert text.at[1] >= 0.0


@pytest.mark.parametrize("metres", [1.0, 12.0, 100.0])
def test_the_plan_fits_its_sheet_however_long_the_lay_is(metres: float) -> None:
    """Every line lies on the paper."""
    *most, last = lay().laid
    far = replace(lay(), laid=(*most, last.moved(1000.0 * metres - last.box[2], 0.0)))
    page = plan_page(plan(far), "")
    for stroke in page.drawing.strokes():
        assert np.all(stroke.points >= 0.0)
        assert np.all(stroke.points <= (page.width, page.height))


def test_the_words_at_the_foot_of_a_marker_stay_on_its_page() -> None:
    """However long the design's name is."""
    (page,) = marker_pages(plan(lay(), "A bodice with a name that goes on and on, " * 4))
    foot = [text for text in words(page) if "true size" in text.text or "on and on" in text.text]
    assert foot
    assert all(text.at[0] + text.width <= page.width for text in foot)

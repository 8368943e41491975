"""The first lay, of rows: sound by the same proof as any other, and the floor under what the engine finds."""

from __future__ import annotations

import itertools
import sys

import numpy as np
import pytest

from core.design.kept_lay import LayChoices, Model
from core.errors import Refusal
from core.outputs import lay_process, lay_search
from core.outputs.lay_parts import choices_for, parts_for
from core.outputs.lay_plan import Lay
from core.outputs.lay_plans import fabrics_cut
from core.outputs.lay_proof import faults
from core.outputs.lay_rows import in_rows
from core.outputs.lay_search import nothing_laid, search
from tests.core.outputs.lay_samples import fabric_of, outlined, parts, piece, pieces, rectangle

GAP = LayChoices(gap=3.0)


@pytest.mark.parametrize("model", ["open", "folded"])
def test_rows_of_the_demo_are_sound(model: Model) -> None:
    """On each of its fabrics, by the proof that every lay has to pass."""
    for fabric in fabrics_cut([pieces()]):
        choices = choices_for(fabric, "cm")
        wanted = parts_for([pieces()], fabric, choices, model=model, unit="cm")
        assert faults(in_rows(nothing_laid(fabric, model, choices), wanted), wanted) == ()


def test_what_fits_across_lies_in_one_row() -> None:
    """A pair of 300 x 680 mm fits across 1375 mm with 3 mm between; of 700 mm each has a row of its own."""
    for across, length in ((680.0, 300.0), (700.0, 603.0)):
        found = rectangle(300.0, across)
        lay = in_rows(nothing_laid(found.fabric, "open", GAP), parts(found, choices=GAP))
        assert lay.length == pytest.approx(length)


def test_rows_begin_after_what_lies_there() -> None:
    """What a hand locked keeps its place."""
    found = rectangle(300.0, 200.0)
    wanted = parts(found, choices=GAP)
    whole = in_rows(nothing_laid(found.fabric, "open", GAP), wanted)
    held = whole.laid[0].moved(50.0, 400.0)
    after = in_rows(Lay(whole.fabric, "open", GAP, (held,)), wanted)
    assert faults(after, wanted) == ()
    assert after.laid[0].y == held.y
    assert after.length == pytest.approx(603.0)


def test_each_row_has_one_piece_on_the_fold() -> None:
    """Two yokes that are cut double: one behind the other, both on the fold."""
    wanted = parts(piece("front yoke"), model="folded", choices=GAP)
    lay = in_rows(nothing_laid(wanted[0].finished.fabric, "folded", GAP), wanted)
    assert faults(lay, wanted) == ()
    assert len(lay.laid) == 2
    assert lay.length == pytest.approx(2.0 * np.ptp(piece("front yoke").cutting_line[:, 1]) + 3.0, abs=1e-6)


def test_on_net_pieces_lie_as_takes_least_of_the_length() -> None:
    """A rectangle of 400 x 150 mm on net without grain or direction: across, it takes 150 mm."""
    found = outlined([(0.0, 0.0), (150.0, 0.0), (150.0, 400.0), (0.0, 400.0), (0.0, 0.0)])
    net = fabric_of(found, nap=False, stretch_along=20.0, stretch_across=20.0)
    free = LayChoices(grain="free", gap=3.0)
    lay = in_rows(nothing_laid(net, "open", free), parts(found, fabric=net, choices=free))
    assert lay.length == pytest.approx(150.0)


def test_rows_as_short_as_their_longest_piece_ask_no_engine(monkeypatch: pytest.MonkeyPatch) -> None:
    """No lay is shorter, so no child is started."""
    monkeypatch.setattr(lay_process, "command", lambda: ["no such program"])
    found = rectangle(300.0, 200.0)
    lay = search(nothing_laid(found.fabric, "open", GAP), parts(found, choices=GAP), seconds=60.0, told=lambda _: False)
    assert lay.length == pytest.approx(300.0)


def test_an_engine_that_answers_nothing_is_told_of_and_its_rows_are_not_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    """The rows were shown on the way, but the lay that was there before is better than they may be."""
    monkeypatch.setattr(
        lay_search, "pack", lambda *_, **__: (_ for _ in ()).throw(Refusal("The nesting engine gave up."))
    )
    told: list[Lay | None] = []

    def never_enough(best: Lay | None) -> bool:
        told.append(best)
        return False

    found = rectangle(300.0, 700.0)
    with pytest.raises(Refusal, match="gave up"):
        search(nothing_laid(found.fabric, "open", GAP), parts(found, choices=GAP), seconds=2.0, told=never_enough)
    assert told[0] is not None


def test_stopped_before_the_engine_answers_the_rows_are_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    """She asked for what there is, and there is a lay."""
    monkeypatch.setattr(lay_process, "command", lambda: [sys.executable, "-c", "import time\ntime.sleep(60)"])
    looks = itertools.count()
    found = rectangle(300.0, 700.0)
    bare = nothing_laid(found.fabric, "open", GAP)
    lay = search(bare, parts(found, choices=GAP), seconds=60.0, told=lambda _: next(looks) > 2)
    assert lay.length == pytest.approx(603.0)

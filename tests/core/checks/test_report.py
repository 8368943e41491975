"""All checks together."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from core.checks.report import report
from core.design.replay import replay
from core.steps.pivot import Pivot
from tests.samples import NAMES, design, replayed


@pytest.mark.parametrize("name", NAMES)
def test_sample_designs_pass(name: str) -> None:
    """Every seam exact, nothing at fault, four girths; a cup is good at best, as its depth is an estimate."""
    found = report(replayed(name))
    assert found.worst == ("good" if found.cups else "exact")
    assert found.passes
    assert len(found.girths) == 4
    assert {row.name for row in found.seams} == set(replayed(name).garment.seams)


def test_a_bad_seam_does_not_pass() -> None:
    """2 mm of unwanted ease at the side is to be checked, 5 mm are wrong."""
    done = replayed("block")
    for ease, verdict in ((2.0, "check"), (5.0, "wrong")):
        side = replace(done.block.seams["side"], ease=ease)
        garment = replace(done.block, seams={**done.block.seams, "side": side})
        found = report(replace(done, draft=replace(done.draft, garment=garment)))
        assert (found.worst, found.passes) == (verdict, False)


def test_a_refused_step_does_not_pass() -> None:
    """Its sentence is in the report; the seams are those of the garment before it."""
    bad = design("block").with_step(Pivot("pivot-1", "front", "front.no_dart", into="front.waist_dart"))
    found = report(replay(bad))
    assert found.refused
    assert found.worst == "wrong"
    assert found.seams == report(replayed("block")).seams


def test_an_unsewn_edge_does_not_pass() -> None:
    """However good the seams there are."""
    done = replayed("block")
    garment = replace(done.block, seams={"shoulder": done.block.seams["shoulder"]})
    assert not report(replace(done, draft=replace(done.draft, garment=garment))).passes

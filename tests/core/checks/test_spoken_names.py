"""What is read on screen, in `check` and in print speaks of edges as one does, never by the names in the records."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from core.checks.cutting import cutting_checks
from core.checks.outlines import outline_faults, unsewn
from core.checks.seam_rows import seam_rows
from core.design.design import Design
from core.design.replay import replay
from core.file.reader import read_design
from core.pieces.names import spoken, spoken_run
from core.shipped import assets

RAW = re.compile(r"[A-Za-z]_[A-Za-z]|[a-z]\.[a-z0-9]")
"""Two words held by an underscore or a full stop, as "front.sheer_line" and "shoulder.2" are."""


def sentences(design: Design) -> Iterator[str]:
    """All that a design has to say of itself."""
    done = replay(design)
    before = done.block
    for stage in done.stages:
        yield stage.step.sentence(before, design.unit)
        yield from (note.sentence for note in done.notes_of(stage))
        before = stage.garment
    for row in seam_rows(done.garment):
        yield from (row.words, *row.edges)
    yield from (fault.sentence for fault in (*outline_faults(done.garment), *unsewn(done.garment)))
    yield from (check.sentence for check in cutting_checks(done))


@pytest.mark.parametrize("name", ["concert", "ball", "stage", "skater"])
def test_no_demo_says_a_raw_name(name: str) -> None:
    """Steps with their notes, seams, and whatever the checks find."""
    said = list(sentences(read_design(assets() / "demo" / f"{name}-bodice.sheer")))
    assert len(said) > 20
    assert [words for words in said if RAW.search(words)] == []


def test_the_runs_of_an_edge_keep_their_number_where_they_must_be_told_apart() -> None:
    """And are one edge where they need not."""
    assert (spoken("front.shoulder.2"), spoken_run("front.shoulder.2")) == ("shoulder 2", "shoulder")
    assert (spoken("right.front.side"), spoken_run("sheer_line")) == ("right side", "sheer line")

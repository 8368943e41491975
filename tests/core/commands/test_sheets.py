"""`sheets` and `lesson` from the command line."""

from __future__ import annotations

from pathlib import Path

import pytest

from core.file.writer import save_design
from tests.core.commands.running import command, contents, refused
from tests.core.file.sample_designs import panel_design


@pytest.fixture
def gown(tmp_path: Path) -> Path:
    """A saved design of three front panels and a back."""
    save_design(tmp_path / "x.sheer", panel_design())
    return tmp_path / "x.sheer"


@pytest.mark.parametrize("kind", ["work", "client"])
def test_a_sheet_is_written(gown: Path, kind: str) -> None:
    """As PDF, and the command says how many pages it has; the client's has the design on the form, from two sides."""
    done = command("sheets", gown, "-o", gown.with_name("out.pdf"), "--kind", kind)
    assert done.status == 0
    assert "out.pdf holds" in done.out
    data = gown.with_name("out.pdf").read_bytes()
    assert data.startswith(b"%PDF")
    assert data.count(b"/DCTDecode") == (2 if kind == "client" else 0)


def test_a_lesson_is_pages_or_a_picture_a_step(gown: Path) -> None:
    """The pictures are numbered beside the name that was given."""
    assert command("lesson", gown, "-o", gown.with_name("out.pdf")).status == 0
    done = command("lesson", gown, "-o", gown.with_name("step.svg"))
    assert (done.status, done.out) == (0, "4 pictures were written, step-01.svg to step-04.svg.\n")
    assert {path.name for path in gown.parent.glob("step*")} == {f"step-0{n}.svg" for n in range(1, 5)}


def test_what_there_is_not_is_refused_and_nothing_is_written(gown: Path) -> None:
    """Another kind of sheet, another format of lesson, the design's own place."""
    before = contents(gown.parent)
    out = gown.with_name("out.pdf")
    assert "choose one of: work, client" in refused(command("sheets", gown, "-o", out, "--kind", "x"))
    assert "end its name in .pdf" in refused(command("lesson", gown, "-o", gown.with_name("out.gif")))
    assert "would be written over" in refused(command("lesson", gown, "-o", gown))
    assert contents(gown.parent) == before

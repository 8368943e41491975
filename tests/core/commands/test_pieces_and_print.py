"""Pieces as JSON and pages as PDF from the command line. What the documents hold is proven with the outputs."""

from __future__ import annotations

import io
import json
import os
import subprocess
import sys
from pathlib import Path

import msgspec
import pdfplumber
import pytest

from core.commands import print_pages
from core.errors import Cancelled
from core.file.writer import save_design
from core.outputs.pdf import print_pdf
from tests.core.commands.running import ROOT, command, contents, process, refused
from tests.core.file.sample_designs import panel_design


@pytest.fixture
def gown(tmp_path: Path) -> Path:
    """A saved design of three front panels and a back."""
    save_design(tmp_path / "x.sheer", panel_design())
    return tmp_path / "x.sheer"


def document(path: Path) -> dict[str, object]:
    """A JSON document without NaN or doubled keys."""

    def once(pairs: list[tuple[str, object]]) -> dict[str, object]:
        assert len(dict(pairs)) == len(pairs)
        return dict(pairs)

    def none(word: str) -> None:
        raise AssertionError(word)

    found = json.loads(path.read_bytes().decode(), object_pairs_hook=once, parse_constant=none)
    assert isinstance(found, dict)
    return found


def names(found: dict[str, object]) -> set[str]:
    """The names of the pieces in a document."""
    pieces = found["pieces"]
    assert isinstance(pieces, list)
    return {piece["name"] for piece in pieces}


def test_the_pieces_are_written(gown: Path) -> None:
    """With the keys of design.md 12, of the finished design."""
    done = process("pieces", gown, "--json", gown.with_name("out.json"))
    assert (done.status, done.out, done.err) == (0, "out.json holds 4 pieces.\n", "")
    found = document(gown.with_name("out.json"))
    keys = {"schema", "units", "body", "estimated", "ease", "landmarks", "pieces", "seams", "stages"}
    assert set(found) == keys
    assert names(found) == {"yoke", "centre front", "side front", "back"}


def test_the_pieces_after_a_step(gown: Path) -> None:
    """As they were then: the front is not cut yet."""
    done = command("pieces", gown, "--json", gown.with_name("out.json"), "--after", "sheer-1")
    assert done.status == 0
    assert names(document(gown.with_name("out.json"))) == {"front", "back"}


def test_a_step_that_is_not_there_is_refused(gown: Path) -> None:
    """With those that are."""
    before = contents(gown.parent)
    sentence = refused(command("pieces", gown, "--json", gown.with_name("out.json"), "--after", "cut-9"))
    assert "no finished step cut-9" in sentence
    assert "sheer-1, cut-1, trim-1" in sentence
    assert contents(gown.parent) == before


def test_pages_and_map_are_written_together(gown: Path) -> None:
    """A PDF of as many pages as the map lists, on the design's own paper (A4 is 595.28 by 841.89 points)."""
    pdf, page_map = gown.with_name("out.pdf"), gown.with_name("map.json")
    done = process("print", gown, "-o", pdf, "--json", page_map)
    assert (done.status, done.err) == (0, "")
    found = document(page_map)
    assert set(found) == {"scale", "stretch", "pages", "placements"}
    with pdfplumber.open(io.BytesIO(pdf.read_bytes())) as read:
        assert isinstance(found["pages"], list)
        assert len(read.pages) == len(found["pages"])
        assert (read.pages[0].width, read.pages[0].height) == pytest.approx((595.276, 841.890), abs=0.01)
        assert done.out == f"out.pdf holds {len(read.pages)} pages of a4 at scale 1.\n"
    assert {entry.name for entry in gown.parent.iterdir()} == {"x.sheer", "out.pdf", "map.json"}


def test_equal_designs_give_equal_pages(gown: Path) -> None:
    """Byte for byte, from one run to the next."""
    for name in ("a.pdf", "b.pdf"):
        assert process("print", gown, "-o", gown.with_name(name), "--scale", "1/4").status == 0
    assert gown.with_name("a.pdf").read_bytes() == gown.with_name("b.pdf").read_bytes()


def test_paper_and_scale_can_be_chosen(gown: Path) -> None:
    """Letter is 612 by 792 points; a quarter of the size needs fewer pages."""
    for scale in ("1", "1/4"):
        name = f"{scale.replace('/', ' in ')}.pdf"
        assert command("print", gown, "-o", gown.with_name(name), "--paper", "letter", "--scale", scale).status == 0
    with pdfplumber.open(gown.with_name("1.pdf")) as full, pdfplumber.open(gown.with_name("1 in 4.pdf")) as quarter:
        assert (full.pages[0].width, full.pages[0].height) == pytest.approx((612.0, 792.0), abs=0.01)
        assert len(quarter.pages) < len(full.pages)


@pytest.mark.parametrize(("option", "value"), [("--paper", "a9"), ("--scale", "2"), ("--scale", "")])
def test_other_papers_and_scales_are_refused(gown: Path, option: str, value: str) -> None:
    """With those there are; an older output stays."""
    gown.with_name("out.pdf").write_bytes(b"an older output")
    before = contents(gown.parent)
    assert "choose one of: " in refused(command("print", gown, "-o", gown.with_name("out.pdf"), option, value))
    assert contents(gown.parent) == before


def test_the_design_cannot_be_printed_over(gown: Path) -> None:
    """Nor can pages and map be one file, nor the pieces take the design's place."""
    before = contents(gown.parent)
    out = gown.with_name("out")
    for arguments in (
        ("print", gown, "-o", gown),
        ("print", gown, "-o", out, "--json", gown),
        ("print", gown, "-o", out, "--json", out),
        ("pieces", gown, "--json", gown),
    ):
        assert "would be written over" in refused(command(*arguments))
    assert contents(gown.parent) == before


def test_stopped_between_two_pages_nothing_is_written(gown: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A print that is cancelled half way leaves the older output whole."""
    gown.with_name("out.pdf").write_bytes(b"an older output")
    before = contents(gown.parent)
    real = print_pdf

    def stopped_on_page_2(*arguments: object, **settings: object) -> object:
        def progress(done: int, _total: int) -> None:
            if done == 2:
                raise Cancelled

        return real(*arguments, **{**settings, "progress": progress})  # type: ignore[arg-type] # handed on as given

    monkeypatch.setattr(print_pages, "print_pdf", stopped_on_page_2)
    done = command("print", gown, "-o", gown.with_name("out.pdf"))
    assert (done.status, done.out, done.err) == (130, "", "Stopped; no file was left half written.\n")
    assert contents(gown.parent) == before


@pytest.mark.skipif(os.name == "nt", reason="Windows has no pseudo-terminals of this kind")
def test_progress_is_shown_on_a_terminal_only(gown: Path) -> None:
    """Page by page on one line, which is cleared in the end; a file or a pipe is told nothing."""
    seeing, terminal = os.openpty()
    done = subprocess.run(
        [sys.executable, "-m", "core.commands", "print", gown, "-o", gown.with_name("out.pdf"), "--scale", "1/2"],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        stderr=terminal,
        check=False,
    )
    seen = os.read(seeing, 100_000).decode()
    os.close(seeing)
    os.close(terminal)
    assert done.returncode == 0
    pages = int(done.stdout.split()[2])
    assert seen.startswith(f"\rpage 0 of {pages}\rpage 1 of {pages}\r")
    assert seen.rstrip(" \r").endswith(f"\rpage {pages} of {pages}")
    assert seen.endswith("\r")
    assert command("print", gown, "-o", gown.with_name("out.pdf"), "--scale", "1/4").err == ""


def test_the_design_chooses_the_paper(gown: Path) -> None:
    """Where the command does not."""
    save_design(gown, msgspec.structs.replace(panel_design(), paper="letter"))
    assert "pages of letter at scale 1" in command("print", gown, "-o", gown.with_name("out.pdf")).out

"""`export` from the command line: SVG and DXF in the name's format, whole or not at all."""

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


@pytest.mark.parametrize(("name", "begins"), [("out.svg", b"<?xml"), ("out.DXF", b"  0\r\nSECTION")])
def test_the_name_chooses_the_format(gown: Path, name: str, begins: bytes) -> None:
    """And the command says how many pieces are in the file."""
    done = command("export", gown, "-o", gown.with_name(name))
    assert (done.status, done.out) == (0, f"{name} holds 4 pieces at true size.\n")
    assert gown.with_name(name).read_bytes().replace(b"\n", b"\r\n").replace(b"\r\r", b"\r").startswith(begins)


def test_what_cannot_be_exported_is_refused_and_nothing_is_written(gown: Path) -> None:
    """Another format, no such piece, the design itself, a folder that is not there: a sentence each."""
    before = contents(gown.parent)
    out = gown.with_name("out.svg")
    assert "ends in .svg or .dxf" in refused(command("export", gown, "-o", gown.with_name("out.pdf")))
    assert "no piece 9 to print" in refused(command("export", gown, "-o", out, "--pieces", "9"))
    assert "would be written over" in refused(command("export", gown, "-o", gown))
    assert "there is no folder" in refused(command("export", gown, "-o", gown.parent / "nowhere" / "out.dxf"))
    assert contents(gown.parent) == before

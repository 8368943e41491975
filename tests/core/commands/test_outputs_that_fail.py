"""Every command that makes a file, when the disk or the design lets it down: one sentence, the older output kept."""

from __future__ import annotations

import json
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Final

import pytest
from msgspec.structs import replace

from core.commands import inputs
from core.file.envelope import sealed, unsealed
from core.file.writer import save_design
from core.pieces.records import Garment
from tests.core.commands.running import command, contents, refused
from tests.core.file.sample_designs import block_design
from tests.samples import replayed

resource = pytest.importorskip("resource", reason="Windows cannot be told to let no file grow")

COMMANDS: Final[dict[str, tuple[tuple[str, ...], str]]] = {
    "print": (("print",), "-o out.pdf --json map.json"),
    "pieces": (("pieces",), "--json out.json"),
    "svg": (("export",), "-o out.svg"),
    "dxf": (("export",), "-o out.dxf"),
    "work sheet": (("sheets", "--kind", "work"), "-o out.pdf"),
    "client sheet": (("sheets", "--kind", "client"), "-o out.pdf"),
    "lesson": (("lesson",), "-o out.pdf"),
    "lesson svg": (("lesson",), "-o out.svg"),
    "lesson png": (("lesson",), "-o out.png"),
    "lay": (("lay", "--seconds", "1"), "-o out.pdf --marker marker.pdf --json lay.json"),
}
"""By what is made: how it is called, and the files it writes."""

LEAST: Final = 512
"""Bytes that the full disk still takes: fewer than any output has."""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A saved design, and an older file under every name that is written."""
    made = tmp_path / "made"
    made.mkdir()
    save_design(made / "x.sheer", block_design())
    names = ["out.pdf", "map.json", "out.json", "out.svg", "out.dxf", "out.png", "marker.pdf", "lay.json"]
    for name in (*names, *(f"out-{n:02}.{kind}" for n in range(1, 4) for kind in ("svg", "png"))):
        (made / name).write_bytes(b"older")
    return made


def tried(folder: Path, made: str, *more: str) -> str:
    """The one sentence with which the command refuses; every file in the folder is as it was, and none is new."""
    call, outputs = COMMANDS[made]
    before = contents(folder)
    files = [word if word.startswith("-") else folder / word for word in outputs.split()]
    sentence = refused(command(call[0], folder / "x.sheer", *call[1:], *files, *more))
    assert contents(folder) == before
    return sentence


@contextmanager
def full_disk() -> Iterator[None]:
    """No file grows beyond a few bytes: the kernel gives EFBIG, as a full disk gives ENOSPC."""
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (LEAST, hard))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))


@pytest.mark.parametrize("made", COMMANDS)
def test_a_full_disk(folder: Path, made: str) -> None:
    """It is named as what it is, with the way out."""
    with full_disk():
        sentence = tried(folder, made)
    assert "could not be written: the disk is full; nothing was changed, so write it somewhere else" in sentence


@pytest.mark.parametrize("made", COMMANDS)
def test_a_folder_that_may_not_be_written_in(folder: Path, made: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Even where the old file itself could be: no new one may be put beside it."""
    folder.chmod(0o555)
    if os.access(folder, os.W_OK):  # root may write everywhere: the system's answer is given in its stead
        real = os.open

        def closed(path: str | os.PathLike[str], flags: int, mode: int = 0o777) -> int:
            if flags & os.O_CREAT and Path(path).parent == folder:
                raise PermissionError(13, "Permission denied", str(path))
            return real(path, flags, mode)

        monkeypatch.setattr(os, "open", closed)
    try:
        assert "you may not write in made" in tried(folder, made)
    finally:
        folder.chmod(0o755)


@pytest.mark.parametrize("made", COMMANDS)
def test_a_design_without_pieces(folder: Path, made: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing is made of nothing: the way out is to draft a block."""
    done = replayed("block")
    nothing = Garment({}, {}, {}, {}, {})
    empty = replace(done, draft=replace(done.draft, garment=nothing), stages=())
    monkeypatch.setattr(inputs, "replay", lambda _design: empty)
    assert tried(folder, made) == "x.sheer has no pieces: draft a block first."


@pytest.mark.parametrize("made", COMMANDS)
def test_a_paper_that_is_not_known(folder: Path, made: str) -> None:
    """In the design: it is not opened. Asked of `print`, which alone takes one: those there are, are named."""
    design = folder / "x.sheer"
    if made == "print":
        assert "There is no paper a9 to print on; choose one of: a4, " in tried(folder, made, "--paper", "a9")
    held = unsealed(json.loads(design.read_bytes()))
    design.write_bytes(sealed({**held, "paper": "a9"}))
    assert "x.sheer cannot be opened: its paper is " in tried(folder, made)


@pytest.mark.parametrize(("call", "name"), [("export", "out.pdf"), ("export", "out"), ("lesson", "out.dxf")])
def test_a_format_that_is_not_written(folder: Path, call: str, name: str) -> None:
    """Those there are, are named."""
    before = contents(folder)
    sentence = refused(command(call, folder / "x.sheer", "-o", folder / name))
    assert ".svg" in sentence
    assert contents(folder) == before

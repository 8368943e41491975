"""What cannot be used: each gives one sentence on stderr and status 2, says nothing else, and changes no file."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import msgspec
import pytest

from core.body.body import Body
from core.design.design import Design
from core.file.writer import design_to_bytes, save_design
from core.steps.mapping import landmarks_of
from core.steps.step import LinePoint
from core.steps.style_line import StyleLine
from tests.core.commands.running import Done, command, contents, process, refused
from tests.core.file.sample_designs import block_design, block_of, panel_design, with_steps
from tests.core.laws.sample_steps import FIGURES, sheer

READING = ("check", "pieces", "print", "redraft")
"""The commands that read a design."""


def tried_in(folder: Path, name: str, run: Callable[..., Done] = command) -> str:
    """The sentence with which a command refuses bad.sheer; every file in the folder is as it was."""
    body = {"name": "A. Figure", "units": "cm", "measurements": FIGURES["middling"]}
    (folder / "body.json").write_text(json.dumps(body), encoding="utf-8")
    (folder / "out").write_bytes(b"an older output")
    (folder / "map").write_bytes(b"an older map")
    before = contents(folder)
    outputs = {
        "check": (),
        "pieces": ("--json", folder / "out"),
        "print": ("-o", folder / "out", "--json", folder / "map"),
        "redraft": ("--body", folder / "body.json", "-o", folder / "out"),
    }
    done = run(name, folder / "bad.sheer", *outputs[name])
    assert contents(folder) == before
    return refused(done)


def line_design(*points: tuple[float, float], place: str = "front.drawn") -> Design:
    """A design with one line on the front, its points given from the bust point."""
    piece = block_of(block_design()).piece("front")
    x, y = piece.landmarks["bust_point"]
    placed = tuple(LinePoint(x + right, y + up) for right, up in points)
    return with_steps(StyleLine("line-1", "front", place, placed, landmarks_of(piece)))


CROSSING_ITSELF = line_design((-80, 40), (0, 120), (30, 60), (-50, 60), (-20, 140), (60, 90))
MISSING_THE_PIECE = line_design((-80, 20), (-50, 40), (-30, 10))
OUTSIDE = line_design((400, 0), (500, 40), (600, 0))


def crossing_an_open_dart() -> Design:
    """A line from the centre front to the armhole, straight over the open shoulder dart."""
    line = sheer(block_of(block_design()))
    first, _, last = line.points
    x, y = line.drawn_on["bust_point"]
    middle = LinePoint(x + 20.0, y + 100.0)
    return with_steps(msgspec.structs.replace(line, points=(msgspec.structs.replace(first, y=y + 90.0), middle, last)))


@pytest.mark.parametrize("name", READING)
@pytest.mark.parametrize(
    ("design", "words"),
    [
        (CROSSING_ITSELF, "The front drawn line on piece front crosses itself"),
        (MISSING_THE_PIECE, "An end of the front drawn line misses piece front"),
        (OUTSIDE, "An end of the front drawn line misses piece front"),
        (crossing_an_open_dart(), "shoulder dart"),
    ],
    ids=["crosses itself", "misses the piece", "outside", "legs unequally"],
)
def test_a_line_that_cannot_be_drawn(tmp_path: Path, name: str, design: Design, words: str) -> None:
    """The sentence names step, line and piece; on another body as on her own."""
    save_design(tmp_path / "bad.sheer", design)
    sentence = tried_in(tmp_path, name)
    assert f"the step {design.steps[0].id} cannot " in sentence
    assert words in sentence


def test_a_line_that_meets_a_dart_unequally_says_to_fold_it(tmp_path: Path) -> None:
    """The way out is to draw it with the dart folded (cutting.md 1)."""
    save_design(tmp_path / "bad.sheer", crossing_an_open_dart())
    sentence = tried_in(tmp_path, "check", process)
    assert "shoulder dart" in sentence
    assert "folded" in sentence


@pytest.mark.parametrize("name", READING)
@pytest.mark.parametrize("length", [0, 1, 700, -2])
def test_a_broken_file(tmp_path: Path, name: str, length: int) -> None:
    """Cut short anywhere."""
    (tmp_path / "bad.sheer").write_bytes(design_to_bytes(panel_design())[:length])
    assert tried_in(tmp_path, name).startswith("bad.sheer cannot be opened: it is ")


@pytest.mark.parametrize("name", READING)
def test_a_missing_file(tmp_path: Path, name: str) -> None:
    """Its name and the folder that was looked in."""
    assert "bad.sheer cannot be opened: there is no such file" in tried_in(tmp_path, name)


def test_a_design_whose_body_lacks_a_measurement(tmp_path: Path) -> None:
    """The measurement is named, with how to take it."""
    design = block_design()
    taken = {id_: value for id_, value in design.body.measurements.items() if id_ != "bust_span"}
    save_design(tmp_path / "bad.sheer", msgspec.structs.replace(design, body=Body("A", "cm", taken)))
    for name in ("check", "pieces", "print"):
        assert "bad.sheer: The bust span is missing and no block can be drafted without it" in tried_in(tmp_path, name)


def test_nan_in_a_design(tmp_path: Path) -> None:
    """JSON as Python reads it by default would let it pass."""
    (tmp_path / "bad.sheer").write_bytes(design_to_bytes(panel_design()).replace(b'"unit": "cm"', b'"unit": NaN'))
    for name in READING:
        assert "it holds NaN, which is not a number; it was left untouched" in tried_in(tmp_path, name)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "is not JSON"),
        ('{"name": "A", "units": "cm", "measurements": {"bust": 92', "is not JSON"),
        ('{"name": "A", "units": "cm", "measurements": {"bust": NaN}}', "NaN, which is not a number"),
        ('{"name": "A", "units": "cm", "measurements": {"bust": 1e999}}', "The bust of the body file is not a number"),
        ('{"name": "A", "units": "cm", "measurements": {"bust": "92"}}', "The bust of the body file is not a number"),
        ('{"name": "A", "units": "cm", "measurements": {"bust": 92}}', "is missing and no block can be drafted"),
        ('{"name": "A", "units": "cm", "measurements": {"bust": 920}}', "is not believable"),
        ('{"name": "A", "units": "cm", "measurements": {"busts": 92}}', "“bust” may be meant"),
        ('{"name": "A", "units": "ell", "measurements": {}}', "units of the body file are not known"),
        ("[" * 100_000, "nested too deeply"),
    ],
    ids=range(10),
)
def test_a_bad_body_file(tmp_path: Path, text: str, words: str) -> None:
    """For a new block and for a redraft alike; the sentence begins with the file's name."""
    save_design(tmp_path / "x.sheer", panel_design())
    (tmp_path / "b.json").write_text(text, encoding="utf-8")
    (tmp_path / "out").write_bytes(b"an older output")
    before = contents(tmp_path)
    for start in (("draft",), ("redraft", tmp_path / "x.sheer")):
        sentence = refused(command(*start, "--body", tmp_path / "b.json", "-o", tmp_path / "out"))
        assert sentence.startswith("b.json: ")
        assert words in sentence
    assert contents(tmp_path) == before


def test_a_body_file_that_is_no_text(tmp_path: Path) -> None:
    """Bytes that are no UTF-8, a folder, a file that is not there."""
    (tmp_path / "b.json").write_bytes(b'{"name": "\xff"}')
    (tmp_path / "folder").mkdir()
    for name, words in (("b.json", "it is not UTF-8 text"), ("folder", "a folder or a device"), ("c", "no such file")):
        sentence = refused(command("draft", "--body", tmp_path / name, "-o", tmp_path / "x.sheer"))
        assert sentence.startswith(f"{name} cannot be opened: ")
        assert words in sentence
    assert not (tmp_path / "x.sheer").exists()


@pytest.mark.parametrize("name", READING[1:])
def test_an_output_that_cannot_be_written(tmp_path: Path, name: str) -> None:
    """A folder that is not there: one sentence, and the command's other output is not written either."""
    save_design(tmp_path / "x.sheer", panel_design())
    (tmp_path / "body.json").write_text(
        json.dumps({"name": "A", "units": "cm", "measurements": FIGURES["middling"]}), encoding="utf-8"
    )
    gone = tmp_path / "gone" / "out"
    outputs = {
        "pieces": ("--json", gone),
        "print": ("-o", tmp_path / "out.pdf", "--json", gone),
        "redraft": ("--body", tmp_path / "body.json", "-o", gone),
    }
    before = contents(tmp_path)
    assert "out could not be written: there is no folder gone" in refused(
        command(name, tmp_path / "x.sheer", *outputs[name])
    )
    assert contents(tmp_path) == before

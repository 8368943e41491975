"""The same design on another body, and the shipped demos."""

from __future__ import annotations

import json
from pathlib import Path

import msgspec
import pytest

from core.checks.report import report
from core.commands import demo
from core.design.replay import replay
from core.file.reader import read_design
from core.file.writer import save_design
from core.pieces.places import Place
from core.shipped import asset
from core.steps.step import LinePoint
from core.steps.trim import Trim
from tests.core.commands.running import command, contents, process, refused
from tests.core.file.sample_designs import block_design, panel_design, with_steps
from tests.core.laws.sample_steps import FIGURES, drafted, panels, sheer


def body_file(path: Path, figure: str) -> Path:
    """The body file of an invented figure."""
    path.write_text(json.dumps({"name": "B. Other", "units": "cm", "measurements": FIGURES[figure]}), encoding="utf-8")
    return path


def test_a_design_follows_another_body(tmp_path: Path) -> None:
    """All steps, on a body of her own; her seams match as the first client's do."""
    save_design(tmp_path / "x.sheer", panel_design())
    done = process(
        "redraft", tmp_path / "x.sheer", "--body", body_file(tmp_path / "b.json", "full"), "-o", tmp_path / "y"
    )
    assert (done.status, done.err) == (0, "")
    other = read_design(tmp_path / "y")
    assert other.body.name == "B. Other"
    assert other.steps == panel_design().steps
    assert report(replay(other)).passes
    assert read_design(tmp_path / "x.sheer") == panel_design()


def test_there_and_back_is_the_same_file(tmp_path: Path) -> None:
    """A to B to A is exact (design.md 3)."""
    save_design(tmp_path / "a.sheer", panel_design())
    body_file(tmp_path / "b.json", "slight")
    first = {"name": "A. Figure", "units": "cm", "measurements": FIGURES["middling"]}
    (tmp_path / "a.json").write_text(json.dumps(first), encoding="utf-8")
    for source, body, target in (("a.sheer", "b.json", "b.sheer"), ("b.sheer", "a.json", "c.sheer")):
        assert command("redraft", tmp_path / source, "--body", tmp_path / body, "-o", tmp_path / target).status == 0
    assert (tmp_path / "b.sheer").read_bytes() != (tmp_path / "a.sheer").read_bytes()
    assert (tmp_path / "c.sheer").read_bytes() == (tmp_path / "a.sheer").read_bytes()


def test_the_body_may_be_that_of_another_design(tmp_path: Path) -> None:
    """The measurements are taken from the design that is on her; that file is only read."""
    save_design(tmp_path / "x.sheer", panel_design())
    hers = block_design("full")
    save_design(tmp_path / "hers.sheer", hers)
    before = (tmp_path / "hers.sheer").read_bytes()
    done = command("redraft", tmp_path / "x.sheer", "--body", tmp_path / "hers.sheer", "-o", tmp_path / "y.sheer")
    assert (done.status, done.err) == (0, "")
    assert read_design(tmp_path / "y.sheer").body == hers.body
    assert (tmp_path / "hers.sheer").read_bytes() == before


def test_steps_that_cannot_follow_are_all_named(tmp_path: Path) -> None:
    """The one whose place her shorter armhole does not have, with its reason, and the one that needs it; no other."""
    garment = drafted("full")
    far = garment.origins["front.armhole"].length - 5.0
    line, cut = sheer(garment), panels(garment)
    end = LinePoint(190.0, 250.0, place=Place("front.armhole", "side", distance=far))
    lost = msgspec.structs.replace(line, points=(*line.points[:-1], end))
    save_design(tmp_path / "x.sheer", with_steps(lost, cut, Trim("trim-1", "side"), figure="full"))
    body_file(tmp_path / "b.json", "slight")
    before = contents(tmp_path)
    done = command("redraft", tmp_path / "x.sheer", "--body", tmp_path / "b.json", "-o", tmp_path / "y.sheer")
    sentence = refused(done)
    assert sentence.startswith("On the new body the step sheer-1 cannot follow (The place on front.armhole lies ")
    assert sentence.endswith("); neither can cut-1; nothing was written.")
    assert contents(tmp_path) == before


def test_the_demos_are_copied_whole(tmp_path: Path) -> None:
    """Into a folder that is made for them; each opens and passes its own check."""
    done = process("demo", "-o", tmp_path / "demos")
    assert (done.status, done.err) == (0, "")
    shipped = contents(asset("demo"))
    assert contents(tmp_path / "demos") == {name: data for name, data in shipped.items() if name.endswith(".sheer")}
    for path in (tmp_path / "demos").iterdir():
        assert f"{path.name} lies in demos." in done.out
        assert command("check", path).status == 0


def test_copying_again_keeps_her_changes(tmp_path: Path) -> None:
    """An altered copy is kept under the name with a tilde; an unaltered one is left alone."""
    assert command("demo", "-o", tmp_path).status == 0
    first = next(tmp_path.iterdir())
    save_design(first, block_design())
    (tmp_path / f"{first.name}~").unlink()
    for _ in range(2):
        assert command("demo", "-o", tmp_path).status == 0
        assert read_design(tmp_path / f"{first.name}~") == block_design()
        assert first.read_bytes() == asset("demo", first.name).read_bytes()


def test_a_folder_that_cannot_be_made_is_refused(tmp_path: Path) -> None:
    """A file in its place, or no folder to make it in."""
    (tmp_path / "file").write_bytes(b"mine")
    assert "file is a file and not a folder" in refused(command("demo", "-o", tmp_path / "file"))
    assert "There is no folder gone" in refused(command("demo", "-o", tmp_path / "gone" / "demos"))
    assert contents(tmp_path) == {"file": b"mine"}


def test_missing_demos_are_said(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Of an installation that is not whole."""
    monkeypatch.setattr(demo, "asset", lambda _name: tmp_path)
    assert "The demo designs are missing" in refused(command("demo", "-o", tmp_path / "demos"))
    assert not (tmp_path / "demos").exists()

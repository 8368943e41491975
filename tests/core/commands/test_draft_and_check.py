"""Drafting a block and checking a design from the command line."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from pathlib import Path

import msgspec
import pytest
from msgspec.structs import replace

from core.body.body import entered
from core.body.catalogue import MEASUREMENTS
from core.checks.outlines import Fault
from core.checks.report import Report, report
from core.checks.verdict import SIGNS, Verdict
from core.commands import check
from core.design.replay import Replay, replay
from core.file.reader import read_design
from core.file.writer import save_design
from tests.core.commands.running import command, contents, process, refused
from tests.core.file.sample_designs import block_design, panel_design
from tests.core.laws.sample_steps import FIGURES


def body_file(path: Path, measurements: Mapping[str, float] = FIGURES["middling"], name: str = "A. Figure") -> Path:
    """A body file in centimetres."""
    path.write_text(json.dumps({"name": name, "units": "cm", "measurements": measurements}), encoding="utf-8")
    return path


def test_a_body_becomes_a_design(tmp_path: Path) -> None:
    """The file holds the body and nothing but its block, in the client's name and units."""
    done = process("draft", "--body", body_file(tmp_path / "b.json"), "-o", tmp_path / "x.sheer")
    assert (done.status, done.err) == (0, "")
    design = read_design(tmp_path / "x.sheer")
    assert (design.name, design.unit, design.steps) == ("A. Figure", "cm", ())
    assert design.body == block_design().body


def test_what_was_estimated_is_said_with_its_rule(tmp_path: Path) -> None:
    """Nothing is guessed quietly: each measurement that was not taken is named, and only those."""
    taken = {**FIGURES["middling"], "hip": 98.0}
    said = command("draft", "--body", body_file(tmp_path / "b.json", taken), "-o", tmp_path / "x.sheer").out
    for row in MEASUREMENTS.values():
        assert (f"Estimated {row.name}: " in said) == (row.id not in taken)
        assert row.rule is None or row.id in taken or row.rule.text in said


def test_drafting_over_a_design_keeps_the_version_before(tmp_path: Path) -> None:
    """As every save does."""
    save_design(tmp_path / "x.sheer", panel_design())
    assert command("draft", "--body", body_file(tmp_path / "b.json"), "-o", tmp_path / "x.sheer").status == 0
    assert read_design(tmp_path / "x.sheer~") == panel_design()


def test_an_unknown_method_is_refused(tmp_path: Path) -> None:
    """By its name, with those there are."""
    done = command("draft", "--body", body_file(tmp_path / "b.json"), "--method", "x", "-o", tmp_path / "x.sheer")
    assert "no drafting method x; choose one of: tape" in refused(done)
    assert not (tmp_path / "x.sheer").exists()


def test_an_output_never_takes_the_place_of_its_input(tmp_path: Path) -> None:
    """Not even through a link."""
    body = body_file(tmp_path / "b.json")
    (tmp_path / "link").symlink_to(body)
    (tmp_path / "hard").hardlink_to(body)
    before = contents(tmp_path)
    for name in ("b.json", "link", "hard"):
        assert "would be written over b.json" in refused(command("draft", "--body", body, "-o", tmp_path / name))
    assert contents(tmp_path) == before


def test_a_good_design_passes(tmp_path: Path) -> None:
    """Status 0; each seam with its sign, word and lengths in the design's unit."""
    save_design(tmp_path / "x.sheer", panel_design())
    done = process("check", tmp_path / "x.sheer")
    assert (done.status, done.err) == (0, "")
    assert done.out.startswith("Garden party: = exact\n")
    assert re.search(r"^= exact  front sheer line: .*yoke \(sheer line.*\) [0-9.]+ cm to ", done.out, re.MULTILINE)
    assert "bust of the block: 97.08 cm for a body of 92.0 cm, ease 5.08 cm" in done.out


@pytest.mark.parametrize(("verdict", "status"), [("exact", 0), ("good", 0), ("check", 1), ("wrong", 1)])
def test_the_status_follows_the_worst_verdict(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, verdict: Verdict, status: int
) -> None:
    """0 for exact and good, 1 for check and wrong (design.md 12), with the verdict's sign and word in the text."""

    def one_seam_off(replay: Replay) -> Report:
        found = report(replay)
        return replace(found, seams=(replace(found.seams[0], verdict=verdict), *found.seams[1:]))

    monkeypatch.setattr(check, "report", one_seam_off)
    save_design(tmp_path / "x.sheer", panel_design())
    done = command("check", tmp_path / "x.sheer")
    assert done.status == status
    assert done.out.startswith(f"Garden party: {SIGNS[verdict]} {verdict}\n{SIGNS[verdict]} {verdict}")
    assert json.loads(command("check", tmp_path / "x.sheer", "--json").out)["passes"] == (status == 0)


def test_a_fault_gives_status_1(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """However well the seams match; its sentence is said."""
    fault = Fault("The outline of piece yoke crosses itself.", "yoke")
    monkeypatch.setattr(check, "report", lambda replay: replace(report(replay), faults=(fault,)))
    save_design(tmp_path / "x.sheer", panel_design())
    done = command("check", tmp_path / "x.sheer")
    assert done.status == 1
    assert fault.sentence in done.out


def test_the_report_as_json_says_what_the_text_says(tmp_path: Path) -> None:
    """Every seam, girth, fault and note with its numbers in mm."""
    save_design(tmp_path / "x.sheer", panel_design())
    done = process("check", tmp_path / "x.sheer", "--json")
    found, expected = json.loads(done.out), report(replay(panel_design()))
    assert (done.status, done.err, found["verdict"], found["passes"]) == (0, "", "exact", True)
    assert [row["name"] for row in found["seams"]] == [row.name for row in expected.seams]
    for row in found["seams"]:
        assert row["difference"] == pytest.approx(row["length_a"] - row["length_b"] - row["ease"], abs=1e-9)
    assert [girth["name"] for girth in found["girths"]] == ["upper bust", "bust", "under-bust", "waist"]
    assert all(girth["ease"] == girth["finished"] - girth["body"] for girth in found["girths"])


def test_what_the_drafting_has_to_say_is_checked_too(tmp_path: Path) -> None:
    """A note of the block, here of a shoulder measured to the bone, is said by `check` in words and as JSON."""
    body = entered("A. Figure", "cm", FIGURES["middling"] | {"shoulder": 15.5})
    save_design(tmp_path / "x.sheer", msgspec.structs.replace(block_design(), body=body))
    replayed = replay(read_design(tmp_path / "x.sheer"))
    sentence = next(note.sentence for _, note in replayed.notes if "shoulder length" in note.sentence)
    assert f"block: {sentence}" in command("check", tmp_path / "x.sheer").out
    said = json.loads(command("check", tmp_path / "x.sheer", "--json").out)
    assert {"step": "block", "kind": "advice", "sentence": sentence, "piece": "", "edge": ""} in said["notes"]

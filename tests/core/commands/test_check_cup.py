"""The cup over the opening, as `check` says it."""

from __future__ import annotations

import json
from pathlib import Path

from msgspec.structs import replace

from core.file.writer import design_to_bytes
from core.steps.cup import Cup
from tests.core.commands.running import command
from tests.demo_designs import concert


def written(folder: Path, **changes: object) -> Path:
    """The concert demo with its cup altered, as a file."""
    design = concert()
    cup = next(step for step in design.steps if isinstance(step, Cup))
    path = folder / "cup.sheer"
    path.write_bytes(design_to_bytes(design.with_step(replace(cup, **changes))))
    return path


def test_a_cup_that_covers_and_fits_passes(tmp_path: Path) -> None:
    """One line with sign, word and sentences; as JSON with lengths in mm and angles in degrees."""
    path = written(tmp_path)
    done = command("check", path)
    assert done.status == 0
    assert "≈ good   Cup over the opening: The cup covers what is bare and 1/2 in more." in done.out
    (cup,) = json.loads(command("check", path, "--json").out)["cups"]
    assert (cup["step"], cup["verdict"], cup["short"]) == ("cup-1", "good", [])
    assert abs(cup["difference"]) <= 3.0
    assert cup["match_line"] - cup["opening"] == cup["difference"]


def test_a_cup_that_falls_short_does_not_pass(tmp_path: Path) -> None:
    """It is said where and by how much, and the status is 1."""
    path = written(tmp_path, outer=60.0)
    done = command("check", path)
    assert done.status == 1
    assert "≠ wrong  Cup over the opening: The cup falls short by" in done.out
    (cup,) = json.loads(command("check", path, "--json").out)["cups"]
    assert [short["where"] for short in cup["short"]] == ["above towards the side"]
    assert cup["short"][0]["most"] > 3.0

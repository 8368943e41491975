"""What the reader lets stand, and the whole of what it says otherwise: the file, what is wrong, the way out."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import msgspec
import pytest

from core.errors import Refusal
from core.file import reader
from core.file.reader import design_from_bytes, read_design
from core.file.writer import design_to_bytes
from core.steps.trim import Trim
from tests.core.file.sample_designs import block_design, panel_design

SAVED = design_to_bytes(block_design())


def test_a_step_that_is_switched_off_stays_so() -> None:
    """Its id is one that the design has."""
    design = msgspec.structs.replace(panel_design(), off=("trim-1",))
    assert design_from_bytes(design_to_bytes(design)).off == ("trim-1",)


NEWER = SAVED.replace(b'"schema": 1', b'"schema": 7')
"""As a later version may write it."""


@pytest.mark.parametrize(
    ("data", "wrong", "way_out"),
    [
        (b"[]", "it is not a Sheerwright design", ", so choose a file that Sheerwright saved"),
        (
            NEWER,
            "it was saved by a newer Sheerwright (file schema 7; this one knows 1)",
            ", and the newer Sheerwright opens it",
        ),
        (SAVED[:-20], "it is cut short or damaged at line {line}", ", so open a copy of it if you have one"),
    ],
    ids=["foreign", "newer", "cut short"],
)
def test_the_sentence_ends_with_the_way_out(tmp_path: Path, data: bytes, wrong: str, way_out: str) -> None:
    """For what never was a design, what a newer program wrote, and what is damaged."""
    path = tmp_path / "gown.sheer"
    path.write_bytes(data)
    with pytest.raises(Refusal) as refused:
        read_design(path)
    wrong = wrong.format(line=data.count(b"\n") + 1)
    assert refused.value.sentence == f"gown.sheer cannot be opened: {wrong}; it was left untouched{way_out}."


def test_bytes_without_a_file_are_refused_without_a_way_out() -> None:
    """Nobody knows where they came from; the name is given by whoever has them."""
    with pytest.raises(Refusal, match=r"^The design cannot be opened: it is empty; it was left untouched\.$"):
        design_from_bytes(b"")


@pytest.mark.parametrize(
    ("fault", "why"),
    [
        (OSError("the cloud is away"), "the cloud is away"),
        (OSError(5, "Input/output error"), "Input/output error"),
        (OSError(13, "Permission denied"), "you may not read it"),
    ],
    ids=range(3),
)
def test_what_the_system_says_is_passed_on(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, fault: OSError, why: str
) -> None:
    """With a number or without, and in plainer words where there are some."""

    def failing(_path: Path) -> bytes:
        raise fault

    monkeypatch.setattr(reader, "read_bytes", failing)
    with pytest.raises(Refusal) as told:
        read_design(tmp_path / "gown.sheer")
    assert told.value.sentence == f"gown.sheer cannot be opened: {why}; it was left untouched."


@pytest.mark.parametrize(
    ("altered", "wrong"),
    [
        ({"date": "2 March"}, "its date is not written as year-month-day"),
        ({"off": ("cut-9",)}, "it switches off a step “cut-9” that it does not have"),
        ({"steps": (Trim("", "side"),)}, "one of its steps has no id"),
        ({"steps": (Trim("trim-1", "side"),) * 2}, "two of its steps have the id “trim-1”"),
        ({"fabrics": block_design().fabrics[:1] * 2}, "two of its fabrics have the name “main”"),
    ],
    ids=range(5),
)
def test_what_does_not_go_together_is_said_to_the_letter(altered: dict[str, Any], wrong: str) -> None:
    """As reading would say it, before anything is written."""
    with pytest.raises(Refusal) as told:
        design_to_bytes(msgspec.structs.replace(block_design(), **altered))
    assert told.value.sentence == (
        f"The design cannot be saved, for it could not be opened again: {wrong}; undo the last act and save it."
    )

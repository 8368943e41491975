"""Copies of unsaved work: written with the file they belong to, listed newest first, compared in words."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import msgspec
import pytest
from msgspec.structs import replace

from core.body.catalogue import MEASUREMENTS
from core.body.shape import Shape
from core.errors import Refusal
from core.file.recovery import KeptWork, differences, drop_work, keep_work, kept_works
from core.file.writer import save_design
from core.steps.trim import Trim
from tests.core.file.sample_designs import block_design, panel_design


def listed(folder: Path, *busy: str) -> tuple[KeptWork, ...]:
    """The works in a folder that can be read."""
    return kept_works(folder, busy=busy)[0]


def test_a_copy_knows_its_file_and_goes_without_a_trace(tmp_path: Path) -> None:
    """The design comes back exactly, with the file it belongs to, or none."""
    folder = tmp_path / "new" / "folder"
    keep_work(folder / "a.0.sheer", panel_design(), tmp_path / "gown.sheer")
    keep_work(folder / "b.0.sheer", block_design(), None)
    works = {work.original: work.design for work in listed(folder)}
    assert {work.differs for work in listed(folder)} == {
        "never saved; 0 steps",
        "its file cannot be opened; 3 steps",
    }
    assert works == {tmp_path / "gown.sheer": panel_design(), None: block_design()}
    assert os.name == "nt" or folder.stat().st_mode & 0o777 == 0o700
    drop_work(folder / "a.0.sheer")
    drop_work(folder / "b.0.sheer")
    drop_work(folder / "never.0.sheer")
    assert list(folder.iterdir()) == []


def test_the_newest_comes_first_and_those_of_running_windows_not_at_all(tmp_path: Path) -> None:
    """By the time of the copy."""
    for owner, at in (("a", 100), ("b", 300), ("c", 200)):
        keep_work(tmp_path / f"{owner}.0.sheer", block_design(), None)
        os.utime(tmp_path / f"{owner}.0.sheer", (at, at))
    assert [work.copy.name[0] for work in listed(tmp_path)] == ["b", "c", "a"]
    assert [work.copy.name[0] for work in listed(tmp_path, "b")] == ["c", "a"]


@pytest.mark.parametrize("note", [b"", b"[1]", b"\xff", b'"half'])
def test_a_damaged_note_leaves_work_without_a_file(tmp_path: Path, note: bytes) -> None:
    """Nobody guesses where it belongs."""
    keep_work(tmp_path / "a.0.sheer", block_design(), tmp_path / "gown.sheer")
    (tmp_path / "a.0.of").write_bytes(note)
    assert listed(tmp_path)[0].original is None


def test_damaged_copies_are_named_and_do_not_hide_the_others(tmp_path: Path) -> None:
    """A copy that was cut short, a folder of that name, a link that leads nowhere."""
    keep_work(tmp_path / "a.0.sheer", block_design(), None)
    whole = (tmp_path / "a.0.sheer").read_bytes()
    (tmp_path / "b.0.sheer").write_bytes(whole[:-100])
    (tmp_path / "c.0.sheer").mkdir()
    (tmp_path / "d.0.sheer").symlink_to(tmp_path / "gone")
    works, damaged = kept_works(tmp_path)
    assert [work.copy.name for work in works] == ["a.0.sheer"]
    assert [path.name[0] for path in damaged] == ["b", "c", "d"]
    assert kept_works(tmp_path / "gone") == ((), ())


def test_a_folder_that_cannot_be_made_is_refused_in_a_sentence(tmp_path: Path) -> None:
    """With the way out."""
    (tmp_path / "in the way").write_bytes(b"")
    with pytest.raises(Refusal, match=r"^No recovery copy can be kept: File exists; save your work yourself\.$"):
        keep_work(tmp_path / "in the way" / "a.0.sheer", block_design(), None)


def test_a_copy_that_cannot_be_written_is_refused_without_its_own_name(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A full disk in the words that saving has; a copy has a name that she has never seen."""

    def full(_descriptor: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    with monkeypatch.context() as patched:
        patched.setattr(os, "fsync", full)
        with pytest.raises(Refusal) as refused:
            keep_work(tmp_path / "a.0.sheer", block_design(), None)
    assert refused.value.sentence == "No recovery copy can be kept: the disk is full; save your work yourself."
    assert list(tmp_path.iterdir()) == []


def test_work_that_no_file_can_hold_is_refused_with_the_place(tmp_path: Path) -> None:
    """In the words that saving has for it."""
    spoilt = replace(block_design(), body=replace(block_design().body, measurements={"bust": float("nan")}))
    with pytest.raises(Refusal) as saved:
        save_design(tmp_path / "a.0.sheer", spoilt)
    with pytest.raises(Refusal) as kept:
        keep_work(tmp_path / "a.0.sheer", spoilt, None)
    words = saved.value.sentence.removesuffix(".")
    assert kept.value.sentence == f"No recovery copy can be kept: {words}; save your work yourself."


def test_what_differs_is_said_in_words(tmp_path: Path) -> None:
    """Steps counted, measurements with both values in her unit, the rest by name."""
    before = panel_design()
    body = msgspec.structs.replace(
        before.body, name="B. Figure", measurements={**before.body.measurements, "bust": 965.2}
    )
    after = msgspec.structs.replace(
        before.without_step("trim-1").with_step(Trim("trim-2", "side")), body=body, notes="pin it", unit="in"
    )
    assert differences(before, before) == "nothing differs"
    words = differences(before, after)
    assert words.startswith("1 step more; 1 step fewer; bust 38 in, was ")
    assert words.endswith("; client, unit, notes altered")
    shaped = msgspec.structs.replace(before.body, shape=Shape(profile="round"))
    assert differences(before, msgspec.structs.replace(before, body=shaped)) == "shape of the figure altered"
    both = msgspec.structs.replace(before, body=shaped, notes="pin it")
    assert differences(before, both) == "shape of the figure, notes altered"
    fewer = msgspec.structs.replace(body, measurements={})
    assert f"{len(body.measurements)} measurements altered" in differences(
        before, msgspec.structs.replace(before, body=fewer)
    )
    path = tmp_path / "gown.sheer"
    keep_work(tmp_path / "kept" / "a.0.sheer", after, path)
    (work,) = listed(tmp_path / "kept")
    assert work.differs == "its file cannot be opened; 3 steps"
    save_design(path, before)
    assert work.differs == words


def test_a_measurement_that_was_not_taken_is_said_so() -> None:
    """And not shown as a number."""
    before = block_design()
    fewer = {id_: value for id_, value in before.body.measurements.items() if id_ != "bust"}
    after = msgspec.structs.replace(before, body=msgspec.structs.replace(before.body, measurements=fewer))
    assert differences(before, after).startswith("bust not taken, was ")
    assert differences(before, before.with_step(Trim("trim-1", "side"))) == "1 step more"
    altered = before.with_step(Trim("trim-1", "side")).with_step(Trim("trim-1", "waist"))
    assert differences(before.with_step(Trim("trim-1", "side")), altered) == "1 step altered"


def test_three_differences_of_a_sort_are_named_and_no_more() -> None:
    """With both values; of four only the number. Of settings the first three, spelt as words."""
    before = block_design()
    measured = dict(list(before.body.measurements.items())[:4])
    grown = {id_: value + 10.0 for id_, value in measured.items()}

    def told(count: int) -> str:
        some = {**before.body.measurements, **dict(list(grown.items())[:count])}
        return differences(before, replace(before, body=replace(before.body, measurements=some)))

    first = next(iter(measured))
    row = MEASUREMENTS[first]
    assert told(1) == f"{row.name} {row.show(grown[first], 'cm')}, was {row.show(measured[first], 'cm')}"
    assert told(3).count(", was ") == 3
    assert told(4) == "4 measurements altered"
    others = replace(before, name="Ball", date="2026-03-03", unit="in", notes="pin it")
    assert differences(before, others) == "name, date, unit altered"
    assert differences(before, replace(before, own_block=object())) == "own block altered"

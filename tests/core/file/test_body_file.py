"""A client's body from a file: a body file or a saved design, and one sentence for whatever is neither."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from core.errors import Refusal
from core.file.body_file import body_in
from core.file.writer import save_design
from tests.core.file.sample_designs import block_design

CLIENT = {"name": "A. Figure", "units": "cm", "measurements": {"bust": 92.5}}


def refused(path: Path) -> str:
    """The sentence with which a path is refused."""
    with pytest.raises(Refusal) as caught:
        body_in(path)
    return caught.value.sentence


def test_a_body_file_is_read_in_millimetres(tmp_path: Path) -> None:
    """92.5 cm are 925 mm."""
    path = tmp_path / "client.json"
    path.write_text(json.dumps(CLIENT), encoding="utf-8")
    body = body_in(path)
    assert (body.name, body.measurements) == ("A. Figure", {"bust": 925.0})


@pytest.mark.parametrize("name", ["gown.sheer", "GOWN.SHEER"])
def test_a_saved_design_gives_the_body_it_is_for(tmp_path: Path, name: str) -> None:
    """However its ending is written."""
    save_design(tmp_path / name, block_design())
    assert body_in(tmp_path / name) == block_design().body


def test_a_damaged_design_is_not_taken_for_a_body_file(tmp_path: Path) -> None:
    """A body file under the ending of a design is refused as a design would be."""
    path = tmp_path / "gown.sheer"
    path.write_text(json.dumps(CLIENT), encoding="utf-8")
    assert "it is not a Sheerwright design" in refused(path)


def test_what_is_no_body_file_is_refused_by_its_name(tmp_path: Path) -> None:
    """Missing, a folder, a link to itself, no text, a wrong measurement: which file, and what is the matter."""
    (tmp_path / "loop.json").symlink_to("loop.json")
    (tmp_path / "bytes.json").write_bytes(b'{"name": "\xff"}')
    (tmp_path / "wrong.json").write_text(json.dumps({**CLIENT, "units": "ell"}), encoding="utf-8")
    assert refused(tmp_path / "gone.json") == (f"gone.json cannot be opened: there is no such file in {tmp_path.name}.")
    assert refused(tmp_path) == f"{tmp_path.name} cannot be opened: it is a folder or a device and not a file."
    assert refused(tmp_path / "loop.json") == "loop.json cannot be opened: Too many levels of symbolic links."
    assert refused(tmp_path / "bytes.json") == "bytes.json cannot be opened: it is not UTF-8 text."
    assert refused(tmp_path / "wrong.json").startswith("wrong.json: The units of the body file are not known")

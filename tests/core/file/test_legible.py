"""Signs that turn the writing round or are not seen: written out in all that is read, left in the file."""

from __future__ import annotations

import unicodedata
from pathlib import Path

import pytest
from msgspec.structs import replace

from core.design.design import Design
from core.design.replay import replay
from core.errors import Refusal
from core.file.naming import written_out
from core.file.reader import NewerSchema, design_from_bytes, read_design
from core.file.writer import design_to_bytes, save_design
from core.shipped import asset
from core.steps.choose_fabric import ChooseFabric
from tests.core.file.sample_designs import block_design, block_of, with_steps
from tests.core.laws.sample_steps import panels, sheer

TURNING = "".join(map(chr, (*range(0x202A, 0x202F), *range(0x2066, 0x206A), 0x200E, 0x200F, 0x61C)))
"""The formatting characters of the bidirectional algorithm (Unicode Standard Annex 9, section 2)."""


def opened(path: Path, design: Design) -> Design:
    """A design that somebody else saved, as it is here."""
    path.write_bytes(design_to_bytes(design))
    return read_design(path)


@pytest.mark.parametrize("sign", [*TURNING, "\u200b", "\ufeff", "\u00ad", "\u2028", "\x1b", "\x00", "\U000e0041"])
def test_a_sign_that_is_not_seen_is_written_out(sign: str) -> None:
    """Those that turn, those without width, breaks of lines that are none, and what a terminal obeys."""
    assert written_out(f"cut {sign}once") == f"cut \\u{ord(sign):04x}once"


@pytest.mark.parametrize(
    "text",
    [
        "Grüße, cœur, Ωμέγα",
        "שלום",
        "مرحبا",
        "می\u200cکنم",  # Persian, with the non-joiner that its spelling wants
        "क्\u200dष",  # Devanagari, with a joiner
        "\U0001f469\u200d\U0001f467",  # one picture of two parts
        "two\nlines\tand a tab",
        "\\u202e",
    ],
)
def test_what_writing_needs_is_left(text: str) -> None:
    """Letters of any script, what joins them, lines and tabs; and what is written out already."""
    assert written_out(text) == text


def test_every_sign_of_the_two_categories_is_known() -> None:
    """Whatever Unicode calls control or format and is not named above as wanted: none of them is shown as it is."""
    signs = [chr(code) for code in range(0x110000) if unicodedata.category(chr(code)) in {"Cc", "Cf"}]
    assert {sign for sign in signs if written_out(sign) == sign} == {"\n", "\t", "\u200c", "\u200d"}


def test_names_are_read_with_such_signs_written_out_and_the_file_keeps_them(tmp_path: Path) -> None:
    """The design's name, its notes, a fabric's name."""
    path = tmp_path / "gown.sheer"
    design = block_design()
    fabric = replace(design.fabrics[0], name="net\u202egnitsaf")
    hostile = replace(design, name="Gown\u2066", notes="once\n\u202etwice", fabrics=(fabric, *design.fabrics[1:]))
    read = opened(path, hostile)
    assert (read.name, read.notes) == ("Gown\\u2066", "once\n\\u202etwice")
    assert read.fabrics[0].name == "net\\u202egnitsaf"
    assert read == replace(hostile, name=read.name, notes=read.notes, fabrics=(read.fabrics[0], *hostile.fabrics[1:]))
    assert "\u202e" in path.read_text(encoding="utf-8")
    save_design(path, read)
    assert read_design(path) == read


def test_what_refers_to_a_name_follows_it(tmp_path: Path) -> None:
    """A panel whose name holds such a sign is found still by a later step, as the name is the same in both."""
    garment = block_of(block_design())
    cut = panels(garment)
    yoke = replace(cut.tags[0], name="yo\u202eke")
    cut = replace(cut, tags=(yoke, *cut.tags[1:]))
    design = with_steps(sheer(garment), cut, ChooseFabric("fabric-1", "yo\u202eke", "main"))
    assert replay(design).refused is None
    done = replay(opened(tmp_path / "gown.sheer", design))
    assert done.refused is None
    assert done.garment.piece("yo\\u202eke").fabric == "main"


def test_names_that_would_become_the_same_are_refused(tmp_path: Path) -> None:
    """Two fabrics that differ by how the sign is written cannot be told apart; the file is left as it is."""
    design = block_design()
    first = design.fabrics[0]
    twins = (replace(first, name="net\u202e"), replace(first, name="net\\u202e"))
    path = tmp_path / "gown.sheer"
    with pytest.raises(Refusal, match=r"gown\.sheer cannot be opened: two of its fabrics have the name"):
        opened(path, replace(design, fabrics=twins))
    assert path.exists()


def test_a_newer_file_is_shown_so_too(tmp_path: Path) -> None:
    """What is shown of it to be read is as legible as anything else."""
    path = tmp_path / "newer.sheer"
    data = design_to_bytes(replace(block_design(), name="Gown\u202e"))
    path.write_bytes(data.replace(b'"schema": 1', b'"schema": 7'))
    with pytest.raises(NewerSchema) as newer:
        read_design(path)
    assert newer.value.design is not None
    assert newer.value.design.name == "Gown\\u202e"


def test_a_design_without_such_signs_is_as_it_was_saved() -> None:
    """Every text of the demo, whose names hold none."""
    path = asset("demo", "concert-bodice.sheer")
    assert read_design(path) == design_from_bytes(path.read_bytes())

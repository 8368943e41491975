"""Reading: what was saved comes back exactly; whatever else lies in the file is refused in one sentence."""

from __future__ import annotations

import errno
import hashlib
import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from core.design.design import Design
from core.errors import Refusal
from core.file import reader
from core.file.envelope import SCHEMA, canonical
from core.file.gates import LARGEST_FILE, LONGEST_IMAGE
from core.file.reader import NewerSchema, design_from_bytes, fingerprint, read_design
from core.file.writer import design_to_bytes
from core.shipped import asset
from tests.core.file.sample_designs import block_design, panel_design
from tests.core.file.spoiling import cut_short, endings, flipped, spliced

ROOT = Path(__file__).resolve().parents[3]
SAVED = design_to_bytes(panel_design())


def opened(data: bytes) -> Design | str:
    """The design in these bytes, or the sentence that refuses them; any other exception fails the test."""
    try:
        return design_from_bytes(data, "gown.sheer")
    except Refusal as refusal:
        return refusal.sentence


def sealed_anew(alter: Callable[[dict[str, Any]], None]) -> bytes:
    """The sample file with its design altered and the digest made to fit, so that only the later gates can object."""
    whole = json.loads(SAVED)
    alter(whole["design"])
    whole["digest"] = hashlib.sha256(canonical(whole["design"])).hexdigest()
    return json.dumps(whole).encode()


def with_text(old: str, new: str) -> bytes:
    """The sample file with one text in it replaced."""
    assert SAVED.count(old.encode()) >= 1
    return SAVED.replace(old.encode(), new.encode("utf-8", "surrogatepass"), 1)


# --------------------------------------------------------------------------------------------------------------
# what was saved


def test_what_was_saved_is_what_is_opened() -> None:
    """Every kind of record survives the file unchanged."""
    assert design_from_bytes(SAVED) == panel_design()


def test_opened_and_saved_again_the_bytes_are_the_same() -> None:
    """A file does not change by being opened and saved, not even where a whole number was given for a length."""
    assert design_to_bytes(design_from_bytes(SAVED)) == SAVED


def test_the_envelope_is_what_the_format_says() -> None:
    """format, schema, digest, design, the digest worked out here anew from the format's own words (design.md 10)."""
    whole = json.loads(SAVED)
    assert list(whole) == ["format", "schema", "digest", "design"]
    assert (whole["format"], whole["schema"]) == ("sheerwright", 1)
    text = json.dumps(whole["design"], sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    assert whole["digest"] == hashlib.sha256(text.encode("utf-8")).hexdigest()


@pytest.mark.parametrize("name", ["Zoë", "裾", "👗", "line\nline", "\u202eevil"])
def test_any_writing_survives(name: str) -> None:
    """Names are not limited to one alphabet, nor are they rewritten."""
    design = Design(name, block_design().body)
    assert design_from_bytes(design_to_bytes(design)).name == name


# --------------------------------------------------------------------------------------------------------------
# damage


def test_cut_short_anywhere_it_is_refused() -> None:
    """At no byte does a file that was cut short pass for a whole one; only its last line break may be missing."""
    small = design_to_bytes(block_design())
    for end in range(len(small) - 1):
        assert isinstance(opened(small[:end]), str), end
    assert opened(small[:-1]) == block_design()


def test_a_demo_that_was_cut_short_is_refused() -> None:
    """At every hundredth byte; the benchmark does every one."""
    demo = asset("demo", "concert-bodice.sheer").read_bytes()
    found = endings(cut_short(demo, 100), design_from_bytes(demo))
    assert (found.same, found.altered) == (0, 0)
    assert found.refused > 50


def test_a_flipped_bit_never_changes_a_design() -> None:
    """Of 2,000 flips each is refused or means exactly the same; a digest is there because many would still parse."""
    found = endings(flipped(SAVED, 2000), panel_design())
    assert found.altered == 0
    assert found.refused > 1500


def test_spliced_files_are_refused_or_mean_the_same() -> None:
    """Stretches that are doubled, lost or moved, as a failing disk leaves them, never give another design."""
    found = endings(spliced(SAVED, 500), panel_design())
    assert found.altered == 0
    assert found.refused > 400


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "empty"),
        (b"\xef\xbb\xbf" + SAVED, "byte order mark"),
        (SAVED.decode().encode("utf-16"), "byte order mark"),
        (SAVED.decode().encode("utf-16-le"), "zero bytes"),
        (SAVED.replace(b"Garden", b"G\0rden"), "zero bytes"),
        (SAVED.replace(b"Garden", b"G\xffrden"), "UTF-8"),
        (SAVED.replace(b"Garden", b"G\xed\xa0\x80rden"), "UTF-8"),
        (with_text("Garden", "\\ud800"), "surrogate"),
        (with_text("Garden", "\\u0000"), "zero"),
        (with_text('"name"', '"\\udfff"'), "surrogate"),
        (SAVED + b"{}", "damaged"),
        (SAVED * 2, "damaged"),
        (b" " * (LARGEST_FILE + 1), "larger than 10 MiB"),
        (b"[" * 65 + b"]" * 65, "nested more than 64"),
        (b'{"a":' * 100_000, "nested more than 64"),
        (b"[" * 1_000_001, "far more"),
        (b"[" + b"1," * 3000 + b"1]", "list of 3001 entries"),
        (with_text("Garden", "G" * 10_001), "10007 characters, more than the 10000"),
        (b"[]", "not a Sheerwright design"),
        (b"{}", "not a Sheerwright design"),
        (b'"sheerwright"', "not a Sheerwright design"),
        (b"NaN", "holds NaN"),
        (b"-Infinity", "holds -Infinity"),
        (b"[1e400]", "1e400"),
        (b"[-1e400]", "-1e400"),
        (b"[10001]", "over 10 m"),
        (b"[" + b"1" * 5000 + b"]", "over 10 m"),
        (b"[0." + b"1" * 5_000_000 + b"]", "over 10 m"),
        (b'{"a": 1, "a": 1}', "“a” twice"),
        (with_text('"date"', '"name"'), "“name” twice"),
    ],
    ids=range(30),
)
def test_text_that_is_no_design_is_refused(data: bytes, words: str) -> None:
    """Each for its own reason, in one sentence that names the file and says that it was left untouched."""
    sentence = opened(data)
    assert isinstance(sentence, str)
    assert words in sentence
    assert sentence.startswith("gown.sheer cannot be opened: it")
    assert "left untouched" in sentence
    assert "\n" not in sentence


def test_sixty_four_deep_is_not_yet_too_deep() -> None:
    """Brackets inside texts do not count, and the limit is where it is said to be."""
    assert "not a Sheerwright design" in str(opened(b"[" * 64 + b"]" * 64))
    assert "not a Sheerwright design" in str(opened(b'["' + b"[" * 500 + b'\\"[["]'))


# --------------------------------------------------------------------------------------------------------------
# envelope and design


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ('"format": "sheerwright"', '"format": "other"', "not a Sheerwright design"),
        ('"schema": 1', '"schema": 0', "no file schema"),
        ('"schema": 1', '"schema": 1.0', "no file schema"),
        ('"schema": 1', '"schema": true', "no file schema"),
        ('"schema": 1', '"schema": "1"', "no file schema"),
        ('"schema": 1,', "", "no file schema"),
        ('"schema": 1,', '"schema": 1, "more": 1,', "does not know"),
        ('"digest": "', '"digest": "0', "damaged or altered"),
        ('"digest"', '"digset"', "no “digest”"),
        ('"design": {', '"design": 1, "x": {', "field that this version does not know"),
        ("2026-03-02", "2026-03-03", "damaged or altered"),
    ],
)
def test_an_envelope_that_is_not_as_it_should_be_is_refused(old: str, new: str, words: str) -> None:
    """Every part of it is looked at."""
    assert words in str(opened(with_text(old, new)))


def test_spaces_and_the_order_of_keys_do_not_matter() -> None:
    """The digest is of what the file says, not of how it is laid out."""
    whole = json.loads(SAVED)
    turned = {key: whole[key] for key in reversed(whole)}
    turned["design"] = {key: whole["design"][key] for key in reversed(whole["design"])}
    assert opened(json.dumps(turned, separators=(",", ":")).encode()) == panel_design()


def test_a_newer_schema_is_said_to_be_one(tmp_path: Path) -> None:
    """It is refused as such, whatever else is new in it, and its bytes stay as they are."""
    path = tmp_path / "gown.sheer"
    path.write_bytes(with_text('"schema": 1', f'"schema": {SCHEMA + 2}, "new": [1]'))
    before = path.read_bytes()
    with pytest.raises(NewerSchema, match=r"gown\.sheer .* newer Sheerwright .* untouched") as refused:
        read_design(path)
    assert (refused.value.schema, refused.value.known) == (3, 1)
    assert path.read_bytes() == before


def newer(data: bytes) -> NewerSchema:
    """The refusal of a file whose schema is raised."""
    with pytest.raises(NewerSchema) as refused:
        design_from_bytes(data.replace(b'"schema": 1', b'"schema": 2', 1))
    return refused.value


def test_of_a_newer_file_only_what_is_wholly_known_is_given() -> None:
    """The design, where it is undamaged and reads by this version's records; never a part of it."""
    assert newer(SAVED).design == panel_design()
    assert newer(sealed_anew(put("colour", value=1))).design is None
    assert newer(sealed_anew(put("steps", 0, "id", value=""))).design is None
    assert newer(with_text("2026-03-02", "2026-03-03")).design is None


LAY = {"fabric": "main", "model": "open", "width": 1375.0, "length": 12_000.0, "used": 0.5, "pieces": ""}


def put(*keys: str | int, value: object) -> Callable[[dict[str, Any]], None]:
    """An alteration that puts a value at a place in the design."""

    def alter(design: dict[str, Any]) -> None:
        *way, last = keys
        at: Any = design
        for key in way:
            at = at[key]
        at[last] = value

    return alter


@pytest.mark.parametrize(
    ("alter", "words"),
    [
        (put("colour", value=1), "its design has an entry “colour” that this version does not know"),
        (put("steps", 0, "colour", value=1), "its step 1 (“sheer-1”) has an entry “colour”"),
        (put("body", "colour", value=1), "its body has an entry “colour”"),
        (put("steps", 0, "points", 0, "z", value=1.0), "its step 1 (“sheer-1”): point 1 has an entry “z”"),
        (put("steps", 0, "kind", value="sorcery"), "sorcery"),
        (put("steps", 0, "points", value="many"), "its step 1 (“sheer-1”): points should be a list and is a text"),
        (put("steps", 0, "points", 0, "x", value="1"), "point 1: x should be a number and is a text"),
        (put("steps", 0, "points", 0, "x", value=None), "point 1: x should be a number and is nothing"),
        (put("steps", 0, "points", 0, "x", value=True), "point 1: x should be a number and is yes or no"),
        (put("steps", 0, "points", 0, "x", value=10_001.0), "over 10 m"),
        (put("steps", 0, "points", 0, "x", value=-1e9), "over 10 m"),
        (put("lays", value=[{"length": 110_001.0}]), "over 10 m"),
        (put("lays", value=[{**LAY, "length": 100_001.0}]), "length is a number outside what is possible there"),
        (put("steps", 0, "lays", value=10_001.0), "over 10 m"),
        (put("fabrics", 0, "layers", value=1.5), "its fabric 1 (“main”): layers should be a whole number"),
        (put("fabrics", 0, "usable_width", value=-1.0), "usable width is a number outside what is possible there"),
        (put("unit", value="furlong"), "furlong"),
        (put("body", value=[]), "its body should be a group of named values and is a list"),
        (put("name", value=7), "its name should be a text and is a whole number"),
        (put("steps", 1, "id", value="sheer-1"), "two of its steps have the id “sheer-1”"),
        (put("steps", 1, "id", value=""), "has no id"),
        (put("off", value=["cut-9"]), "switches off a step “cut-9” that it does not have"),
        (lambda design: design["fabrics"].append(design["fabrics"][0]), "two of its fabrics have the name “main”"),
        (put("steps", 0, "points", value=[{"x": 1.0, "y": 1.0}] * 501), "too complex: 501 points in one list"),
        (put("steps", value=[{"kind": "cut"}] * 501), "too complex: 501 steps"),
        (put("date", value="2 March"), "not written as year-month-day"),
        (put("date", value="20260302"), "not written as year-month-day"),
        (put("date", value="2026-02-30"), "not written as year-month-day"),
        (lambda design: design.pop("body"), "its design lacks its body"),
        (put("pictures", value=[{"image": "no base64!"}]), "a picture that is too large or damaged"),
        (put("pictures", value=[{"image": "A" * (LONGEST_IMAGE + 4)}]), "a picture that is too large or damaged"),
    ],
    ids=range(31),
)
def test_a_design_that_is_not_as_it_should_be_is_refused(alter: Callable[[dict[str, Any]], None], words: str) -> None:
    """Also where someone has made the digest fit: unknown fields, wrong types, absurd sizes, ids that are not alone."""
    sentence = str(opened(sealed_anew(alter)))
    assert words in sentence
    assert "left untouched" in sentence
    assert not set("`$[]") & set(sentence), "the reader library's own words"


# --------------------------------------------------------------------------------------------------------------
# files that are none


def refused(path: Path) -> str:
    """The sentence with which a path is refused."""
    with pytest.raises(Refusal) as caught:
        read_design(path)
    return caught.value.sentence


def test_a_missing_file_is_said_to_be_missing(tmp_path: Path) -> None:
    """With the folder that was looked in; so is a link that leads nowhere."""
    (tmp_path / "link.sheer").symlink_to(tmp_path / "gone.sheer")
    for name in ("gone.sheer", "link.sheer"):
        assert refused(tmp_path / name).startswith(f"{name} cannot be opened: there is no such file in {tmp_path.name}")


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
def test_folders_pipes_and_devices_are_refused_at_once(tmp_path: Path) -> None:
    """A pipe that nobody writes to would keep a careless reader waiting for ever, /dev/zero would fill its memory."""
    os.mkfifo(tmp_path / "pipe.sheer")
    (tmp_path / "folder.sheer").mkdir()
    for path in (tmp_path / "pipe.sheer", tmp_path / "folder.sheer", Path("/dev/zero")):
        assert "a folder or a device and not a file; it was left untouched" in refused(path)


def test_a_link_that_leads_to_itself_is_refused(tmp_path: Path) -> None:
    """And not followed for ever."""
    (tmp_path / "a.sheer").symlink_to("b.sheer")
    (tmp_path / "b.sheer").symlink_to("a.sheer")
    assert "leads back to itself" in refused(tmp_path / "a.sheer")


def test_a_fault_of_the_disk_is_said(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever the system reports becomes one sentence."""

    def failing(path: Path) -> bytes:
        raise OSError(errno.EIO, "Input/output error", str(path))

    monkeypatch.setattr(reader, "read_bytes", failing)
    assert refused(tmp_path / "gown.sheer") == (
        "gown.sheer cannot be opened: Input/output error; it was left untouched."
    )


def test_a_name_cannot_break_the_sentence(tmp_path: Path) -> None:
    """Line breaks and characters that turn the writing round are written out."""
    path = tmp_path / "a\nb\u202e.sheer"
    path.write_bytes(b"")
    assert refused(path).startswith("a\\u000ab\\u202e.sheer cannot be opened: it is empty")


def test_the_version_before_is_named_where_there_is_one(tmp_path: Path) -> None:
    """A damaged file is no dead end: the version that the last save kept is named, links followed."""
    path, link = tmp_path / "gown.sheer", tmp_path / "link.sheer"
    path.write_bytes(SAVED[:100])
    link.symlink_to(path)
    assert "open a copy" in refused(path)
    (tmp_path / "gown.sheer~").write_bytes(SAVED)
    assert refused(path).endswith("it was left untouched, and the version before it is gown.sheer~.")
    assert refused(link).endswith("and the version before it is gown.sheer~.")


def test_hostile_files_cost_neither_much_time_nor_memory() -> None:
    """10 MiB of the worst that is known take under 2 s each and 200 MiB in all."""
    code = """
import resource, sys, time
from core.errors import Refusal
from core.file.reader import design_from_bytes
n = 10 * 1024 * 1024
start = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
worst = 0.0
for data in (
    b'"' * n, b'["' + b'\\\\"' * (n // 2 - 2), b"[]" * (n // 2), b"[" + b'"",' * 330_000, b"1" * n,
    b"1." + b"1" * (n - 2), b"[" + b"1," * 999_000 + b"1]", b" " * n,
    b'"' + b"\\\\" * (n - 1), b"[" + b'{"a":1},' * 240_000 + b"1]",
):
    before = time.process_time()
    try:
        design_from_bytes(data)
    except Refusal:
        worst = max(worst, time.process_time() - before)
    else:
        sys.exit("accepted")
print(worst, (resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - start) / 1024)
"""
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    seconds, mebibytes = map(float, done.stdout.split())
    assert seconds < 2.0
    assert mebibytes < 200.0


def test_a_file_is_known_again_by_its_bytes(tmp_path: Path) -> None:
    """The same bytes are the same file, one other is another; what is gone or no file is none."""
    path = tmp_path / "gown.sheer"
    path.write_bytes(SAVED)
    seen = fingerprint(path)
    path.write_bytes(SAVED)
    assert fingerprint(path) == seen != ""
    path.write_bytes(SAVED + b" ")
    assert fingerprint(path) != seen
    assert fingerprint(tmp_path) == fingerprint(tmp_path / "gone.sheer") == ""

"""Files of every version: each released one has a file here that opens for ever, and older schemas are brought up."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from core.design.replay import replay
from core.file import envelope
from core.file.envelope import SCHEMA, canonical, digest, sealed, stated_schema, unsealed
from core.file.gates import Unfit, parsed
from core.file.migrations import MIGRATIONS, migrated
from core.file.reader import design_from_bytes, read_design
from core.file.writer import design_to_bytes
from core.shipped import version

CORPUS = Path(__file__).resolve().parents[2] / "corpus"
FILES = sorted(CORPUS.glob("*.sheer"))


def test_this_version_has_its_file() -> None:
    """Whoever raises the version adds the file that it saves."""
    assert CORPUS / f"{version()}.sheer" in FILES


@pytest.mark.parametrize("path", FILES, ids=[path.stem for path in FILES])
def test_every_file_ever_written_opens(path: Path) -> None:
    """It opens, does all its steps, and what is saved of it opens as the same; the file itself stays as it was."""
    before = path.read_bytes()
    design = read_design(path)
    done = replay(design)
    assert done.refused is None
    assert len(done.stages) == len(design.steps) >= 8
    assert design_from_bytes(design_to_bytes(design)) == design
    assert path.read_bytes() == before
    stated = json.loads(before)["design"]
    assert [step.id for step in design.steps] == [step["id"] for step in stated["steps"]]
    assert design.body.measurements == stated["body"]["measurements"]


def test_a_schema_is_one_more_than_its_migrations() -> None:
    """So that none can be forgotten."""
    assert len(MIGRATIONS) + 1 == SCHEMA


def test_migrations_are_done_in_order_from_the_file_s_own_schema() -> None:
    """Each takes one schema to the next; a file of this schema is left as it is."""
    done = []

    def first(design: dict[str, Any]) -> dict[str, Any]:
        done.append(1)
        return {**design, "b": design["a"]}

    def second(design: dict[str, Any]) -> dict[str, Any]:
        done.append(2)
        return {**design, "c": design["b"]}

    old = {"a": 1}
    assert migrated(old, 1, (first, second)) == {"a": 1, "b": 1, "c": 1}
    assert migrated({"a": 1, "b": 5}, 2, (first, second)) == {"a": 1, "b": 5, "c": 5}
    assert migrated(old, 3, (first, second)) is old
    assert done == [1, 2, 2]
    assert old == {"a": 1}


def test_an_older_file_is_brought_up_once_its_digest_is_verified(monkeypatch: pytest.MonkeyPatch) -> None:
    """The digest is that of what was written then."""
    monkeypatch.setattr(envelope, "SCHEMA", 2)
    monkeypatch.setattr(envelope, "migrated", lambda design, schema: {**design, "from": schema})
    design = {"a": 1}
    whole = {"format": "sheerwright", "schema": 1, "digest": digest(design), "design": design}
    assert unsealed(whole) == {"a": 1, "from": 1}
    with pytest.raises(Unfit, match="damaged or altered"):
        unsealed({**whole, "digest": digest({"a": 2})})


def test_the_stated_schema_is_found_at_the_head() -> None:
    """What no save may go back behind; anything else states none."""
    data = FILES[0].read_bytes()
    assert stated_schema(data[:200]) == parsed(data)["schema"]  # type: ignore[index] # an envelope is an object
    assert stated_schema(data.replace(b'"schema": 1', b'"schema":  12')[:200]) == 12
    assert stated_schema(b"") == stated_schema(b'{"schema": 3}') == stated_schema(b"\xff" * 200) == 0


@pytest.mark.parametrize("number", [float("nan"), float("inf"), -float("inf")])
def test_what_is_no_number_has_no_digest(number: float) -> None:
    """JSON has no word for it (RFC 8259), so it is neither sealed nor given a digest."""
    for make in (canonical, digest, sealed):
        with pytest.raises(ValueError, match="not JSON compliant"):
            make({"a": [number]})


def test_half_a_character_has_no_digest() -> None:
    """Half of a surrogate pair cannot be written as UTF-8."""
    with pytest.raises(ValueError, match="surrogates not allowed"):
        canonical({"a": "\ud800"})


@pytest.mark.parametrize(
    ("altered", "words"),
    [
        ({"format": "other"}, "it is not a Sheerwright design"),
        ({"schema": 0}, "its envelope states no file schema"),
        ({"more": 1}, "its envelope holds a field that this version does not know"),
        ({"digest": "0"}, "it was damaged or altered after it was saved (its digest does not fit what it holds)"),
        ({"design": []}, "it was damaged or altered after it was saved (its digest does not fit what it holds)"),
        ({"schema": 9}, "it was saved by a newer Sheerwright (file schema 9; this one knows 1)"),
    ],
    ids=range(6),
)
def test_what_is_wrong_with_an_envelope_is_said_in_half_a_sentence(altered: dict[str, Any], words: str) -> None:
    """To the letter: the reader puts the file's name before it."""
    whole = {"format": "sheerwright", "schema": 1, "digest": digest({"a": 1}), "design": {"a": 1}}
    assert unsealed(whole) == {"a": 1}
    with pytest.raises(Unfit) as told:
        unsealed({**whole, **altered})
    assert str(told.value) == words

"""The table of dangers holds what it says; and those of its tests that belong to no one module."""

from __future__ import annotations

import ast
import re
import tomllib
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import msgspec

from core.design.design import Design
from tests.security import DANGERS

TESTS = Path(__file__).resolve().parents[1]
ROOT = TESTS.parent


@cache
def described(file: str) -> frozenset[str]:
    """The tests of a file that say what they hold."""
    tree = ast.parse((TESTS / file).read_text(encoding="utf-8"))
    return frozenset(node.name for node in tree.body if isinstance(node, ast.FunctionDef) and ast.get_docstring(node))


def test_every_danger_is_tested_by_tests_that_are_there() -> None:
    """Fourteen, each by one at least; one that was renamed or deleted leaves its danger open."""
    assert [danger.number for danger in DANGERS] == list(range(1, 15))
    assert all(danger.tests for danger in DANGERS)
    named = [test.split("::") for danger in DANGERS for test in danger.tests]
    assert [f"{file}::{name}" for file, name in named if name not in described(file)] == []


# --------------------------------------------------------------------------------------------------------------
# what belongs to no one module


def fields(kind: msgspec.inspect.Type, seen: set[type]) -> Iterator[tuple[str, msgspec.inspect.Type]]:
    """Every named field of a record and of the records in it, at any depth."""
    if isinstance(kind, msgspec.inspect.StructType) and kind.cls not in seen:
        seen.add(kind.cls)
        for field in kind.fields:
            yield field.name, field.type
            yield from fields(field.type, seen)
    for inner in ("item_type", "key_type", "value_type"):
        if hasattr(kind, inner):
            yield from fields(getattr(kind, inner), seen)
    for inner in (*getattr(kind, "types", ()), *getattr(kind, "item_types", ())):
        yield from fields(inner, seen)


def test_a_design_has_no_place_for_a_path() -> None:
    """No text of it is named or meant as a file, a folder or an address: none can ever be opened."""
    found = list(fields(msgspec.inspect.type_info(Design), set()))
    assert len(found) > 150
    texts = {name for name, kind in found if isinstance(kind, msgspec.inspect.StrType)}
    assert {"name", "notes"} <= texts
    assert [name for name in texts if re.search(r"path|file|folder|url|link|uri|href|src", name)] == []


def sources() -> Iterator[tuple[str, str]]:
    """Every module as (its path from the root, its text)."""
    for folder in ("app", "core"):
        for path in sorted((ROOT / folder).rglob("*.py")):
            yield path.relative_to(ROOT).as_posix(), path.read_text(encoding="utf-8")


def test_the_clipboard_is_never_read() -> None:
    """It is asked for in one place, which writes to it."""
    asked = [(name, found) for name, text in sources() for found in re.findall(r"clipboard\(\)\.?\w*", text)]
    assert asked == [("app/dialogs/fault.py", "clipboard().setText")]


def test_no_picture_is_given_to_pillow() -> None:
    """Its door makes pictures of our own drawings and opens none."""
    text = (ROOT / "core/outputs/png.py").read_text(encoding="utf-8")
    assert "Image.new" in text
    assert not re.search(r"Image\.(open|frombytes|frombuffer)|ImageFile", text)


def test_every_package_is_pinned() -> None:
    """One version of each, and of all that the program and its tests ask for."""
    lines = (ROOT / ".ci/lock.txt").read_text(encoding="utf-8").splitlines()
    lock = dict(line.split("==") for line in lines if not line.startswith("#"))
    assert all(re.fullmatch(r"\d[\w.]*", version) for version in lock.values())
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    wanted = [*project["dependencies"], *project["optional-dependencies"]["test"]]
    names = {re.split(r"[^\w-]", want)[0].replace("-", "_").casefold() for want in wanted}
    assert names - {name.replace("-", "_").casefold() for name in lock} == set()

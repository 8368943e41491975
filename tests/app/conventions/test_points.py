"""The table of conventions holds what it says."""

from __future__ import annotations

import ast
from functools import cache
from pathlib import Path

from tests.app.conventions.points import CONVENTIONS

TESTS = Path(__file__).parents[2]


@cache
def described(file: str) -> frozenset[str]:
    """The tests of a file that say what they hold."""
    tree = ast.parse((TESTS / file).read_text(encoding="utf-8"))
    return frozenset(node.name for node in tree.body if isinstance(node, ast.FunctionDef) and ast.get_docstring(node))


def test_every_test_that_is_named_is_there() -> None:
    """A test that was renamed or deleted leaves its point unproved."""
    named = [test.split("::") for point in CONVENTIONS for test in point.tests]
    assert [f"{file}::{name}" for file, name in named if name not in described(file)] == []


def test_all_points_stand_in_the_table_and_forty_are_proved() -> None:
    """46 points, each once; one without a test says why."""
    assert [point.number for point in CONVENTIONS] == list(range(1, 47))
    assert sum(bool(point.tests) for point in CONVENTIONS) >= 40
    assert all(point.tests or point.why for point in CONVENTIONS)

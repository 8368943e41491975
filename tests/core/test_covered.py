"""The list of modules whose every branch is tested holds what it must, and nothing is ever taken off it."""

from __future__ import annotations

import ast
import re
import shutil
import subprocess

import pytest
from coverage import Coverage

from tests.covered import LIST, ROOT, listed

WHOLE_PACKAGES = ("core/file", "core/geometry")
"""What may corrupt work, or cut cloth wrongly, without a word: every module in them belongs on the list."""


def test_the_list_is_in_order_and_its_modules_are_there() -> None:
    """Each once, and by the path that it has."""
    assert listed() == sorted(set(listed()))
    assert [name for name in listed() if not (ROOT / name).is_file()] == []


def test_every_module_of_file_and_geometry_is_on_the_list() -> None:
    """A new one too; only what has no statement beside its docstring needs none."""
    modules = [path for package in WHOLE_PACKAGES for path in (ROOT / package).rglob("*.py")]
    with_code = {
        path.relative_to(ROOT).as_posix() for path in modules if len(ast.parse(path.read_text("utf-8")).body) > 1
    }
    assert len(with_code) >= 20
    assert with_code - set(listed()) == set()


@pytest.mark.skipif(
    shutil.which("git") is None or not (ROOT / ".git").exists(), reason="what the list held before is known to git only"
)
def test_nothing_is_taken_off_the_list() -> None:
    """Whatever any version of it named is on it now, or is gone from the program."""
    command = ["git", "log", "--format=", "--patch", "--unified=0", "--", str(LIST.relative_to(ROOT))]
    patches = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True, encoding="utf-8").stdout
    named = {line[1:] for line in patches.splitlines() if line.startswith("+") and line.endswith(".py")}
    assert [name for name in sorted(named - set(listed())) if (ROOT / name).exists()] == []


def test_no_line_asks_to_be_left_out() -> None:
    """Not that it would help: the count heeds no such remark."""
    sources = [path for folder in ("app", "core") for path in (ROOT / folder).rglob("*.py")]
    assert [path.name for path in sources if re.search(r"#.*no (cover|branch)", path.read_text("utf-8"))] == []
    counted = Coverage(config_file=str(ROOT / "pyproject.toml"))
    assert counted.get_option("run:branch") is True
    assert counted.get_option("report:exclude_lines") == counted.get_option("report:partial_branches") == []

"""What a file must never lead to is not in the code at all: each way out of "only data" is looked for in the source.

The list is that of common practice for programs that open files from others (no source); what is allowed stands beside
the one module that may have it, with the reason.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
SOURCES = sorted([*(ROOT / "core").rglob("*.py"), *(ROOT / "app").rglob("*.py")])

RUNS_WHAT_IT_READS = {"pickle", "marshal", "shelve", "dill", "yaml", "code", "codeop", "runpy", "imp", "importlib"}
REACHES_OUT = {
    *("urllib", "http", "ftplib", "smtplib", "poplib", "imaplib", "telnetlib", "ssl", "requests", "xmlrpc", "asyncio"),
    *("webbrowser", "socketserver"),
}
STARTS_OR_LOADS = {
    # a pair of ends within the process, for signals; and imported before Qt, to be there
    "socket": {"app/window/interrupts.py", "app/window/before_qt.py"},
    "ctypes": {"app/window/display.py"},  # whether Qt's own libraries are there
    "subprocess": {"core/outputs/lay_process.py"},  # our own file, by this very interpreter
}
NO_PART_OF_QT = {"QtNetwork", "QtSvg", "QtSvgWidgets", "QtQml", "QtQuick", "QtWebEngineCore", "QtWebEngineWidgets"}
NO_CALLS = {"eval", "exec", "compile", "__import__", "system", "popen", "extractall", "spawnv", "execv", "startfile"}
QT_LOOPS = {"exec"}
"""Qt's own word for running an application or a dialog; as a bare name it is Python's."""
NO_NAMES = {"QSvgRenderer", "QLibrary", "QPluginLoader", "QDesktopServices", "QProcess", "Paragraph", "RichText"}


@cache
def trees() -> tuple[tuple[str, ast.Module], ...]:
    """Every module as (its path from here, its syntax tree)."""
    names = (path.relative_to(ROOT).as_posix() for path in SOURCES)
    return tuple((name, ast.parse((ROOT / name).read_text(encoding="utf-8"))) for name in names)


def imported(tree: ast.Module) -> Iterator[str]:
    """The dotted names that a module imports, and what it takes from them."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def called(tree: ast.Module) -> Iterator[str]:
    """The functions that are called: bare names, and the last word of dotted ones but for Qt's loops and patterns."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            if isinstance(node.func, ast.Name):
                yield node.func.id
            elif isinstance(node.func, ast.Attribute) and node.func.attr not in QT_LOOPS | {"compile"}:
                yield node.func.attr


def test_nothing_runs_what_it_reads_or_reaches_out() -> None:
    """No import of what makes code out of data, opens a connection, or draws what may load other files."""
    assert len(SOURCES) > 200
    for name, tree in trees():
        for module in imported(tree):
            parts = set(module.split("."))
            first = module.split(".")[0]
            assert first not in RUNS_WHAT_IT_READS | REACHES_OUT, f"{name} imports {module}"
            assert name in STARTS_OR_LOADS.get(first, {name}), f"{name} imports {module}"
            assert not parts & (NO_PART_OF_QT | NO_NAMES), f"{name} imports {module}"


def test_nothing_is_evaluated_started_or_unpacked() -> None:
    """No eval, exec or compile, no shell, no archive that unpacks itself where it likes."""
    for name, tree in trees():
        assert not NO_CALLS & set(called(tree)), f"{name} calls {NO_CALLS & set(called(tree))}"


def test_settings_are_read_as_texts_and_bytes() -> None:
    """Only the INI format is used, in one module, which checks every value's type: an INI file may hold any of Qt's."""
    text = (ROOT / "app/settings.py").read_text(encoding="utf-8")
    assert re.findall(r"QSettings\.Format\.(\w+)", text) == ["IniFormat"]
    users = [name for name, tree in trees() if any("QSettings" in module for module in imported(tree))]
    assert users == ["app/settings.py"]


def test_pages_take_text_by_drawing_it() -> None:
    """Only the canvas of reportlab is used; its paragraphs read a markup that can load pictures by their path."""
    for name, tree in trees():
        found = [module for module in imported(tree) if module.startswith("reportlab")]
        assert not any("platypus" in module or "rml" in module for module in found), name
    assert any(module.startswith("reportlab") for _, tree in trees() for module in imported(tree))


@pytest.mark.parametrize("bad", ["import pickle", "from os import system\nsystem('x')", "eval('1')", "import socket"])
def test_the_search_finds_what_it_must(bad: str) -> None:
    """A gate that lets everything through would pass as well."""
    tree = ast.parse(bad)
    names = {module.split(".")[0] for module in imported(tree)}
    assert names & (RUNS_WHAT_IT_READS | set(STARTS_OR_LOADS)) or NO_CALLS & set(called(tree))

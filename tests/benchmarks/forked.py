"""Mutants tried in forks of one process that has collected the tests: pytest begins once, and not four thousand times.

`python -m tests.benchmarks.forked [PATTERN ...]`, in the folder of altered sources that mutmut has made, writes what
became of each mutant where mutmut would. Nothing has been run in the process that forks, so nothing is remembered.
"""

from __future__ import annotations

import json
import os
import resource
import signal
import sys
import tempfile
import tomllib
from fnmatch import fnmatch
from itertools import zip_longest
from pathlib import Path
from time import process_time
from typing import Any, Final

import pytest

CHILDREN: Final = 2
SURVIVED, KILLED = 0, 1
"""As mutmut writes its outcomes down; what the system ends, since it runs on and on, is below nought."""
PATIENCE: Final = 4.0
"""Seconds of the processor for a test, and as many times as long as it took unaltered: more is no end at all."""


class Mutants:
    """A pytest plugin that runs for every mutant the tests that reach it, until one fails.

    The one that found out the last mutant of the same function is first, then the quickest.
    """

    def __init__(self, names: list[str], measured: dict[str, Any], folder: Path) -> None:
        self._names = names
        self._reached: dict[str, list[str]] = measured["tests_by_mangled_function_name"]
        self._took: dict[str, float] = measured["duration_by_test"]
        self._found_out: dict[str, str] = {}
        self._told = folder / "found-out"
        self._folder = folder
        self.codes: dict[str, int] = {}

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """Instead of running the tests once."""
        items = sorted(session.items, key=lambda item: self._took.get(item.nodeid, 0.0))
        if self._ended({self._begun("none", items): "none"}) != SURVIVED:
            sys.exit("A test fails though nothing is altered.")
        running: dict[int, str] = {}
        for name in self._names:
            if len(running) == CHILDREN:
                self._ended(running)
            running[self._begun(name, self._reaching(name, items))] = name
        while running:
            self._ended(running)
        return True

    def _reaching(self, name: str, items: list[pytest.Item]) -> list[pytest.Item]:
        reached = set(self._reached.get(_function(name), ()))
        first = self._found_out.get(_function(name))
        return sorted((item for item in items if item.nodeid in reached), key=lambda item: item.nodeid != first)

    def _begun(self, name: str, items: list[pytest.Item]) -> int:
        """The process in which the tests are run under a mutant."""
        process = os.fork()
        if process:
            return process
        try:
            os._exit(self._tried(name, items))
        finally:
            os._exit(KILLED)

    def _tried(self, name: str, items: list[pytest.Item]) -> int:
        os.environ["MUTANT_UNDER_TEST"] = name
        # Where pytest makes its folders: others make theirs in the one that it would take.
        os.environ["PYTEST_DEBUG_TEMPROOT"] = tempfile.mkdtemp(dir=self._folder)
        # It would be looked up there at every call.
        vars(sys.modules["mutmut.mutation.trampoline"])["get_mutant_under_test"] = lambda: name
        signal.signal(signal.SIGXCPU, signal.SIG_DFL)
        for item, following in zip_longest(items, items[1:]):
            patience = PATIENCE * (1.0 + self._took.get(item.nodeid, 0.0))
            resource.setrlimit(resource.RLIMIT_CPU, (int(process_time() + patience) + 1, resource.RLIM_INFINITY))
            signal.alarm(int(20.0 * patience))  # it may also wait for ever
            item.ihook.pytest_runtest_protocol(item=item, nextitem=following)
            if item.session.testsfailed:
                self._told.write_text(item.nodeid, encoding="utf-8")
                return KILLED
        return SURVIVED

    def _ended(self, running: dict[int, str]) -> int:
        """Wait for one of the processes, and keep its outcome."""
        process, status = os.wait()
        name, code = running.pop(process), os.waitstatus_to_exitcode(status)
        self.codes[name] = code
        if code == KILLED and self._told.exists():
            self._found_out[_function(name)] = self._told.read_text(encoding="utf-8")
        if len(self.codes) % 100 == 0:
            sys.stderr.write(f"{len(self.codes)} of {len(self._names)} mutants tried\n")
        return code


def _function(name: str) -> str:
    """The function that a mutant is one of."""
    return name.rpartition("__mutmut_")[0]


def main(patterns: list[str]) -> int:
    """Try all mutants of these patterns; write down beside the sources what became of each, also when stopped."""
    paths = sorted(Path("core").rglob("*.meta"))
    names = [
        name
        for path in paths
        for name in json.loads(path.read_text(encoding="utf-8"))["exit_code_by_key"]
        if any(fnmatch(name, pattern) for pattern in patterns)
    ]
    measured = json.loads(Path("mutmut-stats.json").read_text(encoding="utf-8"))
    asked = tomllib.loads(Path("../pyproject.toml").read_text(encoding="utf-8"))["tool"]["mutmut"]
    arguments = [*asked["pytest_add_cli_args"], *asked["pytest_add_cli_args_test_selection"]]
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as folder:
        mutants = Mutants(names, measured, Path(folder))
        ended = pytest.main(["--rootdir=.", "--tb=native", "-q", "-s", *arguments], plugins=[mutants])
    for path in paths:
        kept = json.loads(path.read_text(encoding="utf-8"))
        kept["exit_code_by_key"] |= {
            name: code for name, code in mutants.codes.items() if name in kept["exit_code_by_key"]
        }
        path.write_text(json.dumps(kept), encoding="utf-8")
    return int(ended)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

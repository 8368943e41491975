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
    """A pytest plugin that runs for every mutant the tests that reach it, until one fails, the quickest first."""

    def __init__(self, names: list[str], measured: dict[str, Any]) -> None:
        self._names = names
        self._reached: dict[str, list[str]] = measured["tests_by_mangled_function_name"]
        self._took: dict[str, float] = measured["duration_by_test"]
        self.codes: dict[str, int] = {}

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """Instead of running the tests once."""
        items = sorted(session.items, key=lambda item: self._took.get(item.nodeid, 0.0))
        if self._ended({self._begun("none", items): "none"}) != SURVIVED:
            sys.exit("A test fails though nothing is altered.")
        running: dict[int, str] = {}
        for name in self._names:
            reached = set(self._reached.get(name.rpartition("__mutmut_")[0], ()))
            if len(running) == CHILDREN:
                self._ended(running)
            running[self._begun(name, [item for item in items if item.nodeid in reached])] = name
        while running:
            self._ended(running)
        return True

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
        signal.signal(signal.SIGXCPU, signal.SIG_DFL)
        for item, following in zip_longest(items, items[1:]):
            patience = PATIENCE * (1.0 + self._took.get(item.nodeid, 0.0))
            resource.setrlimit(resource.RLIMIT_CPU, (int(process_time() + patience) + 1, resource.RLIM_INFINITY))
            signal.alarm(int(20.0 * patience))  # it may also wait for ever
            item.ihook.pytest_runtest_protocol(item=item, nextitem=following)
            if item.session.testsfailed:
                return KILLED
        return SURVIVED

    def _ended(self, running: dict[int, str]) -> int:
        """Wait for one of the processes, and keep its outcome."""
        process, status = os.wait()
        name, code = running.pop(process), os.waitstatus_to_exitcode(status)
        self.codes[name] = code
        if len(self.codes) % 100 == 0:
            sys.stderr.write(f"{len(self.codes)} of {len(self._names)} mutants tried\n")
        return code


def main(patterns: list[str]) -> int:
    """Try all mutants of these patterns, and write down beside the sources what became of each."""
    paths = sorted(Path("core").rglob("*.meta"))
    names = [
        name
        for path in paths
        for name in json.loads(path.read_text(encoding="utf-8"))["exit_code_by_key"]
        if any(fnmatch(name, pattern) for pattern in patterns)
    ]
    mutants = Mutants(names, json.loads(Path("mutmut-stats.json").read_text(encoding="utf-8")))
    asked = tomllib.loads(Path("../pyproject.toml").read_text(encoding="utf-8"))["tool"]["mutmut"]
    arguments = [*asked["pytest_add_cli_args"], *asked["pytest_add_cli_args_test_selection"]]
    if pytest.main(["--rootdir=.", "-q", "-s", *arguments], plugins=[mutants]) != pytest.ExitCode.OK:
        return 1
    for path in paths:
        kept = json.loads(path.read_text(encoding="utf-8"))
        kept["exit_code_by_key"] |= {
            name: code for name, code in mutants.codes.items() if name in kept["exit_code_by_key"]
        }
        path.write_text(json.dumps(kept), encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

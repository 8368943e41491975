"""Checks that are run at the same time, each shown whole under its heading when it is done."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from tests.covered import ROOT

SAID_EVERY: Final = 20.0
"""Seconds between two lines that say how far the checks are."""
LOOKED_EVERY: Final = 0.05
"""Seconds between two looks at which of them are done."""
GIVEN_TO_END: Final = 5.0
"""Seconds that a stopped check has before it is killed."""
SHARE: Final = re.compile(rb"\[ *(\d+%)\]")
"""How pytest says what share of its tests is done."""


@dataclass(frozen=True, slots=True)
class Check:
    """A heading and the command that is run under it."""

    heading: str
    command: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Running:
    """A check under way. Nothing it says is lost or mixed with what another says: it goes into a file of its own."""

    check: Check
    process: subprocess.Popen[bytes]
    output: Path

    @property
    def share(self) -> str:
        """How much of it is done, as it says itself."""
        said = SHARE.findall(self.output.read_bytes())
        return f"{self.check.heading} {said[-1].decode() if said else 'begun'}"

    def stop(self) -> None:
        """End it, if need be by force."""
        self.process.terminate()
        try:
            self.process.wait(GIVEN_TO_END)
        except subprocess.TimeoutExpired:
            self.process.kill()
            self.process.wait()


def run(*checks: Check) -> int:
    """Run checks at the same time, without a screen: the exit status of the first that fails, else 0.

    One alone speaks for itself. Of several each is shown when it is done; when one fails the others are stopped.
    """
    if len(checks) == 1:
        say(f"\n== {checks[0].heading} ==")
        return subprocess.run(checks[0].command, cwd=ROOT, env=_screenless(), check=False).returncode
    with tempfile.TemporaryDirectory() as folder, _begun(checks, Path(folder)) as begun:
        return _until_done(begun)


def _screenless() -> dict[str, str]:
    return {**os.environ, "QT_QPA_PLATFORM": "offscreen"}


@contextmanager
def _begun(checks: Sequence[Check], folder: Path) -> Iterator[list[Running]]:
    """Checks under way; those that are not done at the end are stopped, however it comes, Ctrl-C too."""
    begun: list[Running] = []
    try:
        for number, check in enumerate(checks):
            begun.append(_begin(check, folder / str(number)))
        yield begun
    finally:
        for running in begun:
            if running.process.poll() is None:
                running.stop()
                say(f"\n== {running.check.heading}: stopped ==")


def _begin(check: Check, output: Path) -> Running:
    with output.open("wb") as file:
        process = subprocess.Popen(check.command, cwd=ROOT, env=_screenless(), stdout=file, stderr=subprocess.STDOUT)
    return Running(check, process, output)


def _until_done(begun: Sequence[Running]) -> int:
    """Show each check as it is done, until one fails or none is left; the exit status."""
    left = list(begun)
    say(f"\n== At the same time: {', '.join(running.check.heading for running in left)} ==")
    said_at = time.monotonic()
    while left:
        for running in [one for one in left if one.process.poll() is not None]:
            left.remove(running)
            _show(running)
            if status := running.process.returncode:
                return status
        if time.monotonic() - said_at >= SAID_EVERY:
            say("; ".join(running.share for running in left))
            said_at = time.monotonic()
        time.sleep(LOOKED_EVERY)
    return 0


def _show(running: Running) -> None:
    say(f"\n== {running.check.heading} ==")
    sys.stdout.write(running.output.read_text(encoding="utf-8", errors="replace"))
    sys.stdout.flush()


def say(line: str) -> None:
    """Print a line at once."""
    sys.stdout.write(f"{line}\n")
    sys.stdout.flush()

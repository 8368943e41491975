"""Nothing lost, nothing let in: `python -m tests.benchmarks.safety [PART ...] [--share 0.1] [--write]`.

Prints the rows of the table in DEVELOPERS.md, each with the counts that were really done, and with `--write` puts them
there. Parts: kills, spoiling, most, gestures, designs, branches. A share does so much of each; half an hour on two
cores does the whole but for the random designs, which take another half.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
import time
from argparse import ArgumentParser
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Final

from hypothesis import HealthCheck, Phase, given, seed, settings

from core.design.design import Design
from core.design.replay import replay
from core.file.gates import FEWER
from core.file.reader import design_from_bytes
from core.file.writer import design_to_bytes
from core.shipped import asset
from tests.__main__ import COUNTING
from tests.core.file.sample_designs import block_design, block_of
from tests.core.file.spoiling import Endings, cut_short, endings, flipped, spliced
from tests.core.laws.random_designs import Ends, designs
from tests.core.laws.sample_steps import sheer

ROOT: Final = Path(__file__).resolve().parents[2]


def kills(share: float) -> Iterator[str]:
    """Processes killed while they save, and while they keep a recovery copy."""
    for what, words, count in (("save", "kill -9 during save", 200), ("keep", "kill -9 during autosave", 100)):
        with tempfile.TemporaryDirectory() as folder:
            done = subprocess.run(
                [
                    *(sys.executable, "-W", "ignore::DeprecationWarning", "-m", "tests.core.file.killing"),
                    *(str(Path(folder, "gown.sheer")), str(round(count * share)), what),
                ],
                cwd=ROOT,
                capture_output=True,
                text=True,
                check=True,
            )
        killed, confirmed, damaged, lost = done.stdout.split()
        yield f"{words} | {killed} kills, {confirmed} confirmed writes: {damaged} damaged, {lost} lost"


def spoiling(share: float) -> Iterator[str]:
    """A demo's bytes cut short, flipped and spliced."""
    data = asset("demo", "concert-bodice.sheer").read_bytes()
    meant = design_from_bytes(data)
    every = max(round(1 / share), 1)
    # The last byte is the line break at the end, without which a file is whole still.
    yield _told("cut short at every byte of a demo", endings(cut_short(data[:-1], every), meant))
    yield _told("one bit flipped", endings(flipped(data, round(20_000 * share)), meant))
    yield _told("stretches doubled, lost or moved", endings(spliced(data, round(5_000 * share)), meant))


def _told(words: str, found: Endings) -> str:
    total = found.refused + found.same + found.altered
    return (
        f"{words} | {total}: {found.refused} refused, {found.same} unharmed, {found.altered} silently altered; "
        f"slowest {found.slowest * 1000:.0f} ms"
    )


def most(_share: float) -> Iterator[str]:
    """The most that the reader lets in: as many steps as it takes, as many points on a line."""
    line = sheer(block_of(block_design()))
    design = block_design()
    for number in range(FEWER["steps"]):
        fields = {"id": f"line-{number}", "name": f"line {number}", "purpose": "mark"}
        design = design.with_step(type(line)(**{name: getattr(line, name) for name in line.__struct_fields__} | fields))
    data = design_to_bytes(design)
    begun = time.process_time()
    done = replay(design_from_bytes(data))
    seconds = time.process_time() - begun
    yield f"the most steps that are let in, read and worked out | {len(done.stages)} steps in {seconds:.1f} s"


def gestures(share: float) -> Iterator[str]:
    """Hands that do anything at the table."""
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    # Imported here: the other parts need no window.
    from PySide6.QtWidgets import QApplication  # noqa: PLC0415

    from tests.app.at_table import first_steps  # noqa: PLC0415
    from tests.app.wandering import walked  # noqa: PLC0415
    from tests.demo_designs import concert  # noqa: PLC0415

    application = QApplication.instance() or QApplication([])
    walks = [walked(concert() if n % 2 else first_steps(4), n, 100) for n in range(round(100 * share))]
    application.processEvents()
    total, changes = sum(walk.gestures for walk in walks), sum(walk.changes for walk in walks)
    unequal = sum(not walk.is_equal for walk in walks)
    yield (
        f"random gestures at the table, then all undone and all redone | {total}, "
        f"of which {changes / total:.0%} changed the design: {unequal} of {len(walks)} walks with unequal ends"
    )


CHUNK: Final = 250
"""Designs of one seed: a run of few seeds keeps coming back to what it has drawn."""


def random_designs(share: float) -> Iterator[str]:
    """Designs drawn by chance, from their bytes to pages. What breaks a law or crashes is kept as a file beside."""
    ends, faults = Ends(), list[str]()

    def send(design: Design) -> None:
        try:
            ends.take(design)
        except Exception as error:  # noqa: BLE001 # every fault is to be found, not only the first
            path = Path(tempfile.gettempdir(), f"sheerwright-fault-{len(faults)}.sheer")
            path.write_bytes(design_to_bytes(design))
            faults.append(f"{error!r:.200}, kept as {path}")

    wanted = round(5_000 * share)
    for first in range(0, wanted, CHUNK):
        drawn_by(2026 + first // CHUNK, min(CHUNK, wanted - first))(given(designs())(send))()
        print(f"{ends.tried}: {ends.with_enough} printed, {len(faults)} faults", file=sys.stderr, flush=True)
    yield (
        "random designs from their bytes through build, checks, finish and print | "
        f"{ends.tried}: {ends.printed} printed ({ends.with_enough / ends.tried:.0%} with five steps or more), "
        f"{sum(ends.refusals.values())} refused, {len(faults)} faults"
    )
    for words, count in ends.refusals.most_common(12):
        yield f"  refused: {words} | {count}"
    yield from (f"  fault: {fault} |" for fault in faults)


def drawn_by(number: int, count: int) -> Callable[[Callable[[], None]], Callable[[], None]]:
    """So many examples of a seed, none of them kept or looked at twice."""
    chosen = settings(
        max_examples=count,
        phases=[Phase.generate],
        deadline=None,
        database=None,
        suppress_health_check=list(HealthCheck),
    )
    return lambda test: seed(number)(chosen(test))


def branches(_share: float) -> Iterator[str]:
    """The modules on the list of those that are wholly tested, under their own tests alone."""
    with tempfile.TemporaryDirectory() as folder:
        counted = {**os.environ, "COVERAGE_FILE": str(Path(folder, "counted")), "QT_QPA_PLATFORM": "offscreen"}
        for check in COUNTING:
            subprocess.run(check.command, cwd=ROOT, env=counted, check=True, stdout=subprocess.DEVNULL)
        told = (sys.executable, "-m", "coverage", "json", "-q", "-o", "-")
        done = subprocess.run(told, cwd=ROOT, env=counted, check=True, capture_output=True, text=True)
    totals, modules = json.loads(done.stdout)["totals"], json.loads(done.stdout)["files"]
    yield (
        f"branches of the modules in `tests/fully_covered.txt`, by their own tests | {len(modules)} modules: "
        f"{totals['covered_branches']} of {totals['num_branches']} branches, "
        f"{totals['covered_lines']} of {totals['num_statements']} statements"
    )


PARTS: Final[dict[str, Callable[[float], Iterator[str]]]] = {
    "kills": kills,
    "spoiling": spoiling,
    "most": most,
    "gestures": gestures,
    "designs": random_designs,
    "branches": branches,
}
TABLE: Final = ROOT / "DEVELOPERS.md"


def write_down(row: str) -> None:
    """Put what was found into the row of the table that begins with the same words; what was aimed at stays."""
    words, found = row.split(" | ", 1)
    lines = TABLE.read_text(encoding="utf-8").splitlines(keepends=True)
    for number, line in enumerate(lines):
        if line.startswith(f"| {words} | "):
            lines[number] = f"| {words} | {found} | {line.rstrip().rstrip('|').rpartition(' | ')[2].strip()} |\n"
    TABLE.write_text("".join(lines), encoding="utf-8")


def main() -> None:
    """Print the rows of the parts that are asked for."""
    parser = ArgumentParser(description="Nothing lost, nothing let in.")
    parser.add_argument("parts", nargs="*", choices=[[], *PARTS], default=[])
    parser.add_argument("--share", type=float, default=1.0)
    parser.add_argument("--write", action="store_true", help="put the rows into DEVELOPERS.md")
    arguments = parser.parse_args()
    for name in arguments.parts or PARTS:
        for row in PARTS[name](arguments.share):
            print(f"| {row} |", flush=True)
            if arguments.write:
                write_down(row)


if __name__ == "__main__":
    main()

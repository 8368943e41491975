"""`lay`: how much of each fabric one or more designs take, and how the pieces lie on it."""

from __future__ import annotations

import os
import threading
from argparse import Namespace
from collections.abc import Callable, Sequence
from concurrent.futures import Future, ThreadPoolExecutor, wait
from functools import partial
from pathlib import Path
from typing import Final

from core.commands.documents import as_json
from core.commands.inputs import refuse_same, whole_replay
from core.commands.progress import shown_on_terminal
from core.design.design import Design
from core.errors import Cancelled, Refusal
from core.fabrics.catalogue import Fabric
from core.file.writer import write_together
from core.finishing.finish import Finished, finish
from core.outputs.lay_json import lays_document
from core.outputs.lay_pages import marker_pages, plan_pages
from core.outputs.lay_parts import choices_for
from core.outputs.lay_pdf import plan_pdf
from core.outputs.lay_plan import Lay
from core.outputs.lay_plans import FabricPlan, comparison, fabrics_cut, laid_both_ways, summary, usual_seconds

LONGEST: Final = 3600.0
"""Seconds that a fabric may be tried for."""

SHOWN_EVERY: Final = 0.25


def run(arguments: Namespace) -> int:
    """Lay out every fabric and say what to buy; write what was asked for: all of it or nothing."""
    seconds = _seconds(arguments.seconds) if arguments.seconds else None
    outputs = [path for path in (arguments.output, arguments.marker, arguments.json) if path is not None]
    for number, output in enumerate(outputs):
        refuse_same(output, *arguments.files, *outputs[number + 1 :])
    replays = [whole_replay(path) for path in arguments.files]
    designs = [done.design for done in replays]
    plans = _plans(designs, [finish(done.design, done.garment) for done in replays], seconds)
    write_together(_documents(arguments, plans, designs[0]))
    for plan in plans:
        print(summary(plan), comparison(plan))
    return 0


def _seconds(words: str) -> float:
    try:
        seconds = float(words)
    except ValueError:
        seconds = 0.0
    if not 1.0 <= seconds <= LONGEST:
        raise Refusal(f"{words} is no time to try a lay for: give 1 to {LONGEST:g} seconds.")
    return seconds


def _plans(designs: Sequence[Design], pieces: Sequence[Sequence[Finished]], seconds: float | None) -> list[FabricPlan]:
    """Every fabric's plan, as many at once as there are cores for two searches each."""
    fabrics = fabrics_cut(pieces)
    searches = max(1, (os.cpu_count() or 1) // 2)
    at_once = max(1, min(searches, len(fabrics)))
    stop = threading.Event()
    one = partial(_plan, designs, pieces, seconds=seconds, told=partial(_told, stop), workers=searches // at_once)
    with ThreadPoolExecutor(at_once) as pool:
        work = [pool.submit(one, fabric) for fabric in fabrics]
        try:
            _await(work)
            return [done.result() for done in work]
        finally:
            stop.set()


def _plan(
    designs: Sequence[Design],
    pieces: Sequence[Sequence[Finished]],
    fabric: Fabric,
    *,
    seconds: float | None,
    told: Callable[[Lay | None], bool],
    workers: int,
) -> FabricPlan:
    return laid_both_ways(
        designs,
        pieces,
        fabric,
        choices=choices_for(fabric, designs[0].unit),
        models={"open": told, "folded": told},
        seconds=seconds or usual_seconds(pieces, fabric),
        workers=workers,
    )


def _told(stop: threading.Event, _best: Lay | None) -> bool:
    if stop.is_set():
        raise Cancelled
    return False


def _await(work: Sequence[Future[FabricPlan]]) -> None:
    """Wait for all, saying how many are done; the first that is refused ends it."""
    with shown_on_terminal("fabric") as show:
        while not all(done.done() for done in work):
            show(sum(done.done() for done in work), len(work))
            wait(work, timeout=SHOWN_EVERY)
            if any(done.done() and done.exception() is not None for done in work):
                return


def _documents(arguments: Namespace, plans: Sequence[FabricPlan], design: Design) -> dict[Path, bytes]:
    title = f"Lay plans: {', '.join(plans[0].names)}" if plans else "Lay plans"
    found: dict[Path, bytes] = {}
    if arguments.output is not None:
        found[arguments.output] = plan_pdf(plan_pages(plans, design.date), title=title, day=design.date)
    if arguments.marker is not None:
        pages = (page for plan in plans for page in marker_pages(plan))
        found[arguments.marker] = plan_pdf(pages, title=f"Markers: {title}", day=design.date)
    if arguments.json is not None:
        found[arguments.json] = as_json(lays_document(plans))
    return found

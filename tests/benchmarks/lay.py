"""Lay plans: demos against boxes, the window meanwhile, and density on open instances beside the best published.

`python -m tests.benchmarks.lay [SECONDS …]` tries the instances for 5, 20 and 60 s three times each, some 25 minutes;
other times may be given, 0 for none. The instances are those of the irregular strip packing literature. Shelves want
greedypacker, which nothing else here does and the lock leaves out: `python -m pip install greedypacker`.
"""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from statistics import mean
from typing import Final

from core.design.design import Design
from core.design.kept_lay import Model
from core.design.replay import replay
from core.fabrics.catalogue import Fabric
from core.file.reader import read_design
from core.finishing.finish import Finished, finish
from core.outputs.lay_amounts import needed
from core.outputs.lay_parts import Part, choices_for, parts_for, strip_width
from core.outputs.lay_plan import Lay
from core.outputs.lay_plans import fabrics_cut, laid_both_ways, usual_seconds
from core.shipped import assets
from tests.benchmarks.lay_boxes import boxes, has_shelves, shelves, shortest_possible, sizes_of
from tests.benchmarks.lay_instances import instance_rows
from tests.benchmarks.lay_window import cancel_rows, window_rows

TIMES: Final = (5, 20, 60)
MODELS: Final[tuple[Model, ...]] = ("open", "folded")


@dataclass(frozen=True, slots=True)
class Measured:
    """Lengths in mm of a fabric's lay, of boxes in rows and packed freely, and what no lay can be shorter than."""

    ours: float
    shelves: float
    boxes: float
    possible: float

    def saved(self) -> tuple[float, float, float, float]:
        """Percent by which it is shorter than shelves and than boxes, each with what would be possible."""
        return tuple(
            100.0 * (1.0 - length / other)
            for other in (self.shelves, self.boxes)
            for length in (self.ours, self.possible)
        )  # type: ignore[return-value]  # two times two


def demo_rows() -> Iterator[str]:
    """Every demo, and all of them together; how soon the first lay is there, and the last."""
    demos = sorted((assets() / "demo").glob("*.sheer"))
    each: list[Measured] = []
    for paths in ([path] for path in demos):
        yield from _demo(paths, each)
    yield _means("the demos", each)
    party: list[Measured] = []
    yield from _demo(demos, party)
    yield _means("all demos laid together", party)


def _means(what: str, found: Sequence[Measured]) -> str:
    by_shelves, most, by_boxes, at_most = (mean(column) for column in zip(*(one.saved() for one in found), strict=True))
    return (
        f"{what}, mean of {len(found)} fabrics: {by_shelves:.1f} % shorter than shelves of the {most:.1f} % possible; "
        f"{by_boxes:.1f} % shorter than boxes packed freely of the {at_most:.1f} % possible"
    )


def _demo(paths: Sequence[Path], found: list[Measured]) -> Iterator[str]:
    designs = [read_design(path) for path in paths]
    pieces = [finish(design, replay(design).garment) for design in designs]
    began = time.monotonic()
    rows = [_fabric(designs, pieces, fabric, found) for fabric in fabrics_cut(pieces)]
    whole = time.monotonic() - began
    yield f"{' and '.join(path.stem for path in paths)}: {whole:.1f} s for {len(rows)} fabrics, one after the other"
    yield from (f"  {row}" for row in rows)


def _fabric(
    designs: Sequence[Design], pieces: Sequence[Sequence[Finished]], fabric: Fabric, found: list[Measured]
) -> str:
    choices = choices_for(fabric, designs[0].unit)
    began = time.monotonic()
    first: list[float] = []

    def told(best: Lay | None) -> bool:
        if best is not None and not first:
            first.append(time.monotonic() - began)
        return False

    plan = laid_both_ways(
        designs,
        pieces,
        fabric,
        choices=choices,
        models=dict.fromkeys(MODELS, told),
        seconds=usual_seconds(pieces, fabric),
        workers=1,
    )
    took = time.monotonic() - began
    parts = {model: parts_for(pieces, fabric, choices, model=model, unit="mm") for model in MODELS}
    measured = _measured(min(lay.length for lay in plan.lays), parts, fabric, choices.gap)
    found.append(measured)
    by_shelves, most, by_boxes, at_most = measured.saved()
    lengths = ", ".join(f"{lay.model} {lay.length:.0f} mm" for lay in sorted(plan.lays, key=lambda lay: lay.length))
    buy = [needed(fabric, length, choices, "cm").to_buy / 10.0 for length in (measured.ours, measured.shelves)]
    return (
        f"{fabric.name}, {sum(part.copies for part in parts['open'])} pieces: {lengths}, none under "
        f"{measured.possible:.0f}; shelves {measured.shelves:.0f}, {by_shelves:.1f} of {most:.1f} %; "
        f"boxes {measured.boxes:.0f}, {by_boxes:.1f} of {at_most:.1f} %; {buy[0]:.0f} cm to buy, with shelves "
        f"{buy[1]:.0f}; first lay after {first[0]:.2f} s, last after {took:.1f} s"
    )


def _measured(ours: float, parts: dict[Model, tuple[Part, ...]], fabric: Fabric, gap: float) -> Measured:
    """Beside the shorter of an open and a folded lay of boxes."""
    strips = {model: strip_width(fabric, model) for model in MODELS}
    sizes = {model: sizes_of(parts[model], strips[model]) for model in MODELS}
    return Measured(
        ours,
        min(shelves(sizes[model], strips[model], gap) for model in MODELS),
        min(boxes(sizes[model], strips[model], gap) for model in MODELS),
        min(shortest_possible(parts[model], strips[model]) for model in MODELS),
    )


def main() -> None:
    """Print every figure."""
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    if not has_shelves():
        sys.exit("This wants greedypacker: python -m pip install greedypacker")
    seconds = [int(word) for word in sys.argv[1:]] or list(TIMES)
    parts = (demo_rows, window_rows, cancel_rows, partial(instance_rows, [limit for limit in seconds if limit]))
    for part in parts:
        for row in part():
            print(row, flush=True)


if __name__ == "__main__":
    main()

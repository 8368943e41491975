"""Lay plans: density on open instances beside the best published, demos against boxes, and the window meanwhile.

`python -m tests.benchmarks.lay [SECONDS …]` tries the instances for 5, 20 and 60 s three times each, some 25 minutes;
other times may be given, 0 for none. The instances are those of the irregular strip packing literature.
"""

from __future__ import annotations

import json
import resource
import sys
import time
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, partial
from itertools import combinations
from math import ceil
from pathlib import Path
from statistics import mean, median
from typing import Any, Final

import numpy as np
import rectpack
from PySide6.QtCore import QCoreApplication
from PySide6.QtWidgets import QApplication
from shapely.affinity import rotate, translate
from shapely.geometry import Polygon

from app.background import Work
from app.dialogs.lay_task import LayTask
from core.design.design import Design
from core.design.kept_lay import Model
from core.design.replay import replay
from core.fabrics.catalogue import Fabric
from core.file.reader import read_design
from core.finishing.finish import Finished, finish
from core.outputs.lay_amounts import needed
from core.outputs.lay_parts import Part, choices_for, hands_of, parts_for, rotated, strip_width
from core.outputs.lay_plan import Lay
from core.outputs.lay_plans import fabrics_cut, laid_both_ways, usual_seconds
from core.outputs.lay_process import Item, Packing, pack
from core.shipped import assets
from tests.benchmarks.timing import shown
from tests.benchmarks.window_drag import SIZES, drag

INSTANCES: Final = Path(__file__).resolve().parents[3] / "shared" / "data" / "nesting"
PUBLISHED: Final = {"albano": 89.8, "marques": 92.0, "shirts": 90.9, "trousers": 92.6, "fu": 92.4, "mao": 86.9}
"""Best density in percent, as arXiv 2509.13329 lists it: other hardware, other times."""

RUNS: Final = 3
TIMES: Final = (5, 20, 60)
MODELS: Final[tuple[Model, ...]] = ("open", "folded")
ALGORITHMS: Final = (
    rectpack.MaxRectsBl,
    rectpack.MaxRectsBssf,
    rectpack.SkylineBl,
    rectpack.SkylineBlWm,
    rectpack.SkylineMwf,
    rectpack.GuillotineBssfSas,
)
SORTS: Final = (rectpack.SORT_AREA, rectpack.SORT_LSIDE, rectpack.SORT_SSIDE, rectpack.SORT_PERI)
TENTHS: Final = 10
"""Boxes are packed in tenths of a millimetre: the library counts in whole numbers."""


# --------------------------------------------------------------------------------------------------------------
# instances


def instance_rows(seconds: Sequence[int]) -> Iterator[str]:
    """Median density of each instance at each time, with the published best, each packing proved by shapely."""
    if not INSTANCES.exists():
        yield "the instances are not there: no densities"
        return
    for name, best in PUBLISHED.items():
        told = [f"{limit} s {_density(name, limit)}" for limit in seconds]
        yield f"{name}: {', '.join(told)}; best published {best} %"


def _density(name: str, seconds: int) -> str:
    found, got = [], []
    worst = 0.0
    for _ in range(RUNS):
        before = _processor()
        share, overlap = _packed(name, seconds)
        found.append(100.0 * share)
        got.append(_processor() - before)
        worst = max(worst, overlap)
    return (
        f"{median(found):.1f} % ({min(found):.1f} to {max(found):.1f}; {median(got):.0f} s of processor; "
        f"largest overlap {worst:.1e} of a piece)"
    )


def _processor() -> float:
    """Seconds of processor that ended children have had: on a shared machine they get less than they ask for."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


@cache
def _instance(name: str) -> tuple[float, tuple[Item, ...]]:
    data = json.loads((INSTANCES / f"{name}.json").read_text())
    items = tuple(_item(item) for item in data["items"])
    return float(data["strip_height"]), items


def _item(item: Mapping[str, Any]) -> Item:
    return Item(str(item["id"]), item["shape"]["data"], item["demand"], item["allowed_orientations"])


def _packed(name: str, seconds: int) -> tuple[float, float]:
    """The density, and the largest overlap as a share of the smallest piece; asserts counts, turns and bounds."""
    height, items = _instance(name)
    packing = pack(items, height, seconds=float(seconds), workers=2, watch=lambda _: False)
    shapes = _shapes(packing, items)
    bounds = np.array([shape.bounds for shape in shapes])
    assert len(shapes) == sum(item.demand for item in items)
    assert bounds[:, 1].min() >= -1e-4 * height
    assert bounds[:, 3].max() <= height * (1.0 + 1e-4)
    length = float(np.ptp(bounds[:, [0, 2]]))
    overlap = max(first.intersection(second).area for first, second in combinations(shapes, 2))
    area = sum(shape.area for shape in shapes)
    return area / (height * length), overlap / min(shape.area for shape in shapes)


def _shapes(packing: Packing, items: Sequence[Item]) -> list[Polygon]:
    known = {item.id: item for item in items}
    found = []
    for id_, turn, x, y in packing.placed:
        assert any(abs((turn - allowed + 180.0) % 360.0 - 180.0) < 1e-3 for allowed in known[id_].turns)
        found.append(translate(rotate(Polygon(known[id_].shape), turn, origin=(0, 0)), x, y))
    return found


# --------------------------------------------------------------------------------------------------------------
# demos


def demo_rows() -> Iterator[str]:
    """Every demo and all of them together, against boxes; how soon the first lay is there, and the last."""
    demos = sorted((assets() / "demo").glob("*.sheer"))
    each: list[Saved] = []
    for paths in ([path] for path in demos):
        yield from _demo(paths, each)
    yield _means("the demos", each)
    party: list[Saved] = []
    yield from _demo(demos, party)
    yield _means("all demos laid together", party)


@dataclass(frozen=True, slots=True)
class Saved:
    """How much shorter than boxes a lay is, as a share, and whether it could be: boxes may be as short as can be."""

    share: float
    could_be: bool


def _means(what: str, saved: Sequence[Saved]) -> str:
    some = [one.share for one in saved if one.could_be]
    return (
        f"{what}: {100.0 * mean(one.share for one in saved):.1f} % shorter than boxes on average; "
        f"{100.0 * mean(some):.1f} % on the {len(some)} of {len(saved)} fabrics whose boxes are longer than a piece"
    )


def _demo(paths: Sequence[Path], saved: list[Saved]) -> Iterator[str]:
    designs = [read_design(path) for path in paths]
    pieces = [finish(design, replay(design).garment) for design in designs]
    name = " and ".join(path.stem for path in paths)
    began = time.monotonic()
    rows = [_fabric(designs, pieces, fabric, saved) for fabric in fabrics_cut(pieces)]
    whole = time.monotonic() - began
    yield f"{name}: {whole:.1f} s for {len(rows)} fabrics, one after the other"
    yield from (f"  {row}" for row in rows)


def _fabric(designs: Sequence[Design], pieces: Sequence[Sequence[Finished]], fabric: Fabric, saved: list[Saved]) -> str:
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
    boxes = min(
        _boxes(parts_for(pieces, fabric, choices, model=model, unit="mm"), strip_width(fabric, model), choices.gap)
        for model in MODELS
    )
    lengths = {lay.model: lay.length for lay in plan.lays}
    ours = min(lengths.values())
    longest = _longest(pieces, fabric)
    saved.append(Saved(1.0 - ours / boxes, boxes > 1.01 * longest))
    said = ", ".join(f"{model} {lengths[model]:.0f} mm" for model in MODELS if model in lengths)
    bought = needed(fabric, ours, choices, "cm").to_buy
    return (
        f"{fabric.name}: {said} ({100.0 * plan.lay.used:.0f} % used), boxes {boxes:.0f} mm, "
        f"{100.0 * saved[-1].share:.1f} % shorter; {bought / 10:.0f} cm to buy, with boxes "
        f"{needed(fabric, boxes, choices, 'cm').to_buy / 10:.0f}; first lay after {first[0] if first else 0.0:.2f} s, "
        f"longest piece {longest:.0f} mm"
    )


def _longest(pieces: Sequence[Sequence[Finished]], fabric: Fabric) -> float:
    parts = parts_for(pieces, fabric, choices_for(fabric, "mm"), model="folded", unit="mm")
    return max(float(np.ptp(rotated(part.outline, part.turn_on_grain(is_mirrored=False))[:, 0])) for part in parts)


def _boxes(parts: Sequence[Part], strip: float, gap: float) -> float:
    """The shortest of many packings of the pieces' boxes on the strip, in mm; on a fold they need not lie on it."""
    sizes = [size for part in parts for size in [_size(part)] * part.copies]
    found = [
        length
        for algorithm in ALGORITHMS
        for sort in SORTS
        if (length := _box_length(sizes, strip + gap, gap, algorithm=algorithm, sort=sort)) is not None
    ]
    return min(found) - gap


def _size(part: Part) -> tuple[float, float]:
    hand = hands_of(part)[0]
    turned = rotated(part.loop(is_mirrored=hand), part.allowed(is_mirrored=hand)[0])
    along, across = np.ptp(turned, axis=0).tolist()
    return (along, across)


def _box_length(
    sizes: Sequence[tuple[float, float]], strip: float, gap: float, *, algorithm: object, sort: object
) -> float | None:
    packer = rectpack.newPacker(rotation=False, pack_algo=algorithm, sort_algo=sort)
    for along, across in sizes:
        packer.add_rect(ceil(TENTHS * (across + gap)), ceil(TENTHS * (along + gap)))
    packer.add_bin(int(TENTHS * strip), ceil(TENTHS * sum(along + gap for along, _ in sizes)))
    packer.pack()
    placed = packer.rect_list()
    return max(y + high for _, _, y, _, high, _ in placed) / TENTHS if len(placed) == len(sizes) else None


# --------------------------------------------------------------------------------------------------------------
# the window meanwhile


def window_rows() -> Iterator[str]:
    """A drag on the sheer line by itself, and while both ways of laying are searched."""
    application = QApplication.instance() or QApplication([])
    assert isinstance(application, QApplication)
    size = SIZES["1080p"]
    alone = drag(application, size)[20:]
    yield shown("frame of a drag at 1080p, nothing else at work", alone)
    work = Work(_search(), application)
    work.start()
    yield shown("the same while a lay is searched", drag(application, size)[20:], alone)
    work.abandon()
    QCoreApplication.processEvents()


def _search() -> LayTask:
    paths = sorted((assets() / "demo").glob("skater*.sheer"))
    design = read_design(paths[0])
    pieces = finish(design, replay(design).garment)
    fabric = next(fabric for fabric in fabrics_cut([pieces]) if fabric.role == "sheer")
    return LayTask(design, pieces, fabric, choices=choices_for(fabric, "mm"), models=MODELS, seconds=60.0)


def main() -> None:
    """Print every figure."""
    seconds = [int(word) for word in sys.argv[1:]] or list(TIMES)
    parts = (demo_rows, window_rows, partial(instance_rows, [limit for limit in seconds if limit]))
    for part in parts:
        for row in part():
            print(row, flush=True)


if __name__ == "__main__":
    main()

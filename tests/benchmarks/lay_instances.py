"""Density on open instances of the irregular strip packing literature, beside the best published."""

from __future__ import annotations

import json
import resource
import time
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import combinations
from pathlib import Path
from statistics import median
from typing import Any, Final

import numpy as np
from shapely.affinity import rotate, translate
from shapely.geometry import Polygon

from core.outputs.lay_process import Item, Packing, pack

INSTANCES: Final = Path(__file__).resolve().parents[3] / "shared" / "data" / "nesting"
PUBLISHED: Final = {"albano": 89.8, "marques": 92.0, "shirts": 90.9, "trousers": 92.6, "fu": 92.4, "mao": 86.9}
"""Best density in percent, as arXiv 2509.13329 lists it: other hardware, other times."""

RUNS: Final = 3
SMALLEST_SHARE: Final = 0.1
"""Of the processor: on a machine where the engine gets less, its figures are of less time than they say."""


@dataclass(frozen=True, slots=True)
class _Run:
    density: float
    """Percent."""
    overlap: float
    """As a share of the smallest piece."""
    processor: float
    wall: float
    """Seconds."""


def instance_rows(seconds: Sequence[int]) -> Iterator[str]:
    """Median density of each instance at each time, with the published best, each packing proved by shapely.

    The time is the processor's, of one worker: where others use the machine too, as much more is tried by the clock as
    the run before was held up.
    """
    if not INSTANCES.exists():
        yield "the instances are not there: no densities"
        return
    share = 1.0
    for limit in seconds:
        for name, best in PUBLISHED.items():
            runs: list[_Run] = []
            for _ in range(RUNS):
                runs.append(_packed(name, limit / share))
                share = min(max(runs[-1].processor / runs[-1].wall, SMALLEST_SHARE), 1.0)
            yield f"{name} at {limit} s: {_said(runs)}; best published {best} %"


def _said(runs: Sequence[_Run]) -> str:
    found = [run.density for run in runs]
    had = median(run.processor for run in runs)
    return (
        f"{median(found):.1f} % ({min(found):.1f} to {max(found):.1f}; {had:.0f} s of processor; largest overlap "
        f"{max(run.overlap for run in runs):.1e} of a piece)"
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


def _packed(name: str, seconds: float) -> _Run:
    """One run by the clock; asserts counts, turns and bounds."""
    height, items = _instance(name)
    had, began = _processor(), time.monotonic()
    packing = pack(items, height, seconds=seconds, workers=1, watch=lambda _: False)
    processor, wall = _processor() - had, time.monotonic() - began
    shapes = _shapes(packing, items)
    bounds = np.array([shape.bounds for shape in shapes])
    assert len(shapes) == sum(item.demand for item in items)
    assert bounds[:, 1].min() >= -1e-4 * height
    assert bounds[:, 3].max() <= height * (1.0 + 1e-4)
    length = float(np.ptp(bounds[:, [0, 2]]))
    overlap = max(first.intersection(second).area for first, second in combinations(shapes, 2))
    density = 100.0 * sum(shape.area for shape in shapes) / (height * length)
    return _Run(density, overlap / min(shape.area for shape in shapes), processor, wall)


def _shapes(packing: Packing, items: Sequence[Item]) -> list[Polygon]:
    known = {item.id: item for item in items}
    found = []
    for id_, turn, x, y in packing.placed:
        assert any(abs((turn - allowed + 180.0) % 360.0 - 180.0) < 1e-3 for allowed in known[id_].turns)
        found.append(translate(rotate(Polygon(known[id_].shape), turn, origin=(0, 0)), x, y))
    return found

"""Recompute of the demo after moving one point of the sheer line, against bare shapely splits and offsets."""

from __future__ import annotations

from collections.abc import Iterator

import msgspec
from shapely import offset_curve
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import split

from core.design.design import Design
from core.design.replay import Replay, replay
from core.steps.style_line import StyleLine
from tests.benchmarks.timing import shown, times
from tests.demo_designs import concert


def moved(design: Design, number: int) -> Design:
    """The demo with a point of its sheer line moved a little further each time, there and back."""
    line = next(step for step in design.steps if isinstance(step, StyleLine) and step.purpose == "sheer")
    dy = 0.05 * (number % 100) - 2.5
    first, second, *others = line.points
    points = (first, msgspec.structs.replace(second, y=second.y + dy), *others)
    return design.with_step(msgspec.structs.replace(line, points=points))


def bare_shapely(last: Replay) -> Iterator[BaseGeometry]:
    """One split a drawn line and one offset an edge of what the drag recomputes: what no program could do without."""
    for name in ("front.sheer_line", "front.princess"):
        before = last.before("cut-1").piece("front")
        yield from split(Polygon(before.loop), LineString(before.line(name).path)).geoms
    for panel in ("front yoke", "centre front", "side front"):
        for edge in last.garment.piece(panel).edges:
            yield offset_curve(LineString(edge.points), -12.7)


def figures() -> Iterator[str]:
    """Rows to print."""
    design = concert()
    last = replay(design)

    def drag(number: int) -> None:
        nonlocal last
        last = replay(moved(design, number), last)
        assert last.refused is None

    baseline = times(lambda _: list(bare_shapely(last)), runs=200)
    yield shown("bare shapely", baseline)
    yield shown("drag of the sheer line", times(drag, runs=400), baseline)

    def last_step(number: int) -> None:
        nonlocal last
        cup = msgspec.structs.replace(design.steps[-1], underlap=10.0 + 0.01 * number)
        last = replay(design.with_step(cup), last)

    yield shown("change of the last step", times(last_step, runs=200), baseline)
    yield shown("whole replay from nothing", times(lambda _: replay(design), runs=20), baseline)

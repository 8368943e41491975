"""Recompute of the demos after moving one point of the sheer line, against bare shapely splits and offsets."""

from __future__ import annotations

from collections.abc import Iterator

import msgspec
from shapely import offset_curve
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import split

from core.design.design import Design
from core.design.replay import Replay, replay
from core.steps.cup import Cup
from core.steps.style_line import StyleLine
from tests.benchmarks.timing import shown, times
from tests.demo_designs import DEMOS, concert


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
    """Rows to print; the baseline is that of the concert bodice throughout."""
    concert_done = replay(concert())
    baseline = times(lambda _: list(bare_shapely(concert_done)), runs=200)
    yield shown("bare shapely", baseline)
    for name, make in DEMOS.items():
        design = make()
        yield shown(f"drag of the sheer line, {name}", times(_Drag(design), runs=300), baseline)
        if isinstance(design.steps[-1], Cup):
            yield shown(f"change of the last step, {name}", times(_LastCup(design), runs=200), baseline)
    yield shown(
        "whole replay of the concert bodice from nothing", times(lambda _: replay(concert()), runs=20), baseline
    )


class _Drag:
    """The sheer line dragged, every replay beginning from the one before."""

    def __init__(self, design: Design) -> None:
        self._design = design
        self._last = replay(design)

    def __call__(self, number: int) -> None:
        self._last = replay(moved(self._design, number), self._last)
        assert self._last.refused is None


class _LastCup(_Drag):
    """The cup, which is the last step, typed anew."""

    def __call__(self, number: int) -> None:
        cup = msgspec.structs.replace(self._design.steps[-1], underlap=10.0 + 0.01 * number)
        self._last = replay(self._design.with_step(cup), self._last)
        assert self._last.refused is None

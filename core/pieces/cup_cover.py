"""Where an opening lies on the cup behind it: the match line, and the marks that cup and opening have in common."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property
from itertools import pairwise
from typing import Final

import msgspec
import numpy as np

from core.pieces.cone import Values
from core.pieces.cup_shape import CupShape, Way
from core.pieces.opening import Opening

FROM_END: Final = 12.0
"""A mark nearer (mm) to an end of the match line than this would only repeat it."""


class Mark(msgspec.Struct, frozen=True):
    """A mark on cup and opening: its name, how far along the opening (mm), its radius (mm) and closed angle."""

    name: str
    along: float
    radius: float
    closed: float


class Cover(msgspec.Struct, frozen=True, eq=False, dict=True, weakref=True):
    """The stretch of an opening that lies over the cup: along it (mm), radii (mm), closed angles, each (N,)."""

    along: Values
    radii: Values
    closed: Values

    @cached_property
    def span(self) -> tuple[float, float]:
        """The least and the greatest closed angle that it comes to."""
        return float(self.closed.min()), float(self.closed.max())

    @property
    def length(self) -> float:
        """Its length in mm on the opening."""
        return float(self.along[-1] - self.along[0])

    def at(self, along: float) -> tuple[float, float]:
        """Radius and closed angle at a distance along the opening."""
        return float(np.interp(along, self.along, self.radii)), float(np.interp(along, self.along, self.closed))


def cover_of(opening: Opening, shape: CupShape) -> Cover | None:
    """The longest stretch of the opening inside the cup's rim, its ends on the rim; None where there is none."""
    closed = shape.cone.round(opening.closed)
    room = shape.rim.at(closed) - opening.radii
    start, stop = _longest(room > 0.0)
    if stop - start < 2:
        return None
    first = [_met(opening.along, room, start - 1)] if start > 0 else []
    last = [_met(opening.along, room, stop - 1)] if stop < len(room) else []
    along = np.concatenate((first, opening.along[start:stop], last))
    turns = np.rint(np.diff(closed, prepend=closed[0]) / shape.cone.cloth).cumsum()
    unwrapped = closed - turns * shape.cone.cloth
    radii, angles = (np.interp(along, opening.along, values) for values in (opening.radii, unwrapped))
    return Cover(along, radii, angles)


def _longest(inside: np.ndarray[tuple[int], np.dtype[np.bool_]]) -> tuple[int, int]:
    """First index and the one past the last of the longest run of True."""
    steps = np.diff(np.concatenate(([0], inside.astype(np.int8), [0])))
    starts, stops = np.flatnonzero(steps == 1), np.flatnonzero(steps == -1)
    if not len(starts):
        return 0, 0
    best = int((stops - starts).argmax())
    return int(starts[best]), int(stops[best])


def _met(along: Values, room: Values, index: int) -> float:
    """The distance at which the room comes to nothing between an index and the next."""
    share = room[index] / (room[index] - room[index + 1])
    return float(along[index] + share * (along[index + 1] - along[index]))


def match_lines(cover: Cover, shape: CupShape) -> Iterator[Way]:
    """The opening as it lies on the parts, part by part from its first end, ending on their seams."""
    limits = {end for part in shape.parts for end in (part.low, part.high)}
    turns = (-shape.cone.cloth, 0.0, shape.cone.cloth)
    cuts = [at for limit in limits for turn in turns for at in _crossings(cover, limit + turn)]
    stops = sorted({float(cover.along[0]), *cuts, float(cover.along[-1])})
    for start, stop in pairwise(stops):
        if stop - start > 1e-6:
            yield _stretch(cover, shape, start, stop)


def _crossings(cover: Cover, limit: float) -> list[float]:
    low, high = cover.span
    if not low <= limit <= high:
        return []
    off = cover.closed - limit
    found = []
    for index in np.flatnonzero(off[:-1] * off[1:] < 0.0).tolist():
        share = off[index] / (off[index] - off[index + 1])
        found.append(float(cover.along[index] + share * (cover.along[index + 1] - cover.along[index])))
    return found


def _stretch(cover: Cover, shape: CupShape, start: float, stop: float) -> Way:
    inner = cover.along[(cover.along > start + 1e-9) & (cover.along < stop - 1e-9)]
    along = np.concatenate(([start], inner, [stop]))
    radii, closed = (np.interp(along, cover.along, values) for values in (cover.radii, cover.closed))
    part = shape.part_at(cover.at((start + stop) / 2)[1])
    turn = float(shape.cone.round(closed[len(closed) // 2])) - closed[len(closed) // 2]
    return Way(part, radii, np.clip(closed + turn, part.low, part.high))


def marks_of(cover: Cover, shape: CupShape) -> tuple[Mark, ...]:
    """The marks in order along the opening: its ends on the cup, the apex line, the lowest point if that is neither.

    The end nearer the centre front is called after it, the other after the side (trade.md E).
    """
    first, last = float(cover.along[0]), float(cover.along[-1])
    towards_side = cover.closed[-1] >= cover.closed[0]
    places = {"centre front side": first if towards_side else last, "side": last if towards_side else first}
    apex = _crossings(cover, shape.cone.top)
    if apex:
        places["apex line"] = apex[0]
    heights = cover.radii * np.sin(cover.closed)
    lowest = float(cover.along[int(heights.argmin())])
    if all(abs(lowest - at) > FROM_END for at in places.values()):
        places["lowest point"] = lowest
    return tuple(Mark(name, at, *cover.at(at)) for name, at in sorted(places.items(), key=lambda item: item[1]))

"""Parts as the engine is given them, and its answer as a lay again.

Every outline is grown by half the gap, and the strip by as much at both sides, so that outlines may touch. The engine
cannot hold a piece in its place. So all that must stay becomes one *rigid* item: the outlines, thin bridges from each
to a border of the strip, a rail along the border, and a bar as tall as the strip, by which it can only lie as it does.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import msgspec
import numpy as np

from core.geometry.planar import grown, outer_loop
from core.geometry.polyline import Points, as_points
from core.outputs.drawing import bounds, box_loop
from core.outputs.lay_fold import Start
from core.outputs.lay_parts import EXACT_FIT, Part, fitting
from core.outputs.lay_plan import Laid, Lay
from core.outputs.lay_process import Item, Packing
from core.outputs.lay_rows import hands_missing

SIMPLER: Final = 0.05
"""mm by which outlines are simplified for the engine: half of what the gap may fall short."""

OVER: Final = SIMPLER + 0.01
"""mm that outlines are grown by over half the gap, for what simplifying and single precision take away."""

FIT: Final = 1.0 + 1e-6
"""The strip is enlarged by a millionth: the engine fails on a piece exactly as wide as the strip."""

BAR: Final = 1.0
RAIL: Final = 0.5
"""mm of the bar and the rails of a rigid item; rails lie where the grown border has room for them."""

PLAY: Final = 0.03
"""mm by which a rigid item is lower than the strip: none at all is more than single precision can place."""

APART: Final = 0.01
"""mm. Corners of a rigid item that are nearer than this are one: the engine fails on such."""

RIGID: Final = "rigid"


class Asked(msgspec.Struct, frozen=True, eq=False):
    """One item and the part it stands for, None for the rigid one; `centre` is where its own frame begins."""

    item: Item
    part: Part | None
    mirrored: bool
    centre: Points


def margin_of(lay: Lay) -> float:
    """mm by which outlines and strip are grown."""
    return lay.choices.gap / 2.0 + OVER


def height_of(lay: Lay) -> float:
    """The engine's strip."""
    return (lay.strip + 2.0 * margin_of(lay)) * FIT


def asked_for(start: Start, parts: Sequence[Part]) -> tuple[Asked, ...]:
    """What the engine is to place so that all parts lie as often as they are cut; what lies there stays in place."""
    lay = start.lay
    found = [_rigid(lay, margin_of(lay), bar_last=start.bar_last)] if lay.laid else []
    for index, part in enumerate(parts):
        for is_mirrored, count in _hands(part, lay, start.over[index]):
            found.append(
                _asked(f"{index}{'m' if is_mirrored else ''}", part, lay, is_mirrored=is_mirrored, count=count)
            )
    return tuple(found)


def _hands(part: Part, lay: Lay, over: int) -> list[tuple[bool, int]]:
    """By hand, how many of a part do not lie there yet, `over` of them turned over where they may be."""
    missing = hands_missing(part, lay)
    if not over:
        return missing
    ((_, count),) = missing
    return [(hand, wanted) for hand, wanted in ((False, count - over), (True, over)) if wanted]


def _asked(id_: str, part: Part, lay: Lay, *, is_mirrored: bool, count: int) -> Asked:
    outline = grown(part.loop(is_mirrored=is_mirrored), margin_of(lay), slack=SIMPLER)
    turns = [turn for turn, across in fitting(part, is_mirrored=is_mirrored) if across <= lay.strip + EXACT_FIT]
    return _as_item(id_, outline, part, is_mirrored=is_mirrored, count=count, turns=turns)


def _as_item(
    id_: str, outline: Points, part: Part | None, *, is_mirrored: bool, count: int, turns: Sequence[float]
) -> Asked:
    """The item, shifted to the origin: far from it the engine fails."""
    centre = as_points([(outline.min(axis=0) + outline.max(axis=0)) / 2.0])
    return Asked(Item(id_, (outline - centre).tolist(), count, list(turns)), part, is_mirrored, centre)


def _rigid(lay: Lay, margin: float, *, bar_last: bool) -> Asked:
    """All that lies there as one item, in the engine's frame, whose strip begins at y = 0."""
    up = np.array((0.0, margin))
    loops = [as_points(grown(piece.loop, margin, slack=SIMPLER) + up) for piece in lay.laid]
    left, _, right, _ = bounds(np.vstack(loops))
    top = lay.strip + 2.0 * margin
    low, high = PLAY / 2, top - PLAY / 2
    bar = (right - RAIL, low, right + BAR, high) if bar_last else (left - BAR, low, left + RAIL, high)
    struts = [box_loop(bar)]
    for loop in loops:
        struts += _held(loop, right if bar_last else left, (low, high))
    outline = outer_loop([*loops, *struts])
    spans = np.hypot(*(outline - np.roll(outline, -1, axis=0)).T)
    within = np.clip(outline[spans > APART], (-np.inf, low), (np.inf, high))
    return _as_item(RIGID, as_points(within), None, is_mirrored=False, count=1, turns=[0.0])


def _held(loop: Points, bar: float, strip: tuple[float, float]) -> list[Points]:
    """A bridge from a loop to the nearer border, and the rail from there to the bar."""
    (bottom, top), (_, low, _, high) = strip, bounds(loop)
    below = low - bottom <= top - high
    foot = loop[int(loop[:, 1].argmin() if below else loop[:, 1].argmax())]
    reach = (bottom, max(foot[1], bottom) + RAIL) if below else (min(foot[1], top) - RAIL, top)
    border = (bottom, bottom + RAIL) if below else (top - RAIL, top)
    first, last = sorted((bar, float(foot[0])))
    bridge = (foot[0] - RAIL / 2, reach[0], foot[0] + RAIL / 2, reach[1])
    return [box_loop(bridge), box_loop((first - RAIL / 2, border[0], last + RAIL / 2, border[1]))]


def lay_from(packing: Packing, asked: Sequence[Asked], lay: Lay) -> Lay:
    """The lay with what the engine placed. What lay there keeps its place; without that it begins at x = 0."""
    known = {one.item.id: one for one in asked}
    dx, dy = 0.0, 0.0
    for id_, _, x, y in packing.placed:
        if id_ == RIGID:
            dx, dy = (known[id_].centre[0] - (x, y)).tolist()
    placed = [
        _laid(known[id_], turn, (x + dx, y + dy - margin_of(lay)), lay)
        for id_, turn, x, y in packing.placed
        if id_ != RIGID
    ]
    return Lay(lay.fabric, lay.model, lay.choices, (*lay.laid, *placed)).settled()


def _laid(one: Asked, turn: float, shift: tuple[float, float], lay: Lay) -> Laid:
    """The part where the engine put it, brought back the hair by which it may lie past the usable width."""
    assert one.part is not None
    turn = min(one.item.turns, key=lambda allowed: abs((turn - allowed + 180.0) % 360.0 - 180.0))
    bare = Laid(one.part, 0.0, 0.0, turn, one.mirrored)
    off = bare.placement.point(one.centre[0])
    laid = bare.moved(shift[0] - off[0], shift[1] - off[1])
    low, high = max(0.0, -laid.box[1]), max(0.0, laid.box[3] - lay.strip)
    return laid.moved(0.0, low - high if max(low, high) <= OVER + PLAY else 0.0)

"""The proof of a lay: what is wrong with it, worked out from the pieces' own cutting lines and from nothing else.

The engine's word is not taken for anything: it rounds, and it may err. A lay with a fault is not shown.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import combinations
from math import remainder
from typing import Final

import numpy as np

from core.design.kept_lay import LONGEST_CLOTH
from core.geometry.planar import distance_between, shared_area
from core.geometry.polyline import Points, as_points
from core.outputs.drawing import Box
from core.outputs.lay_parts import Part, rotated
from core.outputs.lay_plan import Laid, Lay
from core.units import Unit, show_length

OVERLAP: Final = 0.01
"""mm² of cloth that two pieces may share: a hundredth of a pencil dot."""

GAP_SLACK: Final = 0.1
"""mm that the gap between two pieces may fall short of what is wanted."""

OVER_EDGE: Final = 0.01
"""mm that a piece may reach past the usable width: rounding, not cloth."""

OFF_TURN: Final = 1e-3
"""Degrees."""


def faults(lay: Lay, parts: Sequence[Part], *, unit: Unit = "mm") -> tuple[str, ...]:
    """Every fault of a lay as a sentence, none when it may be cut: counts, turns, width, fold, overlaps and gaps."""
    return (
        *_counts(lay, parts),
        *_over_bolt(lay, unit),
        *(fault for piece in lay.laid for fault in _alone(piece, lay, unit)),
        *(fault for first, second in combinations(lay.laid, 2) for fault in _together(first, second, lay, unit)),
    )


def faults_of(index: int, lay: Lay, *, unit: Unit = "mm") -> tuple[str, ...]:
    """The faults of one piece where it lies among the others."""
    piece = lay.laid[index]
    others = (other for other in lay.laid if other is not piece)
    return (
        *_over_bolt(lay, unit),
        *_alone(piece, lay, unit),
        *(fault for other in others for fault in _together(piece, other, lay, unit)),
    )


def _counts(lay: Lay, parts: Sequence[Part]) -> Iterator[str]:
    """Every part must lie there as often as it is cut, in the right hands."""
    found = Counter((id(piece.part), piece.mirrored and not piece.part.either) for piece in lay.laid)
    for part in parts:
        hands = ((False, part.copies),) if part.either else ((False, part.plain), (True, part.turned_over))
        for is_mirrored, wanted in hands:
            count = found.pop((id(part), is_mirrored), 0)
            if count != wanted:
                hand = " mirrored" if is_mirrored else ""
                yield f"Piece {part.said} lies there {count} times{hand} and is cut {wanted} times."
    if found:
        yield "A piece lies there that is not cut from this cloth."


def _over_bolt(lay: Lay, unit: Unit) -> Iterator[str]:
    if lay.laid and lay.length > LONGEST_CLOTH:
        yield f"The lay is longer than any bolt of cloth: {show_length(LONGEST_CLOTH, unit)} at most."


def _alone(piece: Laid, lay: Lay, unit: Unit) -> Iterator[str]:
    said = piece.part.said
    allowed = piece.part.allowed(is_mirrored=piece.mirrored)
    if not any(abs(remainder(piece.turn - turn, 360.0)) <= OFF_TURN for turn in allowed):
        yield f"Piece {said} is turned off its grain."
    over = max(-piece.box[1], piece.box[3] - lay.strip)
    if over > OVER_EDGE:
        yield f"Piece {said} reaches {show_length(over, unit)} past the usable width."
    if piece.part.on_fold:
        fold = rotated(as_points(piece.part.fold_line(is_mirrored=piece.mirrored)), piece.turn)
        if float(np.abs(fold[:, 1] + piece.y).max()) > OVER_EDGE + abs(float(fold[0, 1] - fold[1, 1])):
            yield f"Piece {said} does not lie on the fold."


def _together(first: Laid, second: Laid, lay: Lay, unit: Unit) -> Iterator[str]:
    gap = lay.choices.gap
    if boxes_apart(first.box, second.box) > gap:
        return
    both = f"Pieces {first.part.said} and {second.part.said}"
    apart = clear_of(first, second)
    if apart < 0.0:
        yield f"{both} lie over each other."
    elif apart < gap - GAP_SLACK:
        yield f"{both} are {show_length(apart, unit)} apart, with {show_length(gap, unit)} wanted."


def clear_of(first: Laid, second: Laid) -> float:
    """The gap in mm between two pieces; -1 where they lie over each other."""
    if boxes_apart(first.box, second.box) <= 0.0 and shared_area(first.loop, second.loop) > OVERLAP:
        return -1.0
    return distance_between(_closed(first.loop), _closed(second.loop))


def boxes_apart(first: Box, second: Box) -> float:
    """A distance in mm that two pieces are at least apart: that of their boxes along one axis."""
    across = max(first[0] - second[2], second[0] - first[2])
    return max(across, first[1] - second[3], second[1] - first[3])


def _closed(loop: Points) -> Points:
    return as_points(np.vstack((loop, loop[:1])))

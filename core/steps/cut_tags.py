"""What to propose for a cut: which darts go into its seams, and a name, number and fabric for every panel."""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot, inf

from core.geometry.placement import gap
from core.geometry.planar import inner_point, inside
from core.geometry.polyline import Point, as_points, nearest
from core.geometry.tolerances import CORNER_CHORD, SAME_POINT
from core.pieces.dividing import SIDES, darts_crossed
from core.pieces.names import free_name
from core.pieces.outline import is_centre
from core.pieces.records import Dart, Garment, Line, Piece, Side
from core.steps.cut import Tag, divided_along


def proposed_darts(piece: Piece, lines: Sequence[str]) -> tuple[str, ...]:
    """The darts to take into the seams.

    Where a line ends at a pivot, the dart that runs on straightest from it; where one passes through a pivot, the dart
    below it, for the one above closes in the panel above. Refusal for a line that is not drawn.
    """
    chosen = {dart.name for name in lines for dart in _darts_for(piece, piece.line(name))}
    return tuple(dart.name for dart in piece.darts if dart.name in chosen)


def crossed(piece: Piece, lines: Sequence[str]) -> tuple[str, ...]:
    """The darts that lines cross, whose ends can be left as two panels."""
    names = {dart.name for line in lines for dart in darts_crossed(piece, piece.line(line))}
    return tuple(dart.name for dart in piece.darts if dart.name in names)


def _darts_for(piece: Piece, line: Line) -> list[Dart]:
    met = [dart for dart in piece.darts if any(nearest(s, dart.pivot)[1] <= 10 * SAME_POINT for s in line.stretches)]
    found = []
    for end, inward in ((line.path[0], line.path), (line.path[-1], line.path[::-1])):
        here = [dart for dart in met if gap(dart.pivot, end) <= 10 * SAME_POINT]
        along = (inward[0] - inward[min(5, len(inward) - 1)]).tolist()
        if here:
            found.append(max(here, key=lambda dart: _runs_on(dart, (along[0], along[1]))))
            met = [dart for dart in met if dart not in here]
    return found + [dart for dart in met if dart.mouth[1] < dart.pivot[1]]


def _runs_on(dart: Dart, along: Point) -> float:
    """How straight the dart runs on in a direction: 1 straight on, -1 straight back."""
    x, y = dart.mouth[0] - dart.pivot[0], dart.mouth[1] - dart.pivot[1]
    return (x * along[0] + y * along[1]) / max(hypot(x, y) * hypot(*along), SAME_POINT)


def proposed_tags(
    garment: Garment,
    piece: Piece,
    lines: tuple[str, ...],
    darts: tuple[str, ...] = (),
    *,
    apart: tuple[str, ...] = (),
    kept: tuple[Tag, ...] = (),
) -> tuple[Tag, ...]:
    """A tag for every panel that the cut would make, hung where the panel is widest, numbered from the centre out.

    A panel above a sheer line is cut from "sheer", any other from the piece's own fabric. Names and numbers are free in
    the garment. The tags in `kept` hang already: the first in a panel is that panel's, before all others.
    Refusal as for the cut itself.
    """
    sides, _ = divided_along(piece, lines, darts, apart)
    places = [inner_point(side.loop) for side in sides]
    above = _above(sides, places, [name for name in lines if piece.line(name).purpose == "sheer"])
    tops = [float(side.loop[:, 1].max()) for side in sides]
    wanted = _wanted_names(piece, sides, tops, above)
    innermost: dict[str, float] = {}
    for (_, base), (x, _) in zip(wanted, places, strict=True):
        innermost[base] = min(abs(x), innermost.get(base, inf))
    order = sorted(range(len(sides)), key=lambda i: (not above[i], innermost[wanted[i][1]], -tops[i]))
    hung = _hung(sides, kept)
    taken = {name for name in garment.pieces if name != piece.name} | {tag.name for tag in hung.values()}
    numbers = garment.free_numbers(*(tag.number for tag in hung.values()))
    tags = list(hung.values())
    for index in order:
        if index in hung:
            continue
        name = free_name(wanted[index][0], taken)
        taken.add(name)
        tags.append(Tag(*places[index], name, next(numbers), "sheer" if above[index] else piece.fabric))
    return tuple(tags)


def _hung(sides: Sequence[Piece], kept: Sequence[Tag]) -> dict[int, Tag]:
    """Which panel each tag hangs in, in the tags' order; a second one in a panel is left out."""
    found: dict[int, Tag] = {}
    for tag in kept:
        index = next((i for i, side in enumerate(sides) if inside(side.loop, as_points([(tag.x, tag.y)]))[0]), None)
        if index is not None:
            found.setdefault(index, tag)
    return found


def _above(sides: Sequence[Piece], places: Sequence[Point], sheer: Sequence[str]) -> list[bool]:
    """For every side of the cut, whether it lies above a sheer line that bounds it."""
    found = [False] * len(sides)
    for line in sheer:
        beside = {side: [i for i, part in enumerate(sides) if _is_beside(part, line, side)] for side in SIDES}
        heights = {side: [places[i][1] for i in beside[side]] for side in SIDES}
        upper = max(SIDES, key=lambda side: sum(heights[side]) / max(len(heights[side]), 1))
        for index in beside[upper]:
            found[index] = True
    return found


def _is_beside(part: Piece, line: str, side: Side) -> bool:
    return any((edge.origin.edge, edge.origin.side) == (line, side) for edge in part.edges)


def _wanted_names(
    piece: Piece, sides: Sequence[Piece], tops: Sequence[float], above: Sequence[bool]
) -> list[tuple[str, str]]:
    """A name for every side, and what it was before "upper" and "lower" told two of one name apart.

    `tops` (mm) are how high each side reaches.
    """
    names = [
        _wanted_name(piece, side, above=is_above, is_lone=above.count(is_above) == 1)
        for side, is_above in zip(sides, above, strict=True)
    ]
    found = []
    for name, top in zip(names, tops, strict=True):
        alike = [other for other, own in zip(tops, names, strict=True) if own == name]
        level = ("upper " if top == max(alike) else "lower ") if len(alike) == 2 else ""
        found.append((level + name, name))
    return found


def _wanted_name(piece: Piece, part: Piece, *, above: bool, is_lone: bool) -> str:
    """For example "front yoke" above a sheer line, "lower front" or "centre front" and "side front" elsewhere."""
    if is_lone:
        return f"{piece.block} yoke" if above else f"lower {piece.block}"
    at_centre = any(is_centre(edge) and edge.length > CORNER_CHORD for edge in part.edges)
    if above:
        return f"{piece.block} yoke" if at_centre else f"{piece.block} side yoke"
    return f"centre {piece.block}" if at_centre else f"side {piece.block}"

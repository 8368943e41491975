"""Dividing a piece along a drawn line, with the darts that the line crosses or ends at.

A line leads from the outline, or from a dart's pivot, to the outline or a pivot. Where it begins or ends at a pivot,
the legs of that dart go on as the seam. Where it crosses an open dart, the side that holds the pivot keeps a shorter
dart; the side that holds the base is left with the remnants of the legs, which are then closed.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import msgspec
from msgspec.structs import replace

from core.errors import Refusal
from core.geometry.placement import gap
from core.geometry.polyline import Point, as_point, as_points, backwards, joined, length, nearest
from core.geometry.tolerances import AT_PIVOT, ON_EDGE
from core.pieces.names import spoken
from core.pieces.outline import OnLoop, bridge, closed, end_name, is_centre, locate, merged, named, run
from core.pieces.parts import Border, Part, two_parts
from core.pieces.records import Dart, Edge, Line, Origin, Piece, Seam, Side, Span
from core.pieces.turning import turn, with_bases, with_opening

CUT_OFF = "_end"
"""Added to a dart's name for the seam along its legs where they were cut off and left as two panels."""

SIDES: Final[tuple[Side, Side]] = ("left", "right")

REMNANT = ".remnant"
"""Added to a dart's name for the gap that it leaves in the cut edge of the side without its pivot."""


class End(msgspec.Struct, frozen=True):
    """Where a cut meets the rest of the piece: a place on the outline, or the pivot of a dart whose legs join in."""

    place: OnLoop | None
    dart: Dart | None


class Divided(msgspec.Struct, frozen=True, eq=False):
    """The two sides of a cut, left and right of the line's direction, and the seam that sews them again."""

    left: Piece
    right: Piece
    seam: Seam
    legs: tuple[Dart, ...]


def divide(piece: Piece, line: Line, darts: Sequence[str]) -> Divided:
    """Cut a piece along a line; `darts` names the darts that go into the seam where the line ends at their pivot.

    Refusal when an end lies on nothing, when two open darts have their pivot at an end and none is named, or when the
    line passes a dart's pivot within 3 mm without going through it.
    """
    _refuse_near_miss(piece, line)
    first = _end(piece, line, as_point(line.stretches[0][0]), darts)
    last = _end(piece, line, as_point(line.stretches[-1][-1]), darts)
    return _divided(piece, line, first, last)


def divide_along_dart(piece: Piece, dart: Dart) -> Divided:
    """Cut a piece along the legs of a dart whose pivot lies on its outline."""
    on, off = locate(piece.edges, dart.pivot)
    if off > ON_EDGE:
        raise Refusal(
            f"The pivot of the {spoken(dart.name)} lies inside piece {piece.name}, so its legs alone cut nothing "
            f"off; draw a line from an edge to it.",
            piece=piece.name,
        )
    line = Line(dart.name, "panel", ())
    return _divided(piece, line, End(on, None), End(None, dart))


def divide_remnant(piece: Piece, dart: Dart) -> Divided:
    """Cut a piece whose end of a dart was cut off along what is left of the legs, instead of closing it.

    Each side keeps its own leg from the cut edge out to the base; the seam between them is equal by the legs.
    """
    names = [edge.origin.edge for edge in piece.edges]
    base, gap_at = names.index(dart.name), names.index(dart.name + REMNANT)
    turned = (*piece.edges[base:], *piece.edges[:base])
    apart = (gap_at - base) % len(turned)
    own = (turned[1:apart], turned[apart + 1 :])
    seam_name = dart.name + CUT_OFF
    legs = [_rest_of_leg(dart, border, side) for border, side in zip(own, SIDES, strict=True)]
    parts = two_parts(piece, *(Border(border, leg.points) for border, leg in zip(own, legs, strict=True)))
    left, right = (_half(piece, part, leg) for part, leg in zip(parts, legs, strict=True))
    ends = (end_name(turned[apart - 1].origin.edge), end_name(turned[1].origin.edge))
    seam = Seam(seam_name, (Span(seam_name, "left"),), (Span(seam_name, "right"),), ends)
    return Divided(left, right, seam, ())


def _half(piece: Piece, part: Part, leg: Edge) -> Piece:
    edges = named(closed((*part.edges, leg)))
    darts = with_bases(part.darts, edges)
    return replace(piece, edges=edges, darts=darts, lines=part.lines, landmarks=part.landmarks)


def _rest_of_leg(dart: Dart, own: Sequence[Edge], side: Side) -> Edge:
    """What is left of a side's leg, in the side's loop order: to the left of the way out, it runs out."""
    points = as_points((own[-1].points[-1], own[0].points[0]))
    places = (0.0, length(points)) if side == "left" else (length(points), 0.0)
    return Edge("", "seam", points, Origin(dart.name + CUT_OFF, *places, side))


def _refuse_near_miss(piece: Piece, line: Line) -> None:
    for dart in piece.darts:
        near = min(nearest(stretch, dart.pivot)[1] for stretch in line.stretches)
        if 1e-6 < near <= AT_PIVOT:
            raise Refusal(
                f"The {line.said} passes {near:.1f} mm from the pivot of the {spoken(dart.name)} on piece "
                f"{piece.name}, too near to leave a dart that could be sewn; move a point of the line onto the pivot.",
                piece=piece.name,
            )


def _end(piece: Piece, line: Line, point: Point, wanted: Sequence[str]) -> End:
    on, off = locate(piece.edges, point)
    at_pivot = [dart for dart in piece.darts if gap(dart.pivot, point) <= 1e-6]
    named_here = [dart for dart in at_pivot if dart.name in wanted]
    if off <= 1e-3 and not named_here:
        return End(on, None)
    chosen = named_here if len(at_pivot) > 1 else at_pivot
    if len(chosen) == 1:
        return End(None, chosen[0])
    if at_pivot:
        both = " and the ".join(spoken(dart.name) for dart in at_pivot)
        raise Refusal(
            f"The {both} of piece {piece.name} both end where the {line.said} does; name the one that goes into "
            f"the seam, and pivot the other into it first.",
            piece=piece.name,
        )
    raise Refusal(
        f"The {line.said} ends {off:.1f} mm inside piece {piece.name}; draw it on to an edge or a dart's pivot.",
        piece=piece.name,
    )


def _divided(piece: Piece, line: Line, first: End, last: End) -> Divided:
    edges = [edge.name for edge in piece.edges]

    def leaving(end: End, leg: int) -> OnLoop:
        """Where a side's own edges begin (leg 1) or stop (leg 0) at an end of the cut."""
        if end.place is not None:
            return end.place
        assert end.dart is not None
        base = edges.index(end.dart.base)
        if leg:
            return OnLoop((base + 1) % len(edges), 0.0)
        return OnLoop((base - 1) % len(edges), piece.edges[base - 1].length)

    gaps = darts_crossed(piece, line)
    ends = (first, last)
    left = _cut_border(line, gaps, run(piece.edges, leaving(last, 1), leaving(first, 0)), ends=ends, side="left")
    right = _cut_border(line, gaps, run(piece.edges, leaving(first, 1), leaving(last, 0)), ends=ends, side="right")
    others = replace(piece, lines=tuple(other for other in piece.lines if other.name != line.name))
    parts = two_parts(others, left.border, right.border)
    sides = [_side(piece, gaps, part, border.cut) for part, border in zip(parts, (left, right), strict=True)]
    legs = tuple(end.dart for end in (first, last) if end.dart is not None)
    return Divided(sides[0], sides[1], _seam(piece, line, first, last), legs)


class _CutBorder(msgspec.Struct, frozen=True, eq=False):
    border: Border
    cut: tuple[Edge, ...]


def _cut_border(
    line: Line, gaps: Sequence[Dart], own: Sequence[Edge], *, ends: tuple[End, End], side: Side
) -> _CutBorder:
    """One side's own edges and its new ones along the cut, in loop order; crossed darts leave gaps among these."""
    holds = {edge.origin.edge for edge in own if edge.kind == "dart base"}
    along = _line_edges(line, gaps, holds, side)
    cut = [*_leg_edges(ends[0], side, inward=True), *along, *_leg_edges(ends[1], side)]
    if side == "right":
        cut = [_reversed(edge) for edge in reversed(cut)]
    return _CutBorder(Border(own, joined([edge.points for edge in cut])), tuple(cut))


def _side(piece: Piece, gaps: Sequence[Dart], part: Part, cut: Sequence[Edge]) -> Piece:
    """One side of the cut as a piece; gaps of crossed darts stand as dart bases or remnants in its cut edge."""
    loop = named(closed(merged((*part.edges, *cut))))
    kept = _kept_darts(piece, part, gaps, loop)
    return replace(piece, edges=loop, darts=kept, lines=part.lines, landmarks=part.landmarks)


def darts_crossed(piece: Piece, line: Line) -> list[Dart]:
    """The dart crossed between each two stretches of the line; Refusal where no dart lies between."""
    found = []
    for before, after in zip(line.stretches, line.stretches[1:], strict=False):
        here, there = as_point(before[-1]), as_point(after[0])
        off = {dart.name: _off_legs(dart, here) + _off_legs(dart, there) for dart in piece.darts}
        nearest_dart = min(piece.darts, key=lambda dart: off[dart.name], default=None)
        if nearest_dart is None or off[nearest_dart.name] > ON_EDGE:
            raise Refusal(
                f"The {line.said} is broken on piece {piece.name} where no open dart lies; draw it again.",
                piece=piece.name,
            )
        found.append(nearest_dart)
    return found


def _off_legs(dart: Dart, place: Point) -> float:
    return min(nearest(as_points((dart.pivot, leg)), place)[1] for leg in dart.legs)


def _line_edges(line: Line, gaps: Sequence[Dart], holds: set[str], side: Side) -> list[Edge]:
    found: list[Edge] = []
    for index, (start, stretch) in enumerate(zip(line.starts, line.stretches, strict=True)):
        if index:
            name = gaps[index - 1].name
            name = name + REMNANT if name in holds else name
            found.append(bridge(name, as_point(found[-1].points[-1]), as_point(stretch[0])))
        found.append(Edge("", "seam", stretch, Origin(line.name, start, start + length(stretch), side)))
    return found


def _leg_edges(end: End, side: Side, *, inward: bool = False) -> list[Edge]:
    """The dart's leg on this side of the cut, from its end to the pivot (inward) or from the pivot out."""
    if end.dart is None:
        return []
    dart = end.dart
    # The left side's own edges stop at the first leg of the dart where the line begins, and begin at the second leg
    # of the dart where it ends; the right side the other way round.
    leg = dart.legs[0 if (side == "left") == inward else 1]
    points = as_points((dart.pivot, leg))
    outward = Edge("", "seam", points, Origin(dart.name, 0.0, dart.leg_length, side))
    return [_reversed(outward)] if inward else [outward]


def _reversed(edge: Edge) -> Edge:
    held = edge.origin
    origin = held if edge.kind == "dart base" else Origin(held.edge, held.stop, held.start, held.side)
    return Edge(edge.name, edge.kind, backwards(edge.points), origin)


def _kept_darts(piece: Piece, part: Part, gaps: Sequence[Dart], loop: Sequence[Edge]) -> tuple[Dart, ...]:
    """The part's own darts, and shorter ones where the line crossed a dart whose pivot lies on this side."""
    bases = {edge.origin.edge: edge for edge in loop if edge.kind == "dart base"}
    own = [replace(dart, base=bases[dart.name].name) for dart in part.darts if dart.name in bases]
    held = {dart.name for dart in part.darts}
    for dart in gaps:
        if dart.name not in held:
            base = bases[dart.name]
            legs = (as_point(base.points[0]), as_point(base.points[-1]))
            own.append(replace(dart, legs=legs, base=base.name))
    order = [dart.name for dart in piece.darts]
    return tuple(sorted(own, key=lambda dart: order.index(dart.name)))


def _seam(piece: Piece, line: Line, first: End, last: End) -> Seam:
    def chain(side: Side) -> tuple[Span, ...]:
        into = [Span(first.dart.name, side, backwards=True)] if first.dart else []
        along = [Span(line.name, side)] if line.stretches else []
        out = [Span(last.dart.name, side)] if last.dart else []
        return (*into, *along, *out)

    return Seam(line.name, chain("left"), chain("right"), (_beside(piece, first), _beside(piece, last)))


def _beside(piece: Piece, end: End) -> str:
    """The local name of what a seam's end lies on, for words such as "at the waist"."""
    if end.place is not None:
        edge = piece.edges[end.place.index]
    else:
        assert end.dart is not None
        edge = piece.neighbours(end.dart.base)[0]
    return end_name(edge.origin.edge)


def shut(piece: Piece, keep: Sequence[str] = ()) -> Piece:
    """The piece with the remnants of crossed darts closed, and darts whose pivot lies on its outline closed too.

    Darts named in `keep` stay open where they can: a remnant without its pivot cannot.
    """
    for name in [edge.origin.edge for edge in piece.edges if edge.origin.edge.endswith(REMNANT)]:
        dart = piece.dart(name.removesuffix(REMNANT))
        into = next(edge.name for edge in piece.edges if edge.origin.edge == name)
        piece = turn(piece, dart, into, by_pivot=False).piece
    for name in [dart.name for dart in piece.darts if dart.name not in keep]:
        piece = _shut_at_outline(piece, piece.dart(name))
    return piece


def _shut_at_outline(piece: Piece, dart: Dart) -> Piece:
    on, off = locate(piece.edges, dart.pivot)
    if off > 1e-3 or is_centre(piece.edges[on.index]):
        return piece
    opened = with_opening(piece, on, dart.name + REMNANT)
    into = next(edge.name for edge in opened.edges if edge.origin.edge == dart.name + REMNANT)
    return turn(opened, opened.dart(dart.name), into, by_pivot=False).piece

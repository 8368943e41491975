"""What the edges of a piece say of themselves: which piece is sewn there, what an open edge is called."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import cos, pi, remainder, sin, tau
from typing import Final

from core.finishing.finish import Finished
from core.finishing.notches import Mate
from core.geometry.planar import distance_between
from core.geometry.polyline import Point, as_points, between, point_at, tangent_at
from core.outputs.drawing import GLYPH_WIDTH, Item, Role, Stroke, Text
from core.pieces.names import spoken
from core.pieces.records import Edge

EDGE_NAME: Final = 2.8
MATE_NUMBER: Final = 4.0
ARROW: Final = 9.0
"""Sizes in mm on paper of an edge's name, of the mate's number, and of the arrow between it and the edge."""

SHORT_EDGE: Final = 24.0
"""An edge shorter than this (mm on paper) has room for neither arrow nor name."""

PLACES: Final = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8)
"""Where an arrow or a name is tried along its edge, as shares of it."""

SMALL_ARROWS: Final = (1.0, 0.65, 0.45)
"""Sizes of arrow that are tried, as shares of the usual one."""


def edge_words(finished: Finished, size: float) -> Iterator[Item]:
    """A text or an arrow for every edge that has room for one; `size` is that of a mm on paper in the piece's mm."""
    for edge in finished.piece.edges:
        if edge.length < SHORT_EDGE * size or edge.kind == "dart base":
            continue
        name = spoken(edge.origin.edge)
        if edge.kind == "fold":
            yield from _inside_text(finished, edge, EDGE_NAME * size, (f"{name}: place on the fold", "fold"))
        elif edge.name in finished.mates:
            met = finished.mates[edge.name]
            roomy = [mate for mate in met if mate.stop - mate.start >= SHORT_EDGE * size]
            for mate in roomy or [max(met, key=lambda mate: mate.stop - mate.start)]:
                yield from _join_arrow(finished, edge, mate, size)
        else:
            use = finished.edges[edge.name].use
            texts = (name,) if use == "plain" else (f"{name}: {use}", name)
            yield from _inside_text(finished, edge, EDGE_NAME * size, texts)


def _join_arrow(finished: Finished, edge: Edge, mate: Mate, size: float) -> Iterator[Item]:
    """An arrow from inside square onto an edge, with the number of the piece that is sewn there.

    It stands near the middle of what the two share.
    """
    place, way, size = _clear_of_grain(finished, edge, mate, size)
    tip, tail = _behind(place, way, 2.0 * size), _behind(place, way, (2.0 + ARROW) * size)
    yield Stroke(as_points((tail, tip)), "join arrow")
    yield arrow_head(tip, way, 3.0 * size, "join arrow")
    number = _behind(place, way, (3.0 + ARROW + 0.6 * MATE_NUMBER) * size)
    at = (number[0], number[1] - 0.36 * MATE_NUMBER * size)
    yield Text(at, MATE_NUMBER * size, str(mate.number), "join arrow")


def _clear_of_grain(finished: Finished, edge: Edge, mate: Mate, size: float) -> tuple[Point, float, float]:
    """Place, outward direction and size of the arrow nearest to a stretch's middle that is clear of the grain line.

    A smaller arrow where a full one would nowhere be clear.
    """
    grain = as_points(finished.grain)
    for smaller in (share * size for share in SMALL_ARROWS):
        for share in PLACES:
            along = mate.start + share * (mate.stop - mate.start)
            place, way = point_at(edge.points, along), tangent_at(edge.points, along) - pi / 2
            reach = as_points((place, _behind(place, way, (ARROW + 2.0 * MATE_NUMBER) * smaller)))
            if distance_between(reach, grain) >= 0.75 * MATE_NUMBER * smaller:
                return place, way, smaller
    middle = (mate.start + mate.stop) / 2
    return point_at(edge.points, middle), tangent_at(edge.points, middle) - pi / 2, SMALL_ARROWS[-1] * size


def _behind(place: Point, way: float, distance: float) -> Point:
    return (place[0] - distance * cos(way), place[1] - distance * sin(way))


def _inside_text(finished: Finished, edge: Edge, height: float, texts: Sequence[str]) -> Iterator[Text]:
    """The first text that is shorter than an edge, along the inside of it near its middle, clear of grain and marks.

    It reads from the left or upwards. Nothing where no text is short enough.
    """
    text = next((text for text in texts if GLYPH_WIDTH * height * len(text) < 0.8 * edge.length), "")
    if not text:
        return
    half = 0.55 * GLYPH_WIDTH * height * len(text)
    tried = [_text_at(edge, share * edge.length, height, text) for share in PLACES if _fits(edge, share, half)]
    marks = [stretch for line in finished.piece.lines if line.purpose == "mark" for stretch in line.stretches]
    lines = [as_points(finished.grain), *marks]
    clear = (found for found in tried if all(distance_between(found.box, line) >= 0.5 * height for line in lines))
    yield next(clear, tried[0])


def _fits(edge: Edge, share: float, half: float) -> bool:
    """Whether a text that reaches `half` mm to both sides of a place on an edge stays on it; the middle always does."""
    return share == PLACES[0] or half <= min(share, 1.0 - share) * edge.length


def _text_at(edge: Edge, along: float, height: float, text: str) -> Text:
    """A text on the inside of a place on an edge, clear of the edge where it bends."""
    place, way = point_at(edge.points, along), tangent_at(edge.points, along)
    upside_down = not -pi / 2 < remainder(way, tau) <= pi / 2 + 1e-9
    angle = way + pi if upside_down else way
    half = 0.55 * GLYPH_WIDTH * height * len(text)
    beside = between(edge.points, max(along - half, 0.0), min(along + half, edge.length))
    bend = float(((beside - place) @ (-sin(way), cos(way))).max())
    # The inside lies left of the way: above the text's line, or below it where the text runs against the way.
    gap = -(1.35 * height + bend) if upside_down else 0.6 * height + bend
    at = (place[0] - gap * sin(angle), place[1] + gap * cos(angle))
    return Text(at, height, text, "edge name", remainder(angle, tau))


def arrow_head(tip: Point, way: float, size: float, role: Role) -> Stroke:
    """An open arrow head with its tip at a place, pointing along a direction (radians)."""
    sides = [(tip[0] - size * cos(way + turn), tip[1] - size * sin(way + turn)) for turn in (0.35, -0.35)]
    return Stroke(as_points((sides[0], tip, sides[1])), role)

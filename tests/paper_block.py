"""A front and back of straight lines with round numbers, so that what a step does can be worked out by hand.

Invented: no body. The front's bust point is (90, 180); its darts open 15 degrees at the shoulder, 12 at the waist.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import cos, radians, sin

import numpy as np

from core.geometry.polyline import Point, Points, as_points, length
from core.pieces.outline import bridge, named
from core.pieces.records import Dart, Edge, EdgeKind, Garment, Line, Origin, OriginEdge, Piece, Seam, Span

BUST_POINT = (90.0, 180.0)
BLADE = (-90.0, 240.0)
SHOULDER_ANGLE, WAIST_ANGLE = radians(15.0), radians(12.0)


def legs(pivot: Point, towards: Point, angle: float, turn: int) -> tuple[Point, Point]:
    """Two leg ends, the first at `towards`, the second turned by the angle (turn +1 counter-clockwise)."""
    dx, dy = towards[0] - pivot[0], towards[1] - pivot[1]
    c, s = cos(angle), turn * sin(angle)
    return towards, (pivot[0] + c * dx - s * dy, pivot[1] + s * dx + c * dy)


def edge(name: str, kind: EdgeKind, start: float, *points: Point) -> Edge:
    """An edge whose origin begins `start` mm along the original."""
    row = as_points(points)
    return Edge(name, kind, row, Origin(name, start, start + length(row)))


def front() -> Piece:
    """The front, its edges straight."""
    waist_b, waist_a = legs(BUST_POINT, (114.0, 0.0), WAIST_ANGLE, -1)
    shoulder_a, shoulder_b = legs(BUST_POINT, (150.0, 395.0), SHOULDER_ANGLE, 1)
    first = edge("front.waist", "seam", 0.0, (0.0, 0.0), waist_a)
    outer = edge("front.shoulder", "seam", 0.0, (190.0, 380.0), shoulder_a)
    edges = named(
        (
            edge("front.centre_front", "fold", 0.0, (0.0, 330.0), (0.0, 0.0)),
            first,
            bridge("front.waist_dart", waist_a, waist_b),
            edge("front.waist", "seam", first.length, waist_b, (220.0, 0.0)),
            edge("front.side", "seam", 0.0, (220.0, 0.0), (230.0, 210.0)),
            edge("front.armhole", "opening", 0.0, (230.0, 210.0), (180.0, 260.0), (190.0, 380.0)),
            outer,
            bridge("front.shoulder_dart", shoulder_a, shoulder_b),
            edge("front.shoulder", "seam", outer.length, shoulder_b, (65.0, 410.0)),
            edge("front.neck", "opening", 0.0, (65.0, 410.0), (50.0, 350.0), (0.0, 330.0)),
        )
    )
    darts = (
        Dart("front.waist_dart", BUST_POINT, (waist_a, waist_b), "waist_dart", BUST_POINT),
        Dart("front.shoulder_dart", BUST_POINT, (shoulder_a, shoulder_b), "shoulder_dart", BUST_POINT),
    )
    marks = {
        "bust_point": BUST_POINT,
        "side_neck": (65.0, 410.0),
        "neck_pit": (0.0, 330.0),
        "underarm": (230.0, 210.0),
        "shoulder_point": (190.0, 380.0),
        "waist_centre": (0.0, 0.0),
        "waist_side": (220.0, 0.0),
    }
    return Piece("front", "front", edges, darts, (_circle(waist_a, waist_b, shoulder_a, shoulder_b),), marks)


def _circle(waist_a: Point, waist_b: Point, shoulder_a: Point, shoulder_b: Point) -> Line:
    """A bust circle of 70 mm round the bust point, interrupted at both darts."""
    return Line("front.bust_circle", "level", (_arc(waist_b, shoulder_a), _arc(shoulder_b, waist_a)))


def _arc(start: Point, stop: Point) -> Points:
    a, b = (np.arctan2(p[1] - BUST_POINT[1], p[0] - BUST_POINT[0]) for p in (start, stop))
    angles = np.linspace(a, b if b > a else b + 2 * np.pi, 120)
    return as_points(np.column_stack((BUST_POINT[0] + 70 * np.cos(angles), BUST_POINT[1] + 70 * np.sin(angles))))


def back() -> Piece:
    """The back, without darts."""
    edges = named(
        (
            edge("back.centre_back", "seam", 0.0, (0.0, 0.0), (0.0, 400.0)),
            edge("back.neck", "opening", 0.0, (0.0, 400.0), (-50.0, 405.0), (-65.0, 420.0)),
            edge("back.shoulder", "seam", 0.0, (-65.0, 420.0), (-175.0, 395.0)),
            edge("back.armhole", "opening", 0.0, (-175.0, 395.0), (-165.0, 280.0), (-230.0, 210.0)),
            edge("back.side", "seam", 0.0, (-230.0, 210.0), (-220.0, 0.0)),
            edge("back.waist", "seam", 0.0, (-220.0, 0.0), (0.0, 0.0)),
        )
    )
    marks = {"nape": (0.0, 400.0), "side_neck": (-65.0, 420.0), "underarm": (-230.0, 210.0)}
    return Piece("back", "back", edges, (), (), marks)


def origins(*pieces: Piece) -> Mapping[str, OriginEdge]:
    """Every original edge, its length with darts closed, and the local names of its neighbours."""
    found: dict[str, OriginEdge] = {}
    for piece in pieces:
        real = [e for e in piece.edges if e.kind != "dart base"]
        for name in dict.fromkeys(e.origin.edge for e in real):
            held = [i for i, e in enumerate(real) if e.origin.edge == name]
            ends = (real[held[0] - 1], real[(held[-1] + 1) % len(real)])
            size = sum(real[i].length for i in held)
            found[name] = OriginEdge(name, size, (_local(ends[0]), _local(ends[1])))
    return found


def _local(item: Edge) -> str:
    return item.origin.edge.rsplit(".", 1)[-1]


def garment() -> Garment:
    """Front and back with their shoulder and side seams."""
    pieces = (front(), back())
    seams = (
        Seam("shoulder", (Span("back.shoulder", backwards=True),), (Span("front.shoulder"),), ("armhole", "neck")),
        Seam("side", (Span("front.side"),), (Span("back.side", backwards=True),), ("waist", "armhole")),
    )
    by_name = {piece.name: piece for piece in pieces}
    open_edges = dict.fromkeys(("front.waist", "back.waist"), "sewn to the skirt")
    open_edges["back.centre_back"] = "closed by the zip"
    return Garment(by_name, {seam.name: seam for seam in seams}, origins(*pieces), open_edges, by_name)

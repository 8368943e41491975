"""The sheet on which her own block is typed: row after row round the outline, as one measures a block laid on a table.

Every place is given as she reads it with a set square: its distance from the centre line and its height over the waist
line, both positive on front and back. An edge with rows between its corners is a fair curve, one without is straight.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import count
from math import asin, cos, sin
from typing import Final, Literal, TypeAlias

import msgspec
import numpy as np
from msgspec.structs import replace

from core.blocks.curves import along, direction_of
from core.blocks.own_block import LEVELS, ORDER, OwnBlock, OwnDart, OwnEdge, OwnPiece, Pair
from core.errors import Refusal
from core.geometry.placement import gap
from core.geometry.polyline import Point, point_at
from core.pieces.names import spoken
from core.pieces.records import Edge, Garment, Piece

Role: TypeAlias = Literal[
    "corner", "between", "leg", "pivot", "intake", "set back", "level", "bust point", "bust circle"
]
TAKES: Final[dict[Role, str]] = {
    **dict.fromkeys(("corner", "between", "leg", "pivot", "bust point"), "xy"),
    **dict.fromkeys(("intake", "set back", "bust circle"), "x"),
    "level": "y",
}
"""Which of its two numbers a row has: x is from the centre (or a length), y is over the waist line."""

CORNERS: Final = {
    "front": (
        *("pit of the neck", "waist at the centre front", "waist at the side", "underarm"),
        *("shoulder point", "side neck point"),
    ),
    "back": (
        *("waist at the centre back", "nape", "side neck point", "shoulder point"),
        *("underarm", "waist at the side"),
    ),
}
"""Where the edges of `ORDER` begin."""

BETWEEN: Final = {"neck": 2, "armhole": 3}
"""Rows that a new sheet has for the edges that are never straight."""
DARTED: Final = ("waist", "shoulder")
FEW: Final = 4
MORE: Final = 9
"""Points that are read off a drafted curve; of neck and armhole, which turn farther, more."""
LEVELLED: Final = 3.0
"""Legs read off paper may differ by so much (1/8 in) and are both given their mean: common practice, no source."""
ON_CENTRE: Final = 0.5


class Row(msgspec.Struct, frozen=True):
    """A line of the sheet; `edge` is the one that begins there or holds it, None a number not yet typed (mm)."""

    role: Role
    words: str
    edge: str = ""
    dart: str = ""
    x: float | None = None
    y: float | None = None

    @property
    def is_blank(self) -> bool:
        """Whether none of its numbers is typed."""
        return all(getattr(self, part) is None for part in TAKES[self.role])


Sheet: TypeAlias = tuple[Row, ...]

# --------------------------------------------------------------------------------------------------------------
# laying out a sheet


def blank_sheet(piece: str) -> Sheet:
    """The sheet of a piece with a waist dart and a shoulder dart, nothing typed."""
    rows: list[Row] = []
    for corner, edge in zip(CORNERS[piece], ORDER[piece], strict=True):
        rows.append(Row("corner", corner, edge))
        if edge in DARTED:
            rows += _leg_rows(f"{edge}_dart", edge)
        rows += [Row("between", f"on the {spoken(edge)}", edge)] * BETWEEN.get(edge, 0)
    for edge in DARTED:
        rows += _dart_rows(f"{edge}_dart")
    return (*rows, *_level_rows((None, None, None)), *(_bust_rows(None, None) if piece == "front" else ()))


def sheet_of(piece: str, block: OwnBlock) -> Sheet:
    """The sheet on which the front or the back of a block stands."""
    typed: OwnPiece = getattr(block, piece)
    rows: list[Row] = []
    corners = dict(zip(ORDER[piece], CORNERS[piece], strict=True))
    last = ""
    for edge in typed.edges:
        on = Row("between", f"on the {spoken(edge.name)}", edge.name)
        if edge.name != last:
            rows.append(_at(Row("corner", corners[edge.name], edge.name), edge.points[0]))
        else:
            dart = _dart_from(typed, edge.points[0])
            legs = _leg_rows(dart.name, edge.name)
            rows += [_at(leg, place) for leg, place in zip(legs, dart.legs, strict=True)]
        rows += [_at(on, place) for place in edge.points[1:-1]]
        last = edge.name
    for dart in typed.darts:
        pivot, intake, short = _dart_rows(dart.name)
        rows += [_at(pivot, dart.pivot), intake, replace(short, x=dart.set_back)]
    bust = _bust_rows(block.bust_point, block.bust_radius) if piece == "front" else ()
    return (*rows, *_level_rows(typed.levels), *bust)


def _dart_from(typed: OwnPiece, begin: Pair) -> OwnDart:
    """The dart from whose second leg an edge goes on."""
    return min(typed.darts, key=lambda dart: gap(dart.legs[1], begin))


def _at(row: Row, place: Pair) -> Row:
    return replace(row, x=abs(place[0]), y=place[1])


def _leg_rows(dart: str, edge: str) -> list[Row]:
    words = spoken(dart)
    return [
        Row("leg", f"{words}: first leg ends", edge, dart),
        Row("leg", f"{words}: second leg ends", edge, dart),
    ]


def _dart_rows(dart: str) -> list[Row]:
    words = spoken(dart)
    return [
        Row("pivot", f"{words}: legs meet", dart=dart),
        Row("intake", f"{words}: width at base", dart=dart),
        Row("set back", f"{words}: sewn short by", dart=dart, x=0.0),
    ]


def _level_rows(levels: tuple[float | None, float | None, float | None]) -> list[Row]:
    return [Row("level", spoken(line), y=height) for line, height in zip(LEVELS, levels, strict=True)]


def _bust_rows(point: Pair | None, radius: float | None) -> list[Row]:
    x, y = point or (None, None)
    return [Row("bust point", "bust point", x=x, y=y), Row("bust circle", "bust circle: radius", x=radius or 76.0)]


# --------------------------------------------------------------------------------------------------------------
# altering it


def with_point(sheet: Sheet, index: int) -> Sheet:
    """A row more on the edge of a row, under it; the same sheet for a row that lies on no edge."""
    edge = sheet[index].edge
    if not edge or _is_first_leg(sheet, index):
        return sheet
    return (*sheet[: index + 1], Row("between", f"on the {spoken(edge)}", edge), *sheet[index + 1 :])


def _is_first_leg(sheet: Sheet, index: int) -> bool:
    row = sheet[index]
    return row.role == "leg" and next(other for other in sheet if other.role == "leg" and other.dart == row.dart) is row


def with_dart(sheet: Sheet, edge: str) -> Sheet:
    """A dart more on an edge, at its far end."""
    used = {row.dart for row in sheet}
    names = (f"{edge}_dart" if number == 1 else f"{edge}_dart_{number}" for number in count(1))
    dart = next(name for name in names if name not in used)
    last = max(index for index, row in enumerate(sheet) if row.edge == edge)
    under = next(index for index, row in enumerate(sheet) if row.role == "level")
    rows = [*sheet[: last + 1], *_leg_rows(dart, edge), *sheet[last + 1 : under], *_dart_rows(dart), *sheet[under:]]
    return tuple(rows)


def without_row(sheet: Sheet, index: int) -> Sheet:
    """The sheet without a point between corners, or without the whole dart of a row. Refusal for what must stay."""
    row = sheet[index]
    if row.dart:
        return tuple(other for other in sheet if other.dart != row.dart)
    if row.role != "between":
        raise Refusal(f"The {row.words} belongs to every block; type it over instead of taking it away.")
    return (*sheet[:index], *sheet[index + 1 :])


def with_number(sheet: Sheet, index: int, *, part: Literal["x", "y"], number: float | None) -> Sheet:
    """The sheet with one number typed, or taken away."""
    row = replace(sheet[index], x=number) if part == "x" else replace(sheet[index], y=number)
    return (*sheet[:index], row, *sheet[index + 1 :])


# --------------------------------------------------------------------------------------------------------------
# the block that stands on it


def own_block(front: Sheet, back: Sheet) -> OwnBlock:
    """The block of two sheets. Refusal, naming piece and row, for a number that is not typed."""
    _refuse_first_missing("front", front)
    _refuse_first_missing("back", back)
    bust = next(row for row in front if row.role == "bust point")
    circle = next(row for row in front if row.role == "bust circle")
    return OwnBlock(
        _own_piece("front", front),
        _own_piece("back", back),
        (_number("front", bust, "x"), _number("front", bust, "y")),
        _number("front", circle, "x"),
    )


def _refuse_first_missing(piece: str, sheet: Sheet) -> None:
    """Refuse the first row, from the top, that lacks a number it cannot do without."""
    for index, row in enumerate(sheet):
        if row.role in ("intake", "set back") or (row.role == "between" and row.is_blank):
            continue
        if row.role == "leg" and not _is_first_leg(sheet, index) and row.is_blank and _width(sheet, row.dart):
            continue
        for part in TAKES[row.role]:
            _number(piece, row, "x" if part == "x" else "y")


def _width(sheet: Sheet, dart: str) -> float | None:
    return next(row.x for row in sheet if row.dart == dart and row.role == "intake")


def _own_piece(piece: str, sheet: Sheet) -> OwnPiece:
    darts = {row.dart: _own_dart(piece, sheet, row.dart) for row in sheet if row.role == "pivot"}
    levels = [_number(piece, row, "y") for row in sheet if row.role == "level"]
    return OwnPiece(tuple(_edges(piece, sheet, darts)), tuple(darts.values()), (levels[0], levels[1], levels[2]))


def _edges(piece: str, sheet: Sheet, darts: dict[str, OwnDart]) -> Iterator[OwnEdge]:
    """The edges in loop order, parted at the darts."""
    rows = [row for row in sheet if row.edge and not (row.role == "between" and row.is_blank)]
    first = _place(piece, rows[0])
    edge, points = rows[0].edge, [first]
    seen: set[str] = set()
    for row in rows[1:]:
        place = darts[row.dart].legs[row.dart in seen] if row.role == "leg" else _place(piece, row)
        if row.role == "leg" and row.dart in seen:
            points = [place]
            continue
        points.append(place)
        if row.role != "between":
            yield OwnEdge(edge, tuple(points))
            edge, points = row.edge, [place]
        if row.role == "leg":
            seen.add(row.dart)
    yield OwnEdge(edge, (*points, first))


def _own_dart(piece: str, sheet: Sheet, dart: str) -> OwnDart:
    """The dart with legs of one length: the second from the width where it is not typed."""
    pivot_row, width, short = (row for row in sheet if row.dart == dart and row.role != "leg")
    first_row, second_row = (row for row in sheet if row.dart == dart and row.role == "leg")
    pivot, first = _place(piece, pivot_row), _place(piece, first_row)
    if second_row.is_blank and width.x is not None:
        second = _turned(piece, pivot, first, row=width)
    else:
        second = _place(piece, second_row)
    one, other = gap(pivot, first), gap(pivot, second)
    if abs(one - other) > LEVELLED:
        raise Refusal(
            f"The legs of the {spoken(dart)} of the {piece} are {one:.1f} mm and {other:.1f} mm long; measure where "
            "they end and where they meet again, or leave the second leg empty and type the width at the base.",
            piece=piece,
        )
    mean = (one + other) / 2
    legs = tuple(along(pivot, direction_of(pivot, leg), mean) for leg in (first, second))
    return OwnDart(dart, pivot, (legs[0], legs[1]), short.x or 0.0)


def _turned(piece: str, pivot: Point, leg: Point, *, row: Row) -> Point:
    """The second leg's end: the first turned about the pivot until both stand the width apart (chord of a circle)."""
    width, reach = row.x or 0.0, gap(pivot, leg)
    if not 0.0 < width < reach:
        raise Refusal(
            f"{piece.capitalize()}, {row.words}: this must be more than nothing and less than the leg is long."
        )
    turn = 2.0 * asin(width / (2.0 * reach))
    dx, dy = leg[0] - pivot[0], leg[1] - pivot[1]
    return (pivot[0] + cos(turn) * dx - sin(turn) * dy, pivot[1] + sin(turn) * dx + cos(turn) * dy)


def _place(piece: str, row: Row) -> Point:
    """Where a row lies in the frame of the design; what is within 0.5 mm of the centre line lies on it."""
    x, y = _number(piece, row, "x"), _number(piece, row, "y")
    if abs(x) <= ON_CENTRE and piece == "front":
        x = 0.0
    return (x if piece == "front" else 0.0 - x, y)


def _number(piece: str, row: Row, part: Literal["x", "y"]) -> float:
    value = row.x if part == "x" else row.y
    if value is None:
        what = "the height over the waist line" if part == "y" else "the distance from the centre line"
        if TAKES[row.role] == "x":
            what = "the length"
        raise Refusal(
            f"{piece.capitalize()}, {row.words}: {what} is missing; type it, or take the row away where it may go.",
            piece=piece,
        )
    return value


def places_so_far(piece: str, sheet: Sheet) -> list[Point]:
    """The places of the outline that are typed, in order, however many still miss."""
    return [_place(piece, row) for row in sheet if row.edge and row.x is not None and row.y is not None]


# --------------------------------------------------------------------------------------------------------------
# reading a drafted block off


def read_off(garment: Garment) -> OwnBlock:
    """A drafted block as it would be typed, to a tenth of a millimetre: something to type over."""
    front, back = garment.blocks["front"], garment.blocks["back"]
    return OwnBlock(_read_piece(front), _read_piece(back), _tenth(front.landmarks["bust_point"]))


def _read_piece(piece: Piece) -> OwnPiece:
    levels = [round(piece.landmarks[line][1], 1) for line in LEVELS]
    darts = tuple(
        OwnDart(
            dart.name.partition(".")[2],
            _tenth(dart.pivot),
            (_tenth(dart.legs[0]), _tenth(dart.legs[1])),
            round(gap(dart.pivot, dart.point), 1),
        )
        for dart in piece.darts
    )
    edges = tuple(_read_edge(edge) for edge in piece.edges if edge.kind != "dart base")
    return OwnPiece(edges, darts, (levels[0], levels[1], levels[2]))


def _read_edge(edge: Edge) -> OwnEdge:
    name = edge.origin.edge.partition(".")[2]
    size = 2 if len(edge.points) == 2 else MORE if name in BETWEEN else FEW
    points = tuple(_tenth(point_at(edge.points, share * edge.length)) for share in np.linspace(0.0, 1.0, size))
    return OwnEdge(name, points)


def _tenth(place: Point) -> Pair:
    return (round(place[0], 1), round(place[1], 1))

"""Through the point: a sheer line moved so that it runs through a dart's pivot, and the sheer holds no dart's end.

What is always better than flattening (cutting.md 2, 3): the dart then closes wholly on one side of the line.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from core.errors import Refusal
from core.geometry.placement import gap
from core.geometry.polyline import nearest
from core.geometry.tolerances import AT_PIVOT
from core.pieces.names import spoken
from core.pieces.records import Dart, Piece
from core.steps.catalogue import AnyStep
from core.steps.step import LinePoint
from core.steps.style_line import StyleLine


def line_through_pivot(steps: Sequence[AnyStep], piece: Piece, dart_name: str) -> StyleLine:
    """The step that drew the line along which a panel was cut, nearest to a dart's pivot, led through that pivot.

    Its inner point nearest to the pivot is put there; a line without inner points gets one. Refusal when the panel was
    cut along no drawn line, or when the pivot is no landmark that a line can be led through.
    """
    dart = piece.dart(dart_name)
    drawn = {step.name: step for step in steps if isinstance(step, StyleLine)}
    edges = [edge for edge in piece.edges if edge.origin.edge in drawn]
    if not edges:
        raise Refusal(
            f"Piece {piece.name} with the {spoken(dart_name)} was cut along no line that was drawn, so there is none "
            f"to move.",
            piece=piece.name,
        )
    best = min(edges, key=lambda edge: nearest(edge.points, dart.pivot)[1])
    line, mark = drawn[best.origin.edge], _landmark(piece, dart)
    if mark not in line.drawn_on:
        raise Refusal(
            f"The {line.said} was not drawn on a piece with the {spoken(mark)}; draw it anew through that point.",
            piece=piece.name,
        )
    folded = tuple(name for name in line.folded if name != dart_name)
    return msgspec.structs.replace(line, points=_led_through(line, mark), folded=folded)


def _landmark(piece: Piece, dart: Dart) -> str:
    """The landmark at a dart's pivot. Refusal when there is none."""
    for name, place in piece.landmarks.items():
        if gap(place, dart.pivot) <= AT_PIVOT:
            return name
    raise Refusal(
        f"The {spoken(dart.name)} of piece {piece.name} turns about no landmark; draw the line anew through its pivot.",
        piece=piece.name,
    )


def _led_through(line: StyleLine, mark: str) -> tuple[LinePoint, ...]:
    at = line.drawn_on[mark]
    through = LinePoint(*at, landmark=mark)
    first, *inner, last = line.points
    if not inner:
        return (first, through, last)
    moved = min(inner, key=lambda point: gap((point.x, point.y), at))
    return (first, *(through if point is moved else point for point in inner), last)

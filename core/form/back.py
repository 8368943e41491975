"""The back on the form, for the eye alone: the back block laid by its landmarks, its darts not folded.

Nothing is measured there. A back's darts aim at the shoulder blade and not at one point round which lengths could be
kept, so between the landmarks cloth and body agree only about. The picture says where the line comes, not to the mm.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import Final, TypeAlias

import msgspec
import numpy as np
from numpy.typing import NDArray

from core.errors import Refusal
from core.form.cloth import dense
from core.form.picture import filled
from core.form.solving import Form
from core.form.surface import Surface
from core.geometry.polyline import Points, as_points
from core.pieces.records import Garment, Line, Piece

Values = NDArray[np.float64]

BACK: Final = "back"

ACROSS, UPWARDS = 61, 81
"""Places of the table of how far round the body lies from the centre back, by t and by height."""

OVER: Final = 0.06
"""How far (radians of t) cloth is drawn beyond side and shoulder, so that no strip stays bare between them."""

FAR_OFF: Final = 3.0
"""An end of a line farther than this (mm) from the outline of the flat back ends inside the piece."""

SHOWN: Final = (
    "The back is laid by its landmarks and its darts are not folded: it is shown, and nothing is measured there."
)
NOT_SHOWN: Final = (
    "The back is left bare on the form: its block lacks a landmark, or is too unlike the form to be laid."
)
LINE_ON_PANELS: Final = (
    "The sheer line of the back was drawn on cut panels, which the form cannot lay: its sheer is not shown."
)


class LaidBack(msgspec.Struct, frozen=True, eq=False):
    """The back on the form: its cloth, and what of it is sheer, as cells of the texture; its lines in space (N, 3)."""

    main: NDArray[np.bool_] | None
    sheer: NDArray[np.bool_] | None
    lines: tuple[Values, ...]
    said: tuple[str, ...]


Laying: TypeAlias = Callable[[Points], tuple[Values, Values]]

BARE_BACK: Final = LaidBack(None, None, (), ())


def back_on(form: Form, surface: Surface, garments: tuple[Garment, ...]) -> LaidBack:
    """The back as it last was whole, on the form; bare, and why is said, where it cannot be laid."""
    piece, block = whole_back(garments), garments[0].blocks.get(BACK)
    if piece is None or block is None:
        return BARE_BACK
    try:
        laid = _laying(form, surface, block)
        edge_t, edge_z = _outline(piece, laid)
    except Refusal:
        return LaidBack(None, None, (), (NOT_SHOWN,))
    main = filled(edge_t, edge_z, surface)
    sheers = [line for line in piece.lines if line.purpose == "sheer"]
    loops = [loop for line in sheers if (loop := _sheer_loop(piece, line)) is not None]
    bares = [filled(_beyond(t), z, surface) & main for t, z in (laid(dense(loop)) for loop in loops)]
    lines = tuple(surface.places(*laid(dense(line.path))) for line in sheers)
    is_missed = not sheers and any(name.startswith(f"{BACK}.sheer_line") for name in garments[-1].seams)
    told = (SHOWN, LINE_ON_PANELS) if is_missed else (SHOWN,)
    return LaidBack(main, np.logical_or.reduce(bares) if bares else None, lines, told)


def whole_back(garments: tuple[Garment, ...]) -> Piece | None:
    """The back as it last was in one piece at the centre back, by the garments after each step, first to last."""
    for garment in reversed(garments):
        piece = garment.pieces.get(BACK)
        if piece is not None and any(edge.origin.edge == f"{BACK}.centre_back" for edge in piece.edges):
            return piece
    return None


class _Rounds(msgspec.Struct, frozen=True, eq=False):
    """How far round the body (mm) t from the centre back (A,) lies at heights z (U,): (U, A)."""

    t: Values
    z: Values
    far: Values

    def curves(self, z: Values) -> Values:
        """How far round lies each t at heights (N,), shape (N, A)."""
        row = np.clip((z - self.z[0]) / (self.z[1] - self.z[0]), 0.0, len(self.z) - 1.001)
        below, share = row.astype(int), (row % 1.0)[:, None]
        return np.asarray((1.0 - share) * self.far[below] + share * self.far[below + 1])

    def to_side(self, z: Values) -> Values:
        """How far round the side lies at heights (N,)."""
        return self.curves(z)[:, -1]

    def t_at(self, far: Values, z: Values) -> Values:
        """The t so far round, (N,), at heights (N,)."""
        curves = self.curves(z)
        after = np.clip((curves < far[:, None]).sum(axis=1), 1, len(self.t) - 1)
        rows = np.arange(len(far))
        before, beyond = curves[rows, after - 1], curves[rows, after]
        share = np.clip((far - before) / (beyond - before), 0.0, 1.0)
        return np.asarray(self.t[after - 1] + share * (self.t[after] - self.t[after - 1]))


def _rounds(surface: Surface) -> _Rounds:
    t, z = np.linspace(np.pi, np.pi / 2.0, ACROSS), np.linspace(surface.low, surface.high, UPWARDS)
    x, y = (part(t[::-1], z)[::-1].T for part in (surface.x, surface.y))
    steps = np.hypot(np.diff(x, axis=1), np.diff(y, axis=1))
    return _Rounds(t, z, np.concatenate((np.zeros((UPWARDS, 1)), np.cumsum(steps, axis=1)), axis=1))


@lru_cache(maxsize=2)
def _laying(form: Form, surface: Surface, block: Piece) -> Laying:
    """From places (N, 2) of the flat back to t and z, (N,) each. Refusal where a landmark is missing.

    A place keeps its share of the way from the centre back to the outline at its level; its height goes over from that
    of the centre back to that of the landmarks at the side, level where it crosses the centre back.
    """
    figure, rounds, marks = form.figure, _rounds(surface), block.landmarks
    heights = {
        "waist_side": 0.0,
        "underarm": figure.high_bust_height,
        "shoulder_point": figure.shoulder_height,
        "side_neck": figure.unknowns.side_neck_height,
    }
    if not {*heights, "nape"} <= set(marks):
        raise Refusal(NOT_SHOWN, piece=BACK)
    edge = _outer_edge(block)
    levels = np.array([marks[name][1] for name in heights])
    if not (np.diff(levels) > 0.0).all():
        raise Refusal(NOT_SHOWN, piece=BACK)

    def laid(places: Points) -> tuple[Values, Values]:
        x, y = places.T
        share = np.clip(x / np.interp(y, edge[:, 1], edge[:, 0]), 0.0, 1.0)
        at_centre = y * form.nape_height / marks["nape"][1]
        z = at_centre + share**2 * (np.interp(y, levels, list(heights.values())) - at_centre)
        return rounds.t_at(share * rounds.to_side(z), z), z

    return laid


def _outer_edge(block: Piece) -> Points:
    """The outline of the flat back from the waist at the side up to the side neck point, its y rising, (N, 2)."""
    loop = np.vstack([dense(edge.points) for edge in block.edges])
    ends = [int(np.argmin(np.hypot(*(loop - block.landmarks[name]).T))) for name in ("side_neck", "waist_side")]
    run = loop[(ends[0] + np.arange((ends[1] - ends[0]) % len(loop) + 1)) % len(loop)][::-1]
    return as_points(np.column_stack((run[:, 0], np.maximum.accumulate(run[:, 1]))))


def _outline(piece: Piece, laid: Laying) -> tuple[Values, Values]:
    """t and z of the outline, side and shoulder and centre back a hair beyond where they lie."""
    t, z = laid(as_points(np.vstack([dense(edge.points) for edge in piece.edges if edge.kind != "dart base"])))
    return _beyond(t), z


def _beyond(t: Values) -> Values:
    """t (N,) with those at side and centre back put a hair beyond them."""
    return np.select([t > np.pi - 1e-6, t < np.pi / 2.0 + 1e-3], [np.pi + OVER, np.pi / 2.0 - OVER], t)


def _sheer_loop(piece: Piece, line: Line) -> Points | None:
    """The loop (N, 2) round what a line of the flat back leaves to the sheer: from the line round by the neck.

    None where an end of the line is not on the outline.
    """
    outline = as_points(np.vstack([dense(edge.points) for edge in piece.edges]))
    gaps = [np.hypot(*(outline - line.path[end]).T) for end in (0, -1)]
    if max(gap.min() for gap in gaps) > FAR_OFF:
        return None
    first, last = (int(np.argmin(gap)) for gap in gaps)
    count = len(outline)
    ways = [
        outline[(last + np.arange((first - last) % count + 1)) % count],
        outline[(first + np.arange((last - first) % count + 1)) % count][::-1],
    ]
    return as_points(np.vstack((line.path, max(ways, key=lambda way: way[:, 1].max()))))

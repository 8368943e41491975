"""A sheer line on the form: where it lies, how far from the bust point, how much longer than the body under it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from core.form.cloth import FRONT, Cloth, outline_on
from core.pieces.cone import lies_as_drafted
from core.pieces.opening import opening_of, sheer_lines
from core.pieces.records import Garment, Piece
from core.units import Unit, show_length

Values = NDArray[np.float64]

BAND: Final = 5.0
"""Millimetres by which an excess may be wrong per half front: the tape does not tell the shape of a breast."""

FAR_OFF: Final = 12.0
"""An end of a line farther than this (mm) from the outline on the form ends inside the piece."""

NEAR_ARMHOLE: Final = 40.0
"""Nothing is quoted nearer to the armhole than this (mm): a form without arms is only schematic there."""


@dataclass(frozen=True, eq=False, slots=True)
class LaidLine:
    """A line on the form: t, z (N,), places (N, 3), how far along the cloth (N,), radius and direction (N,)."""

    name: str
    t: Values
    z: Values
    places: Values
    along: Values
    radii: Values
    phi: Values
    is_quoted: NDArray[np.bool_]

    @property
    def excess(self) -> Values:
        """How much longer (mm) the cloth is than the body under it, between each place and the next, (N - 1,)."""
        return excess_of(self.along, self.places)


@dataclass(frozen=True, slots=True)
class Excess:
    """The excess of one part of a line (mm): cloth over body, what of it is beyond the wanted ease, its length."""

    where: str
    over_body: float
    amount: float
    long: float

    @property
    def stands_off(self) -> float:
        """How far (mm) the edge would stand off, as a flat arc does: the root of 3 chord excess / 8; 0 in strain."""
        return float(np.sqrt(3.0 * self.long * max(self.amount, 0.0) / 8.0))


def excess_of(along: Values, places: Values) -> Values:
    """Cloth less body (mm) between places (N, 3), the cloth between them given by the distance along it (N,)."""
    return np.asarray(np.diff(along) - np.linalg.norm(np.diff(places, axis=0), axis=1))


def whole_front(garments: tuple[Garment, ...]) -> Piece | None:
    """The front as it last was in one piece, by the garments after each step, first to last."""
    for garment in reversed(garments):
        piece = garment.pieces.get(FRONT)
        if piece is not None and lies_as_drafted(piece, FRONT) and not piece.is_single:
            return piece
    return None


def line_on(cloth: Cloth, garment: Garment) -> LaidLine | None:
    """The first sheer line of the front, drawn or cut, on the form; None where there is none."""
    for name in sheer_lines(garment, FRONT):
        opening = opening_of(garment, FRONT, cloth.cone, name)
        if opening is not None:
            t, z, places = cloth.laid(opening.radii, opening.closed)
            phi = cloth.directions(opening.closed)
            is_quoted = _is_quoted(cloth, places)
            return LaidLine(name, t, z, places, opening.along, opening.radii, phi, is_quoted)
    return None


def _is_quoted(cloth: Cloth, places: Values) -> NDArray[np.bool_]:
    """Whether places are far enough from the armhole, which runs from the shoulder point to the underarm."""
    marks = {mark.name: mark for mark in cloth.landmarks}
    if not {"shoulder_point", "underarm"} <= set(marks):
        return np.ones(len(places), dtype=np.bool_)
    figure = cloth.body.form.figure
    z = np.linspace(figure.high_bust_height, figure.shoulder_height, 25)
    hole = cloth.body.surface.places(np.full(25, 1.25), z)
    gaps = np.linalg.norm(places[:, None, :] - hole[None, :, :], axis=2).min(axis=1)
    is_inside = np.abs(places[:, 0]) < hole[:, 0].max()
    return np.asarray((gaps > NEAR_ARMHOLE) & is_inside)


def excesses(cloth: Cloth, line: LaidLine, wanted: float) -> tuple[Excess, ...]:
    """The excess over the wanted ease (mm a mm of line) in the parts of a line, the largest parts of a front each."""
    phi = (line.phi[1:] + line.phi[:-1]) / 2.0
    quoted = line.is_quoted[1:] & line.is_quoted[:-1]
    angle = {mark.name: mark.phi for mark in cloth.landmarks}
    pit, shoulder = angle.get("neck_pit", 1.0), angle.get("shoulder_point", 2.0)
    underarm, centre = angle.get("underarm", 3.0), angle.get("waist_centre", -1.0)
    parts = {
        "above the bust": (phi > pit) & (phi <= shoulder),
        "towards the armhole": (phi > shoulder) & (phi <= underarm + 0.35),
        "between the busts": (phi > centre) & (phi <= pit),
    }
    parts["under the bust"] = ~np.logical_or.reduce(list(parts.values()))
    more, long = line.excess, np.diff(line.along)
    found = []
    for where, inside in parts.items():
        here = inside & quoted
        if long[here].sum() >= 15.0:
            run = float(long[here].sum())
            over = float(more[here].sum())
            found.append(Excess(where, over, over - wanted * run, run))
    return tuple(found)


def banded(amount: float, unit: Unit) -> str:
    """An excess with its band: 18 ± 5 mm, 11/16 in."""
    said = f"{round(amount)} ± {BAND:.0f} mm"
    return f"{said}, {show_length(amount, unit)}" if unit == "in" else said


def sheer_loop(cloth: Cloth, piece: Piece, line: LaidLine) -> tuple[Values, Values] | None:
    """The loop t, z (N,) on the form of what a line leaves to the sheer: from the line round by the neck.

    None where an end of the line is not on the outline of the piece.
    """
    t, z, places = outline_on(cloth, piece)
    ends = [int(np.argmin(np.linalg.norm(places - line.places[end], axis=1))) for end in (0, -1)]
    if any(np.linalg.norm(places[i] - line.places[e]) > FAR_OFF for i, e in zip(ends, (0, -1), strict=True)):
        return None
    one = _round_from(ends[1], ends[0], len(t))
    other = _round_from(ends[0], ends[1], len(t))[::-1]
    by_neck = max((one, other), key=lambda way: z[way].max() if len(way) else -np.inf)
    return np.concatenate((line.t, t[by_neck])), np.concatenate((line.z, z[by_neck]))


def _round_from(first: int, last: int, count: int) -> NDArray[np.intp]:
    return (first + np.arange((last - first) % count + 1)) % count

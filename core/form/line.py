"""A sheer line on the form: where it lies, how far from the bust point, how much longer than the body under it."""

from __future__ import annotations

from typing import Final

import msgspec
import numpy as np
from numpy.typing import NDArray

from core.form.cloth import FRONT, Cloth, outline_on
from core.pieces.cone import lies_as_drafted
from core.pieces.names import is_right
from core.pieces.opening import opening_of, sheer_lines
from core.pieces.records import Garment, Piece
from core.pieces.seams import Link, links
from core.units import Unit, show_length

Values = NDArray[np.float64]

BAND, FAR_BAND = 8.0, 15.0
"""Millimetres by which an excess may be wrong per half front: the tape does not tell the shape of a breast.

The second holds farther than `FAR` from the bust point. On three bodies of CC0 the form's circles about it are off by
7 and 10 mm (root of the mean square) from landmark to landmark, by 7 and 14 over the bust (`blind_body.py`).
"""

FAR: Final = 90.0

FAR_OFF: Final = 12.0
"""An end of a line farther than this (mm) from the outline on the form ends inside the piece."""

BESIDE: Final = 30.0
"""So near to a seam (mm) the line is drawn together by what the seam is taken in."""

BELOW_ARM: Final = 0.35
"""So far below the underarm, in radians about the bust point, the line still runs towards the armhole."""

NEAR_ARMHOLE: Final = 40.0
"""Nothing is quoted nearer to the armhole than this (mm): a form without arms is only schematic there."""


class LaidLine(msgspec.Struct, frozen=True, eq=False):
    """A line on the form: t, z (N,), places (N, 3), how far along the cloth as sewn (N,), radius, closed angle (N,)."""

    name: str
    t: Values
    z: Values
    places: Values
    along: Values
    radii: Values
    closed: Values
    is_quoted: NDArray[np.bool_]

    @property
    def excess(self) -> Values:
        """How much longer (mm) the cloth is than the body under it, between each place and the next, (N - 1,)."""
        return excess_of(self.along, self.places)


class Excess(msgspec.Struct, frozen=True):
    """The excess of one part of a line (mm): cloth over body, what of it is beyond the wanted ease, length, band."""

    where: str
    over_body: float
    amount: float
    long: float
    band: float = BAND

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


def line_on(cloth: Cloth, garments: tuple[Garment, ...]) -> LaidLine | None:
    """The first sheer line of the front, drawn or cut, on the form; None where there is none.

    It lies on her as it was cut: what a seam is taken in by later draws the cloth together and leaves her as she is.
    """
    now = garments[-1]
    for name in sheer_lines(now, FRONT):
        as_cut = next((garment for garment in garments if name in garment.seams), now) if name in now.seams else now
        opening = opening_of(as_cut, FRONT, cloth.cone, name)
        if opening is not None:
            t, z, places = cloth.laid(opening.radii, opening.closed)
            along = opening.along - taken_along(now, name, opening.along)
            return LaidLine(name, t, z, places, along, opening.radii, opening.closed, _is_quoted(cloth, places))
    return None


def taken_along(garment: Garment, line: str, along: Values) -> Values:
    """How much (mm) a cut line has been shortened by up to distances along it (N,), where panels are sewn together.

    It is counted within `BESIDE` of the seams; what the line lost at its own ends only ends it sooner.
    """
    taken = np.zeros(len(along))
    chain = _most_panels(garment, line)
    for index, link in enumerate(chain):
        low, high = sorted((link.edge.origin.start, link.edge.origin.stop))
        lost = high - low - link.edge.length
        near = min(BESIDE, high - low)
        stretches = [(low, low + near)] * (index > 0) + [(high - near, high)] * (index < len(chain) - 1)
        for stretch in stretches:
            taken = taken + np.interp(along, stretch, (0.0, lost / len(stretches)))
    return taken


def _most_panels(garment: Garment, line: str) -> tuple[Link, ...]:
    """The side of a cut line that is sewn of most panels, from the line's first end to its last."""
    seam = garment.seams.get(line)
    if seam is None:
        return ()
    sides = [
        [link for link in links(garment, spans) if not is_right(link.edge.origin.edge)] for spans in (seam.a, seam.b)
    ]
    longer = sides[0] if len(sides[0]) >= len(sides[1]) else sides[1]
    return tuple(sorted(longer, key=lambda link: link.edge.origin.start + link.edge.origin.stop))


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
    closed = (line.closed[1:] + line.closed[:-1]) / 2.0
    quoted = line.is_quoted[1:] & line.is_quoted[:-1]
    pit, shoulder = cloth.closed_of("neck_pit", 1.1), cloth.closed_of("shoulder_point", 2.0)
    underarm, centre = cloth.closed_of("underarm", 2.6), cloth.closed_of("waist_centre", -1.0)
    parts = {
        "above the bust": (closed > pit) & (closed <= shoulder),
        "towards the armhole": (closed > shoulder) & (closed <= underarm + BELOW_ARM),
        "between the busts": (closed > centre) & (closed <= pit),
    }
    parts["under the bust"] = ~np.logical_or.reduce(list(parts.values()))
    more, long, radii = line.excess, np.diff(line.along), (line.radii[1:] + line.radii[:-1]) / 2.0
    found = []
    for where, inside in parts.items():
        here = inside & quoted
        if long[here].sum() >= 15.0:
            run = float(long[here].sum())
            over = float(more[here].sum())
            found.append(Excess(where, over, over - wanted * run, run, BAND if radii[here].mean() <= FAR else FAR_BAND))
    return tuple(found)


def banded(amount: float, unit: Unit, band: float = BAND) -> str:
    """An excess with its band: 18 ± 8 mm, 11/16 in."""
    said = f"{round(amount)} ± {band:.0f} mm"
    return f"{said}, {show_length(amount if round(amount) else 0.0, unit)}" if unit == "in" else said


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

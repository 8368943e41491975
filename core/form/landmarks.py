"""The landmarks that block and body both have: how far from the bust point, and which way, on each.

On the block they are taken without the ease that it was drafted with, so that block and body can be told apart. On the
body the distance is that of a taut tape, as she is measured; the side seam lies where the back block ends.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot
from typing import Final

import msgspec
import numpy as np
from numpy.typing import NDArray

from core.blocks.ease import Ease
from core.form.rays import Rays
from core.form.solving import Form
from core.form.surface import Surface
from core.form.tape import taut_over
from core.geometry.polyline import as_points
from core.pieces.cone import Cone, open_wedges
from core.pieces.records import Garment, Piece

Values = NDArray[np.float64]

NO_EASE: Final = Ease(0.0, 0.0, 0.0, 0.0, 0.0, 0.0)

SCHEMATIC: Final = frozenset({"side_neck", "shoulder_point"})
"""A form without arms knows these only roughly: they settle directions farther out than the breast, none on it."""

BELOW: Final = "waist_below"
"""The waist straight under the bust point, where the legs of the lower dart end."""

ROUND: Final = ("waist_centre", "bust_line", "neck_pit", "side_neck", "shoulder_point", "underarm", "waist_side")
"""The landmarks that settle directions, from the waist at the centre over the top to the waist at the side."""

SAMPLES: Final = 121


class Body(msgspec.Struct, frozen=True, eq=False):
    """A form with the surface that cloth lies on and its rays: all that a change of the measurements alters."""

    form: Form
    surface: Surface
    rays: Rays


class Landmark(msgspec.Struct, frozen=True, eq=False):
    """A landmark on block and body: closed angle and direction (radians), distances from the bust point (mm).

    `on_block` is as drafted, `bare` and `closed` are without the block's ease, `on_body` is a taut tape's.
    """

    name: str
    closed: float
    phi: float
    on_block: float
    bare: float
    on_body: float


def landmarks_on(body: Body, garment: Garment, cone: Cone, ease: Ease) -> tuple[Landmark, ...]:
    """The landmarks of the front that its block has, those of `ROUND` first and in that order."""
    block = garment.blocks["front"]
    wedges = open_wedges(block, cone.centre)
    on_body = _places(body, garment.blocks.get("back"), ease)
    found = []
    for name, (x, y) in _on_block(block).items():
        less_x, less_y = _eased(name, ease)
        radii, closed = cone.polar(as_points(((x, y), (x - less_x, y - less_y))), wedges)
        phi, taut = _reached(body, *on_body[name])
        found.append(Landmark(name, float(closed[1]), _unwound(name, phi), float(radii[0]), float(radii[1]), taut))
    return tuple(found)


def _on_block(block: Piece) -> dict[str, tuple[float, float]]:
    marks = {name: block.landmarks[name] for name in (*ROUND, "under_bust_line") if name in block.landmarks}
    centre = block.landmarks["bust_point"]
    lower = min(block.darts, key=lambda dart: dart.legs[0][1])
    return {**marks, BELOW: (centre[0], centre[1] - hypot(*np.subtract(lower.legs[0], centre)))}


def _eased(name: str, ease: Ease) -> tuple[float, float]:
    """Where the block's ease puts a landmark (mm, across and up): a quarter of a girth's at the side."""
    return {"underarm": (ease.bust / 4.0, -ease.armhole_depth), "waist_side": (ease.waist / 4.0, 0.0)}.get(
        name, (0.0, 0.0)
    )


def _places(body: Body, back: Piece | None, ease: Ease) -> dict[str, tuple[float, float]]:
    """t and z of the landmarks on the body."""
    form, figure = body.form, body.form.figure
    side, arm = np.pi / 2.0, body.form.figure.high_bust_height
    return {
        "waist_centre": (0.0, 0.0),
        "bust_line": (0.0, form.bust_point[1]),
        "neck_pit": (0.0, form.pit_height),
        "side_neck": (side, figure.unknowns.side_neck_height),
        "shoulder_point": (side, figure.shoulder_height),
        "underarm": (_side(body, arm, _back_width(back, "underarm", ease)), arm),
        "waist_side": (_side(body, 0.0, _back_width(back, "waist_side", ease)), 0.0),
        "under_bust_line": (0.0, figure.under_bust_height),
        BELOW: (below(body), 0.0),
    }


def _back_width(back: Piece | None, mark: str, ease: Ease) -> float | None:
    """How far (mm) a side landmark of the back block lies from the centre back, darts shut and ease taken off."""
    if back is None or mark not in back.landmarks:
        return None
    centre = max(float(edge.points[:, 0].max()) for edge in back.edges)
    width = centre - back.landmarks[mark][0] - _eased(mark, ease)[0]
    shut = sum(dart.width for dart in back.darts if dart.legs[0][1] < dart.pivot[1]) if mark == "waist_side" else 0.0
    return float(width - shut)


def _side(body: Body, z: float, width: float | None) -> float:
    """t of the side seam at a level, so far round from the centre back; halfway where no back says."""
    if width is None:
        return float(np.pi / 2.0)
    t = np.linspace(np.pi, 0.5, SAMPLES)
    places = body.surface.places(t, np.full(SAMPLES, z))
    run = np.concatenate(([0.0], np.cumsum(np.linalg.norm(np.diff(places, axis=0), axis=1))))
    return float(np.interp(width, run, t))


def below(body: Body) -> float:
    """t straight under the bust point at the waist."""
    t = np.linspace(0.0, 1.5, SAMPLES)
    x = body.surface.x.ev(t, np.zeros(SAMPLES))
    return float(np.interp(body.form.bust_point[0], x, t))


def _reached(body: Body, t: float, z: float) -> tuple[float, float]:
    """The direction in which a place of the body is reached, and how long a taut tape to it is."""
    place = body.surface.places(np.array([t]), np.array([z]))[0]
    phi, out, _ = body.rays.direction_of(place)
    r = np.linspace(0.0, out, SAMPLES)
    ray_t, ray_z, path = body.rays.at(np.full(SAMPLES, phi), r)
    path[-1] = place
    return phi, taut_over(path, body.surface.outwards(ray_t, ray_z))


def _unwound(name: str, phi: float) -> float:
    """Directions below the level at the centre front are counted as negative, those of the side as they come."""
    return phi - 2 * np.pi if name in {"waist_centre", "bust_line", "under_bust_line"} and phi > np.pi else phi


def spokes_of(landmarks: tuple[Landmark, ...]) -> Iterator[Landmark]:
    """The landmarks in the order in which a fitter walks round: from the neck over the side to the centre."""
    known = {mark.name: mark for mark in landmarks}
    yield from (known[name] for name in ORDER if name in known)


ORDER: Final = (
    *("neck_pit", "side_neck", "shoulder_point", "underarm", "waist_side", BELOW, "waist_centre"),
    *("under_bust_line", "bust_line"),
)

"""The block on the form: the cloth with its darts shut is a cone at the bust point, laid on the body ray by ray.

Along a ray a millimetre of cloth is a millimetre of body. Which ray of the block lies on which of the body is settled
by the landmarks that both have, in proportion between them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from core.errors import Refusal
from core.form.rays import Rays, rays_from
from core.form.solving import Form
from core.form.surface import Surface, bridged
from core.geometry.polyline import Points, as_points
from core.pieces.cone import Cone, away_from, cone_of, open_wedges
from core.pieces.records import Garment, Piece

Values = NDArray[np.float64]

FRONT: Final = "front"


@dataclass(frozen=True, eq=False, slots=True)
class Body:
    """A form with the surface that cloth lies on and its rays: all that a change of the measurements alters."""

    form: Form
    surface: Surface
    rays: Rays


@dataclass(frozen=True, eq=False, slots=True)
class Landmark:
    """A landmark on block and body: closed angle and direction (radians), distance from the bust point on each (mm)."""

    name: str
    closed: float
    phi: float
    on_block: float
    on_body: float


@dataclass(frozen=True, eq=False, slots=True)
class Cloth:
    """The front block laid on a body."""

    body: Body
    cone: Cone
    landmarks: tuple[Landmark, ...]
    closed: Values
    phi: Values

    def directions(self, closed: Values) -> Values:
        """Where closed angles (N,) of the block lie on the body."""
        low = self.closed[0]
        rounded = low + np.mod(closed - low, self.cone.cloth)
        return np.asarray(np.interp(rounded, self.closed, self.phi))

    def laid(self, radii: Values, closed: Values) -> tuple[Values, Values, Values]:
        """t, z, each (N,), and places (N, 3) on the body of radii and closed angles on the block."""
        return self.body.rays.at(self.directions(closed), radii)


def body_of(form: Form) -> Body:
    """The body with its rays, as far as the farthest landmark of the front."""
    surface = bridged(form.sections)
    reach = 1.15 * form.figure.of("neck_to_bust_point")
    return Body(form, surface, rays_from(surface, form.bust_point_at(surface), reach))


def cloth_on(body: Body, garment: Garment) -> Cloth:
    """The front block of a garment on a body. Refusal for a block that has not one dart over and one under the BP."""
    block = garment.blocks.get(FRONT)
    if block is None:
        raise Refusal("This design has no front block, so nothing can be laid on the form.")
    _refuse_other_darts(block)
    cone = cone_of(block)
    marks = tuple(_landmarks(body, block, cone))
    down = body.rays.direction_of(body.surface.places(np.array([_below(body)]), np.zeros(1))[0])[0]
    closed = np.array([cone.low, *(mark.closed for mark in marks), cone.high])
    phi = np.array([down - 2 * np.pi, *(mark.phi for mark in marks), down])
    if not ((np.diff(closed) > 0.0).all() and (np.diff(phi) > 0.0).all()):
        raise Refusal(
            "The landmarks of the front block do not follow one another round the bust point as they do on the form: "
            "check shoulder slope, armhole depth and bust span.",
            piece=FRONT,
        )
    return Cloth(body, cone, marks, closed, phi)


def _refuse_other_darts(block: Piece) -> None:
    """The map knows only darts that aim at the bust point."""
    point = block.landmarks.get("bust_point", (0.0, 0.0))
    for dart in block.darts:
        if np.hypot(dart.pivot[0] - point[0], dart.pivot[1] - point[1]) > 1e-3:
            raise Refusal(
                f"The {dart.name} does not aim at the bust point, and the form cannot lay such a dart: pivot it there, "
                "or draft the block by a method with darts at the bust point.",
                piece=FRONT,
            )


def _below(body: Body) -> float:
    """t straight under the bust point at the waist."""
    t = np.linspace(0.0, 1.5, 151)
    x = body.surface.x.ev(t, np.zeros(len(t)))
    return float(np.interp(body.form.bust_point[0], x, t))


def _landmarks(body: Body, block: Piece, cone: Cone) -> list[Landmark]:
    """The landmarks of the front from the waist at the centre over the top to the waist at the side."""
    form = body.form
    figure, height = form.figure, form.bust_point[1]
    side = np.pi / 2.0
    on_body = {
        "waist_centre": (0.0, 0.0),
        "bust_line": (0.0, height),
        "neck_pit": (0.0, form.pit_height),
        "side_neck": (side, figure.unknowns.side_neck_height),
        "shoulder_point": (side, figure.shoulder_height),
        "underarm": (side, figure.high_bust_height),
        "waist_side": (side, 0.0),
    }
    names = [name for name in on_body if name in block.landmarks]
    flat = as_points([block.landmarks[name] for name in names])
    radii, closed = cone.polar(flat, open_wedges(block, cone.centre))
    t, z = (np.array([on_body[name][i] for name in names]) for i in (0, 1))
    found = []
    for name, r, angle, place in zip(names, radii, closed, body.surface.places(t, z), strict=True):
        phi, out, _ = body.rays.direction_of(place)
        found.append(Landmark(name, float(angle), _unwound(name, phi), float(r), out))
    return found


def _unwound(name: str, phi: float) -> float:
    """Directions below the level at the centre front are counted as negative, those of the side as they come."""
    return phi - 2 * np.pi if name in {"waist_centre", "bust_line"} and phi > np.pi else phi


def outline_on(cloth: Cloth, piece: Piece) -> tuple[Values, Values, Values]:
    """t, z, each (N,), and places (N, 3) on the body of a whole front's outline with its darts shut.

    Its fold is put a hair beyond the centre front, so that no strip stays bare where the block has a little ease less.
    """
    edges = [(edge, _dense(edge.points)) for edge in piece.edges if edge.kind != "dart base"]
    wedges, gap_at = open_wedges(piece, cloth.cone.centre), away_from(piece, cloth.cone.centre)
    loop = as_points(np.vstack([path for _, path in edges]))
    t, z, places = cloth.laid(*cloth.cone.polar(loop, wedges, gap_at=gap_at))
    is_fold = np.concatenate([np.full(len(path), edge.kind == "fold") for edge, path in edges])
    return np.where(is_fold, -0.05, t), z, places


def _dense(path: Points) -> Points:
    """A path with a place every 4 mm at least: a straight edge is bent by the body."""
    known = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(path, axis=0).T))))
    here = np.linspace(0.0, known[-1], max(int(known[-1] / 4.0), 1) + 1)
    return as_points(np.column_stack([np.interp(here, known, path[:, i]) for i in (0, 1)]))

"""The block on the form: the cloth with its darts shut is a cone at the bust point, laid on the body ray by ray.

Along a ray a millimetre of cloth is a millimetre of body. Which ray of the block lies on which of the body is settled
by the landmarks that both have, in proportion between them. On the breast itself those that a tape reads settle it;
farther out the shoulder, which a form without arms knows only roughly, takes its place among them.
"""

from __future__ import annotations

from typing import Final

import msgspec
import numpy as np
from numpy.typing import NDArray

from core.blocks.ease import Ease
from core.errors import Refusal
from core.form.landmarks import BELOW, NO_EASE, ROUND, SCHEMATIC, Body, Landmark, landmarks_on
from core.form.rays import rays_from
from core.form.solving import Form
from core.form.surface import bridged, skin
from core.geometry.polyline import Points, as_points
from core.pieces.cone import Cone, away_from, cone_of, open_wedges
from core.pieces.records import Garment, Piece

Values = NDArray[np.float64]

FRONT: Final = "front"

BREAST: Final = 0.75
BEYOND: Final = 1.1
"""Bust spans from the bust point, up to which the tape's landmarks alone settle directions, and from which all do."""


class Ways(msgspec.Struct, frozen=True, eq=False):
    """Directions on the body (radians, rising) over closed angles of the block, from its lower dart once round."""

    closed: Values
    phi: Values

    def at(self, closed: Values) -> Values:
        """The directions of closed angles (N,)."""
        whole = self.closed[-1] - self.closed[0]
        rounded = self.closed[0] + np.mod(closed - self.closed[0], whole)
        return np.asarray(np.interp(rounded, self.closed, self.phi))


class Cloth(msgspec.Struct, frozen=True, eq=False):
    """The front block laid on a body: near the bust point by `near`, far from it by `far`, between them in turn."""

    body: Body
    cone: Cone
    landmarks: tuple[Landmark, ...]
    near: Ways
    far: Ways

    def directions(self, radii: Values, closed: Values) -> Values:
        """Where places of the block, by radius and closed angle, each (N,), lie on the body."""
        start = self.body.form.figure.of("bust_span")
        share = np.clip((radii / start - BREAST) / (BEYOND - BREAST), 0.0, 1.0)
        share = share * share * (3.0 - 2.0 * share)
        near, far = self.near.at(closed), self.far.at(closed)
        return np.asarray(near + share * (far - near))

    def laid(self, radii: Values, closed: Values) -> tuple[Values, Values, Values]:
        """t, z, each (N,), and places (N, 3) on the body of radii and closed angles on the block."""
        return self.body.rays.at(self.directions(radii, closed), radii)

    def closed_of(self, name: str, otherwise: float) -> float:
        """The closed angle of a landmark, or what is given where the block has none of that name."""
        return next((mark.closed for mark in self.landmarks if mark.name == name), otherwise)


def body_of(form: Form, *, follows_skin: bool = False) -> Body:
    """The body with its rays, as far as the farthest landmark of the front.

    Cloth is stretched across the hollow between the busts, level by level, unless it follows the skin.
    """
    surface = skin(form.sections) if follows_skin else bridged(form.sections)
    reach = 1.15 * form.figure.of("neck_to_bust_point")
    return Body(form, surface, rays_from(surface, form.bust_point_at(surface), reach))


def cloth_on(body: Body, garment: Garment, ease: Ease = NO_EASE) -> Cloth:
    """The front block of a garment on a body; `ease` is what it was drafted with, by default none.

    Refusal for a block that has not one dart over and one under the bust point.
    """
    block = garment.blocks.get(FRONT)
    if block is None:
        raise Refusal("This design has no front block, so nothing can be laid on the form.")
    _refuse_other_darts(block)
    cone = cone_of(block)
    marks = landmarks_on(body, garment, cone, ease)
    near, far = (_ways(cone, marks, without) for without in (SCHEMATIC, frozenset[str]()))
    return Cloth(body, cone, marks, near, far)


def _ways(cone: Cone, marks: tuple[Landmark, ...], without: frozenset[str]) -> Ways:
    known = {mark.name: mark for mark in marks}
    used = [known[name] for name in ROUND if name in known and name not in without]
    down = known[BELOW].phi
    closed = np.array([cone.low, *(mark.closed for mark in used), cone.high])
    phi = np.array([down - 2 * np.pi, *(mark.phi for mark in used), down])
    if not ((np.diff(closed) > 0.0).all() and (np.diff(phi) > 0.0).all()):
        raise Refusal(
            "The landmarks of the front block do not follow one another round the bust point as they do on the form: "
            "check shoulder slope, armhole depth and bust span.",
            piece=FRONT,
        )
    return Ways(closed, phi)


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


def outline_on(cloth: Cloth, piece: Piece) -> tuple[Values, Values, Values]:
    """t, z, each (N,), and places (N, 3) on the body of a whole front's outline with its darts shut.

    Its fold is put a hair beyond the centre front and its side seam a hair beyond the side, so that no strip stays bare
    where the block has a little ease less.
    """
    edges = [(edge, dense(edge.points)) for edge in piece.edges if edge.kind != "dart base"]
    wedges, gap_at = open_wedges(piece, cloth.cone.centre), away_from(piece, cloth.cone.centre)
    loop = as_points(np.vstack([path for _, path in edges]))
    t, z, places = cloth.laid(*cloth.cone.polar(loop, wedges, gap_at=gap_at))
    is_fold = np.concatenate([np.full(len(path), edge.kind == "fold") for edge, path in edges])
    is_side = np.concatenate([np.full(len(path), edge.origin.edge == f"{FRONT}.side") for edge, path in edges])
    return np.select([is_fold, is_side], [-0.05, np.pi / 2.0 + 0.05], t), z, places


def dense(path: Points) -> Points:
    """A path with a place every 4 mm at least: a straight edge is bent by the body."""
    known = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(path, axis=0).T))))
    here = np.linspace(0.0, known[-1], max(int(known[-1] / 4.0), 1) + 1)
    return as_points(np.column_stack([np.interp(here, known, path[:, i]) for i in (0, 1)]))

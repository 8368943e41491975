"""What the form shows of a design: what is worked out once a body, and what once a position of the line."""

from __future__ import annotations

from functools import cached_property
from typing import Final, Literal, TypeAlias

import msgspec
import numpy as np
from numpy.typing import NDArray

from core.blocks.ease import Ease
from core.body.body import Measured
from core.body.shape import Shape
from core.design.replay import Replay
from core.errors import Refusal
from core.form.back import BARE_BACK, LaidBack, back_on, whole_back
from core.form.cloth import Cloth, body_of, cloth_on, outline_on
from core.form.landmarks import Body
from core.form.line import Excess, LaidLine, excesses, line_on, sheer_loop, whole_front
from core.form.picture import ACROSS, UPWARDS, Cloths, filled, texture
from core.form.sections import Sections
from core.form.solving import solved
from core.form.surface import Surface, skin
from core.form.words import Facts, said
from core.pieces.records import Garment, Piece
from core.units import Unit, said_in

Values = NDArray[np.float64]

Edge: TypeAlias = Literal["close", "eased", "hollow"]
"""How a sheer line's edge is to lie: close on her, with the block's ease, or close down into the hollow between the
busts. The first two bridge that hollow, as a taut edge does."""

FOOT: Final = 0.85
"""The mound is counted as breast so far: beyond it, it hardly stands out."""


class Stand(msgspec.Struct, frozen=True, eq=False, dict=True, weakref=True):
    """A solved body, stretched over the hollow between the busts, with its skin.

    `breast` is the area (mm²) of the breast by cells of the texture.
    """

    body: Body
    skin: Surface
    breast: Values

    @cached_property
    def hollow(self) -> Body:
        """The body with its hollow: a third of a second's work, done when it is first asked for."""
        return body_of(self.body.form, follows_skin=True)

    def body_for(self, edge: Edge) -> Body:
        """The body as an edge lies on it."""
        return self.hollow if edge == "hollow" else self.body

    @property
    def bust_point(self) -> Values:
        """The bust point in space (3,)."""
        return np.asarray(self.body.rays.places[0, 0])


class Laid(msgspec.Struct, frozen=True, eq=False):
    """One position of the line on a stand: the cloths of the texture, the line, and sentences about it."""

    cloths: Cloths
    line: LaidLine | None
    sentences: tuple[str, ...]
    wanted: float = 0.0
    """The ease that the edge is to have, mm a mm of line."""
    parts: tuple[Excess, ...] = ()
    cloth: Cloth | None = None
    facts: Facts | None = None
    back: LaidBack = BARE_BACK


NO_LINE: Final = ("Draw a sheer line on the front: where it lies on her is then shown here.",)


def stand_for(measured: Measured, shape: Shape) -> Stand:
    """The stand for a body: about a second's work. Refusal that names the measurements that contradict each other."""
    form = solved(measured, shape)
    surface = skin(form.sections)
    return Stand(body_of(form), surface, _breast(form.sections, surface))


def garments_of(replay: Replay) -> tuple[Garment, ...]:
    """The garments that a fitter wants: the block, and what each step left of it."""
    return (replay.block, *(stage.garment for stage in replay.stages))


def _breast(sections: Sections, surface: Surface) -> Values:
    t, z = _middles(surface)
    is_breast = sections.on_mound(t[:, None], z[None, :]) < FOOT
    areas = cell_areas(surface)
    return np.where(is_breast, areas, 0.0)


def _middles(surface: Surface) -> tuple[Values, Values]:
    """t (ACROSS,) and z (UPWARDS,) of the cells' middles."""
    across, up = np.arange(ACROSS, dtype=np.float64) + 0.5, np.arange(UPWARDS, dtype=np.float64) + 0.5
    t, z = across * np.pi / ACROSS, surface.low + up * (surface.high - surface.low) / UPWARDS
    return np.asarray(t), np.asarray(z)


def cell_areas(surface: Surface) -> Values:
    """The area (mm²) of each cell of the texture, (ACROSS, UPWARDS)."""
    t, z = _middles(surface)
    step = (surface.high - surface.low) / UPWARDS
    x_t, y_t = surface.x(t, z, dx=1), surface.y(t, z, dx=1)
    x_z, y_z = surface.x(t, z, dy=1), surface.y(t, z, dy=1)
    spread = np.sqrt(x_t**2 + y_t**2 + (x_t * y_z - y_t * x_z) ** 2)
    return np.asarray(spread * (np.pi / ACROSS) * step)


class Fitter:
    """Lays a design on a stand, and keeps what a drag of the line leaves alone: block and outline."""

    def __init__(self, stand: Stand, edge: Edge = "close") -> None:
        self.stand = stand
        self.edge: Edge = edge
        self._block: Piece | None = None
        self._cloth: Cloth | None = None
        self._front: Piece | None = None
        self._main: NDArray[np.bool_] | None = None
        self._back: tuple[Piece | None, LaidBack] = (None, BARE_BACK)

    def laid(self, garments: tuple[Garment, ...], ease: Ease, unit: Unit) -> Laid:
        """The line of the last garment on the form; `garments` are those after each step, the block first.

        A block that cannot be laid on the form leaves it bare, and why is said.
        """
        try:
            cloth = self._cloth_of(garments[-1], ease)
        except Refusal as refusal:
            return Laid(texture(None, None), None, (said_in(refusal.sentence, unit),))
        back = self._back_of(garments)
        front = whole_front(garments)
        line = line_on(cloth, garments)
        self._cover(cloth, front)
        loop = sheer_loop(cloth, front, line) if front is not None and line is not None else None
        sheer = filled(*loop, self.stand.skin) if loop is not None else None
        wanted = ease.bust / self.stand.body.form.figure.of("bust") if self.edge == "eased" else 0.0
        parts = excesses(cloth, line, wanted) if line is not None else ()
        facts = None if line is None else self._facts(line, parts, sheer)
        sentences = NO_LINE if facts is None else said(facts, unit)
        cloths = texture(_both(self._main, back.main), _both(sheer, back.sheer))
        return Laid(cloths, line, sentences, wanted, parts, cloth, facts, back)

    def _facts(self, line: LaidLine, parts: tuple[Excess, ...], sheer: NDArray[np.bool_] | None) -> Facts:
        is_eased = self.edge == "eased"
        return Facts(self.stand.body.form, line, parts, self._share(sheer), self._bares(sheer), is_eased=is_eased)

    def _cloth_of(self, garment: Garment, ease: Ease) -> Cloth:
        block = garment.blocks.get("front")
        if self._cloth is None or block is not self._block:
            self._cloth, self._block = cloth_on(self.stand.body_for(self.edge), garment, ease), block
            self._front = None
        return self._cloth

    def _back_of(self, garments: tuple[Garment, ...]) -> LaidBack:
        piece = whole_back(garments)
        if piece is not self._back[0]:
            self._back = (piece, back_on(self.stand.body.form, self.stand.skin, garments))
        return self._back[1]

    def _cover(self, cloth: Cloth, front: Piece | None) -> None:
        if front is None:
            self._main, self._front = None, None
        elif front is not self._front:
            t, z, _ = outline_on(cloth, front)
            self._main, self._front = filled(t, z, self.stand.skin), front

    def _share(self, sheer: NDArray[np.bool_] | None) -> float | None:
        if sheer is None or self._main is None:
            return None
        return float(self.stand.breast[sheer & self._main].sum() / self.stand.breast.sum())

    def _bares(self, sheer: NDArray[np.bool_] | None) -> bool:
        """Whether the bust point lies under sheer."""
        rays, surface = self.stand.body.rays, self.stand.skin
        across = int(rays.t[0, 0] / np.pi * ACROSS)
        up = int((rays.z[0, 0] - surface.low) / (surface.high - surface.low) * UPWARDS)
        return sheer is not None and bool(sheer[across, up])


def _both(front: NDArray[np.bool_] | None, back: NDArray[np.bool_] | None) -> NDArray[np.bool_] | None:
    """Cells of either; None where there are none of both."""
    return back if front is None else front if back is None else front | back

"""A picture of the form, worked out pixel by pixel: what each pixel shows once a view, then only colours.

A form is looked at level, so that a row of pixels is a section at one height: what of the section is nearest is kept. A
*texture* is a grid over half the surface, by t and z, that says which cloth lies there; both halves wear the same. To
colour a picture is to look the cloth of each pixel up.
"""

from __future__ import annotations

from typing import Final

import msgspec
import numpy as np
from numpy.typing import NDArray

from core.form.fits import Patch
from core.form.surface import Surface

Values = NDArray[np.float64]
Cells = NDArray[np.int32]
Cloths = NDArray[np.uint8]
Colours = NDArray[np.uint32]

ACROSS, UPWARDS = 480, 720
"""Cells of the texture, by t from the centre front to the centre back and by z."""

BARE, MAIN, SHEER = 0, 1, 2
"""What lies on a cell."""

ROUND: Final = 900
"""Places of half a section: closer than the pixels, so that none is left out."""

LIGHT: Final = np.array([-0.2, 0.75, 0.6]) / np.linalg.norm([-0.2, 0.75, 0.6])
"""Where the light comes from: across, towards the onlooker, up; more from the side makes one breast look larger."""

DARKEST: Final = 0.45
NET: Final = 5
"""Pixels between the threads of the net by which sheer is told."""

SEEN: Final = 6.0
"""A place this little (mm) behind what a pixel shows is seen."""


class View(msgspec.Struct, frozen=True, eq=False):
    """One look at a form, turned by an angle (radians; positive turns her left side forward).

    Each (H, W): `cell` is the texture's cell that a pixel shows, -1 none; `shade` 0 dark to 1 lit; `depth` how near.
    """

    turn: float
    scale: float
    middle: tuple[float, float]
    cell: Cells
    shade: Values
    depth: Values

    def at(self, places: Values) -> Values:
        """Pixels across and down of places (N, 3), and how near (mm) they are, shape (N, 3)."""
        across, near = _turned(places[:, 0], places[:, 1], self.turn)
        return np.column_stack((self.middle[0] + self.scale * across, self.middle[1] - self.scale * places[:, 2], near))

    def is_seen(self, places: Values) -> NDArray[np.bool_]:
        """Whether places (N, 3) are not hidden."""
        thrown = self.at(places)
        high, wide = self.cell.shape
        column = np.clip(thrown[:, 0].astype(int), 0, wide - 1)
        row = np.clip(thrown[:, 1].astype(int), 0, high - 1)
        return np.asarray(thrown[:, 2] >= self.depth[row, column] - SEEN)


def _turned(x: Values, y: Values, turn: float) -> tuple[Values, Values]:
    """Across the picture, and towards the onlooker. She faces us: her left is at our right."""
    return x * np.cos(turn) - y * np.sin(turn), x * np.sin(turn) + y * np.cos(turn)


def view_of(surface: Surface, turn: float, size: tuple[int, int]) -> View:
    """The view of a surface in a picture of (width, height) pixels."""
    wide, high = size
    scale = min(0.94 * high / (surface.high - surface.low), wide / 470.0)
    middle = (wide / 2.0, high / 2.0 + scale * (surface.high + surface.low) / 2.0)
    z: Values = np.asarray((middle[1] - (np.arange(high) + 0.5)) / scale, dtype=np.float64)
    rows = np.flatnonzero((z >= surface.low) & (z <= surface.high))[::-1]
    across, near, lit, t = _halves(surface, z[rows], turn)
    column = np.clip((middle[0] + scale * across).astype(np.int64), 0, wide - 1)
    order = np.argsort(near, axis=0)
    cell, shade, depth = np.full(size[::-1], -1, np.int32), np.zeros(size[::-1]), np.full(size[::-1], -np.inf)
    # Far places are written first, so that near ones stand over them.
    where = (np.broadcast_to(rows, order.shape), np.take_along_axis(column, order, axis=0))
    up = np.clip(((z[rows] - surface.low) / (surface.high - surface.low) * UPWARDS).astype(np.int32), 0, UPWARDS - 1)
    round_ = np.clip((np.abs(t) / np.pi * ACROSS).astype(np.int32), 0, ACROSS - 1)
    cell[where] = round_[order] * UPWARDS + up[None, :]
    shade[where] = np.take_along_axis(lit, order, axis=0)
    depth[where] = np.take_along_axis(near, order, axis=0)
    return View(turn, scale, middle, cell, shade, depth)


def _halves(surface: Surface, z: Values, turn: float) -> tuple[Values, Values, Values, Values]:
    """Across, near and lit, each (T, Z), of sections all round the body, and t (T,)."""
    half = np.linspace(0.0, np.pi, ROUND)
    x, y = surface.x(half, z), surface.y(half, z)
    out_x, out_y, out_z = _outwards(surface.x, surface.y, half, z)
    parts = []
    for side in (1.0, -1.0):
        across, near = _turned(side * x, y, turn)
        aside, towards = _turned(side * out_x, out_y, turn)
        lit = np.clip(aside * LIGHT[0] + towards * LIGHT[1] + out_z * LIGHT[2], 0.0, 1.0)
        parts.append((across, near, lit, side * half))
    left, right = parts
    return (
        np.vstack((left[0], right[0])),
        np.vstack((left[1], right[1])),
        np.vstack((left[2], right[2])),
        np.concatenate((left[3], right[3])),
    )


def _outwards(x: Patch, y: Patch, t: Values, z: Values) -> tuple[Values, Values, Values]:
    """The outward unit normal's three parts, each (T, Z)."""
    x_t, y_t, x_z, y_z = x(t, z, dx=1), y(t, z, dx=1), x(t, z, dy=1), y(t, z, dy=1)
    up = y_t * x_z - x_t * y_z
    long = np.sqrt(x_t**2 + y_t**2 + up**2)
    return -y_t / long, x_t / long, up / long


def filled(t: Values, z: Values, surface: Surface) -> NDArray[np.bool_]:
    """The texture's cells (ACROSS, UPWARDS) whose middles lie inside a closed loop t, z (N,), by even and odd."""
    u = t / np.pi * ACROSS - 0.5
    v = (z - surface.low) / (surface.high - surface.low) * UPWARDS - 0.5
    u_after, v_after = np.roll(u, -1), np.roll(v, -1)
    first, last = np.ceil(np.minimum(u, u_after)), np.ceil(np.maximum(u, u_after))
    count = (last - first).astype(int)
    edge = np.repeat(np.arange(len(u)), count)
    column = first[edge] + np.arange(len(edge)) - np.repeat(np.cumsum(count) - count, count)
    share = (column - u[edge]) / (u_after - u)[edge]
    crossing = np.ceil(v[edge] + share * (v_after - v)[edge])
    inside = (column >= 0) & (column < ACROSS) & (crossing < UPWARDS)
    flips = np.zeros((ACROSS, UPWARDS), np.uint8)
    place = (column[inside].astype(int), np.maximum(crossing[inside], 0).astype(int))
    np.bitwise_xor.at(flips, place, 1)
    return np.bitwise_xor.accumulate(flips, axis=1).astype(np.bool_)


def texture(main: NDArray[np.bool_] | None, sheer: NDArray[np.bool_] | None) -> Cloths:
    """What lies on each cell, (ACROSS, UPWARDS): main cloth, and sheer within it."""
    cloths = np.full((ACROSS, UPWARDS), BARE, np.uint8)
    if main is not None:
        cloths[main] = MAIN
        if sheer is not None:
            cloths[main & sheer] = SHEER
    return cloths


def tints(view: View, colours: tuple[str, str, str, str], around: tuple[str, str]) -> Colours:
    """The picture in each cloth alone, (3, H, W) as 0xffrrggbb: skin, main, and sheer as a net over the skin.

    `colours` are #rrggbb of skin, main, sheer and the net's thread; `around` of what lies round the form, and of the
    thin line that parts it from that.
    """
    skin, main, sheer, thread = (np.array(_parts(colour)) for colour in colours)
    high, wide = view.cell.shape
    row, column = np.mgrid[0:high, 0:wide]
    is_thread = ((row + column) % NET == 0) | ((row - column) % NET == 0)
    veil = np.where(is_thread[..., None], thread, 0.5 * sheer + 0.5 * skin)
    light = (DARKEST + (1.0 - DARKEST) * view.shade)[..., None]
    pictures = [np.broadcast_to(flat, (high, wide, 3)) * light for flat in (skin, main, veil)]
    ground, line = (np.array(_parts(colour)) for colour in around)
    is_ground, is_line = view.cell < 0, _rim(view)
    for picture in pictures:
        picture[is_ground] = ground
        picture[is_line] = line
    return np.stack([_packed(picture) for picture in pictures])


def _rim(view: View) -> NDArray[np.bool_]:
    """The pixels (H, W) of the ground that touch the form."""
    is_form = np.pad(view.cell >= 0, 1)
    beside = is_form[2:, 1:-1] | is_form[:-2, 1:-1] | is_form[1:-1, 2:] | is_form[1:-1, :-2]
    return np.asarray(beside & (view.cell < 0))


def _parts(colour: str) -> tuple[int, int, int]:
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def _packed(picture: Values) -> Colours:
    red, green, blue = np.moveaxis(np.clip(picture, 0, 255).astype(np.uint32), -1, 0)
    packed: Colours = np.uint32(0xFF000000) | (red << np.uint32(16)) | (green << np.uint32(8)) | blue
    return packed


def coloured(view: View, cloths: Cloths, pictures: Colours) -> Colours:
    """The picture (H, W): each pixel in the cloth of its cell."""
    worn = cloths.ravel()[view.cell]
    picture: Colours = pictures[BARE].copy()
    for cloth in (MAIN, SHEER):
        np.copyto(picture, pictures[cloth], where=worn == cloth)
    return picture

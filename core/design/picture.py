"""A picture of the style, laid over the block by landmarks so that the line can be drawn where the picture has it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Final, Literal, TypeAlias

import msgspec
import numpy as np
from numpy.typing import NDArray

from core.errors import Refusal
from core.geometry.polyline import Point
from core.pieces.names import spoken

LARGEST_IMAGE: Final = 3_000_000
"""Bytes of a picture that a design keeps; the window scales a photograph down to far less."""

Share: TypeAlias = Annotated[float, msgspec.Meta(ge=0.0, le=1.0)]

PINNED: Final[dict[str, tuple[str, ...]]] = {
    "front": ("neck_pit", "side_neck", "shoulder_point", "bust_point", "waist_centre", "waist_side"),
    "back": ("nape", "side_neck", "shoulder_point", "underarm", "waist_centre", "waist_side"),
}
"""The landmarks by which a picture is matched to a block, in the order in which they are asked for."""

FEWEST: Final = 3
"""Pins below which a picture is only turned and scaled, not fitted to the block's width and height apart."""

ON_CENTRE: Final = 1.0
"""mm from the centre line within which a landmark lies on it."""

NARROW: Final = 0.02
"""Heights of the picture that the pins must cover across and up before both are scaled apart."""


class Pin(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Where a landmark is seen in the picture: shares of its width from the left and of its height from the top."""

    landmark: Annotated[str, msgspec.Meta(max_length=80)]
    x: Share
    y: Share


class StylePicture(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A PNG or JPEG, which block it shows, where its landmarks are, how strongly it is seen, and whether it is."""

    image: Annotated[bytes, msgspec.Meta(max_length=LARGEST_IMAGE)]
    piece: Literal["front", "back"] = "front"
    pins: Annotated[tuple[Pin, ...], msgspec.Meta(max_length=6)] = ()
    strength: Share = 0.45
    is_shown: bool = True


class Laying(msgspec.Struct, frozen=True, eq=False):
    """How a picture lies: `matrix` (2, 3) takes (x, y, 1) to mm on the block, `off` is the pin farthest from its place.

    x and y are the picture's own, in units of its height: x from 0 to its width / height, y from 0 down to -1.
    """

    matrix: NDArray[np.float64]
    off: float


def laid_picture(picture: StylePicture, aspect: float, landmarks: Mapping[str, Point]) -> Laying | None:
    """The picture laid so that its pins fall on the block's landmarks as nearly as they can; None under two pins.

    `aspect` is width / height. Two pins turn and scale it; from three on its width and its height are scaled apart
    (least squares), as a sketch is seldom as wide as the client, but it is never sheared. Refusal when the pins show
    the body the other way round, or all lie on one spot.
    """
    known = [pin for pin in picture.pins if pin.landmark in landmarks]
    if len(known) < 2:
        return None
    seen = np.array([(pin.x * aspect, -pin.y) for pin in known])
    wanted = np.array([landmarks[pin.landmark] for pin in known])
    if _spread(seen) < 1e-3:
        raise Refusal("The pins of the picture lie on one spot; drag each to where its landmark is seen.")
    matrix = _stretched(seen, wanted) if len(known) >= FEWEST and _narrowest(seen) > NARROW else _similar(seen, wanted)
    if matrix[0, 0] <= 0.0 or np.linalg.det(matrix[:, :2]) <= 0.0:
        names = " and ".join(spoken(pin.landmark) for pin in known[:2])
        raise Refusal(
            f"The pins show the body the other way round; check the {names} pins, or pick the block that the picture "
            f"shows: the pieces are the wearer's left half."
        )
    off = np.linalg.norm(seen @ matrix[:, :2].T + matrix[:, 2] - wanted, axis=1)
    return Laying(matrix, float(off.max()))


def _stretched(seen: NDArray[np.float64], wanted: NDArray[np.float64]) -> NDArray[np.float64]:
    """Turned until the pins of the centre line stand above each other, then scaled across and up apart, and shifted.

    A block is flatter and wider than a body in a picture: were all pins free to turn it, it would come to lie askew.
    """
    centre = sorted((pin for pin in zip(wanted, seen, strict=True) if abs(pin[0][0]) < ON_CENTRE), key=_height)
    across, up = centre[-1][1] - centre[0][1] if len(centre) > 1 else (0.0, 1.0)
    turn = np.array([[up, -across], [across, up]]) / np.hypot(across, up)
    turned = seen @ turn.T
    rows = []
    for axis in (0, 1):
        column = np.column_stack((turned[:, axis], np.ones(len(turned))))
        scale, shift = np.linalg.lstsq(column, wanted[:, axis], rcond=None)[0]
        rows.append([*(scale * turn[axis]), shift])
    return np.array(rows)


def _height(pin: tuple[NDArray[np.float64], NDArray[np.float64]]) -> float:
    return float(pin[0][1])


def _similar(seen: NDArray[np.float64], wanted: NDArray[np.float64]) -> NDArray[np.float64]:
    """Turned, scaled and shifted only: the least squares of z = a w + b over complex numbers."""
    w, z = seen @ (1.0, 1.0j), wanted @ (1.0, 1.0j)
    a, b = np.linalg.lstsq(np.column_stack((w, np.ones(len(w)))), z, rcond=None)[0]
    return np.array([[a.real, -a.imag, b.real], [a.imag, a.real, b.imag]])


def _spread(points: NDArray[np.float64]) -> float:
    return float(np.ptp(points, axis=0).max())


def _narrowest(points: NDArray[np.float64]) -> float:
    """The lesser of what the points cover across and up."""
    return float(np.ptp(points, axis=0).min())

"""How each role of a drawing is drawn on paper: width and dashes in mm, grey from 0 (black) to 1 (white).

Nothing that matters is told by grey alone: a plain black-and-white printer is enough.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import msgspec

from core.outputs.drawing import Role


class Pen(msgspec.Struct, frozen=True):
    """A pen for strokes, fills or texts; `dashes` are lengths on and off in turn, none for a whole line."""

    width: float = 0.3
    grey: float = 0.0
    dashes: tuple[float, ...] = ()
    bold: bool = False


PENS: Final[Mapping[Role, Pen]] = {
    "stitching line": Pen(0.3, 0.0, (3.0, 1.5)),
    "cutting line": Pen(0.5),
    "fold": Pen(0.5, 0.0, (9.0, 1.5, 1.5, 1.5)),
    "dart": Pen(0.35),
    "dart base": Pen(0.3, 0.45, (1.0, 1.0)),
    "level": Pen(0.3, 0.65, (0.8, 1.6)),
    "mark": Pen(0.35, 0.2, (5.0, 1.2, 1.2, 1.2)),
    "notch": Pen(0.5),
    "clip": Pen(0.3),
    "grain": Pen(0.35),
    "join arrow": Pen(0.3, 0.25),
    "label": Pen(bold=True),
    "edge name": Pen(grey=0.35),
    "test square": Pen(0.3, 0.6),
    "test square in inches": Pen(0.3, 0.6, (2.0, 2.0)),
    "test words": Pen(grey=0.5),
    "page label": Pen(grey=0.6, bold=True),
    "frame": Pen(0.3, 0.75),
    "trim line": Pen(0.3, 0.35),
    "glue strip": Pen(grey=0.92),
    "joining mark": Pen(0.3, 0.2),
    "joining words": Pen(grey=0.5),
    "ruler": Pen(0.3, 0.2),
    "map line": Pen(0.3),
    "before": Pen(0.3, 0.65),
    "after": Pen(0.45),
    "new line": Pen(0.7),
    "moved": Pen(0.4, 0.1),
    "heading": Pen(bold=True),
    "words": Pen(grey=0.15),
}

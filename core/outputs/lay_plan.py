"""A lay: parts where they lie on the cloth, and what that comes to.

Its frame is that of `core/design/kept_lay.py`: x along the cloth from its cut end, y across it from the selvedge or, on
folded cloth, from the fold.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from math import radians

import msgspec
from msgspec.structs import replace

from core.design.kept_lay import LayChoices, Model
from core.fabrics.catalogue import Fabric
from core.geometry.placement import Placement
from core.geometry.polyline import Points
from core.outputs.drawing import Box, bounds
from core.outputs.lay_parts import Part, strip_width


class Laid(msgspec.Struct, frozen=True, eq=False, dict=True, weakref=True):
    """A part on the cloth, turned by degrees and shifted; `locked`: it stays when the rest is filled in."""

    part: Part
    x: float
    y: float
    turn: float
    mirrored: bool = False
    locked: bool = False

    @property
    def placement(self) -> Placement:
        """Where a place of the (mirrored) piece lies."""
        return Placement(radians(self.turn), self.x, self.y)

    @cached_property
    def loop(self) -> Points:
        """The outline (N, 2) on the cloth."""
        return self.placement.points(self.part.loop(is_mirrored=self.mirrored))

    @cached_property
    def box(self) -> Box:
        """The box round it."""
        return bounds(self.loop)

    def moved(self, dx: float, dy: float) -> Laid:
        """The part laid elsewhere."""
        return replace(self, x=self.x + dx, y=self.y + dy)


class Lay(msgspec.Struct, frozen=True, eq=False, dict=True, weakref=True):
    """Parts on a fabric. On folded cloth every part is cut through both plies but those laid face down on one."""

    fabric: Fabric
    model: Model
    choices: LayChoices
    laid: tuple[Laid, ...]

    @property
    def strip(self) -> float:
        """mm across which parts lie: the usable width, or half of it on folded cloth."""
        return strip_width(self.fabric, self.model)

    @cached_property
    def length(self) -> float:
        """mm from the first part's beginning to the last part's end."""
        return max(piece.box[2] for piece in self.laid) - min(piece.box[0] for piece in self.laid)

    @cached_property
    def used(self) -> float:
        """The share of the cloth, between its selvedges and over the lay's length, that is cut out."""
        plies = sum(piece.part.area * plies_of(piece, self.model) for piece in self.laid)
        return plies / (self.fabric.usable_width * self.length)

    @cached_property
    def spare(self) -> float:
        """mm of the width that are left along the selvedges over the whole length (on folded cloth at both of them)."""
        return max(0.0, self.strip - max(piece.box[3] for piece in self.laid))

    def settled(self) -> Lay:
        """The lay shifted along so that it begins at x = 0."""
        start = min(piece.box[0] for piece in self.laid)
        return replace(self, laid=tuple(piece.moved(-start, 0.0) for piece in self.laid))


def plies_of(piece: Laid, model: Model) -> int:
    """Through how many plies a part is cut."""
    return 2 if model == "folded" and (piece.part.on_fold or piece.part.finished.piece.cut == "pair") else 1


def parts_of(laid: Sequence[Laid]) -> tuple[Part, ...]:
    """The parts that lie there, each once."""
    return tuple({id(piece.part): piece.part for piece in laid}.values())

"""Finished pieces of a sample design, and one of them with another cutting line, for tests of lay plans."""

from __future__ import annotations

from functools import cache
from unittest.mock import patch

import msgspec
import numpy as np
from msgspec.structs import replace
from numpy.typing import ArrayLike

from core.design.kept_lay import LayChoices, Model
from core.fabrics.catalogue import Fabric
from core.finishing.finish import Finished, finish
from core.outputs import lay_search
from core.outputs.lay_parts import Part, parts_for
from core.outputs.lay_plan import Lay
from core.outputs.lay_search import nothing_laid, search
from tests.samples import design, replayed


@cache
def pieces() -> tuple[Finished, ...]:
    """The pieces of the concert bodice."""
    return finish(design("concert"), replayed("concert").garment)


def piece(name: str) -> Finished:
    """One of them."""
    return next(found for found in pieces() if found.name == name)


def outlined(line: ArrayLike, name: str = "centre back") -> Finished:
    """A piece that is cut as a pair, on the straight grain, along another line."""
    return replace(piece(name), cutting_line=np.array(line, dtype=np.float64))


def rectangle(along: float, across: float) -> Finished:
    """A pair of rectangles; the grain runs along y of the piece's own frame."""
    corners = [(0.0, 0.0), (across, 0.0), (across, along), (0.0, along), (0.0, 0.0)]
    return outlined(corners)


def fabric_of(found: Finished, **changes: object) -> Fabric:
    """The fabric of a piece, altered."""
    return msgspec.structs.replace(found.fabric, **changes)


def parts(
    *found: Finished, model: Model = "open", choices: LayChoices | None = None, fabric: Fabric | None = None
) -> tuple[Part, ...]:
    """The parts of pieces of one fabric."""
    return parts_for([found], fabric or found[0].fabric, choices or LayChoices(gap=0.0), model=model, unit="mm")


def quickly_laid(
    laid: tuple[Part, ...], *, model: Model = "open", choices: LayChoices | None = None, fabric: Fabric | None = None
) -> Lay:
    """The first lay that the engine finds of parts; the rows that it has to better are not laid."""
    bare = nothing_laid(fabric or laid[0].finished.fabric, model, choices or LayChoices(gap=0.0))
    with patch.object(lay_search, "in_rows", only_bare):
        return search(bare, laid, seconds=5.0, told=lambda best: best is not None, workers=1)


def only_bare(bare: Lay, _parts: object) -> Lay:
    """Nothing laid in rows: a lay that lacks its pieces, which is none."""
    return bare

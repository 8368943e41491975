"""What is said about a piece, and where its fabric is chosen: pure, without a widget."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from msgspec.structs import replace

from core.design.design import Design
from core.design.finishes import Pressed, PressedDart
from core.design.replay import Replay
from core.fabrics.catalogue import named
from core.finishing.allowances import FinishedEdge, finished_edges, pressed
from core.finishing.both_halves import for_both_halves
from core.pieces.names import spoken_in_full
from core.pieces.records import Dart, Edge, Piece
from core.steps.choose_fabric import ChooseFabric
from core.steps.cut import Cut
from core.units import Unit, show_angle, show_length

_CUT_WORDS = {"fold": "once, on the fold", "pair": "as a pair", "single": "once"}


def show_area(area: float, unit: Unit) -> str:
    """An area in mm² as text: square inches where lengths are in inches, else square centimetres."""
    return f"{area / 25.4**2:.1f} sq in" if unit == "in" else f"{area / 100.0:.1f} cm²"


def cut_words(piece: Piece) -> str:
    """How the piece is cut."""
    return _CUT_WORDS[piece.cut]


def edge_cells(edge: Edge, finished: FinishedEdge | None, unit: Unit) -> tuple[str, str, str, str]:
    """Name, kind or finish, length and allowance of an edge; "…" where stretches of it have others."""
    use = finished.use if finished is not None and finished.use != "plain" else edge.kind
    if finished is None:
        return spoken_in_full(edge.name), use, show_length(edge.length, unit), ""
    more = " …" if len(finished.stretches) > 1 else ""
    allowance = "fold" if edge.kind == "fold" else f"{show_length(finished.allowance, unit)}{more}"
    return spoken_in_full(edge.name), use, show_length(edge.length, unit), allowance


def edges_of(replay: Replay, piece: Piece) -> dict[str, FinishedEdge]:
    """The finished edges of a piece by name; none while its fabric is none of the design's."""
    fabric = next((fabric for fabric in replay.design.fabrics if fabric.name == piece.fabric), None)
    if fabric is None:
        return {}
    return finished_edges(replay.garment, piece, fabric, for_both_halves(replay.design, replay.garment))


def dart_words(piece: Piece, dart: Dart, unit: Unit) -> str:
    """For example: `waist dart: 12.6 degrees, 1 3/8 in wide, 6 in long`."""
    name = spoken_in_full(dart.name.removeprefix(f"{piece.block}."))
    wide, long = show_length(dart.width, unit), show_length(dart.leg_length, unit)
    return f"{name}: {show_angle(dart.angle)}, {wide} wide, {long} long"


def naming_cut(design: Design, piece: str) -> Cut | None:
    """The step that names a piece and its fabric, the last one if there are several; None for a block or a cup."""
    cuts = [step for step in design.steps if isinstance(step, Cut) and any(tag.name == piece for tag in step.tags)]
    return cuts[-1] if cuts else None


def with_fabric(design: Design, piece: str, fabric: str) -> Design:
    """The design with another fabric for a piece: on its tag where a cut names it, else by a step of its own.

    Refusal for a fabric that the design does not have.
    """
    named(design.fabrics, fabric)
    chosen = [step for step in design.steps if isinstance(step, ChooseFabric) and step.piece == piece]
    if chosen:
        return design.with_step(replace(chosen[-1], fabric=fabric))
    cut = naming_cut(design, piece)
    if cut is None:
        return design.with_step(ChooseFabric(design.fresh_id("fabric"), piece, fabric))
    tags = tuple(replace(tag, fabric=fabric) if tag.name == piece else tag for tag in cut.tags)
    return design.with_step(replace(cut, tags=tags))


PRESSED: Final[Mapping[str, str]] = {"centre": "to the centre", "side": "to the side"}


def pressed_words(design: Design, piece: Piece) -> str:
    """To which side the darts of a piece are pressed: a key of PRESSED, "" where they differ."""
    ways = {pressed(design, piece, dart) for dart in piece.darts}
    return ways.pop() if len(ways) == 1 else ""


def with_pressed(design: Design, piece: Piece, towards: Pressed) -> Design:
    """The design with all darts of a piece pressed to one side."""
    finishing = design.finishing
    for dart in piece.darts:
        finishing = finishing.with_dart(PressedDart(piece.name, dart.name, towards))
    return replace(design, finishing=finishing)

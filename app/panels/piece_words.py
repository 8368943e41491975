"""What is said about a piece, and where its fabric is chosen: pure, without a widget."""

from __future__ import annotations

from msgspec.structs import replace

from core.design.design import Design
from core.errors import Refusal
from core.fabrics.catalogue import named
from core.pieces.names import spoken_in_full
from core.pieces.records import Dart, Edge, Garment, Piece
from core.steps.cut import Cut
from core.units import Unit, show_angle, show_length

_CUT_WORDS = {"fold": "once, on the fold", "pair": "as a pair", "single": "once"}


def show_area(area: float, unit: Unit) -> str:
    """An area in mm² as text: square inches where lengths are in inches, else square centimetres."""
    return f"{area / 25.4**2:.1f} sq in" if unit == "in" else f"{area / 100.0:.1f} cm²"


def cut_words(piece: Piece) -> str:
    """How the piece is cut."""
    return _CUT_WORDS[piece.cut]


def edge_cells(edge: Edge, unit: Unit) -> tuple[str, str, str]:
    """Name, kind and length of an edge."""
    return spoken_in_full(edge.name), edge.kind, show_length(edge.length, unit)


def dart_words(piece: Piece, dart: Dart, unit: Unit) -> str:
    """For example: `waist dart: 12.6 degrees, 1 3/8 in wide, 6 in long`."""
    name = spoken_in_full(dart.name.removeprefix(f"{piece.block}."))
    wide, long = show_length(dart.width, unit), show_length(dart.leg_length, unit)
    return f"{name}: {show_angle(dart.angle)}, {wide} wide, {long} long"


def naming_cut(design: Design, piece: str) -> Cut | None:
    """The step that names a piece and its fabric, the last one if there are several; None for a block or a cup."""
    cuts = [step for step in design.steps if isinstance(step, Cut) and any(tag.name == piece for tag in step.tags)]
    return cuts[-1] if cuts else None


def where_fabric_is_chosen(design: Design, garment: Garment, piece: str) -> str:
    """Why a piece's fabric cannot be chosen here, in a sentence; "" when it can."""
    if naming_cut(design, piece) is not None:
        return ""
    if piece in garment.blocks:
        return f"The {piece} is not cut yet: the cut that divides it gives each panel its fabric."
    return f"The step that makes the {piece} gives it its fabric."


def with_fabric(design: Design, piece: str, fabric: str) -> Design:
    """The design with another fabric for a panel, written on its tag. Refusal for a piece that no cut names."""
    named(design.fabrics, fabric)
    cut = naming_cut(design, piece)
    if cut is None:
        raise Refusal(f"No cut names the piece {piece}, so its fabric cannot be chosen: cut it out first.", piece=piece)
    tags = tuple(replace(tag, fabric=fabric) if tag.name == piece else tag for tag in cut.tags)
    return design.with_step(replace(cut, tags=tags))

"""What a dressmaker might do next to the garment on her table, drawn by chance.

She sees what lies there, so she turns the grain of a folded piece across and not askew, takes in a seam at levels that
it passes, and mirrors together what is sewn together. Whether the act can be done is still the program's to say.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from hypothesis import strategies as st

from core.design.design import Design
from core.errors import Refusal
from core.geometry.polyline import point_at
from core.pieces.levels import seam_levels
from core.pieces.places import place_at
from core.pieces.records import Edge, Garment, Piece
from core.pieces.seams import matches
from core.steps.catalogue import AnyStep
from core.steps.choose_fabric import ChooseFabric
from core.steps.copy_pieces import CopyPieces
from core.steps.cut import Cut
from core.steps.cut_tags import proposed_tags
from core.steps.grain import TurnGrain
from core.steps.join import Join
from core.steps.mapping import landmarks_of
from core.steps.mirror import Mirror
from core.steps.move_edge import MoveEdge
from core.steps.pivot import Becomes, Pivot
from core.steps.seam_ease import SeamEase
from core.steps.set_back import SetBack
from core.steps.slash import SlashAndSpread
from core.steps.step import LinePoint
from core.steps.style_line import StyleLine
from core.steps.take_in import Across, Level, TakeIn, Taper
from core.steps.trim import SideChoice, Trim
from core.steps.true import DartBase, SmoothEdge, SmoothJoint, SquareCorner, Straighten, Truing
from core.steps.unfold import Unfold, sewn_together

Acts = Sequence[AnyStep]
TAPERS: Final[tuple[Taper, ...]] = ("wedge", "fade")
ACROSS: Final[tuple[Across, ...]] = ("leave", "ease")
SIDES: Final[tuple[SideChoice, ...]] = ("longer", "shared", "a", "b")
BECOMES: Final[tuple[Becomes, ...]] = ("dart", "ease", "gathers")
amounts = st.floats(-12.0, 12.0)
shares = st.floats(0.1, 0.9)


@st.composite
def acts(draw: st.DrawFn, design: Design, garment: Garment) -> Acts:
    """One act on a piece or a seam of the garment: a step, or the two of a line and the cut along it."""
    act = draw(st.sampled_from([on_piece, on_seam, on_edge, panel_line, on_dart]))
    return draw(act(design, garment))


def pieces(garment: Garment) -> st.SearchStrategy[Piece]:
    """One of the pieces."""
    return st.sampled_from(list(garment.pieces.values()))


def edges(piece: Piece, *, folds: bool = False) -> st.SearchStrategy[Edge]:
    """One of the edges that can be seen as such: no base of a dart and, unless that is wanted, no fold."""
    without = {"dart base"} if folds else {"dart base", "fold"}
    return st.sampled_from([edge for edge in piece.edges if edge.kind not in without])


@st.composite
def on_piece(draw: st.DrawFn, design: Design, garment: Garment) -> Acts:
    """Grain, halves, copies, fabric, the mirror, a slash: what is done to a whole piece."""
    piece, fresh = draw(pieces(garment)), design.fresh_id
    group = tuple(other.name for other in sewn_together(garment, piece.name))
    fabric = draw(st.sampled_from([fabric.name for fabric in design.fabrics]))
    word = draw(st.sampled_from(["lining", "underlining", "second"]))
    degrees = draw(st.sampled_from([-90.0, 90.0]) if piece.cut == "fold" else st.floats(-60.0, 60.0))
    steps: list[AnyStep] = [
        TurnGrain(fresh("grain"), piece.name, degrees),
        Mirror(fresh("mirror"), group),
        CopyPieces(fresh("copy"), group, word, fabric),
        CopyPieces(fresh("copy"), (piece.name,), word, fabric),
        ChooseFabric(fresh("fabric"), piece.name, fabric),
        draw(slashes(design, garment, piece)),
    ]
    if piece.cut != "fold":
        steps.append(TurnGrain(fresh("grain"), piece.name, 0.0, draw(edges(piece)).name))
    if not any(garment.piece(name).is_single for name in group):
        steps.append(Unfold(fresh("unfold"), piece.name))
    return (draw(st.sampled_from(steps)),)


@st.composite
def slashes(draw: st.DrawFn, design: Design, garment: Garment, piece: Piece) -> AnyStep:
    """A piece opened from one edge to another."""
    opens = draw(edges(piece))
    hinge = draw(st.sampled_from([edge for edge in piece.edges if edge is not opens and edge.kind != "dart base"]))
    ends = [place_at(garment, edge, draw(shares) * edge.length) for edge in (opens, hinge)]
    return SlashAndSpread(design.fresh_id("slash"), piece.name, ends[0], ends[1], draw(amounts))


@st.composite
def spots(draw: st.DrawFn, garment: Garment, edge: Edge) -> LinePoint:
    """A place on an edge, well away from its ends."""
    distance = draw(shares) * edge.length
    return LinePoint(*point_at(edge.points, distance), place=place_at(garment, edge, distance))


@st.composite
def on_seam(draw: st.DrawFn, design: Design, garment: Garment) -> Acts:
    """A seam taken in or let out, trimmed, eased, or laid shut."""
    fresh = design.fresh_id
    found = draw(st.sampled_from(matches(garment)))
    name = found.seam.name
    levels = seam_levels(found)
    kind = draw(st.sampled_from(["take in", "trim", "ease", "join"]))
    if kind == "take in" and len(levels) > 1:
        first = draw(st.integers(0, len(levels) - 2))
        last = draw(st.integers(first + 1, len(levels) - 1))
        taken = [
            Level(level.name, amount, amount)
            for number, level in enumerate(levels[first : last + 1], first)
            # An amount that neither comes to nothing nor runs on to the end of the seam would end in a step.
            for amount in [draw(amounts) if first < number < last or number in (0, len(levels) - 1) else 0.0]
        ]
        taper = draw(st.sampled_from(TAPERS))
        across = draw(st.sampled_from(ACROSS))
        return (TakeIn(fresh("take-in"), name, tuple(taken), taper, across),)
    if kind == "join" and len(found.pieces) == 2:
        return (
            Join(fresh("join"), name, draw(st.sampled_from(found.seam.ends)), found.pieces[0], draw(st.booleans())),
        )
    if kind == "trim":
        side = draw(st.sampled_from(SIDES))
        return (Trim(fresh("trim"), name, draw(st.sampled_from(["", *found.seam.ends])), side),)
    return (SeamEase(fresh("ease"), name, draw(amounts) / 3),)


@st.composite
def on_edge(draw: st.DrawFn, design: Design, garment: Garment) -> Acts:
    """An edge moved or trued."""
    piece = draw(pieces(garment))
    edge, fresh = draw(edges(piece)), design.fresh_id
    before, after = piece.neighbours(edge.name)
    kind = draw(st.sampled_from(["move", "straighten", "smooth", "joint", "square"]))
    match kind:
        case "straighten":
            return (Truing(fresh("true"), piece.name, Straighten((edge.name,))),)
        case "smooth":
            way = SmoothEdge(edge.name, points=draw(st.integers(0, 5)))
            return (Truing(fresh("true"), piece.name, way),)
        case "joint" if after.kind not in ("fold", "dart base"):
            joint = SmoothJoint((edge.name, after.name), draw(st.floats(5.0, 40.0)), draw(st.booleans()))
            return (Truing(fresh("true"), piece.name, joint),)
        case "square":
            beside = draw(st.sampled_from([before, after]))
            return (Truing(fresh("true"), piece.name, SquareCorner(edge.name, beside.name)),)
        case _:
            return (MoveEdge(fresh("move"), piece.name, edge.name, draw(amounts)),)


@st.composite
def on_dart(draw: st.DrawFn, design: Design, garment: Garment) -> Acts:
    """A dart pivoted, set back or trued; where none is left, an edge is worked on."""
    found = [(piece, dart) for piece in garment.pieces.values() for dart in piece.darts]
    if not found:
        return draw(on_edge(design, garment))
    piece, dart = draw(st.sampled_from(found))
    kind, fresh = draw(st.sampled_from(["pivot", "set back", "base"])), design.fresh_id
    if kind == "set back":
        return (SetBack(fresh("set-back"), piece.name, dart.name),)
    if kind == "base":
        return (Truing(fresh("true"), piece.name, DartBase(dart.name, draw(st.sampled_from(["centre", "side"])))),)
    place, share = draw(spots(garment, draw(edges(piece)))).place, draw(shares)
    becomes, reach = draw(st.sampled_from(BECOMES)), draw(st.floats(10.0, 40.0))
    return (Pivot(fresh("pivot"), piece.name, dart.name, place=place, share=share, becomes=becomes, reach=reach),)


@st.composite
def panel_line(draw: st.DrawFn, design: Design, garment: Garment) -> Acts:
    """A line from edge to edge over a point between them, and the cut along it."""
    piece, fresh = draw(pieces(garment)), design.fresh_id
    start = draw(edges(piece, folds=True))
    stop = draw(st.sampled_from([edge for edge in piece.edges if edge is not start and edge.kind != "dart base"]))
    first, last = (draw(spots(garment, edge)) for edge in (start, stop))
    bend = draw(st.floats(-0.15, 0.15))
    across, up = last.x - first.x, last.y - first.y
    middle = LinePoint(first.x + across / 2 + bend * up, first.y + up / 2 - bend * across)
    points = (first, middle, last)
    word = fresh("panel")
    line = StyleLine(word, piece.name, f"{piece.block}.{word}", points, landmarks_of(piece), "panel", intended=True)
    try:
        drawn = line.apply(garment).garment
        tags = proposed_tags(drawn, drawn.piece(piece.name), (line.name,))
    except Refusal:
        return (line,)
    return (line, Cut(fresh("cut"), piece.name, (line.name,), tags, line.drawn_on))

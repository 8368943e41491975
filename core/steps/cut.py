"""Cut: divide a piece along drawn lines into numbered panels, and record the seams that sew them again."""

from __future__ import annotations

from math import atan2, pi

import msgspec
from msgspec.structs import replace

from core.errors import Refusal
from core.geometry.planar import inside_each
from core.geometry.polyline import as_points, length, signed_area
from core.geometry.tolerances import SLIVER
from core.pieces.dividing import CUT_OFF, REMNANT, Divided, divide, divide_along_dart, divide_remnant, shut
from core.pieces.names import all_of, spoken
from core.pieces.outline import is_centre, local_name
from core.pieces.records import Change, Dart, Garment, OriginEdge, Piece, Seam
from core.steps.cut_points import points_to_round
from core.steps.mapping import mapped_points
from core.steps.step import Effect, Landmarks, Name, Note, Number, Step
from core.units import Unit


class Tag(msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """A panel's name and number, hung on a point (mm) inside it, so that they stay when the lines move."""

    x: float
    y: float
    name: Name
    number: Number
    fabric: str = "main"


class Cut(Step, frozen=True, tag="cut"):
    """Cut a piece along lines drawn on it.

    `darts` names the darts whose legs go into a seam: where a line ends at their pivot, or, when their pivot has come
    to lie on a cut edge, along their legs alone. A dart that ends on a cut edge with its point there is closed unless
    it is in `keep_open`. Where a line crosses a dart, the side without its pivot is closed along what is left of the
    legs, or left as two panels with a seam there where the dart is in `apart`.
    """

    piece: str
    lines: tuple[str, ...]
    tags: tuple[Tag, ...]
    drawn_on: Landmarks
    darts: tuple[str, ...] = ()
    keep_open: tuple[str, ...] = ()
    apart: tuple[str, ...] = ()

    def reads(self, garment: Garment) -> tuple[object, ...]:
        """The piece that is cut, and the names and numbers that other pieces have taken."""
        return (garment.piece(self.piece), *garment.taken(self.piece))

    def effect(self, garment: Garment) -> Effect:
        """The panels, numbered by their tags, and the seams between them; cloth areas add up to the piece's.

        Refusal when a line is not drawn or cuts nothing off, when no line crosses a dart that is to stay apart, when
        two tags hang in one panel or one hangs in none, when a panel is a sliver, or a name or number is taken.
        """
        piece = garment.piece(self.piece)
        sides, cuts = divided_along(piece, self.lines, self.darts, self.apart)
        self._refuse_slivers(sides)
        panels = self._tagged(garment, piece, sides)
        panels = tuple(with_grain(shut(panel, self.keep_open)) for panel in panels)
        seams: dict[str, Seam | None] = {cut.seam.name: cut.seam for cut in cuts}
        origins = {dart.name: leg_origin(piece, dart) for cut in cuts for dart in cut.legs}
        origins |= {cut.seam.name: _rest_origin(cut) for cut in cuts if cut.seam.name.endswith(CUT_OFF)}
        named = (self._named(panel) for panel in panels if panel.name not in {tag.name for tag in self.tags})
        notes = (*named, *points_to_round(panels, [cut.seam for cut in cuts]))
        return Effect(Change(pieces={piece.name: panels}, seams=seams, origins=origins), notes)

    def _refuse_slivers(self, sides: list[Piece]) -> None:
        if min(signed_area(side.loop) for side in sides) < SLIVER:
            raise Refusal(
                f"The lines cut a sliver off piece {self.piece} that no scissors could; move them apart, or let them "
                "meet in one point.",
                piece=self.piece,
            )

    def _tagged(self, garment: Garment, piece: Piece, sides: list[Piece]) -> tuple[Piece, ...]:
        places = mapped_points(piece, [(tag.x, tag.y) for tag in self.tags], self.drawn_on)
        held = inside_each([side.loop for side in sides], as_points(places)).T.tolist() if places else []
        hung: dict[int, Tag] = {}
        for number, tag in enumerate(self.tags):
            index = self._panel_under(held[number], tag)
            if index in hung:
                raise Refusal(
                    f"The tags {hung[index].name} and {tag.name} hang in one panel of piece {self.piece}; move one, or "
                    f"draw the line between them.",
                    piece=self.piece,
                )
            hung[index] = tag
        self._refuse_taken(garment)
        return tuple(self._panel(side, hung.get(index), index) for index, side in enumerate(sides))

    def _panel_under(self, holding: list[bool], tag: Tag) -> int:
        """The side that a tag hangs in, told which of them hold it."""
        if True not in holding:
            raise Refusal(
                f"The tag {tag.name} hangs outside every panel of piece {self.piece}; move it into its panel.",
                piece=self.piece,
            )
        return holding.index(True)

    def _refuse_taken(self, garment: Garment) -> None:
        names = [tag.name for tag in self.tags]
        others = dict(garment.taken(self.piece))
        for tag in self.tags:
            if names.count(tag.name) > 1 or tag.name in others:
                raise Refusal(f"There is a piece {tag.name} already; give the panel another name.", piece=tag.name)
            if tag.number in others.values() or [other.number for other in self.tags].count(tag.number) > 1:
                raise Refusal(f"Number {tag.number} is taken; give panel {tag.name} another.", piece=tag.name)

    def _panel(self, side: Piece, tag: Tag | None, index: int) -> Piece:
        if tag is not None:
            return replace(side, name=tag.name, number=tag.number, fabric=tag.fabric)
        return replace(side, name=f"{self.piece} {index + 1}", number=0)

    def _named(self, panel: Piece) -> Note:
        sentence = f"A panel without a tag was called {panel.name}: hang a tag in it to number it."
        return Note("named", sentence, panel.name)

    def sentence(self, garment: Garment, unit: Unit) -> str:
        """For example: Cut the front along the sheer line and the waist dart into 1 yoke and 2 lower front."""
        return self.told(garment, self.effect(garment), unit)

    def told(self, garment: Garment, effect: Effect, unit: Unit) -> str:
        """The sentence, with the panels that the cut made."""
        ends = (name + CUT_OFF for name in self.apart)
        along = all_of([spoken(name) for name in (*self.lines, *self.darts, *ends)])
        panels = sorted((panel.number, panel.name) for panel in effect.change.pieces[self.piece])
        *first, last = (f"{number} {name}" for number, name in panels)
        return f"Cut the {self.piece} along {along} into {', '.join(first)} and {last}."


def divided_along(
    piece: Piece, lines: tuple[str, ...], darts: tuple[str, ...], apart: tuple[str, ...]
) -> tuple[list[Piece], list[Divided]]:
    """The sides after every line and dart, still unnamed and their darts open, and the cuts that made them."""
    if not lines and not darts:
        raise Refusal(f"Choose a line to cut piece {piece.name} along.", piece=piece.name)
    sides, cuts = [piece], []
    for name in lines:
        sides, done = _along_line(sides, piece, name, darts)
        cuts.extend(done)
    taken = {dart.name for cut in cuts for dart in cut.legs}
    for name in darts:
        if name not in taken:
            sides, done = _along_dart(sides, piece, name)
            cuts.extend(done)
    for name in apart:
        sides, done = _along_remnant(sides, piece, name)
        cuts.extend(done)
    return sides, cuts


GRAIN_LEVELS = ("bust_line", "under_bust_line", "upper_bust_line")
"""The level lines that a loose panel's grain is laid square to, the best first."""


def with_grain(panel: Piece) -> Piece:
    """The panel with its grain square to the bust line where it has no centre edge of its own to lie along.

    A side panel that turned with a dart keeps its cloth's grain that way (trade.md D6).
    """
    if any(is_centre(edge) for edge in panel.edges):
        return panel
    for level in GRAIN_LEVELS:
        stretches = [s for line in panel.lines if line.name.endswith(f".{level}") for s in line.stretches]
        if stretches:
            dx, dy = max(stretches, key=length)[[0, -1]].T @ (-1.0, 1.0)
            return replace(panel, grain=atan2(dx, -dy) % pi)
    return panel


def _rest_origin(cut: Divided) -> OriginEdge:
    """What is left of a crossed dart's legs as an original edge, measured from the cut out."""
    (leg,) = (edge for edge in cut.left.edges if edge.origin.edge == cut.seam.name)
    return OriginEdge(cut.seam.name, leg.length, cut.seam.ends)


def leg_origin(piece: Piece, dart: Dart) -> OriginEdge:
    """A dart's leg as an original edge, measured from the pivot out to the edge that the dart stood in."""
    outer = piece.neighbours(piece.dart(dart.name).base)[0]
    return OriginEdge(dart.name, dart.leg_length, ("pivot", local_name(outer.origin.edge)))


def _along_line(
    sides: list[Piece], whole: Piece, name: str, darts: tuple[str, ...]
) -> tuple[list[Piece], list[Divided]]:
    """Every side that holds a stretch of the line, divided along it."""
    whole.line(name)
    found: list[Piece] = []
    cuts: list[Divided] = []
    for side in sides:
        if any(line.name == name for line in side.lines):
            divided = divide(side, side.line(name), darts)
            cuts.append(divided)
            found += [divided.left, divided.right]
        else:
            found.append(side)
    return found, cuts


def _along_dart(sides: list[Piece], whole: Piece, name: str) -> tuple[list[Piece], list[Divided]]:
    whole.dart(name)
    found: list[Piece] = []
    cuts: list[Divided] = []
    for side in sides:
        if any(dart.name == name for dart in side.darts):
            cuts.append(divide_along_dart(side, side.dart(name)))
            found += [cuts[-1].left, cuts[-1].right]
        else:
            found.append(side)
    return found, cuts


def _along_remnant(sides: list[Piece], whole: Piece, name: str) -> tuple[list[Piece], list[Divided]]:
    """The side that a line left with the end of a dart, without its pivot, divided along its legs."""
    whole.dart(name)
    index = next((i for i, side in enumerate(sides) if any(e.origin.edge == name + REMNANT for e in side.edges)), None)
    if index is None:
        raise Refusal(
            f"No line of the cut crosses the {spoken(name)} of piece {whole.name}, so nothing of it is left as two "
            f"panels; draw a line across it, or let it be closed.",
            piece=whole.name,
        )
    divided = divide_remnant(sides[index], sides[index].dart(name))
    return [*sides[:index], divided.left, divided.right, *sides[index + 1 :]], [divided]

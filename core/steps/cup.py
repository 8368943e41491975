"""Cup: two or three pieces that back the bust behind the sheer, drafted from the block with its shaping in seams."""

from __future__ import annotations

from functools import lru_cache
from math import degrees
from typing import Final, Literal, TypeAlias

import msgspec
from msgspec.structs import replace

from core.errors import Refusal
from core.geometry.placement import gap
from core.pieces.cone import Cone, circle_on, cone_of
from core.pieces.cup_cover import Cover, cover_of
from core.pieces.cup_pieces import SEAM, copied, cover_lines, cup_pieces
from core.pieces.cup_shape import (
    CupShape,
    Reaches,
    Rim,
    angle_of,
    reach_to_centre,
    rim_of,
    three_parts,
    two_parts,
    with_turning,
)
from core.pieces.names import line_said
from core.pieces.opening import Opening, opening_of, opening_pieces, sheer_lines
from core.pieces.records import Change, Garment, Piece
from core.steps.step import Effect, Name, Note, Number, Step
from core.units import Unit, show_length

Parts: TypeAlias = Literal[2, 3]

WIDEST: Final = 60.0
"""More underlap, turning or tightening than this (mm) is no part of a cup."""

SMALLEST_RADIUS: Final = 25.0
"""A cup edge nearer the bust point than this (mm) covers nothing that could be sewn."""

LARGEST_RADIUS: Final = 250.0
"""A cup edge farther from the bust point than this (mm) is no cup's."""

LEAST_ROUNDING: Final = 10.0
"""Rounded less than this (mm) the cup would show its point through any cloth."""

ROUNDING_SHARE: Final = 0.8
"""Where no rounding is given, the seams curve over the point within this share of the bust circle's mean radius."""

MOST_INTAKE: Final = 150.0
"""Degrees: seams that take out more leave no pieces that could be sewn together."""

LINING: Final = "lining"
FOAM: Final = "foam"


class CupPlan(msgspec.Struct, frozen=True, eq=False):
    """What a cup step works out before it makes pieces.

    The shape with its turning and `bare` of it, the bust circle it was drafted from, the opening before the cup and the
    stretch of that which lies over the cup; None where no sheer line does.
    """

    shape: CupShape
    bare: CupShape
    circle: Rim
    opening: Opening | None = None
    cover: Cover | None = None

    @property
    def turned_under(self) -> CupPlan:
        """The plan of the cup as it is once its turning is turned under."""
        return replace(self, shape=self.bare)


class Cup(Step, frozen=True, tag="cup"):
    """Draft a cup in two pieces (a seam over the bust point) or three (a cross seam, an upper part and two lower ones).

    `top` and `bottom` are distances (mm) from the side neck point over the bust point, measured with the shoulder dart
    closed; `inner` and `outer` from the bust point; None takes the bust circle grown by `underlap`. `turning` is added
    below. The block's two darts go into the seams in equal shares; `tighten_above` and `tighten_below` (mm at the rim)
    are taken out besides, to nothing at the bust point. `rounding` is the radius (mm) within which the seams curve over
    the point. `opening` names the sheer line before the cup; "" takes the first. Copies are cut from lining and foam.
    """

    numbers: tuple[Number, ...]
    names: tuple[Name, ...] = ()
    parts: Parts = 2
    top: float | None = None
    bottom: float | None = None
    inner: float | None = None
    outer: float | None = None
    underlap: float = 12.7
    turning: float = 12.7
    tighten_above: float = 0.0
    tighten_below: float = 0.0
    rounding: float | None = None
    opening: str = ""
    lining: bool = False
    foam: bool = False
    block: str = "front"

    def reads(self, garment: Garment) -> tuple[object, ...]:
        """The block, the opening with the pieces along it, and the names and numbers that are taken."""
        line = self._line(garment)
        along = opening_pieces(garment, self.block, line) if line else ()
        return (garment.blocks.get(self.block), line, *along, *garment.taken())

    def effect(self, garment: Garment) -> Effect:
        """The pieces of the cup and its copies, and the seams between them, whose sides are equal.

        Refusal when the block has no two darts at the bust point, when a level, reach or amount makes no cup, or when
        a name or number is taken.
        """
        self._refuse_taken(garment)
        plan = self.plan(garment)
        marks = cover_lines(plan.bare, plan.cover) if plan.cover is not None else {}
        names = self._names(plan)
        whole = cup_pieces(plan.shape, marks, names=names, numbers=self.numbers, turning=self.turning)
        layers = [whole]
        numbers = garment.free_numbers(*self.numbers)
        if self.lining:
            layers.append(copied(whole, LINING, LINING, [next(numbers) for _ in names]))
        if self.foam:
            bare = cup_pieces(plan.bare, marks, names=names, numbers=self.numbers, is_hemmed=False)
            layers.append(copied(bare, FOAM, FOAM, [next(numbers) for _ in names]))
        change = Change(
            added=tuple(piece for layer in layers for piece in layer.pieces),
            seams={name: seam for layer in layers for name, seam in layer.seams.items()},
            origins={name: origin for layer in layers for name, origin in layer.origins.items()},
        )
        return Effect(change, self._notes(garment, plan))

    def plan(self, garment: Garment) -> CupPlan:
        """The shape of the cup on this garment and the opening over it; Refusal as `effect`."""
        draft = _drafted(self, self._block(garment))
        line = self._line(garment)
        opening = opening_of(garment, self.block, draft.bare.cone, line) if line else None
        cover = cover_of(opening, draft.bare) if opening is not None else None
        return replace(draft, opening=opening, cover=cover)

    def draft(self, block: Piece) -> CupPlan:
        """The plan on a block, whatever lies before it; Refusal as `effect`."""
        self._refuse_amounts()
        cone = cone_of(block)
        closed, radii = circle_on(block, cone)
        quarter = cone.cloth / 4
        circle = Rim(closed, radii, cone.down + quarter, cone.top + quarter)
        rim = rim_of(cone, (closed, radii), self._reaches(block, cone), underlap=self.underlap)
        bare = self._shape(cone, rim, float(radii.mean()))
        return CupPlan(replace(bare, rim=with_turning(cone, rim, self.turning)), bare, circle)

    def _shape(self, cone: Cone, rim: Rim, mean: float) -> CupShape:
        above = angle_of(self.tighten_above, float(rim.at(cone.top)))
        below = angle_of(self.tighten_below, float(rim.at(cone.down)))
        intake = degrees(cone.intake + above + below)
        if intake > MOST_INTAKE:
            raise Refusal(
                f"The cup's seams would take out {intake:.0f} degrees; tighten it less, so that they take out no more "
                f"than {MOST_INTAKE:.0f}."
            )
        parts, taken = (two_parts if self.parts == 2 else three_parts)(cone, above, below)
        rounding = ROUNDING_SHARE * mean if self.rounding is None else self.rounding
        return CupShape(cone, parts, taken, rim, rounding)

    def _names(self, plan: CupPlan) -> tuple[str, ...]:
        return self.names or tuple(part.name for part in plan.shape.parts)

    def _line(self, garment: Garment) -> str:
        lines = sheer_lines(garment, self.block)
        if self.opening and self.opening not in lines:
            there = ", ".join(line_said(line) for line in lines) or "none"
            raise Refusal(
                f"There is no {line_said(self.opening)} for the cup to stand behind; the sheer lines of the "
                f"{self.block} are: {there}."
            )
        return self.opening or next(iter(lines), "")

    # --- what cannot be

    def _refuse_taken(self, garment: Garment) -> None:
        if SEAM in garment.seams:
            raise Refusal("There is a cup already: alter that one in the list of steps, or delete it first.")
        names = self.names or STANDARD_NAMES[self.parts]
        if len(self.numbers) != self.parts or len(names) != self.parts:
            raise Refusal(f"The cup has {self.parts} pieces; give it as many numbers and names.")
        if len(set(names)) < self.parts or len(set(self.numbers)) < self.parts:
            raise Refusal(f"The {WORDS[self.parts]} pieces of the cup need {WORDS[self.parts]} names and numbers.")
        words = [*([LINING] if self.lining else []), *([FOAM] if self.foam else [])]
        taken = dict(garment.taken())
        for name in (*names, *(f"{word} {name}" for word in words for name in names)):
            if name in taken:
                raise Refusal(f"There is a piece {name} already; give the cup piece another name.", piece=name)
        for name, number in zip(names, self.numbers, strict=True):
            if number in taken.values():
                raise Refusal(f"Number {number} is taken; give the {name} another.", piece=name)

    def _refuse_amounts(self) -> None:
        amounts = {
            "underlap": self.underlap,
            "turning": self.turning,
            "tightening above": self.tighten_above,
            "tightening below": self.tighten_below,
        }
        for name, amount in amounts.items():
            if not 0.0 <= amount <= WIDEST:
                raise Refusal(f"A cup with {amount:.0f} mm of {name} cannot be sewn; give from 0 to {WIDEST:.0f} mm.")
        if self.rounding is not None and not LEAST_ROUNDING <= self.rounding <= LARGEST_RADIUS:
            raise Refusal(
                f"Seams rounded within {self.rounding:.0f} mm of the bust point make no cup; give from "
                f"{LEAST_ROUNDING:.0f} to {LARGEST_RADIUS:.0f} mm, or the cup shows a point."
            )
        if self.top is not None and self.bottom is not None and self.top >= self.bottom:
            raise Refusal(
                f"The cup's top lies {self.top:.0f} mm from the side neck point and its bottom {self.bottom:.0f} mm: "
                f"the top is under the bottom; exchange the two."
            )

    def _block(self, garment: Garment) -> Piece:
        if self.block not in garment.blocks:
            raise Refusal(f"There is no block {self.block} to draft a cup from; there are {', '.join(garment.blocks)}.")
        return garment.blocks[self.block]

    def _reaches(self, block: Piece, cone: Cone) -> Reaches:
        """How far the rim lies from the bust point where levels or reaches were typed."""
        level = gap(block.landmarks["side_neck"], cone.centre)
        top = None if self.top is None else level - self.top
        bottom = None if self.bottom is None else self.bottom - level
        for name, given, reach in (("top", self.top, top), ("bottom", self.bottom, bottom)):
            if given is not None and reach is not None and not SMALLEST_RADIUS <= reach <= LARGEST_RADIUS:
                raise Refusal(
                    f"The cup's {name} lies {given:.0f} mm from the side neck point, but the bust point lies at "
                    f"{level:.0f} mm; keep the top above it and the bottom below it, from {SMALLEST_RADIUS:.0f} to "
                    f"{LARGEST_RADIUS:.0f} mm away.",
                    piece=block.name,
                )
        room = reach_to_centre(cone, cone.down + cone.cloth / 4)
        sides = (("inner", self.inner, room, ", before the centre front"), ("outer", self.outer, LARGEST_RADIUS, ""))
        for name, reach, most, why in sides:
            if reach is not None and not SMALLEST_RADIUS <= reach <= most:
                raise Refusal(
                    f"The cup's {name} edge lies {reach:.0f} mm from the bust point; keep it from "
                    f"{SMALLEST_RADIUS:.0f} to {most:.0f} mm away{why}.",
                    piece=block.name,
                )
        return Reaches(top, bottom, self.inner, self.outer)

    # --- what is said

    def _notes(self, garment: Garment, plan: CupPlan) -> tuple[Note, ...]:
        shape = plan.shape
        across = float(shape.rim.radii.mean())
        found = [
            Note(
                "advice",
                f"The cup's seams take out {degrees(shape.intake):.0f} degrees and curve over the bust point within "
                f"{shape.rounding:.0f} mm of it; its mean radius is {across:.0f} mm.",
            )
        ]
        if plan.opening is not None and plan.cover is None:
            found.append(Note("mismatch", f"The {line_said(plan.opening.line)} does not pass over the cup."))
        elif plan.opening is None and self._line(garment):
            found.append(
                Note(
                    "mismatch",
                    f"The {line_said(self._line(garment))} leaves no piece with the centre front, so the cup has no "
                    f"match line.",
                )
            )
        return tuple(found)

    def sentence(self, garment: Garment, unit: Unit) -> str:
        """For example: Draft a two-piece cup from 7 in to 12 in below the side neck point, with 1/2 in for turning."""
        return f"Draft a {WORDS[self.parts]}-piece cup {', '.join(self._words(unit))}."

    def _words(self, unit: Unit) -> list[str]:
        def shown(length: float) -> str:
            return show_length(length, unit)

        if self.top is None and self.bottom is None:
            words = [f"over the bust circle with {shown(self.underlap)} underlap"]
        else:
            ends = [shown(end) if end is not None else "the bust circle" for end in (self.top, self.bottom)]
            words = [f"from {ends[0]} to {ends[1]} below the side neck point"]
        for amount, place in ((self.tighten_above, "above"), (self.tighten_below, "below")):
            if amount:
                words.append(f"tightened {shown(amount)} {place}")
        words.append(f"with {shown(self.turning)} for turning below" if self.turning else "without turning")
        layers = [word for word, wanted in ((LINING, self.lining), (FOAM, self.foam)) if wanted]
        if layers:
            words.append(f"with {' and '.join(layers)}")
        return words


WORDS: Final = {2: "two", 3: "three"}
STANDARD_NAMES: Final = {
    2: ("inner cup", "outer cup"),
    3: ("upper cup", "inner lower cup", "outer lower cup"),
}


@lru_cache(maxsize=8)
def _drafted(step: Cup, block: Piece) -> CupPlan:
    """`Cup.draft`, remembered: while a sheer line is dragged only the match line changes."""
    return step.draft(block)

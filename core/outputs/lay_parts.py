"""What is to be laid on a fabric: each piece's outline as it is cut there, how often, by which hand, in which turns.

A *part* is a piece as it goes on the cloth. On open cloth a piece cut on the fold is unfolded, and a pair is one as
drawn and one mirrored. On folded cloth a pair is cut from both plies at once, and a piece on the fold lies with its
fold on the fold of the cloth. A *hand* is a piece as drawn, or its mirror image.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Sequence
from functools import cached_property
from math import atan2, cos, degrees, radians, remainder, sin
from typing import Final

import msgspec
import numpy as np
from numpy.typing import NDArray

from core.design.kept_lay import GrainChoice, LayChoices, Model
from core.errors import Refusal
from core.fabrics.catalogue import Fabric
from core.finishing.finish import Finished
from core.geometry.placement import mirrored, reflected
from core.geometry.planar import is_simple_loop
from core.geometry.polyline import Point, Points, as_point, as_points, length, signed_area
from core.pieces.records import Edge
from core.units import MM_PER, Unit, show_length

TILT: Final = 15
"""Degrees between the turns of a free grain."""

SAME_STRETCH: Final = 5.0
"""Percent. Cloth whose stretch along and across differs by more has a direction that all pieces keep (house value)."""

NARROWEST: Final = 1.0
"""mm. A piece that is narrower than this all over is a slip of the pencil, and no engine can place it."""

EXACT_FIT: Final = 1e-3
"""mm by which a piece may seem wider than the cloth through rounding."""

ON_FOLD: Final = 1e-3
"""mm off the fold's line within which a corner of the cutting line lies on it: the fold runs on past its own ends."""

ALONG: Final = radians(0.5)
"""A fold lies along the grain when it is off by no more than this: 1 mm on 115 mm, which no hand lays truer."""


class Part(msgspec.Struct, frozen=True, eq=False, dict=True, weakref=True):
    """A piece as it is laid. `outline` (N, 2) is counter-clockwise in the piece's frame, without a repeated point.

    `plain` and `turned_over` say how often it is cut as drawn and mirrored; where `either` is true only their sum
    counts. `owner` is the place of its design among those laid together.
    """

    finished: Finished
    owner: int
    outline: Points
    plain: int
    turned_over: int
    either: bool
    on_fold: bool
    turns: tuple[float, ...]
    """Degrees off the grain that are allowed."""

    @property
    def name(self) -> str:
        """The piece's name."""
        return self.finished.name

    @property
    def said(self) -> str:
        """The piece as a sentence names it."""
        return f"{self.finished.number} {self.finished.name}"

    @property
    def copies(self) -> int:
        """How many lie on the cloth."""
        return self.plain + self.turned_over

    @cached_property
    def area(self) -> float:
        """mm² inside the outline."""
        return signed_area(self.outline)

    def loop(self, *, is_mirrored: bool) -> Points:
        """The outline of one hand."""
        return mirrored(self.outline) if is_mirrored else self.outline

    def turn_on_grain(self, *, is_mirrored: bool) -> float:
        """Degrees that lay the grain along the cloth."""
        grain = degrees(self.finished.piece.grain)
        return remainder(grain - 180.0 if is_mirrored else -grain, 360.0)

    def allowed(self, *, is_mirrored: bool) -> tuple[float, ...]:
        """The turns in degrees that the grain allows, and on folded cloth the fold."""
        base = self.turn_on_grain(is_mirrored=is_mirrored)
        every = tuple(remainder(base + off, 360.0) for off in self.turns)
        if not self.on_fold:
            return every
        return tuple(turn for turn in every if self._lies_above_fold(turn, is_mirrored=is_mirrored))

    def fold_line(self, *, is_mirrored: bool) -> tuple[Point, Point]:
        """The ends of the fold edge of one hand."""
        line = fold_edge(self.finished).points[[0, -1]] * ((-1.0 if is_mirrored else 1.0), 1.0)
        return as_point(line[0]), as_point(line[1])

    def _lies_above_fold(self, turn: float, *, is_mirrored: bool) -> bool:
        """Whether the fold edge lies along the cloth and the piece above it."""
        turned = rotated(self.loop(is_mirrored=is_mirrored), turn)
        fold = rotated(as_points(self.fold_line(is_mirrored=is_mirrored)), turn)
        along = abs(remainder(atan2(*(fold[1] - fold[0])[::-1]), np.pi)) <= ALONG
        return along and float(turned[:, 1].mean()) > float(fold[:, 1].mean())


def rotated(points: Points, turn: float) -> Points:
    """Points (N, 2) turned by degrees about the origin."""
    c, s = cos(radians(turn)), sin(radians(turn))
    return as_points(points @ np.array(((c, s), (-s, c))))


def fold_edge(finished: Finished) -> Edge:
    """The edge that lies on the fold. Refusal where there is more than one."""
    folds = [edge for edge in finished.piece.edges if edge.kind == "fold"]
    if len(folds) != 1:
        raise Refusal(
            f"Piece {finished.name} has {len(folds)} edges on a fold, and a cloth is folded once: unfold the piece, or "
            "make all but one of them seams.",
            piece=finished.name,
        )
    return folds[0]


# --------------------------------------------------------------------------------------------------------------
# choices


def choices_for(fabric: Fabric, unit: Unit) -> LayChoices:
    """What is chosen for a fabric before anybody chooses, in round lengths of the unit: nap lies one way."""
    grain: GrainChoice = "one way" if fabric.nap else "both ways"
    if unit == "in":
        return LayChoices(grain, gap=MM_PER["in"] / 8, squaring=4 * MM_PER["in"])
    return LayChoices(grain)


def has_direction(fabric: Fabric) -> bool:
    """Whether the cloth stretches more one way, so that all its pieces must lie alike."""
    return abs(fabric.stretch_along - fabric.stretch_across) > SAME_STRETCH


def turns_for(fabric: Fabric, grain: GrainChoice) -> tuple[float, ...]:
    """Degrees off the grain that a piece may be turned by; net that stretches one way keeps to it at a free grain."""
    if grain == "one way":
        return (0.0,)
    if grain == "both ways" or has_direction(fabric):
        return (0.0, 180.0)
    return tuple(float(turn) for turn in range(0, 360, TILT))


# --------------------------------------------------------------------------------------------------------------
# parts


def parts_for(
    pieces: Sequence[Sequence[Finished]], fabric: Fabric, choices: LayChoices, *, model: Model, unit: Unit
) -> tuple[Part, ...]:
    """The parts of one or more designs that are cut from a fabric, each checked.

    Refusal, naming the piece, for an outline that cannot be laid, a piece wider than the cloth, and where nothing is
    cut from the fabric.
    """
    found = tuple(
        _part(piece, owner, fabric, choices=choices, model=model)
        for owner, garment in enumerate(pieces)
        for piece in garment
        if piece.fabric.name == fabric.name
    )
    if not found:
        raise Refusal(f"No piece is cut from {fabric.words}: choose a fabric that a piece is cut from.")
    for part in found:
        _refuse_too_wide(part, fabric, model, unit)
    return found


def strip_width(fabric: Fabric, model: Model) -> float:
    """mm across which pieces are laid: between the selvedges, or from the fold to both of them."""
    return fabric.usable_width / (2.0 if model == "folded" else 1.0)


def _part(finished: Finished, owner: int, fabric: Fabric, *, choices: LayChoices, model: Model) -> Part:
    cut, two_faced = finished.piece.cut, choices.grain == "free"
    on_fold = cut == "fold" and model == "folded"
    outline = cleaned(finished)
    if cut == "fold" and not on_fold:
        outline = _unfolded(finished, outline)
    plain, turned_over = _copies(finished, model)
    either = two_faced or cut == "fold" or (cut == "pair" and model == "folded")
    turns = turns_for(fabric, choices.grain)
    return Part(finished, owner, outline, plain, turned_over, either, on_fold, turns)


def _copies(finished: Finished, model: Model) -> tuple[int, int]:
    """How often a piece is laid as drawn, and mirrored."""
    layers, cut = finished.layers, finished.piece.cut
    if cut == "pair" and model == "open":
        return layers, layers
    if cut == "single" and finished.doubled:
        return layers - layers // 2, layers // 2  # sewn right sides together, then turned
    if cut == "single" and model == "folded":
        # Folded right sides together, the upper ply shows its wrong side: what is cut there once is laid face down.
        return 0, layers
    return layers, 0


def cleaned(finished: Finished) -> Points:
    """The cutting line as a simple counter-clockwise loop (N, 2). Refusal, naming the piece, when it is none."""
    line = np.asarray(finished.cutting_line, dtype=np.float64)
    if line.ndim != 2 or not np.isfinite(line).all():
        raise _unfit(finished, "has a place that is no number")
    spans = np.hypot(*(line - np.roll(line, -1, axis=0)).T)
    kept = line[spans > 1e-6]
    if len(kept) < 3:
        raise _unfit(finished, "has no cloth inside it")
    loop = as_points(kept if signed_area(as_points(kept)) > 0 else kept[::-1])
    around = length(as_points(np.vstack((loop, loop[:1]))))
    if 2.0 * signed_area(loop) / around < NARROWEST:
        raise _unfit(finished, "is nowhere wide enough to be cut")
    if not is_simple_loop(loop):
        raise _unfit(finished, "crosses or touches itself")
    return loop


def _unfit(finished: Finished, what: str) -> Refusal:
    return Refusal(
        f"Piece {finished.number} {finished.name} cannot be laid out: its cutting line {what}; mend the lines it was "
        "cut along, or its allowances.",
        piece=finished.name,
    )


def _unfolded(finished: Finished, half: Points) -> Points:
    """Both halves of a piece as one loop: the half from the fold's end round to its beginning, and its image."""
    ends = fold_edge(finished).points[[0, -1]]
    along, off = _from(ends, half)
    on_fold = np.flatnonzero(np.abs(off) < ON_FOLD)
    if len(on_fold) < 2:
        raise _unfit(finished, "does not run along its fold")
    first, last = (int(on_fold[pick(along[on_fold])]) for pick in (np.argmin, np.argmax))
    outer = np.vstack((half[last:], half[: first + 1])) if first < last else half[last : first + 1]
    image = reflected(as_points(outer), ends[0], ends[1])[::-1]
    loop = as_points(np.vstack((outer, image[1:-1])))
    if not is_simple_loop(loop):
        raise _unfit(finished, "crosses its fold")
    return loop


def _from(ends: Points, points: Points) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """How far points (N, 2) lie along a line from its first end, and to the left of it, in mm."""
    way = (ends[1] - ends[0]) / np.hypot(*(ends[1] - ends[0]))
    away = points - ends[0]
    return away @ way, away @ np.array((-way[1], way[0]))


def _refuse_too_wide(part: Part, fabric: Fabric, model: Model, unit: Unit) -> None:
    strip = strip_width(fabric, model)
    hands = hands_of(part)
    if part.on_fold and not any(part.allowed(is_mirrored=hand) for hand in (False, True)):
        raise Refusal(
            f"Piece {part.said} cannot be laid on a fold, for its own does not lie along the grain: lay {fabric.words} "
            "open.",
            piece=part.name,
        )
    across = min((height for hand in hands for _, height in fitting(part, is_mirrored=hand)), default=0.0)
    if across > strip + EXACT_FIT:
        cloth = "from the fold to the selvedges" if model == "folded" else "between the selvedges"
        raise Refusal(
            f"Piece {part.said} is {show_length(across, unit)} across the grain, and {fabric.words} has "
            f"{show_length(strip, unit)} {cloth}: take a wider cloth, divide the piece, or give it another grain.",
            piece=part.name,
        )


def hands_of(part: Part) -> tuple[bool, ...]:
    """The hands in which a part is laid: False as drawn, True mirrored."""
    if part.on_fold:
        return tuple(hand for hand in (False, True) if part.allowed(is_mirrored=hand))
    return tuple(hand for hand, count in ((False, part.plain), (True, part.turned_over)) if count)


def fitting(part: Part, *, is_mirrored: bool) -> Iterator[tuple[float, float]]:
    """Each allowed turn with the room in mm that the part takes across the cloth then."""
    loop = part.loop(is_mirrored=is_mirrored)
    for turn in part.allowed(is_mirrored=is_mirrored):
        across = rotated(loop, turn)[:, 1]
        yield turn, float(across.max() - across.min())


def pieces_digest(pieces: Sequence[Finished], fabric: Fabric) -> str:
    """A digest of all that a fabric's lay depends on: outlines to 0.01 mm, grains, counts, and the cloth itself."""
    found = hashlib.sha256(f"{fabric.usable_width:.2f} {fabric.nap} {has_direction(fabric)}".encode())
    for piece in pieces:
        if piece.fabric.name == fabric.name:
            counted = f"{piece.piece.cut}|{piece.layers}|{piece.doubled is not None}"
            said = f"|{piece.name}|{counted}|{piece.piece.grain:.5f}|"
            found.update(said.encode())
            found.update((np.round(piece.cutting_line, 2) + 0.0).tobytes())
    return found.hexdigest()

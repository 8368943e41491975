"""Her own block: one that exists on paper already, typed as points, and made a garment like a drafted one.

Points are in mm in the frame of design and screen: waist at y = 0, front on x >= 0 and back on x <= 0, each piece once
round counter-clockwise. Where one edge ends and the next begins apart from it, a dart stands open between them.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, isfinite, sin, tau
from typing import Final, TypeAlias

import msgspec
import numpy as np

from core.blocks.assembly import Blocks, Drawing, Run, Wedge, piece_of, segment
from core.blocks.curves import along, direction_of
from core.blocks.draft import garment_of
from core.blocks.ease import Ease, refuse_absurd
from core.blocks.levels import CIRCLE_STEPS, Stretches
from core.errors import Refusal
from core.geometry.curve import fair_curve
from core.geometry.placement import angle_between, gap
from core.geometry.planar import is_simple_loop
from core.geometry.polyline import (
    Point,
    Points,
    as_point,
    as_points,
    crossings,
    joined,
    point_at,
    signed_area,
    with_ends,
)
from core.pieces.records import EdgeKind, Garment

OWN: Final = "own"
"""Stands where the name of a drafting method would, in files and choices."""
OWN_WORDS: Final = (
    "Her own block, typed place by place. It stays as typed when measurements change; the checks compare the two."
)

TYPED: Final = 0.5
"""Points are read off paper to half a millimetre: ends nearer than this are one, legs that differ by less are equal."""

KINDS: Final[dict[str, EdgeKind]] = {
    "centre_front": "fold",
    "centre_back": "seam",
    "neck": "opening",
    "armhole": "opening",
    "shoulder": "seam",
    "side": "seam",
    "waist": "seam",
}

ORDER: Final = {
    "front": ("centre_front", "waist", "side", "armhole", "shoulder", "neck"),
    "back": ("centre_back", "neck", "shoulder", "armhole", "side", "waist"),
}
"""Edges of each piece in loop order; one that a dart divides comes twice, once on either side of it."""

LEVELS: Final = ("upper_bust_line", "bust_line", "under_bust_line")

Pair: TypeAlias = tuple[float, float]


class OwnEdge(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """An edge, or the part of one on this side of a dart: two points are a straight line, more a fair curve."""

    name: str
    points: tuple[Pair, ...]


class OwnDart(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A dart: its pivot, its leg ends in loop order, how far from the pivot the sewing ends."""

    name: str
    pivot: Pair
    legs: tuple[Pair, Pair]
    set_back: float = 0.0


class OwnPiece(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Front or back. `levels` are heights at the centre of upper bust, bust and under-bust line."""

    edges: tuple[OwnEdge, ...]
    darts: tuple[OwnDart, ...]
    levels: tuple[float, float, float]


class OwnBlock(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A block as typed, with the bust point and the radius of the bust circle on the front."""

    front: OwnPiece
    back: OwnPiece
    bust_point: Pair
    bust_radius: float = 76.0
    """3 in: half the breast's base on a medium figure (from memory, trade.md C2)."""


def own_garment(block: OwnBlock, ease: Ease) -> Garment:
    """The garment of a typed block. `ease` is what the block has over the body; its shoulder ease goes into the seam.

    Refusal, naming piece and edge, for a number that is none, an edge that is missing or out of order, a loop that is
    open, crosses itself or runs clockwise, a dart with unequal legs, and a centre that is not on x = 0.
    """
    refuse_absurd(ease)
    front, back = _drawing("front", block.front, block), _drawing("back", block.back, block)
    return garment_of(Blocks(piece_of("front", front), piece_of("back", back), ()), ease)


def _drawing(name: str, typed: OwnPiece, block: OwnBlock) -> Drawing:
    _refuse_no_numbers(name, typed, block)
    _refuse_order(name, typed)
    wedges = tuple(_wedge(name, dart) for dart in typed.darts)
    runs = _closed(name, [_run(edge) for edge in typed.edges], wedges)
    _refuse_loop(name, runs)
    _refuse_centre(name, runs[0])
    marks: dict[str, Stretches] = {
        line: _level(name, runs, wedges, height=height) for line, height in zip(LEVELS, typed.levels, strict=True)
    }
    own = {"neck_pit" if name == "front" else "nape": _top(runs[0])}
    if name == "front":
        own["bust_point"] = block.bust_point
        marks["bust_circle"] = _circle(block, wedges)
    return Drawing(runs, wedges, marks, _landmarks(runs, marks) | own)


# --------------------------------------------------------------------------------------------------------------
# what was typed


def _refuse_no_numbers(name: str, typed: OwnPiece, block: OwnBlock) -> None:
    numbers = [
        *(value for edge in typed.edges for point in edge.points for value in point),
        *(value for dart in typed.darts for point in (dart.pivot, *dart.legs) for value in point),
        *(dart.set_back for dart in typed.darts),
        *typed.levels,
        *block.bust_point,
        block.bust_radius,
    ]
    if not all(isfinite(number) and abs(number) < 5000.0 for number in numbers):
        raise Refusal(f"A point of the {name} is no number, or farther off than 5 m; type it again.", piece=name)


def _refuse_order(name: str, typed: OwnPiece) -> None:
    """Each edge in its place, and at least two points in each."""
    for edge in typed.edges:
        if len(edge.points) < 2 or any(gap(a, b) < 0.01 for a, b in zip(edge.points, edge.points[1:], strict=False)):
            raise Refusal(
                f"The edge {_words(edge.name)} of the {name} needs at least two points, no two of them alike.",
                piece=name,
                edge=edge.name,
            )
    order = tuple(dict.fromkeys(edge.name for edge in typed.edges))
    runs = [edge.name for edge in typed.edges]
    if order != ORDER[name] or runs != sorted(runs, key=ORDER[name].index):
        wanted = ", ".join(_words(edge) for edge in ORDER[name])
        raise Refusal(f"The edges of the {name} must come in this order, counter-clockwise: {wanted}.", piece=name)


def _words(edge: str) -> str:
    return edge.replace("_", " ")


def _wedge(name: str, dart: OwnDart) -> Wedge:
    """The dart with both leg ends moved to exactly equal distances. Refusal when they differ as typed."""
    first, second = (gap(dart.pivot, leg) for leg in dart.legs)
    if abs(first - second) > TYPED or gap(*dart.legs) < TYPED:
        raise Refusal(
            f"The legs of the {_words(dart.name)} of the {name} are {first:.1f} and {second:.1f} mm long and end "
            f"{gap(*dart.legs):.1f} mm apart; give legs of one length that stand open.",
            piece=name,
            edge=dart.name,
        )
    mean = (first + second) / 2
    legs = tuple(along(dart.pivot, direction_of(dart.pivot, leg), mean) for leg in dart.legs)
    return Wedge(dart.name, dart.pivot, (legs[0], legs[1]), min(dart.set_back, mean / 2))


def _run(edge: OwnEdge) -> Run:
    points = as_points(edge.points) if len(edge.points) == 2 else fair_curve(edge.points)
    return Run(edge.name, KINDS[edge.name], points)


def _closed(name: str, runs: Sequence[Run], wedges: Sequence[Wedge]) -> tuple[Run, ...]:
    """The runs with their ends laid on one another, and a base in each gap that a dart fills. Refusal for others."""
    found: list[Run] = []
    left = {wedge.name: wedge for wedge in wedges}
    for run, after in zip(runs, (*runs[1:], runs[0]), strict=True):
        end, begin = as_point(run.points[-1]), as_point(after.points[0])
        dart = next((w for w in left.values() if _ends_at(w, end, begin)), None)
        if dart is not None:
            del left[dart.name]
            found += [_ending(run, dart.legs[0]), Run(dart.name, "dart base", segment(*dart.legs))]
        elif gap(end, begin) <= TYPED:
            found.append(_ending(run, begin))
        else:
            raise Refusal(
                f"The {name} is open between {_words(run.name)} and {_words(after.name)}: {gap(end, begin):.1f} mm; "
                "move an end, or type the dart that stands there.",
                piece=name,
                edge=run.name,
            )
    if left:
        raise Refusal(f"The {_words(next(iter(left)))} of the {name} does not end where two edges part.", piece=name)
    return tuple(_beginning(run, found[index - 1].points[-1]) for index, run in enumerate(found))


def _ends_at(wedge: Wedge, end: Point, begin: Point) -> bool:
    """Whether an edge ends at a dart's first leg and the next begins at its other, as typed."""
    return max(gap(wedge.legs[0], end), gap(wedge.legs[1], begin)) <= 1.5 * TYPED


def _ending(run: Run, place: Point) -> Run:
    return Run(run.name, run.kind, with_ends(run.points, last=place))


def _beginning(run: Run, place: Points) -> Run:
    return Run(run.name, run.kind, with_ends(run.points, first=place))


def _refuse_loop(name: str, runs: Sequence[Run]) -> None:
    loop = as_points(joined([run.points for run in runs])[:-1])
    if not is_simple_loop(loop):
        raise Refusal(
            f"The outline of the {name} crosses itself; look for a point with its numbers changed.", piece=name
        )
    if signed_area(loop) <= 0.0:
        raise Refusal(f"The {name} runs clockwise; type its edges the other way round.", piece=name)
    outside = loop[:, 0].min() if name == "front" else -loop[:, 0].max()
    if outside < -TYPED:
        raise Refusal(
            f"The {name} reaches {-outside:.1f} mm over its centre; the front lies right of x = 0, the back left.",
            piece=name,
        )


def _refuse_centre(name: str, centre: Run) -> None:
    """The centre front is a fold and lies on x = 0 exactly; a centre back may run in under its top."""
    off = float(np.abs(centre.points[:, 0]).max()) if name == "front" else abs(_top(centre)[0])
    if off > 1e-6:
        raise Refusal(
            f"The {_words(centre.name)} must lie on x = 0, where the {name} is folded or begins; type 0 there.",
            piece=name,
            edge=centre.name,
        )


# --------------------------------------------------------------------------------------------------------------
# landmarks and marks


def _top(centre: Run) -> Point:
    return as_point(centre.points[np.argmax(centre.points[:, 1])])


def _landmarks(runs: Sequence[Run], marks: dict[str, Stretches]) -> dict[str, Point]:
    def meets(one: str, other: str) -> Point:
        """Where two edges meet in the loop, whichever comes first."""
        for run, after in zip(runs, (*runs[1:], runs[0]), strict=True):
            if {run.name, after.name} == {one, other}:
                return as_point(after.points[0])
        raise Refusal(f"A dart parts the edges {one} and {other}; move it a little along one of them.")

    centre = runs[0].name
    return {
        "side_neck": meets("neck", "shoulder"),
        "shoulder_point": meets("shoulder", "armhole"),
        "underarm": meets("armhole", "side"),
        "waist_side": meets("side", "waist"),
        "waist_centre": meets("waist", centre),
        **{line: as_point(marks[line][0][0]) for line in LEVELS},
    }


def _level(name: str, runs: Sequence[Run], wedges: Sequence[Wedge], *, height: float) -> Stretches:
    """The line that is level at the centre and straight once the darts are shut, to the side or armhole.

    At a dart it leaves the first leg and goes on from the other as far from the pivot, turned by the dart's angle.
    """
    centre = runs[0].points[np.argsort(runs[0].points[:, 1])]
    if not centre[0, 1] < height < centre[-1, 1]:
        raise Refusal(
            f"A level of the {name} at {height:.1f} mm does not meet its centre; type its height.", piece=name
        )
    here: Point = (float(np.interp(height, centre[:, 1], centre[:, 0])), height)
    heading = 0.0 if name == "front" else tau / 2
    outside = [run.points for run in runs if run.name in ("side", "armhole")]
    left, found = list(wedges), []
    while True:
        ray = as_points((here, along(here, heading, 2000.0)))
        crossed = [(met, wedge) for wedge in left if (met := _met(ray, wedge)) is not None]
        ends = [met[0] for part in outside for met in crossings(ray, part)]
        end = min(ends, default=None)
        first = min(crossed, key=lambda pair: pair[0][0], default=None)
        if first is not None and (end is None or first[0][0] < end):
            (reached, reach, leg), wedge = first
            left.remove(wedge)
            found.append(segment(here, point_at(ray, reached)))
            onto = wedge.legs[1 - leg]
            heading += angle_between(wedge.pivot, wedge.legs[leg], onto)
            here = along(wedge.pivot, direction_of(wedge.pivot, onto), reach)
        elif end is not None:
            return (*found, segment(here, point_at(ray, end)))
        else:
            raise Refusal(f"A level of the {name} at {height:.1f} mm meets neither side nor armhole.", piece=name)


def _met(ray: Points, wedge: Wedge) -> tuple[float, float, int] | None:
    """How far along the ray, how far from the pivot, and on which leg a ray first meets a dart; None beside it."""
    found = [
        (along_ray, reach, index)
        for index, leg in enumerate(wedge.legs)
        for along_ray, reach in crossings(ray, segment(wedge.pivot, leg))
        if reach > 1e-6
    ]
    return min(found, default=None)


def _circle(block: OwnBlock, wedges: Sequence[Wedge]) -> Stretches:
    """The bust circle, interrupted at the darts that pivot at the bust point: an arc from each to the next."""
    centre, radius = block.bust_point, block.bust_radius
    at = sorted(
        (direction_of(centre, wedge.legs[0]) % tau, direction_of(centre, wedge.legs[1]) % tau)
        for wedge in wedges
        if gap(wedge.pivot, centre) <= TYPED
    )
    spans = (
        [(after, (first - after) % tau) for (_, after), (first, _) in zip(at, (*at[1:], at[0]), strict=True)]
        if at
        else [(0.0, tau)]
    )
    return tuple(_arc(centre, radius, start, turn) for start, turn in spans)


def _arc(centre: Point, radius: float, start: float, turn: float) -> Points:
    steps = np.linspace(start, start + turn, 4 * CIRCLE_STEPS + 1)
    return as_points([(centre[0] + radius * cos(step), centre[1] + radius * sin(step)) for step in steps])

"""The cup over the opening: does it cover what the sheer bares, does its match line fit, is it as deep as the bust.

Coverage is compared in polar coordinates about the bust point: in each direction the cup must reach as far as the
sheer lies over the bust circle, and the underlap farther.
"""

from __future__ import annotations

from math import degrees, radians, sin
from typing import Final

import msgspec
import numpy as np

from core.body.body import complete
from core.checks.bust_depth import BAND, wanted_intake
from core.checks.verdict import SIGNS, VERDICTS, Verdict, verdict, worst
from core.design.replay import Replay
from core.fabrics.catalogue import Fabric
from core.geometry.planar import inside
from core.geometry.polyline import Points
from core.geometry.tolerances import CHECK, GOOD
from core.pieces.cone import Cone, Values, lies_as_drafted, open_wedges
from core.pieces.cup_pieces import MATCH_LINE
from core.pieces.cup_shape import reach_to_centre
from core.pieces.records import Garment, Piece
from core.pieces.seams import chain_length, links
from core.steps.cup import Cup, CupPlan
from core.units import Unit, show_length

NAME: Final = "Cup over the opening"

DIRECTIONS: Final = 181
"""Directions about the bust point in which the cover is compared."""

RINGS: Final = 40
"""Places along each direction, out to the bust circle, at which it is asked whether the sheer lies there."""

LEAST_LAP: Final = 10.0
"""A cup lies 10 to 15 mm behind the edge of its opening (common practice, trade.md E)."""


class Short(msgspec.Struct, frozen=True, eq=False):
    """A run of directions in which the cup falls short: closed angles and reaches wanted and had (mm), each (N,)."""

    closed: Values
    wanted: Values
    had: Values
    where: str

    @property
    def most(self) -> float:
        """By how much at the worst, in mm."""
        return float((self.wanted - self.had).max())


class CupCheck(msgspec.Struct, frozen=True, eq=False):
    """The check of one cup.

    `match` and `opening` are the two lengths (mm) that are sewn together, None where no opening lies over the cup;
    `bares` tells whether the sheer lies over the bust circle at all; `intake` and `wanted` are degrees, `radius` (mm)
    is that of the rim below.
    """

    step_id: str
    match: float | None
    opening: float | None
    underlap: float
    short: tuple[Short, ...]
    intake: float
    wanted: float
    bares: bool
    radius: float

    @property
    def amiss(self) -> float:
        """How much (mm at the rim) the cup would have to be tightened, or let out, to be as deep as the estimate."""
        return 2.0 * self.radius * sin(radians(abs(self.wanted - self.intake)) / 2.0)

    @property
    def difference(self) -> float:
        """How much longer the match line is than the opening, in mm."""
        return 0.0 if self.match is None or self.opening is None else self.match - self.opening

    @property
    def fit(self) -> Verdict:
        """The match line: good within 3 mm, as that much is eased on the cup (trade.md D4)."""
        found = verdict(self.difference)
        return "good" if found == "check" else found

    @property
    def cover(self) -> Verdict:
        """The cover: what is short by more than 3 mm is wrong."""
        most = max((short.most for short in self.short), default=0.0)
        lap: Verdict = "check" if self.bares and self.underlap < LEAST_LAP else "exact"
        return worst((lap, "exact" if most <= GOOD else "check" if most <= CHECK else "wrong"))

    @property
    def depth(self) -> Verdict:
        """The intake against the estimate; an estimate alone is never more than to be looked at."""
        return "good" if abs(self.intake - self.wanted) <= BAND else "check"

    @property
    def verdict(self) -> Verdict:
        """The worst of the three."""
        return worst((self.fit, self.cover, self.depth))

    @property
    def sign(self) -> str:
        """The verdict's sign."""
        return SIGNS[self.verdict]


def cup_checks(replay: Replay) -> tuple[CupCheck, ...]:
    """A check for every cup of the design, on the garment as it stands after the last step."""
    return tuple(cup_check(replay, stage.step) for stage in replay.stages if isinstance(stage.step, Cup))


def cup_check(replay: Replay, step: Cup) -> CupCheck:
    """The check of one cup whose step was done."""
    garment = replay.garment
    plan = step.plan(garment).turned_under
    bared = _bared(garment, replay.design.fabrics, step.block, plan)
    match = _match_line(garment)
    opening = _opening(garment, replay.design.fabrics, plan)
    return CupCheck(
        step.id,
        match if opening is not None and match > 0.0 else None,
        opening if match > 0.0 else None,
        step.underlap,
        _short(plan, bared, step.underlap),
        degrees(plan.shape.intake),
        wanted_intake(complete(replay.design.body)),
        bool(bared[1].any()),
        float(plan.shape.rim.at(plan.shape.cone.down)),
    )


def _match_line(garment: Garment) -> float:
    lines = [line for piece in garment.pieces.values() if piece.block == "cup" for line in piece.lines]
    return sum(line.length for line in lines if line.name == MATCH_LINE)


def _opening(garment: Garment, fabrics: tuple[Fabric, ...], plan: CupPlan) -> float | None:
    """The sewn length of the opening over the cup: on the main cloth, where it has been cut."""
    if plan.opening is None or plan.cover is None:
        return None
    seam = garment.seams.get(plan.opening.line)
    if seam is None:
        return plan.cover.length
    bare = _sheer_names(fabrics)
    sides = [side for side in (links(garment, seam.a), links(garment, seam.b)) if side]
    main = next((side for side in sides if not any(link.piece.fabric in bare for link in side)), sides[0])
    return chain_length(main) - (plan.opening.length - plan.cover.length)


def _sheer_names(fabrics: tuple[Fabric, ...]) -> frozenset[str]:
    return frozenset(fabric.name for fabric in fabrics if fabric.role == "sheer")


def _bared(garment: Garment, fabrics: tuple[Fabric, ...], block: str, plan: CupPlan) -> tuple[Values, Values]:
    """Directions about the bust point, and how far out the sheer lies over the bust circle in each; 0 where nowhere."""
    cone = plan.shape.cone
    closed = np.linspace(cone.down, cone.down + cone.cloth, DIRECTIONS)
    radii = np.interp(closed, plan.circle.closed, plan.circle.radii, period=cone.cloth)
    shares = np.linspace(1.0 / RINGS, 1.0, RINGS)
    grid_radii, grid_closed = (radii[:, None] * shares).ravel(), np.repeat(closed, RINGS)
    covered = np.zeros(DIRECTIONS * RINGS, dtype=np.bool_)
    bare = _sheer_names(fabrics)
    for piece in garment.pieces.values():
        if piece.fabric in bare and lies_as_drafted(piece, block):
            covered |= inside(piece.loop, _on(piece, cone, grid_radii, grid_closed))
    reach = np.where(covered.reshape(DIRECTIONS, RINGS), shares, 0.0).max(axis=1)
    return closed, reach * radii


def _on(piece: Piece, cone: Cone, radii: Values, closed: Values) -> Points:
    return cone.places(radii, closed, open_wedges(piece, cone.centre))


def _short(plan: CupPlan, bared: tuple[Values, Values], underlap: float) -> tuple[Short, ...]:
    """The runs of directions in which the cup falls short; nothing is wanted past the centre front."""
    closed, reach = bared
    cone = plan.shape.cone
    wanted = np.where(reach > 0.0, reach + underlap, 0.0)
    towards = (closed < cone.top) & (np.cos(closed) > 1e-3)
    wanted[towards] = np.minimum(wanted[towards], [reach_to_centre(cone, angle) for angle in closed[towards].tolist()])
    had = plan.shape.rim.at(closed)
    lacks = wanted - had > GOOD
    edges = np.flatnonzero(np.diff(np.concatenate(([0], lacks.astype(np.int8), [0]))))
    return tuple(
        Short(closed[a:b], wanted[a:b], had[a:b], _where(cone, float(closed[a:b].mean())))
        for a, b in zip(edges[::2].tolist(), edges[1::2].tolist(), strict=True)
    )


def _where(cone: Cone, closed: float) -> str:
    """A direction in words, to an eighth of the turn."""
    return WAYS[round(8.0 * (closed - cone.down) / cone.cloth) % 8]


WAYS: Final = (
    "below",
    "below towards the centre front",
    "towards the centre front",
    "above towards the centre front",
    "above",
    "above towards the side",
    "towards the side",
    "below towards the side",
)
"""The directions from the bottom over the centre front round to the bottom again."""


# --------------------------------------------------------------------------------------------------------------
# in words


def cup_words(check: CupCheck, unit: Unit) -> str:
    """The check in sentences, lengths in the user's unit."""
    return " ".join((_cover_words(check, unit), _fit_words(check, unit), _depth_words(check, unit))).strip()


def cup_headline(check: CupCheck, unit: Unit) -> str:
    """The one of those sentences that matters most: the worst of cover, match line and depth."""
    found = ((check.cover, _cover_words(check, unit)), (check.fit, _fit_words(check, unit)))
    worst_one = max((*found, (check.depth, _depth_words(check, unit))), key=lambda each: VERDICTS.index(each[0]))
    return found[0][1] if check.verdict in ("exact", "good") else worst_one[1]


def _cover_words(check: CupCheck, unit: Unit) -> str:
    if not check.bares:
        return "No sheer piece lies over the bust circle, so there is nothing to cover."
    if check.short:
        places = ", ".join(f"by {show_length(short.most, unit)} {short.where}" for short in check.short)
        return f"The cup falls short {places}: draw it out there."
    if check.underlap < LEAST_LAP:
        return f"The cup covers what is bare, but {show_length(check.underlap, unit)} of underlap is little to sew in."
    return f"The cup covers what is bare and {show_length(check.underlap, unit)} more."


def _fit_words(check: CupCheck, unit: Unit) -> str:
    if check.match is None or check.opening is None:
        return "No sheer line passes over it, so there is nothing to match."
    lengths = f"Match line {show_length(check.match, unit)}, opening {show_length(check.opening, unit)}"
    if check.fit != "wrong":
        return f"{lengths}."
    way = (
        "tighten the cup above" if check.difference > 0.0 else "tighten the cup less above, or take the opening in less"
    )
    return f"{lengths}: off by {show_length(abs(check.difference), unit)}; {way}."


def _depth_words(check: CupCheck, unit: Unit) -> str:
    band = f"{max(check.wanted - BAND, 0.0):.0f} to {check.wanted + BAND:.0f}"
    words = f"Its seams take out {check.intake:.0f} degrees; the bust wants {band} by the tape"
    if check.depth == "good":
        return f"{words} (an estimate: try it on a toile)."
    if check.intake < check.wanted:
        return (
            f"{words}: it lies flat over the point; tighten it, by {show_length(check.amiss, unit)} at the rim, above "
            f"and below together, for the middle of that (an estimate: try it on a toile)."
        )
    return f"{words}: it stands out at the point; tighten it less (an estimate: try it on a toile)."

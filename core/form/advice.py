"""Advice: how much of a sheer line's excess to take in, and where, as steps that only wait to be accepted.

The excess comes off in a wedge along the panel seam that the line runs into, half on each side, to nothing at the bust
point; the sheer across the line loses as much in the same step, and the seam is trimmed to match after it.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import radians, tan
from typing import Final

import msgspec
from msgspec.structs import replace

from core.design.design import Design
from core.design.replay import Replay, replay
from core.errors import Refusal
from core.form.line import BAND, Excess, banded
from core.form.shown import Edge, Laid
from core.geometry.tolerances import GOOD
from core.pieces.levels import edge_beside, seam_levels
from core.pieces.names import spoken_in_full
from core.pieces.records import Garment
from core.pieces.seams import Match, chain_length, links, match
from core.steps.across import end_across, hinge_across
from core.steps.contours import Contour, takings
from core.steps.take_in import STEEP, Across, Level, TakeIn
from core.steps.trim import Trim
from core.units import MM_PER, Unit, show_length

BETWEEN: Final = "between the busts"
"""What an edge that follows the hollow has too much there lies at the centre front, out of reach of a panel seam."""

ROUNDED: Final[dict[Unit, float]] = {"mm": 1.0, "cm": 1.0, "in": MM_PER["in"] / 16}
"""Both sides together are taken in by whole millimetres or sixteenths of an inch: a finer chalk line is not drawn."""

TRIED: Final[tuple[Across, ...]] = ("fold", "trim", "ease")
"""What becomes of the sheer across, the best first: folded out, cut off at its end, eased onto the main fabric."""


class Sewn(msgspec.Struct, frozen=True):
    """What the two sides of a sheer line measure, in mm: the main fabric's, and the sheer's."""

    main: float
    sheer: float


class Advice(msgspec.Struct, frozen=True, eq=False):
    """A contour that waits to be accepted: the design with it, and what it does.

    `excess` and `left` are what the line has too much (mm) now and, as predicted, then; `is_capped` tells that more
    would make the wedge too steep, `is_trimmed` that the seam is trimmed to match after it.
    """

    label: str
    design: Design
    step: TakeIn
    sentence: str
    before: Sewn
    after: Sewn
    excess: float
    left: float
    is_capped: bool
    is_trimmed: bool
    hollow: float = 0.0
    """What an edge that follows the hollow between the busts has too much there (mm), out of reach of the seam."""


def advised(done: Replay, laid: Laid, edge: Edge) -> Advice:
    """The contour for a line as it lies. Refusal, with the way out, where nothing is to be taken in or nothing can.

    Lengths in the refusal are in the design's unit, and bands in millimetres.
    """
    if laid.line is None or not laid.parts:
        raise Refusal(
            "No contour is advised: the front has no sheer line, or all of it lies too near the armhole to say. Draw "
            "one, or take the seam in as the toile shows."
        )
    whole = to_take(laid.parts)
    _refuse_little(whole, sum(part.over_body for part in laid.parts), (edge, done.design.unit))
    found = _seam_at(done.garment, laid.line.name)
    amount, is_capped = _amount(found, whole, done.design.unit)
    hollow = max((part.amount for part in laid.parts if part.where == BETWEEN), default=0.0)
    return replace(_tried(done, found, (laid.line.name, amount, whole), is_capped=is_capped), hollow=hollow)


def to_take(parts: tuple[Excess, ...]) -> float:
    """How much (mm) a panel seam has to take of the excess in parts of a line, those that lack some made up for."""
    return sum(min(part.amount, 0.0) if part.where == BETWEEN else part.amount for part in parts)


def _refuse_little(whole: float, over_body: float, how: tuple[Edge, Unit]) -> None:
    edge, unit = how
    if whole > BAND:
        return
    if over_body < -BAND:
        raise Refusal(
            f"Nothing is to be taken in: the line is shorter than she is, {banded(-over_body, unit)}. Let out the "
            "panel seam that it runs into, or draft with more bust ease."
        )
    if whole < -BAND:
        raise Refusal(
            f"Nothing is to be taken in: the line has {banded(-whole, unit)} less than the block's ease, and still "
            "does not pull."
        )
    more = " An edge that is to lie close has more to take in: choose so at “edge”." if edge == "eased" else ""
    raise Refusal(f"Nothing is to be taken in: {banded(whole, unit)} is no more than a tape can tell.{more}")


# --------------------------------------------------------------------------------------------------------------
# where


def _seam_at(garment: Garment, line: str) -> Match:
    """The panel seam that runs from a sheer line through the bust point."""
    if line not in garment.seams:
        raise Refusal(
            "What the line has too much is taken in along a panel seam: cut the front along the sheer line and along a "
            "panel seam from it through the bust point, and the step is offered here."
        )
    meeting = list(_meeting(garment, line))
    if not meeting:
        raise Refusal(
            "No panel seam runs into the sheer line, so there is none to take in: draw one from the line through the "
            "bust point, and cut along it."
        )
    passing = [found for found in meeting if takings(_contour(1.0), found)]
    if not passing:
        raise Refusal(
            f"The seam {spoken_in_full(meeting[0].seam.name)} does not run through the bust point, where a contour "
            "comes to nothing: take it in by the tool, to nothing where you choose."
        )
    return passing[0]


def _meeting(garment: Garment, line: str) -> Iterator[Match]:
    for seam in garment.seams.values():
        found = match(garment, seam)
        if not seam_levels(found):
            continue
        for at_last in (False, True):
            beside = {edge_beside(chain, at_last=at_last)[0].origin.edge for chain in (found.a, found.b)}
            if beside == {line}:
                yield found


def _contour(amount: float) -> Contour:
    return Contour("Contour", amount, "top", "the form")


def _amount(found: Match, whole: float, unit: Unit) -> tuple[float, bool]:
    """How much to take in, and whether that is all that a wedge can take without a poke at the bust point."""
    levels = {level.name: level.a.along for level in seam_levels(found)}
    top, bust = takings(_contour(1.0), found)
    away = abs(levels[top.level] - levels[bust.level])
    most = 2.0 * away * tan(radians(STEEP / 2.0))
    step = ROUNDED[unit]
    wanted = min(whole, most)
    return step * (int(wanted / step) if wanted < whole else round(wanted / step)), whole > most


# --------------------------------------------------------------------------------------------------------------
# the steps


def _tried(done: Replay, found: Match, what: tuple[str, float, float], *, is_capped: bool) -> Advice:
    """The first way of treating the sheer across that can be done."""
    line, amount, whole = what
    refusals = []
    for across in TRIED:
        step = _step(done, found, amount, across)
        after = replay(done.design.with_step(step), done)
        if after.refused is not None:
            refusals.append(after.refused.sentence)
            continue
        sentence = after.stages[-1].sentence(done.design.unit)
        trimmed = _trimmed(after, found)
        sewn = _sewn(done, line), _sewn(trimmed, line)
        label = f"Contour the {spoken_in_full(found.seam.name)}"
        left, is_trimmed = whole - amount, trimmed is not after
        return Advice(label, trimmed.design, step, sentence, *sewn, whole, left, is_capped, is_trimmed)
    raise Refusal(f"The excess cannot be taken in as it stands. {refusals[0]}")


def _step(done: Replay, found: Match, amount: float, across: Across) -> TakeIn:
    at_last = found.seam.ends[1] == takings(_contour(amount), found)[0].level
    levels = tuple(Level(one.level, one.amount / 2, one.amount / 2) for one in takings(_contour(amount), found))
    hinge = hinge_across(done.garment, found, at_last=at_last) if across == "fold" else None
    end = end_across(done.garment, found, at_last=at_last) if across == "trim" else ""
    return TakeIn(done.design.fresh_id("take-in"), found.seam.name, levels, "wedge", across, hinge, end)


def _trimmed(after: Replay, found: Match) -> Replay:
    """The replay with the seam trimmed to match, where taking it in made its sides differ and that can be done."""
    seam = after.garment.seam(found.seam.name)
    if abs(match(after.garment, seam).difference) <= GOOD:
        return after
    trimmed = replay(after.design.with_step(Trim(after.design.fresh_id("trim"), seam.name)), after)
    return trimmed if trimmed.refused is None else after


def _sewn(done: Replay, line: str) -> Sewn:
    sheer = {fabric.name for fabric in done.design.fabrics if fabric.role == "sheer"}
    seam = done.garment.seam(line)
    sides = [links(done.garment, spans) for spans in (seam.a, seam.b)]
    is_first = any(link.piece.fabric in sheer for link in sides[0])
    lengths = [chain_length(side) for side in sides]
    return Sewn(lengths[1], lengths[0]) if is_first else Sewn(lengths[0], lengths[1])


# --------------------------------------------------------------------------------------------------------------
# in words


def advice_words(advice: Advice, unit: Unit) -> tuple[str, ...]:
    """The step, what the edges measure before and after, and what is left of the excess."""
    main, main_then, sheer, sheer_then = (
        show_length(length, unit)
        for length in (advice.before.main, advice.after.main, advice.before.sheer, advice.after.sheer)
    )
    told = [
        advice.sentence,
        f"Main fabric along the line {main}, then {main_then}; sheer {sheer}, then {sheer_then}.",
        f"Cloth over body then {banded(advice.left, unit)}.",
    ]
    if advice.is_trimmed:
        told.append("The seam is trimmed to match at the waist in the same act.")
    if advice.is_capped:
        told.append("More would poke at the bust point: hold the rest in with a stay tape, or ease it.")
    if advice.hollow > BAND:
        there = banded(advice.hollow, unit)
        told.append(f"Between the busts {there} stay: only a seam or gathers at the centre front take that in.")
    return tuple(told)

"""What a handbook's draft lays down otherwise than the client was measured: it is said, never passed over."""

from __future__ import annotations

from collections.abc import Mapping
from math import degrees, radians, sin
from typing import Final

from core.blocks.assembly import Drawing
from core.blocks.shoulders import BACK_SLOPE_LESS
from core.body.body import Measured
from core.body.catalogue import MEASUREMENTS
from core.geometry.placement import gap
from core.geometry.polyline import Points, length

WORTH_SAYING: Final = 6.0
"""A length that is off by less (mm) is not mentioned: a quarter of an inch, the most that two readings differ by."""

SHORT: Final = 0.5
"""An armhole is found as long as the armhole girth only so nearly (mm)."""


SHORTEST_NECKLINE, LONGEST_NECKLINE = -10.0, 60.0
"""So much (mm) a neckline is longer than the neck base (trade.md G6)."""


def departures(
    measured: Measured, pieces: tuple[Drawing, Drawing], armhole: tuple[Points, ...], slopes: tuple[float, float]
) -> tuple[str, ...]:
    """Sentences on what the block has otherwise than measured, on a short armhole, and on a neckline that fits no neck.

    `pieces` are front and back as drafted, `armhole` its parts and the back's, (N, 2) each, `slopes` those of the front
    and the back shoulder with their darts shut (radians).
    """
    laid, taken = _laid_down(pieces[0]), measured.values
    off = {
        id_: value - taken[id_]
        for id_, value in laid.items()
        if id_ not in measured.estimated and abs(value - taken[id_]) > WORTH_SAYING
    }
    words = [_off(id_, f"{abs(by):.0f} mm", by) for id_, by in off.items()] + _slope_off(measured, slopes)
    notes = [f"This method lays down otherwise than measured: {', '.join(words)}."] if words else []
    short = taken["scye_girth"] - sum(length(part) for part in armhole)
    if short >= SHORT:
        notes.append(
            f"The armhole is {short:.0f} mm shorter than the armhole girth: give more armhole depth or bust ease, or "
            "draft with the tape method."
        )
    return (*notes, *_neck_off(measured, pieces))


def _neck_off(measured: Measured, pieces: tuple[Drawing, Drawing]) -> tuple[str, ...]:
    """The sentence on a neckline that does not go round the neck as one should, where the neck was measured."""
    if "neck_base" in measured.estimated:
        return ()
    over = 2 * sum(_run(piece, "neck") for piece in pieces) - measured.values["neck_base"]
    if SHORTEST_NECKLINE <= over <= LONGEST_NECKLINE:
        return ()
    way = "longer" if over > 0 else "shorter"
    return (
        f"The neckline is {abs(over):.0f} mm {way} than the neck base: draw it anew, or draft with the tape method.",
    )


def _run(piece: Drawing, name: str) -> float:
    """Length in mm of all runs of that name."""
    return sum(length(run.points) for run in piece.runs if run.name == name)


def _slope_off(measured: Measured, slopes: tuple[float, float]) -> list[str]:
    """The shoulder slope's words, where it lets the shoulder's end stand off or press by more than is passed over.

    What the front has less the back has more: both together are held against the slope as the method "tape" lays it.
    """
    if "shoulder_slope_deg" in measured.estimated:
        return []
    by = degrees(sum(slopes) + BACK_SLOPE_LESS) / 2 - measured.values["shoulder_slope_deg"]
    if measured.values["shoulder"] * sin(abs(radians(by))) <= WORTH_SAYING:
        return []
    return [_off("shoulder_slope_deg", f"{abs(by):.0f} degrees", by)]


def _off(id_: str, amount: str, by: float) -> str:
    return f"{MEASUREMENTS[id_].name} {amount} {'more' if by > 0 else 'less'}"


def _laid_down(front: Drawing) -> Mapping[str, float]:
    """The client's lengths as the front has them, in mm."""
    marks = front.landmarks
    bust_point, side_neck, pit = marks["bust_point"], marks["side_neck"], marks["neck_pit"]
    waist = next(wedge for wedge in front.wedges if wedge.name == "waist_dart")
    down = gap(side_neck, bust_point)
    return {
        "bust_span": 2 * bust_point[0],
        "neck_to_bust_point": down,
        "front_waist_length": down + gap(waist.pivot, waist.legs[0]),
        "centre_front_length": gap(pit, marks["waist_centre"]),
        "shoulder": _run(front, "shoulder"),
    }

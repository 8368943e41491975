"""The order of work: which of the eight stations are done, which is next, and what the others wait for."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING, Final, Literal, TypeAlias

import msgspec
from msgspec.structs import replace

from core.body.average import is_measured, still_average
from core.design.replay import Replay
from core.steps.catalogue import AnyStep
from core.steps.cut import Cut
from core.steps.neckline import Neckline
from core.steps.pivot import Pivot
from core.steps.style_line import StyleLine
from core.steps.trim import Trim

if TYPE_CHECKING:
    from core.checks.cutting import CuttingCheck
    from core.checks.report import Report

StationId: TypeAlias = Literal["measure", "draft", "draw", "darts", "panels", "match", "finish", "print"]
State: TypeAlias = Literal["done", "next", "waits", "refused"]

CUT_ALONG: Final = frozenset({"sheer", "panel"})
"""The purposes of lines that are drawn to be cut along."""

SIGNS: Final[Mapping[State, str]] = MappingProxyType({"done": "✓", "next": "→", "waits": "…", "refused": "≠"})

NEEDS: Final[Mapping[StationId, StationId | None]] = MappingProxyType(
    {
        "measure": None,
        "draft": "measure",
        "draw": "draft",
        "darts": "draft",
        "panels": "draw",
        "match": "panels",
        "finish": "match",
        "print": "finish",
    }
)
"""Every station in order, with the one it waits for."""


WORK: Final[Mapping[StationId, str]] = MappingProxyType(
    {
        "measure": "Take her measurements and type each over what stands there; every field says how it is taken.",
        "draft": "The block is drafted while you type: look whether it is as she is, and how close it lies.",
        "draw": "Drag the neckline to its width and depth, then draw the line where the sheer ends.",
        "darts": "Turn each dart to where it will vanish: into another dart, or to where a seam will run.",
        "panels": "Cut the block along the lines that are drawn, into numbered panels.",
        "match": "See in the seam table which pairs of edges differ, and trim them to match.",
        "finish": "Choose each piece's fabric and how its edges are finished; what is missing stands by the seams.",
        "print": "Print the pieces at true size, and measure the square on the page before you cut.",
    }
)
"""What is done at a station, in a sentence."""


class Station(msgspec.Struct, frozen=True):
    """One station; `words` say its state: done, next with what there is to do, or what it waits for; `why` in full."""

    id: StationId
    state: State
    words: str
    why: str = ""

    @property
    def name(self) -> str:
        """What its button says."""
        return self.id.capitalize()

    @property
    def sign(self) -> str:
        """The state's sign."""
        return SIGNS[self.state]


def stations(replay: Replay, report: Report) -> tuple[Station, ...]:
    """The eight stations of a design as it stands."""
    refused = _refused_station(replay)
    from core.checks.cutting import not_flat

    in_sheer = tuple(not_flat(replay.garment, replay.design))
    done = _done(replay, report) - {refused} - ({"darts", "finish"} if in_sheer else set())
    first = refused or next((id_ for id_ in NEEDS if id_ not in done), None)
    average = len(still_average(replay.design.body))
    found = (_station(id_, done, refused=refused, first=first, report=report, average=average) for id_ in NEEDS)
    has_neckline = any(isinstance(stage.step, Neckline) for stage in replay.stages)
    return tuple(_with_line(_with_sheer(station, in_sheer), has_neckline=has_neckline) for station in found)


def _with_line(station: Station, *, has_neckline: bool) -> Station:
    """The line that is to be drawn next, by its name."""
    if station.id != "draw" or station.state != "next":
        return station
    return replace(station, words=f"next: {'sheer line' if has_neckline else 'neckline'}")


def _with_sheer(station: Station, in_sheer: tuple[CuttingCheck, ...]) -> Station:
    """The darts that are to leave the sheer, counted at their station and named in full."""
    if station.id != "darts" or not in_sheer or station.state == "refused":
        return station
    words = f"{'next: ' if station.state == 'next' else ''}{len(in_sheer)} in the sheer"
    return replace(station, words=words, why=" ".join(one.sentence for one in in_sheer))


def _station(
    id_: StationId,
    done: set[StationId],
    *,
    refused: StationId | None,
    first: StationId | None,
    report: Report,
    average: int,
) -> Station:
    if id_ == refused:
        return Station(id_, "refused", "a step is refused", report.refused)
    if id_ in done:
        return Station(id_, "done", "done", WORK[id_])
    need = NEEDS[id_]
    if need is not None and need not in done:
        return Station(id_, "waits", f"waits for {need}", WORK[id_])
    return Station(id_, "next" if id_ == first else "waits", _to_do(id_, first, report, average), WORK[id_])


def _to_do(id_: StationId, first: StationId | None, report: Report, average: int) -> str:
    if id_ != first:
        return f"waits for {first}"
    if id_ == "measure":
        return f"next: {average} to measure"
    off = sum(row.verdict not in {"exact", "good"} for row in report.seams)
    if id_ == "match" and off:
        return f"next: {_counted(off, 'seam')}"
    if id_ == "finish" and report.faults:
        return f"next: {_counted(len(report.faults), 'fault')}"
    return "next"


def _counted(number: int, what: str) -> str:
    return f"{number} {what}{'' if number == 1 else 's'}"


def _done(replay: Replay, report: Report) -> set[StationId]:
    """A block is there whenever a design is; it is hers once she has been measured."""
    steps = [stage.step for stage in replay.stages]
    matched = all(row.verdict in {"exact", "good"} for row in report.seams)
    done: set[StationId] = {"measure", "draft"} if is_measured(replay.design.body) else set()
    if any(isinstance(step, StyleLine) and step.purpose != "mark" for step in steps):
        done.add("draw")
    if any(_places_darts(step) for step in steps):
        done.add("darts")
    if "draw" in done and any(isinstance(step, Cut) for step in steps) and not _uncut(replay):
        done.add("panels")
        if matched:
            done.add("match")
            if not report.faults:
                done.add("finish")
    return done


def _uncut(replay: Replay) -> bool:
    """Whether a line along which a piece is to be cut still lies on it."""
    lines = (line for piece in replay.garment.pieces.values() for line in piece.lines)
    return any(line.purpose in CUT_ALONG for line in lines)


def _places_darts(step: AnyStep) -> bool:
    return isinstance(step, Pivot) or (isinstance(step, Cut) and bool(step.darts))


def _refused_station(replay: Replay) -> StationId | None:
    if replay.refused is None:
        return None
    step = next(step for step in replay.design.steps if step.id == replay.refused.step_id)
    return _station_of(step)


def _station_of(step: AnyStep) -> StationId:
    if isinstance(step, (StyleLine, Neckline)):
        return "draw"
    if isinstance(step, Pivot):
        return "darts"
    return "match" if isinstance(step, Trim) else "panels"

"""`check`: seams, finished girths, cups and outlines, in words or as JSON."""

from __future__ import annotations

import json
from argparse import Namespace

import msgspec

from core.checks.cup_over_opening import NAME, CupCheck, cup_words
from core.checks.girths import Girth
from core.checks.report import Report, report
from core.checks.seam_rows import SeamRow
from core.checks.verdict import SIGNS
from core.commands.inputs import whole_replay
from core.design.replay import Replay
from core.units import Unit, show_length


def run(arguments: Namespace) -> int:
    """0 when everything is exact or good, 1 when anything is to be looked at."""
    replay = whole_replay(arguments.file)
    found = report(replay)
    print(_as_json(replay, found) if arguments.json else _as_text(replay, found))
    return 0 if found.passes else 1


def _as_text(replay: Replay, found: Report) -> str:
    unit = replay.design.unit
    lines = [
        f"{replay.design.name}: {SIGNS[found.worst]} {found.worst}",
        *(_seam_line(row, unit) for row in found.seams),
        *(_girth_line(girth, unit) for girth in found.girths),
        *(f"{cup.sign} {cup.verdict:5}  {NAME}: {cup_words(cup, unit)}" for cup in found.cups),
        *(f"{one.sign} {one.verdict:5}  {one.sentence}" for one in found.cutting),
        *(fault.sentence for fault in found.faults),
        *(f"{step}: {note.sentence}" for step, note in replay.notes),
    ]
    return "\n".join(lines)


def _seam_line(row: SeamRow, unit: Unit) -> str:
    off = round(row.difference, 2) + 0.0  # a zero has no minus
    return (
        f"{row.sign} {row.verdict:5}  {row.words}: {row.edges[0]} {show_length(row.length_a, unit)} to {row.edges[1]} "
        f"{show_length(row.length_b, unit)}, ease {show_length(row.ease, unit)}, off by {off:+.2f} mm"
    )


def _girth_line(girth: Girth, unit: Unit) -> str:
    wanted = "" if girth.wanted is None else f", {show_length(girth.wanted, unit)} wanted"
    return (
        f"{girth.name} of the block: {show_length(girth.finished, unit)} for a body of "
        f"{show_length(girth.body, unit)}, ease {show_length(girth.ease, unit)}{wanted}"
    )


def _cup_json(cup: CupCheck) -> dict[str, object]:
    """Lengths in mm, angles in degrees; `short` is how far the cup falls short, and where."""
    return {
        "step": cup.step_id,
        "verdict": cup.verdict,
        "match_line": cup.match,
        "opening": cup.opening,
        "difference": cup.difference,
        "short": [{"where": short.where, "most": short.most} for short in cup.short],
        "intake_deg": cup.intake,
        "wanted_deg": cup.wanted,
        "sentence": cup_words(cup, "mm"),
    }


def _as_json(replay: Replay, found: Report) -> str:
    """ASCII, so that it survives any terminal and pipe."""
    document = {
        "schema": 1,
        "units": "mm",
        "verdict": found.worst,
        "passes": found.passes,
        "seams": [msgspec.to_builtins(row) for row in found.seams],
        "girths": [{**msgspec.to_builtins(girth), "ease": girth.ease} for girth in found.girths],
        "cups": [_cup_json(cup) for cup in found.cups],
        "cutting": [msgspec.to_builtins(one) for one in found.cutting],
        "faults": [msgspec.to_builtins(fault) for fault in found.faults],
        "notes": [{"step": step, **msgspec.to_builtins(note)} for step, note in replay.notes],
    }
    return json.dumps(document, indent=1, allow_nan=False)

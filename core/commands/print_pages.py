"""`print`: the pieces at true size, or a part of it, on pages to tape together."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Mapping
from pathlib import Path
from typing import Final

from core.commands.documents import as_json
from core.commands.inputs import names_in, refuse_same, whole_replay
from core.commands.progress import shown_on_terminal
from core.errors import Refusal
from core.file.naming import shown_name
from core.file.writer import write_together
from core.outputs.choices import EXACT, Choices
from core.outputs.pdf import print_pdf

SCALES: Final[Mapping[str, float]] = {"1": 1.0, "1/2": 0.5, "1/4": 0.25}
"""As they are written on the command line."""


def run(arguments: Namespace) -> int:
    """Write the pages and, when asked, their map: both or neither."""
    scale, choices = _scale(arguments.scale), _choices(arguments)
    outputs: list[Path] = [path for path in (arguments.output, arguments.json) if path is not None]
    for output in outputs:
        refuse_same(output, arguments.file)
    refuse_same(outputs[0], *outputs[1:])
    replay = whole_replay(arguments.file)
    paper = arguments.paper or replay.design.paper
    with shown_on_terminal("page") as progress:
        job = print_pdf(replay.design, replay, paper=paper, scale=scale, choices=choices, progress=progress)
    write_together(dict(zip(outputs, (job.pdf, as_json(job.map)), strict=False)))
    print(f"{shown_name(outputs[0])} holds {len(job.map['pages'])} pages of {paper} at scale {arguments.scale}.")
    return 0


def _choices(arguments: Namespace) -> Choices:
    return Choices(
        pieces=names_in(arguments.pieces),
        has_allowances=not arguments.no_allowances,
        without=frozenset(arguments.without),
        reads=_readings(arguments.measured),
    ).checked()


def _readings(words: str) -> tuple[float, float]:
    """What the square of 100 mm measured, across and up, from words such as "99.6,100.2"."""
    try:
        across, up = (float(part) for part in words.split(",")) if words else EXACT
    except ValueError as error:
        raise Refusal(
            f"“{words}” does not say what the square measures; give it in mm, across and up, such as 99.6,100.2."
        ) from error
    return across, up


def _scale(words: str) -> float:
    if words not in SCALES:
        raise Refusal(f"A print at scale {words} is not offered; choose one of: {', '.join(SCALES)}.")
    return SCALES[words]

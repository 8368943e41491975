"""`lesson`: every step a picture and its sentence, as pages or as a picture file a step."""

from __future__ import annotations

from argparse import Namespace
from pathlib import Path
from typing import Final

from core.commands.inputs import refuse_same, whole_replay
from core.commands.progress import shown_on_terminal
from core.design.replay import Replay
from core.errors import Refusal
from core.file.naming import shown_name
from core.file.writer import write_together
from core.outputs.lesson import lesson_sheet
from core.outputs.lesson_pictures import lesson_files
from core.outputs.written_pdf import written_pdf

PICTURES: Final = (".svg", ".png")


def run(arguments: Namespace) -> int:
    """Write the lesson in the format that the output's name ends in."""
    refuse_same(arguments.output, arguments.file)
    suffix = arguments.output.suffix.casefold()
    if suffix == ".pdf":
        return _pages(whole_replay(arguments.file), arguments.output)
    if suffix in PICTURES:
        return _pictures(whole_replay(arguments.file), arguments.output)
    raise Refusal(f"A lesson is written as PDF, or as pictures: end its name in .pdf, {' or '.join(PICTURES)}.")


def _pages(replay: Replay, output: Path) -> int:
    pages = lesson_sheet(replay)
    with shown_on_terminal("page") as progress:
        pdf = written_pdf(pages, title=replay.design.name, day=replay.design.date, progress=progress)
    write_together({output: pdf})
    print(f"{shown_name(output)} holds {len(pages)} pages.")
    return 0


def _pictures(replay: Replay, output: Path) -> int:
    named = lesson_files(replay, output)
    write_together(named)
    first, last = min(named), max(named)
    print(f"{len(named)} pictures were written, {shown_name(first)} to {shown_name(last)}.")
    return 0

"""`sheets`: what the workroom needs on paper, or what goes with the client."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Callable, Mapping
from typing import Final

from core.commands.inputs import refuse_same, whole_replay
from core.design.replay import Replay
from core.errors import Refusal
from core.file.naming import shown_name
from core.file.writer import write_together
from core.outputs.client_sheet import client_sheet
from core.outputs.form_drawing import worn
from core.outputs.work_sheet import work_sheet
from core.outputs.written import WrittenPage
from core.outputs.written_pdf import written_pdf


def _client(replay: Replay) -> tuple[WrittenPage, ...]:
    return client_sheet(replay, worn(replay))


KINDS: Final[Mapping[str, Callable[[Replay], tuple[WrittenPage, ...]]]] = {"work": work_sheet, "client": _client}


def run(arguments: Namespace) -> int:
    """Write the sheet that was asked for."""
    refuse_same(arguments.output, arguments.file)
    if arguments.kind not in KINDS:
        raise Refusal(f"There is no sheet called {arguments.kind}; choose one of: {', '.join(KINDS)}.")
    replay = whole_replay(arguments.file)
    pages = KINDS[arguments.kind](replay)
    write_together({arguments.output: written_pdf(pages, title=replay.design.name, day=replay.design.date)})
    print(f"{shown_name(arguments.output)} holds {len(pages)} pages.")
    return 0

"""`export`: the pieces at true size for other programs, as SVG or DXF."""

from __future__ import annotations

from argparse import Namespace

from core.commands.inputs import names_in, refuse_same, whole_replay
from core.file.naming import shown_name
from core.file.writer import write_together
from core.outputs.export import exported


def run(arguments: Namespace) -> int:
    """Write the pieces in the format that the output's name ends in."""
    refuse_same(arguments.output, arguments.file)
    replay = whole_replay(arguments.file)
    made = exported(
        replay, arguments.output.suffix, pieces=names_in(arguments.pieces), has_allowances=not arguments.no_allowances
    )
    write_together({arguments.output: made.content})
    print(f"{shown_name(arguments.output)} holds {made.pieces} pieces at true size.")
    return 0

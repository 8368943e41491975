"""`draft`: a new design that is nothing but the block for one body."""

from __future__ import annotations

from argparse import Namespace

from core.blocks.draft import drafted
from core.body.body import complete
from core.body.catalogue import MEASUREMENTS
from core.commands.inputs import refuse_same
from core.design.design import Design, today
from core.errors import Refusal
from core.file.body_file import body_in
from core.file.naming import shown_name
from core.file.writer import save_design


def run(arguments: Namespace) -> int:
    """Write the design; say what was estimated and what the draft has to say."""
    refuse_same(arguments.output, arguments.body)
    body = body_in(arguments.body)
    design = Design(body.name or "Untitled", body, date=today(), unit=body.units, method=arguments.method)
    try:
        measured = complete(body)
        notes = drafted(measured, design.ease, design.method).notes
    except Refusal as refusal:
        raise Refusal(f"{shown_name(arguments.body)}: {refusal.sentence}") from refusal
    save_design(arguments.output, design)
    print(f"{shown_name(arguments.output)} holds the block for {body.name or 'this body'}.")
    for row in MEASUREMENTS.values():
        if row.rule and row.id in measured.estimated:
            print(f"Estimated {row.name}: {row.show(measured.values[row.id], body.units)}, {row.rule.text}.")
    for note in notes:
        print(note)
    return 0

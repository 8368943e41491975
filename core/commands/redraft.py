"""`redraft`: the same design on another client's body."""

from __future__ import annotations

from argparse import Namespace

import msgspec

from core.commands.inputs import refuse_same
from core.design.following import followed
from core.design.replay import Refused
from core.errors import Refusal
from core.file.body_file import body_in
from core.file.naming import shown_name
from core.file.reader import read_design
from core.file.writer import save_design


def run(arguments: Namespace) -> int:
    """Write the design on the new body when every step could follow; else refuse, naming those that could not."""
    refuse_same(arguments.output, arguments.body)
    design = msgspec.structs.replace(read_design(arguments.file), body=body_in(arguments.body))
    try:
        fits = followed(design)
    except Refusal as refusal:
        raise Refusal(f"{shown_name(arguments.body)}: {refusal.sentence}") from refusal
    if fits.lost:
        raise Refusal(_left_behind(fits.lost))
    save_design(arguments.output, design)
    print(f"{shown_name(arguments.output)} holds {design.name} on the body of {design.body.name or 'the new client'}.")
    for step, note in fits.done.notes:
        print(f"{step}: {note.sentence}")
    return 0


def _left_behind(lost: tuple[Refused, ...]) -> str:
    """One sentence that names every step that cannot follow: the first with its reason, then those that need it."""
    first, *others = lost
    also = f"; neither can {', '.join(other.step_id for other in others)}" if others else ""
    reason = first.sentence.removesuffix(".")
    return f"On the new body the step {first.step_id} cannot follow ({reason}){also}; nothing was written."

"""`redraft`: the same design on another client's body."""

from __future__ import annotations

from argparse import Namespace

import msgspec

from core.commands.inputs import body_in, refuse_same
from core.design.design import Design
from core.design.replay import Refused, Replay, replay
from core.errors import Refusal
from core.file.naming import shown_name
from core.file.reader import read_design
from core.file.writer import save_design


def run(arguments: Namespace) -> int:
    """Write the design on the new body when every step could follow; else refuse, naming those that could not."""
    refuse_same(arguments.output, arguments.body)
    design = msgspec.structs.replace(read_design(arguments.file), body=body_in(arguments.body))
    try:
        done = replay(design)
    except Refusal as refusal:
        raise Refusal(f"{shown_name(arguments.body)}: {refusal.sentence}") from refusal
    if done.refused:
        raise Refusal(_left_behind(design, done.refused, done))
    save_design(arguments.output, design)
    print(f"{shown_name(arguments.output)} holds {design.name} on the body of {design.body.name or 'the new client'}.")
    for step, note in done.notes:
        print(f"{step}: {note.sentence}")
    return 0


def _left_behind(design: Design, first: Refused, done: Replay) -> str:
    """One sentence that names every step that cannot follow: the first with its reason, then those that need it."""
    others = []
    left = done
    while left.refused:
        design = design.without_step(left.refused.step_id)
        left = replay(design, left)
        if left.refused:
            others.append(left.refused.step_id)
    also = f"; neither can {', '.join(others)}" if others else ""
    reason = first.sentence.removesuffix(".")
    return f"On the new body the step {first.step_id} cannot follow ({reason}){also}; nothing was written."

"""`pieces`: every piece with all its points, seams and stages, for other programs to read."""

from __future__ import annotations

from argparse import Namespace

from core.commands.documents import as_json
from core.commands.inputs import refuse_same, whole_replay
from core.file.naming import shown_name
from core.file.writer import write_together
from core.outputs.pieces_json import pieces_document


def run(arguments: Namespace) -> int:
    """Write the document, of the finished pieces or of those after one step."""
    refuse_same(arguments.json, arguments.file)
    replay = whole_replay(arguments.file)
    document = pieces_document(replay.design, replay, arguments.after or None)
    write_together({arguments.json: as_json(document)})
    print(f"{shown_name(arguments.json)} holds {len(document['pieces'])} pieces.")
    return 0

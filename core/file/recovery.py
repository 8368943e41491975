"""Copies of unsaved work, kept against a crash: written beside each other in one folder, listed, compared, thrown away.

A copy is a file like any other, so all that protects a saved design protects it. Beside it lies a note of one line, the
file that the work belongs to.
"""

from __future__ import annotations

import json
from collections.abc import Collection, Iterator
from contextlib import suppress
from datetime import datetime
from pathlib import Path
from typing import Final

import msgspec

from core.body.catalogue import MEASUREMENTS
from core.design.design import Design
from core.errors import Refusal
from core.file.gates import Unfit, parsed, read_bytes
from core.file.reader import read_design
from core.file.writer import design_to_bytes, reason, write_together
from core.units import Unit

COPY: Final = ".sheer"
NOTE: Final = ".of"
MOST_NAMED: Final = 3
"""Differences of one sort that are named before the rest is only counted."""


class KeptWork(msgspec.Struct, frozen=True):
    """Work that was not saved when the program ended. `original` is the file it belongs to, None when it has none."""

    copy: Path
    at: datetime
    original: Path | None
    design: Design

    @property
    def differs(self) -> str:
        """What the copy has other than its file now, as half a sentence."""
        if self.original is None:
            return f"never saved; {_counted(len(self.design.steps), 'step')}"
        try:
            saved = read_design(self.original)
        except Refusal:
            return f"its file cannot be opened; {_counted(len(self.design.steps), 'step')}"
        return differences(saved, self.design)


def keep_work(copy: Path, design: Design, original: Path | None) -> None:
    """Write a copy and its note, for nobody else's eyes. Refusal when it cannot be done."""
    note = json.dumps(str(original.absolute()) if original else None).encode()
    try:
        copy.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        copy.parent.chmod(0o700)
        # The note first: a copy without one would be taken for work that has no file.
        write_together({copy.with_suffix(NOTE): note, copy: design_to_bytes(design)})
    except (OSError, Refusal) as error:
        raise Refusal(f"No recovery copy can be kept: {_why(copy, error)}; save your work yourself.") from error


def _why(copy: Path, error: OSError | Refusal) -> str:
    """What stands in the way; the copy's own name would tell her nothing."""
    cause = error.__cause__ if isinstance(error, Refusal) else error
    return reason(copy, cause) if isinstance(cause, OSError) else str(error).rstrip(".")


def drop_work(copy: Path) -> None:
    """Throw a copy and its note away."""
    for path in (copy, copy.with_suffix(NOTE)):
        with suppress(OSError):
            path.unlink()


def kept_works(folder: Path, *, busy: Collection[str] = ()) -> tuple[tuple[KeptWork, ...], tuple[Path, ...]]:
    """The copies in a folder, newest first, and those that cannot be read; without those of owners that still run.

    A copy's name begins with its owner's and a dot.
    """
    works, damaged = [], []
    for copy in sorted(folder.glob(f"*{COPY}")):
        if copy.name.partition(".")[0] in busy:
            continue
        try:
            works.append(_work(copy))
        except (Refusal, OSError):
            damaged.append(copy)
    return tuple(sorted(works, key=_age)), tuple(damaged)


def _age(work: KeptWork) -> float:
    return -work.at.timestamp()


def _work(copy: Path) -> KeptWork:
    at = datetime.fromtimestamp(copy.stat().st_mtime).astimezone()
    return KeptWork(copy, at, _original(copy.with_suffix(NOTE)), read_design(copy))


def _original(note: Path) -> Path | None:
    """The file that a note names; None where the note is gone or damaged: the work is then opened without a file."""
    try:
        named = parsed(read_bytes(note))
    except (OSError, Unfit):
        return None
    return Path(named) if isinstance(named, str) else None


# --------------------------------------------------------------------------------------------------------------
# what differs


def differences(before: Design, after: Design) -> str:
    """What is other in a design than in an earlier one, as half a sentence; "nothing differs" where nothing is."""
    parts = [*_steps_apart(before, after), *_measures_apart(before, after), *_rest_apart(before, after)]
    return "; ".join(parts) or "nothing differs"


def _steps_apart(before: Design, after: Design) -> Iterator[str]:
    old, new = ({step.id: step for step in design.steps} for design in (before, after))
    more, fewer = new.keys() - old.keys(), old.keys() - new.keys()
    altered = [id_ for id_ in new.keys() & old.keys() if new[id_] != old[id_]]
    for found, words in ((more, "more"), (fewer, "fewer"), (altered, "altered")):
        if found:
            yield f"{_counted(len(found), 'step')} {words}"


def _measures_apart(before: Design, after: Design) -> Iterator[str]:
    old, new, unit = before.body.measurements, after.body.measurements, after.unit
    ids = [id_ for id_ in MEASUREMENTS if old.get(id_) != new.get(id_)]
    if len(ids) > MOST_NAMED:
        yield f"{len(ids)} measurements altered"
        return
    for id_ in ids:
        yield f"{MEASUREMENTS[id_].name} {_shown(id_, new.get(id_), unit)}, was {_shown(id_, old.get(id_), unit)}"


def _shown(id_: str, value: float | None, unit: Unit) -> str:
    return "not taken" if value is None else MEASUREMENTS[id_].show(value, unit)


def _rest_apart(before: Design, after: Design) -> Iterator[str]:
    told = {"steps", "body"}
    fields = [name for name in Design.__struct_fields__ if name not in told]
    others = [name for name in fields if getattr(before, name) != getattr(after, name)]
    if before.body.name != after.body.name:
        others.insert(0, "client")
    if before.body.shape != after.body.shape:
        others.insert(0, "shape of the figure")
    if others:
        yield f"{', '.join(name.replace('_', ' ') for name in others[:MOST_NAMED])} altered"


def _counted(number: int, word: str) -> str:
    return f"{number} {word}" if number == 1 else f"{number} {word}s"

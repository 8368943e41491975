"""Reading a design from a file. The file is only ever read: what cannot be opened is refused in one sentence."""

from __future__ import annotations

import errno
import hashlib
import os.path
from datetime import date
from pathlib import Path
from typing import Final

import msgspec

from core.design.design import Design
from core.errors import Refusal
from core.file.envelope import SCHEMA, Newer, unsealed
from core.file.gates import Foreign, Unfit, parsed, read_bytes
from core.file.naming import previous_of, shown_folder, shown_name, written_out
from core.file.plain_words import said

_REASONS: Final = {
    errno.EACCES: "you may not read it",
    errno.EPERM: "you may not read it",
    errno.ENAMETOOLONG: "its name is too long for this disk",
    errno.ELOOP: "it is a link that leads back to itself",
}


class NewerSchema(Refusal):
    """A file of a newer Sheerwright. It must never be written over.

    `design` is what it holds, where this version knows every word of it: that may be shown, as a copy.
    """

    def __init__(self, sentence: str, *, schema: int, design: Design | None = None) -> None:
        super().__init__(sentence)
        self.schema = schema
        self.known = SCHEMA
        self.design = design


def read_design(path: Path) -> Design:
    """The design that a file holds.

    Refusal, in one sentence that names the file, for what is no design, is damaged, altered or absurd; NewerSchema for
    a file of a newer version. The file is left as it is.

    Signs in its texts that turn the writing round, or are not seen, are written out, so that no name on the screen, on
    paper or in a terminal reads otherwise than it is; they stay in the file until the design is saved.
    """
    name = shown_name(path)
    try:
        return _legible(design_in(read_bytes(path)))
    except FileNotFoundError as error:
        folder = shown_folder(path)
        raise Refusal(f"{name} cannot be opened: there is no such file in {folder}; check its name.") from error
    except OSError as error:
        reason = _REASONS.get(error.errno or 0, error.strerror or str(error))
        raise Refusal(f"{name} cannot be opened: {reason}; it was left untouched.") from error
    except Unfit as unfit:
        raise _refusal(unfit, name, _way_out(path, unfit)) from unfit


def _legible(design: Design) -> Design:
    """Every text of the design with such signs written out, names and what refers to them alike."""
    plain = msgspec.to_builtins(design)
    legible = _texts_written_out(plain)
    return design if legible == plain else _design_of(legible)


def _texts_written_out(value: object) -> object:
    if isinstance(value, str):
        return written_out(value)
    if isinstance(value, dict):
        return {written_out(key): _texts_written_out(held) for key, held in value.items()}
    return tuple(map(_texts_written_out, value)) if isinstance(value, tuple) else value


def fingerprint(path: Path) -> str:
    """By what a file is known to be the same still: SHA-256 of its bytes; "" where it is gone or cannot be read."""
    try:
        return hashlib.sha256(read_bytes(path)).hexdigest()
    except (OSError, Unfit):
        return ""


def design_from_bytes(data: bytes, name: str = "The design") -> Design:
    """The design in the bytes of a file; refusals as `read_design`, with `name` for the file's."""
    try:
        return design_in(data)
    except Unfit as unfit:
        raise _refusal(unfit, name, "") from unfit


def design_in(data: bytes) -> Design:
    """The design in the bytes of a file. Unfit, as half a sentence, for all that `read_design` refuses."""
    return _design_of(unsealed(parsed(data)))


def _design_of(fields: object) -> Design:
    try:
        design = msgspec.convert(fields, Design)
    except msgspec.ValidationError as error:
        raise Unfit(said(str(error), fields)) from error
    _refuse_ids(design)
    _refuse_fabrics(design)
    _refuse_date(design.date)
    return design


def _refuse_date(text: str) -> None:
    """The date is printed and becomes that of the pages, so it is a date or nothing."""
    try:
        written = not text or date.fromisoformat(text).isoformat() == text
    except ValueError:
        written = False
    if not written:
        raise Unfit("its date is not written as year-month-day")


def _refuse_ids(design: Design) -> None:
    ids = [step.id for step in design.steps]
    for step_id in ids:
        if not step_id:
            raise Unfit("one of its steps has no id")
        if ids.count(step_id) > 1:
            raise Unfit(f"two of its steps have the id “{step_id}”")

    for step_id in design.off:
        if step_id not in ids:
            raise Unfit(f"it switches off a step “{step_id}” that it does not have")


def _refuse_fabrics(design: Design) -> None:
    names = [fabric.name for fabric in design.fabrics]
    for name in names:
        if names.count(name) > 1:
            raise Unfit(f"two of its fabrics have the name “{name}”")


def _refusal(unfit: Unfit, name: str, way_out: str) -> Refusal:
    sentence = f"{name} cannot be opened: {unfit}; it was left untouched{way_out}."
    return (
        NewerSchema(sentence, schema=unfit.schema, design=_known(unfit))
        if isinstance(unfit, Newer)
        else Refusal(sentence)
    )


def _known(newer: Newer) -> Design | None:
    """The design in a newer file, where it is one by this version's own rules, with nothing left over."""
    try:
        return _legible(_design_of(newer.design))
    except Unfit:
        return None


def _way_out(path: Path, unfit: Unfit) -> str:
    """What she can do now, as the end of the sentence."""
    if isinstance(unfit, Newer):
        return ", and the newer Sheerwright opens it"
    if isinstance(unfit, Foreign):
        return ", so choose a file that Sheerwright saved"
    previous = previous_of(path)
    if os.path.isfile(previous):  # noqa: PTH113 - Path.is_file raises where the name with its tilde is too long
        return f", and the version before it is {shown_name(previous)}"
    return ", so open a copy of it if you have one"

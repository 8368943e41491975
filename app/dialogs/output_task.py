"""What the window writes besides prints: which outputs there are, and the work that makes each beside the window."""

# ruff: noqa: PLC0415 - what makes an output is imported when it is asked for: opening the window need not wait for it
from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Final, TypeAlias

import msgspec

from core.design.replay import Replay
from core.errors import Refusal
from core.file.naming import shown_name
from core.file.writer import write_together
from core.progress import Progress

Files: TypeAlias = Mapping[Path, bytes]


class Output(msgspec.Struct, frozen=True):
    """One kind of output: its title, what it is called in a file's name, and the endings that it is written in."""

    id: str
    title: str
    tag: str
    suffixes: tuple[str, ...]
    make: Callable[[Replay, Path, Progress], Files]

    @property
    def filter(self) -> str:
        """The row of a file dialog."""
        return f"{self.title} ({' '.join('*' + suffix for suffix in self.suffixes)})"


def _pieces(replay: Replay, path: Path, _progress: Progress) -> Files:
    from core.outputs.export import exported

    return {path: exported(replay, path.suffix).content}


def _work_sheet(replay: Replay, path: Path, progress: Progress) -> Files:
    from core.outputs.work_sheet import work_sheet
    from core.outputs.written_pdf import written_pdf

    design = replay.design
    return {path: written_pdf(work_sheet(replay), title=design.name, day=design.date, progress=progress)}


def _client_sheet(replay: Replay, path: Path, progress: Progress) -> Files:
    from core.outputs.client_sheet import client_sheet
    from core.outputs.form_drawing import worn
    from core.outputs.written_pdf import written_pdf

    design = replay.design
    pages = client_sheet(replay, worn(replay))
    return {path: written_pdf(pages, title=design.name, day=design.date, progress=progress)}


def _lesson(replay: Replay, path: Path, progress: Progress) -> Files:
    from core.outputs.lesson import lesson_sheet
    from core.outputs.lesson_pictures import lesson_files
    from core.outputs.written_pdf import written_pdf

    if path.suffix.casefold() != ".pdf":
        return lesson_files(replay, path)
    design = replay.design
    return {path: written_pdf(lesson_sheet(replay), title=design.name, day=design.date, progress=progress)}


OUTPUTS: Final = (
    Output("export", "Pieces for other programs", "pieces", (".svg", ".dxf"), _pieces),
    Output("work-sheet", "Work sheet", "work sheet", (".pdf",), _work_sheet),
    Output("client-sheet", "Client sheet", "client sheet", (".pdf",), _client_sheet),
    Output("lesson", "Lesson", "lesson", (".pdf", ".svg", ".png"), _lesson),
)


class OutputTask:
    """The work of the thread: a replay in, files out, all of them or none."""

    def __init__(self, output: Output, replay: Replay, path: Path) -> None:
        self.output, self.replay, self.path = output, replay, path

    def __call__(self, progress: Progress) -> str:
        """Write the files; the sentence that says so."""
        if self.path.suffix.casefold() not in self.output.suffixes:
            endings = " or ".join(self.output.suffixes)
            raise Refusal(
                f"{shown_name(self.path)} would be no {self.output.tag}: give it a name that ends in {endings}."
            )
        files = self.output.make(self.replay, self.path, progress)
        progress(1, 1)
        write_together(files)
        if len(files) == 1:
            return f"{shown_name(self.path)} is written."
        return f"{len(files)} files are written, {shown_name(min(files))} to {shown_name(max(files))}."

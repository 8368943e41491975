"""The steps of a lesson as picture files, each with its sentence under it and its scale."""

from __future__ import annotations

from pathlib import Path

from core.design.replay import Replay
from core.geometry.placement import Placement
from core.outputs.drawing import Box, Drawing
from core.outputs.lesson import LessonStep, lesson_steps
from core.outputs.png import drawing_png
from core.outputs.svg import drawing_svg
from core.outputs.written import EDGE, paragraph, stacked

WIDTH, HEIGHT = 180.0, 150.0
"""mm that a picture may be wide and high."""


def lesson_pictures(replay: Replay, suffix: str) -> tuple[bytes, ...]:
    """A picture a step, as ".svg" or ".png". Refusal while a step is refused."""
    found = []
    for step in lesson_steps(replay, width=WIDTH, height=HEIGHT):
        drawing, box = _with_words(step)
        found.append(drawing_png(drawing, box) if suffix == ".png" else drawing_svg(step.words, drawing, box).encode())
    return tuple(found)


def lesson_files(replay: Replay, output: Path) -> dict[Path, bytes]:
    """A file a step beside the name that was given: lesson-01.svg, lesson-02.svg and so on."""
    made = lesson_pictures(replay, output.suffix.casefold())
    return {output.with_name(f"{output.stem}-{number:02}{output.suffix}"): data for number, data in enumerate(made, 1)}


def _with_words(step: LessonStep) -> tuple[Drawing, Box]:
    """The picture with its sentence and scale under it, and the box of both."""
    width = WIDTH + EDGE
    words = stacked([*paragraph(step.words, WIDTH, role="heading"), *paragraph(f"Scale 1:{step.divisor}", WIDTH)])
    wide, high = step.box[2] - step.box[0], step.box[3] - step.box[1]
    shown = step.drawing.placed(Placement(0.0, (width - wide) / 2 - step.box[0], -step.box[1]))
    below = words.drawing.placed(Placement(0.0, EDGE / 2, -2.0))
    return shown + below, (0.0, -words.height - 6.0, width, high)

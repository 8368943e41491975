"""The lesson sheet: every step of a design a picture and its sentence, for a teacher to hand out."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Final, Protocol

import msgspec

from core.blocks.own_block import OWN
from core.design.design import Design
from core.design.replay import Replay, Stage
from core.outputs.drawing import Box, Drawing
from core.outputs.making_words import BLADE, FLAME, IRON
from core.outputs.step_picture import block_picture, changed, step_picture
from core.outputs.written import (
    Row,
    WrittenPage,
    column,
    gap,
    paper_for,
    paragraph,
    picture,
    stacked,
    title,
    written_pages,
)
from core.units import show_length

SCALES: Final = (4, 5, 6, 8, 10, 12, 15, 20, 25, 50)
"""A picture is drawn at one to the smallest of these at which it fits."""

HIGHEST: Final = 104.0
"""mm on paper that a picture may be high: two steps go on a page."""


class Picture(Protocol):
    """What draws a picture at a scale, and gives the box that holds it."""

    def __call__(self, *, scale: float) -> tuple[Drawing, Box]:
        """The picture in mm of the paper."""


class LessonStep(msgspec.Struct, frozen=True, eq=False):
    """A numbered step: its sentence, what the program had to say about it, and its picture in mm of the paper."""

    number: int
    sentence: str
    notes: tuple[str, ...]
    drawing: Drawing
    box: Box
    divisor: int

    @property
    def words(self) -> str:
        """For example: "3. Cut the front along the sheer line."."""
        return f"{self.number}. {self.sentence}"


def lesson_steps(replay: Replay, *, width: float, height: float = HIGHEST) -> tuple[LessonStep, ...]:
    """The block and every step in order, as large as they fit. Refusal while a step is refused."""
    replay.checked()
    room = (width, height)
    steps = (_step(number, stage, replay, room) for number, stage in enumerate(replay.stages, start=2))
    return (_block_step(replay, room), *steps)


def _block_step(replay: Replay, room: tuple[float, float]) -> LessonStep:
    drawing, box, divisor = _fitted(partial(block_picture, replay.block), room)
    return LessonStep(1, _block_words(replay.design), replay.drafting_notes, drawing, box, divisor)


def _block_words(design: Design) -> str:
    """How the block is come by."""
    if design.method == OWN:
        return "Begin with the client's own block, front and back, as it was measured off paper."
    method = "" if design.method == "tape" else f" by the method “{design.method.replace('-', ' ')}”"
    bust, waist = (show_length(ease, design.unit) for ease in (design.ease.bust, design.ease.waist))
    return (
        f"Draft the block, front and back,{method} from the client's measurements, with {bust} of ease round the bust "
        f"and {waist} round the waist."
    )


def _step(number: int, stage: Stage, replay: Replay, room: tuple[float, float]) -> LessonStep:
    drawing, box, divisor = _fitted(partial(step_picture, stage), room)
    sentence = stage.sentence(replay.design.unit)
    notes = tuple(note.sentence for note in replay.notes_of(stage))
    if not any(changed(stage.before, stage.garment)):
        notes = ("No piece had to be changed for it.", *notes)
    return LessonStep(number, sentence, notes, drawing, box, divisor)


def _fitted(draw: Picture, room: tuple[float, float]) -> tuple[Drawing, Box, int]:
    """The picture at the largest scale at which it fits, or at the smallest there is."""
    for divisor in SCALES[:-1]:
        drawing, box = draw(scale=1.0 / divisor)
        if box[2] - box[0] <= room[0] and box[3] - box[1] <= room[1]:
            return drawing, box, divisor
    return *draw(scale=1.0 / SCALES[-1]), SCALES[-1]


def lesson_sheet(replay: Replay) -> tuple[WrittenPage, ...]:
    """The pages of the lesson. Refusal while a step is refused."""
    design = replay.design
    paper = paper_for(design.paper)
    width = column(paper)
    steps = lesson_steps(replay, width=width)
    below = (
        f"{len(steps)} steps. Faint: as it was. Firm: as it is. Bold: a new line. Arrows: what moved. "
        "Each picture says at what scale it is drawn."
    )
    rows = [*title(design.name, below, width), *(row for step in steps for row in _rows(step, width))]
    rows += [gap(2.0), *paragraph(f"{BLADE} {IRON} {FLAME}", width)]
    return written_pages(rows, paper, name="Lesson", foot=f"{design.name[:60]}   {design.date}")


def _rows(step: LessonStep, width: float) -> Iterator[Row]:
    """The step as one row, which no page parts."""
    parts = [
        *paragraph(step.words, width, role="heading"),
        picture(step.drawing, step.box, left=(width - (step.box[2] - step.box[0])) / 2),
        *paragraph(f"Scale 1:{step.divisor}", width),
        *(row for note in step.notes for row in paragraph(note, width, indent=4.0)),
    ]
    yield stacked(parts)
    yield gap(4.0)

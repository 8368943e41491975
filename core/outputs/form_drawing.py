"""The form on paper: her figure from the front and from three quarters, the sheer line on it, and what it says."""

from __future__ import annotations

from collections.abc import Iterator
from math import pi
from typing import Final

import msgspec
import numpy as np
from numpy.typing import NDArray

from core.body.body import complete
from core.body.shape import Shape, shape_words
from core.design.replay import Replay
from core.errors import Refusal
from core.form.picture import View, coloured, tints, view_of
from core.form.scale import SCALE_WORDS, UNQUOTED, runs
from core.form.shown import Fitter, Laid, Stand, garments_of, stand_for
from core.form.words import CAUTION
from core.geometry.polyline import as_points
from core.outputs.drawing import Drawing, Role, Stroke, Text
from core.outputs.png import pixels_jpeg
from core.outputs.written import SIZE, STEP, Photo, Row, heading, paragraph

Values = NDArray[np.float64]

SIDES: Final = {"front": 0.0, "three-quarter": -pi / 4.0, "back": -pi}
PIXELS: Final = (440, 660)
WIDE: Final = 42.0
"""mm on paper that one side of the form takes; its pixels are then 266 to the inch."""

PAPER_COLOURS: Final = ("#857c70", "#e9d9bb", "#f4f1ec", "#fffdf8")
"""A dress stand, main cloth, sheer and its thread; on a printer without colours grey, light, lighter, dotted."""

EDGES: Final[tuple[Role, ...]] = ("after", "stitching line", "new line", "fold", "level")
"""The pen of each place of the scale: told apart by width and dashes on any printer."""


class Worn(msgspec.Struct, frozen=True, eq=False):
    """A design on the form, for paper: the stand and what is laid on it, or why there is none."""

    stand: Stand | None
    laid: Laid | None
    shape: Shape
    refusal: str = ""


def worn(replay: Replay) -> Worn | None:
    """The design on the form of its client: about a second's work. None for a design without a sheer line."""
    lines = [line for piece in replay.garment.pieces.values() for line in piece.lines if line.purpose == "sheer"]
    if not lines and not any(".sheer_line" in name for name in replay.garment.seams):
        return None
    body = replay.design.body
    try:
        stand = stand_for(complete(body), body.shape)
    except Refusal as refusal:
        return Worn(None, None, body.shape, refusal.sentence)
    laid = Fitter(stand).laid(garments_of(replay), replay.design.ease, replay.design.unit)
    return Worn(stand, laid, body.shape)


def form_rows(worn: Worn, width: float) -> Iterator[Row]:
    """The section of a sheet of a width in mm."""
    yield heading("On the form")
    if worn.stand is None or worn.laid is None:
        yield from paragraph(worn.refusal, width)
        return
    sides = ("front", "three-quarter") if not worn.laid.back.lines else tuple(SIDES)
    yield _pictures(worn.stand, worn.laid, sides)
    for sentence in (*(worn.laid.sentences if worn.laid.line is not None else ()), *worn.laid.back.said):
        yield from paragraph(sentence, width)
    drawn = f"Drawn for a figure {shape_words(worn.shape)}: chosen by eye, as the tape does not tell it."
    yield from paragraph(f"{drawn} {CAUTION}", width, role="label")


def _pictures(stand: Stand, laid: Laid, sides: tuple[str, ...]) -> Row:
    """The sides beside each other, and the scale after them."""
    drawing, photos, left = Drawing(), [], 0.0
    high = WIDE * PIXELS[1] / PIXELS[0]
    for side in sides:
        view = view_of(stand.skin, SIDES[side], PIXELS)
        pixels = coloured(view, laid.cloths, tints(view, PAPER_COLOURS, ("#ffffff", "#3a352d")))
        photos.append(Photo(pixels_jpeg(pixels), (left, -high, left + WIDE, 0.0)))
        drawing += Drawing((*_edges(view, stand, laid, left), _name(side, left + WIDE / 2.0, -high)))
        left += WIDE
    return Row(high + STEP + 2.0, drawing + _scale(left + 4.0), photos=tuple(photos), keeps=True)


def _name(side: str, middle: float, foot: float) -> Text:
    return Text((middle, foot - STEP + 1.0), SIZE, side, "words")


def _edges(view: View, stand: Stand, laid: Laid, left: float) -> Iterator[Stroke]:
    """What is seen of the lines, and a cross at each bust point, both sides."""
    for path in laid.back.lines:
        yield from _both_sides(view, path, EDGES[UNQUOTED], left)
    for path, kind in runs(laid.line, laid.wanted) if laid.line is not None else ():
        yield from _both_sides(view, path, EDGES[kind], left)
    reach = np.array([[-4.0, 0.0, 0.0], [4.0, 0.0, 0.0], [0.0, 0.0, -4.0], [0.0, 0.0, 4.0]])
    for arm in (stand.bust_point + reach[:2], stand.bust_point + reach[2:]):
        yield from _both_sides(view, arm, "mark", left)


def _both_sides(view: View, path: Values, role: Role, left: float) -> Iterator[Stroke]:
    """The parts of a path and of its mirror image that are not hidden, on paper."""
    scale = WIDE / PIXELS[0]
    for side in (path, path * (-1.0, 1.0, 1.0)):
        seen = np.concatenate(([False], view.is_seen(side), [False]))
        on_paper = view.at(side)[:, :2] * (scale, -scale) + (left, 0.0)
        for first, last in np.flatnonzero(np.diff(seen)).reshape(-1, 2).tolist():
            if last - first > 1:
                yield Stroke(as_points(on_paper[first:last]), role)


def _scale(left: float) -> Drawing:
    """What the strokes mean."""
    items: list[Stroke | Text] = [Text((left, -STEP), SIZE, "Cloth over body", "heading", anchor="start")]
    for row, (role, words) in enumerate(zip(EDGES, SCALE_WORDS, strict=True), start=2):
        y = -1.2 * STEP * row
        items.append(Stroke(as_points(((left, y + 1.0), (left + 14.0, y + 1.0))), role))
        items.append(Text((left + 16.0, y), SIZE, words, "words", anchor="start"))
    return Drawing(tuple(items))

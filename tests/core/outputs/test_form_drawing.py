"""The form on the client's sheet."""

from __future__ import annotations

from functools import cache
from io import BytesIO

import msgspec
import numpy as np
import pytest
from PIL import Image

from core.body.shape import AVERAGE, Shape, shape_words
from core.design.replay import replay
from core.errors import Refusal
from core.form.back import SHOWN
from core.form.scale import SCALE_WORDS
from core.form.shown import Stand
from core.form.words import CAUTION
from core.outputs import form_drawing
from core.outputs.client_sheet import client_sheet
from core.outputs.drawing import Stroke, Text
from core.outputs.form_drawing import PIXELS, WIDE, Worn, form_rows, worn
from core.outputs.pdf import jpeg_size
from core.outputs.png import pixels_jpeg
from core.outputs.written import Row
from core.outputs.written_pdf import written_pdf
from tests.samples import replayed
from tests.samples_stands import stand_once

WIDTH = 180.0


@pytest.fixture(autouse=True)
def _formed_once(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(form_drawing, "stand_for", stand_once)


@cache
def _worn(name: str) -> Worn:
    found = worn(replayed(name))
    assert found is not None
    return found


def _words(rows: list[Row]) -> str:
    return " ".join(item.text for row in rows for item in row.drawing.items if isinstance(item, Text))


REFUSED = "No form has both this bust and this high bust with her other measurements: measure both again."


def _no_form(*_made_of: object) -> Stand:
    raise Refusal(REFUSED)


def test_the_front_is_shown_from_two_sides_with_its_numbers_and_the_caution() -> None:
    """Front and three-quarter, a line on either, what the strokes mean, what is said, and that it is an estimate."""
    rows = list(form_rows(_worn("concert"), WIDTH))
    pictures = next(row for row in rows if row.photos)
    assert len(pictures.photos) == 2
    told = _words(rows)
    for words in (
        "front",
        "three-quarter",
        *SCALE_WORDS,
        "of the bust point",
        shape_words(AVERAGE),
    ):
        assert words in told
    assert CAUTION in told


def test_the_shape_that_was_chosen_is_drawn_and_said() -> None:
    """Another shape on the body of the design is the one of the form on paper, and stands under it."""
    given = replayed("concert").design
    pointed = msgspec.structs.replace(given.body, shape=Shape(profile="pointed"))
    on_paper = worn(replay(msgspec.structs.replace(given, body=pointed)))
    assert on_paper is not None
    assert on_paper.stand is not None
    assert on_paper.stand.body.form.figure.shape == Shape(profile="pointed")
    assert "of pointed profile" in _words(list(form_rows(on_paper, WIDTH)))


def test_a_sheer_back_is_shown_from_behind() -> None:
    """On the demo that is sheer at the back a third picture, and that nothing is measured there."""
    rows = list(form_rows(_worn("stage"), WIDTH))
    assert len(next(row for row in rows if row.photos).photos) == 3
    assert SHOWN in _words(rows)
    assert "Draw a sheer line" not in _words(rows)


def test_lines_lie_on_the_pictures() -> None:
    """Every stroke of the edges lies inside one of the pictures' boxes; those of the scale beside them."""
    pictures = next(row for row in form_rows(_worn("concert"), WIDTH) if row.photos)
    strokes = [item for item in pictures.drawing.items if isinstance(item, Stroke)]
    high = WIDE * PIXELS[1] / PIXELS[0]
    on = [stroke for stroke in strokes if stroke.points[:, 0].max() < 2 * WIDE]
    assert len(strokes) - len(on) == len(SCALE_WORDS)
    assert len(on) > 6
    assert all((stroke.points[:, 1] > -high).all() and (stroke.points[:, 1] < 0).all() for stroke in on)


def test_a_design_without_a_sheer_line_has_no_form_on_its_sheet() -> None:
    """Nothing to show, nothing solved."""
    done = replayed("concert")
    assert worn(replay(msgspec.structs.replace(done.design, steps=()))) is None


def test_a_body_without_a_form_says_so_on_the_sheet(monkeypatch: pytest.MonkeyPatch) -> None:
    """Why stands where the picture would be, and the sheet is written all the same."""
    monkeypatch.setattr(form_drawing, "stand_for", _no_form)
    refused = worn(replayed("concert"))
    assert refused is not None
    assert client_sheet(replayed("concert"), refused)
    rows = list(form_rows(refused, WIDTH))
    assert not any(row.photos for row in rows)
    assert REFUSED.split(":", maxsplit=1)[0] in _words(rows)


def test_the_sheet_with_the_form_is_a_pdf_with_its_pictures() -> None:
    """Two JPEG images in the file, and the section before the measurements."""
    pages = client_sheet(replayed("concert"), _worn("concert"))
    data = written_pdf(pages, title="x", day="2026-11-25")
    assert data.count(b"/DCTDecode") == 2
    told = [item.text for page in pages for item in page.drawing.items if isinstance(item, Text)]
    assert told.index("On the form") < told.index("Measurements")


def test_pixels_keep_size_and_colour_as_jpeg() -> None:
    """Read back by another path than the one that wrote it: size, and a flat colour to 4 of 255."""
    image = pixels_jpeg(np.full((40, 60), 0xFFB48C6A, np.uint32))
    assert jpeg_size(image) == (60, 40)
    assert np.asarray(Image.open(BytesIO(image)))[20, 30] == pytest.approx([0xB4, 0x8C, 0x6A], abs=4)

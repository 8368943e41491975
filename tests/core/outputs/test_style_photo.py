"""The picture of the style on the client's sheet: the kept JPEG itself, in its own proportions; never a crash."""

from __future__ import annotations

import io
from functools import cache
from itertools import pairwise
from typing import Final, Literal

import pdfplumber
import pypdfium2
import pytest
from msgspec.structs import replace
from PIL import Image

from core.design.picture import StylePicture
from core.design.replay import Replay
from core.outputs.client_sheet import DAMAGED, client_sheet
from core.outputs.pdf import jpeg_size
from core.outputs.written_pdf import written_pdf
from tests.samples import replayed

BLOCKS: Final[tuple[Literal["front", "back"], ...]] = ("front", "back")


@cache
def coloured(width: int, height: int, mode: str = "RGB", kind: str = "JPEG") -> bytes:
    """A picture all of one red (or grey), as Pillow writes it."""
    out = io.BytesIO()
    Image.new(mode, (width, height), (200, 40, 40) if mode == "RGB" else 120).save(out, kind)
    return out.getvalue()


def sheet(*images: bytes) -> bytes:
    """The client's sheet of a design that keeps these pictures, front first."""
    kept = tuple(StylePicture(image, piece=piece) for image, piece in zip(images, BLOCKS, strict=False))
    done = replayed("concert")
    pictured = Replay(replace(done.design, pictures=kept), done.draft, done.stages)
    return written_pdf(client_sheet(pictured), title="x", day="2026-11-25")


@pytest.mark.parametrize(("width", "height"), [(90, 160), (160, 90), (1600, 40)])
def test_the_picture_is_on_the_sheet_in_its_own_proportions(width: int, height: int) -> None:
    """One image as wide to high as its pixels, within the margins, its bytes those that the design keeps."""
    kept = coloured(width, height)
    with pdfplumber.open(io.BytesIO(sheet(kept))) as read:
        (image,) = read.pages[0].images
        assert image["stream"].rawdata == kept
        assert (image["x1"] - image["x0"]) / (image["bottom"] - image["top"]) == pytest.approx(width / height, rel=1e-3)
        assert image["x0"] >= 40.0
        assert image["x1"] <= float(read.pages[0].width) - 40.0


def test_a_second_reader_shows_it() -> None:
    """Pdfium paints the red where the picture lies."""
    document = pypdfium2.PdfDocument(sheet(coloured(90, 160)))
    seen = document[0].render(scale=0.5).to_pil().convert("RGB")
    document.close()
    reds = [colour for _, colour in seen.getcolors(1_000_000) if colour[0] > 150 and colour[1] < 90]
    assert reds


def test_front_and_back_lie_beside_each_other() -> None:
    """Neither over the other; two equal ones are one image in the file."""
    one = sheet(coloured(90, 160))
    two = sheet(coloured(90, 160), coloured(90, 160))
    with pdfplumber.open(io.BytesIO(two)) as read:
        ends = sorted((image["x0"], image["x1"]) for image in read.pages[0].images)
    assert len(ends) == 2
    assert all(left[1] < right[0] for left, right in pairwise(ends))
    assert two.count(b"/DCTDecode") == one.count(b"/DCTDecode") == 1


WHOLE = coloured(90, 160)
DAMAGED_ONES = {
    "empty": b"",
    "text": b"no picture",
    "cut in the head": WHOLE[:300],
    "cut at the end": WHOLE[:-2],
    "png": coloured(9, 9, kind="PNG"),
    "markers only": b"\xff\xd8\xff\xd9",
}


@pytest.mark.parametrize("image", DAMAGED_ONES.values(), ids=DAMAGED_ONES)
def test_a_damaged_picture_is_a_grey_box_with_a_word(image: bytes) -> None:
    """The rest of the sheet is there, and nothing is raised."""
    assert jpeg_size(image) is None
    with pdfplumber.open(io.BytesIO(sheet(image))) as read:
        assert not read.pages[0].images
        text = " ".join(read.pages[0].extract_text().split())
    assert all(word in text for word in DAMAGED.split())
    assert "Measurements" in text


def test_a_grey_picture_is_taken_too() -> None:
    """One colour a pixel, as a scanner gives; its size as Pillow wrote it."""
    assert jpeg_size(coloured(31, 17, "L")) == (31, 17)


def test_equal_pictures_give_equal_bytes() -> None:
    """And another picture another file."""
    assert sheet(coloured(90, 160)) == sheet(coloured(90, 160))
    assert sheet(coloured(90, 160)) != sheet(coloured(90, 161))

"""Printed pages, read back: true size, every line where the map says, the same at every run."""

from __future__ import annotations

import io
from collections.abc import Callable
from functools import cache
from math import cos, radians, sin
from typing import Any

import msgspec
import numpy as np
import pdfplumber
import pypdfium2
import pypdfium2.raw as pdfium
import pytest
import shapely
from numpy.typing import NDArray
from pdfminer.pdftypes import resolve1
from shapely.geometry import LineString, MultiLineString

from core.design.design import Design, PaperName
from core.design.replay import replay
from core.errors import Cancelled, Refusal
from core.geometry.polyline import Points, as_points
from core.outputs.pdf import PrintJob, print_pdf, printable
from core.outputs.pieces_json import pieces_document
from core.steps.pivot import Pivot
from tests.core.outputs.reading import MM, ReadPage, by_pdfplumber, by_pypdfium2, squares
from tests.samples import NAMES, design, replayed

READERS: dict[str, Callable[[bytes], list[ReadPage]]] = {"pdfplumber": by_pdfplumber, "pypdfium2": by_pypdfium2}
PAPERS: dict[PaperName, tuple[float, float]] = {
    "a4": (210.0, 297.0), "a3": (297.0, 420.0), "a2": (420.0, 594.0), "a1": (594.0, 841.0), "a0": (841.0, 1189.0),
    "letter": (215.9, 279.4), "legal": (215.9, 355.6), "tabloid": (279.4, 431.8), "a4-letter": (210.0, 279.4),
}  # fmt: skip
"""ISO 216; 8.5 x 11, 8.5 x 14 and 11 x 17 in; what A4 and Letter both have room for."""
ROLLS: dict[PaperName, float] = {"roll-24in": 609.6, "roll-36in": 914.4, "roll-42in": 1066.8, "roll-75cm": 750.0}
PRINTS: list[tuple[PaperName, float]] = [
    ("a4", 1.0), ("letter", 0.5), ("a4", 0.25), ("a4-letter", 1.0), ("legal", 1.0), ("a1", 1.0), ("roll-24in", 1.0),
]  # fmt: skip
MARGIN = 10.0


@cache
def printed(name: str, paper: PaperName, scale: float = 1.0) -> PrintJob:
    """A sample design on paper."""
    return print_pdf(design(name), replayed(name), paper=paper, scale=scale)


@cache
def read_back(reader: str, name: str, paper: PaperName, scale: float = 1.0) -> list[ReadPage]:
    """The pages of a sample design as a reader sees them."""
    return READERS[reader](printed(name, paper, scale).pdf)


def catalog(pdf: bytes) -> dict[str, Any]:
    """The PDF's catalogue."""
    with pdfplumber.open(io.BytesIO(pdf)) as read:
        return dict(read.doc.catalog)


# --------------------------------------------------------------------------------------------------------------
# true size


@pytest.mark.parametrize(
    ("reader", "paper", "scale"), [("pdfplumber", "a4", 1.0), *(("pypdfium2", *kind) for kind in PRINTS)]
)
def test_both_squares_are_on_every_page_at_true_size(reader: str, paper: PaperName, scale: float) -> None:
    """100.00 and 101.60 mm both ways within 0.01, sharing a corner, whole on the page, whatever the scale."""
    for page in read_back(reader, "concert", paper, scale):
        (solid,) = [s for s in squares(page) if s[2:] == pytest.approx((100.0, 100.0), abs=0.01)]
        (dashed,) = [s for s in squares(page) if s[2:] == pytest.approx((101.6, 101.6), abs=0.01)]
        assert solid[:2] == pytest.approx(dashed[:2], abs=0.001)
        for start, side, whole in zip(dashed[:2], dashed[2:], page.size, strict=True):
            assert start >= MARGIN
            assert start + side <= whole - MARGIN


@pytest.mark.parametrize("paper", [*PAPERS, *ROLLS])
def test_the_page_is_the_paper(paper: PaperName) -> None:
    """Boxes exact to a thousandth of a point and upright, neither Rotate nor UserUnit, the viewer asked not to scale.

    A roll is as wide as it is and no longer than the 14,400 points that readers agree on (desktop.md 5).
    """
    pdf = printed("block", paper).pdf
    with pdfplumber.open(io.BytesIO(pdf)) as read:
        for page in read.pages:
            attributes = page.page_obj.attrs
            left, bottom, width, height = (float(side) for side in attributes["MediaBox"])
            assert attributes["CropBox"] == attributes["MediaBox"]
            wanted = PAPERS[paper] if paper in PAPERS else (ROLLS[paper], height / 72.0 * 25.4)
            assert (left, bottom) == (0.0, 0.0)
            assert (width, height) == pytest.approx(tuple(side / 25.4 * 72.0 for side in wanted), abs=0.001)
            assert width <= height <= 14_400.0
            assert attributes.get("Rotate", 0) == 0
            assert "UserUnit" not in attributes
    assert resolve1(catalog(pdf)["ViewerPreferences"])["PrintScaling"].name == "None"


# --------------------------------------------------------------------------------------------------------------
# every line where the map says


def on_sheet(points: list[list[float]], placement: dict[str, Any]) -> Points:
    """rotate(p, turn) + (x, y), as the map's own definition has it."""
    turn = radians(placement["turn_deg"])
    x, y = np.array(points).T
    shift = np.array((placement["x"], placement["y"]))
    turned = (x * cos(turn) - y * sin(turn), x * sin(turn) + y * cos(turn))
    return as_points(np.column_stack(turned) + shift)


@pytest.mark.parametrize("reader", READERS)
@pytest.mark.parametrize(
    ("name", "paper", "scale"),
    [*((name, "a4", 1.0) for name in NAMES), ("concert", "letter", 0.5), ("concert", "roll-36in", 1.0)],
)
def test_every_line_lies_where_the_map_says(reader: str, name: str, paper: PaperName, scale: float) -> None:
    """Each point of every stitching and cutting line is drawn, within 0.02 mm, on every page that shows its place."""
    job = printed(name, paper, scale)
    pages = read_back(reader, name, paper, scale)
    placements = {placement["piece"]: placement for placement in job.map["placements"]}
    document = pieces_document(design(name), replayed(name))
    assert len(placements) == len(job.map["placements"]) == len(document["pieces"])
    drawn = [MultiLineString([LineString(path) for path in page.paths]) for page in pages]
    shapely.prepare(drawn)
    for piece in document["pieces"]:
        placement = placements[piece["name"]]
        for line in (piece["cutting_line"], *(edge["points"] for edge in piece["edges"])):
            shown = np.zeros(len(line), dtype=bool)
            for entry in job.map["pages"]:
                if entry["kind"] == "tile" and entry["sheet"] == placement["sheet"]:
                    places = (on_sheet(line, placement) - entry["origin_mm"]) * scale
                    held = _inside(places, pages[entry["page"] - 1].size)
                    off = shapely.distance(drawn[entry["page"] - 1], shapely.points(places[held]))
                    assert off.max(initial=0.0) <= 0.02
                    shown |= held
            assert shown.all(), f"a line of {piece['name']} is on no page"


def _inside(places: NDArray[np.float64], paper: tuple[float, float]) -> NDArray[np.bool_]:
    """Which places lie within the margins."""
    low, high = np.array((MARGIN, MARGIN)), np.array(paper) - MARGIN
    outside: NDArray[np.float64] = np.maximum(low - places, places - high).max(axis=1)
    inside: NDArray[np.bool_] = outside <= 1e-6
    return inside


@pytest.mark.parametrize("paper", ["a4", "roll-36in"])
def test_the_map_page_comes_first(paper: PaperName) -> None:
    """Then the tiles, each with a label of its own that stands on the page."""
    job = printed("concert", paper)
    entries = job.map["pages"]
    assert [entry["kind"] for entry in entries] == ["map", *["tile"] * (len(entries) - 1)]
    assert [entry["page"] for entry in entries] == list(range(1, len(entries) + 1))
    labels = [entry["label"] for entry in entries[1:]]
    assert len(set(labels)) == len(labels)
    with pdfplumber.open(io.BytesIO(job.pdf)) as read:
        texts = [page.extract_text() for page in read.pages]
        assert len(read.pages) == len(entries)
    for label, text in zip(labels, texts[1:], strict=True):
        assert label in text
        assert label in texts[0]


def test_every_page_says_what_it_is_of() -> None:
    """Title, client, date, paper, scale and page number at the foot; how to read the squares; names on the pieces."""
    job = printed("concert", "a4")
    with pdfplumber.open(io.BytesIO(job.pdf)) as read:
        texts = [page.extract_text() for page in read.pages]
    for number, text in enumerate(texts, start=1):
        for words in (design("concert").name, design("concert").body.name, design("concert").date, "A4", "scale 1:1"):
            assert words in text
        assert f"page {number} of {len(texts)}" in text
        assert "Print at actual size, 100 %, no “fit”." in text
    everything = "\n".join(texts)
    for piece in replayed("concert").garment.pieces.values():
        assert f"{piece.number} {piece.name}" in everything
    assert "cut 2 on fold" in everything
    assert "rotary cutter" in texts[0]


def test_nothing_is_printed_where_printers_print_nothing() -> None:
    """Every letter stands, and every stroke lies, at least 6.35 mm from the paper's edge (trade.md A9)."""
    with pdfplumber.open(io.BytesIO(printed("concert", "a4").pdf)) as read:
        feet = [min(char["matrix"][5] for char in page.chars) * MM for page in read.pages]
    assert min(feet) >= 6.35
    for page in read_back("pypdfium2", "concert", "a4"):
        places = np.vstack(page.paths)
        assert places.min() >= 6.35
        assert (places <= np.array(page.size) - 6.35).all()


# --------------------------------------------------------------------------------------------------------------
# the file


def test_equal_designs_give_equal_bytes() -> None:
    """And another date another file, for the date is the design's own."""
    made, done = design("concert"), replayed("concert")
    first = print_pdf(made, done, paper="a4").pdf
    assert print_pdf(made, done, paper="a4").pdf == first
    later = msgspec.structs.replace(made, date="2031-01-02")
    other = print_pdf(later, done, paper="a4").pdf
    assert b"D:20310102" in other
    assert b"D:20310102" not in first


def test_all_text_is_set_in_embedded_fonts() -> None:
    """Every font on every page is the project's Vera, and embedded."""
    document = pypdfium2.PdfDocument(printed("concert", "a4").pdf)
    for index in range(len(document)):
        for item in document[index].get_objects():
            if item.type == pdfium.FPDF_PAGEOBJ_TEXT:
                font = pdfium.FPDFTextObj_GetFont(item)
                assert pdfium.FPDFFont_GetIsEmbedded(font) == 1
    document.close()
    with pdfplumber.open(io.BytesIO(printed("concert", "a4").pdf)) as read:
        for page in read.pages:
            fonts = resolve1(page.page_obj.resources["Font"])
            assert {"Vera" in resolve1(font)["BaseFont"].name for font in fonts.values()} == {True}


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("plain é “so”", "plain é “so”"),
        ("zip\x07\u200bper\n2", "zipper 2"),
        ("漢 dress", "¤ dress"),
        ("a\ue000b", "a¤b"),
    ],
)
def test_what_the_font_lacks_is_seen(text: str, shown: str) -> None:
    """Control characters are dropped, a glyph that is not there gets a stand-in."""
    assert printable(text) == shown


def test_any_name_can_be_printed() -> None:
    """A title in letters that the font lacks does not stop the print."""
    made = msgspec.structs.replace(design("block"), name="漢\x00字 " * 40)
    job = print_pdf(made, replayed("block"), paper="letter")
    assert len(by_pdfplumber(job.pdf)) == len(job.map["pages"])


# --------------------------------------------------------------------------------------------------------------
# progress and refusals


def test_progress_is_told_and_can_stop_the_work() -> None:
    """Once at the start and once a page; what the callback raises ends it."""
    told: list[tuple[int, int]] = []
    job = print_pdf(
        design("block"), replayed("block"), paper="a4", progress=lambda done, total: told.append((done, total))
    )
    count = len(job.map["pages"])
    assert told == [(done, count) for done in range(count + 1)]

    def stop(done: int, _total: int) -> None:
        if done == 3:
            raise Cancelled

    with pytest.raises(Cancelled):
        print_pdf(design("block"), replayed("block"), paper="a4", progress=stop)


def test_a_design_with_a_refused_step_is_not_printed() -> None:
    """With the step's own sentence."""
    bad: Design = design("block").with_step(Pivot("pivot-1", "front", "front.no_dart", into="front.waist_dart"))
    done = replay(bad)
    assert done.refused is not None
    with pytest.raises(Refusal, match="no open no dart"):
        print_pdf(bad, done, paper="a4")


def test_an_unknown_scale_is_refused() -> None:
    """With those there are."""
    with pytest.raises(Refusal, match="choose 1, 1/2 or 1/4"):
        print_pdf(design("block"), replayed("block"), paper="a4", scale=0.3)

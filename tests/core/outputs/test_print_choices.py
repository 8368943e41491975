"""Rulers, tables and joints of printed pages, and what can be chosen for a print, read back from the pages."""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from functools import cache
from itertools import combinations
from typing import Any

import numpy as np
import pdfplumber
import pypdfium2
import pytest
from pdfminer.pdftypes import resolve1
from shapely import hausdorff_distance, unary_union
from shapely.affinity import translate
from shapely.geometry import LineString, MultiLineString, box
from shapely.geometry.base import BaseGeometry

from core.errors import Refusal
from core.finishing.finish import finish
from core.outputs.choices import Choices, chosen
from core.outputs.papers import PAPERS, paper_named
from core.outputs.pdf import PrintJob, print_pdf
from core.outputs.pieces_json import pieces_document
from core.outputs.squares import readings
from tests.core.outputs import test_pdf
from tests.core.outputs.reading import ReadPage, by_pdfplumber, by_pypdfium2, squares
from tests.core.outputs.test_pdf import on_sheet
from tests.samples import design, replayed

MARGIN = 10.0


@cache
def printed(paper: str, choices: Choices | None = None, scale: float = 1.0, name: str = "concert") -> PrintJob:
    """A sample design on paper; what nothing was chosen for is the print that other tests read too."""
    if choices is None:
        return test_pdf.printed(name, paper, scale)
    return print_pdf(design(name), replayed(name), paper=paper, scale=scale, choices=choices)


@cache
def texts(job: PrintJob) -> list[str]:
    """The words of every page as pdfium reads them, those that run upwards too; blanks and line ends are one."""
    document = pypdfium2.PdfDocument(job.pdf)
    try:
        pages = [document[index].get_textpage().get_text_bounded() for index in range(len(document))]
        return [" ".join(text.split()) for text in pages]
    finally:
        document.close()


# --------------------------------------------------------------------------------------------------------------
# rulers and the table


def extents(page: ReadPage) -> list[tuple[float, float]]:
    """Width and height of every path on a page in mm."""
    return [tuple(np.ptp(path, axis=0).tolist()) for path in page.paths]


@pytest.mark.parametrize(("paper", "across"), [("a4", 190.0), ("letter", 200.0), ("a2", 200.0)])
def test_a_ruler_across_and_one_up_are_on_every_page(paper: str, across: float) -> None:
    """200 mm each; 190 across A4, which has no room for more between margins of 6.35 mm: 210 - 12.7 = 197.3."""
    for page in by_pypdfium2(printed(paper).pdf):
        found = extents(page)
        assert any(size == pytest.approx((across, 3.0), abs=0.01) for size in found)
        assert any(size == pytest.approx((3.0, 200.0), abs=0.01) for size in found)


def test_the_table_says_what_the_square_reads_when_a_printer_fitted_the_page() -> None:
    """A4 between margins of 3, 4.2, 5 and 6.35 mm: 97.1, 96.0, 95.2, 94.0 (as computed in desktop.md 5)."""
    assert [f"{100 * share:.1f}" for share, _ in readings(PAPERS["a4"])][:5] == [
        "100.0",
        "97.1",
        "96.0",
        "95.2",
        "94.0",
    ]
    # US Letter fitted to A4 between margins of 4.2 mm: 93.4 (the same).
    assert f"{100 * readings(PAPERS['letter'])[-1][0]:.1f}" == "93.4"
    for words in texts(printed("a4")):
        for reading in ("100.0", "97.1", "96.0", "95.2", "94.0"):
            assert reading in words


# --------------------------------------------------------------------------------------------------------------
# joined pages


def united(job: PrintJob, pages: list[ReadPage], sheet: int) -> BaseGeometry:
    """All paths of a sheet's pages, cut off at the live area and shifted by the map, in full-size mm."""
    found = []
    for entry in job.map["pages"]:
        if entry["kind"] == "tile" and entry["sheet"] == sheet:
            page = pages[entry["page"] - 1]
            live = box(MARGIN, MARGIN, page.size[0] - MARGIN, page.size[1] - MARGIN)
            drawn = MultiLineString([LineString(path) for path in page.paths]).intersection(live)
            found.append(translate(drawn, *entry["origin_mm"]))
    return unary_union(found)


@pytest.mark.parametrize("reader", [by_pdfplumber, by_pypdfium2])
@pytest.mark.parametrize("paper", ["a4", "roll-24in"])
def test_the_joined_pages_show_every_line_whole(reader: Callable[[bytes], list[ReadPage]], paper: str) -> None:
    """Pages shifted by the map and united hold each stitching and cutting line within 0.02 mm (Hausdorff)."""
    job = printed(paper)
    pages = reader(job.pdf)
    sheets = {
        entry["sheet"]: united(job, pages, entry["sheet"]) for entry in job.map["pages"] if entry["kind"] == "tile"
    }
    places = {placement["piece"]: placement for placement in job.map["placements"]}
    for piece in pieces_document(design("concert"), replayed("concert"))["pieces"]:
        place = places[piece["name"]]
        for line in (piece["cutting_line"], *(edge["points"] for edge in piece["edges"])):
            wanted = LineString(on_sheet(line, place))
            # What is drawn within 0.02 mm of the wanted line: if that is all of it, both lie within 0.02 of each other.
            here = sheets[place["sheet"]].intersection(wanted.buffer(0.02))
            assert hausdorff_distance(here, wanted, densify=0.2) <= 0.021


def test_both_pages_show_the_same_where_they_overlap() -> None:
    """What one page draws of a cutting line on the shared strip, the other draws within 0.02 mm."""
    job = printed("a4")
    pages = by_pypdfium2(job.pdf)
    lines = _cutting_lines(job)
    tiles = [entry for entry in job.map["pages"] if entry["kind"] == "tile"]
    shared = 0
    for one, other in combinations(tiles, 2):
        if one["sheet"] == other["sheet"]:
            strip = _live(pages[0], one).intersection(_live(pages[0], other)).buffer(-0.1)
            near = lines[one["sheet"]].buffer(0.02).intersection(strip)
            a, b = (_drawn(pages, entry).intersection(near) for entry in (one, other))
            assert a.is_empty == b.is_empty
            if not a.is_empty:
                shared += 1
                assert hausdorff_distance(a, b) <= 0.02
    assert shared >= 2


def _live(page: ReadPage, entry: dict[str, Any]) -> BaseGeometry:
    live = box(MARGIN, MARGIN, page.size[0] - MARGIN, page.size[1] - MARGIN)
    return translate(live, *entry["origin_mm"])


def _drawn(pages: list[ReadPage], entry: dict[str, Any]) -> BaseGeometry:
    drawn = MultiLineString([LineString(path) for path in pages[entry["page"] - 1].paths])
    return translate(drawn, *entry["origin_mm"])


def _cutting_lines(job: PrintJob) -> dict[int, BaseGeometry]:
    """The cutting lines of each sheet, where the map says that they lie."""
    lines: dict[int, list[LineString]] = {}
    places = {placement["piece"]: placement for placement in job.map["placements"]}
    for piece in pieces_document(design("concert"), replayed("concert"))["pieces"]:
        place = places[piece["name"]]
        lines.setdefault(place["sheet"], []).append(LineString(on_sheet(piece["cutting_line"], place)))
    return {sheet: unary_union(found) for sheet, found in lines.items()}


def test_each_page_at_a_joint_names_the_page_that_is_glued_there() -> None:
    """And that page says which of its own edges are trimmed off."""
    job = printed("a4")
    found = texts(job)
    labels = [entry["label"] for entry in job.map["pages"]]
    glued = [re.findall(r"glue page ([A-Z]+\d+) here", text) for text in found]
    assert any(glued)
    for mates in glued:
        for mate in mates:
            assert "trim off" in found[labels.index(mate)]


def test_a_roll_is_no_longer_than_its_pieces_want() -> None:
    """Upright, and at most one sheet width longer than the pieces of one bodice: far below the longest page."""
    (size,) = {page.size for page in by_pypdfium2(printed("roll-24in").pdf)}
    assert size[0] == pytest.approx(609.6, abs=0.01)
    assert size[0] <= size[1] < 1500.0


# --------------------------------------------------------------------------------------------------------------
# choices


def test_some_pieces_can_be_printed_alone() -> None:
    """By number or name; the map lists only them."""
    job = printed("a4", Choices(pieces=("6", "outer cup")))
    assert [placement["piece"] for placement in job.map["placements"]] == ["inner cup", "outer cup"]
    with pytest.raises(Refusal, match="no piece 99 to print; there are 1 front yoke"):
        printed("a4", Choices(pieces=("99",)))


def test_the_first_page_says_which_line_is_cut_and_what_is_left_outside() -> None:
    """Half an inch is left in satin, none round mesh; a print without allowances says that they are to be marked."""
    said = texts(printed("a2"))[0]
    assert "Cut along the firm line and sew along the dashed one" in said
    assert "Allowance drawn: main 1/2 in; sheer none; cup none and 1/2 in." in said
    bare = texts(printed("a2", Choices(has_allowances=False)))[0]
    assert "mark the allowance on the cloth before you cut" in bare
    assert "Allowance drawn" not in bare


def test_without_allowances_the_stitching_line_is_the_line_to_cut() -> None:
    """Every page says so, and nothing is drawn along the cutting lines."""
    job = printed("a2", Choices(has_allowances=False))
    pages = by_pypdfium2(job.pdf)
    assert all("no seam allowance" in words for words in texts(job))
    places = {placement["piece"]: placement for placement in job.map["placements"]}
    for piece in finish(design("concert"), replayed("concert").garment):
        entry = next(e for e in job.map["pages"] if e["sheet"] == places[piece.name]["sheet"] and e["kind"] == "tile")
        drawn = _drawn(pages, entry)
        loop = LineString(on_sheet(piece.piece.loop.tolist(), places[piece.name]))
        assert drawn.intersection(loop.buffer(0.02)).length >= 0.99 * loop.length
        wide = LineString(on_sheet(piece.cutting_line.tolist(), places[piece.name]))
        beyond = wide.difference(loop.buffer(6.0))
        assert drawn.intersection(beyond.buffer(0.05)).length < 0.2 * beyond.length + 1.0


def test_guides_can_be_left_out() -> None:
    """No level's name is printed then; the cutting lines cannot be left out."""
    assert "bust line" in " ".join(texts(printed("a4")))
    job = printed("a4", Choices(without=frozenset({"guides"})))
    assert all("without guides" in words for words in texts(job))
    assert "bust line" not in " ".join(texts(job))
    with pytest.raises(Refusal, match="cannot be left out"):
        printed("a4", Choices(without=frozenset({"cutting lines"})))


def test_the_layers_can_be_hidden_in_a_viewer() -> None:
    """Named optional content groups (ISO 32000-1, 8.11), all on, and every page refers to them."""
    with pdfplumber.open(io.BytesIO(printed("a4").pdf)) as read:
        properties = resolve1(read.doc.catalog["OCProperties"])
        names = [resolve1(group)["Name"].decode() for group in resolve1(properties["OCGs"])]
        assert names == ["cutting lines", "stitching lines", "marks", "guides", "labels", "page"]
        assert len(resolve1(resolve1(properties["D"])["ON"])) == len(names)
        assert all(len(resolve1(page.page_obj.resources["Properties"])) == len(names) for page in read.pages)


def test_a_measured_square_is_made_up_for_and_said_on_every_page() -> None:
    """Where 100 mm read 99.2 across and 100.4 up, lengths are drawn 100 / 99.2 and 100 / 100.4 times as long."""
    job = printed("a4", Choices(reads=(99.2, 100.4)))
    for page, words in zip(by_pypdfium2(job.pdf), texts(job), strict=True):
        assert any(s[2:] == pytest.approx((10_000 / 99.2, 10_000 / 100.4), abs=0.01) for s in squares(page))
        assert "corrected for a square that read 99.2 across, 100.4 up" in words
    assert job.map["stretch"] == pytest.approx([100 / 99.2, 100 / 100.4])


def test_a_square_that_was_fitted_is_not_made_up_for() -> None:
    """96 mm is a setting of the printer, not its error."""
    with pytest.raises(Refusal, match="actual size without “fit”"):
        printed("a4", Choices(reads=(96.0, 96.0)))


@pytest.mark.parametrize("name", ["a9", "roll-", "roll-900", "roll-100mm", "roll-9999mm", "roll-900mm ", "A4"])
def test_an_unknown_paper_is_refused_with_those_there_are(name: str) -> None:
    """So is a roll that is too narrow for the test square or wider than a page may be."""
    with pytest.raises(Refusal, match="choose one of: a4, letter"):
        paper_named(name)


def test_a_roll_of_any_width_is_a_paper() -> None:
    """In mm, cm or inches: 91.44 cm are 36 in."""
    assert paper_named("roll-91.44cm").width == pytest.approx(paper_named("roll-36in").width)
    assert paper_named("roll-900mm").width == 900.0


def test_a_design_without_pieces_is_not_printed() -> None:
    """With the way out."""
    with pytest.raises(Refusal, match="no pieces to print"):
        chosen((), Choices())


def test_every_page_opens_in_the_second_reader() -> None:
    """Marked content and layers do not hide anything from pdfium: the pages render in the same number."""
    document = pypdfium2.PdfDocument(printed("a4").pdf)
    assert len(document) == len(printed("a4").map["pages"])
    dark = [np.asarray(document[index].render(scale=0.3).to_numpy()).min() for index in range(len(document))]
    document.close()
    assert max(dark) < 120

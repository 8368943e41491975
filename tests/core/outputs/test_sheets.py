"""Cutting list, materials, costs, making order, client's sheet and lesson: what they say, and the pages they make."""

from __future__ import annotations

import io
from functools import cache

import msgspec
import numpy as np
import pdfplumber
import pytest
from PIL import Image

from core.design.design import Design
from core.design.finishes import Doubled
from core.design.replay import Replay, replay
from core.design.sheets import Costing, CostLine, Sheets
from core.errors import Refusal
from core.fabrics.catalogue import Fabric
from core.file.reader import design_in
from core.file.writer import design_to_bytes
from core.finishing.finish import Finished, finish
from core.outputs.client_sheet import client_sheet
from core.outputs.cutting_list import cutting_list
from core.outputs.lesson import lesson_sheet, lesson_steps
from core.outputs.lesson_pictures import lesson_pictures
from core.outputs.making_order import making_order, making_text
from core.outputs.materials import Cost, cloth_rows, costs, price_words, totals
from core.outputs.step_picture import changed
from core.outputs.work_sheet import work_sheet
from core.outputs.written import WrittenPage, paper_for
from core.outputs.written_pdf import written_pdf
from core.pieces.seams import matches
from core.steps.pivot import Pivot
from tests.core.outputs.reading import MM
from tests.demo_designs import gala
from tests.samples import NAMES, design, replayed


@cache
def pieces(name: str) -> tuple[Finished, ...]:
    """The finished pieces of a sample design."""
    return finish(design(name), replayed(name).garment)


def redone(made: Design) -> Replay:
    """The replay of an altered sample, nothing refused."""
    done = replay(made)
    assert done.refused is None
    return done


def with_sheets(name: str, sheets: Sheets) -> Design:
    """A sample design with texts of the user's own."""
    return msgspec.structs.replace(design(name), sheets=sheets)


def words(pages: tuple[WrittenPage, ...]) -> list[str]:
    """The words of every page of the PDF, as pdfplumber reads them."""
    with pdfplumber.open(io.BytesIO(written_pdf(pages, title="A sheet", day="2026-11-25"))) as read:
        return [page.extract_text() for page in read.pages]


# --------------------------------------------------------------------------------------------------------------
# the cutting list


def test_plies_are_counted_by_fold_and_pair() -> None:
    """A pair is two plies a layer, a piece on the fold one; net cut double twice that. Every piece is listed once."""
    rows = {row.name: row for found in cutting_list(pieces("concert"), design("concert")).values() for row in found}
    assert set(rows) == set(replayed("concert").garment.pieces)
    assert (rows["side front"].pairs, rows["side front"].plies) == (1, 2)
    assert (rows["centre front"].pairs, rows["centre front"].plies) == (0, 1)
    assert (rows["front yoke"].pairs, rows["front yoke"].plies) == (0, 2)
    assert rows["centre front"].grain == "fold on centre front"
    assert "no allowance" in rows["front yoke"].remark


def test_the_list_goes_fabric_by_fabric_in_the_order_of_numbers() -> None:
    """So that a cutter lays one cloth at a time."""
    found = cutting_list(pieces("concert"), design("concert"))
    assert [fabric.name for fabric in found] == ["main", "sheer", "cup"]
    for rows in found.values():
        assert [row.number for row in rows] == sorted(row.number for row in rows)


# --------------------------------------------------------------------------------------------------------------
# materials and costs


@pytest.mark.parametrize("name", NAMES)
def test_the_rough_length_holds_at_least_the_pieces_area(name: str) -> None:
    """No cloth of that length and width is smaller than what is cut from it, and it is at most a few times that."""
    for row in cloth_rows(pieces(name), design(name)):
        assert row.needed is not None
        mine = [piece for piece in pieces(name) if piece.fabric.name == row.fabric.name]
        plies = [piece.layers * (1 if piece.piece.cut == "single" else 2) for piece in mine]
        area = sum(count * piece.area for count, piece in zip(plies, mine, strict=True))
        assert area <= row.needed.length * row.fabric.usable_width
        assert row.needed.length <= row.needed.to_buy
        assert not row.is_laid


def test_costs_are_added_by_currency() -> None:
    """1.2 m at 20 a metre, a zip at 3.50 and 2 hours at 15 are 57.50; dollars are never added to pounds."""
    costing = Costing(hours=2.0, hourly=15.0, currency="GBP", lines=(CostLine("zip", 3.5),))
    made = with_sheets("block", Sheets(costing=costing))
    (row,) = cloth_rows(pieces("block"), made)
    assert row.needed is not None
    priced = msgspec.structs.replace(row.fabric, price=20.0, currency="GBP")
    found = costs((), made)
    assert [cost.amount for cost in found] == [3.5, 30.0]
    cloth = Cost("cloth", 1.2 * 20.0, "GBP")
    assert [total.shown for total in totals((*found, cloth, Cost("lace", 8.0, "USD")))] == ["57.50 GBP", "8.00 USD"]
    # A yard is 0.9144 m exactly (1959).
    assert price_words(priced, "in") == "18.29 GBP / yd"
    assert price_words(priced, "cm") == "20.00 GBP / m"


def test_a_fabric_too_narrow_for_a_piece_is_said_and_not_guessed() -> None:
    """The reason stands where the length would."""
    narrow = tuple(msgspec.structs.replace(fabric, usable_width=120.0) for fabric in design("block").fabrics)
    made = msgspec.structs.replace(design("block"), fabrics=narrow)
    (row,) = cloth_rows(finish(made, replayed("block").garment), made)
    assert row.needed is None
    assert "front" in row.remark


def test_what_is_written_for_the_sheets_is_saved() -> None:
    """A design that is opened again holds the same hours, lines and texts."""
    costing = Costing(hours=7.5, hourly=20.0, currency="GBP", lines=(CostLine("zip", 3.5),))
    made = with_sheets("block", Sheets(costing, making="first this", fitting="left shoulder lower"))
    assert design_in(design_to_bytes(made)).sheets == made.sheets


# --------------------------------------------------------------------------------------------------------------
# the making order


@pytest.mark.parametrize("name", NAMES)
def test_every_seam_is_sewn_once_and_every_piece_is_named(name: str) -> None:
    """By number; each line that sews a seam names all its pieces."""
    garment = replayed(name).garment
    lines = making_order(garment, design(name))
    numbers = {piece.name: piece.number for piece in pieces(name)}
    sewn = [line for line in lines if line.stage in ("Panels", "Cups", "Sheer", "Shoulders and sides", "Lining")]
    wanted = sorted(tuple(sorted({numbers[part] for part in found.pieces})) for found in matches(garment))
    assert sorted(line.pieces for line in sewn) == wanted
    assert {number for line in lines for number in line.pieces} == set(numbers.values())
    for line in sewn:
        assert all(f"{number} " in line.words for number in line.pieces)


def test_the_order_goes_from_the_small_to_the_whole() -> None:
    """Panels before the sheer is put on, that before shoulders, these before sides, the cup by hand near the end."""
    text = [line.text for line in making_order(replayed("concert").garment, design("concert"))]

    def place(part: str) -> int:
        (found,) = [index for index, line in enumerate(text) if part in line]
        return found

    order = ["princess seam: 3", "At the sheer line lap", "At the shoulder seam", "Sew the side seam", "hand-stitch it"]
    assert [place(part) for part in order] == sorted(place(part) for part in order)
    assert place("Sew the cup seam") < place("hand-stitch it")


def test_net_that_is_turned_is_closed_and_turned_before_it_is_joined() -> None:
    """As the brief of the garment has it: sewn round, turned, pressed, then joined."""
    made = design("concert")
    doubled = Doubled("front yoke", "front.shoulder")
    made = msgspec.structs.replace(made, finishing=made.finishing.with_doubled(doubled))
    text = making_text(making_order(redone(made).garment, made)).splitlines()
    turned = next(index for index, line in enumerate(text) if "turning gap" in line)
    joined = next(index for index, line in enumerate(text) if "sheer line" in line and "1 front yoke" in line)
    assert turned < joined


def test_what_is_turned_is_lapped_as_no_raw_edge_is_left() -> None:
    """A yoke closed round its edge has no allowance to sew right sides together: it laps, as a raw one does."""
    made = gala()
    lines = [line.text for line in making_order(redone(made).garment, made)]
    for seam in ("sheer line", "shoulder seam"):
        (joined,) = [line for line in lines if f"At the {seam}" in line]
        assert "lap the turned edge of 1 front yoke over" in joined
        assert "Trim" not in joined


def test_a_lining_is_not_faced_but_felled_to_the_edge() -> None:
    """Necks and armholes of lined panels are turned in for the lining; the lining's own edges get no facing."""
    made = gala()
    edges = [line for line in making_order(redone(made).garment, made) if line.stage == "Edges and closures"]
    assert not any("lining" in line.words.split(": the lining")[0] for line in edges)
    (turned_in,) = [line for line in edges if "the lining is felled to it" in line.words]
    assert turned_in.pieces == (3, 4, 5)
    assert not any("Face or bind" in line.words for line in edges)


def test_a_waist_stay_is_put_in_with_the_edges() -> None:
    """It is of no piece, but it is bought, so it is sewn in."""
    made = design("concert")
    made = msgspec.structs.replace(made, finishing=msgspec.structs.replace(made.finishing, waist_stay=True))
    (stay,) = [line for line in making_order(redone(made).garment, made) if line.words.startswith("Waist stay")]
    assert (stay.stage, stay.pieces) == ("Edges and closures", ())


def test_cautions_stand_where_they_are_needed() -> None:
    """Blades at cutting, the iron and flame where net is sewn, pins at the end (trade.md I)."""
    text = making_text(making_order(replayed("concert").garment, design("concert")))
    for caution in ("rotary cutter", "Net melts", "Net burns", "Count the pins"):
        assert caution in text


def test_the_users_own_order_wins() -> None:
    """Line by line as she wrote it; empty lines are dropped."""
    made = with_sheets("block", Sheets(making="first this\n\n then that "))
    assert [line.text for line in making_order(replayed("block").garment, made)] == ["first this", "then that"]


# --------------------------------------------------------------------------------------------------------------
# pages


@pytest.mark.parametrize("name", NAMES)
def test_the_work_sheet_names_every_piece_and_stays_on_its_paper(name: str) -> None:
    """Each page is upright A4, no letter stands within 6.35 mm of its edge."""
    pages = work_sheet(replayed(name))
    text = "\n".join(words(pages))
    for piece in pieces(name):
        assert piece.name in text
    for heading in ("Materials", "Making order", "Cut from main"):
        assert heading in text
    with pdfplumber.open(io.BytesIO(written_pdf(pages, title="x", day=""))) as read:
        for page in read.pages:
            assert (float(page.width) * MM, float(page.height) * MM) == pytest.approx((210.0, 297.0), abs=0.01)
            assert max(char["x1"] for char in page.chars) * MM <= 210.0 - 6.35
            assert min(char["matrix"][5] for char in page.chars) * MM >= 6.35


def test_the_client_sheet_says_how_each_measurement_is_taken() -> None:
    """Taken and estimated ones told apart, where to pin, a line to sign, and her own notes."""
    made = with_sheets("concert", Sheets(fitting="Left shoulder lower."))
    text = "\n".join(words(client_sheet(redone(made)))).replace("\n", " ")
    assert "37 in" in text
    assert "estimated" in text
    assert "where to pin" in text
    assert "Left shoulder lower." in text
    assert "Signature" in text


def test_any_text_can_be_printed() -> None:
    """Very long words, letters that the font lacks and control characters break no sheet."""
    made = msgspec.structs.replace(
        with_sheets("block", Sheets(making="\u202e漢字" * 100 + "\x07", fitting="x" * 5000)), name="\U0001d54f" * 300
    )
    assert words(work_sheet(redone(made)))
    assert words(client_sheet(redone(made)))
    assert words(lesson_sheet(redone(made)))


def test_equal_sheets_give_equal_bytes() -> None:
    """No clock, no random names."""
    pages = work_sheet(replayed("concert"))
    assert written_pdf(pages, title="x", day="2026-11-25") == written_pdf(pages, title="x", day="2026-11-25")


def test_sheets_are_written_on_the_nearer_of_two_papers() -> None:
    """A roll or a poster is no paper to read from."""
    assert [paper_for(name).name for name in ("a0", "roll-36in", "letter", "tabloid")] == [
        "a4",
        "a4",
        "letter",
        "letter",
    ]


# --------------------------------------------------------------------------------------------------------------
# the lesson


@pytest.mark.parametrize("name", NAMES)
def test_a_lesson_has_a_picture_and_a_sentence_for_every_step(name: str) -> None:
    """The block first, then each step in order, with the scale that its picture is drawn at."""
    steps = lesson_steps(replayed(name), width=180.0)
    assert len(steps) == len(replayed(name).stages) + 1
    text = " ".join(words(lesson_sheet(replayed(name)))).replace("\n", " ")
    for step, stage in zip(steps[1:], replayed(name).stages, strict=True):
        assert step.words.split()[0] in text
        assert stage.step.sentence(stage.before, design(name).unit)[:30] in text
        assert f"Scale 1:{step.divisor}" in text
        assert step.box[2] - step.box[0] <= 180.0
        roles = {stroke.role for stroke in step.drawing.strokes()}
        assert "after" in roles
        gone, _ = changed(stage.before, stage.garment)
        assert ("before" in roles) == bool(gone)


def test_a_lesson_begins_with_how_the_block_is_come_by() -> None:
    """The ease and a handbook's method are part of the draft; a block off paper is not drafted. Panels have numbers."""
    made = design("concert")
    first, *steps = (step.words for step in lesson_steps(replayed("concert"), width=180.0))
    assert first.endswith("measurements, with 2 in of ease round the bust and 1 in round the waist.")
    assert any("into 1 front yoke, 2 centre front and 3 side front." in step for step in steps)
    handbook = msgspec.structs.replace(made, method="shoulder-dart", steps=())
    assert "by the method “shoulder dart”" in lesson_steps(redone(handbook), width=180.0)[0].words


def test_a_lesson_draws_what_is_there_at_the_scale_it_says() -> None:
    """The block's outline at one to the divisor, within 0.01 mm."""
    step = lesson_steps(replayed("block"), width=180.0)[0]
    edge = replayed("block").block.piece("front").edge("side")
    drawn = [stroke.points for stroke in step.drawing.strokes("after")]
    assert any(
        np.allclose(points, edge.points / step.divisor, atol=0.01)
        for points in drawn
        if len(points) == len(edge.points)
    )


def test_what_a_pivot_moves_is_arrowed_from_where_it_was() -> None:
    """Each long arrow leads round the pivot: both its ends are as far from it, for a turn keeps distances."""
    stage = next(stage for stage in replayed("concert").stages if isinstance(stage.step, Pivot))
    step = next(step for step in lesson_steps(replayed("concert"), width=180.0) if "Pivot" in step.sentence)
    arrows = [s.points * step.divisor for s in step.drawing.strokes("moved") if len(s.points) == 2]
    long = [(foot, tip) for foot, tip in arrows if np.hypot(*(tip - foot)) > 10.0]
    assert len(long) >= 3
    centre = np.array(stage.before.piece("front").dart("front.waist_dart").pivot)
    for foot, tip in long:
        assert np.hypot(*(foot - centre)) == pytest.approx(np.hypot(*(tip - centre)), abs=0.01)


def test_lesson_pictures_are_files_of_their_own() -> None:
    """A PNG at 150 dots an inch, dark on white, and an SVG, a step."""
    pngs, svgs = lesson_pictures(replayed("panels"), ".png"), lesson_pictures(replayed("panels"), ".svg")
    assert len(pngs) == len(svgs) == len(replayed("panels").stages) + 1
    image = Image.open(io.BytesIO(pngs[0]))
    assert image.info["dpi"] == pytest.approx((150.0, 150.0), abs=0.1)
    assert image.size[0] == pytest.approx(195.0 / 25.4 * 150.0, abs=1)
    shades = np.asarray(image)
    assert shades.min() < 60
    assert shades.mean() > 200
    assert all(svg.startswith(b"<?xml") for svg in svgs)


def test_no_sheet_is_made_while_a_step_is_refused() -> None:
    """With the step's own sentence."""
    bad = replay(design("block").with_step(Pivot("pivot-1", "front", "front.no_dart", into="front.waist_dart")))
    for make in (work_sheet, client_sheet, lesson_sheet):
        with pytest.raises(Refusal, match="no open no dart"):
            make(bad)


def test_a_fabric_without_a_price_costs_nothing_that_is_known() -> None:
    """An unknown price is left out, not counted as nought."""
    assert costs(cloth_rows(pieces("block"), design("block")), design("block")) == ()
    assert price_words(Fabric("main", "main"), "cm") == ""

"""Names in any script through every output: control characters go, what the font lacks is seen, the files open."""

from __future__ import annotations

import io
from functools import cache
from typing import Final
from xml.etree import ElementTree as ET

import pdfplumber
import pytest
from ezdxf.filemanagement import read
from ezdxf.lldxf.encoding import decode_dxf_unicode
from msgspec.structs import replace
from PIL import Image

from core.design.design import Design
from core.design.replay import Replay, replay
from core.outputs.choices import Choices
from core.outputs.client_sheet import client_sheet
from core.outputs.drawing import Drawing, Text
from core.outputs.export import exported
from core.outputs.lesson import lesson_sheet
from core.outputs.lesson_pictures import lesson_pictures
from core.outputs.pdf import printed
from core.outputs.plan import planned
from core.outputs.png import drawing_png
from core.outputs.printable import STAND_IN
from core.outputs.work_sheet import work_sheet
from core.outputs.written_pdf import written_pdf
from core.steps.choose_fabric import ChooseFabric
from tests.samples import design, replayed

NAME: Final = "Tüll \x07\u202e漢\x1b☃"
"""A bell, a mark that turns letters round, letters of no Latin script, an escape, and a picture."""

UNSEEN: Final = ("\x07", "\x1b", "\u202e")
"""Characters of it that no output may hold: a viewer or a terminal would obey them."""

SHOWN: Final = f"Tüll {STAND_IN}"


@cache
def named() -> Replay:
    """The block called so, for a client called so, cut from cloth called so."""
    made: Design = design("block")
    fabrics = (*made.fabrics, replace(made.fabrics[0], name=NAME))
    cut_so = made.with_step(ChooseFabric("fabric-1", "front", NAME))
    return replay(replace(cut_so, name=NAME, body=replace(made.body, name=NAME), fabrics=fabrics))


def print_of(done: Replay) -> bytes:
    """The pages of a print at a quarter of the size."""
    plan = planned(done.design, done, "a4", scale=0.25, choices=Choices())
    return printed(plan, lambda _done, _total: None).pdf


def pdf_of(done: Replay, kind: str) -> bytes:
    """One of the documents that are written as PDF."""
    makers = {"work": work_sheet, "client": client_sheet, "lesson": lesson_sheet}
    if kind == "print":
        return print_of(done)
    return written_pdf(makers[kind](done), title=done.design.name, day=done.design.date)


@pytest.mark.parametrize("kind", ["print", "work", "client", "lesson"])
def test_pdf_shows_a_stand_in(kind: str) -> None:
    """Letters of its font, the stand-in for the others, nothing that is obeyed; in the title too."""
    with pdfplumber.open(io.BytesIO(pdf_of(named(), kind))) as pdf:
        text = "\n".join(page.extract_text() for page in pdf.pages)
        title = str(pdf.metadata["Title"])
    assert SHOWN in " ".join(text.split())
    assert title.startswith(SHOWN)
    assert not any(mark in text + title for mark in (*UNSEEN, "漢", "☃"))


def test_svg_keeps_every_letter_and_is_xml() -> None:
    """A viewer has fonts of its own, so letters stay; an XML parser would refuse a bell or an escape."""
    content = exported(named(), ".svg").content
    words = " ".join(ET.fromstring(content).itertext())  # noqa: S314 - our own file
    assert "Tüll 漢☃" in words
    assert not any(mark in content.decode() for mark in UNSEEN)


def test_dxf_keeps_every_letter_and_is_clean() -> None:
    """Read back by ezdxf, which audits it; a line of the file is never ended by a name."""
    content = exported(named(), ".dxf").content.decode("cp1252")  # as its header says
    document = read(io.StringIO(content.replace("\r\n", "\n")))
    assert not document.audit().errors
    texts = [decode_dxf_unicode(text.dxf.text) for block in document.blocks for text in block.query("TEXT")]
    assert "Material: Tüll 漢☃" in texts
    assert not any(mark in content for mark in UNSEEN)


def test_png_shows_a_stand_in() -> None:
    """The same pixels as for the text with stand-ins, and other ones than without them."""
    box = (0.0, -2.0, 60.0, 6.0)
    pictures = [
        drawing_png(Drawing((Text((1.0, 0.0), 4.0, text, "words", anchor="start"),)), box)
        for text in (NAME, f"Tüll {STAND_IN}{STAND_IN}", "Tüll ")
    ]
    assert pictures[0] == pictures[1]
    assert pictures[0] != pictures[2]
    assert Image.open(io.BytesIO(pictures[0])).size == (round(60.0 / 25.4 * 150), round(8.0 / 25.4 * 150))


@pytest.mark.parametrize("suffix", [".png", ".svg"])
def test_equal_lessons_give_equal_pictures(suffix: str) -> None:
    """Byte for byte, one picture a step, each another."""
    first = lesson_pictures(replayed("panels"), suffix)
    assert lesson_pictures(replayed("panels"), suffix) == first
    assert len(set(first)) == len(first) > 1

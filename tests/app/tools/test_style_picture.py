"""The picture of the style: kept without what else is in its file, laid by pins with mouse and keys."""

from __future__ import annotations

from pathlib import Path

import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QImage

from app.actions.style_picture import FIRST_PINS, LARGEST_FILE, kept_picture
from app.canvas.underlay import LONGEST, read_image
from core.design.design import Design
from core.design.picture import StylePicture
from core.errors import Refusal
from core.file.reader import design_from_bytes
from core.file.writer import design_to_bytes
from tests.app.at_table import AtTable
from tests.demo_designs import concert


def sketch(path: Path, wide: int = 300, high: int = 400, suffix: str = "png") -> Path:
    """A picture in one plain colour in a file."""
    image = QImage(wide, high, QImage.Format.Format_RGB32)
    image.fill(QColor(20, 120, 220))
    file = path / f"sketch.{suffix}"
    assert image.save(str(file))
    return file


def pictured(tmp_path: Path) -> Design:
    """The demo with a picture over its front."""
    picture = StylePicture(kept_picture(sketch(tmp_path)), pins=FIRST_PINS, strength=1.0)
    return replace(concert(), pictures=(picture,))


@pytest.mark.parametrize("suffix", ["png", "jpg"])
def test_a_picture_is_kept_as_a_small_jpeg(tmp_path: Path, suffix: str) -> None:
    """However large it was, its longer side has at most 1600 pixels; by its first bytes it is a JPEG (ISO 10918)."""
    kept = kept_picture(sketch(tmp_path, 2400, 1200, suffix))
    assert kept.startswith(b"\xff\xd8\xff")
    image = read_image(kept)
    assert image is not None
    assert (image.width(), image.height()) == (LONGEST, LONGEST // 2)


def test_what_is_no_picture_is_refused(tmp_path: Path) -> None:
    """Text, half a picture, a huge file and a missing one are each refused by their name."""
    text = tmp_path / "notes.png"
    text.write_text("not a picture")
    half = tmp_path / "half.png"
    half.write_bytes(sketch(tmp_path).read_bytes()[:40])
    huge = tmp_path / "huge.png"
    huge.write_bytes(b"\x89PNG\r\n\x1a\n" + bytes(LARGEST_FILE))
    for path in (text, half, huge, tmp_path / "gone.png"):
        with pytest.raises(Refusal, match=path.name):
            kept_picture(path)


def test_a_picture_survives_the_file(tmp_path: Path) -> None:
    """Saved and opened, the same bytes of picture and the same pins are there."""
    design = pictured(tmp_path)
    assert design_from_bytes(design_to_bytes(design)).pictures == design.pictures


def test_a_damaged_picture_in_a_file_is_refused(tmp_path: Path) -> None:
    """Letters that are no base64 (RFC 4648) are refused in a sentence."""
    data = design_to_bytes(pictured(tmp_path)).replace(b'"image": "/9j/', b'"image": "!!!!')
    with pytest.raises(Refusal, match="picture"):
        design_from_bytes(data)


def test_the_picture_is_seen_over_the_front_and_goes_when_hidden(tmp_path: Path) -> None:
    """At full strength the blue of the picture lies at the bust point; hidden, it does not."""
    at = AtTable(pictured(tmp_path))
    x, y = at.table.scene.block_marks("front")["bust_point"]
    spot = at.pixel((x + 12, y + 30))
    assert at.table.grab().toImage().pixelColor(spot).blue() > 180
    design = at.session.design
    at.session.do("Hide", replace(design, pictures=(replace(design.pictures[0], is_shown=False),)))
    colour = at.table.grab().toImage().pixelColor(spot)
    assert colour.blue() < colour.red() + 30


def test_a_pin_is_dragged_and_taken_back(tmp_path: Path) -> None:
    """A drag moves the pin in one act; undo brings the design back; Esc in the middle leaves it as it was."""
    at = AtTable(pictured(tmp_path), tool="style-picture", size=(1400, 800))
    before = at.session.design
    x, y = at.handle("Pin of the bust point").at
    at.drag((x, y), (x + 10, y + 10), (x + 30, y + 20))
    assert at.acts() == 1
    moved = at.session.design.pictures[0].pins
    assert moved != before.pictures[0].pins
    assert moved[0] == before.pictures[0].pins[0]
    at.session.undo()
    assert at.session.design is before
    x, y = at.handle("Pin of the bust point").at
    at.press((x, y))
    at.hover((x + 30, y))
    at.press_key(Qt.Key.Key_Escape)
    assert at.session.shown.design is before


def test_keys_do_all_of_it(tmp_path: Path) -> None:
    """Arrows move a pin, + adds one, Delete takes one out down to three, H hides, B turns it to the back."""
    at = AtTable(pictured(tmp_path), tool="style-picture", size=(1400, 800))
    at.table.focus_handle("bust_point")
    at.press_key(Qt.Key.Key_Right)
    assert at.session.design.pictures[0].pins[2].x > FIRST_PINS[2].x
    at.table.setFocus()
    at.press_key(Qt.Key.Key_Plus)
    assert len(at.session.design.pictures[0].pins) == len(FIRST_PINS) + 1
    for _ in range(4):
        at.table.focus_handle(at.session.design.pictures[0].pins[0].landmark)
        at.press_key(Qt.Key.Key_Delete)
    assert len(at.session.design.pictures[0].pins) == 3
    at.table.setFocus()
    at.press_key(Qt.Key.Key_H)
    assert not at.session.design.pictures[0].is_shown
    at.press_key(Qt.Key.Key_B)
    assert at.session.design.pictures[0].piece == "back"


def test_without_a_picture_the_tool_says_where_to_get_one() -> None:
    """Nothing is there to pin: the way to a picture is told."""
    at = AtTable(concert(), tool="style-picture")
    assert "Picture of the style" in at.said[-1]

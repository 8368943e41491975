"""The dashed line round the piece that is taken up: where it will be cut."""

from __future__ import annotations

import msgspec
import pytest
from PySide6.QtGui import QColor

from core.design.finishes import EdgeFinish, Finishing
from core.finishing.finish import finish
from tests.app.at_table import AtTable
from tests.demo_designs import concert


def wide(at: AtTable) -> None:
    """Give the side of the side front an inch."""
    inch = Finishing(edges=(EdgeFinish("side front", "front.side", allowance=25.4),))
    at.session.do("An inch", msgspec.structs.replace(at.session.design, finishing=inch))


def test_it_is_the_line_that_is_printed_and_follows_an_act() -> None:
    """The same points as the finished piece; with an inch at the side another line, and found once for each."""
    at = AtTable(concert())
    replay = at.session.replay
    piece = replay.garment.piece("side front")
    line = at.table.cutting_lines.of(replay, piece)
    wanted = next(one for one in finish(replay.design, replay.garment) if one.name == "side front").cutting_line
    assert line is not None
    assert (line == wanted).all()
    assert at.table.cutting_lines.of(replay, piece) is line
    wide(at)
    now = at.table.cutting_lines.of(at.session.replay, at.piece("side front"))
    assert now is not None
    assert now[:, 0].max() == pytest.approx(line[:, 0].max() + 12.7, abs=1.5)


def test_it_is_drawn_round_the_selected_piece_and_no_other() -> None:
    """Pixels change outside the outline when the piece is taken up, by the pencil's colour."""
    at = AtTable(concert())
    wide(at)
    piece = at.piece("side front")
    line = at.table.cutting_lines.of(at.session.replay, piece)
    assert line is not None
    places = [at.pixel(at.on("side front", (float(x), float(y)))) for x, y in line]

    def dark() -> int:
        image = at.table.grab().toImage()
        ratio = image.devicePixelRatio()
        colours = [QColor(image.pixel(int(p.x() * ratio), int(p.y() * ratio))) for p in places]
        return sum(colour.lightness() < 110 for colour in colours)

    before = dark()
    at.table.select("side front")
    at.settle()
    assert dark() > before + 5  # the line is dashed and its points are few


def test_a_piece_of_a_fabric_that_is_not_there_has_none() -> None:
    """There is nothing to say how much is left outside it; nothing fails."""
    at = AtTable(concert())
    bare = msgspec.structs.replace(at.session.design, fabrics=at.session.design.fabrics[1:])
    at.session.do("No main", bare)
    at.table.select("side front")
    at.settle()
    assert at.table.cutting_lines.of(at.session.replay, at.piece("side front")) is None

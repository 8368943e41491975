"""Folding darts on the table: the status line names what is folded, or says why nothing is."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor

from app.canvas.folding import fold
from core.pieces.names import spoken
from tests.app.at_table import AtTable, first_steps, inside
from tests.demo_designs import concert


def test_what_f_folds_is_said_by_name() -> None:
    """Over the front's shoulder dart F names it and the piece; on the cloth beside it says that all are open again."""
    at = AtTable(first_steps(0))
    dart = at.piece("front").dart("front.shoulder_dart")
    at.hover(at.on("front", inside(dart)))
    at.press_key(Qt.Key.Key_F)
    assert at.said[-1].startswith(f"The {spoken(dart.name)} of the front is folded shut")
    at.hover(at.label_of("front"))
    at.press_key(Qt.Key.Key_F)
    assert at.said[-1] == "All darts of the front are open."


def test_a_piece_without_darts_says_so() -> None:
    """A panel that was cut through its darts has none to fold."""
    at = AtTable(concert())
    at.hover(at.label_of("front yoke"))
    at.press_key(Qt.Key.Key_F)
    assert at.said[-1] == "The front yoke has no open dart to fold."


def test_a_dart_that_lies_shut_is_marked_and_named() -> None:
    """A dashed crease runs from the outline to its pivot, with its ring; its piece's handle says it is folded shut."""
    at = AtTable(first_steps(0))
    dart = at.piece("front").dart("front.shoulder_dart")
    assert at.handle("Piece front").words == "Piece front"
    at.hover(at.on("front", inside(dart)))
    at.press_key(Qt.Key.Key_F)
    assert at.handle("Piece front").words == "Piece front, shoulder dart folded shut"
    item = at.table.scene.piece("front")
    assert item is not None
    (fold,) = item.folds
    inks = at.table.look().inks
    seen = at.table.grab().toImage()
    along = [k / 200 for k in range(60, 140)]
    ends = at.pixel(item.to_table(fold.mouth)), at.pixel(item.to_table(fold.pivot))
    dark = 0
    for share in along:
        x, y = (round(a + share * (b - a)) for a, b in ((ends[0].x(), ends[1].x()), (ends[0].y(), ends[1].y())))
        near = [seen.pixelColor(x + dx, y).lightness() for dx in (-1, 0, 1)]
        dark += min(near) < (inks.crease.color().lightness() + QColor(at.table.theme.main).lightness()) / 2
    assert 0.4 * len(along) < dark < len(along)


def test_open_again_it_is_marked_no_more() -> None:
    """The crease is the table's: the piece of the design has no such line, and opening it leaves none."""
    at = AtTable(first_steps(0))
    fold(at.table, "front", ("front.waist_dart",))
    assert [[one.dart for one in item.folds] for item in at.table.scene.laid if item.name == "front"] == [
        ["front.waist_dart"]
    ]
    fold(at.table, "front", ())
    assert not any(item.folds for item in at.table.scene.laid)
    assert at.acts() == 0

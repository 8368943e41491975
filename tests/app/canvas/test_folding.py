"""Folding darts on the table: the status line names what is folded, or says why nothing is."""

from __future__ import annotations

from PySide6.QtCore import Qt

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

"""A file is opened again and its pieces lie as they were left; undo knows nothing of it, another machine neither."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from app import settings
from app.actions.files import demo_design
from app.canvas.folding import fold
from app.canvas.pairs import Pair
from core.file.reader import read_design
from core.file.writer import save_design
from tests.app.at_table import first_steps
from tests.app.at_window import opened

if TYPE_CHECKING:
    from pathlib import Path

    from pytestqt.qtbot import QtBot

    from app.window.main_window import MainWindow

CONTROL = Qt.KeyboardModifier.ControlModifier


def block_file(folder: Path) -> Path:
    """A file with front and back, their neckline drawn and their darts open."""
    path = folder / "hers.sheer"
    save_design(path, first_steps(2))
    return path


def arrange(window: MainWindow) -> None:
    """Move the back, fold a dart of it, and lay it at the front's shoulder."""
    window.table.lay_piece("back", (-40.0, 25.0))
    fold(window.table, "back", ("back.waist_dart",))
    window.table.lay_together(Pair("shoulder", end=1))


def lying(window: MainWindow) -> dict[str, tuple[object, tuple[str, ...]]]:
    """Every piece's place, and what is folded on it."""
    return {item.name: (item.place, item.folded) for item in window.table.scene.laid}


def test_a_file_is_found_on_the_table_as_it_was_left(qtbot: QtBot, tmp_path: Path) -> None:
    """Moved, folded, together: all is so again in the next window; neither file nor history says a word of it."""
    path = block_file(tmp_path)
    before, design = path.read_bytes(), read_design(path)
    window = opened(qtbot, path)
    arrange(window)
    assert window.table.scene.folded("back") == ("back.waist_dart", "back.shoulder_dart")
    left = lying(window)
    assert not window.isWindowModified()
    assert len(window.session.history.entries) == 1
    window.close()
    assert path.read_bytes() == before
    again = opened(qtbot, path)
    assert lying(again) == left
    assert again.session.design == design
    QTest.keyClick(again.table, Qt.Key.Key_Z, CONTROL)
    assert lying(again) == left


def test_what_is_laid_apart_opens_again_what_was_folded_for_it(qtbot: QtBot, tmp_path: Path) -> None:
    """The shoulder dart was folded only for the seam: parted in the next window, it opens, and the other stays shut."""
    path = block_file(tmp_path)
    window = opened(qtbot, path)
    arrange(window)
    window.close()
    again = opened(qtbot, path)
    again.desk.lay_apart()
    assert again.table.scene.folded("back") == ("back.waist_dart",)
    assert again.table.scene.shift("back") == (-40.0, 25.0)


def test_each_file_has_its_own_table(qtbot: QtBot, tmp_path: Path) -> None:
    """Opened in one window one after the other, each lies as it was left, and a design without a file in order."""
    path, other = block_file(tmp_path), tmp_path / "other.sheer"
    save_design(other, demo_design())
    window = opened(qtbot, path)
    arrange(window)
    left = lying(window)
    window.desk.files.open_path(other)
    assert window.table.scene.shift("front yoke") == (0.0, 0.0)
    window.table.lay_piece("front yoke", (0.0, 30.0))
    window.session.begin(first_steps(2))
    assert window.table.scene.folded("back") == ()
    assert window.table.scene.together == frozenset()
    window.desk.files.open_path(path)
    assert lying(window) == left
    window.desk.files.open_path(other)
    assert window.table.scene.shift("front yoke") == (0.0, 30.0)


def test_laid_in_order_again_nothing_is_kept(qtbot: QtBot, tmp_path: Path) -> None:
    """Back in order, and all darts open, the file is as one that was never touched."""
    path = block_file(tmp_path)
    window = opened(qtbot, path)
    arrange(window)
    window.desk.lay_in_order()
    fold(window.table, "back", ())
    window.close()
    assert settings.kept_table(path) == ""


def test_a_design_that_changed_elsewhere_lies_as_far_as_it_can(qtbot: QtBot, tmp_path: Path) -> None:
    """Cut up on another machine it has other pieces: what is gone is passed over, the rest lies where it is laid."""
    path = block_file(tmp_path)
    window = opened(qtbot, path)
    arrange(window)
    window.close()
    save_design(path, demo_design())
    again = opened(qtbot, path)
    assert {item.name for item in again.table.scene.laid} == set(again.session.replay.garment.pieces)
    assert again.table.scene.shift("front yoke") == (0.0, 0.0)


def test_another_name_takes_the_table_along(qtbot: QtBot, tmp_path: Path) -> None:
    """Saved under another name, that file is found as it lies now."""
    path = block_file(tmp_path)
    window = opened(qtbot, path)
    arrange(window)
    left = lying(window)
    window.session.save(tmp_path / "copy.sheer")
    window.close()
    assert lying(opened(qtbot, tmp_path / "copy.sheer")) == left


@pytest.mark.parametrize("text", ["", "{", '{"/a": 3}', "[1]"])
def test_a_spoilt_state_opens_in_order(qtbot: QtBot, tmp_path: Path, text: str) -> None:
    """Whatever stands in the state file, the design opens and lies in order."""
    path = block_file(tmp_path)
    settings._state().setValue("tables", text)
    assert opened(qtbot, path).table.scene.arrangement.apart == {}

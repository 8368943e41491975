"""The lay plan with real mouse and keys: laid out beside the window, kept in the design, moved by hand."""

from __future__ import annotations

import sys
import time
from math import ceil
from pathlib import Path
from typing import TYPE_CHECKING

import msgspec
import pdfplumber
import pytest
from pypdfium2 import PdfDocument
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QComboBox, QDialog, QLabel, QLineEdit, QSpinBox

from app.dialogs.lay_view import LayView
from core.design.kept_lay import KeptLay
from core.outputs import lay_process, lay_search
from core.outputs.lay_amounts import kept_of
from core.outputs.lay_plan import Laid
from tests.app.at_window import LEFT, dialog, found, name_file, opened, press

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window.main_window import MainWindow

HANGS = [sys.executable, "-c", "import time\ntime.sleep(60)"]
KILLED = [sys.executable, "-c", "import os\nos.kill(os.getpid(), 9)"]


def at_lay(qtbot: QtBot, fabric: str) -> tuple[MainWindow, QDialog]:
    """The demo with its lay plan open on a fabric."""
    window = opened(qtbot, demo=True)
    QTest.keyClick(window.table, Qt.Key.Key_L, Qt.KeyboardModifier.ControlModifier)
    box = dialog(qtbot, "Lay plan")
    combo = found(QComboBox, "Fabric", box)
    combo.setCurrentIndex(combo.findData(fabric))
    found(QSpinBox, "Seconds to try", box).setValue(1)
    return window, box


def laid_out(qtbot: QtBot, fabric: str) -> tuple[MainWindow, QDialog]:
    """The same, laid out."""
    window, box = at_lay(qtbot, fabric)
    press("Lay out", box)
    qtbot.waitUntil(lambda: kept(window, fabric) is not None, timeout=20_000)
    return window, box


def kept(window: MainWindow, fabric: str) -> KeptLay | None:
    """What the design keeps."""
    return kept_of(window.session.design, fabric)


def placed(window: MainWindow, fabric: str, index: int) -> tuple[float, float]:
    """Where a piece lies in the lay that the design keeps."""
    lay = kept(window, fabric)
    assert lay is not None
    return (lay.placed[index].x, lay.placed[index].y)


def hint(box: QDialog) -> str:
    """What is said under the picture."""
    return found(QLabel, "What to do", box).text()


def is_workable(box: QDialog) -> bool:
    """Whether a hand may change the lay that is shown."""
    return found(LayView, "Lay", box).is_editable


def middle(view: LayView, index: int) -> QPoint:
    """The middle of a piece on the screen."""
    assert view.lay is not None
    left, low, right, high = view.lay.laid[index].box
    return view._frame().point(((left + right) / 2, (low + high) / 2)).toPoint()


def test_a_lay_is_out_of_date_once_a_piece_changes(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    """It is said so and shown without being workable; undo makes it good again, and so does laying out anew.

    What is found on the way is shown, and a search of a minute ends as soon as it is short enough for her.
    """
    window, box = laid_out(qtbot, "cup")
    session = window.session
    wider = msgspec.structs.replace(session.design.allowances, seam=20.0)
    session.do("Wider allowances", msgspec.structs.replace(session.design, allowances=wider))
    assert "out of date" in hint(box)
    assert not is_workable(box)
    view = found(LayView, "Lay", box)
    session.undo()
    assert is_workable(box)
    session.redo()
    monkeypatch.setattr(lay_search, "AS_SHORT", -1.0)  # else it may be as short as can be, and end by itself
    found(QSpinBox, "Seconds to try", box).setValue(60)
    press("Lay out", box)
    qtbot.waitUntil(lambda: view.lay is not None and not view.is_stale, timeout=10_000)
    assert not is_workable(box)
    press("Stop and keep", box)
    qtbot.waitUntil(lambda: is_workable(box), timeout=10_000)
    assert session.history.undo_label == "Lay out cup"
    box.close()


def test_laying_out_is_an_act_of_the_design(qtbot: QtBot, tmp_path: Path) -> None:
    """What to buy is said, the lay is kept, its marker is as wide as the cloth, and undo takes it back."""
    window, box = laid_out(qtbot, "cup")
    said = found(QLabel, "What to buy", box).text()
    assert said.startswith("Buy ")
    assert " yd of cup (powernet)" in said
    assert window.session.history.undo_label == "Lay out cup"
    path = tmp_path / "marker.pdf"
    press("Marker at true size…", box)
    name_file(qtbot, "Marker", path)
    qtbot.waitUntil(lambda: "is written" in hint(box))
    lay = kept(window, "cup")
    assert lay is not None
    across = lay.width / (2.0 if lay.model == "folded" else 1.0)
    # 40 mm of margin on each side; a point is a 72nd of an inch.
    assert PdfDocument(path)[0].get_height() / 72.0 * 25.4 == pytest.approx(across + 80.0, abs=0.1)
    window.desk.undo()
    assert kept(window, "cup") is None
    assert found(QLabel, "What to buy", box).text() == ""
    box.close()


def test_a_piece_is_dragged_and_escape_drops_a_drag(qtbot: QtBot) -> None:
    """It follows the mouse, and lies there when it is let go; what is not dragged stays."""
    window, box = laid_out(qtbot, "cup")
    view = found(LayView, "Lay", box)
    before = [placed(window, "cup", index) for index in range(2)]
    start = middle(view, 0)
    QTest.mousePress(view, LEFT, pos=start)
    QTest.mouseMove(view, start + QPoint(60, 0))
    QTest.keyClick(view, Qt.Key.Key_Escape)
    QTest.mouseRelease(view, LEFT, pos=start + QPoint(60, 0))
    assert placed(window, "cup", 0) == before[0]
    assert window.session.history.undo_label == "Lay out cup"
    assert view.lay is not None
    far = view._frame().point((view.lay.length * 1.05, view.lay.strip)).toPoint()
    start = middle(view, 1)
    QTest.mousePress(view, LEFT, pos=start)
    QTest.mouseMove(view, QPoint((start.x() + far.x()) // 2, (start.y() + far.y()) // 2))
    QTest.mouseMove(view, far)
    QTest.mouseRelease(view, LEFT, pos=far)
    assert placed(window, "cup", 1) != pytest.approx(before[1], abs=1.0)
    assert placed(window, "cup", 0)[1] == pytest.approx(before[0][1])
    assert window.session.history.undo_label.startswith("Move piece")
    box.close()


def test_pieces_are_chosen_moved_and_locked_by_keys_alone(qtbot: QtBot) -> None:
    """Tab chooses, Shift and arrows move by 10 mm where there is room, L locks and unlocks; satin has no R."""
    window, box = laid_out(qtbot, "main")
    view = found(LayView, "Lay", box)
    view.setFocus()
    QTest.keyClick(view, Qt.Key.Key_Tab)
    assert "from the end" in hint(box)
    before = placed(window, "main", 0)
    moves = 0
    for key in (Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_Right, Qt.Key.Key_Left):
        QTest.keyClick(view, key, Qt.KeyboardModifier.ShiftModifier)
        moves += placed(window, "main", 0) != before
    assert moves
    QTest.keyClick(view, Qt.Key.Key_L)
    lay = kept(window, "main")
    assert lay is not None
    assert lay.placed[0].locked
    assert hint(box).partition(". ")[0].endswith("locked")
    QTest.keyClick(view, Qt.Key.Key_L)
    assert window.session.history.undo_label.startswith("Unlock piece")
    QTest.keyClick(view, Qt.Key.Key_R)
    assert "lie one way, for its nap" in hint(box)
    assert window.session.history.undo_label.startswith("Unlock piece")
    box.close()


def seconds_of_a_cancel(qtbot: QtBot, box: QDialog) -> float:
    """From the press to the sentence, in the middle of a search."""
    press("Lay out", box)
    qtbot.wait(200)
    began = time.monotonic()
    press("Cancel", box)
    qtbot.waitUntil(lambda: "cancelled" in hint(box), timeout=20_000)
    return time.monotonic() - began


def test_an_engine_that_hangs_or_is_killed_leaves_the_last_lay(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    """A cancel takes under 0.3 s from the press to the sentence; a killed child is told of; the lay stays workable.

    Of five cancels one must be so quick, so that other work on the machine does not count.
    """
    window, box = laid_out(qtbot, "cup")
    before = window.session.design
    view = found(LayView, "Lay", box)
    monkeypatch.setattr(lay_search, "AS_SHORT", -1.0)  # else the rows are as short as can be, and no engine is asked
    monkeypatch.setattr(lay_process, "command", lambda: HANGS)
    assert any(seconds_of_a_cancel(qtbot, box) < 0.3 for _ in range(5))
    assert window.session.design is before
    assert view.is_editable
    monkeypatch.setattr(lay_process, "command", lambda: KILLED)
    press("Lay out", box)
    qtbot.waitUntil(lambda: "could not be laid out" in hint(box), timeout=5000)
    assert window.session.design is before
    assert view.is_editable
    box.close()


def test_a_slip_in_a_field_and_closing_amid_a_search_change_nothing(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A field and a refused step are told in a sentence; asked for again the plan comes to the front.

    Closed amid a search it leaves no thread and no child.
    """
    window, box = at_lay(qtbot, "main")
    before = window.session.design
    gap = found(QLineEdit, "Gap between pieces", box)
    gap.setText("wide")
    press("Lay out", box)
    assert "is not a length" in hint(box)
    for name, text, said in (
        ("Gap between pieces", "-1/8", "The gap between pieces is 0 to 1 31/32 in"),
        ("To square the ends", "90", "Squaring the ends takes 0 to 78 3/4 in"),
        ("Shrinks by, %", "31", "a percentage from 0 to 30"),
    ):
        field = found(QLineEdit, name, box)
        before_it = "1/8" if field is gap else field.text()
        field.setText(text)
        if field is not gap:
            gap.setText("1/8")
        press("Lay out", box)
        assert said in hint(box)
        field.setText(before_it)
    QTest.keyClick(window.table, Qt.Key.Key_L, Qt.KeyboardModifier.ControlModifier)
    assert dialog(qtbot, "Lay plan") is box
    session = window.session
    session.do("Without the pivot", session.design.without_step("pivot-1"))
    assert hint(box).startswith("Nothing is laid out while a step is refused: ")
    session.undo()
    gap.setText("1/8")
    monkeypatch.setattr(lay_search, "AS_SHORT", -1.0)  # else the rows are as short as can be, and no engine is asked
    monkeypatch.setattr(lay_process, "command", lambda: HANGS)
    press("Lay out", box)
    qtbot.wait(150)
    box.close()
    assert window.session.design is before


def test_by_mouse_a_piece_is_taken_out_turned_flipped_locked_and_the_rest_filled_in(qtbot: QtBot) -> None:
    """Out past all others in one drag; by buttons what the keys do too; a locked piece stays until it is unlocked."""
    window, box = laid_out(qtbot, "cup")
    view = found(LayView, "Lay", box)
    start, out = middle(view, 0), QPoint(view.width() - 90, view.height() // 2)
    QTest.mousePress(view, LEFT, pos=start)
    for step in (1, 2, 3):
        QTest.mouseMove(view, start + (out - start) * step / 3)
    QTest.mouseRelease(view, LEFT, pos=out)
    lay = view.lay
    assert lay is not None
    others = max(laid.box[2] for index, laid in enumerate(lay.laid) if index)
    assert lay.laid[0].box[0] > others
    before = lay.laid[0]
    for word, key in (("Turn", Qt.Key.Key_R), ("Flip", Qt.Key.Key_F)):
        press(word, box)
        after = shown(view, 0)
        assert (after.turn - before.turn) % 360.0 == pytest.approx(180.0) or after.mirrored != before.mirrored
        view.setFocus()
        QTest.keyClick(view, key)
        assert shown(view, 0).loop == pytest.approx(before.loop, abs=1e-6)
    press("Lock", box)
    QTest.mousePress(view, LEFT, pos=middle(view, 0))
    QTest.mouseMove(view, middle(view, 0) + QPoint(-80, 0))
    QTest.mouseRelease(view, LEFT, pos=middle(view, 0) + QPoint(-80, 0))
    assert "is locked in its place: unlock it first" in hint(box)
    press("Fill in the rest", box)
    qtbot.waitUntil(lambda: window.session.history.undo_label == "Fill in the lay of cup", timeout=20_000)
    (held,) = (laid for laid in shown_all(view) if laid.locked)
    assert held.loop[:, 1] == pytest.approx(before.loop[:, 1])
    assert view.lay is not None
    assert view.lay.length < lay.length
    box.close()


def shown(view: LayView, index: int) -> Laid:
    """A piece as it is shown to lie."""
    return shown_all(view)[index]


def shown_all(view: LayView) -> tuple[Laid, ...]:
    """All of them."""
    assert view.lay is not None
    return view.lay.laid


def test_costs_and_the_work_sheet_follow_the_lay(qtbot: QtBot, tmp_path: Path) -> None:
    """The price of what is bought stands beside the lay and on the sheet, which says when the lay is out of date."""
    window, box = at_lay(qtbot, "cup")
    session = window.session
    priced = tuple(
        msgspec.structs.replace(fabric, price=40.0, currency="EUR") if fabric.name == "cup" else fabric
        for fabric in session.design.fabrics
    )
    session.do("Price", msgspec.structs.replace(session.design, fabrics=priced))
    press("Lay out", box)
    qtbot.waitUntil(lambda: kept(window, "cup") is not None, timeout=20_000)
    lay = kept(window, "cup")
    assert lay is not None
    # As long as the lay and 4 in for squaring, up to the next eighth of a yard (36 in), at 40 for a metre.
    eighths = ceil((lay.length + 4 * 25.4) / (36 * 25.4 / 8) - 1e-3)
    price = f"{40.0 * eighths * 36 * 0.0254 / 8:.2f} EUR"
    assert price in found(QLabel, "What to buy", box).text()
    said = work_sheet(qtbot, window, tmp_path / "sheet.pdf")
    assert "by the lay plan" in said
    assert price in said
    wider = msgspec.structs.replace(session.design.allowances, seam=20.0)
    session.do("Wider allowances", msgspec.structs.replace(session.design, allowances=wider))
    assert "the lay plan is out of date" in work_sheet(qtbot, window, tmp_path / "later.pdf")
    box.close()


def work_sheet(qtbot: QtBot, window: MainWindow, path: Path) -> str:
    """The words of the work sheet, written from the window."""
    window.desk.outputs.ask("work-sheet")
    with qtbot.waitSignal(window.desk.said, timeout=20_000):
        name_file(qtbot, "Work sheet", path)
    with pdfplumber.open(path) as pdf:
        return " ".join(" ".join((page.extract_text() or "").split()) for page in pdf.pages)

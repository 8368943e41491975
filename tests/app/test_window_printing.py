"""Printing from the window with real mouse and keys: the pages, the file they go into, and what it may not replace."""

from __future__ import annotations

import time
from pathlib import Path
from typing import TYPE_CHECKING

import pdfplumber
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QComboBox, QDialog, QLabel, QLineEdit, QListWidget, QProgressBar, QPushButton, QWidget

from app.dialogs import print_pages
from app.dialogs.print_pages import PrintDialog
from core.outputs.plan import planned
from core.progress import Progress
from tests.app.at_window import dialog, found, opened, press

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window.main_window import MainWindow
    from core.outputs.plan import Plan


def test_printing_counts_the_pages_and_writes_them_beside_the_window(qtbot: QtBot, tmp_path: Path) -> None:
    """The count said before printing is the number of pages in the file, on the chosen paper."""
    window = opened(qtbot, demo=True)
    QTest.keyClick(window.table, Qt.Key.Key_P, Qt.KeyboardModifier.ControlModifier)
    box = dialog(qtbot, "Print")
    QTest.keyClick(found(QComboBox, "Paper", box), Qt.Key.Key_Down)
    QTest.keyClick(found(QComboBox, "Scale", box), Qt.Key.Key_Down)
    await_count(qtbot, box)
    said = int(found(QLabel, "Page count", box).text().split()[0])
    path = tmp_path / "pages.pdf"
    found(QLineEdit, "File", box).setText(str(path))
    press("Print", box)
    qtbot.waitUntil(lambda: "were written to pages.pdf" in found(QLabel, "How to print", box).text(), timeout=10_000)
    with pdfplumber.open(path) as pdf:
        assert len(pdf.pages) == said
        size = (float(pdf.pages[0].width), float(pdf.pages[0].height))
    # US Letter is 8.5 x 11 in, and a point is a 72nd of an inch.
    assert size == pytest.approx((612.0, 792.0), abs=0.01)
    press("Close", box)


def test_a_print_that_is_stopped_writes_nothing(qtbot: QtBot, tmp_path: Path) -> None:
    """Cancel while the pages are made leaves no file and says so."""
    window = opened(qtbot, demo=True)
    window.desk.files.print()
    box = dialog(qtbot, "Print")
    path = tmp_path / "pages.pdf"
    found(QLineEdit, "File", box).setText(str(path))
    press("Print", box)
    press("Cancel", box)
    qtbot.waitUntil(lambda: "stopped" in found(QLabel, "How to print", box).text(), timeout=10_000)
    assert not path.exists()
    assert list(tmp_path.glob("*.part")) == []


def test_a_print_to_a_folder_that_is_not_there_is_refused_in_a_sentence(qtbot: QtBot, tmp_path: Path) -> None:
    """The sentence names the file; the dialog stays ready for another one."""
    window = opened(qtbot)
    window.desk.files.print()
    box = dialog(qtbot, "Print")
    found(QLineEdit, "File", box).setText(str(tmp_path / "nowhere" / "pages.pdf"))
    press("Print", box)
    qtbot.waitUntil(found(QPushButton, "Print", box).isEnabled, timeout=10_000)
    assert "pages.pdf" in said(box)
    assert not (tmp_path / "nowhere").exists()


def await_count(qtbot: QtBot, box: QDialog) -> None:
    """Wait until the pages are counted for the choices as they are."""
    assert isinstance(box, PrintDialog)
    qtbot.waitUntil(lambda: box.plan is not None, timeout=10_000)


def print_box(qtbot: QtBot, window: MainWindow) -> QDialog:
    """The print dialog, opened by its key, its pages small so that they are made quickly."""
    QTest.keyClick(window.table, Qt.Key.Key_P, Qt.KeyboardModifier.ControlModifier)
    box = dialog(qtbot, "Print")
    scale = found(QComboBox, "Scale", box)
    QTest.keyClick(scale, Qt.Key.Key_End)
    return box


def print_to(box: QDialog, path: Path) -> str:
    """Type a file, press Print, and read what is said."""
    field = found(QLineEdit, "File", box)
    field.selectAll()
    QTest.keyClicks(field, str(path))
    press("Print", box)
    return said(box)


def said(box: QDialog) -> str:
    """The sentence of the print dialog."""
    return found(QLabel, "How to print", box).text()


def test_no_print_replaces_a_design(qtbot: QtBot, tmp_path: Path) -> None:
    """The open design, another design and a link to one are refused by name, and stay as they were byte by byte."""
    path, other, link = tmp_path / "hers.sheer", tmp_path / "other.sheer", tmp_path / "link.pdf"
    window = opened(qtbot)
    window.session.save(other)
    window.session.save(path)
    link.symlink_to(other)
    before = (path.read_bytes(), other.read_bytes())
    box = print_box(qtbot, window)
    for refused in (path, other, link):
        assert "ends in .pdf" in print_to(box, refused), refused.name
    assert (path.read_bytes(), other.read_bytes()) == before
    assert not list(tmp_path.glob("*~"))


def test_no_print_replaces_a_design_that_is_called_pdf(qtbot: QtBot, tmp_path: Path) -> None:
    """Even a design that was saved under a name of pages is not replaced by its own print."""
    path = tmp_path / "hers.pdf"
    window = opened(qtbot)
    window.session.save(path)
    before = path.read_bytes()
    assert "holds the design itself" in print_to(print_box(qtbot, window), path)
    assert path.read_bytes() == before


def test_a_typed_file_that_is_there_is_replaced_only_when_she_says_so(qtbot: QtBot, tmp_path: Path) -> None:
    """Enter and Keep leave the old file; Replace writes the pages."""
    path = tmp_path / "pages.pdf"
    path.write_bytes(b"old")
    box = print_box(qtbot, opened(qtbot))
    print_to(box, path)
    QTest.keyClick(dialog(qtbot, "Replace the file"), Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: "was left as it is" in said(box))
    assert path.read_bytes() == b"old"
    press("Print", box)
    press("Replace it", dialog(qtbot, "Replace the file"))
    qtbot.waitUntil(lambda: "were written" in said(box), timeout=10_000)
    assert path.read_bytes().startswith(b"%PDF")


def test_a_second_print_says_what_it_does_and_can_be_cancelled(qtbot: QtBot, tmp_path: Path) -> None:
    """While pages are made again the old count is gone and the button says Cancel; what was printed first stays."""
    path = tmp_path / "pages.pdf"
    box = print_box(qtbot, opened(qtbot))
    print_to(box, path)
    qtbot.waitUntil(lambda: "were written" in said(box), timeout=10_000)
    assert found(QPushButton, "Close", box).text() == "Close"
    first = path.read_bytes()
    press("Print", box)
    assert "being made" in said(box)
    press("Cancel", box)
    qtbot.waitUntil(lambda: "stopped" in said(box), timeout=10_000)
    assert found(QPushButton, "Close", box).isVisible()
    assert path.read_bytes() == first


def test_the_pages_are_seen_before_they_are_printed(qtbot: QtBot) -> None:
    """As many as are counted, turned by two buttons; another paper or fewer pieces show other pages."""
    box = print_box(qtbot, opened(qtbot, demo=True))
    shown = found(QLabel, "Page shown", box)
    qtbot.waitUntil(lambda: shown.text().startswith("Page 1 of"), timeout=10_000)
    assert int(shown.text().split()[3].rstrip(":")) == int(found(QLabel, "Page count", box).text().split()[0])
    assert not found(QPushButton, "Previous page", box).isEnabled()
    press("Next page", box)
    assert shown.text().startswith("Page 2 of")
    assert dark(found(QWidget, "Page", box)) > 0
    pieces = found(QListWidget, "Pieces", box)
    for row in range(1, pieces.count()):
        pieces.item(row).setCheckState(Qt.CheckState.Unchecked)
    qtbot.waitUntil(lambda: shown.text() == "Page 2 of 2: A1", timeout=10_000)
    pieces.item(0).setCheckState(Qt.CheckState.Unchecked)
    qtbot.waitUntil(lambda: "No piece is ticked" in found(QLabel, "Page count", box).text(), timeout=10_000)
    assert not found(QPushButton, "Print", box).isEnabled()


def dark(page: QWidget) -> int:
    """How many dark pixels a page has."""
    image = page.grab().toImage()
    return sum(
        image.pixelColor(x, y).lightness() < 90 for x in range(0, image.width(), 3) for y in range(0, image.height(), 3)
    )


def test_a_roll_of_any_width_and_a_measured_square_are_taken(qtbot: QtBot, tmp_path: Path) -> None:
    """The width is typed in any unit; a square that was fitted is refused with the way out."""
    box = print_box(qtbot, opened(qtbot))
    QTest.keyClick(found(QComboBox, "Paper", box), Qt.Key.Key_End)
    width = found(QLineEdit, "Roll width", box)
    enter(width, "750 mm")
    across = found(QLineEdit, "Square reads across", box)
    enter(across, "96")
    count = found(QLabel, "Page count", box)
    qtbot.waitUntil(lambda: "actual size without “fit”" in count.text())
    enter(across, "99.5")
    qtbot.waitUntil(lambda: "pages of roll" in count.text())
    path = tmp_path / "pages.pdf"
    print_to(box, path)
    qtbot.waitUntil(lambda: "were written" in said(box), timeout=10_000)
    with pdfplumber.open(path) as pdf:
        assert float(pdf.pages[0].width) == pytest.approx(750.0 / 25.4 * 72.0, abs=0.5)
        assert "corrected for a square that read 99.5 across, 100 up" in pdf.pages[0].extract_text()


def test_the_window_is_alive_while_pages_are_counted(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    """Choices made meanwhile count; a bar is shown over a second; Esc ends it in the middle, with no thread left."""
    begun: list[float] = []
    turns = 0

    def slowly(*arguments: object, progress: Progress, **settings: object) -> Plan:
        nonlocal turns
        begun.append(float(settings["scale"]))  # type: ignore[arg-type] # handed on as given
        for done in range(2000):
            progress(done, 2000)
            turns += 1
            time.sleep(0.01)
        return planned(*arguments, progress=progress, **settings)  # type: ignore[arg-type] # the same

    monkeypatch.setattr(print_pages, "planned", slowly)
    box = print_box(qtbot, opened(qtbot))
    assert isinstance(box, PrintDialog)
    assert "being counted" in found(QLabel, "Page count", box).text()
    qtbot.waitUntil(box.progress.isVisible, timeout=10_000)
    assert found(QProgressBar, "Pages made", box).maximum() == 2000
    assert begun == [1.0, 0.25]
    QTest.keyClick(box, Qt.Key.Key_Escape)
    assert turns < 2000


def enter(field: QLineEdit, text: str) -> None:
    """Type a value in the place of another."""
    field.selectAll()
    QTest.keyClicks(field, text)

"""Text from a file that looks like markup is shown as it stands, wherever Qt would take it for markup by itself."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QMessageBox, QWidget

from app.actions.files import demo_design
from app.actions.style_picture import kept_picture
from app.dialogs.changed_file import changed_box
from app.dialogs.recover import RecoverDialog
from app.dialogs.sentence import tell
from core.errors import Refusal
from core.file.recovery import keep_work, kept_works
from core.file.writer import save_design
from tests.app.at_window import opened

if TYPE_CHECKING:
    from pathlib import Path

    from pytestqt.qtbot import QtBot

    from core.design.design import Design

MARKUP = "<img src='/etc/hostname'><b>gown</b>"


def hostile_design() -> Design:
    """The demo with markup wherever a text of its own is shown: name, client, notes, a fabric."""
    design = demo_design()
    fabrics = (*design.fabrics[1:], replace(design.fabrics[0], name=f"{MARKUP}f"))
    main = design.fabrics[0].name
    kept = (design.fabrics[0], *fabrics) if main not in {fabric.name for fabric in fabrics} else fabrics
    body = replace(design.body, name=MARKUP)
    return replace(design, name=MARKUP, body=body, notes=MARKUP, fabrics=kept)


def taken_for_markup(widget: QWidget) -> list[str]:
    """The texts in a widget that Qt would show as markup, tool tips among them."""
    labels = [label for label in widget.findChildren(QLabel) if label.textFormat() != Qt.TextFormat.PlainText]
    texts = [label.text() for label in labels]
    texts += [part.toolTip() for part in [widget, *widget.findChildren(QWidget)]]
    return [text for text in texts if "<img" in text]


def test_a_design_full_of_markup_is_shown_as_it_stands(qtbot: QtBot, tmp_path: Path) -> None:
    """In the window, its tables and tips, and in the dialogs that name it."""
    path = tmp_path / "<b>gown<img src=x>.sheer"
    save_design(path, hostile_design())
    window = opened(qtbot, path)
    keep_work(tmp_path / "a.0.sheer", hostile_design(), path)
    works, _ = kept_works(tmp_path)
    dialogs: list[QWidget] = [
        RecoverDialog([work for work in works if work.original], [path], window),
        changed_box(window, MARKUP),
        tell(window, MARKUP),
    ]
    assert "<img" in window.windowTitle()
    for widget in (window, *dialogs):
        assert taken_for_markup(widget) == []
    window.desk.sewing.fabrics()
    window.desk.client.another()
    window.desk.outputs.texts()
    assert taken_for_markup(window) == []


def test_the_search_finds_markup(qtbot: QtBot) -> None:
    """A label as Qt makes it takes this text for markup."""
    holder = QWidget()
    qtbot.addWidget(holder)
    QLabel(MARKUP, holder)
    assert taken_for_markup(holder) == [MARKUP]
    assert QMessageBox(holder).textFormat() == Qt.TextFormat.AutoText


def test_only_regular_files_are_taken_for_pictures(tmp_path: Path) -> None:
    """A folder or a device by the name of a picture is refused in a sentence."""
    (tmp_path / "sketch.png").mkdir()
    with pytest.raises(Refusal, match=r"sketch\.png cannot be read: it is a folder or a device"):
        kept_picture(tmp_path / "sketch.png")

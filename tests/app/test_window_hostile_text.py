"""Text from a file that looks like markup is shown as it stands, wherever Qt would take it for markup by itself."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractItemView, QLabel, QLineEdit, QMessageBox, QWidget

from app.actions.files import demo_design
from app.actions.style_picture import kept_picture
from app.dialogs.changed_file import changed_box
from app.dialogs.recover import RecoverDialog
from app.dialogs.sentence import tell
from core.errors import Refusal
from core.file.recovery import keep_work, kept_works
from core.file.writer import save_design
from core.steps.cut import Cut
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


MOST_COLUMNS = 12
"""No table has more."""


def shown_texts(window: QWidget) -> list[str]:
    """Every text in a window: titles, labels, fields, cells, names for those who listen, tips."""
    parts = [window, *window.findChildren(QWidget)]
    texts = [text for part in parts for text in (part.windowTitle(), part.accessibleName(), part.toolTip())]
    texts += [label.text() for label in window.findChildren(QLabel)]
    texts += [field.text() for field in window.findChildren(QLineEdit)]
    for view in window.findChildren(QAbstractItemView):
        model = view.model()
        cells = (model.index(row, column) for row in range(model.rowCount()) for column in range(MOST_COLUMNS))
        texts += [str(cell.data()) for cell in cells if cell.isValid()]
    return texts


def test_signs_that_turn_the_writing_round_are_written_out(qtbot: QtBot, tmp_path: Path) -> None:
    """A design, its file, a fabric and a panel whose names hold one: it is seen in all that is shown."""
    sign = "\u202e"
    design = demo_design()
    cut = next(step for step in design.steps if isinstance(step, Cut))
    tags = (replace(cut.tags[0], name=f"p{sign}anel"), *cut.tags[1:])
    fabrics = tuple(replace(fabric, cloth=f"{sign}nitas") for fabric in design.fabrics)
    altered = replace(design.with_step(replace(cut, tags=tags)), name=f"G{sign}own", fabrics=fabrics)
    save_design(tmp_path / f"g{sign}own.sheer", altered)
    window = opened(qtbot, tmp_path / f"g{sign}own.sheer")
    window.table.select("p\\u202eanel")
    window.desk.sewing.fabrics()
    texts = shown_texts(window)
    assert [text for text in texts if sign in text] == []
    for name in ("g\\u202eown", "p\\u202eanel", "\\u202enitas"):
        assert any(name in text for text in texts), name


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

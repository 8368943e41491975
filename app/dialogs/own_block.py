"""Her own block: a block that exists on paper, typed row by row beside its picture, and used like a drafted one."""

from __future__ import annotations

from math import degrees
from typing import Final, Literal

import numpy as np
from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QDialog,
    QHBoxLayout,
    QTableWidgetItem,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from app.dialogs.block_picture import BlockPicture
from app.dialogs.form import plain_button, plain_label
from app.dialogs.typed_table import TypedTable
from app.session import Session
from core.blocks.own_block import OWN, OwnBlock, own_garment
from core.blocks.own_sheet import (
    TAKES,
    Row,
    Sheet,
    blank_sheet,
    own_block,
    places_so_far,
    read_off,
    sheet_of,
    with_dart,
    with_number,
    with_point,
    without_row,
)
from core.design.following import followed
from core.errors import Refusal
from core.geometry.polyline import Points, as_points
from core.pieces.names import spoken
from core.pieces.records import Garment
from core.pieces.seams import matches
from core.units import parse_length, said_in, show_length

PARTS: Final[dict[int, Literal["x", "y"]]] = {1: "x", 2: "y"}
HEADINGS: Final = ("Place", "From the centre", "Over the waist")
PIECES: Final = ("front", "back")
HOW: Final = (
    "Lay the block flat, the centre line upright and the waist line level. Go round it once and type, for each place, "
    "how far it lies from the centre line and how high over the waist line. Rows between two corners make a curve, and "
    "an edge without any is straight; rows of a curve that you do not need stay empty. Of a dart, type the first leg "
    "and either the second or the width at its base; sewn short is how far its point stays off where the legs meet."
)
BEGIN: Final = (
    "Begin with the pit of the neck: the picture grows with what you type, and what is missing is said here. Or begin "
    "with the drafted block, and type hers over it."
)


class OwnBlockDialog(QDialog):
    """Types a block; it goes into the design as one act that undo takes back."""

    def __init__(self, session: Session, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle("Her own block")
        self.setAccessibleName("Her own block")
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.session = session
        self.unit = session.design.unit
        self.wrong: dict[tuple[str, int, int], str] = {}
        kept = session.design.own_block
        self.sheets: dict[str, Sheet] = {p: sheet_of(p, kept) if kept else blank_sheet(p) for p in PIECES}
        self.tabs = QTabWidget(self)
        self.tabs.setAccessibleName("Front or back")
        self.tables = {piece: self._table(piece) for piece in PIECES}
        self.picture = BlockPicture(self)
        self.sentence = plain_label("", self)
        self.sentence.setAccessibleName("What the block is like")
        self.sentence.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.sentence.setMinimumHeight(5 * self.fontMetrics().lineSpacing())
        self._lay_out()
        for piece in PIECES:
            self._fill(piece)
            self.tables[piece].widen()
        self._follow()
        if kept is None:
            self.sentence.setText(BEGIN)
        self.tables["front"].setFocus()
        self.tables["front"].setCurrentCell(0, 1)

    # --- laying out

    def _table(self, piece: str) -> TypedTable:
        table = TypedTable(piece.capitalize(), HEADINGS, self)
        table.itemChanged.connect(self._typed)
        table.currentCellChanged.connect(self._mark)
        self.tabs.addTab(table, f"&{piece.capitalize()}")
        return table

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        how = plain_label(HOW, self)
        how.setAccessibleName("How it is measured")
        column.addWidget(how)
        beside = QHBoxLayout()
        left = QVBoxLayout()
        left.addWidget(self.tabs, 1)
        left.addLayout(
            self._buttons(
                (
                    ("Another &point", self.add_point),
                    ("Another &dart", self.add_dart),
                    ("&Take the row away", self.take_away),
                )
            )
        )
        beside.addLayout(left, 1)
        beside.addWidget(self.picture, 1)
        column.addLayout(beside, 1)
        column.addWidget(self.sentence)
        last = self._buttons((("Be&gin with the drafted block", self.read_off), ("&Use this block", self.use)))
        last.insertStretch(1, 1)
        cancel = plain_button("Cancel", self)
        cancel.clicked.connect(self.reject)
        last.addWidget(cancel)
        column.addLayout(last)
        self.tabs.currentChanged.connect(self._turn)
        self.resize(980, 760)

    def _buttons(self, rows: tuple[tuple[str, object], ...]) -> QHBoxLayout:
        row = QHBoxLayout()
        for words, run in rows:
            button = plain_button(words, self)
            button.clicked.connect(run)
            row.addWidget(button)
        return row

    # --- the table

    @property
    def piece(self) -> str:
        """The piece whose sheet is in front."""
        return PIECES[self.tabs.currentIndex()]

    def _fill(self, piece: str) -> None:
        table, sheet = self.tables[piece], self.sheets[piece]
        here = table.currentRow(), table.currentColumn()
        table.blockSignals(True)
        table.setRowCount(len(sheet))
        for index, row in enumerate(sheet):
            table.put(index, 0, row.words[:1].upper() + row.words[1:], typed=False)
            for column, part in PARTS.items():
                value = getattr(row, part)
                text = "" if value is None else show_length(value, self.unit)
                named = f"{row.words}, {HEADINGS[column].lower()}"
                table.put(index, column, text, typed=part in TAKES[row.role], name=named)
        table.setCurrentCell(*here)
        table.blockSignals(False)

    def _typed(self, item: QTableWidgetItem) -> None:
        """Take one number, or say why it is none; what is typed stays to be corrected."""
        piece, part = self.piece, PARTS[item.column()]
        key = (piece, item.row(), item.column())
        self.wrong.pop(key, None)
        try:
            number = parse_length(item.text(), self.unit) if item.text().strip() else None
        except Refusal as refusal:
            self.wrong[key] = f"{self.sheets[piece][item.row()].words}: {refusal.sentence}"
        else:
            self.sheets[piece] = with_number(self.sheets[piece], item.row(), part=part, number=number)
        self._follow()
        self._mark()

    def _turn(self) -> None:
        self.tables[self.piece].setFocus()
        self._mark()

    def _mark(self) -> None:
        table = self.tables[self.piece]
        row = self.sheets[self.piece][max(table.currentRow(), 0)]
        places = places_so_far(self.piece, (Row("corner", row.words, "x", x=row.x, y=row.y),))
        self.picture.mark(places[0] if places and TAKES[row.role] == "xy" else None)

    # --- what is typed, as a block

    def _block(self) -> OwnBlock:
        if self.wrong:
            raise Refusal(next(iter(self.wrong.values())))
        return own_block(self.sheets["front"], self.sheets["back"])

    def _follow(self) -> None:
        """Picture and sentences for what is typed by now."""
        try:
            block = self._block()
            garment = own_garment(block, self.session.design.ease)
            words = self._like(garment) + self._lost(block)
            whole = True
        except Refusal as refusal:
            garment, whole = None, False
            words = f"≠ {said_in(refusal.sentence, self.unit)}"
        dots = [place for piece in PIECES for place in places_so_far(piece, self.sheets[piece])]
        lines = _outlines(garment) if garment else [self._so_far(piece) for piece in PIECES]
        self.picture.show_lines(lines, thin=_inside(garment) if garment else (), dots=dots, whole=whole)
        self.sentence.setText(words)

    def _so_far(self, piece: str) -> Points:
        return as_points(places_so_far(piece, self.sheets[piece]) or np.empty((0, 2)))

    def _like(self, garment: Garment) -> str:
        """What the block is like: its seams, and how far its darts open."""
        lines = []
        for seam in matches(garment):
            a, b = (show_length(length, self.unit) for length in (seam.length_a, seam.length_b))
            one, other = (link[0].piece.name for link in (seam.a, seam.b))
            lines.append(f"{seam.seam.name.capitalize()} seam: {one} {a}, {other} {b}.")
        darts = [
            f"{piece.name} {spoken(dart.name)} {show_length(float(np.hypot(*np.subtract(*dart.legs))), self.unit)} wide"
            f" ({degrees(dart.angle):.1f}°)"
            for piece in garment.pieces.values()
            for dart in piece.darts
        ]
        return f"The block closes. {' '.join(lines)}\nDarts: {', '.join(darts) or 'none'}."

    def _lost(self, block: OwnBlock) -> str:
        """The steps that cannot follow on this block, each with its reason."""
        lost = followed(replace(self.session.design, own_block=block, method=OWN), self.session.replay).lost
        if not lost:
            return ""
        named = "\n".join(f"{refused.step_id}: {refused.sentence}" for refused in lost)
        return f"\nOn this block these steps cannot follow and will be switched off:\n{named}"

    # --- the buttons

    def add_point(self) -> None:
        """A row under the current one, on its edge."""
        self._change(with_point(self.sheets[self.piece], self._row()), down=1)

    def add_dart(self) -> None:
        """A dart on the edge of the current row."""
        edge = self.sheets[self.piece][self._row()].edge
        if not edge or edge.startswith("centre"):
            self.sentence.setText("≠ Choose a row of the edge that the dart opens at, then press again.")
            return
        self._change(with_dart(self.sheets[self.piece], edge))

    def take_away(self) -> None:
        """The current point, or the dart of the current row."""
        try:
            self._change(without_row(self.sheets[self.piece], self._row()))
        except Refusal as refusal:
            self.sentence.setText(f"≠ {refusal.sentence}")

    def read_off(self) -> None:
        """Fill both sheets from the block that is drafted now, to be typed over."""
        block = read_off(self.session.replay.block)
        self.wrong.clear()
        self.sheets = {piece: sheet_of(piece, block) for piece in PIECES}
        for piece in PIECES:
            self._fill(piece)
        self._follow()

    def _row(self) -> int:
        return max(self.tables[self.piece].currentRow(), 0)

    def _change(self, sheet: Sheet, *, down: int = 0) -> None:
        piece, table = self.piece, self.tables[self.piece]
        row = min(self._row() + down, len(sheet) - 1)
        self.sheets[piece] = sheet
        self.wrong = {key: words for key, words in self.wrong.items() if key[0] != piece}
        self._fill(piece)
        table.setCurrentCell(row, max(table.currentColumn(), 1))
        table.setFocus()
        self._follow()

    def use(self) -> None:
        """Put the block into the design as one act; while something is missing, say what."""
        try:
            design = replace(self.session.design, own_block=self._block(), method=OWN)
            self.session.do("Her own block", followed(design, self.session.replay).design)
        except Refusal as refusal:
            self.sentence.setText(f"≠ {said_in(refusal.sentence, self.unit)}")
            return
        self.accept()


def _outlines(garment: Garment) -> list[Points]:
    return [np.vstack((piece.loop, piece.loop[:1])) for piece in garment.pieces.values()]


def _inside(garment: Garment) -> list[Points]:
    legs = [as_points((d.legs[0], d.point, d.legs[1])) for piece in garment.pieces.values() for d in piece.darts]
    levels = [stretch for piece in garment.pieces.values() for line in piece.lines for stretch in line.stretches]
    return legs + levels

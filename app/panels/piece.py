"""The selected piece: its number and fabric, its edges with their lengths, its darts, its area."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QAction
from PySide6.QtWidgets import (
    QComboBox,
    QFormLayout,
    QHBoxLayout,
    QHeaderView,
    QMenu,
    QVBoxLayout,
    QWidget,
)

from app.messages import guard
from app.panels.panel import Panel, TallList, button, coloured, heading, sentence_label
from app.panels.piece_words import (
    PRESSED,
    cut_words,
    dart_words,
    edge_cells,
    edges_of,
    pressed_words,
    show_area,
    with_fabric,
    with_pressed,
)
from app.panels.tables import put, table
from app.session import Changed, Session
from app.theme import Theme
from core.design.finishes import Pressed
from core.errors import Refusal
from core.pieces.names import spoken
from core.pieces.outline import cloth_area
from core.pieces.records import Piece
from core.units import Unit

NOTHING: Final = "Click a piece on the cutting table to see its edges, darts and fabric here."
COLUMNS: Final = ("Edge", "Kind", "Length", "Outside")
MARGIN: Final = 4
RIGHT: Final = ("Length", "Outside")


class PiecePanel(Panel):
    """Everything about one piece in words and lengths; follows it while a line is dragged."""

    finish_requested = Signal(str, str)
    """The piece and the edge whose finish is to be altered."""
    turn_requested = Signal(str)
    fabrics_requested = Signal(str)

    def __init__(self, session: Session, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(session, theme, parent)
        self.setAccessibleName("Selected piece")
        self._name = ""
        self._shown: Piece | None = None
        self.nothing = sentence_label(NOTHING, self)
        self.body = QWidget(self)
        self.title = heading("", self.body)
        self.fabric = QComboBox(self.body)
        self.fabric.setAccessibleName("fabric")
        self.fabric.activated.connect(self._take_fabric)
        self.fabric_words = sentence_label(parent=self.body)
        self.facts = sentence_label(parent=self.body)
        self.edges = table("Edges", COLUMNS, self.body)
        header = self.edges.horizontalHeader()
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        # Three edges at least, whatever the size of the text.
        self.edges.setMinimumHeight(header.sizeHint().height() + 3 * self.edges.verticalHeader().defaultSectionSize())
        self.page = TallList(self.body, self)
        self.edges.cellActivated.connect(self._finish_row)
        self.edges.setToolTip("Enter or a double click finishes an edge.")
        self.darts = sentence_label(parent=self.body)
        self.pressed = QComboBox(self.body)
        self.pressed.setAccessibleName("darts pressed")
        for towards, words in PRESSED.items():
            self.pressed.addItem(words, towards)
        self.pressed.activated.connect(self._press_darts)
        self.finish_edge = button("Finish an edge…", self.body, tip="Allowance, closure, hem, corners, bone.")
        self.turn = button("Cut double…", self.body, tip="Sewn closed round the edge and turned.")
        self.fabrics = button("Fabrics…", self.body, tip="The table of the design's fabrics.")
        self.more = button("More", self.body, tip="Stretch, copies, corners, the waist stay.")
        self.finish_edge.clicked.connect(self._finish_chosen)
        self.turn.clicked.connect(self._turn)
        self.fabrics.clicked.connect(self._show_fabrics)
        for box in (self.fabric, self.pressed):
            box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
            box.setMinimumContentsLength(6)
        self._lay()
        self.refresh(Changed())

    def _lay(self) -> None:
        form = QFormLayout()
        form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapLongRows)
        form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        form.addRow("fabric", self.fabric)
        form.addRow("darts pressed", self.pressed)
        self._form = form
        inner = QVBoxLayout(self.body)
        inner.setContentsMargins(0, 0, 0, 0)
        inner.addWidget(self.title)
        inner.addLayout(form)
        for pair in ((self.finish_edge, self.more), (self.turn, self.fabrics)):
            acts = QHBoxLayout()
            for act in pair:
                acts.addWidget(act)
            inner.addLayout(acts)
        for widget in (self.fabric_words, self.facts, self.darts):
            inner.addWidget(widget)
        inner.addWidget(self.edges, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(MARGIN, MARGIN, MARGIN, MARGIN)
        self.nothing.setAlignment(Qt.AlignmentFlag.AlignTop)
        column.addWidget(self.nothing)
        column.addWidget(self.page, 1)

    @guard(QSize())
    def minimumSizeHint(self) -> QSize:
        """As wide as with a piece: a click on one must not make the table narrower under the hand."""
        hint = super().minimumSizeHint()
        return QSize(max(hint.width(), self.page.minimumSizeHint().width() + 2 * MARGIN), hint.height())

    def offer(self, actions: Sequence[QAction]) -> None:
        """Put rarer acts of sewing, as the menu has them, behind one button."""
        menu = QMenu("More", self.more)
        menu.setAccessibleName("More")
        menu.setToolTipsVisible(True)
        menu.addActions(actions)
        self.more.setMenu(menu)

    @property
    def piece_name(self) -> str:
        """The piece that is shown, "" for none."""
        return self._name

    def show_piece(self, name: str) -> None:
        """Show a piece by name; "" shows what to do."""
        self._name = name
        self.refresh(Changed())

    def refresh(self, changed: Changed) -> None:
        """Show the piece as it lies now; one that did not move is left alone while a drag is under way."""
        if not changed.design:
            return
        if changed.file:
            self._name = ""
        piece = self.session.shown.garment.pieces.get(self._name)
        self.nothing.setVisible(piece is None)
        self.page.setVisible(piece is not None)
        if piece is None or (changed.preview and piece is self._shown):
            return
        self._shown = piece
        if not changed.preview:
            self._show_heading(piece)
        self._show_measures(piece)

    def _show_heading(self, piece: Piece) -> None:
        design = self.session.design
        number = f"{piece.number}  " if piece.number else ""
        self.title.setText(f"{number}{piece.name}")
        self.fabric.clear()
        for fabric in design.fabrics:
            self.fabric.addItem(fabric.words, fabric.name)
        self.fabric.setCurrentIndex(self.fabric.findData(piece.fabric))
        self._say_fabric(self._made_of(piece), self.theme.faint_text)
        self._form.setRowVisible(self.pressed, bool(piece.darts))
        self.pressed.setCurrentIndex(self.pressed.findData(pressed_words(design, piece)))

    def _made_of(self, piece: Piece) -> str:
        """What there is to say about its cloth: that it is turned, or that there is no such fabric."""
        doubled = self.session.design.finishing.doubled_piece(piece.name)
        if self.fabric.currentIndex() < 0:
            return f"This design has no fabric {piece.fabric}: choose another."
        return f"Cut double, turned through the {spoken(doubled.through)}." if doubled else ""

    def _say_fabric(self, sentence: str, colour: str) -> None:
        self.fabric_words.setText(sentence)
        self.fabric_words.setVisible(bool(sentence))
        coloured(self.fabric_words, colour)

    def _show_measures(self, piece: Piece) -> None:
        unit = self.session.design.unit
        area = show_area(cloth_area(piece), unit)
        self.facts.setText(f"Cut {cut_words(piece)}. Area {area} of cloth, without allowances.")
        darts = "\n".join(dart_words(piece, dart, unit) for dart in piece.darts)
        self.darts.setText(f"Open darts\n{darts}" if darts else "No open darts.")
        self._show_edges(piece, unit)

    def _show_edges(self, piece: Piece, unit: Unit) -> None:
        edges = [edge for edge in piece.edges if edge.kind != "dart base"]
        finished = edges_of(self.session.shown, piece)
        if self.edges.rowCount() != len(edges):
            self.edges.setRowCount(len(edges))
        for row, edge in enumerate(edges):
            for column, text in enumerate(edge_cells(edge, finished.get(edge.name), unit)):
                right = COLUMNS[column] in RIGHT
                put(self.edges, (row, column), text, tip=f"{edge.length:.3f} mm", right=right)

    def _take_fabric(self, index: int) -> None:
        fabric, piece = str(self.fabric.itemData(index)), self.session.shown.garment.pieces.get(self._name)
        if piece is None or fabric == piece.fabric:
            return
        try:
            design = with_fabric(self.session.design, piece.name, fabric)
            self.session.do(f"{piece.name.capitalize()} of {fabric}", design)
        except Refusal as refusal:
            self._say_fabric(f"≠ {refusal.sentence}", self.theme.verdicts["wrong"])

    def _press_darts(self, index: int) -> None:
        piece = self.session.shown.garment.pieces.get(self._name)
        if piece is None:
            return
        towards: Pressed = "side" if self.pressed.itemData(index) == "side" else "centre"
        design = with_pressed(self.session.design, piece, towards)
        if design != self.session.design:
            self.session.do(f"Press darts of {piece.name} {PRESSED[towards]}", design)

    def _edge_names(self) -> list[str]:
        piece = self.session.shown.garment.pieces.get(self._name)
        return [edge.name for edge in piece.edges if edge.kind != "dart base"] if piece is not None else []

    def _finish_row(self, row: int, _column: int) -> None:
        names = self._edge_names()
        if 0 <= row < len(names):
            self.finish_requested.emit(self._name, names[row])

    def _finish_chosen(self) -> None:
        row = self.edges.currentRow()
        names = self._edge_names()
        self.finish_requested.emit(self._name, names[row] if 0 <= row < len(names) else "")

    def _turn(self) -> None:
        self.turn_requested.emit(self._name)

    def _show_fabrics(self) -> None:
        piece = self.session.shown.garment.pieces.get(self._name)
        self.fabrics_requested.emit(piece.fabric if piece is not None else "")

"""What the Sewing menu and the piece's panel open: fabrics, finishes of edges, pieces that are turned, copies."""

from __future__ import annotations

from msgspec.structs import replace
from PySide6.QtCore import QObject
from PySide6.QtWidgets import QMainWindow

from app.canvas.table import CuttingTable
from app.dialogs.sentence import tell
from app.session import Session
from core.geometry.margins import EndKind
from core.steps.copy_pieces import copied_again, copy_of


class Sewing(QObject):
    """Opens the dialogs for the piece that is selected on the table."""

    def __init__(self, session: Session, table: CuttingTable, window: QMainWindow) -> None:
        super().__init__(window)
        self.session = session
        self.table = table
        self.window = window

    @property
    def has_piece(self) -> bool:
        """Whether a piece is selected that is there."""
        return self.table.selection in self.session.replay.garment.pieces

    @property
    def is_copy(self) -> bool:
        """Whether the selected piece is a copy of another."""
        return copy_of(self.session.design.steps, self.table.selection) is not None

    def fabrics(self) -> None:
        """Show the fabrics, that of the selected piece first."""
        piece = self.session.replay.garment.pieces.get(self.table.selection)
        self.show_fabrics(piece.fabric if piece else "")

    def show_fabrics(self, fabric: str) -> None:
        """Show the fabrics, this one first."""
        from app.dialogs.fabrics import FabricsDialog

        FabricsDialog(self.session, fabric, self.window).open()

    def finish_edge(self) -> None:
        """Finish an edge of the selected piece."""
        self.finish_edge_of(self.table.selection, "")

    def finish_edge_of(self, piece: str, edge: str) -> None:
        """Finish an edge of a piece; its first where none is named."""
        from app.dialogs.edge_finish import EdgeFinishDialog

        if piece in self.session.replay.garment.pieces:
            EdgeFinishDialog(self.session, piece, edge, self.window).open()

    def turn(self) -> None:
        """Cut the selected piece double and turn it."""
        self.turn_piece(self.table.selection)

    def turn_piece(self, piece: str) -> None:
        """Cut a piece double and turn it."""
        from app.dialogs.turned_piece import TurnedPieceDialog

        if piece in self.session.replay.garment.pieces:
            TurnedPieceDialog(self.session, piece, self.window).open()

    def reduce_edge(self) -> None:
        """Cut an edge of the selected piece smaller for stretch cloth."""
        from app.dialogs.reduce_edge import ReduceEdgeDialog

        if self.has_piece:
            ReduceEdgeDialog(self.session, self.table.selection, self.window).open()

    def copy_again(self) -> None:
        """Make the selected copy again from its piece as it is now, or say why it cannot be."""
        step = copy_of(self.session.design.steps, self.table.selection)
        if step is None:
            return
        design = replace(self.session.design, steps=copied_again(self.session.design.steps, step))
        refused = self.session.preview(design)
        self.session.drop_preview()
        if refused is not None:
            tell(self.window, refused.sentence)
        elif design.steps != self.session.design.steps:
            self.session.do(f"Copy {self.table.selection} afresh", design)

    def set_corners(self, ends: EndKind) -> None:
        """How allowances end at corners where nothing else is said."""
        design = self.session.design
        if design.finishing.corners != ends:
            finishing = replace(design.finishing, corners=ends)
            self.session.do(f"{ends.capitalize()} corners", replace(design, finishing=finishing))

    def turn_stay(self) -> None:
        """Put a waist stay in, or leave it out."""
        design = self.session.design
        now = not design.finishing.waist_stay
        finishing = replace(design.finishing, waist_stay=now)
        self.session.do("Waist stay" if now else "No waist stay", replace(design, finishing=finishing))

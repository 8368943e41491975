"""Unfolding, mirroring and copying: each picks a piece, shows what becomes of it, and asks."""

from __future__ import annotations

from PySide6.QtGui import QPainter

from app.canvas.slip import SlipField
from app.canvas.table import CuttingTable
from app.tools.pick_tool import PickTool, Target
from core.steps.copy_pieces import CopyPieces
from core.steps.mirror import Mirror
from core.steps.unfold import Unfold, sewn_together


class PieceTool(PickTool):
    """Shows the pieces laid out afresh, as there may be more of them, and lays them back when it is dropped."""

    def shown(self) -> None:
        """Lay everything out so that nothing covers anything."""
        self._lay_out()

    def put_back(self) -> None:
        """Lay out what is committed."""
        was = self.target is not None
        super().put_back()
        if was:
            self._lay_out()

    def end(self) -> None:
        """As `put_back`."""
        was = self.target is not None
        super().end()
        if was:
            self._lay_out()

    def paint(self, painter: QPainter) -> None:
        """What a click would pick; once it is picked, what becomes of it is there to be seen."""
        if self.target is None:
            super().paint(painter)

    def _lay_out(self) -> None:
        self.table.scene.show(self.table.session.shown.garment, self.table.unit, anew=True)
        self.table.fit_all()


class UnfoldTool(PieceTool):
    """Pick a piece; it is drawn out to both halves, with all that is sewn to it."""

    ask = "Click a piece that is to be unfolded to a left and a right half."
    verb = "unfold"
    accept_words = "Unfold"

    def step(self, target: Target) -> Unfold:
        """The step."""
        return Unfold(self.table.session.design.fresh_id("unfold"), target.piece)

    def label(self, target: Target) -> str:
        """What undo calls it."""
        return f"Unfold the {target.piece}"


class MirrorTool(PieceTool):
    """Pick a piece; it is turned to its mirror image, with all that is sewn to it."""

    ask = "Click a piece that is to be turned to its mirror image."
    verb = "mirror"
    accept_words = "Mirror"

    def step(self, target: Target) -> Mirror:
        """The step: what is sewn together is mirrored together."""
        pieces = tuple(piece.name for piece in sewn_together(self.garment, target.piece))
        return Mirror(self.table.session.design.fresh_id("mirror"), pieces)

    def label(self, target: Target) -> str:
        """What undo calls it."""
        return f"Mirror the {target.piece}"


class CopyTool(PieceTool):
    """Pick a piece; a copy is laid beside it, to be cut from lining or from what the field says."""

    ask = "Click a piece that is to be copied for a lining."
    verb = "copy"
    accept_words = "Copy"

    def __init__(self, table: CuttingTable) -> None:
        super().__init__(table)
        self._field: SlipField | None = None

    def picked(self, target: Target) -> None:
        """Ask what the copy is."""
        assert self.slip is not None
        self._field = self.slip.field(letters=16)
        self._field.call("Word before its name")
        self._field.setText("lining")
        self._field.textChanged.connect(self.try_now)
        self._field.meant.connect(self.table.accept_tool)

    def follow(self) -> None:
        """The field goes with the slip."""
        super().follow()
        self._field = None

    def step(self, target: Target) -> CopyPieces:
        """The step: cut from the fabric called by the word, where there is one, else from lining."""
        word = " ".join(self._field.text().split()) if self._field is not None else "lining"
        fabrics = {fabric.name for fabric in self.table.session.design.fabrics}
        id_ = self.table.session.design.fresh_id("copy")
        return CopyPieces(id_, (target.piece,), word=word, fabric=word if word in fabrics else "lining")

    def label(self, target: Target) -> str:
        """What undo calls it."""
        return f"Copy the {target.piece}"

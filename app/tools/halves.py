"""Unfolding, mirroring and copying: each picks a piece, shows what becomes of it, and asks."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QCheckBox

from app.canvas.slip import SlipField
from app.canvas.table import CuttingTable
from app.tools.pick_tool import PickTool, Target
from core.errors import Refusal
from core.fabrics.catalogue import named
from core.fabrics.layers import layer_cloth
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
    """Pick a piece; a layer of it is laid beside it: lining, underlining, a second tulle, or what the fields say."""

    ask = "Click a piece that is to be lined, underlined, or cut again as another layer."
    verb = "copy"
    accept_words = "Copy"
    keys = frozenset({Qt.Key.Key_A})

    def __init__(self, table: CuttingTable) -> None:
        super().__init__(table)
        self._word: SlipField | None = None
        self._cloth: SlipField | None = None
        self._all: QCheckBox | None = None
        self._cloth_is_hers = False

    def picked(self, target: Target) -> None:
        """Ask what the copy is and what it is cut from; a cloth goes with the word until another is typed."""
        assert self.slip is not None
        self._word, self._cloth = self.slip.field(letters=16), self.slip.field(letters=16)
        self._word.call("Word before its name")
        self._cloth.call("Cut from")
        self._all = self.slip.toggle("With all pieces of its cloth", key="A")
        self._word.setText("lining")
        self._word.textChanged.connect(self._follow_word)
        self._cloth.textEdited.connect(self._keep_cloth)
        self._cloth.textChanged.connect(self.try_now)
        self._all.clicked.connect(self.try_now)
        for field in (self._word, self._cloth):
            field.meant.connect(self.table.accept_tool)
        self._follow_word()

    def _follow_word(self) -> None:
        if self._cloth is None or self._word is None or self.target is None:
            return
        own = self.garment.piece(self.target.piece).fabric
        cloth = layer_cloth(self._typed(self._word), own, self.table.session.design.fabrics)
        if self._cloth_is_hers or self._cloth.text() == cloth:
            self.try_now()
        else:
            self._cloth.setText(cloth)

    def _keep_cloth(self) -> None:
        self._cloth_is_hers = True

    def follow(self) -> None:
        """The fields go with the slip."""
        super().follow()
        self._word = self._cloth = self._all = None
        self._cloth_is_hers = False

    def key(self, key: Qt.Key, *, shift: bool) -> bool:
        """A takes all pieces of the cloth along."""
        if key == Qt.Key.Key_A and self._all is not None:
            self._all.click()
            return True
        return super().key(key, shift=shift)

    def _typed(self, field: SlipField) -> str:
        return " ".join(field.text().split())

    def try_now(self) -> None:
        """As ever; a cloth that the design does not have is said first."""
        if self.slip is None or self._cloth is None:
            return
        try:
            named(self.table.session.design.fabrics, self._typed(self._cloth))
        except Refusal as refused:
            self.trial, self.refusal = None, refused.sentence
            self.table.session.drop_preview()
            self.slip.ask(self.refusal, can_accept=False)
            self.table.say(self.refusal)
            return
        super().try_now()

    def step(self, target: Target) -> CopyPieces:
        """The step as the fields have it."""
        word = self._typed(self._word) if self._word is not None else "lining"
        cloth = self._typed(self._cloth) if self._cloth is not None else "lining"
        pieces = [target.piece]
        if self._all is not None and self._all.isChecked():
            own = self.garment.piece(target.piece).fabric
            pieces = [piece.name for piece in self.garment.pieces.values() if piece.fabric == own]
        return CopyPieces(self.table.session.design.fresh_id("copy"), tuple(pieces), word=word, fabric=cloth)

    def label(self, target: Target) -> str:
        """What undo calls it."""
        return f"Copy the {target.piece}"

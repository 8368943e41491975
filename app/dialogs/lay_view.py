"""The picture of a lay, to scale, and the hand that moves its pieces with mouse and keys."""

from __future__ import annotations

from math import hypot
from typing import Final

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFont, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from app.canvas.inks import dashed, inks_for, pen
from app.canvas.paths import Frame
from app.canvas.table import CuttingTable
from app.messages import guard
from app.theme import Theme
from core.geometry.planar import covers, roomiest
from core.geometry.polyline import Point
from core.outputs.drawing import Box
from core.outputs.lay_by_hand import reaching
from core.outputs.lay_drawing import grain_arrow, grain_on_cloth, hand_words
from core.outputs.lay_parts import Part
from core.outputs.lay_plan import Laid, Lay
from core.outputs.lay_proof import faults_of
from core.units import Unit, show_length

EDGE: Final = 34.0
"""Pixels round the cloth for the words at its sides."""

BEYOND: Final = 0.12
"""The share of the length that is shown past the last piece at least: room to move pieces to."""

DRAG_FROM: Final = 3.0
"""Pixels that the pointer moves before a press is a drag."""

NEAR: Final = 12.0
"""Pixels round a press within which the nearest piece is meant: half of the smallest target."""

CLEAR: Final = 5.0
"""mm that a number keeps off the grain line."""

HEAD: Final = 7.0
"""Pixels of the heads of grain lines."""

FINE, COARSE = 1.0, 10.0
"""mm that an arrow key moves a piece, without and with Shift."""

ARROWS: Final = {
    Qt.Key.Key_Left: (-1.0, 0.0),
    Qt.Key.Key_Right: (1.0, 0.0),
    Qt.Key.Key_Up: (0.0, 1.0),
    Qt.Key.Key_Down: (0.0, -1.0),
}
ACTS: Final = {Qt.Key.Key_R: "turn", Qt.Key.Key_F: "flip", Qt.Key.Key_L: "lock"}


class LayView(QWidget):
    """Shows a lay and says what a hand wants of it; it changes nothing itself."""

    shifted = Signal(int, float, float)
    """A piece is to be moved by (x, y) mm."""
    wanted = Signal(str)
    """ "turn", "flip" or "lock" is wanted of the chosen piece."""
    chosen = Signal()

    def __init__(self, table: CuttingTable, parent: QWidget) -> None:
        super().__init__(parent)
        self._table = table
        self.unit: Unit = "mm"
        self.lay: Lay | None = None
        self.selection = -1
        self.is_editable = False
        self.is_stale = False
        self._pressed: QPointF | None = None
        self._shift: Point | None = None
        self._spots: dict[tuple[Part, bool], tuple[Point, float]] = {}
        self.setAccessibleName("Lay")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMinimumSize(420, 300)
        self.setMouseTracking(True)

    @property
    def theme(self) -> Theme:
        """The colours of the cutting table, whichever are chosen now."""
        return self._table.theme

    def show_lay(self, lay: Lay | None, *, is_editable: bool, is_stale: bool = False) -> None:
        """Show another lay, the same piece chosen where it has that many."""
        self.lay, self.is_editable, self.is_stale = lay, is_editable, is_stale
        if not is_editable or lay is None or self.selection >= len(lay.laid):
            self.selection = -1
        self._pressed = self._shift = None
        parts = {piece.part for piece in lay.laid} if lay is not None else set()
        self._spots = {key: spot for key, spot in self._spots.items() if key[0] in parts}
        self._describe()
        self.update()

    def choose(self, index: int) -> None:
        """Choose a piece; -1 none."""
        if index != self.selection:
            self.selection = index
            self._describe()
            self.chosen.emit()
            self.update()

    def _describe(self) -> None:
        self.setAccessibleDescription(self.words())

    def words(self) -> str:
        """What is chosen and where it lies, or how to choose."""
        if self.lay is None or not self.is_editable:
            return ""
        if self.selection < 0:
            return "Drag a piece, or choose one with Tab and move it with the arrow keys (Shift: farther)."
        piece = self.lay.laid[self.selection]
        along, across = show_length(piece.box[0], self.unit), show_length(piece.box[1], self.unit)
        side = "the fold" if self.lay.model == "folded" else "the lower selvedge"
        where = f"{piece.part.said}: {along} from the end, {across} from {side}"
        return f"{where}, locked. L unlocks it." if piece.locked else f"{where}. R turns, F flips, L locks it."

    # --- where things are

    def _frame(self) -> Frame:
        assert self.lay is not None
        # A piece is moved out past the others in one go, so there is room for the longest.
        length = self.lay.length + max([BEYOND * self.lay.length, *(box[2] - box[0] for box in self._boxes())])
        scale = min((self.width() - 2 * EDGE) / length, (self.height() - 2 * EDGE) / self.lay.strip)
        scale = max(scale, 0.01)
        return Frame(scale, EDGE, (self.height() + scale * self.lay.strip) / 2.0)

    def _boxes(self) -> list[Box]:
        return [piece.box for piece in self.lay.laid] if self.lay is not None else []

    def _at(self, position: QPointF) -> Point:
        frame = self._frame()
        return ((position.x() - frame.x) / frame.scale, (frame.y - position.y()) / frame.scale)

    def _piece_at(self, position: QPointF) -> int:
        """The piece under the pointer, or so near that it is meant; -1 for none."""
        assert self.lay is not None
        place = self._at(position)
        for index, piece in enumerate(self.lay.laid):
            if covers(piece.loop, place):
                return index
        frame = self._frame()
        off = [_off(piece, place) * frame.scale for piece in self.lay.laid]
        nearest = min(range(len(off)), key=off.__getitem__)
        return nearest if off[nearest] <= NEAR else -1

    # --- mouse and keys

    @guard(None)
    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Choose a piece and take hold of it."""
        if event.button() != Qt.MouseButton.LeftButton or self.lay is None or not self.is_editable:
            return
        self.choose(self._piece_at(event.position()))
        self._pressed = event.position() if self.selection >= 0 else None

    @guard(None)
    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """The piece that is held follows the pointer."""
        if self._pressed is None or self.lay is None:
            return
        off = event.position() - self._pressed
        if self._shift is None and hypot(off.x(), off.y()) < DRAG_FROM:
            return
        scale = self._frame().scale
        self._shift = (off.x() / scale, -off.y() / scale)
        self.update()

    @guard(None)
    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let go: the move is meant."""
        shift, self._shift, self._pressed = self._shift, None, None
        self.update()
        if shift is not None and event.button() == Qt.MouseButton.LeftButton:
            self.shifted.emit(self.selection, *shift)

    @guard(None)
    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Arrows move the chosen piece, R, F and L turn, flip and lock it, Esc drops a drag."""
        key = Qt.Key(event.key())
        if key == Qt.Key.Key_Escape and self._pressed is not None:
            self._pressed = self._shift = None
            self.update()
        elif self.selection >= 0 and key in ARROWS:
            step = COARSE if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else FINE
            self.shifted.emit(self.selection, step * ARROWS[key][0], step * ARROWS[key][1])
        elif self.selection >= 0 and key in ACTS:
            self.wanted.emit(ACTS[key])
        else:
            super().keyPressEvent(event)

    @guard(False)
    def event(self, event: QEvent) -> bool:
        """Keys of one letter are this picture's own while a piece is chosen, whatever the window does with them."""
        if event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent) and self.selection >= 0:
            plain = not event.modifiers() & ~Qt.KeyboardModifier.ShiftModifier
            if plain and Qt.Key(event.key()) in {*ARROWS, *ACTS}:
                event.accept()
                return True
        return super().event(event)

    @guard(False)
    def focusNextPrevChild(self, forwards: bool) -> bool:
        """Tab goes from piece to piece, then on."""
        if self.lay is not None and self.is_editable:
            after = self.selection + 1 if forwards else self.selection - 1
            if 0 <= after < len(self.lay.laid):
                self.choose(after)
                return True
        return super().focusNextPrevChild(forwards)

    @guard(QSize())
    def sizeHint(self) -> QSize:
        """Wide enough for a lay of a few pieces."""
        return QSize(680, 480)

    # --- painting

    @guard(None)
    def paintEvent(self, event: QPaintEvent) -> None:
        """Cloth, pieces, what is held, and the words at the sides."""
        with QPainter(self) as p:
            p.fillRect(self.rect(), QColor(self.theme.table))
            p.setRenderHint(QPainter.RenderHint.Antialiasing)
            if self.lay is None:
                return
            frame = self._frame()
            if self.is_stale:
                p.setOpacity(0.35)
            self._paint_cloth(p, frame, self.lay)
            for index, piece in enumerate(self.lay.laid):
                if index != self.selection:
                    self._paint_piece(p, frame, piece, QPen(pen(self.theme.pencil, 1.2)))
            if self.selection >= 0:
                self._paint_chosen(p, frame, self.lay)
            if self.hasFocus():
                p.setOpacity(1.0)
                p.setPen(pen(self.theme.focus, 2.0))
                p.setBrush(Qt.BrushStyle.NoBrush)
                p.drawRect(QRectF(self.rect()).adjusted(1, 1, -1, -1))

    def _paint_cloth(self, p: QPainter, frame: Frame, lay: Lay) -> None:
        low, high = frame.point((0.0, 0.0)), frame.point((lay.length, lay.strip))
        right = float(self.width())  # the cloth goes on to the bolt
        p.setPen(Qt.PenStyle.NoPen)
        p.setBrush(inks_for(self.theme, self.devicePixelRatioF()).cloth[lay.fabric.role])
        p.drawRect(QRectF(low.x(), high.y(), right - low.x(), low.y() - high.y()))
        p.setPen(dashed(self.theme.pencil, 1.4, 12, 3, 2, 3) if lay.model == "folded" else pen(self.theme.pencil, 1.4))
        p.drawLine(QPointF(low.x(), low.y()), QPointF(right, low.y()))
        p.setPen(pen(self.theme.pencil, 1.4))
        p.drawLine(QPointF(low.x(), high.y()), QPointF(right, high.y()))
        p.drawLine(QPointF(low.x(), low.y()), QPointF(low.x(), high.y()))
        p.setPen(dashed(self.theme.chalk, 1.4, 5, 4))
        p.drawLine(QPointF(high.x(), low.y()), QPointF(high.x(), high.y()))
        self._paint_words(p, lay, low, high)

    def _paint_words(self, p: QPainter, lay: Lay, low: QPointF, high: QPointF) -> None:
        p.setPen(QColor(self.theme.ink))
        folded = lay.model == "folded"
        gap = self.fontMetrics().height()
        below = "fold of the cloth" if folded else "selvedge"
        p.drawText(QPointF(low.x(), low.y() + gap), below)
        p.drawText(QPointF(low.x(), high.y() - 0.4 * gap), "both selvedges" if folded else "selvedge")
        taken = f"pieces take {show_length(lay.length, self.unit)}"
        wide, clear = (self.fontMetrics().horizontalAdvance(words) for words in (taken, f"{below}  "))
        p.drawText(QPointF(max(high.x() - wide, low.x() + clear), low.y() + gap), taken)

    def _paint_chosen(self, p: QPainter, frame: Frame, lay: Lay) -> None:
        """The chosen piece over the others; while it is held and something is in its way, as what is wrong."""
        piece = lay.laid[self.selection]
        if self._shift is None:
            self._paint_piece(p, frame, piece, pen(self.theme.selected, 2.4))
            return
        held = reaching(lay, self.selection, self._shift)
        tried = Lay(lay.fabric, lay.model, lay.choices, tuple(held if o is piece else o for o in lay.laid))
        is_wrong = bool(faults_of(self.selection, tried))
        wrong, sound = dashed(self.theme.verdicts["wrong"], 2.4, 4, 2), pen(self.theme.selected, 2.4)
        self._paint_piece(p, frame, held, wrong if is_wrong else sound)

    def _paint_piece(self, p: QPainter, frame: Frame, piece: Laid, outline: QPen) -> None:
        p.setPen(outline)
        p.setBrush(QColor(self.theme.label if piece.locked else self.theme.paper))
        p.drawPolygon(frame.polygon(piece.loop))
        p.setPen(pen(self.theme.faint, 1.2))
        for line in grain_arrow(piece, HEAD / frame.scale):
            p.drawPolyline(frame.polygon(line))
        self._paint_number(p, frame, piece)

    def _spot(self, piece: Laid) -> tuple[Point, float]:
        """Where a piece has most room for its number beside its grain: looked for once, for it takes milliseconds."""
        key = (piece.part, piece.mirrored)
        if key not in self._spots:
            grain = piece.placement.inverse().points(grain_on_cloth(piece))
            self._spots[key] = roomiest(piece.part.loop(is_mirrored=piece.mirrored), lines=[grain], clear=CLEAR)
        return self._spots[key]

    def _paint_number(self, p: QPainter, frame: Frame, piece: Laid) -> None:
        has_many = self.lay is not None and any(other.part.owner for other in self.lay.laid)
        words = hand_words(piece, has_many=has_many)
        at, room = self._spot(piece)
        middle = frame.point(piece.placement.point(at))
        size = min(max(room * frame.scale * 0.9, 8.0), 22.0)
        font = QFont(self.font())
        font.setPixelSize(round(size))
        font.setBold(True)
        p.setFont(font)
        p.setPen(QColor(self.theme.ink))
        box = QRectF(middle.x() - 80.0, middle.y() - size, 160.0, 2.0 * size)
        p.drawText(box, Qt.AlignmentFlag.AlignCenter, words)
        p.setFont(self.font())
        if piece.locked:
            self._paint_lock(p, frame.polygon(grain_on_cloth(piece)).boundingRect().center())

    def _paint_lock(self, p: QPainter, at: QPointF) -> None:
        """A padlock on the grain line, where no number is and the heads of the line stay in sight."""
        p.setPen(pen(self.theme.ink, 1.8))
        p.setBrush(Qt.BrushStyle.NoBrush)
        p.drawArc(QRectF(at.x() - 3.5, at.y() - 9.0, 7.0, 11.0), 0, 180 * 16)
        p.fillRect(QRectF(at.x() - 5.5, at.y() - 3.5, 11.0, 8.5), QColor(self.theme.ink))


def _off(piece: Laid, place: Point) -> float:
    """How far (mm) a place lies outside a piece's box."""
    left, low, right, high = piece.box
    return hypot(max(left - place[0], 0.0, place[0] - right), max(low - place[1], 0.0, place[1] - high))

"""Pieces at true size for a beam from above: calibrated by two measured bars, with a grid and a mirror image.

A beam that falls aslant makes a keystone: that is not corrected here, and said so on the screen.
"""

from __future__ import annotations

from typing import Final, Literal

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen, QTransform
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QDialog,
    QFormLayout,
    QFrame,
    QLabel,
    QLineEdit,
    QPushButton,
    QWidget,
)

from app import settings
from app.canvas.page_view import paint_drawing
from app.canvas.paths import Frame
from app.canvas.wheel import pixels_per_mm
from app.messages import guard
from core.design.design import today
from core.design.replay import Replay
from core.errors import Refusal
from core.finishing.finish import finish
from core.outputs.drawing import Drawing, bounds
from core.outputs.piece_drawing import piece_drawing
from core.outputs.table_layout import side_by_side
from core.units import Unit, parse_length, show_as_meant, show_length

BAR: Final = 500
"""Pixels of each measured bar: the longer it is, the less a slip of the tape counts."""

LEAST, MOST = 0.02, 40.0
"""Pixels to a mm between which a beam or a screen is believable."""

STEP: Final = 20.0
"""mm that an arrow key moves the pieces; with Shift ten times as far."""

GRID: Final = {"in": 25.4, "cm": 10.0, "mm": 10.0}
STRONG: Final = 5
"""Every fifth line of the grid is stronger."""

GROUND, INK, LINES = "#000000", "#ffffff", "#30506a"
"""A beam throws light: what is not drawn stays dark, so that the cloth is seen."""

KEYSTONE: Final = (
    "A slanting beam (keystone) is not corrected here: set the projector square to the table, until the ends of the "
    "cross are all as far from each other, then measure both bars."
)


class ProjectorDialog(QDialog):
    """The pieces, and a slip with the fields. Arrows move, G is the grid, M the mirror, H hides the slip."""

    def __init__(self, replay: Replay, parent: QWidget) -> None:
        super().__init__(parent)
        self.unit: Unit = replay.design.unit
        self.setWindowTitle("Projector")
        self.setAccessibleName("Projector")
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        pieces = finish(replay.design, replay.garment)
        self._drawings = {f"{piece.number}  {piece.name}": piece_drawing(piece) for piece in pieces}
        placed = zip(pieces, side_by_side(pieces), strict=True)
        every = sum((piece_drawing(piece).placed(place) for piece, place in placed), Drawing())
        self._drawings = {"all pieces": every, **self._drawings}
        usual = pixels_per_mm(self.screen())
        self.scale = (usual, usual)
        """Pixels to a mm, across and up."""
        self.at = QPointF(0.0, 0.0)
        self._held: QPointF | None = None
        self._slip = self._make_slip()
        self._take_kept()
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setFocus()
        self._centre()

    def _make_slip(self) -> QFrame:
        slip = QFrame(self)
        slip.setAccessibleName("Calibration")
        slip.setAutoFillBackground(True)
        slip.setFrameShape(QFrame.Shape.StyledPanel)
        self.piece = QComboBox(slip)
        self.piece.addItems(list(self._drawings))
        self.across, self.up = QLineEdit(slip), QLineEdit(slip)
        self.grid, self.mirror = QCheckBox("Grid (G)", slip), QCheckBox("Mirror image (M)", slip)
        self.sentence = QLabel(KEYSTONE, slip)
        self.sentence.setWordWrap(True)
        self.sentence.setMaximumWidth(360)
        close = QPushButton("Close", slip)
        form = QFormLayout(slip)
        rows = (("&Piece", self.piece), ("The level bar &reads", self.across), ("The &upright bar reads", self.up))
        for text, widget in rows:
            widget.setAccessibleName(text.replace("&", ""))
            form.addRow(text, widget)
        for tick in (self.grid, self.mirror):
            tick.setAccessibleName(tick.text())
            form.addRow("", tick)
            tick.toggled.connect(self._keep_choices)
        form.addRow(self.sentence)
        form.addRow(QLabel("Arrows move the pieces, H hides this slip, Esc closes.", slip))
        form.addRow("", close)
        close.setAccessibleName("Close")
        close.setAutoDefault(False)
        close.clicked.connect(self.reject)
        self.sentence.setAccessibleName("What to do")
        self.piece.currentIndexChanged.connect(self._centre)
        for field in (self.across, self.up):
            field.setPlaceholderText(show_length(BAR / self.scale[0], self.unit))
            field.textChanged.connect(self._measured)
        slip.move(24, 24)
        return slip

    # --- calibration and place

    def _take_kept(self) -> None:
        """Begin as it was left: the choices, and what the bars read on this very screen."""
        for tick, what in self._ticks:
            tick.blockSignals(True)
            tick.setChecked(settings.beam_shows(what))
            tick.blockSignals(False)
        kept = settings.beam(self._screen_name)
        if kept is None:
            return
        for field, read in ((self.across, kept.across), (self.up, kept.up)):
            field.blockSignals(True)
            field.setText(show_as_meant(read, self.unit))
            field.blockSignals(False)
        if self._calibrate():
            self.sentence.setText(
                f"As measured on {kept.day}: measure both bars anew where projector or table were moved. {KEYSTONE}"
            )

    @property
    def _ticks(self) -> tuple[tuple[QCheckBox, Literal["grid", "mirror"]], ...]:
        return ((self.grid, "grid"), (self.mirror, "mirror"))

    @property
    def _screen_name(self) -> str:
        """The screen that the dialog is on: another one is another beam."""
        return self.screen().name()

    def _keep_choices(self) -> None:
        for tick, what in self._ticks:
            settings.set_beam_shows(what, is_on=tick.isChecked())
        self.update()

    def _measured(self) -> None:
        """Take what is typed and remember it, once both bars are measured, for the next time."""
        if not self._calibrate():
            return
        reads = [BAR / scale for scale in self.scale]
        is_measured = self.across.text().strip() and self.up.text().strip()
        settings.set_beam(self._screen_name, settings.Beam(reads[0], reads[1], today()) if is_measured else None)

    def _calibrate(self) -> bool:
        """Take what both bars measure and whether that can be; an empty field keeps the screen's own word."""
        try:
            self.scale = (self._pixels_a_mm(self.across), self._pixels_a_mm(self.up))
        except Refusal as refusal:
            self.sentence.setText(refusal.sentence)
            return False
        self.sentence.setText(KEYSTONE)
        self.update()
        return True

    def _pixels_a_mm(self, field: QLineEdit) -> float:
        if not field.text().strip():
            return pixels_per_mm(self.screen())
        length = parse_length(field.text(), self.unit)
        if not LEAST <= BAR / max(length, 1e-6) <= MOST:
            raise Refusal(f"A bar of {field.text().strip()} is not believable: measure the bar on the table again.")
        return BAR / length

    def _centre(self) -> None:
        """The piece's middle in the middle of the beam."""
        strokes = [stroke.points for stroke in self._drawing.strokes("cutting line", "fold")]
        boxes = [bounds(points) for points in strokes] or [(0.0, 0.0, 0.0, 0.0)]
        left, bottom = min(box[0] for box in boxes), min(box[1] for box in boxes)
        right, top = max(box[2] for box in boxes), max(box[3] for box in boxes)
        self.at = QPointF(-(left + right) / 2, -(bottom + top) / 2)
        self.update()

    @property
    def _drawing(self) -> Drawing:
        return self._drawings[self.piece.currentText()]

    def place(self, x: float, y: float) -> QPointF:
        """Where a place of the piece, in mm, lies on the screen in pixels."""
        return self._frame().map(QPointF(x, y))

    def _frame(self) -> QTransform:
        """From mm, y up, to pixels."""
        frame = QTransform()
        frame.translate(self.width() / 2, self.height() / 2)
        frame.scale(-self.scale[0] if self.mirror.isChecked() else self.scale[0], -self.scale[1])
        frame.translate(self.at.x(), self.at.y())
        return frame

    # --- drawing

    @guard(None)
    def paintEvent(self, event: QPaintEvent) -> None:
        """The grid, the pieces, and while the slip is shown the bars to measure."""
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.fillRect(self.rect(), QColor(GROUND))
            if self.grid.isChecked():
                self._paint_grid(painter)
            self._paint_pieces(painter)
            if self._slip.isVisible():
                self._paint_bars(painter)

    def _paint_pieces(self, painter: QPainter) -> None:
        """Drawn in pixels of the level scale, so that pens and letters are as thick both ways as the beam allows."""
        across = self.scale[0]
        painter.save()
        painter.setTransform(QTransform.fromScale(1.0 / across, -1.0 / across) * self._frame())
        paint_drawing(painter, self._drawing, Frame(across), ink=INK, ground=GROUND)
        painter.restore()

    def _paint_grid(self, painter: QPainter) -> None:
        step = GRID[self.unit]
        for axis, size in ((0, self.width()), (1, self.height())):
            pixels = step * self.scale[axis]
            count = int(size / pixels) + 1
            for index in range(count):
                painter.setPen(QPen(QColor(LINES), 2.0 if index % STRONG == 0 else 1.0))
                at = index * pixels
                ends = ((at, 0.0), (at, self.height())) if axis == 0 else ((0.0, at), (self.width(), at))
                painter.drawLine(QPointF(*ends[0]), QPointF(*ends[1]))

    def _paint_bars(self, painter: QPainter) -> None:
        """A level and an upright bar of so many pixels that cross in the middle, with ticks at their ends."""
        middle, half = QPointF(self.width() / 2, self.height() / 2), BAR / 2
        painter.setPen(QPen(QColor("#ffd24a"), 2.0))
        for way, side in ((QPointF(half, 0.0), QPointF(0.0, 14.0)), (QPointF(0.0, half), QPointF(14.0, 0.0))):
            painter.drawLine(middle - way, middle + way)
            for end in (middle - way, middle + way):
                painter.drawLine(end - side, end + side)

    # --- keys and mouse

    @guard(None)
    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Arrows move the pieces; G, M and H; Esc closes."""
        step = STEP * (10.0 if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else 1.0)
        turn = -1.0 if self.mirror.isChecked() else 1.0
        moves = {
            Qt.Key.Key_Left: (-step * turn, 0.0),
            Qt.Key.Key_Right: (step * turn, 0.0),
            Qt.Key.Key_Up: (0.0, step),
            Qt.Key.Key_Down: (0.0, -step),
        }
        if event.key() in moves:
            self.at += QPointF(*moves[Qt.Key(event.key())])
            self.update()
        elif event.key() == Qt.Key.Key_G:
            self.grid.toggle()
        elif event.key() == Qt.Key.Key_M:
            self.mirror.toggle()
        elif event.key() == Qt.Key.Key_H:
            self._slip.setVisible(not self._slip.isVisible())
            self.update()
        else:
            super().keyPressEvent(event)

    @guard(None)
    def mousePressEvent(self, event: QMouseEvent) -> None:
        """The pieces are taken up, and the keys are theirs again."""
        self.setFocus()
        self._held = event.position()

    @guard(None)
    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """And follow the hand."""
        was, now = self._held, event.position()
        if was is None:
            return
        turn = -1.0 if self.mirror.isChecked() else 1.0
        self.at += QPointF(turn * (now.x() - was.x()) / self.scale[0], -(now.y() - was.y()) / self.scale[1])
        self._held = now
        self.update()

    @guard(None)
    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """And are let go."""
        self._held = None

"""The form on the screen: the picture, the line on it coloured by its excess, and the marks of the bust."""

from __future__ import annotations

from collections.abc import Iterator
from math import pi, radians
from typing import Final

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QPointF, QRectF, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QColor, QImage, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen, QPolygonF, QResizeEvent
from PySide6.QtWidgets import QWidget

from app.background import Work
from app.canvas.form_scale import edge_pen
from app.messages import guard
from app.theme import DRESS_STAND, TONES, Theme, ToneName
from core.form.picture import Colours, View, coloured, tints, view_of
from core.form.scale import UNQUOTED, runs
from core.form.shown import Laid, Stand
from core.progress import Progress

RIM: Final = 6.0
"""Logical pixels: the light rim that lifts an edge off any cloth."""

MARK_RIM: Final = 1.5
"""The same of a mark, on both sides together."""

DASHED: Final = (5.0, 4.0)
"""Logical pixels of a dash and a gap."""

EACH: Final = 3
"""Of the places of an edge, a millimetre apart, every third is drawn."""

MIRROR: Final = np.array((-1.0, 1.0, 1.0))
"""Her right side, from her left."""

TURN_BY: Final = radians(15.0)
COARSE: Final = 3
"""While it is turned by hand the picture has pixels so many times as large."""

STILL: Final = 250
"""Milliseconds without a change after which a screen of small pixels gets a picture with all of them."""


class FormView(QWidget):
    """Shows a stand with what is laid on it. Drag across, or the arrow keys, turn it."""

    turned = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None, *, name: str = "The form") -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setAccessibleDescription("Her figure from the tape, with the sheer line on it. The arrow keys turn it.")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMinimumSize(140, 180)
        self.theme = theme
        self.tone: ToneName = DRESS_STAND
        self.turn = 0.0
        self.stand: Stand | None = None
        self.laid: Laid | None = None
        self.caption = ""
        self.view: View | None = None
        self._pictures: Colours | None = None
        self._marks: list[QPolygonF] = []
        self._picture: QImage | None = None
        self._held: float | None = None
        self._fine: tuple[View, Colours] | None = None
        self._sought: View | None = None
        self._work: Work | None = None
        self._still = QTimer(self)
        self._still.setSingleShot(True)
        self._still.setInterval(STILL)
        self._still.timeout.connect(self._refine)

    @guard(QSize())
    def sizeHint(self) -> QSize:
        """Room for a trunk."""
        return QSize(360, 480)

    def show_stand(self, stand: Stand | None) -> None:
        """Take another body, or none."""
        self.stand, self.laid = stand, None
        self._look()

    def show_laid(self, laid: Laid) -> None:
        """Another position of the line: colours only."""
        self.laid = laid
        self._colour()

    def set_caption(self, caption: str) -> None:
        """Words over the form: which of two variants it wears."""
        self.caption = caption
        self.update()

    def set_theme(self, theme: Theme) -> None:
        """Take other colours."""
        self.theme = theme
        self._look()

    def set_tone(self, tone: ToneName) -> None:
        """Show the form in another tone."""
        self.tone = tone
        self._look()

    def look_from(self, turn: float) -> None:
        """Turn the form by an angle in radians from the front; positive brings her right side to the front."""
        self.turn = (turn + pi) % (2.0 * pi) - pi
        self._look()
        self.turned.emit()

    def _look(self, coarse: int = 1) -> None:
        """Work the view out anew: another body, size or turn."""
        self.view = self._pictures = self._picture = self._fine = None
        self._marks = []
        if self.stand is not None and self.width() > 20:
            size = (max(self.width() // coarse, 20), max(self.height() // coarse, 20))
            self.view = view_of(self.stand.skin, self.turn, size)
            self._pictures = tints(self.view, TONES[self.tone].cloths, (self.theme.table, self.theme.pencil))
        self._colour()

    def _colour(self) -> None:
        """Colour the picture that a drag has time for; the fine one comes once the hand is still."""
        if self.view is not None and self._pictures is not None:
            self._show(self.view, self._pictures)
            if self.devicePixelRatioF() > 1.0:
                self._still.start()
        self.update()

    def _show(self, view: View, pictures: Colours) -> None:
        pixels = pictures[0] if self.laid is None else coloured(view, self.laid.cloths, pictures)
        high, wide = pixels.shape
        self._picture = QImage(pixels.tobytes(), wide, high, 4 * wide, QImage.Format.Format_RGB32).copy()
        self.update()

    def _refine(self) -> None:
        """Colour the fine picture of this look, or have it worked out beside the window first."""
        if self._fine is not None:
            self._show(*self._fine)
        elif self.stand is not None and self._held is None and (self._work is None or not self._work.is_running):
            skin, turn, cloths = self.stand.skin, self.turn, TONES[self.tone].cloths
            around, ratio = (self.theme.table, self.theme.pencil), self.devicePixelRatioF()
            size = (round(ratio * self.width()), round(ratio * self.height()))

            def task(progress: Progress) -> tuple[View, Colours]:
                view = view_of(skin, turn, size)
                progress(1, 2)
                return view, tints(view, cloths, around)

            self._sought, self._work = self.view, Work(task, self)
            self._work.done.connect(self._refined)
            self._work.start()

    def _refined(self, fine: tuple[View, Colours]) -> None:
        if self._sought is self.view:
            self._fine = fine
        self._still.start(0)

    def abandon(self) -> None:
        """End the work under way: the window closes."""
        self._still.stop()
        if self._work is not None and self._work.is_running:
            self._work.abandon()

    # --- painting

    @guard(None)
    def paintEvent(self, event: QPaintEvent) -> None:
        """The picture, the marks and the line over it, and what the line's colours mean."""
        with QPainter(self) as painter:
            painter.fillRect(self.rect(), QColor(self.theme.table))
            if self.view is None or self._picture is None or self.stand is None:
                return
            is_enlarged = self._picture.size() != self.size() * self.devicePixelRatioF()
            painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform, is_enlarged)
            painter.drawImage(QRectF(self.rect()), self._picture)
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            self._paint_marks(painter, self.view, self.stand)
            if self.laid is not None:
                self._paint_lines(painter, self.view, self.laid)
            self._paint_caption(painter)

    def _paint_caption(self, painter: QPainter) -> None:
        """The caption on a plate of its own, as it may come to lie over her."""
        if not self.caption:
            return
        how = Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft | Qt.TextFlag.TextWordWrap
        room = painter.boundingRect(self.rect().adjusted(6, 4, -6, 0), how, self.caption)
        painter.fillRect(room.adjusted(-4, -2, 4, 2), QColor(self.theme.label))
        painter.setPen(QColor(self.theme.ink))
        painter.drawText(room, how, self.caption)

    def _paint_marks(self, painter: QPainter, view: View, stand: Stand) -> None:
        """Bust circle, under-bust line and bust point, on both sides."""
        if not self._marks:
            self._marks = [run for path in _marks_of(stand) for run in self._seen(view, path)]
        for pen in self._mark_pens(1.0, DASHED):
            painter.setPen(pen)
            for run in self._marks:
                painter.drawPolyline(run)
        for place in (stand.bust_point, stand.bust_point * MIRROR):
            if view.is_seen(place[None])[0]:
                self._paint_cross(painter, self._pixels(view, place[None])[0])

    def _mark_pens(self, wide: float, dashes: tuple[float, ...] = ()) -> Iterator[QPen]:
        """The pen of a light rim and over it that of a mark, dashed alike: it is told on any tone and cloth."""
        for colour, width in ((self.theme.label, wide + MARK_RIM), (self.theme.pencil, wide)):
            pen = QPen(QColor(colour), width, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap)
            if dashes:
                pen.setDashPattern([dash / width for dash in dashes])
            yield pen

    def _paint_cross(self, painter: QPainter, at: QPointF) -> None:
        for pen in self._mark_pens(1.5):
            painter.setPen(pen)
            painter.drawLine(at - QPointF(4.0, 0.0), at + QPointF(4.0, 0.0))
            painter.drawLine(at - QPointF(0.0, 4.0), at + QPointF(0.0, 4.0))

    def _pixels(self, view: View, places: NDArray[np.float64]) -> list[QPointF]:
        high, wide = view.cell.shape
        thrown = view.at(places) * (self.width() / wide, self.height() / high, 1.0)
        return [QPointF(x, y) for x, y, _ in thrown.tolist()]

    def _seen(self, view: View, path: NDArray[np.float64]) -> list[QPolygonF]:
        """The parts of a path and of its mirror image that are not hidden, in pixels."""
        found = []
        for side in (path, path * MIRROR):
            seen, points = view.is_seen(side), self._pixels(view, side)
            edges = np.flatnonzero(np.diff(np.concatenate(([False], seen, [False]))))
            found += [QPolygonF(points[first:last]) for first, last in edges.reshape(-1, 2).tolist()]
        return found

    def _paint_lines(self, painter: QPainter, view: View, laid: Laid) -> None:
        """The line of the front in runs of one place of the scale, and those of the back, which have no number."""
        for path in laid.back.lines:
            self._paint_edge(painter, view, (path, UNQUOTED))
        line = laid.line
        if line is not None:
            for run in runs(line, laid.wanted):
                self._paint_edge(painter, view, run)

    def _paint_edge(self, painter: QPainter, view: View, edge: tuple[NDArray[np.float64], int]) -> None:
        """A run of an edge and its mirror image, by its place in the scale."""
        path, kind = edge
        thinned = np.vstack((path[:-1:EACH], path[-1:]))
        rim = QPen(QColor(self.theme.label), RIM, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap)
        parts = self._seen(view, thinned)
        for pen in (rim, edge_pen(self.theme, kind)):
            painter.setPen(pen)
            for part in parts:
                painter.drawPolyline(part)

    # --- turning

    @guard(None)
    def resizeEvent(self, event: QResizeEvent) -> None:
        """A picture of the new size."""
        self._look()

    @guard(None)
    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold of the form."""
        self._held = event.position().x()

    @guard(None)
    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Turn it with the hand, coarsely."""
        if self._held is not None:
            now = event.position().x()
            self.turn += (self._held - now) * pi / max(self.width(), 1)
            self._held = now
            self._look(COARSE)

    @guard(None)
    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Show it finely again."""
        if self._held is not None:
            self._held = None
            self.look_from(self.turn)

    @guard(None)
    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Left and right turn the form by 15 degrees."""
        by = {Qt.Key.Key_Left: TURN_BY, Qt.Key.Key_Right: -TURN_BY}.get(Qt.Key(event.key()))
        if by is None:
            super().keyPressEvent(event)
        else:
            self.look_from(self.turn + by)


def _marks_of(stand: Stand) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Bust circle and under-bust line of her left side, (N, 3) each."""
    figure, rays = stand.body.form.figure, stand.body.rays
    step = round((figure.of("neck_to_bust_point") - figure.of("upper_bust_level")) / (rays.r[1] - rays.r[0]))
    circle = np.vstack((rays.places[:, step], rays.places[:1, step]))
    t = np.linspace(0.0, pi / 2.0, 60)
    return circle, stand.skin.places(t, np.full(60, figure.under_bust_height))

"""The cutting table: pieces lie on it, tools work over it, the wheel and the middle button move it."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPoint, QSize, Qt, Signal
from PySide6.QtGui import (
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QNativeGestureEvent,
    QPainter,
    QPaintEvent,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QWidget

from app.canvas.arrangement import IN_ORDER, Arrangement
from app.canvas.cutting_lines import CuttingLines
from app.canvas.folding import fold_under_pointer
from app.canvas.hand import Hand
from app.canvas.handles import HandleRow, arrow
from app.canvas.inks import inks_for
from app.canvas.looked_at import LookedAt
from app.canvas.pairs import Pair, Pairs
from app.canvas.pictures import Pictures
from app.canvas.piece_drawing import Look, Sheet
from app.canvas.redrawing import Redrawing
from app.canvas.rulers import Rulers
from app.canvas.scene import Scene
from app.canvas.table_drawing import draw_everything
from app.canvas.taps import Taps
from app.canvas.tool import Handle, Tool
from app.canvas.underlay import Underlay
from app.canvas.view import Box
from app.canvas.wheel import pixels_per_mm, wheel_pan, wheel_zoom
from app.messages import guard
from app.session import Changed, Session
from app.theme import Theme
from core.design.design import Design
from core.design.replay import Refused
from core.geometry.polyline import Point, as_point
from core.units import Unit


class CuttingTable(LookedAt):
    """Shows the session's garment and hands what the mouse and the keys do to the tool in hand."""

    status = Signal(str)
    """What the pointer would do, with live lengths."""
    selected = Signal(str)
    """The piece that is taken up, or ""."""
    tool_finished = Signal()
    """The tool has done its work or was left by Esc, so the window takes up the tool for choosing again."""
    arranged = Signal()
    """A hand has laid or folded something otherwise, which is no act."""
    tool_in_hand = Signal(str)
    """A tool has been taken up, by its name."""

    def __init__(self, session: Session, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName("Cutting table")
        self.setAccessibleDescription("The pattern pieces as they lie on the table. Tab goes from handle to handle.")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.session = session
        self.unit: Unit = session.design.unit
        self.scene = Scene(session.shown.garment, self.unit)
        self.tool = Tool(self)
        self.selection = ""
        self.revealed = ""
        self.has_grid = True
        self.theme = theme
        self.pictures = Pictures()
        self.redrawing = Redrawing()
        self.underlay = Underlay()
        self.cutting_lines = CuttingLines()
        self.shown_handles: list[Handle] = []
        self.hand = Hand(self, self.pointer_at, self.pan)
        self.hand.tool = self.tool
        self._row = HandleRow(self)
        self._rulers = Rulers(self)
        self._look: Look | None = None
        self._is_space_down = False
        self._taps = Taps()
        self._status = ""
        session.changed.connect(self._follow)
        session.worked_out.connect(self._tell_tool)
        self.scene.show(session.shown.garment, self.unit, anew=True)

    # --- what the window asks for

    def set_tool(self, tool: Tool | None) -> None:
        """Take up a tool, laying the one in hand down; None takes up nothing."""
        self.hand.let_go()
        self.tool.end()
        self.tool = tool or Tool(self)
        self.hand.tool = self.tool
        self.setCursor(self.tool.cursor)
        if self.is_close:
            self._lay_out(anew=False)
            self.look_up()
        self.say("")
        self.tool_in_hand.emit(self.tool.called)
        self.tool.begin()
        self._lay_out(anew=False)

    def set_unit(self, unit: Unit) -> None:
        """Show lengths in another unit."""
        self.unit = unit
        self._lay_out(anew=False)

    def set_grid(self, *, is_on: bool) -> None:
        """Scribe lines at round numbers on the table, or none."""
        self.has_grid = is_on
        self.update()

    def set_theme(self, theme: Theme) -> None:
        """Draw in other colours."""
        self.theme, self._look = theme, None
        self.refresh()

    def set_folded(self, piece: str, darts: tuple[str, ...] = ()) -> None:
        """Show a piece with these of its darts folded shut, the others open."""
        self.scene.fold(piece, darts)
        self._rearranged()

    def select(self, piece: str) -> None:
        """Take up a piece; "" takes up none."""
        if piece != self.selection:
            self.selection = piece
            self.selected.emit(piece)
            self.refresh()

    def reveal_seam(self, seam: str) -> None:
        """Draw a seam's two sides firmly, and bring them into view; "" draws none so."""
        self.revealed = seam if seam in self.scene.garment.seams else ""
        paths = self.scene.seam_paths(self.scene.garment.seam(seam)) if self.revealed else ()
        if paths:
            self.show_place(as_point(paths[0][len(paths[0]) // 2]))
        self.refresh()

    def extent(self) -> Box:
        """The box round everything that lies on the table, in mm."""
        return self.scene.extent()

    @property
    def is_held(self) -> bool:
        """Whether a button is held down on the table."""
        return self.hand.is_down

    def lay_piece(self, piece: str, shift: Point) -> None:
        """Lay a piece apart from where the table lays it; the design stays as it is."""
        self.scene.lay_by_hand(piece, shift)
        self._rearranged()

    def lay_together(self, pair: Pair) -> None:
        """Turn and lay one piece at another along their seam; the design stays as it is."""
        self.scene.lay_together(pair)
        self.show_whole()
        self._rearranged()

    def lay_pairs(self, pairs: Pairs) -> None:
        """Let these pieces lie together, and all others apart."""
        self.scene.lay_pairs(pairs)
        self.show_whole()
        self._rearranged()

    def lay_out_anew(self) -> None:
        """Lay every piece back in order, and show them all."""
        self.scene.lay_anew()
        self.fit_all()
        self._rearranged()

    def arrange(self, arrangement: Arrangement) -> None:
        """Lay and fold everything as it was left once, and show it all."""
        self.scene.arrange(arrangement)
        if self._fitted is not None:  # else the window, which is not there yet, fits it
            self.fit_all()

    def _rearranged(self) -> None:
        self.refresh()
        self.arranged.emit()

    # --- what tools ask for

    def sheet(self, painter: QPainter) -> Sheet:
        """What a tool draws on."""
        return Sheet(painter, self.frame(), self.look())

    def look(self) -> Look:
        """The look of the pieces now; the same object until theme, font, unit or fabrics change."""
        roles = {fabric.name: fabric.role for fabric in self.session.shown.design.fabrics}
        inks = inks_for(self.theme, self.devicePixelRatioF())
        known = self._look
        if known is None or known.inks is not inks or (known.roles, known.unit) != (roles, self.unit):
            self._look = known = Look(inks, self.font(), roles, self.unit)
        return known

    def say(self, words: str) -> None:
        """Tell the window's status line what the pointer would do."""
        if words != self._status:
            self._status = words
            self.status.emit(words)

    @property
    def said(self) -> str:
        """What the tool in hand said last."""
        return self._status

    def refresh(self) -> None:
        """Show the tool's handles where they are now, and draw anew."""
        self.shown_handles = self.tool.handles()
        pixels = [self.view.to_pixels(handle.at) for handle in self.shown_handles]
        self._row.lay(self.shown_handles, [QPoint(round(x), round(y)) for x, y in pixels])
        self._rulers.show_view(self.view, self.unit, self.theme)
        self._draw_anew()

    @property
    def is_moving(self) -> bool:
        """Whether a hand changes what is shown from frame to frame, so that it has to be drawn quickly."""
        return self.hand.is_dragging or self.tool.carries

    def _draw_anew(self) -> None:
        """Draw everything, or while a hand drags no more than what has changed."""
        if not self.is_moving:
            self.redrawing.forget()
        region = self.redrawing.region(self) if self.is_moving else None
        if region is None:
            self.update()
        else:
            self.update(region)

    def focus_handle(self, key: str) -> None:
        """Give the keyboard to a handle."""
        widget = self._row.widget(key)
        if widget is not None:
            widget.setFocus(Qt.FocusReason.OtherFocusReason)

    def handle_widget(self, key: str) -> QWidget | None:
        """The widget that stands for a handle, or None."""
        return self._row.widget(key)

    @property
    def focused_handle(self) -> Handle | None:
        """The handle that has the keyboard."""
        key = self._row.focused
        return next((handle for handle in self.shown_handles if handle.key == key), None)

    def commit(self, label: str, design: Design, *, tap: bool = False) -> None:
        """Commit what a gesture made. Taps of an arrow key within a second become one act."""
        self.session.do(label, design, amends=self._taps.joins(tap=tap))

    def accept_tool(self) -> None:
        """Do what the tool shows."""
        self.tool.accept()

    def leave_tool(self) -> None:
        """Drop what the tool shows and lay it down."""
        self.tool.escape()
        self.tool_finished.emit()

    # --- following

    def _follow(self, changed: Changed) -> None:
        if changed.design or changed.preview:
            self._lay_out(anew=not changed.preview)
        if changed.file and changed.design:
            self.arrange(IN_ORDER)

    def _tell_tool(self, refused: Refused | None) -> None:
        self.tool.worked_out(refused)

    def _lay_out(self, *, anew: bool) -> None:
        garment = self.session.shown.garment
        self.scene.show(garment, self.unit, anew=anew, gathered=self.tool.gathers, folds=self.tool.folds)
        self.pictures.forget_others(frozenset(garment.pieces))
        if anew:
            self.tool.follow()
            self.leave_room(self._foot)
        self.refresh()

    # --- Qt's overrides

    @guard(default=QSize(640, 480))
    def sizeHint(self) -> QSize:
        """Room for both blocks."""
        return QSize(900, 640)

    @guard(default=None)
    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw table, pieces, what the tool holds, handles, rulers."""
        with QPainter(self) as painter:
            draw_everything(self, painter, event.region())

    @guard(default=None)
    def resizeEvent(self, event: QResizeEvent) -> None:
        """Everything is fitted into the window until the user has looked elsewhere."""
        self.fit_into_window(pixels_per_mm(self.screen()))
        self.refresh()

    @guard(default=None)
    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Middle button, or left with Space, pans; left is the tool's."""
        self.setFocus(Qt.FocusReason.MouseFocusReason)
        is_left = event.button() == Qt.MouseButton.LeftButton
        pans = event.button() == Qt.MouseButton.MiddleButton or (is_left and self._is_space_down)
        self.hand.press(event, pans=pans)
        if pans:
            self.setCursor(Qt.CursorShape.ClosedHandCursor)

    @guard(default=None)
    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Noted only; the work is done once a frame."""
        self.hand.move(event)
        self._rulers.follow((event.position().x(), event.position().y()))

    @guard(default=None)
    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """A click, or the end of a drag or a pan."""
        self.hand.release(event)
        self._show_cursor()

    @guard(default=None)
    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """The tool's."""
        self.hand.double_click(event)

    @guard(default=None)
    def leaveEvent(self, event: QEvent) -> None:
        """The rulers no longer show the pointer."""
        self.hand.pointer = None
        self._rulers.follow(None)

    @guard(default=None)
    def focusOutEvent(self, event: QFocusEvent) -> None:
        """A drag that loses the keyboard to another window is dropped."""
        self._is_space_down = False
        if event.reason() == Qt.FocusReason.ActiveWindowFocusReason and self.hand.is_dragging:
            self._drop()

    @guard(default=None)
    def wheelEvent(self, event: QWheelEvent) -> None:
        """Ctrl zooms about the pointer; else the wheel scrolls, with Shift sideways."""
        if event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            at = event.position()
            self.zoom_by(wheel_zoom(event), (at.x(), at.y()))
        else:
            self.pan(*wheel_pan(event))
        event.accept()

    @guard(default=False)
    def event(self, event: QEvent) -> bool:
        """Pinching zooms about the pointer. Keys that the tool or a needle uses are no shortcuts of the window."""
        is_override = isinstance(event, QKeyEvent) and event.type() == QEvent.Type.ShortcutOverride
        if is_override and isinstance(event, QKeyEvent) and self._is_own_key(event):
            event.accept()
            return True
        if isinstance(event, QNativeGestureEvent) and event.gestureType() == Qt.NativeGestureType.ZoomNativeGesture:
            self.zoom_by(1.0 + event.value(), (event.position().x(), event.position().y()))
            return True
        return super().event(event)

    def _is_own_key(self, event: QKeyEvent) -> bool:
        return arrow(event) is not None or Qt.Key(event.key()) in self.tool.keys

    @guard(default=None)
    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc drops what is under way, then leaves the tool; Space makes ready to pan; others are the tool's."""
        key, way = Qt.Key(event.key()), arrow(event)
        shift = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        if key == Qt.Key.Key_Escape:
            self._drop()
        elif (way is not None and self.tool.arrow(*way)) or self.tool.key(key, shift=shift):
            return
        elif key == Qt.Key.Key_Space and not event.isAutoRepeat():
            self._is_space_down = True
            self._show_cursor()
        elif key == Qt.Key.Key_F:
            fold_under_pointer(self)
        else:
            event.ignore()

    @guard(default=None)
    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        """Space let go."""
        if event.key() == Qt.Key.Key_Space and not event.isAutoRepeat():
            self._is_space_down = False
            self._show_cursor()

    def _drop(self) -> None:
        self.hand.let_go()
        if not self.tool.escape():
            self.tool_finished.emit()
        self.refresh()

    def _show_cursor(self) -> None:
        self.setCursor(Qt.CursorShape.OpenHandCursor if self._is_space_down else self.tool.cursor)

"""Drawing a style line by placing points; what lies between them runs as a French curve would."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QPushButton

from app.canvas.hits import dart_at, edge_at, piece_at
from app.canvas.laid import Laid
from app.canvas.slip import Slip, SlipField
from app.canvas.snaps import Snap, snap
from app.canvas.table import CuttingTable
from app.canvas.table_drawing import draw_chalk, draw_needle, draw_words
from app.canvas.tool import Handle, Pointer, Tool
from app.tools.line_edits import ONE_SPOT, fresh_line_name, line_point, straight
from core.errors import Refusal
from core.geometry.freehand import fitted
from core.geometry.placement import gap
from core.geometry.polyline import Point, Points, as_point, as_points, length
from core.pieces.names import spoken
from core.pieces.records import LinePurpose
from core.pieces.typed_places import EXAMPLES, typed_place
from core.steps.mapping import landmarks_of
from core.steps.step import LinePoint
from core.steps.style_line import PURPOSE_WORDS, StyleLine
from core.units import show_length

STROKE_WITHIN: Final = 4.0
"""Pixels by which the line may leave a stroke of the hand."""


class DrawLine(Tool):
    """Click to place points. The line ends at the second edge it is brought to, by Enter, or by a double click."""

    cursor = Qt.CursorShape.CrossCursor

    def __init__(self, table: CuttingTable, purpose: LinePurpose) -> None:
        super().__init__(table)
        self._purpose: LinePurpose = purpose
        self._points: tuple[LinePoint, ...] = ()
        self._laid: Laid | None = None
        self._next: LinePoint | None = None
        self._snap: Snap | None = None
        self._needle: Point | None = None
        self._stroke: list[Point] = []
        self._slip: Slip | None = None
        self._field: SlipField | None = None
        self._fold: QPushButton | None = None

    @property
    def _words(self) -> str:
        return PURPOSE_WORDS[self._purpose]

    def begin(self) -> None:
        """Say how a line is begun."""
        self.table.say(
            f"Click where the {self._words} begins: on an edge, a landmark or another line; or draw it in one stroke. "
            f"Arrow keys move a needle, Space places a point with it."
        )

        self._pin_slip()

    def _pin_slip(self) -> None:
        """A slip with a field for places that are typed, and a button that ends the line."""
        self._slip = Slip(self.table, self.table.theme, accept="End the line", drop="Drop the line")
        self._slip.accepted.connect(self.table.accept_tool)
        self._slip.dropped.connect(self.table.leave_tool)
        self._field = self._slip.field(letters=34)
        self._field.call("Or type a place")
        self._field.setPlaceholderText(f"2 {self.table.unit} from the neck along the shoulder")
        self._field.setToolTip(f"For example {EXAMPLES}.")
        self._field.meant.connect(self._type)
        self._fold = self._slip.button("Fold the dart it crosses", key="F")
        self._fold.clicked.connect(self._fold_crossed)
        self._ask()

    def _ask(self, refusal: str = "") -> None:
        """Ask for the next point, or say why the line is refused as it is."""
        if self._slip is None or self._fold is None:
            return
        count = len(self._points)
        wanted = f"point {count + 1} of the {self._words}" if count else f"where the {self._words} begins"
        self._fold.setVisible(bool(self._crossed()))
        self._slip.ask(refusal or f"Click {wanted}{', or end it' if count > 1 else ''}.", can_accept=count > 1)

    def _crossed(self) -> str:
        """The open dart that the line so far runs over, or ""."""
        if self._laid is None or len(self._points) < 2:
            return ""
        hits = (dart_at([self._laid], self._laid.to_table(as_point(at)), 0.0) for at in self._curve())
        return next((hit.dart.name for hit in hits if hit is not None), "")

    def _fold_crossed(self) -> None:
        """Fold that dart; the line is then drawn over it afresh, since its points lie elsewhere now."""
        dart, laid = self._crossed(), self._laid
        if dart and laid is not None:
            self.escape()
            self.table.set_folded(laid.name, dart)
            self.table.say(f"The {spoken(dart)} is folded: draw the {self._words} across it.")

    def _type(self, text: str) -> None:
        """Place a point where the words in the field say."""
        garment, unit = self.table.scene.garment, self.table.unit
        try:
            laid = self._laid or self.table.scene.piece(self.table.selection) or self._meant(text)
            found = typed_place(garment, laid.shown, text, unit)
        except Refusal as refusal:
            self.table.say(refusal.sentence)
            return
        self._laid = laid
        self._snap = Snap(text.strip(), found.at, found.landmark, found.place)
        self._next = line_point(self._snap)
        if self._field is not None:
            self._field.clear()
        self._place()

    def _meant(self, text: str) -> Laid:
        """The one piece that has such a place. Refusal when there are several, or none."""
        having, refusal = [], None
        for item in self.table.scene.laid:
            try:
                typed_place(self.table.scene.garment, item.shown, text, self.table.unit)
                having.append(item)
            except Refusal as refused:
                refusal = refusal or refused
        if len(having) > 1:
            names = " and ".join(item.name for item in having)
            raise Refusal(f"{names} both have such a place: take up the one that is meant, or click on it.")
        if refusal is not None and not having:
            raise refusal
        return having[0]

    def accept(self) -> None:
        """The button of the slip: end the line here."""
        self._finish()

    def end(self) -> None:
        """The slip goes with the tool."""
        if self._slip is not None:
            self._slip.take_away()
            self._slip = self._field = self._fold = None
        super().end()

    # --- where the pointer is

    def _aim(self, at: Pointer) -> None:
        """Find the piece and the place that the pointer means."""
        if not self._points:
            self._laid = self._piece_under(at)
        self._snap, self._next = None, None
        if self._laid is None:
            return
        here = self._laid.to_piece(at.at)
        if not at.free:
            garment, shown = self.table.scene.garment, self._laid.shown
            self._snap = snap(garment, shown, here, at.reach, unit=self.table.unit)
        self._next = line_point(self._snap or here)

    def _piece_under(self, at: Pointer) -> Laid | None:
        near = edge_at(self.table.scene.laid, at.at, at.reach)
        return near.laid if near is not None else piece_at(self.table.scene.laid, at.at)

    def hover(self, at: Pointer) -> None:
        """Show how the line would run to here."""
        self._needle = None
        self._aim(at)
        self.table.say(self._report())
        self.table.refresh()

    def _report(self) -> str:
        unit, last = self.table.unit, self._next or (self._points[-1] if self._points else None)
        if self._laid is None or last is None:
            return f"Click on a piece to begin the {self._words}."
        words = [self._snap.name] if self._snap else []
        if self._points:
            words.append(f"{show_length(length(self._curve()), unit)} long")
        bust_point = self._laid.shown.landmarks.get("bust_point")
        if bust_point is not None:
            off = show_length(gap(bust_point, (last.x, last.y)), unit)
            words.append(f"{off} from the bust point")
        todo = "click to end the line here" if self._ends_here() else "click to place a point"
        if len(self._points) > 1:
            todo += ", Enter ends the line, Backspace takes the last point back"
        return as_sentence("; ".join([*words, todo]))

    def _ends_here(self) -> bool:
        return bool(self._points) and self._snap is not None and self._snap.is_end

    # --- in one stroke

    def press(self, at: Pointer) -> bool:
        """A stroke can begin while no point is placed."""
        if self._points:
            return False
        self._aim(at)
        self._stroke = [at.at] if self._laid is not None else []
        return bool(self._stroke)

    def drag(self, at: Pointer) -> None:
        """The stroke goes on."""
        self._stroke.append(at.at)
        self._next = None
        self.table.say(f"Let go where the {self._words} ends.")
        self.table.update()

    def drop(self, at: Pointer) -> None:
        """The stroke becomes a line through few points; its ends go to what lies under them."""
        self.drag(at)
        stroke, self._stroke = self._stroke, []
        if self._laid is None:
            return
        try:
            places = fitted(as_points(stroke), within=STROKE_WITHIN / self.table.view.scale)
        except ValueError:
            return
        garment, shown, unit = self.table.scene.garment, self._laid.shown, self.table.unit
        here = [self._laid.to_piece(as_point(place)) for place in places]
        ends = [snap(garment, shown, place, 2 * at.reach, unit=unit) or place for place in (here[0], here[-1])]
        self._points = (line_point(ends[0]), *map(line_point, here[1:-1]), line_point(ends[1]))
        self._finish()

    # --- placing

    def click(self, at: Pointer) -> None:
        """Place a point; on an edge, the second end of the line."""
        self._aim(at)
        self._place()

    def _place(self) -> None:
        if self._next is None:
            return
        ends = self._ends_here()
        if self._points and _is_same(self._points[-1], self._next):
            return
        self._points = (*self._points, self._next)
        self._next, self._snap = None, None
        if ends:
            self._finish()
        else:
            self.table.say(self._report())
            self._ask()
            self.table.refresh()

    def double_click(self, at: Pointer) -> None:
        """End the line at the point that the first of the two clicks placed."""
        self._finish()

    def key(self, key: Qt.Key, *, shift: bool) -> bool:
        """Enter ends the line, Backspace takes the last point back, Space places one with the needle."""
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._finish()
        elif key in (Qt.Key.Key_Backspace, Qt.Key.Key_Delete) and self._points:
            self._points = self._points[:-1]
            self._ask()
            self.table.refresh()
        elif key == Qt.Key.Key_Space and self._needle is not None:
            self._place()
        elif key == Qt.Key.Key_F and self._crossed():
            self._fold_crossed()
        elif key == Qt.Key.Key_F and self._points:
            self.table.say("Fold or open a dart before the line is begun, or end the line first.")
        else:
            return False
        return True

    def arrow(self, dx: float, dy: float) -> bool:
        """Move the needle, which begins in the middle of the piece that is taken up, or of the last point."""
        x, y = self._needle or self._needle_start()
        self._needle = (x + dx, y + dy)
        self._aim(self.table.pointer_at_mm(self._needle))
        self.table.say(self._report())
        self.table.refresh()
        return True

    def _needle_start(self) -> Point:
        if self._points and self._laid is not None:
            return self._laid.to_table((self._points[-1].x, self._points[-1].y))
        item = self.table.scene.piece(self.table.selection) or self.table.scene.laid[0]
        return item.to_table(self.table.pictures.label(item, fast=False))

    def escape(self) -> bool:
        """Drop the line."""
        was_drawing = bool(self._points)
        was_drawing = was_drawing or bool(self._stroke)
        self._points, self._next, self._needle, self._stroke = (), None, None, []
        self._ask()
        return was_drawing

    def follow(self) -> None:
        """After any change the line is begun afresh: the piece it was drawn on may be gone."""
        self.escape()

    def _finish(self) -> None:
        """Commit the line, or say in a sentence why it cannot be drawn and keep its points."""
        if self._laid is None or not self._points:
            return
        session = self.table.session
        step = self._step(self._points)
        design = session.design.with_step(step)
        refused = session.preview(design)
        if refused is not None:
            self._ask(refused.sentence)
            self.table.say(refused.sentence)
            return
        self._points, self._next = (), None
        self.table.commit(f"Draw the {self._words}", design)
        self.table.tool_finished.emit()

    def _step(self, points: tuple[LinePoint, ...]) -> StyleLine:
        assert self._laid is not None
        piece, design = self._laid.piece, self.table.session.design
        return StyleLine(
            design.fresh_id(f"{self._words.replace(' ', '-')}"),
            piece.name,
            fresh_line_name(self.table.scene.garment, piece, self._purpose),
            points,
            landmarks_of(piece),
            purpose=self._purpose,
            folded=self._laid.folded,
        )

    # --- drawing

    def handles(self) -> list[Handle]:
        """The points placed so far, so that they can be seen and read."""
        if self._laid is None:
            return []
        words = f"of the new {self._words}"
        return [
            Handle(str(i), f"Point {i + 1} {words}", self._laid.to_table((p.x, p.y)), (p.x, p.y), moves=False)
            for i, p in enumerate(self._points)
        ]

    def _curve(self) -> Points:
        """The line through the points so far and the one that the pointer would place, as the piece is shown."""
        assert self._laid is not None
        points = self._points if self._next is None else (*self._points, self._next)
        if len(points) > 1 and _is_same(points[-1], points[-2]):
            points = points[:-1]
        places = [(point.x, point.y) for point in points]
        if len(places) < 2:
            return straight([places[0], places[0]])
        try:
            return self._step(points).curve(self.table.scene.garment, self._laid.piece)
        except Refusal:
            return straight(places)

    def paint(self, painter: QPainter) -> None:
        """The line so far in chalk, the place that the pointer would snap to by name, the needle."""
        if self._laid is None:
            return
        sheet, theme = self.table.sheet(painter), self.table.theme
        if len(self._stroke) > 1:
            draw_chalk(sheet, [straight(self._stroke)], colour=theme.chalk)
        if self._points:
            draw_chalk(sheet, [self._laid.on_table(self._curve())], colour=theme.chalk)
        if self._needle is not None:
            draw_needle(sheet, self._needle)
        if self._snap is not None:
            at = sheet.frame.point(self._laid.to_table(self._snap.at))
            draw_words(painter, self._snap.name, at, sheet.look, colour=theme.snap)


def as_sentence(words: str) -> str:
    """The words with a capital and a full stop."""
    return f"{words[:1].upper()}{words[1:]}."


def _is_same(first: LinePoint, second: LinePoint) -> bool:
    return gap((first.x, first.y), (second.x, second.y)) < ONE_SPOT

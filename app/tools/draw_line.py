"""Drawing a style line by placing points; what lies between them runs as a French curve would.

Where pieces lie together at a seam the line may go on over it, and becomes a line on each in one act.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QPushButton

from app.canvas.laid import Laid
from app.canvas.slip import Slip, SlipField
from app.canvas.snaps import Snap
from app.canvas.table import CuttingTable
from app.canvas.table_drawing import draw_chalk, draw_needle, draw_words
from app.canvas.tool import ENTER, Handle, Pointer, Tool
from app.tools.line_across import step_refused
from app.tools.line_edits import straight
from app.tools.line_in_hand import LineInHand
from app.tools.needle import needle_start
from core.errors import Refusal
from core.geometry.freehand import fitted
from core.geometry.placement import gap
from core.geometry.polyline import Point, as_point, as_points
from core.pieces.names import spoken, spoken_in_full
from core.pieces.records import Garment, LinePurpose
from core.pieces.typed_places import EXAMPLES, TypedPlace, typed_place
from core.steps.style_line import PURPOSE_WORDS
from core.units import Unit, show_length

STROKE_WITHIN: Final = 4.0
"""Pixels by which the line may leave a stroke of the hand."""


class DrawLine(Tool):
    """Click to place points. The line ends at the second edge it is brought to, by Enter, or by a double click."""

    cursor = Qt.CursorShape.CrossCursor

    def __init__(self, table: CuttingTable, purpose: LinePurpose) -> None:
        super().__init__(table)
        self._purpose: LinePurpose = purpose
        self._line = LineInHand(table, purpose)
        self._needle: Point | None = None
        self._stroke: list[Point] = []
        self._slip: Slip | None = None
        self._field: SlipField | None = None
        self._fold: QPushButton | None = None
        self._meet: QPushButton | None = None

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
        self._slip = Slip(self.table, accept="End the line", drop="Drop the line")
        self._field = self._slip.field(letters=34)
        self._field.call("Or type a place")
        self._field.setPlaceholderText(f"2 {self.table.unit} from the neck along the shoulder")
        self._field.setToolTip(f"For example {EXAMPLES}.")
        self._field.meant.connect(self._type)
        self._fold = self._slip.button("Fold the dart it crosses", key="F")
        self._fold.clicked.connect(self._fold_crossed)
        self._meet = self._slip.button("Lay together where it crosses", key="A")
        self._meet.clicked.connect(self._lay_where_it_crosses)
        self._ask()

    def _ask(self, refusal: str = "") -> None:
        """Ask for the next point, or say why the line is refused as it is."""
        if self._slip is None or self._fold is None or self._meet is None:
            return
        count, steps = self._line.count, self._line.refused_at_a_seam()
        wanted = f"point {count + 1} of the {self._words}" if count else f"where the {self._words} begins"
        self._fold.setVisible(bool(self._line.crossed_dart()))
        self._meet.setVisible(steps is not None)
        self.keys = frozenset({Qt.Key.Key_A} if steps is not None else ())
        refusal = refusal or (steps.sentence if steps is not None else "")
        self._slip.ask(refusal or f"Click {wanted}{', or end it' if count > 1 else ''}.", can_accept=count > 1)

    def _fold_crossed(self) -> None:
        """Fold that dart; the line is then drawn over it afresh, since its points lie elsewhere now."""
        dart, laid = self._line.crossed_dart(), self._line.item
        if dart and laid is not None:
            self.escape()
            self.table.set_folded(laid.name, (*laid.folded, dart))
            self.table.say(f"The {spoken(dart)} is folded: draw the {self._words} across it.")

    def _lay_where_it_crosses(self) -> None:
        """Let the pieces touch where the line passes their seam."""
        self._line.lay_where_it_crosses()
        self._show()
        self.table.setFocus()

    def _type(self, text: str) -> None:
        """Place a point where the words in the field say."""
        taken_up = self.table.scene.piece(self.table.selection)
        try:
            items = self._line.reached or [taken_up or self._meant(text)]
            laid, found = _typed_on(self.table.scene.garment, items, text, self.table.unit)
        except Refusal as refusal:
            self.table.say(refusal.sentence)
            return
        self._line.aim_at(laid, Snap(text.strip(), found.at, found.landmark, found.place))
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
            self._slip = self._field = self._fold = self._meet = None
        super().end()

    # --- where the pointer is

    def hover(self, at: Pointer) -> None:
        """Show how the line would run to here."""
        self._needle = None
        self._line.aim(at)
        self.table.say(self._report())
        self.table.refresh()

    def _report(self) -> str:
        line, unit = self._line, self.table.unit
        if line.on is None or line.last is None:
            return f"Click on a piece to begin the {self._words}."
        words = [line.snap.name] if line.snap else []
        whole = line.tried(with_next=True)
        if whole is not None:
            words += [f"{show_length(whole.length, unit)} long", *whole.words(unit)]
        bust_point = line.on.shown.landmarks.get("bust_point")
        if bust_point is not None:
            off = show_length(gap(bust_point, (line.last.x, line.last.y)), unit)
            words.append(f"{off} from the bust point")
        return as_sentence("; ".join([*words, self._todo()]))

    def _todo(self) -> str:
        """What a click and the keys would do now."""
        todo = "click to end the line here" if self._line.ends_here else "click to place a point"
        if self._line.ends_here and self._line.seam_here:
            todo += (
                f", or first lay the pieces together at the {spoken_in_full(self._line.seam_here)} to draw on over it"
            )
        if self._line.goes_on_to and not self._line.ends_here and self._line.on is self._line.item:
            todo += f", or go on over the seam on to the {self._line.goes_on_to}"
        if self._line.count > 1:
            todo += ", Enter ends the line, Backspace takes the last point back"
        return todo

    def _show(self) -> None:
        """Ask and say what comes next, and draw anew."""
        self.table.say(self._report())
        self._ask()
        self.table.refresh()

    # --- in one stroke

    def press(self, at: Pointer) -> bool:
        """A stroke can begin while no point is placed."""
        if self._line.count:
            return False
        self._line.aim(at)
        self._stroke = [at.at] if self._line.item is not None else []
        return bool(self._stroke)

    def drag(self, at: Pointer) -> None:
        """The stroke goes on."""
        self._stroke.append(at.at)
        self.table.say(f"Let go where the {self._words} ends.")
        self.table.update()

    def drop(self, at: Pointer) -> None:
        """The stroke becomes a line through few points; its ends go to what lies under them."""
        self.drag(at)
        stroke, self._stroke = self._stroke, []
        if not stroke:
            return
        try:
            places = fitted(as_points(stroke), within=STROKE_WITHIN / self.table.view.scale)
        except ValueError:
            return
        self._line.drop()
        for index, place in enumerate(places):
            is_end = index in (0, len(places) - 1)
            self._line.aim(replace(at, at=as_point(place), reach=2 * at.reach, free=not is_end))
            self._line.add()
        self._finish()

    # --- placing

    def click(self, at: Pointer) -> None:
        """Place a point; on an edge, the second end of the line."""
        self._line.aim(at)
        self._place()

    def _place(self) -> None:
        ends = self._line.ends_here
        if self._line.add() and ends:
            self._finish()
        else:
            self._show()

    def double_click(self, at: Pointer) -> None:
        """End the line at the point that the first of the two clicks placed."""
        self._finish()

    def key(self, key: Qt.Key, *, shift: bool) -> bool:
        """Enter ends the line, Backspace takes the last point back, Space places one with the needle."""
        if key in ENTER:
            self._finish()
        elif key in (Qt.Key.Key_Backspace, Qt.Key.Key_Delete) and self._line.count:
            self._line.take_back()
            self._show()
        elif key == Qt.Key.Key_Space and self._needle is not None:
            self._place()
        elif key == Qt.Key.Key_A and key in self.keys:
            self._lay_where_it_crosses()
        elif key == Qt.Key.Key_F and self._line.crossed_dart():
            self._fold_crossed()
        elif key == Qt.Key.Key_F and self._line.count:
            self.table.say("Fold or open a dart before the line is begun, or end the line first.")
        else:
            return False
        return True

    def arrow(self, dx: float, dy: float) -> bool:
        """Move the needle, which begins in the middle of the piece that is taken up, or of the last point."""
        x, y = self._needle or self._needle_start()
        self._needle = (x + dx, y + dy)
        self._line.aim(self.table.pointer_at_mm(self._needle))
        self.table.say(self._report())
        self.table.refresh()
        return True

    def _needle_start(self) -> Point:
        item, points = self._line.item, self._line.points
        if item is not None and points:
            return item.to_table((points[-1].x, points[-1].y))
        return needle_start(self.table)

    def escape(self) -> bool:
        """Drop the line."""
        was_drawing = bool(self._line.count or self._stroke)
        self._line.drop()
        self._needle, self._stroke = None, []
        self._ask()
        return was_drawing

    def follow(self) -> None:
        """After any change the line is begun afresh: the piece it was drawn on may be gone."""
        self.escape()

    def _finish(self) -> None:
        """Commit the line, or say in a sentence why it cannot be drawn and keep its points."""
        if not self._line.points:
            return
        session, unit = self.table.session, self.table.unit
        try:
            whole = self._line.whole()
        except Refusal as refusal:
            self._refuse(refusal.sentence)
            return
        design = whole.added(session.design)
        refused = step_refused(whole, self._words, unit) or session.preview(design)
        if refused is not None:
            self._refuse(refused.sentence)
            return
        self._line.drop()
        self.table.commit(whole.label(self._words), design)
        self.table.tool_finished.emit()
        if whole.crossings:
            words = [f"the {self._words} is drawn, {show_length(whole.length, unit)} long", *whole.words(unit)]
            self.table.say(as_sentence("; ".join(words)))

    def _refuse(self, sentence: str) -> None:
        self._ask(sentence)
        self.table.say(sentence)

    # --- drawing

    def handles(self) -> list[Handle]:
        """The points placed so far, so that they can be seen and read."""
        return self._line.handles()

    def paint(self, painter: QPainter) -> None:
        """The line so far in chalk, the place that the pointer would snap to by name, the needle."""
        sheet, theme, line = self.table.sheet(painter), self.table.theme, self._line
        if len(self._stroke) > 1:
            draw_chalk(sheet, [straight(self._stroke)], colour=theme.chalk)
        else:
            draw_chalk(sheet, line.paths(), colour=theme.chalk)
        if self._needle is not None:
            draw_needle(sheet, self._needle)
        if line.snap is not None and line.on is not None and not self._stroke:
            at = sheet.frame.point(line.on.to_table(line.snap.at))
            draw_words(painter, line.snap.name, at, sheet.look, colour=theme.snap)


def as_sentence(words: str) -> str:
    """The words with a capital and a full stop."""
    return f"{words[:1].upper()}{words[1:]}."


def _typed_on(garment: Garment, items: Sequence[Laid], text: str, unit: Unit) -> tuple[Laid, TypedPlace]:
    """The first piece that has such a place, and the place. Refusal, as the first piece says it, when none has."""
    refusals: list[Refusal] = []
    for item in items:
        try:
            return item, typed_place(garment, item.shown, text, unit)
        except Refusal as refusal:
            refusals.append(refusal)
    raise refusals[0]

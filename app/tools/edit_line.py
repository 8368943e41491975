"""Moving the points of a line that is drawn already, also one that has been cut along since.

The handles lie on the piece as it was before the step, shown as a faint outline; everything that was done after the
step follows while a point is dragged.
"""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter

from app.canvas.hits import nearest_within
from app.canvas.laid import Laid
from app.canvas.slip import Slip, SlipField
from app.canvas.snaps import Snap, nearest_end, snap
from app.canvas.table import CuttingTable
from app.canvas.table_drawing import chalk_box, draw_chalk, draw_words, words_box
from app.canvas.tool import Handle, Pointer
from app.tools.line_edits import (
    half_way,
    place_on_curve,
    rebased,
    straight,
    with_corner_turned,
    with_point_after,
    with_point_at,
    without_point,
)
from app.tools.step_tool import StepTool
from core.design.replay import Refused
from core.errors import Refusal
from core.geometry.placement import gap
from core.geometry.polyline import Point, Points
from core.pieces.names import spoken
from core.pieces.places import place_words
from core.pieces.records import Garment
from core.pieces.typed_places import EXAMPLES, typed_place
from core.steps.style_line import StyleLine
from core.units import show_length


class EditLine(StepTool):
    """Drag points of a line; double-click on the line adds one, on a point makes a corner of it, Delete removes it."""

    keys = frozenset({Qt.Key.Key_C, Qt.Key.Key_Insert, Qt.Key.Key_Plus})

    def __init__(self, table: CuttingTable, step_id: str) -> None:
        super().__init__(table)
        self._id = step_id
        self._step: StyleLine | None = None
        self._before: Garment = table.scene.garment
        self._laid: Laid | None = None
        self._held: int | None = None
        self._carried: int | None = None
        self._snap: Snap | None = None
        self._drawn: tuple[StyleLine, Points] | None = None
        self._named = 0
        self._slip: Slip | None = None
        self._field: SlipField | None = None
        self.follow()

    # --- what is being altered

    def follow(self) -> None:
        """Take the step from the design as it is now."""
        self._step, self._laid, self.trial, self._held, self._carried, self._snap = None, None, None, None, None, None
        step = next((step for step in self.table.session.design.steps if step.id == self._id), None)
        if not isinstance(step, StyleLine):
            return
        self._before = self.table.session.replay.before(self._id)
        try:
            self._step = rebased(self._before, step)
        except Refusal as refusal:
            self.table.say(refusal.sentence)
            return
        piece = self._before.piece(step.piece)
        self.gathers, self.folds = piece.block, step.folded
        self._laid = self.table.scene.former(piece, step.folded)

    def begin(self) -> None:
        """Say what can be done; leave when the line is gone."""
        if self._step is None:
            self.table.tool_finished.emit()
            return
        self.table.say(f"Drag a point of the {self._words}; double-click on the line adds a point, Delete removes one.")
        self._slip = Slip(self.table, accept="Next point", drop="Done", drops=self._leave_unless_refused)
        self._field = self._slip.field(letters=44)
        self._field.call("It lies")
        self._field.setToolTip(f"For example {EXAMPLES}.")
        self._field.meant.connect(self._type)
        self._name(0)

    def _name(self, index: int) -> None:
        """The slip speaks of this point."""
        if self._slip is not None and self._field is not None and self._shown is not None:
            self._named = index % len(self._shown.points)
            self._slip.ask(f"Drag point {self._named + 1} of the {self._words}, or type where it lies.")
            self._field.setPlaceholderText(self._where(self._named))

    def _where(self, index: int) -> str:
        """Where a point lies, as one would type it."""
        assert self._shown is not None
        point, unit = self._shown.points[index], self.table.unit
        if point.landmark:
            return spoken(point.landmark)
        if point.place is not None:
            return place_words(point.place, show_length(point.place.distance or 0.0, unit))
        out, up = show_length(abs(point.x), unit), show_length(abs(point.y), unit)
        return f"{out} from the centre, {up} {'above' if point.y >= 0 else 'below'} the waist"

    def _type(self, text: str) -> None:
        """Move the point that the slip speaks of to where the words say."""
        if self._step is None or self._laid is None or self._field is None:
            return
        try:
            found = typed_place(self._before, self._laid.shown, text, self.table.unit)
        except Refusal as refusal:
            self.table.say(refusal.sentence)
            return
        self._field.clear()
        place = Snap(text.strip(), found.at, found.landmark, found.place)
        self._alter(with_point_at(self._step, self._named, place), "Move a point of")
        self._name(self._named)

    def accept(self) -> None:
        """The slip speaks of the next point."""
        self._name(self._named + 1)

    def _leave_unless_refused(self) -> None:
        if self._slip is not None and self._slip.take_typed():
            self.table.leave_tool()

    def end(self) -> None:
        """The slip goes with the tool."""
        if self._slip is not None:
            self._slip.take_away()
            self._slip = self._field = None
        super().end()

    def ghost(self) -> Laid | None:
        """The piece before the step."""
        return self._laid

    @property
    def _shown(self) -> StyleLine | None:
        return self.trial if isinstance(self.trial, StyleLine) else self._step

    @property
    def _words(self) -> str:
        return spoken(self._step.name) if self._step else "line"

    def _points(self) -> list[Point]:
        return [(point.x, point.y) for point in self._shown.points] if self._shown else []

    def _curve(self) -> Points:
        """The line in the frame of the piece as it is shown; straight between its points while no curve goes there."""
        step = self._shown
        assert step is not None
        if self._drawn is None or self._drawn[0] is not step:
            try:
                curve = step.curve(self._before, self._before.piece(step.piece))
            except Refusal:
                curve = straight(self._points())
            self._drawn = (step, curve)
        return self._drawn[1]

    # --- handles

    def handles(self) -> list[Handle]:
        """One for every point."""
        if self._shown is None or self._laid is None:
            return []
        return [
            Handle(
                str(index),
                f"Point {index + 1} of {self._words}",
                self._laid.to_table((point.x, point.y)),
                (point.x, point.y),
                "corner" if point.corner else "point",
            )
            for index, point in enumerate(self._shown.points)
        ]

    def _handle_at(self, at: Pointer) -> int | None:
        return nearest_within(at.at, [handle.at for handle in self.handles()], at.reach)

    def _on_line(self, at: Pointer) -> tuple[int, Point] | None:
        """Where the pointer lies on the line: after which point, and the place."""
        if self._step is None or self._laid is None:
            return None
        after, place, off = place_on_curve(self._curve(), self._points(), self._laid.to_piece(at.at))
        return (after, place) if off <= at.reach / 2 else None

    # --- the mouse

    def hover(self, at: Pointer) -> None:
        """Carry a picked-up point along; else say what a press would take hold of."""
        if self._carried is not None:
            self._carry(self._carried, at)
            return
        index, on_line = self._handle_at(at), self._on_line(at)
        self.table.setCursor(Qt.CursorShape.ArrowCursor if index is None else Qt.CursorShape.PointingHandCursor)
        if index is not None:
            self.table.say(f"Point {index + 1} of the {self._words}: drag it, or click it and click where it goes.")
        elif on_line:
            self.table.say(f"Double-click to add a point to the {self._words} here, or drag to add and move one.")

    def press(self, at: Pointer) -> bool:
        """Take hold of a point, or of the line between two, which adds one once it is dragged."""
        self._held = self._handle_at(at)
        self._pressed = at
        return self._held is not None or self._on_line(at) is not None

    def drag(self, at: Pointer) -> None:
        """Move the point that is held."""
        if (index := self._held_point()) is not None:
            self._carry(index, at)

    def _held_point(self) -> int | None:
        """The point that the hand holds; one is added to the line where it took hold between two."""
        if self._held is None and self._step is not None and (found := self._on_line(self._pressed)):
            self._step, self._held = with_point_after(self._step, *found), found[0] + 1
        return self._held

    def drop(self, at: Pointer) -> None:
        """Put the point where the button was let go."""
        if (index := self._held_point()) is not None:
            self._move(index, at)
            self._held = None
            self.keep(f"Move a point of the {self._words}")

    def click(self, at: Pointer) -> None:
        """Pick a point up, put it down again; a click elsewhere lays the tool down."""
        if self._carried is not None:
            index, self._carried = self._carried, None
            self._move(index, at)
            self.keep(f"Move a point of the {self._words}")
        elif (found := self._handle_at(at)) is not None:
            self._carried = found
            self.table.focus_handle(str(found))
            self.table.say("Click where the point goes; Esc leaves it where it was.")
        elif self._on_line(at) is None:
            self.table.tool_finished.emit()

    def double_click(self, at: Pointer) -> None:
        """On a point: a corner, or smooth again. On the line: a new point."""
        self._carried = None
        index, on_line = self._handle_at(at), self._on_line(at)
        if self._step is None:
            return
        if index is not None:
            self._alter(with_corner_turned(self._step, index), "Turn a point of")
        elif on_line is not None:
            self._alter(with_point_after(self._step, *on_line), "Add a point to")

    def _alter(self, step: StyleLine, act: str, *, tap: bool = False) -> None:
        if self.show(step):
            self.keep(f"{act} the {self._words}", tap=tap)
        else:
            self.keep("")

    # --- the keys

    def nudge(self, key: str, dx: float, dy: float) -> None:
        """Move a point by so many mm; an end stays on the outline."""
        if self._step is None or self._laid is None:
            return
        index = int(key)
        point = self._step.points[index]
        dx, dy = self._laid.way_on_piece(dx, dy)
        place: Point | Snap = (point.x + dx, point.y + dy)
        if self._is_end(index):
            unit, skip = self.table.unit, self._step.name
            place = nearest_end(self._before, self._laid.shown, (point.x + dx, point.y + dy), unit=unit, skip=skip)
        self._alter(with_point_at(self._step, index, place), "Move a point of", tap=True)
        self.table.say(self._report(index))

    def activate(self, key: str) -> None:
        """Say where the point is, and let the slip speak of it."""
        self._name(int(key))
        self.table.say(self._report(int(key)))

    def remove(self, key: str) -> None:
        """Take a point out of the line."""
        if self._step is not None:
            self._alter(without_point(self._step, int(key)), "Remove a point of")

    def key(self, key: Qt.Key, *, shift: bool) -> bool:
        """Insert or + adds a point after the one in hand, C turns it into a corner and back."""
        handle = self.table.focused_handle
        if handle is None or self._step is None:
            return False
        index = int(handle.key)
        if key in (Qt.Key.Key_Insert, Qt.Key.Key_Plus):
            place = half_way(self._curve(), self._points(), index)
            self._alter(with_point_after(self._step, min(index, len(self._step.points) - 2), place), "Add a point to")
            return True
        if key == Qt.Key.Key_C:
            self._alter(with_corner_turned(self._step, index), "Turn a point of")
            return True
        return False

    def escape(self) -> bool:
        """Put everything back as it was."""
        is_busy = self.trial is not None or self._carried is not None
        self.put_back()
        return is_busy

    # --- what a gesture does

    def _is_end(self, index: int) -> bool:
        step = self._shown
        return step is not None and step.purpose != "mark" and index in (0, len(step.points) - 1)

    def _place(self, index: int, at: Pointer) -> Point | Snap:
        """Where the pointer puts a point: an end runs along edges, an inner point snaps to landmarks."""
        assert self._step is not None
        assert self._laid is not None
        here = self._laid.to_piece(at.at)
        if at.free:
            return here
        garment, shown, unit, skip = self._before, self._laid.shown, self.table.unit, self._step.name
        is_end = self._is_end(index)
        found = snap(garment, shown, here, at.reach, unit=unit, edges=is_end, skip=skip)
        if found is None and is_end:
            found = nearest_end(garment, shown, here, unit=unit, skip=skip)
        return found or here

    def _carry(self, index: int, at: Pointer) -> None:
        """Take a point along with the hand: the line is there at once, the garment as soon as it is worked out."""
        if (step := self._moved(index, at)) is not None:
            self.try_out(step)

    def worked_out(self, refused: Refused | None) -> None:
        """Say how long the line is now, or why it cannot lie there."""
        super().worked_out(refused)
        if refused is None:
            self.table.say(self._report(self._named))

    def _move(self, index: int, at: Pointer) -> None:
        """Put a point down, with all that follows from it."""
        if (step := self._moved(index, at)) is not None and self.show(step):
            self.table.say(self._report(index))

    def _moved(self, index: int, at: Pointer) -> StyleLine | None:
        """The line with a point where the pointer is."""
        if self._step is None or self._laid is None:
            return None
        if index != self._named:
            self._name(index)
        place = self._place(index, at)
        self._snap = place if isinstance(place, Snap) else None
        return with_point_at(self._step, index, place)

    def _report(self, index: int) -> str:
        """Live lengths: the whole line, and how far the point is from the bust point."""
        step = self._shown
        if step is None:
            return ""
        unit = self.table.unit
        origin = self.table.session.shown.garment.origins.get(step.name)
        words = f"{self._words.capitalize()} {show_length(origin.length, unit)} long" if origin else ""
        bust_point = self._laid.shown.landmarks.get("bust_point") if self._laid else None
        if bust_point is not None:
            off = show_length(gap(bust_point, (step.points[index].x, step.points[index].y)), unit)
            words += f"; this point {off} from the bust point"
        return words + "."

    # --- drawing

    @property
    def carries(self) -> bool:
        """Whether a point that was clicked goes along."""
        return self._carried is not None

    def covers(self) -> QRectF | None:
        """Round the line, and the word at its snap."""
        if self._shown is None or self._laid is None:
            return QRectF()
        frame, look = self.table.frame(), self.table.look()
        line = chalk_box(frame, self._laid.on_table(self._curve()))
        if self._snap is None:
            return line
        at = frame.point(self._laid.to_table(self._snap.at))
        return line.united(words_box(self._snap.name, at, look, self.table).adjusted(-1, -1, 1, 1))

    def paint(self, painter: QPainter) -> None:
        """The line itself, in chalk, or in the colour of what is wrong while it is refused."""
        if self._shown is None or self._laid is None:
            return
        theme = self.table.theme
        colour = theme.verdicts["wrong"] if self.refusal else theme.chalk
        sheet = self.table.sheet(painter)
        draw_chalk(sheet, [self._laid.on_table(self._curve())], colour=colour)
        if self._snap is not None and self.trial is not None:
            at = sheet.frame.point(self._laid.to_table(self._snap.at))
            draw_words(painter, self._snap.name, at, sheet.look, colour=theme.snap)

"""Moving the points of a line that is drawn already, also one that has been cut along since.

The handles lie on the piece as it was before the step, shown as a faint outline; everything that was done after the
step follows while a point is dragged.
"""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter

from app.canvas.hits import nearest_within
from app.canvas.laid import Laid
from app.canvas.snaps import Snap, nearest_end, snap
from app.canvas.table import CuttingTable
from app.canvas.table_drawing import draw_chalk, draw_words
from app.canvas.tool import Handle, Pointer, Tool
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
from core.errors import Refusal
from core.geometry.placement import gap
from core.geometry.polyline import Point, Points
from core.pieces.outline import local_name
from core.pieces.records import Garment
from core.steps.style_line import StyleLine
from core.units import show_length


class EditLine(Tool):
    """Drag points of a line; double-click on the line adds one, on a point makes a corner of it, Delete removes it."""

    def __init__(self, table: CuttingTable, step_id: str) -> None:
        super().__init__(table)
        self._id = step_id
        self._step: StyleLine | None = None
        self._before: Garment = table.scene.garment
        self._laid: Laid | None = None
        self._trial: StyleLine | None = None
        self._held: int | None = None
        self._carried: int | None = None
        self._snap: Snap | None = None
        self._refusal = ""
        self._drawn: tuple[StyleLine, Points] | None = None
        self.follow()

    # --- what is being altered

    def follow(self) -> None:
        """Take the step from the design as it is now; leave when it is gone."""
        step = next((step for step in self.table.session.design.steps if step.id == self._id), None)
        self._trial, self._held, self._carried, self._snap, self._refusal = None, None, None, None, ""
        if not isinstance(step, StyleLine):
            self._step = None
            return
        self._before = self.table.session.replay.before(self._id)
        try:
            self._step = rebased(self._before, step)
        except Refusal as refusal:
            self._step = None
            self.table.say(refusal.sentence)
            return
        piece = self._before.piece(step.piece)
        self.gathers = piece.block
        self._laid = self.table.scene.former(piece, step.folded)

    def begin(self) -> None:
        """Say what can be done."""
        if self._step is None:
            self.table.tool_finished.emit()
            return
        self.table.say(f"Drag a point of the {self._words}; double-click on the line adds a point, Delete removes one.")

    def ghost(self) -> Laid | None:
        """The piece before the step."""
        return self._laid

    @property
    def _shown(self) -> StyleLine | None:
        return self._trial or self._step

    @property
    def _words(self) -> str:
        return local_name(self._step.name).replace("_", " ") if self._step else "line"

    def _points(self) -> list[Point]:
        return [(point.x, point.y) for point in self._shown.points] if self._shown else []

    def _curve(self) -> Points:
        """The line in the frame of the piece as it is shown."""
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

    # --- the mouse

    def hover(self, at: Pointer) -> None:
        """Carry a picked-up point along; else say what a press would take hold of."""
        if self._carried is not None:
            self._move(self._carried, at)
            return
        index = self._handle_at(at)
        self.table.setCursor(Qt.CursorShape.ArrowCursor if index is None else Qt.CursorShape.PointingHandCursor)
        if index is not None:
            self.table.say(f"Point {index + 1} of the {self._words}: drag it, or click it and click where it goes.")
        elif self._is_on_line(at):
            self.table.say(f"Double-click to add a point to the {self._words} here, or drag to add and move one.")

    def _is_on_line(self, at: Pointer) -> bool:
        if self._step is None or self._laid is None:
            return False
        return place_on_curve(self._curve(), self._points(), self._laid.to_piece(at.at))[2] <= at.reach / 2

    def press(self, at: Pointer) -> bool:
        """Take hold of a point, or of the line between two, which adds one once it is dragged."""
        self._held = self._handle_at(at)
        return self._held is not None or self._is_on_line(at)

    def drag(self, at: Pointer) -> None:
        """Move the point that is held."""
        if self._held is None:
            self._held = self._add_at(at)
        if self._held is not None:
            self._move(self._held, at)

    def _add_at(self, at: Pointer) -> int | None:
        """Add a point on the line to the trial; its index comes back."""
        if self._step is None or self._laid is None:
            return None
        after, place, _ = place_on_curve(self._curve(), self._points(), self._laid.to_piece(at.at))
        self._step = self._trial = with_point_after(self._step, after, place)
        return after + 1

    def drop(self, at: Pointer) -> None:
        """Put the point where the button was let go."""
        if self._held is not None:
            self._move(self._held, at)
            self._commit(f"Move a point of the {self._words}")

    def click(self, at: Pointer) -> None:
        """Pick a point up, put it down again; a click elsewhere lays the tool down."""
        if self._carried is not None:
            self._move(self._carried, at)
            self._commit(f"Move a point of the {self._words}")
            return
        index = self._handle_at(at)
        if index is not None:
            self._carried = index
            self.table.focus_handle(str(index))
            self.table.say("Click where the point goes; Esc leaves it where it was.")
        elif not self._is_on_line(at):
            self.table.tool_finished.emit()

    def double_click(self, at: Pointer) -> None:
        """On a point: a corner, or smooth again. On the line: a new point."""
        self._carried, self._trial = None, None
        index = self._handle_at(at)
        if self._step is None:
            return
        if index is not None:
            self._trial = with_corner_turned(self._step, index)
            self._commit(f"Turn a point of the {self._words}")
        elif self._is_on_line(at):
            self._add_at(at)
            self._commit(f"Add a point to the {self._words}")

    # --- the keys

    def nudge(self, key: str, dx: float, dy: float) -> None:
        """Move a point by so many mm."""
        if self._step is None:
            return
        point = self._step.points[int(key)]
        place: Point | Snap = (point.x + dx, point.y + dy)
        if self._is_end(int(key)) and self._laid is not None and isinstance(place, tuple):
            place = nearest_end(self._before, self._laid.shown, place, unit=self.table.unit, skip=self._step.name)
        self._trial = with_point_at(self._step, int(key), place)
        self._commit(f"Move a point of the {self._words}", tap=True)

    def activate(self, key: str) -> None:
        """Say where the point is."""
        self.table.say(self._report(int(key)))

    def remove(self, key: str) -> None:
        """Take a point out of the line."""
        if self._step is not None:
            self._trial = without_point(self._step, int(key))
            self._commit(f"Remove a point of the {self._words}")

    def key(self, key: Qt.Key, *, shift: bool) -> bool:
        """Insert or + adds a point after the one in hand, C turns it into a corner and back."""
        handle = self.table.focused_handle
        if handle is None or self._step is None:
            return False
        index = int(handle.key)
        if key in (Qt.Key.Key_Insert, Qt.Key.Key_Plus):
            after = min(index, len(self._step.points) - 2)
            self._trial = with_point_after(self._step, after, half_way(self._curve(), self._points(), index))
            self._commit(f"Add a point to the {self._words}")
            return True
        if key == Qt.Key.Key_C:
            self._trial = with_corner_turned(self._step, index)
            self._commit(f"Turn a point of the {self._words}")
            return True
        return False

    def escape(self) -> bool:
        """Put everything back as it was."""
        is_busy = self._trial is not None or self._carried is not None
        self.table.session.drop_preview()
        self.follow()
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

    def _move(self, index: int, at: Pointer) -> None:
        if self._step is None:
            return
        place = self._place(index, at)
        self._snap = place if isinstance(place, Snap) else None
        self._trial = with_point_at(self._step, index, place)
        refused = self.table.session.preview(self.table.session.design.with_step(self._trial))
        self._refusal = refused.sentence if refused else ""
        self.table.say(self._refusal or self._report(index))
        if refused:
            self.table.refresh()

    def _report(self, index: int) -> str:
        """Live lengths: the whole line, and how far the point is from the bust point."""
        assert self._shown is not None
        unit = self.table.unit
        origin = self.table.session.shown.garment.origins.get(self._shown.name)
        words = f"{self._words.capitalize()} {show_length(origin.length, unit)} long" if origin else ""
        bust_point = self._laid.shown.landmarks.get("bust_point") if self._laid else None
        if bust_point is not None:
            point = self._shown.points[index]
            off = show_length(gap(bust_point, (point.x, point.y)), unit)
            words += f"; this point {off} from the bust point"
        return words + "."

    def _commit(self, label: str, *, tap: bool = False) -> None:
        """Commit the trial, or put everything back and say why."""
        trial, self._trial, self._held, self._carried, self._snap = self._trial, None, None, None, None
        if trial is None:
            return
        session = self.table.session
        design = session.design.with_step(trial)
        refused = session.preview(design)
        if refused is not None:
            session.drop_preview()
            self.follow()
            self.table.refresh()
            self.table.say(refused.sentence)
            return
        self.table.commit(label, design, tap=tap)

    # --- drawing

    def paint(self, painter: QPainter) -> None:
        """The line itself, in chalk, or in the colour of what is wrong while it is refused."""
        if self._shown is None or self._laid is None:
            return
        theme = self.table.theme
        colour = theme.verdicts["wrong"] if self._refusal else theme.chalk
        sheet = self.table.sheet(painter)
        draw_chalk(sheet, [self._curve() + self._laid.place], colour=colour)
        if self._snap is not None:
            at = sheet.frame.point(self._laid.to_table(self._snap.at))
            draw_words(painter, self._snap.name, at, sheet.look, colour=theme.snap)

"""The neckline: drag its width along the shoulder, its depth down the centre front and the centre back."""

from __future__ import annotations

from collections.abc import Iterator

import msgspec
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter

from app.canvas.laid import Laid
from app.canvas.table import CuttingTable
from app.canvas.table_drawing import chalk_box, draw_chalk
from app.canvas.tool import ENTER, Handle, Pointer
from app.tools.step_tool import StepTool
from core.design.design import Design
from core.design.replay import Refused
from core.errors import Refusal
from core.geometry.polyline import Point, Points, as_point, nearest
from core.pieces.records import Garment, Piece
from core.steps.catalogue import AnyStep
from core.steps.cut import Cut
from core.steps.neckline import Neckline, neck_corner, shoulder_at_neck
from core.steps.step import Step, outcome
from core.units import show_length

BEGIN_WIDTH = 25.4
BEGIN_FRONT = 50.8
BEGIN_BACK = 12.7
"""mm: an inch along the shoulder, two below the pit, half below the nape, to be dragged from there."""

WORDS = {"width": "Width of the neckline", "front": "Depth at centre front", "back": "Depth at centre back"}


class NecklineTool(StepTool):
    """Begins a neckline when there is none, else alters the one that is there."""

    def __init__(self, table: CuttingTable) -> None:
        super().__init__(table)
        self._step: Neckline | None = None
        self._before: Garment = table.scene.garment
        self._done: tuple[Neckline, Garment | None] | None = None
        self._held = ""
        self._carried = ""
        self.gathers = "front"

    # --- what is being altered

    def follow(self) -> None:
        """Take the neckline from the design as it is now, or begin one before the first cut."""
        self._held = self._carried = ""
        self._done = None
        session = self.table.session
        steps: tuple[AnyStep, ...] = session.design.steps
        found = next((step for step in steps if isinstance(step, Neckline)), None)
        if found is not None:
            self._step, self._before = found, session.replay.before(found.id)
            return
        self._step = Neckline(
            session.design.fresh_id("neckline"), BEGIN_WIDTH, BEGIN_FRONT, BEGIN_BACK, width_from="neck"
        )
        cut = _first_cut(steps)
        self._before = session.replay.before(cut.id) if cut else session.replay.garment

    def with_step(self, step: AnyStep) -> Design:
        """A new neckline goes before the first cut: afterwards there is no whole front to cut it into."""
        design = self.table.session.design
        cut = _first_cut(design.steps)
        if cut is None or any(old.id == step.id for old in design.steps):
            return design.with_step(step)
        index = design.steps.index(cut)
        return msgspec.structs.replace(design, steps=(*design.steps[:index], step, *design.steps[index:]))

    def begin(self) -> None:
        """Show the neckline as it is, or a first one to be dragged."""
        self.follow()
        if self._step is not None and self._is_new():
            self.show(self._step)
        if not self.refusal:
            end = " Enter keeps it, Esc drops it." if self._is_new() else ""
            self.table.say(f"Drag the neckline's ends on the shoulder, the centre front and the centre back.{end}")

    def _is_new(self) -> bool:
        return self._step is not None and all(old.id != self._step.id for old in self.table.session.design.steps)

    @property
    def _shown(self) -> Neckline | None:
        return self.trial if isinstance(self.trial, Neckline) else self._step

    def ghost(self) -> Laid | None:
        """The front before its neckline."""
        piece = self._piece("front")
        return self.table.scene.former(piece) if piece is not None else None

    def _piece(self, block: str) -> Piece | None:
        return self._before.pieces.get(block)

    def _neck(self, block: str) -> Points | None:
        """The new neck edge, as it was last where the step cannot be done; the garment may still be on its way."""
        step = self._shown
        if step is None or (self.trial is None and self._is_new()):
            return None
        if self._done is None or self._done[0] is not step:
            before = self._done[1] if self._done is not None else None
            self._done = (step, _done(self._before, step) or before)
        done = self._done[1]
        return done.piece(block).edge("neck").points if done is not None else None

    # --- handles

    def handles(self) -> list[Handle]:
        """The ends of the neckline that can be moved."""
        front, back = self._neck("front"), self._neck("back")
        found = []
        if front is not None:
            found += [self._handle("width", "front", front[0]), self._handle("front", "front", front[-1])]
        if back is not None:
            found.append(self._handle("back", "back", back[0]))
        return found

    def _handle(self, key: str, block: str, place: Points) -> Handle:
        at = as_point(place)
        piece = self._piece(block)
        on_table = self.table.scene.former(piece).to_table(at) if piece is not None else at
        return Handle(key, WORDS[key], on_table, at)

    # --- the mouse and the keys

    def hover(self, at: Pointer) -> None:
        """Carry an end that was clicked along; else say what a press would take hold of."""
        if self._carried:
            self._carry(self._carried, at.at)
            return
        key = self.handle_at(at)
        self.table.setCursor(Qt.CursorShape.PointingHandCursor if key else Qt.CursorShape.ArrowCursor)
        if key:
            self.table.say(f"{WORDS[key]}: drag it, or click it and click where it goes. {self._report()}")

    def press(self, at: Pointer) -> bool:
        """Take hold of an end."""
        self._held = self.handle_at(at)
        return bool(self._held)

    def drag(self, at: Pointer) -> None:
        """Move the end."""
        self._carry(self._held, at.at)

    def drop(self, at: Pointer) -> None:
        """Keep the neckline as it is where the button was let go."""
        self._move(self._held, at.at)
        self._keep()

    def click(self, at: Pointer) -> None:
        """Pick an end up, put it down again."""
        if self._carried:
            self._move(self._carried, at.at)
            self._carried = ""
            self._keep()
        elif key := self.handle_at(at):
            self._carried = key
            self.table.focus_handle(key)
            self.table.say("Click where the neckline's end goes; Esc leaves it where it was.")
        elif not self._is_new():
            self.table.tool_finished.emit()

    def nudge(self, key: str, dx: float, dy: float) -> None:
        """Move an end by so many mm."""
        handle = next((handle for handle in self.handles() if handle.key == key), None)
        if handle is not None:
            self._move(key, (handle.at[0] + dx, handle.at[1] + dy))
            self._keep(tap=True)

    def activate(self, key: str) -> None:
        """Keep a new neckline as it is shown."""
        if self._is_new():
            self._keep()

    def key(self, key: Qt.Key, *, shift: bool) -> bool:
        """Enter keeps a new neckline as it is shown."""
        if key in ENTER and self._is_new() and self.trial is not None:
            return self._keep() or True
        return False

    def escape(self) -> bool:
        """Put everything back as it was."""
        is_busy = self.trial is not None and not self._is_new()
        self.put_back()
        return is_busy or bool(self._carried)

    # --- what a gesture does

    def _carry(self, key: str, at: Point) -> None:
        """Take an end along with the hand: the neck is there at once, the garment as soon as it is worked out."""
        if self._shown is not None:
            self.try_out(moved(self._before, self._shown, key, self._in_piece(key, at)))

    def worked_out(self, refused: Refused | None) -> None:
        """Say how the neckline is now, or why it cannot lie there."""
        super().worked_out(refused)
        if refused is None:
            self.table.say(self._report())

    def _move(self, key: str, at: Point) -> None:
        """Put an end down, with all that follows from it."""
        if self._shown is not None and self.show(moved(self._before, self._shown, key, self._in_piece(key, at))):
            self.table.say(self._report())

    def _in_piece(self, key: str, at: Point) -> Point:
        piece = self._piece("back" if key == "back" else "front")
        return self.table.scene.former(piece).to_piece(at) if piece is not None else at

    def _keep(self, *, tap: bool = False) -> bool:
        self.trial = self.trial or self._step
        return self.keep("Cut the neckline" if self._is_new() else "Alter the neckline", tap=tap)

    def _report(self) -> str:
        step, unit = self._shown, self.table.unit
        if step is None:
            return ""
        measured = "from the centre" if step.width_from == "centre" else "along the shoulder"
        wide = show_length(step.width, unit)
        below = "the pit of the neck" if step.depth_from == "pit" else "side neck level"
        front, back = show_length(step.front_depth, unit), show_length(step.back_depth, unit)
        return f"Neckline {wide} {measured}, front {front} below {below}, back {back} below the nape."

    @property
    def carries(self) -> bool:
        """Whether an end that was clicked goes along."""
        return bool(self._carried)

    def covers(self) -> QRectF | None:
        """Round the neck edges."""
        found = QRectF()
        for path in self._necks():
            found = found.united(chalk_box(self.table.frame(), path))
        return found

    def _necks(self) -> Iterator[Points]:
        """The neck edges on the table, where they were cut."""
        for block in ("front", "back"):
            neck, piece = self._neck(block), self._piece(block)
            if neck is not None and piece is not None:
                yield self.table.scene.former(piece).on_table(neck)

    def paint(self, painter: QPainter) -> None:
        """The neck edges in chalk, where they were cut."""
        colour = self.table.theme.verdicts["wrong"] if self.refusal else self.table.theme.chalk
        draw_chalk(self.table.sheet(painter), self._necks(), colour=colour)


def _done(before: Garment, step: Neckline) -> Garment | None:
    """The blocks with their new neck; None where the step is refused."""
    try:
        return outcome(before, step.effect(before)).garment
    except Refusal:
        return None


def moved(garment: Garment, step: Neckline, key: str, at: Point) -> Neckline:
    """The neckline with an end ("width", "front", "back") at a place of the block, in mm; never above the neck."""
    if key == "width":
        return _with_width(garment.piece(step.front), step, at)
    if key == "back":
        depth = neck_corner(garment.piece(step.back))[1] - at[1]
        return msgspec.structs.replace(step, back_depth=max(depth, 0.0))
    front = garment.piece(step.front)
    pit, side_neck = neck_corner(front)[1], front.landmarks["side_neck"][1]
    from_height = pit if step.depth_from == "pit" else side_neck
    return msgspec.structs.replace(step, front_depth=from_height - min(at[1], pit))


def _with_width(front: Piece, step: Neckline, at: Point) -> Neckline:
    shoulder = shoulder_at_neck(front)
    along, _ = nearest(shoulder.points, at)
    if step.width_from == "neck":
        return msgspec.structs.replace(step, width=along)
    share = along / shoulder.length
    first, last = shoulder.points[0], shoulder.points[-1]
    return msgspec.structs.replace(step, width=abs(float(first[0] + share * (last[0] - first[0]))))


def _first_cut(steps: tuple[AnyStep, ...]) -> Step | None:
    return next((step for step in steps if isinstance(step, Cut)), None)

"""Pivoting: pick a dart, place the pin, pick where the dart goes, and turn the paper about the pin."""

from __future__ import annotations

from collections.abc import Iterator
from math import degrees, hypot
from typing import Final

import msgspec
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QPainter

from app.canvas.hits import dart_at, nearest_within
from app.canvas.laid import Laid
from app.canvas.table import CuttingTable
from app.canvas.table_drawing import draw_words
from app.canvas.tool import Handle, Pointer
from app.tools.pivot_goals import Goal, goal_at, goals, mouth
from app.tools.pivot_slip import KEYS, PivotSlip
from app.tools.step_tool import StepTool
from core.errors import Refusal
from core.geometry.placement import angle_between, gap
from core.geometry.polyline import Point
from core.pieces.folded_piece import SLIT
from core.pieces.names import spoken
from core.pieces.records import Dart
from core.steps.mapping import landmarks_of
from core.steps.pivot import REACH, Becomes, Pivot, Receiver, on_centre_line_nearest
from core.units import parse_length, show_angle, show_length

BEGIN: Final = "Click the dart that is to be pivoted."

ALL: Final = 0.92
"""A share dragged past this is meant to be all of the angle."""

TAP: Final = 0.05
"""The share that an arrow key turns; ten times that with Shift, a tenth with Alt."""


class PivotTool(StepTool):
    """Three moments: no dart picked yet; a dart picked, its pin to be placed; a goal picked, the share to be turned."""

    cursor = Qt.CursorShape.PointingHandCursor

    def __init__(self, table: CuttingTable) -> None:
        super().__init__(table)
        self._piece = ""
        self._dart = ""
        self._pin: Point | None = None
        self._goal: Goal | None = None
        self._under: Goal | None = None
        self._share = 1.0
        self._held = ""
        self._pressed: Pointer | None = None
        self._becomes: Becomes = "dart"
        self._reach = REACH
        self._sent: tuple[tuple[Goal, Receiver], ...] = ()
        self._slip: PivotSlip | None = None

    # --- what is in hand

    def begin(self) -> None:
        """Say what can be done. Darts that are shown folded are opened: a folded one could not be picked."""
        for item in [item for item in self.table.scene.laid if item.folded]:
            self.table.set_folded(item.name, None)
        self.table.say(BEGIN)

    def follow(self) -> None:
        """Begin afresh: the dart may be gone."""
        self._piece = self._dart = self._held = ""
        self._pin = self._goal = self._under = None
        self._share, self._becomes, self._reach, self._sent = 1.0, "dart", REACH, ()
        if self._slip is not None:
            self._slip.hide()

    @property
    def _rest(self) -> float:
        """The share of the angle that is not sent anywhere yet."""
        return 1.0 - sum(receiver.share for _, receiver in self._sent)

    def _base(self) -> Laid | None:
        """The piece as it is committed, where it lies."""
        piece = self.table.session.replay.garment.pieces.get(self._piece)
        return self.table.scene.former(piece) if piece is not None else None

    def _picked(self) -> tuple[Laid, Dart] | None:
        base = self._base()
        if base is None or not self._dart:
            return None
        return base, base.piece.dart(self._dart)

    def _pivot(self, dart: Dart) -> Point:
        return on_centre_line_nearest(dart, self._pin) if self._pin is not None else dart.pivot

    def _pick(self, piece: str, dart: str) -> None:
        self.follow()
        self._piece, self._dart = piece, dart
        self.table.set_folded(piece, None)
        self.table.say(
            f"Click where the {spoken(dart)} goes: another dart or a place on an edge; or press there and drag to "
            f"turn a share. Drag the pin to move the pivot."
        )
        self.table.refresh()

    # --- handles

    def handles(self) -> list[Handle]:
        """Darts to pick; then the pin and the goals; then the share."""
        picked = self._picked()
        if picked is None:
            return [_dart_handle(item, dart) for item, dart in self._darts()]
        base, dart = picked
        pivot = self._pivot(dart)
        if self._goal is not None:
            words = f"Share of the {spoken(dart.name)} turned, {self._share:.0%}"
            return [Handle("share", words, base.to_table(self._goal.at), self._goal.at)]
        pin = Handle("pin", f"Pivot of the {spoken(dart.name)}", base.to_table(pivot), pivot, "pivot")
        choices = [
            Handle(f"goal {i}", f"To the {goal.words}", base.to_table(goal.at), goal.at, "choice", moves=False)
            for i, goal in enumerate(goals(self.table.session.replay.garment, base.piece, dart))
        ]
        return [pin, *choices]

    def _darts(self) -> Iterator[tuple[Laid, Dart]]:
        for item in self.table.scene.laid:
            yield from ((item, dart) for dart in item.shown.darts if not dart.name.endswith(SLIT))

    # --- the mouse

    def hover(self, at: Pointer) -> None:
        """Show what a click would pick."""
        picked = self._picked()
        if picked is None:
            hit = dart_at(self.table.scene.laid, at.at, at.reach)
            self.table.say(self._dart_report(hit.dart, hit.laid.name) if hit else BEGIN)
        elif self._goal is None:
            self._under = goal_at(self.table, *picked, at)
            words = f"Click to pivot the {spoken(self._dart)} to the {self._under.words}." if self._under else ""
            self.table.say(words or "Click another dart or a place on an edge; drag the pin to move the pivot.")
            self.table.update()

    def _dart_report(self, dart: Dart, piece: str) -> str:
        wide = show_length(dart.width, self.table.unit)
        return f"Click to pick the {spoken(dart.name)} of {piece}: {show_angle(dart.angle)}, {wide} wide."

    def press(self, at: Pointer) -> bool:
        """Take hold of the pin, or of a goal to turn towards it."""
        picked = self._picked()
        self._pressed = at
        if picked is None:
            return False
        base, dart = picked
        if self._goal is None and gap(base.to_table(self._pivot(dart)), at.at) <= at.reach:
            self._held = "pin"
        elif self._goal is not None or goal_at(self.table, base, dart, at) is not None:
            self._held = "turn"
        return bool(self._held)

    def drag(self, at: Pointer) -> None:
        """Move the pin, or turn."""
        picked = self._picked()
        if picked is None or self._pressed is None:
            return
        base, dart = picked
        if self._held == "pin":
            self._move_pin(base, dart, base.to_piece(at.at), free=at.free, reach=at.reach)
            return
        self._goal = self._goal or goal_at(self.table, base, dart, self._pressed)
        swept = abs(angle_between(base.to_table(self._pivot(dart)), self._pressed.at, at.at)) / dart.angle
        is_all = swept > self._rest or (swept > ALL * self._rest and not at.free)
        self._share = self._rest if is_all else swept
        self._turn()

    def drop(self, at: Pointer) -> None:
        """Let the pin go; or keep the share that was turned."""
        self.drag(at)
        if self._held == "turn":
            self.accept()
        self._held = ""

    def click(self, at: Pointer) -> None:
        """Pick a dart; pick where it goes; a third click keeps what is shown."""
        self._held = ""
        picked = self._picked()
        if picked is None:
            hit = dart_at(self.table.scene.laid, at.at, at.reach)
            if hit is not None:
                self._pick(hit.laid.name, hit.dart.name)
        elif self._goal is not None:
            self.accept()
        else:
            self._go(goal_at(self.table, *picked, at))

    def _go(self, goal: Goal | None) -> None:
        if goal is None:
            return
        self._goal, self._share = goal, self._rest
        if goal.into == self._dart:
            self._becomes = "gathers"
        if self._turn():
            self.table.focus_handle("share")
        else:
            self._goal = None

    # --- the keys

    def activate(self, key: str) -> None:
        """As a click on the handle."""
        picked = self._picked()
        if key.startswith("dart "):
            _, piece, dart = key.split("|")
            self._pick(piece, dart)
            self.table.focus_handle("pin")
        elif key.startswith("goal ") and picked is not None:
            self._go(
                goals(self.table.session.replay.garment, picked[0].piece, picked[1])[int(key.removeprefix("goal "))]
            )
        elif key == "share":
            self.accept()

    def nudge(self, key: str, dx: float, dy: float) -> None:
        """Move the pin by so many mm; turn a little more or less."""
        picked = self._picked()
        if picked is None:
            return
        base, dart = picked
        if key == "pin":
            x, y = self._pivot(dart)
            self._move_pin(base, dart, (x + dx, y + dy), free=True, reach=0.0)
        elif key == "share":
            sign = 1.0 if dx + dy > 0 else -1.0
            self._share = min(max(self._share + sign * TAP * hypot(dx, dy), 0.0), self._rest)
            self._turn()

    def key(self, key: Qt.Key, *, shift: bool) -> bool:
        """Enter keeps what is shown; E and G make ease or gathers of it, A sends a further share elsewhere."""
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.trial is not None:
            self.accept()
            return True
        if key in KEYS and self._goal is not None:
            self._mean(KEYS[key])
            return True
        return False

    def escape(self) -> bool:
        """One moment back."""
        was = bool(self._dart)
        piece, dart, goal, pin = self._piece, self._dart, self._goal, self._pin
        self.put_back()
        if goal is not None:
            self._pick(piece, dart)
            self._pin = pin
        return was

    # --- the slip

    def _mean(self, what: str) -> None:
        """Ease or gathers instead of a dart, or a dart again; how far they are spread; a further share."""
        if what == "another":
            self._send()
            return
        if what in ("ease", "gathers"):
            wanted: Becomes = "ease" if what == "ease" else "gathers"
            self._becomes = "dart" if self._becomes == wanted else wanted
        else:
            try:
                self._reach = parse_length(what.removeprefix("reach "), self.table.unit)
            except Refusal as refused:
                self.table.say(refused.sentence)
                return
        self._turn()

    def _send(self) -> None:
        """Put the share in hand by and ask where the rest goes; half of it where all of it was in hand."""
        picked = self._picked()
        if self._goal is None or picked is None:
            return
        share = self._share if self._share < self._rest else self._rest / 2
        self._sent = (*self._sent, (self._goal, self._receiver(share)))
        self._goal, self._becomes, self._share = None, "dart", self._rest
        self.trial, self.refusal = None, ""
        if self._slip is not None:
            self._slip.hide()
        self.table.session.drop_preview()
        self.table.refresh()
        self.table.say(
            f"{self._rest:.0%} of the {spoken(self._dart)} is left: click where it goes; Esc drops the shares."
        )

    def _receiver(self, share: float) -> Receiver:
        assert self._goal is not None
        return Receiver(share, self._goal.into, self._goal.place, self._becomes, self._reach)

    def _tell(self, words: str, *, can_accept: bool) -> None:
        if self._slip is None:
            self._slip = PivotSlip(self.table, self.table.theme)
            self._slip.accepted.connect(self.table.accept_tool)
            self._slip.dropped.connect(self.table.leave_tool)
            self._slip.meant.connect(self._mean)
        reach = show_length(self._reach, self.table.unit)
        self._slip.tell(words, becomes=self._becomes, reach=reach, can_accept=can_accept)

    def end(self) -> None:
        """Nothing uncommitted stays in view."""
        if self._slip is not None:
            self._slip.take_away()
            self._slip = None
        super().end()

    # --- what a gesture does

    def _move_pin(self, base: Laid, dart: Dart, at: Point, *, free: bool, reach: float) -> None:
        """Lay the pin down: on the dart's own pivot or the bust point when it is near, elsewhere with a warning."""
        targets = [dart.pivot, *(place for name, place in base.piece.landmarks.items() if name == "bust_point")]
        index = None if free else nearest_within(at, targets, reach)
        self._pin = None if index is not None and gap(targets[index], dart.pivot) < 1e-6 else at
        if index is not None and self._pin is not None:
            self._pin = targets[index]
        off = gap(self._pivot(dart), dart.pivot)
        where = "the bust point" if "bust_point" in base.piece.landmarks else "the dart's own pivot"
        if off < 1e-6:
            self.table.say(f"The pin is on {where}.")
        else:
            away = show_length(off, self.table.unit)
            self.table.say(f"Mind: the pin lies {away} from {where}, and the fullness will sit there.")
        self.table.refresh()

    def _step(self, base: Laid) -> Pivot:
        first, *also = (*(receiver for _, receiver in self._sent), self._receiver(self._share))
        step = Pivot(
            self.table.session.design.fresh_id("pivot"),
            self._piece,
            self._dart,
            into=first.into,
            place=first.place,
            share=first.share,
            becomes=first.becomes,
            reach=first.reach,
            also=tuple(also),
        )
        if self._pin is None:
            return step
        return msgspec.structs.replace(step, at=self._pin, drawn_on=landmarks_of(base.piece))

    def _turn(self) -> bool:
        picked = self._picked()
        if picked is None or self._goal is None:
            return False
        step = self._step(picked[0])
        done = self.show(step)
        if done:
            turned = show_angle(self._share * picked[1].angle)
            sentence = step.sentence(self.table.session.replay.garment, self.table.unit)
            self._tell(" ".join((sentence, *(note.sentence for note in self.notes()))), can_accept=True)
            self.table.say(f"{sentence} Turned {turned}; Enter or a click keeps it, Esc drops it.")
        elif self._becomes != "dart":
            self._tell(self.refusal, can_accept=False)
        return done or self._becomes != "dart"

    def accept(self) -> None:
        """Keep what is shown, unless nothing was turned."""
        if self._share <= 0.0:
            self.put_back()
        elif self.keep(f"Pivot the {spoken(self._dart)}"):
            self.table.tool_finished.emit()

    # --- drawing

    def paint(self, painter: QPainter) -> None:
        """The way from the pin to where the dart would go; the angle while it turns."""
        picked = self._picked()
        if picked is None:
            return
        base, dart = picked
        sheet = self.table.sheet(painter)
        goal = self._goal or self._under
        for sent, receiver in self._sent:
            place = sheet.frame.point(base.to_table(sent.at))
            draw_words(painter, f"{receiver.share:.0%}", place, sheet.look, colour=self.table.theme.snap)
        pin = sheet.frame.point(base.to_table(self._pivot(dart)))
        painter.setPen(sheet.look.inks.mark)
        if goal is not None:
            end = sheet.frame.point(base.to_table(goal.at))
            painter.drawLine(pin, end)
            turned = f"{degrees(self._share * dart.angle):.1f}° of {degrees(dart.angle):.1f}°"
            words = goal.words if self._goal is None else turned
            draw_words(painter, words, end, sheet.look, colour=self.table.theme.snap)
        painter.setPen(sheet.look.inks.ghost)
        for leg in dart.legs:
            painter.drawLine(pin, sheet.frame.point(base.to_table(leg)))
        if self._goal is not None:
            painter.setBrush(sheet.look.inks.style.color())
            painter.drawEllipse(QPointF(pin), 3.0, 3.0)


def _dart_handle(item: Laid, dart: Dart) -> Handle:
    x, y = ((a + b) / 2 for a, b in zip(mouth(dart), dart.pivot, strict=True))
    words = f"{spoken(dart.name).capitalize()} of {item.name}"
    return Handle(f"dart |{item.name}|{dart.name}", words, item.to_table((x, y)), (x, y), "choice", moves=False)

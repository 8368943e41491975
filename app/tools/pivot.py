"""Pivoting: pick a dart, place the pin, pick where the dart goes, and turn the paper about the pin."""

from __future__ import annotations

from collections.abc import Iterator
from math import degrees, hypot
from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter

from app.canvas.hits import dart_at
from app.canvas.laid import Laid
from app.canvas.table import CuttingTable
from app.canvas.tool import ENTER, Handle, Pointer
from app.tools.amounts import DIGITS
from app.tools.pivot_drawing import Turn, draw_turn
from app.tools.pivot_goals import Goal, dart_handle, goal_at, goals
from app.tools.pivot_setting import PivotSetting
from app.tools.pivot_slip import KEYS
from core.geometry.placement import angle_between, gap
from core.geometry.polyline import Point
from core.geometry.tolerances import AT_PIVOT
from core.pieces.folded_piece import SLIT
from core.pieces.names import spoken
from core.pieces.records import Dart
from core.units import show_angle, show_length

BEGIN: Final = "Click the dart that is to be pivoted."

ALL: Final = 0.92
"""A share dragged past this is meant to be all of the angle."""

TAP: Final = 0.05
"""The share that an arrow key turns; ten times that with Shift, a tenth with Alt."""


class PivotTool(PivotSetting):
    """Three moments: no dart picked yet; a dart picked, its pin to be placed; a goal picked, the share to be turned."""

    cursor = Qt.CursorShape.PointingHandCursor
    keys = frozenset(KEYS)

    def __init__(self, table: CuttingTable) -> None:
        super().__init__(table)
        self._under: Goal | None = None
        self._held = ""
        self._pressed: Pointer | None = None
        self._before: tuple[Goal | None, float, Point | None] | None = None

    # --- what is in hand

    def begin(self) -> None:
        """Say what can be done. Darts that are shown folded are opened: a folded one could not be picked."""
        for item in [item for item in self.table.scene.laid if item.folded]:
            self.table.set_folded(item.name)
        self.table.say(BEGIN)

    def follow(self) -> None:
        """Begin afresh: the dart may be gone."""
        super().follow()
        self._held, self._under, self._before = "", None, None

    @property
    def _offers_all(self) -> bool:
        """Whether pin and places can be taken up: until a place is chosen, and all the while a step is altered."""
        return self._goal is None or bool(self.altered)

    # --- handles

    def handles(self) -> list[Handle]:
        """Darts to pick; then the pin and the goals; then the share."""
        picked = self._picked()
        if picked is None:
            return [dart_handle(item, dart) for item, dart in self._darts()]
        base, dart = picked
        pivot = self._pivot(dart)
        made = []
        if self._goal is not None:
            words = f"Share of the {spoken(dart.name)} turned, {self._share:.0%}"
            made = [Handle("share", words, base.to_table(self._goal.at), self._goal.at)]
        if not self._offers_all:
            return made
        pin = Handle("pin", f"Pivot of the {spoken(dart.name)}", base.to_table(pivot), pivot, "pivot")
        choices = [
            Handle(f"goal {i}", f"To the {goal.words}", base.to_table(goal.at), goal.at, "choice", moves=False)
            for i, goal in enumerate(goals(self.garment, base.piece, dart))
            if self._goal is None or gap(goal.at, self._goal.at) > AT_PIVOT
        ]
        return [*made, pin, *choices]

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
        elif self._offers_all:
            self._under = self._goal_at(*picked, at)
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
        if self._offers_all and gap(base.to_table(self._pivot(dart)), at.at) <= at.reach:
            self._held = "pin"
        elif self._goal is not None or self._goal_at(base, dart, at) is not None:
            self._held = "turn"
        self._before = (self._goal, self._share, self._pin) if self._held else None
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
        self._goal = self._goal or self._goal_at(base, dart, self._pressed)
        swept = abs(angle_between(base.to_table(self._pivot(dart)), self._pressed.at, at.at)) / dart.angle
        is_all = swept > self._rest or (swept > ALL * self._rest and not at.free)
        self._share = self._rest if is_all else swept
        self._turn()

    def drop(self, at: Pointer) -> None:
        """Let the pin go; or keep the share that was turned."""
        self.drag(at)
        held, self._held, self._before = self._held, "", None
        # What is altered is kept by Enter or the slip: there is more to set than the one share.
        if held == "turn" and not self.altered:
            self.accept()

    def click(self, at: Pointer) -> None:
        """Pick a dart; pick where it goes; a third click keeps what is shown."""
        self._held, self._before = "", None
        picked = self._picked()
        if picked is None:
            hit = dart_at(self.table.scene.laid, at.at, at.reach)
            if hit is not None:
                self._pick(hit.laid.name, hit.dart.name)
        elif self._offers_all:
            self._go(self._goal_at(*picked, at))
        else:
            self.accept()

    def _goal_at(self, base: Laid, dart: Dart, at: Pointer) -> Goal | None:
        return goal_at(self.garment, base, dart, at, unit=self.table.unit)

    def _go(self, goal: Goal | None) -> None:
        if goal is None:
            return
        before, self._goal = self._goal, goal
        self._share = self._share if before is not None else self._rest
        if goal.into == self._dart:
            self._becomes = "gathers"
        if self._turn():
            self.table.focus_handle("share")
        else:
            refusal, self._goal = self.refusal, before
            if before is not None:
                self._turn()
                self.table.say(refusal)

    # --- the keys

    def activate(self, key: str) -> None:
        """As a click on the handle."""
        picked = self._picked()
        if key.startswith("dart "):
            _, piece, dart = key.split("|")
            self._pick(piece, dart)
            self.table.focus_handle("pin")
        elif key.startswith("goal ") and picked is not None:
            self._go(goals(self.garment, picked[0].piece, picked[1])[int(key.removeprefix("goal "))])
        elif key == "share":
            self.accept()

    def nudge(self, key: str, dx: float, dy: float) -> None:
        """Move the pin by so many mm; turn a little more or less."""
        picked = self._picked()
        if picked is None:
            return
        base, dart = picked
        if key == "pin":
            (x, y), (dx, dy) = self._pivot(dart), base.way_on_piece(dx, dy)
            self._move_pin(base, dart, (x + dx, y + dy), free=True, reach=0.0)
        elif key == "share":
            sign = 1.0 if dx + dy > 0 else -1.0
            self._share = min(max(self._share + sign * TAP * hypot(dx, dy), 0.0), self._rest)
            self._turn()

    def key(self, key: Qt.Key, *, shift: bool) -> bool:
        """Enter keeps what is shown; E and G make ease or gathers of it, A sends a share elsewhere, digits type one."""
        if key in ENTER and self.trial is not None:
            self.accept()
            return True
        if key in KEYS and self._goal is not None:
            self._mean(KEYS[key])
            return True
        if key in DIGITS and self._slip is not None and self._slip.isVisible():
            self._slip.turned.begin(chr(key.value))
            return True
        return False

    def escape(self) -> bool:
        """Drop the drag; else one moment back. A step that was taken up to be altered is left as it was."""
        if self._before is not None:
            (self._goal, self._share, self._pin), self._before, self._held = self._before, None, ""
            self._show_set()
            return True
        if self.altered:
            return False
        return self._go_back()

    def _go_back(self) -> bool:
        """From the turn to the choice of a place, from there to the choice of a dart."""
        was = bool(self._dart)
        piece, dart, goal, pin = self._piece, self._dart, self._goal, self._pin
        self.trial, self.refusal = None, ""
        self.show_before()
        self.follow()
        if goal is not None:
            self._pick(piece, dart)
            self._pin = pin
        self.table.refresh()
        return was

    # --- drawing

    def about(self) -> Iterator[Laid]:
        """The piece that turns."""
        picked = self._picked()
        now = self.table.scene.piece(self._piece)
        yield from (item for item in (picked[0] if picked is not None else None, now) if item is not None)

    def paint(self, painter: QPainter) -> None:
        """The way from the pin to where the dart would go; the angle while it turns."""
        picked = self._picked()
        if picked is None:
            return
        base, dart = picked
        goal, words = self._goal or self._under, ""
        if self._goal is not None:
            words = f"{degrees(self._share * dart.angle):.1f}° of {degrees(dart.angle):.1f}°"
        turn = Turn(base, dart, self._pivot(dart), goal, words, tuple(self._sent))
        draw_turn(self.table.sheet(painter), turn, self.table.theme)

"""What a pivot is set to: its dart, pin, places and shares; tried in view, told on a slip, kept as one act."""

from __future__ import annotations

import msgspec

from app.canvas.hits import nearest_within
from app.canvas.laid import Laid
from app.canvas.table import CuttingTable
from app.tools.pivot_goals import Goal, goal_of, typed_share
from app.tools.pivot_slip import PivotSlip
from app.tools.step_tool import StepTool
from core.errors import Refusal
from core.geometry.placement import gap
from core.geometry.polyline import Point
from core.pieces.names import spoken
from core.pieces.records import Dart
from core.steps.catalogue import AnyStep
from core.steps.mapping import landmarks_of, mapped_points
from core.steps.pivot import REACH, Becomes, Pivot, Receiver, on_centre_line_nearest
from core.units import parse_length, show_angle, show_length


class PivotSetting(StepTool):
    """The pivot without the hand: what it is of and what it is set to; `PivotTool` takes the mouse and the keys."""

    def __init__(self, table: CuttingTable) -> None:
        super().__init__(table)
        self._piece = ""
        self._dart = ""
        self._pin: Point | None = None
        self._goal: Goal | None = None
        self._share = 1.0
        self._becomes: Becomes = "dart"
        self._reach = REACH
        self._sent: tuple[tuple[Goal, Receiver], ...] = ()
        self._slip: PivotSlip | None = None

    def follow(self) -> None:
        """Begin afresh: the dart may be gone."""
        self._piece = self._dart = ""
        self._pin = self._goal = None
        self._share, self._becomes, self._reach, self._sent = 1.0, "dart", REACH, ()
        if self._slip is not None:
            self._slip.hide()

    def fill(self, step: AnyStep) -> None:
        """The dart and its pin, every share sent to its place, the last of them in hand."""
        assert isinstance(step, Pivot)
        piece = self.garment.piece(step.piece)
        unit = self.table.unit
        found = [goal_of(self.garment, piece, step.dart, receiver, unit=unit) for receiver in step.receivers]
        pin = mapped_points(piece, [step.at], step.drawn_on)[0] if step.at is not None else None
        self._pick(step.piece, step.dart)
        self._pin = pin
        self._sent = tuple(zip(found[:-1], step.receivers[:-1], strict=True))
        last = step.receivers[-1]
        self._goal, self._share, self._becomes, self._reach = found[-1], last.share, last.becomes, last.reach
        self._turn()
        self.table.focus_handle("share")

    @property
    def _rest(self) -> float:
        """The share of the angle that is not sent anywhere yet."""
        return 1.0 - sum(receiver.share for _, receiver in self._sent)

    def _base(self) -> Laid | None:
        """The piece as it is committed, where it lies."""
        piece = self.garment.pieces.get(self._piece)
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
        self.table.set_folded(piece)
        self.table.say(
            f"Click where the {spoken(dart)} goes: another dart or a place on an edge; or press there and drag to "
            f"turn a share. Drag the pin to move the pivot."
        )
        self.table.refresh()

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
                self._mean_typed(what)
            except Refusal as refused:
                self.table.say(refused.sentence)
                return
        self._turn()

    def _mean_typed(self, what: str) -> None:
        """How far it is spread, or how much is turned. Refusal for a text that is neither."""
        picked, (field, text) = self._picked(), what.split(" ", 1)
        if field == "reach":
            self._reach = parse_length(text, self.table.unit)
        elif picked is not None and self._goal is not None:
            pivot = self._pivot(picked[1])
            self._share = typed_share(
                text, picked[1], away=gap(pivot, self._goal.at), rest=self._rest, unit=self.table.unit
            )
            self.table.setFocus()
            self.table.focus_handle("share")

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
        self.show_before()
        self.table.refresh()
        self.table.say(
            f"{self._rest:.0%} of the {spoken(self._dart)} is left: click where it goes; Esc drops the shares."
        )

    def _receiver(self, share: float) -> Receiver:
        assert self._goal is not None
        return Receiver(share, self._goal.into, self._goal.place, self._becomes, self._reach)

    def _tell(self, words: str, *, can_accept: bool) -> None:
        if self._slip is None:
            self._slip = PivotSlip(self.table, accept=self.accept_word("Pivot"))
            self._slip.meant.connect(self._mean)
        reach = show_length(self._reach, self.table.unit)
        turned = f"{100.0 * self._share:.3g} %"
        self._slip.tell(words, becomes=self._becomes, reach=reach, turned=turned, can_accept=can_accept)

    def end(self) -> None:
        """Nothing uncommitted stays in view."""
        if self._slip is not None:
            self._slip.take_away()
            self._slip = None
        super().end()

    # --- what is set, tried

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
        if self._goal is not None:
            self._turn()
        self.table.refresh()

    def _step(self, base: Laid) -> Pivot:
        first, *also = (*(receiver for _, receiver in self._sent), self._receiver(self._share))
        step = Pivot(
            self.step_id("pivot"),
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
            sentence = self.told()
            self._tell(" ".join((sentence, *(note.sentence for note in self.notes()))), can_accept=True)
            keeps = "Enter keeps it, Esc leaves it" if self.altered else "Enter or a click keeps it, Esc drops it"
            self.table.say(f"{sentence} Turned {turned}; {keeps}.")
        elif self._becomes != "dart" or self.altered:
            self._tell(self.refusal, can_accept=False)
        return done or self._becomes != "dart"

    def _show_set(self) -> None:
        """Show what is set: the share turned to its place, or no turn while there is none."""
        if self._goal is not None:
            self._turn()
        else:
            self.trial, self.refusal = None, ""
            self.show_before()
        self.table.refresh()

    def accept(self) -> None:
        """Keep what is shown, unless nothing was turned."""
        if self._share <= 0.0:
            self.put_back()
        elif self.keep(f"Pivot the {spoken(self._dart)}"):
            self.table.tool_finished.emit()

"""The cup: drawn over the opening as it would lie, its rim taken hold of on the table, the rest set on a slip."""

from __future__ import annotations

from itertools import chain, islice
from typing import Final

import msgspec
from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QCheckBox

from app.canvas.places import extent
from app.canvas.slip import Slip, SlipField
from app.canvas.table import CuttingTable
from app.canvas.tool import ENTER, Handle, Pointer
from app.tools.amounts import DIGITS, ruled, typed
from app.tools.cup_drawing import Lying, draw_cup
from app.tools.step_tool import StepTool
from core.checks.cup_over_opening import CupCheck, cup_check, cup_headline, cup_words
from core.errors import Refusal
from core.geometry.placement import gap
from core.geometry.polyline import Point
from core.pieces.cone import lies_as_drafted, open_wedges
from core.pieces.names import free_name
from core.pieces.records import Garment
from core.steps.cup import STANDARD_NAMES, WIDEST, Cup, CupPlan, Parts
from core.units import show_exact, show_length


class Amount(msgspec.Struct, frozen=True):
    """A field of the slip: the step's own name for it, its words, what it means, whether it may stay empty."""

    name: str
    words: str
    tip: str
    is_optional: bool = False


RIM: Final = (
    Amount("top", "Top", "From the side neck point over the bust; empty: the bust circle and the underlap", True),
    Amount("bottom", "Bottom", "From the side neck point over the bust; empty: the bust circle and the underlap", True),
    Amount("inner", "Inner", "From the bust point; empty: the bust circle and the underlap", True),
    Amount("outer", "Outer", "From the bust point; empty: the bust circle and the underlap", True),
)
REST: Final = (
    Amount("underlap", "Underlap", "What the cup reaches beyond the bust circle, behind the main cloth"),
    Amount("turning", "Turning", "Added below, to be turned under"),
    Amount("tighten_above", "Tighten above", "Taken out at the upper rim, to nothing at the bust point"),
    Amount("tighten_below", "Tighten below", "Taken out at the lower rim, to nothing at the bust point"),
)
HALVINGS: Final = 12
"""Halvings of the range of tightening when the cup is fitted to its opening: to 60 mm / 4096."""


class CupTool(StepTool):
    """Makes a cup, or alters the one there is: four handles on the rim, fields for amounts, boxes for layers."""

    gathers = "front"
    keys = frozenset({Qt.Key.Key_T, Qt.Key.Key_L, Qt.Key.Key_F, Qt.Key.Key_G})

    def __init__(self, table: CuttingTable, step_id: str = "") -> None:
        super().__init__(table)
        self._wanted = step_id
        self._step: Cup | None = None
        self._before: Cup | None = None
        self._held = ""
        self._slip: Slip | None = None
        self._fields: dict[str, SlipField] = {}
        self._setters: list[_Setter] = []
        self._toggles: tuple[QCheckBox, ...] = ()
        self._check: CupCheck | None = None
        self._plan: CupPlan | None = None

    # --- taking it up

    def begin(self) -> None:
        """Take up the cup there is, or show a new one."""
        session = self.table.session
        cups = [step for step in session.design.done_steps if isinstance(step, Cup)]
        known = next((step for step in cups if step.id == self._wanted), next(iter(cups), None))
        garment = session.replay.garment
        numbers = tuple(islice(garment.free_numbers(), 2))
        step = known or Cup(session.design.fresh_id("cup"), numbers, names=_free_names(garment))
        self._make_slip("Keep the cup" if known is not None else "Make the cup")
        self._try(step)
        self._look()

    def _look(self) -> None:
        """Bring the rim and the cup's own pieces as near as the slip leaves room for."""
        lying, scene = self.lying, self.table.scene
        if lying is None or self._slip is None:
            self.table.fit_all()
            return
        own = [item for item in scene.laid if item.piece.block == "cup" and item.piece.fabric == "cup"]
        box = extent([lying.rim, *(item.on_table(item.shown.loop) for item in own)])
        self.table.show_box(box, below=self._slip.height())

    def _make_slip(self, accept: str) -> None:
        self._slip = slip = Slip(self.table, accept=accept)
        for amounts in (RIM, REST):
            if amounts is REST:
                slip.next_row()
            for amount in amounts:
                self._add_field(slip, amount)
        three, lining, foam = (slip.toggle(words, key=key) for words, key in BOXES)
        for box, act in ((three, self._change_parts), (lining, self._line), (foam, self._foam)):
            box.clicked.connect(act)
        self._toggles = (three, lining, foam)
        slip.button("Fit to the opening", key="G").clicked.connect(self._fit)

    def _add_field(self, slip: Slip, amount: Amount) -> None:
        field = slip.field(letters=10)
        field.call(amount.words)
        field.setToolTip(amount.tip)
        field.setPlaceholderText("circle" if amount.is_optional else "")
        setter = _Setter(self, amount)
        field.meant.connect(setter.take)
        self._fields[amount.name] = field
        self._setters.append(setter)

    def end(self) -> None:
        """Nothing uncommitted stays in view."""
        if self._slip is not None:
            self._slip.take_away()
            self._slip = None
        self._fields, self._setters, self._toggles = {}, [], ()
        super().end()

    def follow(self) -> None:
        """Another design is under the tool: the cup is tried anew on it."""
        if self._step is not None and self._slip is not None:
            self._try(self._step)

    # --- the step

    @property
    def garment(self) -> Garment:
        """The garment that the cup is drafted on."""
        return self.table.session.replay.before(self._step.id if self._step is not None else "")

    def _try(self, step: Cup) -> None:
        """Show the cup as it is set, and say what it comes to; or why it cannot be."""
        before, self._step = self._step, step
        done = self.show(step)
        shown = self.table.session.shown
        is_there = any(stage.step.id == step.id for stage in shown.stages)
        if not done:
            if before is not None and self._is_done(before):
                self._step = before
                self.trial = before
            else:
                self.table.session.drop_preview()
        self._check = cup_check(shown, step) if done and is_there else None
        self._plan = step.plan(self.garment).turned_under if self._check is not None else None
        self._say()
        self.table.refresh()

    def _is_done(self, step: Cup) -> bool:
        return any(stage.step == step for stage in self.table.session.shown.stages)

    def _say(self) -> None:
        step, unit = self._step, self.table.unit
        if self._slip is None or step is None:
            return
        for name, field in self._fields.items():
            value = getattr(step, name)
            if not field.hasFocus():
                field.setText("" if value is None else show_exact(value, unit))
        for box, on in zip(self._toggles, (step.parts == 3, step.lining, step.foam), strict=True):
            box.setChecked(on)
        if self._check is None:
            self._slip.ask(self.refusal, can_accept=False)
            return
        words = f"{self._check.sign} {self._check.verdict}: {cup_headline(self._check, unit)}"
        self._slip.ask(words, can_accept=True)
        self.table.say(f"{step.sentence(self.garment, unit)} {cup_words(self._check, unit)}")

    def set(self, name: str, value: float | None) -> None:
        """Try the cup with another amount."""
        if self._step is not None:
            self._try(replace(self._step, **{name: value}))

    def _change_parts(self) -> None:
        """Two pieces, or three."""
        if self._step is None:
            return
        parts: Parts = 2 if self._step.parts == 3 else 3
        own = self._step.numbers
        numbers = tuple(islice(chain(own, self.garment.free_numbers(*own)), parts))
        names = () if any(name in STANDARD_NAMES[self._step.parts] for name in self._step.names) else self._step.names
        self._try(replace(self._step, parts=parts, numbers=numbers, names=names if len(names) == parts else ()))

    def _line(self) -> None:
        if self._step is not None:
            self._try(replace(self._step, lining=not self._step.lining))

    def _foam(self) -> None:
        if self._step is not None:
            self._try(replace(self._step, foam=not self._step.foam))

    def _fit(self) -> None:
        """Tighten the cup above until its match line is as long as the opening."""
        if self._step is None or self._check is None or self._check.match is None:
            self.table.say("No sheer line passes over the cup, so there is nothing to fit it to.")
            return
        step, low, high = self._step, 0.0, WIDEST
        if self._too_long(replace(step, tighten_above=0.0)) <= 0.0:
            self.table.say(
                "The opening is as long as the cup's match line, or longer: the cup needs no tightening above."
            )
            return
        for _ in range(HALVINGS):
            middle = (low + high) / 2
            longer = self._too_long(replace(step, tighten_above=middle)) > 0.0
            low, high = (middle, high) if longer else (low, middle)

    def _too_long(self, step: Cup) -> float:
        """By how much (mm) the match line of a cup, which is shown, is longer than the opening."""
        self._try(step)
        return self._check.difference if self._check is not None else 0.0

    # --- handles

    @property
    def lying(self) -> Lying | None:
        """How the cup lies over the front on the table; None where it cannot be drafted."""
        if self._step is None or self._check is None or self._plan is None:
            return None
        pieces = [piece for piece in self.garment.pieces.values() if lies_as_drafted(piece, self._step.block)]
        laid = next((item for piece in pieces if (item := self.table.scene.piece(piece.name)) is not None), None)
        if laid is None:
            return None
        centre = self._plan.shape.cone.centre
        wedges = next((w for piece in pieces if (w := open_wedges(piece, centre))), ())
        return Lying(self._plan, self._check, laid.place, wedges)

    def handles(self) -> list[Handle]:
        """One at each of the rim's four reaches."""
        lying = self.lying
        if lying is None:
            return []
        rows = []
        for amount in RIM:
            at, far = lying.end(amount.name)
            words = f"{amount.words} of the cup, {show_length(far, self.table.unit)} from the bust point"
            rows.append(Handle(amount.name, words, lying.on_table(at), at))
        return rows

    def nudge(self, key: str, dx: float, dy: float) -> None:
        """An arrow key moves a reach out or in."""
        lying = self.lying
        if lying is not None:
            at, _ = lying.end(key)
            self._move(key, lying.on_table((at[0] + dx, at[1] + dy)), free=True)

    def activate(self, key: str) -> None:
        """Enter keeps the cup."""
        self.accept()

    def remove(self, key: str) -> None:
        """Delete gives the reach back to the bust circle."""
        self.set(key, None)

    def _move(self, key: str, at: Point, *, free: bool) -> None:
        lying, step = self.lying, self._step
        if lying is None or step is None:
            return
        far = gap(lying.in_block(at), lying.plan.shape.cone.centre)
        level = gap(self.garment.blocks[step.block].landmarks["side_neck"], lying.plan.shape.cone.centre)
        value = {"top": level - far, "bottom": level + far}.get(key, far)
        self.set(key, max(ruled(value, self.table.unit, free=free), 0.0))

    # --- the mouse and the keys

    def hover(self, at: Pointer) -> None:
        """Say what a handle does."""
        if self.handle_at(at):
            words = next(amount.words.lower() for amount in RIM if amount.name == self.handle_at(at))
            self.table.say(f"Drag the cup's {words} edge; Delete gives it back to the bust circle.")

    def press(self, at: Pointer) -> bool:
        """Take hold of a reach."""
        self._held, self._before = self.handle_at(at), self._step
        return bool(self._held)

    def drag(self, at: Pointer) -> None:
        """The rim follows."""
        self._move(self._held, at.at, free=at.free)

    def drop(self, at: Pointer) -> None:
        """Let it go; the cup is kept by Enter or the slip's button."""
        self.drag(at)
        self._before = None

    def click(self, at: Pointer) -> None:
        """A click takes a handle in hand, for the keyboard."""
        self._before = None
        if self.handle_at(at):
            self.table.focus_handle(self.handle_at(at))

    def key(self, key: Qt.Key, *, shift: bool) -> bool:
        """Letters change the layers, digits begin an amount at the handle that has the keyboard, Enter keeps."""
        acts = {
            Qt.Key.Key_T: self._change_parts,
            Qt.Key.Key_L: self._line,
            Qt.Key.Key_F: self._foam,
            Qt.Key.Key_G: self._fit,
        }
        if key in acts:
            acts[key]()
            return True
        focused = self.table.focused_handle
        if key in DIGITS and focused is not None and focused.key in self._fields:
            self._fields[focused.key].begin(chr(key.value))
            return True
        if key in ENTER and self.trial is not None:
            self.accept()
            return True
        return False

    def accept(self) -> None:
        """Keep it."""
        is_new = self._step is not None and all(step.id != self._step.id for step in self.table.session.design.steps)
        step, self._step = self._step, None  # what the commit changes is not to be tried once more
        if step is None or self._check is None or not self.keep("Make the cup" if is_new else "Alter the cup"):
            self._step = step
            return
        self.table.tool_finished.emit()

    def escape(self) -> bool:
        """Drop the drag; else everything."""
        if self._before is not None:
            before, self._before, self._held = self._before, None, ""
            self._try(before)
            return True
        self._step = self._check = None
        self.put_back()
        return False

    # --- drawing

    def paint(self, painter: QPainter) -> None:
        """The cup as it lies over the opening, and where it falls short."""
        lying = self.lying
        if lying is not None:
            draw_cup(self.table.sheet(painter), lying, self.table.unit)


BOXES: Final = (("Three pieces", "T"), ("Lining", "L"), ("Foam", "F"))


class _Setter:
    """Takes what one field means."""

    def __init__(self, tool: CupTool, amount: Amount) -> None:
        self._tool, self._amount = tool, amount

    def take(self, text: str) -> None:
        """A length; nothing at all gives an optional one back to the bust circle."""
        table = self._tool.table
        try:
            value = None if self._amount.is_optional and not text.strip() else typed(text, table.unit)
        except Refusal as refused:
            table.say(refused.sentence)
            return
        table.setFocus()
        self._tool.set(self._amount.name, value)


def _free_names(garment: Garment) -> tuple[str, ...]:
    """Names for two pieces where the usual ones are taken; none where they are free."""
    wanted = STANDARD_NAMES[2]
    return () if not set(wanted) & set(garment.pieces) else tuple(free_name(name, garment.pieces) for name in wanted)

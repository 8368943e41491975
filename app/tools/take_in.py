"""Taking in: pick a seam, drag the pins at its levels into the cloth, and the seam follows on both sides."""

from __future__ import annotations

from typing import Literal, TypeAlias

from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QCheckBox, QPushButton

from app.canvas.slip import SlipField
from app.canvas.table import CuttingTable
from app.canvas.table_drawing import draw_chalk, draw_words
from app.canvas.tool import Handle, Pointer
from app.tools.amounts import BEGINS, along, ruled, tapped
from app.tools.seam_tool import SeamTool
from app.tools.taken import ACROSS, Taken, across_words, level_of, round_words, where, with_levels
from core.errors import Refusal
from core.pieces.levels import SeamLevel, seam_levels
from core.pieces.names import spoken_in_full
from core.pieces.places import Place
from core.pieces.seams import Match
from core.steps.across import end_across, hinge_across, pieces_across
from core.steps.catalogue import AnyStep
from core.steps.contours import CONTOURS, GAPE, Contour, takings
from core.steps.take_in import Across, TakeIn
from core.units import parse_length, show_exact, show_length

Which: TypeAlias = Literal["a", "b"]


class TakeInTool(SeamTool):
    """Two moments: no seam picked; a seam with a pin at each level on both its sides."""

    ask = "Click the seam that is to be taken in."
    keys = frozenset({Qt.Key.Key_G, Qt.Key.Key_D, Qt.Key.Key_E, Qt.Key.Key_B, Qt.Key.Key_U})

    def __init__(self, table: CuttingTable) -> None:
        super().__init__(table)
        self._levels: tuple[SeamLevel, ...] = ()
        self._taken: list[Taken] = []
        self._before: list[Taken] | None = None
        self._index = 0
        self._side: Which = "a"
        self._fades = False
        self._across = 0
        self._alike = True
        self._chosen: frozenset[int] = frozenset()
        self._contour: Contour | None = None
        self._across_button: QPushButton | None = None
        self._field: SlipField | None = None
        self._toggles: tuple[QCheckBox, ...] = ()
        self._kept: TakeIn | None = None

    def fill(self, step: AnyStep) -> None:
        """The seam with the step's amounts at its levels, and what becomes of the seams across."""
        assert isinstance(step, TakeIn)
        self.take_seam(step.seam)
        assert self.found is not None
        self._levels, places = with_levels(self.found, self._levels, step.levels)
        self._taken = [Taken() for _ in self._levels]
        for place, level in zip(places, step.levels, strict=True):
            self._taken[place] = Taken(level.a, level.b)
        self._kept, self._chosen = step, frozenset(places)
        self._fades, self._across = step.taper == "fade", [name for name, _ in ACROSS].index(step.across)
        self._alike = all(level.a == level.b for level in step.levels)
        self._index = next((i for i in sorted(places) if self._taken[i].total), places[0])
        self._try()
        self.table.focus_handle(f"level {self._index} a")

    def refuses(self, found: Match) -> str:
        """Only a seam between two panels is taken in."""
        if super().refuses(found) or seam_levels(found):
            return super().refuses(found)
        return f"The seam {spoken_in_full(found.seam.name)} joins more than two panels; take in a seam between two."

    def picked(self) -> None:
        """Put a pin at every level, nothing taken in yet."""
        assert self.found is not None
        self._levels = seam_levels(self.found)
        self._taken = [Taken() for _ in self._levels]
        self._index, self._side, self._before = 0, "a", None
        self._chosen, self._contour = frozenset(), None
        self._make_slip()
        self._try()
        self.table.refresh()
        self.table.focus_handle("level 0 a")

    def let_go_of(self) -> None:
        """Forget the pins."""
        self._levels, self._taken, self._before, self._field, self._toggles = (), [], None, None, ()
        self._chosen, self._contour, self._across_button, self._kept = frozenset(), None, None, None

    def _make_slip(self) -> None:
        slip = self.pin_slip("Take in")
        self._field = slip.field(letters=9)
        self._field.meant.connect(self._type)
        spread = slip.button("Spread the gape evenly", key="G")
        spread.clicked.connect(self._spread)
        usual = slip.button("Usual amounts", key="U: the next")
        usual.clicked.connect(self._usual)
        self._across_button = slip.button(self._across_said(), key="E: the next")
        self._across_button.setVisible(bool(self._across_said()))
        self._across_button.clicked.connect(self._turn_across)
        fade = slip.toggle("Fade", key="D")
        alike = slip.toggle("Both sides alike", key="B")
        for button, act in ((fade, self._fade), (alike, self._even)):
            button.clicked.connect(act)
        self._toggles = (fade, alike)

    # --- the step

    def _step(self) -> TakeIn | None:
        """The step with the levels that matter: those with an amount, and the one before and after them."""
        some = [i for i, taken in enumerate(self._taken) if taken.a or taken.b]
        if not some:
            return None
        last = len(self._taken) - 1
        beyond = {max(some[0] - 1, 0), min(some[-1] + 1, last)}
        held = self._chosen | set(some) if self._chosen else set(range(min(beyond), max(beyond) + 1))
        levels = tuple(level_of(self._levels[i], self._taken[i]) for i in sorted(held))
        taper: Literal["wedge", "fade"] = "fade" if self._fades else "wedge"
        across = ACROSS[self._across][0]
        hinge, end = self._site_across(across, at_last=some[-1] == last)
        fitting = self._kept.fitting if self._kept is not None else None
        return TakeIn(self.step_id("take-in"), self.seam, levels, taper, across, hinge, end, fitting)

    def _site_across(self, across: Across, *, at_last: bool) -> tuple[Place | None, str]:
        """Where as much is taken off the piece across the end that loses some."""
        assert self.found is not None
        if self._kept is not None and across == self._kept.across:
            return self._kept.across_at, self._kept.across_end
        if across == "fold":
            return hinge_across(self.garment, self.found, at_last=at_last), ""
        return (None, end_across(self.garment, self.found, at_last=at_last)) if across == "trim" else (None, "")

    def _try(self) -> None:
        """Show what the amounts do, and say it on the slip."""
        step = self._step()
        if step is None:
            self.trial, self.refusal = None, ""
            self.show_before()
            self._ask("Drag a pin into the cloth, or type how much is taken in at its level.", can_accept=False)
            self.table.say("Both sides are taken in alike; with Shift only the side that is dragged. Esc drops it.")
        elif self.show(step):
            self._ask(self._words(step), can_accept=True)
        else:
            self._ask(self.refusal, can_accept=False)
        self.table.refresh()

    def _words(self, step: TakeIn) -> str:
        """The step in a sentence with the angle it adds; what else it changes goes to the status line."""
        notes = self.notes()
        others = [note.sentence for note in notes if note.kind != "advice"]
        self.table.say(" ".join(others) or "Enter takes it in, Esc drops it.")
        advice = [note.sentence for note in notes if note.kind == "advice"]
        said = [
            self.told(),
            *advice,
            *round_words(step, self.table.session.shown, self.table.unit),
        ]
        if self._contour is not None:
            said.append(f"{self._contour.name}: {self._contour.source}.")
        return " ".join(said)

    def _ask(self, words: str, *, can_accept: bool) -> None:
        if self.slip is None or self._field is None:
            return
        for button, pressed in zip(self._toggles, (self._fades, self._alike), strict=True):
            button.setChecked(pressed)
        if self._across_button is not None:
            across = self._across_said()
            self._across_button.setText(across)
            self._across_button.setAccessibleName(across)
        level, taken = self._levels[self._index], self._taken[self._index]
        whose = "In all" if self._alike else f"Off the {getattr(level, self._side).piece}"
        self._field.call(f"{whose} {where(level, self.table.unit)}")
        if not self._field.hasFocus():
            amount = taken.total if self._alike else getattr(taken, self._side)
            self._field.setText(show_exact(amount, self.table.unit))
        self.slip.ask(words, can_accept=can_accept)

    # --- setting amounts

    def _set(self, amount: float, *, alike: bool) -> None:
        """Take so much off the side in hand at the level in hand; off the other as much, if they are alike."""
        taken = self._taken[self._index]
        self._contour = None
        if self._chosen and not min(self._chosen) < self._index < max(self._chosen):
            self._chosen = self._chosen if self._index in self._chosen else frozenset()
        if alike:
            taken.a = taken.b = amount
        else:
            setattr(taken, self._side, amount)
        self._try()

    def _type(self, text: str) -> None:
        """What the field says: both sides together, or the one in hand."""
        try:
            amount = parse_length(text, self.table.unit)
        except Refusal as refused:
            self.table.say(refused.sentence)
            return
        self.table.setFocus()
        self._set(amount / 2 if self._alike else amount, alike=self._alike)
        self.table.focus_handle(f"level {self._index} {self._side}")

    def _spread(self) -> None:
        """A measured gape at the upper end, 1/2 in or what is set there, to nothing at the bust point or beyond it."""
        if not self._take_contour(GAPE):
            self.table.say(f"The seam {self.said} does not pass the bust point: set the amounts by its pins.")

    def _usual(self) -> None:
        """The next of the usual amounts that the seam has a place for."""
        assert self.found is not None
        fitting = [contour for contour in CONTOURS if takings(contour, self.found)]
        if not fitting:
            self.table.say(f"No usual amounts are known for the seam {self.said}: set them by its pins.")
            return
        here = fitting.index(self._contour) if self._contour in fitting else -1
        self._take_contour(fitting[(here + 1) % len(fitting)])

    def _take_contour(self, contour: Contour) -> bool:
        """Set a contour's amounts, half a side; False when the seam has no place for it."""
        assert self.found is not None
        places = {level.name: index for index, level in enumerate(self._levels) if not level.offset}
        wanted = takings(contour, self.found)
        if not wanted:
            return False
        self._taken = [Taken() for _ in self._levels]
        for taking in wanted:
            self._taken[places[taking.level]] = Taken(taking.amount / 2, taking.amount / 2)
        self._chosen = frozenset(places[taking.level] for taking in wanted)
        self._index = places[next(taking.level for taking in wanted if taking.amount)]
        self._contour = contour
        self._try()
        self.table.focus_handle(f"level {self._index} {self._side}")
        return True

    def _fade(self) -> None:
        self._fades = not self._fades
        self._try()

    def _across_said(self) -> str:
        assert self.found is not None
        return across_words(self._across, pieces_across(self.garment, self.found))

    def _turn_across(self) -> None:
        self._across = (self._across + bool(self._across_said())) % len(ACROSS)
        self._try()

    def _even(self) -> None:
        self._alike = not self._alike
        self._try()

    # --- handles

    def own_handles(self) -> list[Handle]:
        """A pin for each level on both sides."""
        made = []
        for index, (level, taken) in enumerate(zip(self._levels, self._taken, strict=True)):
            for which in ("a", "b"):
                side, amount = getattr(level, which), getattr(taken, which)
                place = (side.at[0] + amount * side.inward[0], side.at[1] + amount * side.inward[1])
                words = f"{side.piece} {where(level, self.table.unit)}, taken in {show_length(amount, self.table.unit)}"
                at = self.table.scene.former(self.garment.piece(side.piece)).to_table(place)
                made.append(Handle(f"level {index} {which}", words, at, place))
        return made

    def _hold(self, key: str) -> bool:
        if not key.startswith("level "):
            return False
        _, index, which = key.split()
        self._index, self._side = int(index), "a" if which == "a" else "b"
        return True

    def nudge(self, key: str, dx: float, dy: float) -> None:
        """An arrow key moves the pin in or out."""
        if not self._hold(key):
            return
        side = getattr(self._levels[self._index], self._side)
        way = self.table.scene.former(self.garment.piece(side.piece)).way_on_piece(dx, dy)
        by = tapped(*way, side.inward)
        if by:
            amount = getattr(self._taken[self._index], self._side)
            self._set(amount + by, alike=self._alike)
            self.table.say(self._level_words())

    def own_activate(self, key: str) -> None:
        """Enter on a pin keeps what is shown, as everywhere on the table; with nothing shown it begins to type."""
        if self._hold(key):
            if self.trial is not None and not self.refusal:
                self.accept()
            elif self._field is not None:
                self._try()
                self._field.begin("")

    def _level_words(self) -> str:
        level, taken = self._levels[self._index], self._taken[self._index]
        a, b, both = (show_length(value, self.table.unit) for value in (taken.a, taken.b, taken.total))
        here = where(level, self.table.unit)
        return f"{both} in all {here}: {a} off the {level.a.piece}, {b} off the {level.b.piece}."

    # --- the mouse and the keys

    def own_hover(self, at: Pointer) -> None:
        """Say what a pin does."""
        key = self.handle_at(at)
        if key:
            index = int(key.split()[1])
            here = where(self._levels[index], self.table.unit)
            self.table.say(f"Drag to take in {here}; Shift takes in this side only.")

    def press(self, at: Pointer) -> bool:
        """Take hold of a pin."""
        holds = bool(self.seam) and self._hold(self.handle_at(at))
        self._before = [Taken(taken.a, taken.b) for taken in self._taken] if holds else None
        return holds

    def drag(self, at: Pointer) -> None:
        """The pin follows, along the way in or out."""
        side = getattr(self._levels[self._index], self._side)
        here = self.table.scene.former(self.garment.piece(side.piece)).to_piece(at.at)
        amount = ruled(along(here, side.at, side.inward), self.table.unit, free=at.free)
        self._set(amount, alike=self._alike and not at.shift)
        if not self.refusal:
            self.table.say(self._level_words())

    def drop(self, at: Pointer) -> None:
        """Let the pin go; the step is kept by Enter or the slip's button."""
        self.drag(at)
        self._before = None

    def own_click(self, at: Pointer) -> None:
        """A click on a pin takes its level in hand, for the field."""
        self._before = None
        key = self.handle_at(at)
        if self._hold(key):
            self._try()
            self.table.focus_handle(key)

    def key(self, key: Qt.Key, *, shift: bool) -> bool:
        """Letters toggle, digits begin an amount at the pin that has the keyboard, Enter keeps."""
        if not self.seam:
            return False
        acts = {
            Qt.Key.Key_G: self._spread,
            Qt.Key.Key_D: self._fade,
            Qt.Key.Key_E: self._turn_across,
            Qt.Key.Key_U: self._usual,
            Qt.Key.Key_B: self._even,
        }
        if key in acts:
            acts[key]()
            return True
        if key in BEGINS and self._field is not None:
            focused = self.table.focused_handle
            self._hold(focused.key if focused is not None else "")
            self._try()
            self._field.begin(chr(key.value))
            return True
        return super().key(key, shift=shift)

    def accept(self) -> None:
        """Take in."""
        if self.trial is not None and not self.refusal and self.keep(f"Take in the {self.said}"):
            self.table.tool_finished.emit()

    def escape(self) -> bool:
        """Drop the drag; else the amounts; else the seam."""
        if self._before is not None:
            self._taken, self._before = self._before, None
        elif not self.altered and any(taken.a or taken.b for taken in self._taken):
            self._taken = [Taken() for _ in self._levels]
            self._chosen, self._contour = frozenset(), None
        else:
            return super().escape()
        self._try()
        return True

    # --- drawing

    def paint(self, painter: QPainter) -> None:
        """The seam as it was and as it would be; each level with what is taken in there."""
        found, sheet = self.found, self.table.sheet(painter)
        if found is not None and self.trial is not None:
            paths = [self.table.scene.former(link.piece).on_table(link.points) for link in (*found.a, *found.b)]
            draw_chalk(sheet, paths, colour=self.table.theme.ghost, wide=1.4)
        super().paint(painter)
        for handle in self.own_handles() if self.seam else []:
            _, index, which = handle.key.split()
            level, taken = self._levels[int(index)], self._taken[int(index)]
            in_hand = int(index) == self._index and which == self._side
            if in_hand or (taken.total and (which == "a" or taken.a != taken.b)):
                amount = taken.total if taken.a == taken.b else getattr(taken, which)
                here = where(level, self.table.unit).removeprefix("at ").removeprefix("the ")
                words = f"{here}, {show_length(amount, self.table.unit)}" if amount else here
                draw_words(painter, words, sheet.frame.point(handle.at), sheet.look, colour=self.table.theme.snap)

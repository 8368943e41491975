"""Cutting: choose lines of one piece, and darts that go into the seam; the panels are proposed, then cut."""

from __future__ import annotations

from msgspec.structs import replace
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QCheckBox

from app.canvas.hits import dart_at, line_at, piece_at
from app.canvas.laid import Laid
from app.canvas.slip import Slip
from app.canvas.table import CuttingTable
from app.canvas.table_drawing import draw_chalk, draw_words
from app.canvas.tool import ENTER, Handle, Pointer
from app.tools.step_tool import StepTool
from core.errors import Refusal
from core.geometry.polyline import as_point, as_points
from core.pieces.names import spoken
from core.pieces.records import Dart, Line
from core.steps.catalogue import AnyStep
from core.steps.cut import Cut, Tag
from core.steps.cut_tags import crossed, proposed_darts, proposed_tags
from core.steps.mapping import landmarks_of, mapped_points

CUTTABLE = ("sheer", "panel")


class CutTool(StepTool):
    """Click lines to choose them and darts to take them into the seam; Enter or the slip's button cuts."""

    cursor = Qt.CursorShape.PointingHandCursor

    def __init__(self, table: CuttingTable) -> None:
        super().__init__(table)
        self._piece = ""
        self._lines: tuple[str, ...] = ()
        self._darts: tuple[str, ...] = ()
        self._tags: tuple[Tag, ...] = ()
        self._slip: Slip | None = None
        self._box: QCheckBox | None = None
        self._kept: Cut | None = None

    def fill(self, step: AnyStep) -> None:
        """The lines and darts of the step, its tags hung where they hang, its crossed darts as it leaves them."""
        assert isinstance(step, Cut)
        piece = self.garment.piece(step.piece)
        places = mapped_points(piece, [(tag.x, tag.y) for tag in step.tags], step.drawn_on)
        hung = [replace(tag, x=x, y=y) for tag, (x, y) in zip(step.tags, places, strict=True)]
        self._kept = replace(step, tags=tuple(hung), drawn_on=landmarks_of(piece))
        self._piece, self._lines, self._darts = step.piece, step.lines, step.darts
        self.table.set_folded(step.piece)
        item = self._laid()
        if item is None or not {line.name for line in self._cuttable(item)} >= set(step.lines):
            raise Refusal(f"A line that the {step.piece} was cut along is not drawn on it any more.", piece=step.piece)
        _, box = self._pinned()
        box.setChecked(bool(step.apart))
        self._ask(item)
        handles = self.handles()
        if handles:
            self.table.focus_handle(handles[0].key)

    def as_set(self) -> AnyStep | None:
        """The step as it would be cut now."""
        item = self._laid()
        return self._step(item) if item is not None else None

    def begin(self) -> None:
        """Choose the lines of the piece that is taken up, or of the only piece with lines."""
        with_lines = [item for item in self.table.scene.laid if self._cuttable(item)]
        taken_up = [item for item in with_lines if item.name == self.table.selection]
        if not with_lines:
            self.table.say("No line to cut along is drawn yet: draw a sheer line or a panel seam first.")
        elif taken_up or len(with_lines) == 1:
            self._choose_all((taken_up or with_lines)[0])
        else:
            self.table.say("Click the lines to cut along; a click on a dart takes its legs into the seam.")

    def _cuttable(self, item: Laid) -> list[Line]:
        return [line for line in item.piece.lines if line.purpose in CUTTABLE]

    def _laid(self) -> Laid | None:
        return self.table.scene.piece(self._piece)

    def follow(self) -> None:
        """The lines may be cut already."""
        item = self._laid()
        there = {line.name for line in self._cuttable(item)} if item is not None else set()
        if not set(self._lines) <= there:
            self._piece, self._lines, self._darts, self._tags = "", (), (), ()
        if self._slip is not None and not self._lines:
            self._slip.hide()

    # --- choosing

    def _choose_all(self, item: Laid) -> None:
        self._piece, self._lines = item.name, tuple(line.name for line in self._cuttable(item))
        self._propose()

    def _toggle_line(self, item: Laid, name: str) -> None:
        lines = self._lines if item.name == self._piece else ()
        self._piece = item.name
        # In the order in which they were drawn: a line that begins on another is cut after it.
        chosen = set(lines) ^ {name}
        self._lines = tuple(line.name for line in self._cuttable(item) if line.name in chosen)
        self._propose()

    def _toggle_dart(self, item: Laid, name: str) -> None:
        if item.name == self._piece:
            chosen = set(self._darts) ^ {name}
            self._darts = tuple(dart.name for dart in item.piece.darts if dart.name in chosen)
            self._ask(item)

    def _propose(self) -> None:
        """Propose darts and tags for the lines chosen."""
        item = self._laid()
        if item is None or not self._lines:
            self._tags, self._darts = (), ()
            if self._slip is not None:
                self._slip.hide()
            self.table.refresh()
            return
        self._darts = proposed_darts(item.piece, self._lines)
        self._ask(item)

    def _ask(self, item: Laid) -> None:
        """Say what the cut would make, or why it cannot be made."""
        slip, box = self._pinned()
        box.setVisible(bool(crossed(item.piece, self._lines)))
        refusal = ""
        try:
            self._tags = proposed_tags(
                self.garment, item.piece, self._lines, self._darts, apart=self._apart(item), kept=self._kept_tags()
            )
        except Refusal as refused:
            self._tags, refusal = (), refused.sentence
        slip.ask(refusal or self._sentence(), can_accept=not refusal)
        enter = "Enter keeps it, Esc leaves it." if self.altered else "Enter cuts."
        self.table.say(refusal or f"{enter} A click on a dart takes its legs into the seam, or leaves them out.")
        self.table.refresh()

    def _kept_tags(self) -> tuple[Tag, ...]:
        """The tags of the step that is altered: a panel that one hangs in keeps its name, number and fabric."""
        return self._kept.tags if self._kept is not None else ()

    def _pinned(self) -> tuple[Slip, QCheckBox]:
        """The slip, and its box for the ends of crossed darts."""
        if self._slip is None or self._box is None:
            self._slip = Slip(self.table, accept=self.accept_word("Cut"))
            self._box = self._slip.toggle("Leave the end of a crossed dart as two panels", key="A")
            self._box.clicked.connect(self._ask_again)
        return self._slip, self._box

    def _ask_again(self) -> None:
        item = self._laid()
        if item is not None and self._lines:
            self._ask(item)

    def _apart(self, item: Laid) -> tuple[str, ...]:
        """The crossed darts whose ends are left as two panels."""
        is_wanted = self._box is not None and self._box.isChecked()
        return crossed(item.piece, self._lines) if is_wanted else ()

    def _sentence(self) -> str:
        along = [f"the {spoken(name)}" for name in self._lines]
        along += [f"the {spoken(name)}" for name in self._darts]
        *most, last = along
        lines = f"{', '.join(most)} and {last}" if most else last
        panels = ", ".join(f"{tag.number} {tag.name}" for tag in self._tags)
        return f"Cut the {self._piece} along {lines} into {panels}."

    # --- handles

    def handles(self) -> list[Handle]:
        """One for every line that can be cut along, and for every dart of the piece in hand."""
        found = []
        for item in self.table.scene.laid:
            lines = self._cuttable(item)
            found += [_line_handle(item, line, chosen=line.name in self._lines) for line in lines]
            if lines and item.name == self._piece:
                found += [_dart_handle(item, dart, chosen=dart.name in self._darts) for dart in item.shown.darts]
        return found

    def activate(self, key: str) -> None:
        """As a click on the line or the dart."""
        kind, piece, name = key.split("|")
        item = self.table.scene.piece(piece)
        if item is not None:
            (self._toggle_line if kind == "line" else self._toggle_dart)(item, name)

    # --- the mouse and the keys

    def hover(self, at: Pointer) -> None:
        """Say what a click would choose."""
        line = line_at(self.table.scene.laid, at.at, at.reach)
        dart = dart_at(self.table.scene.laid, at.at, at.reach / 2)
        if line is not None and line.line.purpose in CUTTABLE:
            verb = "leave out" if line.line.name in self._lines else "cut along"
            self.table.say(f"Click to {verb} the {spoken(line.line.name)}.")
        elif dart is not None and dart.laid.name == self._piece:
            verb = "leave out" if dart.dart.name in self._darts else "take into the seam"
            self.table.say(f"Click to {verb} the {spoken(dart.dart.name)}.")

    def click(self, at: Pointer) -> None:
        """Choose a line or a dart; on a piece, all its lines."""
        if key := self.handle_at(at):
            self.activate(key)
            return
        line = line_at(self.table.scene.laid, at.at, at.reach)
        dart = dart_at(self.table.scene.laid, at.at, at.reach / 2)
        under = piece_at(self.table.scene.laid, at.at)
        if line is not None and line.line.purpose in CUTTABLE:
            self._toggle_line(line.laid, line.line.name)
        elif dart is not None and dart.laid.name == self._piece:
            self._toggle_dart(dart.laid, dart.dart.name)
        elif under is not None and self._cuttable(under) and not self._lines:
            self._choose_all(under)

    def key(self, key: Qt.Key, *, shift: bool) -> bool:
        """Enter cuts, A leaves the ends of crossed darts as two panels or closes them."""
        if key == Qt.Key.Key_A and self._box is not None and self._box.isVisible():
            self._box.click()
            return True
        if key in ENTER and self._tags:
            self.accept()
            return True
        return False

    def _step(self, item: Laid) -> Cut:
        marks, kept = landmarks_of(item.piece), self._kept
        held = {dart.name for dart in item.piece.darts}
        keep_open = tuple(name for name in kept.keep_open if name in held) if kept is not None else ()
        return Cut(
            self.step_id("cut"),
            self._piece,
            self._lines,
            self._tags,
            marks,
            darts=self._darts,
            keep_open=keep_open,
            apart=self._apart(item),
        )

    def accept(self) -> None:
        """Cut."""
        item = self._laid()
        if item is None or not self._tags:
            return
        if self.show(self._step(item)) and self.keep(f"Cut the {self._piece} into panels"):
            self.table.tool_finished.emit()
        elif self._slip is not None and self.refusal:
            self._slip.ask(self.refusal, can_accept=False)

    def escape(self) -> bool:
        """Choose afresh; a step that was taken up to be altered is left as it was."""
        if self.altered:
            return False
        was = bool(self._lines)
        self._lines = ()
        self._propose()
        return was

    def end(self) -> None:
        """Nothing uncommitted stays in view."""
        if self._slip is not None:
            self._slip.take_away()
            self._slip = self._box = None
        super().end()

    # --- drawing

    def paint(self, painter: QPainter) -> None:
        """The chosen lines and legs in chalk, a tag where each panel will be."""
        item, theme, sheet = self._laid(), self.table.theme, self.table.sheet(painter)
        if item is None:
            return
        paths = [stretch for line in item.shown.lines if line.name in self._lines for stretch in line.stretches]
        legs = [(dart.legs[0], dart.pivot, dart.legs[1]) for dart in item.shown.darts if dart.name in self._darts]
        paths += [as_points(places) for places in legs]
        draw_chalk(sheet, [item.on_table(path) for path in paths], colour=theme.selected, wide=3.2)
        if not item.folded:
            for tag in self._tags:
                at = sheet.frame.point(item.to_table((tag.x, tag.y))) - QPointF(40, 30)
                words = f"{tag.number} {tag.name}, {tag.fabric}"
                draw_words(painter, words, at, sheet.look, colour=theme.selected)


def _line_handle(item: Laid, line: Line, *, chosen: bool) -> Handle:
    shown = next((other for other in item.shown.lines if other.name == line.name), line)
    stretch = shown.stretches[0]
    place = as_point(stretch[len(stretch) // 2])
    words = f"{spoken(line.name).capitalize()} of {item.name}, {_chosen(chosen=chosen)}"
    return Handle(f"line|{item.name}|{line.name}", words, item.to_table(place), place, "choice", moves=False)


def _dart_handle(item: Laid, dart: Dart, *, chosen: bool) -> Handle:
    words = f"{spoken(dart.name).capitalize()} of {item.name}, {_chosen(chosen=chosen)}"
    key, at = f"dart|{item.name}|{dart.name}", dart.inside
    return Handle(key, words, item.to_table(at), at, "choice", moves=False)


def _chosen(*, chosen: bool) -> str:
    return "chosen" if chosen else "not chosen"

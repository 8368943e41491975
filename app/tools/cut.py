"""Cutting: choose lines of one piece, and darts that go into the seam; the panels are proposed, then cut."""

from __future__ import annotations

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QCheckBox

from app.canvas.hits import dart_at, line_at, nearest_within, piece_at
from app.canvas.laid import Laid
from app.canvas.slip import Slip
from app.canvas.table import CuttingTable
from app.canvas.table_drawing import draw_chalk, draw_words
from app.canvas.tool import Handle, Pointer
from app.tools.step_tool import StepTool
from core.errors import Refusal
from core.geometry.polyline import as_point, as_points
from core.pieces.names import spoken
from core.pieces.outline import local_name
from core.pieces.records import Dart, Line
from core.steps.cut import Cut, Tag
from core.steps.cut_tags import crossed, proposed_darts, proposed_tags
from core.steps.mapping import landmarks_of

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
                self.table.scene.garment, item.piece, self._lines, self._darts, apart=self._apart(item)
            )
        except Refusal as refused:
            self._tags, refusal = (), refused.sentence
        slip.ask(refusal or self._sentence(), can_accept=not refusal)
        self.table.say(refusal or "Enter cuts. A click on a dart takes its legs into the seam, or leaves them out.")
        self.table.refresh()

    def _pinned(self) -> tuple[Slip, QCheckBox]:
        """The slip, and its box for the ends of crossed darts."""
        if self._slip is None or self._box is None:
            self._slip = Slip(self.table, self.table.theme, accept="Cut")
            self._slip.accepted.connect(self.table.accept_tool)
            self._slip.dropped.connect(self.table.leave_tool)
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
        along = [f"the {local_name(name).replace('_', ' ')}" for name in self._lines]
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
            self.table.say(f"Click to {verb} the {local_name(line.line.name).replace('_', ' ')}.")
        elif dart is not None and dart.laid.name == self._piece:
            verb = "leave out" if dart.dart.name in self._darts else "take into the seam"
            self.table.say(f"Click to {verb} the {spoken(dart.dart.name)}.")

    def click(self, at: Pointer) -> None:
        """Choose a line or a dart; on a piece, all its lines."""
        handles = self.handles()
        index = nearest_within(at.at, [handle.at for handle in handles], at.reach)
        if index is not None:
            self.activate(handles[index].key)
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
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self._tags:
            self.accept()
            return True
        return False

    def accept(self) -> None:
        """Cut."""
        item = self._laid()
        if item is None or not self._tags:
            return
        marks = landmarks_of(item.piece)
        id_ = self.table.session.design.fresh_id("cut")
        apart = self._apart(item)
        step = Cut(id_, self._piece, self._lines, self._tags, marks, darts=self._darts, apart=apart)
        if self.show(step) and self.keep(f"Cut the {self._piece} into panels"):
            self.table.tool_finished.emit()
        elif self._slip is not None and self.refusal:
            self._slip.ask(self.refusal, can_accept=False)

    def escape(self) -> bool:
        """Choose afresh."""
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
    words = f"{local_name(line.name).replace('_', ' ').capitalize()} of {item.name}, {_chosen(chosen=chosen)}"
    return Handle(f"line|{item.name}|{line.name}", words, item.to_table(place), place, "choice", moves=False)


def _dart_handle(item: Laid, dart: Dart, *, chosen: bool) -> Handle:
    x = (dart.legs[0][0] + dart.legs[1][0] + dart.pivot[0]) / 3
    y = (dart.legs[0][1] + dart.legs[1][1] + dart.pivot[1]) / 3
    words = f"{spoken(dart.name).capitalize()} of {item.name}, {_chosen(chosen=chosen)}"
    return Handle(f"dart|{item.name}|{dart.name}", words, item.to_table((x, y)), (x, y), "choice", moves=False)


def _chosen(*, chosen: bool) -> str:
    return "chosen" if chosen else "not chosen"

"""Choosing: click a piece to take it up, drag it to lay it elsewhere, click a line to alter it."""

from __future__ import annotations

import msgspec
from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter

from app.canvas.hits import edge_at, line_at, piece_at
from app.canvas.laid import Laid
from app.canvas.table import CuttingTable
from app.canvas.table_drawing import draw_chalk
from app.canvas.tool import Handle, Pointer, Tool
from core.geometry.polyline import Point, Points, as_point
from core.pieces.names import spoken
from core.steps.cup import Cup
from core.steps.neckline import Neckline
from core.steps.step import Step
from core.steps.style_line import StyleLine


class _Found(msgspec.Struct, frozen=True, eq=False):
    """A step under the pointer by its line or edge, and that as it lies on the table."""

    step: Step
    words: str
    paths: tuple[Points, ...]


class _Held(msgspec.Struct, frozen=True):
    """A piece that a hand moves over the table: where it was taken hold of, and how it had been moved till then."""

    piece: str
    at: Point
    shift: Point


class Choose(Tool):
    """The tool in hand when no other is."""

    def __init__(self, table: CuttingTable) -> None:
        super().__init__(table)
        self._found: _Found | None = None
        self._held: _Held | None = None

    def begin(self) -> None:
        """Say what can be done."""
        self.table.say(
            "Click a piece to take it up, drag it to lay it elsewhere; click a line to alter it. "
            "F folds the dart under the pointer."
        )

    def hover(self, at: Pointer) -> None:
        """Show what a click would take up."""
        before, self._found = self._found, self._step_at(at)
        if self._found is not None:
            self.table.say(f"Click to alter the {self._found.words} by its points.")
        else:
            under = piece_at(self.table.scene.laid, at.at)
            self.table.say(f"Click to take up {under.name}, or drag it to lay it elsewhere." if under else "")
        hand = self._found is not None
        self.table.setCursor(Qt.CursorShape.PointingHandCursor if hand else Qt.CursorShape.ArrowCursor)
        if _step(before) is not _step(self._found):
            self.table.update()

    def _step_at(self, at: Pointer) -> _Found | None:
        """The line step whose line, or whose cut edge, lies under the pointer."""
        laid, reach = self.table.scene.laid, at.reach * 0.6
        line = line_at(laid, at.at, reach)
        if line is not None:
            paths = tuple(line.laid.on_table(stretch) for stretch in line.line.stretches)
            return self._step_of(line.line.name, paths)
        edge = edge_at(laid, at.at, reach)
        if edge is None:
            return None
        return self._step_of(edge.edge.origin.edge, (edge.laid.on_table(edge.edge.points),))

    def _step_of(self, origin: str, paths: tuple[Points, ...]) -> _Found | None:
        """The step that drew an edge's origin."""
        for step in self.table.session.design.steps:
            if isinstance(step, StyleLine) and step.name == origin:
                return _Found(step, spoken(origin), paths)
            if isinstance(step, Neckline) and origin in (f"{step.front}.neck", f"{step.back}.neck"):
                return _Found(step, "neckline", paths)
        return None

    # --- the keyboard

    def handles(self) -> list[Handle]:
        """Every piece and every line that can be altered, to be chosen by Enter; they are not drawn."""
        pieces = [self._piece_handle(item) for item in self.table.scene.laid]
        return [*pieces, *self._line_handles()]

    def _piece_handle(self, item: Laid) -> Handle:
        place = self.table.pictures.label(item, fast=False)
        number = f"{item.piece.number} " if item.piece.number else ""
        shut = "".join(f", {spoken(fold.dart)} folded shut" for fold in item.folds)
        words = f"Piece {number}{item.name}{shut}"
        return Handle(f"piece {item.name}", words, item.to_table(place), place, "quiet")

    def _line_handles(self) -> list[Handle]:
        """One for each line step, at the first edge or line that it left on the table."""
        found: dict[str, Handle] = {}
        for item in self.table.scene.laid:
            origins = [(edge.origin.edge, edge.points) for edge in item.shown.edges]
            origins += [(line.name, line.stretches[0]) for line in item.shown.lines]
            for origin, points in origins:
                step = self._step_of(origin, ())
                if step is not None and step.step.id not in found:
                    place = as_point(points[len(points) // 2])
                    words = step.words.capitalize()
                    key = f"step {step.step.id}"
                    found[step.step.id] = Handle(key, words, item.to_table(place), place, "quiet", moves=False)
        return list(found.values())

    def activate(self, key: str) -> None:
        """As a click on the piece or the line."""
        kind, _, name = key.partition(" ")
        if kind == "piece":
            self.table.select(name)
            return
        step = next((step for step in self.table.session.design.steps if step.id == name), None)
        if step is not None:
            self.table.set_tool(tool_for(self.table, step))
            if self.table.shown_handles:
                self.table.focus_handle(self.table.shown_handles[0].key)

    def nudge(self, key: str, dx: float, dy: float) -> None:
        """An arrow key lays a piece a little farther."""
        kind, _, name = key.partition(" ")
        if kind == "piece":
            x, y = self.table.scene.shift(name)
            self.table.lay_piece(name, (x + dx, y + dy))

    # --- the mouse

    def press(self, at: Pointer) -> bool:
        """Take hold of the piece under the pointer, unless a line lies there that a click would alter."""
        under = piece_at(self.table.scene.laid, at.at) if self._step_at(at) is None else None
        self._held = _Held(under.name, at.at, self.table.scene.shift(under.name)) if under else None
        return under is not None

    def drag(self, at: Pointer) -> None:
        """The piece goes with the hand."""
        if self._held is not None:
            (x, y), (dx, dy) = self._held.at, self._held.shift
            self.table.lay_piece(self._held.piece, (dx + at.at[0] - x, dy + at.at[1] - y))
            together = self._held.piece in self.table.scene.together
            what = f"{self._held.piece} and what lies at it" if together else self._held.piece
            self.table.say(f"Lay {what} where you want it; the design stays as it is.")

    def drop(self, at: Pointer) -> None:
        """It stays there."""
        self.drag(at)
        self._held = None

    def click(self, at: Pointer) -> None:
        """Take up what lies there."""
        self._held = None
        found = self._step_at(at)
        if found is not None:
            self.table.set_tool(tool_for(self.table, found.step))
            return
        under = piece_at(self.table.scene.laid, at.at)
        self.table.select(under.name if under else "")

    def escape(self) -> bool:
        """Lay the piece that is held back where it was; else lay down the one that is taken up."""
        held, self._held = self._held, None
        if held is not None:
            self.table.lay_piece(held.piece, held.shift)
            return True
        was = self.table.selection
        self.table.select("")
        return bool(was)

    def follow(self) -> None:
        """What was under the pointer may be gone."""
        self._found = None

    def paint(self, painter: QPainter) -> None:
        """The line that a click would take up."""
        if self._found is not None:
            draw_chalk(self.table.sheet(painter), self._found.paths, colour=self.table.theme.selected, wide=3.0)


def _step(found: _Found | None) -> Step | None:
    return found.step if found is not None else None


def tool_for(table: CuttingTable, step: Step) -> Tool | None:
    """The tool that alters a step which is there already, or None when it is altered by its fields alone."""
    # Imported when a line is first taken up: the first picture has this tool in hand alone.
    from app.tools.cup import CupTool
    from app.tools.edit_line import EditLine
    from app.tools.neckline import NecklineTool

    tool: Tool
    if isinstance(step, StyleLine):
        tool, called = EditLine(table, step.id), f"Points of the {spoken(step.name)}"
    elif isinstance(step, Cup):
        tool, called = CupTool(table, step.id), "Cup"
    elif isinstance(step, Neckline):
        tool, called = NecklineTool(table), "Neckline"
    else:
        return None
    tool.called = called
    return tool

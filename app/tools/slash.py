"""Slashing: click where the piece opens, click its hinge, and spread the parts or fold them over, dragged or typed."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, hypot, sin
from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QCheckBox

from app.canvas.hits import edge_at, nearest_within
from app.canvas.laid import Laid
from app.canvas.slip import Slip, SlipField
from app.canvas.snaps import snap
from app.canvas.table import CuttingTable
from app.canvas.table_drawing import draw_chalk, draw_words
from app.canvas.tool import ENTER, Handle, Pointer
from app.tools.amounts import BEGINS, along, ruled, tapped
from app.tools.step_tool import StepTool
from core.errors import Refusal
from core.geometry.placement import angle_between, gap
from core.geometry.polyline import Point, as_points, point_at, tangent_at
from core.pieces.names import spoken_in_full
from core.pieces.outline import is_centre
from core.pieces.places import Place, place_at, place_words, resolve, resolved_point
from core.pieces.records import Edge, Garment, Piece
from core.steps.catalogue import AnyStep
from core.steps.slash import SlashAndSpread
from core.units import parse_length, show_exact, show_length

FIRST_WIDTH: Final = 12.7
"""A slash is first shown spread by 1/2 in (mm), to be altered."""

BEGIN: Final = "Click the edge where the piece is to open."
HINGE: Final = "Click the edge where the slash ends: the parts stay together there."


class SlashTool(StepTool):
    """Three moments: where it opens, where it hinges, how wide. Both places can be moved until it is kept."""

    cursor = Qt.CursorShape.CrossCursor
    keys = frozenset({Qt.Key.Key_A})

    def __init__(self, table: CuttingTable) -> None:
        super().__init__(table)
        self._piece = ""
        self._opens: Place | None = None
        self._hinge: Place | None = None
        self._width = FIRST_WIDTH
        self._is_parallel = False
        self._fitting: str | None = None
        self._under: Point | None = None
        self._held = ""
        self._before: tuple[Place | None, Place | None, float] | None = None
        self._slip: Slip | None = None
        self._field: SlipField | None = None
        self._toggle: QCheckBox | None = None

    def begin(self) -> None:
        """Lay every piece flat: a slash is drawn on the open piece."""
        for name in self.garment.pieces:
            self.table.set_folded(name)
        self.table.say(BEGIN)

    def follow(self) -> None:
        """Begin afresh."""
        self._piece, self._opens, self._hinge, self._under, self._held, self._before = "", None, None, None, "", None
        self._width, self._is_parallel, self._fitting = FIRST_WIDTH, False, None
        self._take_slip_away()

    def fill(self, step: AnyStep) -> None:
        """The slash where the step has it, spread as wide."""
        assert isinstance(step, SlashAndSpread)
        piece = self.garment.piece(step.piece)
        for place in (step.opens, step.hinge):
            resolve(self.garment, piece, place)
        self.follow()
        self._piece, self._opens, self._hinge = step.piece, step.opens, step.hinge
        self._width, self._is_parallel, self._fitting = step.width, step.parallel, step.fitting
        self._try()
        self.table.focus_handle("width")

    def _base(self) -> Laid:
        """The committed piece, where it lies."""
        return self.table.scene.former(self.garment.piece(self._piece))

    def _at(self, place: Place) -> Point:
        return resolved_point(self.garment, self.garment.piece(self._piece), place)

    # --- the step

    def _step(self, width: float) -> SlashAndSpread:
        assert self._opens is not None
        assert self._hinge is not None
        id_, places = self.step_id("slash"), (self._opens, self._hinge)
        return SlashAndSpread(id_, self._piece, *places, width, parallel=self._is_parallel, fitting=self._fitting)

    def _try(self) -> None:
        """Show the piece spread, and say it on the slip; or why it cannot be."""
        step = self._step(self._width)
        done = self.show(step)
        if self._slip is None:
            self._make_slip()
        assert self._slip is not None
        assert self._field is not None
        assert self._toggle is not None
        self._toggle.setChecked(self._is_parallel)
        if not self._field.hasFocus():
            self._field.setText(show_exact(self._width, self.table.unit))
        words = self.told() if done else self.refusal
        self._slip.ask(words, can_accept=done and self._width != 0.0)
        if done:
            self.table.say("Drag the pin, or type how wide, less than 0 to fold it out; Enter keeps it, Esc drops it.")
        self.table.refresh()

    def _make_slip(self) -> None:
        self._slip = Slip(self.table, accept=self.accept_word("Spread"))
        self._field = self._slip.field(letters=9)
        self._field.call("Spread by")
        self._field.meant.connect(self._type)
        self._toggle = self._slip.toggle("Parallel", key="A")
        self._toggle.clicked.connect(self._turn_parallel)

    def _take_slip_away(self) -> None:
        if self._slip is not None:
            self._slip.take_away()
            self._slip = self._field = self._toggle = None

    def _type(self, text: str) -> None:
        try:
            self._width = parse_length(text, self.table.unit)
        except Refusal as refused:
            self.table.say(refused.sentence)
            return
        self.table.setFocus()
        self._try()
        self.table.focus_handle("width")

    def _turn_parallel(self) -> None:
        self._is_parallel = not self._is_parallel
        self._try()

    # --- places on edges

    def _places(self, piece: Piece) -> Iterator[tuple[Edge, Place, Point]]:
        """The middles of a piece's edges, for the keyboard."""
        for edge in piece.edges:
            if _can_open(self.garment, edge):
                half = edge.length / 2
                yield edge, place_at(self.garment, edge, half), point_at(edge.points, half)

    def _place_at(self, at: Pointer) -> tuple[Laid, Place, Point] | None:
        """The place on an edge under the pointer: a named one, if one is near."""
        names = [self._piece] if self._piece else list(self.garment.pieces)
        items = [self.table.scene.former(self.garment.pieces[name]) for name in names]
        hit = edge_at(items, at.at, at.reach)
        if hit is None or not _can_open(self.garment, hit.edge):
            return None
        here = hit.laid.to_piece(at.at)
        found = None if at.free else snap(self.garment, hit.laid.piece, here, at.reach / 2, unit=self.table.unit)
        if found is not None and found.place is not None and found.place.edge == hit.edge.origin.edge:
            return hit.laid, found.place, found.at
        return hit.laid, place_at(self.garment, hit.edge, hit.distance), hit.place

    def _words(self, place: Place) -> str:
        return place_words(place, show_length(place.distance or 0.0, self.table.unit))

    def _choose(self, item: Laid, place: Place) -> None:
        """Take a place for the opening, then for the hinge."""
        if self._opens is None:
            self._piece, self._opens = item.name, place
            self.table.say(HINGE)
            self.table.refresh()
            return
        self._hinge = place
        self._try()
        if self.refusal:
            self._hinge, self.trial = None, None
            self._take_slip_away()
            self.table.refresh()
        else:
            self.table.focus_handle("width")

    # --- handles

    def handles(self) -> list[Handle]:
        """Edges to choose by keys; then the places chosen; then the corner that is spread."""
        if self._opens is None:
            pieces = self.garment.pieces.values()
            return [handle for piece in pieces for handle in self._choices(piece, "Open at the middle of")]
        base = self._base()
        made = [self._pin("opens", "Where it opens", self._opens)]
        if self._hinge is None:
            return made + self._choices(base.piece, "Hinge at the middle of")
        made.append(self._pin("hinge", "Hinge", self._hinge))
        corner = self._corner(self._width)
        words = f"Spread by {show_length(self._width, self.table.unit)}"
        return [Handle("width", words, base.to_table(corner), corner, "pivot"), *made]

    def _choices(self, piece: Piece, words: str) -> list[Handle]:
        item = self.table.scene.former(piece)
        return [
            Handle(
                f"at |{piece.name}|{edge.name}",
                f"{words} the {spoken_in_full(edge.name)} of {piece.name}",
                item.to_table(at),
                at,
                "quiet",
                moves=False,
            )
            for edge, _, at in self._places(piece)
        ]

    def _pin(self, key: str, words: str, place: Place) -> Handle:
        at = self._at(place)
        return Handle(key, f"{words}, {self._words(place)}", self._base().to_table(at), at)

    def _corner(self, width: float) -> Point:
        """Where the loose corner lies, spread by so much; where it opens, while the slash is refused."""
        assert self._opens is not None
        try:
            return self._step(width).loose_corner(self.garment)
        except Refusal:
            return self._at(self._opens)

    def _way(self) -> Point:
        """The unit vector in which the loose corner leaves the slash."""
        assert self._opens is not None
        start, end = self._at(self._opens), self._corner(1.0)
        size = max(hypot(end[0] - start[0], end[1] - start[1]), 1e-9)
        return ((end[0] - start[0]) / size, (end[1] - start[1]) / size)

    def _slide(self, key: str, place: Place) -> None:
        if key == "opens":
            self._opens = place
        else:
            self._hinge = place
        if self._hinge is not None:
            self._try()
        else:
            self.table.refresh()

    def nudge(self, key: str, dx: float, dy: float) -> None:
        """An arrow key spreads more or less, or slides a place along its edge."""
        if key == "width":
            self._width += tapped(*self._base().way_on_piece(dx, dy), self._way())
            self._try()
            return
        place = self._opens if key == "opens" else self._hinge
        if place is None or key.startswith("at "):
            return
        piece = self.garment.piece(self._piece)
        on = resolve(self.garment, piece, place)
        edge = piece.edges[on.index]
        direction = tangent_at(edge.points, on.distance)
        by = tapped(*self._base().way_on_piece(dx, dy), (cos(direction), sin(direction)))
        self._slide(key, place_at(self.garment, edge, min(max(on.distance + by, 0.0), edge.length)))

    def activate(self, key: str) -> None:
        """Enter chooses the middle of an edge, or keeps what is shown."""
        if not key.startswith("at "):
            self.accept()
            return
        _, name, edge_name = key.split("|")
        piece = self.garment.piece(name)
        place = next(place for edge, place, _ in self._places(piece) if edge.name == edge_name)
        self._choose(self.table.scene.former(piece), place)
        if self._hinge is None:
            self.table.focus_handle("opens")

    # --- the mouse

    def hover(self, at: Pointer) -> None:
        """Show the place that a click would choose, and the slash as it would run."""
        found = self._place_at(at) if self._hinge is None else None
        self._under = found[0].to_table(found[2]) if found is not None else at.at if self._opens else None
        if self._hinge is None:
            asks = BEGIN if self._opens is None else HINGE
            verb = "open" if self._opens is None else "end"
            self.table.say(f"Click to let the slash {verb} {self._words(found[1])}." if found else asks)
            self.table.update()

    def press(self, at: Pointer) -> bool:
        """Take hold of the corner, or of a place to slide it."""
        held = [handle for handle in self.table.shown_handles if handle.kind != "quiet"]
        index = nearest_within(at.at, [handle.at for handle in held], at.reach)
        self._held = held[index].key if index is not None else ""
        self._before = (self._opens, self._hinge, self._width) if self._held else None
        return bool(self._held)

    def drag(self, at: Pointer) -> None:
        """Spread, or slide a place."""
        if self._held != "width":
            found = self._place_at(at)
            if found is not None:
                self._slide(self._held, found[1])
            return
        self._width = ruled(self._spread_at(self._base().to_piece(at.at)), self.table.unit, free=at.free)
        self._try()
        if not self.refusal:
            self.table.say(f"Spread by {show_length(self._width, self.table.unit)}.")

    def _spread_at(self, here: Point) -> float:
        """The width at which the loose corner lies towards a place: about the hinge, or square to the slash."""
        assert self._opens is not None
        assert self._hinge is not None
        start, hinge, way = self._at(self._opens), self._at(self._hinge), self._way()
        if self._is_parallel:
            return along(here, start, way)
        ahead = (start[0] + way[0], start[1] + way[1])
        turn = angle_between(hinge, start, here)
        sign = 1.0 if turn * angle_between(hinge, start, ahead) > 0 else -1.0
        return sign * 2.0 * gap(start, hinge) * sin(abs(turn) / 2)

    def drop(self, at: Pointer) -> None:
        """Let go; the step is kept by Enter or the slip's button."""
        self.drag(at)
        self._held, self._before = "", None

    def click(self, at: Pointer) -> None:
        """Choose a place."""
        self._held, self._before = "", None
        found = self._place_at(at) if self._hinge is None else None
        if found is not None:
            self._choose(found[0], found[1])

    # --- the keys

    def key(self, key: Qt.Key, *, shift: bool) -> bool:
        """Enter keeps, A turns parallel on and off, digits begin a width."""
        if self._hinge is None or self._field is None:
            return False
        if key in ENTER:
            self.accept()
        elif key == Qt.Key.Key_A:
            self._turn_parallel()
        elif key in BEGINS:
            self._field.begin(chr(key.value))
        else:
            return False
        return True

    def accept(self) -> None:
        """Spread."""
        if self.trial is not None and not self.refusal and self._width != 0.0 and self.keep(f"Slash the {self._piece}"):
            self.table.tool_finished.emit()

    def escape(self) -> bool:
        """Drop the drag; else the hinge; else the opening."""
        if self._before is not None:
            self._opens, self._hinge, self._width = self._before
            self._before, self._held = None, ""
            if self._hinge is not None:
                self._try()
            return True
        if self.altered:
            return False
        was = self._opens is not None
        if self._hinge is not None:
            self._hinge, self.trial, self.refusal = None, None, ""
            self._take_slip_away()
            self.table.session.drop_preview()
            self.table.say(HINGE)
        elif was:
            self._piece, self._opens = "", None
            self.table.say(BEGIN)
        self.table.refresh()
        return was

    def end(self) -> None:
        """Nothing uncommitted stays in view."""
        self._take_slip_away()
        super().end()

    # --- drawing

    def paint(self, painter: QPainter) -> None:
        """The slash, or the line to where it would end; how wide it is spread."""
        sheet, theme = self.table.sheet(painter), self.table.theme
        if self._opens is None:
            if self._under is not None:
                painter.setPen(sheet.look.inks.mark)
                painter.drawEllipse(sheet.frame.point(self._under), 4.0, 4.0)
            return
        start = self._base().to_table(self._at(self._opens))
        end = self._base().to_table(self._at(self._hinge)) if self._hinge is not None else self._under
        if end is not None:
            draw_chalk(sheet, [as_points((start, end))], colour=theme.chalk)
        if self._hinge is not None:
            at = sheet.frame.point(self._base().to_table(self._corner(self._width)))
            draw_words(painter, show_length(self._width, self.table.unit), at, sheet.look, colour=theme.snap)


def _can_open(garment: Garment, edge: Edge) -> bool:
    return edge.kind != "dart base" and edge.origin.edge in garment.origins and not is_centre(edge)

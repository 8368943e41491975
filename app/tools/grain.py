"""The grain: edges show how far they lie off straight grain; a piece's grain is turned by hand or along an edge."""

from __future__ import annotations

from collections.abc import Iterator
from math import atan2, cos, degrees, hypot, pi, sin
from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter

from app.canvas.hits import edge_at, nearest_within, piece_at
from app.canvas.slip import SlipField
from app.canvas.table import CuttingTable
from app.canvas.table_drawing import draw_words
from app.canvas.tool import Handle, Pointer
from app.tools.amounts import BEGINS
from app.tools.grain_drawing import draw_arrow, draw_lies, draw_scale, draw_stretch
from app.tools.pick_tool import PickTool, Target
from core.errors import Refusal
from core.geometry.planar import inner_point
from core.geometry.polyline import Point, point_at
from core.pieces.names import spoken
from core.pieces.records import Piece
from core.pieces.straight_grain import edge_lie, grain_between_ends, stretch_way, turn_between
from core.steps.catalogue import AnyStep
from core.steps.grain import TurnGrain, grain_way
from core.units import parse_angle, show_angle

ARM: Final = 60.0
"""The pin that turns the grain stands so far (mm) from the piece's middle."""

TAP: Final = 1.0
"""Degrees that the grain turns for a millimetre of an arrow key."""

WHOLE: Final = 0.5
"""A dragged grain goes by half degrees, unless it is to be free (Alt)."""

NEAR: Final = 3.0
"""Degrees within which a dragged grain goes to the straight grain, the cross grain, the bias, or along an edge."""

LAID: Final = (("straight grain", 0.0), ("cross grain", 90.0), ("bias", 45.0), ("bias", -45.0))
"""What a grain is called that is turned so many degrees from where it lay; half a turn makes no difference."""


class GrainTool(PickTool):
    """Pick a piece; turn its grain by the pin, by arrow keys or by typing, or click an edge to lay it along."""

    ask = "Click a piece to turn its grain. The edges show how far they lie off straight grain."
    verb = "turn the grain of"
    accept_words = "Turn the grain"
    keys = frozenset({Qt.Key.Key_S, Qt.Key.Key_X, Qt.Key.Key_B})

    def __init__(self, table: CuttingTable) -> None:
        super().__init__(table)
        self._degrees = 0.0
        self._edge = ""
        self._past = 0.0
        """Degrees that the grain of a step that is altered was turned past its edge."""
        self._before: tuple[float, str, float] | None = None
        self._field: SlipField | None = None
        self._middle: Point = (0.0, 0.0)

    # --- the step

    def step(self, target: Target) -> TurnGrain:
        """The step as it is set."""
        return TurnGrain(self.step_id("grain"), target.piece, self._past if self._edge else self._degrees, self._edge)

    def fill(self, step: AnyStep) -> None:
        """The piece, with its grain turned or laid along its edge as the step has it."""
        assert isinstance(step, TurnGrain)
        self.garment.piece(step.piece)
        self.take(Target("piece", step.piece))
        self._edge, self._past = step.edge, step.degrees if step.edge else 0.0
        self._degrees = 0.0 if step.edge else step.degrees
        self.try_now()
        self.table.focus_handle("grain")

    def label(self, target: Target) -> str:
        """What undo calls it."""
        return f"Turn the grain of the {target.piece}"

    def picked(self, target: Target) -> None:
        """A field for the angle; nothing is turned yet."""
        assert self.slip is not None
        self._degrees, self._edge, self._past, self._before = 0.0, "", 0.0, None
        self._middle = inner_point(self.garment.piece(target.piece).loop)
        self._field = self.slip.field(letters=12)
        self._field.call("Turn by")
        self._field.meant.connect(self._type)
        for words, key, act in (
            ("Straight grain", "S", self._straight),
            ("Cross grain", "X", self._cross),
            ("Bias", "B: the other way", self._bias),
        ):
            self.slip.button(words, key=key).clicked.connect(act)

    def shown(self) -> None:
        """The field says the turn, unless it is being typed."""
        if self._field is not None and not self._field.hasFocus():
            self._field.setText(f"{self._turn():.1f} degrees")

    @property
    def _is_turned(self) -> bool:
        """Whether there is anything to keep."""
        return bool(self._edge) or abs(self._degrees) > 1e-9

    def try_now(self) -> None:
        """Before anything is turned, say what can be done."""
        super().try_now()
        if self.slip is not None and not self._is_turned and not self.altered:
            self.slip.ask("Drag the pin, type an angle, or click an edge to lay it along the grain.", can_accept=False)

    def accept(self) -> None:
        """Keep a grain that is turned."""
        if self._is_turned or self.altered:
            super().accept()

    def pick(self, target: Target) -> None:
        """The pin has the keyboard then."""
        super().pick(target)
        self.table.focus_handle("grain")

    def follow(self) -> None:
        """The field goes with the slip."""
        super().follow()
        self._field, self._before = None, None

    def _turn(self) -> float:
        """How far the grain is turned now, in degrees to the left."""
        if not self._edge or self.target is None:
            return self._degrees
        try:
            return degrees(self.step(self.target).turn(self.garment.piece(self.target.piece)))
        except Refusal:
            return 0.0

    def _set(self, turn: float) -> None:
        """Try a turn in degrees; a grain has no head, so half a turn is none."""
        self._edge, self._degrees = "", (turn + 90.0) % 180.0 - 90.0
        self.try_now()

    def _straight(self) -> None:
        self._set(0.0)

    def _cross(self) -> None:
        self._set(90.0)

    def _bias(self) -> None:
        """To the left, and to the right where it lies so already."""
        self._set(-45.0 if not self._edge and abs(self._degrees - 45.0) < 1e-9 else 45.0)

    def _aim(self, at: Pointer) -> None:
        """Lay the grain from the piece's middle to a place: as a cutter lays one, or along an edge, if it is near."""
        assert self.target is not None
        x, y = self.base(self.target.piece).to_piece(at.at)
        dx, dy = x - self._middle[0], y - self._middle[1]
        if hypot(dx, dy) < 1.0:
            return
        piece = self.garment.piece(self.target.piece)
        turn = degrees(turn_between(piece.grain, atan2(dy, dx)))
        off, lie, edge = min((abs(_apart(turn, laid)), laid, name) for laid, name in _lies(piece))
        if at.free or off > NEAR:
            self._set(turn if at.free else round(turn / WHOLE) * WHOLE)
        elif edge:
            self._lay_along(edge)
        else:
            self._set(lie)

    def _lie_words(self) -> str:
        """How far the grain is turned, and what that is called."""
        turn = self._turn()
        called = f"along the {spoken(self._edge)}" if self._edge and not self._past else ""
        named = [name for name, laid in LAID if abs(_apart(turn, laid)) < 1e-6]
        called = called or (named[0] if named else "")
        way = "" if abs(turn) < 1e-9 else " to the left" if turn > 0.0 else " to the right"
        return f"{abs(turn):.1f}°{way}{', ' if called else ''}{called}"

    def _lay_along(self, edge: str) -> None:
        """Try the turn that lays an edge's two ends parallel to the selvedge, and say how it lay."""
        assert self.target is not None
        piece = self.garment.piece(self.target.piece)
        before = edge_lie(piece.edge(edge), piece.grain)
        self._edge, self._past = edge, 0.0
        self.try_now()
        if not self.refusal:
            self.table.say(
                f"The {spoken(edge)} lay {before.ends:.0f} degrees off straight grain; its two ends lie parallel to "
                f"the selvedge now, so that it does not bubble when it is sewn. Enter keeps it."
            )

    def _type(self, text: str) -> None:
        try:
            turn = degrees(parse_angle(text))
        except Refusal as refused:
            self.table.say(refused.sentence)
            return
        self.table.setFocus()
        self._set(turn)
        self.table.focus_handle("grain")

    # --- handles

    def own_handles(self) -> list[Handle]:
        """The pin at the grain's head, then every edge, to be laid along the grain."""
        if self.target is None:
            return []
        piece = self._shown_piece()
        base = self.base(piece.name)
        x, y = grain_way(piece.grain)
        at = (self._middle[0] + ARM * x, self._middle[1] + ARM * y)
        found = [Handle("grain", f"Grain, turned {show_angle(self._turn() * pi / 180.0)}", base.to_table(at), at)]
        for edge in piece.edges:
            if edge.kind not in ("fold", "dart base"):
                lie = edge_lie(edge, piece.grain)
                words = f"Lay along the grain: {spoken(edge.name)}, {lie.ends:.0f} degrees off, {lie.lie}"
                middle = point_at(edge.points, edge.length / 2)
                found.append(Handle(f"edge {edge.name}", words, base.to_table(middle), middle, "quiet", False))
        return found

    def _shown_piece(self) -> Piece:
        """The piece that is picked, with the grain that is tried."""
        assert self.target is not None
        return self.table.session.shown.garment.piece(self.target.piece)

    def nudge(self, key: str, dx: float, dy: float) -> None:
        """Left and up turn to the left, right and down to the right."""
        if key == "grain":
            self._set(self._turn() + TAP * (dy - dx))

    def activate(self, key: str) -> None:
        """Enter on an edge lays it along the grain; on the pin it keeps what is shown."""
        if key.startswith("edge "):
            self._lay_along(key.removeprefix("edge "))
        else:
            super().activate(key)

    # --- the mouse and the keys

    def press(self, at: Pointer) -> bool:
        """Take hold of the pin."""
        pins = [handle.at for handle in self.own_handles() if handle.key == "grain"]
        holds = nearest_within(at.at, pins, at.reach) is not None
        self._before = (self._degrees, self._edge, self._past) if holds else None
        return holds

    def drag(self, at: Pointer) -> None:
        """The grain follows the pointer round the piece's middle."""
        if self.target is not None:
            self._aim(at)
            if not self.refusal:
                self.table.say(f"Grain {self._lie_words()}. With Alt it goes to no named way.")

    def hover(self, at: Pointer) -> None:
        """Say what a click would do."""
        if self.target is None:
            super().hover(at)
            return
        edge = self._edge_at(at)
        if edge:
            lie = edge_lie(self._shown_piece().edge(edge), self._shown_piece().grain)
            self.table.say(
                f"The {spoken(edge)} lies {lie.ends:.0f} degrees off straight grain by its ends: click to lay it along."
            )
        elif self._is_on_piece(at):
            self.table.say("Drag the pin, or click where the grain is to point; click an edge to lay it along.")

    def _is_on_piece(self, at: Pointer) -> bool:
        return self.target is not None and piece_at([self.base(self.target.piece)], at.at) is not None

    def _edge_at(self, at: Pointer) -> str:
        if self.target is None:
            return ""
        hit = edge_at([self.base(self.target.piece)], at.at, at.reach)
        return hit.edge.name if hit is not None and hit.edge.kind != "fold" else ""

    def click(self, at: Pointer) -> None:
        """Pick a piece; then an edge of it."""
        self._before = None
        if self.target is None:
            super().click(at)
        elif self._edge_at(at):
            self._lay_along(self._edge_at(at))
        elif self._is_on_piece(at):
            self._aim(at)

    def key(self, key: Qt.Key, *, shift: bool) -> bool:
        """Digits begin an angle; S, X and B lay the grain straight, across and on the bias."""
        acts = {Qt.Key.Key_S: self._straight, Qt.Key.Key_X: self._cross, Qt.Key.Key_B: self._bias}
        if key in acts and self.target is not None:
            acts[key]()
            return True
        if key in BEGINS and self._field is not None:
            self._field.begin(chr(key.value))
            return True
        return super().key(key, shift=shift)

    def escape(self) -> bool:
        """Drop the drag; else pick another piece."""
        if self._before is None:
            return super().escape()
        (self._degrees, self._edge, self._past), self._before = self._before, None
        self.try_now()
        return True

    # --- drawing

    def paint(self, painter: QPainter) -> None:
        """Every edge by how it lies, the scale, and the arrow of the piece in hand."""
        sheet = self.table.sheet(painter)
        for item in self.table.scene.laid:
            in_hand = self.target is not None and item.name == self.target.piece
            draw_lies(sheet, item, with_figures=in_hand or self.target is None)
        draw_scale(sheet)
        if self.target is not None:
            piece = self._shown_piece()
            (x, y), (dx, dy) = self._middle, grain_way(piece.grain)
            ends = ((x - ARM * dx, y - ARM * dy), (x + ARM * dx, y + ARM * dy))
            draw_arrow(sheet, self.base(piece.name), ends)
            at = sheet.frame.point(self.base(piece.name).to_table(ends[1]))
            draw_words(painter, self._lie_words(), at, sheet.look, colour=self.table.theme.chalk)
            way = self._stretch_way(piece)
            if way is not None:
                dx, dy = ARM * cos(way), ARM * sin(way)
                draw_stretch(sheet, self.base(piece.name), ((x - dx, y - dy), (x + dx, y + dy)))

    def _stretch_way(self, piece: Piece) -> float | None:
        fabrics = self.table.session.shown.design.fabrics
        return next((stretch_way(piece, fabric) for fabric in fabrics if fabric.name == piece.fabric), None)


def _apart(turn: float, other: float) -> float:
    """Degrees between two grains, which have no head."""
    return (turn - other + 90.0) % 180.0 - 90.0


def _lies(piece: Piece) -> Iterator[tuple[float, str]]:
    """Turns (degrees) that a hand goes to: the named ones, and those that lay an edge along the grain, by its name."""
    yield from ((laid, "") for _, laid in LAID)
    for edge in piece.edges:
        if edge.kind not in ("fold", "dart base"):
            yield degrees(turn_between(piece.grain, grain_between_ends(edge))), edge.name

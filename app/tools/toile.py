"""Toile corrections: after a fitting, each place that was pinned is clicked and its amount typed; all become steps."""

from __future__ import annotations

from collections.abc import Callable
from math import cos, sin
from typing import Final

from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter

from app.canvas.hits import edge_at
from app.canvas.laid import Laid
from app.canvas.snaps import snap
from app.canvas.table import CuttingTable
from app.canvas.table_drawing import draw_chalk, draw_words
from app.canvas.tool import ENTER, Handle, Pointer
from app.tools.amounts import BEGINS, tapped
from app.tools.pins import Kind, Pin, pin_at_level, pin_on
from app.tools.step_tool import StepTool
from app.tools.toile_places import level_handles, middle_handles
from app.tools.toile_slip import KINDS, ToileSlip
from core.design.design import Design
from core.errors import Refusal
from core.geometry.polyline import Point, Points, as_points, point_at, tangent_at
from core.pieces.levels import seam_levels
from core.pieces.places import place_at, resolve, resolved_point
from core.pieces.records import Edge, Garment, Piece
from core.pieces.seams import matches
from core.steps.catalogue import AnyStep
from core.steps.fittings import corrections
from core.units import parse_length, show_length

BEGIN: Final = "Click where the toile was pinned: on a seam, or on the edge where a fold begins."
HINGE: Final = "Click the edge where the fold comes to nothing."
PREFIX: Final = "fitting-"


class ToileTool(StepTool):
    """Pins are entered one after the other, seen together on the cloth, and kept as one act."""

    cursor = Qt.CursorShape.CrossCursor
    keys = frozenset({Qt.Key.Key_A, Qt.Key.Key_N, *(key for _, _, key in KINDS)})

    def __init__(self, table: CuttingTable) -> None:
        super().__init__(table)
        self._pins: list[Pin] = []
        self._pin: Pin | None = None
        self._steps: tuple[AnyStep, ...] = ()
        self._under: Point | None = None
        self._slip: ToileSlip | None = None

    def begin(self) -> None:
        """Lay every piece flat, as it is cut."""
        for name in self._garment.pieces:
            self.table.set_folded(name)
        self.table.say(BEGIN)

    def follow(self) -> None:
        """Begin afresh."""
        self._pins, self._pin, self._steps, self._under = [], None, (), None
        self._take_slip_away()

    def end(self) -> None:
        """Nothing uncommitted stays in view."""
        self._take_slip_away()
        super().end()

    @property
    def _garment(self) -> Garment:
        return self.table.session.replay.garment

    def _base(self, piece: str) -> Laid:
        return self.table.scene.former(self._garment.piece(piece))

    # --- the steps

    def with_step(self, step: AnyStep) -> Design:
        """The design with all corrections, the last of them given."""
        design = self.table.session.design
        for earlier in (*self._steps[:-1], step):
            design = design.with_step(earlier)
        return design

    def _all_pins(self) -> list[Pin]:
        return [*self._pins, *([self._pin] if self._pin is not None else [])]

    def _try(self) -> None:
        """Show what all pins do together, and list it on the slip; or why it cannot be done."""
        pinches = [pinch for pin in self._all_pins() if (pinch := pin.pinch()) is not None]
        self._make_slip()
        try:
            self._steps = corrections(self._garment, pinches, first=self._first())
        except Refusal as refused:
            self._steps, self.trial, self.refusal = (), None, refused.sentence
        else:
            self.refusal = ""
        if not self._steps:
            self.trial = None
            self.table.session.drop_preview()
        elif not self.show(self._steps[-1]):
            self.table.session.drop_preview()
        self._ask()
        self.table.refresh()

    def _first(self) -> int:
        """A number that no correction has yet, nor any after it."""
        used = [step.id.removeprefix(PREFIX) for step in self.table.session.design.steps if step.id.startswith(PREFIX)]
        return max((int(number) for number in used if number.isdigit()), default=0) + 1

    def _listed(self) -> list[str]:
        """A line for each step, numbered where there are several."""
        shown = self.table.session.shown
        own = {step.id for step in self._steps}
        stages = [stage for stage in shown.stages if stage.step.id in own]
        lines = [stage.sentence(self.table.unit) for stage in stages]
        return lines if len(lines) < 2 else [f"{number}. {line}" for number, line in enumerate(lines, 1)]

    # --- the slip

    def _make_slip(self) -> None:
        if self._slip is not None:
            return
        self._slip = slip = ToileSlip(self.table, drops=self._drop_all)
        slip.amount.meant.connect(self._type)
        slip.note.meant.connect(self._write)
        acts: dict[Kind, Callable[[], None]] = {
            "seam": self._along_seam,
            "fold": self._across,
            "edge": self._whole_edge,
        }
        for kind, act in acts.items():
            slip.kinds[kind].clicked.connect(act)
        slip.parallel.clicked.connect(self._turn_parallel)
        slip.next.clicked.connect(self._next)

    def _take_slip_away(self) -> None:
        if self._slip is not None:
            self._slip.take_away()
            self._slip = None

    def _ask(self) -> None:
        if self._slip is None:
            return
        self._slip.show_pin(self._pin, self.table.unit)
        words = [*self._listed(), self.refusal or self._prompt()]
        self._slip.ask("\n".join(line for line in words if line), can_accept=bool(self._steps) and not self.refusal)

    def _prompt(self) -> str:
        """What is asked for next."""
        pin = self._pin
        if pin is None:
            return BEGIN
        here = f"Pinned at {pin.words(self.table.unit)}"
        if pin.kind == "fold" and pin.hinge is None:
            return f"{here}. {HINGE}"
        return f"{here}: type how much, less than 0 where it was let out." if pin.amount == 0.0 else ""

    # --- what is entered

    def _hold(self, pin: Pin) -> None:
        """Take a place in hand; what was in hand is listed, if it is whole."""
        if self._pin is not None and self._pin.pinch() is not None:
            self._pins.append(self._pin)
        self._pin = pin
        self._try()
        self.table.focus_handle("here")
        self.table.say("Type how much was pinned out; Enter makes the corrections, Esc drops this pin.")

    def _type(self, text: str) -> None:
        try:
            amount = parse_length(text, self.table.unit)
        except Refusal as refused:
            self.table.say(refused.sentence)
            return
        self._write(self._slip.note.text() if self._slip is not None else "", amount=amount)

    def _write(self, text: str, *, amount: float | None = None) -> None:
        if self._pin is None:
            return
        self._pin.note = " ".join(text.split())[:200]
        self._pin.amount = self._pin.amount if amount is None else amount
        self.table.setFocus()
        self._try()
        self.table.focus_handle("here")

    def _turn_to(self, kind: Kind) -> None:
        if self._pin is not None and (kind != "seam" or self._pin.seam):
            self._pin.kind = kind
            self._try()

    def _along_seam(self) -> None:
        self._turn_to("seam")

    def _across(self) -> None:
        self._turn_to("fold")

    def _whole_edge(self) -> None:
        self._turn_to("edge")

    def _turn_parallel(self) -> None:
        if self._pin is not None and self._pin.kind == "fold":
            self._pin.is_parallel = not self._pin.is_parallel
        self._try()

    def _next(self) -> None:
        """List the pin in hand and ask for another."""
        if self._pin is None:
            return
        if self._pin.pinch() is None:
            self.table.say(self._prompt())
            return
        self._pins.append(self._pin)
        self._pin = None
        self._try()
        self.table.say(BEGIN)

    def _drop_all(self) -> None:
        self.put_back()
        self.table.leave_tool()

    # --- places on edges

    def _found_at(self, at: Pointer) -> tuple[Piece, Edge, float] | None:
        """The place on a committed edge under the pointer: a named one, if one is near."""
        is_asked = self._pin is not None and self._pin.kind == "fold" and self._pin.hinge is None
        names = [self._pin.piece] if is_asked and self._pin is not None else list(self._garment.pieces)
        hit = edge_at([self._base(name) for name in names], at.at, at.reach)
        if hit is None or hit.edge.origin.edge not in self._garment.origins:
            return None
        piece = hit.laid.piece
        here = hit.laid.to_piece(at.at)
        near = None if at.free else snap(self._garment, piece, here, at.reach / 2, unit=self.table.unit)
        if near is not None and near.place is not None and near.place.edge == hit.edge.origin.edge:
            on = resolve(self._garment, piece, near.place)
            return piece, piece.edges[on.index], on.distance
        return piece, hit.edge, hit.distance

    def _choose(self, piece: Piece, edge: Edge, distance: float) -> None:
        """Where a fold comes to nothing, if that is asked; else a new pin."""
        if self._pin is not None and self._pin.kind == "fold" and self._pin.hinge is None:
            self._pin.hinge = place_at(self._garment, edge, distance)
            self._try()
            self.table.focus_handle("here")
        else:
            self._hold(pin_on(self._garment, piece, edge, distance))

    # --- handles

    def handles(self) -> list[Handle]:
        """The pins; then levels of seams and middles of edges to pin at, for the keyboard."""
        made = [self._pin_handle(f"pin {index}", pin) for index, pin in enumerate(self._pins)]
        if self._pin is None:
            return [*made, *level_handles(self._garment, self._base), *self._middles(list(self._garment.pieces), "Pin")]
        made.insert(0, self._pin_handle("here", self._pin))
        if self._pin.kind == "fold" and self._pin.hinge is None:
            made += self._middles([self._pin.piece], "To nothing")
        return made

    def _pin_handle(self, key: str, pin: Pin) -> Handle:
        words = f"Pinned {show_length(pin.amount, self.table.unit)} at {pin.words(self.table.unit)}"
        return Handle(key, words, self._base(pin.piece).to_table(pin.at), pin.at, "point", key == "here")

    def _middles(self, names: list[str], verb: str) -> list[Handle]:
        return [handle for name in names for handle in middle_handles(self._garment, self._base(name), verb)]

    def activate(self, key: str) -> None:
        """Enter pins at a level or an edge's middle, takes a listed pin in hand again, or keeps what is shown."""
        kind, *names = key.split("|")
        if kind == "level":
            found = next(found for found in matches(self._garment) if found.seam.name == names[0])
            level = next(level for level in seam_levels(found) if level.name == names[1])
            self._hold(pin_at_level(self._garment, found, level.name, level.a.along))
        elif kind == "edge":
            piece = self._garment.piece(names[0])
            edge = piece.edge(names[1])
            self._choose(piece, edge, edge.length / 2)
        elif key.startswith("pin "):
            self._hold(self._pins.pop(int(key.split()[1])))
        else:
            self.accept()

    def remove(self, key: str) -> None:
        """Delete takes a pin out again."""
        if key.startswith("pin "):
            del self._pins[int(key.split()[1])]
        elif key == "here":
            self._pin = None
        self.table.setFocus()
        self._try()

    def nudge(self, key: str, dx: float, dy: float) -> None:
        """An arrow key slides the pin in hand along its edge."""
        if key != "here" or self._pin is None:
            return
        pin, piece = self._pin, self._garment.piece(self._pin.piece)
        on = resolve(self._garment, piece, pin.place)
        edge = piece.edges[on.index]
        way = tangent_at(edge.points, on.distance)
        distance = min(
            max(on.distance + tapped(*self._base(pin.piece).way_on_piece(dx, dy), (cos(way), sin(way))), 0.0),
            edge.length,
        )
        now = pin_on(self._garment, piece, edge, distance)
        kept = pin.kind if pin.kind != "seam" or now.seam else now.kind
        self._pin = replace(
            now, kind=kept, hinge=pin.hinge, is_parallel=pin.is_parallel, amount=pin.amount, note=pin.note
        )
        self._try()

    # --- the mouse and the keys

    def hover(self, at: Pointer) -> None:
        """Say what a click would pin."""
        found = self._found_at(at)
        before, self._under = self._under, None
        if found is not None:
            piece, edge, distance = found
            self._under = self._base(piece.name).to_table(point_at(edge.points, distance))
            pin = pin_on(self._garment, piece, edge, distance)
            self.table.say(f"Click to pin at {pin.words(self.table.unit)}.")
        elif before is not None or self._pin is None:
            self.table.say(BEGIN if self._pin is None else self._prompt())
        if before != self._under:
            self.table.update()

    def click(self, at: Pointer) -> None:
        """Pin there."""
        found = self._found_at(at)
        if found is not None:
            self._choose(*found)

    def key(self, key: Qt.Key, *, shift: bool) -> bool:
        """Letters choose how it was pinned, digits begin an amount, N goes on to the next, Enter keeps."""
        acts = {which: kind for kind, _, which in KINDS}
        if key in acts and self._pin is not None:
            self._turn_to(acts[key])
        elif key == Qt.Key.Key_A and self._pin is not None:
            self._turn_parallel()
        elif key == Qt.Key.Key_N and self._pin is not None:
            self._next()
        elif key in BEGINS and self._pin is not None and self._slip is not None:
            self._slip.amount.begin(chr(key.value))
        elif key in ENTER and self._steps:
            self.accept()
        else:
            return False
        return True

    def accept(self) -> None:
        """Make all corrections as one act."""
        if self._pin is not None and self._slip is not None and self._slip.note.text() != self._pin.note:
            self._write(self._slip.note.text())
        if self._steps and not self.refusal and self.keep("Correct by the toile"):
            self.table.tool_finished.emit()

    def escape(self) -> bool:
        """Drop the pin in hand; else all that are listed."""
        if self._pin is not None:
            self._pin = None
            if self._pins:
                self._try()
                return True
        elif not self._pins:
            return False
        self.put_back()
        self.table.say(BEGIN)
        return True

    # --- drawing

    def paint(self, painter: QPainter) -> None:
        """The pieces as they were, each pin with its amount, and the place under the pointer."""
        sheet, theme = self.table.sheet(painter), self.table.theme
        garment = self._garment
        now = self.table.session.shown.garment.pieces
        for name in (name for name, piece in garment.pieces.items() if now.get(name) is not piece):
            base = self._base(name)
            draw_chalk(sheet, [base.on_table(edge.points) for edge in base.piece.edges], colour=theme.ghost, wide=1.4)
        for pin in self._all_pins():
            paths = [self._base(pin.piece).on_table(path) for path in self._paths(pin)]
            draw_chalk(sheet, paths, colour=theme.selected if pin is self._pin else theme.chalk, wide=2.4)
            at = sheet.frame.point(self._base(pin.piece).to_table(pin.at))
            if pin.amount:
                draw_words(painter, show_length(pin.amount, self.table.unit), at, sheet.look, colour=theme.snap)
        if self._under is not None:
            painter.setPen(sheet.look.inks.mark)
            painter.drawEllipse(sheet.frame.point(self._under), 6.0, 6.0)

    def _paths(self, pin: Pin) -> list[Points]:
        """The seam, the fold or the edge that a pin is about, in the piece's mm."""
        piece = self._garment.piece(pin.piece)
        if pin.kind == "fold":
            hinge = [resolved_point(self._garment, piece, pin.hinge)] if pin.hinge is not None else []
            return [as_points([pin.at, *hinge])] if hinge else []
        return [piece.edge(pin.edge).points]

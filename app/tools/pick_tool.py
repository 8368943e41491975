"""What tools have in common that alter one thing they pick: a piece, an edge or a dart; some by an amount."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, TypeAlias

import msgspec
from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter

from app.canvas.hits import dart_at, edge_at, nearest_within, piece_at
from app.canvas.laid import Laid
from app.canvas.paper_drawing import draw_paper
from app.canvas.slip import Slip, SlipField
from app.canvas.table import CuttingTable
from app.canvas.table_drawing import draw_chalk, draw_words
from app.canvas.tool import ENTER, Handle, Pointer
from app.tools.amounts import BEGINS, along, ruled, tapped
from app.tools.step_tool import StepTool
from core.errors import Refusal
from core.geometry.polyline import Point, Points, as_point, as_points, point_at
from core.pieces.folded_piece import SLIT
from core.pieces.names import spoken
from core.pieces.records import Piece
from core.steps.catalogue import AnyStep
from core.units import parse_length, show_exact, show_length

Kind: TypeAlias = Literal["piece", "edge", "dart"]


class Target(msgspec.Struct, frozen=True):
    """What is picked: a piece, or an edge or a dart of one, by name."""

    kind: Kind
    piece: str
    name: str = ""

    @property
    def key(self) -> str:
        """The key of its handle."""
        return f"pick|{self.kind}|{self.piece}|{self.name}"

    @property
    def words(self) -> str:
        """For example: "waist of the side front"."""
        return f"{spoken(self.name)} of the {self.piece}" if self.name else self.piece


class PickTool(StepTool):
    """Two moments: nothing picked; one thing picked, and what becomes of it in view until it is kept."""

    cursor = Qt.CursorShape.PointingHandCursor
    wants: tuple[Kind, ...] = ("piece",)
    ask = "Click a piece."
    verb = "take up"
    accept_words = "Do it"
    shows_paper = False
    """Whether the paper that the step adds and takes off is hatched."""

    def __init__(self, table: CuttingTable) -> None:
        super().__init__(table)
        self.target: Target | None = None
        self._under: Target | None = None
        self._before: object = None
        """How it was set when a drag began, while that goes on."""
        self.slip: Slip | None = None

    # --- what the tools say of themselves

    def step(self, target: Target) -> AnyStep:
        """The step as it is set now."""
        raise NotImplementedError

    def label(self, target: Target) -> str:
        """What undo calls it."""
        raise NotImplementedError

    def picked(self, target: Target) -> None:
        """Something has been picked; the slip is there to be filled."""

    def shown(self) -> None:
        """The step has been tried; fields and boxes may follow."""

    def own_handles(self) -> list[Handle]:
        """What can be taken hold of once something is picked."""
        return []

    # --- what is in hand

    def base(self, piece: str) -> Laid:
        """A piece as it was, where it lies, its darts open."""
        return self.table.scene.former(self.garment.piece(piece))

    def begin(self) -> None:
        """Say what can be picked."""
        self.table.say(self.ask)

    def follow(self) -> None:
        """Begin afresh: what was picked may be gone."""
        self.target = self._under = None
        self._take_slip_away()

    def pick(self, target: Target) -> None:
        """Take something in hand and show what becomes of it."""
        self.take(target)
        self.try_now()

    def take(self, target: Target) -> None:
        """Take something in hand, with a slip set as is usual for it."""
        self.follow()
        self.target = target
        self.table.set_folded(target.piece)
        self.slip = Slip(self.table, accept=self.accept_word(self.accept_words))
        self.picked(target)

    def try_now(self) -> None:
        """Show the step as it is set, and say it on the slip; or why it cannot be done."""
        if self.target is None or self.slip is None:
            return
        step = self.step(self.target)
        done = self.show(step)
        if not done:
            self.show_before()
        self.shown()
        words = self.told() if done else self.refusal
        notes = self.notes() if done else ()
        self.slip.ask(words, can_accept=done)
        self.table.say(self.refusal or " ".join(note.sentence for note in notes) or "Enter keeps it, Esc drops it.")
        self.table.refresh()

    def _take_slip_away(self) -> None:
        if self.slip is not None:
            self.slip.take_away()
            self.slip = None

    def end(self) -> None:
        """Nothing uncommitted stays in view."""
        self._take_slip_away()
        super().end()

    # --- targets

    def targets(self) -> Iterator[tuple[Target, Point]]:
        """Everything that can be picked, with a place on it in its piece's mm."""
        for piece in self.garment.pieces.values():
            if "piece" in self.wants:
                yield Target("piece", piece.name), as_point(piece.loop.mean(axis=0))
            if "dart" in self.wants:
                for dart in (dart for dart in piece.darts if not dart.name.endswith(SLIT)):
                    yield Target("dart", piece.name, dart.name), dart.inside
            if "edge" in self.wants:
                for edge in (edge for edge in piece.edges if edge.kind not in ("fold", "dart base")):
                    yield Target("edge", piece.name, edge.name), point_at(edge.points, edge.length / 2)

    def target_at(self, at: Pointer) -> Target | None:
        """What a click would pick."""
        items = [self.base(name) for name in self.garment.pieces]
        edge = edge_at(items, at.at, at.reach) if "edge" in self.wants else None
        dart = dart_at(items, at.at, at.reach / 2) if "dart" in self.wants else None
        piece = piece_at(items, at.at) if "piece" in self.wants else None
        if edge is not None and edge.edge.kind != "fold":
            return Target("edge", edge.laid.name, edge.edge.name)
        if dart is not None:
            return Target("dart", dart.laid.name, dart.dart.name)
        return Target("piece", piece.name) if piece is not None else None

    def handles(self) -> list[Handle]:
        """What can be picked, for the keyboard; then the tool's own."""
        if self.target is not None:
            return self.own_handles()
        return [
            Handle(target.key, f"{self.verb} {target.words}", self.base(target.piece).to_table(at), at, "quiet", False)
            for target, at in self.targets()
        ]

    # --- the mouse and the keys

    def hover(self, at: Pointer) -> None:
        """Show what a click would pick."""
        if self.target is not None:
            return
        before, self._under = self._under, self.target_at(at)
        self.table.say(f"Click to {self.verb} the {self._under.words}." if self._under else self.ask)
        if before != self._under:
            self.table.update()

    def click(self, at: Pointer) -> None:
        """Pick."""
        found = self.target_at(at) if self.target is None else None
        if found is not None:
            self.pick(found)

    def activate(self, key: str) -> None:
        """Enter picks; on the tool's own handle it keeps what is shown."""
        if key.startswith("pick|"):
            target = next(target for target, _ in self.targets() if target.key == key)
            self.pick(target)
        else:
            self.accept()

    def key(self, key: Qt.Key, *, shift: bool) -> bool:
        """Enter keeps what is shown."""
        if key in ENTER and self.trial is not None:
            self.accept()
            return True
        return False

    def drop(self, at: Pointer) -> None:
        """Let the pin go; the step is kept by Enter or the slip's button."""
        self.drag(at)
        self._before = None

    def accept(self) -> None:
        """Keep what is shown."""
        if self.target is not None and not self.refusal and self.keep(self.label(self.target)):
            self.table.tool_finished.emit()

    def escape(self) -> bool:
        """Pick something else; a step that was taken up to be altered is left as it was."""
        if self.altered:
            return False
        was = self.target is not None
        self.put_back()
        if was:
            self.begin()
        return was

    # --- drawing

    def about(self) -> Iterator[Laid]:
        """The piece that is picked."""
        if self.target is not None and self.target.piece in self.garment.pieces:
            yield self.base(self.target.piece)
            now = self.table.scene.piece(self.target.piece)
            if now is not None:
                yield now

    def paint(self, painter: QPainter) -> None:
        """What a click would pick, or faintly what is picked, as it was."""
        target, theme = self.target or self._under, self.table.theme
        if target is not None and target.piece in self.garment.pieces:
            base = self.base(target.piece)
            paths = [base.on_table(path) for path in _paths(base.piece, target)]
            colour, wide = (theme.ghost, 1.4) if self.target is not None else (theme.selected, 2.6)
            draw_chalk(self.table.sheet(painter), paths, colour=colour, wide=wide)
            now = self.table.scene.piece(target.piece)
            if self.shows_paper and self.trial is not None and not self.refusal and now is not None:
                draw_paper(self.table.sheet(painter), base, now)


class AmountTool(PickTool):
    """A tool whose step has one length, set by dragging a pin, by arrow keys or by typing."""

    field_words = "By"
    is_signed = False

    def __init__(self, table: CuttingTable) -> None:
        super().__init__(table)
        self.amount = 0.0
        self._field: SlipField | None = None
        self._pressed: Target | None = None
        self._before: float | None = None

    def way(self, target: Target) -> tuple[Point, Point]:
        """Where the pin stands at an amount of nothing, in the piece's mm, and the unit vector it goes along."""
        raise NotImplementedError

    def first_amount(self, target: Target) -> float:
        """The amount that is shown first."""
        return 0.0

    def picked(self, target: Target) -> None:
        """A field for the amount."""
        assert self.slip is not None
        self._field = self.slip.field(letters=9)
        self._field.call(self.field_words)
        self._field.meant.connect(self._type)
        self.amount = self.first_amount(target)

    def follow(self) -> None:
        """The field goes with the slip."""
        super().follow()
        self._field = self._before = self._pressed = None

    def shown(self) -> None:
        """The field says the amount, unless it is being typed."""
        if self._field is not None and not self._field.hasFocus():
            self._field.setText(show_exact(self.amount, self.table.unit))

    def pick(self, target: Target) -> None:
        """The pin has the keyboard then."""
        super().pick(target)
        self.table.focus_handle("amount")

    def take_at(self, target: Target, amount: float | None) -> None:
        """Take up what a step is about, at its amount, or at the usual one for None."""
        self.take(target)
        self.amount = self.amount if amount is None else amount
        self.try_now()
        self.table.focus_handle("amount")

    def set(self, amount: float) -> None:
        """Try an amount."""
        self.amount = amount if self.is_signed else max(amount, 0.0)
        self.try_now()

    def _type(self, text: str) -> None:
        try:
            amount = parse_length(text, self.table.unit)
        except Refusal as refused:
            self.table.say(refused.sentence)
            return
        self.table.setFocus()
        self.set(amount)
        self.table.focus_handle("amount")

    def _pin(self, target: Target) -> Point:
        (x, y), (dx, dy) = self.way(target)
        return (x + self.amount * dx, y + self.amount * dy)

    def own_handles(self) -> list[Handle]:
        """The pin."""
        if self.target is None:
            return []
        at = self._pin(self.target)
        words = f"{self.field_words} {show_length(self.amount, self.table.unit)}"
        return [Handle("amount", words, self.base(self.target.piece).to_table(at), at)]

    def nudge(self, key: str, dx: float, dy: float) -> None:
        """An arrow key moves the pin."""
        if key == "amount" and self.target is not None:
            way = self.base(self.target.piece).way_on_piece(dx, dy)
            self.set(self.amount + tapped(*way, self.way(self.target)[1]))

    def press(self, at: Pointer) -> bool:
        """Take hold of the pin, or of what is to be picked."""
        self._pressed = self._before = None
        if self.target is None:
            self._pressed = self.target_at(at)
            return self._pressed is not None
        holds = nearest_within(at.at, [handle.at for handle in self.own_handles()], at.reach) is not None
        self._before = self.amount if holds else None
        return holds

    def drag(self, at: Pointer) -> None:
        """The pin follows."""
        if self.target is None and self._pressed is not None:
            self.pick(self._pressed)
            self._before = self.amount
        if self.target is not None:
            start, way = self.way(self.target)
            here = self.base(self.target.piece).to_piece(at.at)
            self.set(ruled(along(here, start, way), self.table.unit, free=at.free))

    def key(self, key: Qt.Key, *, shift: bool) -> bool:
        """Digits begin an amount."""
        if key in BEGINS and self._field is not None:
            self._field.begin(chr(key.value))
            return True
        return super().key(key, shift=shift)

    def escape(self) -> bool:
        """Drop the drag; else pick something else."""
        if self._before is None:
            return super().escape()
        before, self._before = self._before, None
        self.set(before)
        return True

    def paint(self, painter: QPainter) -> None:
        """The amount beside the pin."""
        super().paint(painter)
        sheet = self.table.sheet(painter)
        for handle in self.own_handles():
            at, words = sheet.frame.point(handle.at), show_length(self.amount, self.table.unit)
            draw_words(painter, words, at, sheet.look, colour=self.table.theme.snap)


def _paths(piece: Piece, target: Target) -> list[Points]:
    """The outline of what is picked, in the piece's mm."""
    if target.kind == "edge":
        return [edge.points for edge in piece.edges if edge.name == target.name]
    if target.kind == "dart":
        found = [dart for dart in piece.darts if dart.name == target.name]
        return [as_points((dart.legs[0], dart.pivot, dart.legs[1])) for dart in found]
    return [edge.points for edge in piece.edges]

"""Truing: pick an edge or a dart, and choose how its line is drawn again."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QPushButton

from app.canvas.table import CuttingTable
from app.canvas.table_drawing import draw_chalk
from app.tools.pick_tool import PickTool, Target
from core.geometry.placement import gap
from core.geometry.tolerances import AT_PIVOT
from core.pieces.names import spoken
from core.steps.catalogue import AnyStep
from core.steps.true import DartBase, SmoothEdge, SmoothJoint, SquareCorner, Straighten, Truing, Way

ALIKE = 2
"""Two ways that differ in their numbers at most."""

JOINT_REACH = 30.0
"""A joint is smoothed over so much (mm) on both sides."""


class TrueTool(PickTool):
    """An edge is smoothed, straightened, squared or run smoothly into the next; a dart's base is cut for its fold."""

    wants = ("edge", "dart")
    ask = "Click the edge that is to be drawn true, or a dart whose base is."
    verb = "true"
    accept_words = "True"
    shows_paper = True
    keys = frozenset({Qt.Key.Key_G})

    def __init__(self, table: CuttingTable) -> None:
        super().__init__(table)
        self._ways: tuple[tuple[str, Way], ...] = ()
        self._buttons: tuple[QPushButton, ...] = ()
        self._index = 0

    def fill(self, step: AnyStep) -> None:
        """The edge or dart, drawn in the step's way, with the numbers that the step has."""
        assert isinstance(step, Truing)
        self.take(self._target_of(step))
        alike = [_likeness(way, step.way) for _, way in self._ways]
        at = alike.index(max(alike))
        words = self._ways[at][0] if alike[at] == ALIKE else step.way.words(self.table.unit).capitalize()
        self._ways = (*self._ways[:at], (words, step.way), *self._ways[at + 1 :])
        self._buttons[at].setText(words)
        self._buttons[at].setAccessibleName(words)
        self._choose(at)

    def _target_of(self, step: Truing) -> Target:
        """What a step trues. Refusal where it is there no more."""
        piece = self.garment.piece(step.piece)
        if isinstance(step.way, DartBase):
            return Target("dart", step.piece, piece.dart(step.way.dart).name)
        way = step.way
        name = way.edge if isinstance(way, (SmoothEdge, SquareCorner)) else way.edges[0]
        return Target("edge", step.piece, piece.edge(name).name)

    def picked(self, target: Target) -> None:
        """A button for each way."""
        assert self.slip is not None
        self._ways, self._index = self._ways_for(target), 0
        self._buttons = tuple(self.slip.button(words, key="G: the next") for words, _ in self._ways)
        for index, button in enumerate(self._buttons):
            button.setCheckable(True)
            button.clicked.connect(partial(self._choose, index))

    def shown(self) -> None:
        """The button of the way that is shown is held down."""
        for index, button in enumerate(self._buttons):
            button.setChecked(index == self._index)

    def _ways_for(self, target: Target) -> tuple[tuple[str, Way], ...]:
        name = target.name
        if target.kind == "dart":
            return (("Press to the centre", DartBase(name)), ("Press to the side", DartBase(name, pressed="side")))
        piece = self.garment.piece(target.piece)
        before, after = (edge.name for edge in piece.neighbours(name))
        smooth: tuple[str, Way] = (f"Smooth into the {spoken(after)}", SmoothJoint((name, after), JOINT_REACH))
        bust = piece.landmarks.get("bust_point")
        for joint, at_last in (((before, name), False), ((name, after), True)):
            corner = piece.edge(name).points[-1 if at_last else 0]
            if bust is not None and gap(corner, bust) <= AT_PIVOT:
                # Through the bust point a seam is rounded by adding paper, not by shaving (cutting.md 12).
                smooth = ("Round at the bust point", SmoothJoint(joint, JOINT_REACH, through=True))
        return (
            ("Smooth", SmoothEdge(name)),
            ("Straighten", Straighten((name,))),
            (f"Square to the {spoken(before)}", SquareCorner(name, before)),
            (f"Square to the {spoken(after)}", SquareCorner(name, after)),
            smooth,
        )

    def _choose(self, index: int, _: bool = False) -> None:
        self._index = index
        self.try_now()

    def step(self, target: Target) -> Truing:
        """The step in the way chosen."""
        return Truing(self.step_id("true"), target.piece, self._ways[self._index][1])

    def label(self, target: Target) -> str:
        """What undo calls it."""
        return f"True the {spoken(target.name)} of the {target.piece}"

    def key(self, key: Qt.Key, *, shift: bool) -> bool:
        """G goes on to the next way."""
        if key == Qt.Key.Key_G and self.target is not None:
            self._choose((self._index + 1) % len(self._ways))
            return True
        return super().key(key, shift=shift)

    def paint(self, painter: QPainter) -> None:
        """The line as it would be, over the line as it was."""
        super().paint(painter)
        item = self.table.scene.piece(self.target.piece) if self.target is not None else None
        if item is not None and self.trial is not None and not self.refusal:
            names = {edge.name: edge for edge in self.base(item.name).piece.edges}
            moved = [edge for edge in item.piece.edges if names.get(edge.name) is not edge]
            paths = [item.on_table(edge.points) for edge in moved]
            draw_chalk(self.table.sheet(painter), paths, colour=self.table.theme.chalk, wide=1.6)


def _likeness(way: Way, other: Way) -> int:
    """How much two ways are one: 2 but for their numbers, 1 of one kind, 0 not at all."""
    if type(way) is not type(other):
        return 0
    about = [getattr(way, name, None) == getattr(other, name, None) for name in ("edges", "beside", "pressed")]
    return ALIKE if all(about) else 1

"""What a pivot draws over the table: the legs and the pin, the way to where the dart goes, the shares sent before."""

from __future__ import annotations

import msgspec
from PySide6.QtCore import QPointF

from app.canvas.laid import Laid
from app.canvas.piece_drawing import Sheet
from app.canvas.table_drawing import draw_words
from app.theme import Theme
from app.tools.pivot_goals import Goal
from core.geometry.polyline import Point
from core.pieces.records import Dart
from core.steps.pivot import Receiver


class Turn(msgspec.Struct, frozen=True, eq=False):
    """A dart of a piece as it lies, the pin (in the piece's mm), where it goes, and the shares sent elsewhere.

    `turned` says how much of the angle is turned; "" while only the way is shown.
    """

    base: Laid
    dart: Dart
    pin: Point
    goal: Goal | None
    turned: str
    sent: tuple[tuple[Goal, Receiver], ...] = ()


def draw_turn(sheet: Sheet, turn: Turn, theme: Theme) -> None:
    """Legs and way in thin lines, each share and the goal in words; a dot for the pin once it turns."""
    painter, base = sheet.painter, turn.base
    for sent, receiver in turn.sent:
        place = sheet.frame.point(base.to_table(sent.at))
        draw_words(painter, f"{receiver.share:.0%}", place, sheet.look, colour=theme.snap)
    pin = sheet.frame.point(base.to_table(turn.pin))
    painter.setPen(sheet.look.inks.mark)
    if turn.goal is not None:
        end = sheet.frame.point(base.to_table(turn.goal.at))
        painter.drawLine(pin, end)
        draw_words(painter, turn.turned or turn.goal.words, end, sheet.look, colour=theme.snap)
    painter.setPen(sheet.look.inks.ghost)
    for leg in turn.dart.legs:
        painter.drawLine(pin, sheet.frame.point(base.to_table(leg)))
    if turn.turned:
        painter.setBrush(sheet.look.inks.style.color())
        painter.drawEllipse(QPointF(pin), 3.0, 3.0)

"""The order of work: where each of its stations leads."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from typing import Final

from app.actions.desk import Desk
from app.panels.stations import WORK
from core.steps.neckline import Neckline


def _into(name: str, desk: Desk) -> None:
    desk.wanted.emit(name)


def _tool(tool_id: str, desk: Desk) -> None:
    desk.take_tool(tool_id)


def _draw(desk: Desk) -> None:
    """The neckline comes first; the line where the sheer ends begins at it or under it."""
    has_neckline = any(isinstance(step, Neckline) for step in desk.session.design.steps)
    desk.take_tool("sheer-line" if has_neckline else "neckline")


def _look(desk: Desk) -> None:
    """The whole block in view."""
    desk.table.fit_all()
    desk.table.setFocus()
    desk.said.emit(WORK["draft"])


def _finish(desk: Desk) -> None:
    """Finishes are chosen for the piece that is taken up, so one is."""
    desk.take_tool("choose")
    if not desk.table.selection:
        desk.table.select(next(iter(desk.session.replay.garment.pieces), ""))
    desk.said.emit(WORK["finish"])


def _print(desk: Desk) -> None:
    desk.files.print()


WAYS: Final[Mapping[str, Callable[[Desk], None]]] = {
    "measure": partial(_into, "Measurements"),
    "draft": _look,
    "draw": _draw,
    "darts": partial(_tool, "pivot"),
    "panels": partial(_tool, "cut"),
    "match": partial(_into, "Seam table"),
    "finish": _finish,
    "print": _print,
}


def go_to(station: str, desk: Desk) -> None:
    """Go to where the work of a station is done."""
    WAYS[station](desk)

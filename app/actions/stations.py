"""The order of work: where each of its stations leads."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from typing import Final

from app.actions.desk import Desk


def _into(name: str, desk: Desk) -> None:
    desk.wanted.emit(name)


def _tool(tool_id: str, desk: Desk) -> None:
    desk.take_tool(tool_id)


def _everything(desk: Desk) -> None:
    desk.table.fit_all()
    desk.table.setFocus()


def _print(desk: Desk) -> None:
    desk.files.print()


WAYS: Final[Mapping[str, Callable[[Desk], None]]] = {
    "measure": partial(_into, "Measurements"),
    "draft": _everything,
    "draw": partial(_tool, "sheer-line"),
    "darts": partial(_tool, "pivot"),
    "panels": partial(_tool, "cut"),
    "match": partial(_into, "Seam table"),
    "finish": _everything,
    "print": _print,
}


def go_to(station: str, desk: Desk) -> None:
    """Go to where the work of a station is done."""
    WAYS[station](desk)

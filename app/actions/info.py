"""The records that menus, toolbar and the list of keys are made from."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TypeAlias

import msgspec
from PySide6.QtGui import QIcon, QKeySequence

from app.actions.desk import Desk
from app.theme import Theme

StandardKey: TypeAlias = QKeySequence.StandardKey


class Now(msgspec.Struct, frozen=True):
    """How an action stands at the moment. `text` replaces its own; `checked` None means that it is not checkable."""

    is_enabled: bool = True
    checked: bool | None = None
    text: str = ""


class ActionInfo(msgspec.Struct, frozen=True):
    """One action. `text` carries its access key after an ampersand; `keys` come after those of the desktop's own."""

    id: str
    text: str
    run: Callable[[Desk], None]
    keys: tuple[str, ...] = ()
    standard: StandardKey | None = None
    tip: str = ""
    now: Callable[[Desk], Now] | None = None
    icon: Callable[[Theme], QIcon] | None = None
    short: str = ""
    """What a button says in place of a long text, which begins with it."""

    @property
    def plain_text(self) -> str:
        """The text without its access key."""
        return self.text.replace("&", "")

    def shortcuts(self) -> list[QKeySequence]:
        """Every shortcut: the desktop's for the standard key, then our own where they differ."""
        found = QKeySequence.keyBindings(self.standard) if self.standard is not None else []
        for key in self.keys:
            sequence = QKeySequence(key)
            if sequence not in found:
                found.append(sequence)
        return found


class MenuInfo(msgspec.Struct, frozen=True):
    """One menu; None among its rows is a line. `fill` makes the rows anew each time the menu is shown."""

    text: str
    rows: tuple[ActionInfo | MenuInfo | None, ...] = ()
    fill: Callable[[Desk], Sequence[ActionInfo]] | None = None

    def actions(self) -> list[ActionInfo]:
        """All actions of the menu and of the menus in it, in order."""
        found: list[ActionInfo] = []
        for row in self.rows:
            if isinstance(row, MenuInfo):
                found += row.actions()
            elif row is not None:
                found.append(row)
        return found


def empty_row(row_id: str, text: str) -> ActionInfo:
    """A row that only says that there is nothing to choose from."""
    return ActionInfo(row_id, text, _nothing, now=_never)


def _nothing(_desk: Desk) -> None:
    pass


def _never(_desk: Desk) -> Now:
    return Now(is_enabled=False)

"""Menus and toolbar, made from the tables."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QObject, QSize, Qt
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QMainWindow, QMenu, QToolBar, QWidget

from app.actions.catalogue import MENUS, TOOLBAR
from app.actions.desk import Desk
from app.actions.info import ActionInfo, MenuInfo, Now
from app.session import Changed
from app.theme import Theme

ICON: Final = 20
"""Logical pixels of a picture on the toolbar."""
GAP: Final = 12
"""Logical pixels that a line between two groups takes, and the ends of a row."""


class TableAction(QAction):
    """An action of the table on its desk."""

    def __init__(self, info: ActionInfo, desk: Desk, parent: QObject) -> None:
        super().__init__(info.text, parent)
        self.info = info
        self.desk = desk
        self.setObjectName(info.id)
        self.setStatusTip(info.tip)
        self._letters: bool | None = None
        self.triggered.connect(self._run)
        self.refresh()

    def _tool_tip(self) -> str:
        keys = self.shortcut().toString()
        words = self.info.tip or self.info.plain_text
        return f"{words} ({keys})" if keys else words

    def _run(self) -> None:
        self.info.run(self.desk)
        # A checkable action that was chosen twice stays checked.
        self.refresh()

    def refresh(self) -> None:
        """Show how the action stands now."""
        if self._letters != self.desk.letters:
            self._letters = self.desk.letters
            keys = self.info.shortcuts()
            self.setShortcuts([key for key in keys if self._letters or len(key.toString()) > 1])
            self.setToolTip(self._tool_tip())
        now = self.info.now(self.desk) if self.info.now else Now()
        self.setEnabled(now.is_enabled)
        self.setCheckable(now.checked is not None)
        self.setChecked(bool(now.checked))
        self.setText(now.text or self.info.text)


class TableMenu(QMenu):
    """A menu whose rows are made when it is shown."""

    def __init__(self, info: MenuInfo, desk: Desk, parent: QWidget) -> None:
        super().__init__(info.text, parent)
        self.info = info
        self.desk = desk
        self.setToolTipsVisible(True)
        self.setAccessibleName(info.text.replace("&", ""))
        if info.fill:
            self.aboutToShow.connect(self._fill)

    def _fill(self) -> None:
        self.clear()
        if self.info.fill:
            self.addActions([TableAction(row, self.desk, self) for row in self.info.fill(self.desk)])


class Bars(QObject):
    """The menu bar and the toolbar of a window, following its desk."""

    def __init__(self, desk: Desk, window: QMainWindow) -> None:
        super().__init__(window)
        self.desk = desk
        self.actions: dict[str, TableAction] = {}
        for info in MENUS:
            window.menuBar().addMenu(self._menu(info, window))
        self.buttons: dict[str, QWidget] = {}
        self._window = window
        self._toolbars: list[QToolBar] = []
        self._rows: list[list[str | None]] = []
        self._is_filling = False
        self._fill([list(TOOLBAR)])
        desk.changed.connect(self.refresh)
        desk.session.changed.connect(self._follow)

    def _menu(self, info: MenuInfo, parent: QWidget) -> TableMenu:
        menu = TableMenu(info, self.desk, parent)
        for row in info.rows:
            if row is None:
                menu.addSeparator()
            elif isinstance(row, MenuInfo):
                menu.addMenu(self._menu(row, menu))
            else:
                self.actions[row.id] = TableAction(row, self.desk, self)
                menu.addAction(self.actions[row.id])
        return menu

    def _toolbar(self) -> QToolBar:
        bar = QToolBar("Tools", self._window)
        bar.setObjectName(f"tools-{len(self._toolbars)}")
        bar.setAccessibleName("Tools")
        bar.setMovable(False)
        bar.setContextMenuPolicy(Qt.ContextMenuPolicy.PreventContextMenu)
        bar.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        bar.setIconSize(QSize(ICON, ICON))
        self._window.addToolBar(bar)
        self._window.addToolBarBreak()
        return bar

    def fit(self, width: int) -> None:
        """Lay the buttons in as many rows as they need: a tool that cannot be seen is not there."""
        if self._is_filling:
            # A new row makes the window's least height grow, and Qt resizes it in the middle of the filling.
            return
        rows: list[list[str | None]] = [[]]
        room = width - GAP
        for id_ in TOOLBAR:
            needed = GAP if id_ is None else self.buttons[id_].sizeHint().width()
            if needed > room:
                rows.append([])
                room = width - GAP
            rows[-1].append(id_)
            room -= needed
        if rows != self._rows:
            self._fill(rows)

    def _fill(self, rows: list[list[str | None]]) -> None:
        self._rows, self._is_filling = rows, True
        while len(self._toolbars) < len(rows):
            self._toolbars.append(self._toolbar())
        for bar in self._toolbars:
            bar.clear()
        for bar, ids in zip(self._toolbars, [*rows, *([[]] * len(self._toolbars))], strict=False):
            bar.setVisible(bool(ids))
            for id_ in ids:
                if id_ is None:
                    bar.addSeparator()
                else:
                    self.buttons[id_] = self._button(bar, self.actions[id_])
        self._is_filling = False

    def _button(self, bar: QToolBar, action: TableAction) -> QWidget:
        # On the toolbar the name stays short while the menu names the act: Undo, and not Undo move of point 3.
        name = action.info.plain_text.rstrip("…")
        action.setIconText(action.info.short or name)
        bar.addAction(action)
        button = bar.widgetForAction(action)
        button.setAccessibleName(name)
        button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        return button

    def _follow(self, changed: Changed) -> None:
        if not changed.preview:
            self.refresh()

    def set_theme(self, theme: Theme) -> None:
        """Draw the tools' pictures in the theme's ink."""
        for action in self.actions.values():
            if action.info.icon is not None:
                action.setIcon(action.info.icon(theme))

    def refresh(self) -> None:
        """Show how every action stands now."""
        for action in self.actions.values():
            action.refresh()

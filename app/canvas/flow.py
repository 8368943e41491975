"""Small groups of widgets side by side, as a line of words is set: what finds no room goes on in the next line."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QLayout, QVBoxLayout, QWidget

SPACE = 6
"""Pixels between two widgets of a line."""


class Flow(QVBoxLayout):
    """Lines of groups; a group, as a field with its name before it, is never parted."""

    def __init__(self) -> None:
        super().__init__()
        self._groups: list[tuple[QWidget, ...]] = []
        self._begun: set[int] = set()
        self._lines: list[list[int]] = []

    def add(self, *widgets: QWidget) -> None:
        """Put a group at the end of the last line."""
        self._groups.append(widgets)
        if not self._lines or len(self._groups) - 1 in self._begun:
            self._lines.append([])
        self._lines[-1].append(len(self._groups) - 1)
        self._lay()

    def next_line(self) -> None:
        """Begin a new line with the next group, whatever room there is."""
        self._begun.add(len(self._groups))

    def spread(self, room: int) -> None:
        """Let every line hold as many groups as there is room for in pixels."""
        lines: list[list[int]] = []
        left = 0
        for index, group in enumerate(self._groups):
            needed = sum(widget.sizeHint().width() + SPACE for widget in group if not widget.isHidden())
            if not lines or index in self._begun or needed > left:
                lines.append([])
                left = room
            lines[-1].append(index)
            left -= needed
        if lines != self._lines:
            self._lines = lines
            self._lay()

    def _lay(self) -> None:
        while (item := self.takeAt(0)) is not None:
            _forget(item.layout())
        for line in self._lines:
            row = QHBoxLayout()
            row.setSpacing(SPACE)
            self.addLayout(row)
            for index in line:
                for widget in self._groups[index]:
                    row.addWidget(widget)
            row.addStretch(1)


def _forget(row: QLayout | None) -> None:
    """Take a line apart; its widgets stay."""
    if row is not None:
        while row.count():
            row.takeAt(0)
        row.deleteLater()

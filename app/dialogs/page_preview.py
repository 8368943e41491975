"""The pages of a print, one at a time, before it is printed: made from the very plan that is printed."""

from __future__ import annotations

from collections.abc import Iterator

from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from app.canvas.page_view import PageView
from app.dialogs.form import plain_button
from core.outputs.pages import Page, pages
from core.outputs.papers import live_box
from core.outputs.plan import Plan


class PagePreview(QWidget):
    """A page, two buttons, and which page it is."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.view = PageView(self)
        self.words = QLabel(self)
        self.words.setAccessibleName("Page shown")
        self.before = plain_button("Previous page", self)
        self.after = plain_button("Next page", self)
        self._plan: Plan | None = None
        self._made: Iterator[Page] = iter(())
        self._pages: list[Page] = []
        self.at = 0
        line = QHBoxLayout()
        for widget in (self.before, self.words, self.after):
            line.addWidget(widget)
        line.setStretch(1, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.view, 1)
        column.addLayout(line)
        self.before.clicked.connect(self._back)
        self.after.clicked.connect(self._on)
        self._show()

    def show_plan(self, plan: Plan | None) -> None:
        """Show the pages of another plan, or none; the place in the pages is kept where there is one."""
        self._plan, self._pages = plan, []
        self._made = iter(()) if plan is None else pages(plan)
        self.at = min(self.at, plan.count - 1) if plan is not None else 0
        self._show()

    def _back(self) -> None:
        self.at -= 1
        self._show()

    def _on(self) -> None:
        self.at += 1
        self._show()

    def _show(self) -> None:
        """Draw as many pages as have to be drawn to show this one: each takes some 20 ms."""
        plan = self._plan
        self.before.setEnabled(self.at > 0)
        self.after.setEnabled(plan is not None and self.at < plan.count - 1)
        if plan is None:
            self.words.setText("")
            self.view.clear()
            return
        while len(self._pages) <= self.at:
            self._pages.append(next(self._made))
        page, paper = self._pages[self.at], plan.paper
        name = "the map" if page.kind == "map" else page.label
        self.words.setText(f"Page {self.at + 1} of {plan.count}: {name}")
        self.view.show_page((paper.width, paper.height), page.drawing, live=live_box(paper), margin=page.margin)

"""A walk through the demo: the table shows the work as it grows, a slip says what was done there and with what."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import msgspec
from PySide6.QtCore import QObject, Signal

from app import settings
from app.canvas.slip import Slip
from app.canvas.table import CuttingTable
from app.session import Changed, Session
from core.design.replay import BLOCK


class Page(msgspec.Struct, frozen=True):
    """One stop of the walk: the step after which the work is shown ("" for all of it), and what is said of it."""

    after: str
    words: str


PAGES: Final[tuple[Page, ...]] = (
    Page(
        BLOCK,
        "Her block. It was drafted from the measurements at the left, front and back, each with its darts open. "
        "Change a measurement and everything you will see now follows.",
    ),
    Page(
        "pivot-1",
        "Pivot: the shoulder dart was turned into the waist dart about the bust point, so that nothing crosses the "
        "part that will be sheer. Take up Pivot, pick the dart, and drag the paper round its pin.",
    ),
    Page(
        "neckline-1",
        "Neckline: dragged lower at the front, wider on the shoulder. Front and back stay one line.",
    ),
    Page(
        "sheer-line-1",
        "Sheer line: where the net ends and the satin begins, drawn from the centre front to the armhole. Choose it "
        "later and drag its points; all that comes after goes with it.",
    ),
    Page(
        "cut-1",
        "Cut: along the sheer line and the princess line the front becomes numbered panels. A number stays with its "
        "panel, wherever the lines are moved.",
    ),
    Page("cut-2", "The back is cut in the same way, its two darts taken into the princess seam."),
    Page(
        "",
        "The cup lies behind what the net bares. Below stands every seam with both its lengths: a = says that they "
        "match. Where they do not, Trim makes them equal.",
    ),
    Page(
        "",
        "Print gives the pieces at true size with squares to check the printer by. This is an unsaved copy: try "
        "everything, undo takes it back. New, in the File menu, begins with your own client.",
    ),
)


class WalkThrough(QObject):
    """The walk while it is under way; anything else that is done to the design ends it."""

    wanted = Signal()
    """The offer was taken: open the demo, and start."""

    def __init__(self, session: Session, table: CuttingTable) -> None:
        super().__init__(table)
        self._session = session
        self._table = table
        self._slip: Slip | None = None
        self._at = 0
        session.changed.connect(self._follow)

    def offer(self) -> None:
        """Ask whether to be shown round."""
        slip = self._pin("Show me", "Not now", self.wanted.emit, self._decline)
        slip.ask("New here? Walk through a finished commission, from the tape to the pages, in eight short stops.")

    def _decline(self) -> None:
        settings.set_walked()
        self.end()
        self._table.say("The walk waits in the Help menu.")

    def start(self) -> None:
        """Show the first stop over the demo, which is open."""
        settings.set_walked()
        self._at = 0
        slip = self._pin("Next", "End the walk", self._next, self.end)
        self._back_button = slip.button("Back", key="Backspace")
        self._back_button.clicked.connect(self._back)
        self._show()

    def _pin(self, accept: str, drop: str, does: Callable[[], None], drops: Callable[[], None]) -> Slip:
        self.end()
        self._slip = Slip(self._table, accept=accept, drop=drop, does=does, drops=drops)
        return self._slip

    def end(self) -> None:
        """Take the slip away and show all of the work."""
        if self._slip is not None:
            self._slip.take_away()
            self._slip = None
            self._session.drop_preview()

    def _follow(self, changed: Changed) -> None:
        if changed.design and not changed.preview:
            self.end()

    def _next(self) -> None:
        self._at += 1
        if self._at >= len(PAGES):
            self.end()
        else:
            self._show()

    def _back(self) -> None:
        self._at = max(self._at - 1, 0)
        self._show()

    def _show(self) -> None:
        page = PAGES[self._at]
        if page.after:
            self._session.look_back(page.after)
        else:
            self._session.drop_preview()
        self._table.fit_all()
        if self._slip is not None:
            self._back_button.setEnabled(self._at > 0)
            self._slip.ask(f"{self._at + 1} of {len(PAGES)}. {page.words}")

"""The form beside the table: her figure from the tape, the line on it, and what it says about the line."""

from __future__ import annotations

from math import pi
from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from app.background import Progress, Work
from app.canvas.form_view import FormView
from app.panels.panel import Panel, TallList, button, sentence_label
from app.session import Changed, Session
from app.theme import Theme
from core.body.body import Body, complete
from core.form.figure import Choices
from core.form.shown import Fitter, Stand, stand_for
from core.form.words import CAUTION
from core.units import said_in

FROM: Final = {"Front": 0.0, "Three-quarter": -pi / 4.0, "Side": -pi / 2.0}

SHAPES: Final = {
    "fullness": {"above": "fuller above", "average": "evenly full", "below": "fuller below"},
    "profile": {"round": "round", "average": "medium", "pointed": "pointed"},
    "stance": {"upright": "upright", "average": "relaxed", "stooping": "forward"},
}
"""What the tape does not tell: the choice in words."""

WORKING: Final = "The form is being made from the measurements."


class FormPanel(Panel):
    """Hidden until it is asked for. Another body is worked out beside the window; a drag is followed at once."""

    def __init__(self, session: Session, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(session, theme, parent)
        self.setAccessibleName("The form and its numbers")
        self.view = FormView(theme, self)
        self.words = sentence_label(parent=self)
        self.words.setAccessibleName("What the form says")
        self.caution = sentence_label(CAUTION, self)
        self.buttons = [button(text, self, tip=f"Show her from this side: {text.lower()}.") for text in FROM]
        self.shapes = {name: self._shape(name) for name in SHAPES}
        self._work: Work | None = None
        self._made_of: tuple[Body, Choices] | None = None
        self._fitter: Fitter | None = None
        for each in self.buttons:
            each.clicked.connect(self._turn)
        self._lay_out()

    def _shape(self, name: str) -> QComboBox:
        box = QComboBox(self)
        box.setAccessibleName(name)
        box.setToolTip(f"The tape does not tell her {name}: choose what you see.")
        for value, words in SHAPES[name].items():
            box.addItem(words, value)
        box.setCurrentIndex(box.findData("average"))
        box.activated.connect(self._choose)
        return box

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(4, 4, 4, 4)
        row = QHBoxLayout()
        for each in self.buttons:
            row.addWidget(each)
        shapes = QHBoxLayout()
        for box in self.shapes.values():
            box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
            box.setMinimumContentsLength(6)
            shapes.addWidget(box, 1)
        column.addLayout(row)
        column.addWidget(self.view, 1)
        column.addLayout(shapes)
        page = TallList(self.words, self)
        page.setMinimumHeight(130)
        self.words.setAlignment(Qt.AlignmentFlag.AlignTop)
        column.addWidget(page)
        column.addWidget(self.caution)

    @property
    def choices(self) -> Choices:
        """The shape that is chosen."""
        chosen = {name: box.currentData() for name, box in self.shapes.items()}
        return Choices(**chosen)

    def set_shown(self, *, is_shown: bool) -> None:
        """Show the form, made of the measurements as they are now, or put it away."""
        part = self.parentWidget()
        if part is not None:
            part.setVisible(is_shown)
        self.refresh(Changed())

    @property
    def is_shown(self) -> bool:
        """Whether it is in sight, or would be with its window."""
        part = self.parentWidget()
        return part is not None and not part.isHidden()

    def refresh(self, changed: Changed) -> None:
        """Follow a drag; make the form anew where the body is another."""
        if not self.is_shown or not changed.design:
            return
        wanted = (self.session.shown.design.body, self.choices)
        if self._made_of is None or wanted[0] is not self._made_of[0] or wanted[1] != self._made_of[1]:
            self._make(wanted)
        elif self._fitter is not None:
            self._fit(self._fitter)

    def set_theme(self, theme: Theme) -> None:
        """Take other colours."""
        self.theme = theme
        self.view.set_theme(theme)

    def abandon(self) -> None:
        """End the work under way: the window closes."""
        if self._work is not None and self._work.is_running:
            self._work.abandon()

    # --- making and fitting

    def _make(self, wanted: tuple[Body, Choices]) -> None:
        """Work the form out beside the window; what was begun for another body is dropped."""
        self.abandon()
        self._made_of, self._fitter = wanted, None
        self.words.setText(WORKING)
        body, choices = wanted

        def task(_progress: Progress) -> Stand:
            return stand_for(complete(body), choices)

        self._work = Work(task, self)
        self._work.done.connect(self._made)
        self._work.refused.connect(self._refused)
        self._work.start()

    def _made(self, stand: Stand) -> None:
        self._fitter = Fitter(stand)
        self.view.show_stand(stand)
        self._fit(self._fitter)

    def _refused(self, sentence: str) -> None:
        self.view.show_stand(None)
        self.words.setText(said_in(sentence, self.session.design.unit))

    def _fit(self, fitter: Fitter) -> None:
        replay = self.session.shown
        garments = (replay.block, *(stage.garment for stage in replay.stages))
        laid = fitter.laid(garments, replay.design.ease, replay.design.unit)
        self.view.show_laid(laid)
        self.words.setText("\n".join(laid.sentences))

    def _choose(self) -> None:
        self.refresh(Changed())

    def _turn(self) -> None:
        sender = self.sender()
        if isinstance(sender, QPushButton):
            self.view.look_from(FROM[sender.text()])

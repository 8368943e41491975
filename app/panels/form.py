"""The form beside the table: her figure from the tape, the line on it, and what it says about the line."""

from __future__ import annotations

from collections.abc import Callable
from math import pi
from typing import Final

from msgspec.structs import replace
from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QSplitter, QVBoxLayout, QWidget

from app import settings
from app.background import Work
from app.canvas.form_scale import FormScale
from app.canvas.form_view import FormView
from app.panels.contour_offer import ContourOffer
from app.panels.form_choices import FormChoices
from app.panels.form_compare import NOW, FormCompare
from app.panels.panel import Panel, TallList, button, sentence_label
from app.panels.spoke_table import SpokeTable
from app.session import Changed, Session
from app.theme import Theme, ToneName
from core.body.body import Body, complete
from core.body.shape import SHAPES
from core.form.advice import Advice
from core.form.cloth import cloth_on
from core.form.cup import cup_fit, cup_fit_words
from core.form.shown import Fitter, Laid, Stand, garments_of, stand_for
from core.form.spokes import Spoke, spokes_on
from core.form.words import CAUTION
from core.progress import Progress
from core.steps.cup import Cup
from core.units import said_in

FROM: Final = {"Front": 0.0, "Three-quarter": -pi / 4.0, "Side": -pi / 2.0, "Back": -pi}

REST: Final = 150
"""Milliseconds without a change after which is worked out what a drag leaves alone: advice, cup, block and body."""

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
        self.choice = FormChoices(settings.tone(), self)
        self.choice.chosen.connect(self._choose)
        self.choice.edge_chosen.connect(self._choose_edge)
        self.choice.tones.chosen.connect(self._choose_tone)
        self.parts = sentence_label(parent=self)
        self.parts.setAccessibleName("What the form says of the parts of the line")
        self.cups = sentence_label(parent=self)
        self.cups.setAccessibleName("What the form says of the cup")
        self.scale = FormScale(theme, self)
        self.compare = FormCompare(theme, self)
        self.compare.changed.connect(self._compare)
        for view in (self.view, self.compare.view):
            view.turned.connect(self._turn_both)
            view.set_tone(settings.tone())
        self.offer = ContourOffer(self)
        self.offer.accepted.connect(self._take_in)
        self.spokes = SpokeTable(self)
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST)
        self._rest.timeout.connect(self._say_more)
        self._laid: Laid | None = None
        self._works: list[Work] = []
        self._made_of: Body | None = None
        self._fitter: Fitter | None = None
        for each in self.buttons:
            each.clicked.connect(self._turn)
        self._lay_out()

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(4, 4, 4, 4)
        row = QHBoxLayout()
        for each in self.buttons:
            row.addWidget(each)
        halves = QSplitter(Qt.Orientation.Vertical, self)
        halves.setChildrenCollapsible(False)
        halves.addWidget(self._pictures())
        halves.addWidget(TallList(self._page(), self))
        halves.setSizes([340, 240])
        column.addLayout(row)
        column.addWidget(halves, 1)
        column.addWidget(self.caution)

    def _pictures(self) -> QWidget:
        """The line that was kept, if one was, to the left of the line at hand; under both what their colours mean."""
        pictures = QWidget(self)
        column, row = QVBoxLayout(pictures), QHBoxLayout()
        column.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.compare.view, 1)
        row.addWidget(self.view, 1)
        column.addLayout(row, 1)
        column.addWidget(self.scale)
        return pictures

    def _page(self) -> QWidget:
        """What is read below the picture, and scrolled: what is wanted most comes first."""
        page = QWidget(self)
        column = QVBoxLayout(page)
        column.setContentsMargins(0, 0, 0, 0)
        for part in (self.words, self.offer, self.parts, self.compare, self.cups, self.choice, self.spokes):
            column.addWidget(part)
        column.addStretch(1)
        page.setMinimumHeight(130)
        return page

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
        body = self.session.shown.design.body
        self.choice.show_shape(body.shape)
        if self._made_of is None or not _are_alike(body, self._made_of):
            self._make(body)
        elif self._fitter is not None:
            self._fit(self._fitter)

    def set_theme(self, theme: Theme) -> None:
        """Take other colours."""
        self.theme = theme
        self.view.set_theme(theme)
        self.compare.view.set_theme(theme)
        self.scale.set_theme(theme)

    def abandon(self) -> None:
        """End the work under way: the window closes."""
        self._rest.stop()
        for view in (self.view, self.compare.view):
            view.abandon()
        for work in self._works:
            if work.is_running:
                work.abandon()

    # --- making and fitting

    def _make(self, body: Body) -> None:
        """Work the form out beside the window, and lay the design on it once, so that block and outline are known.

        What was begun for another body runs out by itself, and nobody waits for it.
        """
        self._made_of, self._fitter = body, None
        self._show_nothing(WORKING)
        self._start(lambda: stand_for(complete(body), body.shape))

    def _start(self, stand_of: Callable[[], Stand]) -> None:
        """Lay the design beside the window on a stand that is made there."""
        edge, shown = self.choice.edge, self.session.shown

        def task(progress: Progress) -> Fitter:
            fitter = Fitter(stand_of(), edge)
            progress(1, 2)
            fitter.laid(garments_of(shown), shown.design.ease, shown.design.unit)
            return fitter

        for begun in self._works:
            begun.cancel()
        work = Work(task, self)
        work.done.connect(self._made)
        work.refused.connect(self._refused)
        self._works = [*(begun for begun in self._works if begun.is_running), work]
        work.start()

    def _made(self, fitter: Fitter) -> None:
        if self.sender() is not self._works[-1]:
            return
        self._fitter = fitter
        if self.view.stand is not fitter.stand:
            self.view.show_stand(fitter.stand)
        self._fit(fitter)
        if fitter.edge != self.choice.edge:
            self._choose_edge()

    def _refused(self, sentence: str) -> None:
        if self.sender() is not self._works[-1]:
            return
        self.view.show_stand(None)
        self._show_nothing(said_in(sentence, self.session.design.unit))

    def _show_nothing(self, words: str) -> None:
        """Only a sentence, as there is no form to say more of."""
        self._laid = None
        self._rest.stop()
        self.words.setText(words)
        self.compare.show_nothing()
        self.cups.clear()
        self.parts.hide()
        self.offer.hide()
        self.spokes.hide()

    def _fit(self, fitter: Fitter) -> None:
        replay = self.session.shown
        self._laid = fitter.laid(garments_of(replay), replay.design.ease, replay.design.unit)
        self.view.show_laid(self._laid)
        first = len(self._laid.sentences) - len(self._laid.parts)
        self.words.setText("\n".join((*self._laid.sentences[:first], *self._laid.back.said)))
        self.parts.setText("\n".join(self._laid.sentences[first:]))
        self.parts.setVisible(bool(self._laid.parts))
        self.compare.show_now(fitter, self._laid, replay.design)
        if self.offer.button.hasFocus():
            self.view.setFocus()  # else the keyboard would go to what comes next, and the page would scroll there
        self.offer.withdraw()
        self._rest.start()

    # --- what follows once the hands rest

    def _say_more(self) -> None:
        """The contour that is advised, the cup, and block against body; nothing of it while a drag is under way."""
        laid, fitter = self._laid, self._fitter
        if laid is None or fitter is None or self.session.shown is not self.session.replay:
            return
        self.offer.setVisible(laid.cloth is not None)
        if laid.cloth is not None:
            self.offer.offer(self.session.replay, laid, fitter.edge)
        self.cups.setText("\n".join(self._cup_words(laid)))
        self.cups.setVisible(bool(self.cups.text()))
        self.spokes.show_spokes(self._spokes(fitter, laid), self.session.design.unit)

    def _cup_words(self, laid: Laid) -> tuple[str, ...]:
        steps = [stage.step for stage in self.session.replay.stages if isinstance(stage.step, Cup)]
        if laid.cloth is None or not steps:
            return ()
        plan = steps[-1].plan(self.session.replay.garment)
        return cup_fit_words(cup_fit(laid.cloth, plan), self.session.design.unit)

    def _spokes(self, fitter: Fitter, laid: Laid) -> tuple[Spoke, ...]:
        """Block less body over the hollow bridged, as a tape is laid, however the edge is to lie."""
        if laid.cloth is None:
            return ()
        if fitter.edge != "hollow":
            return spokes_on(laid.cloth)
        done = self.session.replay
        return spokes_on(cloth_on(fitter.stand.body, done.block, done.design.ease))

    def _take_in(self, advice: Advice) -> None:
        self.session.do(advice.label, advice.design)

    def _choose_edge(self) -> None:
        """Lay the line anew; the body with its hollow may have to be worked out first, beside the window."""
        if self._fitter is not None:
            stand = self._fitter.stand
            self._start(lambda: stand)

    def _compare(self) -> None:
        """Another variant was taken, or given up."""
        self.view.set_caption(NOW if self.compare.variant is not None else "")
        if self._fitter is not None:
            self._fit(self._fitter)

    def _choose(self) -> None:
        """Another shape, as an act: it goes into the file with her measurements, and onto the client's sheet."""
        design, shape = self.session.design, self.choice.shape
        for name, words in SHAPES.items():
            if (value := getattr(shape, name)) != getattr(design.body.shape, name):
                body = replace(design.body, shape=shape)
                self.session.do(f"{name.capitalize()} {words[value]}", replace(design, body=body))
                return

    def _choose_tone(self, tone: ToneName) -> None:
        settings.set_tone(tone)
        for view in (self.view, self.compare.view):
            view.set_tone(tone)

    def _turn(self) -> None:
        sender = self.sender()
        if isinstance(sender, QPushButton):
            self.view.look_from(FROM[sender.text()])

    def _turn_both(self) -> None:
        """The other of two forms turns with the one that was turned."""
        turned, other = self.view, self.compare.view
        if self.sender() is other:
            turned, other = other, turned
        if other.turn != turned.turn:
            other.look_from(turned.turn)


def _are_alike(one: Body, other: Body) -> bool:
    """Whether two bodies have one form, whatever they are called."""
    return one is other or (one.measurements, one.shape) == (other.measurements, other.shape)

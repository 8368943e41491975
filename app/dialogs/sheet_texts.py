"""What the user writes for the sheets: hours and prices, the making order in her own words, notes for the fitting."""

from __future__ import annotations

from typing import Final

from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QDialog,
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from app.session import Session
from core.design.sheets import Costing, CostLine, Sheets
from core.errors import Refusal
from core.outputs.making_order import making_order, making_text

LABEL: Final = "Write the sheets' texts"
MOST_HOURS, MOST_PRICE, LONGEST_CURRENCY = 10_000.0, 10_000.0, 12


class SheetTextsDialog(QDialog):
    """One form; OK takes all of it as one act, which undo takes back."""

    def __init__(self, session: Session, parent: QWidget) -> None:
        super().__init__(parent)
        self.session = session
        self.setWindowTitle("Costs, making order, notes")
        self.setAccessibleName("Costs, making order, notes")
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        costing = session.design.sheets.costing
        self.hours, self.hourly = QLineEdit(_shown(costing.hours), self), QLineEdit(_shown(costing.hourly), self)
        self.currency = QLineEdit(costing.currency, self)
        self.lines = QPlainTextEdit("\n".join(f"{line.words} {line.price:g}" for line in costing.lines), self)
        self.worked_out = self._worked_out()
        self.making = QPlainTextEdit(session.design.sheets.making or self.worked_out, self)
        self.anew = QPushButton("Work it out anew", self)
        self.fitting = QPlainTextEdit(session.design.sheets.fitting, self)
        self.sentence = QLabel(self)
        self._lay_out()

    def _worked_out(self) -> str:
        """The making order as it follows from the design, whatever she wrote before."""
        design = self.session.design
        bare = replace(design, sheets=replace(design.sheets, making=""))
        return making_text(making_order(self.session.replay.garment, bare))

    def _lay_out(self) -> None:
        form = QFormLayout()
        rows: tuple[tuple[str, QWidget], ...] = (
            ("&Hours of work", self.hours),
            ("&Paid an hour", self.hourly),
            ("&Currency", self.currency),
            ("&Bought besides cloth", self.lines),
            ("&Making order", self.making),
            ("", self.anew),
            ("Notes for the &fitting", self.fitting),
        )
        for text, widget in rows:
            if text:
                widget.setAccessibleName(text.replace("&", ""))
            form.addRow(text, widget)
        self.lines.setPlaceholderText("One a line, the price last: zip 40 cm 3.50")
        for box, height in ((self.lines, 70), (self.fitting, 90)):
            box.setMaximumHeight(height)
        for box in (self.lines, self.making, self.fitting):
            box.setTabChangesFocus(True)
        self.anew.setAccessibleName(self.anew.text())
        self.sentence.setAccessibleName("What is amiss")
        self.sentence.setWordWrap(True)
        self.sentence.setTextFormat(Qt.TextFormat.PlainText)
        buttons = QHBoxLayout()
        buttons.addWidget(self.sentence, 1)
        for words, act in (("OK", self._take), ("Cancel", self.reject)):
            button = QPushButton(words, self)
            button.setAccessibleName(words)
            button.clicked.connect(act)
            button.setDefault(words == "OK")
            buttons.addWidget(button)
        self.anew.setAutoDefault(False)
        self.anew.clicked.connect(self._work_out)
        column = QVBoxLayout(self)
        column.addLayout(form)
        column.addLayout(buttons)
        self.resize(720, 640)

    def _work_out(self) -> None:
        self.making.setPlainText(self.worked_out)

    def _take(self) -> None:
        """Keep what was written; an order left as it was worked out goes on following the design."""
        try:
            costing = Costing(
                _amount(self.hours.text(), "hours", MOST_HOURS),
                _amount(self.hourly.text(), "pay", MOST_PRICE),
                self.currency.text().strip()[:LONGEST_CURRENCY],
                tuple(_line(text) for text in self.lines.toPlainText().splitlines() if text.strip()),
            )
        except Refusal as refusal:
            self.sentence.setText(refusal.sentence)
            return
        making = self.making.toPlainText().strip()
        own = "" if making == self.worked_out.strip() else making[:10_000]
        design = self.session.design
        sheets = Sheets(costing, own, self.fitting.toPlainText().strip()[:10_000])
        if sheets != design.sheets:
            self.session.do(LABEL, replace(design, sheets=sheets))
        self.accept()


def _shown(amount: float) -> str:
    return f"{amount:g}" if amount else ""


def _amount(text: str, what: str, most: float) -> float:
    """A plain amount, with a point or a comma before the hundredths. Refusal for what is none."""
    words = text.strip().replace(",", ".")
    if not words:
        return 0.0
    if not words.replace(".", "", 1).isdecimal() or float(words) > most:
        raise Refusal(f"“{text.strip()}” is no amount for {what}: write a number up to {most:g}, such as 12.50.")
    return float(words)


def _line(text: str) -> CostLine:
    words, _, price = text.strip().rpartition(" ")
    if not words:
        raise Refusal(f"“{text.strip()}” has no price: write what is bought and then its price, such as zip 3.50.")
    return CostLine(words.strip()[:200], _amount(price, words.strip()[:40], MOST_PRICE))

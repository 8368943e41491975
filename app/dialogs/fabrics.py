"""The fabrics of a design: seen, altered, added and taken away; every value says where it is from."""

from __future__ import annotations

from typing import Final

from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QLineEdit, QWidget

from app.dialogs.form import FormDialog, fill, plain_label, take
from app.dialogs.measure_stretch import MeasureStretchDialog
from app.session import Session
from core.errors import Refusal
from core.fabrics.catalogue import ROLES, Fabric, OwnAllowances, named
from core.fabrics.shelf import source_of
from core.fabrics.table import added, altered, removed
from core.units import parse_length, show_as_meant

HOW: Final = (
    "Alter a fabric and apply. Values from the shelf say where they are from: replace them by what you measure on your "
    "own cloth. Mesh and net melt under a hot iron and flare near flame; the maker's label comes first."
)
LENGTHS: Final = {
    "usable_width": "&Width between selvedges",
    "allowance": "&Allowance on every edge",
    "seam": "Allowance on &seams",
    "hem": "Allowance on h&ems",
    "opening": "Allowance on &openings",
    "raw": "Allowance on ra&w edges",
}
KINDS: Final = ("seam", "hem", "opening", "raw")


class FabricsDialog(FormDialog):
    """Each button is one act that undo takes back."""

    def __init__(self, session: Session, fabric: str, parent: QWidget) -> None:
        super().__init__("Fabrics", parent)
        self.session = session
        self.sources: dict[str, QLabel] = {}
        self.fabric = self.choice("&Fabric", [])
        self.called = self.field("&Name")
        self.role = self.choice("&Role", ROLES)
        self.cloth = self.field("&Cloth")
        self.lengths: dict[str, QLineEdit] = {"usable_width": self._sourced("usable_width", "&Width between selvedges")}
        self.along = self._sourced("stretch_along", "Stretch a&long, %")
        self.across = self._sourced("stretch_across", "Stretch acr&oss, %")
        self.nap = self.tick("All pieces lie one wa&y (nap, shine)")
        self._source("nap")
        self.layers = self._sourced("layers", "&Layers cut")
        self.lengths["allowance"] = self._sourced("allowance", "&Allowance on every edge")
        for kind in KINDS:
            self.lengths[kind] = self.field(LENGTHS[kind])
        self.price = self.field("&Price of a metre")
        self.currency = self.field("C&urrency", letters=12)
        self.fabric.currentIndexChanged.connect(self._show)
        self.finish(
            (
                ("A&pply", self.apply),
                ("A&dd another", self.add),
                ("Remo&ve", self.remove),
                ("&Measure the stretch…", self.measure),
                ("Close", self.reject),
            ),
            scrolls=True,
        )
        self.resize(620, 620)
        self._list(fabric)
        self.say(HOW)

    def _sourced(self, field: str, words: str) -> QLineEdit:
        made = self.field(words)
        self._source(field)
        return made

    def _source(self, field: str) -> None:
        """A line under the field for where its value is from."""
        self.sources[field] = plain_label("", self.content)
        self.sources[field].setForegroundRole(self.foregroundRole())
        self.sources[field].setEnabled(False)
        self.form.addRow("", self.sources[field])

    # --- showing

    @property
    def fabrics(self) -> tuple[Fabric, ...]:
        """The design's table."""
        return self.session.design.fabrics

    def _chosen(self) -> Fabric:
        return named(self.fabrics, str(self.fabric.currentData()))

    def _list(self, chosen: str) -> None:
        self.fabric.blockSignals(True)
        fill(self.fabric, {fabric.name: fabric.words for fabric in self.fabrics})
        take(self.fabric, chosen)
        self.fabric.blockSignals(False)
        self._show()

    def _show(self) -> None:
        fabric, unit = self._chosen(), self.session.design.unit
        self.called.setText(fabric.name)
        take(self.role, fabric.role)
        self.cloth.setText(fabric.cloth)
        for name, field in self.lengths.items():
            value = getattr(fabric.allowances if name in KINDS else fabric, name)
            field.setText("" if value is None else show_as_meant(value, unit))
            field.setPlaceholderText("by the kind of edge" if name == "allowance" else "as the design has it")
        self.along.setText(f"{fabric.stretch_along:g}")
        self.across.setText(f"{fabric.stretch_across:g}")
        self.nap.setChecked(fabric.nap)
        self.layers.setText(str(fabric.layers))
        self.price.setText("" if fabric.price is None else f"{fabric.price:g}")
        self.currency.setText(fabric.currency)
        for field_name, label in self.sources.items():
            label.setText(source_of(fabric, field_name))

    def _used(self) -> set[str]:
        return {piece.fabric for piece in self.session.replay.garment.pieces.values()}

    # --- what is typed

    def _typed(self) -> Fabric:
        """The fabric as typed. Refusal for a text that is no length or number."""
        lengths = {name: self._length(name) for name in self.lengths}
        own = OwnAllowances(**{kind: lengths[kind] for kind in KINDS})
        return Fabric(
            name=" ".join(self.called.text().split()),
            role=ROLES[self.role.currentIndex()],
            cloth=self.cloth.text().strip(),
            usable_width=lengths["usable_width"] or 0.0,
            stretch_along=_number(self.along),
            stretch_across=_number(self.across),
            nap=self.nap.isChecked(),
            layers=int(_number(self.layers)),
            allowance=lengths["allowance"],
            allowances=own,
            price=_number(self.price) if self.price.text().strip() else None,
            currency=self.currency.text().strip(),
        )

    def _length(self, name: str) -> float | None:
        """The length in a field, None for an empty one."""
        text = self.lengths[name].text().strip()
        return parse_length(text, self.session.design.unit) if text else None

    def apply(self) -> None:
        """Write the fabric as typed into the table; what cannot be is said here."""
        try:
            fabric = self._typed()
            table = altered(self.fabrics, self._chosen().name, fabric, self._used())
        except Refusal as refusal:
            self.say(f"≠ {refusal.sentence}")
            return
        self._do(f"Fabric {fabric.name}", table, fabric.name)
        self.say(f"Done: {fabric.words}.")

    def add(self) -> None:
        """Add a copy of the fabric, to be called and altered."""
        table, new = added(self.fabrics, self._chosen().name)
        self._do(f"Add fabric {new.name}", table, new.name)
        self.called.setFocus()
        self.called.selectAll()
        self.say(f"{new.name.capitalize()} was added: give it a name and its own values, and apply.")

    def remove(self) -> None:
        """Take the fabric away; one that pieces are cut from stays, with why."""
        name = self._chosen().name
        try:
            table = removed(self.fabrics, name, self._used())
        except Refusal as refusal:
            self.say(f"≠ {refusal.sentence}")
            return
        self._do(f"Remove fabric {name}", table, table[0].name)
        self.say(f"{name.capitalize()} was removed.")

    def _do(self, label: str, table: tuple[Fabric, ...], chosen: str) -> None:
        if table != self.fabrics:
            self.session.do(label, replace(self.session.design, fabrics=table))
        self._list(chosen)

    def measure(self) -> None:
        """Measure the stretch; what is taken stands in the field until it is applied."""
        asked = MeasureStretchDialog(self._chosen().name, self.session.design.unit, self)
        asked.measured.connect(self._take_stretch)
        asked.setWindowModality(Qt.WindowModality.WindowModal)
        asked.open()

    def _take_stretch(self, direction: str, percent: float) -> None:
        field = self.along if direction == "along" else self.across
        field.setText(f"{percent:.0f}")
        self.apply()


def _number(field: QLineEdit) -> float:
    text = field.text().strip().rstrip("%").strip().replace(",", ".")
    try:
        number = float(text)
    except ValueError:
        raise Refusal(f"{field.accessibleName()}: “{field.text()}” is no number.") from None
    if number != number or abs(number) > 1e6:  # noqa: PLR0124 - not a number is what equals nothing, itself included
        raise Refusal(f"{field.accessibleName()}: “{field.text()}” is no number.")
    return number

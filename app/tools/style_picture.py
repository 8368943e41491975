"""The picture of the style: pins on a loose copy beside the pieces say where its landmarks are seen."""

from __future__ import annotations

from typing import Final

from msgspec.structs import replace
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter

from app.canvas.slip import Slip, SlipField
from app.canvas.table import CuttingTable
from app.canvas.table_drawing import draw_words
from app.canvas.tool import Handle, Pointer, Tool
from core.design.design import Design
from core.design.picture import FEWEST, PINNED, Pin, StylePicture, laid_picture
from core.errors import Refusal
from core.geometry.polyline import Point
from core.pieces.names import spoken
from core.units import show_length

BESIDE: Final = 60.0
"""mm between the pieces and the loose copy."""

NONE: Final = "There is no picture yet: choose one with File, Picture of the style."


class StylePictureTool(Tool):
    """One picture is in hand; its pins are dragged over the loose copy while the laid one follows on the block."""

    def __init__(self, table: CuttingTable) -> None:
        super().__init__(table)
        self._index = 0
        self._held = ""
        self._slip: Slip | None = None
        self._strength: SlipField | None = None

    # --- what is in hand

    @property
    def _picture(self) -> StylePicture | None:
        pictures = self.table.session.shown.design.pictures
        return pictures[min(self._index, len(pictures) - 1)] if pictures else None

    def _marks(self) -> dict[str, Point]:
        picture = self._picture
        return self.table.scene.block_marks(picture.piece) if picture is not None else {}

    def _corner_and_height(self) -> tuple[Point, float]:
        """Where the loose copy's top left corner lies on the table, and how tall it is, in mm."""
        _, low, right, high = self.table.scene.extent()
        return (right + BESIDE, high), high - low

    def begin(self) -> None:
        """Show the loose copy with its pins."""
        if self._picture is None:
            self.table.say(NONE)
            return
        self._index = len(self.table.session.design.pictures) - 1
        self._pin_slip()
        (x, _), height = self._corner_and_height()
        left, low, _, high = self.table.scene.extent()
        self.table.show_box((left, low, x + height * self.table.underlay.aspect(self._picture), high))
        self._report()

    def _pin_slip(self) -> None:
        self._slip = Slip(self.table, accept="Draw over it", drop="Lay it down", does=self.table.leave_tool)
        self._strength = self._slip.field(letters=6)
        self._strength.call("How strongly, in %")
        self._strength.meant.connect(self._type_strength)
        self._slip.button("Show or hide it", key="H").clicked.connect(self._toggle)
        self._slip.button("Another pin", key="+").clicked.connect(self._add_pin)
        self._slip.button("Front or back", key="B").clicked.connect(self._turn)
        self._slip.button("Take it away", key="Del").clicked.connect(self._take_away)

    def end(self) -> None:
        """Nothing uncommitted stays, and the slip goes."""
        if self._slip is not None:
            self._slip.take_away()
            self._slip = self._strength = None
        super().end()

    def follow(self) -> None:
        """The picture may have gone, or come back by undo."""
        if self._picture is None:
            if self._slip is not None:
                self._slip.take_away()
                self._slip = self._strength = None
        elif self._slip is None:
            self._pin_slip()
        self._report()

    def _report(self) -> None:
        """How well the pins fit, on the slip."""
        picture = self._picture
        if picture is None or self._slip is None or self._strength is None:
            return
        words = f"Drag each pin on the loose picture to where its landmark of the {picture.piece} is seen."
        try:
            laying = laid_picture(picture, self.table.underlay.aspect(picture), self._marks())
        except Refusal as refusal:
            words = refusal.sentence
        else:
            if laying is not None and len(picture.pins) > FEWEST:
                words += f" The pin that fits least is {show_length(laying.off, self.table.unit)} off."
        self._slip.ask(words)
        if not self._strength.hasFocus():
            self._strength.setText(f"{picture.strength * 100:.0f}")

    # --- altering it

    def _with(self, picture: StylePicture | None) -> Design:
        pictures = list(self.table.session.design.pictures)
        index = min(self._index, len(pictures) - 1)
        pictures[index : index + 1] = [picture] if picture is not None else []
        return replace(self.table.session.design, pictures=tuple(pictures))

    def _do(self, label: str, picture: StylePicture | None, *, tap: bool = False) -> None:
        self.table.commit(label, self._with(picture), tap=tap)

    def _type_strength(self, text: str) -> None:
        picture = self._picture
        try:
            share = float(text.strip().rstrip("%").replace(",", ".")) / 100.0
        except ValueError:
            share = -1.0
        if picture is None:
            return
        if not 0.0 <= share <= 1.0:
            self.table.say("Type how strongly the picture is seen as a number from 0 to 100.")
            return
        self._do("Fade the picture", replace(picture, strength=share))

    def _toggle(self) -> None:
        picture = self._picture
        if picture is not None:
            label = "Hide the picture" if picture.is_shown else "Show the picture"
            self._do(label, replace(picture, is_shown=not picture.is_shown))

    def _add_pin(self) -> None:
        picture = self._picture
        if picture is None:
            return
        used = {pin.landmark for pin in picture.pins}
        free = [name for name in PINNED[picture.piece] if name in self._marks() and name not in used]
        if not free:
            self.table.say("Every landmark of this block has its pin.")
            return
        self._do(f"Pin the {spoken(free[0])}", replace(picture, pins=(*picture.pins, Pin(free[0], 0.5, 0.5))))

    def _turn(self) -> None:
        picture = self._picture
        if picture is not None:
            now = "back" if picture.piece == "front" else "front"
            kept = tuple(pin for pin in picture.pins if pin.landmark in PINNED[now])
            self._do(f"Lay the picture on the {now}", replace(picture, piece=now, pins=kept))

    def _take_away(self) -> None:
        if self._picture is not None:
            self._do("Take the picture away", None)
            self.table.leave_tool()

    # --- the pins

    def _pin_place(self, pin: Pin) -> Point:
        (x, y), height = self._corner_and_height()
        picture = self._picture
        assert picture is not None
        return (x + pin.x * self.table.underlay.aspect(picture) * height, y - pin.y * height)

    def _moved(self, landmark: str, at: Point) -> StylePicture | None:
        """The picture with a pin at a place of the table, kept within the picture."""
        picture = self._picture
        if picture is None:
            return None
        (x, y), height = self._corner_and_height()
        across = (at[0] - x) / (height * self.table.underlay.aspect(picture))
        down = (y - at[1]) / height
        now = Pin(landmark, min(max(across, 0.0), 1.0), min(max(down, 0.0), 1.0))
        return replace(picture, pins=tuple(now if pin.landmark == landmark else pin for pin in picture.pins))

    def handles(self) -> list[Handle]:
        """The pins on the loose copy."""
        picture = self._picture
        if picture is None:
            return []
        return [
            Handle(pin.landmark, f"Pin of the {spoken(pin.landmark)}", place := self._pin_place(pin), place)
            for pin in picture.pins
        ]

    def press(self, at: Pointer) -> bool:
        """Take hold of a pin."""
        self._held = self.handle_at(at)
        return bool(self._held)

    def drag(self, at: Pointer) -> None:
        """The pin goes with the pointer, the laid picture follows."""
        picture = self._moved(self._held, at.at)
        if picture is not None:
            self.table.session.preview(self._with(picture))
            self._report()

    def drop(self, at: Pointer) -> None:
        """The pin stays there."""
        picture = self._moved(self._held, at.at)
        if picture is not None:
            self._do(f"Pin the {spoken(self._held)}", picture)
        self._held = ""

    def nudge(self, key: str, dx: float, dy: float) -> None:
        """An arrow key moves a pin."""
        picture = self._picture
        pin = next((pin for pin in picture.pins if pin.landmark == key), None) if picture else None
        if pin is not None:
            x, y = self._pin_place(pin)
            self._do(f"Pin the {spoken(key)}", self._moved(key, (x + dx, y + dy)), tap=True)

    def remove(self, key: str) -> None:
        """Delete takes a pin out, while enough are left."""
        picture = self._picture
        if picture is None:
            return
        if len(picture.pins) <= FEWEST:
            self.table.say(f"A picture is laid by at least {FEWEST} pins: move this one.")
            return
        kept = tuple(pin for pin in picture.pins if pin.landmark != key)
        self._do(f"Take out the {spoken(key)} pin", replace(picture, pins=kept))

    def key(self, key: Qt.Key, *, shift: bool) -> bool:
        """The letters on the slip."""
        acts = {
            Qt.Key.Key_H: self._toggle,
            Qt.Key.Key_Plus: self._add_pin,
            Qt.Key.Key_B: self._turn,
            Qt.Key.Key_Delete: self._take_away,
        }
        if key not in acts or self._picture is None:
            return False
        acts[key]()
        return True

    keys = frozenset({Qt.Key.Key_H, Qt.Key.Key_B})

    def escape(self) -> bool:
        """A pin that is held goes back."""
        was, self._held = bool(self._held), ""
        self.table.session.drop_preview()
        return was

    def paint(self, painter: QPainter) -> None:
        """The loose copy with the names of its pins."""
        picture = self._picture
        if picture is None:
            return
        sheet, (x, y), height = self.table.sheet(painter), *self._corner_and_height()
        wide = height * self.table.underlay.aspect(picture)
        box = QRectF(sheet.frame.point((x, y)), sheet.frame.point((x + wide, y - height)))
        painter.drawImage(box, self.table.underlay.image(picture))
        for pin in picture.pins:
            at = sheet.frame.point(self._pin_place(pin)) - QPointF(4.0, 22.0)
            draw_words(painter, spoken(pin.landmark), at, sheet.look, colour=self.table.theme.chalk)

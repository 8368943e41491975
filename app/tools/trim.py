"""Trimming: click a seam whose sides differ, then the end at which the longer side is cut back, or both sides share."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QPushButton

from app.canvas.hits import seam_at
from app.canvas.seam_marks import shown_edge
from app.canvas.slip import Slip
from app.canvas.table import CuttingTable
from app.canvas.table_drawing import draw_chalk
from app.canvas.tool import ENTER, Handle, Pointer
from app.tools.step_tool import StepTool
from core.checks.seam_rows import seam_row
from core.errors import Refusal
from core.geometry.polyline import Point, as_point
from core.pieces.names import spoken, spoken_in_full
from core.pieces.seams import Link, match
from core.steps.catalogue import AnyStep
from core.steps.trim import SideChoice, Trim, usual_end
from core.units import show_length

WAYS = (
    ("Cut the longer back", "the longer side is cut back"),
    ("Share it", "both sides share: half off the longer, half added to the shorter"),
    ("Add to the shorter", "the shorter side is added to"),
)
"""Which side changes, on its button and in the sentence; S goes from one to the next."""


class TrimTool(StepTool):
    """Handles stand at every seam that is not exact, then at the two ends of the one chosen."""

    cursor = Qt.CursorShape.PointingHandCursor
    keys = frozenset({Qt.Key.Key_S})

    def __init__(self, table: CuttingTable) -> None:
        super().__init__(table)
        self._seam = ""
        self._under = ""
        self._way = 0
        self._slip: Slip | None = None
        self._buttons: tuple[QPushButton, ...] = ()
        self._end = ""

    def fill(self, step: AnyStep) -> None:
        """The seam of the step, trimmed at its end, on the side that it changes."""
        assert isinstance(step, Trim)
        found = match(self.garment, self.garment.seam(step.seam))
        if not found.a or not found.b:
            raise Refusal(f"The seam {spoken_in_full(step.seam)} has lost a side.")
        shorter = "b" if found.difference > 0 else "a"
        self._let_go()
        self._way = 1 if step.side == "shared" else 2 if step.side == shorter else 0
        self._seam, self._end = step.seam, step.end
        self._pin_slip()
        self._show_end()
        self.table.focus_handle(f"end {found.seam.ends.index(step.end or usual_end(found.seam))} a")

    def _show_end(self) -> None:
        """Show the step that is altered at its end and on its side, or say why it cannot be."""
        if not self.show(self._step(self._end)):
            self.show_before()
        self.table.refresh()
        self.ask(self.refusal)

    def begin(self) -> None:
        """Say what differs."""
        off = self._differing()
        if not off:
            self.table.say("Every seam matches: there is nothing to trim.")
        else:
            words = ", ".join(spoken(name) for name in off)
            self.table.say(f"Click a seam that is out: {words}.")

    def _differing(self) -> list[str]:
        garment = self.garment
        rows = [seam_row(match(garment, seam)) for seam in garment.seams.values()]
        return [row.name for row in rows if row.verdict != "exact"]

    def follow(self) -> None:
        """The seam may be gone, or match now."""
        if self._seam not in self.garment.seams or self._seam not in self._differing():
            self._let_go()
        self._under = ""

    def end(self) -> None:
        """The slip goes with the tool."""
        self._let_go()
        super().end()

    # --- handles

    def handles(self) -> list[Handle]:
        """The seams that are out, or both ends of the one chosen on each of its sides."""
        if self._seam:
            return self._ends(self._seam)
        return [handle for name in self._differing() if (handle := self._middle(name)) is not None]

    def _middle(self, name: str) -> Handle | None:
        found = match(self.garment, self.garment.seam(name))
        chain = found.a or found.b
        if not chain:
            return None
        points = chain[0].points
        place = as_point(points[len(points) // 2])
        out = show_length(abs(found.difference), self.table.unit)
        at = self._on_table(chain[0], place)
        return Handle(f"seam {name}", f"Seam {spoken(name)}, {out} out", at, place, "choice", moves=False)

    def _ends(self, name: str) -> list[Handle]:
        found = match(self.garment, self.garment.seam(name))
        handles = []
        for side, chain in (("a", found.a), ("b", found.b)):
            for which, index in ((0, 0), (1, -1)):
                if chain:
                    place = as_point(chain[index].points[index])
                    words = f"Trim {spoken(name)} at the {spoken(found.seam.ends[which])}"
                    at = self._on_table(chain[index], place)
                    handles.append(Handle(f"end {which} {side}", words, at, place, "choice", moves=False))
        return handles

    def _on_table(self, link: Link, place: Point) -> Point:
        """A place of the flat piece as it lies: at the same edge where a dart of the piece is folded."""
        item = self.table.scene.piece(link.piece.name)
        if item is None:
            return place
        shown = shown_edge(item, link.edge) if item.folded else None
        if shown is not None:
            index = min(range(len(link.edge.points)), key=lambda i: abs(link.edge.points[i] - place).sum())
            place = as_point(shown.points[index if index < len(shown.points) else -1])
        return item.to_table(place)

    # --- the mouse and the keys

    def hover(self, at: Pointer) -> None:
        """Show which seam, or which end, a click would choose."""
        key = self.handle_at(at)
        before = self._under
        if self._seam:
            self.table.say(self._preview_words(key) if key else self._ask_words())
        else:
            hit = seam_at(self.garment, self.table.scene.laid, at.at, at.reach)
            self._under = key.removeprefix("seam ") if key else hit.seam.name if hit is not None else ""
            self.table.say(self._out_words(self._under) if self._under else "Click a seam that is out.")
        if before != self._under:
            self.table.update()

    def _out_words(self, name: str) -> str:
        found = match(self.garment, self.garment.seam(name))
        if name not in self._differing():
            return f"The seam {spoken(name)} matches: there is nothing to trim."
        longer = found.a if found.difference > 0 else found.b
        piece = longer[0].piece.name if longer else "one side"
        out = show_length(abs(found.difference), self.table.unit)
        return f"Seam {spoken(name)}: the {piece} is {out} too long. Click to choose where to trim it."

    def _preview_words(self, key: str) -> str:
        step = self._step(self.garment.seam(self._seam).ends[int(key.split()[1])])
        return f"{step.sentence(self.garment, self.table.unit)} Click to do it."

    def click(self, at: Pointer) -> None:
        """Choose a seam, then an end."""
        key = self.handle_at(at)
        if key:
            self.activate(key)
            return
        hit = seam_at(self.garment, self.table.scene.laid, at.at, at.reach)
        self.pick(hit.seam.name if hit is not None else "")

    def activate(self, key: str) -> None:
        """As a click on the handle."""
        if key.startswith("seam "):
            self.pick(key.removeprefix("seam "))
        else:
            seam = self.garment.seam(self._seam)
            self._choose_end(seam.ends[int(key.split()[1])], usual_end(seam))

    def _choose_end(self, end: str, usual: str) -> None:
        """Trim at an end; a step that is altered is shown there first, and kept when the end is chosen again."""
        if not self.altered:
            self._try(end)
        elif end == (self._end or usual):
            self.accept()
        else:
            self._end = end
            self._show_end()

    def _try(self, end: str) -> None:
        """Trim at an end of the seam in hand; what is refused is said on the slip, and the seam stays in hand."""
        if self.show(self._step(end)):
            self.keep(f"Trim the seam {spoken(self._seam)}")
        else:
            sentence = self.refusal
            self.put_back()
            self.ask(sentence)

    def accept(self) -> None:
        """The slip's button: trim at the end where it is usually done; or keep what was altered."""
        if not self.altered:
            if self._seam:
                self._try("")
        elif not self.refusal and self.keep(f"Trim the seam {spoken(self._seam)}"):
            self.table.tool_finished.emit()

    def pick(self, name: str) -> None:
        """Take a seam in hand, or say that it matches; "" takes none."""
        if name and name not in self._differing():
            self.table.say(self._out_words(name))
            return
        self._let_go()
        self._seam = name
        self.table.refresh()
        if name:
            self._pin_slip()
            self.ask("")
            self.table.focus_handle("end 1 a")

    def _pin_slip(self) -> None:
        seam = self.garment.seam(self._seam)
        slip = Slip(self.table, accept=self.accept_word(f"Trim at the {spoken(usual_end(seam))}"))
        self._buttons = tuple(slip.button(words, key="S: the next") for words, _ in WAYS)
        for index, button in enumerate(self._buttons):
            button.setCheckable(True)
            button.clicked.connect(partial(self._go, index))
        self._slip = slip

    def _let_go(self) -> None:
        self._seam, self._buttons = "", ()
        if self._slip is not None:
            self._slip.take_away()
            self._slip = None

    def _go(self, way: int, _: bool = False) -> None:
        self._way = way
        if self.altered:
            self._show_end()
        else:
            self.ask("")

    def ask(self, refusal: str) -> None:
        """Ask for the end in the way that is chosen, or say why it was refused."""
        for index, button in enumerate(self._buttons):
            button.setChecked(index == self._way)
        words = self.told() if self.altered and not refusal else self._ask_words()
        if self._slip is not None:
            self._slip.ask(refusal or words, can_accept=not (self.altered and refusal))
        self.table.say(refusal or self._ask_words())

    def _step(self, end: str) -> Trim:
        return Trim(self.step_id("trim"), self._seam, end, self._side(self._seam))

    def _side(self, name: str) -> SideChoice:
        """The side that changes, as it was chosen: the longer one, the shorter one, or both."""
        if self._way == 1:
            return "shared"
        found = match(self.garment, self.garment.seam(name))
        shorter: SideChoice = "b" if found.difference > 0 else "a"
        return shorter if self._way == 2 else "longer"

    def key(self, key: Qt.Key, *, shift: bool) -> bool:
        """S chooses which side changes, one choice after the other; Enter keeps what was altered."""
        if key in ENTER and self.altered:
            self.accept()
            return True
        if key != Qt.Key.Key_S or not self._seam:
            return False
        self._go((self._way + 1) % len(WAYS))
        return True

    def _ask_words(self) -> str:
        return f"Click the end at which {WAYS[self._way][1]}."

    def escape(self) -> bool:
        """Choose another seam; a step that was taken up to be altered is left as it was."""
        if self.altered:
            return False
        was = bool(self._seam)
        self._let_go()
        return was

    def paint(self, painter: QPainter) -> None:
        """Both sides of the seam in hand."""
        name = self._seam or self._under
        scene, theme = self.table.scene, self.table.theme
        if name in scene.garment.seams:
            paths = scene.seam_paths(scene.garment.seam(name))
            draw_chalk(self.table.sheet(painter), paths, colour=theme.selected, wide=3.0)

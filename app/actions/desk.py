"""What the actions act on: the session, the table with the tool in hand, and the window round them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from msgspec.structs import replace
from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QMainWindow, QWidget

from app import settings
from app.actions.arrangements import Arrangements
from app.actions.client import Client
from app.actions.files import Files
from app.actions.outputs import Outputs
from app.actions.recovery import Recovery
from app.actions.sewing import Sewing
from app.actions.style_picture import StylePictures
from app.actions.typed import Typed
from app.actions.walk_through import WalkThrough
from app.autosave import Autosave
from app.canvas.folding import fold, next_folds, turned
from app.canvas.pairs import Pairs
from app.canvas.slip import Slip
from app.canvas.table import CuttingTable
from app.canvas.tool import Tool
from app.session import Changed, Session
from app.theme import Theme, ThemeName
from app.tools.catalogue import TOOLS, tool_named
from core.errors import Refusal
from core.geometry.tolerances import TRIMMED
from core.pieces.records import Dart
from core.pieces.seams import match
from core.steps.catalogue import AnyStep
from core.steps.trim import Trim
from core.units import Unit

if TYPE_CHECKING:
    from app.panels.form import FormPanel

ZOOM_STEP: Final = 1.25

UNIT_NAMES: Final[dict[Unit, str]] = {"in": "Inches", "cm": "Centimetres", "mm": "Millimetres"}


class Desk(QObject):
    """The state of the window that is no part of the design: tool in hand, theme, what is folded."""

    tool_taken = Signal(str)
    theme_chosen = Signal()
    changed = Signal()
    """Something that a menu shows has changed, other than the design."""
    said = Signal(str)
    whole_asked = Signal()
    """All of what the status bar says is to be read."""
    in_hand = Signal(str)
    """The name of the tool that has just been taken up, and the step that it alters."""
    wanted = Signal(str)
    """A panel that the user wants to work in, by its accessible name."""

    def __init__(self, session: Session, table: CuttingTable, form_place: QWidget, window: QMainWindow) -> None:
        super().__init__(window)
        self.session = session
        self.table = table
        self.window = window
        self.arrangements = Arrangements(session, table, window)
        self.typed = Typed()
        self.files = Files(session, self.typed, window)
        self.autosave = Autosave(session, window)
        self.autosave.in_hand = self.typed.in_design
        self.recovery = Recovery(self.autosave, self.files, window)
        self.outputs = Outputs(session, self.typed, window)
        self.client = Client(session, self.typed, window)
        self.style_pictures = StylePictures(session, window)
        self.sewing = Sewing(session, table, window)
        self.walk = WalkThrough(session, table)
        self._form_place = form_place
        self._form: FormPanel | None = None
        self.theme: ThemeName | None = settings.theme()
        self.letters = settings.letters()
        self.tool_id = ""
        self._taken: Tool | None = None
        table.set_grid(is_on=settings.grid())
        self.files.said.connect(self.said)
        self.files.loose = self.loose
        self.autosave.said.connect(self.said)
        self.recovery.said.connect(self.said)
        self.outputs.said.connect(self.said)
        self.walk.wanted.connect(self.walk_through)
        self.style_pictures.taken.connect(self.pin_picture)
        table.tool_finished.connect(self.take_first_tool)
        table.tool_in_hand.connect(self._tool_in_hand)
        session.changed.connect(self._follow)
        table.selected.connect(self._piece_selected)

    # --- tools

    def take_tool(self, tool_id: str) -> None:
        """Take up a tool."""
        info = tool_named(tool_id)
        tool = info.make(self.table)
        tool.called, self._taken = info.name, tool
        self.table.set_tool(tool)
        self.tool_id = tool_id
        self.table.setFocus()
        self.tool_taken.emit(tool_id)
        self.changed.emit()
        # What the tool itself begins with, as that there is nothing for it yet, says more than what it is for.
        self.said.emit(self.table.said or info.hint)

    def _tool_in_hand(self, words: str) -> None:
        """A tool that was not taken from the toolbar or the menu alters what is there: none of those is held."""
        if self.table.tool is not self._taken:
            self.tool_id = ""
            self.changed.emit()
        self.in_hand.emit(words)

    def loose(self) -> str:
        """What is typed or shown on the table and is not in the design; "" for nothing."""
        from app.tools.step_tool import StepTool

        typed = [field for slip in self.table.findChildren(Slip) if slip.isVisible() for field in slip.pending()]
        if typed:
            return f"what is typed at “{typed[0].accessibleName()}”"
        tool = self.table.tool
        return f"what the tool {tool.called} shows" if isinstance(tool, StepTool) and tool.is_loose else ""

    def walk_through(self) -> None:
        """Open the demo, after asking where work would be lost, and walk through it."""
        self.files.unless_unsaved(self._begin_walk)

    def _begin_walk(self) -> None:
        self.files.open_demo()
        self.walk.start()

    def offer_walk(self) -> None:
        """Ask a newcomer once whether she would like to be shown round."""
        if not settings.has_walked():
            self.walk.offer()

    def set_letters(self, *, are_on: bool) -> None:
        """Let keys of one letter take up tools, or not: they can be struck by chance, or by dictation."""
        self.letters = are_on
        settings.set_letters(are_on=are_on)
        self.changed.emit()

    def take_first_tool(self) -> None:
        """Lay the tool down: the first of the catalogue, which takes up pieces, comes in its place."""
        self.take_tool(TOOLS[0].id)

    def pin_picture(self) -> None:
        """Take up the tool that lays a picture by its pins."""
        self.take_tool("style-picture")

    def begin_anew(self) -> None:
        """Another design lies on the table: nothing is held, nothing selected."""
        self.table.select("")
        self.take_first_tool()

    def look_back(self, step_id: str) -> None:
        """Show the garment as it was after the step that is selected in the list, while no tool is at work."""
        if self.tool_id != TOOLS[0].id or not step_id:
            return
        if self.session.look_back(step_id):
            count = len(self.session.replay.stages)
            self.said.emit(
                f"The table shows the work after step {self.session.looks_back} of {count}; "
                f"select the last step, or take up a tool, to see all of it."
            )

    def edit_step(self, step_id: str) -> None:
        """Take up the tool that alters a step which is there already, or show the form of what it holds."""
        from app.tools.editing import take_up

        step = self._step(step_id)
        if step is None:
            return
        try:
            is_taken = take_up(self.table, step)
        except Refusal as refusal:
            self.edit_by_numbers(step_id)
            self.said.emit(refusal.sentence)
            return
        if not is_taken:
            self.edit_by_numbers(step_id)

    def edit_by_numbers(self, step_id: str) -> None:
        """Show the form of the lengths, names and choices that a step holds."""
        from app.dialogs.edit_step import EditStepDialog
        from app.dialogs.step_fields import step_fields

        step = self._step(step_id)
        if step is None:
            return
        self.take_first_tool()
        if step_fields(step):
            EditStepDialog(self.session, step, self.window).open()
        else:
            self.said.emit(
                "There is nothing in this step to alter by numbers: press Edit, switch it off, or delete it."
            )

    def _step(self, step_id: str) -> AnyStep | None:
        return next((step for step in self.session.design.steps if step.id == step_id), None)

    def _follow(self, changed: Changed) -> None:
        """A tool that alters a step is laid down when the design changes under it, as by undo."""
        from app.tools.step_tool import StepTool

        tool = self.table.tool
        if changed.design and not changed.preview and isinstance(tool, StepTool) and tool.altered:
            self.take_first_tool()

    def walk_seam(self, seam: str) -> None:
        """Take up the tool that walks a seam, with this one in hand."""
        from app.tools.walk import WalkTool

        self.take_tool("walk")
        tool = self.table.tool
        if isinstance(tool, WalkTool):
            tool.pick(seam)

    def lay_seam_together(self, seam: str) -> None:
        """Take up the tool that lays pieces together, with this seam in hand."""
        from app.tools.lay_together import LayTogetherTool

        self.take_tool("lay-together")
        tool = self.table.tool
        if isinstance(tool, LayTogetherTool):
            tool.pick(seam)

    def lay_apart(self) -> None:
        """Lay all pieces that lie together apart again; a tool at work on them begins afresh."""
        self.take_tool(self.tool_id or TOOLS[0].id)
        self.table.lay_pairs(Pairs())
        self.said.emit("The pieces lie apart again.")
        self.changed.emit()

    def lay_in_order(self) -> None:
        """Lay every piece back where it belongs; a tool at work on them begins afresh."""
        self.take_tool(self.tool_id or TOOLS[0].id)
        self.table.lay_out_anew()
        self.changed.emit()

    def trim_seam(self, seam: str) -> None:
        """Make the two sides of a seam equal, at its usual end, or at the other where that one may not move."""
        design, garment = self.session.design, self.session.replay.garment
        if abs(match(garment, garment.seam(seam)).difference) <= TRIMMED:
            self.said.emit("Both sides of this seam are equal already.")
            return
        refusal = ""
        for end in ("", *garment.seam(seam).ends):
            step = Trim(design.fresh_id("trim"), seam, end=end)
            refused = self.session.preview(design.with_step(step))
            if refused is None:
                self._commit_trim(step)
                return
            refusal = refusal or refused.sentence
        self.session.drop_preview()
        self._try_trimming(seam, refusal)

    def _try_trimming(self, seam: str, refusal: str) -> None:
        """Take up the tool that trims, this seam in hand: the refusal's ways out are on its slip."""
        from app.tools.trim import TrimTool

        self.take_tool("trim")
        tool = self.table.tool
        if isinstance(tool, TrimTool):
            tool.pick(seam)
            tool.ask(refusal)

    def _commit_trim(self, step: Trim) -> None:
        words = step.sentence(self.session.replay.garment, self.session.design.unit).partition(":")[0]
        self.session.do(words, self.session.design.with_step(step))

    # --- view

    def _piece_selected(self, _piece: str) -> None:
        self.changed.emit()

    def darts(self) -> tuple[Dart, ...]:
        """The darts of the selected piece."""
        garment = self.session.shown.garment
        piece = garment.pieces.get(self.table.selection)
        return piece.darts if piece else ()

    def next_fold(self) -> tuple[str, ...]:
        """The darts that are folded next: each in turn, then all together, then none."""
        names = tuple(dart.name for dart in self.darts())
        return next_folds(names, self.table.scene.folded(self.table.selection))

    def fold_next(self) -> None:
        """Fold the next dart of the selected piece shut, at last all of them; then open them."""
        fold(self.table, self.table.selection, self.next_fold())
        self.changed.emit()

    def turn_fold(self, dart: str) -> None:
        """Fold one more dart of the selected piece shut, or open it."""
        turned(self.table, self.table.selection, dart)
        self.changed.emit()

    def set_unit(self, unit: Unit) -> None:
        """Show and print lengths in a unit: part of the design, so that undo takes it back."""
        design = self.session.design
        if design.unit != unit:
            settings.set_unit(unit)
            self.session.do(UNIT_NAMES[unit], replace(design, unit=unit))

    def show_preferences(self) -> None:
        """Ask how the window looks and what new designs begin with."""
        from app.dialogs.preferences import PreferencesDialog

        dialog = PreferencesDialog(self.window)
        dialog.theme_chosen.connect(self.set_theme)
        dialog.letters_chosen.connect(self._set_letters)
        dialog.grid_chosen.connect(self._set_grid)
        dialog.open()

    def _set_letters(self, are_on: bool) -> None:
        self.set_letters(are_on=are_on)

    def _set_grid(self, is_on: bool) -> None:
        settings.set_grid(is_on=is_on)
        self.table.set_grid(is_on=is_on)

    def set_theme(self, name: ThemeName | None) -> None:
        """Take other colours; None follows the desktop."""
        self.theme = name
        settings.set_theme(name)
        self.theme_chosen.emit()
        self.changed.emit()

    # --- the form

    @property
    def form(self) -> FormPanel:
        """The form and its numbers, made when they are first wanted."""
        if self._form is None:
            from app.actions.compare_file import CompareFile
            from app.panels.form import FormPanel
            from app.panels.panel import put_in_place

            self._form = FormPanel(self.session, self.table.theme, self._form_place)
            put_in_place(self._form)
            CompareFile(self._form.compare, self.window)
        return self._form

    @property
    def is_form_shown(self) -> bool:
        """Whether the form is in sight."""
        return self._form is not None and self._form.is_shown

    def turn_form(self) -> None:
        """Show the form beside the table, or put it away."""
        self.form.set_shown(is_shown=not self.is_form_shown)
        self.changed.emit()

    def dress_form(self, theme: Theme) -> None:
        """Show the form in other colours, if there is one."""
        if self._form is not None:
            self._form.set_theme(theme)

    def abandon_form(self) -> None:
        """End the work on the form: the window closes."""
        if self._form is not None:
            self._form.abandon()

    # --- history

    def undo(self) -> None:
        """Take the last act back."""
        self.session.undo()

    def redo(self) -> None:
        """Do again what was taken back."""
        self.session.redo()

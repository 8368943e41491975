"""Files: new, open, save, print, quit. Whatever would lose work asks first, and goes on when it has been answered."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Final

from msgspec.structs import replace
from PySide6.QtCore import QObject, QTimer, Signal
from PySide6.QtWidgets import QAbstractButton, QMainWindow, QMessageBox

from app import settings
from app.actions.typed import Typed
from app.dialogs.changed_file import KEEP_MINE, OPEN_COPY, OPEN_THEIRS, SAVE_AS, changed_box, open_elsewhere_box
from app.dialogs.choose_file import DESIGNS, file_name_for, open_dialog, save_dialog
from app.dialogs.sentence import tell
from app.dialogs.unsaved import not_kept_box, unsaved_box
from app.document_lock import DocumentLock, open_elsewhere
from app.session import Changed, ChangedOnDisk, Session
from core.design.design import Design, today
from core.errors import Refusal
from core.file.naming import shown_name
from core.file.reader import NewerSchema, read_design
from core.shipped import asset

SUFFIX: Final = ".sheer"
DEMO: Final = ("demo", "concert-bodice.sheer")

Deed = Callable[[], None]


def demo_design() -> Design:
    """The demo that is shipped. Refusal when the installation lacks it."""
    try:
        return read_design(asset(*DEMO))
    except FileNotFoundError as error:
        raise Refusal(str(error)) from error


def _nothing() -> None:
    pass


class Files(QObject):
    """Everything that the File menu does. `said` carries a sentence for the status line.

    What is half typed into a measurement counts as typed before anything is saved, printed or left. `loose` says what
    else is typed or shown and not in the design: a save says so, and leaving the design asks first.
    """

    said = Signal(str)

    def __init__(self, session: Session, typed: Typed, window: QMainWindow) -> None:
        super().__init__(window)
        self.session = session
        self.typed = typed
        self.window = window
        self._then: Deed = _nothing
        self._after_save: Deed = _nothing
        self._made: Design | None = None
        self.loose: Callable[[], str] = str
        self._wanted = Path()
        self._lock = DocumentLock()
        self._lock.hold(session.path)
        session.changed.connect(self._hold)

    def _hold(self, changed: Changed) -> None:
        if changed.file:
            self._lock.hold(self.session.path)

    def leave(self) -> None:
        """The window closes: the file is open here no more."""
        self._lock.release()

    @property
    def name(self) -> str:
        """What the open design is called: by its file, or by its own name while it has none."""
        path = self.session.path
        return shown_name(path) if path else self.session.design.name

    # --- beginning and opening

    def new(self) -> None:
        """Ask for a new client; the design in hand is left only when the new block is drafted."""
        from app.dialogs.new_design import NewDesignDialog

        dialog = NewDesignDialog(settings.unit(), self.window)
        dialog.made.connect(self._take_made)
        dialog.open()

    def _take_made(self, design: Design) -> None:
        self._made = design
        self.unless_unsaved(self._begin_made)

    def _begin_made(self) -> None:
        if self._made is not None:
            settings.set_unit(self._made.unit)
            self.session.begin(replace(self._made, paper=settings.paper()))
            self._made = None

    def same_style(self) -> None:
        """The style for another client, as a design of her own; the first one's file stays as it is."""
        from app.dialogs.another_client import AnotherClientDialog

        self.typed.commit()
        dialog = AnotherClientDialog(self.session, self.window, own=True)
        dialog.made.connect(self._take_style)
        dialog.open()

    def _take_style(self, design: Design) -> None:
        self._made = design
        self.unless_unsaved(self._begin_style)

    def _begin_style(self) -> None:
        if self._made is not None:
            self.session.begin(replace(self._made, date=today()), is_saved=False)
            self._made = None
            self.said.emit("Her design has no file yet: save it under a name of its own.")

    def open(self) -> None:
        """Ask which design to open."""
        self.unless_unsaved(self._ask_open)

    def _ask_open(self) -> None:
        dialog = open_dialog(self.window, settings.last_folder())
        dialog.fileSelected.connect(self._open_named)
        dialog.open()

    def _open_named(self, name: str) -> None:
        self._read(Path(name))

    def open_path(self, path: Path) -> None:
        """Open a file that was dropped or chosen among the recent ones."""
        self._wanted = path
        self.unless_unsaved(self._open_wanted)

    def open_later(self, path: Path) -> None:
        """Open a file as soon as the window is there to ask about it."""
        self._wanted = path
        QTimer.singleShot(0, self._open_wanted)

    def _open_wanted(self) -> None:
        self._read(self._wanted)

    def _read(self, path: Path) -> None:
        where = open_elsewhere(path)
        if where:
            self._wanted = path
            box = open_elsewhere_box(self.window, shown_name(path), where)
            box.buttonClicked.connect(self._answered_elsewhere)
            box.open()
            return
        try:
            self.session.open(path)
        except NewerSchema as newer:
            self._show_newer(newer)
            return
        except Refusal as refusal:
            tell(self.window, refusal.sentence)
            return
        self._remember(path)
        self.said.emit(f"{shown_name(path)} is open.")

    def _answered_elsewhere(self, button: QAbstractButton) -> None:
        if button.text() == OPEN_COPY:
            try:
                self.session.begin(read_design(self._wanted))
            except Refusal as refusal:
                tell(self.window, refusal.sentence)

    def _show_newer(self, newer: NewerSchema) -> None:
        """Show what a newer Sheerwright saved, where every word of it is known here; its file is never written over."""
        if newer.design is None:
            tell(self.window, newer.sentence)
            return
        try:
            self.session.begin(newer.design)
        except Refusal as refusal:
            tell(self.window, refusal.sentence)
            return
        tell(
            self.window,
            f"This design was saved by a newer Sheerwright (file schema {newer.schema}; this one knows {newer.known}). "
            "It is shown to read: its file is not written to, and what you alter is saved under another name.",
        )

    def open_demo(self) -> None:
        """Show the demo as an unsaved copy."""
        self.unless_unsaved(self._begin_demo)

    def _begin_demo(self) -> None:
        try:
            self.session.begin(demo_design())
        except Refusal as refusal:
            tell(self.window, refusal.sentence)

    def _remember(self, path: Path) -> None:
        settings.add_recent(path)
        settings.set_last_folder(path.absolute().parent)

    # --- saving

    def save(self) -> None:
        """Save to the design's file; where it has none yet, ask for one."""
        self._save_then(_nothing)

    def _save_then(self, then: Deed) -> None:
        self.typed.commit()
        if self.session.path is None:
            self._ask_save(then)
        else:
            self._write(self.session.path, then)

    def save_as(self) -> None:
        """Ask where to save."""
        self.typed.commit()
        self._ask_save(_nothing)

    def _ask_save(self, then: Deed) -> None:
        self._after_save = then
        here = self.session.path or settings.last_folder() / file_name_for(self.session.design.name, "sheer")
        dialog = save_dialog(self.window, here, title="Save the design", kind=DESIGNS, suffix="sheer")
        dialog.fileSelected.connect(self._save_named)
        dialog.open()

    def _save_named(self, name: str) -> None:
        self._write(Path(name), self._after_save)

    def _write(self, path: Path, then: Deed, *, over: bool = False) -> None:
        try:
            self._refuse_elsewhere(path)
            self.session.save(path, over=over)
        except ChangedOnDisk:
            self._ask_changed(then)
            return
        except Refusal as refusal:
            tell(self.window, refusal.sentence)
            return
        self._remember(path)
        self.said.emit(f"{shown_name(path)} is saved{self._but()}.")
        then()

    def _refuse_elsewhere(self, path: Path) -> None:
        where = open_elsewhere(path)
        if where:
            raise Refusal(f"{shown_name(path)} is open {where}: save under another name, or close it there.")

    def _ask_changed(self, then: Deed) -> None:
        self._after_save = then
        box = changed_box(self.window, self.name)
        box.buttonClicked.connect(self._answered_changed)
        box.open()

    def _answered_changed(self, button: QAbstractButton) -> None:
        path, words = self.session.path, button.text()
        if path is None:
            return
        if words == KEEP_MINE:
            self._write(path, self._after_save, over=True)
        elif words == OPEN_THEIRS:
            self._read(path)
        elif words == SAVE_AS:
            self._ask_save(self._after_save)

    def _but(self) -> str:
        """What is typed or shown and not in the design."""
        names, loose = self.typed.untaken, self.loose()
        refused = f", but not what is typed at {' and '.join(names)}: that was refused" if names else ""
        return refused + (f", but not {loose}: that is not kept yet" if loose else "")

    # --- asking before work is lost

    def unless_unsaved(self, then: Deed) -> None:
        """Do a deed that leaves the design in hand, at once or when the question about its changes is answered."""
        self.typed.commit()
        self._then = then
        names, loose = self.typed.untaken, self.loose()
        if names or loose:
            box = not_kept_box(self.window, loose or f"what is typed at {' and '.join(names)}")
            box.finished.connect(self._answered_loose)
            box.open()
        else:
            self._unless_dirty()

    def _answered_loose(self, button: int) -> None:
        if button == QMessageBox.StandardButton.Ignore:
            self._unless_dirty()

    def _unless_dirty(self) -> None:
        if not self.session.is_dirty:
            then, self._then = self._then, _nothing
            then()
            return
        box = unsaved_box(self.window, self.name)
        box.finished.connect(self._answered)
        box.open()

    def _answered(self, button: int) -> None:
        then, self._then = self._then, _nothing
        if button == QMessageBox.StandardButton.Save:
            self._save_then(then)
        elif button == QMessageBox.StandardButton.Discard:
            then()

    # --- printing and leaving

    def print(self) -> None:
        """Ask how to print, and print."""
        from app.dialogs.print_pages import PrintDialog

        self.typed.commit()
        path = self.session.path
        folder = path.absolute().parent if path else settings.last_folder()
        dialog = PrintDialog(self.session.replay, folder, self.window, design_path=path)
        dialog.printed.connect(self.said)
        dialog.open()

    def quit(self) -> None:
        """Close the window, which asks about unsaved work."""
        self.window.close()


def dropped_design(names: list[str]) -> Path | None:
    """The one design among dropped files, if there is just one."""
    paths = [Path(name) for name in names if name.casefold().endswith(SUFFIX)]
    return paths[0] if len(paths) == 1 else None

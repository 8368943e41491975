"""The menu of files: opening and saving, and all that is written of a design."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from pathlib import Path
from typing import Final

from app import settings
from app.actions.desk import Desk
from app.actions.info import ActionInfo, MenuInfo, StandardKey, empty_row
from app.actions.lay import open_lay


def _recent(_desk: Desk) -> Sequence[ActionInfo]:
    """A row a recent file: numbered, with its folder, since two may have one name."""
    rows = []
    for number, path in enumerate(settings.recent_files(), start=1):
        name = path.name.replace("&", "&&")
        rows.append(ActionInfo(f"recent-{number}", f"&{number}  {name}", partial(_open_path, path), tip=str(path)))
    return rows or [empty_row("recent-none", "No file yet")]


def _open_path(path: Path, desk: Desk) -> None:
    desk.files.open_path(path)


def _write(output_id: str, desk: Desk) -> None:
    desk.outputs.ask(output_id)


SHEETS: Final = (
    ActionInfo(
        "work-sheet",
        "&Work sheet…",
        partial(_write, "work-sheet"),
        tip="Cutting list, materials, costs and the making order.",
    ),
    ActionInfo("client-sheet", "&Client sheet…", partial(_write, "client-sheet"), tip="Measurements, where to pin."),
    ActionInfo("lesson", "&Lesson…", partial(_write, "lesson"), tip="Every step a picture and its sentence."),
    None,
    ActionInfo(
        "sheet-texts", "C&osts, making order, notes…", lambda d: d.outputs.texts(), tip="What you write for the sheets."
    ),
)

FILE: Final = MenuInfo(
    "&File",
    (
        ActionInfo("new", "&New…", lambda d: d.files.new(), standard=StandardKey.New, tip="A new client."),
        ActionInfo(
            "same-style",
            "The same style for another &client…",
            lambda d: d.files.same_style(),
            tip="A design of her own in this style; the first client's file stays as it is.",
        ),
        ActionInfo("open", "&Open…", lambda d: d.files.open(), standard=StandardKey.Open, tip="Open a saved design."),
        MenuInfo("&Recent", fill=_recent),
        ActionInfo(
            "recover", "Reco&ver work…", lambda d: d.recovery.ask(), tip="Work not saved when the program ended."
        ),
        ActionInfo("demo", "Open the &demo", lambda d: d.files.open_demo(), tip="An unsaved copy of the demo."),
        None,
        ActionInfo("save", "&Save", lambda d: d.files.save(), standard=StandardKey.Save, tip="Save the design."),
        ActionInfo("save-as", "Save &as…", lambda d: d.files.save_as(), keys=("Ctrl+Shift+S",), tip="Save elsewhere."),
        None,
        ActionInfo(
            "style-picture-file",
            "Picture of the st&yle…",
            lambda d: d.style_pictures.choose(),
            tip="Lay a photograph or sketch over the block, to draw over it.",
        ),
        None,
        ActionInfo(
            "print", "&Print…", lambda d: d.files.print(), standard=StandardKey.Print, tip="Pages at true size."
        ),
        MenuInfo("S&heets", SHEETS),
        ActionInfo("export", "&Export pieces…", partial(_write, "export"), tip="SVG or DXF at true size."),
        ActionInfo(
            "projector", "Pro&jector…", lambda d: d.outputs.project(), tip="The pieces at true size, for a beam."
        ),
        ActionInfo("lay", "&Lay plan…", open_lay, keys=("Ctrl+L",), tip="How much of each fabric, and how it is laid."),
        None,
        ActionInfo("quit", "&Quit", lambda d: d.files.quit(), standard=StandardKey.Quit, keys=("Ctrl+Q",)),
    ),
)

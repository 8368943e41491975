"""Every action of the window, menu by menu. Menus, toolbar and the list of keys are all made from these tables."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import Final, get_args

from app.actions.access_keys import with_access_keys
from app.actions.desk import UNIT_NAMES, ZOOM_STEP, Desk
from app.actions.file_menu import FILE
from app.actions.help_pages import about, keys, promise, safety, the_form
from app.actions.info import ActionInfo, MenuInfo, Now, StandardKey, empty_row
from app.theme import ThemeName
from app.tools.catalogue import TOOLS, ToolInfo, ToolMenu
from core.geometry.margins import EndKind
from core.pieces.names import spoken
from core.units import Unit

# --- edit


def _undo_now(desk: Desk) -> Now:
    label = desk.session.history.undo_label
    return Now(is_enabled=bool(label), text=f"&Undo {_lowered(label)}" if label else "")


def _redo_now(desk: Desk) -> Now:
    label = desk.session.history.redo_label
    return Now(is_enabled=bool(label), text=f"&Redo {_lowered(label)}" if label else "")


def _lowered(label: str) -> str:
    return (label[:1].lower() + label[1:]).replace("&", "&&")


EDIT: Final = MenuInfo(
    "&Edit",
    (
        ActionInfo(
            "undo",
            "&Undo",
            Desk.undo,
            standard=StandardKey.Undo,
            keys=("Ctrl+Z",),
            now=_undo_now,
            tip="Take the last act back; grey while nothing was done.",
        ),
        ActionInfo(
            "redo",
            "&Redo",
            Desk.redo,
            standard=StandardKey.Redo,
            keys=("Ctrl+Shift+Z", "Ctrl+Y"),
            now=_redo_now,
            tip="Do again what was taken back; grey while nothing was.",
        ),
        None,
        ActionInfo(
            "preferences",
            "&Preferences…",
            lambda d: d.show_preferences(),
            standard=StandardKey.Preferences,
            keys=("Ctrl+,",),
            tip="Units, paper, colours, keys.",
        ),
    ),
)

# --- view


def _unit_now(unit: Unit, desk: Desk) -> Now:
    return Now(checked=desk.session.design.unit == unit)


def _set_unit(unit: Unit, desk: Desk) -> None:
    desk.set_unit(unit)


def _unit(unit: Unit, text: str) -> ActionInfo:
    run, now = partial(_set_unit, unit), partial(_unit_now, unit)
    return ActionInfo(f"unit-{unit}", text, run, now=now, tip=f"Show and print lengths in {UNIT_NAMES[unit].lower()}.")


def _theme_now(name: ThemeName | None, desk: Desk) -> Now:
    return Now(checked=desk.theme == name)


def _set_theme(name: ThemeName | None, desk: Desk) -> None:
    desk.set_theme(name)


def _theme(name: ThemeName | None, text: str) -> ActionInfo:
    return ActionInfo(
        f"theme-{name or 'system'}", text, partial(_set_theme, name), now=partial(_theme_now, name), tip="Colours."
    )


def _fold_now(desk: Desk) -> Now:
    piece, wanted = desk.table.selection, desk.next_fold()
    if not desk.darts():
        return Now(is_enabled=False, text="&Fold a dart of the selected piece")
    names = spoken(wanted[0]) if len(wanted) == 1 else "all darts"
    return Now(text=f"&Fold {names} of {piece}" if wanted else f"&Open the darts of {piece}")


def _fold_rows(desk: Desk) -> Sequence[ActionInfo]:
    """A row a dart of the selected piece, ticked while it is folded: any of them can be shut together."""
    names = [dart.name for dart in desk.darts()]
    texts = with_access_keys([spoken(name).capitalize() for name in names])
    rows = [
        ActionInfo(f"fold-{name}", text, partial(_turn_fold, name), now=partial(_dart_now, name))
        for name, text in zip(names, texts, strict=True)
    ]
    return rows or [empty_row("fold-none", "No open dart on a selected piece")]


def _turn_fold(dart: str, desk: Desk) -> None:
    desk.turn_fold(dart)


def _dart_now(dart: str, desk: Desk) -> Now:
    return Now(checked=dart in desk.table.scene.folded(desk.table.selection))


def _apart_now(desk: Desk) -> Now:
    return Now(is_enabled=bool(desk.table.scene.together))


def _form_now(desk: Desk) -> Now:
    return Now(checked=desk.is_form_shown)


VIEW: Final = MenuInfo(
    "&View",
    (
        ActionInfo(
            "zoom-in",
            "&Nearer",
            lambda d: d.table.zoom_by(ZOOM_STEP),
            standard=StandardKey.ZoomIn,
            keys=("Ctrl++", "Ctrl+="),
        ),
        ActionInfo(
            "zoom-out",
            "&Farther",
            lambda d: d.table.zoom_by(1 / ZOOM_STEP),
            standard=StandardKey.ZoomOut,
            keys=("Ctrl+-",),
        ),
        ActionInfo("fit", "&Everything", lambda d: d.table.fit_all(), keys=("Ctrl+0",), tip="Show all pieces."),
        ActionInfo(
            "true-size", "&True size", lambda d: d.table.true_size(), keys=("Ctrl+1",), tip="As large as it will be."
        ),
        ActionInfo(
            "lay-anew",
            "&Lay the pieces in order",
            lambda d: d.lay_in_order(),
            tip="Lay the pieces that were dragged aside or laid together back where they belong.",
        ),
        ActionInfo(
            "lay-apart",
            "Lay a&part",
            lambda d: d.lay_apart(),
            keys=("Ctrl+Shift+A",),
            now=_apart_now,
            tip="Lay the pieces that lie together at a seam apart again.",
        ),
        None,
        ActionInfo(
            "whole-sentence",
            "&Whole sentence of the status bar",
            lambda d: d.whole_asked.emit(),
            keys=("F2",),
            tip="Read what is too long for the bar.",
        ),
        ActionInfo("form", "The for&m", Desk.turn_form, now=_form_now, tip="Her figure from the tape, the line on it."),
        ActionInfo("fold", "F&old a dart", Desk.fold_next, keys=("Ctrl+D",), now=_fold_now),
        MenuInfo("&Darts folded shut", fill=_fold_rows),
        None,
        MenuInfo("&Unit", tuple(_unit(unit, f"&{name}") for unit, name in UNIT_NAMES.items())),
        MenuInfo(
            "&Colours",
            (
                _theme(None, "&As the desktop"),
                _theme("light", "&Light"),
                _theme("dark", "&Dark"),
                _theme("contrast", "&High contrast"),
            ),
        ),
    ),
)

# --- tools


def _take(tool_id: str, desk: Desk) -> None:
    desk.take_tool(tool_id)


def _tool_now(tool_id: str, desk: Desk) -> Now:
    return Now(checked=desk.tool_id == tool_id)


def _tool(info: ToolInfo, text: str) -> ActionInfo:
    run, now = partial(_take, info.id), partial(_tool_now, info.id)
    keys, tip, icon = (info.shortcut,), info.hint, info.icon
    return ActionInfo(f"tool-{info.id}", text, run, keys=keys, tip=tip, now=now, icon=icon, short=info.short)


def _letters_now(desk: Desk) -> Now:
    return Now(checked=desk.letters)


def _turn_letters(desk: Desk) -> None:
    desk.set_letters(are_on=not desk.letters)


def _tools_of(name: ToolMenu) -> tuple[ActionInfo, ...]:
    """The tools of one part of the menu, each with a letter of its own there."""
    infos = [info for info in TOOLS if info.menu == name]
    texts = with_access_keys([info.name for info in infos])
    return tuple(_tool(info, text) for info, text in zip(infos, texts, strict=True))


_TOOL_MENUS: Final[tuple[ToolMenu, ...]] = get_args(ToolMenu)
_TOOL_TEXTS: Final = with_access_keys([*_TOOL_MENUS, "Keys of one letter"])
TOOL_MENU: Final = MenuInfo(
    "&Tools",
    (
        *(MenuInfo(text, _tools_of(name)) for name, text in zip(_TOOL_MENUS, _TOOL_TEXTS, strict=False)),
        None,
        ActionInfo(
            "letters", _TOOL_TEXTS[-1], _turn_letters, now=_letters_now, tip="Let V, N, S and so on take tools."
        ),
    ),
)
TOOL_ACTIONS: Final = tuple(info for info in TOOL_MENU.actions() if info.id.startswith("tool-"))

# --- sewing


def _piece_now(desk: Desk) -> Now:
    return Now(is_enabled=desk.sewing.has_piece)


def _stay_now(desk: Desk) -> Now:
    return Now(checked=desk.session.design.finishing.waist_stay)


def _corners_now(ends: EndKind, desk: Desk) -> Now:
    return Now(checked=desk.session.design.finishing.corners == ends)


def _set_corners(ends: EndKind, desk: Desk) -> None:
    desk.sewing.set_corners(ends)


def _corners(ends: EndKind, text: str, tip: str) -> ActionInfo:
    return ActionInfo(f"corners-{ends}", text, partial(_set_corners, ends), now=partial(_corners_now, ends), tip=tip)


SEWING: Final = MenuInfo(
    "&Sewing",
    (
        ActionInfo("fabrics", "&Fabrics…", lambda d: d.sewing.fabrics(), keys=("Ctrl+B",), tip="The table of fabrics."),
        ActionInfo(
            "finish-edge",
            "Finish an &edge…",
            lambda d: d.sewing.finish_edge(),
            keys=("Ctrl+E",),
            now=_piece_now,
            tip="Allowance, closure, hem, corners or a bone for an edge of the selected piece.",
        ),
        ActionInfo(
            "turn-piece",
            "Cut &double and turn…",
            lambda d: d.sewing.turn(),
            now=_piece_now,
            tip="Sew the selected piece closed round its edge and turn it through a gap.",
        ),
        ActionInfo(
            "reduce-edge",
            "Cut &smaller for stretch…",
            lambda d: d.sewing.reduce_edge(),
            now=_piece_now,
            tip="Fold a free edge of stretch cloth out, or let a sewn one be stretched on to its mate.",
        ),
        ActionInfo(
            "copy-again",
            "Copy &afresh",
            lambda d: d.sewing.copy_again(),
            now=lambda d: Now(is_enabled=d.sewing.is_copy),
            tip="Make the selected lining or layer again from its piece as that is now.",
        ),
        None,
        MenuInfo(
            "&Corners of allowances",
            (
                _corners("mitred", "&Mitred corners", "Both cutting lines run on until they meet."),
                _corners("squared", "&Squared corners", "Square to the seam, so that cut edges meet when it is sewn."),
            ),
        ),
        ActionInfo("waist-stay", "&Waist stay", lambda d: d.sewing.turn_stay(), now=_stay_now, tip="A ribbon inside."),
    ),
)

PIECE_ACTS: Final = ("reduce-edge", "copy-again", "corners-mitred", "corners-squared", "waist-stay")
"""What the panel of the selected piece offers behind one button; the rest of the menu has buttons of its own there."""

# --- client

CLIENT: Final = MenuInfo(
    "&Client",
    (
        ActionInfo(
            "another-client",
            "&Another client…",
            lambda d: d.client.another(),
            keys=("Ctrl+Shift+B",),
            tip="Put the design on another body: both compared, and what cannot follow.",
        ),
        ActionInfo(
            "own-block",
            "&Her own block…",
            lambda d: d.client.own_block(),
            tip="Type a block that exists on paper, and work on it like a drafted one.",
        ),
    ),
)

# --- help

HELP: Final = MenuInfo(
    "&Help",
    (
        ActionInfo("keys", "&Keys", lambda d: keys(d.window, MENUS), standard=StandardKey.HelpContents, keys=("F1",)),
        ActionInfo(
            "walk-through", "&Walk through the demo", lambda d: d.walk_through(), tip="From the tape to the pages."
        ),
        ActionInfo("safety", "&Safety", lambda d: safety(d.window), tip="Blades, irons, flame, boning."),
        ActionInfo("read form", "Reading the &form", lambda d: the_form(d.window), tip="How its numbers are read."),
        ActionInfo("promise", "&Your files", lambda d: promise(d.window), tip="What you may rely on."),
        ActionInfo("about", "&About Sheerwright", lambda d: about(d.window)),
    ),
)

MENUS: Final[tuple[MenuInfo, ...]] = (FILE, EDIT, VIEW, CLIENT, TOOL_MENU, SEWING, HELP)

TOOLBAR: Final = (
    *("new", "open", "save", "print", None, "undo", "redo", None),
    *(f"tool-{info.id}" for info in TOOLS if info.is_on_bar),
)
"""Ids of the actions on the toolbar; None is a gap."""

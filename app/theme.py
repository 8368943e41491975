"""The one table of colours: every view takes its ink from here, in light, dark and high contrast."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final, Literal, TypeAlias

import msgspec
from PySide6.QtGui import QColor, QPalette

from core.checks.verdict import Verdict

ThemeName: TypeAlias = Literal["light", "dark", "contrast"]


class Theme(msgspec.Struct, frozen=True):
    """Colours by what they mean, as #rrggbb. Cloth is told apart by pattern too, verdicts by sign and word too."""

    name: ThemeName
    table: str
    """The cutting table under the pieces."""
    paper: str
    """Pattern paper: a piece before any cloth is chosen for it, and every panel beside the table."""
    edge: str
    """Hairlines between parts of the window."""
    ink: str
    """Text."""
    faint_text: str
    pencil: str
    """Stitching lines."""
    faint: str
    """Levels, landmarks, rulers: thin marks that are read only when looked for."""
    chalk: str
    """A drawn line, and what the hand holds."""
    main: str
    sheer: str
    lining: str
    cup: str
    interlining: str
    pattern: str
    """The net, dots and strokes that tell the cloths apart without colour."""
    wedge: str
    """The inside of an open dart."""
    ghost: str
    """The piece as it lay before the turn or the cut."""
    label: str
    """The ground behind a number or a name on a piece."""
    handle: str
    focus: str
    """The ring round what the keyboard holds."""
    snap: str
    grid: str
    selected: str
    verdicts: Mapping[Verdict, str]

    @property
    def excess(self) -> tuple[str, str, str, str, str]:
        """An edge on the form that lies close, may stand off, stands off, pulls, and one that nothing is said of."""
        return self.verdicts["good"], self.verdicts["check"], self.verdicts["wrong"], self.focus, self.faint


def _verdicts(exact: str, good: str, check: str, wrong: str) -> Mapping[Verdict, str]:
    return MappingProxyType({"exact": exact, "good": good, "check": check, "wrong": wrong})


LIGHT = Theme(
    name="light",
    table="#d9d0c0",
    paper="#f7f1e3",
    edge="#b9ad98",
    ink="#2b2620",
    faint_text="#6b6255",
    pencil="#3a352d",
    faint="#857a69",
    chalk="#9c3b1f",
    main="#e9d9bb",
    sheer="#f4f1ec",
    lining="#dfe3da",
    cup="#efd9d3",
    interlining="#e4dfd2",
    pattern="#8d8172",
    wedge="#cdc3b1",
    ghost="#a2988a",
    label="#fbf7ec",
    handle="#9c3b1f",
    focus="#1f5f99",
    snap="#1f5f99",
    grid="#cbc1af",
    selected="#1f5f99",
    verdicts=_verdicts("#1d6b4f", "#1d6b4f", "#8a5a00", "#a3261b"),
)
DARK = Theme(
    name="dark",
    table="#26221d",
    paper="#322d27",
    edge="#5c5449",
    ink="#f1e9da",
    faint_text="#b6ab9a",
    pencil="#e8dfce",
    faint="#9c917f",
    chalk="#f0a27e",
    main="#4b4132",
    sheer="#3a3732",
    lining="#3d443c",
    cup="#553f3a",
    interlining="#454136",
    pattern="#9d917f",
    wedge="#1d1a16",
    ghost="#7d7466",
    label="#2b2722",
    handle="#f0a27e",
    focus="#8cc4f2",
    snap="#8cc4f2",
    grid="#383229",
    selected="#8cc4f2",
    verdicts=_verdicts("#7fd0ac", "#7fd0ac", "#f0c060", "#ff9a8c"),
)
CONTRAST = Theme(
    name="contrast",
    table="#ffffff",
    paper="#ffffff",
    edge="#000000",
    ink="#000000",
    faint_text="#2e2e2e",
    pencil="#000000",
    faint="#3d3d3d",
    chalk="#7a1f00",
    main="#f2e2bd",
    sheer="#ffffff",
    lining="#e3efe0",
    cup="#f8dcd5",
    interlining="#ece7d8",
    pattern="#4a4a4a",
    wedge="#d0d0d0",
    ghost="#6a6a6a",
    label="#ffffff",
    handle="#7a1f00",
    focus="#00408a",
    snap="#00408a",
    grid="#c8c8c8",
    selected="#00408a",
    verdicts=_verdicts("#004d33", "#004d33", "#6b4300", "#8a0f00"),
)


class Tone(msgspec.Struct, frozen=True):
    """What the form is shown in, in every theme: its colour, and cloths that stand out from it, as #rrggbb."""

    name: str
    colour: str
    main: str
    sheer: str
    thread: str
    """The threads of the net by which sheer is told."""

    @property
    def cloths(self) -> tuple[str, str, str, str]:
        """Form, main fabric, sheer and its thread."""
        return self.colour, self.main, self.sheer, self.thread


def _in_dark(name: str, colour: str) -> Tone:
    return Tone(name, colour, main="#4b4132", sheer="#3a3732", thread="#26221d")


def _in_light(name: str, colour: str) -> Tone:
    return Tone(name, colour, main="#e9d9bb", sheer="#f4f1ec", thread="#fffdf8")


ToneName: TypeAlias = Literal["stand", "fair", "light", "medium", "brown", "deep"]
DRESS_STAND: Final[ToneName] = "stand"
TONES: Mapping[ToneName, Tone] = MappingProxyType(
    {
        "stand": _in_light("Dress stand", "#857c70"),
        "fair": _in_dark("Fair", "#e9cdb8"),
        "light": _in_dark("Light", "#cfa584"),
        "medium": _in_light("Medium", "#a27a58"),
        "brown": _in_light("Brown", "#7f5a3e"),
        "deep": _in_light("Deep", "#553a2a"),
    }
)
"""A pale form wears dark cloth and a dark one pale cloth, whatever is cut: only so can both be told on it."""
THEMES: Mapping[ThemeName, Theme] = MappingProxyType({theme.name: theme for theme in (LIGHT, DARK, CONTRAST)})


def theme_for(name: ThemeName) -> Theme:
    """The theme of that name."""
    return THEMES[name]


def palette_for(theme: Theme) -> QPalette:
    """The colours that Qt's own fields, lists and buttons take: set it on the application."""
    palette = QPalette(QColor(theme.paper), QColor(theme.paper))
    roles = {
        QPalette.ColorRole.WindowText: theme.ink,
        QPalette.ColorRole.Text: theme.ink,
        QPalette.ColorRole.ButtonText: theme.ink,
        QPalette.ColorRole.ToolTipText: theme.ink,
        QPalette.ColorRole.BrightText: theme.verdicts["wrong"],
        QPalette.ColorRole.Base: theme.label,
        QPalette.ColorRole.AlternateBase: theme.paper,
        QPalette.ColorRole.ToolTipBase: theme.label,
        QPalette.ColorRole.PlaceholderText: theme.faint_text,
        QPalette.ColorRole.Mid: theme.edge,
        QPalette.ColorRole.Highlight: theme.selected,
        QPalette.ColorRole.HighlightedText: theme.paper,
        QPalette.ColorRole.Link: theme.focus,
        QPalette.ColorRole.Accent: theme.focus,
    }
    for role, colour in roles.items():
        palette.setColor(role, QColor(colour))
    for role in (QPalette.ColorRole.WindowText, QPalette.ColorRole.Text, QPalette.ColorRole.ButtonText):
        palette.setColor(QPalette.ColorGroup.Disabled, role, QColor(theme.faint))
    return palette

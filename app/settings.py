"""What the program remembers between two days: unit and theme in the configuration, files and geometry in the state.

Everything lies under the folders that the desktop names (XDG base directories, freedesktop.org), nothing else in the
home folder. A file that cannot be read counts as empty: settings are never worth a refusal.
"""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path
from typing import Final, Literal

import msgspec
from PySide6.QtCore import QByteArray, QSettings, QStandardPaths

from app.theme import DRESS_STAND, THEMES, TONES, ThemeName, ToneName
from core.outputs.papers import PAPERS
from core.units import UNITS, Unit

MOST_RECENT: Final = 10
FOLDER: Final = "sheerwright"
LONGEST_BAR: Final = 100_000.0
"""mm that a bar of a beam may read: no table is longer."""

_Location = QStandardPaths.StandardLocation


def unit() -> Unit:
    """The unit that a new design begins with."""
    chosen = _configuration().value("unit")
    return next((unit for unit in UNITS if unit == chosen), "in")


def set_unit(unit: Unit) -> None:
    """Remember the unit for new designs."""
    _configuration().setValue("unit", unit)


def theme() -> ThemeName | None:
    """The theme that was chosen; None follows the desktop."""
    chosen = _configuration().value("theme")
    return next((name for name in THEMES if name == chosen), None)


def set_theme(name: ThemeName | None) -> None:
    """Remember a theme, or None to follow the desktop."""
    _configuration().setValue("theme", name or "")


def tone() -> ToneName:
    """The tone in which the form is shown."""
    chosen = _configuration().value("tone")
    return next((name for name in TONES if name == chosen), DRESS_STAND)


def set_tone(name: ToneName) -> None:
    """Remember the tone of the form."""
    _configuration().setValue("tone", name)


def letters() -> bool:
    """Whether keys of one letter take up tools."""
    return bool(_configuration().value("letters") != "off")


def set_letters(*, are_on: bool) -> None:
    """Remember whether keys of one letter take up tools."""
    _configuration().setValue("letters", "on" if are_on else "off")


def paper() -> str:
    """The paper that a new design begins with."""
    chosen = _configuration().value("paper")
    return chosen if isinstance(chosen, str) and chosen in PAPERS else "a4"


def set_paper(name: str) -> None:
    """Remember the paper for new designs."""
    _configuration().setValue("paper", name)


def grid() -> bool:
    """Whether lines at round numbers are scribed on the table."""
    return bool(_configuration().value("grid") != "off")


def set_grid(*, is_on: bool) -> None:
    """Remember whether lines are scribed on the table."""
    _configuration().setValue("grid", "on" if is_on else "off")


def has_walked() -> bool:
    """Whether the walk through the demo was ever begun or declined."""
    return _state().value("walked") is not None


def set_walked() -> None:
    """Remember that the walk was begun or declined, so that it is offered once only."""
    _state().setValue("walked", "yes")


def recent_files() -> tuple[Path, ...]:
    """The files that were opened last, newest first; those that are gone are left out."""
    return tuple(path for path in _recent() if path.is_file())


def add_recent(path: Path) -> None:
    """Put a file at the head of the recent ones."""
    path = path.absolute()
    kept = [path, *(old for old in _recent() if old != path)][:MOST_RECENT]
    _state().setValue("recent", [str(file) for file in kept])


def kept_table(file: Path) -> str:
    """How the pieces of a file lay on the table, as it was kept; "" where nothing was."""
    return _tables().get(str(file.absolute()), "")


def keep_table(file: Path, text: str) -> None:
    """Remember how the pieces of a file lie, "" for in order; of other files only the recent ones are remembered."""
    own, recent = str(file.absolute()), {str(path) for path in _recent()}
    kept = {name: words for name, words in _tables().items() if name in recent and name != own}
    if text:
        kept[own] = text
    _state().setValue("tables", json.dumps(kept))


def _tables() -> dict[str, str]:
    try:
        found = json.loads(str(_state().value("tables") or "{}"))
    except ValueError:
        return {}
    pairs = found.items() if isinstance(found, dict) else ()
    return {name: text for name, text in pairs if isinstance(text, str)}


def bad_ends() -> list[float]:
    """When the program ended badly (seconds since 1970), as far as it was noted."""
    value = _state().value("bad-ends") or []
    texts = [value] if isinstance(value, str) else value
    numbers = [text for text in texts if isinstance(text, str) and text.replace(".", "", 1).isdigit()]
    return [float(text) for text in numbers]


def set_bad_ends(ends: list[float]) -> None:
    """Remember when the program ended badly."""
    _state().setValue("bad-ends", [f"{end:.3f}" for end in ends])


def last_folder() -> Path:
    """The folder where a file was opened or saved last; the home folder when it is gone."""
    folder = _state().value("folder")
    path = Path(folder) if isinstance(folder, str) and folder else Path.home()
    return path if path.is_dir() else Path.home()


def set_last_folder(folder: Path) -> None:
    """Remember the folder for the next file dialog."""
    _state().setValue("folder", str(folder.absolute()))


def kept_bytes(name: str) -> QByteArray:
    """Geometry or layout of a window as it was left, by name; empty when there is none."""
    value = _state().value(f"window/{name}")
    return value if isinstance(value, QByteArray) else QByteArray()


def keep_bytes(name: str, value: QByteArray) -> None:
    """Remember geometry or layout of a window."""
    _state().setValue(f"window/{name}", value)


class Beam(msgspec.Struct, frozen=True):
    """What both measured bars read on a screen, in mm, and the day (ISO) on which they were measured."""

    across: float
    up: float
    day: str


def beam(screen: str) -> Beam | None:
    """How a screen's beam was calibrated last; None where it never was."""
    words = _state().value(f"beam/{_key(screen)}")
    if not isinstance(words, list) or len(words) != 3:
        return None
    try:
        kept = Beam(float(words[0]), float(words[1]), date.fromisoformat(words[2]).isoformat())
    except (TypeError, ValueError):
        return None
    return kept if all(0.0 < read < LONGEST_BAR for read in (kept.across, kept.up)) else None


def set_beam(screen: str, beam: Beam | None) -> None:
    """Remember how a screen's beam is calibrated, or forget it."""
    if beam is None:
        _state().remove(f"beam/{_key(screen)}")
    else:
        _state().setValue(f"beam/{_key(screen)}", [f"{beam.across:.4f}", f"{beam.up:.4f}", beam.day])


def beam_shows(what: Literal["grid", "mirror"]) -> bool:
    """Whether the grid, or the mirror image, was chosen for the beam."""
    return bool(_state().value(f"beam-{what}") == "on")


def set_beam_shows(what: Literal["grid", "mirror"], *, is_on: bool) -> None:
    """Remember whether it is chosen."""
    _state().setValue(f"beam-{what}", "on" if is_on else "off")


def _key(name: str) -> str:
    """A name of a screen as a key of the file, in which a stroke would part it."""
    return name.replace("/", "-").replace("\\", "-") or "screen"


def _recent() -> list[Path]:
    value = _state().value("recent") or []
    # A list of one is read back from the file as a bare string.
    names = [value] if isinstance(value, str) else value
    return [Path(name) for name in names if isinstance(name, str)] if isinstance(names, list) else []


def _configuration() -> QSettings:
    return _file(_Location.GenericConfigLocation)


def _state() -> QSettings:
    return _file(_Location.GenericStateLocation)


def _file(location: QStandardPaths.StandardLocation) -> QSettings:
    folder = Path(QStandardPaths.writableLocation(location)) / FOLDER
    return QSettings(str(folder / "sheerwright.ini"), QSettings.Format.IniFormat)

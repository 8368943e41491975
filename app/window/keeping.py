"""A copy of unsaved work, for when the system ends the program without asking."""

from __future__ import annotations

import sys
from datetime import datetime
from pathlib import Path

from PySide6.QtCore import QStandardPaths

from app import settings
from app.dialogs.choose_file import file_name_for
from app.messages import log
from core.design.design import Design
from core.errors import Refusal
from core.file.writer import save_design


def keep_copy(design: Design) -> Path | None:
    """Write a design among the kept copies and put it at the head of the recent files; None when that fails."""
    state = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.GenericStateLocation)
    folder = Path(state) / settings.FOLDER / "kept"
    # The hour is the desk's own, for a name that she reads.
    path = folder / f"{datetime.now().astimezone():%Y-%m-%d-%H%M%S}-{file_name_for(design.name, 'sheer')}"
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        save_design(path, design)
    except (OSError, Refusal) as error:
        log.error("unsaved work could not be kept: %s", error)
        return None
    settings.add_recent(path)
    print(f"Unsaved work was kept in {path}; it is first among the recent files.", file=sys.stderr)  # noqa: T201
    return path

"""`sheerwright`, and `python -m app`: the command line, the window behind `open`, and the program's own child."""

# ruff: noqa: PLC0415 - Qt is imported only when a window is to be opened: without a screen the commands still run. The
# nesting engine's child is started by the dozen, and imports nothing but the engine.
from __future__ import annotations

import gc
import sys
from typing import TYPE_CHECKING

from core.shipped import ENGINE_WORD

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from app.window.main_window import MainWindow


def main(argv: Sequence[str] | None = None) -> int:
    """Run a command, open the window, or be the nesting engine's child; the exit status."""
    if list(sys.argv[1:] if argv is None else argv) == [ENGINE_WORD]:
        from core.outputs import lay_engine

        lay_engine.main()
    from core.commands import command_line

    return command_line.main(argv, open_window)


def open_window(path: Path | None, demo: bool) -> int:
    """Open the editor on a file, on the demo or empty, and wait until it is closed."""
    from app.window.display import refuse_without_display

    refuse_without_display()
    # Modules and widgets are made to stay: looking through them for cycles a dozen times costs a tenth of the start.
    gc.disable()
    try:
        import app.window.before_qt  # noqa: F401
        from app.window.start import run_window

        return run_window(path, demo=demo)
    finally:
        gc.enable()


def make_window(path: Path | None = None, demo: bool = False) -> MainWindow:
    """A window that is not shown yet, for an application that runs already. Refusal when the file cannot be opened."""
    from app.window.start import make_window as made

    return made(path, demo=demo)


if __name__ == "__main__":
    sys.exit(main())

"""`python -m core.commands`: the command line where there is no window."""

from __future__ import annotations

import sys
from pathlib import Path

from core.commands.command_line import main
from core.errors import Refusal


def no_window(_file: Path | None, _demo: bool) -> int:
    """Stands in for the editor. Refusal, always."""
    raise Refusal("The editor is not part of this command line: start it with `sheerwright`.")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:], no_window))

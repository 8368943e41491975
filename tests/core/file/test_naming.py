"""What a file is called in a sentence."""

from __future__ import annotations

from pathlib import Path

from core.file.naming import shown_name


def test_a_path_without_a_name_is_shown_whole() -> None:
    """The root of a disk has none."""
    root = Path(Path.cwd().anchor)
    assert shown_name(root) == str(root)

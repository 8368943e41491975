"""Before Qt is touched: what is missing is named in one sentence, and the process neither aborts nor hangs."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from app.window import display
from app.window.display import missing, refuse_without_display
from core.errors import Refusal
from tests.app.at_window import wait_for_handler

ROOT = Path(__file__).resolve().parents[2]

linux = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="other systems bring these libraries along")


@linux
def test_the_packages_of_missing_libraries_are_named() -> None:
    """A library that loads is not named; libc is there wherever Python is."""
    assert missing({"libc.so.6": "libc6", "libnosuchthing.so.9": "libnosuchthing9"}) == ["libnosuchthing9"]


@linux
def test_missing_libraries_are_one_sentence_with_the_command(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever the screen, Qt's own libraries come first."""
    monkeypatch.setattr(display, "ALWAYS", {"libnosuchthing.so.9": "libnosuchthing9"})
    with pytest.raises(Refusal, match=r"sudo apt install libnosuchthing9$"):
        refuse_without_display({"QT_QPA_PLATFORM": "offscreen"})


@linux
def test_libraries_of_the_screen_are_asked_for_only_where_there_is_one(monkeypatch: pytest.MonkeyPatch) -> None:
    """Wayland alone does not ask for the libraries of X11, and a screen that is whole is enough."""
    monkeypatch.setattr(display, "FOR_X11", {"libnosuchthing.so.9": "libnosuchthing9"})
    monkeypatch.setattr(display, "FOR_WAYLAND", {"libc.so.6": "libc6"})
    refuse_without_display({"WAYLAND_DISPLAY": "wayland-0"})
    monkeypatch.setattr(display, "FOR_WAYLAND", {"libnosuchland.so.9": "libnosuchland9"})
    with pytest.raises(Refusal, match=r"libnosuchland9$"):
        refuse_without_display({"WAYLAND_DISPLAY": "wayland-0"})


@linux
def test_offscreen_needs_no_screen() -> None:
    """As the tests run."""
    refuse_without_display({"QT_QPA_PLATFORM": "offscreen"})


@linux
@pytest.mark.parametrize(
    ("screens", "words"),
    [({}, "neither DISPLAY nor WAYLAND_DISPLAY is set"), ({"DISPLAY": ":98"}, "the screen :98 does not answer")],
)
def test_opening_without_a_screen_is_refused_in_one_sentence(screens: dict[str, str], words: str) -> None:
    """Exit status 2 and one line, where Qt would abort the process."""
    kept = {key: value for key, value in os.environ.items() if key not in {"DISPLAY", "WAYLAND_DISPLAY"}}
    environment = {**kept, **screens, "QT_QPA_PLATFORM": "xcb"}
    command = [sys.executable, "-m", "app", "open", "--demo"]
    done = subprocess.run(command, cwd=ROOT, env=environment, capture_output=True, text=True, check=False, timeout=30)
    assert done.returncode == 2
    assert done.stderr.count("\n") == 1
    assert words in done.stderr


@linux
@pytest.mark.parametrize("number", [2, 15])
def test_the_system_can_end_the_window(number: int, tmp_path: Path) -> None:
    """SIGINT (2) and SIGTERM (15) close the window and give status 0, without a word."""
    environment = {**os.environ, "QT_QPA_PLATFORM": "offscreen", "XDG_STATE_HOME": str(tmp_path)}
    command = [sys.executable, "-m", "app", "open", "--demo"]
    with subprocess.Popen(command, cwd=ROOT, env=environment, stderr=subprocess.PIPE, text=True) as process:
        wait_for_handler(process, 15)
        process.send_signal(number)
        _, errors = process.communicate(timeout=30)
    assert process.returncode == 0
    assert [line for line in errors.splitlines() if "propagateSizeHints" not in line] == []

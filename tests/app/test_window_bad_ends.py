"""A process that is killed or ended keeps its work, and one that ends badly twice starts empty."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from app import journal, settings
from app.journal import note_bad_ends
from app.window.start import why_empty
from core.file.recovery import kept_works
from tests.app.at_window import bust, opened, wait_for_handler

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot


ROOT = Path(__file__).resolve().parents[2]

WORKING = """
from app.window import start
from msgspec.structs import replace

real = start.Running.run
def run(self):
    session = self.window.session
    body = replace(session.design.body, measurements={**session.design.body.measurements, "bust": 38 * 25.4})
    session.do("bust", replace(session.design, body=body))
    return real(self)
start.Running.run = run
start.run_window(None, demo=True)
"""


def wait_for_copy(process: subprocess.Popen[str]) -> None:
    """Wait until a process has kept a recovery copy."""
    until = time.monotonic() + 60
    while not list(journal.folder().glob("*.sheer")) and time.monotonic() < until and process.poll() is None:
        time.sleep(0.02)


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="signals of another system")
@pytest.mark.parametrize("number", [signal.SIGKILL, signal.SIGTERM, signal.SIGHUP])
def test_killed_or_ended_the_work_is_there_at_the_next_start(number: signal.Signals) -> None:
    """A process of its own alters a bust and is killed after its copy, or asked to end at once, before it."""
    environment = {**os.environ, "QT_QPA_PLATFORM": "offscreen"}
    process = subprocess.Popen(
        [sys.executable, "-c", WORKING], cwd=ROOT, env=environment, stderr=subprocess.PIPE, text=True
    )
    if number == signal.SIGKILL:
        wait_for_copy(process)
    else:
        wait_for_handler(process, number)
    process.send_signal(number)
    _, errors = process.communicate(timeout=30)
    works, damaged = kept_works(journal.folder(), busy=journal.busy())
    assert (len(works), len(damaged)) == (1, 0), errors
    assert bust(works[0].design) == pytest.approx(38)
    assert ("Unsaved work was kept" in errors) == (number != signal.SIGKILL)
    assert note_bad_ends() == 0  # asking who is busy has freed the lock of the killed one


def test_two_bad_ends_within_a_minute_start_empty(monkeypatch: pytest.MonkeyPatch) -> None:
    """A lock that nobody holds is a bad end; what ended it twice is not opened a third time, and that is said."""
    folder = journal.folder()
    folder.mkdir(parents=True)
    ended = subprocess.run([sys.executable, "-c", "import os; print(os.getpid())"], capture_output=True, check=True)
    held = f"{int(ended.stdout)}\npython\n{os.uname().nodename}\n"
    (folder / "one.lock").write_text(held)
    assert note_bad_ends() == 1
    assert list(folder.iterdir()) == []
    (folder / "two.lock").write_text(held)
    assert note_bad_ends() == 2
    assert "gown.sheer was not opened" in why_empty(Path("gown.sheer"))
    assert "Recover work" in why_empty(None)
    later = time.time() + 61
    monkeypatch.setattr(time, "time", lambda: later)
    assert note_bad_ends() == 0
    assert settings.bad_ends() == []


AT_THE_END = """
import os, sys
from app.window import start
def run(self):
    session = self.window.session
    session.do("client", with_client(session.design, "Ada"))
    assert self.receivers("2commitDataRequest(QSessionManager&)") == 1
    self.keep()
    os._exit(5)
from app.panels.body_entry import with_client
start.Running.run = run
start.run_window(None, demo=True)
"""


def test_the_end_of_the_desktop_session_keeps_the_work() -> None:
    """When the desktop asks its programs to keep what they have, the copy is there before anything else happens."""
    environment = {**os.environ, "QT_QPA_PLATFORM": "offscreen"}
    done = subprocess.run(
        [sys.executable, "-c", AT_THE_END], cwd=ROOT, env=environment, capture_output=True, check=False
    )
    assert done.returncode == 5, done.stderr
    works, _ = kept_works(journal.folder(), busy=journal.busy())
    assert [work.design.body.name for work in works] == ["Ada"]


OPENING = """
import os, sys
from app.window import start
from core.errors import Refusal
def first_window(*_, **__):
    if sys.argv[1] == "refused":
        raise Refusal("It cannot be opened.")
    os.kill(os.getpid(), 9)
start.first_window = first_window
start.run_window(None, demo=True)
"""


@pytest.mark.parametrize(("how", "ends"), [("killed", 1), ("refused", 0)])
def test_a_crash_while_a_file_is_opened_is_a_bad_end(how: str, ends: int) -> None:
    """Before any window is there to have work; a refusal in a sentence is none."""
    environment = {**os.environ, "QT_QPA_PLATFORM": "offscreen"}
    command = [sys.executable, "-c", OPENING, how]
    done = subprocess.run(command, cwd=ROOT, env=environment, capture_output=True, check=False)
    assert done.returncode != 0
    assert note_bad_ends() == ends


def test_a_clean_exit_is_no_bad_end(qtbot: QtBot) -> None:
    """Nor is a window that runs still."""
    window = opened(qtbot)
    assert note_bad_ends() == 0
    window.close()
    assert note_bad_ends() == 0
    assert list(journal.folder().iterdir()) == []

"""Writing: it happens wholly, or what was there stays, nothing is left beside it, and one sentence says so."""

from __future__ import annotations

import errno
import os
import stat
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from math import nan
from pathlib import Path

import msgspec
import numpy as np
import pytest

from core.errors import Refusal
from core.file.reader import read_design
from core.file.writer import design_to_bytes, save_design, write_atomically, write_together
from core.steps.step import LinePoint
from tests.core.file.sample_designs import block_design, panel_design, with_steps
from tests.core.laws.sample_steps import drafted, sheer

ROOT = Path(__file__).resolve().parents[3]
OLD, NEW = b"old " * 1000, b"new " * 3000

Call = Callable[..., object]


@pytest.fixture
def gown(tmp_path: Path) -> Path:
    """A file that holds OLD, alone in its folder."""
    path = tmp_path / "gown.sheer"
    path.write_bytes(OLD)
    return path


def beside(path: Path) -> set[str]:
    """The names in the file's folder."""
    return {entry.name for entry in path.parent.iterdir()}


def refusal(path: Path, data: bytes = NEW) -> str:
    """The sentence with which a write is refused."""
    with pytest.raises(Refusal) as caught:
        write_atomically(path, data)
    assert "\n" not in caught.value.sentence
    return caught.value.sentence


# --------------------------------------------------------------------------------------------------------------
# a write that succeeds


def test_a_saved_design_is_read_back(tmp_path: Path) -> None:
    """Through a real file."""
    save_design(tmp_path / "gown.sheer", panel_design())
    assert read_design(tmp_path / "gown.sheer") == panel_design()
    assert beside(tmp_path / "gown.sheer") == {"gown.sheer"}


def test_the_version_before_is_kept(gown: Path) -> None:
    """Under the name with a tilde, and replaced by the next save."""
    write_atomically(gown, NEW)
    assert (gown.read_bytes(), gown.with_name("gown.sheer~").read_bytes()) == (NEW, OLD)
    write_atomically(gown, b"third")
    assert (gown.read_bytes(), gown.with_name("gown.sheer~").read_bytes()) == (b"third", NEW)
    assert beside(gown) == {"gown.sheer", "gown.sheer~"}


def test_outputs_keep_no_version_before(gown: Path) -> None:
    """A printed page is made again from the design."""
    write_atomically(gown, NEW, keep_previous=False)
    assert beside(gown) == {"gown.sheer"}


def test_where_no_second_name_is_possible_the_version_before_is_copied(
    gown: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Memory sticks know one name for a file only."""
    monkeypatch.setattr(os, "link", failing_with(errno.EPERM))
    write_atomically(gown, NEW)
    assert (gown.read_bytes(), gown.with_name("gown.sheer~").read_bytes()) == (NEW, OLD)
    assert beside(gown) == {"gown.sheer", "gown.sheer~"}


@pytest.mark.skipif(os.name == "nt", reason="Windows keeps permissions in the folder")
def test_permissions_are_kept(gown: Path) -> None:
    """A file that was for her eyes only stays so; a new file gets what the user's mask allows."""
    gown.chmod(0o600)
    write_atomically(gown, NEW)
    assert stat.S_IMODE(gown.stat().st_mode) == 0o600
    assert stat.S_IMODE(gown.with_name("gown.sheer~").stat().st_mode) == 0o600
    mask = os.umask(0o027)
    try:
        write_atomically(gown.with_name("new.sheer"), NEW)
    finally:
        os.umask(mask)
    assert stat.S_IMODE(gown.with_name("new.sheer").stat().st_mode) == 0o640


def test_links_are_followed(gown: Path, tmp_path: Path) -> None:
    """A link stays a link, and the file it leads to is the one that is written, also where it is not there yet."""
    folder = tmp_path / "elsewhere"
    folder.mkdir()
    for name, target in (("link.sheer", gown), ("dangling.sheer", tmp_path / "fresh.sheer")):
        (folder / name).symlink_to(target)
        write_atomically(folder / name, NEW)
        assert (folder / name).is_symlink()
        assert target.read_bytes() == NEW
    assert gown.with_name("gown.sheer~").read_bytes() == OLD
    assert {entry.name for entry in folder.iterdir()} == {"link.sheer", "dangling.sheer"}


@pytest.mark.parametrize("name", ["Ærmegab 裾 👗.sheer", "a\nb.sheer", "%s.sheer", "-o.sheer", "n" * 249 + ".sheer"])
def test_any_name_that_the_disk_takes_is_taken(tmp_path: Path, name: str) -> None:
    """The neighbouring name is short, so that names up to the disk's limit of 255 bytes can be written."""
    write_atomically(tmp_path / name, NEW)
    assert beside(tmp_path / name) == {name}


def test_numbers_from_arrays_are_saved(tmp_path: Path) -> None:
    """A point that came out of a calculation is a number like any other."""
    line = msgspec.structs.replace(sheer(drafted("middling")), points=(LinePoint(np.float64(0), np.float64(260)),))
    save_design(tmp_path / "gown.sheer", with_steps(line))
    (step,) = read_design(tmp_path / "gown.sheer").steps
    assert step == msgspec.structs.replace(line, points=(LinePoint(0.0, 260.0),))


def test_what_a_killed_process_left_is_swept(gown: Path) -> None:
    """An hour after; younger ones may belong to a process that is writing now, others are not ours to remove."""
    names = (".~sheerwright-00.part", ".~sheerwright-11.part", ".~other.part")
    for name in names:
        gown.with_name(name).write_bytes(b"half")
    long_ago = time.time() - 7200
    for name in (names[0], names[2]):
        os.utime(gown.with_name(name), (long_ago, long_ago))
    write_atomically(gown, NEW, keep_previous=False)
    assert beside(gown) == {"gown.sheer", names[1], names[2]}


# --------------------------------------------------------------------------------------------------------------
# a write that fails


def failing_with(code: int) -> Call:
    """A system call that fails."""

    def call(*_args: object, **_kwargs: object) -> None:
        raise OSError(code, os.strerror(code))

    return call


SYSTEM_CALLS = ("open", "write", "fsync", "fchmod", "lseek", "link", "replace", "stat", "fstat")


class Faults:
    """Counts the system calls that a write makes and lets the k-th of them fail."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, code: int) -> None:
        self.code, self.left, self.failed = code, 0, ""
        for name in SYSTEM_CALLS:
            monkeypatch.setattr(os, name, self._wrapped(name, getattr(os, name)))

    def _wrapped(self, name: str, real: Call) -> Call:
        def call(*args: object, **kwargs: object) -> object:
            self.left -= 1
            if self.left == 0:
                self.failed = name
                raise OSError(self.code, os.strerror(self.code))
            return real(*args, **kwargs)

        return call


@pytest.mark.parametrize("code", [errno.ENOSPC, errno.EIO, errno.EACCES, errno.EDQUOT])
def test_whichever_system_call_fails_the_file_is_whole(gown: Path, monkeypatch: pytest.MonkeyPatch, code: int) -> None:
    """Each call in turn fails until a write passes with none failing; a refusal leaves the old file and nothing else.

    Only the last call, which confirms that the folder is on the disk, comes when the new file is in place already.
    """
    faults = Faults(monkeypatch, code)
    reached = set()
    for k in range(1, 100):
        gown.write_bytes(OLD)
        gown.with_name("gown.sheer~").unlink(missing_ok=True)
        faults.left, faults.failed = k, ""
        told = ""
        try:
            write_atomically(gown, NEW)
        except Refusal as refused:
            told = refused.sentence
        faults.left = 0
        reached.add(faults.failed)
        in_place = not told or "was written whole" in told
        assert gown.read_bytes() == (NEW if in_place else OLD), (k, faults.failed)
        assert beside(gown) <= {"gown.sheer", "gown.sheer~"}, (k, faults.failed)
        if gown.with_name("gown.sheer~").exists():
            assert gown.with_name("gown.sheer~").read_bytes() == OLD
        if in_place:
            assert beside(gown) == {"gown.sheer", "gown.sheer~"}
        if not faults.failed:
            break
    assert reached == {*SYSTEM_CALLS, ""}


def test_a_refused_write_says_what_happened_and_what_to_do(gown: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """One sentence: which file, why, that nothing was changed, the way out."""
    monkeypatch.setattr(os, "fsync", failing_with(errno.ENOSPC))
    assert refusal(gown) == (
        "gown.sheer could not be written: the disk is full; nothing was changed, so write it somewhere else."
    )


def test_short_writes_are_carried_on(gown: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The system may take a few bytes at a time; it may not lose the others."""
    real: Callable[[int, bytes], int] = os.write
    monkeypatch.setattr(os, "write", lambda descriptor, data: real(descriptor, bytes(data)[:7]))
    write_atomically(gown, NEW)
    assert gown.read_bytes() == NEW


@pytest.mark.parametrize("spoilt", [lambda data: b"\0" * len(data), lambda data: bytes(data)[:-1] + b"\0"])
def test_what_reads_back_otherwise_is_not_put_in_place(
    gown: Path, monkeypatch: pytest.MonkeyPatch, spoilt: Callable[[bytes], bytes]
) -> None:
    """A disk that says it wrote and did not is found out while the old file still stands."""
    real: Callable[[int, bytes], int] = os.write
    monkeypatch.setattr(os, "write", lambda descriptor, data: real(descriptor, spoilt(data)))
    assert "the disk reports a fault" in refusal(gown)
    assert gown.read_bytes() == OLD
    assert beside(gown) == {"gown.sheer"}


def test_a_disk_that_takes_nothing_is_not_tried_for_ever(gown: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A write of no bytes ends in a refusal and not in a loop."""
    monkeypatch.setattr(os, "write", lambda _descriptor, _data: 0)
    assert "the disk is full" in refusal(gown)
    assert gown.read_bytes() == OLD


@pytest.mark.parametrize("stop", [KeyboardInterrupt, MemoryError])
@pytest.mark.parametrize("call", ["open", "write", "fsync", "replace", "link"])
def test_stopped_anywhere_nothing_is_left(
    gown: Path, monkeypatch: pytest.MonkeyPatch, call: str, stop: type[BaseException]
) -> None:
    """Ctrl-C in the middle, or no memory: the old file stays and the new bytes are gone."""

    def stopping(*_args: object, **_kwargs: object) -> None:
        raise stop

    with monkeypatch.context() as patched:
        patched.setattr(os, call, stopping)
        with pytest.raises(stop):
            write_atomically(gown, NEW)
    assert gown.read_bytes() == OLD
    assert beside(gown) <= {"gown.sheer", "gown.sheer~"}


@contextmanager
def without_root() -> Iterator[None]:
    """Give up root's leave to do everything, where the tests run as root (65534 is nobody)."""
    if os.name == "nt" or os.geteuid() != 0:
        yield
        return
    os.seteuid(65534)
    try:
        yield
    finally:
        os.seteuid(0)


@pytest.mark.skipif(os.name == "nt", reason="Windows has no read-only folders of this kind")
def test_a_folder_that_may_not_be_written_in_is_refused() -> None:
    """With its name; the file in it stays. The folder lies outside pytest's own, which other users may not enter."""
    with tempfile.TemporaryDirectory() as name:
        folder, path = Path(name), Path(name, "gown.sheer")
        path.write_bytes(OLD)
        path.chmod(0o666)
        folder.chmod(0o555)
        with without_root():
            sentences = refusal(path), refusal(folder / "new.sheer")
        folder.chmod(0o755)
        assert all(f"you may not write in {folder.name}" in sentence for sentence in sentences)
        assert path.read_bytes() == OLD
        assert beside(path) == {"gown.sheer"}


def test_a_read_only_file_is_refused(gown: Path) -> None:
    """It could be replaced, but somebody meant it not to be."""
    gown.chmod(0o444)
    assert "marked as read-only" in refusal(gown)
    assert gown.read_bytes() == OLD


def test_what_is_no_file_is_refused(tmp_path: Path) -> None:
    """A folder, a device, a folder that is not there, a file taken for a folder, a link to itself, an endless name."""
    (tmp_path / "loop").symlink_to("loop")
    (tmp_path / "file").write_bytes(OLD)
    assert "it is a folder or a device" in refusal(tmp_path)
    assert "it is a folder or a device" in refusal(Path("/dev/full" if os.name != "nt" else "NUL"))
    assert "there is no folder gone" in refusal(tmp_path / "gone" / "gown.sheer")
    assert "there is no folder file" in refusal(tmp_path / "file" / "gown.sheer")
    assert "leads back to itself" in refusal(tmp_path / "loop")
    assert "name is too long" in refusal(tmp_path / ("n" * 300))
    assert {entry.name for entry in tmp_path.iterdir()} == {"loop", "file"}


def test_a_design_that_could_not_be_opened_again_is_not_saved(gown: Path) -> None:
    """NaN, a size beyond all cloth, two steps of one id: refused before the file is touched."""
    line = sheer(drafted("middling"))
    for point in (LinePoint(nan, 0.0), LinePoint(0.0, 1e300), LinePoint("1", 0.0)):  # type: ignore[arg-type] # on purpose
        with pytest.raises(Refusal, match="cannot be saved"):
            save_design(gown, with_steps(msgspec.structs.replace(line, points=(point,))))
    with pytest.raises(Refusal, match="two of its steps have the id"):
        save_design(gown, msgspec.structs.replace(block_design(), steps=(line, line)))
    assert gown.read_bytes() == OLD
    assert beside(gown) == {"gown.sheer"}


def test_a_newer_file_is_never_written_over(gown: Path) -> None:
    """Whoever asks: the writer itself looks; what is no design at all may be written over, as she chose it."""
    newer = design_to_bytes(block_design()).replace(b'"schema": 1', b'"schema": 9', 1)
    gown.write_bytes(newer)
    with pytest.raises(Refusal, match="saved by a newer Sheerwright and is not written over"):
        save_design(gown, block_design())
    assert gown.read_bytes() == newer
    gown.write_bytes(OLD)
    save_design(gown, block_design())
    assert read_design(gown) == block_design()


FULL_DISK = """
import resource, sys
from pathlib import Path
from core.errors import Refusal
from core.file.writer import write_atomically
resource.setrlimit(resource.RLIMIT_FSIZE, (8192, 8192))
try:
    write_atomically(Path(sys.argv[1]), b"new " * 3000)
except Refusal as refusal:
    print(refusal.sentence)
"""


@pytest.mark.skipif(os.name == "nt", reason="Windows has no limit on the size of a file")
def test_a_full_disk_leaves_the_old_file(gown: Path) -> None:
    """The system itself takes 8,192 of 12,000 bytes and no more, in a process of its own."""
    done = subprocess.run(
        [sys.executable, "-c", FULL_DISK, gown], cwd=ROOT, capture_output=True, text=True, check=True, encoding="utf-8"
    )
    assert "the disk is full; nothing was changed" in done.stdout
    assert gown.read_bytes() == OLD
    assert beside(gown) == {"gown.sheer"}


@pytest.mark.skipif(not hasattr(os, "fork"), reason="this system cannot fork")
@pytest.mark.parametrize(("what", "kills"), [("save", 20), ("keep", 10)])
def test_a_killed_process_leaves_a_whole_file(tmp_path: Path, what: str, kills: int) -> None:
    """At any moment of saving or keeping a copy: the file is a whole version, no older than the last one confirmed."""
    done = subprocess.run(
        [
            *(sys.executable, "-W", "ignore::DeprecationWarning", "-m", "tests.core.file.killing"),
            *(str(tmp_path / "copy.sheer"), str(kills), what),
        ],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.stderr == ""
    killed, confirmed, damaged, lost = map(int, done.stdout.split())
    assert (killed, damaged, lost) == (kills, 0, 0)
    assert confirmed >= kills


# --------------------------------------------------------------------------------------------------------------
# several outputs


def test_of_several_outputs_none_is_replaced_before_all_are_whole(gown: Path, tmp_path: Path) -> None:
    """The pages and their map belong together: where one cannot be written the other stays as it was."""
    with pytest.raises(Refusal, match=r"map\.json could not be written: there is no folder gone"):
        write_together({gown: NEW, tmp_path / "gone" / "map.json": NEW})
    assert gown.read_bytes() == OLD
    assert beside(gown) == {"gown.sheer"}
    write_together({gown: NEW, tmp_path / "map.json": b"{}"})
    assert (gown.read_bytes(), (tmp_path / "map.json").read_bytes()) == (NEW, b"{}")
    assert beside(gown) == {"gown.sheer", "map.json"}


def test_the_same_design_gives_the_same_bytes() -> None:
    """No clock and no chance enters a file."""
    assert design_to_bytes(panel_design()) == design_to_bytes(panel_design())

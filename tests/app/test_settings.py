from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QByteArray

from app import settings
from app.theme import DRESS_STAND


def test_unit_and_theme_are_remembered_and_begin_with_inches() -> None:
    """What was chosen is there again; before that, inches and the desktop's own theme."""
    assert settings.unit() == "in"
    assert settings.theme() is None
    settings.set_unit("cm")
    settings.set_theme("dark")
    assert settings.unit() == "cm"
    assert settings.theme() == "dark"
    settings.set_theme(None)
    assert settings.theme() is None


def test_the_tone_of_the_form_is_remembered_and_begins_as_a_dress_stand() -> None:
    """It is a setting; what no tone is called counts as none."""
    assert settings.tone() == DRESS_STAND
    settings.set_tone("deep")
    assert settings.tone() == "deep"
    settings._configuration().setValue("tone", "green")
    assert settings.tone() == DRESS_STAND


def test_settings_and_state_lie_where_the_desktop_wants_them(tmp_path: Path) -> None:
    """Choices go to the configuration, files and geometry to the state (XDG base directories 0.8)."""
    settings.set_unit("mm")
    settings.keep_bytes("main", QByteArray(b"\x00\x01"))
    home = tmp_path / "home"
    assert (home / "config" / "sheerwright" / "sheerwright.ini").is_file()
    assert (home / "state" / "sheerwright" / "sheerwright.ini").is_file()
    assert settings.kept_bytes("main") == QByteArray(b"\x00\x01")
    assert settings.kept_bytes("other").isEmpty()


def test_recent_files_are_newest_first_each_once_and_only_those_that_exist(tmp_path: Path) -> None:
    """Opening a file again moves it to the head; one that is gone is not offered; at most ten are kept."""
    files = [tmp_path / f"{n}.sheer" for n in range(12)]
    for file in files:
        file.touch()
        settings.add_recent(file)
    settings.add_recent(files[5])
    files[11].unlink()
    found = settings.recent_files()
    assert found[0] == files[5]
    assert files[11] not in found
    assert len(found) == settings.MOST_RECENT - 1


def test_one_recent_file_is_read_back(tmp_path: Path) -> None:
    """A list of one is still a list."""
    file = tmp_path / "only one, with a comma.sheer"
    file.touch()
    settings.add_recent(file)
    assert settings.recent_files() == (file,)


@pytest.mark.parametrize("text", ["unit=ell\ntheme=pink\n", "\x00\x01 no settings"])
def test_settings_that_make_no_sense_count_as_none(tmp_path: Path, text: str) -> None:
    """A spoilt file costs the choices in it and nothing else."""
    folder = tmp_path / "home" / "config" / "sheerwright"
    folder.mkdir(parents=True)
    (folder / "sheerwright.ini").write_text(text)
    assert settings.unit() == "in"
    assert settings.theme() is None


def test_the_last_folder_is_home_when_it_is_gone(tmp_path: Path) -> None:
    """A folder that was taken away is not offered."""
    folder = tmp_path / "work"
    folder.mkdir()
    settings.set_last_folder(folder)
    assert settings.last_folder() == folder
    folder.rmdir()
    assert settings.last_folder() == Path.home()


@pytest.mark.parametrize(
    "words",
    [
        ["nan", "1", "2026-11-25"],
        ["1", "nan", "2026-11-25"],
        ["1", "-1", "2026-11-25"],
        ["1", "1", "today"],
        "1",
        ["1"],
    ],
)
def test_a_beam_that_cannot_be_read_counts_as_never_measured(words: object) -> None:
    """No setting is worth a refusal; one that can be read is read for its own screen only."""
    settings.set_beam("one/screen", settings.Beam(500.25, 499.75, "2026-11-25"))
    assert settings.beam("one/screen") == settings.Beam(500.25, 499.75, "2026-11-25")
    assert settings.beam("another") is None
    settings._state().setValue("beam/one-screen", words)
    assert settings.beam("one/screen") is None

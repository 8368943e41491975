from __future__ import annotations

import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from core import shipped

ROOT = Path(__file__).resolve().parents[2]

TELL = "from core import shipped; print(shipped.version()); print(shipped.asset('LICENSE'))"


def told(folder: Path) -> tuple[str, Path]:
    """Version and licence path as told by the `core` that lies in a folder, in a process that sees no other."""
    # -S leaves out site-packages and with it an editable install of the checkout; -c puts the folder first.
    done = subprocess.run(
        [sys.executable, "-S", "-c", TELL], cwd=folder, capture_output=True, text=True, check=True, encoding="utf-8"
    )
    version, licence = done.stdout.splitlines()
    return version, Path(licence)


def copied_core(folder: Path, assets: Path) -> None:
    """Lay out the least of a core that can tell where its assets are."""
    (folder / "core").mkdir(parents=True)
    for name in ("__init__.py", "shipped.py"):
        shutil.copy(ROOT / "core" / name, folder / "core" / name)
    assets.mkdir(parents=True)
    shutil.copy(ROOT / "assets" / "LICENSE", assets / "LICENSE")


def test_checkout_has_its_assets_beside_the_core() -> None:
    """In a checkout, and so in an editable install of it, assets lie at the top."""
    assert shipped.asset("LICENSE") == ROOT / "assets" / "LICENSE"


def test_assets_inside_the_core_win(tmp_path: Path) -> None:
    """A wheel and a frozen build carry the assets inside `core`, whatever lies beside it."""
    copied_core(tmp_path, tmp_path / "core" / "assets")
    (tmp_path / "assets").mkdir()
    assert told(tmp_path)[1] == tmp_path / "core" / "assets" / "LICENSE"


def test_a_folder_of_another_package_is_not_taken_for_the_assets(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Beside an installed core, a folder that only happens to be called assets is passed over."""
    (tmp_path / "assets").mkdir()
    (tmp_path / "core").mkdir()
    monkeypatch.setattr(shipped, "_HERE", tmp_path / "core")
    with pytest.raises(FileNotFoundError, match="install Sheerwright again"):
        shipped.asset("LICENSE")


def test_a_missing_asset_is_named() -> None:
    """What is not there is named, with the way out."""
    with pytest.raises(FileNotFoundError, match=r"demo/nothing\.sheer is missing .* install Sheerwright again"):
        shipped.asset("demo", "nothing.sheer")


def test_wheel_carries_assets_and_version(tmp_path: Path) -> None:
    """The wheel, unpacked where no checkout can be seen, finds its assets and is named by the version it tells."""
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(tmp_path)],
        cwd=ROOT, capture_output=True, check=True,
    )  # fmt: skip
    (wheel,) = tmp_path.glob("*.whl")
    place = tmp_path / "unpacked"
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(place)
    version, licence = told(place)
    assert licence == place / "core" / "assets" / "LICENSE"
    assert wheel.name.startswith(f"sheerwright-{version}-")
    assert (place / f"sheerwright-{version}.dist-info" / "licenses" / "assets" / "LICENSE").is_file()

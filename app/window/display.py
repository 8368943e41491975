"""What Qt needs from the system, looked for before Qt is: without it the application object aborts the process.

Nothing here imports PySide6. The tables name the package of Debian 12; Ubuntu calls them the same or provides the name.
"""

from __future__ import annotations

import ctypes
import os
import sys
from collections.abc import Iterable, Mapping
from typing import Final

from core.errors import Refusal

ALWAYS: Final[Mapping[str, str]] = {
    "libglib-2.0.so.0": "libglib2.0-0",
    "libEGL.so.1": "libegl1",
    "libGL.so.1": "libgl1",
    "libfontconfig.so.1": "libfontconfig1",
    "libfreetype.so.6": "libfreetype6",
    "libdbus-1.so.3": "libdbus-1-3",
    "libxkbcommon.so.0": "libxkbcommon0",
    "libX11.so.6": "libx11-6",
}
"""Libraries that Qt is linked to, whatever it draws on, each with its package."""

FOR_X11: Final[Mapping[str, str]] = {
    "libxcb-cursor.so.0": "libxcb-cursor0",
    "libxcb-icccm.so.4": "libxcb-icccm4",
    "libxcb-image.so.0": "libxcb-image0",
    "libxcb-keysyms.so.1": "libxcb-keysyms1",
    "libxcb-randr.so.0": "libxcb-randr0",
    "libxcb-render-util.so.0": "libxcb-render-util0",
    "libxcb-shape.so.0": "libxcb-shape0",
    "libxcb-xkb.so.1": "libxcb-xkb1",
    "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
    "libX11-xcb.so.1": "libx11-xcb1",
    "libxcb-sync.so.1": "libxcb-sync1",
    "libxcb-xfixes.so.0": "libxcb-xfixes0",
    "libxcb-shm.so.0": "libxcb-shm0",
    "libxcb-render.so.0": "libxcb-render0",
}
FOR_WAYLAND: Final[Mapping[str, str]] = {
    "libwayland-client.so.0": "libwayland-client0",
    "libwayland-cursor.so.0": "libwayland-cursor0",
}


def refuse_without_display(environment: Mapping[str, str] = os.environ) -> None:
    """Refusal, in one sentence with the packages to install, where Qt could not open a window."""
    if not sys.platform.startswith("linux"):
        return
    # Qt takes a list, best first, each with its own settings after a colon: wayland;xcb
    platform = environment.get("QT_QPA_PLATFORM", "").split(";")[0].split(":")[0]
    _refuse_missing(missing(ALWAYS))
    if platform in {"", "xcb", "wayland"}:
        _refuse_without_screen(platform, environment)


def missing(libraries: Mapping[str, str]) -> list[str]:
    """The packages of the libraries that cannot be loaded."""
    return [package for name, package in libraries.items() if not _loads(name)]


def _loads(name: str) -> bool:
    try:
        ctypes.CDLL(name)
    except OSError:
        return False
    return True


def _refuse_missing(packages: Iterable[str]) -> None:
    wanted = " ".join(packages)
    if wanted:
        raise Refusal(f"The window needs libraries that are not installed: sudo apt install {wanted}")


def _refuse_without_screen(platform: str, environment: Mapping[str, str]) -> None:
    wayland = platform != "xcb" and _has_wayland(environment)
    x11 = platform != "wayland" and _has_x11(environment)
    if not (wayland or x11):
        raise Refusal(_no_screen(environment))
    lacks_wayland = missing(FOR_WAYLAND) if wayland else []
    lacks_x11 = missing(FOR_X11) if x11 else []
    # Where both screens answer, Qt takes the other one when it cannot load the first.
    if not ((wayland and not lacks_wayland) or (x11 and not lacks_x11)):
        _refuse_missing([*lacks_x11, *lacks_wayland])


def _has_wayland(environment: Mapping[str, str]) -> bool:
    return bool(environment.get("WAYLAND_DISPLAY"))


def _has_x11(environment: Mapping[str, str]) -> bool:
    """Whether an X screen answers. Where libxcb itself is missing, the packages are what is to be named."""
    display = environment.get("DISPLAY")
    if not display:
        return False
    try:
        xcb = ctypes.CDLL("libxcb.so.1")
    except OSError:
        return True
    xcb.xcb_connect.restype = ctypes.c_void_p
    xcb.xcb_connection_has_error.argtypes = xcb.xcb_disconnect.argtypes = [ctypes.c_void_p]
    connection = xcb.xcb_connect(display.encode(), None)
    answers = not xcb.xcb_connection_has_error(connection)
    xcb.xcb_disconnect(connection)
    return answers


def _no_screen(environment: Mapping[str, str]) -> str:
    display = environment.get("DISPLAY")
    why = f"the screen {display} does not answer" if display else "neither DISPLAY nor WAYLAND_DISPLAY is set"
    return (
        f"There is no screen to open the window on ({why}): start it from a desktop, or after sudo apt install xvfb "
        "xauth as xvfb-run -a sheerwright; the commands other than open need no screen."
    )

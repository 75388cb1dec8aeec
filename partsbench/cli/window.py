"""The window from the command line, and what to say when this machine cannot show one."""

from __future__ import annotations

import ctypes
import os
import sys
from pathlib import Path

from partsbench import app
from partsbench.cli.base import BadInputError

QT_ALWAYS = {
    "libEGL.so.1": "libegl1",
    "libGL.so.1": "libgl1",
    "libxkbcommon.so.0": "libxkbcommon0",
    "libdbus-1.so.3": "libdbus-1-3",
    "libfontconfig.so.1": "libfontconfig1",
    "libfreetype.so.6": "libfreetype6",
    "libglib-2.0.so.0": "libglib2.0-0",
    "libX11.so.6": "libx11-6",
}
"""System libraries that Qt's own files need on Linux, and the Debian package of each."""

QT_ON_X11 = {
    "libxcb-cursor.so.0": "libxcb-cursor0",
    "libxcb-icccm.so.4": "libxcb-icccm4",
    "libxcb-image.so.0": "libxcb-image0",
    "libxcb-keysyms.so.1": "libxcb-keysyms1",
    "libxcb-randr.so.0": "libxcb-randr0",
    "libxcb-render.so.0": "libxcb-render0",
    "libxcb-render-util.so.0": "libxcb-render-util0",
    "libxcb-shape.so.0": "libxcb-shape0",
    "libxcb-shm.so.0": "libxcb-shm0",
    "libxcb-sync.so.1": "libxcb-sync1",
    "libxcb-util.so.1": "libxcb-util1",
    "libxcb-xfixes.so.0": "libxcb-xfixes0",
    "libxcb-xkb.so.1": "libxcb-xkb1",
    "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
    "libX11-xcb.so.1": "libx11-xcb1",
}
"""What it needs besides to open a window on X11."""


def open_window(
    book: Path, who: str = "", *, make_folder: bool = False, guided: bool = False
) -> int:
    """Open the window on a book and stay until it is closed; `guided`: the sample, step by step."""
    if not has_display():
        raise BadInputError(
            "There is no display to open a window on; partsbench --help lists what works without."
        )
    fault = missing_libraries(on_screen=True)
    if fault:
        raise BadInputError(fault)
    if make_folder:
        book.parent.mkdir(parents=True, exist_ok=True)
    return app.run(book, who, guided=guided)


def has_display() -> bool:
    """True when a window can be shown: always on Windows and macOS."""
    if not sys.platform.startswith("linux") or os.environ.get("QT_QPA_PLATFORM"):
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


def missing_libraries(*, on_screen: bool) -> str:
    """The libraries that Qt misses on this Linux, by name, with the line that installs them."""
    if not sys.platform.startswith("linux"):
        return ""
    on_x11 = on_screen and not os.environ.get("WAYLAND_DISPLAY")
    on_x11 = on_x11 and os.environ.get("QT_QPA_PLATFORM", "xcb").startswith("xcb")
    wanted = QT_ALWAYS | (QT_ON_X11 if on_x11 else {})
    missing = {name: package for name, package in wanted.items() if not _is_there(name)}
    if not missing:
        return ""
    return (
        f"Qt misses system libraries: {', '.join(missing)}. On Debian or Ubuntu: "
        f"sudo apt-get install -y {' '.join(missing.values())}"
    )


def _is_there(library: str) -> bool:
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True

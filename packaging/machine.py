"""What this machine must have before anything is set up, and how to get it.

Standard library only. Each missing thing is named with the command that installs it, so
that a first start stops with a sentence instead of half working.
"""

from __future__ import annotations

import ctypes
import importlib.util
import os
import shutil
import subprocess
import sys

MINIMUM = (3, 11)

GRAPHICS = {
    "libEGL.so.1": "libegl1",
    "libGL.so.1": "libgl1",
    "libX11.so.6": "libx11-6",
    "libdbus-1.so.3": "libdbus-1-3",
    "libfontconfig.so.1": "libfontconfig1",
    "libfreetype.so.6": "libfreetype6",
    "libglib-2.0.so.0": "libglib2.0-0",
    "libxkbcommon.so.0": "libxkbcommon0",
    "libzstd.so.1": "libzstd1",
}
"""Libraries that Qt loads even without a screen, and the Debian packages that hold them."""

X11 = {
    "libX11-xcb.so.1": "libx11-xcb1",
    "libxcb-cursor.so.0": "libxcb-cursor0",
    "libxcb-icccm.so.4": "libxcb-icccm4",
    "libxcb-image.so.0": "libxcb-image0",
    "libxcb-keysyms.so.1": "libxcb-keysyms1",
    "libxcb-randr.so.0": "libxcb-randr0",
    "libxcb-render-util.so.0": "libxcb-render-util0",
    "libxcb-shape.so.0": "libxcb-shape0",
    "libxcb-util.so.1": "libxcb-util1",
    "libxcb-xkb.so.1": "libxcb-xkb1",
    "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
}
"""Libraries that Qt's window on X11 loads."""

WAYLAND = {
    "libwayland-client.so.0": "libwayland-client0",
    "libwayland-cursor.so.0": "libwayland-cursor0",
}
"""Libraries that Qt's window on Wayland loads."""

PROGRAMS = {"pdftotext": "poppler-utils"}
"""Programs that the tests read printed sheets back with."""

READERS = {"node": "nodejs", "npm": "npm"}
"""Programs that some tests are skipped without, except where every test must run."""

LIBICAL = ("gir1.2-ical-3.0", "python3-gi")
"""Debian packages of libical and its binding, which those tests need likewise."""

SYSTEM_PYTHON = "/usr/bin/python3"
"""The Python that Debian's packages belong to, whichever one runs this."""


def has_screen() -> bool:
    """Whether a window can be shown: false on Linux without a display, or where Qt is told so."""
    if os.environ.get("QT_QPA_PLATFORM", "").split(":")[0] in {"offscreen", "minimal"}:
        return False
    if sys.platform != "linux":
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


def problems(*, window: bool = False, tests: bool = False) -> list[str]:
    """What is missing, a sentence each with the command that puts it right; empty when ready."""
    found = []
    if importlib.util.find_spec("ensurepip") is None or importlib.util.find_spec("venv") is None:
        package = f"python{sys.version_info[0]}.{sys.version_info[1]}-venv"
        found.append(
            f"This Python cannot make environments: its venv or ensurepip module is missing.\n"
            f"  On Debian or Ubuntu: sudo apt-get install {package}"
        )
    lacking = _missing(window=window, tests=tests)
    if lacking:
        found.append(
            f"Missing on this machine: {', '.join(lacking)}.\n"
            f"  On Debian or Ubuntu: sudo apt-get install {' '.join(sorted(lacking.values()))}"
        )
    return found


def _missing(*, window: bool, tests: bool) -> dict[str, str]:
    lacking: dict[str, str] = {}
    if sys.platform == "linux":
        libraries = GRAPHICS | (_window_libraries() if window else {})
        lacking |= {name: holds for name, holds in libraries.items() if not _loads(name)}
    if tests:
        lacking |= {name: holds for name, holds in PROGRAMS.items() if not shutil.which(name)}
    return lacking


def _window_libraries() -> dict[str, str]:
    return WAYLAND if os.environ.get("WAYLAND_DISPLAY") else X11


def _loads(library: str) -> bool:
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True


def has_libical() -> bool:
    """Whether the system's Python can read calendars with libical."""
    asked = "import gi; gi.require_version('ICalGLib', '3.0'); from gi.repository import ICalGLib"
    try:
        done = subprocess.run([SYSTEM_PYTHON, "-c", asked], capture_output=True, check=False)
    except OSError:
        return False
    return done.returncode == 0


def packages_for_all_tests() -> list[str]:
    """The Debian packages that are missing here and that some test needs."""
    wanted = set(_missing(window=False, tests=True).values())
    wanted |= {holds for name, holds in READERS.items() if not shutil.which(name)}
    return sorted(wanted.union(() if has_libical() else LIBICAL))


if __name__ == "__main__":
    print(" ".join(packages_for_all_tests()))

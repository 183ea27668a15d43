"""Traces of errors that nothing caught, without anything that a person typed or is.

A trace has the kind of the error, and of each frame the file inside its package, the line and the
function. It has no message and no values, since these may hold a client's record; no paths of
this machine either, since they hold its user's name.
"""

from __future__ import annotations

import platform
import traceback
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path, PurePath

from sennight import __version__
from sennight.store.private import make_private, make_private_file, make_private_folder

FILE_NAME = "faults.txt"
MOST_CHARACTERS = 64 * 1024
"""As much is kept; the oldest traces make room for the newest."""

_HEAD = "fault on "
_PACKAGE_FOLDERS = ("site-packages", "dist-packages", "app", "lib", "Lib")


def fault_trace(error: BaseException, *, now: datetime) -> str:
    """The trace of an error and of those that led to it, the last one first."""
    system = f"sennight {__version__}, Python {platform.python_version()}, {platform.system()}"
    lines = [f"{_HEAD}{now.isoformat(timespec='seconds')}, {system}"]
    for n, cause in enumerate(_chain(error)):
        lines.append(f"{'after ' if n else ''}{type(cause).__name__}")
        lines += _frames(cause)
    return "\n".join(lines) + "\n"


def _chain(error: BaseException) -> Iterator[BaseException]:
    """An error, what it was raised from, and so on; each once."""
    seen: set[int] = set()
    following: BaseException | None = error
    while following is not None and id(following) not in seen:
        seen.add(id(following))
        yield following
        hidden = following.__suppress_context__
        following = following.__cause__ or (None if hidden else following.__context__)


def _frames(error: BaseException) -> Iterator[str]:
    for frame, line in traceback.walk_tb(error.__traceback__):
        code = frame.f_code
        yield f"  {_place(code.co_filename)}, {line}, {code.co_qualname}"


def _place(name: str) -> str:
    """A file's path inside the package folder that it lies in, else its name alone."""
    parts = PurePath(name).parts
    at = [n for n, part in enumerate(parts) if part in _PACKAGE_FOLDERS]
    return "/".join(parts[at[-1] + 1 :]) if at else parts[-1] if parts else name


def keep_fault(folder: Path, trace: str) -> Path | None:
    """Add a trace to the file of traces in a folder, which its owner alone can read.

    Gives the file; None where it cannot be written: an error must not bring another.
    """
    path = folder / FILE_NAME
    try:
        make_private_folder(folder)
        before = path.read_text("utf-8", errors="replace") if path.exists() else ""
        if not path.exists():
            make_private_file(path)
        make_private([path])
        path.write_text(_newest(before + trace), encoding="utf-8")
    except OSError:
        return None
    return path


def _newest(text: str) -> str:
    """The last traces that have room, whole; the last one alone is cut at its end."""
    if len(text) <= MOST_CHARACTERS:
        return text
    begin = text.find(f"\n{_HEAD}", len(text) - MOST_CHARACTERS - 1)
    last = text.rfind(f"\n{_HEAD}")
    return text[begin + 1 :] if begin >= 0 else text[last + 1 :][:MOST_CHARACTERS]

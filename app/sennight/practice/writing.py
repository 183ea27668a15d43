"""Writes several files, all or none, whatever interrupts it.

They are written under hidden names first, each beside its place, and are on the disk before any
gets its own name. A hidden plan says which they are: a program that is killed leaves it, and
`settle` then ends what had begun to get its names and removes what had not.
"""

from __future__ import annotations

import json
import os
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path
from secrets import token_hex
from types import TracebackType
from typing import NamedTuple

from sennight.store.durable import sync_folder
from sennight.store.private import FILE_MODE, FOLDER_MODE

_HIDDEN = ".sennight-"
_PLANNED, _NAMING = ".plan", ".naming"
"""How a plan's name ends before all files are on the disk, and from then on."""
_SECONDS = 600
"""After so long no program is still writing, though one may have the number in a plan's name."""
_DAYS = 30
"""So long a folder that is not there is waited for."""
_LARGEST_PLAN = 1_000_000


class FolderError(Exception):
    """A folder that cannot be written to; the message says which and why."""


class _Waiting(NamedTuple):
    """A file under its hidden name, and the name that it is to get in the same folder."""

    hidden: Path
    path: Path


class Staging:
    """Files on their way: `put` has them on the disk, `finish` gives them their names.

    As a context manager it removes what did not get its name. The plan lies in the folder
    `plans`, which is to be settled at the next start; in the first file's folder without one.
    """

    def __init__(self, plans: Path | None = None) -> None:
        self._plans, self._plan = plans, Path()
        self._waiting: tuple[_Waiting, ...] = ()

    def put(self, files: Mapping[Path, bytes]) -> None:
        """Write files under hidden names, making their folders if need be; raises FolderError."""
        if not files:
            return
        token = f"{os.getpid()}-{token_hex(4)}"
        self._waiting = tuple(
            _Waiting(path.with_name(f"{_HIDDEN}{token}-{number}"), path)
            for number, path in enumerate(files)
        )
        with _told(self._waiting):
            for path in files:
                _check(path)
                path.parent.mkdir(parents=True, exist_ok=True)
            plans = self._plans or self._waiting[0].path.parent
            plans.mkdir(FOLDER_MODE, parents=True, exist_ok=True)
            self._plan = plans / f"{_HIDDEN}{token}{_PLANNED}"
            _write(self._plan, _plan_bytes(self._waiting))
            for waiting, data in zip(self._waiting, files.values(), strict=True):
                _write(waiting.hidden, data)

    def finish(self) -> tuple[Path, ...]:
        """Give all files their names, in place of what has them; raises FolderError."""
        if not self._waiting:
            return ()
        with _told(self._waiting):
            self._plan = self._plan.replace(self._plan.with_suffix(_NAMING))
            sync_folder(self._plan.parent)
            _name(self._waiting)
        return tuple(waiting.path for waiting in self._waiting)

    def __enter__(self) -> Staging:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Remove what did not get its name, and the plan."""
        if self._waiting:
            _remove(self._waiting, self._plan)
        if self._plans:
            with suppress(OSError):
                self._plans.rmdir()


def write_files(folder: Path, files: Mapping[str, bytes]) -> tuple[Path, ...]:
    """Write files of these names into a folder, as `write_paths` does."""
    return write_paths({folder / name: data for name, data in files.items()})


def write_paths(files: Mapping[Path, bytes], *, plans: Path | None = None) -> tuple[Path, ...]:
    """Write files, making their folders if need be; other files stay as they are.

    A full disk or a folder that cannot be written to leaves the old ones. What an earlier run
    left in the first folder is settled. `plans` as for Staging. Raises FolderError.
    """
    if plans is None:
        settle(next(iter(files)).parent)
    with Staging(plans) as staging:
        staging.put(files)
        return staging.finish()


def free_path(path: Path, data: bytes) -> Path:
    """The path, or one with a number, where no file is or one with these very bytes."""
    free, number = path, 1
    while free.exists() and not _holds(free, data):
        number += 1
        free = path.with_name(f"{path.stem} ({number}){path.suffix}")
    return free


def settle(plans: Path) -> None:
    """End or undo what killed programs left: all of a set of files gets its names, or none.

    What cannot be touched now stays for the next time, as on a disk that is not connected.
    """
    for ending in (_NAMING, _PLANNED):
        for plan in sorted(plans.glob(f"{_HIDDEN}*{ending}")):
            if _is_running(plan):
                continue
            with suppress(OSError):
                waiting = _read(plan)
                if _is_elsewhere(waiting, plan):
                    continue
                if ending == _NAMING:  # some may have got their names before the kill
                    _name(tuple(file for file in waiting if file.hidden.exists()))
                _remove(waiting, plan)


def _is_elsewhere(files: tuple[_Waiting, ...], plan: Path) -> bool:
    """Whether a folder is not there now, as on a disk that is not connected; not for ever."""
    is_there = all(file.path.parent.is_dir() for file in files)
    return not is_there and time.time() - plan.stat().st_mtime < _DAYS * 24 * 3600


def _name(files: tuple[_Waiting, ...]) -> None:
    for waiting in files:
        waiting.hidden.replace(waiting.path)
    for folder in {waiting.path.parent for waiting in files}:
        sync_folder(folder)


def _remove(files: tuple[_Waiting, ...], plan: Path) -> None:
    for waiting in files:
        with suppress(OSError):
            waiting.hidden.unlink(missing_ok=True)
    with suppress(OSError):
        plan.unlink(missing_ok=True)


def _plan_bytes(files: tuple[_Waiting, ...]) -> bytes:
    rows = [
        [str(waiting.path.parent.absolute()), waiting.hidden.name, waiting.path.name]
        for waiting in files
    ]
    return json.dumps(rows).encode()


def _read(plan: Path) -> tuple[_Waiting, ...]:
    """The files of a plan; nothing for one that was cut off.

    A plan may come from elsewhere, in a folder that was unpacked: only hidden files of its own
    token are touched, and they stay in their folder.
    """
    if plan.stat().st_size > _LARGEST_PLAN:
        return ()
    try:
        rows = json.loads(plan.read_bytes())
        return tuple(_planned(plan.stem, rows))
    except (ValueError, TypeError):
        return ()


def _planned(token: str, rows: list[list[str]]) -> Iterator[_Waiting]:
    for folder, hidden, name in rows:
        if Path(hidden).name == hidden and hidden.startswith(f"{token}-"):
            yield _Waiting(Path(folder, hidden), Path(folder, Path(name).name))


def _is_running(plan: Path) -> bool:
    """Whether the program that made a plan may still be at it."""
    number = plan.name.removeprefix(_HIDDEN).partition("-")[0]
    try:
        recent = time.time() - plan.stat().st_mtime < _SECONDS
    except OSError:
        return False
    return recent and number.isdecimal() and _runs(int(number))


def _runs(process: int) -> bool:
    if os.name == "nt":
        return True  # there a signal that asks would end the process
    try:
        os.kill(process, 0)
    except (ProcessLookupError, OverflowError):
        return False
    except PermissionError:
        return True
    return True


def _holds(path: Path, data: bytes) -> bool:
    try:
        return path.stat().st_size == len(data) and path.read_bytes() == data
    except OSError:
        return False


def _check(path: Path) -> None:
    if path.is_dir():
        raise FolderError(f"{path} is a folder; expected a file or nothing there")
    if path.parent.exists() and not path.parent.is_dir():
        raise FolderError(f"{path.parent} is a file; expected a folder to write into")


def _write(path: Path, data: bytes) -> None:
    """A new file with these bytes, on the disk, readable by its owner alone."""
    with path.open("xb") as file:
        if os.name != "nt":
            os.fchmod(file.fileno(), FILE_MODE)
        file.write(data)
        file.flush()
        os.fsync(file.fileno())


@contextmanager
def _told(files: tuple[_Waiting, ...]) -> Iterator[None]:
    """Turn the system's errors into FolderError."""
    try:
        yield
    except OSError as error:
        where = ", ".join(sorted({str(waiting.path.parent) for waiting in files}))
        why = (error.strerror or str(error)).lower()
        raise FolderError(f"{where} cannot be written to ({why}); choose another") from error

"""The commands about a practice file: `sennight FILE`, `sennight doctor`, `sennight restore`."""

# What a command needs is imported in it, so that --help answers at once.
# ruff: noqa: PLC0415

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

from sennight.collecting import collecting_later, leave_what_is_there

if TYPE_CHECKING:
    from sennight.practice.backups import BackupFile, Contents
    from sennight.practice.upkeep import PracticeHealth

DONE, TROUBLE, WRONG = 0, 1, 2

WITHOUT_QT = (
    "backups",
    "bench",
    "card",
    "clients",
    "demo_file",
    "drafts",
    "faults",
    "opening",
    "upkeep",
)
"""The modules of `practice` that the window begins with."""

DOCTOR_HELP = """\
Shows where the practice file is, its size, whether every page and every course's checksum is
sound, its schema and its backups. Nothing is changed. Without FILE it examines
the practice that the window opens. Exit status 1 if something is wrong or no backup is newer
than two days, 2 if the file cannot be examined."""

RESTORE_HELP = """\
Lists the backups of a practice file and what is in each: clients, courses, the newest entry.
With --from, one of them replaces the practice file, which must be closed; the file
that was there is kept beside it under a dated name. Without FILE, it is the practice that the
window opens."""


class OutputError(Exception):
    """What was to be told could not be printed."""


def say(text: object) -> None:
    """Print a line, at once; raises OutputError, as where the disk is full or nobody reads."""
    try:
        print(text, flush=True)
    except OSError as error:
        raise OutputError((error.strerror or str(error)).lower()) from error


def describe(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add these commands and their arguments."""
    opening = commands.add_parser(
        "open",
        help="open the window on a practice file, which is remembered",
        description="Opens the window on a practice file, and on the same file next time.",
    )
    opening.add_argument("file", metavar="FILE", type=Path, help="the practice file")
    opening.add_argument(
        "--new", action="store_true", help="start a new practice if there is no such file"
    )
    formatter = argparse.RawDescriptionHelpFormatter
    _describe_file(
        commands.add_parser(
            "doctor",
            help="check the practice file and its backups",
            description=DOCTOR_HELP,
            formatter_class=formatter,
        )
    )
    _describe_restore(
        commands.add_parser(
            "restore",
            help="list the backups, or restore one",
            description=RESTORE_HELP,
            formatter_class=formatter,
        )
    )


def _describe_restore(restore: argparse.ArgumentParser) -> None:
    _describe_file(restore)
    restore.add_argument(
        "--from",
        metavar="BACKUP",
        dest="backup",
        help="the backup to restore: its number in the list, or a file",
    )
    restore.add_argument(
        "--yes", action="store_true", help="restore it without asking whether it is the right one"
    )


def _describe_file(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "file", metavar="FILE", type=Path, nargs="?", help="the practice file (default: your own)"
    )


def import_without_qt() -> None:
    """Import what the window begins with and is not Qt's, which has to be before Qt is imported.

    PySide6 reads the source of every module that is imported after it, to see whether it uses
    PySide6: that would be a sixth of the time that passes until the window is there.
    """
    for name in WITHOUT_QT:
        import_module(f"sennight.practice.{name}")


def open_window(path: Path | None = None, *, kept: bool = True, debug: bool = False) -> int:
    """Open the window on a practice file, the last or usual one where none is named.

    With `debug`, an error that nothing caught is printed with what it says.
    """
    with collecting_later():
        import_without_qt()
        from sennight.desktop.app import main

    status = main(path, kept=kept, debug=debug)
    leave_what_is_there()
    return status


def _open(given: argparse.Namespace) -> int:
    if not given.file.exists() and not given.new:
        print(
            f"{given.file} is not there; expected a practice file. Start a new one with "
            "“sennight open --new FILE”.",
            file=sys.stderr,
        )
        return WRONG
    return open_window(given.file, debug=given.debug)


def doctor(given: argparse.Namespace) -> int:
    """Tell how a practice file is; the exit status."""
    from sennight.practice.opening import PracticeFileError
    from sennight.practice.upkeep import practice_health

    path, second = _file_and_second_folder(given.file)
    try:
        health = practice_health(path, now=datetime.now(UTC), second=second)
    except PracticeFileError as error:
        print(error, file=sys.stderr)
        return WRONG
    for name, text in _health_rows(health):
        say(f"{name:<16}{text}")
    return DONE if health.sound and health.backed_up and health.private else TROUBLE


def restore(given: argparse.Namespace) -> int:
    """List the backups of a practice file, or put one in its place; the exit status."""
    from sennight.practice.backups import (
        backups_of,
        contents_of,
        is_of_another,
        restore_backup,
    )
    from sennight.practice.opening import PracticeFileError

    path, second = _file_and_second_folder(given.file)
    backups = backups_of(path, second)
    if given.backup is None:
        return _list(path, backups)
    try:
        backup = _chosen(given.backup, backups)
        for line in _contents_lines(contents_of(backup, thoroughly=True)):
            say(line)
        if is_of_another(path, backup):
            say(f"It belongs to another practice: it is no backup of {path}.")
        if not given.yes and not _agreed(path):
            say("Nothing was changed.")
            return WRONG
        aside = restore_backup(path, backup, now=datetime.now(UTC))
    except PracticeFileError as error:
        print(error, file=sys.stderr)
        return WRONG
    say(f"{path} is now as it was in {backup.name}.")
    if aside:
        say(f"The file that was there is kept: {aside}")
    return DONE


def _file_and_second_folder(named: Path | None) -> tuple[Path, Path | None]:
    from sennight.desktop.shell.settings import Settings, practice_path, settings_path

    settings = Settings(settings_path())
    return (named or practice_path(settings)).absolute(), settings.second_folder


def _chosen(text: str, backups: tuple[BackupFile, ...]) -> Path:
    from sennight.practice.opening import PracticeFileError

    if text.isascii() and text.isdigit():
        if 1 <= int(text[:6]) <= len(backups):
            return backups[int(text[:6]) - 1].path
        numbers = "1" if len(backups) == 1 else f"1 to {len(backups)}"
        raise PracticeFileError(
            f"there is no backup number {text[:6]}; expected {numbers}"
            if backups
            else "there are no backups; name one with “--from FILE”"
        )
    return Path(text).absolute()


def _agreed(path: Path) -> bool:
    try:
        return input(f"Replace {path} with this? [y/N] ").strip().lower() in {"y", "yes"}
    except EOFError:
        return False


def _list(path: Path, backups: tuple[BackupFile, ...]) -> int:
    from sennight.practice.backups import contents_of
    from sennight.practice.opening import PracticeFileError

    if backups:
        say(f"Backups of {path}:")
    elif path.is_file():
        say(f"There are no backups of {path}.")
    else:
        say(f"There is no practice file {path}, and there are no backups of one.")
    for number, backup in enumerate(backups, start=1):
        try:
            held = _held(contents_of(backup.path))
        except PracticeFileError as error:
            held = str(error)
        mark = ", before an update" if backup.before_migration else ""
        say(f"{number:>3}  {_moment(backup.when)}{mark}  {held}  {backup.path}")
    return DONE if backups else TROUBLE


def _contents_lines(contents: Contents) -> Iterator[str]:
    yield f"{contents.path}: {_held(contents)}, schema {contents.schema}"
    if contents.damaged_courses:
        yield f"Of its courses {len(contents.damaged_courses)} are damaged."


def _held(contents: Contents) -> str:
    from sennight.domain.directions.plain_words import counted

    newest = f", newest entry {_moment(contents.newest)}" if contents.newest else ""
    held = f"{counted(contents.clients, 'client')}, {counted(contents.courses, 'course')}"
    return held + newest


def _health_rows(health: PracticeHealth) -> Iterator[tuple[str, str]]:
    contents = health.contents
    waiting = f", and {_size(health.journal)} in its journal" if health.journal else ""
    yield "file", str(contents.path)
    yield "size", _size(contents.size) + waiting
    yield "contents", _held(contents)
    yield "program", health.program
    yield "schema", f"{contents.schema} (newest known: {health.newest_schema})"
    yield "pages", contents.trouble or "sound"
    yield "courses", f"{len(health.whole_in)} damaged" if health.whole_in else "sound"
    for course, backup in health.whole_in:
        yield "", f"course {course}: whole in {backup or 'no backup'}"
    yield "papers", _numbers(contents.damaged_givings)
    yield "consultations", _numbers(contents.damaged_consultations)
    yield "readable", "by you alone" if health.private else "by others on this computer too"
    for name, held in (("backups", health.backups), ("second folder", health.second)):
        if held is not None:
            newest = f", newest {_moment(held.newest.when)}" if held.newest else ""
            yield name, f"{len(held.files)} in {held.folder}{newest}"
    yield "last backup", _age(health.age)
    yield from (("to do", text) for text in _to_do(health))


def _to_do(health: PracticeHealth) -> Iterator[str]:
    """What to do about that which is wrong."""
    if not health.sound:
        yield "keep a copy of the file as it is, then restore a backup from before the damage"
        yield f"(sennight restore {health.contents.path})"
    if not health.private:
        yield "open the practice once: its files are then made readable by you alone"
    if not health.backed_up:
        yield "open the practice and close it again: a backup is made at closing"


def _numbers(damaged: tuple[int, ...]) -> str:
    numbers = ", ".join(f"no. {number}" for number in damaged)
    return f"damaged in {numbers}" if damaged else "sound"


def _age(age: timedelta | None) -> str:
    from sennight.domain.directions.plain_words import counted

    if age is None:
        return "none yet"
    hours = int(age.total_seconds() // 3600)
    if hours < 1:
        return "less than an hour ago"
    return f"{counted(hours, 'hour') if hours < 48 else counted(hours // 24, 'day')} ago"


def _size(count: int) -> str:
    size, unit = float(count), "B"
    for larger in ("kB", "MB", "GB"):
        if size < 1000:
            break
        size, unit = size / 1000, larger
    return f"{size:.0f} {unit}" if unit == "B" else f"{size:.1f} {unit}"


def _moment(when: datetime) -> str:
    """A time on this computer's clock."""
    return f"{when.astimezone():%Y-%m-%d %H:%M}"


COMMANDS = {"open": _open, "doctor": doctor, "restore": restore}
"""What does each command; its exit status."""

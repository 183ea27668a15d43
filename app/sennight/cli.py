"""The command line: `sennight` opens the window, `sennight course …` runs a course file.

Exit statuses: 0 done; 2 the file, the folder or the command is wrong, and nothing was written.
"""

from __future__ import annotations

import argparse
import re
import sys
from collections.abc import Sequence
from datetime import UTC, date, datetime
from pathlib import Path

from sennight import __version__

DONE, WRONG = 0, 2
PAPERS = ("A4", "Letter")

_COURSE_HELP = """\
Reads a course file (TOML) and writes into DIR what follows from it:

  stretches.csv   runs of days on which a remedy is taken one way
  doses.csv       every timed dose, with its date and time
  reminders.ics   the reminders, for a phone's calendar
  adherence.csv   what was taken of what was due, where the file has a diary

A file with mistakes is refused: each is told on a line of its own, with its place, and nothing
is written. Files in DIR that have other names are left alone."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the program with these arguments (the command line's if None); gives the exit status."""
    given = _parser().parse_args(arguments)
    match given.command:
        case "course":
            return _course(given)
        case _:
            return _window()


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="sennight",
        description="Phased courses of herbal treatment, planned in weeks. "
        "Without a command the window opens.",
    )
    parser.add_argument("--version", action="version", version=f"sennight {__version__}")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", title="commands")
    _add_course(commands)
    return parser


def _add_course(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    course = commands.add_parser(
        "course",
        help="run a course file and write what follows from it",
        description=_COURSE_HELP,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    course.add_argument("file", metavar="FILE", type=Path, help="the course file")
    course.add_argument(
        "--out", metavar="DIR", type=Path, required=True, help="where to write; made if need be"
    )
    course.add_argument(
        "--today",
        metavar="DATE",
        type=_date,
        help="the day that counts as today, as YYYY-MM-DD (default: this machine's date)",
    )
    course.add_argument("--paper", choices=PAPERS, default="A4", help="size of printed pages")


def _date(text: str) -> date:
    try:
        if re.fullmatch(r"\d{4}-\d{2}-\d{2}", text, re.ASCII):
            return date.fromisoformat(text)
    except ValueError:
        pass
    raise argparse.ArgumentTypeError(f"“{text}” is no date; expected YYYY-MM-DD")


def _today() -> date:
    return datetime.now(UTC).astimezone().date()


def _course(given: argparse.Namespace) -> int:
    # Imported here, so that --help answers at once.
    from sennight.practice.course_run import RunError, write_course  # noqa: PLC0415

    try:
        run = write_course(given.file, given.out, today=given.today or _today(), paper=given.paper)
    except RunError as error:
        print(error, file=sys.stderr)
        return WRONG
    for notice in run.notices:
        print(f"note: {notice}", file=sys.stderr)
    for path in run.written:
        print(path)
    return DONE


def _window() -> int:
    from sennight.desktop.app import main as open_window  # noqa: PLC0415

    return open_window()

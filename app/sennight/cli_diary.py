"""The command `sennight diary`: reads diary sheets from photos, or a diary kept as a table.

Exit statuses: 0 all was read and nothing is unclear; 1 something must be looked at; 2 a file is
wrong, or no sheet could be read, and nothing was printed but why.
"""

# What a command needs is imported in it, so that --help answers at once.
# ruff: noqa: PLC0415

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from sennight.cli_practice import DONE, TROUBLE, WRONG, say

GRID_NAME = "diary.json"
HELP = """\
Reads diary sheets from photos and scans (JPEG, PNG, HEIC, PDF; in any order and either way up)
and prints what was taken, done and rated as entries for a course file. Boxes that are not
clearly empty or marked are listed and never guessed: look at them on the paper. Nothing is
saved and nothing leaves this computer.

A table (.csv) is read too, with --course: a date column and one for each remedy, line of advice or
measure; or columns date, of and value, in any order. Either the whole table is read or nothing.

Exit status 1 if something is unclear or a photo could not be read, 2 if none could."""


def describe(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command and its arguments."""
    diary = commands.add_parser(
        "diary",
        help="read diary sheets from photos, or a table",
        description=HELP,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    diary.add_argument(
        "photos", metavar="PHOTO", type=Path, nargs="+", help="a photo of a page; or one table"
    )
    diary.add_argument(
        "--grid",
        metavar="FILE",
        type=Path,
        action="append",
        help=f"the {GRID_NAME} that was made with the sheet; again for an older version "
        "(default: the one beside the course file, or else beside the first photo)",
    )
    diary.add_argument(
        "--course",
        metavar="FILE",
        type=Path,
        help="the course file, for the words of the advice that is ticked off; needed for a table",
    )
    diary.add_argument(
        "--csv", action="store_true", help="print a table instead of entries (TOML)"
    )


def read_diary(given: argparse.Namespace) -> int:
    """Read photos or a table and print what they hold; the exit status."""
    if given.photos[0].suffix.lower() == ".csv":
        return _read_table(given)
    from sennight.practice.course_run import RunError, ticked_advice
    from sennight.practice.reading_diaries import (
        entries_csv,
        entries_toml,
        grid_of,
        read_photos,
    )
    from sennight.practice.sheet_pages import SheetFileError

    places = [path.parent / GRID_NAME for path in (given.course, given.photos[0]) if path]
    beside = next(filter(Path.exists, places), places[0])
    try:
        advice = ticked_advice(given.course) if given.course else ()
        grids = [grid_of(path) for path in given.grid or [beside]]
        read = read_photos(given.photos, grids, advice)
    except (RunError, SheetFileError) as error:
        print(error, file=sys.stderr)
        return WRONG
    for sentence in (*read.read, *read.troubles):
        print(sentence, file=sys.stderr)
    if not read.read:
        return WRONG
    say((entries_csv(read) if given.csv else entries_toml(read)).rstrip("\n"))
    return TROUBLE if read.unclear or read.troubles else DONE


def _read_table(given: argparse.Namespace) -> int:
    from sennight.practice.diary_tables import DiaryFileError, table_as_entries

    if given.course is None or len(given.photos) > 1:
        print(
            "A table must be read on its own, with --course and the course file.", file=sys.stderr
        )
        return WRONG
    try:
        found = table_as_entries(given.photos[0], given.course, as_table=given.csv)
    except DiaryFileError as error:
        print(error, file=sys.stderr)
        return WRONG
    say(found.rstrip("\n"))
    return DONE


COMMANDS = {"diary": read_diary}
"""What does the command; its exit status."""

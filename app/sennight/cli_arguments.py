"""What may stand on the command line, with its help."""

from __future__ import annotations

import argparse
import re
from datetime import date
from pathlib import Path

from sennight import __version__, cli_diary, cli_practice

PAPERS = ("A4", "Letter", "A5", "booklet")
DAY_MINUTES = 24 * 60
USUAL_JOIN = 45  # as in domain/reminders/events.py, which takes long to import

_COURSE_HELP = """\
Reads a course file (TOML) and writes these files into DIR:

  stretches.csv   runs of days on which a remedy is taken in one way
  doses.csv       every timed dose, with its date and time
  reminders.ics   the reminders, for a phone's calendar
  exposure.csv    how much of each herb is taken, against the published range
  ethanol.csv     how much ethanol is taken in tinctures
  findings.csv    safety findings for this client, the worst first
  actions.csv     the actions that each phase covers, wanted or not
  supply.csv      how much of each remedy to dispense, in whole containers
  labels.pdf      labels for the containers of the current phase
  handout.pdf     the card for the fridge door, and the take-home sheet
  handout.txt     the same as plain text
  diary.pdf       boxes to tick until the next visit; diary.json says where each box is
  review.pdf      with a diary or scores: what was given, taken, changed and decided, on two pages
  practitioner.pdf  the whole course for you: formulas, amounts, findings, decisions
  diary.csv       what the client reported, as a table, if the file has any of it
  adherence.csv   how much of what was due was taken, if the file has a diary
  outcomes.csv    how the ratings changed, if the file has scores

A file with mistakes is refused: each is listed with its place, and nothing is written. Files in
DIR with other names are left alone. The same file, day and options give the same bytes.

If there is a finding to avoid that the file does not accept with a reason, only findings.csv
is written, and the exit status is 3."""

_CALENDAR_HELP = """\
Lists the doses of a course that a calendar file has no reminder for, the reminders that have no
dose, come twice or have lost their alarm, and what to tell the client. Export the calendar from
the phone to see what the phone made of it. Use the options that the reminders were made with."""


def command_line() -> argparse.ArgumentParser:
    """Reads the program's arguments; `command` is what follows, or None for the window."""
    parser = argparse.ArgumentParser(
        prog="sennight",
        description="Phased courses of herbal treatment, planned in weeks. Without a command "
        "the window opens; “sennight FILE” opens it on that practice file.",
    )
    parser.add_argument("--version", action="version", version=f"sennight {__version__}")
    parser.add_argument(
        "--debug",
        action="store_true",
        help="print the window’s errors in full, which may name a client; without "
        "it, only where they arose",
    )
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", title="commands")
    formatter = argparse.RawDescriptionHelpFormatter
    _describe_course(
        commands.add_parser(
            "course",
            help="read a course file and write its papers, tables and reminders",
            description=_COURSE_HELP,
            formatter_class=formatter,
        )
    )
    _add_calendar_check(commands)
    _add_demo(commands)
    cli_diary.describe(commands)
    cli_practice.describe(commands)
    return parser


def _add_calendar_check(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    check = commands.add_parser(
        "check-calendar",
        help="compare a calendar file with a course file",
        description=_CALENDAR_HELP,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    check.add_argument(
        "calendars",
        metavar="FILE.ics",
        type=Path,
        nargs="+",
        help="the calendar file, or one for each phase",
    )
    check.add_argument("file", metavar="COURSE.toml", type=Path, help="the course file")
    _describe_alarm(check)
    _describe_join(check)


def _add_demo(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    demo = commands.add_parser(
        "demo",
        help="open a practice with invented clients, or write a course's papers and pictures",
        description="Opens the window on an invented practice, which is deleted on closing. "
        "With --out, writes its first course's file, everything made from it, and pictures of "
        "every screen.",
    )
    demo.add_argument(
        "--out", metavar="DIR", type=_folder, help="where to write; created if missing"
    )


def _describe_course(course: argparse.ArgumentParser) -> None:
    course.add_argument("file", metavar="FILE", type=Path, help="the course file")
    course.add_argument(
        "--out",
        metavar="DIR",
        type=_folder,
        required=True,
        help="where to write; created if missing",
    )
    course.add_argument(
        "--today",
        metavar="DATE",
        type=_date,
        help="the day that counts as today, as YYYY-MM-DD (default: this machine's date)",
    )
    _describe_papers(course.add_argument_group("how the client's papers are made"))
    course.add_argument(
        "--published",
        metavar="FILE",
        type=Path,
        help="records what the phone was given; if the file exists, reminders.ics corrects that",
    )
    course.add_argument(
        "--fresh",
        action="store_true",
        help="with --published: a new set of reminders from today, for a phone that "
        "shows corrected ones twice",
    )
    _describe_reminders(course.add_argument_group("how the client is reminded"))


def _describe_papers(group: argparse._ArgumentGroup) -> None:
    group.add_argument(
        "--paper",
        choices=PAPERS,
        default="A4",
        help="size of the printed pages; booklet: A5 pages on A4, to be printed on both sides and "
        "folded (default: A4)",
    )
    group.add_argument(
        "--large-print", action="store_true", help="18-point letters instead of 14-point"
    )
    group.add_argument(
        "--clock", choices=("24", "12"), default="24", help="18:30 or 6:30 pm (default: 24)"
    )
    group.add_argument(
        "--whole-course",
        action="store_true",
        help="the sheet goes to the end of the course (default: to the next visit)",
    )


def _describe_reminders(group: argparse._ArgumentGroup) -> None:
    group.add_argument(
        "--floating",
        action="store_true",
        help="times follow the phone's own clock wherever it is (default: the client's zone)",
    )
    group.add_argument(
        "--discreet",
        action="store_true",
        help="titles and texts name no remedy, since lock screens and shared calendars show them",
    )
    _describe_alarm(group)
    _describe_join(group)
    group.add_argument(
        "--no-markers",
        action="store_true",
        help="doses only: no entries for new phases, days off, skin tests and reviews",
    )
    group.add_argument(
        "--by-phase",
        action="store_true",
        help="a calendar file for each phase, reminders-phase-1.ics and so on, in place of "
        "reminders.ics (many phones would remind twice if given both): for long courses "
        "and calendars that refuse large files. The client opens every file; after a change, "
        "every file again",
    )


def _describe_alarm(group: argparse._ActionsContainer) -> None:
    alarm = group.add_mutually_exclusive_group()
    alarm.add_argument(
        "--alarm",
        metavar="MINUTES",
        type=_minutes,
        default=0,
        help="how long before a dose the alarm sounds (default: 0)",
    )
    alarm.add_argument("--no-alarm", action="store_true", help="no alarms at all")


def _describe_join(group: argparse._ActionsContainer) -> None:
    group.add_argument(
        "--join",
        metavar="MINUTES",
        type=_minutes,
        default=USUAL_JOIN,
        help="doses up to this many minutes after the first share its reminder "
        f"(default: {USUAL_JOIN}; 0: each at its own time)",
    )


def _folder(text: str) -> Path:
    if text.strip():
        return Path(text)
    raise argparse.ArgumentTypeError("no folder is named; expected one, or . for this folder")


def _date(text: str) -> date:
    try:
        if re.fullmatch(r"\d{4}-\d{2}-\d{2}", text, re.ASCII):
            return date.fromisoformat(text)
    except ValueError:
        pass
    raise argparse.ArgumentTypeError(f"“{text}” is not a date; expected YYYY-MM-DD")


def _minutes(text: str) -> int:
    if re.fullmatch(r"\d{1,4}", text, re.ASCII) and int(text) <= DAY_MINUTES:
        return int(text)
    raise argparse.ArgumentTypeError(
        f"“{text}” is not a number of minutes; expected a whole number from 0 to {DAY_MINUTES}"
    )

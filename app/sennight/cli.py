"""The command line: `sennight` opens the window, `sennight course …` runs a course file.

Exit statuses: 0 done; 1 no window could be opened, a calendar differs from its course, or what
was done could not be printed; 2 the file, the folder or the command is wrong, and nothing was
written; 3 a finding to avoid stands that nobody accepted, and only the findings were written;
130 broken off with Ctrl+C.
"""

# What a command needs is imported in it, so that --help answers at once and a course file is
# run without the libraries of the window.
# ruff: noqa: PLC0415

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Container, Sequence
from datetime import UTC, date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from sennight import cli_diary, cli_practice
from sennight.cli_arguments import command_line
from sennight.cli_practice import OutputError, open_window, say

if TYPE_CHECKING:
    from sennight.practice.course_run import CourseRun

DONE, DIFFERS, WRONG, STOPPED = 0, 1, 2, 3
BROKEN_OFF = 130
"""What a shell says of a command that Ctrl+C ended."""
PRACTICE_SUFFIX = ".sennight"


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the program with these arguments (the command line's if None); gives the exit status."""
    typed = sys.argv[1:] if arguments is None else arguments
    commands = {"course": _course, "check-calendar": _check_calendar, "demo": _demo}
    commands |= cli_diary.COMMANDS | cli_practice.COMMANDS
    given = command_line().parse_args(_with_command(typed, commands))
    if not _has_clock():
        return WRONG
    try:
        return commands[given.command](given) if given.command else open_window(debug=given.debug)
    except KeyboardInterrupt:
        print("stopped", file=sys.stderr)
        return BROKEN_OFF
    except OutputError as error:
        # What is still waiting to be printed would fail once more at the end of the process.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        print(f"the result could not be printed ({error})", file=sys.stderr)
        return DIFFERS


def _has_clock() -> bool:
    """Whether this machine's time can be told; says what to do where its zone cannot be used."""
    try:
        datetime.now(UTC).astimezone()
    except (ValueError, OverflowError, OSError):
        zone = os.environ.get("TZ", "")
        print(
            f"this machine’s time zone (TZ={zone}) cannot be used; expected a name such as "
            "TZ=Europe/London, or none",
            file=sys.stderr,
        )
        return False
    return True


def _with_command(arguments: Sequence[str], commands: Container[str]) -> Sequence[str]:
    """The arguments, with the command `open` put before a file that stands alone.

    A command stays one where a file of that name lies about.
    """
    *before, last = arguments or [""]
    alone = all(word == "--debug" for word in before) and not last.startswith("-")
    if (
        last
        and alone
        and last not in commands
        and (Path(last).suffix == PRACTICE_SUFFIX or Path(last).is_file())
    ):
        return [*before, "open", last]
    return arguments


def _today() -> date:
    return datetime.now(UTC).astimezone().date()


def _course(given: argparse.Namespace) -> int:
    from sennight.domain.reminders.events import ReminderChoices
    from sennight.domain.take_home.choices import ClockHours, Print, Reach, SheetChoices
    from sennight.practice.course_outputs import RunChoices
    from sennight.practice.course_run import RunError, write_course

    if given.fresh and not given.published:
        print("--fresh needs --published, which keeps what was given before", file=sys.stderr)
        return WRONG
    choices = RunChoices(
        today=given.today or _today(),
        sheet=SheetChoices(
            given.paper,
            Print.LARGE if given.large_print else Print.STANDARD,
            ClockHours(given.clock),
            Reach.WHOLE if given.whole_course else Reach.REVIEW,
        ),
        published=given.published,
        fresh=given.fresh,
        reminders=ReminderChoices(
            discreet=given.discreet,
            alarm=None if given.no_alarm else given.alarm,
            join_within=given.join,
            markers=not given.no_markers,
            by_phase=given.by_phase,
        ),
        floating=given.floating,
    )
    try:
        run = write_course(given.file, given.out, choices)
    except RunError as error:
        print(error, file=sys.stderr)
        return WRONG
    return _report(run)


def _report(run: CourseRun) -> int:
    for notice in run.notices:
        print(f"note: {notice}", file=sys.stderr)
    for path in run.written:
        say(path)
    for sentence in run.reminder_notes:
        say(sentence)
    if run.stopped:
        print(run.stopped, file=sys.stderr)
        return STOPPED
    return DONE


def _check_calendar(given: argparse.Namespace) -> int:
    from sennight.cli_progress import progress
    from sennight.domain.reminders.events import ReminderChoices
    from sennight.practice.calendar_checking import check_calendar
    from sennight.practice.course_run import RunError

    alarm = None if given.no_alarm else given.alarm
    choices = ReminderChoices(alarm=alarm, join_within=given.join)
    try:
        with progress("checking the calendar") as tell:
            report = check_calendar(given.calendars, given.file, choices, tell)
    except RunError as error:
        print(error, file=sys.stderr)
        return WRONG
    for line in report.lines:
        say(line)
    if report.agrees:
        say("each dose has one reminder, and each reminder a dose")
    for sentence in report.advice:
        say(sentence)
    return DONE if report.agrees else DIFFERS


def _demo(given: argparse.Namespace) -> int:
    from sennight.practice.course_run import RunError
    from sennight.practice.demo import throw_away_demo, write_demo

    if given.out is None:
        with throw_away_demo(_today()) as path:
            return open_window(path, kept=False, debug=given.debug)
    from sennight.desktop.pictures import write_pictures
    from sennight.practice.writing import FolderError

    try:
        _report(write_demo(given.out, today=_today()))
        pictures = write_pictures(given.out / "pictures", _today())
    except (RunError, FolderError) as error:
        print(error, file=sys.stderr)
        return WRONG
    for path in pictures:
        say(path)
    return DONE

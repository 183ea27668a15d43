"""Six publications of a course in a real calendar server, read back and drawn by another program.

After the last one every dose from that day on is there, at its time and once, whichever files the
client missed in between; what was called off is drawn by its own title alone.
"""

from __future__ import annotations

import subprocess
import sys
from collections import Counter
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path

import icalendar
import recurring_ical_events

from readers.calendar_exports import shown_in
from readers.served import Server, calendar_server
from sennight.domain.courses.courses import (
    Extend,
    Flare,
    Pause,
    PauseMode,
    Redirect,
    Revision,
)
from sennight.domain.courses.stretches import Layout, lay_out
from sennight.domain.reminders.events import ReminderChoices
from sennight.domain.reminders.published import Published
from sennight.domain.reminders.reminders import reminder_events
from sennight.domain.reminders.republishing import revise
from sennight.domain.schedule.doses import doses
from sennight.publish.calendar.ics import issued_bytes
from support.samples import course, day, line, phase, take

ZONE = "Europe/London"
QUIET = ReminderChoices(zone=ZONE, markers=False)
PLAN = course(
    phase("one", "8 w", line("t1", "1 cup bd"), line("t2", "2 mL od alternate days")),
    phase("two", "6 w", line("t1", "1 cup od"), line("t3", "2 mL nocte 1 w on 1 w off")),
    phase("rescue", "5 d", line("t2", "2 mL tds")),
)
DECIDED: tuple[tuple[int, Revision | None], ...] = (
    (1, None),
    (9, Redirect(on=day(9), remedy="t1", first=day(10), directions=take("2 cups tds"))),
    (16, Flare(on=day(16), first=day(16), rescue="rescue")),
    (30, Pause(on=day(30), first=day(31), last=day(35), mode=PauseMode.FREEZE)),
    (44, Extend(on=day(44), phase="one", by=1, in_weeks=True)),
    (60, Redirect(on=day(60), remedy="t1", first=day(60), directions=take("1 cup nocte"))),
)
LAST = day(60)
CALLED_OFF = "No longer"


def files() -> tuple[list[bytes], Layout]:
    """Each publication's file, and the course as it is at the end."""
    plan, record, made = PLAN, Published(PLAN.id), []
    for number, revision in DECIDED:
        decided = (revision,) if revision else ()
        plan = replace(plan, revisions=(*plan.revisions, *decided))
        stamp = datetime.combine(day(number), time(9), UTC)
        events = reminder_events(lay_out(plan), QUIET)
        found = revise(record, events, today=day(number), stamp=stamp)
        record = found.published
        made.append(issued_bytes(found.issued, name=record.calendar_name))
    return made, lay_out(plan)


def due(layout: Layout) -> Counter[str]:
    """Every time from the last publication on at which something is due."""
    times = {datetime.combine(dose.date, dose.time) for dose in doses(layout)}
    shown = (shown_in(ZONE, when) for when in times if when.date() >= LAST)
    return Counter(f"{when:%Y-%m-%d %H:%M}" for when in shown)


def kept(server: Server) -> Counter[str]:
    """What the server has, repeated by another library."""
    calendar = icalendar.Calendar.from_ical(server.whole())
    found = recurring_ical_events.of(calendar).between(LAST, LAST + timedelta(days=400))
    return Counter(
        f"{event['DTSTART'].dt:%Y-%m-%d %H:%M}"
        for event in found
        if event["STATUS"] != "CANCELLED"
    )


def drawn(server: Server, folder: Path) -> Counter[str]:
    """What khal draws of it, by day and time; what is titled as called off is left out."""
    config = folder / "khal.conf"
    config.write_text(
        f"[calendars]\n[[plan]]\npath = {server.events}\n"
        f"[sqlite]\npath = {folder / 'khal.db'}\n"
        f"[locale]\nlocal_timezone = {ZONE}\ndefault_timezone = {ZONE}\n"
        "timeformat = %H:%M\ndateformat = %Y-%m-%d\nlongdateformat = %Y-%m-%d\n"
        "datetimeformat = %Y-%m-%d %H:%M\nlongdatetimeformat = %Y-%m-%d %H:%M\n",
        encoding="utf-8",
    )
    until = LAST + timedelta(days=400)
    command = [sys.executable, "-m", "khal", "-c", str(config), "list", str(LAST), str(until)]
    command += ["--day-format", "", "--format", "{start-date-long} {start-time}|{title}"]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    rows = [row.partition("|") for row in done.stdout.splitlines() if "|" in row]
    return Counter(when.strip() for when, _, title in rows if not title.startswith(CALLED_OFF))


def check(server: Server, folder: Path, expected: Counter[str]) -> None:
    assert kept(server) == expected
    assert drawn(server, folder) == expected


def test_six_publications_and_any_missed_leave_the_calendar_right(tmp_path: Path) -> None:
    made, layout = files()
    expected = due(layout)
    assert expected
    assert date.fromisoformat(min(expected)[:10]) == LAST
    for name, opened in (("all", made), ("two", [made[1], made[-1]])):
        folder = tmp_path / name
        folder.mkdir()
        with calendar_server(folder / "server") as server:
            for data in opened:
                server.put(data)
            check(server, folder, expected)

"""What is kept of courses for Bench equals what laying every one of them out says."""

from __future__ import annotations

import tempfile
from collections.abc import Mapping
from contextlib import closing, suppress
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from fractions import Fraction
from pathlib import Path
from typing import NamedTuple

from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from sennight.domain.coming import coming_days
from sennight.domain.courses.clients import Client
from sennight.domain.courses.courses import Course
from sennight.domain.courses.plan import LayoutError
from sennight.domain.courses.stretches import lay_out
from sennight.domain.day import ClientDay, Moment
from sennight.domain.directions.directions import SameTimeError, Unit
from sennight.domain.dispensary.batches import HandedOver
from sennight.domain.dispensary.lasting import lasting
from sennight.domain.follow_up.diaries import Taken
from sennight.domain.supply.quantities import Quantity
from sennight.practice.backups import restore_backup
from sennight.practice.clients import ClientEntry, add_client, change_client
from sennight.practice.courses import add_course, course_entry, list_courses, save_course
from sennight.practice.diaries import diary, enter_diary, withdraw_diary
from sennight.practice.opening import OpenPractice, open_practice
from sennight.practice.standings import catch_up
from sennight.store.connecting import raw_connection
from sennight.store.entries import NewPaper
from support.draws import draws
from support.practice_files import new_practice
from support.samples import REMEDIES, START, course, line, phase, possible_courses

NOW = datetime(2027, 1, 4, 9, 30, tzinfo=UTC)
DAYS = {
    "usual": ClientDay.at({}),
    "late": ClientDay.at({Moment.RISING: time(9), Moment.BREAKFAST: time(9, 30)}),
    "short": ClientDay.at({Moment.SUPPER: time(16), Moment.BEDTIME: time(18)}),
}


class Standing(NamedTuple):
    """What is kept of a course."""

    name: str
    first: date | None
    last: date | None
    diary_since: date | None
    days: frozenset[tuple[str, date, str, date | None]]


def kept(practice: OpenPractice) -> Mapping[str, Standing]:
    """What the file holds, read by plain SQL."""
    with closing(raw_connection(practice.path)) as connection:
        days: dict[int, set[tuple[str, date, str, date | None]]] = {}
        for matter, day, course, what, until in connection.execute("SELECT * FROM coming_day"):
            row = (matter, date.fromordinal(day), what, _day(until))
            days.setdefault(course, set()).add(row)
        rows = connection.execute(
            "SELECT number, course_id, name, first, last, diary_since FROM course_standing"
        ).fetchall()
    return {
        course_id: Standing(
            name, _day(first), _day(last), _day(since), frozenset(days.get(number, ()))
        )
        for number, course_id, name, first, last, since in rows
    }


def _day(number: int | None) -> date | None:
    return None if number is None else date.fromordinal(number)


def worked_out(practice: OpenPractice, sheets: Mapping[str, date]) -> Mapping[str, Standing]:
    """The same by laying out every course; `sheets` says when one got a sheet for its diary."""
    found = {}
    for entry in list_courses(practice):
        name = entry.course.protocol.name
        try:
            layout = lay_out(entry.course)
        except SameTimeError:
            layout = None
        if layout is None or entry.course.is_void or not layout.days:
            found[entry.id] = Standing(name, None, None, None, frozenset())
            continue
        with practice.file.reading() as unit:
            handed = unit.dispensary.handed_for(entry.id)
        rows = coming_days(layout, lasting(layout, handed))
        entered = [taken.day for taken in diary(practice, entry.id)]
        sheet = sheets.get(entry.id)
        since = max(sheet, layout.days.first) if sheet else None
        found[entry.id] = Standing(
            name,
            layout.days.first,
            layout.days.last,
            max(entered) + timedelta(days=1) if entered else since,
            frozenset((str(row.matter), row.day, row.what, row.until) for row in rows),
        )
    return found


class Acts:
    """A practice with two clients and some courses, and what can be done to them."""

    def __init__(self, practice: OpenPractice, drawn: list[Course]) -> None:
        self.practice, self.sheets = practice, dict[str, date]()
        self.clients = [add_client(practice, Client(name)) for name in ("Una", "Bo")]
        self.wanted: dict[str, Course] = {}
        for number, whole in enumerate(drawn):
            begun = replace(whole, id=f"c{number}", revisions=())
            client = self.clients[number % 2]
            course_id = add_course(practice, client, begun, now=NOW)
            self.wanted[course_id] = whole
        with closing(raw_connection(practice.path)) as connection:
            connection.execute(
                "INSERT INTO batch VALUES ('b', ?, '1', '{}', '9', 'mL', ?, 'x', ?, '')",
                (NOW.isoformat(), START.isoformat(), START.isoformat()),
            )

    def _save(self, course_id: str, **changes: object) -> None:
        entry = course_entry(self.practice, course_id)
        changed = replace(entry.course, **changes)  # type: ignore[arg-type]
        with suppress(LayoutError):  # a refused save leaves all as it was, the kept days too
            save_course(self.practice, entry, changed, now=NOW)

    def decide(self, course_id: str, number: int) -> None:
        """The next revision, or the last one struck out, or that undone."""
        done = course_entry(self.practice, course_id).course.revisions
        left = self.wanted[course_id].revisions[len(done) :]
        if left and number:
            self._save(course_id, revisions=(*done, left[0]))
        elif done:
            last = replace(done[-1], void="" if done[-1].void else "in error", void_on=START)
            self._save(course_id, revisions=(*done[:-1], last))

    def edit(self, course_id: str, number: int) -> None:
        """Other phases, and back again."""
        protocol = self.wanted[course_id].protocol
        phases = protocol.phases
        longer = replace(phases[0], lines=phases[-1].lines) if number % 2 else phases[0]
        self._save(
            course_id,
            protocol=replace(protocol, name=f"Plan {number % 3}", phases=(longer, *phases[1:])),
        )

    def strike(self, course_id: str, number: int) -> None:
        """The whole course struck out, or that undone."""
        void = "in error" if number else ""
        self._save(course_id, void=void, void_on=START if void else None)

    def enter(self, course_id: str, number: int) -> None:
        """Marks in the diary, or some withdrawn."""
        start = self.wanted[course_id].start
        days = [start + timedelta(days=number * 3 + n) for n in range(3)]
        if number % 3:
            enter_diary(self.practice, course_id, [Taken(day, REMEDIES[0], 1) for day in days])
        else:
            held = diary(self.practice, course_id)[-4:]
            withdraw_diary(self.practice, course_id, [(row.day, row.remedy) for row in held])

    def hand(self, course_id: str, number: int) -> None:
        """Something handed over."""
        unit_of = (Unit.ML, Unit.G, Unit.CUP)[number % 3]
        day = self.wanted[course_id].start + timedelta(days=number)
        amount = Quantity(Fraction(20 + 15 * number), unit_of)
        client = course_entry(self.practice, course_id).client_id
        remedy = REMEDIES[number % len(REMEDIES)]
        with self.practice.file.writing() as unit:
            handed = HandedOver("b", client, course_id, remedy, day, amount, 1, "x")
            unit.dispensary.hand_over(handed, recorded=NOW)

    def give(self, course_id: str, number: int) -> None:
        """A sheet for the diary, or another paper."""
        kind = "diary" if number % 2 else "handout"
        client = course_entry(self.practice, course_id).client_id
        with self.practice.file.writing() as unit:
            unit.papers.add(
                client, [NewPaper(kind, f"{kind}.pdf", b"x")], course_id=course_id, given=NOW
            )
        if kind == "diary":
            self.sheets.setdefault(course_id, NOW.date())

    def client(self, course_id: str, number: int) -> None:
        """A client's day, which may make a course impossible, or their name."""
        client_id = course_entry(self.practice, course_id).client_id
        client = Client(f"Una {number}", day=[*DAYS.values()][number % 3])
        change_client(self.practice, ClientEntry(client_id, client))


ACTS = ("decide", "edit", "strike", "enter", "hand", "give", "client")
STEPS = st.lists(
    st.tuples(st.sampled_from(ACTS), st.integers(0, 1), st.integers(0, 9)),
    min_size=4,
    max_size=12,
)


@settings(
    max_examples=draws(3, check=4, long=200),
    suppress_health_check=[HealthCheck.too_slow],
    phases=[Phase.explicit, Phase.reuse, Phase.generate],
)
@given(st.lists(possible_courses(), min_size=2, max_size=2), STEPS)
def test_what_is_kept_is_what_laying_out_says(
    drawn: list[Course], steps: list[tuple[str, int, int]]
) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "practice.sennight")
        with new_practice(path, clock=lambda: NOW) as practice:
            acts = Acts(practice, drawn)
            for name, at, number in steps:
                getattr(acts, name)(f"c{at}", number)
                assert kept(practice) == worked_out(practice, acts.sheets)
            before = kept(practice)
            with closing(raw_connection(path)) as connection:
                connection.execute("DELETE FROM coming_day")
                connection.execute("DELETE FROM course_standing")
            assert catch_up(practice, most=1)
            assert not catch_up(practice, most=2)
            assert kept(practice) == before


def test_a_backup_brings_its_own_days_back(tmp_path: Path) -> None:
    path = tmp_path / "practice.sennight"
    with new_practice(path, clock=lambda: NOW) as practice:
        acts = Acts(practice, [course(phase("one", "6 w", line("t1", "1 cup od")))])
        before = kept(practice)
        backup = practice.file.back_up()
        acts.strike("c0", 1)
        assert kept(practice) != before
    restore_backup(path, backup, now=NOW)
    with open_practice(path, clock=lambda: NOW) as practice:
        assert kept(practice) == before == worked_out(practice, {})

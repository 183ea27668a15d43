"""Whatever is revised and published, a phone that follows the standard ends up right."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, time, timedelta

from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from readers.calendar_exports import shown_in
from readers.dose_lines import dose_lines, told_doses
from readers.phone import Phone, Shown
from sennight.domain.courses.courses import (
    Advance,
    Course,
    End,
    Extend,
    Flare,
    Pause,
    PauseMode,
    Redirect,
    Revision,
    Stop,
)
from sennight.domain.courses.plan import LayoutError
from sennight.domain.courses.protocols import Line
from sennight.domain.courses.stretches import Layout, lay_out
from sennight.domain.reminders.events import ReminderChoices
from sennight.domain.reminders.published import CalendarUpdate, Published
from sennight.domain.reminders.reminders import reminder_events
from sennight.domain.reminders.republishing import fresh_set, revise
from sennight.publish.calendar.ics import issued_bytes, phase_files
from sennight.publish.calendar.record import read_record, record_bytes
from support.draws import draws
from support.samples import course, day, line, phase, pick, take

SERIES = draws(20)

TAKES = pick(
    "1 cup od",
    "1 cup bd",
    "2 mL tds",
    "2 mL od on mon wed fri",
    "1 cup od alternate days",
    "1 cup nocte 2 w on 1 w off",
    "1 cup at 01:30,08:00",
    "2 mL mane every 3 days",
).map(take)


CHOICES = st.builds(
    ReminderChoices,
    zone=st.sampled_from(("Europe/London", "Europe/London", "Australia/Lord_Howe", None)),
    discreet=st.sampled_from((False, False, False, True)),
    alarm=st.sampled_from((0, 0, 0, 15, None)),
    join_within=st.sampled_from((0, 0, 0, 60)),
    markers=st.sampled_from((True, True, False)),
    by_phase=st.sampled_from((False, False, True)),
)
STARTS = (date(2027, 1, 4), date(2027, 3, 15), date(2027, 10, 4))


@dataclass(frozen=True)
class Step:
    """A publication on a day, perhaps after a revision, perhaps as a fresh set."""

    today: date
    revision: Revision | None
    choices: ReminderChoices
    is_fresh: bool


def revisions(today: date) -> st.SearchStrategy[Revision]:
    """Revisions decided today, for days before it too; many are impossible."""
    on = st.just(today)
    near = st.integers(-10, 30).map(lambda n: today + timedelta(days=n))
    remedies = pick("t1", "t2")
    return st.one_of(
        st.builds(Extend, on=on, phase=pick("one", "two"), by=st.integers(-10, 15)),
        st.builds(Advance, on=on, to=st.just("two"), first=near),
        st.builds(
            lambda first, days, mode: Pause(
                on=today, first=first, last=first + timedelta(days=days), mode=mode
            ),
            near,
            st.integers(0, 15),
            st.sampled_from(PauseMode),
        ),
        st.builds(Flare, on=on, first=near, rescue=st.just("rescue")),
        st.builds(Redirect, on=on, remedy=remedies, first=near, directions=TAKES),
        st.builds(Stop, on=on, remedy=remedies, first=near),
        st.builds(End, on=on, first=near),
    )


@st.composite
def series(draw: st.DrawFn) -> tuple[Course, list[Step]]:
    """A course and up to five publications of it, the first before or after its start."""
    plan = course(
        phase("one", draw(pick("10 d", "5 w", "2 mo")), taken("t1", draw), taken("t2", draw)),
        phase("two", draw(pick("20 d", "6 w")), taken("t1", draw), taken("t3", draw)),
        phase("rescue", "5 d", taken("t2", draw)),
        start=draw(st.sampled_from(STARTS)),
    )
    today = plan.start + timedelta(days=draw(st.integers(-3, 10)))
    choices = draw(CHOICES)
    steps = [Step(today, None, choices, is_fresh=False)]
    for _ in range(draw(st.integers(1, 4))):
        today += timedelta(days=draw(st.integers(0, 25)))
        choices = draw(st.just(choices) | CHOICES)
        is_fresh = draw(st.integers(0, 9)) == 9
        steps.append(Step(today, draw(st.none() | revisions(today)), choices, is_fresh))
    return plan, steps


def taken(remedy: str, draw: st.DrawFn) -> Line:
    return Line(remedy, draw(TAKES))


def revised(plan: Course, revision: Revision | None) -> Course:
    """The course with the revision, or as it was where that is impossible."""
    if revision is None:
        return plan
    longer = replace(plan, revisions=(*plan.revisions, revision))
    try:
        lay_out(longer)
    except LayoutError:
        return plan
    return longer


def due(layout: Layout, choices: ReminderChoices) -> list[tuple[datetime, list[str]]]:
    """What is due at each time, as told, from the single doses; for choices without joining."""
    found = defaultdict(list)
    for dose, amount in told_doses(layout):
        remedy = layout.course.remedy(dose.remedy)
        letter = "ABC"[layout.course.remedies.index(remedy)]
        name = f"{remedy.form.capitalize()} {letter}" if choices.discreet else remedy.name
        at = datetime.combine(dose.date, dose.time)
        at = shown_in(choices.zone, at) if choices.zone else at
        found[at].append(f"{at:%H:%M} {name}: {amount}")
    return sorted((at, sorted(told)) for at, told in found.items())


def timed(shown: list[Shown]) -> list[tuple[datetime, list[str]]]:
    return [
        (at, sorted(dose_lines(at, title, text)))
        for at, title, text in shown
        if isinstance(at, datetime)
    ]


def since(today: date, shown: list[Shown]) -> list[Shown]:
    return [one for one in shown if str(one[0])[:10] >= str(today)]


def before(today: date, shown: list[Shown]) -> list[Shown]:
    return [one for one in shown if str(one[0])[:10] < str(today)]


def check(shown: list[Shown], layout: Layout, step: Step) -> None:
    """From today on the phone shows what is due by the latest course, once, and its markers."""
    coming = since(step.today, shown)
    if not step.choices.join_within:
        expected = [
            (at, told) for at, told in due(layout, step.choices) if at.date() >= step.today
        ]
        assert timed(coming) == expected
    markers = sorted(
        (str(event.run.first), event.title)
        for event in reminder_events(layout, step.choices)
        if event.minute is None and event.run.first >= step.today
    )
    assert markers == sorted((str(at), title) for at, title, _ in coming if len(str(at)) == 10)


def files_of(plan: Course, found: CalendarUpdate, choices: ReminderChoices) -> list[bytes]:
    name = found.published.calendar_name
    if not choices.by_phase:
        return [issued_bytes(found.issued, name=name)]
    phases = [phase.id for phase in plan.protocol.sequence]
    by_phase = phase_files(found.issued, phases, name=name)
    return [data for files in by_phase.values() for data in files]


def publications(plan: Course, steps: list[Step]) -> Iterator[tuple[Course, Step, CalendarUpdate]]:
    """What is published at each step, and the course as it then was."""
    record = Published(plan.id)
    for number, step in enumerate(steps):
        plan = revised(plan, step.revision)
        events = reminder_events(lay_out(plan), step.choices)
        stamp = datetime.combine(step.today, time(9, number), UTC)
        publish = fresh_set if step.is_fresh else revise
        publication = publish(
            record, events, today=step.today, stamp=stamp, discreet=step.choices.discreet
        )
        record = read_record(record_bytes(publication.published))
        assert record == publication.published
        yield plan, step, publication


PLAN = course(
    phase("one", "5 w", line("t1", "1 cup od"), line("t2", "2 mL od alternate days")),
    phase("two", "6 w", line("t1", "1 cup bd"), line("t3", "2 mL od")),
    phase("rescue", "5 d", line("t2", "2 mL tds")),
)
QUIET = ReminderChoices(zone="Europe/London", markers=False)


def at(number: int, *revision: Revision, choices: ReminderChoices = QUIET) -> Step:
    """A publication on a course day, after a revision if any."""
    return Step(day(number), next(iter(revision), None), choices, is_fresh=False)


def other_directions(number: int, remedy: str) -> Revision:
    """Another dose from a course day on, decided on that day."""
    on = day(number)
    return Redirect(on=on, remedy=remedy, first=on, directions=take("3 cups od"))


@settings(
    max_examples=SERIES,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
@given(series())
@example((PLAN, [at(1), at(1, other_directions(1, "t1"))]))  # entries that begin today
@example((PLAN, [at(1), at(1, Stop(on=day(1), remedy="t2", first=day(1)))]))
@example((PLAN, [at(1), at(36, other_directions(36, "t1"))]))
@example((PLAN, [at(1), at(36, End(on=day(36), first=day(36)))]))
@example((PLAN, [at(1), at(10, other_directions(10, "t2"))]))  # entries that have begun
@example((PLAN, [at(1), at(35, Extend(on=day(35), phase="one", by=7)), at(36)]))
@example(  # cancelled, and back under the old UID
    (
        PLAN,
        [
            at(1),
            at(5, Extend(on=day(5), phase="one", by=7)),
            at(6, Extend(on=day(6), phase="one", by=-7)),
        ],
    )
)
@example((PLAN, [at(1, choices=ReminderChoices()), at(2), at(3, choices=ReminderChoices())]))
def test_any_series_of_revisions_and_publications(drawn: tuple[Course, list[Step]]) -> None:
    phone, shown = Phone(), list[Shown]()
    for number, (plan, step, publication) in enumerate(publications(*drawn)):
        past = before(step.today, shown)
        if step.is_fresh:
            phone = Phone()
        for data in 2 * files_of(plan, publication, step.choices):  # again: changes nothing
            phone.read(data)
        shown = phone.shown()
        if number and not step.is_fresh:
            now_past = before(step.today, shown)
            if step.choices.discreet:  # the names may have gone out of it
                assert [at for at, *_ in now_past] == [at for at, *_ in past]
            else:
                assert now_past == past
        check(shown, lay_out(plan), step)


@settings(
    max_examples=SERIES,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
@given(series(), st.data())
def test_files_that_were_missed_or_written_twice_leave_every_phone_right(
    drawn: tuple[Course, list[Step]], data: st.DataObject
) -> None:
    """Also one that draws cancelled entries like others, as long as it goes by the UID."""
    plan, steps = drawn
    steps = [replace(step, is_fresh=False) for step in steps]
    twice = [step for step in steps for _ in range(data.draw(st.integers(1, 2)))]
    phones = (Phone(), Phone(draws_cancelled=True))
    published = list(publications(plan, twice))
    for number, (plan, step, publication) in enumerate(published):
        is_last = number == len(published) - 1
        if is_last or data.draw(st.booleans()):
            for file in files_of(plan, publication, step.choices):
                for phone in phones:
                    phone.read(file)
    for phone in phones:
        check(phone.shown(), lay_out(plan), step)

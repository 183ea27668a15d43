"""What needs attention, by day: what stands there, what is done, what is put off."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction
from pathlib import Path
from random import Random

import pytest

from sennight.domain.courses.clients import Fact
from sennight.domain.courses.courses import Flare
from sennight.domain.directions.directions import Unit
from sennight.domain.dispensary.batches import HandedOver
from sennight.domain.follow_up.consultations import (
    Appointment,
    Consultation,
    ConsultationKind,
    Part,
)
from sennight.domain.follow_up.diaries import Taken
from sennight.domain.safety.red_flags import RedFlagCheck
from sennight.domain.supply.quantities import Quantity
from sennight.practice.bench import Item, Matter, bench, mark_done, put_off, reopen
from sennight.practice.bench_reading import MatterReader
from sennight.practice.client_list import REVIEWS_WITHIN, list_client_standings
from sennight.practice.clients import change_client, client_entry
from sennight.practice.consultations import add_consultation, strike_out_consultation
from sennight.practice.course_reading import read_entry
from sennight.practice.courses import course_entry, save_course, start_course
from sennight.practice.diaries import enter_diary
from sennight.practice.own_herbs import known_herbs
from sennight.practice.red_flags import record_check
from sennight.practice.standings import catch_up, check_some, keep_given
from sennight.store.connecting import raw_connection
from sennight.store.entries import NewPaper
from support.practice_files import new_sample
from support.sample_practice import NOW, Sample

LAST, CHANGE = date(2027, 2, 14), date(2027, 2, 15)
"""The last day of the sample's first phase, and the first of the next."""
TODAY = date(2027, 2, 12)
Seen = list[tuple[Matter, date, str]]


@pytest.fixture
def sample(tmp_path: Path) -> Iterator[Sample]:
    made = new_sample(tmp_path / "practice.sennight")
    yield made
    made.practice.close()


def seen(sample: Sample, today: date = TODAY) -> Seen:
    return [(item.matter, item.due, item.what) for item in bench(sample.practice, today).items]


def only(sample: Sample, matter: Matter, today: date = TODAY) -> Item:
    (found,) = (item for item in bench(sample.practice, today).items if item.matter is matter)
    return found


def test_what_comes_in_the_week_stands_under_its_day(sample: Sample) -> None:
    assert seen(sample) == [
        (Matter.REVIEW, LAST, "loading"),
        (Matter.PHASE, CHANGE, "maintenance"),
    ]
    item = only(sample, Matter.PHASE)
    assert (item.client, item.course) == ("Efua Prendergast", "Winter joints")
    assert bench(sample.practice, TODAY).running == 1
    assert seen(sample, TODAY - timedelta(weeks=2)) == []


def test_a_review_stays_for_four_weeks_and_what_has_happened_does_not(sample: Sample) -> None:
    after = CHANGE + timedelta(days=1)
    assert seen(sample, after) == [(Matter.REVIEW, LAST, "loading")]
    assert seen(sample, LAST + timedelta(days=28)) != []
    assert seen(sample, LAST + timedelta(days=29)) == []


def test_a_client_who_was_seen_was_reviewed(sample: Sample) -> None:
    words = (Part("Notes", "better"),)
    kind = ConsultationKind.FOLLOW_UP
    early = Consultation(LAST - timedelta(days=8), kind, words)
    add_consultation(sample.practice, sample.clients["efua"], early)
    assert (Matter.REVIEW, LAST, "loading") in seen(sample)
    after = Appointment(TODAY + timedelta(days=1))
    number = add_consultation(
        sample.practice, sample.clients["efua"], Consultation(TODAY, kind, words, next=after)
    )
    assert seen(sample) == [
        (Matter.APPOINTMENT, after.day, ""),
        (Matter.PHASE, CHANGE, "maintenance"),
    ]
    strike_out_consultation(sample.practice, number, reason="another client's", on=TODAY)
    assert (Matter.REVIEW, LAST, "loading") in seen(sample)


def test_done_is_gone_and_can_be_taken_back(sample: Sample) -> None:
    before, item = seen(sample), only(sample, Matter.REVIEW)
    mark_done(sample.practice, item, now=NOW)
    assert seen(sample) == before[1:]
    reopen(sample.practice, item, now=NOW)
    assert seen(sample) == before


def test_put_off_stands_under_its_new_day_however_far(sample: Sample) -> None:
    first, second = TODAY + timedelta(days=3), LAST + timedelta(days=40)
    item = only(sample, Matter.REVIEW)
    put_off(sample.practice, item, first, now=NOW)
    moved = only(sample, Matter.REVIEW)
    assert (moved.due, moved.day, moved.put_to) == (first, LAST, first)
    put_off(sample.practice, moved, second, now=NOW)
    assert seen(sample) == [(Matter.PHASE, CHANGE, "maintenance")]
    assert seen(sample, second) == [(Matter.REVIEW, second, "loading")]
    reopen(sample.practice, moved, now=NOW)
    assert only(sample, Matter.REVIEW).due == first


def seen_next(sample: Sample, today: date) -> dict[str, date]:
    """When each client is seen next, by reading all that stands."""
    with sample.practice.file.reading() as unit:
        names = unit.clients.listed_names()
        items = MatterReader(unit.matters, today, names, REVIEWS_WITHIN).items()
    found: dict[str, date] = {}
    for item in items:
        if item.matter in {Matter.REVIEW, Matter.APPOINTMENT}:
            found.setdefault(item.key.client, item.due)
    return found


def test_when_clients_are_seen_next_is_the_first_that_stands_for_each(sample: Sample) -> None:
    """Courses of which something was said are read otherwise than the others: all agree."""
    draw, practice = Random(4), sample.practice  # noqa: S311 - the same acts each time
    clients = tuple(sample.clients.values())
    for n, client in enumerate(clients * 2):
        for protocol in sample.protocols.values():
            start_course(practice, client, protocol, LAST - timedelta(days=9 * n + 3), now=NOW)
    told = set()
    for n in range(24):
        today = LAST + timedelta(days=draw.randrange(-20, 60))
        standings = list_client_standings(practice, today)
        found = {client.id: client.next.day for client in standings if client.next}
        assert found == seen_next(sample, today)
        told |= {(today, day) for day in found.values()}
        reviews = [item for item in bench(practice, today).items if item.matter is Matter.REVIEW]
        for item in draw.sample(reviews, min(1, len(reviews))):
            if n % 3 == 0:
                mark_done(practice, item, now=NOW)
            else:
                put_off(practice, item, today + timedelta(days=draw.randrange(1, 40)), now=NOW)
        if n % 4 == 3:
            seen_on = Consultation(today, ConsultationKind.FOLLOW_UP, (Part("Notes", "better"),))
            to = Appointment(today + timedelta(days=draw.randrange(2, 20)))
            add_consultation(practice, draw.choice(clients), replace(seen_on, next=to))
    assert any(day < today for today, day in told)
    assert any(day > today for today, day in told)


def test_what_is_no_more_is_not_shown_though_it_was_put_off(sample: Sample) -> None:
    later = LAST + timedelta(days=40)
    put_off(sample.practice, only(sample, Matter.REVIEW), later, now=NOW)
    entry = course_entry(sample.practice, sample.course)
    struck = replace(entry.course, void="another client's", void_on=TODAY)
    save_course(sample.practice, entry, struck, now=NOW)
    assert seen(sample) == seen(sample, later) == []


def test_a_flare_stands_while_it_lasts(sample: Sample) -> None:
    entry = course_entry(sample.practice, sample.course)
    flare = Flare(on=TODAY, first=TODAY - timedelta(days=2), rescue="rescue")
    save_course(sample.practice, entry, replace(entry.course, revisions=(flare,)), now=NOW)
    item = only(sample, Matter.FLARE)
    assert (item.due, item.day, item.until) == (TODAY, flare.first, TODAY + timedelta(days=4))
    assert only(sample, Matter.FLARE_END).due == TODAY + timedelta(days=5)
    over = TODAY + timedelta(days=5)
    assert Matter.FLARE not in {matter for matter, _, _ in seen(sample, over)}


def test_a_diary_is_asked_for_a_week_after_its_last_entry(sample: Sample) -> None:
    last = TODAY - timedelta(days=10)
    enter_diary(sample.practice, sample.course, [Taken(last, "tea", 1)])
    item = only(sample, Matter.DIARY)
    assert (item.due, item.until) == (last + timedelta(days=8), last)
    enter_diary(sample.practice, sample.course, [Taken(TODAY, "tea", 1)])
    assert Matter.DIARY not in {matter for matter, _, _ in seen(sample)}


def test_what_was_handed_over_runs_out(sample: Sample) -> None:
    with closing(raw_connection(sample.practice.path)) as connection:
        day = TODAY.isoformat()
        connection.execute(
            "INSERT INTO batch VALUES ('b', '', '1', '{}', '9', 'mL', ?, 'x', ?, '')", (day, day)
        )
    first = date(2027, 1, 20)  # 2 mL twice a day: 40 mL are ten days; ordered a week before
    handed = HandedOver(
        "b",
        sample.clients["efua"],
        sample.course,
        "drops",
        first,
        Quantity(Fraction(40), Unit.ML),
        1,
        "x",
    )
    with sample.practice.file.writing() as unit:
        unit.dispensary.hand_over(handed, recorded=NOW)
    item = only(sample, Matter.ORDER, first + timedelta(days=4))
    assert (item.what, item.due, item.until) == (
        "Warming drops",
        first + timedelta(days=2),
        first + timedelta(days=9),
    )


def test_red_flags_stand_until_they_are_cleared(sample: Sample) -> None:
    noor = sample.clients["noor"]
    record_check(sample.practice, noor, RedFlagCheck(TODAY, ("clot", "hot-joint")), now=NOW)
    assert only(sample, Matter.RED_FLAG).what == "2"
    later = TODAY + timedelta(days=90)
    assert only(sample, Matter.RED_FLAG, later).due == later
    cleared = RedFlagCheck(TODAY, (), "the doctor looked")
    record_check(sample.practice, noor, cleared, now=NOW)
    assert Matter.RED_FLAG not in {matter for matter, _, _ in seen(sample)}


def test_findings_are_new_that_were_not_there_when_the_course_was_given(sample: Sample) -> None:
    practice, efua = sample.practice, sample.clients["efua"]
    with practice.file.writing() as unit:
        reading = read_entry(
            unit,
            unit.courses.get(sample.course),
            today=TODAY,
            materia_medica=known_herbs(practice),
        )
        papers = [NewPaper("handout", "a.pdf", b"x")]
        number = unit.papers.add(efua, papers, course_id=sample.course, given=NOW)
        keep_given(unit, reading, number)
    assert check_some(practice, TODAY)
    assert not check_some(practice, TODAY)
    assert Matter.FINDING not in {matter for matter, _, _ in seen(sample)}
    entry = client_entry(practice, efua)
    told = replace(entry.client, conditions=(*entry.client.conditions, Fact("gallstones")))
    change_client(practice, replace(entry, client=told))
    assert check_some(practice, TODAY)
    item = only(sample, Matter.FINDING)
    assert (item.due, item.day) == (TODAY, NOW.date())
    assert item.what


def test_archived_clients_bring_nothing(sample: Sample) -> None:
    entry = client_entry(sample.practice, sample.clients["efua"])
    change_client(sample.practice, replace(entry, archived=True))
    assert seen(sample) == []


def test_courses_of_an_earlier_version_are_read_a_few_at_a_time(sample: Sample) -> None:
    with closing(raw_connection(sample.practice.path)) as connection:
        connection.execute("UPDATE course_standing SET read_as = 0")
        connection.execute("DELETE FROM coming_day")
    saves = sample.practice.changes
    assert bench(sample.practice, TODAY).behind
    assert not catch_up(sample.practice)
    assert not bench(sample.practice, TODAY).behind
    assert len(seen(sample)) == 2
    assert sample.practice.changes == saves, "nothing was saved, so nothing read before is old"

"""Starting, revising and looking back at courses."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from sennight.domain.courses.accepts import Accept
from sennight.domain.courses.clients import Client, Fact
from sennight.domain.courses.courses import Extend, Flare, Redirect, Stop
from sennight.domain.courses.plan import LayoutError
from sennight.practice.clients import ClientEntry, add_client, change_client, client_entry
from sennight.practice.courses import (
    CourseTitle,
    RevisionsChangedError,
    StaleCourseError,
    add_course,
    course_entry,
    course_history,
    list_course_titles,
    list_courses,
    save_course,
    start_course,
)
from sennight.practice.opening import MissingRecordError, OpenPractice
from sennight.practice.protocols import change_protocol, shelf_protocol
from sennight.practice.remedies import save_remedy
from support.filled import TEA, course
from support.samples import START, day, remedy, take

NOW = datetime(2027, 1, 4, 9, 30, tzinfo=UTC)
FLARE = Flare(on=day(3), first=day(4), rescue="rescue", reason="cold snap")
STOP = Stop(on=day(9), remedy="t1", first=day(10), reason="rash")


@pytest.fixture
def course_id(practice: OpenPractice, client_id: str, protocol_id: str) -> str:
    return start_course(practice, client_id, protocol_id, START, now=NOW)


def test_a_course_starts_as_the_protocol_has_it(
    practice: OpenPractice, client_id: str, protocol_id: str
) -> None:
    until = date(2027, 12, 31)
    course_id = start_course(practice, client_id, protocol_id, START, until=until, now=NOW)
    entry, shelf = course_entry(practice, course_id), shelf_protocol(practice, protocol_id)
    assert (entry.client_id, entry.client_name, entry.version) == (client_id, "Una Example", 1)
    assert (entry.created, entry.changed) == (NOW, NOW)
    assert (entry.course.protocol, entry.course.remedies) == (shelf.protocol, shelf.remedies)
    assert (entry.course.start, entry.course.until) == (START, until)
    assert entry.course.client == Client("Una Example")


def test_a_course_keeps_its_copies_when_the_shelf_changes(
    practice: OpenPractice, protocol_id: str, course_id: str
) -> None:
    before = course_entry(practice, course_id)
    save_remedy(practice, replace(remedy("t1"), name="Other"))
    shelf = shelf_protocol(practice, protocol_id)
    assert shelf.remedies[0].name == "Other"
    change_protocol(practice, replace(shelf, protocol=replace(shelf.protocol, name="Other")))
    assert course_entry(practice, course_id) == before


def test_revisions_are_added_and_every_version_stays(
    practice: OpenPractice, course_id: str
) -> None:
    first = course_entry(practice, course_id)
    later = NOW + timedelta(days=3)
    flared = replace(first.course, revisions=(FLARE,))
    second = save_course(practice, first, flared, now=later)
    assert (second.version, second.created, second.changed) == (2, NOW, later)
    accepted = replace(flared, revisions=(FLARE, STOP), accepts=(Accept("avoid-x", "agreed"),))
    third = save_course(practice, second, accepted, now=later)
    assert third == course_entry(practice, course_id)
    dropped = replace(accepted, accepts=())
    save_course(practice, third, dropped, now=later)
    history = course_history(practice, course_id)
    assert [one.course for one in history] == [first.course, flared, accepted, dropped]
    assert [(version, when) for version, when, _ in history] == [
        (1, NOW),
        (2, later),
        (3, later),
        (4, later),
    ]
    assert history[2].course.revisions[1].reason == "rash"


def test_a_course_that_was_struck_out_stays_on_record(
    practice: OpenPractice, course_id: str
) -> None:
    """Like a discussed caution it is part of a version, and of what the version is known by."""
    entry = course_entry(practice, course_id)
    discussed = replace(entry.course, discussed=(Accept("sage.gout", "talked over"),))
    second = save_course(practice, entry, discussed, now=NOW)
    struck = replace(discussed, void="another client's", void_on=NOW.date())
    save_course(practice, second, struck, now=NOW)
    assert course_entry(practice, course_id).course == struck
    assert [title.is_void for title in list_course_titles(practice)] == [True]
    assert [one.course for one in course_history(practice, course_id)] == [
        entry.course,
        discussed,
        struck,
    ]


def test_a_stale_copy_is_refused(practice: OpenPractice, course_id: str) -> None:
    entry = course_entry(practice, course_id)
    save_course(practice, entry, replace(entry.course, revisions=(FLARE,)), now=NOW)
    with pytest.raises(StaleCourseError, match="version 2, yours is version 1"):
        save_course(practice, entry, replace(entry.course, revisions=(STOP,)), now=NOW)
    assert course_entry(practice, course_id).course.revisions == (FLARE,)
    assert len(course_history(practice, course_id)) == 2


@pytest.mark.parametrize(
    "revisions", [(), (STOP,), (STOP, FLARE), (replace(FLARE, reason="other"), STOP)]
)
def test_saved_revisions_must_stay(
    practice: OpenPractice, course_id: str, revisions: tuple[Flare | Stop, ...]
) -> None:
    entry = course_entry(practice, course_id)
    entry = save_course(practice, entry, replace(entry.course, revisions=(FLARE,)), now=NOW)
    with pytest.raises(RevisionsChangedError, match="add a further revision"):
        save_course(practice, entry, replace(entry.course, revisions=revisions), now=NOW)
    assert course_entry(practice, course_id) == entry


def test_an_impossible_revision_is_refused_and_not_kept(
    practice: OpenPractice, course_id: str
) -> None:
    entry = course_entry(practice, course_id)
    wrong = Extend(on=START, phase="no such phase", by=1)
    with pytest.raises(LayoutError, match="no such phase"):
        save_course(practice, entry, replace(entry.course, revisions=(wrong,)), now=NOW)
    assert course_entry(practice, course_id) == entry


def test_saving_what_is_there_adds_no_version(practice: OpenPractice, course_id: str) -> None:
    entry = course_entry(practice, course_id)
    assert save_course(practice, entry, entry.course, now=NOW + timedelta(days=1)) == entry
    assert len(course_history(practice, course_id)) == 1


def test_the_client_is_the_current_one_and_history_has_who_it_was_then(
    practice: OpenPractice, client_id: str, course_id: str
) -> None:
    before = client_entry(practice, client_id)
    pregnant = replace(before.client, conditions=(Fact("pregnancy", date(2027, 2, 1)),))
    change_client(practice, replace(before, client=pregnant))
    entry = course_entry(practice, course_id)
    assert entry.course.client == pregnant
    someone = replace(entry.course, client=Client("Someone else"), revisions=(FLARE,))
    entry = save_course(practice, entry, someone, now=NOW)
    assert entry.course.client == pregnant
    clients = [one.course.client for one in course_history(practice, course_id)]
    assert clients == [before.client, pregnant]


def test_a_ready_made_course_keeps_its_id_the_first_time(
    practice: OpenPractice, client_id: str
) -> None:
    made = course("c0ffee")
    assert add_course(practice, client_id, made, now=NOW) == "c0ffee"
    again = add_course(practice, client_id, made, now=NOW)
    assert again != "c0ffee"
    client = Client("Una Example")
    assert course_entry(practice, "c0ffee").course == replace(made, client=client)
    assert course_entry(practice, again).course == replace(made, id=again, client=client)
    assert course_entry(practice, again).course.remedies[0].id == TEA


def test_courses_are_listed_newest_start_first(
    practice: OpenPractice, client_id: str, protocol_id: str
) -> None:
    other = add_client(practice, Client("Bram Sample"))
    starts = [START, START + timedelta(days=70), START - timedelta(days=70)]
    ids = [start_course(practice, client_id, protocol_id, one, now=NOW) for one in starts]
    theirs = start_course(practice, other, protocol_id, START + timedelta(days=7), now=NOW)
    assert [e.id for e in list_courses(practice, client_id)] == [ids[1], ids[0], ids[2]]
    assert [e.id for e in list_courses(practice)] == [ids[1], theirs, ids[0], ids[2]]
    assert [e.client_name for e in list_courses(practice, other)] == ["Bram Sample"]
    change_client(practice, ClientEntry(other, Client("Bram Renamed")))
    assert course_entry(practice, theirs).client_name == "Bram Renamed"


def test_titles_say_what_the_courses_say(
    practice: OpenPractice, client_id: str, protocol_id: str
) -> None:
    other = add_client(practice, Client("Bram Sample"))
    first = start_course(practice, client_id, protocol_id, START, now=NOW)
    until = START + timedelta(days=200)
    start_course(practice, other, protocol_id, START + timedelta(days=7), until=until, now=NOW)
    start_course(practice, other, protocol_id, START, now=NOW)
    entry = course_entry(practice, first)
    renamed = replace(entry.course, protocol=replace(entry.course.protocol, name="Renamed"))
    save_course(practice, entry, replace(renamed, revisions=(FLARE,)), now=NOW)
    change_client(practice, ClientEntry(other, Client("Bram Renamed")))
    titles = list_course_titles(practice)
    assert titles == tuple(
        CourseTitle(
            entry.id,
            entry.client_id,
            entry.client_name,
            entry.course.protocol.name,
            entry.course.start,
            entry.course.until,
        )
        for entry in list_courses(practice)
    )
    assert {one.protocol_name for one in titles} == {"Warm joints", "Renamed"}


def test_what_is_not_there_is_named(
    practice: OpenPractice, client_id: str, protocol_id: str
) -> None:
    with pytest.raises(MissingRecordError, match="no protocol with the id “x”"):
        start_course(practice, client_id, "x", START, now=NOW)
    with pytest.raises(MissingRecordError, match="no client with the id “x”"):
        start_course(practice, "x", protocol_id, START, now=NOW)
    with pytest.raises(MissingRecordError, match="no client with the id “x”"):
        add_course(practice, "x", course("c0ffee"), now=NOW)
    for use in (course_entry, course_history):
        with pytest.raises(MissingRecordError, match="no course with the id “x”"):
            use(practice, "x")
    assert list_courses(practice) == ()


def test_directions_of_a_revision_come_back(practice: OpenPractice, course_id: str) -> None:
    entry = course_entry(practice, course_id)
    one = Redirect(
        on=START, remedy="t1", first=day(8), directions=take("1/3 cup od and prn gap 4 h")
    )
    entry = save_course(practice, entry, replace(entry.course, revisions=(one,)), now=NOW)
    assert entry.course.revisions == (one,)

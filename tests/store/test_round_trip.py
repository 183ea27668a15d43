"""Whatever goes into a practice file comes out the same: every aggregate, any value."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from uuid import uuid4

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sennight.domain.courses.clients import Client
from sennight.domain.courses.courses import Course, Revision
from sennight.domain.courses.protocols import Protocol
from sennight.domain.follow_up.diaries import Followed, Score, Taken
from sennight.domain.practices import PracticeCard
from sennight.domain.remedies.remedies import Remedy
from sennight.store.courses import Save
from sennight.store.entries import ClientEntry, Publication, ShelfProtocol
from sennight.store.files import PracticeFile, open_file
from sennight.store.revisions import revision_from_row, revision_to_row
from sennight.store.snapshots import SCHEMA, read_snapshot, write_snapshot
from sennight.store.unit import UnitOfWork
from support.course_cases import full_course
from support.draws import draws
from support.strategies import (
    CARDS,
    CLIENTS,
    NAMES,
    REVISIONS,
    SCORES,
    TAKENS,
    TIMES,
    WORDS,
    any_courses,
    formulas,
    remedies,
)

NOW = datetime(2027, 1, 4, 9, 30, tzinfo=UTC)
few = settings(max_examples=draws(12))
ANY_COURSE = full_course()
"""What is kept beside a course is kept alike for each; drawing courses is what takes long."""


@pytest.fixture(scope="module")
def file(tmp_path_factory: pytest.TempPathFactory) -> Iterator[PracticeFile]:
    opened = open_file(tmp_path_factory.mktemp("round") / "practice.sennight")
    yield opened
    opened.close()


def add_client(unit: UnitOfWork, client: Client) -> str:
    entry = ClientEntry(uuid4().hex, client)
    unit.clients.save(entry, saved=NOW)
    return entry.id


def add_course(unit: UnitOfWork, course: Course) -> None:
    """Add a course of a new client, under a new id where hypothesis draws one again."""
    client_id = add_client(unit, course.client)
    unit.courses.add(course, save=Save(client_id, unit.clients.version_id(client_id), NOW))


@few
@given(st.lists(CARDS, min_size=1, max_size=3))
def test_cards(file: PracticeFile, cards: list[PracticeCard]) -> None:
    for card in cards:
        with file.writing() as unit:
            unit.card.save(card, saved=NOW)
        with file.reading() as unit:
            assert unit.card.get() == card


@few
@given(CLIENTS, CLIENTS, WORDS, WORDS, st.booleans())
def test_clients(
    file: PracticeFile, one: Client, other: Client, contact: str, note: str, archived: bool
) -> None:
    before = ClientEntry(uuid4().hex, one, contact, note, archived)
    after = replace(before, client=other, archived=not archived)
    for entry in (before, after):
        with file.writing() as unit:
            unit.clients.save(entry, saved=NOW)
        with file.reading() as unit:
            assert unit.clients.get(entry.id) == entry
            assert entry in unit.clients.all(archived=entry.archived)
            assert entry not in unit.clients.all(archived=not entry.archived)
    with file.reading() as unit:
        assert [entry for _, entry in unit.clients.versions(before.id)] == [before, after]


@few
@given(remedies(), remedies(), WORDS)
def test_remedies(file: PracticeFile, one: Remedy, other: Remedy, note: str) -> None:
    remedy_id = uuid4().hex
    one, other = replace(one, id=remedy_id), replace(other, id=remedy_id)
    with file.writing() as unit:
        assert unit.remedies.save(one, note=note, saved=NOW).version == 1
        assert unit.remedies.save(one, note=None, saved=NOW).version == 1
        last = unit.remedies.save(other, note=None, saved=NOW)
    with file.reading() as unit:
        assert unit.remedies.get(remedy_id) == last
        assert (last.remedy, last.note) == (other, note)
        assert [s.remedy for s in unit.remedies.versions(remedy_id)] == list(
            dict.fromkeys((one, other))
        )


@few
@given(formulas(), WORDS)
def test_protocols(
    file: PracticeFile, formula: tuple[Protocol, tuple[Remedy, ...]], note: str
) -> None:
    protocol, shelf = formula
    entry = ShelfProtocol(uuid4().hex, protocol, shelf, note)
    with file.writing() as unit:
        for remedy in shelf:
            unit.remedies.save(remedy, note="", saved=NOW)
        unit.protocols.save(entry, saved=NOW)
    with file.reading() as unit:
        assert unit.protocols.get(entry.id) == entry


@few
@given(any_courses())
def test_courses(file: PracticeFile, course: Course) -> None:
    course = replace(course, id=uuid4().hex)
    with file.writing() as unit:
        add_course(unit, course)
    with file.reading() as unit:
        entry = unit.courses.get(course.id)
        assert entry.course == course
        assert (entry.version, entry.created, entry.changed) == (1, NOW, NOW)
        assert unit.courses.history(course.id) == ((1, NOW, course),)


@few
@given(any_courses(), st.lists(REVISIONS, min_size=1, max_size=3), CLIENTS)
def test_every_version_of_a_course_stays(
    file: PracticeFile, course: Course, more: list[Revision], client: Client
) -> None:
    course = replace(course, id=uuid4().hex)
    longer = replace(course, revisions=(*course.revisions, *more))
    later = NOW + timedelta(hours=1)
    with file.writing() as unit:
        add_course(unit, course)
        client_id = unit.courses.get(course.id).client_id
        unit.clients.save(ClientEntry(client_id, client), saved=later)
        save = Save(client_id, unit.clients.version_id(client_id), later)
        unit.courses.add_version(longer, known=len(course.revisions), save=save)
    with file.reading() as unit:
        assert unit.courses.get(course.id).course == replace(longer, client=client)
        assert unit.courses.history(course.id) == (
            (1, NOW, course),
            (2, later, replace(longer, client=client)),
        )


@few
@given(st.lists(TAKENS, max_size=6), st.lists(SCORES, max_size=4))
def test_diaries(file: PracticeFile, taken: list[Taken], scores: list[Score]) -> None:
    followed = [Followed(entry.day, entry.remedy, entry.doses) for entry in taken]
    course = replace(ANY_COURSE, id=uuid4().hex)
    with file.writing() as unit:
        add_course(unit, course)
        unit.diaries.enter_taken(course.id, taken, entered=NOW)
        unit.diaries.enter_scores(course.id, scores, entered=NOW)
        unit.diaries.enter_followed(course.id, followed, entered=NOW)
    with file.reading() as unit:
        assert unit.diaries.taken(course.id) == tuple(
            sorted({(one.day, one.remedy): one for one in taken}.values())
        )
        assert unit.diaries.followed(course.id) == tuple(
            sorted({(one.day, one.advice): one for one in followed}.values())
        )
        assert unit.diaries.scores(course.id) == tuple(
            sorted({(one.day, one.measure): one for one in scores}.values())
        )


@few
@given(st.lists(st.tuples(NAMES, st.binary(max_size=40), TIMES), max_size=4))
def test_publications(file: PracticeFile, given_: list[tuple[str, bytes, datetime]]) -> None:
    course = replace(ANY_COURSE, id=uuid4().hex)
    made = [Publication(uuid4().hex, course.id, when, kind, c) for kind, c, when in given_]
    with file.writing() as unit:
        add_course(unit, course)
        for one in made:
            unit.publications.add(one)
    with file.reading() as unit:
        assert unit.publications.all(course.id) == tuple(made)
        for kind in {one.kind for one in made}:
            expected = [one for one in made if one.kind == kind][-1]
            assert unit.publications.last(course.id, kind) == expected


@settings(max_examples=draws(30))
@given(REVISIONS)
def test_revisions_of_every_kind(revision: Revision) -> None:
    """That one is struck out is kept with the version of the course that says so."""
    plain = replace(revision, void="", void_on=None)
    assert revision_from_row(revision_to_row(revision, place=0, version=1)) == plain


@settings(max_examples=draws(15))
@given(formulas())
def test_snapshots(formula: tuple[Protocol, tuple[Remedy, ...]]) -> None:
    content = write_snapshot(*formula)
    assert read_snapshot(SCHEMA, content) == formula
    assert write_snapshot(*read_snapshot(SCHEMA, content)) == content

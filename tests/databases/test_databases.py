"""A filled practice file of every released schema opens, and holds what was put into it."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from alembic.config import Config
from alembic.script import ScriptDirectory
from hypothesis import given, settings
from hypothesis import strategies as st

from databases.make import HERE, dump, restore
from sennight.domain.follow_up.diaries import Taken
from sennight.domain.practices import PracticeCard
from sennight.practice.card import practice_card
from sennight.practice.clients import client_history, list_clients
from sennight.practice.consultations import (
    client_consultations,
    consultation_headings,
    find_consultations,
)
from sennight.practice.courses import course_history, list_courses
from sennight.practice.diaries import day_notes, diary, enter_diary, measures, scores
from sennight.practice.dispensary import settings_of
from sennight.practice.dispensing import handed_to
from sennight.practice.drafts import list_drafts, typed_in
from sennight.practice.opening import OpenPractice, open_practice
from sennight.practice.own_herbs import (
    herb_notes,
    list_own_herbs,
    list_own_ranges,
    own_herb_history,
)
from sennight.practice.papers import list_given, paper_content
from sennight.practice.pricing import prices_of
from sennight.practice.protocols import list_protocols
from sennight.practice.publications import list_publications
from sennight.practice.red_flags import list_checks
from sennight.practice.remedies import remedy_history, shelf_remedy
from sennight.practice.returned import returned_of
from sennight.practice.wanted import minimums
from sennight.store.migrating import known_schemas, migrate, newest_schema, own_scripts
from sennight.store.schemas import _plain, differences
from support import filled
from support.draws import draws

DUMPS = sorted(HERE.glob("*.sql"))
Rows = list[tuple[object, ...]]


def test_every_schema_has_its_dump() -> None:
    assert {script.stem for script in DUMPS} == known_schemas(own_scripts())


def card_of(schema: str) -> PracticeCard:
    """The card as it is kept since a schema."""
    number = filled.CARD.emergency if schema >= "0013" else ""
    own = filled.CARD.on_labels if schema >= "0023" else ()
    return replace(filled.CARD, emergency=number, on_labels=own)


@pytest.mark.parametrize("script", DUMPS, ids=lambda script: script.stem)
def test_a_file_of_that_schema_is_backed_up_and_holds_what_was_put_in(
    script: Path, tmp_path: Path
) -> None:
    path = tmp_path / "old.sennight"
    restore(script, path)
    before = rows(path)
    with open_practice(path) as practice:
        _check_no_row_is_lost(path, before, script.stem)
        assert practice_card(practice) == card_of(script.stem)
        (client,) = list_clients(practice)
        assert (client.client, client.note) == (filled.CLIENT, "prefers mornings")
        (archived,) = list_clients(practice, archived=True)
        if script.stem == "0001":
            assert archived.client == filled.ARCHIVED
        else:
            with_names = script.stem >= "0005"
            is_now = filled.ARCHIVED_WITH_NAMES if with_names else filled.ARCHIVED_WITH_REACTION
            struck = (filled.STRUCK_REACTION,) if script.stem >= "0012" else ()
            is_now = replace(is_now, reactions=(*is_now.reactions, *struck))
            assert archived.client == is_now
            checks = (filled.CHECK, filled.CLEARED) if script.stem >= "0012" else (filled.CHECK,)
            assert list_checks(practice, archived.id) == checks
        if script.stem >= "0003":
            assert list_own_herbs(practice) == (filled.OWN_HERB,)
            assert len(own_herb_history(practice, filled.OWN_HERB.id)) == 2
            assert list_own_ranges(practice) == filled.OWN_RANGES
            assert herb_notes(practice) == filled.HERB_NOTES
        if script.stem >= "0007":
            (draft,) = list_drafts(practice)
            assert (draft.kind, draft.subject) == filled.DRAFT_KEY
            assert (draft.title, typed_in(draft)) == (filled.DRAFT_TITLE, filled.DRAFT)
        assert len(client_history(practice, client.id)) == 2
        shelf, *more = list_protocols(practice)
        full = [filled.FULL_PROTOCOL] if script.stem >= "0008" else []
        full = [filled.PROTOCOL_WITH_TRIGGER] if script.stem >= "0018" else full
        assert [other.protocol for other in more] == full
        assert (shelf.protocol, shelf.remedies) == (filled.PROTOCOL, filled.REMEDIES)
        assert shelf_remedy(practice, filled.TEA).note == "dry the ginger well"
        assert len(remedy_history(practice, filled.TEA)) == 2
        added = (
            ("0011", filled.MORE_REMEDIES),
            ("0020", filled.MEASURED_REMEDIES),
            ("0025", filled.CONTAINED_REMEDIES),
        )
        for remedy in (r for since, remedies in added if script.stem >= since for r in remedies):
            assert shelf_remedy(practice, remedy.id).remedy == remedy
        (entry,) = list_courses(practice, client.id)
        assert entry.course == filled.course(entry.id, script.stem)
        versions = course_history(practice, entry.id)
        assert [len(one.course.revisions) for one in versions] == list(range(8))
        _check_what_came_of_it(practice, client.id, entry.id, script.stem)


def _check_no_row_is_lost(path: Path, before: dict[str, Rows], stem: str) -> None:
    after = rows(path)
    assert {table: len(found) for table, found in before.items()} == {
        table: len(after[table]) for table in before
    }
    backups = path.parent / "backups"
    if stem == newest_schema(own_scripts()):
        assert after == before
        assert not backups.exists()
    else:
        (backup,) = backups.iterdir()
        assert rows(backup) == before


def _check_what_came_of_it(
    practice: OpenPractice, client_id: str, course_id: str, stem: str
) -> None:
    assert diary(practice, course_id) == filled.TAKEN
    assert scores(practice, course_id) == filled.SCORES
    assert day_notes(practice, course_id) == (filled.NOTES if stem >= "0024" else ())
    own = (filled.OWN_MEASURE,) if stem >= "0015" else ()
    assert measures(practice, course_id).own == own
    contents = [one.content for one in list_publications(practice, course_id)]
    assert contents == [b"\x00first", b"second"]
    papers = list_given(practice, client_id)
    kept = {one.name: paper_content(practice, one.id) for one in papers}
    given_ = filled.GIVEN if stem >= "0009" else ()
    assert kept == {name: content for some in given_ for _, name, content in some}
    handed = [(batch.remedy, one.amount) for one, batch in handed_to(practice, client_id)]
    is_dispensed = stem >= "0010"
    assert handed == [(filled.REMEDIES[0], filled.BATCH_AMOUNT)] * is_dispensed
    if stem >= "0022":
        assert prices_of(practice) == filled.PRICES
        assert minimums(practice) == {filled.NETTLE.material: filled.MINIMUM}
    if stem >= "0026":
        assert settings_of(practice) == filled.SETTINGS
        (count,) = returned_of(practice, course_id)
        assert (count.left, count.note) == (filled.LEFT, "about a fifth")
    if stem >= "0016":
        _check_consultations(practice, client_id)


def _check_consultations(practice: OpenPractice, client_id: str) -> None:
    kept, struck = sorted(client_consultations(practice, client_id), key=lambda entry: entry.id)
    assert [version.consultation.minutes for version in kept.versions] == [None, 75]
    assert (kept.consultation, kept.is_whole) == (filled.CONSULTATION, True)
    assert (struck.consultation, struck.is_void) == (filled.CONSULTATION_BY_TELEPHONE, True)
    assert [bool(file.void) for file in kept.attachments] == [False, True]
    assert [found.id for found in find_consultations(practice, "naive walk")] == [kept.id]
    assert consultation_headings(practice) == filled.CONSULTATION_HEADINGS


def test_sheets_that_were_kept_without_a_name_become_given_papers(tmp_path: Path) -> None:
    """In schemas up to 0008 a sheet was kept among what phones were told."""
    path = tmp_path / "old.sennight"
    restore(HERE / "0008.sql", path)
    with closing(sqlite3.connect(path)) as connection:
        (course_id,) = connection.execute("SELECT id FROM course").fetchone()
        for number, (day, content) in enumerate((("09", b"later"), ("08", b"first")), 3):
            when = f"2027-03-{day}T09:00:00.000000+00:00"
            row = (f"id{number}", course_id, when, "handout", number, content)
            connection.execute("INSERT INTO publication VALUES (?, ?, ?, ?, ?, ?)", row)
        connection.commit()
    with open_practice(path) as practice:
        (entry,) = list_courses(practice)
        papers = list_given(practice, entry.client_id)
        assert [(one.number, one.name, one.course_id) for one in papers] == [
            (2, "handout-2027-03-09-no2.pdf", course_id),
            (1, "handout-2027-03-08-no1.pdf", course_id),
        ]
        assert [paper_content(practice, one.id) for one in papers] == [b"later", b"first"]
        assert [one.kind for one in list_publications(practice, course_id)] == ["reminders"] * 2


def rows(path: Path) -> dict[str, Rows]:
    """All rows of all tables."""
    with closing(sqlite3.connect(path)) as connection:
        tables = connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
        return {
            name: connection.execute(f'SELECT * FROM "{name}"').fetchall()  # noqa: S608
            for (name,) in tables.fetchall()
        }


def test_a_dump_makes_the_same_file_again(tmp_path: Path) -> None:
    script = DUMPS[-1]
    path = tmp_path / "again.sennight"
    restore(script, path)
    assert "\n".join(dump(path)) + "\n" == script.read_text(encoding="utf-8")


@pytest.mark.parametrize("script", DUMPS, ids=lambda script: script.stem)
def test_the_schema_kept_as_text_is_that_of_the_files(script: Path, tmp_path: Path) -> None:
    path = tmp_path / "old.sennight"
    restore(script, path)
    with closing(sqlite3.connect(path)) as connection:
        assert differences(connection, own_scripts(), script.stem) == ()
        connection.execute("DROP INDEX ix_course_client_id")
        assert len(differences(connection, own_scripts(), script.stem)) == 1


def test_a_new_file_is_the_same_as_a_migrated_one(tmp_path: Path) -> None:
    new, migrated = tmp_path / "new.sennight", tmp_path / "migrated.sennight"
    open_practice(new).close()
    migrate(migrated, own_scripts())
    assert sorted(map(_plain, dump(new))) == sorted(map(_plain, dump(migrated)))


def test_the_names_of_the_migrations_are_their_versions() -> None:
    config = Config()
    config.set_main_option("script_location", str(own_scripts()))
    found = ScriptDirectory.from_config(config)
    assert found.get_current_head() == newest_schema(own_scripts())
    assert {script.revision for script in found.walk_revisions()} == known_schemas(own_scripts())


CELLS = st.tuples(st.sampled_from(("first", "second")), st.integers(1, 3), st.integers(0, 2))
MARKS = st.lists(st.tuples(CELLS, st.none() | st.integers(0, 9), st.integers(0, 2)), max_size=25)


@settings(max_examples=draws(5, long=200), deadline=None)
@given(MARKS)
def test_marks_that_were_entered_before_they_were_numbers_are_the_same(
    marks: list[tuple[tuple[str, int, int], int | None, int]],
) -> None:
    """Any marks of schema 0003: one cell twice at one time, a clock that went back, withdrawn."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / "old.sennight"
        restore(HERE / "0003.sql", path)
        with closing(sqlite3.connect(path, isolation_level=None)) as connection:
            (course_id,) = connection.execute("SELECT id FROM course").fetchone()
            held = {Taken(one.day, one.remedy, one.doses) for one in filled.TAKEN}
            for (remedy, day, hour), doses, minute in marks:
                connection.execute(
                    "INSERT INTO diary_entry (course_id, day, remedy, doses, entered) "
                    "VALUES (?, ?, ?, ?, ?)",
                    (
                        course_id,
                        f"2027-03-0{day}",
                        remedy,
                        doses,
                        f"2027-03-09T0{hour}:0{minute}:00.000000+00:00",
                    ),
                )
        last = {(date(2027, 3, day), remedy): doses for (remedy, day, _), doses, _ in marks}
        new = {Taken(*cell, doses) for cell, doses in last.items() if doses is not None}
        with open_practice(path) as practice:
            assert set(diary(practice, course_id)) == held | new
        with closing(sqlite3.connect(path)) as connection:
            (count,) = connection.execute("SELECT count(*) FROM diary_entry").fetchone()
            times = connection.execute(
                "SELECT entered FROM diary_entry JOIN diary_saving ON diary_saving.id = saving_id"
            ).fetchall()
        assert count == len(times) == len(marks) + 3


def test_a_mark_of_a_diary_takes_few_bytes(tmp_path: Path) -> None:
    """A year of three remedies, entered week by week: the file grows by 20 bytes a mark."""
    path = tmp_path / "practice.sennight"
    with open_practice(path) as practice:
        filled.fill(practice)
        (entry,) = list_courses(practice)
        before = _pages(practice)
        remedies = [remedy.id for remedy in entry.course.remedies[:3]]
        days = [filled.START + timedelta(days=n) for n in range(364)]
        for week in batched(days, 7):
            marks = [Taken(day, remedy, 3) for day in week for remedy in remedies]
            enter_diary(practice, entry.id, marks)
        grown = _pages(practice) - before
    assert grown * 4096 / (364 * 3) < 30


def _pages(practice: OpenPractice) -> int:
    with closing(sqlite3.connect(practice.path)) as connection:
        return int(connection.execute("PRAGMA page_count").fetchone()[0])


def batched(days: list[date], count: int) -> Iterator[list[date]]:
    for n in range(0, len(days), count):
        yield days[n : n + count]

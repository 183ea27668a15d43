"""Consultations in a practice file: kept, corrected, found, struck out, with their files."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from datetime import date, time
from pathlib import Path

import pytest

from sennight.domain.courses.clients import Client
from sennight.domain.follow_up.consultations import (
    HEADINGS,
    Appointment,
    Consultation,
    ConsultationKind,
    Part,
)
from sennight.practice.clients import add_client
from sennight.practice.consultations import (
    LARGEST_FILE,
    AttachmentError,
    add_consultation,
    attach_file,
    attachment_to_read,
    client_consultations,
    consultation_entry,
    consultation_headings,
    correct_consultation,
    find_consultations,
    save_headings,
    strike_out_attachment,
    strike_out_consultation,
)
from sennight.practice.opening import (
    DamagedFileError,
    MissingRecordError,
    OpenPractice,
    back_up_practice,
    open_practice,
)
from sennight.practice.story import StoryKind, client_story
from sennight.practice.upkeep import practice_health
from sennight.practice.work_folder import reading_folder
from support.practice_files import new_practice
from support.sample_practice import NOW

DAY = date(2027, 3, 1)
KNEES = Consultation(
    DAY,
    ConsultationKind.FIRST,
    (Part("History", "Both knees, café work on her feet."), Part("Plan", "Hedgerow tea")),
    75,
)
PDF = b"%PDF-1.7 a letter"


@pytest.fixture
def practice(tmp_path: Path) -> Iterator[OpenPractice]:
    with new_practice(tmp_path / "notes.sennight", clock=lambda: NOW) as opened:
        yield opened


@pytest.fixture
def client(practice: OpenPractice) -> str:
    return add_client(practice, Client("Oriel Tansy"))


def test_a_correction_keeps_the_earlier_wording(practice: OpenPractice, client: str) -> None:
    number = add_consultation(practice, client, KNEES)
    better = replace(KNEES, parts=(Part("History", "Left knee alone."),))
    assert correct_consultation(practice, number, better)
    assert not correct_consultation(practice, number, better), "the same again adds nothing"
    (entry,) = client_consultations(practice, client)
    assert [version.consultation for version in entry.versions] == [KNEES, better]
    assert entry.consultation == better
    assert entry.is_whole


def test_nothing_written_is_not_kept(practice: OpenPractice, client: str) -> None:
    with pytest.raises(ValueError, match="under at least one heading"):
        add_consultation(practice, client, replace(KNEES, parts=()))
    with pytest.raises(MissingRecordError):
        add_consultation(practice, "nobody", KNEES)
    with pytest.raises(MissingRecordError):
        correct_consultation(practice, 9, KNEES)
    assert client_consultations(practice, client) == ()


def test_the_newest_day_comes_first(practice: OpenPractice, client: str) -> None:
    for day in (5, 9, 7):
        add_consultation(practice, client, replace(KNEES, day=date(2027, 3, day)))
    days = [entry.consultation.day.day for entry in client_consultations(practice, client)]
    assert days == [9, 7, 5]


def test_words_are_found_by_their_beginning_and_without_accents(
    practice: OpenPractice, client: str
) -> None:
    number = add_consultation(practice, client, KNEES)
    other = add_client(practice, Client("Bram Sorrel"))
    add_consultation(practice, other, replace(KNEES, parts=(Part("Plan", "Sleeps"),)))
    for typed in ("cafe", "CAFÉ", "kne", "hedgerow knees", "tea."):
        assert [found.id for found in find_consultations(practice, typed)] == [number], typed
    for typed in ("", "  ", "ees", 'knees AND "', "NEAR(", "elbow"):
        assert find_consultations(practice, typed) == (), typed
    assert find_consultations(practice, "knee", client_id=other) == ()
    assert "knees" in find_consultations(practice, "both", client_id=client)[0].words


def test_what_was_corrected_or_struck_out_is_found_no_more(
    practice: OpenPractice, client: str
) -> None:
    number = add_consultation(practice, client, KNEES)
    correct_consultation(practice, number, replace(KNEES, parts=(Part("Plan", "Walk"),)))
    assert find_consultations(practice, "knees") == ()
    assert [found.id for found in find_consultations(practice, "walk")] == [number]
    strike_out_consultation(practice, number, reason="of another client", on=DAY)
    assert find_consultations(practice, "walk") == ()
    entry = consultation_entry(practice, number)
    assert (entry.is_void, entry.void, entry.void_on) == (True, "of another client", DAY)
    with pytest.raises(ValueError, match="already been struck out"):
        strike_out_consultation(practice, number, reason="again", on=DAY)
    with pytest.raises(ValueError, match="already been struck out"):
        correct_consultation(practice, number, KNEES)


def test_headings_are_kept_by_the_practice(practice: OpenPractice) -> None:
    assert consultation_headings(practice) == HEADINGS
    save_headings(practice, ("Tongue", "Plan"))
    save_headings(practice, ("Tongue", "Plan"))
    assert consultation_headings(practice) == ("Tongue", "Plan")
    with pytest.raises(ValueError, match="at least one"):
        save_headings(practice, ())


def test_a_file_is_kept_and_opened_from_a_private_place(
    practice: OpenPractice, client: str, tmp_path: Path
) -> None:
    number = add_consultation(practice, client, KNEES)
    letter = tmp_path / "X-ray.PDF"
    letter.write_bytes(PDF)
    file = attach_file(practice, number, letter)
    letter.unlink()
    (held,) = consultation_entry(practice, number).attachments
    assert (held.name, held.size, held.void) == ("X-ray.PDF", len(PDF), "")
    copy = attachment_to_read(practice, file)
    assert copy.read_bytes() == PDF
    if os.name != "nt":
        assert copy.stat().st_mode & 0o77 == 0
    assert copy.is_relative_to(reading_folder(practice.path))
    practice.close()
    assert not copy.exists(), "it goes when the practice is closed"
    with open_practice(practice.path) as again:
        strike_out_attachment(again, file, reason="of another client", on=DAY)
        (held,) = consultation_entry(again, number).attachments
        assert (held.void, held.void_on) == ("of another client", DAY)
        with pytest.raises(MissingRecordError):
            attachment_to_read(again, 9)


@pytest.mark.parametrize(
    ("name", "content", "why"),
    [
        ("notes.docx", b"PK", "not a PDF, PNG or JPEG"),
        ("scan.png", PDF, "called PNG but does not begin like one"),
        ("large.pdf", b"%PDF-" + bytes(LARGEST_FILE), "20 MB"),
        ("gone.pdf", None, "cannot be read"),
    ],
    ids=("kind", "beginning", "size", "gone"),
)
def test_a_file_that_cannot_be_kept_is_told(
    practice: OpenPractice,
    client: str,
    tmp_path: Path,
    name: str,
    content: bytes | None,
    why: str,
) -> None:
    number = add_consultation(practice, client, KNEES)
    path = tmp_path / name
    if content is not None:
        path.write_bytes(content)
    with pytest.raises(AttachmentError, match=why):
        attach_file(practice, number, path)
    assert consultation_entry(practice, number).attachments == ()


def test_damage_is_told_of_words_and_of_files(
    practice: OpenPractice, client: str, tmp_path: Path
) -> None:
    whole = add_consultation(practice, client, KNEES)
    words = add_consultation(practice, client, replace(KNEES, minutes=10))
    filed = add_consultation(practice, client, replace(KNEES, minutes=20))
    letter = tmp_path / "letter.pdf"
    letter.write_bytes(PDF)
    file = attach_file(practice, filed, letter)
    assert practice_health(practice.path, now=NOW).sound
    assert (whole, words) == (1, 2)
    with closing(sqlite3.connect(practice.path)) as connection:
        _past_its_guard(
            connection,
            "consultation_part",
            "UPDATE consultation_part SET words = 'x' WHERE consultation_version_id = 2",
        )
        _past_its_guard(
            connection, "paper_content", "UPDATE paper_content SET content = x'789c03'"
        )
    assert consultation_entry(practice, whole).is_whole
    assert not consultation_entry(practice, words).is_whole
    items = client_story(practice, client, today=DAY)
    told = {i.record: i.about for i in items if i.kind is StoryKind.CONSULTATION}
    assert (told[whole], told[words]) == ("75 minutes", "10 minutes, damaged")
    with pytest.raises(DamagedFileError):
        attachment_to_read(practice, file)
    health = practice_health(practice.path, now=NOW)
    assert (health.sound, health.contents.damaged_consultations) == (False, (words, filed))


def _past_its_guard(connection: sqlite3.Connection, table: str, statement: str) -> None:
    """Change what is kept for good, as a failing disk would."""
    query = "SELECT sql FROM sqlite_master WHERE name = ?"
    (guard,) = connection.execute(query, (f"keep_{table}_from_update",)).fetchone()
    connection.execute(f"DROP TRIGGER keep_{table}_from_update")
    connection.execute(statement)
    connection.execute(guard)
    connection.commit()


def test_a_backup_holds_them_and_finds_in_them(practice: OpenPractice, client: str) -> None:
    number = add_consultation(practice, client, KNEES)
    with open_practice(back_up_practice(practice)) as copy:
        assert [found.id for found in find_consultations(copy, "knees")] == [number]
        assert consultation_entry(copy, number).consultation == KNEES


def test_the_next_appointment_is_the_one_that_stands(practice: OpenPractice, client: str) -> None:
    def next_one(today: date) -> Appointment | None:
        with practice.file.reading() as unit:
            return unit.consultations.next_appointment(client, today)

    assert next_one(DAY) is None
    later, sooner = Appointment(date(2027, 4, 1)), Appointment(date(2027, 3, 20), time(9, 30))
    add_consultation(practice, client, replace(KNEES, next=later))
    number = add_consultation(practice, client, replace(KNEES, next=sooner))
    other = add_client(practice, Client("Bram Sorrel"))
    add_consultation(practice, other, replace(KNEES, next=Appointment(date(2027, 3, 2))))
    assert next_one(DAY) == sooner
    assert next_one(sooner.day) == later, "not on its own day any more"
    moved = Appointment(date(2027, 3, 21))
    correct_consultation(practice, number, replace(KNEES, next=moved))
    assert next_one(DAY) == moved
    strike_out_consultation(practice, number, reason="of another client", on=DAY)
    assert next_one(DAY) == later

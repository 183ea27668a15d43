from __future__ import annotations

import email
import email.policy
import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, date, datetime
from email.message import EmailMessage
from pathlib import Path

import pytest

from sennight.domain.courses.clients import Client
from sennight.domain.courses.courses import Course, End
from sennight.domain.courses.protocols import Protocol
from sennight.domain.courses.stretches import lay_out
from sennight.domain.reminders.events import ReminderChoices
from sennight.domain.reminders.published import Published
from sennight.domain.reminders.republishing import FileKind
from sennight.practice.card import practice_card
from sennight.practice.clients import add_client
from sennight.practice.course_outputs import NO_CARD
from sennight.practice.course_reading import read_course
from sennight.practice.courses import add_course, course_entry, save_course
from sennight.practice.given_papers import GiveChoices, Reported, handout_pdf, printed_papers
from sennight.practice.giving import file_stem, give, last_given, left_over
from sennight.practice.opening import MissingRecordError, OpenPractice
from sennight.practice.papers import PaperKind, list_given, paper_content
from sennight.practice.publications import list_publications
from sennight.practice.reminding import reminders, usual_choices
from sennight.practice.work_folder import work_folder
from sennight.practice.writing import FolderError
from sennight.publish.course_file.reader import read_course_file
from sennight.publish.pdf.typeface import MissingGlyphsError
from support.files import COURSES
from support.handout_samples import START, sample_course
from support.pdf_pages import page_texts
from support.practice_files import new_practice
from support.samples import course, line, phase

NOW = datetime(2028, 1, 15, 9, 30, tzinfo=UTC)
TODAY = date(2028, 1, 15)
SLEEP = COURSES / "sleep.toml"
HERBS = ("lemon-balm", "passionflower", "valerian", "hops")
CHOICES = GiveChoices(ReminderChoices(zone="America/St_Johns"))


@pytest.fixture
def practice(tmp_path: Path) -> Iterator[OpenPractice]:
    with new_practice(tmp_path / "p.sennight", clock=lambda: NOW) as opened:
        yield opened


@pytest.fixture
def course_id(practice: OpenPractice) -> str:
    one = read_course_file(SLEEP, HERBS).course
    return add_course(practice, add_client(practice, one.client), one, now=NOW)


def given(practice: OpenPractice, course_id: str, folder: Path, choices: GiveChoices) -> list[str]:
    paths = give(practice, course_id, folder, now=NOW, today=TODAY, choices=choices)
    assert all(path.is_file() for path in paths)
    return [path.name for path in paths]


def test_sheet_and_reminders_are_written_and_kept(
    practice: OpenPractice, course_id: str, tmp_path: Path
) -> None:
    names = given(practice, course_id, tmp_path / "out", CHOICES)
    assert names == [
        "oms-broken-nights-handout-2028-01-15-no1.pdf",
        "oms-broken-nights-reminders-2028-01-15-no1.ics",
    ]
    kept = list_given(practice, course_entry(practice, course_id).client_id)
    assert [(one.name, one.kind, one.number) for one in kept] == [
        (names[0], PaperKind.HANDOUT, 1),
        (names[1], PaperKind.REMINDERS, 1),
    ]
    for one in kept:
        written = (tmp_path / "out" / one.name).read_bytes()
        assert (len(written), written) == (one.size, paper_content(practice, one.id))
    assert last_given(practice, course_id).issued


def test_what_is_given_is_what_was_previewed(
    practice: OpenPractice, course_id: str, tmp_path: Path
) -> None:
    one = course_entry(practice, course_id).course
    sheet = handout_pdf(read_course(one, today=TODAY), practice_card(practice))
    before = last_given(practice, course_id)
    told = reminders(lay_out(one), before, now=NOW, today=TODAY, choices=CHOICES.reminders)
    names = given(practice, course_id, tmp_path, CHOICES)
    assert [(tmp_path / name).read_bytes() for name in names] == [sheet, *told.files.values()]
    assert told.kind is FileKind.FIRST
    assert told.changes == f"{len(told.publication.issued)} reminders, all new to the phone"


def test_a_second_time_corrects_the_first(
    practice: OpenPractice, course_id: str, tmp_path: Path
) -> None:
    (_, first) = given(practice, course_id, tmp_path, CHOICES)
    uids, before = set(lines(tmp_path / first, "UID")), (tmp_path / first).read_bytes()
    entry = course_entry(practice, course_id)
    end = End(on=date(2028, 5, 1), first=date(2028, 5, 11))
    save_course(
        practice,
        entry,
        replace(entry.course, revisions=(*entry.course.revisions, end)),
        now=NOW,
    )
    (_, second) = given(practice, course_id, tmp_path, CHOICES)
    assert set(lines(tmp_path / second, "UID")) & uids
    assert "1" in lines(tmp_path / second, "SEQUENCE")
    assert (tmp_path / first).read_bytes() == before, "the first stays as the client got it"


def test_a_fresh_set_has_no_old_reminder(
    practice: OpenPractice, course_id: str, tmp_path: Path
) -> None:
    (_, name) = given(practice, course_id, tmp_path, CHOICES)
    uids = set(lines(tmp_path / name, "UID"))
    (_, fresh) = given(practice, course_id, tmp_path, replace(CHOICES, fresh=True))
    assert not uids & set(lines(tmp_path / fresh, "UID"))
    assert last_given(practice, course_id).generation == 1
    sheet = max(tmp_path.glob("*handout*no2.pdf"))
    words = " ".join(" ".join(page_texts(sheet.read_bytes())).split())
    assert "Remove the old calendar “My plan" in words
    assert "set 2”" in words


def test_a_file_for_each_phase_holds_what_one_for_all_does(
    practice: OpenPractice, course_id: str, tmp_path: Path
) -> None:
    by_phase = replace(CHOICES.reminders, by_phase=True)
    names = given(practice, course_id, tmp_path, replace(CHOICES, reminders=by_phase))
    assert names == [
        "oms-broken-nights-handout-2028-01-15-no1.pdf",
        *(f"oms-broken-nights-reminders-phase-{n}-2028-01-15-no1.ics" for n in (1, 2, 3, 4)),
    ]
    uids = [uid for name in names[1:] for uid in lines(tmp_path / name, "UID")]
    record = last_given(practice, course_id)
    assert sorted(uids) == sorted(one.uid for one in record.issued)
    one = course_entry(practice, course_id).course
    told = reminders(lay_out(one), record, now=NOW, today=TODAY, choices=by_phase)
    assert told.note.startswith("Open each of these 4 files as you opened the one before")
    assert "0 reminders new, 0 changed, 0 cancelled" in told.changes


def test_calendar_files_of_earlier_givings_are_named(
    practice: OpenPractice, course_id: str, tmp_path: Path
) -> None:
    (_, whole) = given(practice, course_id, tmp_path, CHOICES)
    (tmp_path / "mine-reminders.ics").touch()
    by_phase = replace(CHOICES, reminders=replace(CHOICES.reminders, by_phase=True))
    parts = [tmp_path / name for name in given(practice, course_id, tmp_path, by_phase)]
    assert left_over(practice, course_id, tuple(parts)) == (whole,)
    (tmp_path / whole).unlink()
    again = [tmp_path / name for name in given(practice, course_id, tmp_path, CHOICES)]
    assert left_over(practice, course_id, tuple(again)) == tuple(path.name for path in parts[1:])


def test_a_course_that_is_flares_alone_has_one_file() -> None:
    one = course(phase("rescue", "1 w"))
    by_phase = replace(CHOICES.reminders, by_phase=True)
    told = reminders(lay_out(one), Published(one.id), now=NOW, today=TODAY, choices=by_phase)
    assert list(told.files) == ["reminders.ics"]


def test_discreet_calendar_files_do_not_name_the_protocol(
    practice: OpenPractice, course_id: str, tmp_path: Path
) -> None:
    discreet = replace(CHOICES.reminders, discreet=True)
    names = given(practice, course_id, tmp_path, replace(CHOICES, reminders=discreet))
    assert names == [
        "oms-broken-nights-handout-2028-01-15-no1.pdf",
        "reminders-2028-01-15-no1.ics",
    ]


def test_nothing_is_kept_where_nothing_can_be_written(
    practice: OpenPractice, course_id: str, tmp_path: Path
) -> None:
    place = tmp_path / "out"
    place.write_text("mine")
    with pytest.raises(FolderError, match="is a file"):
        given(practice, course_id, place, CHOICES)
    assert list_publications(practice, course_id) == ()
    assert list_given(practice, course_entry(practice, course_id).client_id) == ()
    assert place.read_text() == "mine"
    assert not work_folder(practice.path).exists()


@pytest.mark.parametrize("part", [PaperKind.DIARY, PaperKind.START_LETTER, PaperKind.PRACTITIONER])
def test_letters_that_no_paper_can_print_are_told_before_any_is(part: PaperKind) -> None:
    course = sample_course(phase("a", "4 w", line("t1", "1 cup od")))
    course = replace(course, client=replace(course.client, name="王小明"))
    read, choices = read_course(course, today=START), GiveChoices(ReminderChoices())
    chosen = replace(choices, parts=frozenset({part}))
    with pytest.raises(MissingGlyphsError, match="王小明"):
        printed_papers(read, NO_CARD, Reported(), chosen)
    assert printed_papers(read, NO_CARD, Reported(), replace(chosen, replace_missing=True))


def test_an_unknown_course_is_told(practice: OpenPractice, tmp_path: Path) -> None:
    with pytest.raises(MissingRecordError):
        give(practice, "none", tmp_path, now=NOW, today=TODAY, choices=CHOICES)


def named(client: str, protocol: str) -> Course:
    one = course(phase("one", "2 w"))
    return replace(one, client=Client(client), protocol=Protocol(protocol, one.protocol.phases))


def test_a_course_file_is_called_after_initials_protocol_and_start() -> None:
    assert file_stem(named("Una Example", "Stiff knees")) == "ue-stiff-knees-2027-01-04"
    assert file_stem(named("…", "")) == "course-2027-01-04"


def test_reminders_are_in_the_clients_zone_or_the_machines(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    one = named("Una Example", "Knees")
    monkeypatch.setenv("TZ", "Asia/Kolkata")
    assert usual_choices(one).zone == "Asia/Kolkata"
    monkeypatch.setenv("TZ", "EST5EDT,M3.2.0,M11.1.0")
    assert usual_choices(one).zone is None
    there = replace(one, client=Client("Una Example", zone="Europe/London"))
    assert usual_choices(there).zone == "Europe/London"


def lines(path: Path, key: str) -> list[str]:
    text = path.read_text(encoding="utf-8")
    return [line.split(":", 1)[1] for line in text.splitlines() if line.startswith(f"{key}:")]


def test_an_e_mail_holds_the_calendar_and_the_steps_for_the_phone(
    practice: OpenPractice, course_id: str, tmp_path: Path
) -> None:
    names = given(practice, course_id, tmp_path, replace(CHOICES, email=True))
    assert names[2] == names[1].replace(".ics", ".eml")
    message = email.message_from_bytes(
        (tmp_path / names[2]).read_bytes(), policy=email.policy.default
    )
    assert isinstance(message, EmailMessage)
    sheet, attached = message.iter_attachments()
    assert sheet.get_content_type() == "application/pdf"
    assert sheet.get_content() == (tmp_path / names[0]).read_bytes()
    assert attached.get_filename() == "reminders.ics"
    assert attached.get_content_type() == "text/calendar"
    calendar = (tmp_path / names[1]).read_text("utf-8")
    assert attached.get_content().splitlines() == calendar.splitlines()
    body = message.get_body()
    assert body is not None
    assert "iPhone:" in body.get_content()
    assert "YOUR REMEDIES" in body.get_content()
    assert message["Subject"] == last_given(practice, course_id).calendar_name
    assert message["To"] is message["From"] is None
    said = body.get_content() + "".join(f"{name}{value}" for name, value in message.items())
    assert "Odo" not in said


def test_a_subscribed_calendar_keeps_its_secret_name_and_holds_what_stands(
    practice: OpenPractice, course_id: str, tmp_path: Path
) -> None:
    choices = replace(CHOICES, subscribed=tmp_path / "in step")
    given(practice, course_id, tmp_path / "out", choices)
    (first,) = (tmp_path / "in step").iterdir()
    assert re.fullmatch(r"[0-9a-f]{32}\.ics", first.name)
    assert b"REFRESH-INTERVAL;VALUE=DURATION:P1D" in first.read_bytes()
    entry = course_entry(practice, course_id)
    end = End(on=TODAY, first=date(2028, 3, 1))
    shorter = replace(entry.course, revisions=(*entry.course.revisions, end))
    save_course(practice, entry, shorter, now=NOW)
    names = given(practice, course_id, tmp_path / "out", choices)
    assert b"STATUS:CANCELLED" in (tmp_path / "out" / names[1]).read_bytes()
    (again,) = (tmp_path / "in step").iterdir()
    assert again == first
    assert b"STATUS:CANCELLED" not in again.read_bytes()
    given(practice, course_id, tmp_path / "out", CHOICES)
    assert f"{last_given(practice, course_id).subscription}.ics" == first.name
    assert last_given(practice, course_id).subscribed_in == str(tmp_path / "in step")

"""The demo practice: what it shows on whatever day, and that nobody in it is real."""

from __future__ import annotations

import os
import re
from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction
from itertools import pairwise
from pathlib import Path

import pytest

from sennight.domain.courses.courses import Flare
from sennight.domain.courses.stretches import Layout, Stretch, lay_out
from sennight.domain.exposure.bands import Band
from sennight.domain.exposure.exposure import exposures
from sennight.domain.herbs.doses import TakenAs
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Ingredient
from sennight.domain.safety.check import Severity, findings
from sennight.knowledge.safety_rules import read_safety_rules
from sennight.places import own_folder
from sennight.practice.card import practice_card
from sennight.practice.clients import list_clients
from sennight.practice.courses import course_history, list_courses
from sennight.practice.demo import build_demo, read_demo, throw_away_demo, write_demo
from sennight.practice.diaries import diary, scores
from sennight.practice.materia_medica import herb_names, supplied_materia_medica
from sennight.practice.opening import open_practice
from sennight.practice.protocols import list_protocols
from sennight.practice.remedies import list_remedies
from sennight.publish.course_file.reader import read_course_file
from sennight.store.locks import FileLock
from support.pdf_pages import page_texts

FOLDER = own_folder("resources") / "demo"
WRITTEN_FOR = date(2027, 3, 1)
LAYOUTS = {
    client.file.course.protocol.name: lay_out(client.file.course)
    for client in read_demo(WRITTEN_FOR).clients
}
any_day = pytest.mark.parametrize(
    "today",
    [date(2026, 11, 23) + timedelta(days=n) for n in range(8)]
    + [date(2024, 2, 29), date(2041, 1, 1)],
    ids=str,
)


def on(layout: Layout, day: date) -> list[Stretch]:
    return [stretch for stretch in layout.stretches if day in stretch.span]


@any_day
def test_every_course_stands_where_it_should(today: date) -> None:
    joints, hands, flare, stomach, sleep, rest = (
        lay_out(client.file.course) for client in read_demo(today).clients
    )
    assert {stretch.phase for stretch in on(joints, today)} == {"loading"}
    assert on(hands, today) == []
    assert today in hands.days
    assert {stretch.phase for stretch in on(flare, today)} == {"rescue"}
    assert {stretch.phase for stretch in on(stomach, today)} == {"settling"}
    assert {stretch.remedy for stretch in on(sleep, today)} == {"evening-tea", "night-tincture"}
    assert rest.days.end <= today


@any_day
def test_it_moves_by_whole_weeks_and_nobody_ages(today: date) -> None:
    written, moved = read_demo(WRITTEN_FOR), read_demo(today)
    for then, now in zip(written.clients, moved.clients, strict=True):
        by = now.file.course.start - then.file.course.start
        assert by.days % 7 == 0
        assert timedelta(0) <= today - (WRITTEN_FOR + by) < timedelta(weeks=1)
        assert now.file.course.client == then.file.course.client
        assert [entry.day - by for entry in now.file.diary] == [
            entry.day for entry in then.file.diary
        ]
        assert all(taken.day <= today for taken in now.file.diary)
        assert all(score.day <= today for score in now.file.scores)
        for before, after in zip(
            then.file.course.revisions, now.file.course.revisions, strict=True
        ):
            assert isinstance(before, Flare)
            assert isinstance(after, Flare)
            assert (after.on - by, after.first - by) == (before.on, before.first)


def test_in_its_own_week_it_is_what_the_files_say() -> None:
    for client in read_demo(WRITTEN_FOR + timedelta(days=6)).clients:
        files = [
            read_course_file(path, herb_names())
            for path in FOLDER.glob("*.toml")
            if path.name != "practice.toml"
        ]
        assert client.file in files
    assert len(read_demo(WRITTEN_FOR).clients) == len(files)


def test_a_remedy_that_several_take_is_one_formula() -> None:
    found: dict[str, object] = {}
    for client in read_demo(WRITTEN_FOR).clients:
        for remedy in client.file.course.remedies:
            assert found.setdefault(remedy.id, remedy) == remedy


def test_every_remedy_is_taken_somewhere_and_a_rub_is_never_measured_like_a_drink() -> None:
    for client in read_demo(WRITTEN_FOR).clients:
        course = client.file.course
        lines = [line for phase in course.protocol.phases for line in phase.lines]
        assert {line.remedy for line in lines} == {remedy.id for remedy in course.remedies}
        for line in lines:
            rub = course.remedy(line.remedy).form is Form.RUB
            assert (line.directions.unit.value == "application") is rub


def test_cayenne_is_used_three_weeks_at_most_and_then_rests_two() -> None:
    """EMA/HMPC/331421/2015: at most 3 weeks, then a break of at least 2 weeks."""
    used = 0
    for layout in LAYOUTS.values():
        with_cayenne = {
            remedy.id
            for remedy in layout.course.remedies
            if any(part.herb == "cayenne" for part in remedy.ingredients)
        }
        spans = sorted(
            (stretch.span.first, stretch.span.end)
            for stretch in layout.stretches
            if stretch.remedy in with_cayenne
        )
        used += len(spans)
        assert all(end - first <= timedelta(weeks=3) for first, end in spans)
        assert all(b[0] - a[1] >= timedelta(weeks=2) for a, b in pairwise(spans))
    assert used > 0


def test_every_amount_lies_in_the_published_range() -> None:
    for layout in LAYOUTS.values():
        for row in exposures(layout, supplied_materia_medica()):
            if (row.herb, row.form) == ("boswellia", TakenAs.EXTRACT):
                # No text gives the drug-extract ratio, so there is nothing to compare it with.
                assert row.why.startswith("the drug-extract ratio is not recorded")
            else:
                assert row.band not in {Band.BELOW, Band.OVER, Band.UNKNOWN}, row


def test_no_finding_stands_in_the_way_of_giving_a_course() -> None:
    """Cautions and notes show how they are told; a course with an `avoid` could not be given."""
    rules = read_safety_rules(own_folder("resources") / "safety")
    every = [findings(one, supplied_materia_medica(), rules) for one in LAYOUTS.values()]
    severities = [one.severity for found in every for one in found]
    assert set(severities) == {Severity.CAUTION, Severity.NOTE}
    hands = LAYOUTS["Stiff hands, with rests"]
    tea = replace(hands.course.remedies[0], ingredients=(Ingredient("willow-bark", Fraction(1)),))
    willow = replace(hands.course, remedies=(tea, *hands.course.remedies[1:]))
    found = findings(lay_out(willow), supplied_materia_medica(), rules)
    assert Severity.AVOID in {one.severity for one in found}


def test_two_diaries_have_missed_doses_and_a_gate_has_scores_to_judge_by() -> None:
    clients = read_demo(WRITTEN_FOR).clients
    kept = [client for client in clients if client.file.diary]
    assert len(kept) >= 2
    for client in kept:
        assert any(entry.doses == 0 for entry in client.file.diary)
        days = {entry.day for entry in client.file.diary}
        assert days <= set(lay_out(client.file.course).days)
    for client in clients:
        phases = client.file.course.protocol.phases
        wanted = {phase.gate.measure for phase in phases if phase.gate}
        assert wanted <= {score.measure for score in client.file.scores}


def test_nobody_can_be_rung_up_or_written_to() -> None:
    """Ofcom keeps 01632 960000 to 960999 free for drama; RFC 2606 and 6761 keep example.org."""
    text = "".join(path.read_text("utf-8") for path in FOLDER.glob("*.toml"))
    numbers = re.findall(r"\b0\d[\d ]{7,}\d\b", text)
    assert numbers
    assert all(re.fullmatch(r"01632 960\d{3}", number) for number in numbers)
    domains = re.findall(r"@([\w.-]+\w)", text)
    assert domains
    assert set(domains) == {"example.org"}


@pytest.fixture
def built(tmp_path: Path) -> Path:
    path = tmp_path / "demo.sennight"
    build_demo(path, date(2027, 3, 3))
    return path


def test_the_practice_file_holds_all_of_it(built: Path) -> None:
    demo = read_demo(date(2027, 3, 3))
    with open_practice(built) as practice:
        assert practice_card(practice) == demo.card
        clients = {entry.client.name: entry for entry in list_clients(practice)}
        assert set(clients) == {each.file.course.client.name for each in demo.clients}
        for each in demo.clients:
            entry = clients[each.file.course.client.name]
            assert (entry.contact, entry.note) == (each.contact, each.note)
            (course,) = list_courses(practice, entry.id)
            assert course.course == each.file.course
            decided = [revision.on for revision in each.file.course.revisions]
            saved = [version.when.date() for version in course_history(practice, course.id)]
            assert saved == [each.file.course.start, *decided]
            assert set(diary(practice, course.id)) == set(each.file.diary)
            assert set(scores(practice, course.id)) == set(each.file.scores)
        shelved = [each.file.course for each in demo.clients if each.shelf]
        assert {shelf.protocol for shelf in list_protocols(practice)} == {
            course.protocol for course in shelved
        }
        assert {shelf.remedy for shelf in list_remedies(practice)} == {
            remedy for course in shelved for remedy in course.remedies
        }


def test_what_is_written_can_be_read_again(tmp_path: Path) -> None:
    run = write_demo(tmp_path, today=date(2027, 3, 3))
    assert all(path.is_file() for path in run.written)
    assert {path.name for path in run.written} >= {"course.toml", "doses.csv", "reminders.ics"}
    read = read_course_file(tmp_path / "course.toml", herb_names())
    assert read == read_demo(date(2027, 3, 3)).clients[0].file


def test_the_written_sheet_says_whom_to_ask(tmp_path: Path) -> None:
    write_demo(tmp_path, today=date(2027, 3, 3))
    said = " ".join(page_texts((tmp_path / "handout.pdf").read_bytes()))
    card = read_demo(date(2027, 3, 3)).card
    assert all(line in said for line in (card.phone, card.email, *card.address))


def test_what_a_killed_demo_left_goes_at_the_next_unless_it_is_open(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    left, running, fresh = (tmp_path / f"sennight-demo-{n}" for n in ("left", "open", "fresh"))
    for folder in (left, running, fresh):
        folder.mkdir()
        (folder / "demo.sennight").touch()
    lock = FileLock(running / "demo.sennight")
    for folder in (left, running):
        os.utime(folder, (0, 0))
    monkeypatch.setattr("sennight.practice.demo.build_demo", lambda *_: None)
    with throw_away_demo(date(2027, 3, 3)):
        assert len(list(tmp_path.iterdir())) == 3
    lock.release()
    assert sorted(tmp_path.iterdir()) == sorted((running, fresh))


def test_the_throw_away_copy_is_gone_afterwards_whatever_was_changed() -> None:
    with throw_away_demo(date(2027, 3, 3)) as path:
        with open_practice(path) as practice:
            assert len(list_clients(practice)) == 6
        folder = path.parent
        (folder / "more.txt").touch()
    assert not folder.exists()

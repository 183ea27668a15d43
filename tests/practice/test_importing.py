"""Course files brought into a practice, and courses written as course files."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from sennight.domain.courses.clients import Client
from sennight.domain.courses.courses import Course, Extend
from sennight.domain.courses.protocols import Ceiling, Protocol
from sennight.domain.follow_up.diaries import DayNote, Followed, Reported, Taken
from sennight.practice.clients import client_entry, list_clients
from sennight.practice.courses import add_course, course_entry, list_courses, start_course
from sennight.practice.diaries import (
    DiaryError,
    diary,
    enter_diary,
    enter_whole_diary,
    followed_advice,
    scores,
)
from sennight.practice.importing import (
    ImportFileError,
    NameTakenError,
    import_course,
    import_protocol,
    read_for_import,
    save_as_protocol,
    template_of,
    write_course_file,
)
from sennight.practice.opening import MissingRecordError, OpenPractice
from sennight.practice.protocols import list_protocols, shelf_protocol
from sennight.practice.remedies import list_remedies, save_remedy
from sennight.practice.writing import FolderError
from support.files import COURSES
from support.samples import line, phase, remedy

from .conftest import NOW

KNEES = COURSES / "knees.toml"
JOINTS = COURSES / "joint_practice.toml"


def test_a_protocol_is_brought_in_alone(practice: OpenPractice) -> None:
    file = read_for_import(practice, KNEES)
    brought = import_protocol(practice, file)
    shelf = shelf_protocol(practice, brought.protocol_id)
    assert shelf.protocol.name == "Stiff knees"
    assert shelf.protocol.aims == file.course.protocol.aims
    assert {one.name for one in shelf.remedies} == {
        one.name for one in template_of(file.course, "")[1]
    }
    assert list_clients(practice) == ()
    assert list_courses(practice) == ()


def test_a_course_is_brought_in_with_a_new_folder_and_its_diary(practice: OpenPractice) -> None:
    file = read_for_import(practice, KNEES)
    brought = import_course(practice, file, now=NOW)
    assert client_entry(practice, brought.client_id).client == file.course.client
    entry = course_entry(practice, brought.course_id)
    assert entry.course == file.course
    assert set(diary(practice, brought.course_id)) == set(file.diary)
    assert set(scores(practice, brought.course_id)) == set(file.scores)
    assert file.diary
    assert file.scores


def test_a_course_goes_into_a_folder_whose_record_stays(
    practice: OpenPractice, client_id: str
) -> None:
    before = client_entry(practice, client_id)
    brought = import_course(
        practice, read_for_import(practice, KNEES), client_id=client_id, now=NOW
    )
    assert brought.client_id == client_id
    assert client_entry(practice, client_id) == before
    assert course_entry(practice, brought.course_id).course.client == before.client


def test_a_second_time_the_name_is_taken_and_nothing_comes_in(practice: OpenPractice) -> None:
    file = read_for_import(practice, KNEES)
    import_protocol(practice, file)
    before = list_protocols(practice), list_remedies(practice)
    with pytest.raises(
        NameTakenError, match=r"already a protocol “Stiff knees”.*choose another name"
    ):
        import_protocol(practice, file)
    with pytest.raises(NameTakenError):
        import_course(practice, file, now=NOW)
    assert (list_protocols(practice), list_remedies(practice)) == before
    assert list_clients(practice) == ()
    second = import_protocol(practice, file, name="Stiff knees, winter")
    assert shelf_protocol(practice, second.protocol_id).protocol.name == "Stiff knees, winter"
    assert list_remedies(practice) == before[1]  # the same formulas, so no further remedies


def test_without_the_client_nothing_of_a_course_stays(practice: OpenPractice) -> None:
    with pytest.raises(MissingRecordError):
        import_course(practice, read_for_import(practice, KNEES), client_id="0" * 32, now=NOW)
    assert list_protocols(practice) == ()
    assert list_remedies(practice) == ()


def test_every_problem_is_told_with_its_place(practice: OpenPractice, tmp_path: Path) -> None:
    text = KNEES.read_text("utf-8")
    text = text.replace('method = "decoction"', 'method = "boiling"')
    text = text.replace("born = 1958-03-14", 'born = "1958"')
    path = tmp_path / "wrong.toml"
    path.write_text(text, "utf-8")
    with pytest.raises(ImportFileError) as raised:
        read_for_import(practice, path)
    places = [problem.partition(":")[0] for problem in raised.value.problems]
    assert places == ["client.born", "remedy[1].method"]
    assert str(raised.value).startswith("wrong.toml cannot be imported:\nclient.born: ")


def course() -> Course:
    protocol = Protocol("Ease", (phase("loading", "6 w", line("t1", "1 cup tds")),))
    return Course(
        id="c1",
        client=Client("Una Example"),
        remedies=(remedy("t1"), remedy("t2")),
        protocol=protocol,
        start=date(2027, 1, 4),
        revisions=(Extend(on=date(2027, 1, 20), phase="loading", by=2, in_weeks=True),),
    )


def test_a_course_is_kept_as_a_protocol_without_what_is_the_clients(
    practice: OpenPractice, client_id: str
) -> None:
    shelf = shelf_protocol(practice, save_as_protocol(practice, course(), "Ease again"))
    assert shelf.protocol == replace(course().protocol, name="Ease again")
    assert shelf.remedies == (remedy("t1"),)
    started = start_course(practice, client_id, shelf.id, date(2027, 5, 3), now=NOW)
    assert course_entry(practice, started).course.revisions == ()
    with pytest.raises(NameTakenError):
        save_as_protocol(practice, course(), "Ease again")


def test_advice_that_was_followed_is_entered_corrected_and_brought_in_again(
    practice: OpenPractice, tmp_path: Path
) -> None:
    first = read_for_import(practice, JOINTS)
    made = import_course(practice, first, now=NOW)
    walk = Followed(date(2027, 1, 4), "Walk for 20 minutes", 1)
    assert followed_advice(practice, made.course_id) == (walk,)
    later = (replace(walk, times=0), replace(walk, day=date(2027, 1, 6)))
    noted = (DayNote(date(2027, 1, 5), "slept well"),)
    taken = (Taken(date(2027, 1, 5), "tea", 2),)
    enter_whole_diary(practice, made.course_id, Reported(taken, later, notes=noted))
    enter_whole_diary(practice, made.course_id, Reported(followed=later))
    assert followed_advice(practice, made.course_id) == later
    for wrong in (replace(walk, advice="Run"), replace(walk, times=-1)):
        with pytest.raises(DiaryError, match="not advice of this course"):
            enter_whole_diary(practice, made.course_id, Reported(followed=(wrong,)))
    file = read_for_import(
        practice, write_course_file(practice, made.course_id, tmp_path / "joints.toml")
    )
    assert (file.course.protocol, file.followed) == (first.course.protocol, later)
    assert file.notes == noted


def test_a_newer_formula_of_the_shelf_is_kept_and_no_old_one_comes_back(
    practice: OpenPractice,
) -> None:
    """The old formula once stood beside the new one, under the same name."""
    save_remedy(practice, remedy("t1"))
    newer = replace(remedy("t1"), ingredients=remedy("t1").ingredients[:1], name="Without willow")
    save_remedy(practice, newer)
    shelf = shelf_protocol(practice, save_as_protocol(practice, course(), "Ease newer"))
    assert shelf.remedies == (newer,)
    assert [one.id for one in list_remedies(practice)] == ["t1"]
    own = replace(course(), remedies=(replace(remedy("t1"), name="Only here"), remedy("t2")))
    shelf = shelf_protocol(practice, save_as_protocol(practice, own, "Ease own"))
    assert [one.name for one in shelf.remedies] == ["Only here"]


def test_a_ceiling_goes_to_the_shelf_with_the_remedies_that_have_lines(
    practice: OpenPractice,
) -> None:
    both = replace(course().protocol, ceilings=(Ceiling(("t1", "t2"), 4), Ceiling(("t2",), 2)))
    two = replace(course(), protocol=both, remedies=(remedy("t1"), remedy("t2")))
    shelf = shelf_protocol(practice, save_as_protocol(practice, two, "Bounded"))
    assert shelf.protocol.ceilings == (Ceiling(("t1",), 4),)


def test_a_written_course_file_brings_the_same_in_again(
    practice: OpenPractice, tmp_path: Path
) -> None:
    first = read_for_import(practice, KNEES)
    made = import_course(practice, first, now=NOW)
    enter_diary(practice, made.course_id, [Taken(date(2027, 3, 1), "t1", 2)])
    file = read_for_import(
        practice, write_course_file(practice, made.course_id, tmp_path / "knees.toml")
    )
    assert file.course == first.course
    assert Taken(date(2027, 3, 1), "t1", 2) in file.diary
    assert set(file.scores) == set(first.scores)


def test_a_course_file_that_cannot_be_written_leaves_the_old_one(
    practice: OpenPractice, client_id: str, tmp_path: Path
) -> None:
    made = add_course(practice, client_id, course(), now=NOW)
    (tmp_path / "file").write_text("mine", "utf-8")
    with pytest.raises(FolderError):
        write_course_file(practice, made, tmp_path / "file" / "ease.toml")
    assert (tmp_path / "file").read_text("utf-8") == "mine"

"""Papers that are kept: what was given comes back, from the file alone."""

from __future__ import annotations

import sqlite3
import stat
import sys
import zlib
from contextlib import closing
from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from sqlalchemy import Engine, event

from sennight.desktop.shell.health_words import health_rows
from sennight.domain.courses.clients import Client
from sennight.practice.clients import add_client
from sennight.practice.opening import (
    DamagedFileError,
    MissingRecordError,
    OpenPractice,
    open_practice,
)
from sennight.practice.papers import (
    About,
    NameParts,
    Paper,
    PaperKind,
    UnwrittenError,
    give_paper_as,
    give_papers,
    list_given,
    next_number,
    paper_content,
    paper_to_read,
    save_paper,
    write_again,
)
from sennight.practice.upkeep import practice_health
from sennight.practice.work_folder import work_folder
from sennight.practice.writing import FolderError, Staging

NOW, TODAY = datetime(2027, 1, 4, 9, 30, tzinfo=UTC), date(2027, 1, 4)
LETTER = Paper(PaperKind.REFERRAL, b"%PDF letter " * 50)
REPORT = Paper(PaperKind.REACTION_REPORT, b"%PDF report")


@pytest.fixture
def about(client_id: str) -> About:
    return About(client_id, NameParts("Una Example"))


def gave(practice: OpenPractice, about: About, folder: Path, *some: Paper) -> list[str]:
    paths = give_papers(practice, about, some, folder, now=NOW, today=TODAY)
    return [path.name for path in paths]


def test_what_was_given_is_listed_newest_first_and_comes_back(
    practice: OpenPractice, about: About, tmp_path: Path
) -> None:
    gave(practice, about, tmp_path, LETTER)
    names = gave(practice, about, tmp_path, REPORT, LETTER)
    listed = list_given(practice, about.client_id)
    assert [(one.number, one.name, one.kind) for one in listed] == [
        (2, "ue-reaction-2027-01-04-no2.pdf", "reaction"),
        (2, "ue-referral-2027-01-04-no2.pdf", "referral"),
        (1, "ue-referral-2027-01-04-no1.pdf", "referral"),
    ]
    assert names == [one.name for one in listed[:2]]
    assert [paper_content(practice, one.id) for one in listed] == [
        REPORT.content,
        LETTER.content,
        LETTER.content,
    ]
    assert (listed[0].when, listed[0].size, listed[0].course_id) == (NOW, 11, None)
    with closing(sqlite3.connect(practice.path)) as connection:
        kept = connection.execute("SELECT length(content), size FROM paper_content").fetchall()
    assert len(kept) == 2, "the same letter is kept once"
    assert min(kept)[0] < 100 < max(size for _, size in kept), "and compressed"


def test_nothing_given_is_no_giving(practice: OpenPractice, about: About, tmp_path: Path) -> None:
    """As of a course that was struck out, of which nothing is printed."""
    assert gave(practice, about, tmp_path) == []
    assert list_given(practice, about.client_id) == ()
    assert next_number(practice) == 1


def test_two_clients_of_the_same_initials_have_files_of_their_own(
    practice: OpenPractice, about: About, tmp_path: Path
) -> None:
    """Two clients, one protocol, one day, one folder: four files of both, none in the other."""
    ugo = About(add_client(practice, Client("Ugo Exempel")), NameParts("Ugo Exempel", "Joints"))
    una = About(about.client_id, NameParts("Una Example", "Joints"))
    first = give_papers(practice, una, [LETTER, REPORT], tmp_path / "x", now=NOW, today=TODAY)
    second = give_papers(
        practice, ugo, [Paper(PaperKind.REFERRAL, b"Ugo")], tmp_path / "x", now=NOW, today=TODAY
    )
    assert len({*first, *second}) == len(list((tmp_path / "x").iterdir())) == 3
    assert first[0].read_bytes() == LETTER.content


def test_a_file_of_that_name_from_elsewhere_stays(
    practice: OpenPractice, about: About, tmp_path: Path
) -> None:
    """Another practice, or one put back from a backup, may have used the number."""
    taken = tmp_path / "ue-referral-2027-01-04-no1.pdf"
    taken.write_bytes(b"another client's")
    assert next_number(practice) == 1
    assert gave(practice, about, tmp_path, LETTER) == ["ue-referral-2027-01-04-no1 (2).pdf"]
    assert taken.read_bytes() == b"another client's"
    again = write_again(practice, 1, tmp_path)
    assert [path.name for path in again] == ["ue-referral-2027-01-04-no1 (2).pdf"]
    assert again[0].read_bytes() == LETTER.content


def test_one_is_written_where_the_practitioner_says(
    practice: OpenPractice, about: About, tmp_path: Path
) -> None:
    path = tmp_path / "to the doctor.pdf"
    assert give_paper_as(practice, about, LETTER, path, now=NOW) == path
    (kept,) = list_given(practice, about.client_id)
    assert (kept.name, path.read_bytes()) == (path.name, LETTER.content)
    assert save_paper(practice, kept.id, tmp_path / "again.pdf").read_bytes() == LETTER.content


def test_nothing_is_on_record_where_nothing_could_be_written(
    practice: OpenPractice, about: About, tmp_path: Path
) -> None:
    (tmp_path / "file").touch()
    with pytest.raises(FolderError, match="is a file"):
        gave(practice, about, tmp_path / "file", LETTER)
    with pytest.raises(ValueError, match="the same name"):
        gave(practice, about, tmp_path, LETTER, LETTER)
    with pytest.raises(MissingRecordError):
        gave(practice, About("none", NameParts("")), tmp_path, LETTER)
    assert list_given(practice, about.client_id) == ()


def test_what_could_not_get_its_name_is_on_record_and_written_again(
    practice: OpenPractice, about: About, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(_: Staging) -> tuple[Path, ...]:
        raise FolderError("the disk is gone")

    with monkeypatch.context() as patched:
        patched.setattr(Staging, "finish", fail)
        with pytest.raises(UnwrittenError, match="on record under Given") as raised:
            gave(practice, about, tmp_path / "out", LETTER)
    assert list((tmp_path / "out").iterdir()) == []
    (written,) = write_again(practice, raised.value.number, tmp_path / "out")
    assert written.read_bytes() == LETTER.content


def test_nothing_is_written_where_it_cannot_be_kept(
    practice: OpenPractice, about: About, tmp_path: Path
) -> None:
    """The disk is full for the practice file at COMMIT: no paper without its record."""

    def fail(_: object) -> None:
        raise OSError(28, "No space left on device")

    event.listen(Engine, "commit", fail)
    try:
        with pytest.raises(OSError, match="No space"):
            gave(practice, about, tmp_path / "out", LETTER)
    finally:
        event.remove(Engine, "commit", fail)
    assert list((tmp_path / "out").iterdir()) == []
    assert list_given(practice, about.client_id) == ()
    assert gave(practice, about, tmp_path / "out", LETTER) == ["ue-referral-2027-01-04-no1.pdf"]


def test_a_paper_opened_to_be_read_is_private_and_goes_with_the_practice(
    practice: OpenPractice, about: About, tmp_path: Path
) -> None:
    gave(practice, about, tmp_path, LETTER)
    (kept,) = list_given(practice, about.client_id)
    path = paper_to_read(practice, kept.id)
    assert (path.name, path.read_bytes()) == (kept.name, LETTER.content)
    assert paper_to_read(practice, kept.id) != path, "a second one does not disturb the first"
    if sys.platform != "win32":
        assert stat.S_IMODE(work_folder(practice.path).stat().st_mode) == 0o700
        assert stat.S_IMODE(path.stat().st_mode) == 0o600
    practice.close()
    assert not work_folder(practice.path).exists()
    path.parent.mkdir(parents=True)
    path.write_bytes(b"left by a kill")
    open_practice(practice.path).close()
    assert not work_folder(practice.path).exists()


def test_a_name_in_a_file_from_elsewhere_leads_nowhere_else(
    practice: OpenPractice, about: About, tmp_path: Path
) -> None:
    path = tmp_path / "sub" / "x.pdf"
    give_paper_as(practice, about, LETTER, path, now=NOW)
    practice.close()
    with closing(sqlite3.connect(practice.path)) as connection:
        connection.execute("DROP TRIGGER keep_given_paper_from_update")
        connection.execute("UPDATE given_paper SET name = '../../escaped.pdf'")
        connection.execute(
            "CREATE TRIGGER keep_given_paper_from_update BEFORE UPDATE ON given_paper "
            "BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END"
        )
        connection.commit()
    with open_practice(practice.path) as opened:
        assert paper_to_read(opened, 1).parent.parent.parent == work_folder(opened.path)
        assert write_again(opened, 1, tmp_path / "out") == (tmp_path / "out" / "escaped.pdf",)


def test_a_paper_that_changed_in_the_file_is_told(
    practice: OpenPractice, about: About, tmp_path: Path
) -> None:
    gave(practice, about, tmp_path, REPORT)
    gave(practice, about, tmp_path, LETTER)
    assert practice_health(practice.path, now=NOW).sound
    with closing(sqlite3.connect(practice.path)) as connection:
        (guard,) = connection.execute(
            "SELECT sql FROM sqlite_master WHERE name = 'keep_paper_content_from_update'"
        ).fetchone()
        connection.execute("DROP TRIGGER keep_paper_content_from_update")
        for damage in ("x'789c03'", f"x'{zlib.compress(b'another').hex()}'"):
            connection.execute(
                f"UPDATE paper_content SET content = {damage} WHERE size > 100"  # noqa: S608
            )
            connection.commit()
            with pytest.raises(DamagedFileError, match="A paper that was given is damaged"):
                paper_content(practice, 2)
        connection.execute(guard)
        connection.commit()
    assert list_given(practice, about.client_id), "the list is there still"
    assert paper_content(practice, 1) == REPORT.content, "and the others"
    health = practice_health(practice.path, now=NOW)
    assert (health.sound, health.contents.damaged_givings) == (False, (2,))
    assert ("Damage", "papers that were given: no. 2") in health_rows(health)


def test_a_paper_that_is_not_there_is_told(practice: OpenPractice, tmp_path: Path) -> None:
    for ask in (paper_content, paper_to_read):
        with pytest.raises(MissingRecordError):
            ask(practice, 9)
    with pytest.raises(MissingRecordError):
        write_again(practice, 9, tmp_path)
    with pytest.raises(MissingRecordError):
        list_given(practice, "none")

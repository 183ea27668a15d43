"""Backups made by themselves, a look at what is in one, and putting one back."""

from __future__ import annotations

import os
import random
import shutil
import sqlite3
import sys
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from databases.make import dump
from sennight.domain.courses.clients import Client
from sennight.practice.backups import (
    back_up,
    back_up_if_changed,
    back_up_if_due,
    backup_age,
    backup_is_late,
    backups_of,
    contents_of,
    restore_backup,
    save_copy,
)
from sennight.practice.clients import add_client, change_client, client_entry, list_clients
from sennight.practice.opening import (
    BackupError,
    DamagedFileError,
    FileInUseError,
    LostFileError,
    NewerFileError,
    OpenPractice,
    PracticeFileError,
    open_practice,
)
from sennight.practice.papers import (
    About,
    NameParts,
    Paper,
    PaperKind,
    give_papers,
    list_given,
    paper_content,
)
from sennight.store.marking import mark_of

MORNING = datetime(2027, 1, 4, 9, 30, tzinfo=UTC)
DAYS = 40


@dataclass
class Day:
    """A clock that is set by hand."""

    now: datetime = MORNING

    def __call__(self) -> datetime:
        return self.now


@pytest.fixture
def clock() -> Day:
    return Day()


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "practice.sennight"


@pytest.fixture
def practice(path: Path, clock: Day) -> Iterator[OpenPractice]:
    with open_practice(path, clock=clock) as opened:
        add_client(opened, Client("Una Example"))
        yield opened


def names(path: Path) -> list[str]:
    with open_practice(path) as opened:
        return [entry.client.name for entry in list_clients(opened)]


def rows(path: Path) -> list[str]:
    return sorted(dump(path))


def test_a_restore_drill_over_forty_days(path: Path, clock: Day, tmp_path: Path) -> None:
    """Saves and backups of forty days; then each backup that is left gives its own day again."""
    draw = random.Random(40)  # noqa: S311 - days, not secrets
    stick, on_day = tmp_path / "stick", {}
    for day in range(DAYS):
        clock.now = MORNING + timedelta(days=day)
        with open_practice(path, clock=clock) as practice:
            client = add_client(practice, Client(f"Client of day {day}"))
            for _ in range(draw.randrange(3)):
                entry = client_entry(practice, client)
                change_client(practice, replace(entry, note=f"{draw.random()}"))
            about = About(client, NameParts("Una Example"))
            sheet = Paper(PaperKind.HANDOUT, draw.randbytes(500))
            give_papers(practice, about, [sheet], tmp_path, now=clock.now, today=clock.now.date())
            made = back_up_if_changed(practice, stick)
            assert made is not None
            assert made.second is not None
        on_day[made.path.name] = rows(path)
    left = backups_of(path)
    assert len(left) == 7 + 4, "seven days, and the ends of four weeks before them"
    assert [one.path.name for one in left] == [
        one.path.name for one in backups_of(path, stick) if one.path.parent == stick
    ]
    for backup in draw.sample(left, len(left)):
        before = rows(path)
        aside = restore_backup(path, backup.path, now=clock.now)
        assert rows(path) == on_day[backup.path.name]
        assert aside is not None
        assert rows(aside) == before
        with open_practice(path) as practice:
            newest = max(list_clients(practice), key=lambda one: int(one.client.name.split()[-1]))
            (paper,) = list_given(practice, newest.id)
            assert paper_content(practice, paper.id) == (tmp_path / paper.name).read_bytes()


def test_two_practices_of_one_name_share_a_second_folder(clock: Day, tmp_path: Path) -> None:
    """Each keeps, lists and thins out its own, though both are called practice.sennight."""
    stick, paths = tmp_path / "stick", [tmp_path / name / "practice.sennight" for name in "ab"]
    for day in range(9):
        clock.now = MORNING + timedelta(days=day)
        for path in paths:
            path.parent.mkdir(exist_ok=True)
            with open_practice(path, clock=clock) as practice:
                add_client(practice, Client(f"Client of {path.parent.name}"))
                made = back_up(practice, stick)
                assert made.second is not None
    for path in paths:
        own = [one.path for one in backups_of(path, stick) if one.path.parent == stick]
        assert len(own) == len(backups_of(path)) == 7
        restore_backup(path, own[0], now=clock.now)
        assert set(names(path)) == {f"Client of {path.parent.name}"}
    assert len(list(stick.iterdir())) == 2 * 7
    paths[0].unlink()
    assert len(backups_of(paths[0], stick)) == 3 * 7, "of a file that is gone all are told"


def test_an_unfinished_backup_of_another_practice_is_left_to_it(
    practice: OpenPractice, tmp_path: Path
) -> None:
    stick = tmp_path / "stick"
    stick.mkdir()
    half = stick / "practice 2027-01-04 093000 0badf00d.sennight.part"
    half.write_bytes(b"half")
    back_up(practice, stick)
    assert half.exists()


def test_a_practice_of_an_earlier_version_gets_its_mark_and_keeps_its_backups(
    path: Path, clock: Day
) -> None:
    with open_practice(path, clock=clock) as practice:
        add_client(practice, Client("Una Example"))
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("PRAGMA user_version = 0")
    assert mark_of(path) == ""
    (path.parent / "backups").mkdir()
    earlier = path.parent / "backups" / "practice 2027-01-01 080000.sennight"
    shutil.copyfile(path, earlier)
    with open_practice(path, clock=clock) as practice:
        assert mark_of(path)
        made = back_up(practice)
        assert mark_of(made.path) == mark_of(path)
        assert made.path.name == f"practice 2027-01-04 093000 {mark_of(path)}.sennight"
        assert [one.path for one in backups_of(path)] == [made.path, earlier]


def test_closing_backs_up_what_changed_and_only_then(path: Path, clock: Day) -> None:
    with open_practice(path, clock=clock) as practice:
        add_client(practice, Client("Una Example"))
        assert back_up_if_changed(practice) is not None
        assert back_up_if_changed(practice) is None
        add_client(practice, Client("Bram Example"))
        clock.now += timedelta(minutes=1)
        assert back_up_if_changed(practice) is not None
    now = datetime.now(UTC)
    clock.now = now + timedelta(minutes=1)
    with open_practice(path, clock=clock) as practice:
        back_up(practice)
    with open_practice(path, clock=clock) as practice:
        assert back_up_if_changed(practice) is None


def test_what_a_crash_kept_from_being_backed_up_is_made_up_for(path: Path, clock: Day) -> None:
    with open_practice(path, clock=clock) as practice:
        add_client(practice, Client("Una Example"))
        clock.now = datetime.now(UTC) - timedelta(hours=5)
        back_up(practice)
    with open_practice(path, clock=clock) as practice:
        assert back_up_if_changed(practice) is not None


def test_one_a_day_while_open(practice: OpenPractice, clock: Day) -> None:
    assert backup_age(practice.path, now=clock.now) is None
    assert backup_is_late(practice.path, now=clock.now)
    assert back_up_if_due(practice, now=clock.now) is not None
    assert backup_age(practice.path, now=clock.now) == timedelta()
    clock.now += timedelta(hours=23)
    assert back_up_if_due(practice, now=clock.now) is None
    clock.now += timedelta(hours=1)
    assert back_up_if_due(practice, now=clock.now) is not None
    assert not backup_is_late(practice.path, now=clock.now + timedelta(days=2))
    assert backup_is_late(practice.path, now=clock.now + timedelta(days=2, minutes=1))


def test_a_second_folder_that_is_not_there_is_told_and_the_backup_stands(
    practice: OpenPractice, tmp_path: Path
) -> None:
    (tmp_path / "file").write_text("in the way")
    made = back_up(practice, tmp_path / "file" / "stick")
    assert made.path.exists()
    assert made.second is None
    assert "stick" in made.trouble


def test_what_is_in_a_backup_is_told_without_changing_it(
    practice: OpenPractice, clock: Day
) -> None:
    clock.now += timedelta(hours=3)
    add_client(practice, Client("Bram Example"))
    made = back_up(practice).path
    before = made.read_bytes(), made.stat().st_mtime_ns
    for thoroughly in (False, True):
        found = contents_of(made, thoroughly=thoroughly)
        assert (found.clients, found.courses, found.newest) == (2, 0, clock.now)
        assert (found.trouble, found.damaged_courses) == ("", ())
    assert (made.read_bytes(), made.stat().st_mtime_ns) == before
    assert [one.name for one in made.parent.iterdir()] == [made.name]


def test_what_is_in_the_open_file_is_told_with_its_newest_saves(practice: OpenPractice) -> None:
    assert contents_of(practice.path).clients == 1
    add_client(practice, Client("Bram Example"))
    assert contents_of(practice.path).clients == 2


def test_a_restored_file_is_not_undone_by_the_journal_of_a_crash(
    path: Path, clock: Day, tmp_path: Path
) -> None:
    """5 to 200 saves in the journal: none of them comes back, and all are kept aside."""
    for saves in (5, 200):
        folder = tmp_path / f"{saves}"
        folder.mkdir()
        crashed = folder / path.name
        with open_practice(folder / "live.sennight", clock=clock) as practice:
            add_client(practice, Client("Una Example"))
            made = practice.file.back_up(folder / "backups")
            for n in range(saves):
                add_client(practice, Client(f"Later {n}"))
            for end in ("", "-wal", "-shm"):
                live = practice.path.with_name(practice.path.name + end)
                shutil.copy(live, crashed.with_name(crashed.name + end))
        aside = restore_backup(crashed, made, now=clock.now)
        assert aside is not None
        assert sorted(one.name for one in folder.glob("practice.sennight*")) == [crashed.name]
        assert names(crashed) == ["Una Example"]
        assert len(names(aside)) == saves + 1


@pytest.mark.parametrize("happens", ["damaged", "empty", "missing"])
def test_a_backup_takes_the_place_of_a_file_that_is_of_no_use(
    path: Path, clock: Day, happens: str
) -> None:
    with open_practice(path, clock=clock) as practice:
        add_client(practice, Client("Una Example"))
        made = back_up(practice).path
    match happens:
        case "damaged":
            path.write_bytes(b"\xff" * 9000)
        case "empty":
            path.write_bytes(b"")
        case _:
            path.unlink()
    aside = restore_backup(path, made, now=clock.now)
    assert names(path) == ["Una Example"]
    assert (aside is None) == (happens == "missing")
    if sys.platform != "win32":
        assert path.stat().st_mode & 0o077 == 0


def test_two_restores_in_one_second_keep_both_files(path: Path, clock: Day) -> None:
    with open_practice(path, clock=clock) as practice:
        made = back_up(practice).path
    first = restore_backup(path, made, now=clock.now)
    second = restore_backup(path, made, now=clock.now)
    assert first != second
    assert first is not None
    assert second is not None
    assert first.exists()
    assert second.exists()


def test_a_damaged_backup_is_not_restored(path: Path, clock: Day) -> None:
    with open_practice(path, clock=clock) as practice:
        made = back_up(practice).path
    content = bytearray(made.read_bytes())
    content[-4096:] = b"\xff" * 4096
    made.write_bytes(content)
    before = path.read_bytes()
    with pytest.raises(PracticeFileError, match="damaged"):
        restore_backup(path, made, now=clock.now)
    assert path.read_bytes() == before
    assert {one.name for one in path.parent.iterdir()} == {path.name, "backups"}


def test_what_is_no_backup_is_not_restored(path: Path, clock: Day, tmp_path: Path) -> None:
    open_practice(path).close()
    foreign = tmp_path / "foreign.db"
    with closing(sqlite3.connect(foreign)) as connection:
        connection.execute("CREATE TABLE other (x)")
    newer = tmp_path / "newer.sennight"
    shutil.copy(path, newer)
    with closing(sqlite3.connect(newer)) as connection:
        connection.execute("UPDATE alembic_version SET version_num = '9042'")
        connection.commit()
    with pytest.raises(DamagedFileError, match="another program's"):
        restore_backup(path, foreign, now=clock.now)
    with pytest.raises(NewerFileError):
        restore_backup(path, newer, now=clock.now)
    with pytest.raises(PracticeFileError, match="is the practice file itself"):
        restore_backup(path, path, now=clock.now)
    with pytest.raises(PracticeFileError):
        restore_backup(path, tmp_path / "nothing", now=clock.now)


def test_an_open_file_is_not_replaced(practice: OpenPractice, clock: Day) -> None:
    made = back_up(practice).path
    with pytest.raises(FileInUseError):
        restore_backup(practice.path, made, now=clock.now)


@pytest.mark.skipif(sys.platform == "win32", reason="Windows keeps open files in place")
@pytest.mark.parametrize("replaced", [True, False])
def test_what_is_open_can_be_saved_though_its_file_is_lost(
    practice: OpenPractice, tmp_path: Path, *, replaced: bool
) -> None:
    if replaced:
        other = tmp_path / "other.sennight"
        open_practice(other).close()
        other.replace(practice.path)
    else:
        practice.path.unlink()
    with pytest.raises(LostFileError):
        add_client(practice, Client("Bram Example"))
    with pytest.raises(LostFileError):
        back_up(practice)
    copy = tmp_path / "copy.sennight"
    save_copy(practice, copy)
    assert names(copy) == ["Una Example"]
    assert [entry.client.name for entry in list_clients(practice)] == ["Una Example"]
    with pytest.raises(BackupError, match="is there already"):
        save_copy(practice, copy)


def test_a_full_disk_at_a_restore_is_told_and_changes_nothing(
    path: Path, clock: Day, monkeypatch: pytest.MonkeyPatch
) -> None:
    with open_practice(path, clock=clock) as practice:
        made = back_up(practice).path
    before = path.read_bytes()

    def full(_: int) -> None:
        raise OSError(28, os.strerror(28))

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(PracticeFileError, match="could not be restored"):
        restore_backup(path, made, now=clock.now)
    monkeypatch.undo()
    assert path.read_bytes() == before
    assert {one.name for one in path.parent.iterdir()} == {path.name, "backups"}

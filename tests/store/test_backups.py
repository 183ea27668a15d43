"""Which backups are kept, and that copies are whole, private and swept."""

from __future__ import annotations

import sys
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sennight.store.backup_names import (
    DAYS,
    MONTHS,
    WEEKS,
    BackupFile,
    backups_folder,
    free_name,
    kept,
    list_backups,
    part_of,
)
from sennight.store.backups import back_up, copy_to, thin_out
from sennight.store.errors import BackupError
from sennight.store.files import PracticeFile
from support.draws import draws

START = datetime(2024, 1, 1, 18, tzinfo=UTC)


def backup(when: datetime, *, before_migration: bool = False) -> BackupFile:
    name = f"{when.isoformat()} {before_migration}"
    return BackupFile(Path(name), when, before_migration=before_migration)


def after_days(count: int, *, a_day: int = 1) -> frozenset[BackupFile]:
    """What is left after so many days with some backups each, thinned out after each."""
    held: frozenset[BackupFile] = frozenset()
    for day in range(count):
        for n in range(a_day):
            held = kept([*held, backup(START + timedelta(days=day, hours=n))])
    return held


def test_after_three_years_there_are_seven_days_eight_weeks_and_two_years() -> None:
    """Each of the last 7 days, 8 weeks and 24 months has its newest backup."""
    held = sorted(one.when for one in after_days(3 * 365, a_day=3))
    last = START + timedelta(days=3 * 365 - 1, hours=2)
    assert held[-1] == last
    assert {last - timedelta(days=n) for n in range(DAYS)} <= set(held)
    weeks = {when.isocalendar()[:2] for when in held}
    for n in range(WEEKS):
        assert (last - timedelta(weeks=n)).isocalendar()[:2] in weeks
    months = {(when.year, when.month) for when in held}
    assert len(months) == MONTHS
    assert len(held) <= DAYS + WEEKS + MONTHS
    assert (last - held[0]).days > 690


@settings(max_examples=draws(30))
@given(st.lists(st.integers(0, 3000), max_size=60), st.data())
def test_the_newest_and_those_before_a_migration_always_stay(
    hours: list[int], data: st.DataObject
) -> None:
    found = [
        backup(START + timedelta(hours=hour), before_migration=data.draw(st.booleans()))
        for hour in sorted(set(hours))
    ]
    held = kept(found)
    assert held <= set(found)
    assert {one for one in found if one.before_migration} <= held
    ordinary = [one for one in found if not one.before_migration]
    assert not ordinary or max(ordinary, key=lambda one: one.when) in held
    assert kept(list(held)) == held, "thinning out twice removes nothing more"
    assert len({one.when.date() for one in ordinary[-1:]} - {h.when.date() for h in held}) == 0


def test_backups_that_pause_for_months_keep_the_last_ones() -> None:
    """Not the last seven days by the calendar: the last seven that have any."""
    held = after_days(10)
    later = kept([*held, backup(START + timedelta(days=400))])
    assert len(later) >= DAYS


def test_names_are_read_back_and_others_are_left(file: PracticeFile) -> None:
    folder = backups_folder(file.path)
    first = back_up(file.path, now=START)
    second = back_up(file.path, now=START, before="9002")
    third = back_up(file.path, now=START)
    others = ("practice notes.txt", "practice 2024-99-99 180000.sennight", "other 2024.sennight")
    for name in others:
        (folder / name).write_text("x")
    found = {one.path: one for one in list_backups(file.path)}
    assert set(found) == {first, second, third}
    assert [found[one].before_migration for one in (first, second, third)] == [False, True, False]
    assert {one.when for one in found.values()} == {START}
    thin_out(file.path, folder)
    assert {folder / name for name in others} <= set(folder.iterdir())


def test_what_a_kill_left_unfinished_is_swept_in_both_folders(
    file: PracticeFile, tmp_path: Path
) -> None:
    second = tmp_path / "stick"
    made = back_up(file.path, now=START)
    copy_to(made, second)
    for folder in (backups_folder(file.path), second):
        half = part_of(free_name(folder, file.path, START))
        half.write_bytes(b"half")
        foreign = folder / "letter.part"
        foreign.write_bytes(b"not ours")
        assert thin_out(file.path, folder) == (half,)
        assert foreign.exists()


def test_a_second_copy_is_the_same_to_the_byte(file: PracticeFile, tmp_path: Path) -> None:
    made = back_up(file.path, now=START)
    copy = copy_to(made, tmp_path / "stick")
    assert copy.name == made.name
    assert copy.read_bytes() == made.read_bytes()
    if sys.platform != "win32":
        assert copy.stat().st_mode & 0o077 == 0


def test_a_second_copy_that_comes_out_otherwise_is_told(
    file: PracticeFile, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    made = back_up(file.path, now=START)

    def badly(_: Path, part: Path) -> None:
        part.write_bytes(made.read_bytes()[:-1] + b"\x01")

    monkeypatch.setattr("sennight.store.backups.shutil.copyfile", badly)
    with pytest.raises(BackupError, match="is not the same as the backup"):
        copy_to(made, tmp_path / "stick")
    assert list((tmp_path / "stick").iterdir()) == []


def test_a_folder_that_cannot_be_made_is_told(file: PracticeFile, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    with pytest.raises(BackupError, match="could be made in"):
        copy_to(back_up(file.path, now=START), tmp_path / "file" / "stick")

"""A practice file that is missing, emptied, replaced, deleted or open twice is noticed."""

from __future__ import annotations

import os
import shutil
import stat
import sys
from pathlib import Path

import pytest

from sennight.domain.courses.clients import Client
from sennight.practice.clients import add_client, list_clients
from sennight.practice.opening import (
    Beginning,
    FileInUseError,
    LostFileError,
    MissingFileError,
    OpenPractice,
    PracticeFileError,
    back_up_practice,
    open_practice,
    private_folder,
)

POSIX = pytest.mark.skipif(sys.platform == "win32", reason="Windows keeps open files in place")


def filled(path: Path, *names: str) -> OpenPractice:
    practice = open_practice(path)
    for name in names:
        add_client(practice, Client(name))
    return practice


@pytest.fixture
def backed_up(path: Path) -> Path:
    with filled(path, "Una Example") as practice:
        back_up_practice(practice)
    return path


@pytest.mark.parametrize("emptied", [True, False])
def test_nothing_is_begun_where_backups_lie(backed_up: Path, *, emptied: bool) -> None:
    if emptied:
        backed_up.write_bytes(b"")
    else:
        backed_up.unlink()
    with pytest.raises(MissingFileError, match="but a backup of") as raised:
        open_practice(backed_up)
    assert "restore" in str(raised.value)
    assert not backed_up.exists() or backed_up.stat().st_size == 0


def test_a_practice_begins_anew_where_that_is_the_answer(backed_up: Path) -> None:
    backed_up.unlink()
    with open_practice(backed_up, beginning=Beginning.ANEW) as practice:
        assert list_clients(practice) == ()
    assert len(list((backed_up.parent / "backups").iterdir())) == 1


def test_a_file_that_was_opened_before_is_missed_without_backups_too(path: Path) -> None:
    with pytest.raises(MissingFileError, match="the practice that was opened last"):
        open_practice(path, beginning=Beginning.NEVER)
    assert not path.exists()


def test_a_journal_without_its_file_is_kept(path: Path) -> None:
    with filled(path, "Una Example"):
        journal = path.with_name(path.name + "-wal").read_bytes()
    path.write_bytes(b"")
    path.with_name(path.name + "-wal").write_bytes(journal)
    with pytest.raises(MissingFileError, match="its journal"):
        open_practice(path)
    assert path.with_name(path.name + "-wal").read_bytes() == journal


def lose(path: Path) -> None:
    path.unlink()


def put_another(path: Path) -> None:
    """As a synchronising program does: written beside, then renamed."""
    other = path.with_name("other.sennight")
    filled(other, "Other Example").close()
    other.replace(path)


def empty(path: Path) -> None:
    os.truncate(path, 0)


@POSIX
@pytest.mark.parametrize(
    ("happens", "told"),
    [(lose, "no longer there"), (put_another, "replaced by another"), (empty, "was emptied")],
)
def test_a_save_into_a_file_that_is_not_the_one_opened_is_refused(
    path: Path, happens: object, told: str
) -> None:
    practice = filled(path, "Una Example")
    happens(path)  # type: ignore[operator]
    for _ in range(3):
        with pytest.raises(LostFileError, match=told) as raised:
            add_client(practice, Client("Late Example"))
        assert "Nothing was saved" in str(raised.value)
    practice.close()
    if happens is put_another:
        with open_practice(path) as other:
            assert [entry.client.name for entry in list_clients(other)] == ["Other Example"]


@POSIX
def test_a_lock_that_was_removed_is_taken_again(path: Path) -> None:
    with filled(path, "Una Example") as practice:
        path.with_name(f"{path.name}.lock").unlink()
        add_client(practice, Client("Bram Example"))
        with pytest.raises(FileInUseError):
            open_practice(path)


@POSIX
def test_a_second_window_behind_a_removed_lock_stops_the_first(path: Path) -> None:
    """Or the second one's changes would be overwritten by what the first still shows."""
    with filled(path, "Una Example") as first:
        path.with_name(f"{path.name}.lock").unlink()
        with open_practice(path) as second:
            with pytest.raises(LostFileError, match="opened in another window"):
                add_client(first, Client("Late Example"))
            add_client(second, Client("Second Example"))
        for _ in range(2):
            with pytest.raises(LostFileError, match="changed in another window"):
                add_client(first, Client("Late Example"))
    with open_practice(path) as again:
        assert len(list_clients(again)) == 2


def mode(path: Path) -> int:
    return stat.S_IMODE(path.stat().st_mode)


@POSIX
def test_all_files_are_the_owners_alone(path: Path) -> None:
    before = os.umask(0o022)
    try:
        with filled(path, "Una Example") as practice:
            backup = back_up_practice(practice)
            beside = list(path.parent.glob(f"{path.name}*"))
            assert len(beside) == 4, "the file, its journal and index, the lock"
            assert {mode(one) for one in (*beside, backup)} == {0o600}
            assert mode(backup.parent) == 0o700
    finally:
        os.umask(before)


@POSIX
def test_files_of_earlier_versions_are_mended_at_opening(backed_up: Path) -> None:
    (backup,) = (backed_up.parent / "backups").iterdir()
    for one in (backed_up, backup):
        one.chmod(0o644)
    backup.parent.chmod(0o755)
    open_practice(backed_up).close()
    assert (mode(backed_up), mode(backup), mode(backup.parent)) == (0o600, 0o600, 0o700)


@POSIX
def test_a_folder_of_ours_lets_nobody_else_in(tmp_path: Path) -> None:
    folder = tmp_path / "data" / "sennight"
    assert mode(private_folder(folder)) == 0o700
    folder.chmod(0o755)
    assert mode(private_folder(folder)) == 0o700
    (tmp_path / "file").write_text("in the way")
    with pytest.raises(PracticeFileError, match="cannot be made"):
        private_folder(tmp_path / "file" / "sennight")


def test_a_file_that_cannot_be_read_is_told(
    backed_up: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(
        os, "access", lambda place, how: Path(place) != backed_up or how != os.R_OK
    )
    with pytest.raises(PracticeFileError, match="cannot be read; check its permissions"):
        open_practice(backed_up)


def test_what_a_kill_left_of_a_new_file_is_swept(path: Path) -> None:
    left = path.with_name(f"{path.name}.new")
    left.write_bytes(b"half")
    filled(path, "Una Example").close()
    assert not left.exists()
    shutil.rmtree(path.parent / "backups", ignore_errors=True)

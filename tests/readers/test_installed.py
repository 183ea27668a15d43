from __future__ import annotations

from pathlib import Path

import pytest

import environment
import machine
from readers.installed import ical_js_command, libical_command


@pytest.fixture(autouse=True)
def bare(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("shutil.which", lambda _: None)
    monkeypatch.setattr(machine, "SYSTEM_PYTHON", "/nowhere/python3")


@pytest.mark.parametrize("command", [ical_js_command, libical_command])
def test_where_a_reader_is_missing_its_tests_are_skipped_but_fail_where_all_must_run(
    command: object, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert callable(command)
    monkeypatch.setenv("CI", "")
    with pytest.raises(pytest.skip.Exception, match="not installed, so the calendar was not read"):
        command()
    monkeypatch.setenv("CI", "true")
    with pytest.raises(pytest.fail.Exception, match="not installed, so the calendar was not read"):
        command()


def test_readers_that_were_not_set_up_are_no_reason_to_fetch_them(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr("shutil.which", lambda name: f"/nowhere/{name}")
    (tmp_path / "package-lock.json").write_text("{}", "utf-8")
    monkeypatch.setattr(environment, "READERS", tmp_path)
    monkeypatch.setenv("CI", "")
    with pytest.raises(pytest.skip.Exception, match="is not installed, so the calendar"):
        ical_js_command()
    monkeypatch.setenv("CI", "true")
    with pytest.raises(pytest.fail.Exception, match="is not installed, so the calendar"):
        ical_js_command()

from __future__ import annotations

import pytest

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

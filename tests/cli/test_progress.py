"""A large calendar: how far the check got is seen at a terminal, and it can be stopped."""

from __future__ import annotations

from pathlib import Path

import pytest

from sennight import cli_progress
from sennight.cli import BROKEN_OFF, main
from sennight.cli_progress import progress
from support.files import COURSES

SLEEP = COURSES / "sleep.toml"

OTHERS = "\r\n".join(
    f"BEGIN:VEVENT\r\nUID:{n}@example.org\r\nDTSTART:20270104T090000\r\nSUMMARY:Lunch\r\nEND:VEVENT"
    for n in range(1000)
)


@pytest.fixture
def at_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cli_progress, "WAIT", 0)
    monkeypatch.setattr(cli_progress, "AGAIN", 0)
    monkeypatch.setattr(cli_progress, "_is_seen", lambda: True)


@pytest.fixture
def calendar(tmp_path: Path) -> Path:
    path = tmp_path / "large.ics"
    text = f"BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:x\r\n{OTHERS}\r\nEND:VCALENDAR\r\n"
    path.write_bytes(text.encode())
    return path


@pytest.mark.usefixtures("at_terminal")
def test_a_large_calendar_tells_how_far_it_is_and_clears_the_line(
    calendar: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    main(["check-calendar", str(calendar), str(SLEEP)])
    told = capsys.readouterr()
    shown = [line.strip() for line in told.err.split("\r")]
    percents = [int(line.split()[3]) for line in shown if "%" in line]
    assert percents == sorted(percents)
    assert len(percents) >= 5
    assert shown[-1] == ""
    assert "%" not in told.out


def test_where_no_terminal_sees_it_nothing_is_told(
    calendar: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    main(["check-calendar", str(calendar), str(SLEEP)])
    assert capsys.readouterr().err == ""


@pytest.mark.usefixtures("at_terminal")
def test_stopped_in_the_middle_it_says_so_and_tells_no_half_of_it(
    calendar: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def stop(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(cli_progress.Progress, "__call__", stop)
    assert main(["check-calendar", str(calendar), str(SLEEP)]) == BROKEN_OFF
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err.strip() == "stopped"


@pytest.mark.usefixtures("at_terminal")
def test_a_line_that_is_shorter_leaves_nothing_of_a_longer_one(
    capsys: pytest.CaptureFixture[str],
) -> None:
    with progress("doing") as tell:
        tell(100, 100)
        tell(1, 100)
    _, long, short, cleared, _ = capsys.readouterr().err.split("\r")
    assert len(long) == len(short) == len(cleared)
    assert cleared.strip() == ""

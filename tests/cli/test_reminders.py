"""How a client is reminded, chosen on the command line."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from sennight import cli_arguments
from sennight.cli import DIFFERS, DONE, WRONG, main
from sennight.domain.reminders.events import USUAL_JOIN
from support.files import COURSES

KNEES = COURSES / "knees.toml"
SLEEP = COURSES / "sleep.toml"


def reminders(out: Path, *options: str, file: Path = SLEEP) -> str:
    """The calendar of a course run with these options, unfolded."""
    arguments = ["course", str(file), "--out", str(out), "--today", "2027-01-01", *options]
    assert main(arguments) == DONE
    text = "".join(path.read_bytes().decode() for path in sorted(out.glob("*.ics")))
    return text.replace("\r\n ", "")


@pytest.fixture(scope="module")
def plain(tmp_path_factory: pytest.TempPathFactory) -> str:
    return reminders(tmp_path_factory.mktemp("plain"))


def test_without_options_times_are_the_clients_with_alarms_and_markers(plain: str) -> None:
    assert "DTSTART;TZID=America/St_Johns:" in plain
    assert "TRIGGER:PT0S" in plain
    assert "SUMMARY:Your course starts" in plain


@pytest.mark.parametrize(
    ("options", "there", "gone"),
    [
        (("--floating",), "DTSTART:20", "TZID"),
        (("--discreet",), "SUMMARY:Reminder: A\r", "SUMMARY:Your course starts"),
        (("--alarm", "15"), "TRIGGER:-PT15M", "TRIGGER:PT0S"),
        (("--no-alarm",), "RRULE", "VALARM"),
        (("--no-markers",), "RRULE", "VALUE=DATE"),
    ],
)
def test_each_option_changes_what_it_says(
    plain: str, tmp_path: Path, options: tuple[str, ...], there: str, gone: str
) -> None:
    found = reminders(tmp_path / "out", *options)
    assert there in found
    assert gone not in found
    assert gone in plain


def test_doses_near_to_each_other_are_joined_unless_it_is_said_otherwise(
    plain: str, tmp_path: Path
) -> None:
    assert cli_arguments.USUAL_JOIN == USUAL_JOIN
    assert reminders(tmp_path / "out", "--join", str(USUAL_JOIN)) == plain


def test_joined_doses_share_a_time_and_are_checked_as_joined(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    alone = reminders(tmp_path / "alone", "--join", "0", file=KNEES)
    joined = reminders(tmp_path / "joined", "--join", "60", file=KNEES)
    apart, shared = (set(re.findall(r"DTSTART;[^:]*:\d+T(\d+)", t)) for t in (alone, joined))
    assert shared < apart
    assert apart - shared == {
        "083000",
        "190000",
    }  # with what is due half an hour or an hour before
    check = ["check-calendar", str(tmp_path / "joined" / "reminders.ics"), str(KNEES)]
    assert main([*check, "--join", "0"]) == DIFFERS
    assert main([*check, "--join", "60"]) == DONE
    assert "each dose has one reminder" in capsys.readouterr().out


def test_by_phase_there_is_a_file_for_each_and_none_for_all(
    plain: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "plain"
    reminders(out)
    found = ["--by-phase", "--published", str(tmp_path / "kept.json")]
    capsys.readouterr()
    reminders(out, *found)
    told = capsys.readouterr()
    names = [f"reminders-phase-{n}.ics" for n in (1, 2, 3, 4)]
    assert [Path(row).name for row in told.out.splitlines() if row.endswith(".ics")] == names
    assert "Open each of these 4 files on your phone" in told.out
    assert "note: reminders.ics in the folder is from an earlier run" in told.err
    parts = [(out / name).read_text("utf-8") for name in names]
    assert sum(part.count("VALUE=DATE:") for part in parts) == plain.count("VALUE=DATE:")
    reminders(out)
    notes = capsys.readouterr().err
    for name in names:
        assert f"note: {name} in the folder is from an earlier run; this run has none" in notes


@pytest.mark.parametrize(
    "options",
    [
        ("--alarm", "soon"),
        ("--alarm", "-5"),
        ("--join", "1441"),
        ("--alarm", "5", "--no-alarm"),
    ],
)
def test_minutes_that_are_none_are_refused(
    tmp_path: Path, options: tuple[str, ...], capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as stopped:
        main(["course", str(SLEEP), "--out", str(tmp_path / "out"), *options])
    assert stopped.value.code == WRONG
    assert not (tmp_path / "out").exists()
    assert "expected" in capsys.readouterr().err or "--no-alarm" in options


def test_at_the_end_of_a_course_its_reminders_are_taken_away(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out, kept = tmp_path / "out", str(tmp_path / "kept.json")
    reminders(out, "--published", kept)
    capsys.readouterr()
    calendar = reminders(out, "--published", kept, "--today", "2029-01-01")
    assert "STATUS:CONFIRMED" not in calendar
    assert "RRULE" not in calendar
    told = capsys.readouterr()
    assert "Your course is over. Open this file" in told.out
    assert "its reminders are all in the past" in told.err


CORRECTED = {
    "the client’s name": ('name = "Odo Marrable-Sample"', 'name = "Odo Marable-Sample"'),
    "the first day": ("start = 2028-01-20", "start = 2028-01-19"),
}


@pytest.mark.parametrize("what", CORRECTED)
def test_a_correction_keeps_the_course_on_the_phone(
    what: str, plain: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    kept = str(tmp_path / "kept.json")
    reminders(tmp_path / "out", "--published", kept)
    text = SLEEP.read_text("utf-8")
    before, after = CORRECTED[what]
    assert before in text
    corrected = tmp_path / "corrected.toml"
    corrected.write_text(text.replace(before, after), "utf-8")
    capsys.readouterr()
    calendar = reminders(tmp_path / "out", "--published", kept, file=corrected)
    assert f"{what} is not the one that was published" in capsys.readouterr().err
    assert uids(calendar) >= uids(plain)
    assert reminders(tmp_path / "out", "--published", kept, file=corrected) == calendar
    assert "is not the one that was published" not in capsys.readouterr().err


def uids(calendar: str) -> set[str]:
    return set(re.findall(r"UID:(\S+)", calendar))


def test_the_check_says_what_to_tell_the_client(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    given = reminders(tmp_path / "out", "--by-phase")
    assert given
    files = sorted(map(str, (tmp_path / "out").glob("*.ics")))
    assert main(["check-calendar", *files, str(SLEEP)]) == DONE
    capsys.readouterr()
    silent = tmp_path / "silent.ics"
    for alarm, told in (("", "no alarm:"), ("TRIGGER:-P1D", "an alarm 1440 minutes before:")):
        text = "\r\n".join(Path(file).read_bytes().decode() for file in files)
        silent.write_bytes(text.replace("TRIGGER:PT0S", alarm).encode())
        if not alarm:
            silent.write_bytes(
                re.sub("BEGIN:VALARM.*?END:VALARM", "", text, flags=re.DOTALL).encode()
            )
        assert main(["check-calendar", str(silent), str(SLEEP)]) == DIFFERS
        out = capsys.readouterr().out
        assert told in out
        assert "Tell the client: the calendar app" in out
    assert main(["check-calendar", str(silent), str(SLEEP), "--no-alarm"]) == DONE
    assert main(["check-calendar", files[0], str(SLEEP)]) == DIFFERS
    assert "Tell the client: open the newest calendar file again." in capsys.readouterr().out

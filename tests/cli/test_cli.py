from __future__ import annotations

import os
import re
import struct
import subprocess
import sys
from pathlib import Path

import pypdfium2 as pdfium  # type: ignore[import-untyped]
import pytest

from sennight import __version__
from sennight.cli import DIFFERS, DONE, WRONG, main
from sennight.publish.pdf.one_column import CannotBeSetError
from support.command_line import course
from support.draws import DRAWS
from support.files import COURSES

KNEES = COURSES / "knees.toml"
SLEEP = COURSES / "sleep.toml"


def test_a_course_file_is_run(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "new" / "folder"
    assert course(KNEES, "--out", out) == DONE
    told = capsys.readouterr()
    names = [Path(line).name for line in told.out.splitlines()]
    assert names[:3] == ["stretches.csv", "doses.csv", "reminders.ics"]
    assert {
        "exposure.csv",
        "ethanol.csv",
        "actions.csv",
        "supply.csv",
        "labels.pdf",
        "handout.pdf",
    } <= set(names)
    assert sorted(names) == sorted(path.name for path in out.iterdir())
    assert "note: Checked: 6 herbs against 2 conditions, 1 medicine and 1 allergy" in told.err
    assert "Finding nothing does not mean it is safe" in told.err


def test_the_clients_papers_are_made_as_chosen(tmp_path: Path) -> None:
    chosen = ("--paper", "A5", "--large-print", "--clock", "12", "--whole-course")
    assert course(KNEES, "--out", tmp_path, *chosen) == DONE
    said = (tmp_path / "handout.txt").read_text("utf-8")
    assert "7:30 am (before breakfast): Morning tea, 1 cup." in said
    with pdfium.PdfDocument(tmp_path / "handout.pdf") as sheet:
        assert sheet[0].get_size() == pytest.approx((419.5, 595.3), abs=0.5)
    with pdfium.PdfDocument(tmp_path / "practitioner.pdf") as own:
        assert own[0].get_size() == pytest.approx((595.3, 841.9), abs=0.5)


def test_what_cannot_be_set_is_told_and_the_other_files_are_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def too_large(*_: object, **__: object) -> bytes:
        raise CannotBeSetError("something is too large for one page")

    monkeypatch.setattr("sennight.practice.course_outputs.handout_pdf", too_large)
    assert course(KNEES, "--out", tmp_path) == DONE
    names = {path.name for path in tmp_path.iterdir()}
    assert {"doses.csv", "reminders.ics", "handout.txt", "practitioner.pdf"} <= names
    assert "handout.pdf" not in names
    told = capsys.readouterr().err
    assert "note: handout.pdf was not written: something is too large for one page" in told


def test_a_course_without_diary_and_scores_has_no_tables_of_them(tmp_path: Path) -> None:
    assert course(SLEEP, "--out", tmp_path) == DONE
    names = {path.name for path in tmp_path.iterdir()}
    assert not names & {"adherence.csv", "outcomes.csv"}


def test_a_wrong_file_is_told_and_nothing_is_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    wrong = tmp_path / "wrong.toml"
    text = KNEES.read_text().replace('"1 cup tds ac"', '"1 cup often ac"')
    wrong.write_text(text.replace("mg = 400", "mg = 0"))
    out = tmp_path / "out"
    assert course(wrong, "--out", out) == WRONG
    assert not out.exists()
    told = capsys.readouterr().err.splitlines()
    assert told[0].startswith(f"{wrong}: remedy[3].parts[1].mg: expected a number above 0")
    assert told[1].startswith(f"{wrong}: protocol.phase[1].line[1].take: at “often”")
    assert told[2:] == ["    1 cup often ac", "          ^^^^^"]


def test_directions_in_a_usual_spelling_are_those_of_the_short_form(tmp_path: Path) -> None:
    usual = tmp_path / "usual.toml"
    text = KNEES.read_text()
    changed = text.replace('"1 cup tds ac"', '"a cup three times a day, before meals"')
    assert changed != text
    usual.write_text(changed)
    assert course(usual, "--out", tmp_path / "usual") == DONE
    assert course(KNEES, "--out", tmp_path / "short") == DONE
    for name in ("stretches.csv", "doses.csv"):
        written = (tmp_path / "usual" / name).read_bytes()
        assert written == (tmp_path / "short" / name).read_bytes()


def test_a_missing_file_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert course(tmp_path / "none.toml", "--out", tmp_path / "out") == WRONG
    assert "none.toml: the file cannot be read (no such file" in capsys.readouterr().err


def test_what_is_perhaps_not_meant_is_told_and_the_course_run(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    odd = tmp_path / "odd.toml"
    text = KNEES.read_text()
    text = text.replace("after_weeks = 4", "after_weeks = 6").replace("Una ", "\u5c71 ")
    odd.write_text(text.replace("date = 2027-01-05", "date = 2026-12-05"))
    assert course(odd, "--out", tmp_path) == DONE
    notes = capsys.readouterr().err
    for said in (
        "note: protocol.phase[1].line[1].steps[1].after_weeks: the phase ends before this step",
        "note: diary[2].date: 2026-12-05 lies outside the course, 2027-01-04 to ",
        "note: handout.pdf: the font has no letter for CJK UNIFIED IDEOGRAPH-5C71",
    ):
        assert said in notes


def test_a_unit_that_the_form_is_not_measured_in_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    odd = tmp_path / "odd.toml"
    odd.write_text(KNEES.read_text().replace('"1 capsule nocte', '"1 cup nocte'))
    assert course(odd, "--out", tmp_path / "out") == WRONG
    assert (
        "protocol.phase[2].line[2].take: “1 cup nocte alternate days” measures a capsule in cup; "
        "expected one of capsule, g, mg" in capsys.readouterr().err
    )
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize(
    "arguments",
    [
        ["course", str(KNEES)],
        ["course", str(KNEES), "--out", "x", "--today", "2027-02-30"],
        ["course", str(KNEES), "--out", "x", "--today", "20270201"],
        ["course", str(KNEES), "--out", "x", "--paper", "A3"],
        ["unknown"],
    ],
)
def test_a_wrong_command_is_refused(arguments: list[str]) -> None:
    with pytest.raises(SystemExit) as stopped:
        main(arguments)
    assert stopped.value.code == WRONG


def test_paper_changes_the_printed_sheets_alone(tmp_path: Path) -> None:
    assert course(SLEEP, "--out", tmp_path / "a4") == DONE
    assert course(SLEEP, "--out", tmp_path / "letter", "--paper", "Letter") == DONE
    for path in (tmp_path / "a4").iterdir():
        same = path.read_bytes() == (tmp_path / "letter" / path.name).read_bytes()
        assert same is (path.suffix != ".pdf" and path.name != "diary.json")


def test_what_was_published_is_kept_and_changes_are_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file, kept = tmp_path / "course.toml", tmp_path / "kept.json"
    file.write_text(SLEEP.read_text())
    arguments = (file, "--out", tmp_path / "out", "--published", kept)
    assert course(*arguments) == DONE
    first = kept.read_bytes()
    assert "Open this file on your phone" in capsys.readouterr().out
    assert course(*arguments) == DONE
    assert kept.read_bytes() == first
    assert "0 reminders new, 0 changed, 0 cancelled" in capsys.readouterr().out

    file.write_text(file.read_text().replace("from = 2028-05-25", "from = 2028-05-11"))
    assert course(*arguments) == DONE
    told = capsys.readouterr().out
    assert "since the last set: " in told
    assert "0 changed, 0 cancelled" not in told
    assert kept.read_bytes() != first


def test_a_record_of_another_course_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    kept = tmp_path / "kept.json"
    assert course(SLEEP, "--out", tmp_path, "--published", kept) == DONE
    before = kept.read_bytes()
    assert course(KNEES, "--out", tmp_path / "out", "--published", kept) == WRONG
    assert "keeps what was published of another course" in capsys.readouterr().err
    assert kept.read_bytes() == before
    assert not (tmp_path / "out").exists()


def test_a_damaged_record_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    kept = tmp_path / "kept.json"
    kept.write_text("{")
    assert course(SLEEP, "--out", tmp_path / "out", "--published", kept) == WRONG
    assert f"{kept}: the record of published reminders is damaged" in capsys.readouterr().err
    assert kept.read_text() == "{"
    assert course(SLEEP, "--out", tmp_path / "out", "--published", tmp_path) == WRONG
    assert "cannot be read (is a directory)" in capsys.readouterr().err


def test_a_fresh_set_needs_the_record(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert course(SLEEP, "--out", tmp_path, "--fresh") == WRONG
    assert "--fresh needs --published" in capsys.readouterr().err
    kept = ("--published", tmp_path / "kept.json")
    assert course(SLEEP, "--out", tmp_path, *kept) == DONE
    assert course(SLEEP, "--out", tmp_path, *kept, "--fresh") == DONE
    assert "Remove the old calendar" in capsys.readouterr().out
    sheet = " ".join((tmp_path / "handout.txt").read_text("utf-8").split())
    assert re.search(r"the old calendar “(My plan \d+)” .* call it “\1 set 2”", sheet)


def test_a_calendar_is_checked(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert course(SLEEP, "--out", tmp_path) == DONE
    calendar = tmp_path / "reminders.ics"
    capsys.readouterr()
    assert main(["check-calendar", str(calendar), str(SLEEP)]) == DONE
    assert "each dose has one reminder" in capsys.readouterr().out

    others = "".join(
        f"BEGIN:VEVENT\r\nUID:{n}\r\nDTSTART:20270104T090000\r\nSUMMARY:Tea {n}\r\nEND:VEVENT\r\n"
        for n in range(7)
    )
    mixed = calendar.read_bytes().decode().replace("END:VCAL", f"{others}END:VCAL")
    (tmp_path / "mixed.ics").write_bytes(mixed.encode())
    assert main(["check-calendar", str(tmp_path / "mixed.ics"), str(SLEEP)]) == DONE
    out = capsys.readouterr().out
    assert out.count("not of this course, left out: Tea") == 5
    assert "not of this course, left out: 2 more" in out

    later = tmp_path / "later.toml"
    later.write_text(SLEEP.read_text().replace("from = 2028-05-25", "from = 2028-05-11"))
    assert main(["check-calendar", str(calendar), str(later)]) == DIFFERS
    assert "2028-05-13 07:30: a reminder without a dose" in capsys.readouterr().out

    assert main(["check-calendar", str(SLEEP), str(SLEEP)]) == WRONG
    assert main(["check-calendar", str(tmp_path / "no.ics"), str(SLEEP)]) == WRONG
    assert main(["check-calendar", str(calendar), str(tmp_path / "no.toml")]) == WRONG


WHOLE = ("bench", "clients", "course", "remedy")
"""The screens that are drawn in every theme."""

LOOKS = ("light-100", "light-150", "dark-100", "dark-150")


SHOWN = {"clients", "client", "course", "course-month", "course-day", "diary"}


DRAWN_ONCE = f"""
import sys
from sennight.cli import main
from sennight.desktop import pictures
every = pictures.screens
def some(*given):
    each = enumerate(every(*given))
    return [(name, draw) for number, (name, draw) in each if name in {SHOWN} or number % 4 == 0]
pictures.screens = some
pictures.EVERY_SCREEN, pictures.EVERY_THEME = pictures.EVERY_SCREEN[-1:], frozenset({{"course"}})
sys.exit(main(sys.argv[1:]))
"""
"""`sennight` that draws some screens in the largest look, and one of them in every other.

The look in which they are drawn is the last, so that it changes while few of them are there. All
that is drawn is walked through in `desktop/test_plain_names.py`, and how all pages and dialogs
look is seen in `desktop/test_every_screen.py`.
"""


def test_the_demo_is_written(tmp_path: Path) -> None:
    """In a process of its own, since pictures of the window are drawn as well."""
    whole = DRAWS == "long"
    program = ["-m", "sennight"] if whole else ["-c", DRAWN_ONCE]
    command = [sys.executable, *program, "demo", "--out", str(tmp_path)]
    plain = os.environ | {"QT_QPA_PLATFORM": "offscreen"}
    done = subprocess.run(command, capture_output=True, text=True, check=False, env=plain)
    assert done.returncode == DONE, done.stderr
    assert "stretches.csv" in done.stdout
    assert course(tmp_path / "course.toml", "--out", tmp_path / "again") == DONE
    pictures = {path.stem: path.read_bytes() for path in (tmp_path / "pictures").iterdir()}
    screens = {name.rsplit("-", 2)[0] for name in pictures}
    assert screens >= SHOWN
    assert len(screens) > (30 if whole else 12)
    looks = ("light-100", "dark-150") if whole else ("dark-150",)
    usual = {f"{screen}-{look}" for screen in screens for look in looks}
    in_every = WHOLE if whole else ("course",)
    others = {f"{screen}-{look}" for screen in in_every for look in LOOKS}
    assert set(pictures) == usual | others
    assert len(set(pictures.values())) == len(pictures)
    for name, picture in pictures.items():
        # The width and height of a PNG stand in its header (RFC 2083, 3.2 and 4.1.1).
        width, height = struct.unpack(">II", picture[16:24])
        assert width <= 1280, name
        assert height <= 800, name


def test_the_window_opens_without_a_command(monkeypatch: pytest.MonkeyPatch) -> None:
    opened: list[Path | None] = []
    debugged: list[bool] = []

    def open_window(path: Path | None, *, kept: bool, debug: bool) -> int:
        assert kept is (path is None)
        opened.append(path)
        debugged.append(debug)
        return 0

    monkeypatch.setattr("sennight.desktop.app.main", open_window)
    assert main([]) == 0
    assert main(["demo"]) == 0
    assert opened[0] is None
    assert opened[1] is not None
    assert not opened[1].exists()
    assert main(["--debug"]) == 0
    assert debugged == [False, False, True]


def test_help_and_version_answer_without_loading_the_program() -> None:
    for arguments, said in (["--help"], "check-calendar"), (["--version"], __version__):
        script = (
            "import sys\nfrom sennight.cli import main\n"
            f"try:\n    main({arguments!r})\nexcept SystemExit:\n"
            "    loaded = {'PySide6', 'reportlab', 'sqlalchemy', 'icalendar'} & set(sys.modules)\n"
            "    print('loaded', sorted(loaded))\n"
        )
        done = subprocess.run(
            [sys.executable, "-c", script], capture_output=True, text=True, check=True
        )
        assert said in done.stdout
        assert "loaded []" in done.stdout


def test_the_package_can_be_run(tmp_path: Path) -> None:
    command = [sys.executable, "-m", "sennight", "course", str(SLEEP), "--out", str(tmp_path)]
    plain = os.environ | {"PYTHONHASHSEED": "1", "LC_ALL": "C", "PYTHONIOENCODING": "ascii"}
    done = subprocess.run(command, capture_output=True, text=True, check=False, env=plain)
    assert done.returncode == DONE
    assert done.stderr.startswith("note: Checked: 4 herbs.")
    assert done.stderr.count("\n") == 1
    assert (tmp_path / "doses.csv").is_file()


@pytest.mark.skipif(sys.platform != "linux", reason="needs /dev/full and TZ")
def test_an_output_that_is_full_and_a_zone_that_is_none_are_told(tmp_path: Path) -> None:
    run = [sys.executable, "-m", "sennight", "course", str(SLEEP), "--out", str(tmp_path)]
    with Path("/dev/full").open("w") as full:
        done = subprocess.run(run, stdout=full, stderr=subprocess.PIPE, text=True, check=False)
    assert done.returncode == DIFFERS
    assert done.stderr.endswith("the result could not be printed (no space left on device)\n")
    environment = os.environ | {"TZ": "XXX-99:99"}
    done = subprocess.run(run, env=environment, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout) == (WRONG, "")
    assert done.stderr.startswith("this machine’s time zone (TZ=XXX-99:99) cannot be used")


def test_breaking_off_is_no_error_of_the_program(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    def broken_off(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("sennight.practice.course_run.write_course", broken_off)
    assert course(KNEES, "--out", tmp_path) == 130
    assert capsys.readouterr().err == "stopped\n"


def test_a_sheet_is_read_with_the_grid_that_lies_beside_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The course may be kept elsewhere, with no grid beside it."""
    photo, grid = tmp_path / "page.jpg", tmp_path / "diary.json"
    photo.write_bytes(b"")
    grid.write_text("no grid", encoding="utf-8")
    assert main(["diary", str(photo), "--course", str(KNEES)]) == WRONG
    assert str(grid) in capsys.readouterr().err
    grid.unlink()
    assert main(["diary", str(photo), "--course", str(KNEES)]) == WRONG
    assert str(KNEES.parent / "diary.json") in capsys.readouterr().err


def test_a_diary_kept_as_a_table_becomes_entries(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table = tmp_path / "table.csv"
    table.write_text("A,date,pain\n3,2027-01-04,6.5\n", encoding="utf-8")
    assert main(["diary", str(table), "--course", str(KNEES)]) == 0
    printed = capsys.readouterr().out
    assert 'remedy = "t1"\ntaken = 3' in printed
    assert 'measure = "pain"\nvalue = 6.5' in printed
    assert main(["diary", str(table), "--course", str(KNEES), "--csv"]) == 0
    rows = ["kind,date,of,value", "taken,2027-01-04,t1,3", "score,2027-01-04,pain,6.5"]
    assert capsys.readouterr().out.splitlines() == rows
    assert main(["diary", str(table)]) == 2
    table.write_text("A,date\n3,soon\n", encoding="utf-8")
    assert main(["diary", str(table), "--course", str(KNEES)]) == 2
    assert main(["diary", str(table), "--course", str(table)]) == 2
    said = capsys.readouterr().err
    assert "table.csv: row 2, “date”: expected a day" in said

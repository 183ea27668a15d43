"""Two sample courses give the very files that are kept in `golden`.

`RENEW_GOLDEN=1 pytest tests/cli/test_course_golden.py` writes them anew; read the difference.
"""

from __future__ import annotations

import csv
import os
from collections import Counter
from datetime import date, timedelta
from pathlib import Path

import pytest

from sennight.practice.course_outputs import (
    OUTPUTS,
    RunChoices,
)
from sennight.practice.course_run import (
    write_course,
)
from support.files import COURSES, GOLDEN

NAMES = ("knees", "sleep")
PRINTED = ("labels.pdf", "handout.pdf", "diary.pdf", "practitioner.pdf", "review.pdf")
KEPT = [output.name for output in OUTPUTS if output.name not in PRINTED]
"""The printed sheets are left out: their look may change from one library to the next."""

TODAY = date(2027, 1, 1)
WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def run(name: str, folder: Path) -> list[str]:
    done = write_course(COURSES / f"{name}.toml", folder, RunChoices(TODAY))
    return [path.name for path in done.written]


def rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize("name", NAMES)
def test_the_outputs_are_the_ones_kept(name: str, tmp_path: Path) -> None:
    kept = GOLDEN / "course" / name
    run(name, kept if os.environ.get("RENEW_GOLDEN") else tmp_path)
    for sheet in PRINTED:
        (kept / sheet).unlink(missing_ok=True)
    if os.environ.get("RENEW_GOLDEN"):
        pytest.skip("the files were written anew")
    files = [file for file in KEPT if (tmp_path / file).exists()]
    assert files == [file for file in KEPT if (kept / file).exists()]
    for file in files:
        assert (tmp_path / file).read_bytes() == (kept / file).read_bytes(), file


@pytest.mark.parametrize("name", NAMES)
def test_the_same_file_gives_the_same_bytes(name: str, tmp_path: Path) -> None:
    files = run(name, tmp_path / "one")
    assert run(name, tmp_path / "two") == files
    assert [out.name for out in OUTPUTS if out.name in files] == files
    for file in files:
        assert (tmp_path / "one" / file).read_bytes() == (tmp_path / "two" / file).read_bytes()


@pytest.mark.parametrize("name", NAMES)
def test_doses_are_what_the_stretches_say(name: str) -> None:
    """The stretches are read day by day, from their file alone."""
    kept = GOLDEN / "course" / name
    wanted: Counter[tuple[str, str, str, str, str, str]] = Counter()
    for row in rows(kept / "stretches.csv"):
        first, last = date.fromisoformat(row["first_day"]), date.fromisoformat(row["last_day"])
        for number in range((last - first).days + 1):
            day = first + timedelta(days=number)
            if is_taken(row["days"], day, number):
                for clock in row["times"].split():
                    # Rising is at 07:00 in both courses: an earlier time is the next day's.
                    real = day + timedelta(days=1) if clock < "07:00" else day
                    key = (row["phase"], row["remedy"], row["amount"], row["unit"])
                    wanted[real.isoformat(), clock, *key] += 1
    told = rows(kept / "doses.csv")
    found = Counter(
        (r["date"], r["time"], r["phase"], r["remedy"], r["amount"], r["unit"]) for r in told
    )
    assert found == wanted
    assert [(r["date"], r["time"]) for r in told] == sorted((r["date"], r["time"]) for r in told)


def is_taken(days: str, day: date, number: int) -> bool:
    if days == "daily":
        return True
    if days.startswith("every "):
        return number % int(days.split()[1]) == 0
    return WEEKDAYS[day.weekday()] in days.split()


def test_of_a_course_that_was_struck_out_nothing_is_printed(tmp_path: Path) -> None:
    text = (COURSES / "knees.toml").read_text(encoding="utf-8")
    struck = text.replace("[course]\n", '[course]\nvoid = "another client\'s"\n', 1)
    file = tmp_path / "struck.toml"
    file.write_text(struck, encoding="utf-8")
    done = write_course(file, tmp_path / "out", RunChoices(TODAY))
    names = {path.name for path in done.written}
    assert not names & set(PRINTED)
    assert rows(tmp_path / "out" / "stretches.csv") == []
    assert done.notices[0].startswith("this course was struck out (another client's)")

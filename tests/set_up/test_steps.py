"""`check.py`: which steps run, in which order, and what is reported of each."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

import check
import interpreters
import matrix
import steps

PYTHON = Path(sys.executable)
NOTHING_DRAWN: dict[str, str] = {}


@pytest.fixture
def little(monkeypatch: pytest.MonkeyPatch) -> None:
    """Steps that say their names, and one that fails."""
    said = {name: ["-c", f"print('this is {name}')"] for name in steps.STEPS}
    said["lint"] = ["-c", "print('2 failed, 31 passed in 1.2s'); raise SystemExit(1)"]
    said["tests"] = [
        "-c",
        "import os; print(os.environ['MUCH'], '== 7 passed, 1 skipped in 3s ==')",
    ]
    monkeypatch.setattr(steps, "STEPS", said)


@pytest.mark.usefixtures("little")
def test_every_step_runs_and_is_reported_though_one_fails(
    capfd: pytest.CaptureFixture[str],
) -> None:
    names = ["format", "lint", "types", "domain", "tests", "speed"]
    assert steps.run_steps(PYTHON, names, {"MUCH": "so much"}) == 1
    printed = capfd.readouterr().out
    heads = [line for line in printed.splitlines() if line.startswith("== ")]
    assert heads == ["== format", "== lint", "== tests", "== types", "== domain", "== speed"]
    assert "so much == 7 passed, 1 skipped in 3s ==" in printed  # its own closing line stays
    report = [line.split() for line in printed.splitlines()[-7:]]
    assert [(words[0], words[1]) for words in report] == [
        ("format", "passed"),
        ("lint", "FAILED"),
        ("tests", "passed"),
        ("types", "passed"),
        ("domain", "passed"),
        ("speed", "passed"),
        ("together", "FAILED"),
    ]
    seconds = [float(words[2]) for words in report]
    assert seconds[-1] >= max(seconds[:-1])
    assert report[1][4:] == ["2", "failed,", "31", "passed", "in", "1.2s"]


@pytest.mark.usefixtures("little")
@pytest.mark.parametrize("name", ["types", "speed", "format"])
def test_a_step_runs_by_itself(capfd: pytest.CaptureFixture[str], name: str) -> None:
    assert steps.run_steps(PYTHON, [name], NOTHING_DRAWN) == 0
    assert f"this is {name}" in capfd.readouterr().out


def test_what_is_compiled_is_kept_whatever_the_machine_says(
    capfd: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PYTHONDONTWRITEBYTECODE", "1")
    monkeypatch.setattr(
        steps, "STEPS", {"x": ["-c", "import sys; print(sys.dont_write_bytecode)"]}
    )
    assert steps.run_steps(PYTHON, ["x"], NOTHING_DRAWN) == 0
    assert "False" in capfd.readouterr().out


def test_what_there_is_not_is_said_before_anything_is_set_up(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("environment.prepare", lambda **_: pytest.fail("was set up"))
    assert check.main(["formt"]) == 2
    assert "There is no formt. There are: format, lint," in capsys.readouterr().out
    assert check.main(["matrix", "python2.7"]) == 2
    assert "There are: python3.11, python3.12," in capsys.readouterr().out


@pytest.mark.parametrize(
    ("arguments", "expected", "drawn"),
    [
        ([], steps.KINDS["check"], "check"),
        (["quick"], steps.KINDS["quick"], "few"),
        (["long"], ("every",), "long"),
        (["tests", "lint"], ("lint", "tests"), "check"),
    ],
)
def test_what_is_asked_for_runs(
    monkeypatch: pytest.MonkeyPatch, arguments: list[str], expected: tuple[str, ...], drawn: str
) -> None:
    ran: list[tuple[tuple[str, ...], str]] = []

    def note(_: Path, names: list[str], variables: dict[str, str]) -> int:
        ran.append((tuple(names), variables["SENNIGHT_DRAWS"]))
        return 0

    monkeypatch.setattr("machine.problems", lambda **_: [])
    monkeypatch.setattr("environment.prepare", lambda **_: PYTHON)
    monkeypatch.setattr(steps, "run_steps", note)
    assert check.main(arguments) == 0
    assert ran == [(expected, drawn)]


def test_the_whole_check_holds_every_step_but_those_of_other_checks() -> None:
    assert set(steps.STEPS) - set(steps.KINDS["check"]) == {"uncounted", "every"}


def test_what_measures_time_is_found_wherever_it_lies(tmp_path: Path) -> None:
    for name, text in (("bench/test_a", "@pytest.mark.no_cover"), ("test_b", "def test_b(): ...")):
        path = tmp_path / "tests" / f"{name}.py"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text)
    assert steps.timed(tmp_path) == [str(Path("tests", "bench", "test_a.py"))]
    assert str(Path("tests", "bench", "test_edit_bench.py")) in steps.STEPS["speed"]


def test_a_python_that_is_not_here_is_named_and_skipped(
    capfd: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(interpreters, "find", lambda _: None)
    assert matrix.run_jobs(PYTHON, ["python3.14"]) == 0
    last = capfd.readouterr().out.splitlines()[-1]
    assert last.split(maxsplit=2) == [
        "python3.14",
        "skipped",
        "no Python 3.14 was found on this machine",
    ]


def test_this_python_is_found_and_one_that_nobody_has_is_not() -> None:
    found = interpreters.find(sys.version_info.minor)
    assert found is not None
    assert interpreters.find(99) is None

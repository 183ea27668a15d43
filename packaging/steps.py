"""The steps of a check, and how they are run and reported. Standard library only."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import time
from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path

import environment

LAYERS = "from importlinter.cli import lint_imports_command as check; check()"
PYTEST = ["-m", "pytest", "--durations=10"]
SHARED_OUT = [*PYTEST, "--numprocesses=auto", "--dist=worksteal", "-m", "not no_cover"]
DOMAIN = ["tests/domain", "tests/oracle"]
COUNTED = ["--cov", "--cov-report=term-missing", "--cov-fail-under=100"]


def timed(root: Path) -> list[str]:
    """The files with tests that measure time; collecting all others would take as long again."""
    found = sorted(root.glob("tests/**/test_*.py"))
    return [str(path.relative_to(root)) for path in found if "no_cover" in path.read_text("utf-8")]


STEPS = {
    "format": ["-m", "ruff", "format", "--check", "."],
    "lint": ["-m", "ruff", "check", "."],
    "types": ["-m", "mypy"],
    "layers": ["-c", LAYERS],
    "domain": [*PYTEST, "-m", "not no_cover", *DOMAIN, *COUNTED],
    "tests": [*SHARED_OUT, *(f"--ignore={folder}" for folder in DOMAIN)],
    "uncounted": [*SHARED_OUT, "tests/domain"],
    "every": [*SHARED_OUT, "tests"],
    "speed": [*PYTEST, "-m", "no_cover", *timed(environment.ROOT)],
}
"""Each step's name and what the environment's Python runs for it.

The domain must be covered whole by its own tests, so that lines are counted there alone, on one
processor. `uncounted` and `every` are for other checks than the whole one. The other tests share
the processors; those that measure time come last, alone.
"""

KINDS = {
    "check": ("format", "lint", "types", "layers", "domain", "tests", "speed"),
    "quick": ("format", "lint", "types", "layers", "uncounted"),
    "long": ("every",),
}
"""The steps of a check as a whole, of one for every few minutes, and of one for every night."""

DRAWS = {
    "check": {"SENNIGHT_DRAWS": "check"},
    "quick": {"SENNIGHT_DRAWS": "few"},
    "long": {"SENNIGHT_DRAWS": "long", "PYTEST_TIMEOUT": "3600"},
}
"""What tells the tests of each how much to draw: `tests/support/draws.py` reads it."""

BESIDE = ("types", "domain")
"""Run one after the other beside the steps before `speed`: each keeps one processor busy."""

ALONE = "speed"
"""Runs after all others, with nothing beside it."""


@dataclass(frozen=True)
class Outcome:
    """How a step or job went: its seconds, and what its tests' closing line counted, if any.

    Without seconds it was skipped, and `counted` says why.
    """

    name: str
    status: int
    seconds: float | None
    counted: str = ""

    def line(self) -> str:
        """A line of the report."""
        result = "FAILED" if self.status else "passed" if self.seconds is not None else "skipped"
        took = "" if self.seconds is None else f"{self.seconds:.1f} s"
        return f"{self.name:11} {result:7} {took:>8}  {self.counted}".rstrip()


def run_steps(python: Path, names: Sequence[str], variables: Mapping[str, str]) -> int:
    """Run each step and report on all; 0 where all passed.

    `variables` are added to the environment of each. What a step prints is shown as it comes;
    of those that run beside others, when the others are done.
    """

    def run(name: str, show: Callable[[bytes], object]) -> Outcome:
        command = [str(python), *STEPS[name]]
        return run_command(name, command, variables=variables, show=show)

    began = time.monotonic()
    aside = [name for name in names if name in BESIDE]
    before = [name for name in names if name not in {*BESIDE, ALONE}]
    if not before:
        before, aside = aside, []
    with ThreadPoolExecutor(max_workers=1) as beside:
        printed: dict[str, list[bytes]] = {name: [] for name in aside}
        running = {name: beside.submit(run, name, printed[name].append) for name in aside}
        outcomes = []
        for name in before:
            head(name)
            outcomes.append(run(name, show_at_once))
        for name, step in running.items():
            head(name)
            outcomes.append(step.result())
            show_at_once(b"".join(printed[name]))
    if ALONE in names:
        head(ALONE)
        outcomes.append(run(ALONE, show_at_once))
    return report(outcomes, time.monotonic() - began)


def report(outcomes: Sequence[Outcome], seconds: float) -> int:
    """Say of each how it went, and how long all took together; 0 where none failed."""
    status = int(any(outcome.status for outcome in outcomes))
    together = [Outcome("together", status, seconds)] if len(outcomes) > 1 else []
    lines = [outcome.line() for outcome in (*outcomes, *together)]
    print("\n" + "\n".join(lines), flush=True)
    return status


def head(name: str) -> None:
    """A line between what one step prints and the next."""
    print(f"\n== {name}", flush=True)


def run_command(
    name: str,
    command: Sequence[str],
    *,
    folder: Path = environment.ROOT,
    variables: Mapping[str, str],
    show: Callable[[bytes], object],
) -> Outcome:
    """Run a command in a folder, handing on what it prints, and say how it went."""
    end, began = b"", time.monotonic()
    child = environment.child_environment(
        QT_QPA_PLATFORM="offscreen", PYTHONUNBUFFERED="1", **variables
    )
    child.pop("PYTHONDONTWRITEBYTECODE", None)  # hundreds of processes would compile all anew
    with subprocess.Popen(
        command,
        cwd=folder,
        env=child,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
    ) as running:
        while piece := os.read(running.stdout.fileno(), 65536) if running.stdout else b"":
            show(piece)
            end = (end + piece)[-5000:]
    counts = re.findall(r"\d+ (?:passed|failed|error)[^=\n]*", end.decode("utf-8", "replace"))
    counted = counts[-1].strip() if counts else ""
    return Outcome(name, running.returncode, time.monotonic() - began, counted)


def show_at_once(piece: bytes) -> None:
    """Pass on what a command printed, unchanged."""
    sys.stdout.buffer.write(piece)
    sys.stdout.buffer.flush()

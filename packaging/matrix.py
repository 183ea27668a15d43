"""The jobs of `check.py matrix`: every test elsewhere than in this checkout's environment.

Most run in a clone that is thrown away. Standard library only.
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

import clones
import environment
import interpreters
from steps import DRAWS, Outcome, head, report, run_command, show_at_once

EVERY_TEST = ["packaging/check.py", "every"]

OTHER_ZONE = {"TZ": "Pacific/Auckland"}
"""Half a day ahead of Greenwich: what asks the machine for its zone or its day shows itself."""


def on_python(minor: int) -> Callable[[str, Path], Outcome]:
    """A job that sets a clone up with Python 3.`minor`, and the pip it brings, and tests it."""

    def job(name: str, _: Path) -> Outcome:
        found = interpreters.find(minor)
        if found is None:
            return Outcome(name, 0, None, f"no Python 3.{minor} was found on this machine")
        return in_clone(name, [[str(found), *EVERY_TEST]])

    return job


def with_lowest_versions(name: str, _: Path) -> Outcome:
    """Lock the lowest versions that `pyproject.toml` declares, on the oldest Python there is."""
    oldest = next(filter(None, map(interpreters.find, interpreters.MINORS)), sys.executable)
    lock = [str(oldest), "packaging/lock.py", "--upgrade", "--resolution=lowest-direct"]
    return in_clone(name, [lock, [str(oldest), *EVERY_TEST]])


def in_other_zone(name: str, _: Path) -> Outcome:
    """Test this checkout in another time zone."""
    return run(name, [sys.executable, *EVERY_TEST], environment.ROOT, OTHER_ZONE)


def set_up_for_real(name: str, python: Path) -> Outcome:
    """Set up clones for an empty home, with the oldest pip that each Python here brings."""
    tests = ["-m", "pytest", "-v", "tests/set_up/every_python.py"]
    return run(name, [str(python), *tests], environment.ROOT, {})


JOBS = {
    **{f"python3.{minor}": on_python(minor) for minor in interpreters.MINORS},
    "lowest": with_lowest_versions,
    "zone": in_other_zone,
    "set-up": set_up_for_real,
}
"""Each job's name and what it does, given its name and this checkout's environment."""


def run_jobs(python: Path, names: Sequence[str]) -> int:
    """Run each job and report on all; 0 where none failed. What could not be run is named."""
    outcomes, began = [], time.monotonic()
    for name in names:
        head(name)
        outcomes.append(JOBS[name](name, python))
    return report(outcomes, time.monotonic() - began)


def in_clone(name: str, commands: Sequence[Sequence[str]]) -> Outcome:
    """Run commands in a clone, up to the first that fails; the seconds of all together."""
    seconds, outcome = 0.0, Outcome(name, 1, 0.0)
    with tempfile.TemporaryDirectory() as folder:
        try:
            clone = clones.clone_into(Path(folder))
        except clones.CloneError as error:
            return Outcome(name, 1, 0.0, str(error))
        for command in commands:
            outcome = run(name, command, clone, {})
            seconds += outcome.seconds or 0.0
            if outcome.status:
                break
    return Outcome(name, outcome.status, seconds, outcome.counted)


def run(name: str, command: Sequence[str], folder: Path, variables: Mapping[str, str]) -> Outcome:
    """Run one command of a job, with the tests' usual draws."""
    given = {**DRAWS["check"], **variables}
    return run_command(name, command, folder=folder, variables=given, show=show_at_once)

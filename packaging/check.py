"""All checks: `python3 packaging/check.py [STEP …]` sets up the tools and runs every step.

Steps: format, lint, types, layers, tests, speed. All run even where one fails; the exit status
tells whether any did. Standard library only.
"""

import os
import re
import subprocess
import sys
import time

if sys.version_info < (3, 11):  # before any import that an older Python could not read
    from too_old import explain

    sys.exit(explain("packaging/check.py"))

import environment
import installing
import machine

LAYERS = "from importlinter.cli import lint_imports_command as check; check()"
STEPS = {
    "format": ["-m", "ruff", "format", "--check", "."],
    "lint": ["-m", "ruff", "check", "."],
    "types": ["-m", "mypy"],
    "layers": ["-c", LAYERS],
    "tests": [
        "-m",
        "pytest",
        "--numprocesses=auto",
        "--dist=worksteal",
        "-m",
        "not no_cover",
        "--cov",
        "--cov-report=term-missing",
        "--cov-fail-under=100",
        "--durations=10",
    ],
    "speed": ["-m", "pytest", "-m", "no_cover"],
}
"""Each step's name and what the environment's Python runs for it.

The tests share the processors; those that measure time come after them, alone.
"""


def main(names: list[str]) -> int:
    """Set up and run the steps; 0 where all pass, 1 otherwise, 2 for a step that is none."""
    unknown = [name for name in names if name not in STEPS]
    if unknown:
        print(f"No such step: {', '.join(unknown)}. The steps: {', '.join(STEPS)}.")
        return 2
    problems = machine.problems(tests=True)
    if problems:
        print("\n".join(problems), file=sys.stderr)
        return 1
    try:
        python = environment.prepare(tools=True)
    except installing.SetUpError as error:
        print(error, file=sys.stderr)
        return 1
    return run_steps(str(python), [name for name in STEPS if not names or name in names])


def run_steps(python: str, names: list[str]) -> int:
    """Run each step; then say of each how it went, with the count of its tests."""
    failed, report = False, []
    for name in names:
        print(f"\n== {name}", flush=True)
        began = time.monotonic()
        status, counted = run_step([python, *STEPS[name]])
        took = time.monotonic() - began
        report.append(f"{name:8} {'FAILED' if status else 'passed'} {took:6.1f} s  {counted}")
        failed = failed or status != 0
    print("\n" + "\n".join(line.rstrip() for line in report))
    return int(failed)


def run_step(command: list[str]) -> tuple[int, str]:
    """Run a command, showing what it prints; its status, and its last line of counts if any."""
    end = b""
    child = environment.child_environment(QT_QPA_PLATFORM="offscreen", PYTHONUNBUFFERED="1")
    with subprocess.Popen(
        command,
        cwd=environment.ROOT,
        env=child,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
    ) as running:
        while piece := os.read(running.stdout.fileno(), 65536) if running.stdout else b"":
            sys.stdout.buffer.write(piece)
            sys.stdout.buffer.flush()
            end = (end + piece)[-5000:]
    counts = re.findall(r"\d+ (?:passed|failed|error)[^=\n]*", end.decode("utf-8", "replace"))
    return running.returncode, counts[-1].strip() if counts else ""


if __name__ == "__main__":
    try:
        sys.exit(main(sys.argv[1:]))
    except KeyboardInterrupt:
        sys.exit("\nStopped. Run it again to go on.")

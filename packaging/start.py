"""First start: `python3 packaging/start.py` sets the program up and opens the demo practice.

Without a screen it writes the demo's papers into `demo-output` instead, and lists them.
Arguments, if any, are handed to `sennight` in place of the demo. Standard library only.
"""

import subprocess
import sys
from pathlib import Path

if sys.version_info < (3, 11):  # before any import that an older Python could not read
    from too_old import explain

    sys.exit(explain("packaging/start.py"))

import environment
import installing
import machine

DEMO_OUTPUT = environment.ROOT / "demo-output"


def main(arguments: list[str]) -> int:
    """Set up, then run the program; the status is the program's own, 1 where set-up failed."""
    window = machine.has_screen()
    problems = machine.problems(window=window)
    if problems:
        print("\n".join(problems), file=sys.stderr)
        return 1
    try:
        python = environment.prepare(tools=False)
    except installing.SetUpError as error:
        print(error, file=sys.stderr)
        return 1
    if arguments:
        return run(python, arguments)
    if window:
        print("Opening the demo practice …", flush=True)
        return run(python, ["demo"])
    print(f"No screen here: writing the demo's papers into {DEMO_OUTPUT} …", flush=True)
    return run(python, ["demo", "--out", str(DEMO_OUTPUT)])


def run(python: Path, arguments: list[str]) -> int:
    """Run `sennight` with these arguments; its exit status."""
    command = [str(python), "-m", "sennight", *arguments]
    return subprocess.run(command, env=environment.child_environment(), check=False).returncode


if __name__ == "__main__":
    try:
        sys.exit(main(sys.argv[1:]))
    except KeyboardInterrupt:
        sys.exit("\nStopped. Run it again to go on.")

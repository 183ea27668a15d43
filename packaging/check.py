"""All checks: `python3 packaging/check.py` sets up the tools and runs every step.

check.py STEP …            some of them: format, lint, types, layers, domain, tests, speed
check.py quick             under a minute: format, lint, types, layers, the domain's tests
check.py long              what is drawn at random, with many more draws: for every night
check.py matrix [JOB …]    other Pythons, the lowest versions, another time zone, real set-ups

All run even where one fails; the exit status tells whether any did. Standard library only.
"""

import sys

if sys.version_info < (3, 11):  # before any import that an older Python could not read
    from too_old import explain

    sys.exit(explain("packaging/check.py"))

import environment
import installing
import machine
import matrix
import steps


def main(arguments: list[str]) -> int:
    """Set up and run what is asked; 0 where all pass, 1 otherwise, 2 for a step that is none."""
    kind, names = "check", arguments
    if arguments[:1] == ["matrix"]:
        kind, names = "matrix", arguments[1:]
    elif arguments in (["quick"], ["long"]):
        kind, names = arguments[0], []
    known = list(matrix.JOBS if kind == "matrix" else steps.STEPS)
    unknown = [name for name in names if name not in known]
    if unknown:
        print(f"There is no {', '.join(unknown)}. There are: {', '.join(known)}.")
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
    if kind == "matrix":
        return matrix.run_jobs(python, [job for job in known if not names or job in names])
    wanted = [step for step in known if step in (names or steps.KINDS[kind])]
    return steps.run_steps(python, wanted, steps.DRAWS[kind])


if __name__ == "__main__":
    try:
        sys.exit(main(sys.argv[1:]))
    except KeyboardInterrupt:
        sys.exit("\nStopped. Run it again to go on.")

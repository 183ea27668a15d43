"""Runs `check.py` or `start.py` as on a Python that brings an older pip, to try the set-up out.

`older_pip.py VERSION SCRIPT [ARGUMENT …]`. The environment's pip is replaced as soon as the
environment is made, before it installs anything. Standard library only.
"""

import runpy
import subprocess
import sys
from pathlib import Path

import environment
import installing


def main(version: str, script: str, arguments: list[str]) -> None:
    """Run the script, which ends this process as it would end its own."""
    really_run = installing.run

    def run(
        command: list[str], folder: Path, variables: dict[str, str]
    ) -> subprocess.CompletedProcess[str]:
        done = really_run(command, folder, variables)
        if "venv" in command and not done.returncode:
            pip = [str(environment.venv_python()), "-m", "pip", "install", "--no-user"]
            return really_run([*pip, f"pip=={version}"], folder, variables)
        return done

    installing.run = run
    path = str(Path(__file__).with_name(script))
    sys.argv = [path, *arguments]
    runpy.run_path(path, run_name="__main__")


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2], sys.argv[3:])

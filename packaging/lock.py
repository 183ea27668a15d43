"""Writes the lock files anew, after a change of dependencies: `python3 packaging/lock.py`.

What is locked stays as it is, as far as the dependencies allow; `--upgrade` takes the newest
versions instead. The locks hold exact versions and the hashes of every platform's files, no
addresses. The resolver is installed into a folder that is thrown away.
"""

import subprocess
import sys
import tempfile
from pathlib import Path

import environment

RESOLVER = "uv==0.13.9"
OPTIONS = [
    "--universal",
    "--python-version=3.11",
    "--generate-hashes",
    "--no-emit-index-url",
    "--no-emit-find-links",
    "--no-annotate",
    "--no-header",
    "--system-certs",
    "--quiet",
]
"""One lock for every platform and every Python from 3.11 on; trust is the machine's, as pip's."""

CHOICES = ("--upgrade", "--resolution=lowest-direct")
"""What may be asked for: the newest versions, or the lowest that `pyproject.toml` declares."""


def main(choices: list[str]) -> int:
    """Write both locks; the runtime's packages in the versions of the developers' lock."""
    unknown = [choice for choice in choices if choice not in CHOICES]
    if unknown:
        print(f"No such choice: {', '.join(unknown)}. The choices: {', '.join(CHOICES)}.")
        return 2
    with tempfile.TemporaryDirectory() as folder:
        subprocess.run([sys.executable, "-m", "venv", folder], check=True)
        scripts = Path(folder) / environment.venv_python().relative_to(environment.VENV).parent
        pip = [str(scripts / "python"), "-m", "pip", "install", "--quiet", RESOLVER]
        subprocess.run(pip, check=True)
        resolve = [str(scripts / "uv"), "pip", "compile", *OPTIONS, *choices, "pyproject.toml"]
        tools, runtime = environment.TOOLS_LOCK, environment.RUNTIME_LOCK
        compile_lock([*resolve, "--group", "dev"], tools)
        compile_lock([*resolve, "--group", "build", "--constraint", str(tools)], runtime)
    return 0


def compile_lock(command: list[str], lock: Path) -> None:
    """Have the resolver write one lock file; it keeps to the versions that stand there."""
    subprocess.run([*command, "--output-file", str(lock)], cwd=environment.ROOT, check=True)
    print(f"Wrote {lock.relative_to(environment.ROOT)}")


if __name__ == "__main__":
    try:
        sys.exit(main(sys.argv[1:]))
    except subprocess.CalledProcessError as error:
        program = Path(error.cmd[0]).name
        sys.exit(f"{program} failed, as it says above. A lock that is not named as written stays.")

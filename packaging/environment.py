"""Makes `.venv` at the top of the checkout, from the locked packages, and keeps it current.

Standard library only. A mark inside `.venv` says what it was made from. It is blanked before
anything changes and written last, so that an interrupted run is never taken for a whole one.
"""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import signal
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path

import installing
import npm
from installing import SetUpError

ROOT = Path(__file__).resolve().parent.parent
VENV = ROOT / ".venv"
RUNTIME_LOCK = ROOT / "packaging" / "requirements.lock"
TOOLS_LOCK = ROOT / "packaging" / "requirements-dev.lock"
READERS = ROOT / "tests" / "readers" / "ical_js"
"""Where npm installs what tests read calendars back with."""

_MARK = VENV / "sennight-made.json"


def prepare(*, tools: bool) -> Path:
    """Return the Python of an environment that holds the project, made or renewed if need be.

    `tools` adds what development needs. SetUpError where that fails; running again is enough
    once the cause is gone.
    """
    signal.signal(signal.SIGTERM, lambda *_: sys.exit("Stopped."))  # so that no child stays behind
    made = _read_mark()
    if made.get("everything") != _fingerprint():
        _start_afresh()
        made = {}
    tools = tools or bool(made.get("tools"))
    project = _digest((ROOT / "pyproject.toml").read_bytes())
    wanted = {"everything": _fingerprint(), "project": project, "tools": tools}
    if made != wanted:
        _write_mark({})
        if made.get("tools") != tools:
            _install_packages(TOOLS_LOCK if tools else RUNTIME_LOCK)
        _install_project()
        _write_mark(wanted)
    if tools and (problem := npm.prepare(READERS, child_environment())):
        print(problem, flush=True)
    return venv_python()


def venv_python() -> Path:
    """The environment's own Python."""
    return VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def child_environment(**changes: str) -> dict[str, str]:
    """This process's environment for a child, without what would lead Python or pip astray."""
    astray = {"PYTHONPATH", "PYTHONHOME", "PYTHONSTARTUP", "__PYVENV_LAUNCHER__"}
    kept = {
        name: value
        for name, value in os.environ.items()
        if name not in astray and not installing.is_astray(name)
    }
    return kept | {"PYTHONUTF8": "1"} | changes


def _fingerprint() -> str:
    """Tells environments apart: the packages, the Python, and the folder that it stands in."""
    return _digest(
        RUNTIME_LOCK.read_bytes(),
        TOOLS_LOCK.read_bytes(),
        f"{sys.version}|{sys.base_prefix}|{ROOT}".encode(),
    )


def _digest(*parts: bytes) -> str:
    return hashlib.sha256(b"\0".join(parts)).hexdigest()


def _read_mark() -> Mapping[str, object]:
    try:
        made = json.loads(_MARK.read_text("utf-8"))
    except (OSError, ValueError):
        return {}
    return made if isinstance(made, dict) and venv_python().exists() else {}


def _write_mark(made: Mapping[str, object]) -> None:
    VENV.mkdir(exist_ok=True)
    _MARK.write_text(json.dumps(made), "utf-8")


def _start_afresh() -> None:
    """An empty environment, where none stands or the one that stands is ours."""
    if VENV.exists() and not _MARK.exists() and any(VENV.iterdir()):
        message = f"{VENV} was not made by this script. Rename or remove it, then run this again."
        raise SetUpError(message)
    print("Making .venv …", flush=True)
    _write_mark({})
    for entry in VENV.iterdir():  # the mark goes last: without it the rest would look foreign
        if entry.is_dir() and not entry.is_symlink():
            shutil.rmtree(entry)
        elif entry != _MARK:
            entry.unlink()
    made = _run([sys.executable, "-m", "venv", str(VENV)])
    if made.returncode:
        raise SetUpError(f"Python could not make the environment.\n{made.stdout.strip()}")


def _install_packages(lock: Path) -> None:
    print("Fetching and installing the packages: about a minute, this once …", flush=True)
    hashed = ["--require-hashes", "--only-binary=:all:", "--requirement", str(lock)]
    _pip(["install", "--no-user", "--no-deps", *hashed])
    if _run([str(venv_python()), "-c", "import hatchling"]).returncode:  # it is in both locks
        raise SetUpError(installing.ASTRAY)


def _install_project() -> None:
    print("Installing Sennight from this checkout …", flush=True)
    here = ["--no-index", "--no-build-isolation", "--editable", "."]
    _pip(["install", "--no-user", "--no-deps", *here])
    _pip(["check"])  # nothing is resolved above, so that a lock with a gap shows itself here


def _pip(arguments: list[str]) -> None:
    installing.pip(venv_python(), ROOT, child_environment(), arguments)


def _run(command: list[str]) -> subprocess.CompletedProcess[str]:
    return installing.run(command, ROOT, child_environment())

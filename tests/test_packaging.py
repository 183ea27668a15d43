"""Set-up from nothing, the locks, and what the wheel carries."""

from __future__ import annotations

import json
import re
import subprocess
import sys
import tomllib
import zipfile
from pathlib import Path

import pytest

import environment
import installing
import lock
import machine
import too_old

ROOT = Path(__file__).resolve().parent.parent
LOCKS = [environment.RUNTIME_LOCK, environment.TOOLS_LOCK]


class Commands:
    """Stands in for running programs: notes each, and fails at the one told."""

    def __init__(self) -> None:
        self.seen: list[str] = []
        self.fail_at = ""

    def __call__(self, command: list[str], *_: object) -> subprocess.CompletedProcess[str]:
        what = next(word for word in command if word in NEW)
        self.seen.append(what)
        if what == "venv" and what != self.fail_at:
            python = environment.venv_python()
            python.parent.mkdir(parents=True)
            python.touch()
        return subprocess.CompletedProcess(command, int(what == self.fail_at), stdout="")


@pytest.fixture
def commands(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Commands:
    """The environment's folder moved to a temporary place, and no program really run."""
    venv = tmp_path / "a folder" / ".venv"
    venv.parent.mkdir()
    monkeypatch.setattr(environment, "VENV", venv)
    monkeypatch.setattr(environment, "_MARK", venv / "mark.json")
    monkeypatch.setattr(environment, "READERS", tmp_path / "readers")
    monkeypatch.setattr("npm.prepare", lambda *_: "")
    monkeypatch.setattr("signal.signal", lambda *_: None)
    noted = Commands()
    monkeypatch.setattr(installing, "run", noted)
    return noted


FOLDERS = """
from sennight.places import own_folder
print(own_folder("migrations"), own_folder("resources"), sep="\\n")
"""
"""Prints where the program finds its folders, a line each."""

PACKAGES = ["--requirement", "import hatchling"]
PROJECT = ["--editable", "check"]
NEW = ["venv", *PACKAGES, *PROJECT]
"""What tells the commands of the set-up apart, in their order."""


def test_a_second_run_does_nothing(commands: Commands) -> None:
    environment.prepare(tools=True)
    assert commands.seen == NEW
    environment.prepare(tools=True)
    environment.prepare(tools=False)
    assert commands.seen == NEW


def test_tools_are_added_to_what_stands(commands: Commands) -> None:
    environment.prepare(tools=False)
    environment.prepare(tools=True)
    assert commands.seen == [*NEW, *PACKAGES, *PROJECT]


@pytest.mark.parametrize("step", NEW)
def test_what_was_interrupted_is_not_trusted(commands: Commands, step: str) -> None:
    commands.fail_at = step
    with pytest.raises(installing.SetUpError):
        environment.prepare(tools=True)
    commands.fail_at = ""
    commands.seen.clear()
    (environment.VENV / "left-over").mkdir(exist_ok=True)
    environment.prepare(tools=True)
    assert commands.seen == NEW
    assert not (environment.VENV / "left-over").exists()


def test_tools_that_failed_half_way_make_a_new_environment(commands: Commands) -> None:
    environment.prepare(tools=False)
    commands.fail_at = "--requirement"
    with pytest.raises(installing.SetUpError):
        environment.prepare(tools=True)
    commands.fail_at = ""
    commands.seen.clear()
    environment.prepare(tools=False)
    assert commands.seen == NEW


def test_new_packages_make_a_new_environment_and_a_new_project_file_only_a_new_install(
    commands: Commands, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    environment.prepare(tools=True)
    made = json.loads(environment._MARK.read_text("utf-8"))
    environment._MARK.write_text(json.dumps(made | {"project": "older"}), "utf-8")
    commands.seen.clear()
    environment.prepare(tools=True)
    assert commands.seen == PROJECT
    lock = tmp_path / "other.lock"
    lock.write_bytes(environment.RUNTIME_LOCK.read_bytes() + b"# changed\n")
    monkeypatch.setattr(environment, "RUNTIME_LOCK", lock)
    commands.seen.clear()
    environment.prepare(tools=True)
    assert commands.seen == NEW


def test_an_environment_of_someone_else_is_left_alone(commands: Commands) -> None:
    environment.VENV.mkdir()
    theirs = environment.VENV / "pyvenv.cfg"
    theirs.touch()
    with pytest.raises(installing.SetUpError, match="was not made by this script"):
        environment.prepare(tools=True)
    assert theirs.exists()
    assert commands.seen == []


def test_missing_libraries_are_named_with_the_command(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.platform", "linux")
    monkeypatch.setattr(machine, "_loads", lambda name: name != "libEGL.so.1")
    (problem,) = machine.problems()
    assert "libEGL.so.1" in problem
    assert problem.endswith("sudo apt-get install libegl1")


def test_a_bare_machine_is_told_every_package_that_some_test_needs(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("sys.platform", "linux")
    monkeypatch.setattr(machine, "_loads", lambda _: False)
    monkeypatch.setattr("shutil.which", lambda _: None)
    monkeypatch.setattr(machine, "SYSTEM_PYTHON", "/nowhere/python3")
    packages = machine.packages_for_all_tests()
    assert {"libegl1", "nodejs", "npm", "poppler-utils", "gir1.2-ical-3.0"} <= set(packages)
    monkeypatch.setattr(machine, "_loads", lambda _: True)
    monkeypatch.setattr("shutil.which", lambda name: name)
    assert machine.packages_for_all_tests() == ["gir1.2-ical-3.0", "python3-gi"]
    monkeypatch.setattr(machine, "has_libical", lambda: True)
    assert machine.packages_for_all_tests() == []


def test_a_python_without_ensurepip_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(machine, "_loads", lambda _: True)
    monkeypatch.setattr("importlib.util.find_spec", lambda _: None)
    (problem,) = machine.problems()
    assert f"sudo apt-get install python3.{sys.version_info.minor}-venv" in problem


@pytest.mark.parametrize(
    ("platform", "variables", "expected"),
    [
        ("linux", {}, False),
        ("linux", {"DISPLAY": ":0"}, True),
        ("linux", {"WAYLAND_DISPLAY": "wayland-0"}, True),
        ("linux", {"DISPLAY": ":0", "QT_QPA_PLATFORM": "offscreen"}, False),
        ("darwin", {}, True),
        ("win32", {}, True),
        ("win32", {"QT_QPA_PLATFORM": "offscreen"}, False),
    ],
)
def test_a_screen_is_told_from_none(
    monkeypatch: pytest.MonkeyPatch, platform: str, variables: dict[str, str], expected: bool
) -> None:
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        monkeypatch.delenv(name, raising=False)
    for name, value in variables.items():
        monkeypatch.setenv(name, value)
    monkeypatch.setattr("sys.platform", platform)
    assert machine.has_screen() is expected


def test_an_old_python_is_told_what_would_do(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("shutil.which", lambda name: name if name == "python3.12" else None)
    assert "Run: python3.12 packaging/start.py" in too_old.explain("packaging/start.py")
    monkeypatch.setattr("shutil.which", lambda _: None)
    assert "apt-get install python3" in too_old.explain("packaging/start.py")


@pytest.mark.parametrize("lock", LOCKS, ids=lambda lock: lock.name)
def test_locks_pin_and_hash_every_package_and_name_no_place(lock: Path) -> None:
    text = lock.read_text("utf-8")
    assert not re.search(r"://|--index|--find-links|file:", text)
    entries = re.split(r"\n(?=\S)", text.strip())
    for entry in entries:
        assert re.match(r"[a-z0-9-]+==\S+( ; .+)? \\\n", entry), entry
        assert re.search(r"--hash=sha256:[0-9a-f]{64}", entry), entry


def test_locks_hold_what_the_project_asks_for() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    groups = project["dependency-groups"]
    needed = [*project["project"]["dependencies"], *groups["build"]]
    tools = [entry for entry in groups["dev"] if isinstance(entry, str)]
    runtime_lock, tools_lock = (pinned(lock) for lock in LOCKS)
    assert {package(entry) for entry in needed} <= set(runtime_lock)
    assert {package(entry) for entry in tools} <= set(tools_lock)
    assert runtime_lock.items() <= tools_lock.items()


def test_a_choice_that_the_locks_do_not_know_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    assert lock.main(["--upgrad"]) == 2
    assert "The choices: --upgrade," in capsys.readouterr().out


def package(requirement: str) -> str:
    """The normalised name in a requirement."""
    found = re.match(r"[A-Za-z0-9._-]+", requirement)
    assert found is not None
    return re.sub(r"[._-]+", "-", found[0]).lower()


def pinned(lock: Path) -> dict[str, str]:
    """Each package of a lock and its version."""
    return dict(re.findall(r"^([a-z0-9-]+)==(\S+)", lock.read_text("utf-8"), re.MULTILINE))


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> zipfile.ZipFile:
    """The wheel, built from the checkout with the locked build tool."""
    folder = tmp_path_factory.mktemp("wheel")
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(folder)],
        cwd=ROOT,
        check=True,
        capture_output=True,
    )
    (built,) = folder.glob("*.whl")
    return zipfile.ZipFile(built)


@pytest.mark.parametrize("folder", ["migrations", "resources"])
def test_the_wheel_carries_every_file_of(wheel: zipfile.ZipFile, folder: str) -> None:
    expected = {
        f"sennight/{path.relative_to(ROOT).as_posix()}"
        for path in (ROOT / folder).rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }
    assert expected
    assert expected <= set(wheel.namelist())


def test_the_wheel_carries_the_package_the_licence_and_the_command(wheel: zipfile.ZipFile) -> None:
    names = set(wheel.namelist())
    assert {"sennight/__init__.py", "sennight/cli.py", "sennight/places.py"} <= names
    assert any(name.endswith(".dist-info/licenses/LICENSE") for name in names)
    (entry_points,) = (name for name in names if name.endswith("entry_points.txt"))
    assert "sennight = sennight.cli:main" in wheel.read(entry_points).decode()
    assert not [name for name in names if name.startswith("tests") or "__pycache__" in name]


def test_the_wheel_works_away_from_the_checkout(wheel: zipfile.ZipFile, tmp_path: Path) -> None:
    wheel.extractall(tmp_path)
    found = subprocess.run(
        [sys.executable, "-c", FOLDERS],
        env={"PYTHONPATH": str(tmp_path)},
        cwd=tmp_path,
        check=True,
        capture_output=True,
        encoding="utf-8",
    ).stdout.splitlines()
    folders = [tmp_path / "sennight" / "migrations", tmp_path / "sennight" / "resources"]
    assert [Path(line) for line in found] == folders
    assert all(folder.is_dir() for folder in folders)

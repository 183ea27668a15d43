"""Sets a clone up for real, as a stranger would, and tells what came of it."""

from __future__ import annotations

import hashlib
import json
import os
import re
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import NoReturn

import pytest
from packaging.requirements import Requirement

import clones
import environment
import installing
import interpreters

AGED = {"requirements.lock": ["mako"], "requirements-dev.lock": ["mako", "coverage"]}
"""Packages that the clone's locks hold older than the registry does.

coverage is asked for with an extra: an old pip resolves it anew, and stumbles over a newer one.
"""

_INSTALLED = """
import importlib.metadata, json, sys
found = {each.name: each.version for each in importlib.metadata.distributions()}
print(json.dumps({"python": "%d.%d.%d" % sys.version_info[:3], "packages": found}))
"""


class RealSetUp:
    """A clone with aged locks, an empty home, and settings that would lead pip astray."""

    def __init__(self, folder: Path, *, python: Path, minor: int) -> None:
        self.clone = clones.clone_into(folder)
        self.home = folder / "home"
        self.home.mkdir()
        self.astray = folder / "astray"
        driver = str(self.clone / "packaging" / "older_pip.py")
        self._command = [str(python), driver, interpreters.OLDEST_PIP[minor]]
        for lock, packages in AGED.items():
            for package in packages:
                _age(self.clone / "packaging" / lock, package, folder / "aged", minor)

    def run(self, script: str, *arguments: str, **variables: str) -> str:
        """Run `start.py` or `check.py`; what it printed. The test fails where the script does."""
        kept = {name: value for name, value in os.environ.items() if not name.startswith("XDG_")}
        home = {name: str(self.home) for name in ("HOME", "USERPROFILE", "APPDATA")}
        leading_astray = {"PIP_TARGET": str(self.astray), "PIP_USER": "1"}
        done = subprocess.run(
            [*self._command, script, *arguments],
            cwd=self.clone,
            env=kept | home | leading_astray | {"QT_QPA_PLATFORM": "offscreen"} | variables,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            encoding="utf-8",
            check=False,
        )
        if done.returncode:
            _fail_or_skip(done.stdout)
        return done.stdout

    def installed(self) -> tuple[str, dict[str, str]]:
        """The environment's Python, and each package in it with its version."""
        python = self.clone / environment.venv_python().relative_to(environment.ROOT)
        done = subprocess.run([python, "-c", _INSTALLED], capture_output=True, check=True)
        found = json.loads(done.stdout)
        packages = {_normal(name): version for name, version in found["packages"].items()}
        return found["python"], packages

    def locked(self, lock: str, python: str) -> dict[str, str]:
        """Each package that a lock of the clone names for this machine and a Python."""
        text = (self.clone / "packaging" / lock).read_text("utf-8")
        entries = re.findall(r"^([a-z0-9-]+==.*?) \\$", text, re.MULTILINE)
        held = {}
        for requirement in map(Requirement, entries):
            if not requirement.marker or requirement.marker.evaluate(_for(python)):
                held[_normal(requirement.name)] = str(requirement.specifier).removeprefix("==")
        return held


def _for(python: str) -> Mapping[str, str]:
    return {"python_full_version": python, "python_version": python.rpartition(".")[0]}


def _normal(name: str) -> str:
    return re.sub(r"[-_.]+", "-", name).lower()


def _age(lock: Path, package: str, folder: Path, minor: int) -> None:
    """Lock the newest version before the one that is locked: the registry then has a newer one."""
    text = lock.read_text("utf-8")
    found = re.search(rf"^{package}==(\S+) \\\n(?: .+\n)+", text, re.MULTILINE)
    assert found is not None
    wheel = _fetched(f"{package}<{found[1]}", folder, minor)
    version = wheel.name.split("-")[1]
    digest = hashlib.sha256(wheel.read_bytes()).hexdigest()
    older = f"{package}=={version} \\\n    --hash=sha256:{digest}\n"
    lock.write_text(text.replace(found[0], older), "utf-8")


def _fetched(requirement: str, folder: Path, minor: int) -> Path:
    """The wheel that pip finds for a requirement and Python 3.`minor`."""
    options = ["--no-deps", "--only-binary=:all:", f"--python-version=3.{minor}"]
    options += ["--dest", str(folder)]
    package = requirement.partition("<")[0]
    if not list(folder.glob(f"{package}-*")):
        try:
            installing.pip(
                Path(sys.executable),
                environment.ROOT,
                environment.child_environment(),
                ["download", *options, requirement],
            )
        except installing.SetUpError as error:
            _fail_or_skip(str(error))
    (wheel,) = folder.glob(f"{package}-*")
    return wheel


def _fail_or_skip(printed: str) -> NoReturn:
    """Without a network nothing can be set up: no fault, but where every test must run."""
    if installing.NOT_REACHED in printed and os.environ.get("CI") != "true":
        pytest.skip("the package index cannot be reached, so no real set-up was tried")
    pytest.fail(printed)

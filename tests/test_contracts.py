"""The import contracts are real: each is broken on purpose and seen to fail by name."""

from __future__ import annotations

import ast
import os
import shutil
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
CONTRACTS = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["tool"]["importlinter"][
    "contracts"
]
CHECK = "from importlinter.cli import lint_imports_command as check; check()"

LAYERS_BREAKS = {
    "domain": ["sennight.store", "sennight.publish", "sennight.practice", "sennight.desktop"],
    "store": ["sennight.publish", "sennight.practice", "sennight.desktop"],
    "publish": ["sennight.store", "sennight.practice"],
    "practice": ["sennight.desktop", "sennight.cli"],
    "desktop": ["sennight.cli"],
}
"""Imports that run against the layers, one way each."""


@pytest.fixture
def copied(tmp_path: Path) -> Path:
    """A copy of the package and its contracts, to be broken."""
    shutil.copytree(
        ROOT / "app" / "sennight",
        tmp_path / "app" / "sennight",
        ignore=shutil.ignore_patterns("__pycache__"),
    )
    shutil.copy(ROOT / "pyproject.toml", tmp_path)
    return tmp_path


def lint(folder: Path) -> tuple[int, str]:
    """Run the import linter in a folder on the package copied there."""
    done = subprocess.run(
        [sys.executable, "-c", CHECK, "--no-cache"],
        cwd=folder,
        env=os.environ | {"PYTHONPATH": str(folder / "app"), "COLUMNS": "200"},
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    return done.returncode, done.stdout + done.stderr


def break_it(folder: Path, importer: str, imported: str) -> str:
    """Give a layer one forbidden import; the name of the module that has it."""
    name = f"breaks_{imported.replace('.', '_').lower()}"
    layer = folder / "app" / Path(*importer.split("."))
    (layer / f"{name}.py").write_text(f"import {imported}\n", "utf-8")
    return f"{importer}.{name}"


def broken(report: str) -> set[str]:
    """The names of the contracts that the report calls broken."""
    names = {contract["name"] for contract in CONTRACTS}
    return {name for name in names if f"{name} BROKEN" in report}


def test_the_package_as_it_stands_keeps_every_contract(copied: Path) -> None:
    status, report = lint(copied)
    assert status == 0, report
    assert all(f"{contract['name']} KEPT" in report for contract in CONTRACTS), report


def test_there_is_one_layers_contract_and_it_has_every_layer() -> None:
    (layers,) = (contract for contract in CONTRACTS if contract["type"] == "layers")
    packages = {
        f"sennight.{path.name}"
        for path in (ROOT / "app" / "sennight").iterdir()
        if path.is_dir() and path.name != "__pycache__"
    }
    named = {name for layer in layers["layers"] for name in layer.split(" | ")}
    assert named == packages | {"sennight.cli"}


def test_an_import_against_the_layers_fails(copied: Path) -> None:
    modules = [
        break_it(copied, f"sennight.{layer}", imported)
        for layer, wrong in LAYERS_BREAKS.items()
        for imported in wrong
    ]
    status, report = lint(copied)
    (layers,) = (contract for contract in CONTRACTS if contract["type"] == "layers")
    assert status != 0
    assert layers["name"] in broken(report)
    unseen = [module for module in modules if module not in report]
    assert unseen == []


@pytest.mark.parametrize(
    "contract",
    [contract for contract in CONTRACTS if contract["type"] == "forbidden"],
    ids=lambda contract: contract["name"],
)
def test_a_forbidden_import_fails_in_every_layer_named(
    copied: Path, contract: dict[str, list[str] | str]
) -> None:
    modules = [
        break_it(copied, importer, imported)
        for importer in contract["source_modules"]
        for imported in contract["forbidden_modules"]
    ]
    status, report = lint(copied)
    assert status != 0
    assert broken(report) == {contract["name"]}, report
    unseen = [module for module in modules if module not in report]
    assert unseen == []


def test_the_domain_imports_the_standard_library_and_itself_alone() -> None:
    foreign = [
        (path.name, name)
        for path in (ROOT / "app" / "sennight" / "domain").rglob("*.py")
        for name in imported_names(path)
        if name.split(".")[0] not in sys.stdlib_module_names
        and not name.startswith("sennight.domain")
    ]
    assert foreign == []


def imported_names(path: Path) -> Iterator[str]:
    """The modules that a file imports, wherever in it."""
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield node.module or "."

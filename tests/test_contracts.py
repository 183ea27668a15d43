"""The import contracts are real: each is broken on purpose and seen to fail by name."""

from __future__ import annotations

import ast
import os
import re
import shutil
import subprocess
import sys
import tomllib
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import importlinter.cli  # sets the linter up  # noqa: F401
import pytest
from importlinter.application import output, use_cases

ROOT = Path(__file__).resolve().parent.parent
Contract = dict[str, Any]
Wrong = list[tuple[str, str]]
"""Forbidden imports: of which module, and what it imports."""
Lint = Callable[[Wrong], tuple[bool, str, list[str]]]
CONTRACTS: list[Contract] = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["tool"][
    "importlinter"
]["contracts"]
CHECK = "from importlinter.cli import lint_imports_command as check; check()"

LAYERS = [contract for contract in CONTRACTS if contract["type"] == "layers"]
FORBIDDEN = [contract for contract in CONTRACTS if contract["type"] == "forbidden"]


@pytest.fixture(scope="module")
def copied(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the package and its contracts, to be broken and mended again."""
    folder = tmp_path_factory.mktemp("copied")
    package = ROOT / "app" / "sennight"
    for path in package.rglob("*.py"):
        copy = folder / path.relative_to(ROOT)
        copy.parent.mkdir(parents=True, exist_ok=True)
        copy.write_bytes(path.read_bytes())
    shutil.copy(ROOT / "pyproject.toml", folder)
    return folder


@pytest.fixture
def lint(
    copied: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> Lint:
    """What the import linter says of the copy with forbidden imports: kept, told and not told.

    It runs within the test: a process for each would take as long again to start.
    """
    monkeypatch.chdir(copied)
    monkeypatch.syspath_prepend(copied / "app")
    monkeypatch.delitem(sys.modules, "sennight", raising=False)  # found by its path, in the copy
    monkeypatch.setattr(output.console, "width", 200)

    def broken_and_linted(wrong: Wrong) -> tuple[bool, str, list[str]]:
        before = {
            path: path.read_bytes()
            for path in {module_of(copied, importer) for importer, _ in wrong}
        }
        try:
            breaks = [break_it(copied, *imports) for imports in wrong]
            kept = use_cases.lint_imports(cache_dir=str(copied / "cache"), no_logo=True)
        finally:
            for path, content in before.items():
                path.write_bytes(content)
        report = re.sub(r"\x1b\[[0-9;]*m", "", capsys.readouterr().out)
        return kept, report, [unseen for unseen in breaks if unseen not in report]

    return broken_and_linted


def module_of(folder: Path, name: str) -> Path:
    """The file of a module, or of a package's own module."""
    place = folder / "app" / Path(*name.split("."))
    return place / "__init__.py" if place.is_dir() else place.with_suffix(".py")


def break_it(folder: Path, importer: str, imported: str) -> str:
    """Give a module one forbidden import: `importer -> imported`."""
    module = module_of(folder, importer)
    module.write_text(module.read_text("utf-8") + f"\nimport {imported}\n", "utf-8")
    return f"{importer} -> {imported} "


def rungs(contract: Contract) -> list[list[str]]:
    """The full names of a layers contract's modules, a list for each layer, the top one first."""
    (container,) = contract.get("containers", [""])
    prefix = f"{container}." if container else ""
    return [[prefix + name for name in layer.split(" | ")] for layer in contract["layers"]]


def wrong_imports(layers: list[list[str]]) -> Iterator[tuple[str, str]]:
    """Each import that goes up a layer, or across it."""
    for place, layer in enumerate(layers):
        above = [module for higher in layers[:place] for module in higher]
        for importer in layer:
            yield from ((importer, module) for module in above)
            yield from ((importer, module) for module in layer if module != importer)


def broken(report: str) -> set[str]:
    """The names of the contracts that the report calls broken."""
    names = {contract["name"] for contract in CONTRACTS}
    return {name for name in names if f"{name} BROKEN" in report}


def test_the_package_as_it_stands_keeps_every_contract() -> None:
    done = subprocess.run(
        [sys.executable, "-c", CHECK, "--no-cache"],
        cwd=ROOT,
        env=os.environ | {"COLUMNS": "200"},
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    report = re.sub(r"\x1b\[[0-9;]*m", "", done.stdout + done.stderr)
    assert done.returncode == 0, report
    assert all(f"{contract['name']} KEPT" in report for contract in CONTRACTS), report


def test_the_first_contract_names_every_package() -> None:
    packages = {
        f"sennight.{path.name}"
        for path in (ROOT / "app" / "sennight").iterdir()
        if path.is_dir() and path.name != "__pycache__"
    }
    named = {name for layer in rungs(LAYERS[0]) for name in layer}
    of_commands = {f"sennight.{path.stem}" for path in (ROOT / "app" / "sennight").glob("cli*.py")}
    assert named == packages | of_commands


def test_every_other_layers_contract_must_name_every_room() -> None:
    assert all(contract["exhaustive"] for contract in LAYERS[1:])


@pytest.mark.parametrize("contract", LAYERS, ids=lambda contract: contract["name"])
def test_an_import_against_the_layers_fails(lint: Lint, contract: Contract) -> None:
    wrong = list(wrong_imports(rungs(contract)))
    assert wrong
    kept, report, unseen = lint(wrong)
    assert not kept
    assert contract["name"] in broken(report)
    assert unseen == []


@pytest.mark.parametrize("contract", FORBIDDEN, ids=lambda contract: contract["name"])
def test_a_forbidden_import_fails_in_every_layer_named(lint: Lint, contract: Contract) -> None:
    wrong = [
        (importer, imported)
        for importer in contract["source_modules"]
        for imported in contract["forbidden_modules"]
    ]
    kept, report, unseen = lint(wrong)
    assert not kept
    assert broken(report) == {contract["name"]}, report
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

"""Changes one place of the program at a time and runs the tests: a change that no test sees.

    .venv/bin/python tests/support/mutate.py --count 50 app/sennight/domain/safety

The tests of the same room run first, then those that are named behind `--then`. Everything happens
in a copy of the program, so that nothing is left changed when it is stopped. Printed is each
change with the test that saw it; the exit status is 1 where one lives.
"""

from __future__ import annotations

import argparse
import ast
import copy
import os
import random
import resource
import shutil
import signal
import sys
import tempfile
import traceback
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
SOURCE = Path("app", "sennight")
SECONDS = 300
"""A change that makes tests run longer than this has been seen: something never ends."""
MEMORY = 6 * 2**30
"""Bytes that a run may take; a change that builds a list without an end is stopped by it."""

NO_TESTS = 70
"""The status of a fork in which the tests could not even begin."""

LIBRARIES = ("sqlalchemy", "alembic", "reportlab.platypus", "icalendar", "pypdfium2")
"""Read once, not for every change."""

COMPARED: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.LtE,
    ast.LtE: ast.Lt,
    ast.Gt: ast.GtE,
    ast.GtE: ast.Gt,
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
    ast.Is: ast.IsNot,
    ast.IsNot: ast.Is,
    ast.In: ast.NotIn,
    ast.NotIn: ast.In,
}
CALCULATED: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.FloorDiv: ast.Mult,
    ast.Mod: ast.Mult,
}


@dataclass(frozen=True, slots=True)
class Mutant:
    """A change: the file from the root, where its text goes from and to, and the new text."""

    path: Path
    line: int
    begin: int
    end: int
    before: str
    after: str

    def __str__(self) -> str:
        before, after = (" ".join(text.split()) for text in (self.before, self.after))
        return f"{self.path.relative_to(SOURCE)}:{self.line}: {before} -> {after}"

    def applied(self, source: bytes) -> bytes:
        """The file's text with the change."""
        return source[: self.begin] + self.after.encode() + source[self.end :]


def mutants_of(path: Path) -> list[Mutant]:
    """Every change of a file, `path` from the root."""
    source = (ROOT / path).read_bytes()
    starts = [0]
    for line in source.splitlines(keepends=True):
        starts.append(starts[-1] + len(line))
    found = []
    for node, changed in _changes(ast.parse(source)):
        begin = starts[node.lineno - 1] + node.col_offset
        end = starts[(node.end_lineno or node.lineno) - 1] + (node.end_col_offset or 0)
        after = ast.unparse(changed)
        if isinstance(node, ast.expr):
            after = f"({after})"
        before = source[begin:end].decode()
        found.append(Mutant(path, node.lineno, begin, end, before, after))
    return found


Change = tuple[ast.expr | ast.stmt, ast.AST]
"""A node, and what may stand in its place."""


def _changes(tree: ast.AST) -> Iterator[Change]:
    """Each change under a tree."""
    for node in _counting_nodes(tree):
        if isinstance(node, ast.Constant):
            yield from _other_constant(node)
        elif isinstance(node, ast.expr):
            yield from _other_expression(node)
        else:
            yield from _other_way(node)


def _other_constant(node: ast.Constant) -> Iterator[Change]:
    if isinstance(node.value, bool):
        yield node, ast.Constant(not node.value)
    elif isinstance(node.value, int):
        yield node, ast.Constant(node.value + 1)


def _other_expression(node: ast.expr) -> Iterator[Change]:
    match node:
        case ast.Compare():
            for index, op in enumerate(node.ops):
                changed = copy.deepcopy(node)
                changed.ops[index] = COMPARED[type(op)]()
                yield node, changed
        case ast.BoolOp():
            other = ast.Or() if isinstance(node.op, ast.And) else ast.And()
            yield node, ast.BoolOp(other, node.values)
        case ast.BinOp() if type(node.op) in CALCULATED:
            yield node, ast.BinOp(node.left, CALCULATED[type(node.op)](), node.right)
        case ast.UnaryOp(op=ast.Not()):
            yield node, node.operand
        case ast.IfExp():
            yield node, ast.IfExp(node.test, node.orelse, node.body)
        case _:
            pass


def _other_way(node: ast.AST) -> Iterator[Change]:
    match node:
        case ast.If() | ast.While():
            yield node.test, ast.UnaryOp(ast.Not(), node.test)
        case ast.comprehension():
            for test in node.ifs:
                yield test, ast.Constant(value=True)
        case ast.Return(value=ast.expr() as value) if not _is_nothing(value):
            yield node, ast.Return(ast.Constant(None))
        case _:
            pass


def _is_nothing(value: ast.expr) -> bool:
    return isinstance(value, ast.Constant) and value.value is None


def _counting_nodes(node: ast.AST) -> Iterator[ast.AST]:
    """The nodes that are run: no types, decorators or pieces of formatted texts.

    Pieces of formatted texts have no true place in the source before Python 3.12.
    """
    yield node
    for name, value in ast.iter_fields(node):
        if name in {"annotation", "returns", "decorator_list"} or isinstance(node, ast.JoinedStr):
            continue
        for child in value if isinstance(value, list) else [value]:
            if isinstance(child, ast.AST):
                yield from _counting_nodes(child)


# Running


def rooms_own(path: Path) -> list[str]:
    """The tests that mirror a file's room: its own first, those that draw at random last."""
    folder = ROOT.joinpath("tests", *path.relative_to(SOURCE).parent.parts)

    def order(file: Path) -> tuple[bool, bool, str]:
        return file.stem != f"test_{path.stem}", "@given" in file.read_text("utf-8"), file.name

    return [str(file.relative_to(ROOT)) for file in sorted(folder.glob("test_*.py"), key=order)]


def run(copied: Path, tests: list[str]) -> str:
    """What the first failing test is called, or "" where all pass.

    In a fork of this process, which has read the libraries already.
    """
    output = copied / "output.txt"
    child = os.fork()
    if child == 0:
        status = NO_TESTS
        try:
            status = _test_here(copied, tests, output)
        except BaseException:  # noqa: BLE001 - said, and the process ends
            traceback.print_exc()
        finally:  # whatever happens, nothing of what the parent has begun is ended here
            os._exit(status)
    _, status = os.waitpid(child, 0)
    if status == 0:
        return ""
    if os.WIFSIGNALED(status):
        return f"signal {os.WTERMSIG(status)}"
    lines = output.read_text("utf-8", errors="replace").splitlines()
    if os.WEXITSTATUS(status) == NO_TESTS:
        raise RuntimeError("\n".join(lines[-20:]))
    told = [line for line in lines if line.startswith(("FAILED", "ERROR"))]
    return told[0].split(" - ")[0] if told else f"exit status {os.WEXITSTATUS(status)}"


def _test_here(copied: Path, tests: list[str], output: Path) -> int:
    """Become the tests' process; an alarm ends what would never end."""
    signal.alarm(SECONDS)
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    with output.open("w", encoding="utf-8") as file:
        os.dup2(file.fileno(), 1)
        os.dup2(file.fileno(), 2)
    os.environ.update(CI="true", SENNIGHT_DRAWS="few", QT_QPA_PLATFORM="offscreen")
    os.environ["PYTHONPATH"] = str(copied / "app")  # for the processes that tests start
    os.chdir(copied)
    sys.path[0] = str(copied / "app")
    options = ["-q", "-x", "-p", "no:cacheprovider", "--tb=no", "-m", "not no_cover"]
    status = pytest.main([*options, *tests])
    sys.stdout.flush()
    return int(status)


def seen(mutant: Mutant, copied: Path, then: list[str]) -> str:
    """The test that saw a change, or "" where it lives."""
    target = copied / mutant.path
    source = target.read_bytes()
    _write(target, mutant.applied(source))
    try:
        for tests in (rooms_own(mutant.path), then):
            if tests and (failed := run(copied, tests)):
                return failed
    finally:
        _write(target, source)
    return ""


def _write(target: Path, source: bytes) -> None:
    """Exchange a module, and forget what was compiled of it before."""
    target.write_bytes(source)
    for compiled in (target.parent / "__pycache__").glob(f"{target.stem}.*.pyc"):
        compiled.unlink()


def main() -> int:
    """Try the changes that the command line asks for."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("paths", nargs="+", type=Path, help="files or folders of the program")
    parser.add_argument("--count", type=int, default=50, help="how many changes, drawn at random")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--then", nargs="*", default=[], help="tests to run after the room's own")
    asked = parser.parse_args()
    files = [file for path in asked.paths for file in sorted(path.rglob("*.py")) or [path]]
    every = [mutant for file in files for mutant in mutants_of(file)]
    draw = random.Random(asked.seed)  # noqa: S311 - no secret
    drawn = draw.sample(every, min(asked.count, len(every)))
    lives = 0
    for library in LIBRARIES:
        with suppress(ImportError):
            import_module(library)
    with tempfile.TemporaryDirectory() as folder:
        copied = Path(folder, "copy")
        shutil.copytree(ROOT, copied, ignore=shutil.ignore_patterns(".git", ".venv", "*.pyc"))
        unchanged = sorted({test for mutant in drawn for test in rooms_own(mutant.path)})
        if failed := run(copied, [*unchanged, *asked.then]):
            sys.exit(f"The tests do not pass on the program as it is: {failed}")
        for mutant in sorted(drawn, key=str):
            test = seen(mutant, copied, asked.then)
            lives += not test
            print(f"{'LIVES' if not test else 'seen '} {mutant}  {test}", flush=True)
    print(f"{len(drawn) - lives} of {len(drawn)} changes seen, drawn from {len(every)}")
    return int(lives > 0)


if __name__ == "__main__":
    sys.exit(main())

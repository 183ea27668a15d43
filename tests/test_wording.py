"""What practitioners and clients read: British spelling, no odd English, nothing called safe.

Read are all strings of the program with a space in them, and all texts of the resources.
"""

from __future__ import annotations

import ast
import csv
import re
import tomllib
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from support.files import ROOT

AMERICAN = (
    r"\bcolors?\b(?!=|:)",
    r"(?:centi|milli)meter",
    r"milliliter",
    r"diarrhea",
    r"\bestrogen",
    r"\bedema",
    r"\banemi",
    r"\bhemorrh",
    r"\btumor(?!al)",
    r"\bfiber",
    r"\bgray\b",
    r"practicing",
    r"cancel(?:ed|ing)\b",
    r"label(?:ed|ing)\b",
    r"flavor",
    r"licorice",
    r"behavior",
    r"favorit",
    r"(?:organ|recogn|summar|custom|initial|minim|maxim|memor)iz",
)
ODD = (
    r"[Bb]reast-feed",  # one spelling: breastfeeding
    r"\bgone by\b",
    r"\bnot borne\b",
    r"\bmakes? vomit\b",
    r"\banew\b",
    r"\bnot to be said\b",
    r"\band like\b(?! nicotine)",
    r"\bfor each kg\b",
    r"\bcareful side\b",
    r"\bset down\b",
    r"\bwants attention\b",
    r"\bbe looked into\b",
    r"\b(?:is|are) not said\b",
    r"\bnothing is compared with\b",
    r"\bholds? back\b",
    r"\bworking machines\b",
    r"\bis no (?:finding|date|number|trend|advice|course file|table|clearance)\b",
    r"(?<![\w-])(?!kava)(\w\w+) \1(?![\w-])",
)
OF_SAFETY = (
    "does not mean it is safe",
    "does not mean that it is safe",
    "is not therefore safe",
    "never says that something is safe",
)
"""All that may be said with “safe”: that nobody says it."""


_SENTENCES = {"label", "definition", "care", "text", "remark"}
"""The columns of tables that are read by people; the others have ids, and names as typed."""


def _strings(path: Path) -> Iterator[str]:
    """The strings of a module without its docstrings; what is worked out in them is left out."""
    tree = ast.parse(path.read_text("utf-8"))
    alone = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    for node in ast.walk(tree):
        match node:
            case ast.JoinedStr(values=parts):
                yield " … ".join(str(p.value) for p in parts if isinstance(p, ast.Constant))
            case ast.Constant(value=str(said)) if id(node) not in alone:
                yield said
            case _:
                pass


def _values(table: Any) -> Iterator[str]:  # noqa: ANN401 - any part of a TOML file
    if isinstance(table, dict):
        for value in table.values():
            yield from _values(value)
    elif isinstance(table, list):
        for value in table:
            yield from _values(value)
    elif isinstance(table, str):
        yield table


def _of_resource(path: Path) -> Iterator[str]:
    text = path.read_text("utf-8")
    match path.suffix:
        case ".toml":
            yield from _values(tomllib.loads(text))
        case ".tsv":
            for row in csv.DictReader(text.splitlines(), delimiter="\t", quoting=csv.QUOTE_NONE):
                yield from (row[column] for column in _SENTENCES & row.keys())
        case _:
            yield from text.splitlines()


@cache
def texts() -> tuple[tuple[str, str], ...]:
    """All that is read, each with the file that it is in."""
    modules = sorted((ROOT / "app").rglob("*.py"))
    kinds = (".toml", ".tsv", ".md")
    resources = sorted(
        path
        for path in (ROOT / "resources").rglob("*")
        if path.suffix in kinds and path.name != "README.md"
    )
    found = [(path.name, said) for path in modules for said in _strings(path)]
    found += [(path.name, said) for path in resources for said in _of_resource(path)]
    return tuple((name, said) for name, said in found if " " in said.strip())


def test_there_is_much_to_read() -> None:
    assert len(texts()) > 10_000


@pytest.mark.parametrize("words", [AMERICAN, ODD], ids=["american", "odd"])
def test_spelling_and_words(words: tuple[str, ...]) -> None:
    pattern = re.compile("|".join(f"(?:{word})" if "\\1" not in word else word for word in words))
    assert [(name, said) for name, said in texts() if pattern.search(said)] == []


def test_nothing_is_called_safe() -> None:
    found = [(name, said) for name, said in texts() if re.search(r"\b[Ss]afe(?:ly|r)?\b", said)]
    assert [each for each in found if not any(allowed in each[1] for allowed in OF_SAFETY)] == []

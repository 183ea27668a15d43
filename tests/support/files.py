"""Where the tests' own files lie, and what is written in them."""

from pathlib import Path
from typing import Any

import yaml

TESTS = Path(__file__).resolve().parents[1]
ROOT = TESTS.parent
COURSES = TESTS / "courses"
REFERENCES = TESTS / "references"
GOLDEN = TESTS / "golden"


def from_yaml(text: str) -> Any:  # noqa: ANN401 - the text says what it holds
    """What a text of plain YAML holds; libyaml, in C, reads it in a tenth of the time."""
    return yaml.load(text, Loader=yaml.CSafeLoader)

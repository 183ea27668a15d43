"""Where the tests' own files lie."""

from pathlib import Path

TESTS = Path(__file__).resolve().parents[1]
ROOT = TESTS.parent
COURSES = TESTS / "courses"
REFERENCES = TESTS / "references"
GOLDEN = TESTS / "golden"

"""A trace says where, and nothing about anyone; its file is its owner's alone and stays small."""

from __future__ import annotations

import re
import sys
from datetime import UTC, datetime
from pathlib import Path

import pytest

from sennight.domain.directions.parser import parse_directions
from sennight.practice.faults import FILE_NAME, MOST_CHARACTERS, fault_trace, keep_fault
from sennight.practice.opening import PracticeFileError

NOW = datetime(2027, 1, 27, 9, 30, tzinfo=UTC)
PRIVATE = "Efua Prendergast, 14 Lime Walk"


def deep(text: str) -> None:
    try:
        parse_directions(text)
    except ValueError as error:
        raise PracticeFileError(f"not saved: {text}") from error


def raised(text: str = PRIVATE) -> PracticeFileError:
    with pytest.raises(PracticeFileError) as caught:
        deep(text)
    return caught.value


def test_a_trace_has_every_frame_of_every_error_and_no_value() -> None:
    trace = fault_trace(raised(), now=NOW)
    assert trace.startswith("fault on 2027-01-27T09:30:00+00:00, sennight ")
    assert "\nPracticeFileError\n" in trace
    assert "\nafter DirectionsError\n" in trace
    assert "  test_faults.py" in trace or "/test_faults.py" in trace
    assert re.search(r"sennight/domain/directions/parser\.py, \d+, \w+", trace)
    assert ", deep\n" in trace
    for word in re.findall(r"\w+", PRIVATE):
        assert not re.search(rf"\b{word}\b", trace), word
    assert str(Path(__file__).parents[2]) not in trace, "a path may hold its user's name"
    assert str(Path.home()) not in trace


def test_an_error_that_goes_round_in_a_circle_is_told_once() -> None:
    first, second = ValueError("a"), KeyError("b")
    first.__cause__, second.__cause__ = second, first
    assert fault_trace(first, now=NOW).count("Error") == 2


def test_what_is_hidden_on_purpose_stays_hidden() -> None:
    error = KeyError(PRIVATE)
    error.__context__ = ValueError(PRIVATE)
    assert "after ValueError" in fault_trace(error, now=NOW)
    error.__suppress_context__ = True
    assert "ValueError" not in fault_trace(error, now=NOW)


def test_the_file_is_its_owners_and_keeps_the_newest_traces_whole(tmp_path: Path) -> None:
    folder = tmp_path / "data"
    trace = fault_trace(raised(), now=NOW)
    for n in range(1, 2 * MOST_CHARACTERS // len(trace)):
        path = keep_fault(folder, trace.replace("09:30:00", f"09:{n // 60:02}:{n % 60:02}"))
    assert path == folder / FILE_NAME
    kept = path.read_text(encoding="utf-8")
    assert len(kept) <= MOST_CHARACTERS
    assert kept.startswith("fault on ")
    assert f"09:{n // 60:02}:{n % 60:02}" in kept.splitlines()[-len(trace.splitlines())]
    assert kept.count("fault on ") == len(re.findall("^PracticeFileError$", kept, re.MULTILINE))
    if sys.platform != "win32":
        assert path.stat().st_mode & 0o777 == 0o600
        assert folder.stat().st_mode & 0o777 == 0o700


def test_one_trace_that_is_too_long_is_cut(tmp_path: Path) -> None:
    long = fault_trace(raised(), now=NOW) + "  frame\n" * MOST_CHARACTERS
    keep_fault(tmp_path, "fault on before\n")
    path = keep_fault(tmp_path, long)
    assert path is not None
    assert path.read_text(encoding="utf-8") == long[:MOST_CHARACTERS]


def test_where_it_cannot_be_written_nothing_more_goes_wrong(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("", encoding="utf-8")
    assert keep_fault(tmp_path / "file", "fault on …") is None
    (tmp_path / FILE_NAME).write_bytes(b"\xff\n")
    assert keep_fault(tmp_path, "fault on …") == tmp_path / FILE_NAME, "bytes that are no text"

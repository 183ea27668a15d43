"""Protocols that come with the program, and protocols as files."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime
from fractions import Fraction
from pathlib import Path

import pytest

from sennight.domain.courses.clients import Client
from sennight.domain.safety.findings import Severity
from sennight.practice.clients import add_client
from sennight.practice.course_reading import read_course
from sennight.practice.courses import course_entry, start_course
from sennight.practice.importing import ImportFileError, import_protocol
from sennight.practice.opening import OpenPractice
from sennight.practice.protocol_files import (
    as_course,
    read_shared,
    write_protocol_file,
)
from sennight.practice.protocols import ShelfProtocol, list_protocols, shelf_protocol
from sennight.practice.remedies import list_remedies
from sennight.practice.supplied_protocols import SUPPLIED, supplied_protocols
from support.files import COURSES

NOW, START = datetime(2027, 1, 4, 9, 30, tzinfo=UTC), date(2027, 1, 4)


def test_four_protocols_come_with_the_program() -> None:
    assert [shelf.protocol.name for shelf in supplied_protocols()] == [
        "Digestion",
        "Joints",
        "Sleep",
        "Winter",
    ]


@pytest.mark.parametrize("shelf", supplied_protocols(), ids=lambda shelf: shelf.id)
def test_each_is_whole(shelf: ShelfProtocol) -> None:
    """Loading, maintenance, a flare-up plan with its trigger, a gate, aims, and advice."""
    assert shelf.id.startswith(SUPPLIED)
    protocol = shelf.protocol
    assert {"loading", "maintenance", "rescue"} <= {p.purpose for p in protocol.phases}
    first = protocol.phases[0]
    assert first.gate is not None
    assert first.length is not None
    assert 6 <= first.length.count <= 12
    assert first.advice
    assert protocol.aims
    (plan,) = (phase for phase in protocol.phases if phase.is_rescue)
    assert plan.trigger
    assert plan.lines
    used = {line.remedy for phase in protocol.phases for line in phase.lines}
    assert used == {remedy.id for remedy in shelf.remedies}


@pytest.mark.parametrize("shelf", supplied_protocols(), ids=lambda shelf: shelf.id)
def test_none_gives_more_than_is_published_or_leaves_a_wanted_action_out(
    shelf: ShelfProtocol,
) -> None:
    course = as_course(shelf)
    client = replace(course.client, born=date(1950, 1, 1), weight_kg=Fraction(70))
    reading = read_course(replace(course, client=client), today=course.start)
    assert not [f for f in reading.safety.findings if f.severity is Severity.AVOID]
    assert not [f.id for f in reading.safety.findings if f.id.startswith("over.")]
    gaps = {
        (row.phase, row.action)
        for row in reading.actions
        if row.wanted and not row.weight and not _is_plan(shelf, row.phase)
    }
    assert gaps == set()


def _is_plan(shelf: ShelfProtocol, phase_id: str) -> bool:
    phase = shelf.protocol.phase(phase_id)
    return phase is not None and phase.is_rescue


def test_a_protocol_is_shared_as_a_file_without_a_client(
    practice: OpenPractice, tmp_path: Path
) -> None:
    for shelf in supplied_protocols():
        path = write_protocol_file(practice, shelf, tmp_path / "shared.toml")
        text = path.read_text("utf-8")
        assert "client" not in text.replace("# ", "")
        file = read_shared(practice, path)
        assert (file.course.protocol, file.course.remedies) == (shelf.protocol, shelf.remedies)
        taken = import_protocol(practice, file)
        kept = shelf_protocol(practice, taken.protocol_id)
        assert kept.protocol.name == shelf.protocol.name
    assert len(list_protocols(practice)) == 4


def test_of_a_course_file_the_protocol_alone_is_taken(practice: OpenPractice) -> None:
    file = read_shared(practice, COURSES / "knees.toml")
    assert file.course.protocol.phases
    assert (file.course.client.medicines, file.diary, file.scores) == ((), (), ())


def test_a_file_that_is_wrong_tells_where(practice: OpenPractice, tmp_path: Path) -> None:
    path = tmp_path / "wrong.toml"
    path.write_text('version = 1\n[protocol]\nname = "x"\n', encoding="utf-8")
    with pytest.raises(ImportFileError) as caught:
        read_shared(practice, path)
    assert caught.value.problems[0].startswith("protocol.phase")
    assert list_protocols(practice) == ()


def test_a_course_can_be_started_from_one_that_is_supplied(
    practice: OpenPractice,
) -> None:
    client = add_client(practice, Client("Una Example"))
    started = start_course(practice, client, f"{SUPPLIED}joints", START, now=NOW)
    course = course_entry(practice, started).course
    assert course.protocol.name == "Joints"
    (shelf,) = list_protocols(practice)
    assert (shelf.protocol, shelf.remedies) == (course.protocol, course.remedies)
    assert {entry.remedy.id for entry in list_remedies(practice)} == {
        remedy.id for remedy in course.remedies
    }

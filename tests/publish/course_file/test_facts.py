"""When medicines are taken, and reactions, as a course file has them."""

from __future__ import annotations

from datetime import date, time

import pytest

from sennight.domain.courses.clients import Fact, Reaction
from sennight.domain.day import Moment
from sennight.publish.course_file.reader import CourseFileError, parse_course

HERBS = ("yarrow", "ginger")
COURSE = """
version = 1
[client]
name = "Una Example"
{client}
[[remedy]]
id = "t1"
form = "tea"
grams_per_cup = 3
parts = [{{ herb = "ginger", parts = 1 }}]
[protocol]
[[protocol.phase]]
id = "only"
weeks = 1
[course]
start = 2027-01-04
"""


def read(client: str) -> tuple[tuple[Fact, ...], tuple[Reaction, ...]]:
    found = parse_course(COURSE.format(client=client), HERBS).course.client
    return found.medicines, found.reactions


def problems(client: str) -> str:
    with pytest.raises(CourseFileError) as raised:
        read(client)
    return str(raised.value)


def test_a_medicine_may_say_when_it_is_taken() -> None:
    medicines, _ = read('medicines = ["statin", { tag = "iron", at = ["08:00", "bedtime"] }]')
    assert medicines == (Fact("statin"), Fact("iron", at=(time(8), Moment.BEDTIME)))


def test_times_are_for_medicines_alone() -> None:
    said = problems('conditions = [{ tag = "gout", at = ["08:00"] }]')
    assert "client.conditions[1].at: unknown key; expected name, tag, from, to" in said


@pytest.mark.parametrize("wrong", ['"noon"', "8", '"25:00"'])
def test_a_time_that_is_none(wrong: str) -> None:
    said = problems(f'medicines = [{{ tag = "iron", at = [{wrong}] }}]')
    assert "client.medicines[1].at[1]: expected a clock time in quotes" in said
    assert "mid-morning" in said


REACTION = '[[client.reaction]]\ndate = 2026-03-01\nremedy = "Old tea"\n'


def test_a_reaction() -> None:
    _, reactions = read(REACTION + 'herbs = ["yarrow"]\nwhat = "A rash"')
    assert reactions == (Reaction(date(2026, 3, 1), "Old tea", ("yarrow",), "A rash"),)


def test_a_reaction_names_its_herbs_and_what_happened() -> None:
    said = problems(REACTION)
    assert "client.reaction[1].herbs: expected the herbs that are suspected" in said
    assert "client.reaction[1].what: missing" in said


def test_a_herb_that_is_not_known_would_never_be_met() -> None:
    said = problems(REACTION + 'herbs = ["yarow"]\nwhat = "A rash"')
    assert "client.reaction[1].herbs[1]: " in said
    assert "did you mean yarrow" in said or "yarrow" in said

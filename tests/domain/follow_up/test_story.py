"""The story: what a course tells day by day, and the order in which things stand."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, time, timedelta
from fractions import Fraction

from sennight.domain.courses.clients import Reaction
from sennight.domain.courses.courses import Stop
from sennight.domain.courses.stretches import lay_out
from sennight.domain.dates import Span
from sennight.domain.follow_up.consultations import (
    Appointment,
    Consultation,
    ConsultationKind,
    Part,
)
from sennight.domain.follow_up.diaries import DayNote, Score, note_words
from sennight.domain.follow_up.measures import NO_OWN
from sennight.domain.follow_up.story import (
    StoryItem,
    StoryKind,
    consultation_item,
    course_items,
    diary_item,
    in_order,
    kind_title,
    note_items,
    reaction_items,
    score_items,
)
from support.samples import course, line, phase

START = date(2027, 1, 4)
WEEK = timedelta(days=7)


def told(items: object) -> list[tuple[date, str, str]]:
    assert isinstance(items, tuple | list)
    return [(item.day, item.title, item.about) for item in items]


def test_what_was_said_of_a_day_stands_on_that_day() -> None:
    notes = (DayNote(START, note_words("  slept\n well ")), DayNote(START + WEEK, "walked"))
    items = tuple(note_items("c", notes))
    assert told(items) == [(START, "From the diary", ""), (START + WEEK, "From the diary", "")]
    assert [item.parts for item in items] == [(Part("", "slept well"),), (Part("", "walked"),)]
    assert {(item.kind, item.course) for item in items} == {(StoryKind.DAY_NOTE, "c")}


def test_a_course_tells_when_it_began_what_was_decided_and_when_it_ended() -> None:
    plan = course(phase("loading", "4 w", line("t1", "1 cup bd 2 w on 1 w off")))
    stop = Stop(on=START + 2 * WEEK, remedy="t1", first=START + 3 * WEEK, reason="a rash")
    decided = replace(plan, revisions=(stop, replace(stop, void="of another client")))
    items = tuple(course_items("c", lay_out(decided), date(2027, 6, 1)))
    name = plan.protocol.name
    assert told(items)[0] == (START, f"Course began: {name}", "")
    assert told(items)[-1] == (START + 4 * WEEK - timedelta(days=1), f"Course ended: {name}", "")
    assert "stops on 25 January 2027 (a rash)." in items[1].title
    assert [item.void for item in items[1:3]] == ["", "of another client"]
    assert {item.course for item in items} == {"c"}


def test_days_off_are_told_once_they_began() -> None:
    plan = course(phase("loading", "4 w", line("t1", "1 cup bd 2 w on 1 w off")))
    before = tuple(course_items("c", lay_out(plan), START + 2 * WEEK - timedelta(days=1)))
    assert [item.kind for item in before] == [StoryKind.DECISION]
    on_it = tuple(course_items("c", lay_out(plan), START + 2 * WEEK))
    off = on_it[-1]
    assert (off.day, off.kind, off.title) == (START + 2 * WEEK, StoryKind.WEEKS_OFF, "Days off")
    assert off.about.endswith(", until 24 January 2027")


def test_what_is_to_come_and_what_was_struck_out_tell_little() -> None:
    plan = course(phase("loading", "4 w", line("t1", "1 cup bd 2 w on 1 w off")))
    assert tuple(course_items("c", lay_out(plan), START - timedelta(days=1))) == ()
    struck = replace(plan, void="begun twice")
    (item,) = course_items("c", lay_out(struck), date(2027, 6, 1))
    assert item.void == "begun twice"


def test_a_consultation_is_told_with_its_length_and_the_next_one() -> None:
    said = (Part("Said", "Sleeps again"), Part("", "by the by"))
    consultation = Consultation(START, ConsultationKind.FIRST, said, 75)
    item = consultation_item(consultation, 3)
    assert (item.title, item.about, item.record) == ("First consultation", "75 minutes", 3)
    later = replace(consultation, minutes=None, next=Appointment(START + WEEK, time(9, 30)))
    assert consultation_item(later, 3).about == "next 11 January 2027 at 09:30"
    later = replace(later, minutes=1, next=Appointment(START + WEEK))
    assert consultation_item(later, 3).about == "1 minute, next 11 January 2027"
    assert item.words == (
        "4 January 2027: First consultation. 75 minutes. Said: Sleeps again. by the by"
    )
    void = consultation_item(replace(consultation, parts=(), minutes=None), 3, void="twice")
    assert void.words == "4 January 2027: First consultation. struck out: twice"


def test_every_kind_has_its_title() -> None:
    assert len({kind_title(kind) for kind in ConsultationKind}) == len(ConsultationKind)


def test_scores_of_a_day_stand_together() -> None:
    scores = [
        Score(START, "pain", Fraction(9, 2)),
        Score(START, "odd", Fraction(2)),
        Score(START, "stiffness in minutes", Fraction(20)),
        Score(START + WEEK, "pain", Fraction(4)),
    ]
    first, second = score_items("c", scores, NO_OWN)
    assert first.about.startswith("odd 2, Pain 4.5, Morning stiffness 20 min")
    assert (second.day, second.about) == (START + WEEK, "Pain 4")


def test_a_diary_and_reactions_are_told() -> None:
    item = diary_item("c", START, Span.of_days(START - WEEK, START))
    assert item.about == "28 December 2026 to 4 January 2027"
    reaction = Reaction(START, "Tea", ("ginger", "odd"), "a rash", void="twice")
    (told_,) = reaction_items([reaction], {"ginger": "Ginger"})
    assert (told_.title, told_.about) == ("Reaction: Ginger and odd", "a rash (Tea)")
    assert told_.void == "twice"


def test_the_newest_day_stands_first_and_a_day_begins_with_its_consultation() -> None:
    later = START + WEEK
    items = [
        StoryItem(START, StoryKind.GIVEN, "given"),
        StoryItem(START, StoryKind.CONSULTATION, "morning", record=1),
        StoryItem(later, StoryKind.SCORES, "scores"),
        StoryItem(START, StoryKind.CONSULTATION, "evening", record=2),
    ]
    assert [item.title for item in in_order(items)] == ["scores", "evening", "morning", "given"]

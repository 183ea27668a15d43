"""Which labels a course has due, and what becomes of those that do not fit."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction
from itertools import pairwise

from sennight.domain.courses.clients import Fact
from sennight.domain.dates import Span
from sennight.domain.directions.directions import Unit
from sennight.domain.directions.plain_words import plain_date
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.letters import letter_of
from sennight.domain.remedies.remedies import Ingredient, Portion
from sennight.practice.course_outputs import (
    NO_CARD,
)
from sennight.practice.course_reading import CourseReading, read_course
from sennight.practice.label_warnings import makes_sleepy
from sennight.practice.labelling import BY_HAND, labels_due, labels_made
from sennight.practice.materia_medica import herb_finder
from sennight.publish.course_file.reader import read_course_file
from support.files import COURSES, ROOT

TODAY = date(2026, 11, 28)


def knees(today: date) -> CourseReading:
    course = read_course_file(COURSES / "knees.toml", herb_finder()).course
    return read_course(course, today=today)


def test_a_label_for_each_container_of_the_phase_that_runs() -> None:
    """Before the course its first phase, in a flare the flare's too; as supply.csv counts them."""
    for today in (date(2026, 12, 1), date(2027, 2, 2)):
        reading = knees(today)
        day = max(today, reading.layout.days.first)
        rows = [r for r in reading.supplies if any(day in s for s in reading.spans_of(r.phase))]
        expected = sum(1 if row.containers is None else row.containers for row in rows)
        labels = labels_due(reading, NO_CARD)
        assert len(labels) == expected > 0
        open_lines = {(label.batch, label.prepared, label.use_by) for label, _ in labels}
        assert open_lines == {(BY_HAND,) * 3}
        assert all(label.letter == "ABC"[place] for label, place in labels if place < 3)


def test_a_remedys_own_container_counts_the_labels_and_stands_on_them() -> None:
    """A rub told in applications has a label for one container, with what it holds."""
    reading = knees(date(2027, 2, 2))
    sizes = {Form.TEA: Portion(Fraction(500), Unit.G), Form.RUB: Portion(Fraction(50), Unit.ML)}
    remedies = tuple(replace(r, container=sizes.get(r.form)) for r in reading.course.remedies)
    small = [label.quantity for label, _ in labels_due(reading, NO_CARD)]
    own = reading.of(replace(reading.course, remedies=remedies))
    large = [label.quantity for label, _ in labels_due(own, NO_CARD)]
    assert 0 < large.count("500 g") < small.count("100 g")
    assert large.count("50 mL") == small.count(f"Quantity {BY_HAND}") == 1


def test_a_remedy_of_a_phase_and_of_a_flare_up_plan_has_both_directions() -> None:
    """Before the flare and in it; one that no plan asks for has its own alone."""
    for today in (date(2027, 1, 4), date(2027, 2, 2)):
        reading = knees(today)
        (plan,) = (phase for phase in reading.course.protocol.phases if phase.is_rescue)
        planned = {line.remedy for line in plan.lines}
        usual = {s.remedy for s in reading.layout.stretches if s.phase != plan.id}
        letters = {letter_of(reading.places[remedy]) for remedy in planned & usual}
        alone = {letter_of(reading.places[remedy]) for remedy in planned - usual}
        seen = {label.letter: label for label, _ in labels_due(reading, NO_CARD)}
        assert letters & set(seen)
        assert (today < date(2027, 2, 1)) != bool(alone & set(seen)), "it is handed over in it"
        for letter, label in seen.items():
            is_alone = label.directions.startswith("For the flare-up plan")
            assert is_alone == (letter in alone)
            told = [words.partition(":")[0] for words in label.in_flares]
            assert told == (["Flare-up plan, instead"] if letter in letters else []), letter


def test_after_the_course_nothing_is_due() -> None:
    assert labels_due(knees(date(2030, 1, 1)), NO_CARD) == ()
    assert labels_made(knees(date(2030, 1, 1)), NO_CARD, paper="A4").pdf == b""


def test_what_does_not_fit_is_told_and_not_made() -> None:
    reading = knees(date(2027, 1, 4))
    long_name = replace(reading.course.client, name="Q" * 200)
    made = labels_made(
        reading.of(replace(reading.course, client=long_name)), NO_CARD, paper="Letter"
    )
    assert made.pdf == b""
    assert "expected a larger label" in made.why_not


def test_a_label_says_the_directions_of_all_days_that_its_supply_covers() -> None:
    """Day by day from the course itself: where they change, the label has that day."""
    changed = 0
    for name in ("joints", "stomach"):
        course = read_course_file(
            ROOT / "resources" / "demo" / f"{name}.toml", herb_finder()
        ).course
        reading = read_course(course, today=TODAY)
        day = max(TODAY, reading.layout.days.first)
        rows = [r for r in reading.supplies if any(day in s for s in reading.spans_of(r.phase))]
        seen = {label.letter: label for label, _ in labels_due(reading, NO_CARD)}
        for row in (row for row in rows if row.lasts_until):
            days = Span.of_days(day, row.lasts_until or day)
            ways = [
                (taken, s.directions)
                for taken in days
                for s in reading.layout.stretches
                if s.remedy == row.bottle.remedy and s.taken_on(taken)
            ]
            begun = [new for (_, old), (new, way) in pairwise(ways) if way != old]
            label = seen[letter_of(reading.places[row.bottle.remedy])]
            told = [words.partition(":")[0] for words in (label.directions, *label.later)]
            starts = [words.partition(" to ")[0] for words in told[1:]]
            assert starts == [f"From {plain_date(first)}" for first in begun]
            assert told[0].startswith("To ") == bool(begun)
            changed += len(begun)
    assert changed == 4


def test_what_may_make_sleepy_is_told_by_the_herbs_and_by_the_findings() -> None:
    """Of what is swallowed alone: valerian for anyone, alcohol beside a sleeping tablet."""
    reading = knees(date(2027, 1, 4))
    remedy, *_ = reading.course.remedies
    valerian = replace(remedy, ingredients=(Ingredient("valerian"),))
    assert not makes_sleepy(reading, remedy.id, remedy)
    assert makes_sleepy(reading, remedy.id, valerian)
    assert not makes_sleepy(reading, remedy.id, replace(valerian, form=Form.RUB))
    tincture = next(r for r in reading.course.remedies if r.form is Form.TINCTURE)
    assert not makes_sleepy(reading, tincture.id, tincture)
    client = replace(reading.course.client, medicines=(Fact("sedative"),))
    told = reading.of(replace(reading.course, client=client))
    assert makes_sleepy(told, tincture.id, tincture)
    assert not makes_sleepy(told, remedy.id, remedy)

"""What to take and when: days off, as-needed remedies, and the heads of phases."""

from __future__ import annotations

import pytest

from sennight.domain.courses.courses import Course
from sennight.domain.courses.protocols import Phase
from sennight.domain.courses.stretches import lay_out
from sennight.publish.handout.document import handout_pdf
from sennight.publish.handout.input import HerbWords
from support.handout_samples import (
    CARD,
    HERBS,
    JOINT_TEA,
    MADE_ON,
    RUB,
    many_remedies,
    sample_course,
    three_months,
)
from support.pdf_pages import Run, level_rules, page_texts, runs
from support.samples import line, phase

MARGIN = 18 / 25.4 * 72
A4_WIDTH = 210 / 25.4 * 72
PHASE_SIZE = 15.5


def pdf(course: Course) -> bytes:
    return handout_pdf(lay_out(course), CARD, today=MADE_ON, herbs=HerbWords(HERBS), paper="A4")


def words(*phases: Phase) -> str:
    course = sample_course(*phases, remedies=(JOINT_TEA, RUB))
    return " ".join(page_texts(pdf(course)))


def test_four_spells_off_are_written_out_and_five_are_left_to_the_weeks() -> None:
    """One week on and one off: the course starts on 6 January."""
    four = words(phase("base", "8 w", line("t1", "1 cup od 1 w on 1 w off")))
    assert (
        "Days off: 13 to 19 January 2027; 27 January to 2 February 2027; "
        "10 to 16 February 2027; 24 February to 2 March 2027." in four
    )
    assert "hatched" not in four
    five = words(phase("base", "10 w", line("t1", "1 cup od 1 w on 1 w off")))
    assert "Days off: 5 breaks, hatched on the sheet of weeks." in five
    assert "Joint tea: 5 breaks, hatched on the sheet of weeks" in five


def test_a_day_without_a_clock_time_has_what_is_taken_when_needed() -> None:
    found = words(phase("base", "2 w", line("t4", "1 application prn max 4/day")))
    _, day = found.split("Your day", 1)
    assert "When needed" in day
    assert "Comfrey and cayenne rub, 1 application, at most 4 times a day" in day


def test_a_day_without_as_needed_doses_has_no_place_for_them() -> None:
    found = words(phase("base", "2 w", line("t1", "1 cup od")))
    assert "Your day" in found
    assert "When needed" not in found
    assert "Days off" not in found


def test_a_course_of_which_nothing_is_taken_has_no_day_and_says_so() -> None:
    found = words(phase("washing-out", "2 w"))
    assert "Nothing to take." in found
    assert "Your day" not in found


# The heads of phases


def heads(found: list[Run]) -> list[Run]:
    """The names of phases above their rows."""
    return [run for run in found if run.size == pytest.approx(PHASE_SIZE)]


def test_a_dark_rule_goes_over_the_whole_width_above_every_phase() -> None:
    data = pdf(three_months())
    dark = [rule for rule in level_rules(data) if rule.thickness == pytest.approx(0.8)]
    names = [head.text for head in heads(runs(data))]
    assert names[:2] == ["Loading", "Maintenance"]
    for head in heads(runs(data)):
        (rule,) = [
            one
            for one in dark
            if one.page == head.page and head.y < one.y < head.y + 2 * head.size
        ]
        assert rule.left == pytest.approx(MARGIN, abs=1), head.text
        assert rule.right == pytest.approx(A4_WIDTH - MARGIN, abs=1), head.text


def test_a_phase_is_named_again_on_every_page_that_it_goes_on() -> None:
    found = runs(pdf(many_remedies(12)))
    (day,) = [run for run in found if run.text == "Your day"]
    remedies = (run for run in found if run.text.startswith("Remedy"))
    pages = {run.page for run in remedies if (run.page, -run.y) < (day.page, -day.y)}
    assert pages == {1, 2, 3}
    for number in (2, 3):
        first = next(run for run in found if run.page == number and run.y > 50)
        assert first.text == "Base"

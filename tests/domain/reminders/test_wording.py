"""What reminders say: amounts in titles, and in texts what a title leaves out."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from sennight.domain.courses.protocols import Line
from sennight.domain.courses.stretches import lay_out
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Method, TeaMaking
from sennight.domain.reminders.events import Event, ReminderChoices
from sennight.domain.reminders.reminders import reminder_events
from support.samples import course, day, line, phase


def entry(*lines: Line, tea: TeaMaking | None = None, join: int = 0) -> Event:
    """The first reminder of a course with these lines."""
    plan = course(phase("a", "1 w", *lines))
    plan = replace(plan, remedies=(replace(plan.remedies[0], tea=tea), *plan.remedies[1:]))
    return reminder_events(lay_out(plan), ReminderChoices(markers=False, join_within=join))[0]


def test_a_single_dose_says_nothing_twice() -> None:
    event = entry(line("t1", "1 cup od"))
    assert (event.title, event.text) == ("Remedy t1: 1 cup", "")


def test_joined_doses_each_have_their_amount_in_the_title_and_their_time_in_the_text() -> None:
    event = entry(line("t1", "1 cup od"), line("t2", "2 mL od ac"), join=45)
    assert event.title == "Remedy t2: 2 mL, Remedy t1: 1 cup"
    assert event.text == (
        "07:00 Remedy t2: 2 mL\n07:30 Remedy t1: 1 cup\nTake Remedy t2 before food."
    )


@pytest.mark.parametrize(
    ("take", "text"),
    [
        ("1 cup od with food", "Take Remedy t1 with food."),
        ("1 cup od pc", "Take Remedy t1 after food."),
        (
            "1 cup od and prn max 2/day",
            "If you need more: up to 2 extra doses of Remedy t1 a day.",
        ),
        (
            "1 cup od and prn gap 12 h",
            ("If you need more: up to 2 extra doses of Remedy t1 a day, at least 12 hours apart."),
        ),
    ],
)
def test_food_and_what_may_be_taken_as_needed(take: str, text: str) -> None:
    assert entry(line("t1", take)).text == text


def test_doses_that_differ_in_such_details_are_entries_of_their_own() -> None:
    plan = course(
        phase("a", "1 w", line("t1", "1 cup at 07:30")),
        phase("b", "1 w", line("t1", "1 cup at 07:30 with food")),
    )
    events = reminder_events(lay_out(plan), ReminderChoices(markers=False))
    assert [event.text for event in events] == ["", "Take Remedy t1 with food."]


@pytest.mark.parametrize(
    ("method", "text"),
    [
        (
            Method.INFUSION,
            (
                "For one cup: pour 250 mL of boiling water on 2.5 g of the dried herbs, "
                "cover it and wait 10 minutes. Strain it."
            ),
        ),
        (
            Method.DECOCTION,
            (
                "For one cup: simmer 2.5 g of the dried herbs in 250 mL of water for 10 minutes, "
                "covered. Strain it."
            ),
        ),
    ],
)
def test_how_a_cup_is_made(method: Method, text: str) -> None:
    tea = TeaMaking(Fraction(5, 2), method=method)
    assert entry(line("t1", "1 cup od"), tea=tea).text == text
    assert entry(line("t1", "50 mL od"), tea=tea).text == ""


@pytest.mark.parametrize(
    ("form", "take", "text"),
    [
        (Form.TINCTURE, "5 mL od", "Remedy t1: take in a little water."),
        (Form.CAPSULE, "1 capsule od", "Remedy t1: swallow with a full glass of water."),
        (Form.PRODUCT, "1 piece od", ""),
        (Form.MOUTHWASH, "5 mL od", "Remedy t1: spit it out afterwards: do not swallow it."),
    ],
)
def test_how_others_are_taken_or_used(form: Form, take: str, text: str) -> None:
    plan = course(phase("a", "1 w", line("t1", take)))
    plan = replace(plan, remedies=(replace(plan.remedies[0], form=form), *plan.remedies[1:]))
    (event,) = reminder_events(lay_out(plan), ReminderChoices(markers=False))
    assert event.text == text


def test_a_rub_says_how_it_is_used_and_a_line_where() -> None:
    one = replace(line("t1", "1 application od"), site="right knee", note="with friction")
    plan = course(phase("a", "1 w", one))
    rub = replace(plan.remedies[0], form=Form.RUB)
    plan = replace(plan, remedies=(rub, *plan.remedies[1:]))
    told = {
        discreet: reminder_events(
            lay_out(plan), ReminderChoices(markers=False, discreet=discreet), given=day(-7)
        )[-1].text
        for discreet in (False, True)
    }
    assert told[False].startswith("Remedy t1: right knee. With friction.")
    assert told[False].endswith(
        "Remedy t1: rub in a thin layer, on unbroken skin only, and wash your hands afterwards."
    )
    assert "knee" not in told[True]
    assert "Rub A: rub in a thin layer" in told[True]

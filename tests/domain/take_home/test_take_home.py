"""The neutral document: what the card and the sheet say, and what they leave out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from datetime import date, time, timedelta
from fractions import Fraction
from typing import Any

import pytest

from sennight.domain.courses.clients import Client, Sex
from sennight.domain.courses.courses import (
    Course,
    End,
    Flare,
    Join,
    Pause,
    PauseMode,
    Redirect,
    Reformulate,
    Stop,
)
from sennight.domain.courses.protocols import AdviceLine, Ceiling, Gate, Phase, Protocol
from sennight.domain.day import ClientDay, Moment
from sennight.domain.directions.directions import Unit
from sennight.domain.follow_up.consultations import Appointment
from sennight.domain.practices import PracticeCard
from sennight.domain.remedies.form_facts import Filling
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Base, Ingredient, Portion, Remedy, TeaMaking
from sennight.domain.reminders.published import PhoneCalendar
from sennight.domain.safety.client_words import ALCOHOL
from sennight.domain.safety.for_client import ClientSentence, Place
from sennight.domain.take_home.choices import USUAL, ClockHours, Reach, SheetChoices
from sennight.domain.take_home.document import (
    Entry,
    Grid,
    Mark,
    Part,
    Section,
    Sentence,
    TakeHome,
    Tone,
)
from sennight.domain.take_home.making import how_made, spoons
from support.handout_samples import (
    CAPSULES,
    CARD,
    JOINT_TEA,
    NIGHT_TEA,
    REMEDIES,
    RUB,
    START,
    TINCTURE,
    document_of,
    sample_course,
    three_months,
)
from support.samples import length, line, phase, take

TEA_ALONE = phase("a", "4 w", line("t1", "1 cup od"))
RESCUE = Phase("rescue", "rescue", length("3 d"), (line("t2", "5 mL qds"),))


def day(number: int) -> date:
    return START + timedelta(days=number - 1)


def words(part: object) -> Iterator[str]:
    """All that a document or a part of it says."""
    if isinstance(part, str):
        yield part
    elif isinstance(part, tuple):
        for inner in part:
            yield from words(inner)
    elif is_dataclass(part):
        for field in fields(part):
            yield from words(getattr(part, field.name))


def said(course: Course, **more: Any) -> str:  # noqa: ANN401 - whatever the facts have
    return " | ".join(words(document_of(course, **more)))


def part(document: TakeHome, wanted: Part) -> Section:
    return next(s for s in (*document.card, *document.sheet) if s.part is wanted)


def parts(document: TakeHome) -> set[Part]:
    return {section.part for section in (*document.card, *document.sheet)}


def entry(document: TakeHome, name: str) -> str:
    """What is said at a remedy."""
    section = part(document, Part.REMEDIES)
    return next(
        " ".join(words(block.blocks))
        for block in section.blocks
        if isinstance(block, Entry) and isinstance(block.head, Mark) and block.head.name == name
    )


def grids(document: TakeHome) -> list[Grid]:
    return [
        block
        for section in (*document.card, *document.sheet)
        for block in section.blocks
        if isinstance(block, Grid)
    ]


def tea_course(*revisions: object, take_it: str = "1 cup od", weeks: int = 4) -> Course:
    base = phase("a", f"{weeks} w", line("t1", take_it))
    return sample_course(base, remedies=(JOINT_TEA, NIGHT_TEA), revisions=revisions)  # type: ignore[arg-type]


# Which days it is for


def test_it_goes_to_the_next_visit_and_says_that_the_course_goes_on() -> None:
    document = document_of(three_months(), today=START, choices=USUAL)
    assert document.days == "From Wednesday 6 January to Tuesday 16 February 2027"
    assert "Your course continues after Tuesday 16 February." in " ".join(words(document))


def test_a_visit_within_a_week_does_not_cut_it_short() -> None:
    document = document_of(three_months(), today=date(2027, 2, 12), choices=USUAL)
    assert document.days == "From Friday 12 February to Tuesday 30 March 2027"
    assert "By Tuesday 16 February. Call us" in " ".join(words(document.card))


def test_it_begins_today_and_the_past_is_gone() -> None:
    document = document_of(three_months(), today=date(2027, 2, 20))
    assert "drink 1 cup three times" not in " ".join(words(document)).lower()


def test_a_course_that_is_over_says_so_and_tells_of_no_dose_to_take_now() -> None:
    document = document_of(tea_course(), today=day(60))
    assert "This course is over. Do not take these remedies again" in " ".join(words(document))
    assert not grids(document)
    assert part(document, Part.REMEDIES).title == "What you took"
    assert "From Wednesday 6 January to Tuesday 2 February: drink" in entry(document, "Joint tea")
    assert Part.FLARE not in parts(document)
    assert Part.DATES not in parts(document)


def test_a_course_without_a_day_is_refused() -> None:
    with pytest.raises(ValueError, match="the course has no day left"):
        document_of(tea_course(End(on=START, first=START)))


# The card


def test_the_weeks_of_a_phase_are_called_by_what_they_are() -> None:
    steady = Phase("rest", "restoring", length("1 w"), TEA_ALONE.lines)
    going_on = Phase("keeping", "maintenance", length("2 w"), TEA_ALONE.lines)
    course = sample_course(steady, going_on, remedies=(JOINT_TEA,))
    assert "(week 1: rest)" in said(course)
    assert "Your day now (weeks 2 to 3: keep going)" in said(course, today=day(9))


def test_the_next_change_is_told_with_its_weekday() -> None:
    pause = Pause(on=START, first=day(5), last=day(6), mode=PauseMode.SKIP)
    told = [said(tea_course(pause), today=day(n)) for n in (2, 5, 10)]
    assert "Sunday 10 January: a break begins: take nothing." in told[0]
    assert "Tuesday 12 January: your break is over." in told[1]
    assert "Tuesday 2 February is the last day of your course." in told[2]


def test_a_change_names_each_remedy_that_it_concerns() -> None:
    course = sample_course(
        phase("a", "2 w", line("t1", "1 cup od"), line("t2", "5 mL od")),
        phase("b", "2 w", line("t1", "1 cup bd"), line("t3", "1 capsule od")),
    )
    change = (
        "Wednesday 20 January: how you take Joint tea changes; no more Warming tincture; "
        "also take Boswellia capsules."
    )
    assert change in said(course)


def test_remedies_that_change_alike_are_named_together() -> None:
    both = (line("t1", "1 cup od 1 w on 1 w off"), line("t2", "5 mL od 1 w on 1 w off"))
    told = said(sample_course(phase("a", "4 w", *both)))
    assert "Wednesday 13 January: days off start for Joint tea and Warming tincture." in told


def test_a_flare_that_comes_is_the_next_change_and_then_the_plan_of_the_day() -> None:
    flare = Flare(on=START, first=day(3), rescue="rescue")
    course = sample_course(TEA_ALONE, RESCUE, revisions=(flare,))
    assert "Friday 8 January: your flare-up plan begins." in said(course)
    document = document_of(course, today=day(3))
    assert part(document, Part.NOW).title == "Now: flare-up plan"
    assert "This plan runs from Friday 8 to Sunday 10 January." in " ".join(words(document))


def test_a_stopped_remedy_is_named_on_the_card_and_not_described() -> None:
    course = sample_course(
        phase("a", "4 w", line("t1", "1 cup od"), line("t2", "5 mL od")),
        RESCUE,
        revisions=(Stop(on=day(3), remedy="t2", first=day(3)),),
    )
    document = document_of(course, today=day(10))
    text = " ".join(words(document))
    assert "Do not use Warming tincture any more." in text
    assert "Stopped: Warming tincture. Do not use it in a flare-up either." in text
    assert "There is nothing to take from this plan now." in text
    assert "5 mL" not in text


def test_a_fresh_set_is_called_as_its_file_and_the_old_calendar_goes_first() -> None:
    text = said(tea_course(), phone=PhoneCalendar("My plan 5 set 2", "My plan 5"))
    assert text.index("Remove the old calendar “My plan 5” from") < text.index("set 2”.")
    again = said(tea_course(), phone=PhoneCalendar("My plan 5 set 2"))
    assert "set 2”" in again
    assert "Remove the old calendar" not in again


def test_how_long_the_supply_lasts_is_told_where_it_is_known() -> None:
    told = said(tea_course(), lasts_until={"t1": day(20)})
    assert "Supply | Joint tea lasts until about Monday 25 January. Ask for more" in told
    soon = said(tea_course(), today=day(13), lasts_until={"t1": day(20)})
    assert "until about Monday 25 January. Ask us for more now." in soon, "a week before is today"
    assert "Supply" not in said(tea_course())
    assert "Supply" not in said(tea_course(), today=day(22), lasts_until={"t1": day(20)})


def test_whom_to_call_is_the_telephone_else_the_address_else_a_line_to_fill_in() -> None:
    assert "Call us: 01632 960 118 | strong | tel:01632960118" in said(tea_course())
    no_phone = replace(CARD, phone="")
    assert "Write to us: hello@withylane.example" in said(tea_course(), card=no_phone)
    assert "Call us: ____" in said(tea_course(), card=PracticeCard("Withy Lane"))


def test_ceilings_and_what_is_advised_beside_the_remedies() -> None:
    base = replace(TEA_ALONE, advice=(AdviceLine("walk for 20 minutes"),))
    later = replace(phase("b", "2 w", line("t1", "1 cup bd")), advice=(AdviceLine("rest"),))
    rescue = replace(RESCUE, advice=(AdviceLine("keep warm"),))
    course = sample_course(base, later, rescue, remedies=(JOINT_TEA, TINCTURE))
    ceilings = (Ceiling(("t1", "t2"), 4), Ceiling(("t9",), 2))
    text = said(replace(course, protocol=replace(course.protocol, ceilings=ceilings)))
    assert "Joint tea and Warming tincture, all together: no more than four times" in text
    assert "t9" not in text
    assert "Walk for 20 minutes. | As well as your remedies:" in text
    assert "Rest. | From Wednesday 3 February, as well as your remedies:" in text
    assert "Keep warm. | As well as your remedies:" in text


def test_a_phase_behind_a_gate_begins_only_if_it_is_time() -> None:
    gated = replace(phase("a", "1 w", line("t1", "1 cup od")), gate=Gate("pain", 30))
    after = phase("b", "1 w", line("t1", "1 cup bd"))
    told = "how you take Joint tea changes. At your visit we will first decide"
    assert told in said(sample_course(gated, after))
    assert "First we look" not in said(sample_course(replace(gated, gate=None), after))


@pytest.mark.parametrize(
    ("client", "is_told"),
    [
        (Client("Una"), True),
        (Client("Una", sex=Sex.FEMALE, born=date(1990, 1, 1)), True),
        (Client("Una", born=date(2020, 1, 1)), False),
        (Client("Una", sex=Sex.FEMALE, born=date(1950, 1, 1)), False),
        (Client("Odo", sex=Sex.MALE), False),
    ],
)
def test_of_pregnancy_only_those_are_told_whom_it_concerns(client: Client, is_told: bool) -> None:
    assert ("pregnant" in said(replace(tea_course(), client=client))) is is_told


# The client's day


def late_course(take_it: str, *revisions: object) -> Course:
    times = {Moment.RISING: time(10), Moment.BREAKFAST: time(10, 30), Moment.MID_MORNING: time(11)}
    client = Client("Una Example", day=ClientDay.at({**times, Moment.BEDTIME: time(0, 30)}))
    return replace(tea_course(*revisions, take_it=take_it), client=client)


def test_a_night_past_midnight_is_called_by_the_day_before() -> None:
    course = late_course("1 cup nocte", Stop(on=START, remedy="t1", first=day(3)))
    document = document_of(course)
    (grid,) = grids(document)
    assert [(row.time, row.moment) for row in grid.rows] == [("00:30", "bedtime, after midnight")]
    text = " ".join(words(document))
    assert "Friday’s 00:30 dose comes in the night between Friday and Saturday." in text
    assert (
        "Stop on Friday 8 January: take none from then on. The night from Thursday to Friday "
        "still counts for the day before." in text
    )


def test_a_clock_time_past_midnight_has_no_other_name_and_one_before_rising_says_so() -> None:
    (grid,) = grids(document_of(late_course("1 cup at 01:00,14:20")))
    assert [(row.time, row.moment) for row in grid.rows] == [
        ("01:00", "in the night, before you get up"),
        ("14:20", ""),
    ]
    (grid,) = grids(document_of(late_course("1 cup every 7 h")))
    assert [(row.time, row.moment) for row in grid.rows][-1] == ("00:00", "after midnight")


def test_times_on_the_twelve_hour_clock() -> None:
    twelve = SheetChoices(hours=ClockHours.TWELVE, reach=Reach.WHOLE)
    course = tea_course(take_it="1 cup at 12:00,18:05,breakfast")
    (grid,) = grids(document_of(course, choices=twelve))
    assert [row.time for row in grid.rows] == ["7:30 am", "12 noon", "6:05 pm"]
    (grid,) = grids(document_of(late_course("1 cup every 7 h"), choices=twelve))
    assert [row.time for row in grid.rows] == ["10:00 am", "5:00 pm", "12 midnight"]
    assert "at breakfast, 12 noon and 6:05 pm" in said(course, choices=twelve)


def test_food_is_said_where_the_times_do_not_say_it() -> None:
    """Before a meal the row of the time says it; with food and for prn it is said below."""

    def notes(take_it: str) -> tuple[str, ...]:
        (grid,) = grids(document_of(tea_course(take_it=take_it)))
        return tuple(note.words for note in grid.columns[0].notes)

    assert notes("1 cup tds ac") == ()
    assert notes("1 cup tds with food") == ("Take with food.",)
    assert notes("1 cup mane ac") == ("Take before food.",)
    assert notes("1 cup every 6 h pc") == ("Take after food.",)
    assert notes("1 cup prn max 2/day pc") == (
        "Take after food.",
        "No more than 2 doses a day.",
    )


def test_hours_apart_stand_beside_the_clock_times() -> None:
    says = "keep 2 hours between each dose and your iron"
    sentence = ClientSentence(Place.DAY, says, f"Joint tea: {says}.", ("t1",), (450,))
    course = tea_course(take_it="1 cup bd")
    document = document_of(course, told=(sentence,))
    assert grids(document)[0].columns[0].notes == (Sentence(f"At 07:30: {says}.", Tone.STRONG),)
    assert "Keep 2 hours between each dose and your iron." in entry(document, "Joint tea")


def test_days_on_which_nothing_is_taken_are_told() -> None:
    course = sample_course(TEA_ALONE, phase("washing-out", "1 w"), remedies=(JOINT_TEA,))
    assert "Nothing to take. Wednesday 3 to Tuesday 9 February." in said(course)


# The remedies


def test_what_is_told_for_several_reasons_is_said_once() -> None:
    """Drowsiness of each remedy, of two together and of all: once, with all that it is about."""
    says = "you may be drowsy"
    by = [ClientSentence(Place.DRIVING, says, f"{says}.", ids) for ids in (("t1", "t2"), ("t2",))]
    text = said(tea_course(), told=(*by, replace(by[0], remedies=("t1",))))
    assert text.casefold().count(says) == 1


def test_what_it_is_for_and_what_this_client_has_to_mind_stand_with_the_remedy() -> None:
    sun = ClientSentence(Place.SUN, "keep out of the sun", "Joint tea: keep out …", ("t1",))
    document = document_of(tea_course(), told=(sun,), purposes={"t1": ("ease pain", "warm you")})
    text = entry(document, "Joint tea")
    assert "Used to ease pain and warm you." in text
    assert "Keep out of the sun." in text


def test_what_concerns_several_remedies_stands_apart_and_all_of_them_need_no_names() -> None:
    course = sample_course(
        phase(
            "a", "1 w", line("t1", "1 cup od"), line("t2", "5 mL od"), line("t3", "1 capsule od")
        )
    )
    two = ClientSentence(Place.DRIVING, "do not drive", "A and B: do not drive.", ("t1", "t2"))
    every = ("t1", "t2", "t3")
    back = ClientSentence(Place.COME_BACK, "come back", "A, B and C: come back.", every)
    stop = ClientSentence(Place.STOP, "stop if you bleed", "A: stop if you bleed.", ("t1",))
    gone = ClientSentence(Place.DRIVING, "rest", "Old tea: rest.", ("not-here",))
    any_of_them = ClientSentence(Place.DRIVING, "ask", "Ask before you drive.", ())
    text = said(course, told=(two, gone, any_of_them, back, stop), checked="We checked this.")
    first, second = (remedy.name for remedy in REMEDIES[:2])
    drive = f"{first} and {second}: do not drive. | Ask before you drive."
    assert f"{drive} | Come back. | We checked this." in text
    assert "Old tea" not in text
    assert "stop if you bleed." in text
    by = [replace(back, day=day(3)), replace(back, day=day(2))]
    told = [said(course, today=day(3), told=(sentence,)) for sentence in by]
    assert ["Come back." in text for text in told] == [True, False], "left out once past"


def test_a_bath_is_one_bath() -> None:
    bath = replace(JOINT_TEA, id="t9", name="Foot bath", form=Form.BATH)
    course = sample_course(phase("a", "1 w", line("t9", "1 application od")), remedies=(bath,))
    assert "1 bath" in said(course)


def test_a_titration_is_a_table() -> None:
    steps = tuple((n, f"{n + 1} mL tds") for n in range(1, 12))
    course = sample_course(phase("a", "12 w", line("t2", "1 mL tds", *steps)))
    text = entry(document_of(course), "Warming tincture")
    assert "Wednesday 6 to Tuesday 12 January Take 1 mL three times a day" in text
    assert "Wednesday 24 to Tuesday 30 March Take 12 mL three times a day" in text


def test_a_changed_formula_says_from_when_it_is_made_otherwise() -> None:
    other = Reformulate(on=START, remedy="t1", first=day(10), formula="t5")
    text = entry(document_of(tea_course(other)), "Joint tea")
    assert "From Friday 15 January it is made differently." in text
    assert "let it simmer for 15 minutes" in text


def test_how_it_is_used_is_not_said_again_of_another_formula() -> None:
    other = replace(CAPSULES, id="t7", name="Other capsules")
    changed = Reformulate(on=START, remedy="t3", first=day(3), formula="t7")
    course = sample_course(
        phase("a", "1 w", line("t3", "1 capsule od")),
        remedies=(CAPSULES, other),
        revisions=(changed,),
    )
    text = entry(document_of(course), "Boswellia capsules")
    assert text.count("Swallow capsules whole") == 1
    assert text.count("Each capsule contains") == 2


def test_a_tea_in_millilitres_has_no_cups_to_make_for_the_day() -> None:
    text = entry(document_of(tea_course(take_it="250 mL bd")), "Joint tea")
    assert "For the day" not in text


def test_cups_of_the_day_are_told_with_their_dates_where_they_change() -> None:
    base = phase("a", "4 w", line("t1", "1 cup tds", (2, "1 cup bd"), (3, "1 cup od")))
    text = entry(document_of(sample_course(base)), "Joint tea")
    assert "For the day’s 3 cups: 9 g (about 7 level teaspoons) in 750 mL (from Wed" in text
    assert "For the day’s 2 cups: 6 g (about 4½ level teaspoons) in 500 mL (from Wed" in text


def test_a_joined_remedy_has_its_days() -> None:
    joined = Join(on=START, remedy="t5", first=day(8), last=day(9), directions=take("1 cup od"))
    text = entry(document_of(tea_course(joined)), "Night tea")
    assert "From Wednesday 13 to Thursday 14 January: drink 1 cup once a day" in text


def test_one_day_is_on_and_not_from() -> None:
    once = Redirect(on=START, remedy="t1", first=day(8), last=day(8), directions=take("2 cups od"))
    text = entry(document_of(tea_course(once)), "Joint tea")
    assert "Wednesday 13 January Drink 2 cups once a day" in text


def test_days_over_the_turn_of_a_year_have_both_years() -> None:
    course = replace(tea_course(), start=date(2027, 12, 29))
    days = document_of(course, today=course.start).days
    assert days == "From Wednesday 29 December 2027 to Tuesday 25 January 2028"


def test_doses_as_needed_beside_the_timed_ones_are_told_with_their_sum() -> None:
    text = entry(document_of(tea_course(take_it="1 cup bd and prn max 2/day")), "Joint tea")
    assert "If you need more: up to 2 extra doses a day. That is no more than 4 doses" in text
    text = entry(document_of(tea_course(take_it="1 cup bd and prn max 1/day")), "Joint tea")
    assert "up to 1 extra dose a day. That is no more than 3 doses a day in all." in text


def test_counted_days_are_told_with_the_first_and_where_they_begin_again() -> None:
    text = entry(document_of(tea_course(take_it="1 cup od every 3 days")), "Joint tea")
    assert "Every 3 days: first on Wednesday 6 January." in text
    pause = Pause(on=START, mode=PauseMode.SKIP, first=day(8), last=day(10))
    text = entry(document_of(tea_course(pause, take_it="1 cup od every 3 days")), "Joint tea")
    assert "first on Wednesday 6 January, and after each gap again from" in text


def test_remedies_that_are_used_alike_say_it_once() -> None:
    second = replace(RUB, id="t6", name="Birch rub")
    other = replace(CAPSULES, id="t7", name="Ginger capsules")
    course = sample_course(
        phase(
            "a",
            "1 w",
            *(line(name, "1 application od") for name in ("t4", "t6")),
            *(line(name, "1 capsule od") for name in ("t3", "t7")),
        ),
        remedies=(*REMEDIES, second, other),
    )
    document = document_of(course)
    assert entry(document, "Birch rub").count("How to use: see D, Comfrey") == 1
    assert "external use only" in entry(document, "Birch rub")
    assert "How to use: see C, Boswellia" in entry(document, "Ginger capsules")


def test_where_it_is_rubbed_in_is_said() -> None:
    rub = replace(line("t4", "1 application od"), site="both knees", note="after a bath")
    text = entry(document_of(sample_course(phase("a", "1 w", rub))), "Comfrey and cayenne rub")
    assert "Where: both knees." in text
    assert "After a bath." in text


def test_a_tea_without_directions_for_making_it_has_none() -> None:
    bare = replace(JOINT_TEA, tea=None)
    assert "For one cup" not in said(sample_course(TEA_ALONE, remedies=(bare,)))


def test_amounts_that_change_step_by_step_are_one_table_with_the_days_of_each() -> None:
    steps = tuple((week, f"{week + 1} cups tds") for week in range(1, 5))
    titrated = phase("a", "6 w", line("t1", "1 cup tds", *steps), line("t2", "5 mL od"))
    document = document_of(sample_course(titrated))
    now, later = grids(document)
    assert [row.cells[0] for row in now.rows] == ["1 cup"] * 3
    assert later.rows[0].cells == ("see below", "5 mL")
    assert later.days == "Wednesday 13 January to Tuesday 16 February"
    tea, drops = later.columns
    assert tea.steps[0] == ("Wednesday 13 to Tuesday 19 January", "2 cups")
    assert tea.steps[-1] == ("Wednesday 3 to Tuesday 16 February", "5 cups")
    assert (len(tea.steps), drops.steps) == (4, ())
    change = " ".join(words(part(document_of(sample_course(titrated), today=day(9)), Part.DATES)))
    assert "Wednesday 20 January: how you take Joint tea changes." in change


def test_days_off_that_end_are_the_next_change() -> None:
    course = tea_course(take_it="1 cup od 1 w on 1 w off")
    assert "Wednesday 13 January: days off start for Joint tea." in said(course)
    assert "Wednesday 20 January: start Joint tea again." in said(course, today=day(9))


# Flare-up plans


def test_plans_are_called_by_their_names_and_say_what_becomes_of_the_rest() -> None:
    knees = Phase("bad-knees", "rescue", length("1 w"), (line("t1", "1 cup qds"),))
    nights = Phase("bad-nights", "rescue", None, (line("t5", "1 cup nocte"),), stand_in=True)
    text = said(sample_course(TEA_ALONE, knees, nights))
    assert "Flare-up plan “Bad knees”" in text
    assert "Then take these for 1 week. For Joint tea, follow this plan only." in text
    assert "Flare-up plan “Bad nights”" in text
    # A plan that stands in never reads as if medicines were to rest: a client on warfarin who
    # stops it for days is in danger.
    assert (
        "Then take these. Stop your other herbal remedies on those days. Go on with the medicines "
        "that your doctor prescribed." in text
    )
    assert "Take nothing" not in text


def test_a_trigger_says_when_the_client_begins_on_card_and_sheet() -> None:
    knees = replace(RESCUE, id="bad-knees", trigger="the knee is hot, or pain is 7 or more.")
    course = sample_course(TEA_ALONE, knees)
    document = document_of(course)
    begin = "Start when the knee is hot, or pain is 7 or more."
    card = " ".join(words(part(document, Part.DATES)))
    assert f"{begin} See your flare-up plan “Bad knees” on the next pages." in card
    plan = " ".join(words(part(document, Part.FLARE)))
    assert f"{begin} strong  Call us on that day. Then take these for 3 days." in plan
    flare = Flare(on=START, first=day(3), rescue="bad-knees")
    dated = sample_course(TEA_ALONE, knees, revisions=(flare,))
    plan = " ".join(words(part(document_of(dated), Part.FLARE)))
    assert "This plan runs from Friday 8 to Sunday 10 January." in plan
    assert "Later, start it again when the knee is hot, or pain is 7 or more." in plan
    running = document_of(dated, today=day(4))
    assert "Begin" not in " ".join(words(part(running, Part.DATES)))
    stop = Stop(on=START, remedy="t2", first=START)
    stopped = sample_course(TEA_ALONE, knees, revisions=(stop,))
    assert "Begin" not in said(stopped, today=day(3))


def test_what_is_only_for_a_flare_up_is_described_there_first_while_it_runs() -> None:
    second = replace(RESCUE, id="bad-nights")
    flare = Flare(on=START, first=day(3), rescue="rescue")
    course = sample_course(TEA_ALONE, RESCUE, second, revisions=(flare,))
    for today, first in ((day(1), Part.REMEDIES), (day(3), Part.FLARE)):
        document = document_of(course, today=today)
        assert document.sheet[0].part is first
        assert "Warming tincture" not in " ".join(words(part(document, Part.REMEDIES)))
        assert " ".join(words(document)).count("Shake the bottle first.") == 1
    over = document_of(course, today=day(200))
    assert "Only in a flare-up." in entry(over, "Warming tincture")


def test_steps_of_a_plan_beyond_its_own_length_are_left_out() -> None:
    steps = ((1, "2.5 mL qds"), (3, "1 mL qds"))
    short = Phase("rescue", "rescue", length("2 w"), (line("t2", "5 mL qds", *steps),))
    text = said(sample_course(TEA_ALONE, short))
    assert "After 1 week: Take 2.5 mL" in text
    assert "After 3 weeks" not in text
    months = replace(short, length=length("1 mo"))
    assert "After 3 weeks: Take 1 mL" in said(sample_course(TEA_ALONE, months))


def test_a_remedy_that_will_be_stopped_says_so_in_its_plan() -> None:
    stop = Stop(on=START, remedy="t2", first=day(10))
    text = said(sample_course(TEA_ALONE, RESCUE, revisions=(stop,)))
    assert text.count("Stop on Friday 15 January: take none from then on.") == 1


def test_where_it_is_used_in_a_flare_up_is_said_there() -> None:
    hands = replace(RESCUE.lines[0], site="both hands")
    assert "Where: both hands." in said(sample_course(TEA_ALONE, replace(RESCUE, lines=(hands,))))


# Making


@pytest.mark.parametrize(
    ("grams", "told"),
    [
        ("1.3", "about 1 level teaspoon"),
        ("6.5", "about 5 level teaspoons"),
        ("0.2", ""),
        ("30", ""),
    ],
)
def test_spoons_beside_grams(grams: str, told: str) -> None:
    """1.3 g a level teaspoon: an excerpt of a reference on herbal medicines (read)."""
    assert spoons(Fraction(grams)) == told
    made = how_made(Form.TEA, TeaMaking(Fraction(grams)))
    assert (f"({grams} g is {told}.)" in made) == bool(told)


def test_a_formula_without_parts_names_its_herbs() -> None:
    bare = replace(
        JOINT_TEA, ingredients=tuple(replace(i, parts=None) for i in JOINT_TEA.ingredients)
    )
    course = sample_course(TEA_ALONE, remedies=(bare,))
    assert "Made from: Nettle leaf, Meadowsweet and Ginger." in said(course)
    empty = replace(JOINT_TEA, ingredients=())
    assert "Made from" not in said(sample_course(TEA_ALONE, remedies=(empty,)))


def test_what_is_said_of_one_remedy_alone_stays_where_another_is_used_alike() -> None:
    """Two powders: how each is stirred in is its own."""
    first = Remedy("t8", "Root powder", Form.POWDER, (Ingredient("ginger", Fraction(1)),))
    second = replace(first, id="t9", name="Seed powder", stirred_into="warm milk")
    course = sample_course(
        phase("a", "1 w", line("t8", "1 g bd"), line("t9", "1 g bd")), remedies=(first, second)
    )
    text = entry(document_of(course), "Seed powder")
    assert "Stir each dose into warm milk." in text
    assert "How to use: see A, Root powder." in text


def test_what_is_in_a_base_is_told_with_it() -> None:
    cream = Remedy(
        "t8",
        "Hand cream",
        Form.CREAM,
        (
            Ingredient("comfrey-root", percent=Fraction(20), filling=Filling.INFUSED_OIL),
            Ingredient("lemon-balm", drops=Fraction(10), filling=Filling.ESSENTIAL_OIL),
        ),
        base=Base("a plain cream"),
    )
    course = sample_course(phase("a", "1 w", line("t8", "1 application bd")), remedies=(cream,))
    text = entry(document_of(course), "Hand cream")
    assert "Rub in a thin layer twice a day" in text
    assert (
        "Contains, by weight: Comfrey root infused oil 20 %, Lemon balm essential oil 10 drops "
        "and a plain cream." in text
    )


def test_a_stop_by_day_says_nothing_of_the_night() -> None:
    stop = Stop(on=START, remedy="t1", first=day(8))
    text = entry(document_of(tea_course(stop)), "Joint tea")
    assert "Stop on Wednesday 13 January: take none from then on." in text
    assert "The night from" not in text


def test_a_bought_in_product_says_what_its_milligrams_are_in() -> None:
    in_capsules = replace(CAPSULES, mg_in=Portion(Fraction(2), Unit.CAPSULE))
    course = sample_course(
        phase("a", "1 w", line(in_capsules.id, "2 capsules bd")), remedies=(in_capsules,)
    )
    assert "In 2 capsules:" in entry(document_of(course), in_capsules.name)


def test_a_card_with_nothing_but_a_telephone_names_nobody() -> None:
    text = said(tea_course(), card=PracticeCard("", phone="01632 960 118"))
    assert "Call us: 01632 960 118" in text
    assert "mailto:" not in text


def test_the_papers_beside_a_booklet_are_of_full_size() -> None:
    assert SheetChoices("A5").full_size == "A4"
    assert (SheetChoices("booklet").full_size, SheetChoices("booklet").page_size) == ("A4", "A5")
    assert SheetChoices("Letter").full_size == "Letter"


def test_the_protocol_itself_may_be_bare() -> None:
    course = replace(tea_course(), protocol=Protocol("", (TEA_ALONE,)))
    assert "Joint tea" in said(course)


def test_an_appointment_that_was_agreed_is_the_next_visit() -> None:
    def card(agreed: Appointment) -> str:
        made = document_of(three_months(), choices=USUAL, today=START, appointment=agreed)
        return " ".join(words(made.card))

    day = date(2027, 1, 20)
    assert "Wednesday 20 January at 10:30." in card(Appointment(day, time(10, 30)))
    assert "On Wednesday 20 January. Call us to agree a time." in card(Appointment(day))
    past = card(Appointment(START, time(10, 30)))
    assert "By Tuesday 16 February. Call us" in past, "one that is not to come counts no more"


def test_the_sheet_goes_to_the_visit_that_was_agreed_unless_it_is_very_soon() -> None:
    def days(day: date) -> str:
        agreed = Appointment(day)
        return document_of(three_months(), today=START, choices=USUAL, appointment=agreed).days

    assert days(date(2027, 1, 20)).endswith("to Wednesday 20 January 2027")
    assert days(date(2027, 1, 8)).endswith("to Tuesday 16 February 2027")


def test_of_one_remedy_nothing_is_said_twice_nor_less_than_is_said_already() -> None:
    more, most = (
        ClientSentence(Place.USE, says, f"Joint tea: {says}.", ("t1",))
        for says in ("use no more than this sheet says", ALCOHOL)
    )
    once = said(tea_course(), told=(more, more))
    assert once.count("Use no more than this sheet says.") == 1
    both = said(tea_course(), told=(more, most))
    assert "Because of the alcohol, take no more" in both
    assert "Use no more than this sheet says." not in both

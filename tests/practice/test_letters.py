"""The practice's own papers and letters: what stands in them, and that all of it can be read."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pypdfium2 as pdfium  # type: ignore[import-untyped]
from pypdfium2 import raw

from sennight.domain.courses.clients import Fact, Reaction, Topic
from sennight.domain.courses.courses import Course, Redirect, Stop
from sennight.domain.courses.protocols import Ceiling
from sennight.domain.dates import Span
from sennight.domain.practices import PracticeCard
from sennight.practice.course_reading import read_course
from sennight.practice.letters import full_names, herbs_of, practitioner_copy, start_letter
from sennight.practice.reactions import reaction_report
from sennight.practice.red_flags import RedFlagCheck, Referral, referral_letter
from sennight.publish.pdf.taken import flare_rows, remedy_rows
from support.handout_samples import CARD, START, three_months
from support.pdf_pages import level_rules, page_texts, runs
from support.pdf_ua import problems_of
from support.samples import course as sample_course
from support.samples import phase, take

TODAY = START + timedelta(days=20)


def known() -> Course:
    course = three_months()
    client = replace(
        course.client,
        born=date(1961, 4, 17),
        medicines=(Fact("metformin", name="Metformin", dose="500 mg twice a day"),),
        conditions=(Fact("gout", since=date(2019, 5, 1)),),
        asked=(Topic.ALLERGIES,),
        reactions=(Reaction(date(2020, 2, 3), "Old tea", ("yarrow",), "A rash"),),
    )
    mistaken = Redirect(
        on=TODAY,
        reason="",
        remedy="t1",
        first=TODAY,
        directions=take("2 cups tds"),
        void="typed twice",
    )
    stop = Stop(on=TODAY, reason="itching", remedy="t3", first=TODAY)
    return replace(course, client=client, revisions=(*course.revisions, mistaken, stop))


def said(data: bytes) -> str:
    return " ".join(" ".join(page_texts(data)).split())


def test_the_copy_has_the_whole_course_and_can_be_read_aloud() -> None:
    reading = read_course(known(), today=TODAY)
    data = practitioner_copy(reading, CARD)
    words = said(data)
    for told in (
        "Una Example (born 17 April 1961, 65 years old)",
        "Metformin 500 mg twice a day",
        "Gout (since 1 May 2019)",
        "Asked: none.",
        "3 February 2020, Old tea: A rash.",
        "ratio 1:3, 60 % ethanol",
        "2 parts; Meadowsweet",
        "6 January to 16 February 2027",
        "Boswellia",
        "flare",
    ):
        assert told in words, told
    assert len({row.herb for row in reading.all_exposures}) > 4
    for herb in {row.herb for row in reading.all_exposures}:
        assert reading.materia_medica.names[herb] in words
    assert "Entered in error" in words
    assert problems_of(data) == []


def test_a_course_with_no_remedy_has_a_copy_too() -> None:
    rest = sample_course(phase("rest", "2 w"))
    assert "No remedy is taken." in said(practitioner_copy(read_course(rest, today=TODAY), CARD))


def test_what_was_entered_in_error_is_struck_through() -> None:
    """A line goes through its words, and through no others."""
    data = practitioner_copy(read_course(known(), today=TODAY), CARD)
    lines = level_rules(data)
    struck = [
        run.text
        for run in runs(data)
        for line in lines
        if run.page == line.page
        and run.y < line.y < run.y + run.size / 2
        and line.left <= run.x + 1 < line.right
    ]
    assert any("Entered in error" in words or "typed twice" in words for words in struck)
    assert not any("itching" in words for words in struck)


def test_the_letter_at_the_start_has_herbs_doses_dates_and_what_was_checked() -> None:
    data = start_letter(read_course(known(), today=START), CARD, paper="Letter")
    words = said(data)
    for told in (
        "begins a course of herbal treatment with me on 6 January 2027",
        "Urtica dioica",
        "1 cup three times a day",
        "Metformin 500 mg twice a day",
        "Checked:",
        "Only if there is a flare-up",
        "01632 960 118",
    ):
        assert told in words, told
    for number, page in enumerate(page_texts(data), 1):
        assert f"Una Example · Herbal treatment Page {number} of" in page
    assert problems_of(data) == []


def test_a_flare_up_plan_says_what_is_in_a_remedy_that_is_not_taken_otherwise() -> None:
    layout = read_course(three_months(), today=START).layout
    never = Span.of_days(date(2000, 1, 1), date(2000, 1, 1))
    ((_, alone),) = flare_rows(layout, {}, never)
    ((_, told_before),) = flare_rows(layout, {}, layout.days)
    assert any(words.startswith("Tea: nettle leaf 2 parts;") for words in alone)
    assert not any("nettle" in words for words in told_before)


def test_the_referral_has_what_is_taken_now_and_whom_to_call() -> None:
    reading = read_course(known(), today=TODAY)
    names = full_names(reading.materia_medica, herbs_of(reading))
    taken = remedy_rows(reading.layout, names, Span.of_days(TODAY, TODAY))
    referral = Referral(reading.course.client, RedFlagCheck(TODAY, ("liver",)), taken)
    for card, whom in ((CARD, "01632 960 118"), (PracticeCard(""), "Name, telephone:")):
        data = referral_letter(referral, card, today=TODAY)
        words = said(data)
        for told in ("A Joint tea", "1 cup three times a day", "A rash", whom):
            assert told in words, told
        assert "Boswellia capsules" not in words
        assert problems_of(data) == []


def test_the_report_has_the_other_remedies_the_strength_and_the_last_day() -> None:
    reading = read_course(known(), today=TODAY)
    reaction = Reaction(TODAY, "Boswellia capsules", ("boswellia",), "Itching")
    data = reaction_report(reading, "t3", reaction, CARD, paper="Letter")
    words = said(data)
    assert "Stopped on 26 January 2027" in words
    assert "400 mg of extract" in words
    assert "A Joint tea. 1 cup three times a day" in words
    assert "U. E. · Report of a suspected reaction Page 1 of" in words
    assert problems_of(data) == []


def test_long_names_stand_whole_within_the_margins() -> None:
    """No word is torn apart, and no line runs off the paper."""
    course = known()
    more = " mit Schwarzem Johannisbeerblatt und Überempfindlichkeitsreaktionsfragebogen"
    remedies = tuple(replace(remedy, name=remedy.name + more) for remedy in course.remedies)
    client = replace(course.client, name="Wilhelmina-Alexandra von Hohenzollern-Sigmaringen")
    reading = read_course(replace(course, remedies=remedies, client=client), today=TODAY)
    for data in (practitioner_copy(reading, CARD), start_letter(reading, CARD, paper="Letter")):
        words = said(data)
        for word in (*more.split(), *client.name.split()):
            assert word in words, word
        with pdfium.PdfDocument(data) as document:
            for page in document:
                for shown in page.get_objects([raw.FPDF_PAGEOBJ_TEXT], max_depth=4):
                    left, bottom, right, top = shown.get_bounds()
                    assert left > 40
                    assert right < page.get_width() - 40
                    assert 25 < bottom < top < page.get_height() - 25


def test_a_flare_up_plan_is_told_within_the_ceilings_of_a_day() -> None:
    """As on the client's sheet: every 1 to 3 hours would be 16 times in a day."""
    course = three_months()
    (plan,) = (phase for phase in course.protocol.phases if phase.is_rescue)
    first, *_ = plan.lines
    hourly = replace(first, directions=take("1 cup every 1-3 h prn"), steps=())
    phases = tuple(
        replace(phase, lines=(hourly,)) if phase is plan else phase
        for phase in course.protocol.phases
    )
    ceilings = (Ceiling((first.remedy, "other"), 4),)
    protocol = replace(course.protocol, phases=phases, ceilings=ceilings)
    layout = read_course(replace(course, protocol=protocol), today=START).layout
    ((_, told),) = flare_rows(layout, {}, layout.days)
    assert "at most 4 times a day" in told[0]

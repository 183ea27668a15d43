"""What the client is told: what to do, in plain words, of cautions and accepted findings."""

from __future__ import annotations

from dataclasses import replace
from datetime import time

import pytest

from sennight.domain.courses.accepts import Accept
from sennight.domain.courses.clients import Fact
from sennight.domain.courses.stretches import lay_out
from sennight.domain.remedies.forms import Form
from sennight.practice.safety import check, client_notes
from support.safety_samples import RULES, course, day, found, remedy, with_facts


def test_hours_apart_say_the_medicine_and_the_time_that_is_far_enough() -> None:
    client = with_facts(Fact("iron", at=(time(8, 0),)))
    finding = found(course(remedy("nettle-leaf"), client=client))["hours.iron.nettle-leaf"]
    assert finding.client_text == (
        "r1: keep 2 hours between it and your iron; 10:30 is far enough."
    )


def test_the_last_dose_before_an_operation() -> None:
    client = with_facts(Fact("planned-surgery", since=day(28)))
    finding = found(course(remedy("chamomile"), client=client))["chamomile.planned-surgery"]
    assert finding.client_text == (
        "r1: take the last dose before 17 January 2027, and tell the surgeon and the "
        "anaesthetist what you took."
    )


def test_the_last_day_of_a_herb() -> None:
    finding = found(course(remedy("liquorice"), weeks=10))["length.liquorice.max-course"]
    assert finding.client_text == (
        "r1: it contains liquorice: take it for the last time on 31 January 2027."
    )


@pytest.mark.parametrize(
    ("herb", "tag", "words"),
    [
        ("ginger", "anticoagulant", "bleeding"),
        ("st-johns-wort", "photosensitising-medicine", "sun"),
        ("valerian", "sedative", "drive"),
        ("st-johns-wort", "hormonal-contraceptive", "condoms"),
        ("st-johns-wort", "ssri", "mood"),
    ],
)
def test_what_to_look_out_for(herb: str, tag: str, words: str) -> None:
    finding = found(course(remedy(herb), client=with_facts(tag)))[f"{herb}.{tag}"]
    assert finding.client_text.startswith("r1: ")
    assert words in finding.client_text


def test_every_tag_is_one_of_the_vocabulary() -> None:
    assert {tag for rule in RULES.client for tag in rule.tags} <= set(RULES.tags)


def test_the_sheet_tells_of_cautions_and_of_what_was_gone_ahead_with() -> None:
    made = course(
        remedy("willow-bark"),
        remedy("ginger", form=Form.TINCTURE, name="r2"),
        client=with_facts("anticoagulant"),
    )
    (caution,) = client_notes(check(lay_out(made)))
    assert caution.startswith("r2: tell us or a doctor at once of bruises")
    accept = Accept("willow-bark.anticoagulant", "INR watched weekly")
    accepted = replace(made, accepts=(accept,))
    notes = client_notes(check(lay_out(accepted)))
    assert [note.split(":")[0] for note in notes] == ["r1", "r2"]

"""Consultations: what is refused, what counts as written, and the practice's headings."""

from __future__ import annotations

from datetime import date, time

import pytest

from sennight.domain.follow_up.consultations import (
    HEADINGS,
    MOST_HEADINGS,
    Appointment,
    Consultation,
    ConsultationKind,
    Part,
    checked_headings,
    usual_kind,
    written_parts,
)

DAY = date(2027, 3, 1)


def test_only_what_was_written_is_kept_and_in_its_order() -> None:
    texts = (("History", " both knees\n"), ("Said", "  "), ("Plan", "tea"))
    parts = written_parts(texts)
    assert parts == (Part("History", "both knees"), Part("Plan", "tea"))
    consultation = Consultation(DAY, ConsultationKind.FIRST, parts, 75)
    assert not consultation.is_empty
    assert consultation.words == "both knees\ntea"


def test_one_without_words_or_appointment_is_empty() -> None:
    assert Consultation(DAY, ConsultationKind.TELEPHONE).is_empty
    later = Appointment(date(2027, 3, 2), time(9))
    assert not Consultation(DAY, ConsultationKind.TELEPHONE, next=later).is_empty


@pytest.mark.parametrize("minutes", [0, -5, 1441])
def test_a_length_that_none_has_is_refused(minutes: int) -> None:
    with pytest.raises(ValueError, match="expected 1 to 1440"):
        Consultation(DAY, ConsultationKind.FIRST, minutes=minutes)


def test_the_next_appointment_comes_after() -> None:
    with pytest.raises(ValueError, match="not after"):
        Consultation(DAY, ConsultationKind.FIRST, next=Appointment(DAY))


def test_the_first_with_a_client_is_proposed_as_first() -> None:
    assert usual_kind(is_first=True) is ConsultationKind.FIRST
    assert usual_kind(is_first=False) is ConsultationKind.FOLLOW_UP


def test_headings_are_the_practices_own() -> None:
    assert checked_headings(HEADINGS) == HEADINGS
    assert checked_headings((" Tongue  and pulse ", "", "Plan", "Plan")) == (
        "Tongue and pulse",
        "Plan",
    )


@pytest.mark.parametrize(
    ("headings", "why"),
    [
        ((" ",), "at least one"),
        (tuple(str(n) for n in range(MOST_HEADINGS + 1)), "at most 12"),
        (("x" * 41,), "at most 40"),
    ],
)
def test_headings_that_do_not_fit_a_margin_are_refused(
    headings: tuple[str, ...], why: str
) -> None:
    with pytest.raises(ValueError, match=why):
        checked_headings(headings)

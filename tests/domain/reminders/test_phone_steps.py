"""The steps that bring a calendar onto a phone: for both kinds of phone, by file or by link."""

from __future__ import annotations

from itertools import pairwise

import pytest

from sennight.domain.reminders.phone_steps import phone_steps


@pytest.mark.parametrize(
    ("by_link", "first"),
    [
        (False, "Open the calendar file, for example from the e-mail."),
        (True, "Point the camera at the code and tap the link that appears."),
    ],
)
def test_both_kinds_of_phone_begin_alike_and_end_with_a_look(by_link: bool, first: str) -> None:
    found = phone_steps("Herbs, Una", by_link=by_link)
    assert [phone.phone for phone in found] == ["iPhone", "Android"]
    assert {phone.steps[0] for phone in found} == {first}
    assert all("tomorrow" in phone.steps[-1] for phone in found)
    assert all(before.steps[1] != after.steps[1] for before, after in pairwise(found))


def test_the_calendar_is_called_by_its_name() -> None:
    iphone = phone_steps("Herbs, Una")[0]
    assert "call it “Herbs, Una”" in iphone.steps[1]

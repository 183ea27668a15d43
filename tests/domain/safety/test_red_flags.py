"""What was there of the red flags, in order of haste."""

from __future__ import annotations

from sennight.domain.herbs.general_rules import Urgency
from sennight.domain.safety.red_flags import RedFlagCheck, flags_of
from sennight.domain.safety.rules import RedFlag
from support.herb_samples import READ
from support.samples import START

FLAGS = tuple(
    RedFlag(flag_id, f"Sign {flag_id}", "See a doctor", urgency, "", READ)
    for flag_id, urgency in (
        ("a", Urgency.REFER),
        ("b", Urgency.SAME_DAY),
        ("c", Urgency.EMERGENCY),
        ("d", Urgency.SAME_DAY),
        ("e", Urgency.URGENT),
    )
)


def there(*ticked: str) -> list[str]:
    return [flag.id for flag in flags_of(RedFlagCheck(START, ticked), FLAGS)]


def test_the_most_urgent_comes_first_and_among_equals_the_list_is_kept() -> None:
    assert there("a", "b", "c", "d", "e") == ["c", "b", "d", "e", "a"]


def test_what_was_not_ticked_is_left_out() -> None:
    assert there("e", "a") == ["e", "a"]
    assert there("d", "nose") == ["d"]
    assert there() == []

"""What phases are called on screens and papers."""

from __future__ import annotations

import pytest

from sennight.domain.courses.phase_names import phase_head, phase_title, plan_title


@pytest.mark.parametrize(
    ("phase", "title", "head", "plan"),
    [
        ("loading", "Loading", "Loading", "flare-up plan “Loading”"),
        ("step-down", "Step-down", "Step-down", "flare-up plan “Step down”"),
        ("rescue", "Flare-up plan", "Flare-up", "flare-up plan"),
        ("flare-up", "Flare-up plan", "Flare-up", "flare-up plan"),
        ("bad_nights", "Bad nights", "Bad nights", "flare-up plan “Bad nights”"),
    ],
)
def test_one_rule_for_every_screen_and_paper(phase: str, title: str, head: str, plan: str) -> None:
    assert (phase_title(phase), phase_head(phase), plan_title(phase)) == (title, head, plan)

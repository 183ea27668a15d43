"""How much hypothesis draws, as `check.py` says."""

from __future__ import annotations

import pytest
from hypothesis import settings

from support import draws


@pytest.mark.parametrize(("kind", "expected"), [("few", 60), ("check", 200), ("long", 1000)])
def test_a_test_with_figures_of_its_own(
    monkeypatch: pytest.MonkeyPatch, kind: str, expected: int
) -> None:
    monkeypatch.setattr(draws, "DRAWS", kind)
    assert draws.draws(60, check=200) == expected


def test_a_test_without_figures_draws_what_was_asked_for() -> None:
    assert settings.get_profile(draws.DRAWS).max_examples == draws.USUAL[draws.DRAWS]
    assert settings().max_examples in {draws.USUAL[draws.DRAWS], draws.USUAL["check"]}

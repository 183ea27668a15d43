"""Places on the body, found in a practitioner's own words."""

from __future__ import annotations

import pytest

from sennight.domain.remedies.sites import SITES, is_deep, is_delicate, sites_named


@pytest.mark.parametrize(
    ("words", "names"),
    [
        ("right knee only", ["knee"]),
        ("both thumbs and the left wrist", ["thumb", "wrist"]),
        ("Lower  back", ["low back"]),
        ("fingers, toes", ["fingers", "toes"]),
        ("hip and small of the back", ["hip", "low back"]),
        ("the ship's chip", []),
        ("", []),
    ],
)
def test_places_are_found_by_their_names(words: str, names: list[str]) -> None:
    assert [site.name for site in sites_named(words)] == names


def test_hip_and_low_back_lie_deep() -> None:
    """ACR and Arthritis Foundation 2019 on rubbing in at the hip (from memory)."""
    assert [site.name for site in SITES if site.is_deep] == ["low back", "hip"]
    assert is_deep("left hip")
    assert not is_deep("left knee")
    assert is_delicate("face and neck")
    assert not is_delicate("neck")

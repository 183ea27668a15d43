"""The pictures of every screen: on which screen they are drawn."""

from __future__ import annotations

import pytest

from sennight.desktop.pictures import platform_for_pictures


@pytest.mark.parametrize("chosen", ["", "offscreen"])
def test_without_a_display_they_are_drawn_on_a_screen_of_the_usual_size(chosen: str) -> None:
    assert platform_for_pictures(chosen).startswith("offscreen:configfile=")


@pytest.mark.parametrize("chosen", ["minimal", "offscreen:configfile=own.json"])
def test_another_choice_is_kept(chosen: str) -> None:
    assert platform_for_pictures(chosen) == chosen

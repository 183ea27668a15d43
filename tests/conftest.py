"""How hypothesis draws in every test: never failing for slowness, in CI the same examples.

Of a test that draws no lines are counted: a line that only a lucky draw goes through would be
found missing on another day, and counting takes as long again as the test.
"""

from __future__ import annotations

import os

import pytest
from hypothesis import HealthCheck, is_hypothesis_test, settings

from support.draws import DRAWS, USUAL
from support.statements import share_compiled_statements

settings.register_profile(
    "few",
    max_examples=USUAL["few"],
    deadline=None,  # what is slow is measured in tests/bench, against other work in the same run
    suppress_health_check=[HealthCheck.too_slow],
)
few = settings.get_profile("few")
settings.register_profile("check", few, max_examples=USUAL["check"])
settings.register_profile("long", few, max_examples=USUAL["long"], print_blob=True)
settings.register_profile(
    "CI",
    settings.get_profile("check"),
    derandomize=True,  # a check that turns red there tells of the change, not of the day's draw
    database=None,
    print_blob=True,
)
settings.load_profile("CI" if os.environ.get("CI") == "true" and DRAWS != "long" else DRAWS)

share_compiled_statements()


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    items.sort(key=_most_seconds, reverse=True)
    for item in items:
        if isinstance(item, pytest.Function) and (
            is_hypothesis_test(item.obj) or item.get_closest_marker("uncounted")
        ):
            # The fixture of pytest-cov, since its marker is kept for `speed`. A list of the item's
            # own: that of a function's cases is one for all.
            item.fixturenames = [*item.fixturenames, "no_cover"]


def _most_seconds(item: pytest.Item) -> float:
    """What a test may take where it says so itself: such begin first, and none is waited for."""
    allowed = item.get_closest_marker("timeout")
    return float(allowed.args[0]) if allowed and allowed.args else 0.0

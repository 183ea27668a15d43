"""How hypothesis draws in every test: never failing for slowness, in CI the same examples.

Also which tests begin first, when lines are counted, and when garbage is collected.
"""

from __future__ import annotations

import os
from collections.abc import Generator

import pytest
from hypothesis import HealthCheck, settings

from sennight.collecting import collecting_later, keep_what_is_there
from support.counted import count_imports, counted, counting
from support.disk import wait_for_no_disk
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
wait_for_no_disk()


@pytest.hookimpl(wrapper=True, tryfirst=True)
def pytest_collection(session: pytest.Session) -> Generator[None, object, object]:
    """Import all tests, none of which is garbage before the end: that is looked for from then."""
    if counter := counting(session.config):
        count_imports("sennight.domain")
        counter.pause()
    with collecting_later():
        result = yield
    keep_what_is_there()
    return result


@pytest.hookimpl(wrapper=True)
def pytest_runtest_call(item: pytest.Item) -> Generator[None]:
    with counted(item):
        return (yield)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    items.sort(key=_most_seconds, reverse=True)


def _most_seconds(item: pytest.Item) -> float:
    """What a test may take where it says so itself: such begin first, and none is waited for."""
    allowed = item.get_closest_marker("timeout")
    return float(allowed.args[0]) if allowed and allowed.args else 0.0

"""How hypothesis draws in every test: never failing for slowness, in CI the same examples."""

from __future__ import annotations

import os

from hypothesis import HealthCheck, settings

from support.draws import DRAWS, USUAL

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

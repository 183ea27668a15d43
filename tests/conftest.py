"""How hypothesis draws in every test: never failing for slowness, in CI the same examples."""

from __future__ import annotations

import os

from hypothesis import HealthCheck, settings

settings.register_profile(
    "here",
    deadline=None,  # what is slow is measured in tests/bench, against other work in the same run
    suppress_health_check=[HealthCheck.too_slow],
)
settings.register_profile(
    "CI",
    settings.get_profile("here"),
    derandomize=True,  # a check that turns red there tells of the change, not of the day's draw
    database=None,
    print_blob=True,
)
settings.load_profile("CI" if os.environ.get("CI") == "true" else "here")

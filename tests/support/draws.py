"""How much the tests draw at random: the one place that reads SENNIGHT_DRAWS.

| SENNIGHT_DRAWS | for | a test without figures of its own draws |
|---|---|---|
| `few` (or not set) | every few minutes | 30 |
| `check` | the whole check, set by `check.py` | 30 |
| `long` | every night, set by `check.py long` | 1,000 |
"""

from __future__ import annotations

import os

DRAWS = os.environ.get("SENNIGHT_DRAWS", "few")
"""Which of the three it is."""

USUAL = {"few": 30, "check": 30, "long": 1000}
"""What a test draws that has no figures of its own."""


def draws(usual: int, *, check: int | None = None, long: int = 1000) -> int:
    """How many examples a test is to draw that has figures of its own.

    `usual` holds for every few minutes, and for the whole check too unless `check` says more.
    """
    return {"few": usual, "check": usual if check is None else check, "long": long}[DRAWS]

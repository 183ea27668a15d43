"""Which tests count the lines of the domain that they go through.

Counting takes as long again as a test. Of many cases that go the same ways some are enough.
"""

from __future__ import annotations

import pytest

UNCOUNTED = pytest.mark.uncounted
"""The test, or the case of one, runs as every other does; its lines are not counted.

`no_cover` says more: that a test measures time, and runs alone (step `speed`).
"""

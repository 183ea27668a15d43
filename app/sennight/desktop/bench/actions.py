"""What can be done with what is on Bench, as data."""

from __future__ import annotations

from sennight.desktop.kit.action_spec import ActionSpec
from sennight.desktop.kit.translating import translate


def bench_specs() -> tuple[ActionSpec, ...]:
    """What has keys on Bench."""
    return (
        ActionSpec(
            "matter-done",
            translate("Bench", "Done"),
            translate("Bench", "Bench: take what is selected off the list"),
            ("Ctrl+D",),
        ),
        ActionSpec(
            "matter-later",
            translate("Bench", "Later…"),
            translate("Bench", "Bench: put what is selected off to another day"),
            ("Ctrl+L",),
        ),
    )

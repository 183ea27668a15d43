"""Signs that call for a doctor, asked for at intake and at review."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from sennight.domain.herbs.general_rules import Urgency
from sennight.domain.safety.rules import RedFlag

_HASTE = tuple(Urgency)


@dataclass(frozen=True, slots=True)
class RedFlagCheck:
    """What was there of the red flags on a day, by their ids; nothing ticked is a check too.

    `cleared` says why what the check before found is not there any more: who looked, and what was
    found.
    """

    day: date
    ticked: tuple[str, ...] = ()
    cleared: str = ""


def flags_of(check: RedFlagCheck, flags: Iterable[RedFlag]) -> tuple[RedFlag, ...]:
    """The flags that were there, the most urgent first."""
    ticked = (flag for flag in flags if flag.id in check.ticked)
    return tuple(sorted(ticked, key=lambda flag: _HASTE.index(flag.urgency)))

"""What a check found, as papers tell it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from sennight.domain.safety.wording import WordedFinding


@dataclass(frozen=True, slots=True)
class SafetyRecord:
    """What a check found: `heads` has a heading for each id that was decided on.

    `checked` says what was looked at, `lapsed` why a decision does not hold any more, by the id of
    its finding.
    """

    findings: Sequence[WordedFinding]
    heads: Mapping[str, str]
    checked: str
    lapsed: Mapping[str, str] = field(default_factory=dict)

    def head(self, finding: str) -> str:
        """The heading of a decision."""
        return self.heads.get(finding, finding)

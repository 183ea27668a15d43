"""What a handout is made from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from sennight.domain.practices import PracticeCard
from sennight.domain.remedies import Form
from sennight.domain.stretches import Layout
from sennight.publish.handout_style import Page


@dataclass(frozen=True, slots=True)
class Handout:
    """All that the sections are made from."""

    layout: Layout
    card: PracticeCard
    today: date
    herb_names: Mapping[str, str]
    page: Page

    @property
    def forms(self) -> frozenset[Form]:
        """The forms of the course's remedies."""
        return frozenset(remedy.form for remedy in self.layout.course.remedies)

"""What a handout is made from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from sennight.domain.courses.stretches import Layout
from sennight.domain.practices import PracticeCard
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Remedy
from sennight.publish.pdf.style import Page


@dataclass(frozen=True, slots=True)
class HerbWords:
    """Each herb's common name by its id, and what the client is told of single remedies."""

    names: Mapping[str, str]
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Handout:
    """All that the sections are made from."""

    layout: Layout
    card: PracticeCard
    today: date
    herbs: HerbWords
    page: Page

    @property
    def remedies(self) -> tuple[tuple[int, Remedy], ...]:
        """The remedies taken, or kept for a flare-up, each with its place in the course."""
        taken = {stretch.remedy for stretch in self.layout.stretches}
        course = self.layout.course
        for phase in course.protocol.phases:
            if phase.is_rescue:
                taken |= {line.remedy for line in phase.lines}
        return tuple((n, remedy) for n, remedy in enumerate(course.remedies) if remedy.id in taken)

    def formulas(self, remedy: Remedy) -> tuple[tuple[date | None, Remedy], ...]:
        """What a remedy is made of, and from which day on where that changes."""
        course = self.layout.course
        taken = (s for s in self.layout.stretches if s.remedy == remedy.id)
        firsts: dict[str, date | None] = {remedy.id: None}
        for stretch in sorted(taken, key=lambda s: s.span):
            firsts.setdefault(stretch.formula, stretch.span.first)
        return tuple((first, course.remedy(formula)) for formula, first in firsts.items())

    @property
    def forms(self) -> frozenset[Form]:
        """The forms of these remedies."""
        return frozenset(remedy.form for _, remedy in self.remedies)

"""Which herbs a course holds, by which remedies and on which days: what every rule looks at."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from itertools import product

from sennight.domain.courses.possible_flares import possible_flares
from sennight.domain.courses.stretches import Layout
from sennight.domain.dates import Span, joined
from sennight.domain.herbs.doses import Route, TakenAs
from sennight.domain.herbs.herbs import Herb, MateriaMedica
from sennight.domain.kept import kept
from sennight.domain.remedies.contents import taken_as
from sennight.domain.remedies.forms import is_taken_by_mouth

ALWAYS_ON_SKIN = ("pregnancy", "lactation")

RemedyDays = Mapping[str, tuple[Span, ...]]
"""For each remedy's id the days on which it is taken."""


@dataclass(frozen=True, slots=True)
class Use:
    """A herb in a course: the remedies by mouth and those on the skin, each with its days."""

    herb: Herb
    oral: RemedyDays
    topical: RemedyDays
    forms: Mapping[str, frozenset[TakenAs]] = field(default_factory=dict)
    """For each remedy by mouth the forms in which it holds the herb."""

    @property
    def all(self) -> RemedyDays:
        """Every remedy that holds it."""
        return {**self.oral, **self.topical}

    def relevant(self, tag: str, rub_tags: frozenset[str]) -> RemedyDays:
        """The remedies for which a tag matters: those on the skin only where it is about that.

        What is said of a herb for the skin alone is about the skin.
        """
        on_skin = self.is_for_skin or tag in rub_tags or tag in ALWAYS_ON_SKIN
        return self.all if on_skin else self.oral

    @property
    def is_for_skin(self) -> bool:
        """Whether the herb's record is about use on the skin alone."""
        return Route.ORAL not in self.herb.routes


@kept(8)
def remedy_days(layout: Layout) -> RemedyDays:
    """The days on which each remedy is taken, filters of days not looked at."""
    spans: dict[str, list[Span]] = {}
    for stretch in layout.stretches:
        spans.setdefault(stretch.remedy, []).append(stretch.span)
    return {remedy: joined(tuple(runs)) for remedy, runs in spans.items()}


def _days_by_formula(layout: Layout) -> Mapping[str, RemedyDays]:
    """For each formula the remedies that it is taken for, and when."""
    by_formula: dict[str, dict[str, tuple[Span, ...]]] = {}
    for stretch in layout.stretches:
        known = by_formula.setdefault(stretch.formula, {})
        known[stretch.remedy] = (*known.get(stretch.remedy, ()), stretch.span)
    return {
        formula: {remedy: joined(spans) for remedy, spans in taken.items()}
        for formula, taken in by_formula.items()
    }


def remedies_given(layout: Layout) -> frozenset[str]:
    """The ids of the remedies that are taken, or may be in a flare-up."""
    if_flare = (flare.remedies for flare in possible_flares(layout))
    return frozenset(remedy_days(layout)).union(*if_flare)


@kept(8)
def uses(
    layout: Layout, materia_medica: MateriaMedica
) -> tuple[tuple[Use, ...], dict[str, RemedyDays]]:
    """The course's herbs in the formulas' order, and apart those of which nothing is held."""
    days = _days_by_formula(layout)
    oral: dict[str, dict[str, tuple[Span, ...]]] = {}
    topical: dict[str, dict[str, tuple[Span, ...]]] = {}
    forms: dict[str, dict[str, frozenset[TakenAs]]] = {}
    order: dict[str, None] = {}
    for formula in layout.course.remedies:
        into = oral if is_taken_by_mouth(formula.form) else topical
        taken_for = days.get(formula.id, {}).items()
        for (remedy, spans), ingredient in product(taken_for, formula.ingredients):
            order[ingredient.herb] = None
            known = into.setdefault(ingredient.herb, {})
            known[remedy] = joined((*known.get(remedy, ()), *spans))
            held = forms.setdefault(ingredient.herb, {})
            held[remedy] = held.get(remedy, frozenset()) | taken_as(formula.form, ingredient)
    recorded: list[Use] = []
    unrecorded: dict[str, RemedyDays] = {}
    for name in order:
        herb = materia_medica.herb(name)
        if herb:
            recorded.append(
                Use(herb, oral.get(name, {}), topical.get(name, {}), forms.get(name, {}))
            )
        else:
            unrecorded[name] = {**oral.get(name, {}), **topical.get(name, {})}
    return tuple(recorded), unrecorded


def meeting(taken: RemedyDays, spans: Iterable[Span]) -> tuple[tuple[str, ...], tuple[Span, ...]]:
    """The remedies taken on any of these days, and the days on which they are, each its own."""
    spans = tuple(spans)
    remedies: list[str] = []
    days: list[Span] = []
    for remedy, runs in taken.items():
        shared = [
            run if span.first <= run.first and run.end <= span.end else run.overlap(span)
            for span in spans
            for run in runs
            if run.first < span.end and span.first < run.end
        ]
        if shared:
            remedies.append(remedy)
            days += shared
    return tuple(remedies), tuple(days)


def chosen(taken: RemedyDays, fits: Callable[[str], bool]) -> RemedyDays:
    """Only the remedies that fit."""
    return {remedy: days for remedy, days in taken.items() if fits(remedy)}

"""When the client comes back if a remedy does not help, by what the remedy is for."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from typing import assert_never

from sennight.domain.courses.courses import Course
from sennight.domain.courses.stretches import Layout
from sennight.domain.directions.plain_words import counted, listed, plain_date
from sennight.domain.herbs.herbs import Duration, DurationKind, DurationUnit, Herb, MateriaMedica
from sennight.domain.remedies.form_facts import Taking
from sennight.domain.remedies.forms import is_for_skin, is_taken_by_mouth
from sennight.domain.remedies.remedies import Remedy
from sennight.domain.safety.for_client import ClientSentence, Place
from sennight.domain.safety.uses import remedies_given

_DAYS = {DurationUnit.DAYS: 1, DurationUnit.WEEKS: 7, DurationUnit.MONTHS: 30}
_WEEK = 7
_THROUGH_SKIN = frozenset({"joint", "muscle", "skin", "circulatory"})
"""What a remedy on the skin may be for; a herb's other systems are those of its use by mouth."""
_IN_CHEST = "respiratory"
"""What steam is for."""
_IN_MOUTH = "mouth"
"""What a gargle or mouthwash is for, whatever its herbs do once swallowed."""


@dataclass(frozen=True, slots=True)
class Purpose:
    """What a remedy may be for: `no_better` follows “if”.

    It is known by actions that are wanted, else by the system that a remedy acts on. `texts` are
    remarks of the herbs' records that speak of it; `days` hold where no record gives any.

    One with `herbs` and `facts` is known by a herb of the course and a fact of the client, and
    takes the place of those in `instead_of`: feverfew for a client with migraine is for headaches.
    """

    id: str
    no_better: str
    actions: frozenset[str]
    system: str
    days: int
    texts: frozenset[str]
    herbs: frozenset[str] = frozenset()
    facts: frozenset[str] = frozenset()
    instead_of: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class ComeBackRules:
    """All purposes, the last of which fits any remedy; remarks that hold for any purpose."""

    purposes: tuple[Purpose, ...]
    for_any: frozenset[str]


def come_back_sentences(
    layout: Layout,
    materia_medica: MateriaMedica,
    rules: ComeBackRules,
    known: Collection[str] = (),
) -> Iterator[ClientSentence]:
    """One sentence a purpose, with the remedies that are for it and the least of their days.

    `known` are the client's facts, as tags.

    It has the day by which to come back, counted from the first day on which a remedy is taken.
    What is kept for a flare-up has none: when it begins is not known, and the client calls then.
    """
    taken = remedies_given(layout)
    purposes = purposes_of(layout.course, materia_medica, rules, known)
    for_it: dict[Purpose, list[tuple[Remedy, int]]] = {}
    for remedy in layout.course.remedies:
        if remedy.id in taken:
            purpose = purposes[remedy.id]
            days = days_for(purpose, _herbs(remedy, materia_medica), rules)
            for_it.setdefault(purpose, []).append((remedy, days))
    for purpose, remedies in for_it.items():
        yield _told(purpose, remedies, _first_days(layout))


def _first_days(layout: Layout) -> Mapping[str, date]:
    """The first day of each remedy of the usual plan."""
    usual = {phase.id for phase in layout.course.protocol.sequence}
    firsts: dict[str, date] = {}
    for stretch in layout.stretches:
        if stretch.phase in usual:
            first = stretch.span.first
            firsts[stretch.remedy] = min(first, firsts.get(stretch.remedy, first))
    return firsts


def _told(
    purpose: Purpose, remedies: Sequence[tuple[Remedy, int]], firsts: Mapping[str, date]
) -> ClientSentence:
    dated = [firsts[r.id] + timedelta(days=days) for r, days in remedies if r.id in firsts]
    day = min(dated, default=None)
    when = f"by {plain_date(day)}" if day else _after(min(days for _, days in remedies))
    says = f"come back to us or see a doctor if {purpose.no_better} {when}"
    names = listed([remedy.name for remedy, _ in remedies])
    ids = tuple(remedy.id for remedy, _ in remedies)
    return ClientSentence(Place.COME_BACK, says, f"{names}: {says}.", ids, day=day)


def _herbs(remedy: Remedy, materia_medica: MateriaMedica) -> tuple[Herb, ...]:
    known = (materia_medica.herb(ingredient.herb) for ingredient in remedy.ingredients)
    return tuple(herb for herb in known if herb)


def purposes_of(
    course: Course, materia_medica: MateriaMedica, rules: ComeBackRules, known: Collection[str]
) -> Mapping[str, Purpose]:
    """What each remedy of a course is for, for a client with these facts."""
    wanted = frozenset(course.protocol.aims)
    purposes = {
        remedy.id: purpose_of(remedy, _herbs(remedy, materia_medica), wanted, rules)
        for remedy in course.remedies
    }
    herbs = {part.herb for remedy in course.remedies for part in remedy.ingredients}
    for special in rules.purposes:
        if herbs & special.herbs and special.facts.intersection(known):
            for remedy in course.remedies:
                is_of_it = purposes[remedy.id].id in special.instead_of
                if is_of_it and is_taken_by_mouth(remedy.form):
                    purposes[remedy.id] = special
    return purposes


def purpose_of(
    remedy: Remedy, herbs: Sequence[Herb], wanted: frozenset[str], rules: ComeBackRules
) -> Purpose:
    """What a remedy is for: by the wanted actions of its herbs, else by what it acts on."""
    by_system = {purpose.system: purpose for purpose in reversed(rules.purposes)}
    match remedy.form.facts.taking:
        case Taking.RINSED:
            return by_system[_IN_MOUTH]
        case Taking.INHALED:
            return by_system[_IN_CHEST]
        case Taking.SWALLOWED | Taking.ON_SKIN:
            pass
        case _:
            assert_never(remedy.form.facts.taking)
    borne = wanted.intersection(action for herb in herbs for action in herb.actions.tags)
    of_actions = max(rules.purposes, key=lambda purpose: len(borne & purpose.actions))
    if borne & of_actions.actions:
        return of_actions
    weights = _weights(remedy, herbs)
    if not weights:
        return rules.purposes[-1]
    return by_system[max(weights, key=lambda system: weights[system])]


def _weights(remedy: Remedy, herbs: Sequence[Herb]) -> Mapping[str, Fraction]:
    """How much of a remedy acts on each system; a herb's first system counts most.

    A remedy for the skin acts on what lies at or under it alone.
    """
    on_skin = is_for_skin(remedy.form)
    parts = {
        ingredient.herb: ingredient.parts or ingredient.mg or Fraction(1)
        for ingredient in remedy.ingredients
    }
    weights: dict[str, Fraction] = {}
    for herb in herbs:
        for place, system in enumerate(herb.systems, start=1):
            if on_skin and system not in _THROUGH_SKIN:
                continue
            weights[system] = weights.get(system, Fraction(0)) + parts[herb.id] / place
    return weights


def days_for(purpose: Purpose, herbs: Sequence[Herb], rules: ComeBackRules) -> int:
    """After how many days: the least that the herbs' records give for the purpose, or for any."""
    texts = purpose.texts | rules.for_any
    given = [
        _in_days(duration)
        for herb in herbs
        for duration in herb.durations
        if duration.kind is DurationKind.SEEK_ADVICE_AFTER
        and duration.unit in _DAYS
        and (not duration.text or duration.text in texts)
    ]
    return min(given, default=purpose.days)


def _in_days(duration: Duration) -> int:
    return duration.count * _DAYS[duration.unit]


def _after(days: int) -> str:
    weeks, rest = divmod(days, _WEEK)
    return f"after {counted(days, 'day') if rest else counted(weeks, 'week')}"

"""After any edits all that is kept from before says what would be worked out afresh."""

from __future__ import annotations

from collections.abc import Callable
from copy import deepcopy
from dataclasses import replace

from hypothesis import example, given, settings
from hypothesis import strategies as st

from sennight.domain.courses.clients import Fact
from sennight.domain.courses.courses import Course
from sennight.domain.courses.editing import with_directions
from sennight.domain.courses.stretches import lay_out
from sennight.domain.directions.parser import parse_directions
from sennight.domain.exposure.coverage import Coverage, coverage
from sennight.domain.exposure.exposure import exposures
from sennight.domain.herbs.herbs import MateriaMedica
from sennight.domain.safety.check import findings
from sennight.domain.safety.names import Names
from sennight.domain.safety.telling import told
from sennight.domain.safety.wording import WordedFinding
from sennight.domain.safety.wording_findings import word_findings, word_lines
from support.draws import draws
from support.real_year import edited, real_year
from support.safety_samples import MATERIA_MEDICA, RULES

Edit = Callable[[Course], Course]
Said = tuple[tuple[WordedFinding, ...], tuple[WordedFinding, ...], tuple[Coverage, ...]]


def said(course: Course, herbs: MateriaMedica) -> Said:
    layout, names = lay_out(course), Names(course, herbs, RULES)
    found = findings(layout, herbs, RULES)
    lines = word_lines(told(found, RULES), names)
    return word_findings(found, names), lines, coverage(layout, exposures(layout, herbs), herbs)


def said_afresh(course: Course) -> Said:
    """The same with values of its own, of which nothing can be known already."""
    return said(deepcopy(course), replace(MATERIA_MEDICA))


def other_facts(course: Course) -> Course:
    """The same course for a client of whom something else is known."""
    conditions = (Fact("pregnancy"),) if not course.client.conditions else ()
    return replace(course, client=replace(course.client, conditions=conditions))


def other_formulas(course: Course) -> Course:
    """The same course with each formula's first herb left out, but for the last one."""
    remedies = tuple(
        replace(remedy, ingredients=remedy.ingredients[1:] or remedy.ingredients)
        for remedy in course.remedies
    )
    return replace(course, remedies=remedies)


def other_aims(course: Course) -> Course:
    protocol = replace(course.protocol, aims=course.protocol.aims[::-1])
    return replace(course, protocol=protocol)


def edit_of(number: int) -> Edit:
    return lambda course: edited(course, number)


def doses_of(millilitres: int) -> Edit:
    """Another dose of the drops at night: little, or far too much."""
    directions = parse_directions(f"{millilitres} mL nocte")

    def edit(course: Course) -> Course:
        protocol = with_directions(course.protocol, "maintenance", "night drops", directions)
        return replace(course, protocol=protocol)

    return edit


EDITS = st.one_of(
    st.integers(0, 120).map(edit_of),
    st.integers(1, 40).map(doses_of),
    st.sampled_from([other_facts, other_formulas, other_aims]),
)


@settings(max_examples=draws(4), deadline=None)
@example([doses_of(1), doses_of(30), doses_of(40)])
@given(st.lists(EDITS, min_size=2, max_size=3))
def test_edits_are_said_as_if_each_were_the_first(edits: list[Edit]) -> None:
    course = real_year()
    for edit in edits:
        course = edit(course)
        assert said(course, MATERIA_MEDICA) == said_afresh(course)

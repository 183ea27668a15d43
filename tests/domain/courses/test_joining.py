"""A remedy that joins a phase under way, and ids for other formulas."""

from __future__ import annotations

from dataclasses import replace

from sennight.domain.courses.courses import Join
from sennight.domain.courses.joining import free_id, joined_from, same_formula
from sennight.domain.courses.stretches import lay_out
from sennight.domain.dates import Span
from sennight.domain.remedies.forms import Form
from support.samples import course, day, line, phase, remedy


def test_a_line_joins_as_a_decision_and_the_phase_is_not_split() -> None:
    made = replace(
        course(phase("loading", "6 w", line("t1", "1 cup tds"))),
        remedies=(remedy("t1"), remedy("t2")),
    )
    joined = joined_from(made, line("t2", "1 cup od"), day(10))
    assert joined is not None
    assert joined.protocol == made.protocol
    assert isinstance(joined.revisions[-1], Join)
    taken = [one.span for one in lay_out(joined).stretches if one.remedy == "t2"]
    assert taken == [Span(day(10), day(43))]


def test_a_line_with_steps_cannot_join() -> None:
    made = course(phase("loading", "6 w", line("t1", "1 cup tds")))
    assert joined_from(made, line("t2", "1 cup od", (2, "1 cup bd")), day(10)) is None


def test_an_id_that_nobody_has() -> None:
    assert free_id("t1", (remedy("t1"),)) == "t1-2"
    assert free_id("t1", (remedy("t1"), remedy("t1-2"))) == "t1-3"


def test_one_formula_under_one_name() -> None:
    assert same_formula(remedy("t1"), replace(remedy("t1"), id="other"))
    assert not same_formula(remedy("t1"), replace(remedy("t1"), name="Other"))
    assert not same_formula(remedy("t1"), remedy("t1", Form.TINCTURE))

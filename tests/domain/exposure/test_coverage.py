"""Actions by phase: weights worked by hand, gaps and heavy overlaps."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from sennight.domain.courses.courses import Flare
from sennight.domain.courses.protocols import Phase
from sennight.domain.courses.stretches import lay_out
from sennight.domain.exposure.coverage import Coverage, coverage
from sennight.domain.exposure.exposure import exposures
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Ingredient, Remedy, TeaMaking
from sennight.practice.materia_medica import supplied_materia_medica
from support import samples
from support.herb_samples import herb, materia_medica_of, row

F = Fraction

MATERIA_MEDICA = materia_medica_of(
    herb("low", row("infusion", "1-10 g"), actions=("bitter", "diuretic")),
    herb("full", row("infusion", "1-2 g"), actions=("diuretic",)),
    herb("bare", actions=("diuretic", "tonic")),
)


def tea(name: str, *herbs: tuple[str, int]) -> Remedy:
    parts = tuple(Ingredient(one, F(n)) for one, n in herbs)
    return Remedy(name, name, Form.TEA, parts, TeaMaking(F(4)))


REMEDIES = (tea("t1", ("low", 1), ("full", 1)), tea("t2", ("bare", 1)))


def covered(*phases: Phase, aims: tuple[str, ...] = (), flare: str = "") -> list[Coverage]:
    revisions = (
        (Flare(on=samples.day(1), first=samples.day(3), last=samples.day(5), rescue=flare),)
        if flare
        else ()
    )
    made = samples.course(*phases, revisions=revisions)
    made = replace(made, remedies=REMEDIES, protocol=replace(made.protocol, aims=aims))
    layout = lay_out(made)
    return list(coverage(layout, exposures(layout, MATERIA_MEDICA), MATERIA_MEDICA))


def test_weights_are_share_times_band() -> None:
    """4 g a day: 2 g of `low` (1 to 10 g: low, ¾) and 2 g of `full` (1 to 2 g: high, 1)."""
    rows = covered(samples.phase("one", "2 w", samples.line("t1", "1 cup od")))
    assert [(one.action, one.weight) for one in rows] == [
        ("diuretic", F(1, 2) * F(3, 4) + F(1, 2)),
        ("bitter", F(1, 2) * F(3, 4)),
    ]
    assert rows[0].herbs == ("low", "full")


def test_the_highest_band_of_the_phase_counts() -> None:
    """From the second week 4 cups: 8 g of `low` are high."""
    rows = covered(
        samples.phase("one", "2 w", samples.line("t1", "1 cup od", (1, "1 cup qds"))),
    )
    assert rows[1].weight == F(1, 2)


def test_a_herb_without_a_range_counts_half() -> None:
    rows = covered(samples.phase("one", "2 w", samples.line("t2", "1 cup od")))
    assert {one.action: one.weight for one in rows} == {"diuretic": F(1, 2), "tonic": F(1, 2)}


def test_wanted_actions_come_first_and_gaps_are_shown() -> None:
    rows = covered(
        samples.phase("one", "2 w", samples.line("t2", "1 cup od")),
        aims=("sedative", "tonic"),
    )
    assert [(one.action, one.wanted, one.is_gap) for one in rows] == [
        ("sedative", True, True),
        ("tonic", True, False),
        ("diuretic", False, False),
    ]
    assert rows[0].weight == 0
    assert rows[0].remedies == ()
    assert rows[1].remedies == ("t2",)


def test_a_phase_of_days_off_alone_is_all_gaps() -> None:
    rows = covered(samples.phase("one", "1 w"), aims=("bitter",))
    assert [one.is_gap for one in rows] == [True]


def test_what_many_herbs_bear_and_half_of_all_weighs_is_heavy() -> None:
    lines = (samples.line("t1", "1 cup od"), samples.line("t2", "1 cup od"))
    rows = {one.action: one for one in covered(samples.phase("one", "2 w", *lines))}
    assert rows["diuretic"].heavy
    assert not rows["tonic"].heavy
    assert rows["diuretic"].remedies == ("t1", "t2")


def test_three_herbs_of_little_weight_are_not_heavy() -> None:
    """The tonic herbs are 3 parts in 10; the tea's bulk bears something else."""
    known = materia_medica_of(
        herb("bulk", actions=("bitter",)),
        *(herb(name, actions=("tonic",)) for name in ("one", "two", "three")),
    )
    blend = tea("t1", ("bulk", 7), ("one", 1), ("two", 1), ("three", 1))
    made = samples.course(samples.phase("one", "1 w", samples.line("t1", "1 cup od")))
    layout = lay_out(replace(made, remedies=(blend,)))
    rows = {one.action: one for one in coverage(layout, exposures(layout, known), known)}
    assert len(rows["tonic"].herbs) == 3
    assert not rows["tonic"].heavy


def test_only_the_phase_s_own_days_count_for_its_bands() -> None:
    rows = covered(
        samples.phase("one", "2 w", samples.line("t1", "1 cup od")),
        samples.phase("two", "2 w", samples.line("t1", "1 cup qds")),
    )
    bitter = {one.phase: one.weight for one in rows if one.action == "bitter"}
    assert bitter == {"one": F(3, 8), "two": F(1, 2)}


def test_phases_come_in_order_and_flares_after_them() -> None:
    rescue = replace(samples.phase("r", "1 w", samples.line("t2", "1 cup od")), purpose="rescue")
    phases = (samples.phase("one", "1 w", samples.line("t1", "1 cup od")), rescue)
    rows = covered(*phases, flare="r")
    assert list(dict.fromkeys(one.phase for one in rows)) == ["one", "r"]
    assert {one.action for one in rows if one.phase == "r"} == {"diuretic", "tonic"}
    assert {one.phase for one in covered(*phases)} == {"one"}


def test_every_supplied_herb_has_actions() -> None:
    assert all(one.actions.tags for one in supplied_materia_medica().herbs.values())

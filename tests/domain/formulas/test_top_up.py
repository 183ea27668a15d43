"""Top-ups: examples by hand, and the least number of steps against counting up one by one."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sennight.domain.dates import Span
from sennight.domain.directions.directions import DAILY, Unit
from sennight.domain.exposure.bands import Band
from sennight.domain.exposure.exposure import Exposure
from sennight.domain.formulas.calculations import CalculationError
from sennight.domain.formulas.top_up import Addition, top_up
from sennight.domain.herbs.doses import TakenAs
from sennight.domain.herbs.herbs import Herb
from sennight.domain.herbs.ranges import Reservation, working_range
from sennight.domain.herbs.sources import Basis
from sennight.domain.remedies.form_facts import Filling
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Ingredient, Remedy
from support.draws import draws
from support.herb_samples import herb, row

F = Fraction

TURMERIC = herb(
    "turmeric",
    row("infusion", "2-8 g"),
    row("powder", "1-3 g"),
    row("dry-extract", "600 mg", per="5:1"),
    row("tincture", "5-15 mL", per="1:5"),
)
POWDER = Remedy("c", "Capsule", Form.CAPSULE, (Ingredient("turmeric", mg=F(400)),))
EXTRACT = Remedy(
    "e",
    "Extract",
    Form.CAPSULE,
    (Ingredient("turmeric", ratio=F(1, 5), mg=F(100), filling=Filling.EXTRACT),),
)
SIMPLE = Remedy("s", "Simple", Form.TINCTURE, (Ingredient("turmeric", F(1), F(5), F(60)),))
RATIOS = {TakenAs.EXTRACT: F(1, 5), TakenAs.LIQUID: F(5)}
CAPSULES = Addition(POWDER, F(1), Unit.CAPSULE)


def taken(form: TakenAs, low: Fraction, high: Fraction | None = None) -> Exposure:
    span = working_range(TURMERIC, form, F(1, 5) if form is TakenAs.EXTRACT else None)
    assert span
    return Exposure(
        span=Span.of_days(date(2027, 1, 4), date(2027, 1, 4)),
        herb="turmeric",
        form=form,
        days=DAILY,
        daily_low=low,
        daily_high=low if high is None else high,
        low=span.low,
        high=span.high,
        fraction_of_max=None,
        band=Band.UNKNOWN,
    )


def test_capsules_by_themselves() -> None:
    """400 mg each, range 1 to 3 g: 3 make 1.2 g, the first whole number in the range."""
    found = top_up(TURMERIC, [], CAPSULES, place=F(0))
    assert (found.amount, found.unit) == (F(3), Unit.CAPSULE)
    assert found.fraction == F(2, 5)
    assert found.band is Band.LOW
    assert top_up(TURMERIC, [], CAPSULES, place=F(1, 3)).amount == 5  # 1⅔ g is reached by 2 g


def test_a_tea_topped_up_with_a_simple_tincture() -> None:
    """Tea at 2 g of 2 to 8 g: f = ¼, m = ¼. Each 0.5 mL is 0.1 g of 1 to 3 g: 1⁄30.

    The middle begins at p = ⅓: 0.25 + n⁄30 with m = (1⁄16 + n⁄90) ÷ (¼ + n⁄30). With n = 9,
    f = 0.55 and m = 0.2955: p = 0.361; with n = 8, f = 0.5167 and m = 0.293: p = 0.3164.
    """
    now = [taken(TakenAs.TEA, F(2))]
    found = top_up(TURMERIC, now, Addition(SIMPLE, F(1, 2), Unit.ML), place=F(1, 3))
    assert found.amount == F(9, 2)
    assert float(found.place) == pytest.approx(0.361, abs=0.001)
    assert found.band is Band.MIDDLE


def test_two_ratios_are_held_to_the_lower_range() -> None:
    """Liquid at 1 g of 1 to 3 g, topped up with a 1:10 whose range is 0.5 to 1 g: full already."""
    two = herb(
        "turmeric",
        row("tincture", "5-15 mL", per="1:5"),
        row("tincture", "5-10 mL", per="1:10"),
    )
    weak = Remedy("w", "Weak", Form.TINCTURE, (Ingredient("turmeric", F(1), F(10), F(60)),))
    now = [replace(taken(TakenAs.LIQUID, F(1)), low=F(1), high=F(3))]
    found = top_up(two, now, Addition(weak, F(1), Unit.ML), place=F(1))
    assert (found.amount, found.fraction, found.band) == (F(0), F(1), Band.HIGH)


def test_a_range_of_a_single_figure_is_reached_at_the_figure() -> None:
    """600 mg and no more or less: six capsules of 100 mg, at any place asked for."""
    for place in (F(0), F(1, 3), F(1)):
        found = top_up(TURMERIC, [], Addition(EXTRACT, F(1), Unit.CAPSULE), place=place)
        assert (found.amount, found.place, found.band) == (F(6), F(1), Band.HIGH)


def test_nothing_is_added_where_the_place_is_reached() -> None:
    now = [taken(TakenAs.TEA, F(7))]
    assert top_up(TURMERIC, now, CAPSULES, place=F(2, 3)).amount == 0


def test_what_is_taken_as_needed_leaves_less_room() -> None:
    """Nothing timed, but up to 6 g of tea: ¾ of the maximum. Two capsules still fit, ⅘ g not."""
    now = [taken(TakenAs.TEA, F(0), F(6))]
    with pytest.raises(CalculationError, match="without going over"):
        top_up(TURMERIC, now, CAPSULES, place=F(0))
    assert top_up(TURMERIC, [taken(TakenAs.TEA, F(0), F(4))], CAPSULES, place=F(0)).amount == 3


@pytest.mark.parametrize(
    ("adding", "now", "place", "said"),
    [
        (CAPSULES, [taken(TakenAs.TEA, F(9))], F(1), "over its range already"),
        (CAPSULES, [], F(1), "expected a lower place"),
        (Addition(SIMPLE, F(1), Unit.G), [], F(0), "a tincture is not measured in g"),
        (CAPSULES, [], F(2), "from 0"),
        (
            Addition(
                Remedy("x", "X", Form.CAPSULE, (Ingredient("ginger", mg=F(1)),)),
                F(1),
                Unit.CAPSULE,
            ),
            [],
            F(0),
            "X contains no Turmeric",
        ),
    ],
)
def test_refusals(adding: Addition, now: list[Exposure], place: Fraction, said: str) -> None:
    with pytest.raises(CalculationError, match=said):
        top_up(TURMERIC, now, adding, place=place)


def test_no_range_and_unknown_amounts_are_refused() -> None:
    bare = herb("turmeric", row("infusion", "2-8 g"))
    with pytest.raises(CalculationError, match="Turmeric: no range is recorded for it as powder"):
        top_up(bare, [], CAPSULES, place=F(0))
    unknown = Exposure(
        span=taken(TakenAs.TEA, F(1)).span,
        herb="turmeric",
        form=TakenAs.TEA,
        days=DAILY,
        daily_low=None,
        daily_high=None,
        low=F(2),
        high=F(8),
        fraction_of_max=None,
        band=Band.UNKNOWN,
        why="a tea is not measured in capsule",
    )
    with pytest.raises(CalculationError, match="a tea is not measured in capsule"):
        top_up(TURMERIC, [unknown], CAPSULES, place=F(0))


def counted(
    one: Herb, now: list[Exposure], adding: tuple[TakenAs, Fraction], place: Fraction
) -> int | None:
    """Counting up one by one, with the formula as it is written."""
    form, grams = adding
    for steps in range(200):
        low = {row.form: row.daily_low or F(0) for row in now}
        high = {row.form: row.daily_high or F(0) for row in now}
        for amounts in (low, high):
            amounts[form] = amounts.get(form, F(0)) + steps * grams
        spans = {f: working_range(one, f, RATIOS.get(f)) for f in low if f}
        parts = {f: low[f] / span.high for f, span in spans.items() if span}
        if sum((high[f] / span.high for f, span in spans.items() if span), F(0)) > 1:
            return None
        whole = sum(parts.values(), F(0))
        if not whole:
            continue
        least = sum(
            (parts[f] / whole * (span.low / span.high) for f, span in spans.items() if span), F(0)
        )
        at = whole if least == 1 else (whole - least) / (1 - least)
        if at >= (1 if least == 1 else place):
            return steps
    return None


AMOUNTS = st.fractions(0, 4, max_denominator=12)


@settings(max_examples=draws(50))
@given(
    st.dictionaries(st.sampled_from([TakenAs.TEA, TakenAs.EXTRACT]), AMOUNTS, max_size=2),
    AMOUNTS,
    st.sampled_from([(POWDER, TakenAs.POWDER, F(2, 5)), (EXTRACT, TakenAs.EXTRACT, F(1, 10))]),
    st.fractions(0, 1, max_denominator=12),
)
def test_it_is_the_least_number_of_steps(
    low: dict[TakenAs, Fraction],
    more: Fraction,
    adding: tuple[Remedy, TakenAs, Fraction],
    place: Fraction,
) -> None:
    remedy, form, grams = adding
    now = [
        taken(f, amount / (8 if f is TakenAs.EXTRACT else 1), amount + more / 4)
        for f, amount in low.items()
    ]
    expected = counted(TURMERIC, now, (form, grams), place)
    try:
        found = top_up(TURMERIC, now, Addition(remedy, F(1), Unit.CAPSULE), place=place).amount
    except CalculationError:
        assert expected is None
    else:
        assert found == expected


def test_what_is_to_be_said_first_is_told_with_the_amount() -> None:
    """Topped up by a single figure, by what is not yet checked, by more mL than the text gives."""
    single = top_up(TURMERIC, [], Addition(EXTRACT, F(1), Unit.CAPSULE), place=F(0))
    assert single.reservations == (Reservation.SINGLE_FIGURE,)
    assert top_up(TURMERIC, [], CAPSULES, place=F(0)).reservations == ()
    remembered = herb("turmeric", row("tincture", "5-15 mL", per="1:5", basis=Basis.MEMORY))
    thin = Remedy("t", "Thin", Form.TINCTURE, (Ingredient("turmeric", F(1), F(10), F(60)),))
    found = top_up(remembered, [], Addition(thin, F(1), Unit.ML), place=F(1))
    assert found.amount == 30  # 3 g, in a tincture half as strong
    assert found.reservations == (Reservation.NOT_CHECKED, Reservation.MORE_MILLILITRES)


def test_of_a_remedy_of_several_herbs_what_is_to_be_said_is_of_the_herb_alone() -> None:
    """Half of each mL is of ginger, of which nothing is read; turmeric's own range is."""
    both = Remedy(
        "b",
        "Both",
        Form.TINCTURE,
        (Ingredient("ginger", F(1), F(5), F(60)), Ingredient("turmeric", F(1), F(5), F(60))),
    )
    found = top_up(TURMERIC, [], Addition(both, F(1), Unit.ML), place=F(0))
    assert (found.amount, found.reservations) == (F(10), ())  # 1 g: of 10 mL half, 1 g to 5 mL

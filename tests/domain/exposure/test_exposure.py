"""Exposure: examples worked by hand, and every course against a naive day-by-day reading."""

from __future__ import annotations

from collections.abc import Iterator
from copy import deepcopy
from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest
from hypothesis import given, settings

from sennight.domain.courses.courses import Course, Flare, Pause, PauseMode, Revision
from sennight.domain.courses.protocols import Line, Phase
from sennight.domain.courses.stretches import Layout, Stretch, lay_out
from sennight.domain.directions.directions import DAILY, Unit
from sennight.domain.directions.parser import parse_directions
from sennight.domain.exposure import herb_rows
from sennight.domain.exposure.bands import Band, band_of
from sennight.domain.exposure.exposure import Exposure, exposures, remedy_exposures
from sennight.domain.herbs.doses import TakenAs
from sennight.domain.herbs.herbs import MateriaMedica
from sennight.domain.remedies.form_facts import Filling
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Ingredient, Remedy, TeaMaking
from support import samples
from support.draws import draws
from support.herb_samples import herb, materia_medica_of, row

F = Fraction

TEA = Remedy(
    "t1",
    "Tea",
    Form.TEA,
    (Ingredient("turmeric", F(2)), Ingredient("ginger", F(1))),
    TeaMaking(F(3)),
)
TINCTURE = Remedy(
    "t2",
    "Tincture",
    Form.TINCTURE,
    (
        Ingredient("turmeric", F(1), F(3), F(60)),
        Ingredient("willow", F(2), F(5), F(45)),
        Ingredient("turmeric", F(1), F(10), F(70)),
    ),
)
CAPSULE = Remedy(
    "t3",
    "Capsule",
    Form.CAPSULE,
    (
        Ingredient("turmeric", mg=F(250)),
        Ingredient("turmeric", ratio=F(1, 5), mg=F(150), filling=Filling.EXTRACT),
    ),
)
RUB = Remedy("t4", "Rub", Form.RUB, (Ingredient("willow", F(1), F(5), F(60)),))

MATERIA_MEDICA = materia_medica_of(
    herb(
        "turmeric",
        row("infusion", "3-12 g"),
        row("tincture", "6-15 mL", per="1:3"),
        row("tincture", "10-30 mL", per="1:10"),
        row("powder", "1-3 g"),
        row("dry-extract", "600 mg", per="5:1"),
    ),
    herb("willow", row("tincture", "5 mL", per="1:5")),
    herb("ginger", row("powder", "1-2 g")),
    herb("nettle", row("infusion", "0-6 g")),
)


def course(*phases: Phase, revisions: tuple[Revision, ...] = ()) -> Course:
    made = samples.course(*phases, revisions=revisions)
    return replace(made, remedies=(TEA, TINCTURE, CAPSULE, RUB))


def rows(one: Course, known: MateriaMedica = MATERIA_MEDICA) -> list[Exposure]:
    return list(exposures(lay_out(one), known))


def of(found: list[Exposure], herb_id: str, form: TakenAs | None) -> list[Exposure]:
    return [one for one in found if one.herb == herb_id and one.form is form]


def line(remedy: str, text: str) -> Line:
    return samples.line(remedy, text)


def facts(one: Exposure, *names: str) -> tuple[object, ...]:
    return tuple(getattr(one, name) for name in names)


# Worked by hand


def test_a_tea_with_a_herb_that_has_no_range_as_tea() -> None:
    """1 cup three times: 9 g of mixture, two parts in three turmeric: 6 g, of 3 to 12 g.

    Position (6 − 3) ÷ (12 − 3) = ⅓: middle. Ginger 3 g, with no range held for it as tea.
    """
    found = rows(course(samples.phase("one", "6 w", line("t1", "1 cup tds"))))
    turmeric, ginger = of(found, "turmeric", TakenAs.TEA)[0], of(found, "ginger", TakenAs.TEA)[0]
    assert len(found) == 2
    assert (turmeric.span.first, turmeric.span.last) == (samples.day(1), samples.day(42))
    assert facts(turmeric, "daily_low", "daily_high") == (6, 6)
    assert facts(turmeric, "low", "high", "fraction_of_max") == (3, 12, F(1, 2))
    assert facts(turmeric, "band", "days") == (Band.MIDDLE, DAILY)
    assert facts(ginger, "daily_low", "band", "fraction_of_max") == (3, Band.UNKNOWN, None)
    assert ginger.why == "no range is recorded for it as tea"


def test_a_herb_in_tea_and_tincture() -> None:
    """1 cup twice: 4 g of 3 to 12 g, f = ⅓. 5 mL twice: 2.5 mL each of 1:3 and 1:10 turmeric.

    That is ⅚ + ¼ = 13⁄12 g a day. The range of the 1:3 row is 2 to 5 g, that of 1:10 is 1 to
    3 g: the lower holds, f = 13⁄36. Over both f = 25⁄36,
    m = (12⁄25) × (1⁄4) + (13⁄25) × (1⁄3) = 22⁄75, p = (25⁄36 − 22⁄75) ÷ (53⁄75) = 0.567: middle.
    """
    found = rows(
        course(samples.phase("one", "2 w", line("t1", "1 cup bd"), line("t2", "5 mL bd")))
    )
    liquid, both = of(found, "turmeric", TakenAs.LIQUID)[0], of(found, "turmeric", None)[0]
    assert facts(liquid, "daily_low", "low", "high") == (F(13, 12), 1, 3)
    assert facts(both, "daily_low", "daily_high", "fraction_of_max") == (F(25, 36),) * 3
    assert facts(both, "low", "high", "band") == (F(22, 75), 1, Band.MIDDLE)
    assert of(found, "willow", None) == []


def test_fractions_of_powder_and_extract_add_to_more_than_the_maximum() -> None:
    """2 capsules twice: 1 g powder (⅓ of 3 g) and 0.6 g extract, all of its single figure.

    The extract alone is high; with the powder f = 1⅓. A single figure is over only past half as
    much again: ⅓ + 0.6 ÷ 0.9 = 1, so together they are high, and over with one capsule more.
    """
    found = rows(course(samples.phase("one", "2 w", line("t3", "2 capsule bd"))))
    powder, extract = (of(found, "turmeric", f)[0] for f in (TakenAs.POWDER, TakenAs.EXTRACT))
    assert facts(powder, "daily_low", "band") == (1, Band.LOW)
    assert facts(extract, "daily_low", "band") == (F(3, 5), Band.HIGH)
    both = of(found, "turmeric", None)[0]
    assert facts(both, "fraction_of_max", "band", "days") == (F(4, 3), Band.HIGH, DAILY)
    more = rows(course(samples.phase("one", "2 w", line("t3", "5 capsule od"))))
    assert of(more, "turmeric", None)[0].band is Band.OVER


def test_over_is_judged_on_the_most_and_the_rest_on_what_is_timed() -> None:
    """Willow is half of the tincture, 1:5: 0.1 g in 1 mL; its range is the single figure 1 g.

    It is over past 1.5 g.
    """
    text = "5 mL od and prn max {}/day"
    found = rows(course(samples.phase("one", "1 w", line("t2", text.format(1)))))
    low = of(found, "willow", TakenAs.LIQUID)[0]
    assert facts(low, "daily_low", "daily_high", "fraction_of_max") == (F(1, 2), 1, 1)
    assert low.band is Band.BELOW
    found = rows(course(samples.phase("one", "1 w", line("t2", text.format(2)))))
    assert of(found, "willow", TakenAs.LIQUID)[0].band is Band.BELOW
    found = rows(course(samples.phase("one", "1 w", line("t2", text.format(3)))))
    assert of(found, "willow", TakenAs.LIQUID)[0].band is Band.OVER


def test_nothing_timed_is_below() -> None:
    found = rows(course(samples.phase("one", "1 w", line("t3", "1 capsule prn max 1/day"))))
    both = of(found, "turmeric", None)[0]
    assert facts(both, "daily_low", "band") == (0, Band.BELOW)
    assert both.daily_high == F(1, 12) + F(1, 4)


def test_days_off_have_no_row_and_each_run_of_days_on_is_its_own() -> None:
    found = rows(course(samples.phase("one", "15 w", line("t1", "1 cup od 4 w on 2 w off"))))
    spans = [(one.span.first, one.span.last) for one in of(found, "turmeric", TakenAs.TEA)]
    on = [(1, 28), (43, 70), (85, 105)]
    assert spans == [(samples.day(a), samples.day(b)) for a, b in on]


def test_a_change_that_changes_nothing_does_not_end_a_row() -> None:
    """The next phase gives the same amount in fewer, larger doses."""
    found = rows(
        course(
            samples.phase("one", "2 w", line("t1", "1 cup bd")),
            samples.phase("two", "2 w", line("t1", "2 cup nocte")),
        )
    )
    only = of(found, "turmeric", TakenAs.TEA)
    assert [(one.span.first, one.span.last) for one in only] == [(samples.day(1), samples.day(28))]


def test_same_days_in_all_lines_are_told_and_add_up() -> None:
    lines = (line("t1", "1 cup od on mon wed fri"), line("t2", "12 mL od on mon wed fri"))
    found = rows(course(samples.phase("one", "3 w", *lines)))
    assert {str(one.days) for one in found} == {"mon wed fri"}


def test_days_that_differ_are_the_fullest_day() -> None:
    """Daily tea and Monday capsules; the fullest day is a Monday."""
    lines = (line("t1", "1 cup od"), line("t3", "1 capsule bd on mon"))
    both = of(rows(course(samples.phase("one", "3 w", *lines))), "turmeric", None)[0]
    assert both.days is None
    assert both.daily_low == F(2, 12) + F(1, 2) / 3 + F(3, 10) / F(3, 5)


def test_lines_that_never_meet_do_not_add_up() -> None:
    """Powder of one capsule on Mondays, of another on Tuesdays: each day one of them."""
    other = replace(CAPSULE, id="t1")
    made = samples.course(
        samples.phase(
            "one",
            "3 w",
            samples.line("t1", "3 capsule od on tue"),
            samples.line("t3", "2 capsule od on mon"),
        )
    )
    found = rows(replace(made, remedies=(other, TINCTURE, CAPSULE)))
    powder = of(found, "turmeric", TakenAs.POWDER)
    assert [(one.days, one.daily_low) for one in powder] == [(None, F(3, 4))]


def test_every_other_day_from_anchors_of_different_parity_differs() -> None:
    """The tea from day 1, the capsule from day 8: odd days and even days never meet."""
    flare = Flare(on=samples.day(1), first=samples.day(8), last=samples.day(14), rescue="r")
    found = rows(
        course(
            samples.phase("one", "3 w", line("t1", "1 cup od alternate days")),
            samples.phase("rescue", "1 w", line("t3", "1 capsule od alternate days")),
            revisions=(),
        )
    )
    assert {str(one.days) for one in found} == {"every 2 days"}
    rescue = replace(
        samples.phase("r", "1 w", line("t3", "1 capsule od alternate days")), purpose="rescue"
    )
    found = rows(
        course(
            samples.phase("one", "3 w", line("t1", "1 cup od alternate days")),
            rescue,
            revisions=(flare,),
        )
    )
    both = of(found, "turmeric", None)[0]
    assert (both.span.first, both.span.last) == (samples.day(8), samples.day(14))
    assert both.days is None
    assert both.daily_low == F(1, 4) / 3 + F(15, 60) > F(2, 12)


@pytest.mark.parametrize(("days", "ends"), [(13, [13, 27]), (14, [28])])
def test_every_other_day_goes_on_in_a_row_only_where_the_count_goes_on(
    days: int, ends: list[int]
) -> None:
    """After 13 days the next phase begins on an even day, after 14 on an odd one, as before."""
    text = "1 cup od alternate days"
    found = rows(
        course(
            samples.phase("one", f"{days} d", line("t1", text)),
            samples.phase("two", "14 d", line("t1", text)),
        )
    )
    turmeric = of(found, "turmeric", TakenAs.TEA)
    assert [one.span.last for one in turmeric] == [samples.day(n) for n in ends]
    assert {str(one.days) for one in turmeric} == {"every 2 days"}


def test_counted_days_of_a_row_start_on_its_first_day() -> None:
    """Capsules every other day from day 1; other capsules of the herb, daily, up to day 3."""
    capsules = replace(samples.phase("r", "4 d", line("t3", "1 capsule od")), purpose="rescue")
    made = samples.course(
        samples.phase("one", "2 w", samples.line("t1", "1 capsule od alternate days")),
        capsules,
        revisions=(
            Flare(on=samples.day(1), first=samples.day(1), last=samples.day(3), rescue="r"),
        ),
    )
    found = rows(replace(made, remedies=(replace(CAPSULE, id="t1"), TINCTURE, CAPSULE)))
    powder = of(found, "turmeric", TakenAs.POWDER)
    told = [(one.span.first, one.days and str(one.days)) for one in powder]
    assert told == [(samples.day(1), None), (samples.day(5), "every 2 days")]


def test_a_line_without_a_day_in_a_run_does_not_count_in_it() -> None:
    """Capsules on Sundays; a flare from Monday to Wednesday adds others every day."""
    flare = Flare(on=samples.day(1), first=samples.day(1), last=samples.day(3), rescue="r")
    rescue = replace(samples.phase("r", "3 d", line("t2", "1 capsule od")), purpose="rescue")
    made = samples.course(
        samples.phase("one", "2 w", line("t3", "1 capsule od on sun")), rescue, revisions=(flare,)
    )
    found = rows(replace(made, remedies=(TEA, replace(CAPSULE, id="t2"), CAPSULE)))
    powder = of(found, "turmeric", TakenAs.POWDER)
    told = [(one.span.days, one.days and str(one.days), one.daily_low) for one in powder]
    assert told == [(3, "daily", F(1, 4)), (11, "sun", F(1, 4))]


def test_a_rub_is_not_counted() -> None:
    made = course(samples.phase("one", "1 w", line("t4", "5 mL bd")))
    assert rows(made) == []


def test_what_cannot_be_measured_is_unknown_with_its_reason() -> None:
    found = rows(course(samples.phase("one", "1 w", line("t1", "1 capsule bd"))))
    turmeric = of(found, "turmeric", TakenAs.TEA)[0]
    assert facts(turmeric, "daily_low", "daily_high", "fraction_of_max") == (None,) * 3
    assert facts(turmeric, "low", "high", "band") == (3, 12, Band.UNKNOWN)
    assert turmeric.why == "a tea is not measured in capsule"


@pytest.mark.parametrize(
    ("remedy", "text", "why"),
    [
        (replace(TEA, tea=None), "1 cup od", "how the tea is made is not recorded"),
        (
            replace(TINCTURE, ingredients=(Ingredient("willow", F(1)),)),
            "1 mL od",
            "the ratio of the tincture is not recorded",
        ),
        (
            replace(TINCTURE, ingredients=(Ingredient("willow", ratio=F(5)),)),
            "1 mL od",
            "the parts of the formula are not recorded",
        ),
        (
            replace(CAPSULE, ingredients=(Ingredient("turmeric"),)),
            "1 capsule od",
            "the mg in one capsule is not recorded",
        ),
    ],
)
def test_what_the_formula_does_not_say_is_unknown(remedy: Remedy, text: str, why: str) -> None:
    found = alone(remedy, text)[0]
    assert facts(found, "daily_low", "band") == (None, Band.UNKNOWN)
    assert found.why.startswith(why)


def test_one_unknown_form_leaves_the_whole_unknown_but_never_hides_what_is_over() -> None:
    def whole(capsules: int) -> Exposure:
        given = (line("t1", "1 capsule bd"), line("t3", f"{capsules} capsule bd"))
        return of(rows(course(samples.phase("one", "1 w", *given))), "turmeric", None)[0]

    assert (whole(1).band, whole(1).fraction_of_max) == (Band.UNKNOWN, None)
    assert (whole(4).band, whole(4).fraction_of_max) == (Band.OVER, None)


def test_a_herb_that_is_not_held_is_unknown() -> None:
    found = rows(course(samples.phase("one", "1 w", line("t1", "1 cup od"))), materia_medica_of())
    assert {one.band for one in found} == {Band.UNKNOWN}


@pytest.mark.parametrize(
    ("text", "turmeric"),
    [
        ("1 cup od", F(2)),
        ("250 mL od", F(2)),
        ("1 tsp od", F(2, 50)),
        ("1 tbsp od", F(6, 50)),
        ("20 drop od", F(2, 250)),
        ("3 g od", F(2)),
        ("300 mg od", F(1, 5)),
    ],
)
def test_measures_of_a_tea(text: str, turmeric: Fraction) -> None:
    assert of(alone(TEA, text), "turmeric", TakenAs.TEA)[0].daily_low == turmeric


@pytest.mark.parametrize(
    ("text", "willow"),
    [
        ("5 mL od", F(1, 2)),
        ("1 tsp od", F(1, 2)),
        ("1 tbsp od", F(3, 2)),
        ("30 drop od", F(1, 10)),
        ("1 g od", None),
        ("1 cup od", None),
    ],
)
def test_measures_of_a_tincture_with_its_own_drops(text: str, willow: Fraction | None) -> None:
    counted = replace(TINCTURE, drops_per_ml=F(30))
    assert of(alone(counted, text), "willow", TakenAs.LIQUID)[0].daily_low == willow


@pytest.mark.parametrize(
    ("text", "powder"),
    [("1 capsule od", F(1, 4)), ("400 mg od", F(1, 4)), ("0.8 g od", F(1, 2)), ("1 mL od", None)],
)
def test_measures_of_a_capsule(text: str, powder: Fraction | None) -> None:
    assert of(alone(CAPSULE, text), "turmeric", TakenAs.POWDER)[0].daily_low == powder


def alone(remedy: Remedy, text: str) -> list[Exposure]:
    day = samples.course(samples.phase("one", "1 w")).client.day
    return list(remedy_exposures(remedy, parse_directions(text), day, MATERIA_MEDICA))


def test_a_remedy_by_itself_is_what_a_day_of_a_course_gives() -> None:
    text = "2 capsule bd and prn max 1/day on mon"
    in_course = rows(course(samples.phase("one", "1 w", line("t3", text))))
    for one, two in zip(alone(CAPSULE, text), in_course, strict=True):
        assert replace(one, span=two.span, days=two.days) == two


@pytest.mark.parametrize(
    ("low", "high", "least", "band"),
    [
        ("0.19", "0.19", "0.2", Band.BELOW),
        ("0.2", "0.2", "0.2", Band.LOW),
        ("0.46666", "1", "0.2", Band.LOW),
        ("7/15", "1", "0.2", Band.MIDDLE),
        ("0.7333", "1", "0.2", Band.MIDDLE),
        ("11/15", "1", "0.2", Band.HIGH),
        ("1", "1", "0.2", Band.HIGH),
        ("0.1", "1.0000001", "0.2", Band.OVER),
        ("0.999999", "1", "1", Band.BELOW),
        ("1", "1", "1", Band.HIGH),
        ("1", "1.01", "1", Band.OVER),
        ("0", "0", "0", Band.LOW),
    ],
)
def test_bands_are_exact_at_their_edges(low: str, high: str, least: str, band: Band) -> None:
    assert band_of(F(low), F(high), F(least)) is band


def test_a_pause_ends_a_row_and_a_freeze_moves_the_next() -> None:
    pause = Pause(
        on=samples.day(1), first=samples.day(8), last=samples.day(14), mode=PauseMode.FREEZE
    )
    made = course(samples.phase("one", "2 w", line("t1", "1 cup od")), revisions=(pause,))
    spans = [(one.span.first, one.span.last) for one in of(rows(made), "turmeric", TakenAs.TEA)]
    assert spans == [(samples.day(1), samples.day(7)), (samples.day(15), samples.day(21))]


# Against a naive reading, day by day


TEA_GRAMS = {
    Unit.CUP: F(3),
    Unit.ML: F(3, 250),
    Unit.TSP: F(15, 250),
    Unit.TBSP: F(45, 250),
    Unit.DROP: F(3, 5000),
    Unit.G: F(1),
    Unit.MG: F(1, 1000),
}
ML = {Unit.ML: F(1), Unit.TSP: F(5), Unit.TBSP: F(15), Unit.DROP: F(1, 20)}
CAPSULES = {Unit.CAPSULE: F(1), Unit.MG: F(1, 400), Unit.G: F(1000, 400)}
LIMITS: dict[tuple[str, TakenAs], tuple[Fraction, Fraction]] = {
    ("turmeric", TakenAs.TEA): (F(3), F(12)),
    ("turmeric", TakenAs.LIQUID): (F(1), F(3)),
    ("turmeric", TakenAs.POWDER): (F(1), F(3)),
    ("turmeric", TakenAs.EXTRACT): (F(3, 5), F(3, 5)),
    ("willow", TakenAs.LIQUID): (F(1), F(1)),
}


def per_dose(stretch: Stretch) -> dict[tuple[str, TakenAs], Fraction | None]:
    """Grams of each herb in one dose of t1, t2 or t3, in figures worked out beforehand."""

    def times(sizes: dict[Unit, Fraction], grams: Fraction) -> Fraction | None:
        size = sizes.get(stretch.unit)
        return None if size is None else size * stretch.amount * grams

    if stretch.formula == "t1":
        return {
            ("turmeric", TakenAs.TEA): times(TEA_GRAMS, F(2, 3)),
            ("ginger", TakenAs.TEA): times(TEA_GRAMS, F(1, 3)),
        }
    if stretch.formula == "t2":
        return {
            ("turmeric", TakenAs.LIQUID): times(ML, F(1, 12) + F(1, 40)),
            ("willow", TakenAs.LIQUID): times(ML, F(1, 10)),
        }
    return {
        ("turmeric", TakenAs.POWDER): times(CAPSULES, F(1, 4)),
        ("turmeric", TakenAs.EXTRACT): times(CAPSULES, F(3, 20)),
    }


Day = dict[tuple[str, TakenAs], tuple[Fraction, Fraction] | None]


def by_day(layout: Layout) -> dict[date, Day]:
    """For every day and every herb and form taken on it, the least and the most; None unknown."""
    found: dict[date, Day] = {}
    for stretch in layout.stretches:
        for day in stretch.days_taken():
            here = found.setdefault(day, {})
            for key, grams in per_dose(stretch).items():
                before = here.get(key, (F(0), F(0)))
                if grams is None or before is None:
                    here[key] = None
                else:
                    most = len(stretch.times) + (stretch.as_needed_max or 0)
                    low, high = before
                    larger = (stretch.directions.most or stretch.amount) / stretch.amount
                    least = grams * len(stretch.times)
                    here[key] = low + least, high + grams * larger * most
    return found


def check_covers(found: list[Exposure], days: dict[date, Day]) -> None:
    for day, here in days.items():
        for herb_id, form in here:
            holding = [one for one in of(found, herb_id, form) if day in one.span]
            assert len(holding) == 1
        if len({form for herb_id, form in here if herb_id == "turmeric"}) > 1:
            assert len([one for one in of(found, "turmeric", None) if day in one.span]) == 1
    taken = {(key, day) for day, here in days.items() for key in here}
    for one in found:
        if one.form:
            assert any(((one.herb, one.form), day) in taken for day in one.span)


def check_form_row(one: Exposure, days: dict[date, Day]) -> None:
    assert one.form
    key = one.herb, one.form
    here = {day: days[day][key] for day in one.span if key in days.get(day, {})}
    amounts = [pair for pair in here.values() if pair]
    if len(amounts) < len(here):
        assert one.daily_low is one.daily_high is None
        assert one.why
    else:
        assert one.daily_low == max(low for low, _ in amounts)
        assert one.daily_high == max(high for _, high in amounts)
        if key in LIMITS:
            low, high = LIMITS[key]
            assert facts(one, "low", "high") == (low, high)
            assert one.fraction_of_max == one.daily_high / high
            assert one.band is naive_band(one.daily_low, one.daily_high, low, high)
    if key not in LIMITS:
        assert one.band is Band.UNKNOWN
    if one.days:
        assert len(set(here.values())) == 1
        first = min(here)
        for day in one.span:
            rule = one.days
            falls = day.weekday() in rule.weekdays or (
                not rule.weekdays and (day - first).days % rule.every == 0
            )
            assert falls == (day in here)


def naive_band(low: Fraction, high: Fraction, least: Fraction, most: Fraction) -> Band:
    """In grams, for one form."""
    if high > (most * F(3, 2) if least == most else most):
        return Band.OVER
    if low < least:
        return Band.BELOW
    third = (most - least) / 3
    if least == most or low >= least + 2 * third:
        return Band.HIGH
    return Band.MIDDLE if low >= least + third else Band.LOW


def check_whole_row(one: Exposure, days: dict[date, Day]) -> None:
    """Fractions of the fullest day; of days equally full, the one with the least minimum."""
    if one.why:
        assert one.daily_low is one.fraction_of_max is None
        assert one.band in (Band.UNKNOWN, Band.OVER)
        return
    highs, lows, overs = [], [], []
    for day in one.span:
        parts = [
            (pair[0] / LIMITS[key][1], pair[1] / LIMITS[key][1], LIMITS[key])
            for key, pair in days.get(day, {}).items()
            if key[0] == one.herb and pair
        ]
        highs.append(sum((high for _, high, _ in parts), F(0)))
        overs.append(sum((high / (F(3, 2) if a == b else 1) for _, high, (a, b) in parts), F(0)))
        whole = sum((low for low, _, _ in parts), F(0))
        if whole:
            least = sum((low / whole * (a / b) for low, _, (a, b) in parts), F(0))
            lows.append((whole, -least))
    assert one.daily_high == one.fraction_of_max == max(highs)
    assert one.daily_low == max((whole for whole, _ in lows), default=0)
    if lows:
        assert one.low == -max(lows)[1]
        within = naive_band(max(lows)[0], F(0), -max(lows)[1], F(1))
        assert one.band is (Band.OVER if max(overs) > 1 else within)


def check_runs_are_longest(found: list[Exposure]) -> None:
    for one in found:
        for two in of(found, one.herb, one.form):
            if one.span.end == two.span.first and not (one.days and one.days.every > 1):
                assert replace(two, span=one.span) != one


def checks(made: Course) -> Iterator[None]:
    layout = lay_out(replace(made, remedies=(TEA, TINCTURE, CAPSULE)))
    found, days = list(exposures(layout, MATERIA_MEDICA)), by_day(layout)
    check_covers(found, days)
    check_runs_are_longest(found)
    for one in found:
        if one.form:
            check_form_row(one, days)
        else:
            check_whole_row(one, days)
        yield


SLOWLY = settings(max_examples=draws(20))


@SLOWLY
@given(samples.courses())
def test_any_course_against_a_naive_reading(made: Course) -> None:
    assert all(one is None for one in checks(made))


@SLOWLY
@given(samples.possible_courses())
def test_any_revised_course_against_a_naive_reading(made: Course) -> None:
    assert all(one is None for one in checks(made))


def test_a_span_in_which_nothing_falls_has_no_row() -> None:
    """Mondays of one, and every sixth day of the other: from Tuesday to Saturday there is none."""
    lines = line("t2", "1 capsule od on mon"), line("t3", "1 capsule od 1 d on 5 d off")
    made = samples.course(samples.phase("one", "1 w", *lines))
    found = rows(replace(made, remedies=(TEA, replace(CAPSULE, id="t2"), CAPSULE)))
    powder = of(found, "turmeric", TakenAs.POWDER)
    assert [(one.span.first, one.span.days) for one in powder] == [
        (samples.day(1), 1),
        (samples.day(7), 1),
    ]


def test_two_forms_on_days_of_their_own_are_never_added() -> None:
    tea = samples.phase("one", "1 w", line("t1", "1 cup od"))
    found = rows(course(tea, samples.phase("two", "1 w", line("t2", "5 mL od"))))
    assert [len(of(found, "turmeric", form)) for form in (TakenAs.TEA, TakenAs.LIQUID)] == [1, 1]
    assert of(found, "turmeric", None) == []


@pytest.mark.parametrize(("cups", "band"), [(1, Band.UP_TO), (2, Band.UP_TO), (3, Band.OVER)])
def test_of_a_text_that_gives_the_most_alone_it_is_known_only_whether_it_is_over(
    cups: int, band: Band
) -> None:
    """No more than 6 g a day, 3 g to a cup: one cup and two are up to it, three are over it."""
    tea = replace(TEA, ingredients=(Ingredient("nettle", F(1)),))
    made = course(samples.phase("one", "1 w", line("t1", f"{cups} cup od")))
    found = rows(replace(made, remedies=(tea, TINCTURE, CAPSULE, RUB)))
    assert [facts(one, "low", "high", "band") for one in found] == [(0, 6, band)]


def test_rows_that_are_not_kept_any_more_are_made_again(monkeypatch: pytest.MonkeyPatch) -> None:
    steps = samples.phase(
        "one", "4 w", line("t1", "1 cup od"), line("t2", "5 mL bd 1 w on 1 w off")
    )
    made = course(steps)
    before = rows(made)
    monkeypatch.setattr(herb_rows, "_MOST_STATES", 1)
    anew = exposures(lay_out(deepcopy(made)), replace(MATERIA_MEDICA))
    assert list(anew) == list(before)


def test_what_is_not_known_over_all_forms_is_one_row_whatever_one_of_them_gives() -> None:
    """A tincture in cups says nothing of its turmeric, so nor does the tea beside it."""
    tincture = samples.line("t2", "1 cup od")
    phases = (
        samples.phase("one", "2 w", samples.line("t1", "1 cup od"), tincture),
        samples.phase("two", "1 w", samples.line("t1", "2 cups od"), tincture),
    )
    found = [row for row in rows(course(*phases)) if row.herb == "turmeric" and row.form is None]
    assert [(row.span.days, row.band) for row in found] == [(21, Band.UNKNOWN)]

"""What a label says, against what dispensed medicines must carry (labels.yaml)."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest

from sennight.domain.dates import CalendarUnit, Length, Span
from sennight.domain.day import ClientDay
from sennight.domain.directions.directions import Unit
from sennight.domain.directions.parser import parse_directions
from sennight.domain.dispensary.batches import Batch
from sennight.domain.dispensary.label_directions import ForClient, Period, Plan
from sennight.domain.dispensary.labels import (
    SLEEPY,
    Label,
    Supply,
    keeping_words,
    label_of,
    quantity_words,
)
from sennight.domain.practices import PracticeCard
from sennight.domain.remedies.form_facts import KEEPS, Filling, Keeping
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Ingredient, Method, Portion, Remedy, TeaMaking
from sennight.domain.supply.quantities import Quantity
from support.files import REFERENCES, from_yaml

F = Fraction
TODAY = date(2026, 11, 28)
OWN = ("Herbal medicine made up for one client",)
CARD = PracticeCard(
    "Reed Lane Herbs", "M. Reed", ("3 Reed Lane", "Ottery"), "01632 960123", on_labels=OWN
)
PARTS = (
    Ingredient("turmeric", F(30), F(3), F(60)),
    Ingredient("ginger", F(20), F(5, 2), F(90)),
)
TINCTURE = Remedy("t2", "Joint drops", Form.TINCTURE, PARTS)


def period(take: str, first: date, last: date) -> Period:
    return Period(Span.of_days(first, last), parse_directions(take))


def always(take: str) -> tuple[Period, ...]:
    return (period(take, TODAY, date(2027, 2, 1)),)


def label(remedy: Remedy, take: str = "5 mL tds", names: tuple[str, ...] = ()) -> Label:
    batch = Batch(
        "b1", "261128-1", remedy, Quantity(F(300), Unit.ML), TODAY, "M. Reed", date(2027, 5, 27)
    )
    client = ForClient("Ada Finch", "B", always(take), ClientDay.at(), "c7")
    supply = Supply(Quantity(F(100), Unit.ML), TODAY, "MR")
    names = names or tuple(part.herb for part in remedy.ingredients)
    return label_of(batch, supply, client, CARD, names)


def test_everything_that_a_dispensed_label_must_say_is_there() -> None:
    rows = from_yaml((REFERENCES / "labels.yaml").read_text(encoding="utf-8"))
    asked = next(row["expected"] for row in rows if row["id"] == "our_set")
    made = label(TINCTURE, names=("Turmeric", "Ginger"))
    said = {
        "client name": made.client == "Ada Finch",
        "date": made.supplied == "28 November 2026 MR",
        "contents/ingredients": made.contents == "Turmeric 1:3 60 %, Ginger 1:2.5 40 %",
        "quantity": made.quantity == "100 mL",
        "directions": made.directions.startswith("5 mL three times a day"),
        "batch": made.batch == "261128-1",
        "use-by": made.use_by == "27 May 2027",
        "storage": "cool" in made.keeping,
        "keep out of reach and sight of children": any(
            "sight and reach of children" in line for line in made.warnings
        ),
        "for external use only (if so)": "For external use only"
        in label(Remedy("r", "R", Form.RUB, PARTS), "1 application bd").warnings,
        "practitioner name, address, telephone": made.practice
        == ("M. Reed", "Reed Lane Herbs", "3 Reed Lane", "Ottery", "01632 960123"),
    }
    assert [item for item in asked if not said[item]] == []
    assert made.strength == "Contains alcohol: about 72 % by volume"
    assert made.code == "261128-1 c7 B"


def test_what_is_taken_is_not_for_external_use_only() -> None:
    assert "For external use only" not in label(TINCTURE).warnings


@pytest.mark.parametrize(
    ("remedy", "contents"),
    [
        (
            Remedy(
                "t", "T", Form.TEA, (Ingredient("a", F(2)), Ingredient("b", F(1))), TeaMaking(F(3))
            ),
            "a 66.7 %, b 33.3 %",
        ),
        (
            Remedy(
                "c",
                "C",
                Form.CAPSULE,
                (
                    Ingredient("a", mg=F(400), filling=Filling.EXTRACT),
                    Ingredient("b", mg=F(50)),
                    Ingredient("d"),
                ),
            ),
            "a extract 400 mg, b 50 mg, d",
        ),
        (
            Remedy(
                "c",
                "C",
                Form.CREAM,
                (Ingredient("a", percent=F(10), filling=Filling.TINCTURE),),
            ),
            "a tincture 10 %",
        ),
        (
            Remedy(
                "p",
                "P",
                Form.PRODUCT,
                (Ingredient("a", mg=F(400)), Ingredient("b", mg=F(1, 10))),
                mg_in=Portion(F(5), Unit.ML),
            ),
            "In 5 mL: a 400 mg, b 0.1 mg",
        ),
        (Remedy("t", "T", Form.TINCTURE, (Ingredient("a", None, None, F(0)),)), "a"),
    ],
)
def test_contents_in_one_line(remedy: Remedy, contents: str) -> None:
    made = label(remedy)
    assert made.contents == contents
    assert made.strength == ""


@pytest.mark.parametrize(
    ("amount", "unit", "words"),
    [
        (F(60), Unit.CAPSULE, "60 capsules"),
        (F(1), Unit.CAPSULE, "1 capsule"),
        (F(100), Unit.G, "100 g"),
        (F(30), Unit.SCOOP, "30 scoops"),
    ],
)
def test_quantity_in_words(amount: Fraction, unit: Unit, words: str) -> None:
    assert quantity_words(Quantity(amount, unit)) == words


@pytest.mark.parametrize("keeping", Keeping)
def test_every_way_of_keeping_is_told(keeping: Keeping) -> None:
    is_watery = KEEPS[keeping].unit is CalendarUnit.DAYS
    assert ("fridge" in keeping_words(keeping)) == is_watery


def test_what_is_kept_for_a_flare_up_says_when_to_start() -> None:
    taken = parse_directions("5 mL qds")
    client = ForClient("Ada", "B", (), ClientDay.at(), "c7")
    batch = Batch("b", "1", TINCTURE, Quantity(F(9), Unit.ML), TODAY, "M", TODAY)

    def said(plan: Plan) -> str:
        supply = Supply(Quantity(F(9), Unit.ML), TODAY, "MR")
        return label_of(batch, supply, replace(client, plans=(plan,)), CARD, ("a", "b")).directions

    later = (Length(2, CalendarUnit.DAYS), parse_directions("5 mL bd"))
    told = said(Plan(taken, "If it swells.", Length(1, CalendarUnit.WEEKS), (later,)))
    start, first, then = told.split(". ")
    assert start == "For the flare-up plan: start if it swells"
    assert first.startswith("5 mL four times a day, ")
    assert first.endswith(" bedtime, for 1 week")
    assert then.startswith("After 2 days: 5 mL twice a day, ")
    called = "For the flare-up plan: call us on the day that your symptoms flare up. 5 mL four"
    assert said(Plan(taken, "")).startswith(called)


def test_usual_directions_come_first_and_plans_say_that_they_stand_in_their_place() -> None:
    client = ForClient("Ada", "B", always("5 mL od"), ClientDay.at(), "c7")
    batch = Batch("b", "1", TINCTURE, Quantity(F(9), Unit.ML), TODAY, "M", TODAY)
    supply = Supply(Quantity(F(9), Unit.ML), TODAY, "MR")
    taken = parse_directions("5 mL qds")
    plans = Plan(taken, "If it swells."), Plan(taken, "", name="Flare-up plan “Bad nights”")
    label = label_of(batch, supply, replace(client, plans=plans), CARD, ("a", "b"))
    assert label.directions == label_of(batch, supply, client, CARD, ("a", "b")).directions
    swells, nights = label.in_flares
    assert swells.startswith("Flare-up plan, instead: start if it swells. 5 mL four times a day")
    assert nights.startswith("Flare-up plan “Bad nights”, instead: call us on the day")


def label_for(client: ForClient, remedy: Remedy = TINCTURE) -> Label:
    batch = Batch("b", "1", remedy, Quantity(F(9), Unit.ML), TODAY, "M", TODAY)
    supply = Supply(Quantity(F(9), Unit.ML), TODAY, "MR")
    return label_of(batch, supply, client, CARD, [part.herb for part in remedy.ingredients])


def test_directions_that_change_while_the_supply_lasts_have_their_days() -> None:
    """A year is said where it is another than that of the supply."""
    usual = (
        period("5 mL tds", TODAY, date(2026, 12, 20)),
        period("7.5 mL bd", date(2026, 12, 21), date(2027, 1, 3)),
        period("10 mL od", date(2027, 1, 4), date(2027, 2, 1)),
    )
    made = label_for(ForClient("Ada", "B", usual, ClientDay.at(), "c7"))
    assert made.directions.startswith("To 20 December: 5 mL three times a day")
    second, third = made.later
    assert second.startswith("From 21 December to 3 January 2027: 7.5 mL twice a day")
    assert third.startswith("From 4 January 2027: 10 mL once a day")
    assert label_for(ForClient("Ada", "B", usual[:1], ClientDay.at(), "c7")).later == ()


def test_directions_begin_with_a_capital() -> None:
    rub = label(Remedy("r", "R", Form.RUB, PARTS), "1 application bd")
    assert rub.directions.startswith("A thin layer twice a day")


def test_what_may_make_sleepy_warns() -> None:
    client = ForClient("Ada", "B", always("5 mL od"), ClientDay.at(), "c7")
    assert SLEEPY not in label_for(client).warnings
    assert SLEEPY in label_for(replace(client, makes_sleepy=True)).warnings


@pytest.mark.parametrize(
    ("method", "minutes", "line"),
    [
        (Method.INFUSION, 10, "1 cup: 6.5 g in 250 mL of boiling water, cover for 10 minutes"),
        (Method.DECOCTION, 20, "1 cup: 6.5 g in 250 mL of water, simmer covered for 20 minutes"),
        (
            Method.MACERATION,
            480,
            "1 cup: 6.5 g in 250 mL of cold water, leave covered for 8 hours",
        ),
    ],
)
def test_how_a_cup_is_made(method: Method, minutes: int, line: str) -> None:
    tea = TeaMaking(F(13, 2), method=method, minutes=minutes)
    made = label(Remedy("t", "T", Form.TEA, (Ingredient("a", F(2)),), tea), "1 cup tds")
    assert made.making == f"{line}, strain"
    assert label(TINCTURE).making == ""

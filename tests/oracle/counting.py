"""What a course gives of herbs and ethanol, day by day, counted from the second reading."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from itertools import product

from oracle.reading import Laid, Table, Use, uses

ETHANOL_G_PER_ML = Fraction("0.78924")
"""Density of ethanol at 20 °C, OIML R 22 (1975)."""

ML = {"mL": Fraction(1), "tsp": Fraction(5), "tbsp": Fraction(15)}
USUAL_DROPS_PER_ML = 20
POWDER_GRAMS = {"g": Fraction(1), "tsp": Fraction("2.5"), "tbsp": Fraction("7.5")}
NOT_SWALLOWED = ("rub", "ointment", "bath", "steam", "gargle", "mouthwash")
DRUNK_WITH_ETHANOL = ("tincture", "syrup", "juice")

Amounts = tuple[Fraction, Fraction]
"""Grams a day: of timed doses alone, and with all as-needed ones."""


@dataclass(frozen=True)
class Doses:
    """What one remedy gives of a herb on a day: a dose's grams, the most of a range last."""

    remedy: str
    form: str
    timed: int
    most: int
    grams: Fraction
    most_grams: Fraction


Given = dict[tuple[str, date], list[Doses]]


def given(laid: Laid) -> Given:
    """All doses of each herb on each day, those as needed among them."""
    found: Given = defaultdict(list)
    for use in uses(laid):
        remedy = _remedy(laid, use.formula)
        larger = use.told.most / use.told.amount
        if remedy["form"] in NOT_SWALLOWED:
            continue
        for herb, form, grams in _a_dose(remedy, use):
            doses = Doses(use.remedy, form, *_doses(use), grams, grams * larger)
            found[herb, use.day].append(doses)
    return dict(found)


def exposure(laid: Laid) -> dict[tuple[str, str, date], Amounts]:
    """Grams of each herb in each form on each day on which there are any."""
    found: dict[tuple[str, str, date], Amounts] = {}
    for (herb, day), doses in given(laid).items():
        for form in {its.form for its in doses}:
            weights = {form: Fraction(1)}
            low = sum((d.timed * d.grams for d in doses if d.form == form), Fraction(0))
            found[herb, form, day] = (low, greatest(laid, tuple(doses), weights))
    return found


def greatest(laid: Laid, doses: tuple[Doses, ...], weights: dict[str, Fraction]) -> Fraction:
    """The most of some doses in a day, each form by its weight: every choice of doses is tried.

    Any dose may be left out, and no ceiling of several remedies is passed; but the timed doses
    alone are always possible, with all of what no ceiling names.
    """
    counted = [its for its in doses if its.form in weights]
    remedies = list(dict.fromkeys(its.remedy for its in counted))
    most = [max(its.most for its in counted if its.remedy == name) for name in remedies]
    ceilings = [c for c in laid.file["protocol"].get("ceiling", []) if len(c["remedies"]) > 1]
    bound = {name for ceiling in ceilings for name in ceiling["remedies"]}
    best = sum(
        (
            (its.timed if its.remedy in bound else its.most) * its.most_grams * weights[its.form]
            for its in counted
        ),
        Fraction(0),
    )
    for choice in product(*(range(each + 1) for each in most)):
        taken = dict(zip(remedies, choice, strict=True))
        if all(
            sum(taken.get(name, 0) for name in ceiling["remedies"]) <= ceiling["most_per_day"]
            for ceiling in ceilings
        ):
            sums = (taken[d.remedy] * d.most_grams * weights[d.form] for d in counted)
            best = max(best, sum(sums, Fraction(0)))
    return best


def ethanol(laid: Laid) -> dict[tuple[str, date], tuple[Fraction, Fraction, Fraction]]:
    """Of each drunk liquid on each day: strength in percent, grams a dose, most grams a day."""
    found = {}
    for use in uses(laid):
        remedy = _remedy(laid, use.formula)
        if remedy["form"] in DRUNK_WITH_ETHANOL:
            shares = _shares(remedy)
            parts = zip(remedy["parts"], shares, strict=True)
            percent = sum((share * part.get("ethanol", 0) for part, share in parts), Fraction(0))
            larger = use.told.most / use.told.amount
            grams = _millilitres(remedy, use) * larger * percent / 100 * ETHANOL_G_PER_ML
            found[use.remedy, use.day] = (percent, grams, _doses(use)[1] * grams)
    return found


def supply(laid: Laid) -> dict[tuple[str, str, str], tuple[Fraction, date, date]]:
    """Of each remedy, phase and unit: the amount needed, the first and the last day needed."""
    found: dict[tuple[str, str, str], tuple[Fraction, date, date]] = {}
    every_use = list(uses(laid))
    on_days: dict[date, list[Use]] = defaultdict(list)
    for use in every_use:
        on_days[use.day].append(use)
    for use in every_use:
        amount, unit = _from_the_shelf(_remedy(laid, use.formula), use)
        amount *= use.told.most / use.told.amount
        timed, most = _doses(use)
        needed = _under_shared_ceilings(laid, use, on_days[use.day], most - timed)
        a_day = amount * timed + amount * needed / 2
        sum_before, first, _ = found.get((use.remedy, use.phase, unit), (0, use.day, use.day))
        found[use.remedy, use.phase, unit] = (sum_before + a_day, first, use.day)
    return found


def _under_shared_ceilings(laid: Laid, use: Use, that_day: list[Use], own: int) -> Fraction:
    """What a remedy's part is of the doses as needed that its ceilings leave to several."""
    least = Fraction(own)
    for ceiling in laid.file["protocol"].get("ceiling", []):
        if use.remedy not in ceiling["remedies"] or len(ceiling["remedies"]) < 2 or not own:
            continue
        told = use.told.weekdays, use.told.every
        taken = [
            _doses(other)
            for other in that_day
            if other.remedy in ceiling["remedies"]
            and (other.told.weekdays, other.told.every) in ((None, 1), told)
        ]
        timed = sum(times for times, _ in taken)
        asked = sum(most - times for times, most in taken)
        room = max(1, ceiling["most_per_day"] - timed)
        least = min(least, Fraction(own * min(asked, room), asked))
    return least


def _from_the_shelf(remedy: Table, use: Use) -> tuple[Fraction, str]:
    """What is made in water is weighed dry, as powders are; liquids are measured."""
    amount, unit, form = use.told.amount, use.told.unit, remedy["form"]
    if form in ("tea", "gargle"):
        cups = amount if unit == "cup" else ML[unit] * amount / 250
        return remedy["grams_per_cup"] * cups, "g"
    if form in ("bath", "steam"):
        return remedy["grams_per_bath" if form == "bath" else "grams_per_bowl"] * amount, "g"
    if form == "powder":
        return POWDER_GRAMS[unit] * amount, "g"
    if unit in ("capsule", "tablet", "piece", "application", "scoop"):
        return amount, unit
    return _millilitres(remedy, use), "mL"


def _remedy(laid: Laid, name: str) -> Table:
    found: Table = next(remedy for remedy in laid.file["remedy"] if remedy["id"] == name)
    return found


def _doses(use: Use) -> tuple[int, int]:
    timed = len(use.told.times)
    return timed, timed + (use.told.ceiling or 0)


def _shares(remedy: Table) -> list[Fraction]:
    whole = sum(part["parts"] for part in remedy["parts"]) + remedy.get("base_parts", 0)
    return [Fraction(part["parts"]) / whole for part in remedy["parts"]]


def _millilitres(remedy: Table, use: Use) -> Fraction:
    per_drop = 1 / Fraction(remedy.get("drops_per_ml", USUAL_DROPS_PER_ML))
    if use.told.unit == "dropperful":
        drops = Fraction(remedy.get("drops_per_dropperful", 0)) * per_drop
        return use.told.amount * (Fraction(remedy.get("ml_per_dropperful", 0)) + drops)
    return use.told.amount * ML.get(use.told.unit, per_drop)


def _portions(remedy: Table, use: Use) -> Fraction:
    """How many of what the packet tells the mg of."""
    told = remedy.get("mg_in", "1 piece")
    if told == "5 mL":
        return _millilitres(remedy, use) / 5
    return use.told.amount / (2 if told == "2 scoops" else 1)


def _a_dose(remedy: Table, use: Use) -> list[tuple[str, str, Fraction]]:
    if remedy["form"] in ("capsule", "tablet", "product"):
        usual = "substance" if remedy["form"] == "product" else "powder"
        return [
            (
                part["herb"],
                part.get("as", usual),
                _portions(remedy, use) * Fraction(part["mg"]) / 1000,
            )
            for part in remedy["parts"]
        ]
    parts = list(zip(remedy["parts"], _shares(remedy), strict=True))
    if remedy["form"] == "tea":
        grams = remedy["grams_per_cup"] * use.told.amount
        return [(part["herb"], "tea", share * grams) for part, share in parts]
    if remedy["form"] == "powder":
        grams = use.told.amount * POWDER_GRAMS[use.told.unit]
        return [(part["herb"], "powder", share * grams) for part, share in parts]
    volume = _millilitres(remedy, use)
    if remedy["form"] == "juice":
        return [(part["herb"], "juice", share * volume) for part, share in parts]
    return [
        (part["herb"], "liquid", share * volume / Fraction(part["ratio"].split(":")[1]))
        for part, share in parts
    ]


def band(amounts: Sequence[Amounts], ranges: Sequence[Amounts], highest: Fraction) -> str:
    """The band of a herb's daily amounts, form by form, in working ranges of the same forms.

    `highest` is the most of a day, in parts of the maximum.
    """
    pairs = list(zip(amounts, ranges, strict=True))
    if highest > 1:
        return "over"
    fractions = [(low / most, least / most) for (low, _), (least, most) in pairs]
    f = sum(fraction for fraction, _ in fractions)
    if f == 0:
        return "below"
    m = sum(fraction / f * least for fraction, least in fractions)
    if m == 1:
        return "high" if f == 1 else "below"
    position = (f - m) / (1 - m)
    if position < 0:
        return "below"
    return (
        "low" if position < Fraction(1, 3) else "middle" if position < Fraction(2, 3) else "high"
    )

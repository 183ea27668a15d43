"""What a course gives of herbs and ethanol, day by day, counted from the second reading."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from datetime import date
from fractions import Fraction

from oracle.reading import Laid, Table, Use, uses

ETHANOL_G_PER_ML = Fraction("0.78924")
"""Density of ethanol at 20 °C, OIML R 22 (1975)."""

ML = {"mL": Fraction(1), "tsp": Fraction(5), "tbsp": Fraction(15)}
USUAL_DROPS_PER_ML = 20
POWDER_GRAMS = {"g": Fraction(1), "tsp": Fraction("2.5"), "tbsp": Fraction("7.5")}
NOT_SWALLOWED = ("rub", "ointment", "bath", "gargle", "mouthwash")
DRUNK_WITH_ETHANOL = ("tincture", "syrup", "juice")

Amounts = tuple[Fraction, Fraction]
"""Grams a day: of timed doses alone, and with all as-needed ones."""


def exposure(laid: Laid) -> dict[tuple[str, str, date], Amounts]:
    """Grams of each herb in each form on each day on which there are any."""
    found: dict[tuple[str, str, date], Amounts] = defaultdict(lambda: (Fraction(0), Fraction(0)))
    for use in uses(laid):
        remedy = _remedy(laid, use.formula)
        timed, most = _doses(use)
        larger = use.told.most / use.told.amount
        if remedy["form"] in NOT_SWALLOWED:
            continue
        for herb, form, grams in _a_dose(remedy, use):
            low, high = found[herb, form, use.day]
            found[herb, form, use.day] = (low + timed * grams, high + most * grams * larger)
    return dict(found)


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
    for use in uses(laid):
        amount, unit = _from_the_shelf(_remedy(laid, use.formula), use)
        amount *= use.told.most / use.told.amount
        timed, most = _doses(use)
        a_day = amount * timed + amount * (most - timed) / 2
        sum_before, first, _ = found.get((use.remedy, use.phase, unit), (0, use.day, use.day))
        found[use.remedy, use.phase, unit] = (sum_before + a_day, first, use.day)
    return found


def _from_the_shelf(remedy: Table, use: Use) -> tuple[Fraction, str]:
    """What is made in water is weighed dry, as powders are; liquids are measured."""
    amount, unit, form = use.told.amount, use.told.unit, remedy["form"]
    if form in ("tea", "gargle"):
        cups = amount if unit == "cup" else ML[unit] * amount / 250
        return remedy["grams_per_cup"] * cups, "g"
    if form == "bath":
        return remedy["grams_per_bath"] * amount, "g"
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


def band(amounts: Sequence[Amounts], ranges: Sequence[Amounts]) -> str:
    """The band of a herb's daily amounts, form by form, in working ranges of the same forms."""
    pairs = list(zip(amounts, ranges, strict=True))
    if sum(high / most for (_, high), (_, most) in pairs) > 1:
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

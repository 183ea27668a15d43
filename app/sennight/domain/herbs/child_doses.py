"""What is published of a herb for children, and the parts of an adult dose by age or weight.

A published dose for the age comes first; of several the lowest. A rule is for a herb whose text
allows the age but gives no figure, never under 2 years, and never for what works otherwise in
children: salicylates, thujone, alkaloids, liquorice, laxatives, hormones, strong sedatives. Pounds
are avoirdupois: 150 lb = 68.0388555 kg.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from fractions import Fraction

from sennight.domain.herbs.doses import ChildDose, TakenAs
from sennight.domain.herbs.herbs import Herb, Presence
from sennight.domain.herbs.ranges import PREPARATIONS, NoRange, WorkingRange

KG_PER_LB = Fraction("0.45359237")
ADULT_LB = 150
NO_LONGER_A_CHILD = 12
"""Years from which a text for adolescents or adults may hold."""
LEAST_YEARS = 2
"""Years under which no rule is used."""
_WORKS_OTHERWISE = frozenset(
    (
        *("salicylates", "thujone", "glycyrrhizin", "anthraquinones", "phytoestrogens"),
        *("cardiac-glycosides", "pyrrolizidine-alkaloids", "berberine", "alkaloids"),
    )
)
_STRONG = frozenset(("laxative", "stimulant-laxative", "hypnotic", "oestrogenic"))


def months_of_age(born: date, day: date) -> int:
    """Completed months on a day; negative before the birth."""
    return (day.year - born.year) * 12 + day.month - born.month - (day.day < born.day)


def child_range(doses: Iterable[ChildDose], form: TakenAs, months: int) -> WorkingRange | NoRange:
    """The lowest range that is published for a form and an age, or why there is none."""
    ranges = [
        WorkingRange(dose.row.daily.low, dose.row.daily.high, dose.row)
        for dose in doses
        if dose.from_months <= months < dose.below_months
        if dose.row.form in PREPARATIONS[form] and dose.row.daily
    ]
    if not ranges:
        return NoRange(
            "no range is published for a child of this age, and an adult's does not apply"
        )
    return min(ranges, key=lambda held: (held.high, held.low))


def may_be_estimated(herb: Herb, months: int) -> bool:
    """Whether a rule may stand in where a text allows the age but gives no figure."""
    if months < LEAST_YEARS * 12 or months < herb.min_age.value * 12:
        return False
    held = {part.tag for part in herb.constituents if part.presence is not Presence.TRACE}
    return _WORKS_OTHERWISE.isdisjoint(held) and _STRONG.isdisjoint(herb.actions.tags)


def least_part(months: int, weight_kg: Fraction | None) -> Fraction:
    """The least part of an adult dose that the rules of age give, and of weight if it is known."""
    years = months // 12
    parts = [young_part(years), cowling_part(years)]
    if weight_kg is not None:
        parts += [clark_part(weight_kg), salisbury_part(weight_kg)]
    return min(parts)


def young_part(years: int) -> Fraction:
    """Completed years ÷ (years + 12)."""
    return Fraction(years, years + 12)


def cowling_part(years: int) -> Fraction:
    """Years at the next birthday ÷ 24, at most the whole."""
    return min(Fraction(1), Fraction(years + 1, 24))


def clark_part(weight_kg: Fraction) -> Fraction:
    """Weight in pounds ÷ 150, at most the whole."""
    return min(Fraction(1), weight_kg / KG_PER_LB / ADULT_LB)


def salisbury_part(weight_kg: Fraction) -> Fraction:
    """2 % a kg up to 30 kg, above it kg + 30 %, at most the whole."""
    return min(Fraction(1), (2 * weight_kg if weight_kg <= 30 else weight_kg + 30) / 100)

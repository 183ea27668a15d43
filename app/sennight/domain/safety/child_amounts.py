"""What a child takes of a herb, against what is published for its age or the least of the rules.

No range of an adult is ever gone by. Under the least age of a herb its age stands as a finding,
and no amount is judged.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from sennight.domain.courses.clients import Client
from sennight.domain.exposure.ages import ADULT
from sennight.domain.exposure.exposure import Exposure
from sennight.domain.herbs.child_doses import least_part, may_be_estimated, months_of_age
from sennight.domain.herbs.herbs import Herb
from sennight.domain.herbs.ranges import working_range
from sennight.domain.safety.statements import ChildAmount, NoChildDose


@dataclass(frozen=True, slots=True)
class ChildVerdict:
    """What is said of an amount, and how many times the figure it comes to, if there is one."""

    statement: ChildAmount | NoChildDose
    times: Fraction | None = None


def childs_months(client: Client, day: date) -> int | None:
    """A child's age in completed months on a day; None where ranges of adults hold."""
    if client.born is None:
        return None
    months = months_of_age(client.born, day)
    return months if months < ADULT else None


def judged_for_child(
    row: Exposure, herb: Herb, months: int, weight_kg: Fraction | None
) -> ChildVerdict | None:
    """An amount without a published range: against the least of the rules, if one may be used."""
    if row.form is None or months < herb.min_age.value * 12:
        return None
    adult = working_range(herb, row.form)
    if adult is None or row.daily_high is None or not may_be_estimated(herb, months):
        return ChildVerdict(NoChildDose(herb.id, months // 12, herb.min_age.origin))
    most = adult.high * least_part(months, weight_kg)
    if row.daily_high <= most:
        return None
    statement = ChildAmount(
        herb=herb.id,
        form=row.form,
        grams=row.daily_high,
        most=most,
        years=months // 12,
        by_weight=weight_kg is not None,
        source=adult.source,
    )
    return ChildVerdict(statement, row.daily_high / most)

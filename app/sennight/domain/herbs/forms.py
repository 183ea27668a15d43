"""What a herb's record says of the forms it is taken in, and of how often it is rubbed in."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from fractions import Fraction

from sennight.domain.herbs.doses import DoseRow, Preparation, Route, TakenAs
from sennight.domain.herbs.herbs import Herb, Level, NotAs
from sennight.domain.herbs.ranges import NoRange, range_or_reason

_RUBBED_IN = (
    *(Preparation.OINTMENT, Preparation.CREAM, Preparation.GEL),
    *(Preparation.OIL, Preparation.PAINT),
)
_SKIN_ALONE = "Recorded for use on the skin only"


def forbidden_forms(herb: Herb) -> Mapping[TakenAs, NotAs]:
    """The forms that the record speaks against, and why; all by mouth for a herb for the skin."""
    forbidden: dict[TakenAs, NotAs] = {}
    if Route.ORAL not in herb.routes:
        on_skin = NotAs(tuple(TakenAs), Level.AVOID, _SKIN_ALONE, herb.official.origin)
        forbidden |= dict.fromkeys(TakenAs, on_skin)
    for not_as in herb.not_as:
        forbidden |= dict.fromkeys(not_as.forms, not_as)
    return forbidden


def most_a_day(
    herb: Herb, form: TakenAs, ratio: Fraction | None = None, aims: frozenset[str] = frozenset()
) -> Fraction | None:
    """Grams a day above which an amount is over what is published; None where nothing is.

    Of the working range; of a record with a narrow margin no more than the figure itself.
    """
    outcome = range_or_reason(herb, form, ratio, aims)
    if isinstance(outcome, NoRange):
        return None
    return outcome.high if herb.narrow else outcome.over_from


def texts_on(herb: Herb, preparations: Collection[Preparation]) -> tuple[DoseRow, ...]:
    """What texts say of a herb in one of these preparations, in words; doubted rows left out."""
    return tuple(
        row for row in herb.doses if row.form in preparations and row.note and not row.doubted
    )


def most_applications(herb: Herb) -> int | None:
    """The most times a day that a text gives for rubbing it in; None where no text says."""
    times = [
        row.times[1]
        for row in herb.doses
        if row.times and row.route is Route.TOPICAL and row.form in _RUBBED_IN and not row.doubted
    ]
    return max(times, default=None)

"""One dose as it is said at home: on the sheet, the diary sheet, the label and the phone alike."""

from __future__ import annotations

from sennight.domain.amounts import rounded
from sennight.domain.directions.directions import Directions, Unit
from sennight.domain.directions.plain_words import plain_dose
from sennight.domain.remedies.forms import Form, is_for_skin, is_made_in_water
from sennight.domain.remedies.remedies import Portion, Remedy


def dose_words(directions: Directions, remedy: Remedy) -> str:
    """The amount of one dose: `2.5 mL`, `1 dropperful (about 1 mL)`; of a rub `a thin layer`."""
    form = remedy.form
    is_single = directions.amount == 1 and directions.most is None
    if is_single and is_layer(directions, form):
        return "a thin layer"
    if is_single and directions.unit is Unit.APPLICATION and form.facts.making:
        return f"1 {form.facts.making}"
    holds = remedy.dropperful if directions.unit is Unit.DROPPERFUL else None
    words = plain_dose(directions)
    return f"{words} ({_about(directions, holds)})" if holds else words


def _about(directions: Directions, holds: Portion) -> str:
    """What so many dropperfuls hold, as the dropper was measured."""
    ends = (directions.amount, directions.largest)
    least, most = (rounded(amount * holds.amount, _places(holds)) for amount in ends)
    of_what = "drops" if holds.unit is Unit.DROP else str(holds.unit)
    return f"about {least if least == most else f'{least} to {most}'} {of_what}"


def _places(holds: Portion) -> int:
    return 0 if holds.unit is Unit.DROP else 2


def is_layer(directions: Directions, form: Form) -> bool:
    """Whether it is spread on the skin, where its usual application is a thin layer."""
    is_spread = is_for_skin(form) and not is_made_in_water(form)
    return is_spread and directions.unit is Unit.APPLICATION

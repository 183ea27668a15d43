"""One dose as it is said at home: on the sheet, the diary sheet and the label alike."""

from __future__ import annotations

from sennight.domain.directions.directions import Directions, Unit
from sennight.domain.directions.plain_words import plain_dose
from sennight.domain.remedies.forms import Form, is_for_skin, is_made_in_water


def dose_words(directions: Directions, form: Form) -> str:
    """The amount of one dose: `2.5 mL`, `1 to 2 cups`; of a rub `a thin layer`, `1 bath`."""
    is_single = directions.amount == 1 and directions.most is None
    if is_single and is_layer(directions, form):
        return "a thin layer"
    if is_single and directions.unit is Unit.APPLICATION and form.facts.making:
        return f"1 {form.facts.making}"
    return plain_dose(directions)


def is_layer(directions: Directions, form: Form) -> bool:
    """Whether it is spread on the skin, where its usual application is a thin layer."""
    is_spread = is_for_skin(form) and not is_made_in_water(form)
    return is_spread and directions.unit is Unit.APPLICATION

"""The value that the editor edits: a remedy, its note and the dose that it is tried with."""

from __future__ import annotations

from dataclasses import dataclass

from sennight.desktop.kit.translating import translate
from sennight.desktop.parts.form_names import form_name
from sennight.desktop.parts.range_bar import grams_text
from sennight.domain.amounts import plain_number, rounded
from sennight.domain.directions.directions import Directions
from sennight.domain.directions.plain_words import listed
from sennight.domain.exposure.ethanol import CONTRACTION, mixed, strength
from sennight.domain.formulas.formulas import (
    Trial,
    falling_out,
    full_day,
    trial_directions,
    usual_day_trial,
)
from sennight.domain.herbs.forms import texts_on
from sennight.domain.herbs.herbs import MateriaMedica
from sennight.domain.remedies.contents import Unknown, essential_oil_percent, skin_strengths
from sennight.domain.remedies.form_facts import Composition, filling_words
from sennight.domain.remedies.forms import Form, called, composition_of, is_for_skin
from sennight.domain.remedies.remedies import Ingredient, Remedy
from sennight.domain.tag_words import upper_first


@dataclass(frozen=True, slots=True)
class Formula:
    """What is on the editor; `tried` is the trial dose in the short form, as typed last."""

    remedy: Remedy
    note: str
    tried: str

    @property
    def directions(self) -> Directions | None:
        """The trial dose; None where it cannot be read or does not fit the form."""
        return trial_directions(self.remedy, self.tried)

    def trial(self, materia_medica: MateriaMedica) -> Trial | None:
        """What the trial dose holds on a usual day; None where it cannot be told."""
        return usual_day_trial(self.remedy, self.tried, materia_medica)


def standing_words(form: Form, version: int | None, *, is_changed: bool) -> str:
    """Which form it is, the version on the shelf, and whether it was changed since."""
    parts = [form_name(form)]
    if version is None:
        parts.append(translate("Formula", "not saved yet"))
    else:
        parts.append(translate("Formula", "version {n}").format(n=version))
        if is_changed:
            parts.append(translate("Formula", "changed since, not saved yet"))
    return " · ".join(parts)


def not_counted_words(form: Form) -> str:
    """Why nothing of a form is compared with ranges."""
    template = translate("Formula", "{form} is not taken, so its herbs are not counted.")
    return template.format(form=upper_first(called(form)))


def parts_words(remedy: Remedy, materia_medica: MateriaMedica) -> str:
    """What is in a formula: `Nettle leaf 2, ginger 1`."""
    parts = []
    for ingredient in remedy.ingredients:
        herb = materia_medica.herb(ingredient.herb)
        parts.append(f"{herb.name if herb else ingredient.herb}{_amount_words(ingredient)}")
    return ", ".join(parts)


def _amount_words(ingredient: Ingredient) -> str:
    """` 2`, ` 300 mg`, ` 10 %`; the first that the formula holds."""
    amounts = (
        (ingredient.parts, ""),
        (ingredient.mg, " mg"),
        (ingredient.percent, " %"),
        (ingredient.drops, " drops"),
    )
    return next((f" {plain_number(amount)}{unit}" for amount, unit in amounts if amount), "")


def strength_words(remedy: Remedy) -> str:
    """The strength of the blend, and what is left out of it; nothing for teas and capsules."""
    if composition_of(remedy.form) is not Composition.BY_VOLUME or not remedy.ingredients:
        return ""
    percent = strength(remedy)
    if percent is None:
        return translate(
            "Formula", "Strength: not known, since some herbs’ details are incomplete."
        )
    if not remedy.form.facts.has_ethanol:
        return ""
    told = translate("Formula", "Strength of the blend: {percent} % v/v").format(
        percent=rounded(percent, 1)
    )
    blend = mixed(remedy)
    if blend is None:
        return f"{told} ({CONTRACTION})."
    if rounded(blend.ml, 1) == "100":
        return f"{told}."
    template = translate("Formula", "{told}; mixed, 100 mL come to {ml} mL of {percent} %.")
    strong = rounded(blend.strength, 1)
    return template.format(told=told, ml=rounded(blend.ml, 1), percent=strong)


def full_day_words(tried: Trial, form: Form, materia_medica: MateriaMedica) -> str:
    """How much of a full day the formula is over all its herbs; nothing for a single one."""
    whole = full_day(tried.rows)
    if whole.herbs < 2:
        return ""
    template = translate("Formula", "Its herbs together come to {part} times a full day’s amount.")
    told = template.format(form=form.facts.noun, part=rounded(whole.part, 2))
    if not whole.unknown:
        return told
    names = listed([materia_medica.names.get(herb, herb).lower() for herb in whole.unknown])
    return f"{told} " + translate("Formula", "Without {herbs}: no range.").format(herbs=names)


def skin_words(remedy: Remedy, materia_medica: MateriaMedica) -> str:
    """How strong each herb is in what goes on the skin; nothing for other forms."""
    if not is_for_skin(remedy.form):
        return ""
    parts = []
    for strong in skin_strengths(remedy):
        if strong.percent is None:
            continue
        name = materia_medica.names.get(strong.herb, strong.herb).lower()
        grams = strong.grams
        dried = "" if grams is None else f" ({grams_text(grams)} g dried herb in 100)"
        percent = rounded(strong.percent, 2)
        parts.append(f"{name}{filling_words(strong.filling)} {percent} %{dried}")
    if not parts:
        return ""
    oils = essential_oil_percent(remedy)
    told = translate("Formula", "Contains {all}.").format(all=listed(parts))
    if not oils:
        return told
    template = translate("Formula", "Essential oils together: {percent} %.")
    return f"{told} {template.format(percent=rounded(oils, 2))}"


def published_words(remedy: Remedy, materia_medica: MateriaMedica) -> str:
    """What texts say of each herb on the skin or in the mouth, a line each; else nothing."""
    told = []
    for part in remedy.ingredients:
        herb = materia_medica.herb(part.herb)
        rows = texts_on(herb, remedy.form.facts.published) if herb else ()
        told += [f"{herb.name}: {row.note} ({row.dose_from})." for row in rows if herb]
    return "\n".join(told)


def sugar_words(tried: Trial) -> str:
    """Grams of sugar in a dose and a day."""
    if tried.sugar is None:
        return ""
    if isinstance(tried.sugar, Unknown):
        return translate("Formula", "Sugar: {why}.").format(why=tried.sugar.reason)
    template = translate("Formula", "Sugar: {dose} g in one dose, up to {day} g a day.")
    day = grams_text(tried.sugar * tried.most)
    return template.format(dose=grams_text(tried.sugar), day=day)


def dose_words(tried: Trial, materia_medica: MateriaMedica) -> str:
    """What one dose holds: `One dose holds 2 g of nettle leaf and 1 g of ginger.`"""
    parts = []
    for dose in tried.doses:
        herb = materia_medica.herb(dose.herb)
        name = herb.name.lower() if herb else dose.herb
        if isinstance(dose.grams, Unknown):
            return translate("Formula", "What one dose contains is not known: {why}.").format(
                why=dose.grams.reason
            )
        parts.append(
            translate("Formula", "{grams} g of {herb}").format(
                grams=grams_text(dose.grams), herb=name
            )
        )
    if not parts:
        return ""
    return translate("Formula", "One dose contains {all}.").format(all=listed(parts))


def ethanol_words(tried: Trial) -> str:
    """Grams of ethanol in a dose and a day."""
    if not tried.ethanol_dose or tried.ethanol_day is None:
        return ""
    template = translate("Formula", "Ethanol: {dose} g in one dose, up to {day} g a day.")
    return template.format(dose=grams_text(tried.ethanol_dose), day=grams_text(tried.ethanol_day))


def solution_words(remedy: Remedy, materia_medica: MateriaMedica) -> str:
    """The warning for herbs that the blend is too weak for; nothing where there are none."""
    losses = falling_out(remedy, materia_medica)
    if not losses:
        return ""
    herbs = listed([f"{loss.herb.name} ({rounded(loss.needs.value, 1)} %)" for loss in losses])
    template = translate(
        "Formula", "Too weak at {percent} % v/v to keep in solution: {herbs}. It may settle."
    )
    return template.format(percent=rounded(losses[0].strength, 1), herbs=herbs)


def solution_sources(remedy: Remedy, materia_medica: MateriaMedica) -> str:
    """Where it is said that these herbs want more, for a closer look."""
    losses = falling_out(remedy, materia_medica)
    return "\n".join(f"{loss.herb.name}: {loss.needs.origin}" for loss in losses)

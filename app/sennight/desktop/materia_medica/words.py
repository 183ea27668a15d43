"""What the texts say of a herb, in words; each with its source, and “not yet checked” where so."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from sennight.desktop.kit.translating import translate
from sennight.desktop.parts.range_bar import form_words, grams_text
from sennight.desktop.parts.tags import tag_words
from sennight.domain.amounts import plain_number, rounded
from sennight.domain.herbs.doses import DoseRange, DoseRow, Preparation, Ratio, Route, TakenAs
from sennight.domain.herbs.herbs import (
    Caution,
    Constituent,
    Duration,
    DurationKind,
    DurationUnit,
    Figure,
    Herb,
    Level,
)
from sennight.domain.herbs.own_herbs import is_own
from sennight.domain.herbs.ranges import RangeKind, WorkingRange, working_range
from sennight.domain.herbs.sources import Basis, Source, SourceKind

LEVELS = (
    Level.CONTRAINDICATED,
    Level.AVOID,
    Level.REFER,
    Level.CAUTION,
    Level.SEPARATE,
    Level.MONITOR,
    Level.INFO,
)
"""The levels, the gravest first."""


def level_words(level: Level) -> str:
    """How strongly a text speaks against a use."""
    return {
        Level.CONTRAINDICATED: translate("Herbs", "Not to be used"),
        Level.AVOID: translate("Herbs", "To be avoided"),
        Level.REFER: translate("Herbs", "Refer to a doctor first"),
        Level.CAUTION: translate("Herbs", "With caution"),
        Level.SEPARATE: translate("Herbs", "Separate by hours"),
        Level.MONITOR: translate("Herbs", "Monitor"),
        Level.INFO: translate("Herbs", "Tell the client"),
    }[level]


def memory_words(basis: Basis | None) -> str:
    """The mark of a fact that was remembered, not read."""
    return "" if basis is Basis.READ else translate("Herbs", "not yet checked")


def own_words(herb: Herb) -> str:
    """The mark of a herb of the practice's own."""
    return translate("Herbs", "this practice's own") if is_own(herb) else ""


# Doses


def preparation_words(form: Preparation) -> str:
    """A preparation as a word."""
    return form.value.removeprefix("topical-").replace("-", " ").capitalize()


def span_text(low: Fraction, high: Fraction) -> str:
    """A span as it is read: `2 to 4`, or one figure."""
    ends = dict.fromkeys((_short(low), _short(high)))
    return translate("Herbs", " to ").join(ends)


def _short(value: Fraction) -> str:
    return rounded(value, 3)


def dose_text(dose: DoseRange | None) -> str:
    """A published amount: `2 to 4 g`, with what it counts where that is not the herb."""
    if dose is None:
        return ""
    text = f"{span_text(dose.low, dose.high)} {dose.unit}"
    if not dose.of:
        return text
    return translate("Herbs", "{dose} (counted as {what})").format(
        dose=text, what=tag_words(dose.of)
    )


def ratio_text(ratio: Ratio | None) -> str:
    """A published ratio: `1:5`, `1:3.5 to 4.5`, `4 to 7:1`."""
    if ratio is None:
        return ""
    return f"{span_text(*ratio.herb)}:{span_text(*ratio.made)}"


def strength_text(row: DoseRow) -> str:
    """Ratio, strength and solvent of a row."""
    parts = [ratio_text(row.ratio)]
    if row.ethanol:
        parts.append(f"{span_text(*row.ethanol)} % v/v")
    elif row.solvent:
        parts.append(tag_words(row.solvent))
    return ", ".join(part for part in parts if part)


def times_text(times: tuple[int, int] | None) -> str:
    """How often a day: `2 to 3`."""
    if times is None:
        return ""
    return translate("Herbs", " to ").join(dict.fromkeys(str(number) for number in times))


def row_cells(row: DoseRow) -> tuple[str, ...]:
    """A row of the doses: form, strength, one dose, times a day, a day, source and remarks."""
    form = preparation_words(row.form)
    if row.route is Route.TOPICAL:
        form = translate("Herbs", "{form}, on the skin").format(form=form)
    daily = dose_text(row.daily)
    if daily and row.worked_out:
        daily += translate("Herbs", " (dose × times)")
    times = row.times_from.basis if row.times_from else None
    source = str(row.dose_from)
    return (
        form,
        _marked(strength_text(row), row.made_from.basis, row),
        dose_text(row.dose),
        _marked(times_text(row.times), times, row),
        _marked(daily, row.daily_basis, row),
        f"{source}. {row.note}" if row.note else source,
    )


def _marked(text: str, basis: Basis | None, row: DoseRow) -> str:
    """A cell marked as not yet checked, where the row's source is not marked as a whole."""
    if not text or basis is not Basis.MEMORY or row.dose_from.basis is Basis.MEMORY:
        return text
    return f"{text} ({memory_words(basis)})"


def range_rows(herb: Herb) -> Iterator[tuple[str, str, str]]:
    """The working range of each form that has one: form, grams a day, where it is from."""
    for form in TakenAs:
        ratios = _ratios(herb) if form is TakenAs.EXTRACT else (None,)
        shown: dict[str, None] = {}
        for ratio in ratios:
            herb_range = working_range(herb, form, ratio)
            if herb_range is not None and herb_range.row.id not in shown:
                shown[herb_range.row.id] = None
                strength = ratio_text(herb_range.row.ratio) if ratio else ""
                name = f"{form_words(form)} {strength}".strip()
                yield name, _range_text(herb_range), herb_range.source


def _ratios(herb: Herb) -> tuple[Fraction | None, ...]:
    """The drug-extract ratios that the herb's texts give doses for; None for an own range."""
    extracts = (row for row in herb.doses if row.form is Preparation.DRY_EXTRACT)
    return (None, *(row.ratio.made_per_herb for row in extracts if row.ratio))


def _range_text(herb_range: WorkingRange) -> str:
    template = {
        RangeKind.RANGE: translate("Herbs", "{low} to {high} g a day"),
        RangeKind.DOSE: translate("Herbs", "{high} g a day"),
        RangeKind.CEILING: translate("Herbs", "up to {high} g a day"),
    }[herb_range.kind]
    return template.format(low=grams_text(herb_range.low), high=grams_text(herb_range.high))


# Cautions


def by_level(herb: Herb) -> Iterator[tuple[Level, tuple[Caution, ...]]]:
    """Cautions and interactions, the gravest first; levels without any are left out."""
    every = (*herb.cautions, *herb.interactions)
    for level in LEVELS:
        cautions = tuple(caution for caution in every if caution.level is level)
        if cautions:
            yield level, cautions


def advice_text(caution: Caution) -> str:
    """What is said of pregnancy or breastfeeding, with its source."""
    text = level_words(caution.level)
    return f"{text}. {caution.text}".rstrip(". ") + f". {caution.origin}"


# Durations and constituents


def duration_text(duration: Duration) -> str:
    """A length of time in words."""
    kind = {
        DurationKind.USUAL_COURSE: translate("Herbs", "Usual course"),
        DurationKind.MAX_COURSE: translate("Herbs", "Longest course"),
        DurationKind.MIN_BREAK: translate("Herbs", "Shortest break"),
        DurationKind.SEEK_ADVICE_AFTER: translate("Herbs", "Seek advice after"),
        DurationKind.MIN_COURSE_FOR_EFFECT: translate("Herbs", "Do not judge before"),
        DurationKind.REVIEW_AFTER: translate("Herbs", "Review after"),
        DurationKind.STOP_BEFORE_SURGERY: translate("Herbs", "Stop before an operation"),
    }[duration.kind]
    unit = {
        DurationUnit.DAYS: translate("Herbs", "days"),
        DurationUnit.WEEKS: translate("Herbs", "weeks"),
        DurationUnit.MONTHS: translate("Herbs", "months"),
        DurationUnit.WEEKS_PER_YEAR: translate("Herbs", "weeks in a year"),
    }[duration.unit]
    if duration.count == 1:
        unit = unit.replace(translate("Herbs", "s in"), translate("Herbs", " in")).removesuffix(
            "s"
        )
    text = f"{kind}: {duration.count} {unit}"
    return f"{text}. {duration.text}" if duration.text else text


def figure_text(figure: Figure | None) -> str:
    """A published figure with its open sides: `at least 1 %`, `up to 3 %`, `1 to 3 %`."""
    if figure is None:
        return ""
    low, high = figure.low, figure.high
    if low is not None and high is not None:
        return f"{span_text(low, high)} {figure.unit}"
    if low is not None:
        template = translate("Herbs", "at least {value} {unit}")
        return template.format(value=plain_number(low), unit=figure.unit)
    template = translate("Herbs", "up to {value} {unit}")
    return template.format(value=plain_number(high or Fraction(0)), unit=figure.unit)


def constituent_text(constituent: Constituent) -> str:
    """A constituent: how much, the figure, the remark."""
    parts = [
        f"{tag_words(constituent.tag)} ({constituent.presence})",
        figure_text(constituent.figure),
        constituent.text,
    ]
    return ", ".join(part for part in parts if part)


# Sources


def source_text(source: Source) -> str:
    """A source as the list at the end shows it."""
    kind = {
        SourceKind.OFFICIAL: translate("Herbs", "official text"),
        SourceKind.TEXTBOOK: translate("Herbs", "textbook"),
        SourceKind.SECONDARY: translate("Herbs", "secondary text"),
        SourceKind.PRACTICE: translate("Herbs", "common practice"),
        SourceKind.OWN: translate("Herbs", "entered here"),
    }[source.kind]
    parts = [source.title]
    if source.document and source.document not in source.title:
        parts.append(source.document)
    parts.append(kind)
    if source.status and source.kind is not SourceKind.OWN:
        parts.append(source.status)
    memory = memory_words(source.basis)
    return ", ".join((*parts, memory) if memory else parts)

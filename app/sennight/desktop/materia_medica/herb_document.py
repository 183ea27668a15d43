"""A herb's page as a document: sections with headings, lists and a table of doses."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from html import escape

from sennight.desktop.kit.theme import Theme
from sennight.desktop.kit.translating import translate
from sennight.desktop.materia_medica.words import (
    advice_text,
    by_level,
    constituent_text,
    duration_text,
    level_words,
    own_words,
    range_rows,
    row_cells,
    source_text,
)
from sennight.desktop.parts.tags import tag_words
from sennight.domain.amounts import plain_number
from sennight.domain.herbs.herbs import Caution, Herb
from sennight.domain.herbs.sources import Origin
from sennight.domain.tag_words import lower_first, upper_first
from sennight.knowledge.vocabulary import vocabulary


def herb_document(herb: Herb, theme: Theme) -> str:
    """The whole document, as the rich text that Qt reads."""
    return "".join(_sections(herb, theme))


def _sections(herb: Herb, theme: Theme) -> Iterator[str]:
    yield _names(herb)
    yield _titled(translate("Herbs", "What it is used for"), _actions(herb, theme))
    yield _titled(translate("Herbs", "Reference ranges"), _ranges(herb, theme))
    if herb.conflicts:
        yield _titled(translate("Herbs", "Sources disagree"), _list(herb.conflicts))
    yield _titled(translate("Herbs", "Doses in the texts"), _doses(herb, theme))
    yield _titled(translate("Herbs", "Cautions and interactions"), _cautions(herb))
    yield _titled(translate("Herbs", "Pregnancy, breastfeeding, age"), _list(_people(herb)))
    if herb.durations:
        entries = (_with(duration_text(duration), duration.origin) for duration in herb.durations)
        yield _titled(translate("Herbs", "How long"), _list(entries))
    if herb.constituents:
        held = (
            _with(constituent_text(constituent), constituent.origin)
            for constituent in herb.constituents
        )
        yield _titled(translate("Herbs", "Constituents"), _list(held))
    yield _titled(translate("Herbs", "In a tincture"), _paragraph(_solution(herb)))
    if herb.law:
        entries = (_with(law.text, law.origin) for law in herb.law)
        yield _titled(translate("Herbs", "Law"), _list(entries))
    if herb.remark:
        yield _titled(translate("Herbs", "Remark"), _paragraph(herb.remark))
    yield _titled(
        translate("Herbs", "Sources"), _list(source_text(source) for source in herb.sources)
    )


def _names(herb: Herb) -> str:
    names = []
    if herb.other_names:
        also = translate("Herbs", "Also called {names}")
        names.append(also.format(names=", ".join(herb.other_names)))
    if herb.drug_name:
        names.append(translate("Herbs", "as a drug {name}").format(name=herb.drug_name))
    mark = own_words(herb)
    if mark:
        names.append(mark)
    text = "; ".join(names)
    return _paragraph(f"{text[:1].upper()}{text[1:]}") if names else ""


def _actions(herb: Herb, theme: Theme) -> str:
    """Each action with what it means, two in a row, so that the ranges stay in view."""
    if not herb.actions.tags:
        return _paragraph(translate("Herbs", "Nothing is recorded."))
    meanings = vocabulary().actions
    told = []
    for tag in herb.actions.tags:
        name = escape(upper_first(tag_words(tag)))
        meaning = escape(lower_first(meanings.get(tag, "")))
        quiet = f'<span style="color: {theme.slate.name()}">{meaning}</span>'
        told.append(f'<td width="50%">{name}&nbsp; {quiet}</td>')
    rows = ("".join(told[n : n + 2]) for n in range(0, len(told), 2))
    frame = f'cellpadding="{theme.unit // 4}" cellspacing="0" border="0" width="100%"'
    table = f"<table {frame}>{''.join(f'<tr>{row}</tr>' for row in rows)}</table>"
    return table + _paragraph(str(herb.actions.origin))


def _ranges(herb: Herb, theme: Theme) -> str:
    rows = tuple(range_rows(herb))
    if not rows:
        text = translate("Herbs", "No range is recorded, so its amounts cannot be compared.")
        return _paragraph(text)
    headings = (
        translate("Herbs", "Form"),
        translate("Herbs", "Range"),
        translate("Herbs", "Source"),
    )
    return _table(headings, rows, theme, (24, 22, 54))


def _doses(herb: Herb, theme: Theme) -> str:
    if not herb.doses:
        return _paragraph(translate("Herbs", "Nothing is recorded."))
    headings = (
        translate("Herbs", "Form"),
        translate("Herbs", "Ratio, strength"),
        translate("Herbs", "One dose"),
        translate("Herbs", "Times a day"),
        translate("Herbs", "A day"),
        translate("Herbs", "Source"),
    )
    return _table(headings, map(row_cells, herb.doses), theme, (14, 15, 15, 9, 18, 29))


def _cautions(herb: Herb) -> str:
    groups = tuple(by_level(herb))
    note = translate(
        "Herbs",
        "This is what these sources say. Something not listed here is not therefore safe; "
        "local law and licensed practice come first.",
    )
    if not groups:
        return _paragraph(translate("Herbs", "Nothing is recorded.")) + _paragraph(note)
    lists = (
        f"<h4>{escape(level_words(level))}</h4>{_list(_caution(caution) for caution in cautions)}"
        for level, cautions in groups
    )
    return "".join(lists) + _paragraph(note)


def _caution(caution: Caution) -> str:
    known = vocabulary()
    name = tag_words(caution.tag)
    meaning = known.conditions.get(caution.tag) or known.medicines.get(caution.tag) or ""
    text = f"{name[:1].upper()}{name[1:]}"
    if caution.text:
        text += f": {caution.text}"
    elif meaning:
        text += f": {meaning}"
    return _with(text, caution.origin)


def _people(herb: Herb) -> Iterator[str]:
    template = translate("Herbs", "In pregnancy: {what}")
    yield template.format(what=advice_text(herb.pregnancy))
    template = translate("Herbs", "While breastfeeding: {what}")
    yield template.format(what=advice_text(herb.lactation))
    template = translate("Herbs", "From {years} years of age")
    text = template.format(years=plain_number(herb.min_age.value))
    if herb.min_age.text:
        text += f": {herb.min_age.text}"
    yield _with(text, herb.min_age.origin)


def _solution(herb: Herb) -> str:
    least = herb.min_ethanol
    if not least or not least.value:
        return translate("Herbs", "No minimum strength is recorded.")
    template = translate("Herbs", "At least {percent} % v/v keeps its constituents in solution")
    text = template.format(percent=plain_number(least.value))
    if least.text:
        text += f": {least.text}"
    return _with(text, least.origin)


# Rich text


def _with(text: str, origin: Origin) -> str:
    return f"{text.rstrip('.')}. {origin}"


def _titled(title: str, body: str) -> str:
    return f"<h3>{escape(title)}</h3>{body}"


def _paragraph(text: str) -> str:
    return f"<p>{escape(text)}</p>"


def _list(items: Iterable[str]) -> str:
    """A list with dashes, as on paper; Qt glues the dots of its own to the text."""
    rows = "".join(f"<tr><td>–&nbsp;&nbsp;</td><td>{escape(item)}</td></tr>" for item in items)
    return f'<table cellpadding="1" cellspacing="0" border="0">{rows}</table>'


def _table(
    headings: tuple[str, ...],
    rows: Iterable[tuple[str, ...]],
    theme: Theme,
    widths: tuple[int, ...],
) -> str:
    """A table with hairlines between its rows; `widths` are the columns' percentages.

    A column in which nothing is said is left out.
    """
    cells = tuple(rows)
    said = [n for n in range(len(headings)) if any(row[n] for row in cells)]
    headings, widths = tuple(headings[n] for n in said), tuple(widths[n] for n in said)
    line = f"border-bottom: 1px solid {theme.hairline.name()}"
    head = "".join(
        f'<td width="{width}%" style="{line}; color: {theme.slate.name()}">{escape(heading)}</td>'
        for heading, width in zip(headings, widths, strict=True)
    )
    body = "".join(
        "<tr>" + "".join(f'<td style="{line}">{escape(row[n])}</td>' for n in said) + "</tr>"
        for row in cells
    )
    frame = f'cellpadding="{theme.unit}" cellspacing="0" border="0" width="100%"'
    return f"<table {frame}><tr>{head}</tr>{body}</table>"

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
from sennight.knowledge.vocabulary import vocabulary


def herb_document(herb: Herb, theme: Theme) -> str:
    """The whole document, as the rich text that Qt reads."""
    return "".join(_sections(herb, theme))


def _sections(herb: Herb, theme: Theme) -> Iterator[str]:
    yield _names(herb)
    yield _titled(translate("Herbs", "What it is used for"), _actions(herb))
    yield _titled(
        translate("Herbs", "Ranges that amounts are compared with"), _ranges(herb, theme)
    )
    if herb.conflicts:
        yield _titled(translate("Herbs", "Where the texts differ"), _list(herb.conflicts))
    yield _titled(translate("Herbs", "Doses in the texts"), _doses(herb, theme))
    yield _titled(translate("Herbs", "Cautions and interactions"), _cautions(herb))
    yield _titled(translate("Herbs", "Pregnancy, breast-feeding, age"), _list(_people(herb)))
    if herb.durations:
        said = (_with(duration_text(one), one.origin) for one in herb.durations)
        yield _titled(translate("Herbs", "How long"), _list(said))
    if herb.constituents:
        held = (_with(constituent_text(one), one.origin) for one in herb.constituents)
        yield _titled(translate("Herbs", "What it holds"), _list(held))
    yield _titled(translate("Herbs", "In a tincture"), _paragraph(_solution(herb)))
    if herb.law:
        said = (_with(one.text, one.origin) for one in herb.law)
        yield _titled(translate("Herbs", "Law"), _list(said))
    if herb.remark:
        yield _titled(translate("Herbs", "Remark"), _paragraph(herb.remark))
    yield _titled(
        translate("Herbs", "Sources"), _list(source_text(source) for source in herb.sources)
    )


def _names(herb: Herb) -> str:
    said = []
    if herb.other_names:
        also = translate("Herbs", "Also called {names}")
        said.append(also.format(names=", ".join(herb.other_names)))
    if herb.drug_name:
        said.append(translate("Herbs", "as a drug {name}").format(name=herb.drug_name))
    mark = own_words(herb)
    if mark:
        said.append(mark)
    text = "; ".join(said)
    return _paragraph(f"{text[:1].upper()}{text[1:]}") if said else ""


def _actions(herb: Herb) -> str:
    if not herb.actions.tags:
        return _paragraph(translate("Herbs", "Nothing is recorded."))
    meanings = vocabulary().actions
    said = []
    for tag in herb.actions.tags:
        name, meaning = tag_words(tag), meanings.get(tag, "")
        name = f"{name[:1].upper()}{name[1:]}"
        said.append(f"{name}: {meaning}" if meaning else name)
    return _list(said) + _paragraph(str(herb.actions.origin))


def _ranges(herb: Herb, theme: Theme) -> str:
    rows = tuple(range_rows(herb))
    if not rows:
        told = translate("Herbs", "No range is recorded, so its amounts cannot be compared.")
        return _paragraph(told)
    headings = (
        translate("Herbs", "As"),
        translate("Herbs", "Range"),
        translate("Herbs", "From"),
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
        "This is what these texts say. That something is not listed is no clearance; local law "
        "and licensed practice go first.",
    )
    if not groups:
        return _paragraph(translate("Herbs", "Nothing is recorded.")) + _paragraph(note)
    told = (
        f"<h4>{escape(level_words(level))}</h4>{_list(_caution(one) for one in found)}"
        for level, found in groups
    )
    return "".join(told) + _paragraph(note)


def _caution(one: Caution) -> str:
    known = vocabulary()
    name = tag_words(one.tag)
    meaning = known.conditions.get(one.tag) or known.medicines.get(one.tag) or ""
    said = f"{name[:1].upper()}{name[1:]}"
    if one.text:
        said += f": {one.text}"
    elif meaning:
        said += f": {meaning}"
    return _with(said, one.origin)


def _people(herb: Herb) -> Iterator[str]:
    told = translate("Herbs", "In pregnancy: {what}")
    yield told.format(what=advice_text(herb.pregnancy))
    told = translate("Herbs", "While breast-feeding: {what}")
    yield told.format(what=advice_text(herb.lactation))
    told = translate("Herbs", "From {years} years of age")
    said = told.format(years=plain_number(herb.min_age.value))
    if herb.min_age.text:
        said += f": {herb.min_age.text}"
    yield _with(said, herb.min_age.origin)


def _solution(herb: Herb) -> str:
    least = herb.min_ethanol
    if not least or not least.value:
        return translate("Herbs", "No least strength is recorded.")
    told = translate("Herbs", "At least {percent} % v/v keeps its constituents in solution")
    said = told.format(percent=plain_number(least.value))
    if least.text:
        said += f": {least.text}"
    return _with(said, least.origin)


# Rich text


def _with(said: str, origin: Origin) -> str:
    return f"{said.rstrip('.')}. {origin}"


def _titled(title: str, body: str) -> str:
    return f"<h3>{escape(title)}</h3>{body}"


def _paragraph(text: str) -> str:
    return f"<p>{escape(text)}</p>"


def _list(items: Iterable[str]) -> str:
    return "<ul>" + "".join(f"<li>{escape(item)}</li>" for item in items) + "</ul>"


def _table(
    headings: tuple[str, ...],
    rows: Iterable[tuple[str, ...]],
    theme: Theme,
    widths: tuple[int, ...],
) -> str:
    """A table with hairlines between its rows; `widths` are the columns' percentages."""
    line = f"border-bottom: 1px solid {theme.hairline.name()}"
    head = "".join(
        f'<td width="{width}%" style="{line}; color: {theme.slate.name()}">{escape(one)}</td>'
        for one, width in zip(headings, widths, strict=True)
    )
    body = "".join(
        "<tr>" + "".join(f'<td style="{line}">{escape(cell)}</td>' for cell in row) + "</tr>"
        for row in rows
    )
    frame = f'cellpadding="{theme.unit}" cellspacing="0" border="0" width="100%"'
    return f"<table {frame}><tr>{head}</tr>{body}</table>"

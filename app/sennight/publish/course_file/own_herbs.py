"""The own herbs that a course file brings along, so that it can be read by any practice."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from sennight.domain.herbs.doses import TakenAs
from sennight.domain.herbs.herbs import Level
from sennight.domain.herbs.own_herbs import (
    OWN_PREFIX,
    CarriedHerb,
    OwnCaution,
    OwnHerb,
    OwnRange,
)
from sennight.knowledge.vocabulary import vocabulary
from sennight.publish.course_file.toml_values import (
    inline,
    quoted,
    ratio_value,
    table,
    unless,
    value_list,
)
from sennight.toml_tables import (
    LINE,
    NAME,
    PROSE,
    RATIO,
    Table,
    ValueKind,
    known_word,
    number,
    one_of,
    read_value,
)

_KEYS = (
    *("id", "name", "latin", "family", "part", "also_called", "actions", "constituents"),
    *("cautions", "pregnancy", "lactation", "min_age", "min_ethanol", "remark", "reference"),
    "ranges",
)
_LEVEL = one_of(Level, Level.AVOID)
_SEE = ", see resources/vocabulary.toml"


# Reading


def read_own_herbs(top: Table) -> tuple[CarriedHerb, ...]:
    """The herbs of a file, in its order."""
    return tuple(_herb(entry) for entry in top.tables("herb"))


def _herb(entry: Table) -> CarriedHerb:
    words = vocabulary()
    entry.only(*_KEYS, of="a herb")
    herb_id = entry.need("id", NAME)
    if herb_id and not herb_id.startswith(OWN_PREFIX):
        message = f"“{herb_id}” may be the id of a supplied herb; expected one that begins with "
        entry.report.add((*entry.place, "id"), f"{message}“{OWN_PREFIX}”")
    own = OwnHerb(
        id=herb_id,
        name=entry.need("name", NAME),
        latin=entry.may("latin", NAME, ""),
        family=entry.may("family", NAME, ""),
        part=entry.may("part", NAME, ""),
        other_names=_names(entry, "also_called", NAME),
        actions=_names(entry, "actions", known_word("an action of the vocabulary", words.actions)),
        constituents=_names(
            entry,
            "constituents",
            known_word("a constituent of the vocabulary", words.constituents),
        ),
        cautions=tuple(_caution(caution) for caution in entry.tables("cautions")),
        pregnancy=entry.may("pregnancy", _LEVEL, Level.AVOID),
        lactation=entry.may("lactation", _LEVEL, Level.AVOID),
        min_age=entry.perhaps("min_age", number(0, 150, from_there=True)),
        min_ethanol=entry.perhaps("min_ethanol", number(0, 100, from_there=True)),
        remark=entry.may("remark", PROSE, ""),
        reference=entry.may("reference", LINE, ""),
    )
    return CarriedHerb(own, tuple(_range(herb_id, row) for row in entry.tables("ranges")))


def _names(entry: Table, key: str, kind: ValueKind[str]) -> tuple[str, ...]:
    values = (read_value(value, kind, place, entry.report) for place, value in entry.entries(key))
    return tuple(value for value in values if value)


def _caution(entry: Table) -> OwnCaution:
    entry.only("tag", "level", "text", of="a caution")
    words: Mapping[str, object] = {**vocabulary().conditions, **vocabulary().medicines}
    tag = entry.need(
        "tag", known_word("a condition or medicine of the vocabulary", words, see=_SEE)
    )
    return OwnCaution(tag, entry.need("level", _LEVEL), entry.may("text", LINE, ""))


def _range(herb: str, entry: Table) -> OwnRange:
    entry.only("as", "min", "max", "ratio", "reference", of="a range")
    form = entry.need("as", one_of(TakenAs, TakenAs.TEA))
    is_liquid = form is TakenAs.LIQUID
    ratio = entry.need("ratio", RATIO) if is_liquid else entry.perhaps("ratio", RATIO)
    if ratio and not is_liquid:
        entry.report.add((*entry.place, "ratio"), "a ratio is for liquids only")
    low = entry.need("min", number(0, 100_000, from_there=True))
    high = entry.need("max", number(0, 100_000))
    if low > high:
        entry.report.add((*entry.place, "min"), "is more than max; expected from less to more")
    return OwnRange(herb, form, low, high, ratio, entry.may("reference", LINE, ""))


# Writing


def own_herb_tables(carried: Iterable[CarriedHerb]) -> Iterator[str]:
    """Herbs as tables of a course file."""
    for brought in carried:
        own = brought.herb
        yield table(
            "[[herb]]",
            id=own.id,
            name=own.name,
            latin=own.latin or None,
            family=own.family or None,
            part=own.part or None,
            also_called=value_list(map(quoted, own.other_names)),
            actions=value_list(map(quoted, own.actions)),
            constituents=value_list(map(quoted, own.constituents)),
            cautions=value_list(
                inline(tag=caution.tag, level=caution.level, text=caution.text or None)
                for caution in own.cautions
            ),
            pregnancy=unless(own.pregnancy, Level.AVOID),
            lactation=unless(own.lactation, Level.AVOID),
            min_age=own.min_age,
            min_ethanol=own.min_ethanol,
            remark=own.remark or None,
            reference=own.reference or None,
            ranges=value_list(_range_words(own_range) for own_range in brought.ranges),
        )


def _range_words(own_range: OwnRange) -> str:
    return inline(
        as_=own_range.form,
        min=own_range.low,
        max=own_range.high,
        ratio=ratio_value(own_range.ratio),
        reference=own_range.reference or None,
    )

"""Finding herbs: by any name, action, caution, medicine, constituent or source."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum, auto

from sennight.desktop.kit.matching import matches
from sennight.desktop.kit.translating import translate
from sennight.desktop.parts.tags import tag_words
from sennight.domain.herbs.herbs import Herb


class Facet(Enum):
    """What a herb is searched by."""

    ANYTHING = auto()
    NAME = auto()
    ACTION = auto()
    CAUTION = auto()
    CONSTITUENT = auto()
    SOURCE = auto()


def facet_name(facet: Facet) -> str:
    """A facet as the choice shows it."""
    return {
        Facet.ANYTHING: translate("Herbs", "All fields"),
        Facet.NAME: translate("Herbs", "By name"),
        Facet.ACTION: translate("Herbs", "By action"),
        Facet.CAUTION: translate("Herbs", "By condition or medicine"),
        Facet.CONSTITUENT: translate("Herbs", "By constituent"),
        Facet.SOURCE: translate("Herbs", "By source"),
    }[facet]


@dataclass(frozen=True, slots=True)
class Hit:
    """A herb, and the text in which what was typed was found (empty for its own name)."""

    herb: Herb
    where: str = ""


def texts_of(herb: Herb, facet: Facet) -> Iterator[str]:
    """The texts of a herb that a facet searches, the herb's own name first."""
    if facet in (Facet.ANYTHING, Facet.NAME):
        yield from (herb.name, herb.latin, *herb.other_names, herb.family, herb.drug_name)
    if facet in (Facet.ANYTHING, Facet.ACTION):
        yield from (tag_words(tag) for tag in herb.actions.tags)
    if facet in (Facet.ANYTHING, Facet.CAUTION):
        yield from dict.fromkeys(tag_words(caution.tag) for caution in herb.all_cautions)
    if facet in (Facet.ANYTHING, Facet.CONSTITUENT):
        yield from (tag_words(constituent.tag) for constituent in herb.constituents)
    if facet in (Facet.ANYTHING, Facet.SOURCE):
        yield from dict.fromkeys(
            f"{source.title} {source.document}".strip() for source in herb.sources
        )


def search(herbs: tuple[Herb, ...], typed: str, facet: Facet) -> tuple[Hit, ...]:
    """The herbs that fit, in their order; nothing typed finds all."""
    if not typed.strip():
        return tuple(Hit(herb) for herb in herbs)
    return tuple(hit for herb in herbs if (hit := _hit(herb, typed, facet)) is not None)


def _hit(herb: Herb, typed: str, facet: Facet) -> Hit | None:
    for text in texts_of(herb, facet):
        if text and matches(typed, text):
            return Hit(herb, "" if text == herb.name else text)
    return None

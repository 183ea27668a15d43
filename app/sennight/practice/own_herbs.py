"""The practice's own herbs, ranges and notes, kept in its file beside what is supplied.

What is supplied is never changed by them, and an update of it never touches them: they are
joined anew each time they are asked for.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import lru_cache
from uuid import uuid4

from sennight.domain.amounts import plain_number
from sennight.domain.herbs.doses import TakenAs
from sennight.domain.herbs.herbs import MateriaMedica
from sennight.domain.herbs.own_herbs import OWN_PREFIX, OwnHerb, OwnRange, with_own
from sennight.practice.materia_medica import supplied_materia_medica
from sennight.practice.opening import OpenPractice

__all__ = [
    "OwnHerbError",
    "drop_own_range",
    "herb_notes",
    "known_herbs",
    "list_own_herbs",
    "list_own_ranges",
    "new_own_herb",
    "own_herb_history",
    "retire_own_herb",
    "save_herb_note",
    "save_own_herb",
    "save_own_range",
]


class OwnHerbError(ValueError):
    """An own herb or range that cannot be kept as it is; the message says what was expected."""


def known_herbs(practice: OpenPractice, *, supplied: MateriaMedica | None = None) -> MateriaMedica:
    """The supplied herbs with the practice's own herbs and ranges; the same object while alike.

    Retired herbs are in it, since remedies may still hold them.
    """
    with practice.file.reading() as unit:
        herbs, ranges = unit.own_herbs.all(), unit.own_herbs.ranges()
    if not herbs and not ranges:
        return supplied or supplied_materia_medica()
    if supplied is not None:
        return with_own(supplied, herbs, ranges)
    return _joined(herbs, ranges)


@lru_cache(maxsize=4)
def _joined(herbs: tuple[OwnHerb, ...], ranges: tuple[OwnRange, ...]) -> MateriaMedica:
    return with_own(supplied_materia_medica(), herbs, ranges)


# Herbs


def new_own_herb(name: str) -> OwnHerb:
    """An own herb with a name and an id that no supplied herb has; it is not kept yet."""
    return OwnHerb(f"{OWN_PREFIX}{uuid4().hex}", name)


def list_own_herbs(practice: OpenPractice, *, retired: bool = False) -> tuple[OwnHerb, ...]:
    """The own herbs in use, or the retired ones, by name."""
    with practice.file.reading() as unit:
        return tuple(own for own in unit.own_herbs.all() if own.retired == retired)


def own_herb_history(practice: OpenPractice, herb_id: str) -> tuple[OwnHerb, ...]:
    """Every version of an own herb, oldest first."""
    with practice.file.reading() as unit:
        return unit.own_herbs.versions(herb_id)


def save_own_herb(practice: OpenPractice, own: OwnHerb) -> None:
    """Keep an own herb as one more version; raises OwnHerbError."""
    if not own.name.strip():
        raise OwnHerbError("the herb has no name; expected one")
    if not own.id.startswith(OWN_PREFIX):
        raise OwnHerbError(f"“{own.id}” is the id of a supplied herb, which is never changed")
    with practice.file.writing() as unit:
        unit.own_herbs.save(own, saved=practice.file.clock())


def retire_own_herb(practice: OpenPractice, own: OwnHerb) -> None:
    """Offer an own herb no more; it stays for the remedies that hold it."""
    save_own_herb(practice, replace(own, retired=True))


# Ranges


def list_own_ranges(practice: OpenPractice, herb_id: str | None = None) -> tuple[OwnRange, ...]:
    """The own ranges, of one herb or of all."""
    with practice.file.reading() as unit:
        ranges = unit.own_herbs.ranges()
    return tuple(own_range for own_range in ranges if herb_id in (None, own_range.herb))


def save_own_range(practice: OpenPractice, own_range: OwnRange) -> None:
    """Keep a range for a herb, supplied or own, in one form; raises OwnHerbError."""
    if not Fraction(0) <= own_range.low <= own_range.high or own_range.high <= 0:
        low, high = plain_number(own_range.low), plain_number(own_range.high)
        raise OwnHerbError(
            f"{low} to {high} is not a range; expected the lower figure first, above 0"
        )
    if (own_range.form is TakenAs.LIQUID) != (own_range.ratio is not None and own_range.ratio > 0):
        raise OwnHerbError("expected a ratio such as 1:5 for a liquid, and none for other forms")
    with practice.file.writing() as unit:
        unit.own_herbs.save_range(own_range, saved=practice.file.clock())


def drop_own_range(practice: OpenPractice, herb_id: str, form: TakenAs) -> None:
    """Go by the published range again; what was kept stays in the file's history."""
    with practice.file.writing() as unit:
        unit.own_herbs.drop_range(herb_id, form, saved=practice.file.clock())


# Notes


def herb_notes(practice: OpenPractice) -> dict[str, str]:
    """The practice's notes by the herbs' ids, those on herbs that are no longer held too."""
    with practice.file.reading() as unit:
        return unit.own_herbs.notes()


def save_herb_note(practice: OpenPractice, herb_id: str, text: str) -> None:
    """Keep a note on a herb, supplied or own; an empty one takes it away."""
    with practice.file.writing() as unit:
        unit.own_herbs.save_note(herb_id, text.strip(), saved=practice.file.clock())

"""The practice's own herbs, ranges and notes: rows and values, and the repository."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from sqlalchemy import and_, func, select
from sqlalchemy.orm import Session

from sennight.domain.herbs.doses import TakenAs
from sennight.domain.herbs.herbs import Level
from sennight.domain.herbs.own_herbs import OwnCaution, OwnHerb, OwnRange
from sennight.store.errors import DamagedFileError
from sennight.store.tables.own_herbs import (
    HerbNoteVersion,
    OwnHerbFact,
    OwnHerbHead,
    OwnHerbVersion,
    OwnRangeVersion,
)
from sennight.store.touched import touched


def own_herb_to_row(own: OwnHerb, *, version: int, saved: datetime) -> OwnHerbVersion:
    """A new version of an own herb."""
    facts = list(_facts(own))
    for place, fact in enumerate(facts):
        fact.place = place
    return OwnHerbVersion(
        own_herb_id=own.id,
        version=version,
        saved=saved,
        name=own.name,
        latin=own.latin,
        family=own.family,
        part=own.part,
        pregnancy=str(own.pregnancy),
        lactation=str(own.lactation),
        min_age=own.min_age,
        min_ethanol=own.min_ethanol,
        remark=own.remark,
        reference=own.reference,
        retired=own.retired,
        facts=facts,
    )


def _facts(own: OwnHerb) -> Iterator[OwnHerbFact]:
    lists = {"name": own.other_names, "action": own.actions, "constituent": own.constituents}
    for kind, tags in lists.items():
        for tag in tags:
            yield OwnHerbFact(kind=kind, tag=tag, level=None, text="")
    for caution in own.cautions:
        yield OwnHerbFact(
            kind="caution", tag=caution.tag, level=str(caution.level), text=caution.text
        )


def own_herb_from_row(row: OwnHerbVersion) -> OwnHerb:
    """The own herb that a version holds."""
    tags: dict[str, list[str]] = {"name": [], "action": [], "constituent": []}
    cautions = []
    for fact in row.facts:
        if fact.kind == "caution":
            cautions.append(OwnCaution(fact.tag, _level(fact.level), fact.text))
        else:
            tags[fact.kind].append(fact.tag)
    return OwnHerb(
        id=row.own_herb_id,
        name=row.name,
        latin=row.latin,
        family=row.family,
        part=row.part,
        other_names=tuple(tags["name"]),
        actions=tuple(tags["action"]),
        constituents=tuple(tags["constituent"]),
        cautions=tuple(cautions),
        pregnancy=Level(row.pregnancy),
        lactation=Level(row.lactation),
        min_age=row.min_age,
        min_ethanol=row.min_ethanol,
        remark=row.remark,
        reference=row.reference,
        retired=row.retired,
    )


def _level(level: str | None) -> Level:
    if level is None:
        raise DamagedFileError("a caution of an own herb in the file lacks its level")
    return Level(level)


class OwnHerbRepository:
    """What the practice entered on herbs, in one transaction; it only ever adds versions."""

    def __init__(self, session: Session) -> None:
        self._session = session

    # Herbs

    def all(self) -> tuple[OwnHerb, ...]:
        """The current version of every own herb, retired ones too, by name."""
        query = select(OwnHerbVersion).join(
            OwnHerbHead,
            and_(
                OwnHerbHead.id == OwnHerbVersion.own_herb_id,
                OwnHerbHead.version == OwnHerbVersion.version,
            ),
        )
        herbs = [own_herb_from_row(row) for row in self._session.scalars(query)]
        return tuple(sorted(herbs, key=lambda own: (own.name.casefold(), own.id)))

    def save(self, own: OwnHerb, *, saved: datetime) -> None:
        """Keep an own herb as a new version; one that says nothing new adds none."""
        if own in self.all():
            return
        touched(self._session).herbs = True
        head = self._session.get(OwnHerbHead, own.id)
        version = head.version + 1 if head else 1
        self._session.merge(OwnHerbHead(id=own.id, version=version))
        self._session.flush()
        self._session.add(own_herb_to_row(own, version=version, saved=saved))
        self._session.flush()

    def versions(self, herb_id: str) -> tuple[OwnHerb, ...]:
        """Every version of an own herb, oldest first."""
        query = (
            select(OwnHerbVersion)
            .where(OwnHerbVersion.own_herb_id == herb_id)
            .order_by(OwnHerbVersion.version)
        )
        return tuple(own_herb_from_row(row) for row in self._session.scalars(query))

    # Ranges

    def ranges(self) -> tuple[OwnRange, ...]:
        """The ranges that hold now, by herb and form."""
        return tuple(
            OwnRange(row.herb, TakenAs(row.form), row.low, row.high, row.ratio, row.reference)
            for row in self._range_rows()
            if row.low is not None and row.high is not None
        )

    def _range_rows(self) -> Iterator[OwnRangeVersion]:
        latest = (
            select(func.max(OwnRangeVersion.id))
            .group_by(OwnRangeVersion.herb, OwnRangeVersion.form)
            .scalar_subquery()
        )
        query = select(OwnRangeVersion).where(OwnRangeVersion.id.in_(latest))
        yield from self._session.scalars(
            query.order_by(OwnRangeVersion.herb, OwnRangeVersion.form)
        )

    def save_range(self, own_range: OwnRange, *, saved: datetime) -> None:
        """Keep a range, in the place of the one that herb and form had."""
        if own_range in self.ranges():
            return
        self._add_range(
            OwnRangeVersion(
                herb=own_range.herb,
                form=str(own_range.form),
                low=own_range.low,
                high=own_range.high,
                ratio=own_range.ratio,
                reference=own_range.reference,
                saved=saved,
            )
        )

    def drop_range(self, herb: str, form: TakenAs, *, saved: datetime) -> None:
        """Take back the range of a herb and form, where there is one."""
        if any((own_range.herb, own_range.form) == (herb, form) for own_range in self.ranges()):
            self._add_range(OwnRangeVersion(herb=herb, form=str(form), reference="", saved=saved))

    def _add_range(self, row: OwnRangeVersion) -> None:
        touched(self._session).herbs = True
        last = self._session.scalar(
            select(func.max(OwnRangeVersion.version)).where(
                OwnRangeVersion.herb == row.herb, OwnRangeVersion.form == row.form
            )
        )
        row.version = (last or 0) + 1
        self._session.add(row)
        self._session.flush()

    # Notes

    def notes(self) -> dict[str, str]:
        """The notes that are not empty, by herb."""
        latest = select(func.max(HerbNoteVersion.id)).group_by(HerbNoteVersion.herb)
        query = select(HerbNoteVersion).where(HerbNoteVersion.id.in_(latest.scalar_subquery()))
        rows = self._session.scalars(query.order_by(HerbNoteVersion.herb))
        return {row.herb: row.text for row in rows if row.text}

    def save_note(self, herb: str, text: str, *, saved: datetime) -> None:
        """Keep a note on a herb; the same again adds none."""
        if self.notes().get(herb, "") == text:
            return
        last = self._session.scalar(
            select(func.max(HerbNoteVersion.version)).where(HerbNoteVersion.herb == herb)
        )
        version = (last or 0) + 1
        self._session.add(HerbNoteVersion(herb=herb, text=text, version=version, saved=saved))
        self._session.flush()

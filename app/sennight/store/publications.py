"""What phones were told: rows and values, and the repository, which only ever adds."""

from __future__ import annotations

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from sennight.store.entries import Publication
from sennight.store.packing import packed, unpacked
from sennight.store.tables.publications import PublicationRow


def publication_to_row(publication: Publication, *, number: int) -> PublicationRow:
    """The row of a publication."""
    return PublicationRow(
        id=publication.id,
        course_id=publication.course_id,
        number=number,
        published=publication.when,
        kind=publication.kind,
        content=packed(publication.content),
    )


def publication_from_row(row: PublicationRow) -> Publication:
    """The publication that a row holds."""
    return Publication(row.id, row.course_id, row.published, row.kind, unpacked(row.content))


class PublicationRepository:
    """The publications of one transaction."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def add(self, publication: Publication) -> None:
        """Keep a publication for good."""
        last = self._session.scalar(
            select(func.max(PublicationRow.number)).where(
                PublicationRow.course_id == publication.course_id
            )
        )
        self._session.add(publication_to_row(publication, number=(last or 0) + 1))
        self._session.flush()

    def last(self, course_id: str, kind: str) -> Publication | None:
        """The latest publication of a kind for a course."""
        query = (
            select(PublicationRow)
            .where(PublicationRow.course_id == course_id, PublicationRow.kind == kind)
            .order_by(PublicationRow.number.desc())
            .limit(1)
        )
        row = self._session.scalars(query).one_or_none()
        return None if row is None else publication_from_row(row)

    def all(self, course_id: str) -> tuple[Publication, ...]:
        """All publications for a course, oldest first."""
        query = (
            select(PublicationRow)
            .where(PublicationRow.course_id == course_id)
            .order_by(PublicationRow.number)
        )
        return tuple(publication_from_row(row) for row in self._session.scalars(query))

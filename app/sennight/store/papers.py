"""Papers that were given: kept as they were, and only ever added to."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from sqlalchemy import Select, func, select
from sqlalchemy.orm import Session

from sennight.store.contents import content_of, keep_content
from sennight.store.entries import GivenPaper, NewPaper
from sennight.store.errors import MissingRecordError
from sennight.store.tables.papers import GivenPaperRow, GivingRow, PaperContentRow
from sennight.store.touched import touched

_Listed = Select[int, int, datetime, str | None, str, str, int]


class PaperRepository:
    """The given papers of one transaction."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def next_number(self) -> int:
        """The number of the next giving, from 1: one more than any before it."""
        return (self._session.scalar(select(func.max(GivingRow.id))) or 0) + 1

    def add(
        self,
        client_id: str,
        papers: Sequence[NewPaper],
        *,
        course_id: str | None,
        given: datetime,
    ) -> int:
        """Keep papers that are given together, for good; the number of the giving."""
        if course_id is not None:
            touched(self._session).diaries.add(course_id)  # a sheet to fill in may be among them
        number = self.next_number()
        row = GivingRow(id=number, client_id=client_id, course_id=course_id, given=given)
        self._session.add(row)
        self._session.flush()
        for place, paper in enumerate(papers):
            digest = keep_content(self._session, paper.content)
            self._session.add(
                GivenPaperRow(
                    giving_id=number, place=place, kind=paper.kind, name=paper.name, digest=digest
                )
            )
        self._session.flush()
        return number

    def of_client(self, client_id: str) -> tuple[GivenPaper, ...]:
        """All that a client was given, the newest giving first."""
        return self._listed(_PAPERS.where(GivingRow.client_id == client_id))

    def of_course(self, course_id: str) -> tuple[GivenPaper, ...]:
        """All that was given for a course, the newest giving first."""
        return self._listed(_PAPERS.where(GivingRow.course_id == course_id))

    def of_giving(self, number: int) -> tuple[GivenPaper, ...]:
        """The papers of one giving; raises MissingRecordError."""
        papers = self._listed(_PAPERS.where(GivingRow.id == number))
        if not papers:
            raise MissingRecordError("giving", str(number))
        return papers

    def get(self, paper_id: int) -> GivenPaper:
        """One paper, without its bytes; raises MissingRecordError."""
        papers = self._listed(_PAPERS.where(GivenPaperRow.id == paper_id))
        if not papers:
            raise MissingRecordError("paper", str(paper_id))
        return papers[0]

    def content(self, paper_id: int) -> bytes:
        """A paper as it was given; raises MissingRecordError, UnreadablePaperError."""
        query = select(GivenPaperRow.digest).where(GivenPaperRow.id == paper_id)
        digest = self._session.scalar(query)
        if digest is None:
            raise MissingRecordError("paper", str(paper_id))
        return content_of(self._session, digest)

    def _listed(self, query: _Listed) -> tuple[GivenPaper, ...]:
        return tuple(GivenPaper(*row) for row in self._session.execute(query))


_PAPERS: _Listed = (
    select(
        GivenPaperRow.id,
        GivingRow.id,
        GivingRow.given,
        GivingRow.course_id,
        GivenPaperRow.kind,
        GivenPaperRow.name,
        PaperContentRow.size,
    )
    .join(GivingRow, GivingRow.id == GivenPaperRow.giving_id)
    .join(PaperContentRow, PaperContentRow.digest == GivenPaperRow.digest)
    .order_by(GivingRow.id.desc(), GivenPaperRow.place)
)

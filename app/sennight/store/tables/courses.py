"""Courses: a head, its versions, the accepted findings of each, and the revisions.

Revisions belong to the course, not to a version: they are only ever added, so a version is
the first so many of them.

The protocol and the remedies that a course was given are kept as one piece of canonical JSON
(`snapshots`), not as rows: they are a copy that must stay as it was whatever becomes of the
shelf, they are always read whole, and most versions share them. A snapshot is stored once,
under the digest of its text.
"""

from __future__ import annotations

from datetime import date, datetime

from sqlalchemy import CheckConstraint, ForeignKey, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column, relationship

from sennight.domain.courses.revision_kind import RevisionKind
from sennight.domain.directions.directions import Directions
from sennight.store.tables.base import Base, ListRow, Version


class Snapshot(Base):
    """A protocol with its remedies, for good; `digest` is the SHA-256 of `content`."""

    __tablename__ = "snapshot"

    digest: Mapped[str] = mapped_column(primary_key=True)
    schema: Mapped[int]
    content: Mapped[str]


class CourseHead(Base):
    """A course of one client, and which version of it is the current one."""

    __tablename__ = "course"

    id: Mapped[str] = mapped_column(primary_key=True)
    client_id: Mapped[str] = mapped_column(ForeignKey("client.id"), index=True)
    created: Mapped[datetime]
    version: Mapped[int]


class CourseVersionRow(Version, Base):
    """A course as saved at one time, with the client's record as it stood then.

    `protocol_name` is in the snapshot too, and here for lists; `digest` is the checksum of the
    whole (`course_digests`).
    """

    __tablename__ = "course_version"
    __table_args__ = (UniqueConstraint("course_id", "version"),)

    course_id: Mapped[str] = mapped_column(ForeignKey("course.id"))
    client_version_id: Mapped[int] = mapped_column(ForeignKey("client_version.id"))
    snapshot_digest: Mapped[str] = mapped_column(ForeignKey("snapshot.digest"))
    start: Mapped[date]
    until: Mapped[date | None]
    revision_count: Mapped[int]
    protocol_name: Mapped[str]
    digest: Mapped[str]
    void: Mapped[str | None]
    void_on: Mapped[date | None]
    accepts: Mapped[list[CourseAccept]] = relationship(lazy="raise")


class CourseAccept(ListRow, Base):
    """A finding that the practitioner decided to go ahead with or that was discussed, and why.

    `made_for` holds what was taken and known of the client on that day, as JSON (`decided_for`).
    """

    __tablename__ = "course_accept"
    __table_args__ = (UniqueConstraint("course_version_id", "place"),)

    course_version_id: Mapped[int] = mapped_column(ForeignKey("course_version.id"))
    finding: Mapped[str]
    reason: Mapped[str]
    void: Mapped[str | None]
    void_on: Mapped[date | None]
    decided: Mapped[date | None]
    made_for: Mapped[str | None]
    discussed: Mapped[bool | None]


class CourseVoid(ListRow, Base):
    """A decision, by its place, that a version holds for entered in error, why and since when."""

    __tablename__ = "course_void"
    __table_args__ = (UniqueConstraint("course_version_id", "place"),)

    course_version_id: Mapped[int] = mapped_column(ForeignKey("course_version.id"))
    reason: Mapped[str]
    struck: Mapped[date | None]


class CourseRevision(ListRow, Base):
    """A dated change; which columns are set depends on `change`.

    `phase` is the phase that is extended, moved on to or run in a flare. `version` is the
    course version that brought the revision in.
    """

    __tablename__ = "course_revision"
    __table_args__ = (
        UniqueConstraint("course_id", "place"),
        CheckConstraint(
            f"change IN ({', '.join(repr(str(kind)) for kind in RevisionKind)})",
            name="change",
        ),
    )

    course_id: Mapped[str] = mapped_column(ForeignKey("course.id"))
    version: Mapped[int]
    change: Mapped[str]
    decided: Mapped[date]
    reason: Mapped[str]
    phase: Mapped[str | None]
    remedy: Mapped[str | None]
    first_day: Mapped[date | None]
    last_day: Mapped[date | None]
    amount: Mapped[int | None]
    in_weeks: Mapped[bool | None]
    mode: Mapped[str | None]
    take: Mapped[Directions | None]
    formula: Mapped[str | None]

"""Small diary marks, the names of courses' protocols, and a checksum of each course.

A mark of the diary refers to its line (a remedy of a course) and to the saving that brought it by
numbers, and its day is a number too: a tenth of the bytes. A course's version says what its
protocol is called, so that lists need not read the protocol, and carries a checksum of all that
the course is.
"""

import bisect
import hashlib
import json
import sqlite3
from collections.abc import Iterator

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"

ORDINAL_0 = 1721424.5
"""The Julian day number before 1 January of year 1, which is day 1."""

_REVISION = (
    "change, decided, reason, phase, remedy, first_day, last_day, amount, in_weeks, mode, take"
)


def upgrade() -> None:
    raw = op.get_bind().connection.driver_connection
    if not isinstance(raw, sqlite3.Connection):
        raise TypeError(type(raw))
    _marks(raw)
    _course_versions(raw)


# Diary


def _marks(raw: sqlite3.Connection) -> None:
    op.rename_table("diary_entry", "old_entry")
    op.create_table(
        "diary_line",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("course_id", sa.Text(), nullable=False),
        sa.Column("remedy", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_diary_line"),
        sa.ForeignKeyConstraint(
            ["course_id"], ["course.id"], name="fk_diary_line_course_id_course"
        ),
        sa.UniqueConstraint("course_id", "remedy", name="uq_diary_line_course_id_remedy"),
    )
    op.create_table(
        "diary_saving",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("entered", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_diary_saving"),
    )
    op.create_table(
        "diary_entry",
        sa.Column("line_id", sa.Integer(), nullable=False),
        sa.Column("day", sa.Integer(), nullable=False),
        sa.Column("saving_id", sa.Integer(), nullable=False),
        sa.Column("doses", sa.Integer(), nullable=True),
        sa.PrimaryKeyConstraint("line_id", "day", "saving_id", name="pk_diary_entry"),
        sa.ForeignKeyConstraint(
            ["line_id"], ["diary_line.id"], name="fk_diary_entry_line_id_diary_line"
        ),
        sa.ForeignKeyConstraint(
            ["saving_id"], ["diary_saving.id"], name="fk_diary_entry_saving_id_diary_saving"
        ),
        sa.CheckConstraint("doses >= 0", name="ck_diary_entry_doses"),
        sqlite_with_rowid=False,
    )
    _move_marks(raw)
    op.drop_table("old_entry")
    for table in ("diary_line", "diary_saving", "diary_entry"):
        _keep(table)


def _move_marks(raw: sqlite3.Connection) -> None:
    raw.execute(
        "INSERT INTO diary_line (course_id, remedy) "
        "SELECT DISTINCT course_id, remedy FROM old_entry ORDER BY course_id, remedy"
    )
    firsts: list[int] = []
    savings: list[tuple[int, str]] = []
    for first, entered in _savings(raw):
        firsts.append(first)
        savings.append((len(firsts), entered))
    raw.executemany("INSERT INTO diary_saving (id, entered) VALUES (?, ?)", savings)
    raw.create_function("saving_of", 1, lambda number: bisect.bisect_right(firsts, number))
    raw.execute(
        "INSERT INTO diary_entry (line_id, day, saving_id, doses) "
        "SELECT l.id, CAST(julianday(e.day) - ? AS INTEGER), saving_of(e.id), e.doses "
        "FROM old_entry e JOIN diary_line l "
        "ON l.course_id = e.course_id AND l.remedy = e.remedy "
        "ORDER BY l.id, e.day, e.id",
        (ORDINAL_0,),
    )
    raw.create_function("saving_of", 1, None)


def _savings(raw: sqlite3.Connection) -> Iterator[tuple[int, str]]:
    """The first mark of each saving, and its time: marks of one time, each cell once."""
    at: str | None = None
    cells: set[tuple[str, str, str]] = set()
    for number, entered, *cell in raw.execute(
        "SELECT id, entered, course_id, day, remedy FROM old_entry ORDER BY id"
    ):
        key = (cell[0], cell[1], cell[2])
        if entered != at or key in cells:
            yield number, entered
            at, cells = entered, set()
        cells.add(key)


# Courses


def _course_versions(raw: sqlite3.Connection) -> None:
    op.create_table(
        "new_version",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("course_id", sa.Text(), nullable=False),
        sa.Column("saved", sa.Text(), nullable=False),
        sa.Column("client_version_id", sa.Integer(), nullable=False),
        sa.Column("revision_count", sa.Integer(), nullable=False),
        sa.Column("snapshot_digest", sa.Text(), nullable=False),
        sa.Column("start", sa.Date(), nullable=False),
        sa.Column("until", sa.Date(), nullable=True),
        sa.Column("protocol_name", sa.Text(), nullable=False),
        sa.Column("digest", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_course_version"),
        sa.ForeignKeyConstraint(
            ["course_id"], ["course.id"], name="fk_course_version_course_id_course"
        ),
        sa.ForeignKeyConstraint(
            ["client_version_id"],
            ["client_version.id"],
            name="fk_course_version_client_version_id_client_version",
        ),
        sa.ForeignKeyConstraint(
            ["snapshot_digest"],
            ["snapshot.digest"],
            name="fk_course_version_snapshot_digest_snapshot",
        ),
        sa.UniqueConstraint("course_id", "version", name="uq_course_version_course_id_version"),
    )
    raw.executemany(
        "INSERT INTO new_version (id, version, course_id, saved, client_version_id, "
        "revision_count, snapshot_digest, start, until, protocol_name, digest) "
        "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        _with_names(raw),
    )
    op.drop_table("course_version")
    op.rename_table("new_version", "course_version")
    _keep("course_version")


def _with_names(raw: sqlite3.Connection) -> Iterator[tuple[object, ...]]:
    query = (
        "SELECT v.id, v.version, v.course_id, v.saved, v.client_version_id, v.revision_count, "
        "v.snapshot_digest, v.start, v.until, c.client_id, CAST(s.content AS BLOB) "
        "FROM course_version v JOIN course c ON c.id = v.course_id "
        "JOIN snapshot s ON s.digest = v.snapshot_digest ORDER BY v.id"
    )
    for *version, client_id, content in raw.execute(query):
        digest = _digest(raw, version, client_id)
        yield (*version, _name(content), digest)


def _name(content: bytes) -> str:
    """The protocol's name; nothing where the text is damaged, which is told when it is read."""
    try:
        return str(json.loads(content)["protocol"]["name"])
    except (ValueError, KeyError, TypeError):
        return ""


def _digest(raw: sqlite3.Connection, version: list[object], client_id: str) -> str:
    number, count, course_id, _, client_version_id, revisions, snapshot, start, until = version
    query = f"SELECT {_REVISION} FROM course_revision WHERE course_id = ? ORDER BY place LIMIT ?"  # noqa: S608
    changes = raw.execute(query, (course_id, revisions)).fetchall()
    query = "SELECT finding, reason FROM course_accept WHERE course_version_id = ? ORDER BY place"
    accepts = raw.execute(query, (number,)).fetchall()
    whole = [course_id, count, client_id, client_version_id, snapshot, start, until]
    text = json.dumps([*whole, changes, accepts], separators=(",", ":"), ensure_ascii=False)
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def _keep(table: str) -> None:
    for action in ("UPDATE", "DELETE"):
        op.execute(
            f"CREATE TRIGGER keep_{table}_from_{action.lower()} BEFORE {action} ON {table} "
            "BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END"
        )

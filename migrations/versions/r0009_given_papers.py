"""Every paper that is given, as it was, under its own name.

The sheets that were kept until now, without a name, move there; what phones were told stays where
it is, and both are compressed.
"""

import hashlib
import zlib

import sqlalchemy as sa
from alembic import op

revision = "0009"
down_revision = "0008"

_GUARDED = ("giving", "given_paper", "paper_content")


def upgrade() -> None:
    op.create_table(
        "giving",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("client_id", sa.Text(), nullable=False),
        sa.Column("course_id", sa.Text(), nullable=True),
        sa.Column("given", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_giving"),
        sa.ForeignKeyConstraint(["client_id"], ["client.id"], name="fk_giving_client_id_client"),
        sa.ForeignKeyConstraint(["course_id"], ["course.id"], name="fk_giving_course_id_course"),
    )
    op.create_index("ix_giving_client_id", "giving", ["client_id"])
    op.create_table(
        "paper_content",
        sa.Column("digest", sa.Text(), nullable=False),
        sa.Column("size", sa.Integer(), nullable=False),
        sa.Column("content", sa.LargeBinary(), nullable=False),
        sa.PrimaryKeyConstraint("digest", name="pk_paper_content"),
    )
    op.create_table(
        "given_paper",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("giving_id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("digest", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_given_paper"),
        sa.ForeignKeyConstraint(
            ["giving_id"], ["giving.id"], name="fk_given_paper_giving_id_giving"
        ),
        sa.ForeignKeyConstraint(
            ["digest"], ["paper_content.digest"], name="fk_given_paper_digest_paper_content"
        ),
        sa.UniqueConstraint("giving_id", "place", name="uq_given_paper_giving_id_place"),
    )
    _drop_guards("publication")
    _move_sheets()
    _compress_publications()
    for table in ("publication", *_GUARDED):
        _guard(table)


def _move_sheets() -> None:
    """Each sheet becomes a giving of its own, named after its kind and day.

    One is read at a time: together they may be larger than the memory.
    """
    connection = op.get_bind()
    sheets = connection.exec_driver_sql(
        "SELECT publication.id, course.client_id, course_id, published FROM publication "
        "JOIN course ON course.id = course_id WHERE kind = 'handout' ORDER BY published, number"
    ).fetchall()
    for number, (sheet, client, course, published) in enumerate(sheets, 1):
        content = _content(sheet)
        digest = hashlib.sha256(content).hexdigest()
        connection.exec_driver_sql(
            "INSERT OR IGNORE INTO paper_content VALUES (?, ?, ?)",
            (digest, len(content), zlib.compress(content, 6)),
        )
        connection.exec_driver_sql(
            "INSERT INTO giving VALUES (?, ?, ?, ?)", (number, client, course, published)
        )
        connection.exec_driver_sql(
            "INSERT INTO given_paper VALUES (?, 0, ?, 'handout', ?, ?)",
            (number, number, f"handout-{published[:10]}-no{number}.pdf", digest),
        )
        connection.exec_driver_sql("DELETE FROM publication WHERE id = ?", (sheet,))


def _compress_publications() -> None:
    connection = op.get_bind()
    for (publication,) in connection.exec_driver_sql("SELECT id FROM publication").fetchall():
        connection.exec_driver_sql(
            "UPDATE publication SET content = ? WHERE id = ?",
            (zlib.compress(_content(publication), 6), publication),
        )


def _content(publication: str) -> bytes:
    query = "SELECT content FROM publication WHERE id = ?"
    return bytes(op.get_bind().exec_driver_sql(query, (publication,)).scalar_one())


def _drop_guards(table: str) -> None:
    for action in ("update", "delete"):
        op.execute(f"DROP TRIGGER keep_{table}_from_{action}")


def _guard(table: str) -> None:
    for action in ("UPDATE", "DELETE"):
        op.execute(
            f"CREATE TRIGGER keep_{table}_from_{action.lower()} BEFORE {action} ON {table} "
            "BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END"
        )

"""Consultations with every wording they had, the files attached to them, and an index of words."""

import sqlalchemy as sa
from alembic import op

revision = "0016"
down_revision = "0015"

_GUARDED = (
    "consultation",
    "consultation_version",
    "consultation_part",
    "consultation_void",
    "attachment",
    "attachment_void",
    "consultation_headings",
)


def upgrade() -> None:
    _consultations()
    _attachments()
    op.create_table(
        "consultation_headings",
        *_version(),
        sa.Column("headings", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_consultation_headings"),
        sa.UniqueConstraint("version", name="uq_consultation_headings_version"),
    )
    # Words are found without their accents, and by two or three letters at their beginning.
    op.execute(
        "CREATE VIRTUAL TABLE consultation_index USING fts5("
        "words, tokenize = 'unicode61 remove_diacritics 2', prefix = '2 3')"
    )
    for table in _GUARDED:
        for action in ("UPDATE", "DELETE"):
            op.execute(
                f"CREATE TRIGGER keep_{table}_from_{action.lower()} BEFORE {action} ON {table} "
                "BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END"
            )


def _version() -> tuple[sa.Column[int], sa.Column[int], sa.Column[str]]:
    return (
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("saved", sa.Text(), nullable=False),
    )


def _consultations() -> None:
    op.create_table(
        "consultation",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("client_id", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_consultation"),
        sa.ForeignKeyConstraint(
            ["client_id"], ["client.id"], name="fk_consultation_client_id_client"
        ),
    )
    op.create_index("ix_consultation_client_id", "consultation", ["client_id"])
    op.create_table(
        "consultation_version",
        *_version(),
        sa.Column("consultation_id", sa.Integer(), nullable=False),
        sa.Column("day", sa.Date(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("minutes", sa.Integer(), nullable=True),
        sa.Column("next_day", sa.Date(), nullable=True),
        sa.Column("next_at", sa.Integer(), nullable=True),
        sa.Column("digest", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_consultation_version"),
        sa.ForeignKeyConstraint(
            ["consultation_id"],
            ["consultation.id"],
            name="fk_consultation_version_consultation_id_consultation",
        ),
        sa.UniqueConstraint(
            "consultation_id", "version", name="uq_consultation_version_consultation_id_version"
        ),
        sa.CheckConstraint(
            "kind IN ('first', 'follow-up', 'telephone')", name="ck_consultation_version_kind"
        ),
        sa.CheckConstraint("minutes > 0", name="ck_consultation_version_minutes"),
    )
    op.create_table(
        "consultation_part",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("consultation_version_id", sa.Integer(), nullable=False),
        sa.Column("heading", sa.Text(), nullable=False),
        sa.Column("words", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_consultation_part"),
        sa.ForeignKeyConstraint(
            ["consultation_version_id"],
            ["consultation_version.id"],
            name="fk_consultation_part_consultation_version_id_consultation_version",
        ),
        sa.UniqueConstraint(
            "consultation_version_id",
            "place",
            name="uq_consultation_part_consultation_version_id_place",
        ),
    )
    _void("consultation")


def _void(table: str) -> None:
    op.create_table(
        f"{table}_void",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column(f"{table}_id", sa.Integer(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("struck", sa.Date(), nullable=False),
        sa.Column("recorded", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=f"pk_{table}_void"),
        sa.ForeignKeyConstraint(
            [f"{table}_id"], [f"{table}.id"], name=f"fk_{table}_void_{table}_id_{table}"
        ),
        sa.UniqueConstraint(f"{table}_id", name=f"uq_{table}_void_{table}_id"),
    )


def _attachments() -> None:
    op.create_table(
        "attachment",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("consultation_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("digest", sa.Text(), nullable=False),
        sa.Column("recorded", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_attachment"),
        sa.ForeignKeyConstraint(
            ["consultation_id"],
            ["consultation.id"],
            name="fk_attachment_consultation_id_consultation",
        ),
        sa.ForeignKeyConstraint(
            ["digest"], ["paper_content.digest"], name="fk_attachment_digest_paper_content"
        ),
    )
    op.create_index("ix_attachment_consultation_id", "attachment", ["consultation_id"])
    _void("attachment")

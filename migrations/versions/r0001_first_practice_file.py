"""The first practice file: clients, remedies, protocols, courses, diaries, publications.

What is kept for good is guarded by triggers: the rows of `KEPT` can neither be changed nor
deleted, and the heads (which only say what version is current) not deleted.
"""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None

APPLICATION_ID = 0x53454E4E
"""“SENN”: tells a practice file from other SQLite files."""

HEADS = ("client", "remedy", "protocol", "course")
KEPT = (
    "card_address",
    "card_version",
    "client_fact",
    "client_version",
    "course_accept",
    "course_revision",
    "course_version",
    "diary_entry",
    "protocol_aim",
    "protocol_line",
    "protocol_phase",
    "protocol_remedy",
    "protocol_step",
    "protocol_version",
    "publication",
    "remedy_ingredient",
    "remedy_version",
    "score_entry",
    "snapshot",
)


def upgrade() -> None:
    op.execute(f"PRAGMA application_id = {APPLICATION_ID}")
    _cards()
    _clients()
    _remedies()
    _protocols()
    _courses()
    _diaries()
    _publications()
    for table in KEPT:
        _forbid("UPDATE", table)
    for table in (*KEPT, *HEADS):
        _forbid("DELETE", table)


def _forbid(action: str, table: str) -> None:
    op.execute(
        f"CREATE TRIGGER keep_{table}_from_{action.lower()} BEFORE {action} ON {table} "
        "BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END"
    )


def _cards() -> None:
    op.create_table(
        "card_version",
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("practitioner", sa.Text(), nullable=False),
        sa.Column("phone", sa.Text(), nullable=False),
        sa.Column("email", sa.Text(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("saved", sa.Text(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_card_version"),
        sa.UniqueConstraint("version", name="uq_card_version_version"),
    )
    op.create_table(
        "card_address",
        sa.Column("card_version_id", sa.Integer(), nullable=False),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_card_address"),
        sa.ForeignKeyConstraint(
            ["card_version_id"],
            ["card_version.id"],
            name="fk_card_address_card_version_id_card_version",
        ),
        sa.UniqueConstraint(
            "card_version_id", "place", name="uq_card_address_card_version_id_place"
        ),
    )


def _clients() -> None:
    op.create_table(
        "client",
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_client"),
    )
    op.create_table(
        "client_version",
        sa.Column("client_id", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("born", sa.Date(), nullable=True),
        sa.Column("zone", sa.Text(), nullable=True),
        sa.Column("weight_kg", sa.Text(), nullable=True),
        sa.Column("contact", sa.Text(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("archived", sa.Boolean(), nullable=False),
        sa.Column("rising", sa.Integer(), nullable=False),
        sa.Column("breakfast", sa.Integer(), nullable=False),
        sa.Column("mid_morning", sa.Integer(), nullable=False),
        sa.Column("lunch", sa.Integer(), nullable=False),
        sa.Column("mid_afternoon", sa.Integer(), nullable=False),
        sa.Column("supper", sa.Integer(), nullable=False),
        sa.Column("bedtime", sa.Integer(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("saved", sa.Text(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_client_version"),
        sa.ForeignKeyConstraint(
            ["client_id"], ["client.id"], name="fk_client_version_client_id_client"
        ),
        sa.UniqueConstraint("client_id", "version", name="uq_client_version_client_id_version"),
    )
    op.create_table(
        "client_fact",
        sa.Column("client_version_id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("tag", sa.Text(), nullable=False),
        sa.Column("since", sa.Date(), nullable=True),
        sa.Column("until", sa.Date(), nullable=True),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_client_fact"),
        sa.CheckConstraint(
            "kind IN ('condition', 'medicine', 'allergy')", name="ck_client_fact_kind"
        ),
        sa.ForeignKeyConstraint(
            ["client_version_id"],
            ["client_version.id"],
            name="fk_client_fact_client_version_id_client_version",
        ),
        sa.UniqueConstraint(
            "client_version_id",
            "kind",
            "place",
            name="uq_client_fact_client_version_id_kind_place",
        ),
    )


def _remedies() -> None:
    op.create_table(
        "remedy",
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_remedy"),
    )
    op.create_table(
        "remedy_version",
        sa.Column("remedy_id", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("form", sa.Text(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("drops_per_ml", sa.Text(), nullable=False),
        sa.Column("grams_per_cup", sa.Text(), nullable=True),
        sa.Column("water_ml", sa.Text(), nullable=True),
        sa.Column("method", sa.Text(), nullable=True),
        sa.Column("minutes", sa.Integer(), nullable=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("saved", sa.Text(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_remedy_version"),
        sa.CheckConstraint(
            "form IN ('tea', 'tincture', 'rub', 'capsule')", name="ck_remedy_version_form"
        ),
        sa.ForeignKeyConstraint(
            ["remedy_id"], ["remedy.id"], name="fk_remedy_version_remedy_id_remedy"
        ),
        sa.UniqueConstraint("remedy_id", "version", name="uq_remedy_version_remedy_id_version"),
    )
    op.create_table(
        "remedy_ingredient",
        sa.Column("remedy_version_id", sa.Integer(), nullable=False),
        sa.Column("herb", sa.Text(), nullable=False),
        sa.Column("parts", sa.Text(), nullable=True),
        sa.Column("ratio", sa.Text(), nullable=True),
        sa.Column("ethanol", sa.Text(), nullable=True),
        sa.Column("mg", sa.Text(), nullable=True),
        sa.Column("filling", sa.Text(), nullable=True),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_remedy_ingredient"),
        sa.ForeignKeyConstraint(
            ["remedy_version_id"],
            ["remedy_version.id"],
            name="fk_remedy_ingredient_remedy_version_id_remedy_version",
        ),
        sa.UniqueConstraint(
            "remedy_version_id", "place", name="uq_remedy_ingredient_remedy_version_id_place"
        ),
    )


def _protocols() -> None:
    op.create_table(
        "protocol",
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_protocol"),
    )
    op.create_table(
        "protocol_version",
        sa.Column("protocol_id", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("saved", sa.Text(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_protocol_version"),
        sa.ForeignKeyConstraint(
            ["protocol_id"], ["protocol.id"], name="fk_protocol_version_protocol_id_protocol"
        ),
        sa.UniqueConstraint(
            "protocol_id", "version", name="uq_protocol_version_protocol_id_version"
        ),
    )
    op.create_table(
        "protocol_aim",
        sa.Column("protocol_version_id", sa.Integer(), nullable=False),
        sa.Column("aim", sa.Text(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_protocol_aim"),
        sa.ForeignKeyConstraint(
            ["protocol_version_id"],
            ["protocol_version.id"],
            name="fk_protocol_aim_protocol_version_id_protocol_version",
        ),
        sa.UniqueConstraint(
            "protocol_version_id", "place", name="uq_protocol_aim_protocol_version_id_place"
        ),
    )
    op.create_table(
        "protocol_phase",
        sa.Column("protocol_version_id", sa.Integer(), nullable=False),
        sa.Column("phase", sa.Text(), nullable=False),
        sa.Column("purpose", sa.Text(), nullable=False),
        sa.Column("length", sa.Text(), nullable=True),
        sa.Column("gate_measure", sa.Text(), nullable=True),
        sa.Column("gate_fall_percent", sa.Integer(), nullable=True),
        sa.Column("stand_in", sa.Boolean(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_protocol_phase"),
        sa.ForeignKeyConstraint(
            ["protocol_version_id"],
            ["protocol_version.id"],
            name="fk_protocol_phase_protocol_version_id_protocol_version",
        ),
        sa.UniqueConstraint(
            "protocol_version_id", "phase", name="uq_protocol_phase_protocol_version_id_phase"
        ),
        sa.UniqueConstraint(
            "protocol_version_id", "place", name="uq_protocol_phase_protocol_version_id_place"
        ),
    )
    op.create_table(
        "protocol_remedy",
        sa.Column("protocol_version_id", sa.Integer(), nullable=False),
        sa.Column("remedy_id", sa.Text(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_protocol_remedy"),
        sa.ForeignKeyConstraint(
            ["protocol_version_id"],
            ["protocol_version.id"],
            name="fk_protocol_remedy_protocol_version_id_protocol_version",
        ),
        sa.ForeignKeyConstraint(
            ["remedy_id"], ["remedy.id"], name="fk_protocol_remedy_remedy_id_remedy"
        ),
        sa.UniqueConstraint(
            "protocol_version_id", "place", name="uq_protocol_remedy_protocol_version_id_place"
        ),
        sa.UniqueConstraint(
            "protocol_version_id",
            "remedy_id",
            name="uq_protocol_remedy_protocol_version_id_remedy_id",
        ),
    )
    op.create_table(
        "protocol_line",
        sa.Column("protocol_phase_id", sa.Integer(), nullable=False),
        sa.Column("remedy_id", sa.Text(), nullable=False),
        sa.Column("take", sa.Text(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_protocol_line"),
        sa.ForeignKeyConstraint(
            ["protocol_phase_id"],
            ["protocol_phase.id"],
            name="fk_protocol_line_protocol_phase_id_protocol_phase",
        ),
        sa.ForeignKeyConstraint(
            ["remedy_id"], ["remedy.id"], name="fk_protocol_line_remedy_id_remedy"
        ),
        sa.UniqueConstraint(
            "protocol_phase_id", "place", name="uq_protocol_line_protocol_phase_id_place"
        ),
        sa.UniqueConstraint(
            "protocol_phase_id", "remedy_id", name="uq_protocol_line_protocol_phase_id_remedy_id"
        ),
    )
    op.create_table(
        "protocol_step",
        sa.Column("protocol_line_id", sa.Integer(), nullable=False),
        sa.Column("after_weeks", sa.Integer(), nullable=False),
        sa.Column("take", sa.Text(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_protocol_step"),
        sa.ForeignKeyConstraint(
            ["protocol_line_id"],
            ["protocol_line.id"],
            name="fk_protocol_step_protocol_line_id_protocol_line",
        ),
        sa.UniqueConstraint(
            "protocol_line_id", "place", name="uq_protocol_step_protocol_line_id_place"
        ),
    )


def _courses() -> None:
    op.create_table(
        "snapshot",
        sa.Column("digest", sa.Text(), nullable=False),
        sa.Column("schema", sa.Integer(), nullable=False),
        sa.Column("content", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("digest", name="pk_snapshot"),
    )
    op.create_table(
        "course",
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("client_id", sa.Text(), nullable=False),
        sa.Column("created", sa.Text(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_course"),
        sa.ForeignKeyConstraint(["client_id"], ["client.id"], name="fk_course_client_id_client"),
    )
    op.create_index("ix_course_client_id", "course", ["client_id"])
    op.create_table(
        "course_revision",
        sa.Column("course_id", sa.Text(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("change", sa.Text(), nullable=False),
        sa.Column("decided", sa.Date(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("phase", sa.Text(), nullable=True),
        sa.Column("remedy", sa.Text(), nullable=True),
        sa.Column("first_day", sa.Date(), nullable=True),
        sa.Column("last_day", sa.Date(), nullable=True),
        sa.Column("amount", sa.Integer(), nullable=True),
        sa.Column("in_weeks", sa.Boolean(), nullable=True),
        sa.Column("mode", sa.Text(), nullable=True),
        sa.Column("take", sa.Text(), nullable=True),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_course_revision"),
        sa.CheckConstraint(
            "change IN ('extend', 'advance', 'pause', 'flare', 'redirect', 'stop', 'end')",
            name="ck_course_revision_change",
        ),
        sa.ForeignKeyConstraint(
            ["course_id"], ["course.id"], name="fk_course_revision_course_id_course"
        ),
        sa.UniqueConstraint("course_id", "place", name="uq_course_revision_course_id_place"),
    )
    op.create_table(
        "course_version",
        sa.Column("course_id", sa.Text(), nullable=False),
        sa.Column("client_version_id", sa.Integer(), nullable=False),
        sa.Column("snapshot_digest", sa.Text(), nullable=False),
        sa.Column("start", sa.Date(), nullable=False),
        sa.Column("until", sa.Date(), nullable=True),
        sa.Column("revision_count", sa.Integer(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("saved", sa.Text(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_course_version"),
        sa.ForeignKeyConstraint(
            ["client_version_id"],
            ["client_version.id"],
            name="fk_course_version_client_version_id_client_version",
        ),
        sa.ForeignKeyConstraint(
            ["course_id"], ["course.id"], name="fk_course_version_course_id_course"
        ),
        sa.ForeignKeyConstraint(
            ["snapshot_digest"],
            ["snapshot.digest"],
            name="fk_course_version_snapshot_digest_snapshot",
        ),
        sa.UniqueConstraint("course_id", "version", name="uq_course_version_course_id_version"),
    )
    op.create_table(
        "course_accept",
        sa.Column("course_version_id", sa.Integer(), nullable=False),
        sa.Column("finding", sa.Text(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_course_accept"),
        sa.ForeignKeyConstraint(
            ["course_version_id"],
            ["course_version.id"],
            name="fk_course_accept_course_version_id_course_version",
        ),
        sa.UniqueConstraint(
            "course_version_id", "place", name="uq_course_accept_course_version_id_place"
        ),
    )


def _diaries() -> None:
    op.create_table(
        "diary_entry",
        sa.Column("course_id", sa.Text(), nullable=False),
        sa.Column("day", sa.Date(), nullable=False),
        sa.Column("remedy", sa.Text(), nullable=False),
        sa.Column("doses", sa.Integer(), nullable=True),
        sa.Column("entered", sa.Text(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_diary_entry"),
        sa.CheckConstraint("doses >= 0", name="ck_diary_entry_doses"),
        sa.ForeignKeyConstraint(
            ["course_id"], ["course.id"], name="fk_diary_entry_course_id_course"
        ),
    )
    op.create_index(
        "ix_diary_entry_course_id_day_remedy", "diary_entry", ["course_id", "day", "remedy"]
    )
    op.create_table(
        "score_entry",
        sa.Column("course_id", sa.Text(), nullable=False),
        sa.Column("day", sa.Date(), nullable=False),
        sa.Column("measure", sa.Text(), nullable=False),
        sa.Column("value", sa.Text(), nullable=True),
        sa.Column("entered", sa.Text(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_score_entry"),
        sa.ForeignKeyConstraint(
            ["course_id"], ["course.id"], name="fk_score_entry_course_id_course"
        ),
    )
    op.create_index(
        "ix_score_entry_course_id_day_measure", "score_entry", ["course_id", "day", "measure"]
    )


def _publications() -> None:
    op.create_table(
        "publication",
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("course_id", sa.Text(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("published", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("content", sa.LargeBinary(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_publication"),
        sa.ForeignKeyConstraint(
            ["course_id"], ["course.id"], name="fk_publication_course_id_course"
        ),
        sa.UniqueConstraint("course_id", "number", name="uq_publication_course_id_number"),
    )

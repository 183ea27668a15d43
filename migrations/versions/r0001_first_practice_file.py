"""The first practice file: clients, remedies, protocols, courses, diaries, publications.

What is kept for good is guarded by triggers: the rows of `KEPT` can neither be changed nor
deleted, and the heads (which only say what version is current) not deleted. A later migration
that replaces a table has to create its triggers again.
"""

from typing import Any

import sqlalchemy as sa
from alembic import op
from sqlalchemy.schema import SchemaItem

revision = "0001"
down_revision = None

APPLICATION_ID = 0x53454E4E
"""“SENN”: tells a practice file from other SQLite files."""

HEADS = ("client", "remedy", "protocol", "course")
KEPT = (
    "card_version",
    "card_address",
    "client_version",
    "client_fact",
    "remedy_version",
    "remedy_ingredient",
    "protocol_version",
    "protocol_aim",
    "protocol_remedy",
    "protocol_phase",
    "protocol_line",
    "protocol_step",
    "snapshot",
    "course_version",
    "course_accept",
    "course_revision",
    "diary_entry",
    "score_entry",
    "publication",
)


def upgrade() -> None:
    op.execute(f"PRAGMA application_id = {APPLICATION_ID}")
    for table in HEADS[:3]:
        _table(table, *_need(sa.Text, "id"), *_need(sa.Integer, "version"))
    _cards()
    _clients()
    _remedies()
    _protocols()
    _protocol_phases()
    _courses()
    _revisions()
    _diaries()
    _publications()
    for table in KEPT:
        _forbid("UPDATE", table)
    for table in (*KEPT, *HEADS):
        _forbid("DELETE", table)


def _cards() -> None:
    texts = _need(sa.Text, "saved", "name", "practitioner", "phone", "email")
    once = sa.UniqueConstraint("version", name="uq_card_version_version")
    _table("card_version", *_need(sa.Integer, "id", "version"), *texts, once)
    _list("card_address", "card_version", *_need(sa.Text, "text"))


def _clients() -> None:
    _versions(
        "client",
        *_need(sa.Text, "name", "contact", "note"),
        *_may(sa.Date, "born"),
        *_may(sa.Text, "zone", "weight_kg"),
        *_need(sa.Boolean, "archived"),
        *_need(sa.Integer, "rising", "breakfast", "mid_morning", "lunch"),
        *_need(sa.Integer, "mid_afternoon", "supper", "bedtime"),
    )
    kinds = "kind IN ('condition', 'medicine', 'allergy')"
    _table(
        "client_fact",
        *_need(sa.Integer, "id", "place", "client_version_id"),
        *_need(sa.Text, "kind", "tag"),
        *_may(sa.Date, "since", "until"),
        _refers("client_fact", "client_version_id", "client_version.id"),
        _once("client_fact", "client_version_id", "kind", "place"),
        sa.CheckConstraint(kinds, name="ck_client_fact_kind"),
    )


def _remedies() -> None:
    forms = "form IN ('tea', 'tincture', 'rub', 'capsule')"
    _versions(
        "remedy",
        *_need(sa.Text, "name", "form", "note", "drops_per_ml"),
        *_may(sa.Text, "grams_per_cup", "water_ml", "method"),
        *_may(sa.Integer, "minutes"),
        sa.CheckConstraint(forms, name="ck_remedy_version_form"),
    )
    numbers = _may(sa.Text, "parts", "ratio", "ethanol", "mg", "filling")
    _list("remedy_ingredient", "remedy_version", *_need(sa.Text, "herb"), *numbers)


def _protocols() -> None:
    _versions("protocol", *_need(sa.Text, "name", "note"))
    _list("protocol_aim", "protocol_version", *_need(sa.Text, "aim"))
    _list(
        "protocol_remedy",
        "protocol_version",
        *_need(sa.Text, "remedy_id"),
        _refers("protocol_remedy", "remedy_id", "remedy.id"),
        _once("protocol_remedy", "protocol_version_id", "remedy_id"),
    )


def _protocol_phases() -> None:
    _list(
        "protocol_phase",
        "protocol_version",
        *_need(sa.Text, "phase", "purpose"),
        *_may(sa.Text, "length", "gate_measure"),
        *_may(sa.Integer, "gate_fall_percent"),
        *_need(sa.Boolean, "stand_in"),
        _once("protocol_phase", "protocol_version_id", "phase"),
    )
    _list(
        "protocol_line",
        "protocol_phase",
        *_need(sa.Text, "remedy_id", "take"),
        _refers("protocol_line", "remedy_id", "remedy.id"),
        _once("protocol_line", "protocol_phase_id", "remedy_id"),
    )
    step = (*_need(sa.Integer, "after_weeks"), *_need(sa.Text, "take"))
    _list("protocol_step", "protocol_line", *step)


def _courses() -> None:
    _table(
        "course",
        *_need(sa.Text, "id", "client_id", "created"),
        *_need(sa.Integer, "version"),
        _refers("course", "client_id", "client.id"),
    )
    op.create_index("ix_course_client_id", "course", ["client_id"])
    op.create_table(
        "snapshot",
        *_need(sa.Text, "digest", "content"),
        *_need(sa.Integer, "schema"),
        sa.PrimaryKeyConstraint("digest", name="pk_snapshot"),
    )
    _versions(
        "course",
        *_need(sa.Integer, "client_version_id", "revision_count"),
        *_need(sa.Text, "snapshot_digest"),
        *_need(sa.Date, "start"),
        *_may(sa.Date, "until"),
        _refers("course_version", "client_version_id", "client_version.id"),
        _refers("course_version", "snapshot_digest", "snapshot.digest"),
    )
    _list("course_accept", "course_version", *_need(sa.Text, "finding", "reason"))


def _revisions() -> None:
    changes = "change IN ('extend', 'advance', 'pause', 'flare', 'redirect', 'stop', 'end')"
    _table(
        "course_revision",
        *_need(sa.Integer, "id", "place", "version"),
        *_need(sa.Text, "course_id", "change", "reason"),
        *_need(sa.Date, "decided"),
        *_may(sa.Text, "phase", "remedy", "mode", "take"),
        *_may(sa.Date, "first_day", "last_day"),
        *_may(sa.Integer, "amount"),
        *_may(sa.Boolean, "in_weeks"),
        _refers("course_revision", "course_id", "course.id"),
        _once("course_revision", "course_id", "place"),
        sa.CheckConstraint(changes, name="ck_course_revision_change"),
    )


def _diaries() -> None:
    doses = sa.CheckConstraint("doses >= 0", name="ck_diary_entry_doses")
    _entries("diary_entry", "remedy", *_may(sa.Integer, "doses"), doses)
    _entries("score_entry", "measure", *_may(sa.Text, "value"))


def _entries(name: str, what: str, *items: SchemaItem) -> None:
    _table(
        name,
        *_need(sa.Integer, "id"),
        *_need(sa.Text, "course_id", what, "entered"),
        *_need(sa.Date, "day"),
        *items,
        _refers(name, "course_id", "course.id"),
    )
    op.create_index(f"ix_{name}_course_id_day_{what}", name, ["course_id", "day", what])


def _publications() -> None:
    _table(
        "publication",
        *_need(sa.Text, "id", "course_id", "published", "kind"),
        *_need(sa.Integer, "number"),
        *_need(sa.LargeBinary, "content"),
        _refers("publication", "course_id", "course.id"),
        _once("publication", "course_id", "number"),
    )


# Ways of saying a table, of this migration alone


def _table(name: str, *items: SchemaItem) -> None:
    """A table whose primary key is `id`."""
    op.create_table(name, *items, sa.PrimaryKeyConstraint("id", name=f"pk_{name}"))


def _versions(head: str, *items: SchemaItem) -> None:
    """The versions of a head, numbered from 1."""
    name = f"{head}_version"
    _table(
        name,
        *_need(sa.Integer, "id", "version"),
        *_need(sa.Text, f"{head}_id", "saved"),
        *items,
        _refers(name, f"{head}_id", f"{head}.id"),
        _once(name, f"{head}_id", "version"),
    )


def _list(name: str, of: str, *items: SchemaItem) -> None:
    """A list that belongs to another table's row, in the order of `place`."""
    _table(
        name,
        *_need(sa.Integer, "id", "place", f"{of}_id"),
        *items,
        _refers(name, f"{of}_id", f"{of}.id"),
        _once(name, f"{of}_id", "place"),
    )


def _need(kind: type[sa.types.TypeEngine[Any]], *names: str) -> list[sa.Column[Any]]:
    return [sa.Column(name, kind(), nullable=False) for name in names]


def _may(kind: type[sa.types.TypeEngine[Any]], *names: str) -> list[sa.Column[Any]]:
    return [sa.Column(name, kind(), nullable=True) for name in names]


def _refers(table: str, column: str, target: str) -> SchemaItem:
    name = f"fk_{table}_{column}_{target.removesuffix('.id').removesuffix('.digest')}"
    return sa.ForeignKeyConstraint([column], [target], name=name)


def _once(table: str, *columns: str) -> SchemaItem:
    return sa.UniqueConstraint(*columns, name=f"uq_{table}_{'_'.join(columns)}")


def _forbid(action: str, table: str) -> None:
    op.execute(
        f"CREATE TRIGGER keep_{table}_from_{action.lower()} BEFORE {action} ON {table} "
        "BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END"
    )

"""The schema of a practice file: which version it is, and bringing it up to date.

A migration runs in one transaction, DDL and all: it is kept whole or leaves the file as it
was. Foreign keys are off while it runs (replacing a table would else delete the rows that
refer to it) and are checked before it is kept.
"""

from __future__ import annotations

import sqlite3
from contextlib import suppress
from pathlib import Path

from sqlalchemy import Connection, Engine

from sennight import __version__
from sennight.places import own_folder
from sennight.store.connecting import WRITES, connect_engine
from sennight.store.errors import DamagedFileError, NewerFileError
from sennight.store.schemas import versions


def own_scripts() -> Path:
    """The program's own migrations."""
    return own_folder("migrations")


def newest_schema(scripts: Path) -> str:
    """The schema version that the program writes."""
    schemas = versions(scripts)
    if not schemas:
        raise FileNotFoundError(f"no migrations in {scripts}; install the program again")
    return schemas[-1]


def known_schemas(scripts: Path) -> frozenset[str]:
    """The schema versions that the program can read or bring up to date."""
    return frozenset(versions(scripts))


def refuse_newer(path: Path, schema: str, scripts: Path) -> None:
    """Raise NewerFileError where a file's schema version is not one that the program knows."""
    if schema not in known_schemas(scripts):
        raise NewerFileError(
            f"{path} has schema version {schema}, saved by a newer Sennight; this Sennight "
            f"{__version__} knows schema versions up to {newest_schema(scripts)}. Nothing was "
            "changed. Install the newest Sennight and open the file with it."
        )


def migrate(path: Path, scripts: Path) -> None:
    """Bring a file to the newest schema in one transaction; it stays as it was on any error."""
    # Alembic and what it needs take a tenth of a second to import, and are seldom needed.
    from alembic import command  # noqa: PLC0415
    from alembic.config import Config  # noqa: PLC0415

    engine = connect_engine(path, foreign_keys=False)
    try:
        with engine.connect().execution_options(**WRITES) as connection, connection.begin():
            config = Config()
            config.set_main_option("script_location", str(scripts).replace("%", "%%"))
            config.attributes["connection"] = connection
            command.upgrade(config, "head")
            _check(path, connection)
        _give_back_room(engine)
    finally:
        engine.dispose()


def _give_back_room(engine: Engine) -> None:
    """Make a file small again of which a migration left a good part unused."""
    with engine.connect() as connection:
        raw = connection.connection.driver_connection
        if not isinstance(raw, sqlite3.Connection):
            return
        (unused,) = raw.execute("PRAGMA freelist_count").fetchone()
        (pages,) = raw.execute("PRAGMA page_count").fetchone()
        if unused * 4 > pages:
            with suppress(sqlite3.OperationalError):  # the disk may be too full for it
                raw.execute("VACUUM")


def _check(path: Path, connection: Connection) -> None:
    """Raise DamagedFileError where rows refer to rows that are not there."""
    broken = connection.exec_driver_sql("PRAGMA foreign_key_check").fetchall()
    if broken:
        tables = ", ".join(sorted({row[0] for row in broken}))
        raise DamagedFileError(
            f"{path} has rows in {tables} that refer to missing rows, so it was not "
            "brought up to date. Nothing was changed. Open it with the version of Sennight that "
            "saved it last, or open a backup."
        )

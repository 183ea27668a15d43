"""Writes the dump of a filled practice file of the newest schema: run it once for a release.

    python -m databases.make        (in the folder tests)

A dump that is there already is never written again: it is what users have.
"""

from __future__ import annotations

import sqlite3
import sys
import tempfile
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

from sennight.practice.opening import open_practice
from sennight.store.migrating import newest_schema, own_scripts
from support.filled import fill

HERE = Path(__file__).resolve().parent
NEWEST = newest_schema(own_scripts())


def dump(path: Path) -> Iterator[str]:
    """The statements that make a practice file again, its header's mark included."""
    with closing(sqlite3.connect(path)) as connection:
        (application,) = connection.execute("PRAGMA application_id").fetchone()
        yield f"PRAGMA application_id = {application};"
        yield from connection.iterdump()


def restore(script: Path, path: Path) -> None:
    """A practice file from a dump."""
    with closing(sqlite3.connect(path)) as connection:
        connection.executescript(script.read_text(encoding="utf-8"))


def main() -> None:
    """Write the newest schema's dump."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "filled.sennight"
        with open_practice(path) as practice:
            fill(practice)
        with closing(sqlite3.connect(path)) as connection:
            (version,) = connection.execute("SELECT version_num FROM alembic_version").fetchone()
        target = HERE / f"{version}.sql"
        if target.exists():
            sys.exit(f"{target} is there already and stays as it is")
        target.write_text("\n".join(dump(path)) + "\n", encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()

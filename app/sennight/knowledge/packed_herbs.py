"""The records of herbs in a form that is read fast: one line a record, in `herbs.packed`.

The TOML files stay the only truth. A line holds what one file says, and is found by the digest of
that file's bytes: where a file was changed since, its line is no longer found, and the file itself
is read. So a line that is out of date, or missing, costs time and nothing else.
"""

from __future__ import annotations

import hashlib
import json
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any, NamedTuple

from sennight.domain.herbs.naming import Heading
from sennight.toml_tables import exact

NAME = "herbs.packed"
_COLUMNS = 3


class Packed(NamedTuple):
    """A record's heading and the whole of it, as JSON."""

    heading: str
    record: str

    def read_heading(self) -> Heading:
        """What the herb is called."""
        herb_id, name, latin, drug_name, also_called = json.loads(self.heading)
        return Heading(herb_id, name, latin, drug_name, tuple(also_called))

    def read_record(self) -> dict[str, Any]:
        """What the file says, with numbers as exact as in the file."""
        data: dict[str, Any] = json.loads(self.record, parse_float=exact)
        return data


def digest(data: bytes) -> str:
    """What a file's line is found by."""
    return hashlib.sha256(data).hexdigest()


def read_packed(folder: Path) -> Mapping[str, Packed]:
    """The lines by digest; none where the file is missing or damaged, since all can go without."""
    try:
        lines = (folder / NAME).read_text(encoding="utf-8").splitlines()
    except (OSError, UnicodeDecodeError):
        return {}
    cells = (line.split("\t") for line in lines)
    return {row[0]: Packed(row[1], row[2]) for row in cells if len(row) == _COLUMNS}


def record_files(folder: Path) -> list[Path]:
    """The files of a folder's records: herbs, and substances of bought-in products."""
    return [
        path for kind in ("herbs", "substances") for path in sorted(folder.glob(f"{kind}/*.toml"))
    ]


def packed_text(folder: Path) -> str:
    """The text of `herbs.packed` for the records of a folder."""
    return "".join(f"{_line(path)}\n" for path in record_files(folder))


def _line(path: Path) -> str:
    data = path.read_bytes()
    herb = tomllib.loads(data.decode("utf-8"))  # up to 15 digits are written again as they stand
    names = [herb[key] for key in ("id", "name", "latin", "drug_name")]
    heading = [*names, herb.get("also_called", [])]
    return "\t".join((digest(data), _json(heading), _json(herb)))


def _json(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"))

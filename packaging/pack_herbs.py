"""Writes the herbs' records in the form that is read fast. To be run when a record was changed."""

from __future__ import annotations

from sennight.knowledge.packed_herbs import NAME, packed_text
from sennight.places import own_folder


def main() -> None:
    """Write the file anew."""
    folder = own_folder("resources") / "materia_medica"
    (folder / NAME).write_text(packed_text(folder), encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()

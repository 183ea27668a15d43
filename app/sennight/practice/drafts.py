"""Drafts: what was typed into a form is kept in the practice file until it is saved or given up.

They lie in the file itself, so that they are as private as the records that they will become. A
form is known by a word of its own (its kind) and the record that it is about (its subject).
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple, TypeAlias

from sennight.practice.opening import OpenPractice
from sennight.store.entries import Draft

__all__ = [
    "Draft",
    "DraftKey",
    "Json",
    "Typed",
    "draft_of",
    "drop_draft",
    "keep_draft",
    "list_drafts",
    "typed_in",
]

Json: TypeAlias = "str | int | bool | list[Json] | dict[str, Json] | None"
"""What a field holds, in JSON's terms."""

Fields: TypeAlias = Mapping[str, Json]
"""What the fields of a form hold, by their names."""


class DraftKey(NamedTuple):
    """Which form, and the id of the record that it is about, empty for a new one."""

    kind: str
    subject: str = ""


@dataclass(frozen=True, slots=True)
class Typed:
    """The fields that were typed into, as they are and as the form showed them at first.

    What the form showed is kept as well, so that a record that was changed meanwhile is not
    silently changed back.
    """

    fields: dict[str, Json]
    before: dict[str, Json]

    @classmethod
    def since(cls, before: Fields, now: Fields) -> Typed:
        """What differs now from how a form began."""
        changed = [name for name, value in now.items() if value != before.get(name)]
        return cls({name: now[name] for name in changed}, {n: before.get(n) for n in changed})

    def __bool__(self) -> bool:
        """Whether anything was typed."""
        return bool(self.fields)


def keep_draft(practice: OpenPractice, key: DraftKey, typed: Typed, *, title: str) -> None:
    """Keep what was typed, in the place of what was kept before; raises PracticeFileError.

    `title` is what a list calls it. It takes one write to the disk, some milliseconds.
    """
    content = json.dumps({"fields": typed.fields, "before": typed.before})
    with practice.file.noting() as unit:
        unit.drafts.put(Draft(*key, title, practice.file.clock(), content))


def draft_of(practice: OpenPractice, key: DraftKey) -> Draft | None:
    """What was typed into a form and not saved; None where there is nothing."""
    with practice.file.reading() as unit:
        return unit.drafts.get(*key)


def list_drafts(practice: OpenPractice) -> tuple[Draft, ...]:
    """All that was typed and not saved, the newest first."""
    with practice.file.reading() as unit:
        return unit.drafts.all()


def drop_draft(practice: OpenPractice, key: DraftKey) -> None:
    """Forget what was typed, since it is saved or was given up; raises PracticeFileError."""
    with practice.file.noting() as unit:
        unit.drafts.drop(*key)


def typed_in(draft: Draft) -> Typed:
    """The fields of a draft; one that this program cannot read has none."""
    try:
        content = json.loads(draft.content)
        return Typed(dict(content["fields"]), dict(content["before"]))
    except (ValueError, LookupError, TypeError):
        return Typed({}, {})

"""What was typed is kept until it is saved or given up, and keeping it is no save."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sennight.domain.remedies.remedies import Remedy
from sennight.practice.drafts import (
    DraftKey,
    Json,
    Typed,
    draft_of,
    drop_draft,
    keep_draft,
    list_drafts,
    typed_in,
)
from sennight.practice.formula_drafts import formula_from_json, formula_to_json
from sennight.practice.opening import OpenPractice, open_practice
from support.draws import draws
from support.strategies import remedies

KEY = DraftKey("client", "c1")


@pytest.fixture
def practice(tmp_path: Path) -> OpenPractice:
    return open_practice(
        tmp_path / "p.sennight", clock=lambda: datetime(2027, 1, 4, 9, tzinfo=UTC)
    )


def test_the_last_words_of_each_form_are_kept(practice: OpenPractice) -> None:
    with practice:
        for name in ("Un", "Una", "Una Example"):
            keep_draft(practice, KEY, Typed({"Name": name}, {"Name": ""}), title="Change client")
        keep_draft(practice, DraftKey("client"), Typed({"Name": "Bo"}, {}), title="New client")
        draft = draft_of(practice, KEY)
        assert draft is not None
        assert (draft.title, typed_in(draft).fields) == ("Change client", {"Name": "Una Example"})
        assert {entry.title for entry in list_drafts(practice)} == {"Change client", "New client"}
        drop_draft(practice, KEY)
        drop_draft(practice, KEY)
        assert draft_of(practice, KEY) is None
        assert [entry.title for entry in list_drafts(practice)] == ["New client"]


def test_a_draft_is_no_save(practice: OpenPractice) -> None:
    """What was read before has not become old by it, and no backup is due for it."""
    with practice:
        practice.file.back_up()
        keep_draft(practice, KEY, Typed({"Name": "U"}, {}), title="Change client")
        assert practice.changes == 0
        assert not practice.file.changed_since_backup()


def test_only_what_was_typed_into_is_a_draft() -> None:
    before: dict[str, Json] = {"Name": "Una", "Born": "", "asked": False}
    now: dict[str, Json] = {"Name": "Una", "Born": "1 May", "asked": False, "new": ["a"]}
    typed = Typed.since(before, now)
    assert typed == Typed({"Born": "1 May", "new": ["a"]}, {"Born": "", "new": None})
    assert typed
    assert not Typed.since(before, dict(before))


JSON = st.recursive(
    st.text() | st.integers() | st.booleans() | st.none(),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(), inner, max_size=3),
    max_leaves=8,
)


def test_any_words_come_back_as_they_were_typed(practice: OpenPractice) -> None:
    @settings(max_examples=draws(20))
    @given(st.dictionaries(st.text(), JSON, min_size=1, max_size=4))
    def come_back(fields: dict[str, Json]) -> None:
        keep_draft(practice, KEY, Typed(fields, {}), title="t")
        draft = draft_of(practice, KEY)
        assert draft is not None
        assert typed_in(draft).fields == fields

    with practice:
        come_back()


@settings(max_examples=draws(20))
@given(remedies())
def test_a_formula_comes_back_whole(remedy: Remedy) -> None:
    assert formula_from_json(formula_to_json(remedy, "a note")) == (remedy, "a note")


@pytest.mark.parametrize("content", ["", "[]", "{}", '{"fields": 1, "before": {}}', "{"])
def test_a_draft_that_cannot_be_read_is_empty(practice: OpenPractice, content: str) -> None:
    with practice:
        keep_draft(practice, KEY, Typed({"Name": "U"}, {}), title="t")
        with closing(sqlite3.connect(practice.path)) as connection, connection:
            connection.execute("UPDATE draft SET content = ?", (content,))
        draft = draft_of(practice, KEY)
        assert draft is not None
        assert not typed_in(draft)

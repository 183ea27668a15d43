"""Reactions and checks for red flags come out as they went in, and stay with the client."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from uuid import uuid4

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sennight.domain.courses.clients import Client, Reaction
from sennight.domain.safety.red_flags import RedFlagCheck
from sennight.store.entries import ClientEntry
from sennight.store.files import PracticeFile, open_file
from support.filled import NOW
from support.strategies import CHECKS, CLIENTS, REACTIONS

few = settings(max_examples=15)


@pytest.fixture(scope="module")
def file(tmp_path_factory: pytest.TempPathFactory) -> Iterator[PracticeFile]:
    opened = open_file(tmp_path_factory.mktemp("reactions") / "practice.sennight")
    yield opened
    opened.close()


@few
@given(CLIENTS, st.lists(REACTIONS, min_size=1, max_size=3))
def test_reactions_stay_whatever_the_record_says(
    file: PracticeFile, client: Client, reactions: list[Reaction]
) -> None:
    entry = ClientEntry(uuid4().hex, client)
    with file.writing() as unit:
        unit.clients.save(entry, saved=NOW)
        for one in reactions:
            unit.reactions.add(entry.id, one, course_id=None, recorded=NOW)
        unit.clients.save(replace(entry, note="changed"), saved=NOW)
    with file.reading() as unit:
        kept = unit.clients.get(entry.id)
        assert kept.note == "changed"
        assert kept.client == replace(client, reactions=tuple(reactions))
        versions = [one.client.reactions for _, one in unit.clients.versions(entry.id)]
        assert versions == [tuple(reactions)] * 2


@few
@given(CLIENTS, st.lists(CHECKS, max_size=3))
def test_checks(file: PracticeFile, client: Client, checks: list[RedFlagCheck]) -> None:
    entry = ClientEntry(uuid4().hex, client)
    with file.writing() as unit:
        unit.clients.save(entry, saved=NOW)
        for one in checks:
            unit.red_flags.add(entry.id, one, recorded=NOW)
    with file.reading() as unit:
        assert unit.red_flags.of_client(entry.id) == tuple(checks)

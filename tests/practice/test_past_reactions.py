"""Reactions that a client tells of: kept for good, and met by every course."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from sennight.domain.courses.clients import Client, Harm, Outcome
from sennight.practice.clients import (
    ClientEntry,
    add_client,
    change_client,
    client_entry,
    list_clients,
)
from sennight.practice.opening import OpenPractice
from sennight.practice.reactions import Reaction, strike_out_reaction
from support.sample_practice import NOW

REACTION = Reaction(
    date(2019, 5, 1), "a tea", ("chamomile",), "Sneezing", Harm.MILD, Outcome.STOPPED
)


def test_a_new_client_comes_with_what_they_tell_of(practice: OpenPractice) -> None:
    client = add_client(practice, Client("Oskar Teale", reactions=(REACTION,)))
    assert client_entry(practice, client).client.reactions == (REACTION,)


def test_more_is_recorded_later_and_nothing_goes(practice: OpenPractice) -> None:
    client = add_client(practice, Client("Oskar Teale", reactions=(REACTION,)))
    later = Reaction(date(2020, 5, 1), "drops", ("sage",), "A rash")
    change_client(practice, client_entry(practice, client), (later,))
    assert client_entry(practice, client).client.reactions == (REACTION, later)


def test_what_was_written_down_in_error_stays_and_nothing_follows(practice: OpenPractice) -> None:
    client = add_client(practice, Client("Oskar Teale", reactions=(REACTION,)))
    on = date(2027, 1, 5)
    with pytest.raises(ValueError, match="expected why"):
        strike_out_reaction(practice, client, 0, why=" ", on=on, now=NOW)
    strike_out_reaction(practice, client, 0, why="another client's", on=on, now=NOW)
    struck = replace(REACTION, void="another client's", void_on=on)
    kept = client_entry(practice, client).client
    assert (kept.reactions, kept.standing_reactions) == ((struck,), ())
    with pytest.raises(ValueError, match="struck out before"):
        strike_out_reaction(practice, client, 0, why="again", on=on, now=NOW)


def test_where_one_is_wrong_nothing_is_kept(
    practice: OpenPractice,
) -> None:
    client = add_client(practice, Client("Oskar Teale"))
    nothing = Reaction(date(2020, 5, 1), "drops", (), "A rash")
    with pytest.raises(ValueError, match="needs the herbs"):
        change_client(practice, ClientEntry(client, Client("Oskar Renamed")), (REACTION, nothing))
    assert client_entry(practice, client).client == Client("Oskar Teale")
    with pytest.raises(ValueError, match="needs the herbs"):
        add_client(practice, Client("Bram Example", reactions=(nothing,)))
    assert len(list_clients(practice)) == 1

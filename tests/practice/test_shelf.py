"""The card, clients, and the shelf of remedies and protocols."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sennight.domain.courses.clients import Client
from sennight.domain.courses.protocols import Ceiling, Protocol
from sennight.domain.practices import PracticeCard
from sennight.domain.remedies.remedies import Remedy
from sennight.practice.card import change_practice_card, practice_card
from sennight.practice.clients import (
    ClientEntry,
    add_client,
    change_client,
    client_entry,
    client_history,
    list_clients,
)
from sennight.practice.opening import MissingRecordError, OpenPractice
from sennight.practice.protocols import (
    ProtocolError,
    add_protocol,
    change_protocol,
    list_protocols,
    protocol_history,
    shelf_protocol,
)
from sennight.practice.remedies import list_remedies, remedy_history, save_remedy, shelf_remedy
from support.samples import line, phase, remedy


def test_a_new_practice_has_an_empty_card(practice: OpenPractice) -> None:
    assert practice_card(practice) == PracticeCard("")
    card = PracticeCard("The Weld Rooms", address=("2 Madder Row", "", "Testford"))
    change_practice_card(practice, card)
    assert practice_card(practice) == card


def test_clients_by_name_archived_ones_apart(practice: OpenPractice) -> None:
    for name in ("bram", "Ärla", "Cleo", "Arlo"):
        add_client(practice, Client(name))
    cleo = list_clients(practice)[2]
    assert cleo.client.name == "Cleo"
    change_client(practice, replace(cleo, archived=True))
    assert [e.client.name for e in list_clients(practice)] == ["Arlo", "bram", "Ärla"]
    assert list_clients(practice, archived=True) == (replace(cleo, archived=True),)


def test_a_changed_client_keeps_what_was_known_before(
    practice: OpenPractice, client_id: str
) -> None:
    before = client_entry(practice, client_id)
    assert before == ClientEntry(client_id, Client("Una Example"), "01632 960002")
    after = replace(before, note="prefers mornings")
    change_client(practice, after)
    change_client(practice, after)
    assert [entry for _, entry in client_history(practice, client_id)] == [before, after]
    times = [when for when, _ in client_history(practice, client_id)]
    assert times == sorted(times)


def test_a_client_that_is_not_there_cannot_be_changed(practice: OpenPractice) -> None:
    with pytest.raises(MissingRecordError, match="no client with the id “x”"):
        change_client(practice, ClientEntry("x", Client("Una Example")))
    assert list_clients(practice) == ()


def test_a_saved_remedy_is_a_new_version_and_keeps_its_note(practice: OpenPractice) -> None:
    first = save_remedy(practice, remedy("t1"), note="dry well")
    assert save_remedy(practice, remedy("t1")) == first
    second = save_remedy(practice, replace(remedy("t1"), name="Other"))
    assert (second.version, second.note) == (2, "dry well")
    assert save_remedy(practice, second.remedy, note="").note == ""
    assert shelf_remedy(practice, "t1").version == 3
    assert [one.version for one in remedy_history(practice, "t1")] == [1, 2, 3]
    assert remedy_history(practice, "t1")[0] == first
    assert [one.remedy.name for one in list_remedies(practice)] == ["Other"]


def protocol(*remedies: str) -> Protocol:
    return Protocol("New", (phase("one", "6 w", *(line(one, "1 cup od") for one in remedies)),))


def test_adding_a_protocol_never_changes_a_remedy_on_the_shelf(practice: OpenPractice) -> None:
    save_remedy(practice, remedy("t1"))
    save_remedy(practice, remedy("t2"))
    given = (remedy("t1"), replace(remedy("t2"), name="Another formula"), remedy("t3"))
    bounded = replace(protocol("t1", "t2"), ceilings=(Ceiling(("t2", "t3"), 4),))
    added = shelf_protocol(practice, add_protocol(practice, bounded, remedies=given))
    assert shelf_remedy(practice, "t2").remedy == remedy("t2")
    assert shelf_remedy(practice, "t1").version == 1
    assert [one.name for one in added.remedies] == ["Remedy t1", "Another formula", "Remedy t3"]
    new_id = added.remedies[1].id
    assert [one.remedy for one in added.protocol.phases[0].lines] == ["t1", new_id]
    assert new_id != "t2"
    assert added.protocol.ceilings == (Ceiling((new_id, "t3"), 4),)


def test_a_changed_protocol_has_the_remedies_of_the_shelf(
    practice: OpenPractice, protocol_id: str
) -> None:
    shelf = shelf_protocol(practice, protocol_id)
    newer: Remedy = replace(remedy("t1"), name="Newer on the shelf")
    save_remedy(practice, newer)
    phases = (*shelf.protocol.phases, phase("last", None, line("t4", "1 cup od")))
    changed = replace(
        shelf,
        protocol=replace(shelf.protocol, phases=phases),
        remedies=(*shelf.remedies, remedy("t4")),
        note="longer",
    )
    change_protocol(practice, changed)
    found = shelf_protocol(practice, protocol_id)
    assert (found.protocol, found.note) == (changed.protocol, "longer")
    assert found.remedies == (newer, remedy("t2"), remedy("t3"), remedy("t4"))
    assert list_protocols(practice) == (found,)
    versions = [one for _, one in protocol_history(practice, protocol_id)]
    assert versions == [shelf.protocol, changed.protocol]


@pytest.mark.parametrize(
    ("wrong", "message"),
    [
        (protocol("t9"), "phase “one” has a line for remedy “t9”.*expected one of t1, t2"),
        (protocol("t1", "t1"), "phase “one” has 2 times a line for remedy “t1”"),
        (
            Protocol("Twice", (phase("one", "1 w"), phase("one", "1 w"))),
            "protocol “Twice” has 2 times a phase “one”",
        ),
        (
            replace(protocol("t1"), ceilings=(Ceiling(("t1", "t9"), 2),)),
            "a ceiling names a remedy that the protocol does not have",
        ),
    ],
)
def test_a_protocol_that_cannot_be_kept_is_refused_whole(
    practice: OpenPractice, wrong: Protocol, message: str
) -> None:
    with pytest.raises(ProtocolError, match=message):
        add_protocol(practice, wrong, remedies=(remedy("t1"), remedy("t2")))
    assert list_protocols(practice) == ()
    assert list_remedies(practice) == ()


def test_a_protocol_that_is_not_there_cannot_be_changed(
    practice: OpenPractice, protocol_id: str
) -> None:
    shelf = shelf_protocol(practice, protocol_id)
    with pytest.raises(MissingRecordError, match="no protocol with the id “x”"):
        change_protocol(practice, replace(shelf, id="x", remedies=(*shelf.remedies, remedy("t9"))))
    assert len(list_remedies(practice)) == 3

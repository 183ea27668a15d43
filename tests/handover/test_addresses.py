from __future__ import annotations

import socket

import pytest

from sennight.handover.addresses import own_addresses


def entry(address: str) -> tuple[object, ...]:
    return (socket.AF_INET, socket.SOCK_STREAM, 6, "", (address, 0))


def test_private_addresses_alone_each_once(monkeypatch: pytest.MonkeyPatch) -> None:
    found = ["192.168.1.20", "127.0.1.1", "10.0.0.5", "203.0.113.9", "169.254.1.1", "10.0.0.5"]
    monkeypatch.setattr(socket, "getaddrinfo", lambda *_: [entry(address) for address in found])
    addresses = own_addresses()
    assert [a for a in addresses if a in found] == ["192.168.1.20", "10.0.0.5"]


def test_without_a_network_there_are_none(monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(*_: object) -> None:
        raise OSError("no network")

    monkeypatch.setattr(socket, "getaddrinfo", fail)
    monkeypatch.setattr(socket.socket, "connect", fail)
    assert own_addresses() == ()

"""This machine's addresses on the networks that it is in."""

from __future__ import annotations

import socket
from ipaddress import IPv4Address, IPv4Network

_ELSEWHERE = ("192.0.2.1", 9)
"""An address for documentation (RFC 5737): asked for a way to it, no packet is sent."""
_OWN_NETWORKS = tuple(map(IPv4Network, ("10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16")))
"""RFC 1918."""


def own_addresses() -> tuple[str, ...]:
    """Its private IPv4 addresses, the one that goes out first; empty without a network."""
    candidates = [*_towards(), *_by_name()]
    return tuple(dict.fromkeys(address for address in candidates if _is_own_network(address)))


def _towards() -> list[str]:
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(_ELSEWHERE)
        except OSError:
            return []
        return [str(probe.getsockname()[0])]


def _by_name() -> list[str]:
    try:
        answers = socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET)
    except OSError:
        return []
    return [str(entry[4][0]) for entry in answers]


def _is_own_network(address: str) -> bool:
    """Whether it is one of a home or a practice, where a phone beside it is too."""
    return any(IPv4Address(address) in network for network in _OWN_NETWORKS)

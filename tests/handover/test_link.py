"""The link from outside: on loopback, by plain sockets and by another process."""

from __future__ import annotations

import socket
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from datetime import timedelta

import pytest

from sennight.handover import link as link_module
from sennight.handover.link import HandOverError, Link, LinkState, ServedFile

FILE = ServedFile("reminders.ics", "text/calendar; charset=utf-8", b"BEGIN:VCALENDAR\r\n" * 50_000)
LOOPBACK = "127.0.0.1"


@pytest.fixture
def link() -> Iterator[Link]:
    with Link(FILE, LOOPBACK) as opened:
        yield opened


def ask(link: Link, data: bytes, *, wait: float = 10) -> bytes:
    """All that comes back for these bytes."""
    with socket.create_connection((link.address, link.port), timeout=wait) as connection:
        connection.sendall(data)
        answer = b""
        while piece := connection.recv(65536):
            answer += piece
    return answer


def path(link: Link) -> str:
    return "/" + link.url.rsplit("/", 1)[1]


def get(target: str, method: str = "GET") -> bytes:
    return f"{method} {target} HTTP/1.1\r\nHost: x\r\n\r\n".encode()


def settled(link: Link, state: LinkState) -> bool:
    """Whether it comes to that state, and its port is closed, within some seconds."""
    for _ in range(100):
        if link.state is state:
            try:
                socket.create_connection((link.address, link.port), timeout=1).close()
            except OSError:
                return True
        time.sleep(0.1)
    return False


FETCH = """
import sys, urllib.request
with urllib.request.urlopen(sys.argv[1], timeout=10) as answer:
    print(answer.status, answer.headers["Content-Type"], len(answer.read()))
"""


def test_another_process_gets_the_file_once(link: Link) -> None:
    command = [sys.executable, "-c", FETCH, link.url]
    done = subprocess.run(command, capture_output=True, text=True, check=False, timeout=60)
    assert done.stdout.strip() == f"200 {FILE.media_type} {len(FILE.content)}", done.stderr
    assert settled(link, LinkState.TAKEN)
    assert link.seconds_left == 0
    again = subprocess.run(command, capture_output=True, text=True, check=False, timeout=60)
    assert again.returncode != 0


def test_the_answer_is_whole_and_kept_by_nobody(link: Link) -> None:
    head, _, content = ask(link, get(path(link))).partition(b"\r\n\r\n")
    assert content == FILE.content
    assert head.startswith(b"HTTP/1.1 200 OK\r\n")
    for line in (b"Cache-Control: no-store", b"X-Content-Type-Options: nosniff"):
        assert line in head.split(b"\r\n")


def test_the_token_has_128_random_bits() -> None:
    with Link(FILE, LOOPBACK) as first, Link(FILE, LOOPBACK) as second:
        assert len(path(first)) == len("/") + 22  # 16 bytes in base 64
        assert path(first) != path(second)
        assert first.port != second.port


@pytest.mark.parametrize(
    "target",
    [
        *("/", "/reminders.ics", "*", "", "/../../../etc/passwd", "/{token}/", "/{token}?x=1"),
        *("{token}", "//{token}", "/..//{token}", "/%2e%2e/{token}", "http://x/{token}"),
        *("/{token}x", "/ {token}", "/{shorter}", "/{other}"),
    ],
)
def test_every_other_path_is_refused_alike(link: Link, target: str) -> None:
    token = path(link)[1:]
    names = {"token": token, "shorter": token[:-1], "other": "A" * len(token)}
    answer = ask(link, get(target.format_map(names)))
    assert answer == b"HTTP/1.1 404 Not Found\r\nContent-Length: 0\r\nConnection: close\r\n\r\n"
    assert link.state is LinkState.OPEN


@pytest.mark.parametrize("method", ["HEAD", "POST", "PUT", "OPTIONS", "get", "PROPFIND"])
def test_every_other_method_is_refused(link: Link, method: str) -> None:
    assert ask(link, get(path(link), method)).startswith(b"HTTP/1.1 404 ")
    assert link.state is LinkState.OPEN


@pytest.mark.parametrize(
    "data", [b"\r\n\r\n", b"\x00\xff\r\n\r\n", b"GET\r\n\r\n", b"GET / FTP\r\n\r\n"]
)
def test_what_is_no_request_is_refused(link: Link, data: bytes) -> None:
    assert ask(link, data).startswith(b"HTTP/1.1 404 ")


def test_a_big_request_is_cut_off(link: Link) -> None:
    huge = get(path(link))[:-2] + b"X: " + b"y" * 100_000 + b"\r\n\r\n"
    try:
        answer = ask(link, huge)
    except ConnectionError:
        answer = b""
    assert answer == b""
    assert link.state is LinkState.OPEN


def test_slow_and_silent_clients_are_cut_off_and_keep_nobody_out(
    link: Link, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(link_module, "REQUEST_SECONDS", 0.5)
    silent = [socket.create_connection((link.address, link.port)) for _ in range(3)]
    began = time.monotonic()
    slow = socket.create_connection((link.address, link.port), timeout=10)
    slow.sendall(b"GET /")
    assert slow.recv(100) == b""
    assert time.monotonic() - began < 5
    assert ask(link, get(path(link))).endswith(FILE.content[-20:])
    for connection in (*silent, slow):
        connection.close()


def test_more_connections_than_it_answers_at_once_are_dropped(link: Link) -> None:
    many = [socket.create_connection((link.address, link.port)) for _ in range(30)]
    time.sleep(1)
    for connection in many:
        connection.close()
    time.sleep(1)
    assert ask(link, get(path(link))).endswith(FILE.content[-20:])


def test_two_phones_at_once_get_it_once(link: Link) -> None:
    answers: list[bytes] = []

    def fetch() -> None:
        try:
            answers.append(ask(link, get(path(link))))
        except OSError:
            answers.append(b"")

    phones = [threading.Thread(target=fetch) for _ in range(4)]
    for phone in phones:
        phone.start()
    for phone in phones:
        phone.join()
    assert [answer.startswith(b"HTTP/1.1 200") for answer in answers].count(True) == 1


def test_a_phone_that_went_away_can_come_back(link: Link) -> None:
    with socket.create_connection((link.address, link.port)) as gone:
        gone.sendall(get(path(link))[:20])
    assert link.state is LinkState.OPEN
    assert ask(link, get(path(link))).endswith(FILE.content[-20:])


def test_it_closes_by_itself_and_when_it_is_told_to() -> None:
    short = Link(FILE, LOOPBACK, lifetime=timedelta(seconds=0.5))
    assert settled(short, LinkState.EXPIRED)
    closed = Link(FILE, LOOPBACK)
    assert 590 <= closed.seconds_left <= 600
    closed.close()
    closed.close()
    assert settled(closed, LinkState.CLOSED)
    assert Link(FILE, LOOPBACK, lifetime=timedelta(days=1)).seconds_left <= 600


def test_it_listens_on_the_one_address_alone(link: Link) -> None:
    assert link.url.startswith(f"http://{LOOPBACK}:{link.port}/")
    with pytest.raises(ConnectionRefusedError):
        socket.create_connection(("127.0.0.2", link.port), timeout=2)


def test_an_address_that_is_not_this_machine_s_is_told() -> None:
    with pytest.raises(HandOverError, match=r"no link can be opened on 192\.0\.2\.7"):
        Link(FILE, "192.0.2.7")


def test_nothing_is_printed_or_logged(
    link: Link, capfd: pytest.CaptureFixture[str], caplog: pytest.LogCaptureFixture
) -> None:
    ask(link, get("/x"))
    ask(link, get(path(link)))
    assert (capfd.readouterr(), caplog.records) == (("", ""), [])


def test_closing_does_not_wait_for_a_phone_that_takes_the_file_slowly() -> None:
    """The window closes its link itself, and would stand still as long as that lasts."""
    large = ServedFile("reminders.ics", FILE.media_type, bytes(30_000_000))
    with Link(large, LOOPBACK) as link:
        with socket.create_connection((link.address, link.port), timeout=10) as phone:
            phone.sendall(get(path(link)))
            assert phone.recv(1)
            began = time.monotonic()
            link.close()
            assert time.monotonic() - began < 5
        assert link.state is LinkState.CLOSED

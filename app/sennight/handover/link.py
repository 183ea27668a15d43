"""A link that serves one file once.

It listens on one address of this machine and one port, knows one path with 128 random bits in it,
and closes when the file has been taken, after ten minutes, or when it is told to. It keeps no
record of who asked for what: a client's address is nobody's business.
"""

from __future__ import annotations

import secrets
import socket
import threading
import time
from dataclasses import dataclass
from datetime import timedelta
from enum import Enum
from hmac import compare_digest

LIFETIME = timedelta(minutes=10)
"""How long a link can be used at most: time enough for a phone to be found and unlocked."""
REQUEST_SECONDS = 5.0
"""How long one request may take to arrive."""
ANSWER_SECONDS = 30.0
"""How long the file may take to go over a slow network."""
LARGEST_REQUEST = 8192
"""Bytes; a phone's browser sends some hundreds."""
MOST_AT_ONCE = 8
"""Connections that are answered side by side; browsers open a spare one or two."""
TOKEN_BYTES = 16
"""128 bits."""
_END = b"\r\n\r\n"
_TICK = 0.2
"""Seconds between two looks at whether the link should close."""


class HandOverError(Exception):
    """A link that cannot be opened; the message says why and what to do."""


class LinkState(Enum):
    """Whether a link can still be used, and if not, why."""

    OPEN = "open"
    TAKEN = "taken"
    EXPIRED = "expired"
    CLOSED = "closed"


@dataclass(frozen=True, slots=True)
class ServedFile:
    """What a link serves: a name, a media type and the bytes."""

    name: str
    media_type: str
    content: bytes


class Link:
    """Serves a file once; as a context manager it closes behind itself.

    `address` is one of this machine's IPv4 addresses; port 0 takes any that is free. Raises
    HandOverError where it cannot listen there.
    """

    def __init__(
        self, file: ServedFile, address: str, *, port: int = 0, lifetime: timedelta = LIFETIME
    ) -> None:
        self._file = file
        self._token = secrets.token_urlsafe(TOKEN_BYTES)
        self._lock, self._serving = threading.Lock(), threading.Lock()
        self._state = LinkState.OPEN
        self._slots = threading.BoundedSemaphore(MOST_AT_ONCE)
        self._ends = time.monotonic() + min(lifetime, LIFETIME).total_seconds()
        try:
            self._listener = socket.create_server((address, port), backlog=MOST_AT_ONCE)
        except OSError as error:
            why = (error.strerror or str(error)).lower()
            raise HandOverError(
                f"no link can be opened on {address} ({why}); choose another address, or give "
                "the file in another way"
            ) from error
        self._listener.settimeout(_TICK)
        self.address, self.port = self._listener.getsockname()[:2]
        self._thread = threading.Thread(target=self._listen, name="hand-over", daemon=True)
        self._thread.start()

    @property
    def url(self) -> str:
        """The whole link, which is secret."""
        return f"http://{self.address}:{self.port}/{self._token}"

    @property
    def state(self) -> LinkState:
        """Whether it can still be used."""
        return self._state

    @property
    def seconds_left(self) -> int:
        """How long it can still be used, 0 once it is closed."""
        if self._state is not LinkState.OPEN:
            return 0
        return max(0, round(self._ends - time.monotonic()))

    def close(self) -> None:
        """Close it; nothing happens where it is closed already."""
        self._finish(LinkState.CLOSED)
        self._thread.join()

    def __enter__(self) -> Link:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def _finish(self, state: LinkState) -> None:
        with self._lock:
            if self._state is LinkState.OPEN:
                self._state = state

    def _listen(self) -> None:
        with self._listener:
            while self._state is LinkState.OPEN:
                if time.monotonic() >= self._ends and not self._serving.locked():
                    self._finish(LinkState.EXPIRED)
                    return
                try:
                    connection, _ = self._listener.accept()
                except OSError:
                    continue
                if not self._slots.acquire(blocking=False):
                    connection.close()
                    continue
                threading.Thread(target=self._answer, args=(connection,), daemon=True).start()

    def _answer(self, connection: socket.socket) -> None:
        try:
            with connection:
                request = _read_head(connection, time.monotonic() + REQUEST_SECONDS)
                if request is not None:
                    self._respond(connection, request)
        except OSError:
            return  # a phone that went away: the link stays open for it
        finally:
            self._slots.release()

    def _respond(self, connection: socket.socket, request: bytes) -> None:
        if not self._is_right(request):
            _send(connection, _refusal())
            return
        with self._serving:  # a lock of its own: closing must not wait for a slow network
            if self._state is not LinkState.OPEN:
                _send(connection, _refusal())
                return
            _send(connection, _answer_with(self._file))
            with self._lock:  # also where it was closed meanwhile: the phone has the file
                self._state = LinkState.TAKEN

    def _is_right(self, request: bytes) -> bool:
        """Whether the first line asks for the one path, compared in constant time."""
        method, _, rest = request.partition(b"\r\n")[0].partition(b" ")
        path, _, version = rest.partition(b" ")
        wanted = f"/{self._token}".encode()
        return method == b"GET" and version.startswith(b"HTTP/1.") and compare_digest(path, wanted)


def _read_head(connection: socket.socket, limit: float) -> bytes | None:
    """A request's lines up to the empty one; None where they are too many or come too slowly."""
    head = b""
    while _END not in head:
        left = limit - time.monotonic()
        if left <= 0 or len(head) > LARGEST_REQUEST:
            return None
        connection.settimeout(left)
        piece = connection.recv(LARGEST_REQUEST)
        if not piece:
            return None
        head += piece
    return head if len(head) <= LARGEST_REQUEST else None


def _send(connection: socket.socket, data: bytes) -> None:
    """Send all of it; raises OSError where it is not taken in time."""
    connection.settimeout(ANSWER_SECONDS)
    connection.sendall(data)
    connection.shutdown(socket.SHUT_WR)


def _answer_with(file: ServedFile) -> bytes:
    head = (
        "HTTP/1.1 200 OK",
        f"Content-Type: {file.media_type}",
        f'Content-Disposition: inline; filename="{file.name}"',
        f"Content-Length: {len(file.content)}",
        "Cache-Control: no-store",
        "Referrer-Policy: no-referrer",
        "X-Content-Type-Options: nosniff",
        "Connection: close",
    )
    return "\r\n".join(head).encode() + _END + file.content


def _refusal() -> bytes:
    """The same for whatever is wrong, so that nothing can be learnt from it."""
    return b"HTTP/1.1 404 Not Found\r\nContent-Length: 0\r\nConnection: close" + _END

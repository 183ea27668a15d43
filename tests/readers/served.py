"""A real calendar server: the files' events are put into it one by one, as a phone does.

Radicale keeps a collection as a folder with a file an event, which khal reads as it is.
"""

from __future__ import annotations

import re
import socket
import subprocess
import sys
import time
from base64 import b64encode
from collections.abc import Iterator
from contextlib import contextmanager
from http.client import HTTPConnection
from pathlib import Path

USER, CALENDAR = "client", "plan"
FROM_SERVER = 20.0
"""Seconds until the server has to answer."""


class Server:
    """One calendar on a running server."""

    def __init__(self, port: int, folder: Path) -> None:
        self.port, self.folder = port, folder

    def ask(self, method: str, path: str, body: bytes = b"") -> bytes:
        connection = HTTPConnection("127.0.0.1", self.port, timeout=FROM_SERVER)
        headers = {"Authorization": "Basic " + b64encode(f"{USER}:".encode()).decode()}
        if method == "PUT":
            headers["Content-Type"] = "text/calendar"
        connection.request(method, path, body, headers)
        answer = connection.getresponse()
        content = answer.read()
        connection.close()
        assert answer.status < 300, (method, path, answer.status, content)
        return content

    def put(self, data: bytes) -> None:
        """Put each event of a file under its UID, in place of the one that is there."""
        text = data.decode()
        zones = "".join(re.findall(r"BEGIN:VTIMEZONE.*?END:VTIMEZONE\r\n", text, re.DOTALL))
        for event in re.findall(r"BEGIN:VEVENT.*?END:VEVENT\r\n", text, re.DOTALL):
            uid = re.search(r"UID:(\S+)", event)
            assert uid
            whole = (
                "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//test//EN\r\n"
                f"{zones}{event}END:VCALENDAR\r\n"
            )
            self.ask("PUT", f"/{USER}/{CALENDAR}/{uid[1]}.ics", whole.encode())

    def whole(self) -> bytes:
        """The calendar as the server gives it in one file."""
        return self.ask("GET", f"/{USER}/{CALENDAR}/")

    @property
    def events(self) -> Path:
        """The folder of its events."""
        return self.folder / "collection-root" / USER / CALENDAR


@contextmanager
def calendar_server(folder: Path) -> Iterator[Server]:
    """A server on the loopback alone, with an empty calendar; gone when the block ends."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    options = {
        "--server-hosts": f"127.0.0.1:{port}",
        "--auth-type": "none",
        "--rights-type": "owner_write",
        "--storage-filesystem-folder": str(folder),
        "--logging-level": "error",
    }
    command = [sys.executable, "-m", "radicale", "--config", ""]
    command += [part for option in options.items() for part in option]
    running = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    try:
        server = Server(port, folder)
        _wait_for(server)
        body = b'<?xml version="1.0"?><mkcalendar xmlns="urn:ietf:params:xml:ns:caldav"/>'
        server.ask("MKCALENDAR", f"/{USER}/{CALENDAR}/", body)
        yield server
    finally:
        running.terminate()
        running.wait(FROM_SERVER)


def _wait_for(server: Server) -> None:
    until = time.monotonic() + FROM_SERVER
    while True:
        try:
            server.ask("OPTIONS", "/")
        except OSError:
            if time.monotonic() > until:
                raise
            time.sleep(0.05)
        else:
            return

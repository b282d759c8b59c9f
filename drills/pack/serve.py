"""Serves a quiz folder from this machine, to a browser on it or to phones on the same network.

The files come from memory: nothing else of the machine can be asked for, by whatever path. The folder's
name is part of the address, as it is on a host, so that a browser does not take one quiz for another.
"""

from __future__ import annotations

import errno
import socket
import socketserver
import sys
from collections.abc import Mapping
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler
from io import BytesIO
from pathlib import PurePosixPath
from shutil import copyfileobj
from typing import Any, Final
from urllib.parse import quote

from drills.errors import DrillsError

USUAL_PORT: Final = 8642
THIS_MACHINE: Final = "127.0.0.1"

_TYPES: Final = {
    ".css": "text/css; charset=utf-8",
    ".html": "text/html; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".json": "application/json",
    ".png": "image/png",
    ".webmanifest": "application/manifest+json",
}
_ANYWHERE: Final = ("192.0.2.1", 9)  # an address that RFC 5737 keeps free; nothing is sent there
_PATIENCE_S: Final = 30
_PIECE_BYTES: Final = 1 << 16  # the patience is for each piece, so that a slow phone gets all of a large file


class QuizServer(socketserver.ThreadingTCPServer):
    """Answers requests for the files of one folder until it is stopped.

    Args:
        name: of the folder.
        files: contents by name; `index.html` answers for the folder.
        host: this machine's address on the network where the server is to be found.
        port: its door there; None takes the usual one, or any that is free.

    Raises:
        DrillsError: the port is taken, or closed to this user.
    """

    daemon_threads = True
    allow_reuse_address = sys.platform != "win32"  # there it would let two servers share a port

    def __init__(
        self, name: str, files: Mapping[str, bytes], *, host: str = THIS_MACHINE, port: int | None = None
    ) -> None:
        self.folder = f"/{quote(name, safe='')}/"
        self.files = {self.folder + file: data for file, data in files.items()}
        self.files[self.folder] = files["index.html"]
        try:
            super().__init__((host, USUAL_PORT if port is None else port), _Answer)
        except OSError as fault:
            if port is not None or fault.errno != errno.EADDRINUSE:
                raise _port_fault(fault, port) from fault
            super().__init__((host, 0), _Answer)

    @property
    def address(self) -> str:
        """Where a browser finds the page."""
        host, port = self.server_address[:2]
        return f"http://{host!s}:{port}{self.folder}"

    def handle_error(self, request: Any, client_address: Any) -> None:
        """Lets go of a browser that went away; any other fault is our own and is shown."""
        if not isinstance(sys.exception(), OSError):
            super().handle_error(request, client_address)


class _Answer(BaseHTTPRequestHandler):
    timeout = _PATIENCE_S
    server: QuizServer

    def do_GET(self) -> None:
        """Sends the file."""
        data = self._head()
        if data is not None:
            copyfileobj(BytesIO(data), self.wfile, _PIECE_BYTES)

    def do_HEAD(self) -> None:
        """Says what the file is."""
        self._head()

    def _head(self) -> bytes | None:
        path = self.path.partition("?")[0]
        if path == "/":
            self._begin(HTTPStatus.FOUND, {"Location": self.server.folder, "Content-Length": "0"})
            return None
        data = self.server.files.get(path)
        if data is None:
            self.send_error(HTTPStatus.NOT_FOUND)
            return None
        kind = _TYPES[PurePosixPath(path).suffix if path != self.server.folder else ".html"]
        self._begin(HTTPStatus.OK, {"Content-Type": kind, "Content-Length": str(len(data))})
        return data

    def _begin(self, status: HTTPStatus, headers: Mapping[str, str]) -> None:
        self.send_response(status)
        for name, value in headers.items():
            self.send_header(name, value)
        self.end_headers()

    def end_headers(self) -> None:
        """Adds what holds for every answer."""
        self.send_header("Cache-Control", "no-store")
        self.send_header("X-Content-Type-Options", "nosniff")
        super().end_headers()

    def version_string(self) -> str:
        """Who answers; not which versions it runs on."""
        return "drills"

    def log_message(self, *_: object) -> None:
        """Writes no log."""


def network_address() -> str:
    """This machine's address on the network that it is in.

    Raises:
        DrillsError: it is in none.
    """
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(_ANYWHERE)
        except OSError as fault:
            raise DrillsError(
                "this machine is in no network", where="--phones", mend="join the one that the phones are in"
            ) from fault
        return str(probe.getsockname()[0])


def _port_fault(fault: OSError, port: int | None) -> DrillsError:
    shown = USUAL_PORT if port is None else port
    what = "is taken" if fault.errno == errno.EADDRINUSE else f"cannot be used ({fault.strerror or fault})"
    return DrillsError(
        f"port {shown} {what}", where="--port", mend="name another, or leave --port out for one that is free"
    )

"""`drills serve`: a deck's page from this machine. Outside check: http.client asks for it."""

from __future__ import annotations

import errno
import json
import re
import signal
import socket
import socketserver
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from http.client import HTTPConnection, HTTPResponse
from pathlib import Path
from typing import TypeAlias
from urllib.parse import urlsplit

import pytest

from drills.errors import DrillsError
from drills.pack.page import Page, folder_files
from drills.pack.serve import THIS_MACHINE, USUAL_PORT, QuizServer, network_address

Run: TypeAlias = Callable[..., tuple[int, str, str]]
Ask: TypeAlias = Callable[..., HTTPResponse]

RECIPE = "weeks-01-02-one-layer"


@pytest.fixture(scope="module")
def files() -> dict[str, bytes]:
    """The files of a folder."""
    return folder_files(Page("week-03", "Riverside evening group", (), "{}"))


@pytest.fixture
def server(files: dict[str, bytes]) -> Iterator[QuizServer]:
    """A server on a port that is free, with a name that an address must write otherwise."""
    with QuizServer("week 03/ü", files, port=0) as server:
        threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.01}, daemon=True).start()
        yield server
        server.shutdown()


@pytest.fixture
def ask(server: QuizServer) -> Iterator[Ask]:
    """Asks for a path; the answer can be read."""
    connections: list[HTTPConnection] = []

    def request(path: str, method: str = "GET") -> HTTPResponse:
        connection = HTTPConnection(THIS_MACHINE, server.server_address[1], timeout=10)
        connections.append(connection)
        connection.request(method, path)
        return connection.getresponse()

    yield request
    for connection in connections:
        connection.close()


def test_every_file_comes_as_what_it_is(server: QuizServer, ask: Ask, files: dict[str, bytes]) -> None:
    """Byte for byte, with the type that browsers want, and none is kept for later."""
    types = {}
    for name, data in files.items():
        answer = ask(server.folder + name)
        assert (answer.status, answer.read()) == (200, data)
        assert answer.getheader("Cache-Control") == "no-store"
        assert answer.getheader("X-Content-Type-Options") == "nosniff"
        types[name.rpartition(".")[2]] = answer.getheader("Content-Type")
    assert types == {
        "css": "text/css; charset=utf-8",
        "html": "text/html; charset=utf-8",
        "js": "text/javascript; charset=utf-8",
        "json": "application/json",
        "png": "image/png",
        "webmanifest": "application/manifest+json",
    }


def test_the_address_leads_to_the_page(server: QuizServer, ask: Ask, files: dict[str, bytes]) -> None:
    """The folder's address gives its page, and the root leads to the folder."""
    parts = urlsplit(server.address)
    assert parts.path == "/week%2003%2F%C3%BC/"
    assert parts.port == server.server_address[1]
    page = ask(f"{parts.path}?x=1")
    assert (page.getheader("Content-Type"), page.read()) == ("text/html; charset=utf-8", files["index.html"])
    root = ask("/")
    assert (root.status, root.getheader("Location")) == (302, parts.path)


def test_the_head_is_that_of_the_file(server: QuizServer, ask: Ask, files: dict[str, bytes]) -> None:
    """Without the file itself."""
    head = ask(f"{server.folder}page.js", "HEAD")
    assert (head.status, head.read()) == (200, b"")
    assert head.getheader("Content-Length") == str(len(files["page.js"]))
    assert "Python" not in str(head.headers)


@pytest.mark.parametrize(
    "path",
    [
        "/week%2003%2F%C3%BC",
        "/week%2003%2F%C3%BC/gone.js",
        "/week%2003%2F%C3%BC/../index.html",
        "/week%2003%2F%C3%BC/%2e%2e/pyproject.toml",
        "/../../etc/passwd",
        "//etc/passwd",
        "/index.html",
        "/.",
        f"{Path(__file__).as_posix()}",
    ],
)
def test_there_is_nothing_else_to_be_had(ask: Ask, path: str) -> None:
    """No listing, no way up, no other file of the machine."""
    answer = ask(path)
    assert answer.status == 404
    assert b"import" not in answer.read()


def test_nothing_can_be_sent_to_it(server: QuizServer, ask: Ask) -> None:
    """It answers questions for files only."""
    assert ask(server.folder, "POST").status == 501


def test_a_browser_that_goes_away_is_no_fault(
    server: QuizServer, ask: Ask, capfd: pytest.CaptureFixture[str]
) -> None:
    """The next one is served, and nothing is printed."""
    with socket.create_connection((THIS_MACHINE, server.server_address[1])) as browser:
        browser.sendall(f"GET {server.folder}page.js HTTP/1.0\r\n\r\n".encode())
        browser.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, b"\1\0\0\0\0\0\0\0")  # slams the door
    assert ask(server.folder).status == 200
    assert capfd.readouterr() == ("", "")


def test_a_large_file_goes_out_in_pieces(
    files: dict[str, bytes], ask: Ask, server: QuizServer, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A connection's patience is for one write, so that a slow phone gets all of a long deck."""
    sizes: list[int] = []
    write = socketserver._SocketWriter.write  # type: ignore[attr-defined] # what a handler writes to

    def noted(self: object, data: bytes) -> int:
        sizes.append(len(data))
        return int(write(self, data))

    monkeypatch.setattr("socketserver._SocketWriter.write", noted)
    assert ask(f"{server.folder}page.js").read() == files["page.js"]
    assert sum(sizes) > len(files["page.js"]) > 2 * max(sizes)


def test_only_this_machine_can_ask_unless_told_otherwise(files: dict[str, bytes]) -> None:
    """It listens on loopback."""
    with QuizServer("week-03", files) as server:
        assert server.server_address[0] == THIS_MACHINE


def test_without_a_given_port_another_is_taken(files: dict[str, bytes]) -> None:
    """Two decks can be served at once; the first gets the usual port if it is free."""
    with QuizServer("week-03", files) as first, QuizServer("week-04", files) as second:
        assert first.server_address[1] != second.server_address[1]


def test_a_given_port_that_is_taken_is_an_error(run: Run) -> None:
    """The message says which, and how to mend it."""
    with socket.create_server((THIS_MACHINE, 0)) as taken:
        port = taken.getsockname()[1]
        status, out, err = run("serve", RECIPE, "--port", str(port))
    assert (status, out) == (2, "")
    assert err.startswith(f"--port: port {port} is taken\n")
    assert "name another" in err


def test_a_usual_port_that_is_closed_is_an_error(
    files: dict[str, bytes], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Only for one that is taken is another tried."""

    def refuse(_: QuizServer) -> None:
        raise PermissionError(errno.EACCES, "Permission denied")

    monkeypatch.setattr(QuizServer, "server_bind", refuse)
    with pytest.raises(
        DrillsError, match=rf"port {USUAL_PORT} cannot be used \(Permission denied\)"
    ) as caught:
        QuizServer("week-03", files)
    assert isinstance(caught.value.__cause__, PermissionError)
    assert caught.value.__cause__.__context__ is None


def test_another_port_than_usual_is_told_with_what_follows(
    run: Run, files: dict[str, bytes], monkeypatch: pytest.MonkeyPatch
) -> None:
    """A browser keeps progress by address; whoever names a port knows that the address is another."""
    stopped_at_once(monkeypatch)
    monkeypatch.setattr("drills.pack.serve.USUAL_PORT", (usual := int(free_port())))
    words = f"Port {usual} is taken"
    assert words not in run("serve", RECIPE)[1]
    assert words not in run("serve", RECIPE, "--port", free_port())[1]
    with QuizServer("week-03", files):
        assert words in run("serve", RECIPE)[1]


def test_a_port_that_is_none_is_an_error(run: Run) -> None:
    """Ports are numbers up to 65535."""
    status, out, err = run("serve", RECIPE, "--port", "70000")
    assert (status, out) == (2, "")
    assert "--port" in err


def test_a_recipe_that_is_missing_is_an_error_before_anything_is_served(run: Run) -> None:
    """As for the other commands."""
    status, out, err = run("serve", "week-99")
    assert (status, out) == (2, "")
    assert "week-99" in err


def test_without_a_network_phones_cannot_come(monkeypatch: pytest.MonkeyPatch) -> None:
    """The message says what to do."""

    class Nowhere(socket.socket):
        def connect(self, _: object) -> None:
            """There is no way."""
            raise OSError(101, "Network is unreachable")

    monkeypatch.setattr("socket.socket", Nowhere)
    with pytest.raises(DrillsError, match="--phones: this machine is in no network; join"):
        network_address()


def stopped_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Lets whoever serves stop it in the same moment."""

    def stop(_: QuizServer) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(QuizServer, "serve_forever", stop)


def test_stopping_it_is_no_fault(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    """It says what is served and where, ends as a stopped program does, and says nothing on the way."""
    stopped_at_once(monkeypatch)
    status, out, err = run("serve", RECIPE)
    assert (status, err) == (130, "")
    assert re.search(rf"open +http://127\.0\.0\.1:\d+/{RECIPE}/\n", out)
    assert "network" not in out
    assert "█" not in out


def test_phones_get_a_code_and_a_warning(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    """The code is the address; everyone near can open it, and installing wants https."""
    stopped_at_once(monkeypatch)
    monkeypatch.setattr("drills.pack.serve.network_address", lambda: THIS_MACHINE)
    status, out, err = run("serve", RECIPE, "--phones", "--port", free_port())
    assert (status, err) == (130, "")
    words = " ".join(out.split())
    assert "Everyone on this network can open it." in words
    assert "https" in words
    assert squares(out) == expected_squares(re.findall(r"http://\S+", out)[0])


def free_port() -> str:
    """A port that was free a moment ago."""
    with socket.create_server((THIS_MACHINE, 0)) as probe:
        return str(probe.getsockname()[1])


def squares(out: str) -> set[tuple[int, int]]:
    """Where the code that was printed is dark, counted from its first dark row and column."""
    lines = [line for line in out.splitlines() if re.fullmatch(r"[ ▀▄█]+", line) and line.strip()]
    dark = {
        (2 * row + half, column)
        for row, line in enumerate(lines)
        for column, sign in enumerate(line)
        for half in (0, 1)
        if sign == "█" or sign == "▀▄"[half]
    }
    top, left = min(row for row, _ in dark), min(column for _, column in dark)
    return {(row - top, column - left) for row, column in dark}


def expected_squares(address: str) -> set[tuple[int, int]]:
    """The dark squares of the code for an address."""
    import segno

    rows = segno.make(address).matrix
    return {(row, column) for row, line in enumerate(rows) for column, is_dark in enumerate(line) if is_dark}


@pytest.mark.skipif(sys.platform == "win32", reason="Ctrl-C is told otherwise there")
def test_a_running_server_ends_by_ctrl_c() -> None:
    """It serves the deck of the recipe until then, and ends silently with 130."""
    program = (
        "import signal, sys\n"
        "from drills.cli.main import main\n"
        "signal.signal(signal.SIGINT, signal.default_int_handler)\n"  # whoever runs the tests may ignore it
        f"sys.exit(main(['serve', {RECIPE!r}]))"
    )
    command = [sys.executable, "-c", program]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as served:
        try:
            assert served.stdout is not None
            address = next(found[0] for line in served.stdout if (found := re.search(r"http://\S+", line)))
            parts = urlsplit(address)
            connection = HTTPConnection(str(parts.netloc), timeout=10)
            connection.request("GET", f"{parts.path}deck.json")
            assert json.loads(connection.getresponse().read())
            connection.close()
        finally:
            served.send_signal(signal.SIGINT)
        _, err = served.communicate(timeout=10)
    assert (served.returncode, err) == (130, "")

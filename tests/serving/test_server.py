"""The server answers a browser on this machine with its own pages, and nothing else."""

from __future__ import annotations

import socket
from collections.abc import Iterator
from contextlib import closing, contextmanager
from http.client import HTTPConnection
from threading import Thread
from time import monotonic

import pytest

from shopdraw.errors import NotPublished, NotServed
from shopdraw.serving import server as module
from shopdraw.serving.server import HERE, Shown, served

PAGE = b"<p>the page of this job</p>"
SECRET = b"the page"


def put_first() -> Shown:
    shown = Shown()
    shown.put(lambda number: {"/": PAGE + number.encode(), "/page.html": lambda: PAGE})
    return shown


@pytest.fixture
def shown() -> Shown:
    return put_first()


@pytest.fixture
def port(shown: Shown) -> Iterator[int]:
    with served(shown) as address:
        yield int(address.rpartition(":")[2].strip("/"))


@pytest.fixture(scope="module")
def still() -> Iterator[int]:
    """Return the port of one server for all that only ask, whatever they ask."""
    with served(put_first()) as address:
        yield int(address.rpartition(":")[2].strip("/"))


def raw(port: int, request: str) -> bytes:
    """Send what is given as it stands, and return all of the answer."""
    with socket.create_connection((HERE, port), timeout=10) as line:
        line.sendall(request.encode("latin-1"))
        line.shutdown(socket.SHUT_WR)
        parts = []
        while part := line.recv(65536):
            parts.append(part)
    return b"".join(parts)


@contextmanager
def asked(port: int, path: str, **headers: str) -> Iterator[HTTPConnection]:
    """Ask, and leave the line open for the answer."""
    named = {name.replace("_", "-"): value for name, value in headers.items()}
    with closing(HTTPConnection(HERE, port, timeout=10)) as line:
        line.request("GET", path, headers=named)
        yield line


def get(port: int, path: str = "/", **headers: str) -> tuple[int, bytes]:
    with asked(port, path, **headers) as line:
        answer = line.getresponse()
        return answer.status, answer.read()


def test_the_pages_are_answered(port: int) -> None:
    status, body = get(port)
    assert (status, body[: len(PAGE)]) == (200, PAGE)
    assert get(port, "/page.html") == (200, PAGE)
    assert get(port, Host=f"localhost:{port}")[0] == 200
    assert get(port, Origin=f"http://{HERE}:{port}")[0] == 200
    assert get(port, Sec_Fetch_Site="same-origin")[0] == 200
    assert get(port, Sec_Fetch_Site="none")[0] == 200


def test_what_is_not_of_this_machine_is_refused(port: int) -> None:
    refused = [
        {"Host": "fireplaces.example"},
        {"Host": f"fireplaces.example:{port}"},
        {"Host": HERE},
        {"Host": f"{HERE}:{port + 1}"},
        {"Host": f"{HERE}:{port}.example"},
        {"Host": ""},
        {"Origin": "http://fireplaces.example"},
        {"Origin": "null"},
        {"Origin": f"http://localhost:{port}"},
        {"Origin": f"https://{HERE}:{port}"},
        {"Sec_Fetch_Site": "cross-site"},
        {"Sec_Fetch_Site": "same-site"},
    ]
    for headers in refused:
        for path in ("/", "/page.html", "/next?after=x"):
            status, body = get(port, path, **headers)
            assert (status, SECRET in body) == (403, False), (headers, path)


@pytest.mark.parametrize(
    "lines",
    [
        "GET / HTTP/1.1\r\n",
        "GET / HTTP/1.0\r\n",
        "GET /\r\n",
        "GET / HTTP/1.1\r\nHost: {here}\r\nHost: fireplaces.example\r\n",
        "GET / HTTP/1.1\r\nHost: fireplaces.example\r\nHost: {here}\r\n",
        "GET / HTTP/1.1\r\nHost: {here}\r\nOrigin: http://{here}\r\nOrigin: null\r\n",
        "GET http://fireplaces.example/ HTTP/1.1\r\nHost: {here}\r\n",
        "GET http://{here}/ HTTP/1.1\r\nHost: fireplaces.example\r\n",
        "POST / HTTP/1.1\r\nHost: {here}\r\nContent-Length: 0\r\n",
        "OPTIONS * HTTP/1.1\r\nHost: {here}\r\n",
        "CONNECT fireplaces.example:80 HTTP/1.1\r\nHost: {here}\r\n",
        "nonsense\r\n",
        "\x00\xff\r\n",
    ],
)
def test_no_odd_request_gets_the_page(still: int, lines: str) -> None:
    request = lines.replace("{here}", f"{HERE}:{still}")
    assert SECRET not in raw(still, f"{request}Connection: close\r\n\r\n")
    assert get(still)[0] == 200


def test_the_same_words_without_what_is_odd_get_it(port: int) -> None:
    request = f"GET / HTTP/1.1\r\nHost: {HERE}:{port}\r\nConnection: close\r\n\r\n"
    assert SECRET in raw(port, request)


@pytest.mark.parametrize(
    "path",
    [
        "/../pyproject.toml",
        "/..%2fpyproject.toml",
        "/%2e%2e/pyproject.toml",
        "//etc/passwd",
        "/etc/passwd",
        "/..\\..\\pyproject.toml",
        "/den.toml",
        "/page.html/",
        "/page.html%00",
        "/./",
        "/?x",
        "file:///etc/passwd",
        "pyproject.toml",
        "..",
        "/next",
        "/" + "a" * 70_000,
    ],
)
def test_nothing_else_is_there(still: int, path: str) -> None:
    answer = raw(
        still,
        f"GET {path} HTTP/1.1\r\nHost: {HERE}:{still}\r\nConnection: close\r\n\r\n",
    )
    first = answer.partition(b"\r\n")[0]
    assert first.split()[1] in (b"404", b"414", b"400"), first
    assert b"root:" not in answer
    assert b"build-system" not in answer


def test_only_this_machine_is_listened_to(port: int) -> None:
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as out:
        try:
            out.connect(("192.0.2.1", 9))  # Sends nothing; the address is of no one.
        except OSError:
            pytest.skip("this machine has no other address")
        other = out.getsockname()[0]
    if other.startswith("127."):
        pytest.skip("this machine has no other address")
    with pytest.raises(OSError, match=r"refused|timed out"):
        socket.create_connection((other, port), timeout=5)


def test_each_answer_forbids_to_frame_and_to_keep_it(port: int) -> None:
    for path in ("/", "/nowhere"):
        with asked(port, path) as line:
            answer = line.getresponse()
            answer.read()
        assert answer.headers["Content-Security-Policy"] == "frame-ancestors 'none'"
        assert answer.headers["Cache-Control"] == "no-store"
        assert answer.headers["Access-Control-Allow-Origin"] is None
        assert "Python" not in answer.headers["Server"]


def test_who_asks_for_the_next_waits_until_it_is_there(
    shown: Shown, port: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    number = get(port)[1].removeprefix(PAGE).decode()
    monkeypatch.setattr(module, "WAIT", 0.05)
    assert get(port, f"/next?after={number}") == (204, b"")
    assert get(port, "/next?after=an-earlier-run-1")[0] == 200
    monkeypatch.setattr(module, "WAIT", 30.0)
    got: list[tuple[int, bytes]] = []
    asking = [
        Thread(target=lambda: got.append(get(port, f"/next?after={number}")))
        for _ in range(3)
    ]
    for each in asking:
        each.start()
    shown.put(lambda _: {"/": b"the next"})
    for each in asking:
        each.join(10)
    assert got == [(200, b"the next")] * 3
    assert get(port, "/page.html")[0] == 404


def test_a_page_is_made_when_it_is_asked_for_and_once(shown: Shown, port: int) -> None:
    made = []

    def make() -> bytes:
        made.append(1)
        return b"made"

    def fail() -> bytes:
        message = "sheet.size: too small"
        raise NotPublished(message)

    shown.put(lambda _: {"/": PAGE, "/page.html": make, "/fails": fail})
    assert made == []
    assert [get(port, "/page.html")[1] for _ in range(3)] == [b"made"] * 3
    assert made == [1]
    assert get(port, "/fails") == (409, b"sheet.size: too small\n")


def test_a_port_that_is_taken_is_said(port: int) -> None:
    with (
        pytest.raises(NotServed, match=f"--port: can't listen at {HERE}:{port}: "),
        served(Shown(), port),
    ):
        pass


def test_it_ends_though_somebody_waits(shown: Shown) -> None:
    begun = monotonic()
    with served(shown) as address:
        port = int(address.rpartition(":")[2].strip("/"))
        number = get(port)[1].removeprefix(PAGE).decode()
        with asked(port, f"/next?after={number}"):
            pass
        waiting = asked(port, f"/next?after={number}")
        line = waiting.__enter__()
    line.close()
    assert monotonic() - begun < module.WAIT / 2
    with pytest.raises(OSError, match="refused"):
        socket.create_connection((HERE, port), timeout=5)

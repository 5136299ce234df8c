"""Serve a few pages that are held in memory to a browser on this machine.

In:  pages, by their paths.   Out: an address; answers to requests.
Frame: times in seconds.

Only 127.0.0.1 is listened at. A request must name that as its host, so that no name of
somebody else's that leads here is answered, and must come from no other site. Nothing
is read from the disk: what is not among the pages is not there.
"""

from __future__ import annotations

import socketserver
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from secrets import token_hex
from threading import Condition, Lock, Thread

from shopdraw.errors import NotServed, ShopdrawError

HERE = "127.0.0.1"
WAIT = 20.0
"""So long a question for what comes next is left open."""
IDLE = 60.0
"""So long a browser may keep a line open and ask nothing."""
NEXT = "/next?after="
HEADERS = {
    "Cache-Control": "no-store",
    "Content-Security-Policy": "frame-ancestors 'none'",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Referrer-Policy": "no-referrer",
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
}
"""With every answer; what a page may load and run it says itself."""
Served = bytes | Callable[[], bytes]
"""A page, or what makes it the first time that somebody asks for it."""


class Shown:
    """What is shown now, and who waits for the next; many threads may ask."""

    def __init__(self) -> None:
        # Whoever asks after an earlier run's number is answered at once.
        self._run, self._count = token_hex(4), 0
        self._pages: dict[str, Served] = {}
        self._changed, self._making = Condition(), Lock()

    def put(self, make: Callable[[str], Mapping[str, Served]]) -> None:
        """Show other pages, and tell whoever waits for them.

        Args:
            make: is given the number of what is shown next, and returns the pages by
                their paths; `/` is the one that is followed.
        """
        number = self._number(self._count + 1)
        pages = dict(make(number))
        with self._changed:
            self._pages, self._count = pages, self._count + 1
            self._changed.notify_all()

    def page(self, path: str) -> bytes | None:
        """Return a page; None where there is none."""
        with self._changed:
            pages = self._pages
        page = pages.get(path)
        if page is None or isinstance(page, bytes):
            return page
        with self._making:
            page = pages[path]
            made = page if isinstance(page, bytes) else page()
            pages[path] = made
            return made

    def page_after(self, number: str, seconds: float) -> bytes | None:
        """Wait until what is shown has another number; None if that takes too long."""
        with self._changed:
            if not self._changed.wait_for(
                lambda: self._number(self._count) != number, seconds
            ):
                return None
        return self.page("/")

    def _number(self, count: int) -> str:
        return f"{self._run}-{count}"


class _Server(ThreadingHTTPServer):
    daemon_threads = True
    block_on_close = False

    def __init__(self, shown: Shown, port: int) -> None:
        self.shown = shown
        super().__init__((HERE, port), _Handler)

    def server_bind(self) -> None:
        """Listen; the library would ask the network for this machine's name."""
        socketserver.TCPServer.server_bind(self)
        self.server_name, self.server_port = HERE, self.socket.getsockname()[1]

    def handle_error(self, request: object, client_address: object) -> None:
        """Leave a line that broke: the browser asks again."""


class _Handler(BaseHTTPRequestHandler):
    protocol_version = "HTTP/1.1"
    server_version, sys_version = "shopdraw", ""
    timeout = IDLE
    server: _Server

    def do_GET(self) -> None:
        """Answer with a page, with the next one, or with why not."""
        if not self._is_from_here():
            self._answer(403, b"Only a browser on this machine is answered.\n")
            return
        try:
            if self.path.startswith(NEXT):
                number = self.path.removeprefix(NEXT)
                page = self.server.shown.page_after(number, WAIT)
                self._answer(*((204, b"") if page is None else (200, page)))
                return
            page = self.server.shown.page(self.path)
        except ShopdrawError as error:
            self._answer(409, "\n".join((*error.lines(), "")).encode())
            return
        if page is None:
            self._answer(404, b"There is no such page.\n")
            return
        self._answer(200, page)

    def _is_from_here(self) -> bool:
        """Whether the host and the origin, as far as they are said, are this server."""
        port = self.server.server_port
        hosts = {f"{HERE}:{port}", f"localhost:{port}"}
        said = self.headers.get_all("Host") or []
        origins = self.headers.get_all("Origin") or []
        sites = self.headers.get_all("Sec-Fetch-Site") or []
        return (
            len(said) == 1
            and said[0] in hosts
            and all(origin == f"http://{said[0]}" for origin in origins)
            and all(site in ("same-origin", "none") for site in sites)
        )

    def _answer(self, code: int, body: bytes) -> None:
        kind = "html" if code == 200 else "plain"
        self.send_response(code)
        for name, value in HEADERS.items():
            self.send_header(name, value)
        if code != 204:
            self.send_header("Content-Type", f"text/{kind}; charset=utf-8")
            self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def log_message(self, format: str, *args: object) -> None:
        """Say nothing of requests."""


@contextmanager
def served(shown: Shown, port: int = 0) -> Iterator[str]:
    """Serve what is shown until the end of the block; give the address.

    Args:
        shown: the pages.
        port: to listen at; 0 for one that is free.

    Raises:
        NotServed: it can't be listened at.
    """
    try:
        server = _Server(shown, port)
    except OSError as error:
        message = f"--port: can't listen at {HERE}:{port}: {error.strerror or error}"
        raise NotServed(message) from None
    Thread(target=server.serve_forever, args=(0.1,), daemon=True).start()
    try:
        yield f"http://{HERE}:{server.server_port}/"
    finally:
        server.shutdown()
        server.server_close()

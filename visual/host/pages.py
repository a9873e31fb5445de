"""Answers what browsers ask for: the page and its files, and the socket of each page that is open.

Another site's page must not reach the bench through a visitor's browser, so every request has to name a host that this
machine answers to, and a socket has to come from the page it was served to.
"""

from __future__ import annotations

import asyncio
import hashlib
import logging
import time
from importlib.resources import files
from importlib.resources.abc import Traversable
from typing import Any
from urllib.parse import urlsplit

import tornado.iostream
import tornado.web
import tornado.websocket
from tornado.http1connection import HTTP1Connection
from tornado.httputil import HTTPServerRequest
from tornado.routing import AnyMatches, PathMatches, Router, Rule, RuleRouter

from visual.host import bridge
from visual.host.connections import PATIENCE
from visual.host.endpoints import MOST_OF_ONE, Endpoint
from visual.host.messages import LARGEST_MESSAGE
from visual.host.viewers import Audience, Viewer

log = logging.getLogger("thumbwise")

KINDS = {"html": "text/html", "js": "text/javascript", "css": "text/css"}
PIECE = 64 * 1024  # bytes of a file that wait at once for a browser to read them
CALM = 2.0  # s
MESSAGES_IN_CALM = 200  # that a page of a crowd may send in that time; at thirty pictures a second it answers 60
UNSENT = 8  # messages that may wait for one page to read them
FULL, FULL_FROM_THERE, FULL_OF_YOURS = "Full", "Full From There", "Full Of Yours"
WHY_FULL = {
    FULL: "the room is full; try again when somebody has left",
    FULL_FROM_THERE: "the limit for your network address is reached; try again when somebody there has left",
    FULL_OF_YOURS: "you have this page open too many times; close one and try again",
}
HALF_OPEN = 60.0  # s between questions whether a page's machine is still there; one without an answer closes the line


def ways_in(host: Audience, way: Endpoint) -> Router:
    """The way and those beside it."""
    beside = [Rule(PathMatches(f"{other.door.prefix}(?:/.*)?"), application(host, other)) for other in way.beside]
    return RuleRouter([*beside, Rule(AnyMatches(), application(host, way))])


def application(host: Audience, way: Endpoint) -> tornado.web.Application:
    page = page_files(files("visual.page"))
    scripts = bridge.page_scripts()
    before = way.door.prefix
    return tornado.web.Application(
        [
            *((f"{before}/{path}", Page, {"host": host, "files": page, "only": name}) for path, name in way.pages.items()),
            (rf"{before}/page/((?:[\w.-]+/)?[\w.-]+)", File, {"files": page}),
            (rf"{before}/vpython/([\w.-]+)", File, {"files": scripts}),
            (f"{before}/socket", Socket, {"host": host}),
            *([(before, Begin)] if before else []),
            *([(f"{before}/delivery", Delivery)] if way.deliver else []),
        ],
        default_handler_class=Nothing,
        log_function=_log_refusals,
        websocket_max_message_size=LARGEST_MESSAGE,
        websocket_ping_interval=HALF_OPEN,
        way=way,
    )


def page_files(folder: Traversable, before: str = "") -> dict[str, bytes]:
    """What may be asked for, by the path below the page's folder, such as `styles/style.css`."""
    found: dict[str, bytes] = {}
    for entry in folder.iterdir():
        if entry.is_dir():
            found |= page_files(entry, f"{before}{entry.name}/")
        elif entry.name.rpartition(".")[2] in KINDS:
            found[before + entry.name] = entry.read_bytes()
    return found


def _log_refusals(handler: tornado.web.RequestHandler) -> None:
    if handler.get_status() >= 400 and handler.settings["way"].crowd is None:
        log.warning("refused: %d %r %r", handler.get_status(), handler.request.method, handler.request.uri[:200])


def turn_away(handler: tornado.web.RequestHandler) -> str | None:
    """Ask the door whether the request may come in, and give a seat to who has none yet; which visitor it is."""
    endpoint: Endpoint = handler.settings["way"]
    door, seat = endpoint.door, handler.get_cookie("seat")
    refusal = door.refusal(handler.request, seat)
    if refusal is not None:
        raise tornado.web.HTTPError(refusal)
    if door.visitor(seat) is None:
        seat = door.new_seat()
        if seat:  # for this door alone: browsers do not tell one port from another
            handler.set_cookie("seat", seat, path=f"/{handler.request.path.split('/')[1]}", httponly=True, samesite="Lax")
    return door.visitor(seat)


def turn_away_more(handler: tornado.web.RequestHandler, host: Audience, visitor: str | None) -> None:
    """Let no more pages be open than the way has room for, in all, of one address, and of one visitor."""
    way, address = handler.settings["way"], handler.request.remote_ip
    there = [viewer for viewer in host.viewers if viewer.role == way.role]
    if len(there) >= way.most:
        raise tornado.web.HTTPError(503, reason=FULL)
    if way.of_one_address is not None and sum(viewer.address == address for viewer in there) >= way.of_one_address:
        raise tornado.web.HTTPError(503, reason=FULL_FROM_THERE)
    if visitor is not None and sum(viewer.visitor == visitor for viewer in there) >= MOST_OF_ONE:
        raise tornado.web.HTTPError(503, reason=FULL_OF_YOURS)


def from_own_page(origin: str, request: HTTPServerRequest) -> bool:
    """Whether a request comes from a page that was served here."""
    try:
        return urlsplit(origin).netloc.lower() == request.headers.get("Host", "").lower()
    except ValueError:
        return False


def why_refused(status: int, reason: str | None) -> str:
    """What to say to who is turned away."""
    if status == 429:
        return "too many wrong codes from your address; wait a minute and try again"
    if status == 503 and reason in WHY_FULL:
        return WHY_FULL[reason]
    return "there is nothing here"


class Guarded(tornado.web.RequestHandler):
    """Answers only whom the door lets in, and says nothing of what it is made of."""

    def prepare(self) -> None:
        self.visitor = turn_away(self)

    def set_default_headers(self) -> None:
        self.clear_header("Server")
        self.set_header("X-Content-Type-Options", "nosniff")
        self.set_header("Referrer-Policy", "no-referrer")
        self.set_header(
            "Content-Security-Policy",
            # VPython's libraries make functions from text and set styles and handlers as attributes
            "default-src 'self'; script-src 'self' 'unsafe-eval'; script-src-attr 'unsafe-inline'; "
            "style-src 'self' 'unsafe-inline'; img-src 'self' data: blob:; "
            "frame-ancestors 'self'; base-uri 'none'; form-action 'none'",
        )

    def write_error(self, status_code: int, **found: Any) -> None:
        self.set_header("Content-Type", "text/plain; charset=utf-8")
        self.finish(f"{status_code}: {why_refused(status_code, getattr(found.get('exc_info', (None, None))[1], 'reason', None))}.\n")


class Nothing(Guarded):
    def prepare(self) -> None:
        super().prepare()
        raise tornado.web.HTTPError(404)


class Begin(Guarded):
    """The address as one types it, without the stroke at its end."""

    def get(self) -> None:
        self.redirect(self.request.path.rsplit("/", 1)[-1] + "/")  # from here on, whatever a proxy has put before it


class HandsOver(Guarded):
    """Sends one of the files read when the program started."""

    async def hand_over(self, name: str, content: bytes) -> None:
        """Send it piece by piece, so that who does not read holds one of them and not for long."""
        self.set_header("Content-Type", KINDS[name.rsplit(".", 1)[-1]] + "; charset=utf-8")
        self.set_header("Cache-Control", "no-cache")
        self.set_header("Etag", f'"{hashlib.sha256(content).hexdigest()[:32]}"')
        if self.check_etag_header():
            self.set_status(304)
            return
        self.set_header("Content-Length", len(content))
        try:
            for begun in range(0, len(content), PIECE):
                self.write(content[begun : begun + PIECE])
                await asyncio.wait_for(self.flush(), PATIENCE)
        except TimeoutError:
            assert isinstance(self.request.connection, HTTP1Connection)  # the server speaks no other
            self.request.connection.close()
        except tornado.iostream.StreamClosedError:
            pass


class File(HandsOver):
    """A file by its name, which is one of those read; there is no path to walk out of."""

    def initialize(self, files: dict[str, bytes]) -> None:
        self.files = files

    async def get(self, name: str) -> None:
        if name not in self.files:
            raise tornado.web.HTTPError(404)
        await self.hand_over(name, self.files[name])


class Page(HandsOver):
    """The page itself, while there is room for one more."""

    def initialize(self, host: Audience, files: dict[str, bytes], only: str) -> None:
        self.bench = host
        self.content = files[only]
        self.only = only

    async def get(self) -> None:
        turn_away_more(self, self.bench, self.visitor)
        await self.hand_over(self.only, self.content)


class Delivery(Guarded):
    """Takes what a page of ours made, and from no other site's page."""

    def post(self) -> None:
        if not from_own_page(self.request.headers.get("Origin", ""), self.request):
            raise tornado.web.HTTPError(403)
        self.settings["way"].deliver(self.request.body)
        self.set_status(204)


class Socket(tornado.websocket.WebSocketHandler):
    def initialize(self, host: Audience) -> None:
        self.bench = host
        self.way: Endpoint = self.settings["way"]
        self.viewer: Viewer | None = None
        self.unsent = 0
        self.messages = 0
        self.counted_since = 0.0

    def prepare(self) -> None:
        self.visitor = turn_away(self)
        origin = self.request.headers.get("Origin", self.request.headers.get("Sec-Websocket-Origin"))
        if origin is not None and not from_own_page(origin, self.request):
            raise tornado.web.HTTPError(403)
        turn_away_more(self, self.bench, self.visitor)

    def set_default_headers(self) -> None:
        self.clear_header("Server")

    def check_origin(self, origin: str) -> bool:
        return from_own_page(origin, self.request)

    def open(self) -> None:
        self.set_nodelay(True)
        disconnect = None if self.way.crowd is None else self._disconnect
        heard = self.bench.heard_by(self.way.role)
        self.viewer = Viewer(self._send, heard, self.way.role, disconnect, self.way.hears, self.visitor, self.request.remote_ip)
        self.bench.come(self.viewer)

    def on_message(self, message: str | bytes) -> asyncio.Future[None] | None:
        if self.viewer not in self.bench.viewers:
            return None
        if self.way.crowd is not None and not self._calm():
            self._disconnect()
            return None
        begun = time.perf_counter()
        self.bench.receive(self.viewer, message)
        return self.bench.turn(time.perf_counter() - begun)

    def on_ping(self, data: bytes) -> None:
        if not self._calm():  # no browser sends any
            self._disconnect()

    def on_close(self) -> None:
        if self.close_code == 1009:
            log.warning("a page sent more than %d bytes at once; its socket is closed", LARGEST_MESSAGE)
        self.bench.viewers.discard(self.viewer)

    def write_error(self, status_code: int, **_: Any) -> None:
        self.finish()  # no browser shows it

    def _calm(self) -> bool:
        now = time.monotonic()
        if now - self.counted_since > CALM:
            self.counted_since, self.messages = now, 0
        self.messages += 1
        return self.messages <= MESSAGES_IN_CALM

    def _disconnect(self) -> None:
        self.bench.viewers.discard(self.viewer)
        self.close(1008)

    def _send(self, text: str | bytes) -> None:
        try:
            future = self.write_message(text)
        except tornado.websocket.WebSocketClosedError:
            return
        self.unsent += 1
        future.add_done_callback(self._sent)
        if self.unsent > UNSENT:
            self._disconnect()

    def _sent(self, future: asyncio.Future[None]) -> None:
        self.unsent -= 1
        if not future.cancelled():  # as what is left is when the program ends
            future.exception()

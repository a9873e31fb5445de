"""Serves the page and its socket on one port, and runs the bench in the same loop.

There may be several ways in, each with its pages, its role and its door (doors.py): the bench's own is open to this
machine alone. Another site's page must not reach the bench through a visitor's browser, so every request has to name a
host that this machine answers to, and a socket has to come from the page it was served to.
"""

from __future__ import annotations

import asyncio
import hashlib
import logging
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from importlib.resources import files
from urllib.parse import urlsplit

import tornado.iostream
import tornado.netutil
import tornado.web
import tornado.websocket
from tornado.routing import AnyMatches, PathMatches, Router, Rule, RuleRouter

from visual.host import bridge
from visual.host.connections import PATIENCE, BoundedServer
from visual.host.doors import SecretWord, ThisMachine
from visual.host.messages import understood
from visual.host.viewers import Chart, Viewer

log = logging.getLogger("thumbwise")

FRAME = 1 / 36  # s
LONGEST_STEP = 0.1  # s: what a sleeping laptop or a stalled machine may skip at once
LARGEST_MESSAGE = 64 * 1024  # bytes from a page
LARGEST_DELIVERY = 64 * 1024 * 1024  # bytes of a picture
KINDS = {"html": "text/html", "js": "text/javascript", "css": "text/css", "svg": "image/svg+xml"}
CALM = 2.0  # s
MESSAGES_IN_CALM = 200  # that a page of a crowd may send in that time; at thirty pictures a second it answers 60
UNSENT = 8  # messages that may wait for one page to read them
MOST_PAGES = 50  # that may be open at once on a way that has no other bound
PIECE = 64 * 1024  # bytes of a file that wait at once for a browser to read them
BREATH = 0.001  # s of work for a page, beyond which it waits for its turn
LONGEST_TURN = 0.5  # s that a page waits for it
NEW_EVERY = 3  # pictures: to tell new pages everything takes half the time of one
CROWD_EVERY = 2  # pictures: what a room's wireless network can carry to thirty
HALF_OPEN = 60.0  # s between questions whether a page's machine is still there; one without an answer closes the line
SILENCE = 20.0  # s without a word on what it was sent, after which a page of a crowd is let go


@dataclass(frozen=True)
class Way:
    """One way in: the pages by their paths, what these may do, who is let in, and how many of a crowd at once.

    The pages of a crowd must not slow the others: they are told in step, and who does not keep up is let go. A page that
    has no picture is told only what it `hears`. The ways `beside` are on the same port, each under its door's prefix.
    """

    pages: Mapping[str, str] = field(default_factory=lambda: {"": "index.html"})
    role: str = "bench"
    door: ThisMachine | SecretWord = field(default_factory=ThisMachine)
    crowd: int | None = None
    deliver: Callable[[bytes], None] | None = None  # called with what a page of ours makes for the program
    hears: frozenset[str] | None = None
    beside: tuple[Way, ...] = ()

    @property
    def most(self) -> int:
        """How many pages may be open at once."""
        return MOST_PAGES if self.crowd is None else self.crowd


class Host:
    """The bench's side of every open page.

    `say` replaces what the pages show under a key, `say_to` what those of one role show and no other page is told;
    `on_message(message, viewer)` is called with each well-formed message of a page. What a page may do goes by its
    `viewer.role`.
    """

    def __init__(self):
        self.stream = bridge.ObjectStream()
        self.chart = Chart()
        self.said: dict = {}
        self.said_to: dict[str, dict] = {}  # by role
        self.viewers: set[Viewer] = set()
        self.on_message = lambda message, viewer: None
        self.bytes_sent = 0
        self.frames = 0
        self._wake = asyncio.Event()
        self._rest_until = 0.0  # by the loop's clock
        self._new: list[Viewer] = []
        self._begun_with = -NEW_EVERY  # the frame in which new pages were last told everything

    def say(self, key: str, value) -> None:
        if key not in self.said or self.said[key] != value:
            self.said[key] = value
            for viewer in self.viewers:
                viewer.note(key)

    def say_to(self, role: str, key: str, value) -> None:
        """Say to the pages of that role alone; `key` is none that `say` uses."""
        said = self.said_to.setdefault(role, {})
        if key not in said or said[key] != value:
            said[key] = value
            for viewer in self.viewers:
                if viewer.role == role:
                    viewer.note(key)

    def heard_by(self, role: str) -> dict:
        """Everything that a page of that role may be told."""
        return self.said | self.said_to[role] if role in self.said_to else self.said

    def name(self, name: str, drawn) -> None:
        self.stream.name(name, drawn)

    def count(self, role: str) -> int:
        """How many pages of that role are open."""
        return sum(viewer.role == role for viewer in self.viewers)

    def flush(self) -> None:
        """Tell every page that is ready what has changed."""
        _, changed, names = self.stream.drain()
        self.say("names", dict(names))
        written: dict = {}
        for viewer in list(self.viewers):
            viewer.attributes.update(changed)
            if viewer.in_step and self.frames % CROWD_EVERY:
                continue
            self.bytes_sent += viewer.tell(self.stream, self.heard_by(viewer.role), self.chart, written)
            if viewer.in_step and viewer.silent > SILENCE:
                viewer.let_go()

    def take(self, viewer: Viewer, text) -> None:
        """One message from a page. What is not understood is logged in a line and goes no further."""
        message = understood(text)
        if message is None:
            log.warning("a page sent something that is not a message (%d characters); ignored", len(text))
            return
        if message["do"] == "ready":
            viewer.ready = viewer.ready or not viewer.fresh  # nothing was told yet that could be on screen
            if viewer.in_step:
                return
        elif message["do"] == "alive":
            viewer.send('{"alive":true}')
        else:
            self.on_message(message, viewer)
        self._wake.set()

    def turn(self, took: float) -> asyncio.Future:
        """Done when a page that was given so many seconds of the program's time may ask for more.

        Whatever all pages together ask for, as much time as goes into it is left for the pictures, and who asks much
        waits with the others. What took next to nothing waits for nobody.
        """
        loop = asyncio.get_running_loop()
        come = loop.create_future()
        begins = loop.time()
        if took >= BREATH:
            rest = min(max(0.0, self._rest_until - begins), LONGEST_TURN)
            begins += rest
            self._rest_until = begins + 2 * took
        loop.call_at(begins, lambda: come.done() or come.set_result(None))
        return come

    def come(self, viewer: Viewer) -> None:
        """A page is here, and is told everything with one of the next pictures. That is much, so those who come close upon
        each other are told it together."""
        viewer.ready = False
        self.viewers.add(viewer)
        self._new.append(viewer)
        self._wake.set()

    def _begin_with_the_new(self) -> None:
        if self._new and self.frames - self._begun_with >= NEW_EVERY:
            self._begun_with = self.frames
            for viewer in self._new:
                viewer.ready = True
            self._new.clear()

    async def run(self, frame) -> None:
        """Call `frame(seconds)` every `FRAME` while a page is open, and tell the pages what came of it."""
        last = time.perf_counter()
        while True:
            now = time.perf_counter()
            if self.viewers and now - last >= FRAME * 0.95:
                frame(min(now - last, LONGEST_STEP))
                last = now
                self.frames += 1
                self._begin_with_the_new()
            self.flush()
            self._wake.clear()
            pause = max(0.0, last + FRAME - time.perf_counter()) if self.viewers else 3600
            try:
                await asyncio.wait_for(self._wake.wait(), pause)
            except TimeoutError:
                pass
            if not self.viewers:
                last = time.perf_counter()

    def listen(self, port: int, address: str = "127.0.0.1", way: Way | None = None) -> int:
        """Open the port (0: any free one) to one way in and return its number; `OSError` when it is taken."""
        sockets = tornado.netutil.bind_sockets(port, address)
        self._serve(sockets, way)
        return sockets[0].getsockname()[1]

    def listen_on_socket(self, path: str, way: Way | None = None) -> None:
        """Open one way in on a Unix socket, which this user alone may use: a proxy of his, as a rule."""
        self._serve([tornado.netutil.bind_unix_socket(path, 0o600)], way)

    def _serve(self, sockets: list, way: Way | None) -> None:
        way = way or Way()
        server = BoundedServer(
            ways_in(self, way),
            max_header_size=LARGEST_MESSAGE,  # an address that is too long shall be told so by the bench
            max_body_size=LARGEST_DELIVERY if way.deliver else LARGEST_MESSAGE,
        )
        server.add_sockets(sockets)


def ways_in(host: Host, way: Way) -> Router:
    """The way and those beside it."""
    beside = [Rule(PathMatches(f"{other.door.prefix}(?:/.*)?"), application(host, other)) for other in way.beside]
    return RuleRouter([*beside, Rule(AnyMatches(), application(host, way))])


def application(host: Host, way: Way) -> tornado.web.Application:
    page = {file.name: file.read_bytes() for file in files("visual.page").iterdir() if file.name.split(".")[-1] in KINDS}
    scripts = bridge.page_scripts()
    before = way.door.prefix
    return tornado.web.Application(
        [
            *((f"{before}/{path}", Page, {"host": host, "files": page, "only": name}) for path, name in way.pages.items()),
            (rf"{before}/page/([\w.-]+)", File, {"files": page}),
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


def _log_refusals(handler: tornado.web.RequestHandler) -> None:
    if handler.get_status() >= 400 and handler.settings["way"].crowd is None:
        log.warning("refused: %d %r %r", handler.get_status(), handler.request.method, handler.request.uri[:200])


def turn_away(handler: tornado.web.RequestHandler) -> None:
    """Ask the door whether the request may come in."""
    door = handler.settings["way"].door
    refusal = door.refusal(handler.request, handler.get_cookie("seat"))
    if refusal is not None:
        raise tornado.web.HTTPError(refusal)
    if door.seat:
        handler.set_cookie("seat", door.seat, httponly=True, samesite="Strict")


def turn_away_more(handler: tornado.web.RequestHandler, host: Host) -> None:
    """Let no more pages be open than the way has room for."""
    if host.count(handler.settings["way"].role) >= handler.settings["way"].most:
        raise tornado.web.HTTPError(503)


def from_own_page(origin: str, request) -> bool:
    """Whether a request comes from a page that was served here."""
    try:
        return urlsplit(origin).netloc.lower() == request.headers.get("Host", "").lower()
    except ValueError:
        return False


def why_refused(status: int, way: Way) -> str:
    """What to say to who is turned away."""
    if status == 429:
        return "from where you are too many wrong words came; wait a minute and try again"
    if status == 503:
        return f"{way.most} are here already and no more are let in; try again when somebody has left"
    return "there is nothing here"


class Guarded(tornado.web.RequestHandler):
    """Answers only whom the door lets in, and says nothing of what it is made of."""

    def prepare(self):
        turn_away(self)

    def set_default_headers(self):
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

    def write_error(self, status_code, **_):
        self.set_header("Content-Type", "text/plain; charset=utf-8")
        self.finish(f"{status_code}: {why_refused(status_code, self.settings['way'])}.\n")


class Nothing(Guarded):
    def prepare(self):
        super().prepare()
        raise tornado.web.HTTPError(404)


class Begin(Guarded):
    """The address as one types it, without the stroke at its end."""

    def get(self):
        self.redirect(self.request.path.rsplit("/", 1)[-1] + "/")  # from here on, whatever a proxy has put before it


class File(Guarded):
    """One of the files read when the program started; there is no path to walk out of."""

    def initialize(self, files: dict[str, bytes]):
        self.files = files

    async def get(self, name: str):
        if name not in self.files:
            raise tornado.web.HTTPError(404)
        self.set_header("Content-Type", KINDS[name.rsplit(".", 1)[-1]] + "; charset=utf-8")
        self.set_header("Cache-Control", "no-cache")
        await self._hand_over(self.files[name])

    async def _hand_over(self, content: bytes) -> None:
        """Send it piece by piece, so that who does not read holds one of them and not for long."""
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
            self.request.connection.close()
        except tornado.iostream.StreamClosedError:
            pass


class Page(File):
    """The page itself, while there is room for one more."""

    def initialize(self, host: Host, files: dict[str, bytes], only: str):
        super().initialize(files)
        self.bench = host
        self.only = only

    async def get(self):
        turn_away_more(self, self.bench)
        await super().get(self.only)


class Delivery(Guarded):
    """Takes what a page of ours made, and from no other site's page."""

    def post(self):
        if not from_own_page(self.request.headers.get("Origin", ""), self.request):
            raise tornado.web.HTTPError(403)
        self.settings["way"].deliver(self.request.body)
        self.set_status(204)


class Socket(tornado.websocket.WebSocketHandler):
    def initialize(self, host: Host):
        self.bench = host
        self.way: Way = self.settings["way"]
        self.viewer: Viewer | None = None
        self.unsent = 0
        self.messages = 0
        self.counted_since = 0.0

    def prepare(self):
        turn_away(self)
        origin = self.request.headers.get("Origin", self.request.headers.get("Sec-Websocket-Origin"))
        if origin is not None and not from_own_page(origin, self.request):
            raise tornado.web.HTTPError(403)
        turn_away_more(self, self.bench)

    def set_default_headers(self):
        self.clear_header("Server")

    def check_origin(self, origin: str) -> bool:
        return from_own_page(origin, self.request)

    def open(self):
        self.set_nodelay(True)
        let_go = None if self.way.crowd is None else self._let_go
        heard = self.bench.heard_by(self.way.role)
        self.viewer = Viewer(self._send, heard, self.way.role, let_go, self.way.hears)
        self.bench.come(self.viewer)

    def on_message(self, message):
        if self.viewer not in self.bench.viewers:
            return None
        if self.way.crowd is not None and not self._calm():
            self._let_go()
            return None
        begun = time.perf_counter()
        self.bench.take(self.viewer, message)
        return self.bench.turn(time.perf_counter() - begun)

    def on_ping(self, data):
        if not self._calm():  # no browser sends any
            self._let_go()

    def on_close(self):
        if self.close_code == 1009:
            log.warning("a page sent more than %d bytes at once; its socket is closed", LARGEST_MESSAGE)
        self.bench.viewers.discard(self.viewer)

    def write_error(self, status_code, **_):
        self.finish()  # no browser shows it

    def _calm(self) -> bool:
        now = time.monotonic()
        if now - self.counted_since > CALM:
            self.counted_since, self.messages = now, 0
        self.messages += 1
        return self.messages <= MESSAGES_IN_CALM

    def _let_go(self) -> None:
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
            self._let_go()

    def _sent(self, future) -> None:
        self.unsent -= 1
        if not future.cancelled():  # as what is left is when the program ends
            future.exception()

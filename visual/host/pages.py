"""Answers to browsers: the page, its files, and what a page posts.

Another site's page must not reach the bench through a visitor's browser: the door checks every request, and a socket has to come
from a page that was served here.
"""

from __future__ import annotations

import asyncio
import hashlib
import logging
import re
from importlib.resources import files
from importlib.resources.abc import Traversable
from typing import Any

import tornado.iostream
import tornado.web
import tornado.websocket
from tornado.http1connection import HTTP1Connection
from tornado.routing import AnyMatches, PathMatches, Router, Rule, RuleRouter

from visual.host import bridge
from visual.host.access.admission import FULL, FULL_FROM_THERE, FULL_OF_YOURS, from_own_page, turn_away, turn_away_more
from visual.host.access.connections import PATIENCE
from visual.host.encoding import LARGEST_MESSAGE
from visual.host.endpoints import Endpoint
from visual.host.sockets import Socket
from visual.host.viewers import Audience

log = logging.getLogger("thumbwise")

PART = re.compile(rb"<!-- part: ([\w-]+) -->\n")  # stands in a page for the file of that name in `parts/`
KINDS = {
    "html": "text/html; charset=utf-8",
    "js": "text/javascript; charset=utf-8",
    "css": "text/css; charset=utf-8",
    "png": "image/png",
    "jpeg": "image/jpeg",
}
AGAIN = 5  # s after which a page that was refused for want of room asks again by itself, for there nobody may be at a keyboard
PIECE = 64 * 1024  # bytes of a file that may wait for a browser to read them
WHY_FULL = {
    FULL: "the room is full; try again when somebody has left",
    FULL_FROM_THERE: "the limit for your network address is reached; try again when somebody there has left",
    FULL_OF_YOURS: "you have this page open too many times; close one and try again",
}
HALF_OPEN = 60.0  # s between pings; a page that does not answer one is disconnected


def router(host: Audience, endpoint: Endpoint) -> Router:
    """The endpoint and those beside it."""
    beside = [Rule(PathMatches(f"{other.door.prefix}(?:/.*)?"), application(host, other)) for other in endpoint.beside]
    return RuleRouter([*beside, Rule(AnyMatches(), application(host, endpoint))])


def application(host: Audience, endpoint: Endpoint) -> tornado.web.Application:
    page = page_files()
    scripts = bridge.page_scripts()
    before = endpoint.door.prefix
    return tornado.web.Application(
        [
            *((f"{before}/{path}", Page, {"host": host, "files": page, "only": name}) for path, name in endpoint.pages.items()),
            (rf"{before}/page/((?:[\w.-]+/)?[\w.-]+)", File, {"files": page}),
            (rf"{before}/vpython/([\w.-]+)", File, {"files": scripts}),
            (f"{before}/socket", Socket, {"host": host}),
            *([(before, Begin)] if before else []),
            (rf"{before}/pictures/(\w+\.\w+)", Kept, {"host": host}),
            *([(f"{before}/delivery", Delivery)] if endpoint.deliver else []),
            *([(f"{before}/upload", Upload)] if endpoint.upload else []),
        ],
        default_handler_class=Nothing,
        log_function=_log_refusals,
        websocket_max_message_size=LARGEST_MESSAGE,
        websocket_ping_interval=HALF_OPEN,
        endpoint=endpoint,
    )


def page_files() -> dict[str, bytes]:
    """The files that may be asked for, by their path below the page's folder, such as `styles/style.css`; each page with its parts."""
    found = _files_in(files("visual.page"))
    pages = [name for name in found if name.endswith(".html")]
    return found | {name: PART.sub(lambda part: found[f"parts/{part[1].decode()}.html"], found[name]) for name in pages}


def _files_in(folder: Traversable, before: str = "") -> dict[str, bytes]:
    found: dict[str, bytes] = {}
    for entry in folder.iterdir():
        if entry.is_dir():
            found |= _files_in(entry, f"{before}{entry.name}/")
        elif entry.name.rpartition(".")[2] in KINDS:
            found[before + entry.name] = entry.read_bytes()
    return found


def _log_refusals(handler: tornado.web.RequestHandler) -> None:
    if handler.get_status() >= 400 and handler.settings["endpoint"].crowd is None:
        log.warning("refused: %d %r %r", handler.get_status(), handler.request.method, handler.request.uri[:200])


def why_refused(status: int, reason: str | None) -> str:
    """The words for a refused visitor."""
    if status == 429:
        return "too many wrong codes from your address; wait a minute and try again"
    if status == 503 and reason in WHY_FULL:
        return WHY_FULL[reason]
    return "there is nothing here"


class Guarded(tornado.web.RequestHandler):
    """Answers those whom the door lets in, and gives nothing away about the server."""

    def prepare(self) -> None:
        self.visitor = turn_away(self)

    def set_default_headers(self) -> None:
        self.clear_header("Server")
        self.set_header("X-Content-Type-Options", "nosniff")
        self.set_header("Referrer-Policy", "no-referrer")
        self.set_header(
            "Content-Security-Policy",
            # VPython's libraries build functions from text, and set styles and handlers as attributes
            "default-src 'self'; script-src 'self' 'unsafe-eval'; script-src-attr 'unsafe-inline'; "
            "style-src 'self' 'unsafe-inline'; img-src 'self' data: blob:; "
            "frame-ancestors 'self'; base-uri 'none'; form-action 'none'",
        )

    def write_error(self, status_code: int, **found: Any) -> None:
        self.set_header("Content-Type", "text/plain; charset=utf-8")
        if status_code == 503:
            self.set_header("Refresh", str(AGAIN))
        self.finish(f"{status_code}: {why_refused(status_code, getattr(found.get('exc_info', (None, None))[1], 'reason', None))}.\n")


class Nothing(Guarded):
    def prepare(self) -> None:
        super().prepare()
        raise tornado.web.HTTPError(404)


class Begin(Guarded):
    """The address as somebody types it, without the slash at its end."""

    def get(self) -> None:
        self.redirect(self.request.path.rsplit("/", 1)[-1] + "/")  # relative, as a proxy may put a path before it


class HandsOver(Guarded):
    """Sends one of the files that are kept in memory."""

    async def hand_over(self, name: str, content: bytes) -> None:
        """Send it piece by piece, so that a browser that does not read holds one piece, and not for long."""
        self.set_header("Content-Type", KINDS[name.rsplit(".", 1)[-1]])
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
            assert isinstance(self.request.connection, HTTP1Connection)  # the server has no other
            self.request.connection.close()
        except tornado.iostream.StreamClosedError:
            pass


class File(HandsOver):
    """A file by name, from those read at the start: no path leads out of the folder."""

    def initialize(self, files: dict[str, bytes]) -> None:
        self.files = files

    async def get(self, name: str) -> None:
        if name not in self.files:
            raise tornado.web.HTTPError(404)
        await self.hand_over(name, self.files[name])


class Kept(HandsOver):
    """A picture of the instructor's own, of those that the host has now."""

    def initialize(self, host: Audience) -> None:
        self.bench = host

    async def get(self, name: str) -> None:
        if name not in self.bench.pictures:
            raise tornado.web.HTTPError(404)
        await self.hand_over(name, self.bench.pictures[name])


class Page(HandsOver):
    """The page itself, if there is room for one more."""

    def initialize(self, host: Audience, files: dict[str, bytes], only: str) -> None:
        self.bench = host
        self.content = files[only]
        self.only = only

    async def get(self) -> None:
        turn_away_more(self, self.bench, self.visitor)
        await self.hand_over(self.only, self.content)


class Delivery(Guarded):
    """Takes what a page of ours posts, and nothing from another site's page."""

    def post(self) -> None:
        if not from_own_page(self.request.headers.get("Origin", ""), self.request):
            raise tornado.web.HTTPError(403)
        self.settings["endpoint"].deliver(self.request.body)
        self.set_status(204)


class Upload(Guarded):
    """Takes a file from a page of ours and answers with the name under which it is kept, or with a sentence why it is not."""

    async def post(self) -> None:
        if not from_own_page(self.request.headers.get("Origin", ""), self.request):
            raise tornado.web.HTTPError(403)
        self.set_header("Content-Type", "text/plain; charset=utf-8")
        try:
            self.finish(await self.settings["endpoint"].upload(self.request.body, self.get_query_argument("name", "")))
        except ValueError as refused:
            self.set_status(422)
            self.finish(str(refused))

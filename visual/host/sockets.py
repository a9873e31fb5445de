"""The socket of each open page."""

from __future__ import annotations

import asyncio
import logging
import time
from typing import Any

import tornado.web
import tornado.websocket

from visual.host.access.admission import from_own_page, turn_away, turn_away_more
from visual.host.encoding import LARGEST_MESSAGE
from visual.host.endpoints import Endpoint
from visual.host.viewers import Audience, Viewer

log = logging.getLogger("thumbwise")

CALM = 2.0  # s
MESSAGES_IN_CALM = 200  # from a page of a crowd in that time; at thirty pictures a second it sends 60
UNSENT = 8  # messages that may wait for a page to read them


class Socket(tornado.websocket.WebSocketHandler):
    def initialize(self, host: Audience) -> None:
        self.bench = host
        self.endpoint: Endpoint = self.settings["endpoint"]
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
        disconnect = None if self.endpoint.crowd is None else self._disconnect
        heard = self.bench.heard_by(self.endpoint.role)
        self.viewer = Viewer(self._send, heard, self.endpoint.role, disconnect, self.endpoint.hears, self.visitor, self.request.remote_ip)
        self.bench.come(self.viewer)

    def on_message(self, message: str | bytes) -> asyncio.Future[None] | None:
        if self.viewer not in self.bench.viewers:
            return None
        if self.endpoint.crowd is not None and not self._calm():
            self._disconnect()
            return None
        begun = time.perf_counter()
        self.bench.receive(self.viewer, message)
        return self.bench.turn(time.perf_counter() - begun)

    def on_ping(self, data: bytes) -> None:
        if not self._calm():  # browsers send none
            self._disconnect()

    def on_close(self) -> None:
        if self.close_code == 1009:
            log.warning("a page sent more than %d bytes at once; its socket is closed", LARGEST_MESSAGE)
        self.bench.viewers.discard(self.viewer)

    def write_error(self, status_code: int, **_: Any) -> None:
        self.finish()  # browsers do not show it

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
        if not future.cancelled():  # as when the program ends
            future.exception()

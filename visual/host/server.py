"""Runs the bench and updates every open page, in one loop.

There may be several endpoints (endpoints.py), each with its pages, its role and its door (doors.py): the bench's own is open to
this machine alone. What the browsers ask for is answered in pages.py.
"""

from __future__ import annotations

import asyncio
import logging
import socket
import time
from collections.abc import Callable
from typing import Any

import tornado.netutil

from visual.host import bridge
from visual.host.connections import BoundedServer
from visual.host.endpoints import Endpoint
from visual.host.messages import LARGEST_MESSAGE, encoded, parse_message
from visual.host.pages import ways_in
from visual.host.viewers import Chart, Viewer, Written

log = logging.getLogger("thumbwise")

FRAME = 1 / 36  # s
UNSEEN = 0.08  # s from picture to picture while no page is through with the last one
LONGEST_STEP = 0.1  # s: what a sleeping laptop or a stalled machine may skip at once
LARGEST_DELIVERY = 64 * 1024 * 1024  # bytes of a picture
BREATH = 0.001  # s of work for a page, beyond which it waits for its turn
LONGEST_TURN = 0.5  # s that a page waits for it
NEW_EVERY = 3  # pictures: to tell new pages everything takes half the time of one
CROWD_EVERY = 2  # pictures: what a room's wireless network can carry to thirty
SILENCE = 20.0  # s without a word on what it was sent, after which a page of a crowd is let go


# Long, for publishing, frames and messages take turns in one loop, by one clock.
class Host:
    """The bench's side of every open page.

    `publish` replaces what the pages show under a key, `publish_to` does so for the pages of one role only. Both
    put it in JSON at once, so that who says what cannot be told (`TypeError`) is the one who hears of it;
    `on_message(message, viewer)` is called with each well-formed message of a page. What a page may do goes by its
    `viewer.role`.
    """

    def __init__(self) -> None:
        self.stream = bridge.ObjectStream()
        self.chart = Chart()
        self.published: dict[str, object] = {}
        self.published_to: dict[str, dict[str, object]] = {}  # by role
        self._told: dict[str | None, dict[str, str]] = {None: {}}  # the same in JSON, by role, None being every page's
        self.viewers: set[Viewer] = set()
        self.on_message: Callable[[dict[str, Any], Viewer], object] = lambda message, viewer: None
        self.bytes_sent = 0
        self.frames = 0
        self._wake = asyncio.Event()
        self._rest_until = 0.0  # by the loop's clock
        self._new: list[Viewer] = []
        self._begun_with = -NEW_EVERY  # the frame in which new pages were last told everything

    def publish(self, key: str, value: object) -> None:
        if self._is_new(None, key, value):
            self.published[key] = value
            for viewer in self.viewers:
                viewer.note(key)

    def publish_to(self, role: str, key: str, value: object) -> None:
        """Say to the pages of that role alone; `key` is none that `say` uses."""
        if self._is_new(role, key, value):
            self.published_to.setdefault(role, {})[key] = value
            for viewer in self.viewers:
                if viewer.role == role:
                    viewer.note(key)

    def _is_new(self, role: str | None, key: str, value: object) -> bool:
        told, text = self._told.setdefault(role, {}), encoded(value)
        if told.get(key) == text:
            return False
        told[key] = text
        return True

    def heard_by(self, role: str) -> dict[str, str]:
        """Everything that a page of that role may be told, in JSON."""
        return self._told[None] | self._told.get(role, {})

    def name(self, name: str, drawn: object) -> None:
        self.stream.name(name, drawn)

    def count(self, role: str) -> int:
        """How many pages of that role are open."""
        return sum(viewer.role == role for viewer in self.viewers)

    def flush(self) -> None:
        """Tell every page that is ready what has changed."""
        _, changed, names = self.stream.drain()
        self.publish("names", dict(names))
        written: Written = {}
        for viewer in list(self.viewers):
            viewer.attributes.update(changed)
            if viewer.in_step and self.frames % CROWD_EVERY:
                continue
            self.bytes_sent += viewer.tell(self.stream, self.heard_by(viewer.role), self.chart, written)
            if viewer.disconnect is not None and viewer.silent > SILENCE:
                viewer.disconnect()

    def receive(self, viewer: Viewer, text: str | bytes) -> None:
        """One message from a page. What is not understood is logged in a line and goes no further."""
        message = parse_message(text)
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

    def turn(self, took: float) -> asyncio.Future[None]:
        """Done when a page that was given so many seconds of the program's time may ask for more.

        Whatever all pages together ask for, as much time as goes into it is left for the pictures, and who asks much
        waits with the others. What took next to nothing waits for nobody.
        """
        loop = asyncio.get_running_loop()
        come: asyncio.Future[None] = loop.create_future()
        begins = loop.time()
        if took >= BREATH:
            rest = min(max(0.0, self._rest_until - begins), LONGEST_TURN)
            begins += rest
            self._rest_until = begins + 2 * took
        loop.call_at(begins, _come, come)
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

    async def run(self, frame: Callable[[float], object]) -> None:
        """Call `frame(seconds)` every `FRAME` while a page is open, and tell the pages what came of it. While none of them
        has drawn the last picture yet, the next one waits for it."""
        last = time.perf_counter()
        while True:
            now = time.perf_counter()
            if self.viewers and now - last >= self._every * 0.95:
                frame(min(now - last, LONGEST_STEP))
                last = now
                self.frames += 1
                self._begin_with_the_new()
            self.flush()
            self._wake.clear()
            pause = max(0.0, last + self._every - time.perf_counter()) if self.viewers else 3600
            try:
                await asyncio.wait_for(self._wake.wait(), pause)
            except TimeoutError:
                pass
            if not self.viewers:
                last = time.perf_counter()

    @property
    def _every(self) -> float:
        """Seconds from one picture to the next."""
        return FRAME if self._new or any(viewer.ready or viewer.in_step for viewer in self.viewers) else UNSEEN

    def listen(self, port: int, address: str = "127.0.0.1", way: Endpoint | None = None) -> int:
        """Open the port (0: any free one) to one way in and return its number; `OSError` when it is taken."""
        sockets = tornado.netutil.bind_sockets(port, address)
        self._serve(sockets, way)
        return int(sockets[0].getsockname()[1])

    def listen_on_socket(self, path: str, way: Endpoint | None = None) -> None:
        """Open one way in on a Unix socket, which this user alone may use: a proxy of his, as a rule."""
        self._serve([tornado.netutil.bind_unix_socket(path, 0o600)], way)

    def _serve(self, sockets: list[socket.socket], way: Endpoint | None) -> None:
        way = way or Endpoint()
        server = BoundedServer(
            ways_in(self, way),
            max_header_size=LARGEST_MESSAGE,  # an address that is too long shall be told so by the bench
            max_body_size=LARGEST_DELIVERY if way.deliver else LARGEST_MESSAGE,
        )
        server.add_sockets(sockets)


def _come(future: asyncio.Future[None]) -> None:
    if not future.done():
        future.set_result(None)

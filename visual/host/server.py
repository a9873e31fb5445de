"""Runs the bench and updates every open page, in one loop.

There may be several endpoints (endpoints.py), each with its pages, its role and its door (access/doors.py); the bench's own is open to
this machine only. pages.py answers the browsers.
"""

from __future__ import annotations

import asyncio
import contextlib
import logging
import socket
import time
from collections.abc import Callable
from typing import Any, Unpack

import tornado.netutil

from visual.host import bridge
from visual.host.access.connections import BoundedServer
from visual.host.encoding import LARGEST_MESSAGE, encoded, parse_message
from visual.host.endpoints import Endpoint
from visual.host.messages import Alive, Published, Ready
from visual.host.pages import router
from visual.host.viewers import Chart, Viewer, Written

log = logging.getLogger("thumbwise")

FRAME = 1 / 36  # s
UNSEEN = 0.08  # s between pictures while no page has finished the last one
LONGEST_STEP = 0.1  # s that a scene is advanced at most, after a stall or a laptop's sleep
LARGEST_DELIVERY = 64 * 1024 * 1024  # bytes of a picture
BREATH = 0.001  # s of work for a page; beyond that it waits for its turn
LONGEST_TURN = 0.5  # s that a page waits for it
NEW_EVERY = 3  # pictures: sending a new page everything takes half the time of one
CROWD_EVERY = 2  # pictures: as many as a room's wireless network can carry to thirty pages
SILENCE = 20.0  # s without an answer, after which a page of a crowd is disconnected


# Long, for publishing, frames and messages take turns in one loop, by one clock.
class Host:
    """The bench's side of every open page.

    `publish` and `publish_to` encode at once, so that whoever publishes what cannot be sent gets the `TypeError`.
    `on_message(message, viewer)` is called with each well-formed message of a page; `encoding.request` makes a `Request` of it. What
    a page may do depends on its `viewer.role`.
    """

    def __init__(self) -> None:
        self.stream = bridge.ObjectStream()
        self.chart = Chart()
        self.published: dict[str, Any] = {}
        self.published_to: dict[str, dict[str, object]] = {}  # by role, then by key
        self._told: dict[str | None, dict[str, str]] = {None: {}}  # both in JSON, by role; None is every page
        self.pictures: dict[str, bytes] = {}  # of the instructor's own, which pages may ask for by these names
        self.viewers: set[Viewer] = set()
        self.on_message: Callable[[dict[str, Any], Viewer], object] = lambda message, viewer: None
        self.bytes_sent = 0
        self.frames = 0
        self._wake = asyncio.Event()
        self._rest_until = 0.0  # by the loop's clock
        self._new: list[Viewer] = []
        self._begun_with = -NEW_EVERY  # the frame in which new pages were last sent everything

    def publish(self, **values: Unpack[Published]) -> None:
        """Replace what every page shows under these keys."""
        for key, value in values.items():
            if self._is_new(None, key, value):
                self.published[key] = value
                for viewer in self.viewers:
                    viewer.note(key)

    def publish_to(self, role: str, **values: Unpack[Published]) -> None:
        """Replace what the pages of that role alone show under these keys, none of which `publish` uses."""
        for key, value in values.items():
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
        """Everything that a page of that role may be sent, in JSON by key."""
        return self._told[None] | self._told.get(role, {})

    def name(self, name: str, drawn: object) -> None:
        self.stream.name(name, drawn)

    def count(self, role: str) -> int:
        """How many pages of that role are open."""
        return sum(viewer.role == role for viewer in self.viewers)

    def flush(self) -> None:
        """Send every page that is ready what has changed."""
        _, changed, names = self.stream.drain()
        self.publish(names=dict(names))
        written: Written = {}
        for viewer in list(self.viewers):
            viewer.attributes.update(changed)
            if viewer.in_step and self.frames % CROWD_EVERY:
                continue
            self.bytes_sent += viewer.tell(self.stream, self.heard_by(viewer.role), self.chart, written)
            if viewer.disconnect is not None and viewer.silent > SILENCE:
                viewer.disconnect()

    def receive(self, viewer: Viewer, text: str | bytes) -> None:
        """Handle one message from a page. One that cannot be read is logged in a line and dropped."""
        message = parse_message(text)
        if message is None:
            log.warning("a page sent something that is not a message (%d characters); ignored", len(text))
            return
        if message["do"] == Ready.do:
            viewer.ready = viewer.ready or not viewer.fresh  # nothing was sent yet that could be on screen
            if viewer.in_step:
                return
        elif message["do"] == Alive.do:
            viewer.send('{"alive":true}')
        else:
            self.on_message(message, viewer)
        self._wake.set()

    def turn(self, took: float) -> asyncio.Future[None]:
        """A future that is done when a page whose message took so many seconds may send the next.

        However much all pages ask for, the pictures get as much time as their requests, and a page that asks for much waits in
        turn. A request that took next to nothing does not wait.
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
        """Add a page, which is sent everything with one of the next pictures. That is a lot, so pages that come close together
        are sent it together."""
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
        """Call `frame(seconds)` every `FRAME` while a page is open, and send the pages what changed. While no page has drawn the
        last picture, the next one waits."""
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
            with contextlib.suppress(TimeoutError):
                async with asyncio.timeout(pause):  # not wait_for, which up to Python 3.11 can lose a cancellation
                    await self._wake.wait()
            if not self.viewers:
                last = time.perf_counter()

    @property
    def _every(self) -> float:
        """Seconds from one picture to the next."""
        return FRAME if self._new or any(viewer.ready or viewer.in_step for viewer in self.viewers) else UNSEEN

    def listen(self, port: int, address: str = "127.0.0.1", endpoint: Endpoint | None = None) -> int:
        """Open the port (0: any free one) to an endpoint and return its number; `OSError` if it is taken."""
        sockets = tornado.netutil.bind_sockets(port, address)
        self._serve(sockets, endpoint)
        return int(sockets[0].getsockname()[1])

    def listen_on_socket(self, path: str, endpoint: Endpoint | None = None) -> None:
        """Open an endpoint on a Unix socket that only this user may use, as a rule for a proxy."""
        self._serve([tornado.netutil.bind_unix_socket(path, 0o600)], endpoint)

    def _serve(self, sockets: list[socket.socket], endpoint: Endpoint | None) -> None:
        endpoint = endpoint or Endpoint()
        server = BoundedServer(
            router(self, endpoint),
            max_header_size=LARGEST_MESSAGE,  # the bench itself reports an address that is too long
            max_body_size=LARGEST_DELIVERY if endpoint.deliver else max(endpoint.largest_upload, LARGEST_MESSAGE),
        )
        server.add_sockets(sockets)


def _come(future: asyncio.Future[None]) -> None:
    if not future.done():
        future.set_result(None)

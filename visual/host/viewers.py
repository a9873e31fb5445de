"""What each open page has still to be sent. A slow page is sent less, and always the newest."""

from __future__ import annotations

import asyncio
import math
import time
from collections import deque
from collections.abc import Callable, Iterable
from typing import Any, Protocol, TypeAlias, Unpack

from visual.host.bridge import ObjectStream
from visual.host.encoding import encoded
from visual.host.messages import Published

CHART_POINTS = 1200

Written: TypeAlias = dict[tuple[Any, ...], bytes]  # messages, by everything they depend on


class Chart:
    """The newest points of the chart, counted, so that each page is sent those it has not had."""

    def __init__(self) -> None:
        self.points: deque[list[float | None]] = deque(maxlen=CHART_POINTS)
        self.count = 0
        self.begun = 0

    def add(self, point: list[float]) -> None:
        """Add a point: the time, s, then each line's value; a line has a gap where its value is not finite."""
        values = (float(f"{value:.5g}") for value in point[1:])
        self.points.append([round(float(point[0]), 4), *(value if math.isfinite(value) else None for value in values)])
        self.count += 1

    def clear(self) -> None:
        """Start the chart afresh. That counts as a point, so that a page that has had every point is told."""
        self.points.clear()
        self.count += 1
        self.begun = self.count

    def since(self, number: int) -> list[list[float | None]]:
        """The points after the first `number`, as far as they are still kept."""
        missing = min(self.count - number, len(self.points))
        return list(self.points)[len(self.points) - missing :] if missing else []


class Viewer:
    """One open page: how far it has got in the stream, and which keys have changed since its last message.

    `role`: what the page is; "bench" may do everything. `disconnect`, for a page of a crowd, drops one that no longer answers.
    Such a page is updated `in_step`: with the next picture, not as soon as it is ready, so that many pages are at the same
    place and share one message. `hears`: the keys that a page without a picture is sent, "stream" and "chart" included; `None`
    is all. `visitor` and network `address`: whose page it is in a crowd; a visitor may have several.
    """

    def __init__(
        self,
        send: Callable[[bytes | str], None],
        keys: Iterable[str],
        role: str = "bench",
        disconnect: Callable[[], None] | None = None,
        hears: frozenset[str] | None = None,
        visitor: str | None = None,
        address: str | None = "",
    ) -> None:
        self.send = send
        self.role = role
        self.disconnect = disconnect
        self.hears = hears
        self.in_step = disconnect is not None
        self.ready = True
        self.fresh = True
        self.commands = 0
        self.attributes: set[tuple[int, str]] = set()
        self.keys: set[str] = set()
        for key in keys:
            self.note(key)
        self.chart = 0
        self.told_at = time.monotonic()
        self.visitor = visitor
        self.address = address
        self._own: dict[str, str] = {}  # in JSON, by key, until it is sent

    @property
    def silent(self) -> float:
        """Seconds since it was sent a message that it has not yet answered."""
        return 0.0 if self.ready else time.monotonic() - self.told_at

    def hears_of(self, key: str) -> bool:
        return self.hears is None or key in self.hears

    def note(self, key: str) -> None:
        """Note that the value of that key has changed."""
        if self.hears_of(key):
            self.keys.add(key)

    @property
    def served(self) -> bool:
        """Whether the page has been sent, and has shown, all that was published to it alone."""
        return self.ready and not self._own

    def publish(self, **values: Unpack[Published]) -> None:
        """Send to this page alone, once, under keys that the host does not use."""
        self._own |= {key: encoded(value) for key, value in values.items()}

    def tell(self, stream: ObjectStream, said: dict[str, str], chart: Chart, written: Written) -> int:
        """Send everything new in one message, if the page has finished the last one; returns the number of bytes.

        `said` holds JSON by key. `written` keeps the messages written for the pages before this one, by how far they have got.
        """
        if not self.ready:
            return 0
        attributes = frozenset(() if self.fresh else self.attributes)
        place = self.role, self.fresh, self.commands, self.chart, frozenset(self.keys), attributes
        if place not in written:
            written[place] = self._written(stream, said, chart)
        self.commands = len(stream.commands)
        self.attributes.clear()
        self.keys.clear()
        self.chart = chart.count
        text = self._with_its_own(written[place])
        if text:
            self.ready = self.fresh = False
            self.told_at = time.monotonic()
            self.send(text)
        return len(text)

    def _with_its_own(self, text: bytes) -> bytes:
        own, self._own = _joined(self._own), {}
        return text[:-1] + b"," + own[1:] if text and own else text or own

    def _written(self, stream: ObjectStream, said: dict[str, str], chart: Chart) -> bytes:
        message = {key: said[key] for key in sorted(self.keys) if key in said}
        if self.hears_of("stream"):
            objects = stream.message(self.commands, stream.attributes if self.fresh else self.attributes, self.fresh)
            if objects:
                message["stream"] = objects
        if self.hears_of("chart"):
            points = chart.since(max(self.chart, chart.begun))
            if points or self.chart < chart.begun:
                message["chart"] = encoded({"clear": self.chart < chart.begun or self.fresh, "points": points})
        return _joined(message)


class Audience(Protocol):
    """What a socket needs of the host: the open pages, the instructor's pictures for them, and where messages go."""

    viewers: set[Viewer]
    pictures: dict[str, bytes]

    def heard_by(self, role: str) -> dict[str, str]: ...

    def come(self, viewer: Viewer) -> None: ...

    def receive(self, viewer: Viewer, text: str | bytes) -> None: ...

    def turn(self, took: float) -> asyncio.Future[None]: ...


def _joined(message: dict[str, str]) -> bytes:
    """One JSON object made of the JSON under each key; empty if there is none."""
    return f"{{{','.join(f'{encoded(key)}:{text}' for key, text in message.items())}}}".encode() if message else b""

"""What each open page has still to be sent. A slow page is sent less often, and always the newest."""

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

Written: TypeAlias = dict[tuple[Any, ...], bytes]  # what is told, by all that decides what it is


class Chart:
    """The newest points of the chart, numbered, so that each page gets what it has not had."""

    def __init__(self) -> None:
        self.points: deque[list[float | None]] = deque(maxlen=CHART_POINTS)
        self.count = 0
        self.begun = 0

    def add(self, point: list[float]) -> None:
        """One point: the time in seconds, then the lines' values; a line has a gap where its value is no number."""
        values = (float(f"{value:.5g}") for value in point[1:])
        self.points.append([round(float(point[0]), 4), *(value if math.isfinite(value) else None for value in values)])
        self.count += 1

    def clear(self) -> None:
        """Begin anew. That counts like a point: a page that has had every point has still to be told."""
        self.points.clear()
        self.count += 1
        self.begun = self.count

    def since(self, number: int) -> list[list[float | None]]:
        """The points after the first `number`, of those that are still kept."""
        missing = min(self.count - number, len(self.points))
        return list(self.points)[len(self.points) - missing :] if missing else []


class Viewer:
    """One open page: where it stands in the stream, and which keys have changed since it was last told.

    `role` says what the page is: "bench" is one that may do everything. A page of a crowd is one that can be `disconnect`
    when it says nothing any more. It is told `in_step`: the next message comes with the next picture, not as soon as it
    is ready, so that many such pages stand at the same place, and what they are told is written once. A page that has no
    picture is told only the keys that it `hears`, "stream" and "chart" among them; `None` is all. Of a crowd each page is
    some `visitor`'s, who may have several, and comes from a network `address`. `say` tells this page alone.
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
        self._own: dict[str, str] = {}  # in JSON, by key, until it is told

    @property
    def silent(self) -> float:
        """Seconds that it has not said a word on what it was told."""
        return 0.0 if self.ready else time.monotonic() - self.told_at

    def hears_of(self, key: str) -> bool:
        return self.hears is None or key in self.hears

    def note(self, key: str) -> None:
        """Something new was said under that key."""
        if self.hears_of(key):
            self.keys.add(key)

    def publish(self, **values: Unpack[Published]) -> None:
        """Send to this page alone, once, under keys that the host does not use."""
        self._own |= {key: encoded(value) for key, value in values.items()}

    def tell(self, stream: ObjectStream, said: dict[str, str], chart: Chart, written: Written) -> int:
        """Send all that is new in one message, if the page has taken the last one; how many bytes went.

        `said` holds JSON by key. `written` keeps what was written for the pages before this one, by where they stand.
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
    """What a socket needs of the host: the pages that are open, and where to take what a page says."""

    viewers: set[Viewer]

    def heard_by(self, role: str) -> dict[str, str]: ...

    def come(self, viewer: Viewer) -> None: ...

    def receive(self, viewer: Viewer, text: str | bytes) -> None: ...

    def turn(self, took: float) -> asyncio.Future[None]: ...


def _joined(message: dict[str, str]) -> bytes:
    """One object of what stands in JSON under each key; nothing of nothing."""
    return f"{{{','.join(f'{encoded(key)}:{text}' for key, text in message.items())}}}".encode() if message else b""

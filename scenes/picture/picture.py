"""Pictures of scenes: an installed browser draws the page without a window and returns what it has drawn."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Awaitable, Callable
from contextlib import AsyncExitStack, asynccontextmanager
from dataclasses import dataclass
from urllib.parse import urlencode

from scenes.bench.bench import Bench
from scenes.picture import browsers
from visual.host.endpoints import Endpoint
from visual.host.server import FRAME, Host

PATIENCE = 90.0  # s for a picture, on a slow machine
BEGINS = {"png": b"\x89PNG\r\n\x1a\n", "jpeg": b"\xff\xd8\xff"}  # of a file of that kind


class NoPicture(Exception):
    """Why there is no picture, in one sentence."""


@dataclass(frozen=True)
class Format:
    """How pictures are drawn: `size` as on a screen and how many `pixels` there are to each of its own; `kind`: PNG, or a JPEG on
    white for paper."""

    size: tuple[int, int]
    pixels: float = 1
    kind: str = "png"


async def drawn(
    scene: str,
    settings: dict,
    size: tuple[int, int],
    browser: str,
    *,
    view: str | None = None,
    seconds: float = 0.0,
    patience: float = PATIENCE,
) -> bytes:
    """The PNG of a scene after `seconds` as shown, `size` in pixels, drawn by the browser at the path `browser`.

    `ValueError` for an unknown scene, setting or view; `NoPicture` if the browser does not draw it.
    """
    bench = Bench(Host(), scene, settings, may_wait=True)
    bench.scene.restart()
    if view is not None:
        bench.look(view)
    for _ in range(round(seconds / FRAME)):
        bench.move(FRAME)
    bench.running = False
    bench.show_state()
    async with drawing(bench, Format(size), browser, patience) as taken:
        return await taken()


@asynccontextmanager
async def drawing(bench: Bench, wanted: Format, browser: str, patience: float = PATIENCE) -> AsyncIterator[Callable[[], Awaitable[bytes]]]:
    """A browser that draws what stands on the bench: what this gives is called for the picture, and in a lesson once for each step.

    `NoPicture` if the browser does not draw it within `patience`, s.
    """
    arrived: asyncio.Queue[bytes] = asyncio.Queue()
    port = bench.host.listen(0, endpoint=Endpoint({"": "still.html"}, "still", deliver=arrived.put_nowait))
    address = f"http://localhost:{port}/#" + urlencode({"width": wanted.size[0], "height": wanted.size[1], "kind": wanted.kind})
    serving = asyncio.create_task(bench.host.run(bench.frame))
    async with AsyncExitStack() as stack:
        stack.callback(serving.cancel)
        try:
            process = await stack.enter_async_context(browsers.showing(browser, address, wanted.pixels))
        except OSError as wrong:
            raise NoPicture(f"The browser {browser} cannot be started: {wrong.strerror}.") from None
        ended = asyncio.create_task(process.wait())
        stack.callback(ended.cancel)

        async def taken() -> bytes:
            picture = await _first(arrived, ended, browser, patience)
            if not picture.startswith(BEGINS[wanted.kind]):
                raise NoPicture(f"The browser {browser} returned something that is not a picture.")
            return picture

        yield taken


async def _first(arrived: asyncio.Queue[bytes], ended: asyncio.Task, browser: str, patience: float) -> bytes:
    """The next picture to arrive."""
    coming = asyncio.create_task(arrived.get())
    await asyncio.wait({coming, ended}, timeout=patience, return_when=asyncio.FIRST_COMPLETED)
    if coming.done():
        return coming.result()
    coming.cancel()
    if ended.done():
        raise NoPicture(f"The browser {browser} ended before it had drawn the picture.")
    raise NoPicture(f"The browser {browser} drew nothing within {patience:g} seconds.")

"""A picture of a scene as a PNG: an installed browser draws the page without a window and returns the picture."""

from __future__ import annotations

import asyncio

from scenes.bench.bench import Bench
from scenes.picture import browsers
from visual.host.endpoints import Endpoint
from visual.host.server import FRAME, Host

PATIENCE = 90.0  # s, for a slow machine
PNG = b"\x89PNG\r\n\x1a\n"


class NoPicture(Exception):
    """Why there is no picture, in one sentence."""


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
    host = Host()
    bench = Bench(host, scene, settings, may_wait=True)
    bench.scene.restart()
    if view is not None:
        bench.look(view)
    for _ in range(round(seconds / FRAME)):
        bench.move(FRAME)
    bench.running = False
    bench.show_state()
    arrived: asyncio.Future[bytes] = asyncio.get_running_loop().create_future()

    def deliver(png: bytes) -> None:
        if not arrived.done():
            arrived.set_result(png)

    port = host.listen(0, endpoint=Endpoint({"": "still.html"}, "still", deliver=deliver))
    serving = asyncio.create_task(host.run(bench.frame))
    try:
        png = await _waited_for(arrived, browser, f"http://localhost:{port}/#{size[0]}x{size[1]}", patience)
    finally:
        serving.cancel()
    if not png.startswith(PNG):
        raise NoPicture(f"The browser {browser} returned something that is not a picture.")
    return png


async def _waited_for(arrived: asyncio.Future, browser: str, address: str, patience: float) -> bytes:
    try:
        async with browsers.showing(browser, address) as process:
            ended = asyncio.create_task(process.wait())
            await asyncio.wait({arrived, ended}, timeout=patience, return_when=asyncio.FIRST_COMPLETED)
            if arrived.done():
                return arrived.result()
            if ended.done():
                raise NoPicture(f"The browser {browser} ended before it had drawn anything.")
            ended.cancel()
            raise NoPicture(f"The browser {browser} drew nothing within {patience:g} seconds.")
    except OSError as wrong:
        raise NoPicture(f"The browser {browser} cannot be started: {wrong.strerror}.") from None

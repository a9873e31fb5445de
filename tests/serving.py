"""A host that is served while a test talks to it, and plain clients that do."""

from __future__ import annotations

import asyncio

import tornado.httpclient
import tornado.websocket


def served(host, conversation, frame=lambda seconds: None, endpoint=None, patience=100):
    """Serve `host` while `conversation(port)` runs, `patience` s at the most, and return what that gives."""

    async def both():
        port = host.listen(0, endpoint=endpoint)
        serving = asyncio.create_task(host.run(frame))
        try:
            return await asyncio.wait_for(conversation(port), patience)
        finally:
            serving.cancel()

    return asyncio.run(both())


async def connected(port: int, path: str = "", **headers):
    request = tornado.httpclient.HTTPRequest(f"ws://localhost:{port}{path}/socket", headers=headers)
    return await tornado.websocket.websocket_connect(request)


async def fetched(port: int, raw: str) -> bytes:
    """Send a request as it stands, since clients clean a path up, and give the whole answer."""
    reader, writer = await asyncio.open_connection("127.0.0.1", port)
    writer.write(raw.replace("\n", "\r\n").encode())
    answer = await reader.read(100000)
    writer.close()
    return answer

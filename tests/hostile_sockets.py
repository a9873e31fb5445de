"""Who means ill on the wire: requests and frames that no browser sends, and clients that stall, flood or never finish."""

from __future__ import annotations

import asyncio
import contextlib
import json
import random
import socket
import struct
import weakref
from collections.abc import Awaitable, Callable

import tornado.httpclient
import tornado.iostream
import tornado.websocket

SHAKE = (
    "GET {path}/socket HTTP/1.1\r\nHost: localhost:{port}\r\nUpgrade: websocket\r\nConnection: Upgrade\r\n"
    "Sec-WebSocket-Key: x3JJHMbDL1EzLkh9GBhXDw==\r\nSec-WebSocket-Version: 13\r\n{more}\r\n"
)
HOST = "Host: localhost:{port}\r\n"

REFUSED = {  # requests that are to get another answer than 200 or 101, or none
    "noise": b"\x00\xff\x13noise\r\n\r\n",
    "TLS": bytes.fromhex("16030100c8010000c40303") + b"\x07" * 200 + b"\r\n\r\n",
    "no version": b"GET /\r\n\r\n",
    "no Host": b"GET / HTTP/1.1\r\n\r\n",
    "HTTP 1.0": b"GET / HTTP/1.0\r\n\r\n",
    "two Hosts": f"GET / HTTP/1.1\r\n{HOST}Host: elsewhere.example\r\n\r\n",
    "rebound name": "GET / HTTP/1.1\r\nHost: elsewhere.example:{port}\r\n\r\n",
    "name with a user": "GET / HTTP/1.1\r\nHost: elsewhere.example@localhost\r\n\r\n",
    "name with a path": "GET / HTTP/1.1\r\nHost: localhost/elsewhere.example\r\n\r\n",
    "name that begins alike": "GET / HTTP/1.1\r\nHost: localhost.elsewhere.example\r\n\r\n",
    "whole address": f"GET http://elsewhere.example/ HTTP/1.1\r\n{HOST}\r\n",
    "star": f"OPTIONS * HTTP/1.1\r\n{HOST}\r\n",
    "no stroke": f"GET x HTTP/1.1\r\n{HOST}\r\n",
    "stray signs": f"G\x1b[31mET / HTTP/1.1\r\n{HOST}\r\n",
    "up": f"GET /page/../../server.py HTTP/1.1\r\n{HOST}\r\n",
    "up, coded": f"GET /page/%2e%2e%2f%2e%2e%2fserver.py HTTP/1.1\r\n{HOST}\r\n",
    "up, coded twice": f"GET /page/%252e%252e/server.py HTTP/1.1\r\n{HOST}\r\n",
    "up, other stroke": f"GET /page/..\\..\\server.py HTTP/1.1\r\n{HOST}\r\n",
    "up, long": f"GET /vpython/....//....//etc/passwd HTTP/1.1\r\n{HOST}\r\n",
    "no characters": f"GET /page/%ff%fe%00%zz HTTP/1.1\r\n{HOST}\r\n",
    "endless address": "GET /?" + "a" * 200_000 + f" HTTP/1.1\r\n{HOST}\r\n",
    "endless headers": f"GET / HTTP/1.1\r\n{HOST}" + "X-More: more\r\n" * 20_000 + "\r\n",
    "huge body": f"POST / HTTP/1.1\r\n{HOST}Content-Length: 99999999999\r\n\r\n",
    "negative body": f"POST / HTTP/1.1\r\n{HOST}Content-Length: -1\r\n\r\n",
    "two lengths": f"POST / HTTP/1.1\r\n{HOST}Content-Length: 3\r\nTransfer-Encoding: chunked\r\n\r\nabc",
    "no chunk": f"POST / HTTP/1.1\r\n{HOST}Transfer-Encoding: chunked\r\n\r\nzz\r\n",
    "another's page": SHAKE.replace("{more}", "Origin: http://elsewhere.example\r\n"),
    "nobody's page": SHAKE.replace("{more}", "Origin: null\r\n"),
    "broken origin": SHAKE.replace("{more}", "Origin: http://[\r\n"),
    "old origin": SHAKE.replace("{more}", "Sec-WebSocket-Origin: http://elsewhere.example\r\n"),
    "two origins": SHAKE.replace("{more}", "Origin: http://localhost:{port}\r\nOrigin: http://elsewhere.example\r\n"),
    "no key": SHAKE.replace("Sec-WebSocket-Key", "X-Key").replace("{more}", ""),
    "no such version": SHAKE.replace("Version: 13", "Version: 99").replace("{more}", ""),
    "posted": SHAKE.replace("GET", "POST").replace("{more}", ""),
}  # fmt: skip


def request(name: str, port: int) -> bytes:
    """A request of those that are to be refused."""
    text = REFUSED[name]
    return text if isinstance(text, bytes) else text.replace("{path}", "").replace("{port}", str(port)).encode("latin-1")


def frame(data: bytes | str, opcode: int = 1, *, last: bool = True) -> bytes:
    """A frame as a browser sends it (RFC 6455, 5.2)."""
    data = data.encode() if isinstance(data, str) else data
    if len(data) < 126:
        size = bytes([128 | len(data)])
    else:
        size = b"\xfe" + struct.pack("!H", len(data)) if len(data) < 65536 else b"\xff" + struct.pack("!Q", len(data))
    return bytes([128 * last | opcode]) + size + b"\0\0\0\0" + data


FRAMES = {
    "binary": frame(b"\x00\x01\xfe", 2),
    "no UTF-8": frame(b"\xff\xfe"),
    "no text": frame(b""),
    "length of 2^62": b"\x81\xff" + struct.pack("!Q", 2**62) + b"abcd",
    "length below 0": b"\x81\xff" + b"\xff" * 8 + b"abcd",
    "too large": frame("x" * 70_000),
    "too large in parts": frame("x" * 60_000, last=False) + frame("x" * 60_000, 0),
    "parts without end": frame("x", last=False) + frame("x", 0, last=False) * 3000,
    "nothing to go on from": frame("x", 0),
    "reserved bits": b"\xf1\x85\0\0\0\0hello",
    "reserved kind": frame("x", 11),
    "a ping too long": frame("x" * 200, 9),
    "pings": frame("x", 9) * 3000,
    "a farewell cut short": frame(b"\x00", 8),
    "a farewell with no such reason": frame(b"\x27\x0f\xff", 8),
    "noise": b"\x07\xf3\xaa" * 100,
    "broken JSON": frame('{"do": "next"'),
    "deep JSON": frame('{"do":' + "[" * 30_000),
    "no number": frame('{"do":"set","name":"current","value":NaN}'),
    "a number of thousands of figures": frame('{"do":"set","name":"current","value":' + "9" * 4000 + "}"),
}


CONNECTIONS: weakref.WeakSet[asyncio.Transport] = weakref.WeakSet()  # those that are still open
RESET = struct.pack("ii", 1, 0)  # of SO_LINGER: what is still on its way is dropped


async def connected(port: int, **limit: int) -> tuple[asyncio.StreamReader, asyncio.StreamWriter]:
    """A plain connection; `besieged` closes those that its clients leave open."""
    reader, writer = await asyncio.open_connection("127.0.0.1", port, **limit)
    CONNECTIONS.add(writer.transport)
    return reader, writer


async def opened(port: int, path: str = "") -> tuple[asyncio.StreamReader, asyncio.StreamWriter]:
    """A socket that has shaken hands."""
    reader, writer = await connected(port)
    writer.write(SHAKE.format(path=path, port=port, more="").encode())
    await reader.readuntil(b"\r\n\r\n")
    return reader, writer


async def answer(port: int, data: bytes, patience: float = 10.0) -> bytes:
    """The beginning of what a server says to that; empty when it just closes the line, or says nothing."""
    reader, writer = await connected(port)
    try:
        writer.write(data)
        return await asyncio.wait_for(reader.read(4000), patience)
    except (TimeoutError, ConnectionError):
        return b""
    finally:
        writer.close()


async def joined(address: str) -> tornado.websocket.WebSocketClientConnection:
    """A good client, which tries again as a browser's page does when it is not let in at once."""
    while True:
        with contextlib.suppress(OSError, tornado.httpclient.HTTPError, tornado.iostream.StreamClosedError):
            return await tornado.websocket.websocket_connect(address)
        await asyncio.sleep(0.2)


# clients that go on until they are cancelled


async def silent(port: int, path: str, dice: random.Random) -> None:
    """Connects and says nothing."""
    await connected(port)
    await asyncio.sleep(3600)


async def half_shaken(port: int, path: str, dice: random.Random) -> None:
    """Never comes to the end of its handshake."""
    _, writer = await connected(port)
    for sign in SHAKE.format(path=path, port=port, more="X-More: " + "more " * 2000).encode():
        writer.write(bytes([sign]))
        await writer.drain()
        await asyncio.sleep(0.05)


async def unreading(port: int, path: str, dice: random.Random) -> None:
    """Opens the socket, reads nothing, and yet says that it is ready."""
    reader, writer = await connected(port, limit=1)
    writer.write(SHAKE.format(path=path, port=port, more="").encode())
    while True:
        writer.write(frame('{"do":"ready"}') + frame('{"do":"alive"}'))
        await writer.drain()
        await asyncio.sleep(0.01)


async def frozen(port: int, path: str, dice: random.Random) -> None:
    """Opens the socket and never stirs again."""
    await opened(port, path)
    await asyncio.sleep(3600)


async def greedy(port: int, path: str, dice: random.Random) -> None:
    """Asks for the largest file and does not read it."""
    _, writer = await connected(port, limit=1)
    writer.write(f"GET {path}/vpython/plotly.min.js HTTP/1.1\r\nHost: localhost:{port}\r\n\r\n".encode() * 5)
    await asyncio.sleep(3600)


async def flooding(port: int, path: str, dice: random.Random) -> None:
    """Sends what the bench has work with, as fast as it is taken."""
    reader, writer = await opened(port, path)

    async def reads() -> None:
        while await reader.read(65536):
            pass

    reading = asyncio.create_task(reads())
    messages = b"".join(frame(json.dumps({"do": do})) for do in ("restart", "step", "ready", "answers", "nothing", "enough"))
    try:
        while True:
            writer.write(messages * 20)
            await writer.drain()
            await asyncio.sleep(0)
    finally:
        reading.cancel()


async def noisy(port: int, path: str, dice: random.Random) -> None:
    """One line after the other with nothing that makes sense on it."""
    while True:
        _, writer = await connected(port)
        if dice.random() < 0.5:
            writer.write(SHAKE.format(path=path, port=port, more="").encode() + dice.choice(list(FRAMES.values())))
        else:
            writer.write(request(dice.choice(list(REFUSED)), port))
        with contextlib.suppress(ConnectionError):
            await writer.drain()
        await asyncio.sleep(dice.uniform(0, 0.05))
        writer.close() if dice.random() < 0.7 else writer.transport.abort()


async def crowding(port: int, path: str, dice: random.Random) -> None:
    """Opens connection after connection and keeps them."""
    kept = []
    while True:
        kept.append(await connected(port))
        del kept[:-150]
        await asyncio.sleep(0.005)


CLIENTS: tuple[Callable[[int, str, random.Random], Awaitable[None]], ...] = (
    silent, half_shaken, unreading, frozen, greedy, flooding, noisy, crowding,
)  # fmt: skip


@contextlib.asynccontextmanager
async def besieged(port: int, count: int, path: str = "", seed: int = 1):
    """So many bad clients, of every kind in turn, each again as soon as it was thrown out."""

    async def again(client, dice: random.Random) -> None:
        while True:
            with contextlib.suppress(OSError, asyncio.IncompleteReadError, asyncio.LimitOverrunError):
                await client(port, path, dice)
            await asyncio.sleep(0.05)

    tasks = [asyncio.create_task(again(CLIENTS[place % len(CLIENTS)], random.Random(seed + place))) for place in range(count)]
    try:
        yield
    finally:
        for task in tasks:
            task.cancel()
        await asyncio.gather(*tasks, return_exceptions=True)
        for connection in list(CONNECTIONS):  # of a flood megabytes are on their way, which would be read for most of a minute
            if (own := connection.get_extra_info("socket")) is not None and own.fileno() >= 0:
                own.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, RESET)
            connection.abort()

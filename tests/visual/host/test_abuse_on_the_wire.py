"""Who means ill on the wire gets nothing, breaks nothing and slows nobody for good. Plain sockets on loopback."""

from __future__ import annotations

import asyncio
import contextlib
import json
import logging

import pytest

from scenes.commands.serving import log_in_few_lines
from tests import hostile_sockets as bad
from tests.serving import served
from visual.host import endpoints, pages
from visual.host.access import connections
from visual.host.access.connections import BoundedServer
from visual.host.access.doors import LETTERS, WRONG_OF_ONE, SecretWord
from visual.host.encoding import parse_message
from visual.host.few_lines import LINES, MINUTE, FewLines
from visual.host.server import Endpoint, Host


@pytest.fixture
def host():
    return Host()


@pytest.fixture(autouse=True)
def no_exception_in_the_log(caplog):
    """Whatever is sent: no traceback, nothing on more than one line."""
    caplog.set_level(logging.WARNING)
    yield
    for record in caplog.records:
        assert record.levelno < logging.ERROR and not record.exc_info, record.getMessage()
        assert len(record.getMessage().splitlines()) == 1 and "\x1b" not in record.getMessage()


async def lives(port: int, path: str = "") -> None:
    """A good page is still answered."""
    line = await bad.joined(f"ws://127.0.0.1:{port}{path}/socket")
    await line.write_message('{"do": "alive"}')
    while not json.loads(await line.read_message()).get("alive"):
        pass
    line.close()


def test_what_no_browser_asks_for_is_refused(host):
    async def conversation(port):
        for name in bad.REFUSED:
            told = await bad.answer(port, bad.request(name, port))
            assert not told.startswith((b"HTTP/1.1 2", b"HTTP/1.1 1", b"HTTP/1.1 3")), name
            assert not told.startswith(b"HTTP/1.1 5"), name
            assert b"Traceback" not in told and b"Tornado" not in told and b"server.py" not in told, name
        await lives(port)

    served(host, conversation)
    assert host.viewers == set()


def test_frames_that_are_none_end_their_own_line_alone(host):
    taken = []
    host.on_message = lambda message, viewer: taken.append(message)

    async def conversation(port):
        for data in bad.FRAMES.values():
            reader, writer = await bad.opened(port)
            writer.write(data)
            writer.write_eof()
            with contextlib.suppress(ConnectionError):
                while await asyncio.wait_for(reader.read(65536), 10):
                    pass
            writer.close()
            await lives(port)

    served(host, conversation)
    assert [message["value"] for message in taken] == [int("9" * 4000)], "only the one that is JSON is handed on"


def test_a_good_page_gets_every_change_beside_twenty_bad_ones(host):
    """Of each kind two or three: silent, half shaken, unreading, frozen, greedy, flooding, noisy, crowding."""

    async def conversation(port):
        line = await bad.joined(f"ws://127.0.0.1:{port}/socket")
        async with bad.besieged(port, 20):
            await asyncio.sleep(0.5)
            for number in range(5):
                host.publish(says=f"change {number}")
                told = {}
                while told.get("says") != f"change {number}":
                    told = json.loads(await line.read_message())
                    await line.write_message('{"do": "ready"}')
            line.close()
        while host.viewers:
            await asyncio.sleep(0.02)
        await lives(port)

    served(host, conversation)


def test_a_line_on_which_no_ping_is_answered_is_closed(host, monkeypatch):
    monkeypatch.setattr(pages, "HALF_OPEN", 0.2)

    async def conversation(port):
        await bad.opened(port)
        while not host.viewers:
            await asyncio.sleep(0.02)
        while host.viewers:
            await asyncio.sleep(0.02)
        await lives(port)

    served(host, conversation)


def test_a_follower_gets_every_change_beside_bad_ones_who_know_the_word(host):
    async def conversation(port):
        line = await bad.joined(f"ws://127.0.0.1:{port}/k7m3qd/socket")
        async with bad.besieged(port, 16, "/k7m3qd"):
            await asyncio.sleep(0.3)
            for number in range(20):
                host.publish(says=f"change {number}")
                told = {}
                while told.get("says") != f"change {number}":
                    told = json.loads(await line.read_message())
                    await line.write_message('{"do": "ready"}')

    served(host, conversation, endpoint=Endpoint({"": "follow.html"}, "class", SecretWord("k7m3qd"), 20))


def test_who_guesses_is_slowed_and_keeps_nobody_out(host):
    async def asked(port: int, path: str, more: str = "") -> bytes:
        return await bad.answer(port, f"GET {path} HTTP/1.1\r\nHost: x\r\nConnection: close\r\n{more}\r\n".encode())

    async def conversation(port):
        welcome = await asked(port, "/k7m3qd/")
        seat = next(line for line in welcome.decode().split("\r\n") if line.startswith("Set-Cookie: seat="))
        assert "HttpOnly" in seat and "SameSite=Lax" in seat
        line = await bad.joined(f"ws://127.0.0.1:{port}/k7m3qd/socket")
        left_open = [await asked(port, "/bcdfgh/socket") for _ in range(3 * WRONG_OF_ONE)]  # pages of an earlier lesson, with its word
        assert {told.split()[1] for told in left_open} == {b"404"} and (await asked(port, "/k7m3qd/")).split()[1] == b"200"
        answers = [await asked(port, f"/{number:0{LETTERS}d}/") for number in range(1, WRONG_OF_ONE + 5)]
        assert [told.split()[1] for told in answers] == [b"404"] * (WRONG_OF_ONE - 1) + [b"429"] * 5
        assert b"wait a minute" in answers[-1]
        assert (await asked(port, "/k7m3qd/")).split()[1] == b"429", "the guesser has not found out that this is the word"
        cookie = seat.removeprefix("Set-").split(";")[0]
        assert (await asked(port, "/k7m3qd/page/shell/follow.js", f"{cookie}\r\n")).split()[1] == b"200", "who was in stays"
        await line.write_message('{"do": "alive"}')
        while not json.loads(await line.read_message()).get("alive"):
            pass

    served(host, conversation, endpoint=Endpoint({"": "follow.html"}, "class", SecretWord("k7m3qd"), 20))


@pytest.mark.parametrize("endpoint", [Endpoint(), Endpoint({"": "follow.html"}, "class", crowd=3)])
def test_pages_are_bounded_and_who_comes_too_late_is_told(host, endpoint, monkeypatch):
    monkeypatch.setattr(endpoints, "MOST_PAGES", 3)

    async def conversation(port):
        lines = [await bad.joined(f"ws://127.0.0.1:{port}/socket") for _ in range(3)]
        told = await bad.answer(port, f"GET / HTTP/1.1\r\nHost: localhost:{port}\r\nConnection: close\r\n\r\n".encode())
        assert told.split()[1] == b"503" and b"the room is full" in told and b"\r\nRefresh: " in told
        assert (await bad.answer(port, bad.SHAKE.format(path="", port=port, more="").encode())).split()[1] == b"503"
        lines[0].close()
        while len(host.viewers) == 3:
            await asyncio.sleep(0.02)
        await lives(port)

    served(host, conversation, endpoint=endpoint)


def test_who_does_not_read_a_file_or_end_a_request_is_let_go(host, monkeypatch):
    monkeypatch.setattr(pages, "PATIENCE", 0.3)
    monkeypatch.setattr(connections, "PATIENCE", 0.3)

    async def conversation(port):
        reader, writer = await asyncio.open_connection("127.0.0.1", port, limit=1)
        writer.write(f"GET /vpython/plotly.min.js HTTP/1.1\r\nHost: localhost:{port}\r\n\r\n".encode() * 3)
        slow = [await asyncio.open_connection("127.0.0.1", port) for _ in range(3)]
        slow[1][1].write(b"GET / HTTP/1.1\r\nHo")
        slow[2][1].write(f"POST / HTTP/1.1\r\nHost: localhost:{port}\r\nContent-Length: 100\r\n\r\nx".encode())
        await asyncio.sleep(1.0)
        for other, _ in slow:
            await asyncio.wait_for(other.read(), 5)
        reader._limit = 2**20
        whole = 0
        while piece := await asyncio.wait_for(reader.read(2**20), 5):
            whole += len(piece)
        assert whole < 4_000_000 * 3, "it got no more than what was on its way"
        await lives(port)

    served(host, conversation)


def test_of_too_many_connections_the_oldest_idle_one_of_who_has_most_goes(monkeypatch):
    monkeypatch.setattr(connections, "MOST_WAITING", 4)
    monkeypatch.setattr(connections.tornado.httpserver.HTTPServer, "handle_stream", lambda *_: None)
    closed = []

    class Stream(str):
        def writing(self) -> bool:
            return self.endswith("busy")

        def close(self):
            closed.append(str(self))

    async def conversation():
        doorway = BoundedServer(lambda request: None)
        for name in ("a1", "b1 busy", "b2", "b3", "c1", "d1", "a2 busy", "a3 busy"):
            doorway.handle_stream(Stream(name), (name[0], 1))

    asyncio.run(conversation())
    assert closed == ["b2", "b3", "a1", "b1 busy"]


def test_many_connections_leave_no_file_open(host):
    async def conversation(port):
        kept = [await asyncio.open_connection("127.0.0.1", port) for _ in range(connections.MOST_WAITING + 40)]
        await lives(port)
        while sum(reader.at_eof() for reader, _ in kept) < 40:
            await asyncio.sleep(0.02)

    served(host, conversation)


@pytest.mark.parametrize(
    "text",
    [
        '{"do":"set","value":[1]}',
        '{"do":"set","value":{}}',
        '{"do":"x","value":NaN}',
        '{"do":"x","a":-Infinity}',
        b"\xff",
        b'{"do": "\xff"}',
    ],
)
def test_what_stands_in_brackets_or_is_no_json_is_no_message(text):
    assert parse_message(text) is None


def test_a_message_is_understood_as_it_was_said():
    assert parse_message('{"do": "set", "name": "current", "value": 3.5, "x": null}') == {
        "do": "set",
        "name": "current",
        "value": 3.5,
        "x": None,
    }


def test_the_log_says_so_many_lines_a_minute_and_that_there_were_more():
    now = [0.0]
    few = FewLines(lambda: now[0])
    lines = [logging.LogRecord("x", logging.WARNING, "", 0, "line %d", (number,), None) for number in range(200)]
    assert [line.getMessage() for line in lines if few.filter(line)][-1].startswith("too many log lines")
    assert sum(few.filter(line) for line in lines) == 0
    now[0] += MINUTE
    assert sum(few.filter(line) for line in lines) == LINES + 1


def test_the_programs_log_is_short_and_a_log_that_is_kept_already_is_left_alone(capsys):
    root = logging.getLogger()
    kept = list(root.handlers)
    log_in_few_lines()
    assert root.handlers == kept and not any(isinstance(each, FewLines) for handler in kept for each in handler.filters)
    try:
        root.handlers.clear()
        log_in_few_lines()
        log_in_few_lines()
        for number in range(200):
            logging.getLogger("thumbwise").warning("line %d", number)
    finally:
        root.handlers[:] = kept
    said = capsys.readouterr().err.splitlines()
    assert len(said) == LINES + 1 and said[0] == "thumbwise: line 0" and "too many log lines" in said[-1]

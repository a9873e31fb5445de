"""Who is turned away by the host, and what of a page is not taken. Plain socket clients on loopback."""

from __future__ import annotations

import json
import logging
import socket as sockets

import pytest
import tornado.httpclient
import tornado.websocket

from tests.serving import connected, fetched, served
from visual.host.server import LARGEST_MESSAGE, Host


@pytest.fixture
def host():
    return Host()


def test_who_asks_for_something_else_is_turned_away(host, caplog):
    async def conversation(port):
        wrong = ("/../secret", "/page/../../pyproject.toml", "/page/%2e%2e/__init__.py", "/vpython/nothing.js", "/page/__init__.py")
        for path in (
            *wrong,
            "/page/shell",
            "/page/shell/../__init__.py",
            "/page/shell%2f..%2f..%2fhost",
            "/page/main.js",
            "/page//main.js",
        ):
            answer = await fetched(port, f"GET {path} HTTP/1.1\nHost: localhost:{port}\nConnection: close\n\n")
            assert answer.startswith(b"HTTP/1.1 404"), path
            assert b"Traceback" not in answer
        for name in ("evil.example", "evil.example:80", "localhost.evil.example", "", "127.0.0.1.evil.example"):
            answer = await fetched(port, f"GET / HTTP/1.1\nHost: {name}\nConnection: close\n\n")
            assert answer.split()[1] in (b"403", b"400"), name
        for path in ("/page/shell/main.js", "/page/styles/style.css"):
            answer = await fetched(port, f"GET {path} HTTP/1.1\nHost: localhost:{port}\nConnection: close\n\n")
            assert answer.startswith(b"HTTP/1.1 200"), path
        good = await fetched(port, f"GET / HTTP/1.1\nHost: 127.0.0.1:{port}\nConnection: close\n\n")
        assert good.startswith(b"HTTP/1.1 200") and b"nosniff" in good

    with caplog.at_level(logging.WARNING, "thumbwise"):
        served(host, conversation)
    assert sum("refused" in line for line in caplog.messages) >= 8
    assert all("\n" not in line for line in caplog.messages)


def test_another_sites_page_cannot_open_the_socket(host):
    async def conversation(port):
        for origin in ("http://evil.example", f"http://localhost:{port + 1}", "null", f"http://localhost.evil.example:{port}"):
            with pytest.raises(tornado.httpclient.HTTPClientError) as refused:
                await connected(port, Origin=origin)
            assert refused.value.code == 403
        with pytest.raises(tornado.httpclient.HTTPClientError):
            await connected(port, Host="evil.example", Origin="http://evil.example")
        line = await connected(port, Origin=f"http://localhost:{port}")
        assert await line.read_message()

    served(host, conversation)


@pytest.mark.parametrize("nonsense", ["", "[]", "null", "{", '{"do": 5}', '{"un": 1}', "[" * 5000, "\x00", '"ready"', "9" * 5000])
def test_a_malformed_message_is_logged_and_the_bench_goes_on(host, nonsense, caplog):
    host.publish(says="here")
    taken = []
    host.on_message = lambda message, viewer: taken.append(message)

    async def conversation(port):
        line = await connected(port)
        await line.write_message(nonsense)
        await line.write_message('{"do": "alive"}')
        while True:
            if json.loads(await line.read_message()).get("alive"):
                return

    with caplog.at_level(logging.WARNING, "thumbwise"):
        served(host, conversation)
    assert taken == []
    assert any("not a message" in line for line in caplog.messages)


def test_a_huge_message_closes_that_socket_alone(host, caplog):
    async def conversation(port):
        good, bad = await connected(port), await connected(port)
        await good.read_message()
        await bad.read_message()
        await bad.write_message("x" * (LARGEST_MESSAGE + 1))
        assert await bad.read_message() is None
        await good.write_message('{"do": "alive"}')
        assert json.loads(await good.read_message()) == {"alive": True}

    with caplog.at_level(logging.WARNING, "thumbwise"):
        served(host, conversation)
    assert host.viewers == set() or len(host.viewers) <= 1


def test_it_listens_on_loopback_alone(host):
    async def conversation(port):
        own = sockets.gethostbyname(sockets.gethostname())
        if not own.startswith("127."):
            with pytest.raises(OSError):
                sockets.create_connection((own, port), 1)
        sockets.create_connection(("127.0.0.1", port), 1).close()

    served(host, conversation)


def test_a_port_in_use_is_an_error_at_once(host):
    with sockets.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()

        async def conversation(_):
            with pytest.raises(OSError):
                host.listen(taken.getsockname()[1])

        served(host, conversation)

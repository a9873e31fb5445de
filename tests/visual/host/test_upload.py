"""The instructor's pictures on the wire: taken from a page of the bench alone, and given to whoever may see the lesson."""

from __future__ import annotations

import logging

import pytest

from tests import hostile_sockets as bad
from tests.scenes.lesson.images import jpeg, png
from tests.serving import served
from visual.host.access.doors import SecretWord, ThisMachine
from visual.host.server import Endpoint, Host

LARGEST = 100_000


class Taker:
    """Keeps what is uploaded, and refuses what is no PNG."""

    def __init__(self):
        self.taken: list[tuple[bytes, str]] = []

    async def __call__(self, body: bytes, called: str) -> str:
        if not body.startswith(b"\x89PNG"):
            raise ValueError("It is no picture.")
        self.taken.append((body, called))
        return "mine/rotor.png"


@pytest.fixture
def taker():
    return Taker()


def asking(host: Host, requests: list[bytes], endpoint: Endpoint) -> list[bytes]:
    async def conversation(port):
        return [await bad.answer(port, request.replace(b"{port}", str(port).encode())) for request in requests]

    return served(host, conversation, endpoint=endpoint)


def post(
    body: bytes, origin: str | None = "http://localhost:{port}", path: str = "/upload?name=my%20rotor.png", length: int | None = None
) -> bytes:
    size = len(body) if length is None else length
    head = f"POST {path} HTTP/1.1\r\nHost: localhost:{{port}}\r\nConnection: close\r\nContent-Length: {size}\r\n"
    return (head + (f"Origin: {origin}\r\n" if origin else "") + "\r\n").encode() + body


def get(path: str, host: str = "localhost:{port}") -> bytes:
    return f"GET {path} HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n".encode()


def status(told: bytes) -> bytes:
    return told.split()[1] if told else b""


def test_a_page_of_the_bench_may_upload_and_is_told_where_it_is_kept(taker):
    told, refused, without = asking(
        Host(), [post(png()), post(b"GIF89a"), post(png(), path="/upload")], Endpoint(upload=taker, largest_upload=LARGEST)
    )
    assert status(told) == b"200" and told.endswith(b"\r\n\r\nmine/rotor.png")
    assert status(refused) == b"422" and refused.endswith(b"\r\n\r\nIt is no picture.") and b"text/plain" in refused
    assert status(without) == b"200" and taker.taken == [(png(), "my rotor.png"), (png(), "")]


def test_nobody_else_may_upload_and_nothing_too_large_is_read(taker, caplog):
    caplog.set_level(logging.WARNING)
    ill = {
        "another site": post(png(), "http://elsewhere.example"),
        "no site": post(png(), None),
        "null": post(png(), "null"),
        "broken": post(png(), "http://["),
        "another port": post(png(), "http://localhost:1"),
        "another name": post(png()).replace(b"Host: localhost", b"Host: elsewhere.example"),
        "read": get("/upload?name=x"),
        "too large": post(b"\x89PNG", length=LARGEST + 1),
        "endless": post(b"\x89PNG", length=10**15),
        "a name that is no text": post(png(), path="/upload?name=%ff%fe"),
        "elsewhere": post(png(), path="/pictures/x.png"),
        "up": post(png(), path="/upload/../upload"),
    }
    for name, told in zip(ill, asking(Host(), list(ill.values()), Endpoint(upload=taker, largest_upload=LARGEST)), strict=True):
        assert status(told) in (b"400", b"403", b"404", b"405", b""), name
        assert b"Traceback" not in told
    assert taker.taken == []
    assert all(record.levelno < logging.ERROR for record in caplog.records)


@pytest.mark.parametrize(
    ("endpoint", "path"),
    [
        (Endpoint(), "/upload"),
        (Endpoint({"": "follow.html"}, "class", SecretWord("k7m3qd"), 20), "/k7m3qd/upload"),
        (Endpoint(beside=(Endpoint({"": "speaker.html"}, "speaker", ThisMachine("/speaker")),)), "/speaker/upload"),
    ],
)
def test_where_nothing_is_taken_there_is_nothing_to_upload_to(endpoint, path):
    (told,) = asking(Host(), [post(png(), path=path)], endpoint)
    assert status(told) == b"404"


def test_a_picture_is_given_by_the_name_that_the_lesson_told_and_by_no_other():
    host = Host()
    host.pictures = {"a1.png": png(), "b2.jpeg": jpeg()}
    first, second, *none = asking(
        host, [get("/pictures/a1.png"), get("/pictures/b2.jpeg"), get("/pictures/c3.png"), get("/pictures/../page/styles/style.css"),
               get("/pictures/%2e%2e/a1.png"), get("/pictures/"), get("/pictures/a1.png", "elsewhere.example")], Endpoint(),
    )  # fmt: skip
    assert status(first) == b"200" and b"Content-Type: image/png\r\n" in first and first.endswith(png()) and b"nosniff" in first
    assert status(second) == b"200" and b"Content-Type: image/jpeg\r\n" in second
    assert [status(told) for told in none] == [b"404"] * 4 + [b"403"]


def test_a_follower_is_given_a_picture_behind_the_word_alone():
    host = Host()
    host.pictures = {"a1.png": png()}
    endpoint = Endpoint({"": "follow.html"}, "class", SecretWord("k7m3qd"), 20)
    told, wrong, without = asking(host, [get("/k7m3qd/pictures/a1.png"), get("/k7m3qx/pictures/a1.png"), get("/pictures/a1.png")], endpoint)
    assert told.endswith(png()) and status(wrong) == status(without) == b"404"

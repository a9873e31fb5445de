"""Who is let in: this machine only, or anyone on the network who has the secret word in the address."""

from __future__ import annotations

import hmac
import logging
import secrets
import time
from collections import deque
from collections.abc import Callable
from urllib.parse import urlsplit

from tornado.httputil import HTTPServerRequest

log = logging.getLogger("thumbwise")

LOOPBACK = {"localhost", "127.0.0.1", "::1"}
SIGNS = "bcdfghjkmnpqrstwxyz23456789"  # none that is easily confused, and no vowels, so that no words form
LETTERS = 6  # 27 ** 6 words: at the guesses allowed below, half of them take three years
MINUTE = 60.0  # s
WRONG_OF_ONE = 10  # guesses a minute from one address
WRONG_OF_ALL = 120  # guesses a minute from everyone; beyond that each address has one


def new_word() -> str:
    """A secret word."""
    return "".join(secrets.choice(SIGNS) for _ in range(LETTERS))


def new_key() -> bytes:
    """A key to sign seats with."""
    return secrets.token_bytes(32)


def names_this_machine(netloc: str) -> bool:
    """Whether a Host header names this machine's loopback, whatever the port (a proxy in front has its own)."""
    try:
        return urlsplit(f"//{netloc}").hostname in LOOPBACK
    except ValueError:
        return False


class ThisMachine:
    """Lets in requests whose Host header is one of this machine's own names, which another site's page cannot send.

    An endpoint that shares a port has its own path `prefix`, such as "/speaker".
    """

    def __init__(self, prefix: str = "") -> None:
        self.prefix = prefix

    def new_seat(self) -> str:
        """The cookie for a new visitor: here none."""
        return ""

    def visitor(self, seat: str | None) -> str | None:
        """The visitor that a cookie stands for: here nobody is told apart."""
        return None

    def refusal(self, request: HTTPServerRequest, seat: str | None = None) -> int | None:
        """The HTTP status to refuse a request with, or `None`."""
        return None if names_this_machine(request.headers.get("Host", "")) else 403


class SecretWord:
    """Lets in requests with the word in the path, `/WORD/...`, and makes guessing it slow.

    An address that has guessed wrong too often gets no answer for the rest of the minute, whatever it asks for; while many
    addresses guess together, one wrong guess is too often. So a guesser cannot keep out anyone at another address. Many
    visitors may share an address: whoever has been let in keeps a seat, a signed cookie, whatever others there do. It tells
    one `visitor` from another, and nothing about who that is. With the same `word` and `key` as before, seats hold over a restart.
    """

    prefix = r"/[^/]+"

    def __init__(self, word: str | None = None, clock: Callable[[], float] = time.monotonic, key: bytes | None = None) -> None:
        self.word = word or new_word()
        self._clock = clock
        self._wrong: deque[tuple[float, str, str]] = deque()  # time, address and word, the oldest first
        self._key = key or new_key()
        self._told = -MINUTE

    def refusal(self, request: HTTPServerRequest, seat: str | None = None) -> int | None:
        """The HTTP status to refuse a request with, or `None`; `seat` is the request's cookie."""
        guess, address = (request.path or "").removeprefix("/").partition("/")[0], request.remote_ip or ""
        seated = self.visitor(seat) is not None
        if not seated and self._guesses_too_often(address):
            self._tell()
            return 429
        if hmac.compare_digest(guess.lower().encode(), self.word.encode()):
            return None
        # a browser asks for an icon by itself: no guess; nor is a wrong word again, as by pages left open since another lesson
        if len(guess) == LETTERS and not seated and all(guess != word for _, _, word in self._wrong):
            self._wrong.append((self._clock(), address, guess))
        return 404

    def new_seat(self) -> str:
        """The cookie for a new visitor."""
        visitor = secrets.token_hex(8)
        return f"{visitor}-{self._signed(visitor)}"

    def visitor(self, seat: str | None) -> str | None:
        """The visitor that a cookie stands for; `None` if this door did not sign it."""
        visitor, _, signed = (seat or "").partition("-")
        return visitor if hmac.compare_digest(signed.encode(), self._signed(visitor).encode()) else None

    def _signed(self, visitor: str) -> str:
        return hmac.new(self._key, visitor.encode(), "sha256").hexdigest()[:32]

    def _guesses_too_often(self, address: str) -> bool:
        while self._wrong and self._wrong[0][0] <= self._clock() - MINUTE:
            self._wrong.popleft()
        mine = sum(wrong == address for _, wrong, _ in self._wrong)
        return mine >= (WRONG_OF_ONE if len(self._wrong) < WRONG_OF_ALL else 1)

    def _tell(self) -> None:
        if self._clock() - self._told >= MINUTE:
            self._told = self._clock()
            log.warning("somebody on the network is guessing the shared address; frequent guessers have to wait")

"""Who is let in: this machine only, or anyone on the network who knows the secret word in the address."""

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
SIGNS = "bcdfghjkmnpqrstwxyz23456789"  # none that is mistaken for another, and no vowels, so that no words form
LETTERS = 6  # 27 ** 6 words: at the wrong guesses allowed below, half of them take three years
MINUTE = 60.0  # s
WRONG_OF_ONE = 10  # guesses a minute from one address
WRONG_OF_ALL = 120  # guesses a minute from all of them together, beyond which an address has no more than one


def names_this_machine(netloc: str) -> bool:
    """Whether a Host header names this machine's loopback, whatever the port (a proxy in front has its own)."""
    try:
        return urlsplit(f"//{netloc}").hostname in LOOPBACK
    except ValueError:
        return False


class ThisMachine:
    """Lets in requests that name this machine by its own names; another site's page does not.

    An endpoint that shares a port has its own path `prefix`, such as "/speaker".
    """

    def __init__(self, prefix: str = "") -> None:
        self.prefix = prefix

    def new_seat(self) -> str:
        """Nobody has a seat here."""
        return ""

    def visitor(self, seat: str | None) -> str | None:
        """Nobody is told from anybody else."""
        return None

    def refusal(self, request: HTTPServerRequest, seat: str | None = None) -> int | None:
        """The status to turn a request away with, or `None`."""
        return None if names_this_machine(request.headers.get("Host", "")) else 403


class SecretWord:
    """Lets in who has the word in the path, `/WORD/...`, and makes guessing it slow.

    An address that guessed wrong too often is not answered for the rest of the minute, whatever it asks for; when many
    addresses guess together, once is too often. So nobody keeps out who is elsewhere and gets the word right. Many may
    stand behind one address, and who came in keeps his seat, a cookie that nobody else can make, whatever the others
    there do. It says which `visitor` he is, and nothing of who that might be.
    """

    prefix = r"/[^/]+"

    def __init__(self, word: str | None = None, clock: Callable[[], float] = time.monotonic) -> None:
        self.word = word or "".join(secrets.choice(SIGNS) for _ in range(LETTERS))
        self._clock = clock
        self._wrong: deque[tuple[float, str]] = deque()  # when, from where; the oldest first
        self._key = secrets.token_bytes(32)
        self._told = -MINUTE

    def refusal(self, request: HTTPServerRequest, seat: str | None = None) -> int | None:
        """The status to turn a request away with, or `None`; `seat` is what the request shows for one."""
        guess, address = (request.path or "").removeprefix("/").partition("/")[0], request.remote_ip or ""
        seated = self.visitor(seat) is not None
        if not seated and self._guesses_too_often(address):
            self._tell()
            return 429
        if hmac.compare_digest(guess.lower().encode(), self.word.encode()):
            return None
        if len(guess) == LETTERS and not seated:  # what a browser asks for by itself, such as its icon, is no guess
            self._wrong.append((self._clock(), address))
        return 404

    def new_seat(self) -> str:
        """A seat for a visitor who has none yet."""
        visitor = secrets.token_hex(8)
        return f"{visitor}-{self._signed(visitor)}"

    def visitor(self, seat: str | None) -> str | None:
        """Whose seat that is; `None` when it is none of this door."""
        visitor, _, signed = (seat or "").partition("-")
        return visitor if hmac.compare_digest(signed.encode(), self._signed(visitor).encode()) else None

    def _signed(self, visitor: str) -> str:
        return hmac.new(self._key, visitor.encode(), "sha256").hexdigest()[:32]

    def _guesses_too_often(self, address: str) -> bool:
        while self._wrong and self._wrong[0][0] <= self._clock() - MINUTE:
            self._wrong.popleft()
        mine = sum(wrong == address for _, wrong in self._wrong)
        return mine >= (WRONG_OF_ONE if len(self._wrong) < WRONG_OF_ALL else 1)

    def _tell(self) -> None:
        if self._clock() - self._told >= MINUTE:
            self._told = self._clock()
            log.warning("somebody on the network is guessing the shared address; frequent guessers have to wait")

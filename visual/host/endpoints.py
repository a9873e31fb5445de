"""An endpoint: a set of pages, and who may open them."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Mapping
from dataclasses import dataclass, field

from visual.host.access.doors import SecretWord, ThisMachine

MOST_PAGES = 50  # open at once on an endpoint without its own limit
MOST_OF_ONE = 6  # pages that one visitor of a crowd may have open at once


@dataclass(frozen=True)
class Endpoint:
    """Its pages by path, their role, the door that lets people in, and for a crowd how many at once.

    A crowd's pages must not slow the others: they are updated together, and one that does not keep up is disconnected; at most
    `of_one_address` are let in from one network address, so that nobody can take every place. A page without a picture is sent
    only the keys that it `hears`. The endpoints `beside` share the port, each under its door's prefix.
    """

    pages: Mapping[str, str] = field(default_factory=lambda: {"": "index.html"})
    role: str = "bench"
    door: ThisMachine | SecretWord = field(default_factory=ThisMachine)
    crowd: int | None = None
    of_one_address: int | None = None
    deliver: Callable[[bytes], None] | None = None  # called with what the page posts
    # takes a file and what it was called; gives the name under which it is kept, or `ValueError` in a sentence
    upload: Callable[[bytes, str], Awaitable[str]] | None = None
    largest_upload: int = 0  # bytes
    hears: frozenset[str] | None = None
    beside: tuple[Endpoint, ...] = ()

    @property
    def most(self) -> int:
        """How many pages may be open at once."""
        return MOST_PAGES if self.crowd is None else self.crowd

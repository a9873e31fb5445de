"""What a way in to the bench is."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from visual.host.doors import SecretWord, ThisMachine

MOST_PAGES = 50  # that may be open at once on a way that has no other bound
MOST_OF_ONE = 6  # pages that one visitor of a crowd may have open at once


@dataclass(frozen=True)
class Endpoint:
    """One way in: the pages by their paths, what these may do, who is let in, and how many of a crowd at once.

    The pages of a crowd must not slow the others: they are told in step, and who does not keep up is let go; of one network
    address no more than `of_one_address` are let in at once, so that nobody fills every place. A page that
    has no picture is told only what it `hears`. The ways `beside` are on the same port, each under its door's prefix.
    """

    pages: Mapping[str, str] = field(default_factory=lambda: {"": "index.html"})
    role: str = "bench"
    door: ThisMachine | SecretWord = field(default_factory=ThisMachine)
    crowd: int | None = None
    of_one_address: int | None = None
    deliver: Callable[[bytes], None] | None = None  # called with what a page of ours makes for the program
    hears: frozenset[str] | None = None
    beside: tuple[Endpoint, ...] = ()

    @property
    def most(self) -> int:
        """How many pages may be open at once."""
        return MOST_PAGES if self.crowd is None else self.crowd

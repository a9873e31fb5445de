"""How far a command has come, for whoever waits for it."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable

PAUSE = 5.0  # s between lines where they stay, as in a log


def progress(what: str, count: int) -> Callable[[int], None]:
    """What tells on stderr how many of `count` are done, `what` before it: on a terminal in one line that changes."""
    told = time.monotonic()

    def tell(done: int) -> None:
        nonlocal told
        if sys.stderr.isatty():
            print(f"\r{what} {done} of {count}", end="\n" if done == count else "", file=sys.stderr, flush=True)
        elif time.monotonic() - told >= PAUSE:
            told = time.monotonic()
            print(f"{what} {done} of {count}", file=sys.stderr, flush=True)

    return tell

"""A limit on the log, so that nobody can fill the disk with it."""

from __future__ import annotations

import logging
import time
from collections.abc import Callable

MINUTE = 60.0  # s
LINES = 30  # a minute


class FewLines(logging.Filter):
    """Lets through a limited number of lines a minute, and says once that there were more."""

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        super().__init__()
        self._clock = clock
        self._begun = -MINUTE
        self._count = 0

    def filter(self, record: logging.LogRecord) -> bool:
        if self._clock() - self._begun >= MINUTE:
            self._begun, self._count = self._clock(), 0
        self._count += 1
        if self._count == LINES + 1:
            record.msg, record.args, record.exc_info = "too many log lines; the rest of this minute is left out", (), None
        return self._count <= LINES + 1

"""Saving lines without blocking the loop."""

from __future__ import annotations

from concurrent.futures import Future, ThreadPoolExecutor

from scenes.kept.lines import KeptLines, NotKept


class Writer:
    """Writes lines in its own thread, so that neither the disk nor another program's lock delays a picture.

    As a context manager it ends with everything written, or raises `NotKept`. Sentences about earlier failures go into
    `lines.told`.
    """

    def __init__(self, lines: KeptLines):
        self.lines = lines
        self._thread = ThreadPoolExecutor(1, "kept lines")
        self._next: Future | None = None

    def write(self) -> None:
        """Write everything not yet written; at once, unless a write is already queued."""
        if self._next is None or self._next.running() or self._next.done():
            self._next = self._thread.submit(self._keep)

    def _keep(self) -> None:
        try:
            self.lines.keep()
        except NotKept as wrong:
            self.lines.told.append(f"{wrong} Saving is tried again with the next answer.")

    def __enter__(self) -> Writer:
        return self

    def __exit__(self, *_) -> None:
        self._thread.shutdown()
        self.lines.keep()

"""Saving a student's answers without blocking the loop."""

from __future__ import annotations

from concurrent.futures import Future, ThreadPoolExecutor

from scenes.practice.results import NotKept, Results


class Writer:
    """Writes answers in its own thread, so that neither the disk nor another program's lock delays a picture.

    As a context manager it ends with everything written, or raises `NotKept`. Sentences about earlier failures go into
    `results.told`.
    """

    def __init__(self, results: Results):
        self.results = results
        self._thread = ThreadPoolExecutor(1, "results")
        self._next: Future | None = None

    def write(self) -> None:
        """Write everything not yet written; at once, unless a write is already queued."""
        if self._next is None or self._next.running() or self._next.done():
            self._next = self._thread.submit(self._keep)

    def _keep(self) -> None:
        try:
            self.results.keep()
        except NotKept as wrong:
            self.results.told.append(f"{wrong} Saving is tried again with the next answer.")

    def __enter__(self) -> Writer:
        return self

    def __exit__(self, *_) -> None:
        self._thread.shutdown()
        self.results.keep()

"""Writing a student's answers beside the loop."""

from __future__ import annotations

from concurrent.futures import Future, ThreadPoolExecutor

from scenes.practice.results import NotKept, Results


class Writer:
    """Writes answers in a thread of its own, so that neither the disk nor another program's lock holds a picture up.

    As a context it ends with everything written, or `NotKept`. Sentences about what went wrong meanwhile are put in
    `results.told`.
    """

    def __init__(self, results: Results):
        self.results = results
        self._thread = ThreadPoolExecutor(1, "results")
        self._next: Future | None = None

    def write(self) -> None:
        """Have everything written that is not yet; at once unless something is being written now."""
        if self._next is None or self._next.running() or self._next.done():
            self._next = self._thread.submit(self._keep)

    def _keep(self) -> None:
        try:
            self.results.keep()
        except NotKept as wrong:
            self.results.told.append(f"{wrong} It is tried again with the next answer.")

    def __enter__(self) -> Writer:
        return self

    def __exit__(self, *_) -> None:
        self._thread.shutdown()
        self.results.keep()

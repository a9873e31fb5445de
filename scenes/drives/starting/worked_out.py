"""What comes of each case, worked out once: at once where one may wait, else beside the pictures, which it would hold up."""

from __future__ import annotations

from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass

from physics.starting import starts
from scenes.drives.starting.case import Case
from scenes.drives.starting.shown_start import ShownStart, shown_start

MOST_KNOWN = 48  # starts that are kept: each is a hundred kilobytes


@dataclass(frozen=True)
class WorkedOut:
    """A start: its figures, and how it is shown."""

    start: starts.Start
    shown: ShownStart


def work_out(case: Case) -> WorkedOut:
    start = starts.start(case.motor, case.shaft, case.starter)
    return WorkedOut(start, shown_start(start, case))


class StartTable:
    """The starts that are known, and those that are being worked out."""

    def __init__(self):
        self._known: dict[Case, WorkedOut] = {}
        self._coming: dict[Case, Future[WorkedOut]] = {}
        self._beside = ThreadPoolExecutor(1, "starts")

    @property
    def busy(self) -> bool:
        return bool(self._coming)

    def known(self, case: Case) -> WorkedOut | None:
        return self._known.get(case)

    def at_once(self, case: Case) -> WorkedOut:
        """What comes of that case, however long it takes."""
        if case not in self._known:
            coming = self._coming.pop(case, None)
            self._remember(case, work_out(case) if coming is None or coming.cancel() else coming.result())
        return self._known[case]

    def ask_for(self, case: Case) -> None:
        """Have it worked out beside the pictures; what was asked for before and is not begun is asked for no more."""
        if case in self._known or case in self._coming:
            return
        self._coming = {other: work for other, work in self._coming.items() if not work.cancel()}
        self._coming[case] = self._beside.submit(work_out, case)

    def collect(self) -> bool:
        """Take in what has been worked out beside; whether there was anything. An error in it is raised here."""
        done = [case for case, work in self._coming.items() if work.done()]
        for case in done:
            self._remember(case, self._coming.pop(case).result())
        return bool(done)

    def _remember(self, case: Case, worked_out: WorkedOut) -> None:
        if len(self._known) >= MOST_KNOWN:
            del self._known[next(iter(self._known))]
        self._known[case] = worked_out

"""How a stand is used, counted by the day: a file of JSON that says nothing about anybody.

    {"version": 1, "days": {"2026-03-09": {"touches": 412, "uses": 37, "answers": 21, "right": 12, "languages": {"de": 5}, "longest": 214}}}

version    1; a later one has a number of its own, and its file is left alone
days       by date, as the clock of the machine has it (ISO 8601)
touches    buttons pressed, and times that the picture was touched
uses       times that somebody came
answers    questions answered, and how many of them `right`
languages  times that each language was chosen, by its code
longest    the longest use so far, from its first touch to its last, in seconds

Only what the tour counts is there. Fields unknown here are kept as they are. The file is replaced whole and under a lock, what was
counted since the last time being added to what is in it, so that two programs may count in one file. A damaged one is set aside.
"""

from __future__ import annotations

import json
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from datetime import date
from itertools import count
from pathlib import Path
from threading import Lock
from typing import Any

from scenes.exhibit.tour import COUNTED
from scenes.files import locked, replace

VERSION = 1
WITH = {"answers": ("right",)}  # what is counted along with something

Day = dict[str, Any]


class Counts:
    """What is counted; `path` is None where nothing is kept. `trouble`: why the file could not be written, in a sentence."""

    def __init__(self, path: Path | None, counted: tuple[str, ...] = COUNTED):
        self.path = path
        self.counted = {*counted, *(more for each in counted for more in WITH.get(each, ()))}
        self.trouble = ""
        self._kept: dict[str, Day] = {}  # by date: what is in the file
        self._new: dict[str, Day] = {}  # by date: what is not yet in it
        self._due = False  # whether the thread has yet to begin keeping them
        self._memory = Lock()  # guards these; never held while writing
        self._thread = ThreadPoolExecutor(1, "counts")

    def add(self, day: date, **new: int | dict[str, int]) -> None:
        """Count so many more of something; of `longest` the longer one stays."""
        counted = {what: value for what, value in new.items() if what in self.counted}
        if counted:
            with self._memory:
                _add_all(self._new.setdefault(day.isoformat(), {}), counted)

    def of(self, day: date) -> Day:
        """What is counted on that day so far."""
        with self._memory:
            found: Day = {}
            for days in (self._kept, self._new):
                _add_all(found, days.get(day.isoformat(), {}))
        return found

    def keep(self) -> None:
        """Add what is new to the file; if that fails, say why in `trouble` and try again with the next."""
        with self._memory:
            new, self._new, self._due = self._new, {}, False
        if self.path is None:
            return
        try:
            kept = self._add_to_file(self.path, new)
        except (OSError, ValueError) as wrong:
            self.trouble = f"Counts cannot be kept in {self.path}: {getattr(wrong, 'strerror', None) or wrong}."
            with self._memory:
                later, self._new = self._new, new
                _add_days(self._new, later)
        else:
            self.trouble = ""
            with self._memory:
                self._kept = kept

    def keep_soon(self) -> None:
        """As `keep`, without waiting for the disk; what comes meanwhile is kept with the next."""
        with self._memory:
            waits, self._due = self._due, True
        if not waits:
            self._thread.submit(self.keep)

    def close(self) -> None:
        """Keep what is left, and end."""
        self._thread.shutdown()
        self.keep()

    def _add_to_file(self, path: Path, new: dict[str, Day]) -> dict[str, Day]:
        """Add to the file, if there is anything to add; the days that are then in it."""
        if not new:
            return _held(path)["days"]
        path.parent.mkdir(parents=True, exist_ok=True)
        with locked(path.with_name(f"{path.name}.lock")):
            held = _held(path)
            _add_days(held["days"], new)
            replace(path, json.dumps(held, indent=1, sort_keys=True) + "\n")
        return held["days"]


def _add_days(days: dict[str, Day], new: dict[str, Day]) -> None:
    for day, fields in new.items():
        _add_all(days.setdefault(day, {}), fields)


def _add_all(fields: Day, new: Day) -> None:
    """Add counts to counts; the longest is the longer of the two."""
    for what, value in new.items():
        if isinstance(value, dict):
            _add_all(fields.setdefault(what, {}), value)
        elif what == "longest":
            fields[what] = max(fields.get(what, 0), value)
        else:
            fields[what] = fields.get(what, 0) + value


def _held(path: Path) -> dict[str, Any]:
    """What the file holds; nothing if there is none. A damaged one is set aside first; `ValueError` for one of a later version."""
    try:
        raw = path.read_bytes()
    except FileNotFoundError:
        return {"version": VERSION, "days": {}}
    try:
        held = json.loads(raw)
    except (ValueError, RecursionError):
        held = None
    if isinstance(held, dict) and type(held.get("version")) is int and held["version"] > VERSION:
        raise ValueError("a later version of Thumbwise wrote it")
    if not _is_sound(held):
        _set_aside(path)
        return {"version": VERSION, "days": {}}
    return held


def _is_sound(held: Any) -> bool:
    if not (isinstance(held, dict) and held.get("version") == VERSION and isinstance(held.get("days"), dict)):
        return False
    with suppress(ValueError):
        return all(date.fromisoformat(day) and isinstance(fields, dict) and _are_counts(fields) for day, fields in held["days"].items())
    return False


def _are_counts(fields: Day) -> bool:
    languages = fields.get("languages", {})
    numbers = [fields[what] for what in ("touches", "uses", "answers", "right", "longest") if what in fields]
    return isinstance(languages, dict) and all(type(number) is int and number >= 0 for number in [*numbers, *languages.values()])


def _set_aside(path: Path) -> None:
    """Give the file an unused name."""
    for number in count(1):
        aside = path.with_name(f"{path.stem}.damaged-{number}{path.suffix}")
        if not aside.exists():
            path.rename(aside)
            return

"""The file of a student's answers: one JSON object a line (JSON Lines, UTF-8), in the order answered.

Every line has these fields, and may have others, which are kept as they are:

    version   1; a later one keeps these fields and may add more
    when      the time of the answer, UTC, as "2026-03-09T14:05:30Z" (ISO 8601)
    scene     the scene's name
    seed      the question's number, from which its set-up follows; null for a set-up of the student's own
    address   the set-up as the query of the page's URL
    question  what was asked, in words
    given     the choice taken, in words, or the figure; of two tries the first
    answer    the right one
    right     whether they are the same
    kind      the kind of question, as `thumbwise scenes` lists it; missing, as in files of before there were kinds: "forward"
    mistake   the usual mistakes that give this answer, joined by " or "; "" or missing where none is known

An answer is appended and synced to disk under a lock, so that two programs writing at once lose nothing. The system releases
the lock of a program that dies. A line cut off by a power failure counts as damage: the file is set aside and replaced.
"""

from __future__ import annotations

import codecs
import csv
import errno
import io
import json
import os
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from itertools import count
from pathlib import Path
from typing import Any

from scenes.files import append, locked, replace
from scenes.scene.question import FORWARD

VERSION = 1
COLUMNS = ("when", "scene", "kind", "seed", "question", "given", "answer", "right", "mistake")
LATER = {"kind": FORWARD, "mistake": ""}  # fields that a file of before does not have, and what they are then
NO_HOME = "Results cannot be kept: this user has no home folder; give a file with --results."


class NotKept(Exception):
    """The file cannot be read or written; why, in one sentence."""


@dataclass(frozen=True)
class Answer:
    """One answer, with the fields of a line of the file."""

    when: str
    scene: str
    seed: int | None
    address: str
    question: str
    given: str
    answer: str
    right: bool
    kind: str = FORWARD
    mistake: str = ""

    @property
    def line(self) -> str:
        return json.dumps({"version": VERSION} | asdict(self), ensure_ascii=False)


def now() -> str:
    """The present time as written in the file."""
    return datetime.now(UTC).isoformat(timespec="seconds").replace("+00:00", "Z")


def usual_place() -> Path | None:
    """The default file for this user's answers, in the platform's data folder; `None` for a user without a home folder,
    such as a service or a container."""
    try:
        return _data_folder() / "practice.jsonl"
    except RuntimeError:
        return None


def _data_folder() -> Path:
    if sys.platform == "win32":
        told = os.environ.get("LOCALAPPDATA")
        return (Path(told) if told else Path.home() / "AppData" / "Local") / "Thumbwise"
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Application Support" / "Thumbwise"
    told = os.environ.get("XDG_DATA_HOME", "")  # the XDG specification: a relative path there is ignored
    return (Path(told) if os.path.isabs(told) else Path.home() / ".local" / "share") / "thumbwise"


# Long, for reading, adding and mending go through the same lock and the same memory of how far the file is read.
class Results:
    """The answers in a file; `told` holds sentences about it not yet shown.

    One thread may `add` and read `all` while another is in `keep`, which waits for the disk and the lock.
    """

    def __init__(self, path: Path | None):
        self.path = None if path is None else Path(os.path.realpath(path))
        self.answers: list[Answer] = []
        self.told: list[str] = []
        self._not_yet_kept: list[Answer] = []
        self._memory = threading.Lock()  # guards both lists of answers; never held while writing
        self._keeps = True
        self._read_to: tuple | None = None  # the file read and how many bytes of it; `None`: read it all again

    def open(self) -> None:
        """Read the file and check that it can be written. A damaged file is set aside and its readable answers are kept.
        `NotKept` if it cannot be used."""
        with self._to_write() as path:
            text = self._sound_text(path)
            if not path.exists():
                replace(path, text)
                self._read_to = _extent(path)

    def read(self) -> None:
        """Read the file; it is not changed unless damaged, and no file means no answers."""
        if self.path is None:
            raise NotKept(NO_HOME)
        with _said_plainly(self.path, "read from"):
            lines = _lines(self.path)
        self.answers = [answer for _, answer in lines if isinstance(answer, Answer)]
        if any(answer is None for _, answer in lines):
            with self._to_write() as path:
                self._sound_text(path)

    def add(self, answer: Answer) -> None:
        """Hold an answer until it is written (`keep`)."""
        with self._memory:
            self._not_yet_kept.append(answer)

    def forget(self) -> None:
        """From now on hold answers in memory only and write nothing."""
        self._keeps = False

    def keep(self) -> None:
        """Write what is not yet written. `NotKept` if that failed: it is tried again with the next."""
        with self._memory:
            new = list(self._not_yet_kept)
        if not new or not self._keeps:
            return
        text = "".join(f"{answer.line}\n" for answer in new)
        with self._to_write() as path:
            others = self._added_by_others(path)
            if others is None:
                replace(path, self._sound_text(path) + text)
            else:
                append(path, text)
            self._read_to = _extent(path)
        with self._memory:
            self.answers = self.answers + (others or []) + new
            del self._not_yet_kept[: len(new)]

    @property
    def all(self) -> list[Answer]:
        """Every answer, the unwritten ones last."""
        with self._memory:
            return self.answers + self._not_yet_kept

    @contextmanager
    def _to_write(self) -> Iterator[Path]:
        """Hold the lock; file errors meanwhile become `NotKept`."""
        if self.path is None:
            raise NotKept(NO_HOME)
        with _said_plainly(self.path, "kept in"):
            if self.path.is_dir():
                raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR))
            self.path.parent.mkdir(parents=True, exist_ok=True)
            with locked(self.path.with_name(f"{self.path.name}.lock")):
                if self.path.exists() and not os.access(self.path, os.W_OK):
                    raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))
                yield self.path

    def _added_by_others(self, path: Path) -> list[Answer] | None:
        """The answers appended since the last reading; `None` if the file must be read from the start, because it is a
        different one, shorter, damaged, or its last line is incomplete."""
        if self._read_to is None or not path.exists():
            return None
        *which, size = _extent(path)
        *before, begun = self._read_to
        if which != before or size < begun:
            return None
        with open(path, "rb") as file:
            file.seek(begun)
            raw = file.read()
        held = [_held(line) for line in raw.splitlines() if line.strip()]
        if None in held or (raw and not raw.endswith(b"\n")):
            return None
        return [answer for answer in held if isinstance(answer, Answer)]

    def _sound_text(self, path: Path) -> str:
        """The text of the file with its last line completed; its answers are taken over. Damaged lines are left out, and
        the file with them is set aside."""
        self._read_to = None
        lines = _lines(path)
        sound = [(line, answer) for line, answer in lines if answer is not None]
        text = "".join(f"{line.decode('utf-8')}\n" for line, _ in sound)
        if len(sound) < len(lines):
            self._set_aside(path, len(sound))
            replace(path, text)
        with self._memory:
            self.answers = [answer for _, answer in sound if isinstance(answer, Answer)]
        if path.exists() and path.read_bytes() == text.encode("utf-8"):
            self._read_to = _extent(path)
        return text

    def _set_aside(self, path: Path, sound: int) -> None:
        """Copy the file to an unused name and sync the copy to disk."""
        for number in count(1):
            aside = path.with_name(f"{path.stem}.damaged-{number}{path.suffix}")
            with suppress(FileExistsError), open(aside, "xb") as file:
                file.write(path.read_bytes())
                file.flush()
                os.fsync(file.fileno())
                break
        left = {0: "nothing in them could be read", 1: "the one readable answer is kept in a new file"}
        self.told.append(
            f"The results in {path} were damaged and have been set aside as {aside.name}; "
            f"{left.get(sound, f'the {sound} readable answers are kept in a new file')}."
        )


def _extent(path: Path) -> tuple[int, int, int]:
    """The device, inode and size of the file at `path`."""
    about = path.stat()
    return about.st_dev, about.st_ino, about.st_size


@contextmanager
def _said_plainly(path: Path, doing: str):
    """Turn file errors into `NotKept`, in one sentence."""
    try:
        yield
    except FileExistsError:
        raise NotKept(f"Results cannot be {doing} {path}: a file has the same name as its folder.") from None
    except OSError as wrong:
        why = wrong.strerror or str(wrong) or type(wrong).__name__
        raise NotKept(f"Results cannot be {doing} {path}: {why[0].lower()}{why[1:]}.") from None


def _lines(path: Path) -> list[tuple[bytes, Answer | bool | None]]:
    """Every non-empty line with what it holds; none if there is no file."""
    try:
        if path.exists() and not path.is_file() and not path.is_dir():
            raise OSError(errno.EINVAL, "it is not a regular file")  # reading a device may never end
        raw = path.read_bytes()
    except FileNotFoundError:
        return []
    lines = raw.removeprefix(codecs.BOM_UTF8).splitlines()
    return [(line, _held(line)) for line in lines if line.strip()]


def _held(line: bytes) -> Answer | bool | None:
    """The answer on a line, `True` for anything else a later version wrote, `None` for damage."""
    try:
        fields = json.loads(line.decode("utf-8"))
        version = fields["version"]
    except (ValueError, KeyError, TypeError, RecursionError):
        return None
    if type(version) is not int or version < VERSION:
        return None
    return _answer(fields) or (True if version > VERSION else None)


def _answer(fields: dict) -> Answer | None:
    """The answer made of a line's fields, ignoring any others; `None` if they are not valid."""
    wanted: dict[str, Any] = {name: fields.get(name, LATER.get(name)) for name in Answer.__dataclass_fields__}
    texts = [wanted[name] for name in ("when", "scene", "address", "question", "given", "answer", *LATER)]
    seed = wanted["seed"] is None or type(wanted["seed"]) is int
    if not (all(isinstance(text, str) for text in texts) and seed and type(wanted["right"]) is bool):
        return None
    try:
        "".join(texts).encode()  # JSON can hold half a surrogate pair, which no file takes
        datetime.fromisoformat(wanted["when"])
    except ValueError:
        return None
    return Answer(**wanted)


def as_csv(answers: list[Answer], in_words: Callable[[Answer], dict[str, str]] = lambda answer: {}) -> str:
    """The answers as CSV (RFC 4180), a heading first; right is yes or no. `in_words`: fields that are told otherwise
    than they are kept, such as the title of a scene.

    A cell that begins like a formula, which only a hand-edited file can hold, gets an apostrophe, so that no spreadsheet
    evaluates it.
    """
    text = io.StringIO()
    writer = csv.writer(text)
    writer.writerow(COLUMNS)
    for answer in answers:
        cells = asdict(answer) | in_words(answer) | {"right": "yes" if answer.right else "no"}
        writer.writerow([_cell(cells[name]) for name in COLUMNS])
    return text.getvalue()


def _cell(value: str | int | None) -> str:
    text = "" if value is None else str(value)
    return f"'{text}" if text.startswith(("=", "+", "-", "@", "\t", "\r")) else text

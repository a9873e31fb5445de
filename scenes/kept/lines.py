"""A file that is only ever added to: one JSON object a line (JSON Lines, UTF-8), in the order in which they came.

Every line has a `version`, a whole number from 1 on. Unknown fields and lines of a later version are kept as they are. What is
added is appended and synced to disk under a lock, so that two programs writing at once lose nothing. The system releases the lock
of a program that dies. A line cut off by a power failure counts as damage: the file is set aside and replaced.
"""

from __future__ import annotations

import codecs
import csv
import errno
import io
import json
import os
import threading
import time
import unicodedata
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import asdict
from datetime import UTC, datetime
from itertools import count
from pathlib import Path
from typing import Any, Generic, TypeVar

from scenes.files import append, locked, replace

VERSION = 1
PRIVATE = 0o600  # a file that only this user may read


class NotKept(Exception):
    """The file cannot be read or written; why, in one sentence."""


Entry = TypeVar("Entry")


# Long, for reading, adding and mending go through the same lock and the same memory of how far the file is read.
class KeptLines(Generic[Entry]):
    """The entries in a file; `told` holds sentences about it not yet shown.

    `read(fields)`: the entry made of a line's fields, `None` if they are not valid; an entry is a dataclass. `what` and `each`: how
    the file's contents and one entry of it are called. `mode`: the permissions of a new file.

    One thread may `add` and read `all` while another is in `keep`, which waits for the disk and the lock.
    """

    def __init__(
        self, path: Path | None, read: Callable[[dict], Entry | None], what: str, each: str, nowhere: str = "", mode: int | None = None
    ):
        self.path = None if path is None else Path(os.path.realpath(path))
        self.entries: list[Entry] = []
        self.told: list[str] = []
        self._read = read
        self._what, self._each, self._nowhere = what, each, nowhere
        self._mode = mode
        self._not_yet_kept: list[Entry] = []
        self._memory = threading.Lock()  # guards both lists of entries; never held while writing
        self._keeps = True
        self._read_to: tuple | None = None  # the file read and how many bytes of it; `None`: read it all again

    def open(self) -> None:
        """Read the file and check that it can be written. A damaged file is set aside and its readable lines are kept.
        `NotKept` if it cannot be used."""
        with self._to_write() as path:
            text = self._sound_text(path)
            if not path.exists():
                self._replace(path, text)
                self._read_to = _extent(path)

    def read(self) -> None:
        """Read the file; it is not changed unless it is one of ours and damaged, and no file means no entries."""
        if self.path is None:
            raise NotKept(self._nowhere)
        with self._said_plainly(self.path, "read from"):
            lines = self._lines(self.path)
        self.entries = [entry for _, entry in lines if not isinstance(entry, bool | None)]
        if any(entry is None for _, entry in lines) and self._is_ours():
            with self._to_write() as path:
                self._sound_text(path)

    def _is_ours(self) -> bool:
        """Whether what was read is such a file, however damaged."""
        return True

    def add(self, entry: Entry) -> None:
        """Hold an entry until it is written (`keep`)."""
        with self._memory:
            self._not_yet_kept.append(entry)

    def sentences(self) -> list[str]:
        """The sentences about the file that have not been shown; each is given out once."""
        found = list(self.told)  # another thread may be adding one
        del self.told[: len(found)]
        return found

    def forget(self) -> None:
        """From now on hold entries in memory only and write nothing."""
        self._keeps = False

    def keep(self) -> None:
        """Write what is not yet written. `NotKept` if that failed: it is tried again with the next."""
        with self._memory:
            new = list(self._not_yet_kept)
        if not new or not self._keeps:
            return
        text = "".join(f"{line_of(entry)}\n" for entry in new)
        with self._to_write() as path:
            others = self._added_by_others(path)
            if others is None:
                self._replace(path, self._sound_text(path) + text)
            else:
                append(path, text)
            self._read_to = _extent(path)
        with self._memory:
            self.entries = self.entries + (others or []) + new
            del self._not_yet_kept[: len(new)]

    @property
    def all(self) -> list[Entry]:
        """Every entry, the unwritten ones last."""
        with self._memory:
            return self.entries + self._not_yet_kept

    @property
    def exists(self) -> bool:
        """Whether there is a file with anything in it."""
        return self.path is not None and self.path.exists() and (self.path.is_dir() or self.path.stat().st_size > 0)

    def is_at(self, other: Path) -> bool:
        """Whether that is the file."""
        return Path(os.path.realpath(other)) == self.path

    @property
    def counts(self) -> tuple[int, int]:
        """How many entries are written, and how many are not yet."""
        with self._memory:
            return len(self.entries), len(self._not_yet_kept)

    def delete(self) -> None:
        """Delete the file, what was set aside of it, and its lock."""
        with self._to_write() as path:
            for other in (*path.parent.glob(f"{path.stem}.damaged-*{path.suffix}"), path):
                other.unlink(missing_ok=True)
        with suppress(OSError):
            _lock_of(path).unlink()

    @contextmanager
    def _to_write(self) -> Iterator[Path]:
        """Hold the lock; file errors meanwhile become `NotKept`."""
        if self.path is None:
            raise NotKept(self._nowhere)
        with self._said_plainly(self.path, "kept in"):
            if self.path.is_dir():
                raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR))
            self.path.parent.mkdir(parents=True, exist_ok=True)
            with locked(_lock_of(self.path)):
                if self.path.exists() and not os.access(self.path, os.W_OK):
                    raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))
                yield self.path

    def _replace(self, path: Path, text: str) -> None:
        replace(path, text, self._mode)

    def _added_by_others(self, path: Path) -> list[Entry] | None:
        """The entries appended since the last reading; `None` if the file must be read from the start, because it is a
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
        held = [self._held(line) for line in raw.splitlines() if line.strip()]
        if None in held or (raw and not raw.endswith(b"\n")):
            return None
        return [entry for entry in held if not isinstance(entry, bool | None)]

    def _sound_text(self, path: Path) -> str:
        """The text of the file with its last line completed; its entries are taken over. Damaged lines are left out, and
        the file with them is set aside."""
        self._read_to = None
        lines = self._lines(path)
        sound = [(line, entry) for line, entry in lines if entry is not None]
        text = "".join(f"{line.decode('utf-8')}\n" for line, _ in sound)
        if len(sound) < len(lines):
            self._set_aside(path, len(sound))
            self._replace(path, text)
        with self._memory:
            self.entries = [entry for _, entry in sound if not isinstance(entry, bool | None)]
        if path.exists() and path.read_bytes() == text.encode("utf-8"):
            self._read_to = _extent(path)
        return text

    def _set_aside(self, path: Path, sound: int) -> None:
        """Copy the file to an unused name and sync the copy to disk."""
        for number in count(1):
            aside = path.with_name(f"{path.stem}.damaged-{number}{path.suffix}")
            with suppress(FileExistsError), open(os.open(aside, os.O_WRONLY | os.O_CREAT | os.O_EXCL, PRIVATE), "wb") as file:
                file.write(path.read_bytes())
                file.flush()
                os.fsync(file.fileno())
                break
        os.chmod(aside, path.stat().st_mode & 0o777)
        left = {0: "nothing in them could be read", 1: f"the one readable {self._each} is kept in a new file"}
        self.told.append(
            f"The {self._what} in {path} were damaged and have been set aside as {aside.name}; "
            f"{left.get(sound, f'the {sound} readable {self._each}s are kept in a new file')}."
        )

    def _lines(self, path: Path) -> list[tuple[bytes, Entry | bool | None]]:
        """Every non-empty line with what it holds; none if there is no file."""
        return [(line, self._held(line)) for line in _raw(path).removeprefix(codecs.BOM_UTF8).splitlines() if line.strip()]

    def _held(self, line: bytes) -> Entry | bool | None:
        """The entry on a line, `True` for anything else a later version wrote, `None` for damage."""
        try:
            fields = json.loads(line.decode("utf-8"))
            version = fields["version"]
        except (ValueError, KeyError, TypeError, RecursionError):
            return None
        if type(version) is not int or version < VERSION:
            return None
        return self._read(fields) or (True if version > VERSION else None)

    @contextmanager
    def _said_plainly(self, path: Path, doing: str):
        """Turn file errors into `NotKept`, in one sentence."""
        begins = f"{self._what.capitalize()} cannot be {doing} {path}"
        try:
            yield
        except FileExistsError:
            raise NotKept(f"{begins}: a file has the same name as its folder.") from None
        except OSError as wrong:
            why = wrong.strerror or str(wrong) or type(wrong).__name__
            raise NotKept(f"{begins}: {why[0].lower()}{why[1:]}.") from None


def line_of(entry: Any) -> str:
    """The line that an entry is kept as, without the end of line."""
    return json.dumps({"version": VERSION} | asdict(entry), ensure_ascii=False)


def now() -> str:
    """The present time as written in a file."""
    return at(time.time())


def at(seconds: float) -> str:
    """A time, s since 1970, as written in a file: UTC, as "2026-03-09T14:05:30Z" (ISO 8601)."""
    return datetime.fromtimestamp(seconds, UTC).isoformat(timespec="seconds").replace("+00:00", "Z")


def are_texts(*texts: Any) -> bool:
    """Whether all of these are texts that a file can hold; JSON can also hold half a surrogate pair, which none can."""
    try:
        return all(isinstance(text, str) and bool(text.encode() or True) for text in texts)
    except ValueError:
        return False


def is_time(text: Any) -> bool:
    """Whether that is a time as `now` writes it."""
    try:
        return isinstance(text, str) and bool(datetime.fromisoformat(text))
    except ValueError:
        return False


def table(columns: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    """Rows as CSV (RFC 4180), a heading first. A cell that begins like a formula gets an apostrophe, so that no spreadsheet
    evaluates it."""
    text = io.StringIO()
    writer = csv.writer(text)
    writer.writerow(columns)
    writer.writerows([_cell(value) for value in row] for row in rows)
    return text.getvalue()


def _cell(value: object) -> str:
    text = "" if value is None else str(value)
    begins = unicodedata.normalize("NFKC", text).lstrip()[:1]  # of a sign that is wide, or after spaces, some make a formula too
    return f"'{text}" if begins in ("=", "+", "-", "@") or text.startswith(("\t", "\r")) else text


def _lock_of(path: Path) -> Path:
    return path.with_name(f"{path.name}.lock")


def _extent(path: Path) -> tuple[int, int, int]:
    """The device, inode and size of the file at `path`."""
    about = path.stat()
    return about.st_dev, about.st_ino, about.st_size


def _raw(path: Path) -> bytes:
    """The bytes of the file; none if there is no file."""
    try:
        if path.exists() and not path.is_file() and not path.is_dir():
            raise OSError(errno.EINVAL, "it is not a regular file")  # reading a device may never end
        return path.read_bytes()
    except FileNotFoundError:
        return b""

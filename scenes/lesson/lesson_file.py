"""The file of a lesson that is being made: read and written in a thread of its own, and watched for what somebody writes to it
elsewhere."""

from __future__ import annotations

import asyncio
import os
import queue
import tomllib
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from scenes.files import replacing
from scenes.lesson.pictures import Pictures
from scenes.lesson.toml_reader import LONGEST


@dataclass(frozen=True)
class Changed:
    """Somebody else has written to the file; this is its text, None if it is none."""

    text: str | None


class LessonFile:
    """The file at `path`. What `keep` and `look` find out comes with `news`, later.

    A text that somebody else has written is never overwritten before it was told of.
    """

    def __init__(self, path: Path):
        self.path = path
        self.pictures = Pictures(path)
        self.thread = ThreadPoolExecutor(1, "lesson")
        self.not_kept = ""  # why the newest text is not in the file, in a sentence
        self._known: bytes | None = None  # what was last read or written
        self._seen: tuple[int, ...] | None = None  # when and how large the file was then
        self._newest = 0
        self._looking = False
        self._news: queue.SimpleQueue[Changed] = queue.SimpleQueue()

    def read(self) -> str:
        """The text in the file; `OSError` or `UnicodeDecodeError` if it cannot be read."""
        self._seen = self._stamp()
        with open(self.path, "rb") as opened:
            self._known = opened.read(4 * LONGEST + 4)
        return self._known.decode("utf-8-sig").replace("\r\n", "\n").replace("\r", "\n")

    def write(self, text: str) -> None:
        """Put the text into the file, all or nothing, with the ends of lines that it had; `OSError` if that fails."""
        written = text.replace("\n", "\r\n").encode() if b"\r\n" in (self._known or b"") else text.encode()
        with replacing(Path(os.path.realpath(self.path))) as file:
            file.write(written)
        self._known, self._seen = written, self._stamp()

    def keep(self, text: str) -> None:
        """Write the text soon; of several, only the newest is written."""
        self._newest += 1
        self.thread.submit(self._keep, text, self._newest)

    def look(self) -> None:
        """Find out soon whether somebody else has written to the file."""
        if not self._looking:
            self._looking = True
            self.thread.submit(self._look)

    def news(self) -> list[Changed]:
        """What has been found out since this was last asked."""
        found = []
        with suppress(queue.Empty):
            while True:
                found.append(self._news.get_nowait())
        return found

    async def upload(self, body: bytes, called: str) -> str:
        """Keep a picture beside the file; returns how the lesson names it. `ValueError`, in a sentence, if that is impossible."""
        try:
            return await asyncio.get_running_loop().run_in_executor(self.thread, self.pictures.put, body, called)
        except OSError as wrong:
            raise ValueError(f"The picture cannot be written beside the lesson: {(wrong.strerror or str(wrong)).lower()}.") from None

    def __enter__(self) -> LessonFile:
        return self

    def __exit__(self, *_) -> None:
        """Wait until all is written."""
        self.thread.shutdown()

    def _keep(self, text: str, number: int) -> None:
        if number < self._newest:
            return
        try:
            if self._differs():
                self._tell()
            else:
                self.write(text)
            self.not_kept = ""
        except OSError as wrong:
            self.not_kept = f"{self.path} cannot be written: {(wrong.strerror or str(wrong)).lower()}."

    def _look(self) -> None:
        self._looking = False
        with suppress(OSError):  # a file that is gone is made again with the next change
            if self._stamp() != self._seen and self._differs():
                self._tell()

    def _differs(self) -> bool:
        """Whether there is anything else in the file than what was last read or written."""
        try:
            self._seen = self._stamp()
            return self.path.read_bytes()[: 4 * LONGEST + 4] != self._known
        except FileNotFoundError:
            return False

    def _tell(self) -> None:
        """Read what somebody else has written, and the pictures that it names."""
        try:
            text = self.read()
        except UnicodeDecodeError:
            self._news.put(Changed(None))
            return
        with suppress(ValueError, RecursionError, AttributeError, TypeError):
            for step in tomllib.loads(text).get("step", []):
                with suppress(ValueError):
                    _ = self.pictures[step.get("picture", "")]
        self._news.put(Changed(text))

    def _stamp(self) -> tuple[int, ...]:
        found = self.path.stat()
        return found.st_mtime_ns, found.st_size, found.st_ino

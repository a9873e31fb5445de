"""A lesson being made: the bench with its panel open, and its file."""

from __future__ import annotations

import tomllib
from pathlib import Path

from scenes.lesson.draft import Draft
from scenes.lesson.lesson_file import LessonFile
from scenes.lesson.prepare_bench import PrepareBench
from visual.host.server import Host

BEGUN = 'version = 2\ntitle = "t"\n\n[[step]]\ntitle = "Motors"\n'


class Desk:
    """A bench with Prepare open, its file, and what a page sends."""

    def __init__(self, path: Path, text: str = BEGUN):
        path.write_text(text, "utf-8", newline="")
        self.path = path
        self.now = 0.0
        self.file = LessonFile(path)
        self.bench = PrepareBench(Host(), Draft(self.file.read(), str(path), self.file.pictures), self.file, True, lambda: self.now)

    def send(self, do: str, **fields) -> str:
        """Send a request; returns the sentence that is shown then."""
        self.bench.receive({"do": do, **fields})
        return self.notice

    def does(self, do: str, **fields) -> None:
        assert self.send(do, **fields) == ""

    @property
    def notice(self) -> str:
        here = self.told["here"]
        return self.bench.host.published.get("notice", {}).get("text", "") or (here["refused"] if here else "")

    @property
    def told(self) -> dict:
        return self.bench.host.published_to["bench"]["preparing"]

    @property
    def here(self) -> int:
        return self.told["here"]["number"]

    def in_the_file(self) -> dict:
        self.file.thread.submit(lambda: None).result()
        return tomllib.loads(self.path.read_text("utf-8"))

    def a_second_later(self) -> None:
        """The bench has looked at its file, and heard what is there."""
        self.now += 1.1
        self.bench.frame(0.03)
        self.file.thread.submit(lambda: None).result()
        self.bench.frame(0.03)

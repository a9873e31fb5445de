"""A marked test that is held in this process: no browser, no network."""

from __future__ import annotations

import json

from scenes import catalogue
from scenes.kept.writer import Writer
from scenes.marked.papers import Papers
from scenes.marked.questions import Asked, question_for
from scenes.marked.record import Record
from scenes.marked.room import TRAINEE, Room
from scenes.questions.kinds import draw, kind_of
from tests.scenes.marked.tests_file import OPENED, TERMS, lines_of, written
from visual.host.viewers import Viewer

SCENES = ["pushed-conductor", "two-wires"]
EIGHT = 1773043200.0  # 2026-03-09T08:00:00Z


class Page:
    """A trainee's page: everything that it was sent, and the newest of every key."""

    def __init__(self, held, visitor: str | None, address: str = "192.0.2.7"):
        self.held, self.texts, self.told = held, [], {}
        self.viewer = Viewer(self._hear, (), TRAINEE, lambda: None, frozenset(), visitor, address)
        held.host.viewers.add(self.viewer)

    def _hear(self, text) -> None:
        self.texts.append(text.decode() if isinstance(text, bytes) else text)
        self.told |= json.loads(text)

    def asks(self, **message) -> dict:
        """Send a message; how the page then stands."""
        self.held.host.receive(self.viewer, json.dumps(message))
        self.held.settle()
        return self.told["sitting"]

    def answers(self, right: bool) -> dict:
        question, place = self.told["question"], self.told["sitting"]["place"]
        wanted, words = right_answer(question_for(self.held.room.terms, self.trainee, place))
        others = [choice["value"] for choice in question["choices"] if choice["value"] != wanted]
        return self.asks(
            do="answer", choice=wanted if right else others[0] if others else words.replace(words.split()[0], "-777"), place=place
        )

    @property
    def trainee(self) -> int:
        name = self.told["sitting"]["name"]
        return next(line["trainee"] for line in lines_of(self.held.file) if line.get("name") == name)


def right_answer(asked: Asked) -> tuple[str, str]:
    """The right answer to a question and the same in words, put here on a scene that is not drawn."""
    scene = catalogue.scene_class(asked.scene)()
    question = draw(scene, kind_of(scene, asked.kind), asked.seed).question(scene)
    return question.answer, question.words_of(question.answer)


class Held:
    """A test that is held in this process, on a clock that the test sets."""

    def __init__(self, file, papers: Papers):
        if not file.exists():
            written(file, TERMS | {"scenes": SCENES}, OPENED)
        self.file, self.now = file, EIGHT
        self.host, self.record = papers.host, Record(file)
        self.host.viewers.clear()
        found = self.record.read_test()
        self.record.open()
        self.writer = Writer(self.record)
        self.room = Room(papers, self.record, found, self.writer, lambda: self.now)

    def settle(self) -> None:
        """Everything is written, and told to every page."""
        self.writer._thread.submit(lambda: None).result()
        for _ in range(4):
            for viewer in self.host.viewers:
                viewer.ready = True
            self.room.frame(0.03)
            self.host.frames += 1
            self.host.flush()

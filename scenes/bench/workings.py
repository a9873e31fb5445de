"""A calculation beside the scene, line by line for the board: its inputs are the scene's own, except those entered by hand."""

from __future__ import annotations

from collections.abc import Mapping
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass
from typing import Protocol
from urllib.parse import parse_qsl

from physics.arguments import quoted
from scenes.names import did_you_mean, no_such
from scenes.scene.scene import Scene
from scenes.scene.typed import Figure
from scenes.workings.board_lines import BoardLine, BoardWorking, board_working
from scenes.workings.topics import TOPICS
from visual.host import messages

LONGEST = 2000  # characters of the inputs entered by hand
DIGITS = 5  # to which the scene's figures are taken; what is shown is then worked from the figures as they stand there
IN_ADDRESS = "working"
BEING_WORKED = BoardWorking(wrong="Being worked out \N{HORIZONTAL ELLIPSIS}")
HIDDEN = "Hidden, as the answer is."


class HasWorkings(Protocol):
    """What calculations belong to, such as a scene."""

    def workings(self) -> dict[str, dict[str, float | str]]: ...


@dataclass(frozen=True)
class WorksThrough:
    """The calculation that works a question through: its topic, the question's figures by input, as they are written, and the answer."""

    topic: str
    inputs: dict[str, str]
    answer: Figure


class WorkingSheet:
    """The topic that is open, "" for none, and the inputs entered by hand, as they were written.

    may_wait: whether what takes long is waited for; else it is worked out beside the pictures.
    """

    def __init__(self, may_wait: bool = False):
        self.may_wait = may_wait
        self.topic = ""
        self.entered: dict[str, str] = {}
        self._key: tuple | None = None  # what `_working` was worked from
        self._working: BoardWorking | Future[BoardWorking] = BoardWorking()
        self._beside = ThreadPoolExecutor(1, "workings")

    def choose(self, topic: str, inputs: str) -> None:
        """Open a topic, with `inputs` entered by hand as in the query of an address; `ValueError` if there is none of that name, or
        it has no such input."""
        self.topic, self.entered = _checked(topic, dict(parse_qsl(inputs[:LONGEST], keep_blank_values=True)))

    def begin(self, scene: Scene) -> None:
        """Another scene is shown: if a topic is open, one of that scene's is opened in its place."""
        own = list(scene.workings())
        if self.topic:
            self.topic = self.topic if self.topic in own else next(iter(own), "")
        self.entered = {}

    def address(self) -> list[tuple[str, str]]:
        """The topic and what was entered, for the address."""
        if not self.topic:
            return []
        return [(IN_ADDRESS, self.topic), *((f"{IN_ADDRESS}-{name}", text) for name, text in self.entered.items())]

    def open_address(self, taken: tuple[str, dict[str, str]]) -> None:
        """Open what `from_address` has taken out of an address, if that names a topic."""
        if taken[0]:
            self.topic, self.entered = taken

    def shown(self, scene: HasWorkings, reveals_answer: bool, works: WorksThrough | None = None) -> messages.Working:
        """All that a page shows of it at this instant. The calculation that `works` a question through has that one's figures, no
        others of the scene, and ends with its answer."""
        offered = ({works.topic: works.inputs} if works else {}) | scene.workings()
        listed = ({works.topic: TOPICS[works.topic]} if works else {}) | TOPICS  # what is opened first stands first
        said: messages.Working = {
            "topic": self.topic,
            "topics": [{"name": name, "words": topic.summary, "here": name in offered} for name, topic in listed.items()],
            "title": "",
            "inputs": [],
            "entered": bool(self.entered),
            "lines": [],
            "remark": "",
            "wrong": "",
        }
        if not self.topic:
            return said
        answer = works.answer if works and works.topic == self.topic else None
        texts = self._inputs(works.inputs if works and answer else offered.get(self.topic, {}))
        working = self._worked(texts, answer)
        said |= {"title": working.title, "wrong": working.wrong, "lines": [_told(line) for line in working.lines]}
        if not reveals_answer:
            return said | {"wrong": HIDDEN, "lines": [_told(line.hidden) for line in working.lines]}
        said |= {"remark": working.remark, "inputs": [_asked(ask, texts[ask.name]) for ask in TOPICS[self.topic].asks]}
        return said

    def _inputs(self, own: Mapping[str, float | str]) -> dict[str, str]:
        """Every input as it is written: by hand, or the scene's `own`, or not."""
        return {ask.name: self.entered.get(ask.name, written_input(own.get(ask.name, ""))) for ask in TOPICS[self.topic].asks}

    def _worked(self, texts: dict[str, str], answer: Figure | None) -> BoardWorking:
        topic, key = TOPICS[self.topic], (self.topic, answer, *texts.values())
        if key != self._key:
            self._key = key
            if isinstance(self._working, Future):
                self._working.cancel()
            beside = topic.slow and not self.may_wait
            self._working = self._beside.submit(board_working, topic, texts, answer) if beside else board_working(topic, texts, answer)
        if isinstance(self._working, Future):
            if not self._working.done():
                return BEING_WORKED
            self._working = self._working.result()
        return self._working


def from_address(values: dict[str, str]) -> tuple[str, dict[str, str]]:
    """The topic and its inputs, taken out of an address's `values`; `ValueError` if there is none of that name."""
    names = [name for name in values if name.startswith(f"{IN_ADDRESS}-")]
    entered = {name.removeprefix(f"{IN_ADDRESS}-"): values.pop(name) for name in names}
    return _checked(values.pop(IN_ADDRESS, ""), entered)


def _checked(topic: str, entered: dict[str, str]) -> tuple[str, dict[str, str]]:
    if not topic:
        return "", {}
    if topic not in TOPICS:
        raise ValueError(no_such("calculation", topic, TOPICS))
    names = [ask.name for ask in TOPICS[topic].asks]
    for name in entered:
        if name not in names:
            raise ValueError(f"The calculation {topic} has no input {quoted(name)}; {did_you_mean(name, names, 'it has')}")
    return topic, entered


def written_input(value: float | str) -> str:
    return value if isinstance(value, str) else f"{float(f'{value:.{DIGITS}g}') + 0.0:.10g}"


def _asked(ask, text: str) -> messages.WorkingInput:
    return {"name": ask.name, "words": ask.words, "unit": ask.unit, "value": text, "choices": list(ask.choices)}


def _told(line: BoardLine) -> messages.BoardLine:
    return {"words": line.words, "symbols": line.symbols, "numbers": line.numbers, "result": line.result}

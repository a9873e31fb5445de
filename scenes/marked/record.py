"""The file of a marked test, kept as `kept.lines` does: one JSON object a line, in the order in which things happened.

Every line has a `version` (1), `what` it is, and `when`, UTC, as "2026-03-09T14:05:30Z" (ISO 8601). Beside these

    terms     scenes: their names; questions: how many to each trainee; minutes: for all of them, or null; seed: from which the
              figures follow; word: in the shared address; key: in hexadecimal digits, with which trainees' cookies are signed;
              drawn: the version of its questions, by which a program knows that it would put the same; null in older files
    opened    the program has started; port: of the shared address, or null
    begun     trainee: counted from 1; name: as typed; visitor: in the browser's cookie, or null on the instructor's machine
    answered  trainee; place: of the question, counted from 1; scene, kind, seed and question; given, in words, or the figure; answer: the
              right one; right: whether it was; mistake: the usual mistake behind it, by name, or null
    ended     trainee: has handed in before the last question, or the instructor has for them
    readmitted  trainee: may go on in another browser; who types the name next has that test, with a line `begun` of the same number

Nothing else is stored: who has come to the end, and the marks, follow from these. Only this user may read the file.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from pathlib import Path
from typing import Any, TypeAlias

from scenes import catalogue
from scenes.bench.prediction import LARGEST_SEED
from scenes.kept.lines import PRIVATE, KeptLines, NotKept, are_texts, is_time

MOST_QUESTIONS = 40
MOST_MINUTES = 600
MOST_TRAINEES = 200
LONGEST_NAME = 40  # characters


@dataclass(frozen=True)
class Terms:
    """What the test is."""

    when: str
    scenes: list[str]
    questions: int
    minutes: float | None
    seed: int
    word: str
    key: str
    what: str = "terms"
    drawn: str | None = None

    @property
    def sound(self) -> bool:
        known = bool(self.scenes) and all(name in catalogue.NAMES for name in self.scenes)
        within = 1 <= self.questions <= MOST_QUESTIONS and (self.minutes is None or 0 < self.minutes <= MOST_MINUTES)
        return known and within and self.word.isalnum() and len(self.key) == 64 and set(self.key) <= set("0123456789abcdef")


@dataclass(frozen=True)
class Opened:
    """The program was started."""

    when: str
    port: int | None
    what: str = "opened"

    @property
    def sound(self) -> bool:
        return self.port is None or 0 < self.port < 65536


@dataclass(frozen=True)
class Begun:
    """A trainee has typed a name."""

    when: str
    trainee: int
    name: str
    visitor: str | None
    what: str = "begun"

    @property
    def sound(self) -> bool:
        return 1 <= self.trainee <= MOST_TRAINEES and 0 < len(self.name) <= LONGEST_NAME


@dataclass(frozen=True)
class Answered:
    """A trainee has answered a question for good. `set_up`: what it was asked about, in words; older files lack it."""

    when: str
    trainee: int
    place: int
    scene: str
    kind: str
    seed: int
    question: str
    given: str
    answer: str
    right: bool
    mistake: str | None
    set_up: str | None = None
    what: str = "answered"

    @property
    def sound(self) -> bool:
        return 1 <= self.trainee <= MOST_TRAINEES and 1 <= self.place <= MOST_QUESTIONS and 1 <= self.seed <= LARGEST_SEED


@dataclass(frozen=True)
class Ended:
    """A trainee has handed in, or the instructor for them."""

    when: str
    trainee: int
    what: str = "ended"

    @property
    def sound(self) -> bool:
        return 1 <= self.trainee <= MOST_TRAINEES


@dataclass(frozen=True)
class Readmitted:
    """A trainee may go on in another browser."""

    when: str
    trainee: int
    what: str = "readmitted"

    @property
    def sound(self) -> bool:
        return 1 <= self.trainee <= MOST_TRAINEES


Line: TypeAlias = Terms | Opened | Begun | Answered | Ended | Readmitted
KINDS: dict[str, type[Line]] = {
    "terms": Terms,
    "opened": Opened,
    "begun": Begun,
    "answered": Answered,
    "ended": Ended,
    "readmitted": Readmitted,
}


class Record(KeptLines[Line]):
    """The lines of a test."""

    def __init__(self, path: Path):
        super().__init__(path, _line, "answers", "line", mode=PRIVATE)

    @property
    def terms(self) -> Terms | None:
        """What the test is; `None` if the file does not say."""
        return next((line for line in self.all if isinstance(line, Terms)), None)

    def _is_ours(self) -> bool:
        return self.terms is not None

    def read_test(self) -> Terms:
        """Read the file and say what the test is; `NotKept`, with the file untouched, if it holds none."""
        self.read()
        if self.terms is None:
            raise NotKept(f"{self.path} holds no test.")
        return self.terms


TYPES = {"str": (str,), "int": (int,), "bool": (bool,), "float | None": (int, float, type(None)), "int | None": (int, type(None)),
         "str | None": (str, type(None)), "list[str]": (list,)}  # fmt: skip


def _line(found: dict) -> Line | None:
    """The line made of its fields, ignoring any others; `None` if they are not valid."""
    kind = KINDS.get(str(found.get("what")))
    if kind is None:
        return None
    wanted: dict[str, Any] = {field.name: found.get(field.name) for field in fields(kind)}
    texts = [text for value in wanted.values() for text in (value if isinstance(value, list) else [value]) if isinstance(text, str)]
    if any(type(wanted[field.name]) not in TYPES[str(field.type)] for field in fields(kind)):
        return None
    if not (are_texts(*texts) and is_time(wanted["when"]) and wanted["when"].endswith("Z")):
        return None
    line = kind(**wanted)
    return line if line.sound else None

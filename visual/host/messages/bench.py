"""What the bench shows beside the picture: readings, workings, the question, how a student gets on."""

from __future__ import annotations

from typing import TypedDict

from visual.host.messages.scene import ChoiceWords
from visual.host.messages.values import Vector


class BenchState(TypedDict):
    """`held` says why it is paused although nobody has held it, or is empty."""

    running: bool
    slowness: str
    answers_shown: bool
    held: str


class Notice(TypedDict):
    """Something went wrong or is worth telling; `serial` counts up."""

    text: str
    serial: int


class Reading(TypedDict):
    """All text, ready to show; `first`: in sight, not folded away."""

    symbol: str
    words: str
    value: str
    unit: str
    formula: str
    first: bool


class WorkingTopic(TypedDict):
    """A calculation that may be opened; `here`: the scene gives its figures for it."""

    name: str
    words: str
    here: bool


class WorkingInput(TypedDict):
    """`choices`, if there are any, are all that it may be."""

    name: str
    words: str
    unit: str
    value: str
    choices: list[str]


class BoardLine(TypedDict):
    """As written on the board, each row ready to show or empty."""

    words: str
    symbols: str
    numbers: str
    result: str


class Working(TypedDict):
    """The calculation that is open, if `topic` names one. `entered`: whether an input was entered by hand; `wrong`: why there are
    no lines, in a sentence."""

    topic: str
    topics: list[WorkingTopic]
    title: str
    inputs: list[WorkingInput]
    entered: bool
    lines: list[BoardLine]
    remark: str
    wrong: str


class Score(TypedDict):
    right: int
    asked: int


class ArrowFoot(TypedDict):
    """Where the arrow begins that may be drawn as an answer, metres, and the letter of what it stands for."""

    letter: str
    at: Vector


class Question(TypedDict):
    """`given`, `right`, `answer`, `reason` and `works` are null until it is answered; `right` also if the answer was shown without anyone
    giving one, `works`, the calculation that works it through, also where none does. `answered`: by a "choice", by a figure that is
    "typed", or by what is "pressed" or "drawn" in the picture too; `arrow`: what is drawn. `covers`: the picture would give the answer
    away, and is covered. `tried`: a first answer that was wrong. `note` is a sentence or empty."""

    text: str
    choices: list[ChoiceWords]
    answered: str
    arrow: ArrowFoot | None
    kind: str
    covers: bool
    seed: int | None
    tried: str | None
    given: str | None
    right: bool | None
    answer: str | None
    reason: str | None
    works: str | None
    note: str
    score: Score


class Given(TypedDict):
    """One setting of a set-up that is asked about."""

    words: str
    value: str
    unit: str


class ProgressTopic(TypedDict):
    """A scene in practice: its answers, and of its kinds of question how many are known and how many come back."""

    title: str
    right: int
    asked: int
    known: int
    coming_back: int
    kinds: int


class ProgressMistake(TypedDict):
    """A usual mistake, and how often it was made in each week."""

    name: str
    by_week: list[int]


class Progress(TypedDict):
    """A student's progress: weeks by their Mondays, the last one the present, and the score of each."""

    weeks: list[str]
    shares: list[Score]
    topics: list[ProgressTopic]
    mistakes: list[ProgressMistake]

"""A lesson: where it stands, what the speaker sees, and how one is made."""

from __future__ import annotations

from typing import TypedDict


class OwnPage(TypedDict):
    """A page of the instructor's own, shown in place of the picture. `picture` is an address or empty, `shows` says what is to be seen
    in it."""

    title: str
    text: str
    picture: str
    shows: str


class LessonStep(TypedDict):
    number: int
    count: int
    caption: str
    title: str
    page: OwnPage | None


class NextStep(TypedDict):
    """`scene` is empty where it stays the same."""

    caption: str
    scene: str
    asks: bool


class RightAnswer(TypedDict):
    """`accepted`: of a figure, the range that counts as right."""

    words: str
    accepted: str
    reason: str


class Prompt(TypedDict):
    """For the speaker alone; `counts`: how many of the class gave each answer, by its value, and `before` it was asked again;
    `onward`: what going on does."""

    notes: str
    next: NextStep | None
    answer: RightAnswer | None
    counts: dict[str, int]
    before: dict[str, int] | None
    onward: str


class Clock(TypedDict):
    """For the speaker alone, in seconds: since the lesson and since the step began, and what was planned for each, or 0;
    `planned_steps`: for how many steps anything was. It `runs` once the lesson has begun."""

    runs: bool
    lesson: int
    step: int
    lesson_planned: int
    planned_steps: int
    step_planned: int


class PreparedStep(TypedDict):
    """A step in the list; `number` stays its own wherever it is moved; `scene` is empty for a page of one's own; `asks`: which question,
    in words, or empty."""

    number: int
    words: str
    scene: str
    asks: str
    minutes: float


class PreparedQuestion(TypedDict):
    """A question of one's own, each choice on a line."""

    text: str
    choices: str
    right: int
    reason: str


class PreparedKind(TypedDict):
    """A kind of question that the step's scene has; `choices`: whether there are any, to vote on."""

    name: str
    words: str
    choices: bool


class PreparedFields(TypedDict):
    """What the present step says. `asks` is "none", "scene", "kind" or "own"; `kinds`: those of its scene, its own question
    first; `kind`, and where it is `numbered` also `number_asked`: the one that is asked; `own`: one's own question, put or `begun`,
    which is "" where none is, "written" while it lacks something, "aside" where another is put in its place; `put`: the
    demonstration's question in words, or empty; `refused`: why the question chosen last could not be put, in a sentence, or empty;
    `picture` is an address or empty."""

    number: int
    page: bool
    caption: str
    notes: str
    minutes: float
    hold: bool
    go_on: bool
    answers: bool
    asks: str
    kinds: list[PreparedKind]
    kind: str
    numbered: bool
    number_asked: int
    vote: bool
    own: PreparedQuestion | None
    put: str
    begun: str
    refused: str
    title: str
    text: str
    picture: str
    shows: str


class Preparing(TypedDict):
    """For the instructor's page alone: the lesson in its file, while it is `open` for changes. `wrong`: why it is not in the file, or
    what is wrong there, in a sentence, or empty."""

    open: bool
    file: str
    title: str
    wrong: str
    steps: list[PreparedStep]
    here: PreparedFields | None
    can_undo: bool
    can_redo: bool

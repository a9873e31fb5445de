"""A lesson being made: each change gives a new text, which is read as it will be when the file is opened, and can be undone."""

from __future__ import annotations

import unicodedata
from collections import deque
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass

from physics.arguments import quoted
from scenes import catalogue
from scenes.bench.prediction import checked_seed
from scenes.lesson.document import Document, Part
from scenes.lesson.lesson import LONGEST_CAPTION, LONGEST_TEXT, LONGEST_TITLE, MOST_MINUTES, VERSION, LessonError, read
from scenes.lesson.own_question import ASIDE, is_own, is_whole, written
from scenes.lesson.own_question import LONGEST as LONGEST_OF_QUESTION
from scenes.lesson.pictures import Pictures
from scenes.lesson.steps import Lesson, OfKind, Step
from scenes.questions.kinds import kind_of
from scenes.scene.question import TYPED as TYPED_ANSWER
from scenes.scene.question import Question

MOST_CHANGES = 100  # that can be undone
LONGEST_NOTES = 5000  # characters


@dataclass(frozen=True)
class Edition:
    """A text and the lesson in it."""

    document: Document
    lesson: Lesson


# Long, for every change of a lesson, and what undoes it, is in one place.
class Draft:
    """The present edition of a lesson, those before it, and those that were undone.

    Every change raises `ValueError`, in a sentence, and changes nothing, where the lesson could not be read any more.
    """

    def __init__(self, text: str, name: str, pictures: Pictures):
        self._name = name
        self._pictures = pictures
        lesson = read(text, name, pictures)
        self._now = Edition(Document.of(text), lesson)
        self._before: deque[Edition] = deque(maxlen=MOST_CHANGES)
        self._after: list[Edition] = []
        self._typed: object = None  # what is being changed, where it is typed
        self._goes_on: object = None  # what was typed last, and may go on: its changes are undone as one

    @property
    def document(self) -> Document:
        return self._now.document

    @property
    def lesson(self) -> Lesson:
        return self._now.lesson

    @property
    def can_undo(self) -> bool:
        return bool(self._before)

    @property
    def can_redo(self) -> bool:
        return bool(self._after)

    @contextmanager
    def typed(self, what: object, goes_on: bool) -> Iterator[None]:
        """Changes that somebody types, or not (None). Those of the same thing, while typing `goes_on`, are undone as one."""
        self._typed = what
        if what != self._goes_on:
            self._goes_on = None
        try:
            yield
        finally:
            self._typed = None
            if not goes_on:
                self._goes_on = None

    def undo(self) -> None:
        if not self._before:
            raise ValueError("There is no change left to undo.")
        self._after.append(self._now)
        self._now = self._before.pop()

    def redo(self) -> None:
        if not self._after:
            raise ValueError("There is no undone change to make again.")
        self._before.append(self._now)
        self._now = self._after.pop()

    def read_anew(self, text: str) -> None:
        """Take the text that somebody has written elsewhere; undo brings back what was there. `LessonError` if it is not valid."""
        lesson = read(text, self._name, self._pictures, self.lesson.steps)
        if text != self.document.text:
            self._take(Edition(Document.of(text).numbered_as(self.document), lesson))

    def change(self, document: Document) -> None:
        """Take another document, in the present format."""
        document = document.headed("version", VERSION)
        try:
            lesson = read(document.text, self._name, self._pictures, self.lesson.steps)
        except LessonError as wrong:
            raise ValueError(wrong.sentence) from None
        if document.text != self.document.text:
            self._take(Edition(document, lesson))

    def _take(self, edition: Edition) -> None:
        if self._typed is None or self._typed != self._goes_on:
            self._before.append(self._now)
        self._goes_on = self._typed
        self._after.clear()
        self._now = edition

    def called(self, title: str) -> None:
        self.change(self.document.headed("title", typed_line("The lesson's title", title, LONGEST_TITLE)))

    def insert(self, place: int, given: Mapping[str, object]) -> None:
        self.change(self.document.inserted(place, Part.new(given)))

    def move(self, number: float, to: int) -> None:
        """Move a step to another place; beyond the ends, the first or last one."""
        here = self.document.place(number)
        self.change(self.document.without(here).inserted(max(0, min(len(self.document.parts) - 1, to)), self.document.parts[here]))

    def copy(self, number: float) -> None:
        here = self.document.place(number)
        self.insert(here + 1, self.document.parts[here].given)

    def remove(self, number: float) -> None:
        if len(self.document.parts) == 1:
            raise ValueError("A lesson keeps at least one step; add another before you take this one out.")
        self.change(self.document.without(self.document.place(number)))

    def say(self, number: float, **values: object) -> None:
        """Change what a step says: a value of None, or an empty one, takes the key out."""
        here = self.document.place(number)
        before = self.document.parts[here].given
        given = {key: value for key, value in {**before, **values}.items() if value not in (None, "", {}, [])}
        if given != before:  # else it stays as it is written
            self.change(self.document.changed(here, given))

    def type(self, number: float, name: str, value: object) -> None:
        """Change one thing of a step to what somebody has typed or chosen on the page."""
        if name in OF_A_KIND:
            self.ask(number, _of_a_kind(self.lesson.steps[self.document.place(number)], name, value))
            return
        if name not in TYPED:
            raise ValueError(f"Of a step one can change {', '.join((*TYPED, *OF_A_KIND))}, not {quoted(name)}.")
        if name == "question" and value == "own":
            self.take_up_own(number)
        elif name == "question":
            self.ask(number, _asked(value))
        else:
            self.say(number, **{name: TYPED[name](value)})

    def ask(self, number: float, question: object) -> None:
        """Have the step put that question, as its file has it; one's own that was put or begun is kept, set aside."""
        step = self.lesson.steps[self.document.place(number)]
        self.say(number, **_asking(step, question), begun=None if is_own(question) else _set_aside(step))

    def write_own(self, number: float, table: dict) -> None:
        """Keep a question of one's own as it is written: it is put as soon as it is whole, and till then the one before is."""
        if is_whole(table):
            self.ask(number, table)
        else:
            self.say(number, begun={key: value for key, value in table.items() if value})

    def take_up_own(self, number: float) -> None:
        """Go on with one's own question that was set aside."""
        step = self.lesson.steps[self.document.place(number)]
        self.write_own(number, {key: value for key, value in written(step.begun, step.question).items() if key != ASIDE})


def _of_a_kind(step: Step, name: str, value: object) -> object:
    """A question of that kind, about the step's set-up or `numbered`, or the one of its kind with that number, or with none."""
    if not step.scene:
        raise ValueError("A page has no set-up to ask about; give it a question of your own.")
    if name == "another":
        return step.another_question(-1 if value == "before" else 1)
    if name == "number" and (not step.question or isinstance(step.question, Question)):
        raise ValueError("A number belongs to a question of the demonstration; choose one first.")
    present = step.question.kind if isinstance(step.question, OfKind) else ""
    kind = present if name == "number" else "" if value == OWN_WAY else str(value)
    brings = {"kind": None, "numbered": 1, "number": value}[name]
    asked: dict[str, object] = {"kind": kind} if kind else {}
    if brings is None:
        return asked or True
    return asked | {"number": checked_seed(brings)} if kind else checked_seed(brings)


def _set_aside(step: Step) -> dict[str, object]:
    own = written(step.begun, step.question)
    return own | {ASIDE: True} if own else {}


def _asking(step: Step, question: object) -> dict[str, object]:
    """What changes with the question of a step. One with a number brings a set-up: it replaces the step's own; and what it has brought
    stays when another question is put about it. Without choices there is no vote."""
    table: dict = question if isinstance(question, dict) else {}
    settings: dict[str, object] = {}
    if type(question) is int or "number" in table:
        settings = {"settings": None}
    elif step.numbered is not None:
        settings = {"settings": step.brought()}
    votes = question is not None and not ("kind" in table and _typed_figure(step, table["kind"]))
    return {"question": question} | settings | ({} if votes else {"vote": None})


def _typed_figure(step: Step, kind: str) -> bool:
    return kind_of(catalogue.scene_class(step.scene), kind).answered == TYPED_ANSWER


def typed_line(what: str, value: object, most: int) -> str:
    """Text on one line, from what was typed; `ValueError`, in a sentence, if it cannot be kept."""
    return " ".join(_typed(what, value, most).split())


def typed_lines(what: str, value: object, most: int) -> str:
    """Text on several lines, the last of which ends as the others do."""
    text = "\n".join(line.rstrip() for line in _typed(what, value, most).split("\n")).strip("\n")
    return f"{text}\n" if "\n" in text else text


def _typed(what: str, value: object, most: int) -> str:
    if not isinstance(value, str):
        raise ValueError(f"{what} must be text, not {quoted(value)}.")
    text = value.replace("\r\n", "\n").replace("\r", "\n")
    for sign in text:
        if unicodedata.category(sign) in ("Cc", "Cs") and sign not in "\n\t":
            raise ValueError(f"{what} cannot hold U+{ord(sign):04X}, a control character that no page shows; take it out.")
    if len(text.strip()) > most:
        raise ValueError(f"{what} may have at most {most} characters, not {len(text.strip())}.")
    return text


def typed_question(text: str, choices: str, right: float, reason: str) -> dict[str, object]:
    """The table of a question of one's own, each of its choices on a line."""
    table: dict[str, object] = {
        "text": typed_line("The question", text, LONGEST_OF_QUESTION["text"]),
        "choices": [
            typed_line("A choice", line, LONGEST_OF_QUESTION["choices"])
            for line in _typed("The choices", choices, 10 * LONGEST_OF_QUESTION["choices"]).split("\n")
            if line.strip()
        ],
        "right": int(right) if abs(right) < 100 else 0,
        "reason": typed_lines("The reason", reason, LONGEST_OF_QUESTION["reason"]),
    }
    return {key: value for key, value in table.items() if value != ""}


def _yes(what: str, usual: bool) -> Callable[[object], bool | None]:
    """A switch, kept where it is not as usual."""

    def taken(value: object) -> bool | None:
        if not isinstance(value, bool):
            raise ValueError(f"{what} takes true or false, not {quoted(value)}.")
        return None if value is usual else value

    return taken


def _minutes(value: object) -> float | None:
    if isinstance(value, bool) or not isinstance(value, int | float | None):
        raise ValueError(f"The minutes planned take a number, not {quoted(value)}.")
    if not 0 <= (value or 0) <= MOST_MINUTES:
        raise ValueError(f"The minutes planned are from 0 to {MOST_MINUTES}.")
    return value or None


def _asked(value: object) -> bool | None:
    if value not in (OWN_WAY, "none"):
        raise ValueError(f"A step asks none or the scene's question, one of a kind, or one of your own, not {quoted(value)}.")
    return True if value == OWN_WAY else None


OF_A_KIND = ("kind", "numbered", "number", "another")
OWN_WAY = "scene"  # the demonstration's own question
TYPED: dict[str, Callable[[object], object]] = {
    "caption": lambda value: typed_line("A caption", value, LONGEST_CAPTION),
    "notes": lambda value: typed_lines("The notes", value, LONGEST_NOTES),
    "minutes": _minutes,
    "hold": _yes("Standing still", False),
    "go_on": _yes("Going on", False),
    "answers": _yes("Showing the answers", True),
    "question": _asked,
    "vote": _yes("Voting twice", False),
    "title": lambda value: typed_line("A title", value, LONGEST_TITLE),
    "text": lambda value: typed_lines("The text", value, LONGEST_TEXT),
    "picture": lambda value: typed_line("A picture's name", value, 250),
    "shows": lambda value: typed_line("What the picture shows", value, LONGEST_TEXT),
}

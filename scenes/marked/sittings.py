"""How far each trainee has come, worked out from the lines of the record alone."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import datetime

from physics.arguments import quoted
from scenes.marked.record import LONGEST_NAME, Answered, Begun, Ended, Line, Opened, Readmitted, Terms

GRACE = 5.0  # s after the end in which an answer that was on its way still counts


@dataclass
class Sitting:
    """A trainee's test. Times in s since 1970: when it was begun, when the time is over, if there is a limit, and when it was handed
    in, if it was before the last question. `readmitted`: whether who types the name next has it."""

    trainee: int
    name: str
    visitor: str | None
    begun: float
    ends: float | None
    handed_in: float | None = None
    readmitted: bool = False
    answers: dict[int, Answered] = field(default_factory=dict)  # by place

    def place(self, questions: int) -> int | None:
        """The place of the question that comes next, counted from 1; `None` after the last."""
        return next((place for place in range(1, questions + 1) if place not in self.answers), None)

    def over(self, questions: int, now: float) -> bool:
        """Whether it has ended: it is handed in, every question is answered, or the time is over."""
        return self.ended(questions, now) is not None

    def ended(self, questions: int, now: float) -> float | None:
        """When it ended, s since 1970; `None` while it goes on."""
        if self.place(questions) is None:
            return max(seconds(answer.when) for answer in self.answers.values())
        if self.handed_in is not None:
            return self.handed_in
        return self.ends if self.ends is not None and now > self.ends + GRACE else None

    @property
    def marks(self) -> int:
        return sum(answer.right for answer in self.answers.values())


def seconds(when: str) -> float:
    """A time as written in the file, in s since 1970."""
    return datetime.fromisoformat(when).timestamp()


def sittings_of(terms: Terms, lines: Iterable[Line]) -> dict[int, Sitting]:
    """Every trainee's test, by the trainee's number. Of two answers to one question the first counts.

    While the program was away nobody loses time: a sitting ends so much later as passed from the last line before the program was
    started again.
    """
    found: dict[int, Sitting] = {}
    before = None
    for line in lines:
        when = seconds(line.when)
        if isinstance(line, Opened) and before is not None:
            for sitting in found.values():
                if sitting.ends is not None and sitting.ends + GRACE > before:
                    sitting.ends += max(0.0, when - before)
        elif isinstance(line, Begun) and line.trainee not in found:
            ends = None if terms.minutes is None else when + 60 * terms.minutes
            found[line.trainee] = Sitting(line.trainee, line.name, line.visitor, when, ends)
        elif isinstance(line, Begun) and found[line.trainee].readmitted:
            found[line.trainee].visitor, found[line.trainee].readmitted = line.visitor, False
        elif isinstance(line, Readmitted) and line.trainee in found:
            found[line.trainee].readmitted = True
        elif isinstance(line, Answered) and line.trainee in found and line.place <= terms.questions:
            found[line.trainee].answers.setdefault(line.place, line)
        elif isinstance(line, Ended) and line.trainee in found:
            found[line.trainee].handed_in = when
        before = when
    return found


def checked_name(typed: str, taken: Iterable[str]) -> str:
    """A trainee's name or number as it is kept; `ValueError`, in a sentence, if it cannot be."""
    name = " ".join(unicodedata.normalize("NFC", typed[: 10 * LONGEST_NAME]).split())
    if not name:
        raise ValueError("Type your name or number first.")
    if len(name) > LONGEST_NAME:
        raise ValueError(f"A name has at most {LONGEST_NAME} characters.")
    if not all(sign.isprintable() for sign in name) or not any(sign.isalnum() for sign in name):
        raise ValueError("A name has letters or digits.")
    if name.casefold() in (other.casefold() for other in taken):
        raise ValueError(f"Somebody has begun as {quoted(name)} already: add a letter, or ask your instructor.")
    return name

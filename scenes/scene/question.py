"""A question about a set-up: what is asked, how it is answered, the answer, why, and what the usual mistakes would answer."""

from __future__ import annotations

import copy
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from physics.arguments import quoted
from scenes.scene.drawn_arrow import DrawnArrow, Place
from scenes.scene.typed import Figure

FORWARD = "forward"
CHOSEN, TYPED, PRESSED, DRAWN = "choice", "typed", "pressed", "drawn"


@dataclass(frozen=True)
class Question:
    """A question about the present set-up: choices (value, words), the answer's value and the reason; `also`: words that people may
    answer with besides, each with the value of the choice that they mean here; `against`: what speaks against a wrong choice, by its
    value, a sentence that comes before the reason; `again`: what is to be done before a second try, once a first answer was wrong, in
    a sentence; without one there is none but in practice.

    kind      its kind, by name
    mistakes  of a wrong choice, by its value: the usual mistakes that lead to it
    figure    where the answer is typed instead: there are no choices then, and `answer` is the figure with its unit
    spots     where the thing of a choice is, metres, by its value: pressed there, where the scene has nothing to press itself
    arrow     where the answer may be drawn in the picture too
    shows     settings that the scene has once it is answered: what it speaks of, where that is not what stands there
    of_its_start  whether it asks for a figure at the instant it is put, not of what follows
    """

    text: str
    choices: tuple[tuple[str, str], ...]
    answer: str
    reason: str
    pressed: bool = False  # whether one may also answer by pressing the thing in the picture that has the choice's value as its name
    also: tuple[tuple[str, str], ...] = ()
    against: tuple[tuple[str, str], ...] = ()
    again: str = ""
    kind: str = FORWARD
    mistakes: tuple[tuple[str, tuple[str, ...]], ...] = ()
    figure: Figure | None = None
    spots: tuple[tuple[str, Place], ...] = ()
    arrow: DrawnArrow | None = None
    of_its_start: bool = False
    shows: tuple[tuple[str, Any], ...] = ()

    @property
    def answered(self) -> str:
        """How it is answered."""
        return TYPED if self.figure else DRAWN if self.arrow else PRESSED if self.pressed else CHOSEN

    def taken(self, given: str) -> str:
        """An answer in the form in which it is kept; `ValueError`, in a sentence, if it is none."""
        if self.figure:
            return self.figure.written(self.figure.read(given))
        values = [value for value, _ in self.choices]
        if given not in values:
            raise ValueError(f"The answer is one of {', '.join(values)}, not {quoted(given)}.")
        return given

    def drawn_as(self, foot: Sequence[float], tip: Sequence[float]) -> str:
        """The choice meant by an arrow drawn between two lines of sight (`DrawnArrow.meant`); `ValueError`, in a sentence, if that is
        none, or may be several."""
        if self.arrow is None:
            raise ValueError("This question is not answered with an arrow.")
        words = [self.words_of(value) for value in self.arrow.meant(foot, tip) if value in dict(self.choices)]
        if not words:
            raise ValueError("That arrow lies along none of the answers: draw it again, or choose one.")
        if len(words) > 1:
            raise ValueError(f"That arrow may mean {' or '.join(words)}: draw it again, or choose one.")
        return next(value for value, said in self.choices if said == words[0])

    def is_right(self, given: str) -> bool:
        return self.figure.holds(self.figure.read(given)) if self.figure else given == self.answer

    def words_of(self, given: str) -> str:
        """An answer in words."""
        return given if self.figure else dict(self.choices)[given]

    @property
    def as_told(self) -> tuple[str, str]:
        """What a trainee sees of it: two currents of other sizes in the same direction are the same answer."""
        return self.text, self.words_of(self.answer)

    def may_be(self, given: str) -> tuple[str, ...]:
        """The usual mistakes that give this answer, by name; none for the right one."""
        if self.is_right(given):
            return ()
        return self.figure.mistakes_of(self.figure.read(given)) if self.figure else dict(self.mistakes).get(given, ())

    def reason_after(self, given: str | None) -> str:
        """The reason as it is told to one who gave that answer."""
        return f"{dict(self.against).get(given or '', '')} {self.reason}".strip()

    def of_kind(self, kind: str, choices: Sequence[tuple[str, str]], mistakes: Mapping[str, Sequence[str]]) -> Question:
        """The same, of that kind, with its choices in this order and its mistakes named."""
        other = copy.copy(self)
        named = tuple((value, tuple(mistakes[value])) for value, _ in choices if mistakes.get(value))
        for name, value in {"kind": kind, "choices": tuple(choices), "mistakes": named}.items():
            object.__setattr__(other, name, value)  # a question that is worked out later has no constructor of its fields
        return other

    @property
    def worked_out(self) -> bool:
        """Whether answer and reason are there without waiting for them."""
        return True

"""One exercise of a worksheet, as plain data: the question, its drawing, the answer and the working."""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import lru_cache

import numpy as np

from physics.directions import Hand
from scenes.workings.writing import Quantity, Step, Working, figure
from visual.paper import hands

RIGHT, UP, TOWARD_YOU = np.eye(3)
IN_THE_PAPER = {
    "to the right": RIGHT, "to the left": -RIGHT, "up": UP, "down": -UP,
}  # fmt: skip
EVERY_DIRECTION = IN_THE_PAPER | {"toward you": TOWARD_YOU, "away from you": -TOWARD_YOU}
MARKS = {1: "dot: toward you", -1: "cross: away from you", 0: "nothing: no current"}


LETTERS = {"left": ("F", "B", "I"), "right": ("v", "B", "E")}  # at thumb, first and second finger


@dataclass(frozen=True)
class Accepted:
    """A number of an answer, and how far off it may be and still be right, in percent: for rounding on the way."""

    number: Quantity
    percent: float = 2.0
    what: str = ""

    @property
    def text(self) -> str:
        value, unit = complex(self.number.value).real, self.number.unit
        share = self.percent / 100 * abs(value)
        low, high = (figure(value + sign * share, 3 if self.percent >= 1 else 5) for sign in (-1, 1))
        return f"{self.what} {low} to {high}{unit if unit == '°' else f' {unit}'}".strip()


@dataclass(frozen=True)
class Exercise:
    """An exercise: `drawing` and `solution` are SVG, `hand` is that of the rule; `table` has a heading and rows, with empty cells to
    fill in, and `filled` is the completed table; `lines` is the number of lines to write on; `accepted` are the answer's numbers.
    `besides`: marks, and what for, that no part of the answer gets. `case`: which case of its kind it is, where one takes more work
    than another, or other steps; neighbours get the same."""

    text: str
    answer: str
    workings: tuple[str, ...]
    drawing: str = ""
    solution: str = ""
    choices: tuple[str, ...] = ()
    table: tuple[tuple[str, ...], ...] = ()
    filled: tuple[tuple[str, ...], ...] = ()
    lines: int = 2
    hand: Hand | None = field(default=None, compare=False)
    accepted: tuple[Accepted, ...] = ()
    besides: tuple[tuple[int, str], ...] = ()
    case: str = ""


@dataclass(frozen=True)
class Kind:
    """A kind of exercise: the scenes it belongs to, its level and marks, and the function of a random generator that makes one.

    Levels: 1 a direction, a name, a figure by one formula; 2 two steps; 3 reasoning. `asks_scene`: the function also takes the names
    of scenes, one of whose own questions it puts."""

    scenes: tuple[str, ...]
    level: int
    marks: int
    make: Callable[..., Exercise]
    asks_scene: bool = False

    def exercise(self, dice: random.Random, scenes: tuple[str, ...]) -> Exercise:
        """One that belongs to `scenes`, some of its own."""
        return self.make(dice, scenes) if self.asks_scene else self.make(dice)


def drawn_hand(hand: Hand | None) -> str:
    """The hand of the rule as SVG; nothing where there is nothing to show."""
    if hand is None or not hand.shows_something:
        return ""
    fingers = (tuple(map(float, finger)) for finger in (hand.thumb, hand.first_finger, hand.second_finger))
    return _drawn_hand(hand.side, *fingers, f"A {hand.side} hand: {hand.words()}")


@lru_cache(maxsize=96)
def _drawn_hand(side: str, thumb, first, second, words: str) -> str:
    return hands.fleming(side, thumb, first, second, LETTERS[side], words).svg()


def line_of(step: Step) -> str:
    """A step of a working in one line."""
    results = " = ".join(result.text for result in step.results)
    return f"{step.symbol} = {step.formula} = {step.numbers} = {results}"


def lines_of(working: Working) -> tuple[str, ...]:
    return tuple(line_of(step) for step in working.steps)


def mark(vector) -> int:
    """The sign of a vector along the line of sight: 1 toward the viewer, -1 away, 0 neither."""
    return int(np.sign(np.round(vector[2], 9)))


def on_paper(vector) -> np.ndarray:
    """The components of a vector in the plane of the paper, (x, y)."""
    return np.asarray(vector)[:2]

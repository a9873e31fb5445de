"""One exercise of a worksheet, as plain data: the question, its drawing, the answer and the working."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from scenes.workings.writing import Step, Working

RIGHT, UP, TOWARD_YOU = np.eye(3)
IN_THE_PAPER = {
    "to the right": RIGHT, "to the left": -RIGHT, "up": UP, "down": -UP,
}  # fmt: skip
EVERY_DIRECTION = IN_THE_PAPER | {"toward you": TOWARD_YOU, "away from you": -TOWARD_YOU}
MARKS = {1: "dot: toward you", -1: "cross: away from you", 0: "nothing: no current"}


@dataclass(frozen=True)
class Exercise:
    """An exercise: `drawing` and `solution` are SVG; `table` has a heading and rows, with empty cells to fill in, and
    `filled` is the completed table; `lines` is the number of lines to write on."""

    text: str
    answer: str
    workings: tuple[str, ...]
    drawing: str = ""
    solution: str = ""
    choices: tuple[str, ...] = ()
    table: tuple[tuple[str, ...], ...] = ()
    filled: tuple[tuple[str, ...], ...] = ()
    lines: int = 2


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

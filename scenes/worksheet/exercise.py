"""One exercise of a worksheet, as plain data: what is asked, what is drawn, what comes out and how."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from scenes.workings.writing import Step, Working

RIGHT, UP, TOWARD_YOU = np.eye(3)
IN_THE_PAPER = {
    "to the right": RIGHT, "to the left": -RIGHT, "up": UP, "down": -UP,
}  # fmt: skip
EVERY_WAY = IN_THE_PAPER | {"toward you": TOWARD_YOU, "away from you": -TOWARD_YOU}
MARKS = {1: "dot: toward you", -1: "cross: away from you", 0: "nothing: no current"}


@dataclass(frozen=True)
class Exercise:
    """`drawing` and `solution` are SVG; `table` has a head and rows, where an empty cell is to be filled in, and
    `filled` is the same table filled in; `lines` is how many lines there are to write on."""

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
    """Of a direction along the line of sight: 1 toward the viewer, -1 away, 0 neither."""
    return int(np.sign(np.round(vector[2], 9)))


def on_paper(vector) -> np.ndarray:
    """The part of a vector that lies in the paper, (x, y)."""
    return np.asarray(vector)[:2]

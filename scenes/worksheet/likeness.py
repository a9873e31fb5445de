"""How alike two exercises of a kind are, so that neighbours cannot copy and a sheet does not ask the same thing twice."""

from __future__ import annotations

import re
from itertools import zip_longest

from scenes.worksheet.exercise import Exercise

NUMBER = re.compile(r"(?<![A-Za-z\d.])\d+(?:\.\d+)?")  # not the figure in a name such as U1
NEAR = 0.15  # of the larger: figures that are less apart than this are nearly the same


def likeness(one: Exercise, other: Exercise) -> float:
    """How alike their figures are on the average, from 0 to 1, and up to 1 more for how alike their answers are in every part.

    The figures are the numbers of the question and its table, in their order, the parts of the answer, and the set-up as a whole.
    """
    answers = [exercise.answer.split("; ") for exercise in (one, other)]
    figures = [_numbers(exercise) + parts for exercise, parts in zip((one, other), answers, strict=True)]
    alike = [_alike(*pair) for pair in zip_longest(*figures, fillvalue="")]
    alike.append(_alike(one.text, other.text) * (one.drawing == other.drawing))
    return sum(alike) / len(alike) + min(_alike(*pair) for pair in zip_longest(*answers, fillvalue=""))


def _numbers(exercise: Exercise) -> list[str]:
    return NUMBER.findall(" ".join((exercise.text, *(cell for row in exercise.table[1:] for cell in row))))


def _alike(one: str, other: str) -> float:
    """1 where both are the same, less where only their figures are near to each other, otherwise 0."""
    if NUMBER.sub("#", one) != NUMBER.sub("#", other):
        return 0.0
    pairs = [sorted(map(float, pair)) for pair in zip(NUMBER.findall(one), NUMBER.findall(other), strict=True)]
    return min((max(0.0, 1 - (high - low) / (NEAR * high)) for low, high in pairs if high), default=1.0)

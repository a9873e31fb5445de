"""How alike two exercises of a kind are, so that neighbours cannot copy and a sheet does not ask the same thing twice."""

from __future__ import annotations

import re
from itertools import zip_longest

from scenes.worksheet.exercise import Exercise

NUMBER = re.compile(r"(?<![A-Za-z\d.])\d+(?:\.\d+)?")  # not the figure in a name such as U1
NEAR = 0.1  # of the larger: figures closer than this are nearly the same


def likeness(one: Exercise, other: Exercise) -> float:
    """The share of their figures that are the same or nearly so, from 0 to 1, and 1 more if both have the same answer.

    The figures are the numbers of the question and its table, in their order, and the parts of the answer.
    """
    answers = [exercise.answer.split("; ") for exercise in (one, other)]
    figures = [_numbers(exercise) + parts for exercise, parts in zip((one, other), answers, strict=True)]
    pairs = list(zip_longest(*figures, fillvalue=""))
    same = all(_nearly(*pair) for pair in zip_longest(*answers, fillvalue=""))
    return sum(_nearly(*pair) for pair in pairs) / len(pairs) + same


def _numbers(exercise: Exercise) -> list[str]:
    return NUMBER.findall(" ".join((exercise.text, *(cell for row in exercise.table[1:] for cell in row))))


def _nearly(one: str, other: str) -> bool:
    """Whether they are the same but for figures that are nearly the same."""
    if NUMBER.sub("", one) != NUMBER.sub("", other):
        return False
    pairs = zip(*(map(float, NUMBER.findall(text)) for text in (one, other)), strict=True)
    return all(abs(first - second) <= NEAR * max(first, second) for first, second in pairs)

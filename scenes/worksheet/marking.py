"""For what the marks of a question are given, worked out from what its answer and its working consist of."""

from __future__ import annotations

import re

from scenes.worksheet.exercise import Exercise
from visual.paper.pages import TOGETHER

DIRECTION = re.compile(r"^(\w )?(up|down)\b|clockwise|\btoward\b|\baway from\b|\bto the (left|right)\b|o'clock")
WORKING = "the working: the formula with its figures"


def points(exercise: Exercise, marks: int) -> list[tuple[int, str]]:
    """The marks, and what for; together they are all of them.

    One is for each cell that was empty, or for each part of the answer; those that are left are for what the exercise names `besides`,
    or for the working of its figure.
    """
    empty = sum(cell == "" for row in exercise.table for cell in row)
    if empty:
        return [(marks // empty, f"each of the {empty} cells")] if empty > 1 else [(marks, "the cell")]
    parts = exercise.answer.split("; ")
    found = [(1, f"\u201c{part}\u201d ({_what(part, exercise)})") for part in parts]
    left = marks - len(parts)
    return [*found, *(exercise.besides or ([(left, WORKING)] if left else []))]


def _what(part: str, exercise: Exercise) -> str:
    """What a part of an answer is."""
    if re.search(r"\d°", part) or TOGETHER.search(part):
        return "figure and unit"
    if exercise.accepted and re.search(r"\d", part):
        return "figure"
    return "direction" if DIRECTION.search(part) else "answer"

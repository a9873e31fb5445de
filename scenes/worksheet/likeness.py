"""How alike two exercises of a kind are, so that neighbours cannot copy and a sheet does not ask the same thing twice."""

from __future__ import annotations

import re
from itertools import zip_longest

from scenes.worksheet.exercise import EVERY_DIRECTION, Exercise

NUMBER = re.compile(r"(?<![A-Za-z\d.])\d+(?:\.\d+)?")  # not the figure in a name such as U1
NEAR = 0.15  # of the larger: figures that are less apart than this are nearly the same

DIRECTIONS = "|".join([*EVERY_DIRECTION, "left", "right", "north", "south", "east", "west", "upward", "downward"])
# what may differ between two questions that take the same steps, and what stands for it
DIFFERS = tuple((re.compile(pattern), stands) for pattern, stands in (
    (r"there to .*?(?=[:?])", "there to ..."),  # the job of one part or another
    (r"(> )?\d+(\.\d+)?( M?Ω)?", "#"),
    (r"# slots less", "# slot less"),
    (r"(#-#(, )?)+", "#-# "),  # coils, as many as there are
    (r"\b[UVW]#?(?![\w])", "X"),
    (r"\b[NS] pole", "pole"),
    (r"\b(counter-)?clockwise\b", "round"),
    (r"\b(main|auxiliary) winding swapped", "winding swapped"),
    (r"\b(cage|slip-ring) motor", "motor"),
    (rf"\b({DIRECTIONS})\b", "along"),
))  # fmt: skip


def frame(text: str) -> str:
    """The words of a question without its figures, directions and phases: what two that take the same steps have in common."""
    for pattern, stands in DIFFERS:
        text = pattern.sub(stands, text)
    return text


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

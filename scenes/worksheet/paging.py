"""How many lines to write on each question gets, so that printed pages are full. Lengths in mm."""

from __future__ import annotations

import math
import re

from scenes.worksheet.exercise import Exercise
from scenes.worksheet.worksheet import Sheet
from visual.paper.filling import room, rows, shared_out
from visual.paper.pages import LINE

TEXT = 5.25  # a printed line
HEAD, PADDING, GAP = 31.0, 7.3, 2.0  # above the first question; round a question; between its parts
NUMBER, COLUMN_GAP = 9.0, 4.0
CELL, SLACK = 8.2, 3.0
MOST_ON_THE_LAST = 5  # more lines for each question of the last page: a few questions do not fill it


def lines_to_write(sheet: Sheet, paper: str) -> list[int]:
    """For each question of the sheet its number of lines to write on."""
    width, height = room(paper)
    exercises = [question.exercise for question in sheet.questions]
    lines = [_beside_the_drawing(exercise, width) for exercise in exercises]
    heights = [_height(exercise, few, width) for exercise, few in zip(exercises, lines, strict=True)]
    pages = shared_out(heights, HEAD, height)
    for page in pages:
        left = height - (0 if page[0] else HEAD) - sum(heights[number] for number in page)
        _spread(left, page, exercises, lines, MOST_ON_THE_LAST if page is pages[-1] else None)
    return lines


def _beside_the_drawing(exercise: Exercise, width: float) -> int:
    """Lines for which the drawing beside them leaves room anyway."""
    if not exercise.lines:
        return 0
    free = _drawing(exercise)[1] - _words(exercise, width) - GAP
    return max(exercise.lines, int(free // LINE))


def _spread(left: float, page: list[int], exercises: list[Exercise], lines: list[int], most: int | None) -> None:
    """What a page has left, as lines for its questions in turn: those that are answered in words, if there are any. `most`: for each."""
    written = [number for number in page if exercises[number].lines] or page
    free = int((left - SLACK) // LINE)
    for place in range(free if most is None else min(free, most * len(written))):
        lines[written[-1 - place % len(written)]] += 1


def _height(exercise: Exercise, lines: int, width: float) -> float:
    body = _words(exercise, width) + (GAP + lines * LINE if lines else 0)
    return max(body, _drawing(exercise)[1]) + PADDING


def _drawing(exercise: Exercise) -> tuple[float, float]:
    """Width and height of its drawing."""
    found = re.match(r'<svg [^>]*?width="([\d.]+)mm" height="([\d.]+)mm"', exercise.drawing)
    return (float(found[1]), float(found[2])) if found else (0.0, 0.0)


def _words(exercise: Exercise, width: float) -> float:
    """Height of text, table and choices beside the drawing."""
    beside = _drawing(exercise)[0]
    free = width - NUMBER - COLUMN_GAP - (beside + COLUMN_GAP if beside else 0)
    height = rows(exercise.text + " (10 marks)", free) * TEXT
    if exercise.choices:
        pairs = zip(exercise.choices[::2], [*exercise.choices[1::2], ""][: math.ceil(len(exercise.choices) / 2)], strict=True)
        height += GAP + sum(max(rows(choice, free / 2 - 8) for choice in pair) * TEXT + 1.5 for pair in pairs)
    if exercise.table:
        widths = [free * share - 3.5 for share in column_shares(exercise)]
        tallest = (max(rows(cell, wide) for cell, wide in zip(row, widths, strict=True)) for row in exercise.table)
        height += GAP + sum(max(CELL, most * TEXT + 2.6) for most in tallest)
    return height


def column_shares(exercise: Exercise) -> list[float]:
    """The columns' shares of the width of its table, by what is to be written into them: less than in proportion, for by hand a short
    word takes some room and a long sentence is written in several lines."""
    longest = [(max(map(len, column)) + 4) ** 0.7 for column in zip(*exercise.filled, strict=True)]
    return [each / sum(longest) for each in longest]

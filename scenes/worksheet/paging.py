"""How many lines to write on each question gets, so that printed pages are full.

A browser never cuts a question in two, so it leaves the foot of a page empty where the next one does not fit. Heights of
questions are estimated here, a little high; the last page gets its share of them, and what the others have left becomes room to
write. Lengths in mm.
"""

from __future__ import annotations

import math
import re

import numpy as np

from scenes.worksheet.exercise import Exercise
from scenes.worksheet.worksheet import Sheet
from visual.paper.pages import LINE, MARGINS

SHEETS = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}  # ISO 216; ANSI Y14.1, size A
TEXT, LETTER = 5.25, 1.9  # a printed line, and a letter of it on the average
HEAD, PADDING, GAP = 31.0, 7.3, 2.0  # above the first question; round a question; between its parts
NUMBER, COLUMN_GAP = 9.0, 4.0
CELL, SLACK = 8.2, 3.0
STEP = 4.0  # by which pages are tried lower


def lines_to_write(sheet: Sheet, paper: str) -> list[int]:
    """For each question of the sheet its number of lines to write on."""
    width, height = (
        size - taken for size, taken in zip(SHEETS[paper], (2 * MARGINS["side"], MARGINS["top"] + MARGINS["bottom"]), strict=True)
    )
    exercises = [question.exercise for question in sheet.questions]
    lines = [_beside_the_drawing(exercise, width) for exercise in exercises]
    heights = [_height(exercise, room, width) for exercise, room in zip(exercises, lines, strict=True)]
    pages = _pages(heights, height)
    for full in np.arange(height - STEP, HEAD, -STEP):
        lower = _pages(heights, full)
        if len(lower) > len(pages):
            break
        pages = lower
    for page in pages[:-1]:
        left = height - (0 if page[0] else HEAD) - sum(heights[number] for number in page)
        _spread(left, page, exercises, lines)
    return lines


def _pages(heights: list[float], full: float) -> list[list[int]]:
    """The questions of each page, if a page is full at that height."""
    left = full - HEAD
    pages: list[list[int]] = [[]]
    for number, taken in enumerate(heights):
        if taken > left and pages[-1]:
            pages.append([])
            left = full
        left -= taken
        pages[-1].append(number)
    return pages


def _beside_the_drawing(exercise: Exercise, width: float) -> int:
    """Lines for which the drawing beside them leaves room anyway."""
    if not exercise.lines:
        return 0
    free = _drawing(exercise)[1] - _words(exercise, width) - GAP
    return max(exercise.lines, int(free // LINE))


def _spread(left: float, page: list[int], exercises: list[Exercise], lines: list[int]) -> None:
    """What a page has left, as lines for its questions in turn: those that are answered in words, if there are any."""
    written = [number for number in page if exercises[number].lines] or page
    for place in range(int((left - SLACK) // LINE)):
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
    room = width - NUMBER - COLUMN_GAP - (beside + COLUMN_GAP if beside else 0)
    height = _rows(exercise.text + " (10 marks)", room) * TEXT
    if exercise.choices:
        rows = zip(exercise.choices[::2], [*exercise.choices[1::2], ""][: math.ceil(len(exercise.choices) / 2)], strict=True)
        height += GAP + sum(max(_rows(choice, room / 2 - 8) for choice in row) * TEXT + 1.5 for row in rows)
    if exercise.table:
        widths = [room * share - 3.5 for share in column_shares(exercise)]
        tallest = (max(_rows(cell, wide) for cell, wide in zip(row, widths, strict=True)) for row in exercise.table)
        height += GAP + sum(max(CELL, rows * TEXT + 2.6) for rows in tallest)
    return height


def column_shares(exercise: Exercise) -> list[float]:
    """The columns' shares of the width of its table, by what is to be written into them: less than in proportion, for by hand a short
    word takes some room and a long sentence is written in several lines."""
    longest = [(max(map(len, column)) + 4) ** 0.7 for column in zip(*exercise.filled, strict=True)]
    return [each / sum(longest) for each in longest]


def _rows(text: str, room: float) -> int:
    """Printed lines of a text in that width, words kept whole."""
    most, rows, taken = max(6, int(room / LETTER)), 1, 0
    for word in text.split():
        if taken and taken + len(word) > most:
            rows, taken = rows + 1, 0
        taken += len(word) + 1
    return rows

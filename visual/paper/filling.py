"""How pages are filled: the lines that a text takes, and which parts come on which page. Lengths in mm.

A browser never cuts a part in two, so it leaves the foot of a page empty where the next one does not fit. Heights are estimated by those
who use this, a little high.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from visual.paper.pages import MARGINS

SHEETS = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}  # ISO 216; ANSI Y14.1, size A
POINTS = 11.0  # of the usual text
LETTER = 1.9  # a letter of it, on the average
STEP = 4.0  # by which pages are tried lower


def room(paper: str) -> tuple[float, float]:
    """Width and height of what is printed on a sheet of that paper."""
    width, height = SHEETS[paper]
    return width - 2 * MARGINS["side"], height - MARGINS["top"] - MARGINS["bottom"]


def rows(text: str, width: float, points: float = POINTS) -> int:
    """Printed lines of a text in that width, words kept whole."""
    most, count, taken = max(6, int(width / (LETTER * points / POINTS))), 1, 0
    for word in text.split():
        if taken and taken + len(word) > most:
            count, taken = count + 1, 0
        taken += len(word) + 1
    return count


def shared_out(heights: Sequence[float], head: float, full: float) -> list[list[int]]:
    """The places of the parts on each page of height `full`, below the `head` on the first: on as few pages as will do, each with its
    share."""
    pages = _packed(heights, head, full)
    for lower in np.arange(full - STEP, head, -STEP):
        more_even = _packed(heights, head, lower)
        if len(more_even) > len(pages):
            break
        pages = more_even
    return pages


def _packed(heights: Sequence[float], head: float, full: float) -> list[list[int]]:
    """As much on each page as fits."""
    left = full - head
    pages: list[list[int]] = [[]]
    for place, taken in enumerate(heights):
        if taken > left and pages[-1]:
            pages.append([])
            left = full
        left -= taken
        pages[-1].append(place)
    return pages

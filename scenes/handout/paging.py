"""Which steps of a handout come on which page, how large their pictures are and how much room there is to write, so that its pages are
full. Lengths in mm."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from scenes.handout.handout import PrintedStep
from scenes.scene.question import DRAWN, PRESSED, TYPED
from visual.paper.filling import LETTER, room, rows, shared_out
from visual.paper.pages import LINE
from visual.paper.plots import LEGEND, rows_of_legend

BESIDE = tuple(range(116, 80, -4))  # widths of a picture beside the words; a wider one stands below them
BELOW = (1.0, 0.87, 0.75)  # of the page's width
HIGHEST = 120.0  # of a picture
CURVES = 42.0  # height of curves, without their legend
LINES, MORE_LINES = 2, 4  # to write on, and how many more where a page has room for them
HEAD, PADDING, GAP, BETWEEN, SLACK = 26.0, 7.0, 1.8, 5.0, 6.0  # the handout's; round a step, between its parts and columns; kept free
POINT = 25.4 / 72
CAPTION, FIGURES, TEXT, SMALL = 11.7, 9.5, 11.0, 8.5  # points


@dataclass(frozen=True)
class Place:
    """Where a step stands: its picture's width, the width beside that, or 0 where the words stand above it, whether its curves are below
    the picture, whether it begins a page, and its lines to write on."""

    width: float
    beside: float
    curves_below: bool
    begins_page: bool
    lines: int


def placed(steps: Sequence[PrintedStep], paper: str, notes: bool) -> list[Place]:
    """The place of each step, printed with the speaker's notes or without."""
    across, full = room(paper)

    def together(places: Sequence[int], width: float) -> float:
        return sum(_height(steps[place], width, across, notes) for place in places)

    found: list[Place] = []
    for page in shared_out([together([place], BESIDE[-1]) for place in range(len(steps))], HEAD, full):
        free = full - SLACK - (0 if page[0] else HEAD)
        widths = (*(share * across for share in BELOW), *BESIDE)
        width = next((width for width in widths if together(page, width) <= free), BESIDE[-1])
        asking = sum(steps[place].question is not None for place in page)
        more = int((free - together(page, width)) / (asking * LINE)) if asking else 0
        for place in page:
            picture, words = _columns(steps[place], width, across)
            beside = across - width - BETWEEN if width <= BESIDE[0] else 0.0
            lines = LINES + max(0, min(MORE_LINES, more))
            found.append(Place(_wide(steps[place], width), beside, words > picture, place == page[0] != 0, lines))
    return found


def _height(step: PrintedStep, width: float, across: float, notes: bool) -> float:
    """A step's height, a little high, with a picture of that width in a column `across`."""
    picture, words = _columns(step, width, across)
    least = across - width - BETWEEN if width <= BESIDE[0] else width  # they may stand beside it
    curves = CURVES + GAP + LEGEND * rows_of_legend(step.plot, least) if step.plot else 0.0
    shown = picture + words + curves + GAP if width > BESIDE[0] else max(picture, words, min(picture, words) + curves)
    scene = 3 + _text(step.scene, across, 13) + _text(f"Caution: {step.caution}", across, SMALL) if step.begins else 0.0
    said = GAP + sum(_text(line, across - 4, 9) for line in step.notes.splitlines()) if notes and step.notes else 0.0
    return PADDING + scene + shown + _asked(step, across) + said


def _wide(step: PrintedStep, width: float) -> float:
    """The width of its picture where there is so much room."""
    return min(width, HIGHEST / step.shape) if step.shape else width


def _columns(step: PrintedStep, width: float, across: float) -> tuple[float, float]:
    """Height of the picture with what stands below it, and of the words, beside it or above: caption, text, figures with formulas."""
    picture = _wide(step, width) * step.shape + 1 + _text(f"View: {step.view}{_key(step)}", width, SMALL) if step.shape else 0.0
    beside = across - width - BETWEEN if picture and width <= BESIDE[0] else across
    words = _text(f"{step.number} {step.caption}", beside, CAPTION)
    words += sum(GAP + _text(line, beside, TEXT) for line in (step.page["text"].splitlines() if step.page else ()))
    for reading in step.readings:
        value = LETTER * (len(reading["value"]) + len(reading["unit"]) + 2)
        said = f"{reading['symbol']} {reading['words']}"
        words += 0.7 + max(_text(said, max(beside - value, beside / 3), FIGURES), _text(reading["value"], beside / 2, FIGURES))
        words += 0.7 + _text(reading["formula"], beside - 4, FIGURES) if reading["formula"] else 0.0
    return picture, words


def _asked(step: PrintedStep, across: float) -> float:
    """Height of the question below both, with `LINES` to write on."""
    if step.question is None:
        return 0.0
    words = [words for _, words in step.question.choices]
    pairs = [words[place : place + 2] for place in range(0, len(words), 2)]
    height = 2 * GAP + _text(step.question.text, across, TEXT * 1.08)  # bold
    height += (GAP + TEXT * POINT) * (step.question.answered in (PRESSED, DRAWN, TYPED))  # where it is marked, or the figure written
    height += GAP + sum(1.5 + max(_text(each, across / 2 - 8, TEXT) for each in pair) for pair in pairs)
    return height + 2 * GAP + _text("Because:", across, TEXT) + LINES * LINE


def _text(text: str, width: float, points: float) -> float:
    return rows(text, width, points) * points * POINT * 1.35


def _key(step: PrintedStep) -> str:
    return "".join(f"; {letter} = {words}" for letter, words in step.key)

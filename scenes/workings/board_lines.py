"""A working as lines for the board: one at a time, in symbols, with numbers, and the result."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, replace

from physics.arguments import quoted
from scenes.scene.typed import Figure
from scenes.workings.topics import worked
from scenes.workings.writing import Ask, Given, Quantity, Step, Table, Topic, Working, figure

SAME = 1e-3  # share by which an answer, to four figures, and the unrounded result of a working may differ


@dataclass(frozen=True)
class BoardLine:
    """What it is, and up to three rows; an empty one is left out."""

    words: str
    symbols: str = ""
    numbers: str = ""
    result: str = ""

    @property
    def hidden(self) -> BoardLine:
        """The line without what it tells, while an answer is hidden."""
        return BoardLine(self.words, result="?")


@dataclass(frozen=True)
class BoardWorking:
    """A working for the bench, or the one sentence that says what is `wrong` with its inputs."""

    title: str = ""
    lines: tuple[BoardLine, ...] = ()
    remark: str = ""
    wrong: str = ""


def board_working(topic: Topic, texts: Mapping[str, str], answer: Figure | None = None) -> BoardWorking:
    """The working of a topic with its inputs as they were written, by name; an empty text is an input not given. With an `answer` it
    ends where it comes to that, in the answer's own unit."""
    try:
        working = worked(topic, {ask.name: _read(ask, texts[ask.name]) for ask in topic.asks if texts.get(ask.name, "").strip()})
    except ValueError as wrong:
        return BoardWorking(wrong=_in_words(str(wrong), topic))
    except TypeError:  # an input that is needed is not there
        missing = [name_of(ask) for ask in topic.asks if ask.needed and not texts.get(ask.name, "").strip()]
        return BoardWorking(wrong=f"Still to be entered: {', '.join(missing)}.")
    return BoardWorking(working.title, lines(_up_to(working, answer) if answer else working), working.remark)


def lines(working: Working) -> tuple[BoardLine, ...]:
    """Everything that can be put on the board: what is given, each step, each row of a table."""
    rows = [_of_row(table, row) for table in working.tables for row in table.rows]
    return (_of_given(working.given), *map(_of_step, working.steps), *rows)


def _up_to(working: Working, answer: Figure) -> Working:
    """The working without what comes after the answer, and what was given for that; the whole one where it comes to
    something else, as with other inputs."""
    for place, step in enumerate(working.steps):
        for result in step.results:
            with suppress(ValueError, TypeError):  # of another unit, or complex
                size = abs(answer.read(f"{result.value:.15g} {result.unit}"))
                if math.isclose(size, answer.size, rel_tol=SAME):
                    first = () if step.results[0].unit == answer.unit else step.results[:1]
                    last = replace(step, results=(*first, Quantity(size, answer.unit)))
                    steps = (*working.steps[:place], last)
                    return replace(working, given=tuple(each for each in working.given if _used(each, steps)), steps=steps, tables=())
    return working


def _used(given: Given, steps: tuple[Step, ...]) -> bool:
    return any(re.search(rf"(?<!\w){re.escape(given.symbol)}(?!\w)", step.formula) for step in steps)


def name_of(ask: Ask) -> str:
    """An input's name in a sentence: its words, without what is added to them."""
    return re.split("[,;:]", ask.words)[0]


def _of_given(given: tuple[Given, ...]) -> BoardLine:
    return BoardLine("given", numbers=", ".join(f"{each.symbol} = {each.quantity.text}" for each in given))


def _of_step(step: Step) -> BoardLine:
    results = " = ".join(result.text for result in step.results)
    return BoardLine(step.words, f"{step.symbol} = {step.formula}", f"= {step.numbers}", f"{step.symbol} = {results}")


def _of_row(table: Table, row: tuple[str | float, ...]) -> BoardLine:
    """A row of a table: what it is about, then its figures, each named by its column; without those that are none."""
    cells = list(zip(table.columns, row, strict=True))
    about = " ".join(cell for _, cell in cells if isinstance(cell, str))
    figures = [
        " ".join(filter(None, (words, figure(cell), unit)))
        for (words, unit), cell in cells
        if not isinstance(cell, str) and math.isfinite(cell)
    ]
    return BoardLine(f"{table.title}: {about}", result=", ".join(figures))


def _read(ask: Ask, text: str) -> str | float:
    if ask.choices:
        return text
    try:
        return float(text.replace("\N{MINUS SIGN}", "-"))
    except ValueError:
        raise ValueError(f"{ask.name} must be a number, such as 2.5, not {quoted(text)}") from None


def _in_words(wrong: str, topic: Topic) -> str:
    """An error that begins with the name of an input, as a sentence about it."""
    for ask in topic.asks:
        wrong = re.sub(rf"^{ask.name}\b", name_of(ask), wrong) if wrong.startswith(ask.name) else wrong
    for ask in topic.asks:
        wrong = wrong.replace(ask.name, ask.name.replace("_", " "))
    return f"{wrong[0].upper()}{wrong[1:].rstrip('.')}."

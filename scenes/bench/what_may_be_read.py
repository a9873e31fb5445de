"""Which readings may be read while a question waits: none that gives its answer away, and none that is false of what is asked about."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from scenes.scene.question import Question
from scenes.scene.scene import Reading


def readable(found: Sequence[Reading], question: Question, true: Sequence[Reading] | None, told_alone: bool = True) -> list[Reading]:
    """The readings `found` while a `question` of a kind waits. Any may be what is asked for, so those to be read are the ones whose
    figures the question itself tells; without `told_alone` all that give no answer away by themselves. `true`: where the picture shows
    another set-up than the one asked about, because that gives nothing away, the readings of that one; what is different now is false,
    in its words too."""
    truths = [None] * len(found) if true is None or len(true) != len(found) else list(true)
    return [
        _kept_back(each)
        if true is not None and (truth is None or _said(each) != _said(truth))
        else _as_told(each, question)
        if told_alone
        else each
        for each, truth in zip(found, truths, strict=True)
    ]


def _said(reading: Reading) -> tuple[str, ...]:
    return reading.symbol, reading.words, reading.value, reading.unit


def _kept_back(reading: Reading) -> Reading:
    """Without "at standstill" in "speed: at standstill"."""
    return replace(reading, words=reading.words.partition(": ")[0], tells=True)


def _as_told(reading: Reading, question: Question) -> Reading:
    told = not reading.tells and _tells(question, f"{reading.value} {reading.unit}")
    return replace(reading, formula="") if told else replace(reading, tells=True)  # a formula has more figures than that one


def _tells(question: Question, figure: str) -> bool:
    """Whether the question's text has that figure with its unit, and no answer is it."""
    there = re.compile(rf"(?<![\d.\N{{MINUS SIGN}}]){re.escape(figure)}(?![\w/²])")
    answers = (question.answer, *(words for _, words in question.choices))
    return bool(re.match(r".*\d.* \S", figure) and there.search(question.text)) and not any(map(there.search, answers))

"""Answers as the tests give them, and the file they are kept in."""

from __future__ import annotations

import json
from pathlib import Path

from scenes.practice.results import Answer, Results
from scenes.scene.question import Question

ROOT = Path(__file__).parents[3]
PATIENCE = 60  # s


def answered(scene: str, seed: int | None, right: bool, kind: str = "forward", mistake: str = "", avoided: str = "") -> Answer:
    words = "Which way?", "up" if right else "down", "up", right, kind, mistake, avoided
    return Answer("2026-03-09T14:05:30Z", scene, seed, f"scene={scene}", *words)


def given(question: Question, right: bool) -> str:
    """What to give as an answer that is right or wrong."""
    if question.figure:
        return question.answer if right else f"{7.7 * question.figure.size:.4g} {question.figure.unit}".strip()
    return next(value for value, _ in question.choices if (value == question.answer) is right)


def keep(results: Results, answer: Answer) -> None:
    results.add(answer)
    results.keep()


def lines(file: Path) -> list[dict]:
    return [json.loads(line) for line in file.read_text("utf-8").splitlines()]

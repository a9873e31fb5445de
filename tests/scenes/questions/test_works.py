"""A question that was missed is worked through with its own figures: the calculation comes to what was asked for."""

from __future__ import annotations

import math
import re

import pytest

from scenes import catalogue
from scenes.bench.prediction import Prediction
from scenes.scene.question import TYPED
from scenes.workings.board_lines import board_working
from scenes.workings.topics import TOPICS

KINDS = [(name, kind.name) for name in catalogue.NAMES for kind in catalogue.scene_class(name).kinds if kind.works]


def test_figures_by_the_common_formulas_can_be_worked_through():
    assert {name for name, _ in KINDS} >= {"pushed-conductor", "moved-conductor", "two-wires", "turning-field", "slip-and-speed"}
    assert len(KINDS) >= 12


@pytest.mark.parametrize("name, kind", KINDS, ids=[" ".join(case) for case in KINDS])
def test_the_workings_of_a_question_come_to_its_answer(name, kind):
    scene, prediction = catalogue.scene_class(name)(), Prediction()
    for seed in (1, 2, 3):
        prediction.ask(scene, seed, kind)
        question = prediction.posed
        assert question.answered == TYPED and prediction.shown()["works"] is None, "it would give the answer away"
        prediction.answer(f"{7 * question.figure.size:.6g} {question.figure.unit}")
        prediction.uncover(scene)
        works = prediction.shown()["works"]
        worked = board_working(TOPICS[works["topic"]], works["inputs"])
        assert not worked.wrong, worked.wrong
        for told in figures_in(question.text):
            results = re.findall(r"(?<= = )[\d.]+", " ".join(line.result for line in worked.lines))
            assert any(same(told, value) for value in filter(None, (*works["inputs"].values(), *results))), (question.text, works["inputs"])
        assert any(comes_to(line.result, question.figure) for line in worked.lines), (question.text, [line.result for line in worked.lines])


def comes_to(result: str, figure) -> bool:
    """Whether one of the results on a line of the board, "s = 0.05 = 5 %", is the figure."""
    for part in result.split(" = ")[1:]:
        try:
            size = figure.read(part)
        except ValueError:  # of another unit
            continue
        if math.isclose(abs(size), figure.size, rel_tol=1e-3):  # three or four figures of each
            return True
    return False


def figures_in(text: str) -> list[float]:
    """What a question tells to work with, without the constants in brackets at its end."""
    return [float(found) for found in re.findall(r"(?<![\w.])\d+(?:\.\d+)?", re.sub(r"\(µ₀.*\)|, its load \d+ % of.*", "", text))]


def same(told: float, value: str) -> bool:
    """Whether an input is that figure, perhaps in a unit a thousand times as large."""
    return any(math.isclose(told, float(value) * factor, rel_tol=1e-9) for factor in (1, 1000))

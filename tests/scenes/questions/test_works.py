"""A question that was missed is worked through with its own figures: the calculation comes to what was asked for."""

from __future__ import annotations

import math
import re

import pytest

from scenes import catalogue
from scenes.bench.prediction import Prediction
from scenes.bench.workings import WorkingSheet
from scenes.scene.question import TYPED

KINDS = [(name, kind.name) for name in catalogue.NAMES for kind in catalogue.scene_class(name).kinds if kind.works]


def test_figures_by_the_common_formulas_can_be_worked_through():
    assert {name for name, _ in KINDS} >= {"pushed-conductor", "moved-conductor", "two-wires", "turning-field", "slip-and-speed"}
    assert len(KINDS) >= 12


@pytest.mark.parametrize("name, kind", KINDS, ids=[" ".join(case) for case in KINDS])
def test_the_workings_of_a_question_have_its_figures_alone_and_end_with_its_answer(name, kind):
    scene, prediction, sheet = catalogue.scene_class(name)(), Prediction(), WorkingSheet(may_wait=True)
    for seed in (1, 2, 3):
        prediction.ask(scene, seed, kind)
        question = prediction.posed
        assert question.answered == TYPED and prediction.shown()["works"] is None, "it would give the answer away"
        prediction.answer(f"{7 * question.figure.size:.6g} {question.figure.unit}")
        prediction.uncover(scene)
        sheet.choose(prediction.shown()["works"], "")
        worked = sheet.shown(scene, True, prediction.works)
        assert not worked["wrong"], worked["wrong"]
        first = next(topic for topic in worked["topics"] if topic["here"])
        assert first["name"] == sheet.topic, "whoever opens the workings by hand finds these"
        told = figures_in(question.text)
        results = re.findall(r"(?<= = )[\d.]+", " ".join(line["result"] for line in worked["lines"]))
        given = {entry["name"]: entry["value"] for entry in worked["inputs"] if entry["value"]}
        for figure in told:
            assert any(same(figure, value) for value in (*given.values(), *results)), (question.text, given)
        for name_of_it, value in given.items():
            of_the_words = name_of_it == "angle" and float(value) == 90 and "across" in question.text
            assert of_the_words or any(same(figure, value) for figure in told), (question.text, name_of_it, value)
        last = worked["lines"][-1]["result"].split(" = ")[-1]
        unit = re.fullmatch(r"[\d.]+(?: ×.*?)? ?(\D*)", last)[1]
        assert unit == question.figure.unit, (question.text, last)
        assert math.isclose(question.figure.read(last), question.figure.size, rel_tol=1e-3), (question.text, last)


def test_other_figures_in_the_workings_of_a_question_and_the_way_back():
    scene, prediction, sheet = catalogue.scene_class("two-wires")(), Prediction(), WorkingSheet()
    prediction.ask(scene, 1, "figure")
    prediction.reveal()
    prediction.uncover(scene)
    sheet.choose("wires-force", "")
    own = sheet.shown(scene, True, prediction.works)
    sheet.choose("wires-force", "current=7")
    other = sheet.shown(scene, True, prediction.works)
    assert other["entered"] and [entry["value"] for entry in other["inputs"]][1:] == [entry["value"] for entry in own["inputs"]][1:]
    assert other["lines"][-1] != own["lines"][-1] and not other["wrong"]
    sheet.choose("wires-force", "")
    assert sheet.shown(scene, True, prediction.works) == own
    scene.set("current", 12.0)
    prediction.reset(scene)
    assert prediction.shown()["works"] is None and sheet.shown(scene, True, prediction.works)["inputs"][0]["value"] == "12"


def figures_in(text: str) -> list[float]:
    """What a question tells to work with, without the constants in brackets at its end."""
    return [float(found) for found in re.findall(r"(?<![\w.])\d+(?:\.\d+)?", re.sub(r"\(µ₀.*\)|, its load \d+ % of.*", "", text))]


def same(told: float, value: str) -> bool:
    """Whether an input is that figure, perhaps in a unit a thousand times as large."""
    return any(math.isclose(told, float(value) * factor, rel_tol=1e-9) for factor in (1, 1000))

"""Answers on the page of practice, by keys as a student gives them."""

from __future__ import annotations

import json

from scenes import catalogue
from scenes.bench.prediction import Prediction
from tests.scenes.practice.answers import given as to_give


def answer_of_the_present_question(page):
    """What is right, worked out here from the scene, kind and number that the page shows, and something that is wrong."""
    scene = catalogue.scene_class(page.told("scene")["name"])()
    prediction = Prediction()
    prediction.ask(scene, page.told("question")["seed"], page.told("question")["kind"])
    question = prediction.posed
    assert page.told("question")["text"] == question.text
    return question, to_give(question, False)


def answer(page, value: str) -> None:
    """Answer by the number key that stands before the choice, or with the figure typed; the same again where a wrong one may be tried
    once more."""
    told = page.told("question")
    values = [choice["value"] for choice in told["choices"]]
    for before in ("null", json.dumps(value)):
        if told["answered"] == "typed":
            field = page.tab.get_by_label("A figure with its unit")
            field.fill(value)
            field.press("Enter")
        elif before == "null":
            page.tab.keyboard.press(str(values.index(value) + 1))
        else:
            page.send(do="answer", choice=value)  # its button is crossed out
        page.wait_for(
            "(before) => (({ given, tried }) => given !== null || JSON.stringify(tried) !== before)(window.bench.socket.told.question)",
            before,
        )
        page.settle()
        if page.told("question")["given"] is not None:
            return
        assert page.tab.get_by_text("Try once more.").is_visible()


def another(page) -> None:
    page.tab.get_by_role("button", name="Next question").click()
    page.wait_for("() => window.bench?.socket.told.question.given === null")
    page.settle()

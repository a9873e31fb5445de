"""The scene of two wires: what it shows and reads is worked out anew, and the answer is what then happens."""

from __future__ import annotations

import random
import re

import magpylib
import numpy as np
import pytest

from scenes.bench.prediction import setup_of
from scenes.conductors.two_wires.scene import TwoWires

SIGN = {"left": -1, "right": 1}


def at_random(seed: int, seconds: float = 0.0) -> TwoWires:
    dice, scene = random.Random(seed), TwoWires()
    scene.set_all({
        "current": dice.choice((-1, 1)) * dice.randint(5, 50), "other": dice.choice((-1, 1)) * dice.randint(5, 50),
        "spacing": dice.choice((30, 45, 80)), "length": dice.choice((80, 200, 240)), "wire": dice.choice(("left", "right")),
    })  # fmt: skip
    scene.restart()
    for _ in range(round(60 * seconds)):
        scene.step(1 / 60)
    return scene


def reading(scene, symbol: str):
    return next(one for one in scene.readings() if one.symbol == symbol)


def number(text: str) -> float:
    return float(text.replace("\N{MINUS SIGN}", "-"))


def test_the_published_value_stands_in_its_formula():
    """2e-7 N/m for an ampere in each wire at a metre (9th CGPM, 1948): as I^2 / d, so 5 mN/m at 50 A and 0.1 m."""
    scene = TwoWires()
    scene.set_all({"current": 50, "other": 50, "spacing": 80})
    scene.restart()
    per_metre = 2e-7 * 50 * 50 / 0.08
    assert number(reading(scene, "F / l").value) == pytest.approx(per_metre * 1000, abs=0.005)
    assert scene.now.push == pytest.approx(per_metre * (np.hypot(0.2, 0.08) - 0.08), rel=1e-9)


def test_the_caution_counts_right():
    amperes, millimetres, newtons = (float(found.replace(",", "")) for found in re.search(
        r"([\d,]+) amperes in busbars (\d+) mm apart give (\d+) newtons", TwoWires.caution).groups())  # fmt: skip
    assert 2e-7 * amperes**2 / (millimetres / 1000) == pytest.approx(newtons, rel=1e-6)


@pytest.mark.parametrize("seed", range(8))
def test_fields_and_pushes_are_those_of_magpylib(seed):
    scene = at_random(seed, 0.2)
    now, setup = scene.now, scene.setup
    half = np.array([0, 0, setup.length / 2])
    wires = [
        magpylib.current.Polyline(current=current, vertices=[middle - half, middle + half])
        for current, middle in zip(setup.currents.values(), now.middles, strict=True)
    ]
    where, weight = np.polynomial.legendre.leggauss(80)
    for k, current in enumerate(setup.currents.values()):
        np.testing.assert_allclose(now.fields[k], wires[1 - k].getB(now.middles[k]), rtol=1e-6, atol=1e-12)
        along = wires[1 - k].getB(now.middles[k] + where[:, np.newaxis] * half)
        pushed = current * np.cross([0, 0, setup.length / 2], weight @ along)  # I l x B
        np.testing.assert_allclose(now.pushes[k], pushed, rtol=1e-5, atol=1e-10)
    assert number(reading(scene, "B").value) == pytest.approx(np.linalg.norm(now.fields[now.looked_at]) * 1e6, abs=0.51)
    assert number(reading(scene, "F").value) == pytest.approx(abs(now.push) * 1000, abs=0.0051)


@pytest.mark.parametrize("seed", range(1, 31))
def test_the_answer_is_what_then_happens(seed):
    scene = TwoWires()
    scene.set_all(setup_of(scene, seed))
    scene.restart()
    question, wire = scene.question(), scene["wire"]
    assert question.answer in dict(question.choices)
    k = list(SIGN).index(wire)
    before = scene.now.middles[k][0]
    for _ in range(6):
        scene.step(1 / 60)
    moved = scene.now.middles[k][0] - before
    expected = {"to the left": -1, "to the right": 1, "nowhere": 0}[question.answer]
    if expected:
        assert np.sign(moved) == expected, "the Earth's field does not outdo the other wire's"
        together = expected != SIGN[wire]
        assert ("attract" if together else "repel") in question.reason and ("attract" if together else "repel") in scene.says()
    else:
        assert "no force" in question.reason and "exert no force" in reading_words(scene)
        by_the_earth = scene.setup.currents[wire]  # toward the viewer, in a field that points down: to the right
        assert np.sign(moved) == np.sign(by_the_earth) and abs(moved) < 1e-3


def reading_words(scene) -> str:
    return next(one.value for one in scene.readings() if one.words == "the wires")


def test_questions_have_every_answer():
    answers = {TwoWires().question().answer}
    for seed in range(1, 60):
        scene = TwoWires()
        scene.set_all(setup_of(scene, seed))
        answers.add(scene.question().answer)
    assert answers == {"to the left", "to the right", "nowhere"}


def test_drawn_together_the_beads_are_not_pushed_through_each_other():
    scene = TwoWires()
    scene.set_all({"current": 50, "other": 50, "spacing": 30})
    scene.restart()
    for _ in range(120):
        scene.step(1 / 60)
    assert scene.now.apart == pytest.approx(0.012, abs=2e-5)


def test_other_wires_are_hung_up_at_rest():
    scene = at_random(3, 0.3)
    scene.set("length", 120 if scene["length"] != 120 else 140)
    assert scene.now.angles == (0.0, 0.0)


def test_without_a_current_in_one_of_them_says_so():
    scene = TwoWires()
    for settings, words in (
        ({"switch": False}, "No current flows: the wires exert no force on each other."),
        ({"switch": True, "other": 0}, "Only the left wire carries a current, toward you: the wires exert no force on each other."),
        (
            {"current": -3, "other": 5},
            "The current in the left wire flows away from you, that in the right wire toward you: the wires repel each other.",
        ),
    ):
        scene.set_all(settings)
        assert scene.says() == words
        assert all(number(reading(scene, symbol).value) == 0 for symbol in ("F", "F / l")) == (not scene.now.push)

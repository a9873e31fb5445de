"""Once a question is answered, picture and sentence show the state of which it spoke."""

from __future__ import annotations

import re

import pytest

from scenes import catalogue
from scenes.bench.prediction import Prediction
from scenes.scene.scene import Scene

SEEDS = range(1, 9)


def answered(scene: Scene, kind: str, seed: int) -> Prediction:
    prediction = Prediction()
    prediction.ask(scene, seed, kind)
    prediction.reveal()
    prediction.uncover(scene)
    return prediction


def later(scene: Scene, seconds: float) -> str:
    """The sentence so many seconds of the one who looks on."""
    for _ in range(round(10 * seconds)):
        scene.step(0.1 / scene.slowness)
    return scene.says()


@pytest.mark.parametrize("kind", ["poles", "slip", "figure", "why"])
def test_a_motor_that_runs_under_its_load_is_shown_at_that_speed(kind):
    scene = catalogue.scene_class("slip-and-speed")()
    for seed in SEEDS:
        text = answered(scene, kind, seed).posed.text
        told = int(re.search(r"runs at (\d+) r/min", text)[1])
        for said in (scene.says(), later(scene, 2)):
            field, rotor = map(int, re.findall(r"at (\d+) r/min", said))
            slip = float(re.search(r"slip of ([\d.]+) %", said)[1])
            assert abs(rotor - told) <= 1, (text, said)
            assert slip == pytest.approx(100 * (1 - told / field), abs=0.15) and slip > 0


@pytest.mark.parametrize("kind", ["excitation", "figure", "torque", "compare", "why"])
def test_a_synchronous_motor_in_step_has_its_load_from_the_first(kind):
    """Its load angle is not the one without load, and stays."""
    scene = catalogue.scene_class("synchronous-motor")()
    for seed in SEEDS:
        text = answered(scene, kind, seed).posed.text
        behind = [int(re.search(r"in step, (\d+)° behind", said)[1]) for said in (scene.says(), later(scene, 2))]
        assert behind[0] == behind[1] > 3, (text, behind)
        if stands := re.search(r"current (leads|lags)", text):
            assert {"leads": "leading", "lags": "lagging"}[stands[1]] in scene.says()


def test_a_single_phase_motor_that_runs_is_shown_at_that_speed():
    scene = catalogue.scene_class("one-phase")()
    for seed in SEEDS:
        text = answered(scene, "figure", seed).posed.text
        told = int(re.search(r"runs at (\d+) r/min", text)[1])
        for _ in range(2):
            assert abs(60 * abs(scene.now.speed) - told) <= 2, text
            later(scene, 2)


def test_a_motor_that_is_measured_dead_is_shown_dead_with_the_ohmmeter_on_it():
    """Two windings in series in star, one beside the two others in delta."""
    scene = catalogue.scene_class("instruments")()
    for kind in ("joined", "figure"):
        for seed in SEEDS:
            prediction = answered(scene, kind, seed)
            said = scene.says()
            shown = float(re.search(r"The ohmmeter on U1 and V1 shows ([\d.]+) Ω", said)[1])
            assert "proved dead" in said and "switched on" not in said
            if kind == "figure":
                assert shown == pytest.approx(float(prediction.posed.answer.split()[0]), abs=0.001)
            else:
                times = float(re.search(r"shows ([\d.]+) times", prediction.posed.text)[1])
                assert prediction.posed.answer == ("star" if times > 1 else "delta") == scene["joined"]
                assert shown == pytest.approx(times * scene.now.case.winding_ohm, rel=0.01)


def test_a_figure_that_was_told_is_what_the_instrument_shows():
    scene = catalogue.scene_class("instruments")()
    for seed in SEEDS:
        text = answered(scene, "unbalance", seed).posed.text
        assert f"round lead L1 shows {re.search(r'carry ([0-9.]+ A)', text)[1]}" in scene.says()
        asked = answered(scene, "compare", seed).posed.text
        dead, live = "resistance" in asked, "current in L3" in asked
        assert dead is not live and ("proved dead" in scene.says()) is dead and ("round lead L3 shows" in scene.says()) is live
        assert not scene.now.mistake
        figure = re.search(r"(?:> )?[\d.]+ (?:A|V|Ω|MΩ)$", answered(scene, "why", seed).posed.answer)[0]
        assert f"shows {figure}." in scene.says() and not scene.now.mistake


def test_the_part_that_comes_off_first_is_the_one_that_is_lit():
    scene = catalogue.scene_class("inside-a-motor")()
    for seed in SEEDS:
        question = answered(scene, "order", seed).posed
        assert f"The {question.words_of(question.answer)} " in scene.says(), (question.text, scene.says())
        assert len(re.findall(r" (?:is|are) lit", scene.says())) == 1


def test_a_motor_asked_how_it_is_to_be_joined_is_shown_joined_so():
    scene = catalogue.scene_class("terminal-box")()
    found = set()
    for seed in range(1, 25):
        question = answered(scene, "joining", seed).posed
        if question.answer == "neither":
            continue
        found.add(question.answer)
        assert f"in {question.answer} on " in scene.says() and "right for this plate" in scene.says(), scene.says()
    assert found == {"star", "delta"}

"""The alternator scene against flux counted up in its coils, for settings drawn at random."""

from __future__ import annotations

import random

import numpy as np
import pytest

from scenes.bench.prediction import setup_of
from scenes.machines.alternator.scene import AlternatorScene
from scenes.machines.alternator.snapshot import AT_FIRST, LAMP_RESISTANCE, RESISTANCE, SHAPE, TURNS

LENGTH = 2 * SHAPE.half_length


def flux_through(scene, go: float, back: float, angle: float) -> float:
    """Wb outward through a coil from its return side counter-clockwise to its go side, counted up in small pieces."""
    span = (go - back) % (2 * np.pi)
    middles = back + span * (np.arange(4000) + 0.5) / 4000
    outward = scene["field"] / 1000 * np.cos(int(scene["poles"]) / 2 * (middles - angle))
    return float(outward.sum() * span / 4000 * SHAPE.bore * LENGTH)


def emfs_by_counting(scene) -> np.ndarray:
    """EMF of each phase, V: minus the rate of the flux in its coils, from two positions of the magnet close together."""
    winding = scene.now.machine.winding
    turns = TURNS * 2 // int(scene["poles"])
    omega = -scene["speed"] * 2 * np.pi / 60  # rad/s, counter-clockwise
    short = 1e-5
    emfs = np.zeros(3)
    for coil in winding.coils:
        go, back = winding.slot_angles[[coil.go, coil.back]]
        rate = (
            flux_through(scene, go, back, scene.state.angle + omega * short)
            - flux_through(scene, go, back, scene.state.angle - omega * short)
        ) / (2 * short)
        emfs["UVW".index(coil.phase)] -= turns * rate
    return emfs


def settings_at_random(seed: int) -> dict:
    dice = random.Random(seed)
    return {
        "coils": dice.choice("123"),
        "speed": float(dice.randint(-30, 30) * 100),
        "poles": dice.choice("2468"),
        "field": float(dice.randint(-10, 10) * 50),
        "load": dice.choice(("open", "lamp")),
    }


@pytest.mark.parametrize("seed", range(10))
def test_emfs_currents_and_torque_are_those_of_counted_flux(seed):
    scene = AlternatorScene()
    scene.set_all(settings_at_random(seed))
    for _ in range(1 + seed):
        scene.step(1 / 700)
    emfs = emfs_by_counting(scene)
    assert scene.now.emfs == pytest.approx(emfs, abs=1e-4 * max(1.0, np.abs(emfs).max()))
    wound = np.arange(3) < int(scene["coils"])
    currents = emfs / (RESISTANCE + LAMP_RESISTANCE) * wound * (scene["load"] == "lamp")  # each coil on its own lamp
    assert scene.now.currents == pytest.approx(currents, abs=1e-4)
    omega = -scene["speed"] * 2 * np.pi / 60
    if omega:
        assert scene.now.torque == pytest.approx(-float(emfs @ currents) / omega, abs=1e-5)
        assert scene.now.torque * omega <= 1e-12  # it holds the magnet back


@pytest.mark.parametrize(
    ("poles", "speed", "frequency"), [(2, 3000, 50), (4, 1500, 50), (6, 1000, 50), (8, 750, 50), (2, 3600, 60), (4, 1800, 60)]
)
def test_poles_and_speed_give_the_frequency_of_the_table(poles, speed, frequency):
    """Synchronous speeds of 50 and 60 Hz machines, as every handbook tabulates them."""
    scene = AlternatorScene()
    share = 1 if speed <= 3000 else 0.5  # what the control does not reach is run at half the speed
    scene.set_all({"poles": str(poles), "speed": speed * share})
    assert scene.now.frequency == pytest.approx(frequency * share)
    told = next(reading for reading in scene.readings() if reading.symbol == "f")
    assert float(told.value) == pytest.approx(frequency * share)


def test_the_field_gives_the_voltage_and_the_number_of_poles_does_not():
    scene = AlternatorScene()
    first = scene.now.peak
    scene.set("field", 200.0)
    assert scene.now.peak == pytest.approx(first / 2)
    scene.set("poles", "6")
    assert scene.now.peak == pytest.approx(first / 2)
    scene.set("field", 0.0)
    assert scene.now.peak == 0


@pytest.mark.parametrize("seed", range(1, 31))
def test_the_answer_is_what_then_happens(seed):
    scene = AlternatorScene()
    scene.set_all(setup_of(scene, seed))
    scene.restart()
    question = scene.question()
    assert question.answer in dict(question.choices) and len(dict(question.choices)) == len(question.choices)
    duration = 2.0
    times = np.linspace(0, duration, 40001)
    waves = scene.now.machine.emfs(AT_FIRST - scene["speed"] / 60 * 2 * np.pi * times, scene.setup.speed)
    if scene["coils"] != "3":
        rising = (waves[:-1, 0] < 0) & (waves[1:, 0] >= 0)
        assert (0.0 if question.answer == "none" else float(question.answer)) == pytest.approx(rising.sum() / duration, abs=0.51 / duration)
        assert len(question.choices) == 4
        return
    if scene["speed"] == 0:
        assert question.answer == "none"
        return
    crests = [1 + np.flatnonzero((waves[1:-1, k] > waves[:-2, k]) & (waves[1:-1, k] >= waves[2:, k])) for k in range(3)]
    after = {phase: min(crests[k][crests[k] > crests[0][3]]) for k, phase in enumerate("UVW") if phase != "U"}
    assert question.answer == min(after, key=after.get)


def test_questions_have_every_answer_and_are_the_same_for_the_same_seed():
    scene = AlternatorScene()
    answers = set()
    for seed in range(1, 81):
        scene.set_all(setup_of(scene, seed))
        answers.add(scene.question().answer if scene["coils"] == "3" else "frequency")
        assert setup_of(scene, seed) == setup_of(AlternatorScene(), seed)
    assert answers == {"V", "W", "none", "frequency"}


def test_what_tells_the_answer_is_hidden_in_the_plot():
    scene = AlternatorScene()
    scene.set("coils", "3")
    open_plot = scene.plot()
    assert [line.name for line in open_plot.lines] == ["U", "V", "W"] and scene.plot() is open_plot
    assert scene.plot(reveals_answer=False).lines == () and scene.marks(reveals_answer=False) == []


@pytest.mark.parametrize("seed", range(4))
def test_the_marks_ride_on_the_curves(seed):
    scene = AlternatorScene()
    scene.set_all(settings_at_random(seed) | {"coils": "3"})
    for _ in range(20):
        scene.step(1 / 333)
        now, *marks = scene.marks()
        for mark, line in zip(marks, scene.plot().lines, strict=True):
            xs, ys = np.array(line.points).T
            assert mark.x == now.x and mark.y == pytest.approx(np.interp(mark.x, xs, ys), abs=0.02 * max(1.0, scene.now.peak))


@pytest.mark.parametrize("control", [control.name for control in AlternatorScene.controls if control.name not in ("slow", "colours")])
def test_every_control_changes_what_is_read(control):
    scene = AlternatorScene()
    known = scene.by_name[control]
    scene.step(0.003)
    before = scene.readings()
    scene.set(control, {"number": lambda: known.low, "choice": lambda: known.choices[-1][0]}[known.kind]())
    assert scene.readings() != before

"""The starting scene: its figures are those of the comparison, its picture follows the run-up."""

from __future__ import annotations

import math
import time

import numpy as np
import pytest

from physics.shaft.loads import Conveyor, Friction, Shaft
from physics.starting import starts
from scenes.bench.prediction import setup_of
from scenes.drives import starting
from scenes.drives.starting import MOTOR, RATED_CURRENT, RATED_TORQUE, ROTOR_INERTIA, SYNCHRONOUS, WORDS, Starting
from visual.host.server import Host


@pytest.fixture
def scene():
    return Starting()


def direct_current(voltage_share: float = 1.0) -> float:
    """A phase's current at standstill by nodal analysis of the circuit, redone here."""
    magnetising = 1j * MOTOR.magnetising_reactance
    rotor = MOTOR.rotor_resistance + 1j * MOTOR.rotor_reactance
    whole = MOTOR.stator_resistance + 1j * MOTOR.stator_reactance + magnetising * rotor / (magnetising + rotor)
    return abs(voltage_share * MOTOR.line_voltage / math.sqrt(3) / whole)


def test_the_demonstration_motor_is_an_ordinary_one():
    # Common practice, no source: five to eight times rated current direct on line.
    assert 5 < direct_current() / RATED_CURRENT < 8


def test_currents_at_standstill_are_those_of_the_circuit(scene):
    assert scene.start_by("direct").starting_line_current == pytest.approx(direct_current(), rel=1e-9)
    # star: a third in the line (standard handbook result); a tap: its square
    assert scene.start_by("star-delta").starting_line_current == pytest.approx(direct_current() / 3, rel=1e-9)
    scene.set("tap", 50)
    assert scene.start_by("autotransformer").starting_line_current == pytest.approx(direct_current() / 4, rel=1e-9)


def test_an_unloaded_flywheel_heats_the_rotor_by_its_kinetic_energy(scene):
    scene.set_all({"drive": "flywheel", "inertia": 30})
    kinetic = 0.5 * ROTOR_INERTIA * 31 * (2 * math.pi * SYNCHRONOUS) ** 2
    assert scene.start_by("direct").rotor_heat == pytest.approx(kinetic, rel=5e-3)


def test_a_conveyor_that_needs_more_than_the_motor_has_stays_at_rest_but_not_with_a_wound_rotor(scene):
    scene.set_all({"drive": "conveyor", "load": 80, "method": "direct"})
    at_rest = float(MOTOR.at(1.0).torque)
    assert 1.3 * 0.8 * RATED_TORQUE > at_rest, "the case this test is about"
    assert scene.question().answer == "stays at rest"
    scene.set("method", "wound-rotor")
    assert scene.question().answer == "runs"
    same = Shaft(ROTOR_INERTIA, Conveyor(ROTOR_INERTIA * 10, Friction(0.8 * RATED_TORQUE, 1.04 * RATED_TORQUE)))
    assert scene.shaft.torque(0.1) == pytest.approx(same.torque(0.1)) and scene.shaft.inertia == pytest.approx(same.inertia)


def test_the_moment_shown_lies_on_the_run_up_and_the_shaft_turns_clockwise(scene):
    scene.set_all({"drive": "fan", "method": "direct"})
    scene.restart()
    turned = 0.0
    for _ in range(40):
        before, speed = scene.angle, scene.now()["speed"]
        scene.step(0.02)
        assert scene.angle - before == pytest.approx(-2 * math.pi * speed * 0.02)
        turned += speed * 0.02
    run = scene.chosen.run_up
    assert scene.now()["speed"] == pytest.approx(np.interp(0.8, run.time, run.speed))
    assert turned == pytest.approx(np.trapezoid(np.interp(np.linspace(0, 0.8, 400), run.time, run.speed), dx=0.8 / 399), rel=0.06)


def test_questions_come_out_as_the_torques_say(scene):
    answers = set()
    for seed in range(1, 40):
        scene.set_all(setup_of(scene, seed))
        scene.restart()
        answers.add(scene.question().answer)
        if scene["method"] == "direct":
            short = scene.shaft.torque(0.1) > float(MOTOR.at(1.0).torque)
            assert (scene.question().answer == "stays at rest") == short
    assert {"runs", "stays at rest"} <= answers


def rows_of(scene) -> list[str]:
    return [reading.value for reading in scene.readings() if reading.words in WORDS.values()]


def draw_until(scene, condition) -> float:
    """Draw pictures until that is so; how long the longest took, in seconds."""
    give_up, longest = time.monotonic() + 60, 0.0
    while not condition():
        assert time.monotonic() < give_up
        begun = time.perf_counter()
        scene.draw()
        longest = max(longest, time.perf_counter() - begun)
        time.sleep(0.002)
    return longest


def test_no_picture_waits_while_a_row_of_the_table_is_worked_out(scene, monkeypatch):
    scene.build(Host())
    scene.start_by("direct")
    slow = starting.starts.start

    def start(*arguments):
        time.sleep(0.5)
        return slow(*arguments)

    monkeypatch.setattr(starting.starts, "start", start)
    assert draw_until(scene, lambda: rows_of(scene).count("…") == 3) < 0.4
    scene.set("inertia", 20)  # what is still being worked out belongs to the old settings
    scene.start_by("direct")
    assert draw_until(scene, lambda: rows_of(scene).count("…") == 4) < 0.4
    shown = {name: scene._known[scene._key(name)] for name in WORDS if scene._key(name) in scene._known}
    monkeypatch.undo()
    for name, row in shown.items():
        assert row.largest_line_current == starts.start(MOTOR, scene.shaft, scene.method(name)).largest_line_current
        assert row.time == starts.start(MOTOR, scene.shaft, scene.method(name)).time


def test_an_error_of_ours_in_a_row_is_met_in_the_next_picture(scene, monkeypatch):
    scene.build(Host())
    scene.start_by("direct")
    monkeypatch.setattr(starting.starts, "start", lambda *_: 1 / 0)
    with pytest.raises(ZeroDivisionError):
        draw_until(scene, lambda: False)


def test_the_table_is_filled_and_hidden_with_the_answer(scene):
    scene.build(Host())
    rows = [reading for reading in scene.readings() if reading.words in WORDS.values()]
    assert [row.value for row in rows].count("…") >= 4
    draw_until(scene, lambda: "…" not in rows_of(scene))
    rows = [reading for reading in scene.readings() if reading.words in WORDS.values()]
    assert "…" not in [row.value for row in rows] and all(row.tells for row in rows)
    assert len(scene.plot().lines) == 4
    scene.answers_shown = False
    assert scene.plot().lines == () and scene.marks() == []


@pytest.mark.parametrize("place, method", list(enumerate(WORDS, 1)))
def test_above_the_columns_stands_the_number_and_name_of_the_way_that_is_shown(scene, place, method):
    scene.build(Host())
    scene.set("method", method)
    scene.draw()
    number, name = scene.currents.heading.text.split(maxsplit=1)
    assert int(number) == place and set(name.split()) <= set(WORDS[method].replace(",", " ").split())
    assert [letters.text for letters in scene.currents.numbers][place - 1] == number


def test_the_links_follow_the_stage(scene):
    scene.build(Host())
    scene.set_all({"method": "star-delta", "drive": "fan"})
    scene.draw()
    assert scene.board.star.visible and not scene.board.delta[0].visible
    scene.time = float(scene.chosen.run_up.time[-1])
    scene.draw()
    assert not scene.board.star.visible and scene.board.delta[0].visible

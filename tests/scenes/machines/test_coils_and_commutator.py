"""The commutator scene against forces and EMFs worked out from vectors, for settings drawn at random."""

from __future__ import annotations

import random

import numpy as np
import pytest

from scenes.bench.prediction import setup_of
from scenes.machines.coils_and_commutator import CoilsAndCommutator
from scenes.machines.demonstration_commutator import AT_FIRST, COMMUTATOR, LENGTH, SIDES, TURNS


def settings_at_random(seed: int) -> dict:
    dice = random.Random(seed)
    return {
        "mode": dice.choice(("battery", "hand")), "battery": dice.choice((-6.0, -2.5, 1.0, 3.0, 5.5)), "brake": dice.choice((0.0, 0.03, 0.1)),
        "crank": float(dice.randint(-24, 24) * 10), "load": dice.choice(("open", "lamp")), "field": float(dice.randint(-20, 20) * 10),
        "collector": dice.choice(("commutator", "commutator", "slip-rings")), "side": dice.choice(list(SIDES)),
    }


def running(settings: dict, seconds: float = 0.3) -> CoilsAndCommutator:
    scene = CoilsAndCommutator()
    scene.set_all(settings)
    scene.restart()
    for _ in range(round(seconds * 150)):
        scene.step(1 / 150)
    return scene


@pytest.mark.parametrize("seed", range(12))
def test_the_drawn_forces_and_emfs_are_those_of_wires_in_an_even_field(seed):
    scene = running(settings_at_random(seed))
    field = np.array([scene["field"] / 1000, 0.0, 0.0])
    torque = 0.0
    for coil, side in SIDES.values():
        place = scene.places[coil, side]
        current = float(scene.state.side_currents[coil, side])
        pushed = TURNS * np.cross([0, 0, current * LENGTH], field)  # F = N I l x B
        assert scene.forces[coil, side] == pytest.approx(pushed, abs=1e-12)
        torque += np.cross(place, pushed)[2]
        velocity = np.cross([0, 0, float(scene.state.speed)], place)
        emf = TURNS * LENGTH * np.cross(velocity, field)[2]  # E = N l v x B along the side
        assert float(scene.state.side_emfs[coil, side]) == pytest.approx(emf, abs=1e-9)
    assert torque == pytest.approx(float(scene.state.torque), abs=1e-9)
    told = next(reading for reading in scene.readings() if reading.symbol == "M")
    assert float(told.value.replace("\N{MINUS SIGN}", "-")) == pytest.approx(-torque * 1000, abs=0.51)


@pytest.mark.parametrize("seed", range(1, 31))
def test_the_answer_is_what_then_happens(seed):
    scene = CoilsAndCommutator()
    scene.set_all(setup_of(scene, seed))
    scene.restart()
    question = scene.question()
    assert question.answer in dict(question.choices)
    voltages = []
    for _ in range(300):
        scene.step(1 / 100)
        voltages.append(float(scene.state.terminal_voltage))
    turned = float(scene.state.angle) - AT_FIRST
    if scene["mode"] == "battery":
        # seen from the drive end, where +z points at the eye, a rising angle is counter-clockwise
        assert question.answer == ("none" if abs(turned) < np.pi else "counter-clockwise" if turned > 0 else "clockwise")
        expected = -np.sign(scene["battery"] * scene["field"])  # IEC 60034-8: + on A1, field as marked: clockwise
        if question.answer != "none":
            assert np.sign(turned) == expected
    elif question.answer == "neither":
        assert np.abs(voltages).max() < 1e-9
    elif question.answer == "changes":
        assert scene["collector"] == "slip-rings" and min(voltages) < -0.1 and max(voltages) > 0.1
    else:
        assert np.all(np.array(voltages) * (1 if question.answer == "A1" else -1) > 0)


def test_questions_have_every_answer_and_are_the_same_for_the_same_seed():
    scene = CoilsAndCommutator()
    answers = set()
    for seed in range(1, 61):
        scene.set_all(setup_of(scene, seed))
        scene.restart()
        first = scene.question()
        assert setup_of(scene, seed) == setup_of(CoilsAndCommutator(), seed)
        answers.add((scene["mode"], first.answer))
    assert answers == {("battery", way) for way in ("clockwise", "counter-clockwise", "none")} | {
        ("hand", brush) for brush in ("A1", "A2", "changes", "neither")}


def test_a_question_names_the_end_that_one_looks_at():
    scene = CoilsAndCommutator()
    near = scene.question()
    scene.look("other-end")
    far = scene.question()
    assert "the drive end" in near.text and "the commutator end" in far.text
    assert {near.answer, far.answer} == {"clockwise", "counter-clockwise"}


def test_a_motor_runs_up_its_back_emf_rises_and_its_current_falls():
    scene = CoilsAndCommutator()
    at_rest = float(scene.state.terminal_current)
    turn = []
    for _ in range(450):
        scene.step(1 / 150)
        turn.append((scene.picked_off, float(scene.state.terminal_current), float(scene.state.torque)))
    back_emf, current, torque = np.mean(turn[-150:], axis=0)
    assert at_rest == pytest.approx(3.0 / 1.3, rel=0.15)  # battery over the resistance of two coils beside one, and its own
    assert 0 < current < 0.45 * at_rest and 1.8 < back_emf < 3.0
    assert -torque == pytest.approx(scene["brake"] + 0.003, rel=0.05)  # clockwise; on the whole it only overcomes brake and friction
    scene.set("brake", 0.12)
    for _ in range(450):
        scene.step(1 / 150)
    assert float(scene.state.terminal_current) > current and abs(scene.picked_off) < back_emf
    scene.set("brake", 0.4)
    for _ in range(300):
        scene.step(1 / 150)
    assert scene.state.speed == 0 and abs(scene.picked_off) < 1e-9


def test_reversing_battery_or_field_turns_it_the_other_way_and_both_together_the_same_way():
    def turned(*roles):
        scene = CoilsAndCommutator()
        for role in roles:
            scene.reverse(role)
        scene.restart()
        for _ in range(60):
            scene.step(1 / 150)
        return np.sign(float(scene.state.angle) - AT_FIRST)

    assert turned() == -1 == turned("current", "field")
    assert turned("current") == 1 == turned("field")


def test_no_position_shorts_the_battery_and_every_coil_changes_over_twice_a_turn():
    scene = CoilsAndCommutator()
    around = np.linspace(0, 2 * np.pi, 2000, endpoint=False)
    shares = COMMUTATOR.contact_shares(around, 3, 0.0)
    assert np.all(shares.sum(axis=-1) > 0.5)
    assert not np.any((shares[:, 0] > 0) & (shares[:, 1] > 0)), "a segment under both brushes"
    bridged = scene.armature.state(around, 10.0, scene.circuit).short_circuited.any(axis=1)
    assert np.all((bridged & ~np.roll(bridged, 1, axis=0)).sum(axis=0) == 2)


def test_the_hand_gives_what_lamp_and_coils_take():
    scene = running({"mode": "hand", "load": "lamp"}, 0.05)
    state = scene.state
    into_lamp = float(state.terminal_voltage) ** 2 / 5.0
    heat = float(state.copper_loss + state.contact_loss)
    assert -float(state.torque * state.speed) == pytest.approx(into_lamp + heat, rel=1e-6)
    assert float(state.terminal_voltage) > 0  # clockwise, field as marked: A1 is positive


@pytest.mark.parametrize("control", [control.name for control in CoilsAndCommutator.controls if control.name != "slow"])
def test_every_control_changes_what_is_read(control):
    scene = CoilsAndCommutator()
    known = scene.by_name[control]
    if known.only_with:
        scene.set(*known.only_with)
    before = [reading for reading in running(dict(scene.settings), 0.1).readings()]
    other = {"number": lambda: known.low, "choice": lambda: known.choices[-1][0]}[known.kind]()
    after = running({**scene.settings, control: other}, 0.1).readings()
    assert before != after

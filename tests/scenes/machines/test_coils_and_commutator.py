"""The commutator scene against forces and EMFs worked out from vectors and from magpylib's field of the drawn magnets."""

from __future__ import annotations

import random

import magpylib
import numpy as np
import pytest

from scenes.bench.prediction import setup_of
from scenes.machines.commutator.machine import (
    AT_FIRST,
    COIL_RESISTANCE,
    COMMUTATORS,
    FILLED,
    GAP,
    LAMP,
    LENGTH,
    MEAN_TURN,
    SIDES,
    TURNS,
    WIRE_DIAMETER,
    armature_of,
)
from scenes.machines.commutator.picture import winding
from scenes.machines.commutator.scene import CoilsAndCommutator
from scenes.machines.commutator.snapshot import NEAR_A_POLE
from tests.visual.solid.test_shapes import drawn_line
from visual.machines.commutator import shapes
from visual.machines.commutator.machine import Winding
from visual.machines.commutator.shapes import POLE


def settings_at_random(seed: int) -> dict:
    dice = random.Random(seed)
    return {
        "mode": dice.choice(("battery", "hand")),
        "battery": dice.choice((-6.0, -2.5, 1.0, 3.0, 5.5)),
        "brake": dice.choice((0.0, 0.03, 0.1)),
        "crank": float(dice.randint(-24, 24) * 10),
        "load": dice.choice(("open", "lamp")),
        "field": float(dice.randint(-20, 20) * 10),
        "collector": dice.choice(("commutator", "commutator", "slip-rings")),
        "coils": dice.choice("123"),
        "side": dice.choice([NEAR_A_POLE, *SIDES]),
    }


def running(settings: dict, seconds: float = 0.3) -> CoilsAndCommutator:
    scene = CoilsAndCommutator()
    scene.set_all(settings)
    scene.restart()
    for _ in range(round(seconds * 30)):
        scene.step(1 / 30)
    return scene


def field_of_the_drawn_magnets(place, flux_density) -> np.ndarray:
    """T, averaged along a coil side at `place`, by magpylib; as strong as gives `flux_density` to the right before a face."""
    magnets = magpylib.Collection(
        [magpylib.magnet.Cuboid(position=(side * (GAP + POLE[0]) / 2, 0, 0), dimension=POLE, polarization=(1, 0, 0)) for side in (-1, 1)]
    )

    def along(x, y):
        return magnets.getB([(x, y, z) for z in np.linspace(-LENGTH / 2, LENGTH / 2, 81)]).mean(axis=0)

    return along(place[0], place[1]) * flux_density / along(0.04, 0.0)[0]


@pytest.mark.parametrize("seed", range(12))
def test_the_drawn_forces_and_emfs_are_those_of_wires_between_the_drawn_magnets(seed):
    scene = running(settings_at_random(seed))
    now, torque = scene.now, 0.0
    for coil, side in [SIDES[name] for name in scene.setup.sides]:
        place = now.places[coil, side]
        field = field_of_the_drawn_magnets(place, scene["field"] / 1000)
        assert now.fields[coil, side] == pytest.approx(field, abs=1e-3)
        current = float(now.machine.side_currents[coil, side])
        pushed = TURNS * np.cross([0, 0, current * LENGTH], field)  # F = N I l x B
        assert now.forces[coil, side] == pytest.approx(pushed, abs=0.02)
        torque += np.cross(place, pushed)[2]
        velocity = np.cross([0, 0, now.speed], place)
        assert now.velocities[coil, side] == pytest.approx(velocity, abs=1e-12)
        emf = TURNS * LENGTH * np.cross(velocity, field)[2]  # E = N l v x B along the side
        assert float(now.machine.side_emfs[coil, side]) == pytest.approx(emf, abs=0.02)
    assert torque == pytest.approx(now.torque, abs=2e-3)
    told = next(reading for reading in scene.readings() if reading.symbol == "T")
    assert float(told.value.replace("\N{MINUS SIGN}", "-")) == pytest.approx(-torque * 1000, abs=2.5)


def test_magnets_of_this_size_can_be_bought():
    """Remanence of sintered neodymium magnets: 1.1 to 1.45 T (makers' tables, from memory)."""
    scene = CoilsAndCommutator()
    scene.set("field", 250)
    assert 0 < scene.setup.armature.field.remanence < 1.4


@pytest.mark.parametrize("coils", COMMUTATORS)
def test_the_resistance_is_that_of_the_copper_that_is_drawn(monkeypatch, coils):
    """1.72e-8 ohm m of annealed copper at 20 degrees (IEC 60028); round wires fill about six tenths of a bundle (common practice)."""
    lines = []
    monkeypatch.setattr(
        shapes,
        "cord",
        lambda points, thickness, *more: lines.append(drawn_line(points, thickness)) or shapes.block([0, 0, 0], [1, 1, 1], (1, 1, 1)),
    )
    Winding(0.04, LENGTH, *winding(coils))
    turn = float(np.linalg.norm(np.diff(lines[0], axis=0), axis=1).sum())
    assert MEAN_TURN == pytest.approx(turn, rel=0.05)
    assert COIL_RESISTANCE == pytest.approx(1.72e-8 * TURNS * turn / (np.pi / 4 * WIRE_DIAMETER**2), rel=0.05)
    assert FILLED <= 0.65


@pytest.mark.parametrize("seed", range(1, 31))
def test_the_answer_is_what_then_happens(seed):
    scene = CoilsAndCommutator()
    scene.set_all(setup_of(scene, seed))
    scene.restart()
    question = scene.question()
    assert question.answer in dict(question.choices)
    voltages = []
    if scene["mode"] == "battery":
        for _ in range(30):
            scene.step(1 / 10)
    else:  # once round and a little more, at every 5 degrees
        for _ in range(75):
            scene.step(5 / 360 * 60 / max(abs(scene["crank"]), 1.0))
            voltages.append(scene.now.volts)
    turned = scene.state.angle - AT_FIRST
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
        least = np.min(np.array(voltages) * (1 if question.answer == "A1" else -1))
        # one coil's brushes stand on nothing for a moment at each changeover
        assert least > -1e-9 if scene["coils"] == "1" else least > 0


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
        ("hand", brush) for brush in ("A1", "A2", "changes", "neither")
    }


def test_a_question_names_the_end_that_one_looks_at():
    scene = CoilsAndCommutator()
    near = scene.question()
    scene.look("other-end")
    far = scene.question()
    assert "the drive end" in near.text and "the non-drive end" in far.text
    # the value is the bench's own, what is read is as it is seen
    assert near.answer == far.answer == "clockwise"
    assert dict(near.choices)["clockwise"] == "clockwise" and dict(far.choices)["clockwise"] == "counter-clockwise"
    assert "driven clockwise" in near.reason and "driven counter-clockwise" in far.reason


def test_a_motor_runs_up_its_back_emf_rises_and_its_current_falls():
    scene = CoilsAndCommutator()
    scene.set_all({"coils": "3", "brake": 0.06})

    def mean_of_a_second(wait):
        turn = []
        for _ in range(wait):
            scene.step(1 / 10)
        for _ in range(150):
            scene.step(1 / 150)
            turn.append((scene.now.picked_off, scene.now.current, scene.now.torque))
        return np.mean(turn, axis=0)

    at_rest = scene.now.current
    assert at_rest == pytest.approx(
        3.0 / (0.1 + 0.03 + 2 / 3 * COIL_RESISTANCE), rel=0.15
    )  # battery over two coils beside one, and its own
    back_emf, current, torque = mean_of_a_second(30)
    assert 0 < current < 0.55 * at_rest and 1.4 < back_emf < 3.0
    assert -torque == pytest.approx(scene["brake"] + 0.003, rel=0.05)  # clockwise; on the whole it only overcomes brake and friction
    scene.set("brake", 0.12)
    slower_emf, more_current, _ = mean_of_a_second(30)
    assert more_current > current and 0 < slower_emf < back_emf
    scene.set("brake", 0.4)
    mean_of_a_second(10)
    assert scene.state.speed == 0 and abs(scene.now.picked_off) < 1e-9


def test_reversing_battery_or_field_turns_it_the_other_way_and_both_together_the_same_way():
    def turned(*roles):
        scene = CoilsAndCommutator()
        for role in roles:
            scene.reverse(role)
        scene.restart()
        for _ in range(60):
            scene.step(1 / 150)
        return np.sign(scene.state.angle - AT_FIRST)

    assert turned() == -1 == turned("current", "field")
    assert turned("current") == 1 == turned("field")


@pytest.mark.parametrize("coils", COMMUTATORS)
def test_no_position_shorts_the_battery(coils):
    around = np.linspace(0, 2 * np.pi, 2000, endpoint=False)
    shares = COMMUTATORS[coils].contact_shares(around, coils, 0.0)
    assert not np.any((shares[:, 0] > 0) & (shares[:, 1] > 0)), "a segment under both brushes"
    no_contact = np.mean(shares.sum(axis=(1, 2)) == 0)
    assert no_contact == pytest.approx(8 / 360, abs=0.002) if coils == 1 else no_contact == 0, "one coil's gaps are 4 degrees wider"
    dead = CoilsAndCommutator().setup.circuit(0.0)
    currents = np.abs(armature_of(0.2, "commutator", coils).state(around, 0.0, dead).terminal_current)
    assert currents.max() <= 3.0 / (0.1 + 0.06 + COIL_RESISTANCE / 2) * 1.01, "never less than two coils side by side"


def test_every_coil_of_three_changes_over_twice_a_turn():
    scene = CoilsAndCommutator()
    scene.set("coils", "3")
    around = np.linspace(0, 2 * np.pi, 2000, endpoint=False)
    bridged = scene.setup.armature.state(around, 10.0, scene.setup.circuit(0.0)).short_circuited.any(axis=1)
    assert np.all((bridged & ~np.roll(bridged, 1, axis=0)).sum(axis=0) == 2)


def test_the_hand_gives_what_lamp_and_coils_take():
    scene = running({"mode": "hand", "load": "lamp"}, 0.05)
    now = scene.now
    heat = float(now.machine.copper_loss + now.machine.contact_loss)
    assert -now.torque * now.speed == pytest.approx(now.lamp_power + heat, rel=1e-6)
    assert now.lamp_power == pytest.approx(now.volts * now.current, rel=1e-6)
    assert now.volts > 0 and now.current > 0  # clockwise, field as marked: A1 is positive and gives the current out


@pytest.mark.parametrize("collector", ["commutator", "slip-rings"])
def test_the_lamp_is_never_run_far_above_its_rating(collector):
    scene = running({"mode": "hand", "load": "lamp", "crank": 240, "field": 250, "collector": collector})
    taken, light = [], []
    for _ in range(100):
        scene.step(1 / 200)
        taken.append(scene.now.lamp_power)
        light.append(scene.now.lamp_light)
    assert 0.5 * LAMP.power < np.mean(taken) < 1.1 * LAMP.power
    assert np.mean(light) == pytest.approx(np.mean(taken) / LAMP.power, rel=0.1)
    assert LAMP.power == pytest.approx(0.45)


@pytest.mark.parametrize("control", [control.name for control in CoilsAndCommutator.controls if control.name != "slow"])
def test_every_control_changes_what_is_read(control):
    scene = CoilsAndCommutator()
    scene.set("coils", "3")
    known = scene.by_name[control]
    if known.only_with:
        scene.set(*known.only_with)
    before = [reading for reading in running(dict(scene.settings), 0.1).readings()]
    other = {"number": lambda: known.low, "choice": lambda: known.choices[-1 if control != "coils" else 0][0]}[known.kind]()
    after = running({**scene.settings, control: other}, 0.1).readings()
    assert before != after


@pytest.mark.parametrize("coils", "123")
def test_the_marks_move_as_the_charge_that_has_flowed(coils):
    """Amperes summed over time, times the slowness, coil by coil."""
    scene = running({"coils": coils, "brake": 0.0}, 0.0)
    counted = np.zeros(int(coils))
    for _ in range(400):
        before = scene.now.machine.coil_currents
        scene.step(1 / 2000)
        counted += (before + scene.now.machine.coil_currents) / 2 / 2000 * 5
    assert np.array(scene.now.passed) == pytest.approx(counted, abs=0.02 * np.abs(counted).max())
    assert np.abs(counted).max() > 0.1

"""Every scene in a real browser: what is drawn is what the physics says, for set-ups drawn at random."""

from __future__ import annotations

import random

import numpy as np
import pytest

from physics.directions import emf_direction, field_direction, force_direction, left_hand, right_hand
from scenes.conductors.field_round_a_wire.scene import FieldRoundAWire
from scenes.conductors.field_round_a_wire.snapshot import KIND, PLACES, at_rest, outside
from scenes.conductors.moved_conductor.picture import TO_BE_FOLLOWED
from scenes.conductors.moved_conductor.scene import MovedConductor
from scenes.conductors.moved_conductor.snapshot import ALONG_ROD, TRAVEL, WAYS
from scenes.conductors.pushed_conductor.scene import PushedConductor
from scenes.conductors.two_wires.scene import TwoWires
from visual.apparatus.moved_rod import FRONT
from visual.hand.hands import fleming_rotation

DIRECTION = 2e-4  # the page is told six significant figures


def unit(vector):
    return np.asarray(vector, float) / np.linalg.norm(vector)


def same_way(drawn: dict, expected) -> None:
    """A drawn arrow points along `expected`, or is hidden where that has no length."""
    if np.linalg.norm(expected) < 1e-12:
        assert not drawn["visible"]
    else:
        assert drawn["visible"]
        assert unit(drawn["axis"]) == pytest.approx(unit(expected), abs=DIRECTION)


def random_settings(scene, seed: int) -> dict:
    """A value for every control, drawn at random, that the page's inputs could give as well."""
    dice = random.Random(seed)
    settings = {}
    for control in scene.controls:
        if control.kind == "number":
            steps = round((control.high - control.low) / control.step)
            settings[control.name] = round(control.low + control.step * dice.randint(0, steps), 6)
        elif control.kind == "choice":
            settings[control.name] = dice.choice(control.choices)[0]
        else:
            settings[control.name] = dice.random() < 0.7
    return settings


@pytest.mark.parametrize("seed", (0, 2, 4))  # in which the needles come to rest within seconds
def test_the_field_round_a_wire_is_drawn_as_it_is(page, seed):
    scene = FieldRoundAWire()
    settings = random_settings(scene, seed)
    scene.set_all(settings)
    page.set_up(scene.name, settings)
    now, setup = scene.now, scene.setup
    current = setup.current * np.array([0, 1.0, 0])
    same_way(page.drawn("wire-current"), current)
    same_way(page.drawn("wire-field"), now.field)
    assert not np.any(current) or now.field @ field_direction(current, PLACES[settings["compass"]]) > 0
    same_way(page.drawn("wire-earth"), now.earth)
    grip = page.drawn("wire-grip-hand")
    assert grip["visible"] == bool(setup.current)
    if setup.current:
        assert unit(grip["up"]) == pytest.approx(unit(current), abs=DIRECTION)  # the thumb is the hand's own y
    page.send(do="run", on=True)
    field = outside(setup.radius, setup.current, setup.earth)
    settled = KIND.directions(at_rest(setup.radius, setup.current, setup.earth).angle)
    for number, way in enumerate(settled):
        if np.linalg.norm(field[number, [0, 2]]) < 1e-5:
            continue  # nearly nothing turns it: it takes minutes
        page.wait_for(
            "([name, way]) => { const a = window.stream.drawn(name).axis, l = Math.hypot(...a);"
            " return a.reduce((sum, part, i) => sum + part * way[i], 0) / l > 0.9995 }",
            [f"wire-needle-{number}", list(way)],
        )


@pytest.mark.parametrize("seed", range(3))
def test_the_pushed_conductor_is_drawn_as_it_is(page, seed):
    scene = PushedConductor()
    settings = random_settings(scene, seed)
    scene.set_all(settings)
    page.set_up(scene.name, settings)
    field, current = scene.now.field, scene.now.current
    push = force_direction(field, current)
    same_way(page.drawn("pushed-field"), field)
    same_way(page.drawn("pushed-current"), current)
    same_way(page.drawn("pushed-force"), push)
    hand = page.drawn("pushed-left-hand")
    assert hand["visible"] == bool(np.any(push))
    if np.any(push):
        fingers = left_hand(field, current)
        turn = fleming_rotation("left", fingers.thumb, fingers.first_finger, fingers.second_finger)
        assert unit(hand["axis"]) == pytest.approx(turn[:, 0], abs=DIRECTION)
        assert unit(hand["up"]) == pytest.approx(turn[:, 1], abs=DIRECTION)
    page.send(do="run", on=True)
    expected = np.sign(push[0])
    if expected:
        page.wait_for("sign => sign * window.stream.drawn('pushed-rod').pos[0] > 0.0005", float(expected))


@pytest.mark.parametrize("seed", range(3))
def test_the_two_wires_are_drawn_as_they_are(page, seed):
    scene = TwoWires()
    settings = random_settings(scene, seed) | {"switch": seed != 3}
    scene.set_all(settings)
    page.set_up(scene.name, settings)
    along = np.array([0, 0, 1.0])
    for wire, other, way in (("left", "right", -1.0), ("right", "left", 1.0)):
        current = scene.setup.currents[wire] * along
        field = field_direction(scene.setup.currents[other] * along, [way, 0, 0])
        same_way(page.drawn(f"two-wires-current-{wire}"), current)
        same_way(page.drawn(f"two-wires-field-{wire}"), field)
        push = force_direction(field, current)
        same_way(page.drawn("two-wires-force" if wire == settings["wire"] else "two-wires-force-other"), push)
        if wire == settings["wire"]:
            hand = page.drawn("two-wires-left-hand")
            assert hand["visible"] == bool(np.any(push))
            if np.any(push):
                fingers = left_hand(field, current)
                turn = fleming_rotation("left", fingers.thumb, fingers.first_finger, fingers.second_finger)
                assert unit(hand["up"]) == pytest.approx(turn[:, 1], abs=DIRECTION)
    for number, way in enumerate(scene.now.around * [1, 1, 0]):
        same_way(page.drawn(f"two-wires-mark-{number}"), way)
    page.send(do="run", on=True)
    scene.step(0.1)
    if scene.now.angles[0]:  # it swings to the right about its rail: what was upright leans to the left
        page.wait_for("sign => sign * window.stream.drawn('two-wires-left').up[0] < 0", float(np.sign(scene.now.angles[0])))


@pytest.mark.parametrize("seed", range(3))
def test_the_moved_conductor_is_drawn_as_it_is(page, seed):
    scene = MovedConductor()
    settings = random_settings(scene, seed) | {"motion": "to-and-fro", "closed": True}
    scene.set_all(settings)
    scene.restart()
    page.set_up(scene.name, settings)
    motion, field = settings["speed"] * WAYS[settings["way"]], scene.now.field
    emf = emf_direction(field, motion) @ ALONG_ROD * ALONG_ROD
    same_way(page.drawn("moved-field"), field)
    same_way(page.drawn("moved-motion"), motion)
    same_way(page.drawn("moved-emf"), np.where(abs(emf) > 0.5, emf, 0.0))
    assert page.drawn("moved-emf")["pos"][2] == pytest.approx(FRONT, abs=1e-6)
    hand = page.drawn("moved-right-hand")
    turns_round = np.pi * TRAVEL[settings["way"]] / settings["speed"] * float(settings["slow"])  # s as shown
    assert hand["visible"] == bool(np.any(abs(emf) > 0.5) and turns_round > TO_BE_FOLLOWED)
    if hand["visible"]:
        fingers = right_hand(field, motion)
        turn = fleming_rotation("right", fingers.thumb, fingers.first_finger, fingers.second_finger)
        assert unit(hand["up"]) == pytest.approx(turn[:, 1], abs=DIRECTION)
        assert scene.now.force @ motion < 0, "the force on a generating rod opposes its motion"
        needle = page.drawn("moved-meter")
        assert np.sign(needle["up"][0]) == np.sign(scene.now.emf)

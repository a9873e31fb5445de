"""The commutator machine in a real browser: coil sides, forces, dots and crosses, segments and hand as physics has them."""

from __future__ import annotations

import random

import numpy as np
import pytest

from physics.directions import left_hand, right_hand
from scenes.machines.commutator.machine import LENGTH, SIDES
from scenes.machines.commutator.scene import CoilsAndCommutator
from visual.hand.hands import fleming_rotation
from visual.machines.commutator.machine import BRIDGED, COIL_COLOURS, HIGH, LOW, MARK, NEAR

DIRECTION = 2e-4
STEPS = 4


def unit(vector):
    return np.asarray(vector, float) / np.linalg.norm(vector)


def settings_at_random(seed: int) -> dict:
    dice = random.Random(seed)
    return {
        "mode": ("battery", "hand")[seed % 2],
        "battery": dice.choice((-5.0, -3.0, 2.0, 4.0)),
        "crank": float(dice.choice((-240, -120, 90, 200))),
        "load": dice.choice(("open", "lamp", "lamp")),
        "field": float(dice.choice((-200, -120, 100, 180))),
        "brake": 0.0,
        "collector": dice.choice(("commutator", "commutator", "slip-rings")),
        "coils": "123"[seed % 3],
        "side": dice.choice(list(SIDES)[: 2 * (seed % 3 + 1)]),
        "slow": dice.choice(("2", "5")),
    }


@pytest.mark.parametrize("seed", range(3))
def test_the_machine_is_drawn_as_it_is(page, seed):
    settings = settings_at_random(seed)
    scene = CoilsAndCommutator()
    scene.set_all(settings)
    scene.restart()
    page.set_up(scene.name, settings)
    for _ in range(STEPS):
        page.send(do="step")
        scene.step(1 / 25 / scene.slowness)
    now = scene.now
    state, field = now.machine, np.array([settings["field"] / 1000, 0.0, 0.0])
    angle = float(state.angle)
    page.wait_for(
        "([x, y]) => { const a = window.stream.drawn('commutator-spindle').axis; return Math.abs(a[0] - x) + Math.abs(a[1] - y) < 4e-4 }",
        [np.cos(angle), np.sin(angle)],
    )
    spindle = page.drawn("commutator-spindle")
    assert spindle["axis"] == pytest.approx([np.cos(angle), np.sin(angle), 0], abs=DIRECTION)
    assert unit(page.drawn("commutator-magnet")["axis"]) == pytest.approx(unit(field), abs=DIRECTION)  # the N face looks along its +x
    assert unit(page.drawn("commutator-field")["axis"]) == pytest.approx(unit(now.fields[SIDES[settings["side"]]]), abs=DIRECTION)
    for name, at in [(name, SIDES[name]) for name in scene.setup.sides]:
        place = [0.04 * np.cos(state.side_angles[at]), 0.04 * np.sin(state.side_angles[at]), 0.0]
        current, emf = float(state.side_currents[at]), float(state.side_emfs[at])
        marks = page.drawn(f"commutator-marks-{name}")
        assert marks["visible"] == (abs(current) / 1.5 > 0.02)
        if marks["visible"]:
            assert marks["pos"] == pytest.approx(place, abs=1e-6)
            assert unit(marks["axis"]) == pytest.approx(
                [0, 0, np.sign(current)], abs=DIRECTION
            )  # its dot is at the end that the current flows to
        pushed = np.cross([0, 0, current], now.fields[at])
        force = page.drawn(f"commutator-force-{name}")
        if np.linalg.norm(pushed) * 8 > 0.02:
            assert force["visible"] and unit(force["axis"]) == pytest.approx(unit(pushed), abs=DIRECTION)
            assert force["pos"] == pytest.approx(np.array([place[0], place[1], LENGTH / 2 + NEAR]) + MARK * unit(pushed), abs=1e-6)
        drawn_emf = page.drawn(f"commutator-emf-{name}")
        if settings["mode"] == "hand" and abs(emf) > 0.05:
            assert drawn_emf["visible"] and unit(drawn_emf["axis"]) == pytest.approx([0, 0, np.sign(emf)], abs=DIRECTION)
    count = scene.setup.coils
    for coil in range(count):
        colour = page.drawn(f"commutator-coil-{coil}-of-{count}")["color"]
        bridged = settings["collector"] == "commutator" and state.short_circuited[:, coil].any()
        assert colour == pytest.approx(BRIDGED if bridged else COIL_COLOURS[coil], abs=1e-4)
    for number in range(len(state.segment_potentials)):
        segment = page.drawn(f"commutator-segment-{number}-of-{count}")
        assert segment["visible"] == (settings["collector"] == "commutator")
        for brush in range(2):
            volts = float(state.terminal_voltage) * (1 - 2 * brush)
            if segment["visible"] and state.contact_shares[brush, number] > 0.99:
                assert segment["color"] == pytest.approx(HIGH if volts > 0 else LOW, abs=0.06)
    chosen = SIDES[settings["side"]]
    if settings["mode"] == "hand":
        hand, name, other = right_hand(now.fields[chosen], now.velocities[chosen]), "right", "left"
    else:
        hand, name, other = left_hand(now.fields[chosen], [0, 0, float(state.side_currents[chosen])]), "left", "right"
    drawn = page.drawn(f"commutator-{name}-hand")
    assert not page.drawn(f"commutator-{other}-hand")["visible"]
    if drawn["visible"]:
        turn = fleming_rotation(name, hand.thumb, hand.first_finger, hand.second_finger)
        assert unit(drawn["axis"]) == pytest.approx(turn[:, 0], abs=DIRECTION)
        assert unit(drawn["up"]) == pytest.approx(turn[:, 1], abs=DIRECTION)


def test_from_the_other_end_the_forces_stand_there_and_the_answers_can_be_hidden(page):
    page.set_up("coils-and-commutator", {"mode": "battery", "side": "1a"})
    assert page.drawn("commutator-force-1a")["pos"][2] > 0
    page.send(do="view", name="other-end")
    page.wait_for("() => window.stream.drawn('commutator-force-1a').pos[2] < 0")
    page.send(do="answers", shown=False)
    page.wait_for("() => !window.stream.drawn('commutator-force-1a').visible")
    drawn = page.drawn_all()
    hidden = ("commutator-force", "commutator-emf", "commutator-left")
    assert [name for name in drawn if name.startswith(hidden)] == []
    assert any(name.startswith("commutator-marks") for name in drawn), "the battery's currents are given"
    page.send(do="set", name="mode", value="hand")
    page.wait_for(
        "() => window.stream.drawnNames().every(name => !name.startsWith('commutator-marks') || !window.stream.drawn(name).visible)"
    )
    page.send(do="answers", shown=True)
    page.send(do="view", name="drive-end")

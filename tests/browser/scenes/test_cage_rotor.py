"""The cage rotor in a real browser: currents, forces, torque, fields and hands as vectors have them."""

from __future__ import annotations

import random

import numpy as np
import pytest

from scenes.machines.cage_rotor.motor import BARS, BROKEN, RADIUS
from scenes.machines.cage_rotor.scene import CageRotor
from visual.hand.hands import fleming_rotation

DIRECTION = 2e-4
SHAFT = np.array([0.0, 0.0, 1.0])


def unit(vector):
    return np.asarray(vector, float) / np.linalg.norm(vector)


def settings_at_random(seed: int) -> dict:
    dice = random.Random(seed)
    names = {control.name: [value for value, _ in control.choices] for control in CageRotor.controls if control.kind == "choice"}
    return {name: dice.choice(names[name]) for name in ("lines", "broken", "bar")} | {
        "rotor": ("held", "driven", "free", "proof")[seed % 4],
        "hand": ("right", "left")[seed % 2],
        "poles": "2468"[seed // 2 % 4],
        "slow": "200",
        "speed": float(dice.choice((-50, 50, 90, 130, 150))),
        "field": dice.choice((0.3, 0.5, 0.8)),
        "fed": ("voltage", "field")[seed % 2],
        "load": 0.0,
        "inertia": 1.0,
        "frequency": 50.0,
    }


@pytest.mark.parametrize("seed", range(3))
def test_the_cage_is_drawn_as_it_is(page, seed):
    scene = CageRotor()
    settings = settings_at_random(seed)
    drawn = page.stepped(scene, settings, 2 + seed)
    at, pairs, poles = scene.now, scene.now.fed.pole_pairs, settings["poles"]
    most_current, most_force = at.curves.most_current, at.curves.most_force
    torque = 0.0
    for k in range(BARS):
        angle = scene.now.moment.rotor_angle + 2 * np.pi * k / BARS
        outward, onward = np.array([np.cos(angle), np.sin(angle), 0]), np.array([-np.sin(angle), np.cos(angle), 0])
        current = at.state.current[k]
        assert (f"cage-mark-{k}" in drawn) == (abs(current) / most_current > 0.0005) or abs(abs(current) / most_current - 0.0005) < 1e-5
        if f"cage-mark-{k}" in drawn:
            assert drawn[f"cage-mark-{k}"]["axis"][2] * current > 0
            assert drawn[f"cage-mark-{k}"]["pos"] == pytest.approx(RADIUS * outward, abs=1e-5)
        if k in BROKEN[settings["broken"]]:
            assert f"cage-mark-{k}" not in drawn and f"cage-force-{k}" not in drawn
        if f"cage-force-{k}" in drawn:
            # i l x B, from the vectors themselves
            flux_density = at.peak * np.cos(pairs * (angle - at.peak_angle)) * outward
            force = drawn[f"cage-force-{k}"]
            assert unit(force["axis"]) == pytest.approx(unit(np.cross(current * SHAFT, flux_density)), abs=DIRECTION)
            torque += np.linalg.norm(force["axis"]) * most_force * np.sign(np.asarray(force["axis"]) @ onward) * RADIUS
    told = next(reading for reading in page.told("readings") if reading["symbol"] == "T")
    # arrows below 2 % of the longest are not drawn
    assert torque * scene.setup.sense == pytest.approx(
        float(told["value"].replace("\N{MINUS SIGN}", "-")), abs=0.006 + 0.003 * BARS * most_force * RADIUS
    )
    x, y, _ = unit(drawn[f"cage-field-{poles}"]["axis"])
    assert np.exp(1j * pairs * np.angle(x + 1j * y)) == pytest.approx(np.exp(1j * pairs * at.peak_angle), abs=2e-3)
    if "cage-reaction" in drawn:
        x, y, _ = drawn["cage-reaction"]["axis"]
        assert np.exp(1j * pairs * np.angle(x + 1j * y)) == pytest.approx(np.exp(1j * (pairs * at.peak_angle - at.state.lag)), abs=2e-3)
    if "cage-torque" in drawn:
        assert np.cross(drawn["cage-torque"]["pos"], drawn["cage-torque"]["axis"])[2] * at.state.torque > 0
    if "cage-speed" in drawn:  # a curved arrow round the shaft
        assert np.cross(drawn["cage-speed"]["pos"], drawn["cage-speed"]["axis"])[2] * scene.now.moment.rotor_speed > 0
    hand = at.bar.hand(settings["hand"])
    assert f"cage-{settings['hand']}-hand" in drawn
    assert f"cage-{'left' if settings['hand'] == 'right' else 'right'}-hand" not in drawn
    turn = fleming_rotation(settings["hand"], hand.thumb, hand.first_finger, hand.second_finger)
    assert unit(drawn[f"cage-{settings['hand']}-hand"]["up"]) == pytest.approx(turn[:, 1], abs=DIRECTION)


def test_at_synchronous_speed_nothing_is_left_and_past_it_the_push_turns_round(page):
    scene = CageRotor()
    settings = {
        "rotor": "driven",
        "speed": 100.0,
        "hand": "right",
        "broken": "none",
        "poles": "2",
        "lines": "L1-L2-L3",
        "fed": "voltage",
        "field": 0.5,
        "frequency": 50.0,
    }
    drawn = page.stepped(scene, settings, 3)
    assert not [
        name for name in drawn if name.startswith(("cage-mark", "cage-force", "cage-reaction", "cage-torque", "cage-right", "cage-left"))
    ]
    pushes = []
    for speed in (50.0, 150.0):
        page.send(do="set", name="speed", value=speed)
        page.wait_for("speed => window.bench.socket.told.settings.speed === speed", speed)
        page.settle()
        pushes.append(np.sign(page.drawn("cage-torque")["axis"][1]))
    assert pushes == [1, -1]


def test_let_go_it_runs_up_and_the_field_laps_it_by_the_slip(page):
    settings = {
        "rotor": "free",
        "load": 100.0,
        "inertia": 1.0,
        "broken": "none",
        "poles": "2",
        "lines": "L1-L2-L3",
        "fed": "voltage",
        "field": 0.5,
        "frequency": 50.0,
        "slow": "50",
    }
    page.set_up("cage-rotor", settings)
    page.send(do="run", on=True)
    page.wait_for("() => parseFloat(window.bench.socket.told.readings.find(r => r.symbol === 's').value) < 5.3")
    page.send(do="run", on=False)
    page.settle()

    def angles():
        found = [page.drawn(name)["axis"] for name in ("cage-rotor", "cage-field-2")]
        return [np.arctan2(y, x) for x, y, _ in found]

    turned = np.zeros(2)
    before = angles()
    slip = float(next(reading["value"] for reading in page.told("readings") if reading["symbol"] == "s")) / 100
    for _ in range(5):
        page.send(do="step")
        page.settle()
        after = angles()
        turned += np.angle(np.exp(1j * (np.array(after) - before)))
        before = after
    # on a supply of fixed voltage the field's phase still shifts a little while the rotor settles
    assert turned[1] == pytest.approx(-5 / 25 / 50 * 2 * np.pi * 50, abs=3e-3)
    assert (turned[1] - turned[0]) / turned[1] == pytest.approx(slip, abs=0.003)  # what the rotor loses on the field


def test_hidden_answers_take_currents_forces_hands_and_curve_away(page):
    page.set_up("cage-rotor", {"rotor": "held", "hand": "left", "poles": "2"})
    page.send(do="ask", seed=3)
    page.wait_for("() => window.bench.socket.told.question && window.bench.socket.told.plot === null")
    page.settle()
    assert not [
        name
        for name in page.drawn_all()
        if name.startswith(("cage-mark", "cage-force", "cage-reaction", "cage-torque", "cage-left", "cage-right"))
    ]
    assert not page.tab.locator("#plot").is_visible()
    page.send(do="answer", choice=page.told("question")["choices"][0]["value"])
    page.wait_for("() => window.bench.socket.told.plot !== null")
    page.tab.locator("#plot").wait_for(state="visible")

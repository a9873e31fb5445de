"""The alternator in a real browser: wheel, coils, dots and crosses, lamps and hand as physics has them."""

from __future__ import annotations

import random

import numpy as np
import pytest

from physics.directions import emf_direction
from scenes.machines.alternator.scene import AlternatorScene
from scenes.machines.alternator.snapshot import LAMP_POWER, LAMP_RESISTANCE, SHAPE
from scenes.scene.phases import REGIONS
from visual.hand.hands import fleming_rotation

DIRECTION = 2e-4


def unit(vector):
    return np.asarray(vector, float) / np.linalg.norm(vector)


def settings_at_random(seed: int) -> dict:
    dice = random.Random(seed)
    return {
        "coils": "123"[seed % 3],
        "speed": float(dice.choice((-2400, -900, 1500, 3000))),
        "poles": "2468"[seed % 4],
        "field": float(dice.choice((-500, -300, 250, 400))),
        "load": ("lamp", "open")[seed % 2],
        "colours": dice.choice(list(REGIONS)),
        "slow": "50",
    }


@pytest.mark.parametrize("seed", range(3))
def test_the_alternator_is_drawn_as_it_is(page, seed):
    settings = settings_at_random(seed)
    scene = AlternatorScene()
    scene.set_all(settings)
    page.set_up(scene.name, settings)
    for _ in range(3):
        page.send(do="step")
        scene.step(1 / 25 / scene.slowness)
    # a north pole stands where the field of the magnet goes outward most
    around = np.linspace(0, 2 * np.pi, 7201)
    norths = around[scene.now.machine.magnet.flux_density(around, scene.state.angle) > 0.99999 * abs(settings["field"]) / 1000]
    page.wait_for(
        "([wheel, norths]) => { const a = window.stream.drawn(wheel).axis;"
        " return norths.some(n => Math.hypot(a[0] - Math.cos(n), a[1] - Math.sin(n)) < 0.006) }",
        [f"alternator-wheel-{settings['poles']}", norths.tolist()],
    )
    drawn = page.drawn_all()
    assert [name for name in drawn if name.startswith("alternator-wheel")] == [f"alternator-wheel-{settings['poles']}"]
    wound = "UVW"[: int(settings["coils"])]
    region = REGIONS[settings["colours"]]
    assert {name for name in drawn if name.startswith("alternator-coil")} == {
        f"alternator-coil-{settings['poles']}-{phase}" for phase in wound
    }
    for phase, colour in zip(wound, region.colours, strict=False):
        assert drawn[f"alternator-coil-{settings['poles']}-{phase}"]["color"] == pytest.approx(colour, abs=1e-4)
    winding = scene.now.machine.winding
    omega = scene.setup.speed * 2 * np.pi
    for slot, angle in enumerate(winding.slot_angles):
        name = f"alternator-mark-{settings['poles']}-{slot}"
        phase = next(coil.phase for coil in winding.coils if slot in (coil.go, coil.back))
        if phase not in wound:
            assert name not in drawn
            continue
        outward = np.array([np.cos(angle), np.sin(angle), 0])
        field = float(scene.now.machine.magnet.flux_density(angle, scene.state.angle)) * outward
        emf = emf_direction(field, np.cross([0, 0, -omega], outward))  # the wire moves backward past the magnet
        if np.linalg.norm(field) > 0.05 * abs(settings["field"]) / 1000:
            assert unit(drawn[name]["axis"]) == pytest.approx(emf, abs=DIRECTION)  # the dot is at the end that current is driven to
    lamps = {name[-1] for name in drawn if name.startswith("alternator-lamp")}
    assert lamps == (set(wound) if settings["load"] == "lamp" else set())
    hand = page.drawn("alternator-right-hand")
    if hand["visible"]:
        at = scene.now.at_u
        turn = fleming_rotation("right", unit(at.motion), unit(at.field), emf_direction(at.field, at.motion))
        assert unit(hand["up"]) == pytest.approx(turn[:, 1], abs=DIRECTION)
        assert unit(drawn["alternator-field"]["axis"]) == pytest.approx(unit(at.field), abs=DIRECTION)
        assert unit(drawn["alternator-motion"]["axis"]) == pytest.approx(unit(at.motion), abs=DIRECTION)
        assert drawn["alternator-field"]["pos"][2] > SHAPE.half_length


def test_lamps_shine_brighter_with_more_power_and_the_answer_hides_them(page):
    def brightness(speed):
        page.send(do="set", name="speed", value=speed)
        page.wait_for("speed => window.bench.socket.told.settings.speed === speed", speed)
        page.settle()
        return [sum(page.drawn(f"alternator-lamp-{phase}")["color"]) for phase in "UVW"]

    page.set_up("alternator", {"coils": "3", "load": "lamp", "field": 400.0, "poles": "2", "colours": "iec"})
    dark, slow, fast = brightness(0.0), brightness(900.0), brightness(2100.0)
    assert all(a < b < c for a, b, c in zip(dark, slow, fast, strict=False))
    assert AlternatorScene().now.machine.on_lamps(-15.0, LAMP_RESISTANCE).lamp_power[0] < LAMP_POWER
    page.send(do="answers", shown=False)
    page.wait_for("() => !window.stream.drawn('alternator-right-hand').visible")
    page.wait_for("() => !window.stream.drawnNames().some(name => name.startsWith('alternator-mark') && window.stream.drawn(name).visible)")
    page.send(do="answers", shown=True)

"""The terminal box on a star-delta starter worked by hand: leads pressed on and off, what trips, what the settings change."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from scenes.bench.bench import Bench
from scenes.bench.prediction import setup_of
from scenes.drives.terminal_box.scene import TerminalBox
from visual.host.server import Host

POLES = ("Q1-2", "Q1-4", "Q1-6", "Q2-2", "Q2-4", "Q2-6")


@pytest.fixture
def scene():
    made = TerminalBox()
    made.set("by", "starter")
    return made


def leads(scene) -> list[str]:
    return [scene[f"lead-{pole}"] for pole in POLES]


def run(scene, seconds: float) -> None:
    for _ in range(round(seconds / 0.02)):
        scene.step(0.02)


@pytest.mark.parametrize(("supply", "plate"), [("400", "400/690"), ("230", "230/400")])
def test_a_starter_comes_with_a_motor_for_it_where_there_is_one(supply, plate):
    scene = TerminalBox()
    scene.set("supply", supply)
    scene.set("by", "starter")
    assert scene["plate"] == plate and scene.setup.plate.delta_voltage == float(supply)
    scene.set("plate", "230/400" if plate == "400/690" else "400/690")
    run(scene, 0.5)
    assert (scene.now.step == "isolated") == (supply == "400"), "on too high a voltage it is not switched on, on a lower one it is"
    assert "wrong: delta on" in (scene.says() if supply == "400" else scene.readings()[2].formula)


def test_a_lead_is_pressed_onto_a_stud_and_off_it(scene):
    scene.join("Q2-2", "V2")
    assert scene["way"] == "own" and leads(scene) == ["U1", "V1", "W1", "V2", "U2", "V2"]
    assert "wrong: in star" in scene.says() and "locked off" in scene.says()
    scene.join("W2", "Q2-4")
    scene.join("Q2-6", "U2")
    assert leads(scene) == ["U1", "V1", "W1", "V2", "W2", "U2"] and "wrong" not in scene.says()
    scene.join("Q1-2", "U1")
    assert leads(scene)[0] == "off" and "lead L1 is off" in scene.says()


@pytest.mark.parametrize(
    ("first", "second", "says"), [("Q1-2", "Q2-2", "the links are out"), ("U1", "W2", "the links are out"), ("L1", "U1", "not 'L1'")]
)
def test_what_cannot_be_joined_is_said_and_nothing_changes(scene, first, second, says):
    before = dict(scene.settings)
    with pytest.raises(ValueError, match=says):
        scene.join(first, second)
    assert scene.settings == before


@pytest.mark.parametrize("way", ["U1-W2", "U1-V2"])
def test_ones_own_leads_begin_where_they_are(scene, way):
    scene.set("way", way)
    before = scene.setup.leads
    scene.set("way", "own")
    assert scene.setup.leads == before


def test_what_can_be_joined_follows_how_the_windings_are_joined():
    bench = Bench(Host(), "terminal-box")
    bench.receive({"do": "set", "name": "by", "value": "starter"})
    picks = {pick["name"] for pick in bench.host.published["picks"]}
    assert picks == {"U1", "V1", "W1", "U2", "V2", "W2", *POLES}
    bench.receive({"do": "join", "first": "Q2-2", "second": "Q1-2"})
    assert "the links are out" in bench.host.published["notice"]["text"]
    bench.receive({"do": "set", "name": "by", "value": "hand"})
    assert {pick["name"] for pick in bench.host.published["picks"]} == {"U1", "V1", "W1", "U2", "V2", "W2", "L1", "L2", "L3"}


def test_nothing_is_rewired_with_the_supply_on(scene):
    for change in (lambda: scene.join("Q1-2", "U1"), lambda: scene.set("way", "U1-V2"), lambda: scene.set("timer", 1.0)):
        run(scene, 0.3)
        assert scene.now.step in ("star", "isolated")
        change()
        assert scene.now.step == "isolated" and scene.now.speed == 0 and not scene.now.closed


def test_star_and_delta_are_never_closed_together_whatever_the_step(scene):
    for sticks in (False, True):
        for interlock in (False, True):
            scene.set_all({"sticks": sticks, "interlock": interlock, "timer": 0.3, "pause": 30.0})
            seen = []
            for _ in range(120):
                scene.step(0.007)
                assert not {"star contactor", "delta contactor"} <= set(scene.now.closed)
                seen.append(scene.now.step)
            steps = [step for k, step in enumerate(seen) if k == 0 or seen[k - 1] != step]
            assert (
                steps
                == {
                    (False, False): ["isolated", "star", "open", "delta"],
                    (False, True): ["isolated", "star", "open", "delta"],
                    (True, True): ["isolated", "star"],
                    (True, False): ["isolated", "star", "fuse"],
                }[sticks, interlock]
            )
            if seen[-1] == "fuse":
                assert scene.now.line == scene.now.torque == 0 and "short circuit" in scene.says()


def test_the_same_start_in_long_and_in_short_steps(scene):
    scene.set("timer", 0.8)
    peaks = []
    for step in (0.001, 0.013, 0.5):
        scene.restart()
        for _ in range(round(1.3 / step)):
            scene.step(step)
        peaks.append((scene.now.peak_current, scene.now.peak_torque))
    assert peaks[0] == pytest.approx(peaks[1], rel=0.01) and peaks[0] == pytest.approx(peaks[2], rel=0.01)


def test_stalled_in_star_the_relay_trips_by_its_heat_and_all_contactors_open(scene):
    """120 % load is more than the star can start. A strip with 310 s, tripping at 1.15 times the setting (see test_terminal_box); it is
    warm from starts before."""
    scene.set_all({"load": 120.0, "timer": 10.0, "sticks": True})
    warm, time = 1.1, 0.0
    heat, scene.state = warm, replace(scene.state, heat=warm)
    while scene.now.step in ("isolated", "star") and time < 120:
        scene.step(0.1)
        time += 0.1
        heat += ((scene.now.line / 21.2) ** 2 - heat) * 0.1 / 310.0
    assert abs(scene.now.speed) < 0.2 and scene.now.step == "relay" and not scene.now.closed
    assert heat - warm == pytest.approx(1.15**2 - warm, rel=0.03) and scene.now.line == 0


def test_energy_adds_up_over_the_change_over(scene):
    """What is drawn is heat, work on the load, kinetic energy and what the fields hold; at both ends these are steady, and the fields of
    star and of delta differ by no more than a few joules."""
    scene.set_all({"timer": 1.5, "load": 40.0})
    run(scene, 1.5)
    energy = heat = load = 0.0
    before = scene.now
    first = 0.5 * 0.15 * (2 * math.pi * before.speed) ** 2
    step = 4e-4
    for _ in range(3000):
        scene.step(step)
        now = scene.now
        energy += 0.5 * (before.power + now.power) * step
        heat += 0.5 * (before.heat + now.heat) * step
        load += 0.41 * 74.97 * math.pi * abs(before.speed + now.speed) * step
        before = now
    kinetic = 0.5 * 0.15 * (2 * math.pi * before.speed) ** 2 - first
    assert before.step == "delta" and energy > 5000
    assert energy == pytest.approx(heat + load + kinetic, rel=0.003)


def test_questions_have_every_answer(scene):
    answers = set()
    for seed in range(1, 200):
        scene.set_all(setup_of(scene, seed))
        if scene["by"] == "starter":
            question = scene.question()
            assert question.answer in dict(question.choices) and len(dict(question.choices)) == len(question.choices) >= 4
            answers.add((scene["asked-starter"], question.answer))
    assert answers >= {("closed", each) for each in ("main-delta", "main-star", "none")}
    assert answers >= {("way", each) for each in ("U1-V2", "none")}
    assert {answer for asked, answer in answers if asked == "peak"} >= {"higher", "lower", "none"}


def test_early_and_late_differ_in_how_long_the_current_lasts(scene):
    """The time for which a line carries more than three times its rated current in delta."""
    lasts = {}
    for timer in (0.3, 2.0):
        scene.set_all({"timer": timer, "load": 50.0})
        scene.restart()
        run(scene, 0.04 + timer + 0.05)
        lasts[timer] = 0.0
        for _ in range(300):
            scene.step(0.002)
            lasts[timer] += 0.002 * (scene.now.line > 3 * 21.2)
    assert lasts[0.3] > 3 * lasts[2.0] > 0

"""The terminal box worked by hand, and what trips and burns: followed in small steps by the test's own sums."""

from __future__ import annotations

import math
import random

import numpy as np
import pytest

from scenes.bench.bench import Bench
from scenes.bench.prediction import setup_of
from scenes.drives.terminal_box.board import PAIRS, USUAL
from scenes.drives.terminal_box.scene import TerminalBox
from visual.host.server import Host

STUDS = ("W2", "U2", "V2", "U1", "V1", "W1")


@pytest.fixture
def scene():
    return TerminalBox()


def links(scene) -> set[str]:
    return {scene[f"link-{k}"] for k in (1, 2, 3)} - {"off"}


def leads(scene) -> list[str]:
    return [scene[f"lead-L{k}"] for k in (1, 2, 3)]


def test_two_studs_are_joined_by_pressing_them_and_taken_apart_by_pressing_them_again(scene):
    scene.join("U2", "V2")
    assert scene["joined"] == "own" and links(scene) == {"W2-U2"} and leads(scene) == ["U1", "V1", "W1"]
    scene.join("W1", "V2")
    scene.join("V2", "U2")
    assert links(scene) == {"W2-U2", "W1-V2", "U2-V2"}
    before = dict(scene.settings)
    with pytest.raises(ValueError, match="All three links are on the board"):
        scene.join("U1", "V1")
    assert scene.settings == before
    scene.join("V2", "W1")
    assert links(scene) == {"W2-U2", "U2-V2"}


def test_a_lead_goes_on_a_stud_and_comes_off_it(scene):
    scene.join("L3", "V2")
    assert leads(scene) == ["U1", "V1", "V2"]
    scene.join("V2", "L3")
    assert leads(scene) == ["U1", "V1", "off"]
    scene.join("U1", "L3")
    assert leads(scene) == ["U1", "V1", "U1"] and "short circuit" in scene.says()


@pytest.mark.parametrize(
    ("first", "second", "says"), [("L1", "L2", "A lead goes on a stud"), ("U1", "U1", "from one stud"), ("U1", "X9", "not 'X9'")]
)
def test_what_cannot_be_joined_is_said_and_nothing_changes(scene, first, second, says):
    before = dict(scene.settings)
    with pytest.raises(ValueError, match=says):
        scene.join(first, second)
    assert scene.settings == before


def test_any_two_studs_can_be_joined_and_every_pair_is_a_choice(scene):
    for k, first in enumerate(STUDS):
        for second in STUDS[k + 1 :]:
            scene.set_all({"joined": "own", "link-1": "off", "link-2": "off", "link-3": "off"})
            scene.join(second, first)
            assert {frozenset(link.split("-")) for link in links(scene)} == {frozenset((first, second))}
    assert len(PAIRS) == 15


@pytest.mark.parametrize("name", USUAL)
def test_ones_own_joining_begins_with_what_is_on_the_board(scene, name):
    scene.set("joined", name)
    before = scene.setup.joining
    scene.set("joined", "own")
    assert scene.setup.joining == before
    scene.set_all({"joined": "star", "link-1": "U1-U2"})
    scene.set_all({"joined": "own"})
    assert scene["link-1"] == "U1-U2", "several together, as an address gives them, are taken as they are"


def test_nothing_is_joined_anew_with_the_supply_on(scene):
    for change in (lambda: scene.join("L1", "U2"), lambda: scene.set("joined", "delta"), lambda: scene.set("supply", "230")):
        for _ in range(20):
            scene.step(0.05)
        assert scene.now.state != "isolated"
        change()
        assert scene.now.state == "isolated" and scene.now.running is None and scene.now.speed == 0
        assert "main switch is open" in scene.says()


def test_pages_join_and_are_told_what_cannot_be(scene):
    bench = Bench(Host(), "terminal-box")
    picks = {pick["name"] for pick in bench.host.published["picks"]}
    assert picks == {*STUDS, "L1", "L2", "L3"}
    bench.receive({"do": "join", "first": "U2", "second": "V2"})
    assert bench.host.published["settings"]["joined"] == "own" and not bench.host.published.get("notice", {}).get("text")
    bench.receive({"do": "join", "first": "L1", "second": "L2"})
    assert "A lead goes on a stud" in bench.host.published["notice"]["text"]
    bench.receive({"do": "scene", "name": "two-wires"})
    bench.receive({"do": "join", "first": "U2", "second": "V2"})
    assert "nothing to join" in bench.host.published["notice"]["text"] and bench.host.published["picks"] == []


def followed(scene, seconds: float, step: float = 0.01):
    """Largest line current, A, and winding currents, A, at each step from switching on, before anything trips."""
    case, lines, windings = scene.setup.case, [], []
    times, speeds, _ = case.run_up
    for time in np.arange(0, seconds, step):
        running = case.running(float(np.interp(time, times, speeds)) / case.synchronous) if time < times[-1] else case.settled
        lines.append(np.abs(running.line_currents))
        windings.append(np.abs(running.currents))
    return np.array(lines), np.array(windings)


@pytest.mark.parametrize(
    ("settings", "load"),
    [({"joined": "delta"}, 50), ({"joined": "star", "plate": "400/690"}, 100), ({"joined": "lead-off"}, 0), ({"joined": "star"}, 250)],
)
def test_it_trips_and_burns_when_the_sums_of_its_current_say(scene, settings, load):
    """Relay: a strip that warms with I^2 over the square of its setting and cools with 310 s, tripping at 1.15 or, a phase lost, 1.05
    times; copper: rho(T) J^2 against 3.45e6 J/(K m3) from 40 to 155 degrees, 6 A/mm2 at the rated current."""
    scene.set_all(settings | {"load": float(load)})
    case, step = scene.setup.case, 0.01
    assert math.isfinite(case.off_after) and math.isfinite(min(case.hot_after))
    lines, windings = followed(scene, 1.3 * max(case.relay_after if math.isfinite(case.relay_after) else 0, min(case.hot_after)), step)
    setting = {"230/400": 21.2, "400/690": 21.2}[scene["plate"]]  # 400 V fits the first in star, the second in delta
    heat, tripped = 0.0, math.inf
    for k, here in enumerate(lines):
        limit = (1.05 if here.min() < 0.5 * here.max() else 1.15) ** 2
        if heat >= limit:
            tripped = k * step
            break
        heat += ((here.max() / setting) ** 2 - heat) * step / 310.0
    assert case.relay_after == pytest.approx(tripped, rel=0.02)
    rated = {"230/400": 21.2, "400/690": 21.2 * 400 / 690}[scene["plate"]]
    temperatures = np.full(3, 40.0)
    for k, here in enumerate(windings):
        temperatures += (6e6 * here / rated) ** 2 * 17.241e-9 * (234.5 + temperatures) / 254.5 / 3.45e6 * step
        if temperatures.max() >= 155:
            assert min(case.hot_after) == pytest.approx(k * step, rel=0.02)
            break
    else:
        pytest.fail("no winding becomes hot")


def test_once_tripped_it_coasts_to_rest_and_nothing_flows(scene):
    scene.set("joined", "delta")
    case = scene.setup.case
    speeds = []
    scene.step(0.04 + case.off_after - 0.01)
    assert scene.now.state == "on" and abs(scene.now.speed) > 20
    for _ in range(40):
        scene.step(0.02)
        speeds.append(scene.now.speed)
        assert scene.now.state == case.trips == "relay" and scene.now.running is None and scene.now.times == 0
    assert all(abs(b) <= abs(a) for a, b in zip(speeds, speeds[1:], strict=False)) and speeds[-1] == 0
    # friction of load and bearings, 51 % of 75 N m, on 0.15 kg m2
    assert (speeds[0] - speeds[1]) * 2 * math.pi / 0.02 == pytest.approx(-0.51 * 74.97 / 0.15, rel=0.01)


def test_questions_have_every_answer_and_are_the_same_for_the_same_seed(scene):
    answers = set()
    for seed in range(1, 200):
        scene.set_all(setup_of(scene, seed))
        question = scene.question()
        assert question.answer in dict(question.choices) and len(dict(question.choices)) == len(question.choices) >= 3
        answers.add((scene["asked"], question.answer if scene["asked"] != "voltage" else "volts"))
        if (scene["asked"], question.answer) in (("turns", "clockwise"), ("turns", "counter-clockwise")):
            # three windings, each on the voltage it is made for: star on the plate's higher voltage, delta on its lower one
            made_for = scene["plate"].split("/")[1 if scene["link-1"] == "W2-U2" else 0]
            assert made_for == scene["supply"] and scene["reversed"] == "none", "nobody is asked how a motor turns that burns"
            assert "must not" not in question.reason
    assert answers >= {("turns", each) for each in ("clockwise", "counter-clockwise", "none")}
    assert answers >= {("joining", each) for each in ("star", "delta", "neither")}
    assert answers >= {("trips", each) for each in ("runs", "relay", "fuse")} and ("voltage", "volts") in answers


def test_a_picture_takes_little_time(scene):
    """So that a change of the joining does not hold the page: measured, with much to spare for a busy machine."""
    import time

    dice = random.Random(3)
    spent = []
    for _ in range(6):
        scene.set_all({"joined": dice.choice(list(USUAL)), "load": float(dice.randint(0, 60) * 5)})
        start = time.process_time()
        scene.step(0.5)
        scene.readings()
        scene.says()
        spent.append(time.process_time() - start)
    assert sorted(spent)[2] < 1.0

"""The sentence for who does not see the picture: true of set-ups drawn at random, and silent while the answer is hidden.

What a sentence says is read back into directions, and these are held against cross products worked out here. That lines
joined in their order turn a field clockwise seen from the drive end is IEC 60034-8.
"""

from __future__ import annotations

import contextlib
import random
import re
from functools import cache

import numpy as np
import pytest

from physics.shaft.loads import REST_SPEED
from scenes import catalogue
from scenes.bench.bench import Bench
from tests.oracle import seen
from visual.host.server import Host

AXES = {
    "to the right": (1, 0, 0),
    "to the left": (-1, 0, 0),
    "up": (0, 1, 0),
    "down": (0, -1, 0),
    "toward you": (0, 0, 1),
    "away from you": (0, 0, -1),
}
SENSES = {"counter-clockwise": 1.0, "clockwise": -1.0}
SEEDS = range(12)


def direction(words: str) -> np.ndarray:
    """What words such as "up and to the left" mean."""
    return np.sum([AXES[part] for part in words.split(" and ")], axis=0)


@cache
def set_up(name: str, seed: int):
    """The scene with settings and an eye drawn at random, moved on a little; what is asked of it changes nothing."""
    dice = random.Random(f"{name} {seed}")
    scene = catalogue.scene_class(name)()
    with contextlib.suppress(ValueError):  # a nameplate that contradicts itself is told, and stands
        scene.set_all({control.name: random_value(control, dice) for control in scene.controls})
    scene.look(dice.choice(scene.views).name)
    scene.restart()
    for _ in range(dice.randrange(30)):
        scene.step(0.033 / scene.slowness)
    return scene


def random_value(control, dice):
    if control.kind == "number":
        return control.low + control.step * dice.randint(0, round((control.high - control.low) / control.step))
    return dice.choice(control.choices)[0] if control.kind == "choice" else dice.random() < 0.5


def in_order(scene) -> bool:
    """Whether L1, L2, L3 come to U, V, W in their order, whichever is the first."""
    return scene["lines"] in ("L1-L2-L3", "L2-L3-L1", "L3-L1-L2")


def seen_from_drive_end(scene, words: str) -> float:
    """+1 for counter-clockwise from the drive end, of what is said to turn so from where one looks."""
    return SENSES[words] * (1.0 if scene.eye.forward[2] < 0 else -1.0)


def end_is_the_one_looked_from(scene, said: str) -> bool:
    return ("the drive end" in said) == (scene.eye.forward[2] < 0)


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("name", catalogue.NAMES)
def test_it_is_one_or_two_whole_sentences_of_this_moment(name, seed):
    scene = set_up(name, seed)
    said = scene.says()
    assert said == scene.says() and said[0].isupper() and said.endswith(".")
    assert not re.search(r"\b(nan|inf|None|nowhere)\b|(turns|rotor|pushed|flows) none|\de[+-]?\d|  |\d\.\d{4}", said), said
    assert len(said) <= 250 and len(re.findall(r"\.( |$)", said)) <= 2, said


@pytest.mark.parametrize("seed", SEEDS)
def test_round_a_wire_the_right_hand_grips(seed):
    scene = set_up("field-round-a-wire", seed)
    said = scene.says()
    if not scene["switch"] or scene["current"] == 0:
        assert "No current flows" in said
        return
    amperes, flows, sense = re.search(r"current of ([\d.]+) A flows (.+) through the table; seen from above .* wire (\S+)\.", said).groups()
    assert float(amperes) == pytest.approx(abs(scene["current"]), rel=0.005)
    assert flows == seen((0, scene["current"], 0), scene.eye.forward, scene.eye.up)
    east = np.array([1.0, 0.0, 0.0])
    field = np.cross([0.0, scene["current"], 0.0], east)  # of the wire, to the east of it
    assert np.cross(east, field)[1] * SENSES[sense] > 0


@pytest.mark.parametrize("seed", SEEDS)
def test_wires_push_as_each_is_pushed_in_the_others_field(seed):
    scene = set_up("two-wires", seed)
    said = scene.says()
    left, right = (scene.setup.currents[wire] for wire in ("left", "right"))
    # the field of the right wire at the left one goes along current x offset
    push = np.cross([0, 0, left], np.cross([0, 0, right], [-1, 0, 0]))[0]
    assert ("attract" in said, "repel" in said) == (push > 0, push < 0), said


@pytest.mark.parametrize("seed", SEEDS)
def test_the_armature_turns_as_said(seed):
    scene = set_up("coils-and-commutator", seed)
    said = scene.says()
    turning = re.search(r"turns (\S+), looking at (.+?), at (\d+) r/min", said)
    if not turning:
        assert "is at standstill" in said and abs(scene.state.speed) < 1e-6
        return
    assert seen_from_drive_end(scene, turning[1]) * scene.state.speed > 0 and end_is_the_one_looked_from(scene, said)
    if scene["mode"] == "hand":
        assert seen_from_drive_end(scene, turning[1]) * scene["crank"] < 0  # the crank's positive is clockwise
        assert int(turning[3]) == pytest.approx(abs(scene["crank"]), abs=0.51)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_alternator_makes_the_frequency_of_its_speed_and_poles(seed):
    scene = set_up("alternator", seed)
    said = scene.says()
    if not scene["speed"] or not scene["field"]:
        assert "nothing" in said and "generated" in said
        return
    poles, sense, volts, hertz, phases = re.search(
        r"of (\d+) poles turns (\S+) and makes ([\d.]+) V at ([\d.]+) Hz in (.+)\.", said
    ).groups()
    assert seen_from_drive_end(scene, sense) * scene["speed"] < 0 and end_is_the_one_looked_from(scene, said)
    assert float(hertz) == pytest.approx(abs(scene["speed"]) / 60 * int(poles) / 2, rel=1e-3)
    assert len(phases.split(", ")) == int(scene["coils"])
    emfs = [scene.now.machine.emfs(angle, scene.setup.speed)[0] for angle in np.linspace(0, 2 * np.pi, 721)]
    assert float(volts) == pytest.approx(np.sqrt(np.mean(np.square(emfs[:-1]))), abs=0.06)


def turns_in_a_period(scene) -> float:
    """By how much the field goes round, electrical rad, counter-clockwise from the drive end: out of the MMF itself."""
    around = np.arange(720) * 2 * np.pi / 720
    phases = np.linspace(0, 2 * np.pi, 73)
    setup = scene.setup
    waves = [
        np.sum(setup.winding.mmf(around, np.real(np.sqrt(2) * setup.phasors * np.exp(1j * t))) * np.exp(-1j * setup.poles / 2 * around))
        for t in phases
    ]
    return -float(np.sum(np.angle(np.array(waves[1:]) / np.array(waves[:-1]))))


@pytest.mark.parametrize("seed", SEEDS)
def test_the_field_turns_as_its_mmf_does(seed):
    scene = set_up("turning-field", seed)
    said = scene.says()
    if "does not rotate" in said:
        assert scene.now.rotation == 0 and scene["lost"] != "none"
        return
    sense, poles = re.search(r"field rotates ([\w-]+).*it has (\d) poles", said).groups()
    assert int(poles) == int(scene["poles"]) and end_is_the_one_looked_from(scene, said)
    assert seen_from_drive_end(scene, sense) * turns_in_a_period(scene) > 0
    if scene["reversed"] == "none":
        assert seen_from_drive_end(scene, sense) == (-1.0 if in_order(scene) else 1.0)
        assert "unevenly" not in said


@pytest.mark.parametrize("seed", SEEDS)
def test_the_cage_is_pushed_as_its_bars_are(seed):
    scene = set_up("cage-rotor", seed)
    said = scene.says()
    field, rotor, pushed, more = re.fullmatch(r"The field (.+) and the rotor (.+), seen from .+?; ([^.]+)\.( .+\.)?", said).groups()
    assert end_is_the_one_looked_from(scene, said)
    if scene["rotor"] == "proof":
        assert field == "stands"
    else:
        assert seen_from_drive_end(scene, field.removeprefix("turns ")) == (-1.0 if in_order(scene) else 1.0)
    speed = scene.now.moment.rotor_speed
    if rotor != "stands":
        assert seen_from_drive_end(scene, rotor.removeprefix("turns ")) * speed > 0
    elif scene["rotor"] != "free":
        assert speed == 0
    forces = float(np.sum(scene.now.state.force))
    if pushed.startswith("its bars"):
        assert seen_from_drive_end(scene, pushed.removeprefix("its bars are pushed ")) * forces > 0
    held = scene["fed"] == "field" or scene["rotor"] == "proof"
    assert ("it stalls" in (more or "")) or ("The field is held" in (more or "")) == held


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("name", ["slip-and-speed", "changing-speed"])
def test_field_and_rotor_turn_as_fast_as_said(name, seed):
    scene = set_up(name, seed)
    said = scene.says()
    assert end_is_the_one_looked_from(scene, said)
    motor = scene.setup.motor.circuit if name == "slip-and-speed" else scene.setup.circuit
    sense, rpm = re.search(r"field (?:turns|rotates) (\S+) at (\d+) r/min", said).groups()
    assert int(rpm) == pytest.approx(120 * motor.frequency / motor.poles, abs=0.51)
    turning = re.search(r"rotor (?:turns )?([\w-]+) at (\d+) r/min", said)
    speed = scene.setup.sense * scene.now.speed if name == "slip-and-speed" else scene.state.moment.speed
    swapped = name == "changing-speed" and (scene["method"], scene["tapped"], scene["leads"]) == ("one-tapped-winding", "4", "exchanged")
    assert seen_from_drive_end(scene, sense) == (-1.0 if in_order(scene) != swapped else 1.0)
    if turning:
        assert seen_from_drive_end(scene, turning[1]) * speed > 0
        assert int(turning[2]) == pytest.approx(60 * abs(speed), abs=0.51)
    else:
        assert ("rotor stands" in said or "rotor is at standstill" in said) and abs(speed) < 0.01


@pytest.mark.parametrize("seed", SEEDS)
def test_the_start_is_told_as_its_curve_ends(seed):
    scene = set_up("starting", seed)
    said = scene.says()
    speeds = 60 * scene.now.start.run_up.speed
    settles = re.search(r"(?:runs up to|crawls at) (\d+) r/min", said)
    if settles:
        assert int(settles[1]) == pytest.approx(speeds[-1], abs=16)  # the curve ends where 1 % of 1500 r/min is left
    else:
        assert "stays at rest" in said and np.abs(speeds).max() < 60 * REST_SPEED, said  # its friction creeps, see loads.py


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_it_does_not_tell_what_is_hidden(name):
    host = Host()
    bench = Bench(host, name)
    for seed in (1, 2, 3):
        bench.receive({"do": "ask", "seed": seed})
        assert host.published["says"] == "The answer is hidden until the question is answered."
        bench.receive({"do": "enough"})
        assert host.published["says"] == bench.scene.says()
        bench.receive({"do": "answers", "shown": False})
        assert host.published["says"] == "The answer arrows are hidden."
        bench.receive({"do": "answers", "shown": True})
        assert host.published["says"] == bench.scene.says()


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_it_follows_what_is_reversed(name):
    bench = Bench(Host(), name)
    for role in {control.role for control in bench.scene.controls if control.role}:
        before = bench.host.published["says"]
        bench.receive({"do": "reverse", "what": role})
        assert bench.host.published["says"] == bench.scene.says()
        bench.receive({"do": "reverse", "what": role})
        assert bench.host.published["says"] == before

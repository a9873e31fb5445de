"""The instruments against what they must show: own nodes and admittances, own order of work, own table of which figures mean what.

U-V-W on L1-L2-L3 turns clockwise seen from the drive end (IEC 60034-8); the order of work is common practice.
"""

from __future__ import annotations

import itertools
import math
import random
import re
from dataclasses import replace

import numpy as np
import pytest

from scenes.scene.state import as_data, reached
from tests.oracle import in_a_loop, loose_ends
from tests.physics.measuring.by_nodes import LINES, LINKS, SCALE, Bench, benches
from tests.scenes.oracle.states import reading, states

POINTS = {"clamp": 1, "voltmeter": 2, "ohmmeter": 2, "insulation": 2, "rotation": 3}
NAMES = {
    "clamp": "clamp meter", "voltmeter": "voltmeter", "ohmmeter": "ohmmeter", "insulation": "insulation tester",
    "rotation": "phase-rotation indicator",
}  # fmt: skip
KIND = re.compile(r"lost-running|[a-z]+")
ANSWERS = {"lost-running": "lost"}
OHMS = {"V": 1.0, "A": 1.0, "Ω": 1.0, "kΩ": 1e3, "MΩ": 1e6}
PROVING = [("U1", "V1"), ("V1", "W1"), ("W1", "U1"), ("U1", "PE"), ("V1", "PE"), ("W1", "PE")]


class Meant:
    """What is set, in the terms of the test's own nodes."""

    def __init__(self, settings: dict, scene):
        self.settings = settings
        # which fault a number draws is the program's own affair
        name = scene.setup.fault.name if settings["fault"] == "hidden" else settings["fault"]
        wrong = dict(benches(settings["joined"]))[name]
        self.kind = KIND.match(name)[0]
        work = settings["work"]
        self.on, self.sticks = work == "on", settings["sticks"]
        self.bench = Bench(
            settings["joined"], **wrong, links=settings["links"], leads=settings["leads"], closed=(self.on or self.sticks, self.on, self.on)
        )
        count = POINTS[settings["instrument"]]
        self.points = [settings[name] for name in ("first", "second", "third")][:count]

    @property
    def laid(self) -> bool:
        name, points = self.settings["instrument"], self.points
        if name == "clamp":
            return points[0] in LINES
        return "off" not in points and len(set(points)) == len(points) and not (name == "rotation" and {"K1", "K2", "PE"} & set(points))

    def found_live(self) -> bool:
        """Whether a stuck pole puts voltage on a stud, its lead on: not where its line is lost."""
        bench = replace(self.bench, links=True, leads=True, closed=(True, False, False), parts=[], kept={})
        return any(bench.shown(1.0, *pair) > 12 for pair in PROVING)

    def forbidden(self) -> str:
        """What must be said in place of a figure, "" where it may be shown: by the order of work alone."""
        if self.settings["instrument"] not in ("ohmmeter", "insulation"):
            return ""
        work = self.settings["work"]
        if work != "proved":
            return {"on": "live board", "off": "lock off", "locked": "Not proved dead"}[work]
        if self.sticks and self.found_live():
            return "Not dead"
        if set(self.points) & set(LINES):
            return "stay live"
        if set(self.points) & {"K1", "K2"}:
            return "proving unit"
        return "leads off" if self.settings["instrument"] == "insulation" and self.settings["leads"] else ""

    def figure(self, slip: float) -> float:
        """What the instrument must show, in V, A or ohm; of the phase order 1, -1 or 0."""
        name, bench, points = self.settings["instrument"], self.bench, self.points
        if name == "clamp":
            return abs(bench.live(slip)[1][LINES.index(points[0])]) if self.on and bench.leads else 0.0
        if name == "voltmeter":
            if {"K1", "K2"} & set(points):
                return 230.0 if {"K1", "K2"} == set(points) else 0.0
            return bench.shown(slip, *points)
        if name in ("ohmmeter", "insulation"):
            return bench.ohms(*points)
        volts = bench.live(slip)[0] | bench.volts()
        three = [volts[point] for point in points]
        if min(abs(a - b) for a, b in itertools.combinations(three, 2)) < 100:
            return 0
        # turned by a third forward and back: the order that is the stronger by three
        sizes = [abs(sum(v * np.exp(1j * sign * 2 * math.pi * k / 3) for k, v in enumerate(three))) for sign in (1, -1)]
        return 0 if max(sizes) < 3 * min(sizes) else 1 if sizes[0] > sizes[1] else -1


def check_figure(data: dict, meant: Meant, slip: float) -> None:
    shown = data["readings"][0]
    name = meant.settings["instrument"]
    assert NAMES[name] in shown["words"] and f"The {NAMES[name]}" in data["says"] or shown["value"] == "nothing"
    why = meant.forbidden() if meant.laid else ""
    if why or not meant.laid:
        assert shown["value"] == "nothing" and shown["unit"] == ""
        assert why in data["says"] and (why or "is not laid on" in data["says"])
        assert not any(each["text"].strip("0123456789.>") == "" for each in data["letters"] if each["text"])
        return
    expected = meant.figure(slip)
    if name == "rotation":
        word = {1: "clockwise", -1: "counter-clockwise", 0: "no rotation"}[expected]
        assert shown["value"] == word and word in [each["text"] for each in data["letters"]]
        return
    value = shown["value"]
    if isinstance(value, str):
        assert value in ("> 20", "> 999") and expected > float(value[2:]) * 1e6
    else:
        decimals = {"V": 0.051, "A": 0.051, "Ω": 0.00051, "kΩ": 0.0051, "MΩ": 0.51 if value > 99 else 0.051 if value > 0.999 else 0.00051}
        assert value * OHMS[shown["unit"]] == pytest.approx(expected, rel=2e-4, abs=decimals[shown["unit"]] * OHMS[shown["unit"]])
    told = [each["text"].replace(" ", "") for each in data["letters"]]
    assert shown["unit"] in told, "the unit stands on the display"
    assert any(re.fullmatch(r">?[\d.]+", each) and math.isclose(float(each.strip(">")), float(str(value).strip("> "))) for each in told), (
        shown,
        told,
    )


def check_picture(data: dict, meant: Meant) -> None:
    """Links, leads, probes and lock as set; no loose ends."""
    settings = meant.settings
    drawn = [(lead["from"], lead["to"]) for lead in data["leads"] if not lead["through"]]
    links = {tuple(sorted((a[6:], b[6:]))) for a, b in drawn if a.startswith("motor ") and b.startswith("motor ")}
    assert links == ({tuple(sorted(pair)) for pair in LINKS[settings["joined"]]} if settings["links"] else set())
    leads = {b[6:] for a, b in drawn if a.startswith("fuses") and b.startswith("motor ")}
    assert leads == ({"U1", "V1", "W1"} if settings["leads"] else set())
    ends = [b for a, b in drawn if a.startswith(NAMES[settings["instrument"]])]
    if settings["instrument"] == "clamp":
        assert ends == ([f"jaw round {settings['first']}"] if meant.laid and settings["leads"] else [])
    else:
        of = {**dict.fromkeys(("K1", "K2"), "proving unit "), **dict.fromkeys(LINES, "supply ")}
        assert ends == ([of.get(point, "motor ") + point for point in meant.points] if meant.laid else [])
    assert any(mark["words"] == "isolator locked" for mark in data["marks"]) == (settings["work"] in ("locked", "proved"))
    closed = [lead["through"] for lead in data["leads"]].count("isolator")
    assert closed == (3 if meant.on else 1 if meant.sticks else 0)
    allowed = ("isolator", "fuses", "jaw", "clamp meter", "motor", "proving unit", "supply")
    assert not [end for end in loose_ends(data["leads"]) if not end.startswith(allowed)]
    if meant.on and settings["links"] and settings["leads"]:
        assert in_a_loop(data["leads"], "winding V") and in_a_loop(data["leads"], "mains")


def check_motion(data: dict, scene, meant: Meant) -> float:
    """Speed and direction as told; where it turns its torque is the load's. Returns the slip."""
    speed = -scene.now.speed / 25.0  # clockwise positive
    rpm = next(each for each in data["readings"] if each["symbol"] == "n")
    assert rpm["value"] == pytest.approx(abs(speed) * 1500, abs=0.51)
    said = rpm["formula"].split(",")[0]
    assert said == ("at standstill" if rpm["value"] < 1e-6 else "clockwise" if speed > 0 else "counter-clockwise")
    if not meant.on:
        assert speed == 0
        return 1.0
    torque, load = meant.bench.live(1 - speed)[2], (1.51 if meant.kind == "overload" else 0.71) * 74.97
    assert abs(torque) <= load * 1.02
    if abs(speed) > 1e-6:
        assert torque == pytest.approx(math.copysign(load, speed), rel=0.02)
        assert f"turns {said}" in data["says"]
    return 1 - speed


def check_question(data: dict, meant: Meant) -> None:
    question = data["question"]
    answer = ANSWERS.get(meant.kind, meant.kind)
    assert question["answer"] == answer
    if meant.settings["asked"] == "sheet":
        assert named_from(question["text"]) == answer, question["text"]
        assert "Nothing else that is asked about" in question["reason"]


def named_from(text: str) -> str:
    """The fault that a test sheet's figures mean, by a fitter's rules (common practice), not by comparison with any program."""
    parts = re.search(
        r"in (star|delta), ([\d.]+) A on its plate, ([\d.]+) Ω.*carry (.*?); between .*?there are (.*?); between .*?W1-U1 (.*?)\. Dead"
        r".*?on (.*?); windings U, V, W by themselves (.*?); and to earth (.*?)\. Which",
        text,
    )
    joined, plate, winding = parts[1], float(parts[2]), float(parts[3])

    def figures(group: int) -> list[float]:
        made = []
        for each in parts[group].split(", "):
            number, unit = re.fullmatch(r">? ?([\d.]+) (\S+)", each).groups()
            made.append(float(number) * OHMS[unit])
        return made

    amperes, supply, at_studs, linked, apart, earth = (figures(group) for group in range(4, 10))
    if min(earth) < 1e6:
        return "earth"
    if max(apart) > 1e3:
        return "open"
    if min(apart) < 0.95 * winding:
        return "shorted"
    sound = {"star": 2.0, "delta": 2 / 3}[joined] * winding
    if max(linked) > 1.03 * sound:
        return "loose"
    if max(supply) - min(supply) > 5:
        return "uneven"
    if min(amperes) < 0.1 or max(at_studs) - min(at_studs) > 20:
        return "lost"
    if max(amperes) - min(amperes) > 5:
        return "reversed"
    return "overload" if min(amperes) > 1.1 * plate else "sound"


def test_every_state_is_as_the_order_of_work_and_the_nodes_have_it():
    kinds, answered, refused = set(), set(), set()
    for scene, data in states("instruments", 1.0, fixed=("slow",)):
        meant = Meant(data["settings"], scene)
        check_picture(data, meant)
        slip = check_motion(data, scene, meant)
        check_figure(data, meant, slip)
        check_question(data, meant)
        kinds.add(meant.kind)
        (answered if data["readings"][0]["value"] != "nothing" else refused).add(meant.settings["instrument"])
    assert len(kinds) > 7 and answered >= {"clamp", "voltmeter"} and refused >= {"ohmmeter", "insulation"}


@pytest.mark.parametrize("joined", ["star", "delta"])
def test_every_fault_on_every_instrument_and_a_few_pairs_and_named_by_a_fitters_rules(joined):
    """Every fault and place; for each instrument some pairs drawn at random, in a condition in which it may be laid on."""
    scene = next(iter(states("instruments", 0.0, count=1)))[0]
    plain = {control.name: control.default for control in scene.controls} | {"joined": joined, "asked": "sheet"}
    dice = random.Random(joined)
    for name, _ in benches(joined):
        for instrument in POINTS:
            dead = instrument in ("ohmmeter", "insulation")
            points = ("U1", "U2", "V1", "V2", "W1", "W2", "PE") if dead else ("U1", "V1", "W1", "U2", "L1", "L2", "PE")
            first, second = dice.sample(points, 2) if instrument not in ("clamp", "rotation") else ("L2", "L3")
            conditions = {"work": "proved", "leads": instrument == "ohmmeter", "links": dice.random() < 0.5} if dead else {"work": "on"}
            setting = {"fault": name, "instrument": instrument, "first": first, "second": second, "third": "L1"}
            scene.set_all(plain | setting | conditions)
            data = as_data(reached(scene, 0.0, "front"), 0.0)
            meant = Meant(data["settings"], scene)
            assert meant.laid and not meant.forbidden()
            check_picture(data, meant)
            check_figure(data, meant, check_motion(data, scene, meant))
        check_question(data, meant)


def test_proving_dead_finds_what_the_nodes_have():
    """With a stuck pole every stud is live to earth, none to another; and the sentence says it."""
    scene = next(iter(states("instruments", 0.0, count=1)))[0]
    plain = {control.name: control.default for control in scene.controls}
    for joined, sticks in itertools.product(("star", "delta"), (False, True)):
        for first, second in PROVING:
            scene.set_all(
                plain | {"joined": joined, "sticks": sticks, "work": "locked", "instrument": "voltmeter", "first": first, "second": second}
            )
            data = as_data(reached(scene, 0.0, "front"), 0.0)
            live = sticks and second == "PE"
            assert reading(data, "U") == pytest.approx(400 / math.sqrt(3) if live else 0, abs=0.06)
    assert SCALE["star"] == 1.0

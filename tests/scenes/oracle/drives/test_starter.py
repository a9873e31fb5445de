"""The terminal box on a star-delta starter against own nodes, own coils, own list of who may be closed when.

Main and star first, star opens before delta closes, main and delta to run; star and delta never together (usual wiring, IEC 60947-4-1,
memory). U, V, W on L1, L2, L3 turn clockwise seen from the drive end (IEC 60034-8).
"""

from __future__ import annotations

import math
import random
import re

import numpy as np
import pytest

from physics.induction import EquivalentCircuit
from scenes import catalogue
from scenes.scene.state import as_data, reached
from tests.oracle import in_a_loop, loose_ends
from tests.physics.starting.test_changeover import DELTAS, NineCoils, closed, started
from tests.scenes.oracle.states import COUNT, drawn, reading

STUDS = [phase + end for phase in "UVW" for end in "12"]
WAYS = {"U1-W2": ("W2", "U2", "V2"), "U1-V2": ("V2", "W2", "U2")}
POLES = [f"lead-{contactor}-{pole}" for contactor in ("Q1", "Q2") for pole in "246"]
OPEN_AT_FIRST = 0.04  # s: the isolator
TORQUE, INERTIA, BEARINGS = 74.97, 0.15, 0.01
PLATES = {"230/400": 230.0, "400/690": 400.0}  # V of a winding
STEP = {"isolator open": (), "in star": ("main", "star"), "star and delta both open": ("main",), "in delta": ("main", "delta")}


@pytest.fixture(scope="module")
def scene():
    return catalogue.scene_class("terminal-box")()


def put(scene, settings: dict, seconds: float, view: str = "front") -> dict:
    plain = {control.name: control.default for control in scene.controls}
    scene.set_all(plain | {"by": "starter", "plate": "400/690", "slow": "1"} | settings)
    return as_data(reached(scene, seconds, view), seconds)


def told(data: dict, words: str) -> dict:
    return next(each for each in data["readings"] if each["words"].startswith(words))


class Leads:
    """The six leads of a state's settings, by own nodes."""

    def __init__(self, settings: dict):
        own = settings["way"] == "own"
        self.studs = [settings[pole] for pole in POLES] if own else ["U1", "V1", "W1", *WAYS[settings["way"]]]
        self.main, self.delta = self.studs[:3], self.studs[3:]
        self.volts, self.made_for = float(settings["supply"]), PLATES[settings["plate"]]

    def phasors(self, step: str):
        """Winding voltages in that step, in line voltages over root three; None if lines are joined or a line has no stud."""
        if "off" in self.studs:
            return None
        ends = {stud: {stud} for stud in STUDS}
        pairs = zip(self.main, self.delta, strict=True) if step == "delta" else zip(self.delta, self.delta[1:], strict=False)
        for first, second in pairs:
            both = ends[first] | ends[second]
            for stud in both:
                ends[stud] = both
        nodes = sorted({min(each) for each in ends.values()})
        lines: dict[str, complex] = {}
        for k, stud in enumerate(self.main):
            node = min(ends[stud])
            if node in lines:
                return None
            lines[node] = np.exp(-2j * math.pi * k / 3)
        matrix = np.zeros((len(nodes), len(nodes)), complex)
        for phase in "UVW":
            row = np.zeros(len(nodes))
            row[nodes.index(min(ends[phase + "1"]))] += 1
            row[nodes.index(min(ends[phase + "2"]))] -= 1
            matrix += np.outer(row, row)
        free = [k for k, node in enumerate(nodes) if node not in lines]
        at = np.array([lines.get(node, 0) for node in nodes], complex)
        if free:
            at[free] = np.linalg.lstsq(matrix[np.ix_(free, free)], -(matrix @ at)[free], rcond=None)[0]
        return np.array([at[nodes.index(min(ends[phase + "1"]))] - at[nodes.index(min(ends[phase + "2"]))] for phase in "UVW"])

    @property
    def turns(self) -> str:
        """The direction of an evenly rotating field in both steps, "" if there is none."""
        found = set()
        for step, size in (("star", 1.0), ("delta", math.sqrt(3))):
            phasors = self.phasors(step)
            if phasors is None or not np.allclose(np.abs(phasors), size):
                return ""
            ahead = phasors[1] / phasors[0]
            found.add(
                "clockwise"
                if np.isclose(ahead, np.exp(-2j * math.pi / 3))
                else "counter-clockwise"
                if np.isclose(ahead, np.exp(2j * math.pi / 3))
                else ""
            )
        return found.pop() if len(found) == 1 else ""

    @property
    def may_run(self) -> bool:
        return bool(self.turns) and self.volts <= 1.1 * self.made_for


def expected(settings: dict, time: float) -> tuple[str, ...]:
    """The contactors closed at that time after the isolator, nothing tripped by overload."""
    timer, pause = settings["timer"], settings["pause"] / 1000
    if time < 0:
        return ()
    if settings["sticks"]:
        if settings["interlock"]:
            return ("main", "star")
        return ("main", "star") if time < timer + pause else ()
    return ("main", "star") if time < timer else ("main",) if time < timer + pause else ("main", "delta")


def closed_in(data: dict) -> tuple[str, ...]:
    marks = {each["words"]: each["sign"] for each in data["marks"]}
    assert all((sign == 1) == words.endswith("closed") for words, sign in marks.items())
    return tuple(name for name in ("main", "delta", "star") if f"{name} contactor closed" in marks)


def check_wiring(data: dict, leads: Leads) -> None:
    drawn_leads = {(each["from"], each["to"]) for each in data["leads"] if not each["through"]}
    to_motor = {(a, b[6:]) for a, b in drawn_leads if "contactor" in a and b.startswith("motor ")}
    poles = [f"{name} contactor {pole}" for name in ("main", "delta") for pole in "246"]
    assert to_motor == {(pole, stud) for pole, stud in zip(poles, leads.studs, strict=True) if stud != "off"}
    assert not any(a.startswith("motor ") and b.startswith("motor ") for a, b in drawn_leads), "the links are out"
    for k in range(3):
        odd, even = "135"[k], "246"[k]
        assert {
            (f"supply L{k + 1}", f"isolator {even}"),
            (f"isolator {odd}", f"fuses and relay {even}"),
            (f"fuses and relay {odd}", f"main contactor {odd}"),
            (f"main contactor {odd}", f"delta contactor {odd}"),
            (f"delta contactor {even}", f"star contactor {even}"),
        } <= drawn_leads
    assert {("star contactor 1", "star contactor 3"), ("star contactor 3", "star contactor 5"), ("supply PE", "motor PE")} <= drawn_leads
    assert not {end for end in loose_ends(data["leads"]) if "contactor" not in end and "isolator" not in end and "fuses" not in end}


def check_diagram(data: dict, leads: Leads, shut: tuple[str, ...]) -> None:
    """The circuit beside it joins what the contactors join, and has the lines that reach the motor."""
    pairs = [(a["from"][8:], a["to"][8:]) for a in data["leads"] if a["from"].startswith("diagram") and not a["through"]]
    reached_by = {a: b for a, b in pairs if a.startswith("L")}
    on = {f"L{k + 1}": stud for k, stud in enumerate(leads.main) if stud != "off"}
    assert reached_by == (on if "main" in shut else {})
    links = {frozenset(pair) for pair in pairs if not pair[0].startswith("L")}
    if shut == ("main", "delta"):
        assert links == {frozenset(pair) for pair in zip(leads.main, leads.delta, strict=True)}
    elif shut == ("main", "star"):
        assert set().union(*links) == set(leads.delta) and len(links) == 2
    else:
        assert not links


def check_loops(data: dict, shut: tuple[str, ...]) -> None:
    on_board = [lead for lead in data["leads"] if "diagram" not in lead["from"]]
    flows = reading(data, "I U") > 0.05
    for phase in "UVW":
        looped = in_a_loop(on_board, f"winding {phase}")
        assert looped == (len(shut) == 2 and any(lead["through"] == "isolator" for lead in on_board))
        assert looped or not flows


def check_words(data: dict, shut: tuple[str, ...], leads: Leads) -> None:
    says, state = data["says"], told(data, "step of the starter")["value"]
    names = {"main": "Q1 main", "delta": "Q2 delta", "star": "Q3 star"}
    value = told(data, "contactors closed")["value"]
    assert value == (" and ".join(names[each] for each in ("main", "delta", "star") if each in shut) or "none")
    letters = " ".join(each["text"] for each in data["letters"])
    for each, name in names.items():
        assert f"{name}: {'closed' if each in shut else 'open'}" in letters
    if len(shut) == 2:
        assert f"{names[shut[0]]} and {names[shut[1]]} are closed" in says
        volts = leads.volts / (math.sqrt(3) if "star" in shut else 1)
        assert re.search(rf"each winding has {volts:.0f} V", says) or "stays in star" in says
    if state == "isolator open":
        assert "isolator is open" in says
        assert ("wrong: " in says) == (not leads.turns or not 0.9 <= leads.volts / leads.made_for <= 1.1)
        assert ("locked off" in says) == (not leads.may_run)
    if "delta" in shut:
        assert all(f"{a}-{b}" in says for a, b in zip(leads.main, leads.delta, strict=True))
    if state == "fuses blown":
        assert "L1, L2 and L3, a short circuit" in says


def test_every_state_is_as_contactors_and_leads_make_it(scene):
    met: dict[str, int] = {}
    for number in range(max(20, COUNT // 2)):
        dice = random.Random(f"starter {number}")
        settings = {control.name: drawn(control, dice) for control in scene.controls if control.name not in ("slow", "timer")}
        settings |= {"by": "starter", "timer": dice.choice((0.2, 0.4, 0.8)), "load": dice.choice((0.0, 25.0, 50.0))}
        if dice.random() < 0.75:
            settings |= {"way": dice.choice(list(WAYS)), "plate": "400/690", "supply": "400"}
        if dice.random() < 0.5:
            settings["sticks"] = False
        changed = settings["timer"] + settings["pause"] / 1000
        seconds = OPEN_AT_FIRST + dice.choice((-0.02, 0.5 * settings["timer"], changed - 0.004, changed + 0.02, changed + 0.6))
        data = put(scene, settings, seconds, dice.choice(scene.views).name)
        leads, state = Leads(data["settings"]), told(data, "step of the starter")["value"]
        shut = closed_in(data)
        assert not {"delta", "star"} <= set(shut)
        if state != "overload relay tripped":
            assert shut == (expected(settings, seconds - OPEN_AT_FIRST) if leads.may_run else ())
            assert STEP.get(state, ()) == shut
        check_wiring(data, leads)
        check_diagram(data, leads, shut)
        check_loops(data, shut)
        check_words(data, shut, leads)
        check_shaft(data, leads)
        check_question(data, settings, leads)
        met[state] = met.get(state, 0) + 1
    assert set(STEP) | {"fuses blown"} <= set(met), met


def check_shaft(data: dict, leads: Leads) -> None:
    turning = re.split("[,;]", told(data, "speed of the shaft")["formula"])[0]
    hand = next(each["vector"] for each in data["needles"] if each["words"] == "hand of the timer")
    assert hand[2] == 0 and math.hypot(*hand) == pytest.approx(1)
    assert turning in (leads.turns, "at standstill")
    if told(data, "speed of the shaft")["value"] > 10:
        assert turning == leads.turns and f"turns {leads.turns}" in data["says"]


def check_question(data: dict, settings: dict, leads: Leads) -> None:
    question, asked = data["question"], settings["asked-starter"]
    if asked == "closed":
        last = expected(settings, 1e9) if leads.may_run else ()
        assert question["answer"] == ("-".join(last) or "none")
    elif settings["sticks"] or not leads.may_run:
        assert question["answer"] == "none"
    else:
        direct = told(data, "current peak direct")["value"]
        own, other = [each for each in data["readings"] if each["words"].startswith("current peak after")]
        assert own["words"].endswith(f"{leads.main[0]}-{leads.delta[0]}") and "as it is wired" in own["formula"]
        if asked == "way":
            smaller = min(own, other, key=lambda each: each["value"])["words"].split()[-1]
            near = abs(own["value"] / other["value"] - 1)
            assert question["answer"] == smaller or (question["answer"] == "same" and near < 0.03)
        else:
            share = own["value"] / direct
            if min(abs(share - 0.9), abs(share - 1.1)) > 0.01:
                assert question["answer"] == ("lower" if share < 0.9 else "higher" if share > 1.1 else "same")


@pytest.mark.parametrize(("plate", "supply", "timer", "pause"), [("400/690", 400.0, 0.7, 50.0), ("230/400", 230.0, 0.5, 30.0)])
def test_peaks_are_those_of_nine_coils(scene, plate, supply, timer, pause):
    """Both ways round, and direct on line; and what is seen as it runs is what was told before."""
    turns = (float(plate.split("/")[1]) / 400) ** 2  # ohms of a winding, of more turns than that of the star for 400 V
    ohms = [turns * each for each in (0.415, 0.721, 0.5926, 0.721, 24.54)]
    circuit = EquivalentCircuit(*ohms, supply * math.sqrt(3), 50.0, 4, turns * 0.5011, turns * 2.836)
    load = 30.0
    coils = NineCoils(circuit, INERTIA, (load / 100 + BEARINGS) * TORQUE)
    end = started(coils, supply, 50.0, timer, pause / 1000)
    want = {name: closed(coils, links, supply, 50.0, timer + pause / 1000, end) for name, links in DELTAS.items()}
    direct = closed(coils, DELTAS["U1-W2"], supply, 50.0, 0.0, np.zeros(8))
    settings = {"plate": plate, "supply": f"{supply:.0f}", "timer": timer, "pause": pause, "load": load, "asked-starter": "way"}
    for way in WAYS:
        data = put(scene, settings | {"way": way}, OPEN_AT_FIRST + timer + pause / 1000 + 0.1)
        for name, (current, torque, difference) in want.items():
            told_of = told(data, f"current peak after the change-over, delta {name}")
            assert told_of["value"] == pytest.approx(current, rel=0.006)
            assert f"{current / direct[0]:.2f}"[:3] == told_of["formula"][:3]
            if name == way:
                seen = float(re.search(r"(\d+) A so far", told_of["formula"])[1])
                assert seen == pytest.approx(current, rel=0.01)
                assert told(data, "torque peak")["value"] == pytest.approx(torque, rel=0.01)
                assert reading(data, "U") == pytest.approx(difference, rel=0.006)
        assert told(data, "current peak direct")["value"] == pytest.approx(direct[0], rel=0.006)
        assert data["question"]["answer"] == min(want, key=lambda name: want[name][0])


def test_settled_in_star_and_in_delta_it_draws_what_its_circuit_does_and_energy_adds_up(scene):
    for settings, seconds, volts in (({"timer": 10.0}, 3.0, 400 / math.sqrt(3)), ({"timer": 1.0}, 4.0, 400.0)):
        data = put(scene, settings | {"load": 40.0}, seconds)
        slip = 1 - told(data, "speed of the shaft")["value"] / 1500
        exact = 1 + scene.now.speed / 25  # clockwise is negative
        assert slip == pytest.approx(exact, abs=4e-4)
        scale = (690 / 400) ** 2
        running, starting = 0.5926 / exact + 2.836j, 0.5011 / exact
        rotor = 0.721j + running * starting / (running + starting)
        gap = 24.54j * rotor / (24.54j + rotor)
        current = volts / scale / (0.415 + 0.721j + gap)
        lines = abs(current) * (math.sqrt(3) if volts == 400 else 1)
        assert reading(data, "I U") == pytest.approx(abs(current), abs=0.06) and reading(data, "I") == pytest.approx(lines, abs=0.06)
        torque = 3 * scale * abs(current) ** 2 * gap.real / (50 * math.pi)
        assert reading(data, "T") == pytest.approx(torque, abs=0.1) and torque == pytest.approx((0.4 + BEARINGS) * TORQUE, rel=0.01)
        shaft, heat = map(float, re.match(r"shaft ([\d.]+) kW \+ heat ([\d.]+) kW", told(data, "power drawn")["formula"]).groups())
        assert told(data, "power drawn")["value"] == pytest.approx(shaft + heat, abs=0.016)
        assert shaft == pytest.approx(torque * (1 - exact) * 50 * math.pi / 1000, abs=0.006)
        assert told(data, "power drawn")["value"] == pytest.approx(3 * volts * current.real / 1000, abs=0.01)


def test_while_all_is_open_the_field_decays_and_nothing_flows(scene):
    before = 400.0
    for later in (0.005, 0.03, 0.07):
        data = put(scene, {"timer": 1.5, "pause": 80.0}, OPEN_AT_FIRST + 1.5 + later)
        assert told(data, "step of the starter")["value"] == "star and delta both open"
        assert reading(data, "I") == reading(data, "I U") == reading(data, "T") == told(data, "power drawn")["value"] == 0
        assert 100 < reading(data, "U U") < before and "rotor's field alone" in told(data, "voltage of winding U")["formula"]
        before = reading(data, "U U")
        assert "falls behind the supply" in data["says"]


def test_two_leads_swapped_at_both_contactors_turn_it_the_other_way_and_the_other_delta_is_better(scene):
    swapped = dict(zip(POLES, ("V1", "U1", "W1", "U2", "W2", "V2"), strict=True))
    data = put(scene, {"way": "own", "asked-starter": "way"} | swapped, 3.0)
    assert "counter-clockwise" in data["says"] and "in delta" == told(data, "step of the starter")["value"]
    straight = put(scene, {"way": "U1-W2", "asked-starter": "way"}, 0.0)["question"]["answer"]
    assert straight == "U1-V2" and data["question"]["answer"] in ("V1-U2",), data["question"]


def test_the_hand_of_the_timer_goes_round_with_the_time(scene):
    for share in (0.0, 0.25, 0.6, 1.0, 1.4):
        data = put(scene, {"timer": 1.0}, OPEN_AT_FIRST + share)
        hand = next(each["vector"] for each in data["needles"] if each["words"] == "hand of the timer")
        turned = math.atan2(hand[0], hand[1]) % (2 * math.pi)
        assert turned == pytest.approx(0.9 * 2 * math.pi * min(share, 1.0), abs=0.02)

"""The terminal box against what links and leads must do: own nodes, own coupled windings, own symmetrical components and words.

U-V-W on L1-L2-L3 turns clockwise seen from the drive end (IEC 60034-8); links upright are a delta and across a star (memory).
"""

from __future__ import annotations

import math
import re

import numpy as np
import pytest

from scenes.scene.state import as_data, reached
from tests.oracle import in_a_loop, loose_ends
from tests.physics.induction.test_joined_windings import branch, components, coupled, currents, rated_gap
from tests.scenes.oracle.states import reading, states

STUDS = [phase + end for phase in "UVW" for end in "12"]
STRAIGHT = ("U1", "V1", "W1")
# what each joining by name must put on the board: links, leads
MEANT = {
    "star": (("W2-U2", "U2-V2"), STRAIGHT),
    "delta": (("U1-W2", "V1-U2", "W1-V2"), STRAIGHT),
    "other-delta": (("U1-V2", "V1-W2", "W1-U2"), STRAIGHT),
    "star-swapped": (("W2-U2", "U2-V2"), ("V1", "U1", "W1")),
    "star-less-one": (("W2-U2",), STRAIGHT),
    "delta-less-one": (("U1-W2", "V1-U2"), STRAIGHT),
    "lead-off": (("W2-U2", "U2-V2"), ("U1", "V1", None)),
    "both": (("W2-U2", "U1-W2", "V1-U2"), STRAIGHT),
}
SLIP, TORQUE, CURRENT = 35 / 1500, 74.97, 21.20  # rated, of the motor in star on 400 V
WINDING = {"230/400": (230.0, CURRENT), "400/690": (400.0, CURRENT * 400 / 690)}  # V, A of a winding by the plate
FRICTION = 0.01  # of rated torque, in the bearings


class Board:
    """The board of a state's settings, as a wiring for the nodal solution."""

    def __init__(self, settings: dict):
        if settings["joined"] == "own":
            links = [settings[f"link-{k}"] for k in (1, 2, 3) if settings[f"link-{k}"] != "off"]
            leads = [settings[f"lead-L{k}"] if settings[f"lead-L{k}"] != "off" else None for k in (1, 2, 3)]
        else:
            links, leads = MEANT[settings["joined"]]
        self.links = [tuple(link.split("-")) for link in links]
        self.leads = {f"L{k}": stud for k, stud in enumerate(leads, 1) if stud}
        self.reversed_windings = () if settings["reversed"] == "none" else (settings["reversed"],)
        self.volts, self.hertz = float(settings["supply"]), float(settings["hertz"])
        self.plate = settings["plate"]

    def nodes(self) -> dict[str, frozenset]:
        """Of each stud, all that links join it to."""
        return joined(STUDS, self.links)

    @property
    def short(self) -> bool:
        at = [self.nodes()[stud] for stud in self.leads.values()]
        return len(set(at)) < len(at)

    def solved(self, speed: float):
        """(winding currents, line currents, winding voltages, torque N m clockwise), the flux found by halving."""
        ratio, slip = self.hertz / 50, 1 - speed
        scale = (float(self.plate.split("/")[1]) / 400) ** 2  # of all ohms, for a winding of more turns
        stator = 0.415 + 0.721j * ratio
        low, high = 0.0, 5.0
        for _ in range(30):
            flux = (low + high) / 2
            gaps = branch(slip, ratio, flux), branch(2 - slip, ratio, flux)
            matrix = scale * coupled(stator, stator + gaps[0], stator + gaps[1])
            windings, lines = currents(self, self.volts, matrix)
            made = sum(abs(part * gap) for part, gap in zip(components(windings), gaps, strict=True)) * math.sqrt(scale)
            low, high = (flux, high) if made > flux * ratio * rated_gap() else (low, flux)
        parts = components(windings)
        across = 3 * scale * (abs(parts[0]) ** 2 * gaps[0].real - abs(parts[1]) ** 2 * gaps[1].real)
        return windings, lines, matrix @ windings, across / (math.pi * self.hertz)


def joined(ends, pairs) -> dict[str, frozenset]:
    sets = {end: frozenset([end]) for end in ends}
    for first, second in pairs:
        both = sets[first] | sets[second]
        sets |= dict.fromkeys(both, both)
    return sets


def check_wiring(data: dict, board: Board) -> None:
    """Every link and lead as set, none else, in the picture and in the circuit beside it; the protective conductor where it belongs."""
    drawn = [(lead["from"], lead["to"]) for lead in data["leads"] if not lead["through"]]
    links = sorted(tuple(sorted((a[6:], b[6:]))) for a, b in drawn if a.startswith("motor ") and b.startswith("motor "))
    assert links == sorted(tuple(sorted(pair)) for pair in board.links)
    leads = {b[6:]: a[-1] for a, b in drawn if a.startswith("fuses") and b.startswith("motor ")}
    assert leads == {stud: str(2 * int(line[1])) for line, stud in board.leads.items()} or board.short
    for k in "123":
        through = [("supply L" + k, f"isolator {2 * int(k)}"), (f"isolator {2 * int(k) - 1}", f"fuses and relay {2 * int(k) - 1}")]
        assert set(through) <= set(drawn)
    assert ("supply PE", "motor PE") in drawn
    assert joined(STUDS, [(a[8:], b[8:]) for a, b in drawn if a.startswith("diagram") and "L" not in a]) == board.nodes()
    assert {a[8:]: b[8:] for a, b in drawn if a.startswith("diagram L")} == board.leads
    dead_ends = {end for end in loose_ends(data["leads"]) if not end.startswith(("isolator", "fuses"))}
    assert not dead_ends


def check_loops(data: dict, switched_on: bool, amperes: list[float]) -> None:
    on_board = [lead for lead in data["leads"] if "diagram" not in lead["from"]]
    for phase, flows in zip("UVW", amperes, strict=True):
        if flows > 0.1:
            assert in_a_loop(on_board, f"winding {phase}")
    conducts = any(lead["through"] == "isolator" for lead in on_board) and any(lead["through"] == "fuses and relay" for lead in on_board)
    assert conducts == switched_on
    if not switched_on:
        assert not any(amperes)


def check_figures(data: dict, board: Board, speed: float) -> None:
    """The figures of windings, lines and shaft at the speed that is told, and that energy adds up."""
    windings, lines, volts, torque = board.solved(speed)
    for k, phase in enumerate("UVW"):
        assert reading(data, f"U {phase}") == pytest.approx(abs(volts[k]), abs=0.51)
        assert reading(data, f"I {phase}") == pytest.approx(abs(windings[k]), abs=0.06)
    assert reading(data, "I") == pytest.approx(np.abs(lines).max(), abs=0.06)
    told = next(each for each in data["readings"] if each["symbol"] == "P")
    shaft, heat = map(float, re.fullmatch(r"shaft ([−\d.]+) kW \+ heat ([\d.]+) kW", told["formula"]).groups())
    assert told["value"] == pytest.approx(shaft + heat, abs=0.016)
    assert shaft == pytest.approx(torque * speed * math.pi * board.hertz / 1000, abs=0.006)
    drawn = (np.array([board.volts / math.sqrt(3) * np.exp(-2j * math.pi * k / 3) for k in range(3)]) @ lines.conj()).real
    assert told["value"] == pytest.approx(drawn / 1000, abs=0.006)


def judged(board: Board) -> tuple[str, bool]:
    """A whole "star" or "delta", or neither, ""; and whether each winding gets the plate's voltage in it."""
    nodes = board.nodes()
    ends = [{nodes[phase + "1"], nodes[phase + "2"]} for phase in "UVW"]
    at = {nodes[stud] for stud in board.leads.values()}
    star = all(len(pair) == 2 for pair in ends) and len(set.union(*ends)) == 4 and len(set.intersection(*ends)) == 1
    delta = all(len(pair) == 2 for pair in ends) and len(set.union(*ends)) == 3 and len(set(map(frozenset, ends))) == 3
    whole = (star and at == set.union(*ends) - set.intersection(*ends) or delta and at == set.union(*ends)) and len(at) == 3
    # a winding reversed in a star or delta: the same as one of its ends taken for the other, so by the letters
    twisted = bool(board.reversed_windings)
    if whole and not twisted:  # the ends that meet: all of one number in a star, 1 and 2 by turns in a delta
        (common,) = [set.intersection(*ends)] if star else [set()]
        met = {end[1] for node in common for end in node}
        twisted = len(met) > 1 if star else not all({end[1] for end in node} == {"1", "2"} for node in at)
    volts = board.volts / math.sqrt(3) if star else board.volts
    kind = ("star" if star else "delta") if whole and not twisted else ""
    return kind, bool(kind) and abs(volts / WINDING[board.plate][0] - 1) <= 0.1


def check_verdict(data: dict, board: Board) -> None:
    """Wrong only, and always, where a winding has another voltage than the plate's, or the three are not a whole star or delta."""
    verdict = next(each for each in data["readings"] if each["words"] == "right for plate and supply")
    kind, right = judged(board)
    assert verdict["value"] == ("yes" if right else "no"), (board.links, board.leads, verdict)
    said = verdict["formula"]
    assert ("wrong: " in data["says"]) != right and (right or said in data["says"])
    banner = " ".join(each["text"] for each in data["letters"] if each["colour"] in ("#9c2f24", "#2f6b2b") and each["text"] != "PE")
    assert said in banner and ("wrong" in banner) != right
    if kind and not right:
        volts = board.volts / math.sqrt(3) if kind == "star" else board.volts
        assert f"gives each winding {volts:.0f} V" in said and f"{WINDING[board.plate][0]:.0f} V" in said
    if board.short:
        assert "short circuit" in said
    if len(board.leads) < 3 and not board.short and "no winding has" not in said:
        off = next(line for line in ("L1", "L2", "L3") if line not in board.leads)
        assert f"{off}" in said and "off" in said


def direction_of(board: Board, load: float) -> str:
    """Which way it starts, from its torque at standstill; "none" where that does not overcome load and bearings."""
    if board.short:
        return "none"
    torque = board.solved(0.0)[3]
    held = (load / 100 + FRICTION) * TORQUE
    return "none" if abs(torque) <= held * 1.0001 else "clockwise" if torque > 0 else "counter-clockwise"


def check_question(data: dict, board: Board) -> None:
    question, settings = data["question"], data["settings"]
    volts, _ = WINDING[board.plate]
    if settings["asked"] == "turns":
        answer = direction_of(board, settings["load"])
        if answer != "none":
            assert ("must not be switched on" in question["reason"]) != judged(board)[1]
        elif judged(board) == ("star", False) and board.volts < 1.5 * volts:  # the torque goes with the square of the voltage
            assert f"{100 * (board.volts / math.sqrt(3) / volts) ** 2:.0f} % of the torque" in question["reason"]
        assert question["answer"] == answer and "looking at the drive end" in question["text"].lower()
        assert dict((each["value"], each["words"]) for each in question["choices"])["clockwise"] == "clockwise"
    elif settings["asked"] == "joining":
        fits = {"star": board.volts / math.sqrt(3), "delta": board.volts}
        right = [name for name, each in fits.items() if abs(each / volts - 1) <= 0.1] or ["neither"]
        assert question["answer"] == right[0]
        assert f"{board.volts / math.sqrt(3):.0f} V" in question["reason"] and f"made for {volts:.0f} V" in question["reason"]
    elif settings["asked"] == "voltage":
        across = 0.0 if board.short else abs(board.solved(0.0)[2][0])
        assert float(question["answer"]) == pytest.approx(across, abs=0.6)
    elif board.short:
        assert question["answer"] == "fuse"
    elif not np.abs(board.solved(0.0)[0]).max() > 1e-3:
        assert question["answer"] == "dead"
    else:
        assert question["answer"] in ("runs", "relay", "fuse")


@pytest.mark.parametrize("plate", WINDING)
@pytest.mark.parametrize("supply", ["230", "400", "690"])
def test_every_usual_joining_on_every_supply_is_judged_by_what_its_windings_get(supply, plate):
    scene = next(iter(states("terminal-box", 0.0, count=1)))[0]
    for joining in MEANT:
        plain = {control.name: control.default for control in scene.controls}
        scene.set_all(plain | {"joined": joining, "supply": supply, "plate": plate})
        data = as_data(reached(scene, 0.1, "front"), 0.1)
        board = Board(data["settings"])
        check_wiring(data, board)
        check_verdict(data, board)
        check_question(data, board)
        told = {(each["text"], each["colour"]) for each in data["letters"]}
        volts, amperes = WINDING[plate]
        for sign, voltage, current in (("Δ", volts, amperes * math.sqrt(3)), ("Y", float(plate.split("/")[1]), amperes)):
            (line,) = [text for text, _ in told if text.startswith(sign)]
            assert [float(each) for each in re.findall(r"[\d.]+", line)] == pytest.approx([voltage, current], rel=0.006)
        assert {(stud, "") for stud in STUDS} | {("L1", ""), ("L2", ""), ("L3", ""), ("PE", "")} <= told


def test_every_state_is_as_the_studs_are_joined():
    met, before, steady = set(), {}, 0
    for scene, data in states("terminal-box", 3.0, fixed=("slow", "by")):
        settings = data["settings"]
        board = Board(settings)
        check_wiring(data, board)
        amperes = [reading(data, f"I {phase}") for phase in "UVW"]
        state = next(each["value"] for each in data["readings"] if each["words"] == "state of the supply")
        check_loops(data, state == "switched on", amperes)
        rpm, told = reading(data, "n"), next(each for each in data["readings"] if each["symbol"] == "n")["formula"]
        turning = told.split(",")[0]
        speed = -scene.now.speed / (board.hertz / 2)  # to more figures than are told; clockwise positive
        assert abs(speed) * 30 * board.hertz == pytest.approx(rpm, abs=0.5)
        assert {"clockwise": 1, "counter-clockwise": -1, "at standstill": 0}[turning] == np.sign(round(speed, 9))
        if state == "switched on":
            check_figures(data, board, speed)
            start = direction_of(board, settings["load"])
            assert turning == ("at standstill" if start == "none" else start) or rpm == 0
            said = re.search(r"the shaft turns (\S+) at (\d+) r/min", data["says"])
            assert (said is not None) == (turning != "at standstill")
            if said:
                assert (said[1], int(said[2])) == (turning, rpm)
        mark = next(each["vector"] for each in data["needles"] if each["words"] == "mark on the shaft")
        before_mark, was = scene.now.angle, scene.state
        scene.step(1e-4)
        scene.draw()
        moved = scene.now.angle - before_mark
        if state == "switched on" and abs(speed) > 0.5 and -scene.now.speed / (board.hertz / 2) == speed:
            steady += 1
            held = (settings["load"] / 100 + FRICTION) * TORQUE
            assert abs(board.solved(speed)[3]) == pytest.approx(held, rel=0.03, abs=0.5)
        if rpm > 1 and abs(moved) < 1:
            assert (moved < 0) == (turning == "clockwise")
            assert mark[0] == pytest.approx(-math.sin(before_mark), abs=1e-6) and mark[1] == pytest.approx(math.cos(before_mark), abs=1e-6)
        assert was.time < scene.state.time
        check_verdict(data, board)
        check_question(data, board)
        before[settings["asked"]] = True
        met.add(state)
    assert {"main switch open", "switched on", "fuses blown"} <= met and len(before) == 4 and steady > 2

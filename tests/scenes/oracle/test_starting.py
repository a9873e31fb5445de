"""Starting: wiring, figures and words, from the told leads alone and from a run-up worked out here.

The circuit of a motor per phase, star-delta arithmetic (a third of line current and torque, root three in voltage), the ideal
autotransformer (volts per turn equal, ampere-turns add up to nothing): standard handbook results. Board W2 U2 V2 above U1 V1 W1,
links upright for delta: IEC 60034-8 and common practice. Contact numbers 1-2, 3-4, 5-6: IEC 60947-4-1 (memory).
"""

from __future__ import annotations

import math
import os
import random
import re

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from scenes.drives.starting import Starting
from scenes.drives.starting.motors import MOTOR, WOUND
from scenes.drives.starting.starters import IN_THE_PICTURE, WORDS
from scenes.scene.state import as_data, reached
from tests import oracle

STATES = int(os.environ.get("THUMBWISE_STATES", "60"))
LINE, FREQUENCY, PAIRS = MOTOR.line_voltage, MOTOR.frequency, MOTOR.poles // 2
SYNC = FREQUENCY / PAIRS  # rev/s
SUPPLY = {f"supply L{k + 1}": LINE / math.sqrt(3) * np.exp(-2j * math.pi * k / 3) for k in range(3)}
CHANGE_OVER_SLIP, PAUSE, SOFT_FIRST, SOFT_SECONDS, FIRST_HERTZ = 0.1, 0.05, 0.4, 5.0, 1.0  # what the scene's starters are set to
ROTOR_INERTIA, BREAKAWAY, RATED_SLIP = 0.05, 1.3, 35 / 1500
INTERRUPTED = ("winding", "transformer coil", "supply", "soft starter", "inverter", "resistor", "rotor winding")  # not a plain conductor


# the motors, by hand: with a deep-bar cage, of which starting cage and running cage lie in parallel (Boucherot), and with slip rings


def branches(motor, frequency, slip, added=0.0):
    """Ohms of a phase of the star at `frequency` and slip: stator, rotor as seen by the stator, magnetising."""
    share = frequency / FREQUENCY
    running = (motor.rotor_resistance + added) / slip + 1j * share * motor.running_cage_reactance
    beside = motor.starting_cage_resistance / slip
    rotor = 1j * share * motor.rotor_reactance + (running if motor is WOUND else running * beside / (running + beside))
    return motor.stator_resistance + 1j * share * motor.stator_reactance, rotor, 1j * share * motor.magnetising_reactance


def slip_at(frequency, speed):
    sync = frequency / PAIRS
    return (sync - speed) / sync if abs(sync - speed) > 1e-12 * sync else 1e-12


def phase(motor, voltage, frequency, speed, added=0.0):
    """Line current, A, torque, N m, and power taken, W, of the motor's star at `voltage` between lines, `frequency` and rev/s."""
    stator, rotor, magnetising = branches(motor, frequency, slip_at(frequency, speed), added)
    current = voltage / math.sqrt(3) / (stator + rotor * magnetising / (rotor + magnetising))
    in_rotor = current * magnetising / (magnetising + rotor)
    torque = 3 * abs(in_rotor) ** 2 * rotor.real / (2 * math.pi * frequency / PAIRS)
    return abs(current), torque, 3 * voltage / math.sqrt(3) * abs(current) * math.cos(np.angle(current))


def winding_impedance(motor, frequency, speed, added=0.0) -> complex:
    """Of one winding, which is three times the phase of the star that draws the same as the delta."""
    stator, rotor, magnetising = branches(motor, frequency, slip_at(frequency, speed), added)
    return 3 * (stator + rotor * magnetising / (rotor + magnetising))


def motor_of(settings):
    return WOUND if settings["method"] == "wound-rotor" else MOTOR


RATED_CURRENT, RATED_TORQUE, _ = phase(MOTOR, LINE, FREQUENCY, SYNC * (1 - RATED_SLIP))
BOOST = math.sqrt(3) * MOTOR.stator_resistance * phase(MOTOR, LINE, FREQUENCY, SYNC)[0]


def breakdown(motor) -> tuple[float, float]:
    """Slip and torque of the greatest torque, N m."""
    points = [(slip, phase(motor, LINE, FREQUENCY, SYNC * (1 - slip))[1]) for slip in np.geomspace(0.01, 1, 4000)]
    return max(points, key=lambda each: each[1])


def rotor_steps() -> tuple[list[float], list[float]]:
    """Four steps that begin with 95 % of the breakdown torque: resistance and slip in a geometric series (handbook result)."""
    high, most = breakdown(WOUND)
    low = 1e-4
    for _ in range(80):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if phase(WOUND, LINE, FREQUENCY, SYNC * (1 - middle))[1] < 0.95 * most else (low, middle)
    slips = [low ** (k / 4) for k in range(5)]
    return [WOUND.rotor_resistance * (slip / low - 1) for slip in slips[:-1]], slips[1:]


RESISTANCES, STEP_SLIPS = rotor_steps()
BREAKDOWN_TORQUE = {id(motor): breakdown(motor)[1] for motor in (MOTOR, WOUND)}


# the start, by hand


def feeds(settings):
    """Of each stage: voltage at the motor (as if in delta) and hertz at s after it began, ohms added, seconds or slip at its end."""
    full = (lambda t: (LINE, FREQUENCY)), 0.0, None, None
    star = LINE / math.sqrt(3)
    tap = LINE * settings["tap"] / 100

    def soft(t):
        return LINE * (SOFT_FIRST + (1 - SOFT_FIRST) * t / SOFT_SECONDS), FREQUENCY

    def inverter(t):
        hertz = FIRST_HERTZ + (FREQUENCY - FIRST_HERTZ) * t / settings["ramp"]
        return BOOST + (LINE - BOOST) * hertz / FREQUENCY, hertz

    return {
        "direct": [full],
        "star-delta": [
            ((lambda t: (star, FREQUENCY)), 0.0, None, CHANGE_OVER_SLIP),
            ((lambda t: (0.0, FREQUENCY)), 0.0, PAUSE, None),
            full,
        ],
        "autotransformer": [((lambda t: (tap, FREQUENCY)), 0.0, None, CHANGE_OVER_SLIP), full],
        "soft-starter": [(soft, 0.0, SOFT_SECONDS, None), full],
        "inverter": [(inverter, 0.0, settings["ramp"], None), full],
        "wound-rotor": [
            *[((lambda t: (LINE, FREQUENCY)), ohms, None, slip) for ohms, slip in zip(RESISTANCES, STEP_SLIPS, strict=True)],
            full,
        ],
    }[settings["method"]]


def load_torque(settings, speed):
    """N m that the load takes at rev/s; at rest, what moves it."""
    torque = RATED_TORQUE * settings["load"] / 100
    if settings["drive"] == "flywheel":
        return 0.0
    if settings["drive"] in ("fan", "pump"):
        return torque * (speed / SYNC) ** 2
    return torque + (BREAKAWAY - 1) * torque / (1 + (max(speed - 0.1, 0) / 0.5) ** 2) ** 2


class Run:
    """What comes of a start: moments of each stage, and the outcome."""

    def __init__(self, settings):
        self.pieces, self.outcome = [], "runs"
        inertia = 2 * math.pi * ROTOR_INERTIA * (1 + settings["inertia"])
        began, speed = 0.0, 0.0
        stages, motor = feeds(settings), motor_of(settings)
        for place, (feed, added, seconds, slip) in enumerate(stages):

            def rate(t, y, feed=feed, added=added):
                volts, hertz = feed(t)
                torque = phase(motor, volts, hertz, y[0], added)[1] if volts else 0.0
                surplus = torque - load_torque(settings, y[0])
                return [surplus / inertia if y[0] > 0 or surplus > 0 else 0.0]

            steady = seconds is None
            if steady and rate(0.0, [speed])[0] <= 0 and speed <= 0:
                self.outcome = "stays at rest"
                self.pieces.append((place, began, lambda t, speed=speed: speed, math.inf))
                return
            there = SYNC * (1 - slip) if slip else None
            events = [lambda t, y, there=there: y[0] - there] if there else []
            for event in events:
                event.terminal, event.direction = True, 1
            span = seconds or 600.0
            done = solve_ivp(
                rate, (0, span), [speed], "LSODA", dense_output=True, events=events or None, rtol=1e-7, atol=1e-8, max_step=span / 50
            )
            ends, left = done.t[-1], done.y[0, -1]
            reached_it = bool(there and done.t_events[0].size)
            if steady and not reached_it and self._hangs(motor, feed, added, left):
                self.outcome = "crawls"
            self.pieces.append((place, began, lambda t, sol=done.sol: float(sol(t)[0]), math.inf if self.outcome == "crawls" else ends))
            if self.outcome == "crawls":
                return
            if steady and there and not reached_it:  # it runs short of the change-over, which comes when it has all but settled
                ends = float(done.t[np.argmax(done.y[0] >= 0.99 * left)])
                left = float(done.sol(ends)[0])
                self.pieces[-1] = (*self.pieces[-1][:3], ends)
            began, speed = began + ends, left
        if speed < 0.2:
            self.outcome = "stays at rest"

    @staticmethod
    def _hangs(motor, feed, added, speed) -> bool:
        volts, hertz = feed(0)
        here, faster = (phase(motor, volts, hertz, at, added)[1] for at in (speed, speed + 1e-3))
        return faster > here

    def at(self, time):
        """Stage, s in it, and rev/s."""
        for place, began, speed, lasts in self.pieces:
            if time < began + lasts:
                return place, time - began, speed(time - began)
        place, began, speed, lasts = self.pieces[-1]
        return place, time - began, speed(min(time - began, lasts))

    def near_a_change(self, time) -> bool:
        return any(abs(time - began) < 0.03 + 0.03 * time for _, began, _, _ in self.pieces[1:])


# the wiring, by hand


class Nodes:
    """What plain conductors join: union-find over the told leads."""

    def __init__(self, leads):
        self.parent = {}
        for lead in leads:
            a, b = self.find(lead["from"]), self.find(lead["to"])
            if not lead["through"].startswith(INTERRUPTED):
                self.parent[a] = b

    def find(self, name):
        self.parent.setdefault(name, name)
        while self.parent[name] != name:
            name = self.parent[name]
        return name


def solved(data, impedance, boxed):
    """Voltages of the six motor terminals and currents from L1, L2, L3, by nodes: windings of `impedance`, ideal transformer,
    a box giving (share of voltage) `boxed` of a supply of its own."""
    leads = data["leads"]
    nodes = Nodes(leads)
    fixed = {nodes.find(name): volts for name, volts in SUPPLY.items()}
    assert len(fixed) == 3, "two lines are joined"
    for lead in leads:
        if lead["through"] in ("soft starter", "inverter"):
            number = {"2": 0, "4": 1, "6": 2, "U": 0, "V": 1, "W": 2}[lead["to"].rsplit(" ", 1)[1]]
            fixed[nodes.find(lead["to"])] = boxed * SUPPLY[f"supply L{number + 1}"]
    names = sorted({nodes.find(end) for lead in leads for end in (lead["from"], lead["to"])})
    coils = sorted({lead["to"][-1] for lead in leads if lead["through"] == "transformer coil, upper part"})
    size = len(names) + len(coils)
    matrix, right = np.zeros((size, size), complex), np.zeros(size, complex)
    index = {name: place for place, name in enumerate(names)}
    for lead in leads:
        if re.fullmatch(r"winding [UVW]", lead["through"]):
            a, b = index[nodes.find(lead["from"])], index[nodes.find(lead["to"])]
            for one, other in ((a, b), (b, a)):
                matrix[one, one] += 1 / impedance
                matrix[one, other] -= 1 / impedance
    share = next((needle["vector"][1] for needle in data["needles"] if "transformer tap" in needle["words"]), None)
    for place, number in enumerate(coils):
        full, tap, end = (index[nodes.find(f"transformer {which} {number}")] for which in ("full", "tap", "end"))
        row = len(names) + place
        for node, part in ((full, share), (tap, -1.0), (end, 1 - share)):
            matrix[node, row] += part  # ampere-turns of both parts add up to nothing
            matrix[row, node] += part  # volts per turn are the same in both
    for name, volts in fixed.items():
        matrix[index[name]] = 0
        matrix[index[name], index[name]] = 1
        right[index[name]] = volts
    answer = np.linalg.lstsq(matrix, right, rcond=None)[0]
    volts = {name: answer[index[nodes.find(f"motor {name}")]] for name in ("U1", "V1", "W1", "U2", "V2", "W2")}
    return volts, line_currents(leads, nodes, index, answer, impedance, coils, share), nodes


def line_currents(leads, nodes, index, answer, impedance, coils, share):
    """What leaves each line into windings and coils, A."""
    drawn = dict.fromkeys(SUPPLY, 0j)
    for line in SUPPLY:
        own = index[nodes.find(line)]
        for lead in leads:
            if re.fullmatch(r"winding [UVW]", lead["through"]):
                a, b = index[nodes.find(lead["from"])], index[nodes.find(lead["to"])]
                if own in (a, b):
                    drawn[line] += (answer[own] - answer[b if own == a else a]) / impedance
        for place, number in enumerate(coils):
            if index[nodes.find(f"transformer full {number}")] == own:
                drawn[line] += share * answer[len(index) + place]
    return [abs(value) for value in drawn.values()]


# the states


def drawn_settings(dice) -> dict:
    return {
        "method": dice.choice(list(WORDS)),
        "drive": dice.choice(("fan", "pump", "conveyor", "flywheel")),
        "load": float(dice.choice((20, 40, 60, 80, 100, 130, 150))),
        "inertia": float(dice.choice((2, 10, 25))),
        "tap": float(dice.choice((50, 65, 80))),
        "ramp": float(dice.choice((2, 5))),
        "curves": dice.choice(("time", "speed")),
    }


def value(data, symbol):
    return next(reading["value"] for reading in data["readings"] if reading["symbol"] == symbol)


def pointer(data, words):
    return next((needle["vector"][0] for needle in data["needles"] if needle["words"] == words), None)


@pytest.fixture(scope="module")
def scene():
    return Starting()


@pytest.mark.parametrize("seed", range(STATES))
def test_wiring_figures_and_words_of_a_state_drawn_at_random(scene, seed):
    dice = random.Random(f"starting {seed}")
    settings = drawn_settings(dice)
    scene.set_all(settings)
    time = dice.choice((0.0, dice.uniform(0, 1), dice.uniform(0, 8)))
    view = dice.choice([view.name for view in scene.views])
    data = as_data(reached(scene, time, view), time)
    run = Run(settings)
    stage, inside, speed = run.at(time)
    check_words(data, settings, run)
    check_reason(data, settings, run)
    check_board(data, settings)
    if run.near_a_change(time) and time:
        return
    # a load that breaks away at the end of a slow ramp does so a twentieth of a second sooner or later, by how rest is reckoned
    slack = 0.02 * 60 * SYNC + 60 * abs(run.at(time + 0.05)[2] - run.at(max(time - 0.05, 0.0))[2])
    assert value(data, "n") == pytest.approx(60 * speed, abs=slack), (settings, time)
    drawn = pointer(data, "speed, n now")  # exact, where the reading is rounded
    check_wiring(data, settings, stage, inside, 0.0 if run.outcome == "stays at rest" else speed if drawn is None else drawn * SYNC)
    check_figures(data, settings, stage, inside)


def check_words(data, settings, run):
    """The outcome in sentence, readings and answer, and no direction that depends on a view."""
    assert data["question"]["answer"] == run.outcome == next(r["value"] for r in data["readings"] if r["words"] == "result")
    said = {"runs": "runs up to", "stays at rest": "stays at rest", "crawls": "crawls at"}[run.outcome]
    assert said in data["says"] and said in data["question"]["reason"]
    for text in (data["says"], data["question"]["text"], data["question"]["reason"], *[r["formula"] for r in data["readings"]]):
        assert not re.search(r"to the (left|right)|toward you|away from you", text)
    assert [r["words"] for r in data["readings"][-6:]] == list(WORDS.values())
    asked = data["question"]["text"]
    on_full = phase(motor_of(settings), LINE, FREQUENCY, 0.0)[1] / RATED_TORQUE, BREAKDOWN_TORQUE[id(motor_of(settings))] / RATED_TORQUE
    told = re.search(r"(\d+) % of rated torque at standstill and (\d+)", asked)
    assert [round(100 * share) for share in on_full] == [int(figure) for figure in told.groups()]
    if settings["drive"] == "conveyor":
        assert f"{settings['load']:.0f} % of rated torque to run and 30 % more" in asked


def check_reason(data, settings, run):
    """The figures of the first instant, by the circuit; what the load takes; and at rest, what it would take to move it."""
    feed, added, _, _ = feeds(settings)[0]
    volts, hertz = feed(0.0)
    current, torque, power = phase(motor_of(settings), volts, hertz, 0.0, added)
    from_line = {
        "star-delta": current / math.sqrt(3),
        "autotransformer": current * settings["tap"] / 100,
        "inverter": power / (math.sqrt(3) * LINE),
    }
    told = re.search(
        r"it has (\d+) N m and draws ([\d.]+) times its rated current from the line; the load takes (\d+) N m to move and (\d+) N m",
        data["question"]["reason"],
    )
    to_move = load_torque(settings, 0.0)
    meant = torque, from_line.get(settings["method"], current) / RATED_CURRENT, to_move, load_torque(settings, SYNC)
    for figure, value, within in zip(told.groups(), meant, (0.51, 0.051, 0.51, 0.51), strict=True):
        assert float(figure) == pytest.approx(value, abs=within)
    if run.outcome == "stays at rest":
        bolts = [needle["vector"] for needle in data["needles"] if needle["words"].startswith("first bolt")]
        assert bolts == [pytest.approx((math.sqrt(0.5), math.sqrt(0.5), 0.0), abs=1e-6)] * len(bolts), "it has not turned"
        formula = next(r["formula"] for r in data["readings"] if r["symbol"] == "T")
        assert float(re.search(r"it would take ([\d.]+) N m to move", formula)[1]) == pytest.approx(to_move, abs=0.06)


def check_board(data, settings):
    """The six letters stand as on a board, and links lie upright or not at all."""
    at = {letter["text"]: letter["at"] for letter in reversed(data["letters"])}  # the bars' letters come before a box's
    if data["view"] == "other-end":  # the panel from behind: of all letters those of the slip rings alone
        assert set(at) == ({"K", "L", "M"} if settings["method"] == "wound-rotor" else set())
        return
    assert at["W2"][0] < at["U2"][0] < at["V2"][0] and at["U1"][0] < at["V1"][0] < at["W1"][0]
    for upper, lower in (("W2", "U1"), ("U2", "V1"), ("V2", "W1")):
        assert at[upper][1] > at[lower][1] and at[upper][0] == pytest.approx(at[lower][0])
    links = {
        frozenset((lead["from"], lead["to"]))
        for lead in data["leads"]
        if not lead["through"] and lead["from"].startswith("motor") and lead["to"].startswith("motor")
    }
    upright = {frozenset(("motor U1", "motor W2")), frozenset(("motor V1", "motor U2")), frozenset(("motor W1", "motor V2"))}
    assert links == (set() if settings["method"] == "star-delta" else upright)
    assert at["L1"][1] > at["L2"][1] > at["L3"][1]


def check_wiring(data, settings, stage, inside, speed):
    leads = data["leads"]
    volts_meant, hertz = feeds(settings)[stage][0](inside if feeds(settings)[stage][2] else 0.0)
    added = feeds(settings)[stage][1]
    boxed = volts_meant / LINE
    volts, lines, nodes = solved(data, winding_impedance(motor_of(settings), hertz, speed, added), boxed)
    across = [abs(volts[f"{phase}1"] - volts[f"{phase}2"]) for phase in "UVW"]
    rising = not stage and settings["method"] in ("soft-starter", "inverter")
    assert across == pytest.approx([value(data, "U")] * 3, abs=4.0 if rising else 0.51)
    if volts_meant:  # U, V, W follow each other as L1, L2, L3 do: clockwise seen from the drive end (IEC 60034-8)
        turned = (volts["V1"] - volts["V2"]) / (volts["U1"] - volts["U2"])
        assert np.angle(turned, deg=True) == pytest.approx(-120, abs=0.1)
        for phase_letter in "UVW":
            assert oracle.in_a_loop(leads, f"winding {phase_letter}"), phase_letter
    if settings["method"] in ("direct", "star-delta", "autotransformer", "wound-rotor"):
        if data["view"] in ("corner", "drive-end") or speed == 0:
            assert lines == pytest.approx([value(data, "I")] * 3, rel=0.03, abs=0.3)
    ends = {name: nodes.find(f"motor {name}") for name in ("U1", "V1", "W1", "U2", "V2", "W2")}
    if settings["method"] == "star-delta" and stage == 0:
        assert ends["U2"] == ends["V2"] == ends["W2"] and len({ends["U1"], ends["V1"], ends["W1"], ends["U2"]}) == 4
    elif settings["method"] != "star-delta" or stage == 2:  # as upright links join them
        assert ends["U1"] == ends["W2"] and ends["V1"] == ends["U2"] and ends["W1"] == ends["V2"]
    check_contacts(data)
    if settings["method"] == "wound-rotor":
        check_rotor(data, stage)
    opened = {mark["words"].removesuffix(" open") for mark in data["marks"] if mark["words"].endswith(" open")}
    loose = {end for end in oracle.loose_ends(leads) if end.rsplit(" ", 1)[0] not in opened}
    assert loose == set()


def check_contacts(data):
    """Marks, labels and conduction agree; three contacts, 1-2, 3-4, 5-6; star and delta are not both closed."""
    labels = {letter["text"] for letter in data["letters"]}
    state = {}
    for mark in data["marks"]:
        thing, is_closed = mark["words"].rsplit(" ", 1)
        state[thing] = is_closed == "closed"
        assert (mark["sign"] > 0) == state[thing]
        made = {(lead["from"], lead["to"]) for lead in data["leads"] if lead["through"] == thing}
        if thing.startswith("step"):
            assert len(made) == (2 if state[thing] else 0)
        else:
            assert made == ({(f"{thing} {a}", f"{thing} {b}") for a, b in ("12", "34", "56")} if state[thing] else set())
            name = thing.removesuffix(" contactor").replace("-point", " point").replace("-voltage", " voltage")
            assert data["view"] == "other-end" or (f"{name}: {is_closed}" if data["view"] == "starter" else name) in labels
    assert not (state.get("star contactor") and state.get("delta contactor"))


def check_rotor(data, stage):
    """From each slip ring through so many resistors to where all three are joined."""
    for ring in "KLM":
        assert ring in {letter["text"] for letter in data["letters"]}
    nodes = Nodes(data["leads"])
    for ring in "KLM" if data["view"] != "starter" else "":  # by lead, brush and ring to its own winding, which the others meet at a star
        through = [(f"rotor {ring}", f"brush {ring}", ""), (f"brush {ring}", f"slip ring {ring}", f"slip ring {ring}")]
        through.append((f"slip ring {ring}", "rotor star point", f"rotor winding {ring}"))
        assert set(through) <= {(lead["from"], lead["to"], lead["through"]) for lead in data["leads"]}
        assert oracle.in_a_loop(data["leads"], f"rotor winding {ring}")
    here = [nodes.find(f"rotor {ring}") for ring in "KLM"]
    passed = 0
    while len(set(here)) > 1:
        for place, ring in enumerate("KLM"):
            lead = next(lead for lead in data["leads"] if lead["through"] == f"resistor {ring} {passed + 1}")
            assert nodes.find(lead["from"]) == here[place]
            here[place] = nodes.find(lead["to"])
        passed += 1
    assert len(set(here)) == 1 and passed == 4 - stage


def check_figures(data, settings, stage, inside):
    """Current and torque from the drawn speed by the circuit; the bars as long as the figures."""
    drawn = pointer(data, "speed, n now")
    if drawn is None:
        return  # seen from near
    speed = drawn * SYNC
    feed, added, seconds, _ = feeds(settings)[stage]
    volts, hertz = feed(inside if seconds else 0.0)
    shown = pointer(data, f"{IN_THE_PICTURE[settings['method']]}, I now") * RATED_CURRENT
    assert value(data, "I") == pytest.approx(shown, abs=0.06)
    assert value(data, "n") == pytest.approx(60 * speed, abs=0.6)
    if settings["method"] not in ("soft-starter", "inverter"):
        current, torque, _ = phase(motor_of(settings), volts, hertz, speed, added) if volts else (0.0, 0.0, 0.0)
        if settings["method"] == "autotransformer" and stage == 0:
            current *= settings["tap"] / 100
        if settings["method"] == "star-delta" and stage == 0:
            current /= math.sqrt(3)  # in delta the line carries root three times what a winding does, in star the same
        # between two recorded moments the scene goes straight
        assert shown == pytest.approx(current, rel=0.03, abs=0.3)
        assert value(data, "T") == pytest.approx(torque, rel=0.03, abs=1.0)
    for method, words in IN_THE_PICTURE.items():
        largest = pointer(data, f"{words}, largest I")
        row = next(r for r in data["readings"] if r["words"] == WORDS[method])
        assert (largest is not None) == (row["value"] != "…")
        if row["unit"] == "× rated":
            assert largest == pytest.approx(row["value"], abs=0.051)


def test_resistors_are_shorted_out_one_step_after_another_from_the_star_point_down(scene):
    settings = {"method": "wound-rotor", "drive": "conveyor", "load": 80.0, "inertia": 20.0, "tap": 65.0, "ramp": 5.0, "curves": "time"}
    scene.set_all(settings)
    for stage, began, _, lasts in Run(settings).pieces:
        time = began + 0.5 * min(lasts, 1.0)
        data = as_data(reached(scene, time, "starter"), time)
        check_rotor(data, stage)
        closed = {mark["words"].removesuffix(" closed") for mark in data["marks"] if mark["sign"] > 0}
        assert closed == {"main contactor", *[f"step {number} contactor" for number in range(1, stage + 1)]}
        at = {letter["text"]: letter["at"][1] for letter in data["letters"]}
        assert f"{4 - stage} of 4 steps in circuit" in at
        assert at["step 1"] > at["step 2"] > at["step 3"] > at["step 4"] > at["K"]


@pytest.mark.parametrize("method", WORDS)
def test_the_shaft_turns_clockwise_seen_from_the_drive_end(scene, method):
    """By two instants a thousandth of a second apart, within which it turns by less than half a turn."""
    scene.set_all({"method": method, "drive": "flywheel", "load": 0.0, "inertia": 2.0, "slow": "1"})
    angles = []
    for time in (0.6, 0.601):
        bolt = next(n for n in as_data(reached(scene, time, "corner"), time)["needles"] if n["words"].startswith("first bolt"))
        angles.append(math.atan2(bolt["vector"][1], bolt["vector"][0]))
    turned = math.remainder(angles[1] - angles[0], 2 * math.pi)
    assert oracle.turning(turned, 1.0) == "clockwise"
    assert abs(turned) == pytest.approx(2 * math.pi * 0.001 * value(as_data(scene, 0.6), "n") / 60, rel=0.1)


@pytest.mark.parametrize("method", WORDS)
def test_a_start_takes_the_time_that_is_told(scene, method):
    settings = {"method": method, "drive": "fan", "load": 60.0, "inertia": 10.0, "tap": 65.0, "ramp": 5.0, "curves": "time", "slow": "1"}
    scene.set_all(settings)
    speed, seconds = (float(figure) for figure in re.search(r"runs up to (\d+) r/min in ([\d.]+) s", scene.says()).groups())
    run = Run(settings)
    settled = 60 * run.at(60.0)[2]
    assert speed == pytest.approx(settled, abs=1.5)
    times = np.linspace(0, 12, 6001)
    first = next(time for time in times if 60 * run.at(time)[2] >= 0.99 * settled)
    assert seconds == pytest.approx(first, rel=0.03, abs=0.02)


def test_seen_from_near_every_terminal_is_marked(scene):
    scene.set_all({"method": "star-delta", "drive": "fan"})
    near, far = (as_data(reached(scene, 0.2, view), 0.2) for view in ("starter", "corner"))
    texts = [[letter["text"] for letter in data["letters"]] for data in (near, far)]
    for number in "123456":
        assert texts[0].count(number) == 3 and texts[1].count(number) == 0


def test_nothing_that_is_drawn_gives_the_answer_away(scene):
    scene.set_all({"method": "star-delta", "drive": "conveyor", "load": 60.0})
    scene.answers_shown = False
    try:
        data = as_data(reached(scene, 0.0, "corner"), 0.0)
        assert not [needle for needle in data["needles"] if "largest" in needle["words"]]
        assert pointer(data, "star-delta, I now") < 0.01 and pointer(data, "speed, n now") < 0.01
        assert scene.plot().lines == () and scene.marks() == []
        for reading in scene.readings():
            assert reading.tells or reading.words == "voltage across each winding"
    finally:
        scene.answers_shown = True


@pytest.mark.parametrize("time", [0.5, 7.0])
def test_star_first_and_then_delta(scene, time):
    """A fan is in star at half a second and in delta, run up, at seven: each winding on U / sqrt 3, then on U, and joined as a board's
    upright links would join them."""
    settings = {
        "method": "star-delta",
        "drive": "fan",
        "load": 60.0,
        "inertia": 10.0,
        "tap": 65.0,
        "ramp": 5.0,
        "curves": "time",
        "slow": "1",
    }
    scene.set_all(settings)
    data = as_data(reached(scene, time, "corner"), time)
    stage, inside, speed = Run(settings).at(time)
    assert stage == (0 if time < 1 else 2)
    assert value(data, "U") == pytest.approx(LINE / (math.sqrt(3) if stage == 0 else 1), abs=0.5)
    check_wiring(data, settings, stage, inside, pointer(data, "speed, n now") * SYNC)

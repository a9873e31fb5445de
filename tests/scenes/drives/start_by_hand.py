"""A start worked out by hand: the motors' circuits, the stages, the run-up, and the wiring by its node voltages."""

from __future__ import annotations

import math
import re

import numpy as np
from scipy.integrate import solve_ivp

from scenes.drives.starting.motors import MOTOR, WOUND

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

"""The change-over from star to delta against the motor phase by phase: nodes solved by `numpy.linalg`, nine coils integrated by scipy.

Known of it (textbooks, memory): the residual voltage decays with the closed rotor and falls behind the supply; the peak at the change-over
may be above that of starting direct on line; with U, V, W following L1, L2, L3 the delta U1-V2 has the smaller peak after a short pause.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from physics.induction import EquivalentCircuit
from physics.induction.transient import star_wound
from physics.shaft.loads import Friction
from physics.starting.changeover import Fed, StarDeltaStart
from physics.terminals import Wiring

# one winding of an 11 kW, 400/690 V motor with two cages, a star on 690 V, and one of about 37 kW: ordinary values, no source
SMALL = EquivalentCircuit(1.235, 2.145, 1.763, 2.145, 73.0, 690.0, 50.0, 4, 1.491, 8.44)
LARGE = EquivalentCircuit(0.24, 0.6, 0.21, 0.6, 27.0, 690.0, 50.0, 4, 0.54, 1.47)
STAR = (("W2", "U2"), ("U2", "V2"))
DELTAS = {"U1-W2": (("U1", "W2"), ("V1", "U2"), ("W1", "V2")), "U1-V2": (("U1", "V2"), ("V1", "W2"), ("W1", "U2"))}
STRAIGHT, SWAPPED = ("U1", "V1", "W1"), ("V1", "U1", "W1")
THIRD = 2 * math.pi / 3


def wiring(links, leads=STRAIGHT) -> Wiring:
    return Wiring(dict(zip(("L1", "L2", "L3"), leads, strict=True)), links)


def node_voltages(links, leads, volts: float) -> np.ndarray:
    """Phasors of U, V, W from end 1 to end 2 by nodes: equal admittances, links as large ones."""
    studs = [phase + end for phase in "UVW" for end in "12"]
    admittance = np.zeros((6, 6), complex)
    pairs = [(phase + "1", phase + "2", 1.0) for phase in "UVW"] + [(a, b, 1e9) for a, b in links]
    for first, second, value in pairs:
        row = np.zeros(6)
        row[studs.index(first)], row[studs.index(second)] = 1, -1
        admittance += value * np.outer(row, row)
    known = {studs.index(stud): volts / math.sqrt(3) * np.exp(-1j * THIRD * k) for k, stud in enumerate(leads)}
    free = [k for k in range(6) if k not in known]
    at = np.zeros(6, complex)
    at[list(known)] = list(known.values())
    at[free] = np.linalg.solve(admittance[np.ix_(free, free)], -admittance[np.ix_(free, list(known))] @ at[list(known)])
    return at[0::2] - at[1::2]


class NineCoils:
    """Three stator phases, three of the starting cage, three of the running cage; mutual inductances are cosines of the angles between
    axes (the machine in phase variables, P. C. Krause). Rotor coils are each short-circuited, stator coils as the loops say."""

    def __init__(self, circuit: EquivalentCircuit, inertia: float, load: float):
        henry = 1 / (2 * math.pi * circuit.frequency)
        self.main, self.pairs = henry * circuit.magnetising_reactance, circuit.poles // 2
        self.leak = henry * np.array([circuit.stator_reactance, circuit.rotor_reactance, circuit.running_cage_reactance])
        self.ohms = np.repeat([circuit.stator_resistance, circuit.starting_cage_resistance, circuit.rotor_resistance], 3)
        self.inertia, self.load = inertia, load

    def inductances(self, angle: float):
        axes = np.tile(THIRD * np.arange(3), 3) + np.repeat([0, angle, angle], 3) * self.pairs
        moving = np.repeat([0, 1, 1], 3) * self.pairs
        between = axes[:, None] - axes[None, :]
        matrix = 2 / 3 * self.main * np.cos(between)
        rate = -2 / 3 * self.main * np.sin(between) * (moving[:, None] - moving[None, :])
        matrix[:3, :3] += self.leak[0] * np.eye(3)
        for a in (1, 2):  # the leakage behind which both cages lie, and that of the running cage alone
            for b in (1, 2):
                matrix[3 * a : 3 * a + 3, 3 * b : 3 * b + 3] += self.leak[1] * np.eye(3)
        matrix[6:, 6:] += self.leak[2] * np.eye(3)
        return matrix, rate

    def paths(self, stator: np.ndarray) -> np.ndarray:
        """(9, loops): the stator's loops and each rotor coil by itself."""
        return np.block([[stator, np.zeros((3, 6))], [np.zeros((6, stator.shape[1])), np.eye(6)]])

    def run(self, stator, voltage, span, fluxes, speed, angle, at):
        """Loop fluxes from `fluxes`; voltage(t) of each loop. Returns currents (9,) and torques at `at`, and the last state."""
        paths = self.paths(stator)
        resistance = paths.T @ np.diag(self.ohms) @ paths
        loops = stator.shape[1]

        def currents(state):
            matrix, rate = self.inductances(state[-1])
            loop = np.linalg.solve(paths.T @ matrix @ paths, state[:-2])
            coil = paths @ loop
            return loop, coil, 0.5 * coil @ rate @ coil

        def rates(time, state):
            loop, _, torque = currents(state)
            given = np.concatenate([voltage(time), np.zeros(6)]) if loops else np.zeros(6)
            held = self.load * np.clip(state[-2] / (2 * math.pi * 0.1), -1, 1)
            return np.concatenate([given - resistance @ loop, [(torque - held) / self.inertia, state[-2]]])

        solved = solve_ivp(rates, span, np.concatenate([fluxes, [speed, angle]]), method="DOP853", t_eval=at, rtol=1e-8, atol=1e-9)
        told = [currents(column) for column in solved.y.T]
        return np.array([coil for _, coil, _ in told]), np.array([torque for *_, torque in told]), solved.y[:, -1]


def started(coils: NineCoils, volts: float, hertz: float, timer: float, pause: float):
    """Star, then the pause: rotor fluxes, speed rad/s and angle when delta closes."""
    phase = node_voltages(STAR, STRAIGHT, volts)
    given = lambda t: math.sqrt(2) * (phase * np.exp(2j * math.pi * hertz * t)).real  # noqa: E731
    star = np.array([[1, 0], [0, 1], [-1, -1.0]])
    *_, end = coils.run(star, lambda t: star.T @ given(t), (0, timer), np.zeros(8), 0.0, 0.0, [timer])
    *_, end = coils.run(np.zeros((3, 0)), None, (timer, timer + pause), end[2:8], end[8], end[9], [timer + pause])
    return end


def closed(coils: NineCoils, links, volts, hertz, began, end, periods=3.0):
    """Delta closes at `began` on the rotor fluxes of `end`: space-vector peak of the lines, peak of the torque, vector difference."""
    phase = node_voltages(links, STRAIGHT, volts)
    given = lambda t: math.sqrt(2) * (phase * np.exp(2j * math.pi * hertz * t)).real  # noqa: E731
    matrix, rate = coils.inductances(end[7])
    rotor = np.linalg.solve(matrix[3:, 3:], end[:6])
    linked = matrix[:3, 3:] @ rotor
    # d(linked)/dt with no stator current: what the moving rotor and its decay induce
    falling = np.linalg.solve(matrix[3:, 3:], -coils.ohms[3:] * rotor)
    residual = matrix[:3, 3:] @ falling + end[6] * rate[:3, 3:] @ rotor
    vector = lambda values: 2 / 3 * values @ np.exp(1j * THIRD * np.arange(3))  # noqa: E731
    at = began + np.linspace(0, periods / hertz, 301)
    currents, torques, _ = coils.run(np.eye(3), given, (at[0], at[-1]), np.concatenate([linked, end[:6]]), end[6], end[7], at)
    lines = np.zeros((len(at), 3))
    for k, winding in enumerate("UVW"):  # of each winding both ends, by the links on a line
        for stud, sign in ((winding + "1", 1), (winding + "2", -1)):
            own = next((k for k, lead in enumerate(STRAIGHT) if lead == stud or (lead, stud) in links or (stud, lead) in links))
            lines[:, own] += sign * currents[:, k]
    return np.abs(vector(lines)).max(), np.abs(torques).max(), abs(vector(given(began)) - vector(residual)) / math.sqrt(2)


def ours(circuit, inertia, load, volts, hertz, timer, pause):
    star = Fed.by(wiring(STAR), volts, hertz)
    return StarDeltaStart(star_wound(circuit, inertia), star, Friction(load).torque, timer, pause)


@pytest.mark.parametrize(
    ("circuit", "inertia", "load", "volts", "hertz", "timer", "pause"),
    [(SMALL, 0.15, 37.0, 400.0, 50.0, 1.1, 0.05), (SMALL, 0.15, 20.0, 400.0, 60.0, 0.8, 0.03), (LARGE, 0.4, 60.0, 400.0, 50.0, 0.9, 0.1)],
)
def test_both_ways_round_have_the_peaks_of_nine_coils(circuit, inertia, load, volts, hertz, timer, pause):
    start, coils = ours(circuit, inertia, load, volts, hertz, timer, pause), NineCoils(circuit, inertia, load)
    end = started(coils, volts, hertz, timer, pause)
    assert 2 * math.pi * start.closing.speed == pytest.approx(end[6], rel=2e-3)
    peaks = {}
    for name, links in DELTAS.items():
        theirs = closed(coils, links, volts, hertz, timer + pause, end)
        peak = start.after(Fed.by(wiring(links), volts, hertz))
        assert (peak.current, peak.torque, peak.difference) == pytest.approx(theirs, rel=4e-3)
        peaks[name] = peak.current
    assert abs(peaks["U1-W2"] / peaks["U1-V2"] - 1) > 0.02, "a set-up in which it matters"


def test_direct_on_line_is_the_same_motor_from_rest():
    start, coils = ours(SMALL, 0.15, 37.0, 400.0, 50.0, 1.0, 0.05), NineCoils(SMALL, 0.15, 37.0)
    theirs = closed(coils, DELTAS["U1-W2"], 400.0, 50.0, 0.0, np.zeros(8))
    direct = start.direct(Fed.by(wiring(DELTAS["U1-W2"]), 400.0, 50.0))
    assert (direct.current, direct.torque) == pytest.approx(theirs[:2], rel=4e-3) and direct.difference == pytest.approx(400.0)


@pytest.mark.parametrize(("leads", "smaller"), [(STRAIGHT, "U1-V2"), (SWAPPED, "other")])
def test_both_ways_turn_the_same_way_and_the_better_one_depends_on_it(leads, smaller):
    """Up to speed, after 50 ms. With two lines swapped the field turns the other way and so the other delta is better (common practice)."""
    deltas = DELTAS if leads == STRAIGHT else {"U1-W2": DELTAS["U1-W2"], "other": DELTAS["U1-V2"]}
    star = Fed.by(wiring(STAR, leads), 400.0, 50.0)
    sense = 1 if leads == STRAIGHT else -1
    start = StarDeltaStart(star_wound(SMALL, 0.15), star, Friction(37.0).torque, 2.0, 0.05)
    assert sense * start.opening.speed > 20
    peaks = {}
    for name, links in deltas.items():
        assert wiring(links, leads).on(400, 50, 1).turns == ("clockwise" if sense > 0 else "counter-clockwise")
        phase = node_voltages(links, leads, 400.0)
        assert np.array(Fed.by(wiring(links, leads), 400.0, 50.0).voltages) == pytest.approx(phase, rel=1e-6)
        # 30 degrees ahead of star in U1-W2, behind in U1-V2, if the sequence is U-V-W, and the reverse if it is U-W-V
        ahead = math.degrees(np.angle(phase[0] / star.voltages[0]))
        assert ahead == pytest.approx(30 * sense if name == "U1-W2" else -30 * sense)
        peaks[name] = start.after(Fed.by(wiring(links, leads), 400.0, 50.0)).current
    assert min(peaks, key=peaks.get) == (smaller if sense > 0 else "U1-W2")


def test_the_residual_voltage_falls_behind_and_decays():
    """One cage, speed held: V = Lm/L2 |j p w - R2/L2| |F2|, F2 falling with L2/R2 (exact; textbooks, memory)."""
    one = replace(SMALL, starting_cage_resistance=math.inf, running_cage_reactance=0.0)
    before = None
    for pause in (0.01, 0.05, 0.1):
        windings = replace(star_wound(one, 1e6), inertia=1e6)
        start = StarDeltaStart(windings, Fed.by(wiring(STAR), 400.0, 50.0), Friction(0.0).torque, 0.2, pause)
        decay = windings.rotor_resistance / windings.rotor_inductance
        speed = 2 * math.pi * windings.pole_pairs * start.closing.speed
        known = windings.sent_over * abs(complex(-decay, speed)) * abs(start.opening.rotor_flux) * math.exp(-decay * pause)
        assert abs(start.residual) == pytest.approx(known, rel=1e-6)
        assert before is None or abs(start.residual) < before
        before = abs(start.residual)


def test_a_long_time_in_star_changes_nothing_once_it_runs():
    """What is left out of a long star is whole periods: after 7.013 s the same as after 3 s, and the supply is in the same place."""
    short, long = (ours(SMALL, 0.15, 37.0, 400.0, 50.0, timer, 0.05) for timer in (3.0, 7.013))
    assert long.closing.speed == pytest.approx(short.closing.speed, rel=1e-6)
    for links in DELTAS.values():
        fed = Fed.by(wiring(links), 400.0, 50.0)
        assert long.after(fed).current == pytest.approx(short.after(fed).current, rel=1e-4)
    left_out = (7.013 - long.opening.time) * 50
    assert left_out > 100 and left_out == pytest.approx(round(left_out), abs=1e-6)
    inside = ours(SMALL, 0.15, 37.0, 400.0, 50.0, 0.055, 0.05)
    assert inside.opening.time == pytest.approx(0.055) and long.closing.time == pytest.approx(7.063)


def test_early_the_current_stays_late_it_is_a_short_peak():
    """Changed over at a low speed the motor draws its standstill current in delta for long; late, only the peak is left."""
    fed = Fed.by(wiring(DELTAS["U1-V2"]), 400.0, 50.0)
    early, late = (ours(SMALL, 0.15, 37.0, 400.0, 50.0, timer, 0.03) for timer in (0.3, 2.0))
    assert early.after(fed).current > 0.9 * early.direct(fed).current and late.after(fed).current < 0.8 * late.direct(fed).current


def test_what_is_not_a_whole_star_or_delta_is_refused():
    for links in ((("W2", "U2"),), (("U1", "U2"), ("V1", "V2"))):
        with pytest.raises(ValueError, match="whole star or delta"):
            Fed.by(wiring(links), 400.0, 50.0)
    with pytest.raises(ValueError, match="whole star or delta"):
        Fed.by(wiring(STAR, ("U1", "V1", "W2")), 400.0, 50.0)
    with pytest.raises(ValueError, match="timer"):
        ours(SMALL, 0.15, 37.0, 400.0, 50.0, 0.0, 0.05)

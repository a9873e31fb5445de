"""The motor on any joining: against a nodal solution of the test's own with coupled windings, against the plain circuit, and closed
forms. The method (symmetrical components, slip s and 2 - s) is handbook knowledge, from memory."""

from __future__ import annotations

import cmath
import math
import random

import numpy as np
import pytest
from scipy.optimize import brentq

from physics.induction import EquivalentCircuit
from physics.induction.joined_windings import JoinedMotor
from physics.terminals import LINES, PHASES, STUDS, Wiring

CIRCUIT = EquivalentCircuit(0.415, 0.721, 0.5926, 0.721, 24.54, 400.0, 50.0, 4, 0.5011, 2.836)
RATED_SLIP = 35 / 1500
MOTOR = JoinedMotor(CIRCUIT, RATED_SLIP)
STRAIGHT = {"L1": "U1", "L2": "V1", "L3": "W1"}
STAR, DELTA = (("W2", "U2"), ("U2", "V2")), (("U1", "W2"), ("V1", "U2"), ("W1", "V2"))


def rotor(slip: float, ratio: float) -> complex:
    """Ohm of the rotor branch at its slip: the running cage beside the starting cage, leakage of both in series."""
    running = 0.5926 / slip + 1j * ratio * 2.836
    starting = 0.5011 / slip
    return running * starting / (running + starting) + 1j * ratio * 0.721


def branch(slip: float, ratio: float, flux: float) -> complex:
    """Ohm of rotor and magnetising reactance side by side; the latter falls as the flux grows, 0.75 u + 0.25 u^7 being the current."""
    magnetising = 1j * ratio * 24.54 / (0.75 + 0.25 * flux**6)
    return magnetising if abs(slip) < 1e-12 else magnetising * rotor(slip, ratio) / (magnetising + rotor(slip, ratio))


def rated_gap() -> float:
    """V at the rated point, at which the circuit's own magnetising reactance holds."""
    gap = 24.54j * rotor(RATED_SLIP, 1.0) / (24.54j + rotor(RATED_SLIP, 1.0))
    return abs(400 / math.sqrt(3) * gap / (0.415 + 0.721j + gap))


def coupled(in_phase: complex, forward: complex, backward: complex) -> np.ndarray:
    """Ohm: what 1 A in winding k makes in winding j, from what currents in phase and in either order make."""
    matrix = np.zeros((3, 3), complex)
    for j in range(3):
        for k in range(3):
            turn = cmath.rect(1, -2 * math.pi * (j - k) / 3)
            matrix[j, k] = (in_phase + forward * turn + backward / turn) / 3
    return matrix


def currents(wiring: Wiring, volts: float, matrix: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Of windings and lines: every stud and line a node, every winding, link, lead and source a branch with its own current."""
    nodes = [*STUDS, *LINES]
    links = [(*link, None) for link in wiring.links] + [(line, stud, None) for line, stud in wiring.leads.items()]
    sources = [(line, None, volts / math.sqrt(3) * cmath.rect(1, -2 * math.pi * k / 3)) for k, line in enumerate(LINES)]
    ends = [(p + "2", p + "1") if p in wiring.reversed_windings else (p + "1", p + "2") for p in PHASES]
    size = len(nodes) + 3 + len(links) + len(sources)
    a, b = np.zeros((size, size), complex), np.zeros(size, complex)
    for k, (first, second, *rest) in enumerate([*ends, *links, *sources], len(nodes)):
        for node, sign in ((first, 1), (second, -1)):
            if node is not None:
                a[nodes.index(node), k] += sign
                a[k, nodes.index(node)] += sign
        b[k] = (rest[0] or 0) if rest else 0
    n = len(nodes)
    a[n : n + 3, n : n + 3] = -matrix
    solved = np.linalg.lstsq(a, b, rcond=1e-12)[0]
    order = [line for line in wiring.leads]
    first_lead = n + 3 + len(wiring.links)
    lines = np.array([solved[first_lead + order.index(line)] if line in order else 0 for line in LINES])
    return solved[n : n + 3], lines


def components(values) -> tuple[complex, complex]:
    """The parts that follow U-V-W and U-W-V: each phase turned back by its place and the mean taken."""
    return tuple(sum(v * cmath.rect(1, sign * 2 * math.pi * k / 3) for k, v in enumerate(values)) / 3 for sign in (1, -1))


def expected(wiring: Wiring, volts: float, frequency: float, speed: float):
    """Winding and line currents, torque: the flux sought so that it gives itself."""
    ratio, slip = frequency / 50, 1 - speed
    stator = 0.415 + 0.721j * ratio

    def at(flux):
        gaps = branch(slip, ratio, flux), branch(2 - slip, ratio, flux)
        windings, lines = currents(wiring, volts, coupled(stator, stator + gaps[0], stator + gaps[1]))
        sizes = [abs(part * gap) for part, gap in zip(components(windings), gaps, strict=True)]
        return windings, lines, gaps, sum(sizes) / (ratio * rated_gap()) - flux

    flux = brentq(lambda u: at(u)[3], 0.0, 5.0, xtol=1e-13)
    windings, lines, gaps, _ = at(flux)
    forward, backward = components(windings)
    across = 3 * abs(forward) ** 2 * gaps[0].real - 3 * abs(backward) ** 2 * gaps[1].real
    return windings, lines, across / (2 * math.pi * frequency / 2)  # four poles: two cycles in a turn


def a_wiring(dice) -> Wiring:
    lines = dice.sample(LINES, dice.choice((1, 2, 3, 3, 3, 3)))
    links = dice.choice((STAR, DELTA, DELTA[:2], STAR[:1], tuple(tuple(dice.sample(STUDS, 2)) for _ in range(dice.randint(0, 3)))))
    return Wiring(dict(zip(lines, dice.sample(STUDS, len(lines)), strict=True)), links, dice.sample(PHASES, dice.choice((0, 0, 1))))


@pytest.mark.parametrize("seed", range(80))
def test_any_joining_is_as_the_nodes_and_the_coupled_windings_have_it(seed):
    dice = random.Random(seed)
    wiring, volts, frequency = a_wiring(dice), dice.choice((230.0, 400.0, 690.0)), dice.choice((50.0, 60.0))
    speed = dice.choice((0.0, 1.0, dice.uniform(-1.1, 1.1)))
    network = wiring.network(volts)
    if any(network.shorted):
        assert wiring.on(volts, 50, 1).kind == "short circuit"
        return
    found = MOTOR.on(network, frequency, speed)
    windings, lines, torque = expected(wiring, volts, frequency, speed)
    np.testing.assert_allclose(found.currents, windings, atol=2e-6)
    np.testing.assert_allclose(found.line_currents, lines, atol=2e-6)
    assert found.torque == pytest.approx(torque, abs=1e-5)
    # energy: what the lines bring is heat and motion, and motion is torque times speed
    supplied = (network.supply @ found.line_currents.conj()).real
    assert found.input_power == pytest.approx(supplied, abs=1e-4)
    assert found.stator_loss + found.rotor_loss + found.converted_power == pytest.approx(supplied, abs=1e-4)
    assert found.converted_power == pytest.approx(float(found.torque) * speed * 2 * math.pi * frequency / 2, abs=1e-4)
    assert found.stator_loss == pytest.approx(0.415 * np.sum(np.abs(windings) ** 2), abs=1e-4) and found.rotor_loss >= -1e-6


def test_in_star_on_its_own_voltage_it_is_the_plain_circuit_at_the_rated_point():
    found = MOTOR.on(Wiring(STRAIGHT, STAR).network(400.0), 50.0, 1 - RATED_SLIP)
    point = CIRCUIT.at(RATED_SLIP)
    np.testing.assert_allclose(np.abs(found.line_currents), abs(complex(point.stator_current)), rtol=1e-9)
    assert found.torque == pytest.approx(float(point.torque)) and found.flux == pytest.approx(1.0)


def test_star_against_delta():
    """Where the iron does not saturate more: delta on 1/sqrt(3) of the voltage is the same motor, on sqrt(3) times the line current;
    star on the voltage for delta takes a third of its torque and current (closed forms, star-delta starting)."""
    speeds = np.array([0.0, 0.5, 0.9])
    star, same = MOTOR.on(Wiring(STRAIGHT, STAR).network(400.0), 50, speeds), Wiring(STRAIGHT, DELTA).network(400.0 / math.sqrt(3))
    delta = MOTOR.on(same, 50, speeds)
    np.testing.assert_allclose(delta.torque, star.torque, rtol=1e-9)
    np.testing.assert_allclose(np.abs(delta.line_currents), math.sqrt(3) * np.abs(star.line_currents), rtol=1e-9)
    weak = MOTOR.on(Wiring(STRAIGHT, STAR).network(400.0 / math.sqrt(3)), 50, 0.0)
    assert weak.torque / delta.torque[0] == pytest.approx(1 / 3, rel=0.02)
    assert abs(weak.line_currents[0]) / abs(delta.line_currents[0, 0]) == pytest.approx(1 / 3, rel=0.02)
    assert MOTOR.on(Wiring(STRAIGHT, DELTA).network(400.0), 50, 1.0).flux > 1.5  # of no use: the iron is full


def test_a_phase_lost_at_standstill_and_running():
    """At standstill two windings in series on the line voltage: sqrt(3)/2 of the three-phase current and no torque; running it keeps a
    torque, draws more than sqrt(3) times the current for the same torque, and the open winding has a voltage of its own (handbook
    facts on single-phasing, memory)."""
    whole, lost = Wiring(STRAIGHT, STAR), Wiring({"L1": "U1", "L2": "V1"}, STAR)
    standing = [MOTOR.on(wiring.network(400.0), 50, 0.0) for wiring in (whole, lost)]
    assert abs(standing[1].line_currents[0] / standing[0].line_currents[0]) == pytest.approx(math.sqrt(3) / 2, rel=0.01)
    assert standing[1].torque == pytest.approx(0, abs=1e-9)
    needed = 40.0
    drawn = []
    for wiring in (whole, lost):
        network = wiring.network(400.0)
        speed = brentq(lambda v, on=network: float(MOTOR.on(on, 50, v).torque) - needed, 0.93, 0.9999)
        drawn.append(float(np.abs(MOTOR.on(network, 50, speed).line_currents).max()))
    assert drawn[1] > 1.7 * drawn[0]
    running = MOTOR.on(lost.network(400.0), 50, 0.98)
    assert abs(running.currents[2]) == 0 and abs(running.voltages[2]) > 150


@pytest.mark.parametrize("links", [STAR, DELTA])
def test_turning_it_backward_is_as_swapping_two_leads(links):
    swapped = Wiring({"L1": "V1", "L2": "U1", "L3": "W1"}, links)
    speeds = np.linspace(-1, 1, 9)
    one, other = (MOTOR.on(wiring.network(400.0), 50, speeds) for wiring in (Wiring(STRAIGHT, links), swapped))
    np.testing.assert_allclose(one.torque, -other.torque[::-1], atol=1e-8)
    assert one.torque[4] > 0, "U-V-W on L1-L2-L3 turns clockwise seen from the drive end (IEC 60034-8)"


def test_what_cannot_be_is_said():
    saturating = EquivalentCircuit(0.4, 0.7, 0.5, 0.7, 24.0, 400.0, 50.0, 4, saturable_reactance=0.5, saturation_current=20.0)
    with pytest.raises(ValueError, match="leakage that does not saturate"):
        JoinedMotor(saturating, RATED_SLIP)
    with pytest.raises(ValueError, match="rated_slip"):
        JoinedMotor(CIRCUIT, 0.0)
    with pytest.raises(ValueError, match="frequency"):
        MOTOR.on(Wiring(STRAIGHT, STAR).network(400.0), 0.0, 1.0)
    with pytest.raises(ValueError, match="line_voltage"):
        Wiring(STRAIGHT, STAR).network(-1.0)

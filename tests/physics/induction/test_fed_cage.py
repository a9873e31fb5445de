"""A cage on a supply against the equivalent circuit worked out here branch by branch, and against the forces on its bars."""

from __future__ import annotations

import cmath
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from physics.cage import Cage
from physics.cage.motion import RotorMoment, TurningGapField, bars, peak_at
from physics.induction import EquivalentCircuit
from physics.induction.fed_cage import CageOnSupply
from physics.induction.gap import Bore, steady_cage

TURNS, RADIUS, LENGTH = 290.0, 0.05, 0.07
FIFTY = settings(max_examples=50, deadline=None)


def motor(pole_pairs=1, missing=(), sense=-1.0, frequency=50.0, bars_in_it=17) -> CageOnSupply:
    circuit = EquivalentCircuit(4.0, 7.0 * frequency / 50, 1.0, 1.0, 140.0 * frequency / 50, 400.0, frequency, 2 * pole_pairs)
    cage = Cage(bars_in_it, 40e-6, 0.2e-6, 2e-6, 1e-8, RADIUS, LENGTH, missing)
    return CageOnSupply(circuit, cage, Bore(RADIUS, LENGTH, TURNS, 1.0), sense)


def by_hand(fed: CageOnSupply, slip: float) -> tuple[complex, complex, float]:
    """Stator current, gap voltage and torque of the exact circuit, by Kirchhoff's laws at its two nodes (any textbook):
    rotor per phase 12 (N k_w)^2 / bars times a bar with its share of both rings."""
    circuit, cage = fed.circuit, fed.cage
    omega = 2 * math.pi * circuit.frequency
    ring = complex(cage.ring_resistance, omega * cage.ring_inductance) / (2 * math.sin(math.pi * fed.pole_pairs / cage.bars) ** 2)
    one = complex(cage.bar_resistance, omega * cage.bar_inductance) + ring
    referred = 12 * TURNS**2 / cage.bars * one
    branch = referred.real / slip + 1j * referred.imag
    # unknowns: stator current, rotor current
    stator, magnetising = complex(circuit.stator_resistance, circuit.stator_reactance), 1j * circuit.magnetising_reactance
    volts = circuit.line_voltage / math.sqrt(3)
    current, rotor = np.linalg.solve([[stator + magnetising, -magnetising], [-magnetising, magnetising + branch]], [volts, 0])
    torque = 3 * abs(rotor) ** 2 * referred.real / slip / (omega / fed.pole_pairs)
    return current, rotor * branch, torque


@FIFTY
@given(slip=st.floats(0.002, 2), pole_pairs=st.sampled_from([1, 2, 3, 4]), frequency=st.sampled_from([20.0, 50.0, 60.0]))
def test_torque_over_slip_is_that_of_the_circuit(slip, pole_pairs, frequency):
    for signed in (slip, -slip):
        fed = motor(pole_pairs, frequency=frequency)
        current, induced, torque = by_hand(fed, signed)
        point = fed.running(signed)
        assert point.stator_current == pytest.approx(current, rel=1e-9)
        assert point.gap_voltage == pytest.approx(induced, rel=1e-9)
        assert point.torque == pytest.approx(torque, rel=1e-9)


@FIFTY
@given(slip=st.floats(-0.5, 2), pole_pairs=st.sampled_from([1, 2, 3, 4]), sense=st.sampled_from([-1.0, 1.0]), stands=st.floats(-3, 3))
def test_the_forces_on_its_bars_add_up_to_the_torque_of_the_circuit(slip, pole_pairs, sense, stands):
    fed = motor(pole_pairs, sense=sense)
    moment = RotorMoment(0.7, stands, (1 - slip) * fed.speed)
    state = bars(fed.cage, fed, moment)
    expected = by_hand(fed, slip)[2] if abs(slip) > 1e-15 else 0.0  # below, the resistance over the slip overflows
    assert sense * state.torque == pytest.approx(expected, rel=1e-8, abs=1e-9)
    assert np.sum(state.force) * RADIUS == pytest.approx(state.torque)


@pytest.mark.parametrize("missing", [(0,), (0, 1, 2), (3, 9)])
@pytest.mark.parametrize("slip", [0.05, 0.4, 1.0])
def test_with_bars_missing_the_mean_over_a_slip_period_is_the_torque_across_the_gap(missing, slip):
    fed = motor(2, missing)
    speed = (1 - slip) * fed.speed
    turned = np.linspace(0, 2 * math.pi, 48, endpoint=False)
    mean = np.mean([bars(fed.cage, fed, RotorMoment(0.0, angle, speed)).torque for angle in turned])
    assert -mean == pytest.approx(fed.running(slip).torque, rel=1e-9)
    if slip < 0.5:  # nearer to standstill fewer bars are like more resistance
        assert fed.running(slip).torque < motor(2).running(slip).torque


@pytest.mark.parametrize("sense", [-1.0, 1.0])
def test_its_field_stands_where_the_bridge_from_the_circuit_has_it(sense):
    """As a motor of which phase U has its peak at time 0 has it a quarter of a period later."""
    fed = motor(2, sense=sense)
    rotor = fed.cage.referred(TURNS, 1.0, 50, 2)
    circuit = EquivalentCircuit(4.0, 7.0, *rotor, 140.0, 400.0, 50.0, 4)
    bore = Bore(RADIUS, LENGTH, TURNS, 1.0, "clockwise" if sense < 0 else "counter-clockwise")
    for slip in (-0.1, 0.04, 1.0):
        moment = RotorMoment(0.0, 0.3, (1 - slip) * fed.speed)
        ours, theirs = bars(fed.cage, fed, moment), steady_cage(circuit, slip, fed.cage, bore, 0.005, 0.3)
        assert ours.current == pytest.approx(theirs.current, rel=1e-7, abs=1e-6)
        assert ours.lag == pytest.approx(theirs.lag)


def test_under_load_the_field_falls_and_a_field_held_constant_does_not():
    fed = motor()
    crests = [abs(fed.at((1 - slip) * fed.speed)) for slip in (0.0, 0.05, 0.3, 1.0)]
    assert crests == sorted(crests, reverse=True) and crests[-1] < 0.7 * crests[0]
    held = TurningGapField(0.5, 1, fed.speed)
    assert {peak_at(held, RotorMoment(0.2, 0.0, speed)) for speed in (0.0, -100.0, -314.0)} == {(0.5, 0.2)}


@pytest.mark.parametrize("slip", [-0.2, 0.0, 0.05, 1.0])
def test_a_field_that_is_held_asks_for_the_voltage_that_would_leave_it(slip):
    fed = motor()
    point = fed.running(slip)
    crest = abs(fed.at((1 - slip) * fed.speed))
    held = fed.with_field(crest, slip)
    assert abs(held.phase_voltage) == pytest.approx(400 / math.sqrt(3))
    assert abs(held.stator_current) == pytest.approx(abs(point.stator_current))
    assert held.torque == pytest.approx(point.torque)
    # 4.44 f N Phi, handbook
    assert abs(point.gap_voltage) == pytest.approx(4.443 * 50 * TURNS * 2 * crest * RADIUS * LENGTH, rel=2e-4)


def test_stator_and_rotor_field_make_the_gap_field():
    """As space vectors: what the stator's current would make alone, and what the bars' would, add up to what is there."""
    fed = motor(2)
    slip = 0.07
    moment = RotorMoment(0.0, 0.0, (1 - slip) * fed.speed)
    point, state = fed.running(slip), bars(fed.cage, fed, moment)
    crest, angle = peak_at(fed, moment)
    stator = fed.peak_of(point.stator_current * 140.0) * cmath.exp(
        1j * (2 * angle + fed.sense * (cmath.phase(point.stator_current * 140j / point.gap_voltage)))
    )
    rotor = fed.rotor_field(state.reaction_mmf) * cmath.exp(2j * state.reaction_axis)
    assert stator + rotor == pytest.approx(crest * cmath.exp(2j * angle), rel=1e-9)

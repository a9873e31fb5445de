"""The motor on its shaft against scipy's integration of the same torque, and its bars against those of a cage."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from physics.cage import Cage
from physics.induction import EquivalentCircuit
from physics.induction.motion import SlipMoment, advance, bar_currents, settled_slip, slip_of
from physics.shaft.shafts import FreeShaft

MOTOR = EquivalentCircuit(6.0, 9.0, 5.0, 9.0, 180.0, 400.0, 50.0, 4)
INERTIA = 3e-3


@pytest.mark.parametrize("sense", [1.0, -1.0])
@pytest.mark.parametrize(("load", "speed"), [(0.0, 0.0), (4.0, 25.0), (12.0, 25.0)])
def test_field_rotor_and_laps_are_those_of_scipy(sense, load, speed):
    shaft = FreeShaft(INERTIA, dry_friction=load, viscous_friction=2e-3)

    def rates(_, state):
        slip = (MOTOR.synchronous_speed - state[0]) / MOTOR.synchronous_speed
        torque = float(MOTOR.at(slip).torque) - load - 2e-3 * 2 * np.pi * state[0]
        return [torque / INERTIA / (2 * np.pi), state[0], slip * MOTOR.synchronous_speed]

    seconds = 0.05
    reference = solve_ivp(rates, (0, seconds), [speed, 0.0, 0.0], rtol=1e-9, atol=1e-9).y[:, -1]
    assert reference[0] > 0, "the comparison holds as long as it turns"
    moment = SlipMoment(speed=sense * speed)
    for _ in range(5):
        moment = advance(MOTOR, sense, shaft, moment, seconds / 5)
    assert sense * moment.speed == pytest.approx(reference[0], abs=0.02 * MOTOR.synchronous_speed)
    assert sense * moment.rotor_turns == pytest.approx(reference[1], abs=0.01)
    assert sense * moment.laps_of_slip == pytest.approx(reference[2], abs=0.01)
    assert sense * moment.field_turns == pytest.approx(seconds * MOTOR.synchronous_speed)


def test_it_comes_to_the_slip_of_its_load_or_stalls():
    _, breakdown = MOTOR.breakdown()
    for share in (0.2, 0.6, 0.95):
        load = share * breakdown
        moment = advance(MOTOR, -1.0, FreeShaft(INERTIA, dry_friction=load), SlipMoment(speed=-24.9), 1.0)
        assert settled_slip(MOTOR, load) == pytest.approx(MOTOR.slip_at_torque(load), abs=1e-6)
        assert slip_of(MOTOR, -1.0, moment.speed) == pytest.approx(MOTOR.slip_at_torque(load), abs=1e-4)
    stalled = advance(MOTOR, -1.0, FreeShaft(INERTIA, dry_friction=1.05 * breakdown), SlipMoment(speed=-24.9), 3.0)
    assert stalled.speed == 0
    assert settled_slip(MOTOR, 1.05 * breakdown) == 1


def test_viscous_friction_adds_to_the_slip():
    slip = settled_slip(MOTOR, 3.0, 0.1)
    point = MOTOR.at(slip)
    assert float(point.torque) == pytest.approx(3.0 + 0.1 * float(point.speed), rel=1e-4)


@pytest.mark.parametrize("slip", [0.05, 0.3, 1.0, 1.6, -0.1])
@pytest.mark.parametrize("sense", [1.0, -1.0])
@pytest.mark.parametrize("pairs", [1, 2, 3])
def test_bars_carry_what_those_of_a_cage_with_that_lag_carry(slip, sense, pairs):
    """Against `Cage`, whose rings are made to count for nothing, with the same ratio of reactance to resistance."""
    motor = EquivalentCircuit(6.0, 9.0, 5.0, 7.0, 180.0, 400.0, 50.0, 2 * pairs)
    cage = Cage(28, 1e-4, 1e-4 * 7.0 / 5.0 / (2 * np.pi * 50.0), 1e-12, 1e-16, 0.05, 0.06)
    field_speed = sense * 2 * np.pi * motor.synchronous_speed
    crest = 0.7
    state = cage.steady(0.5, pairs, field_speed, (1 - slip) * field_speed, crest)
    shares = bar_currents(motor, slip, sense, cage.bar_angles - crest)
    largest = 0.5 * cage.length * cage.radius * abs(slip * field_speed) / abs(cage.effective_impedance(pairs, pairs * slip * field_speed))
    assert shares == pytest.approx(state.current / largest, abs=1e-4)

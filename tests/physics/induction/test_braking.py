"""Braking: direct current against closed forms and the windings from moment to moment; what plugging and a direct start leave in the
rotor; what a motor driven past synchronous speed gives back."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import quad

from physics.induction import EquivalentCircuit
from physics.induction.direct_current import EQUIVALENT, BrakedMotor, equivalent_current
from physics.induction.run_up import run
from physics.induction.transient import MotorState, star_wound
from tests.physics.induction.test_joined_windings import CIRCUIT

ONE_CAGE = EquivalentCircuit(0.641, 1.106, 0.332, 0.464, 26.3, 460.0, 60.0, 4)  # Chapman's wound-rotor example, see references
SLIP = 0.022


def mmf(currents) -> complex:
    """Of three windings 120 degrees apart, of one turn each."""
    return sum(
        current * complex(math.cos(turn), math.sin(turn))
        for current, turn in zip(currents, (0, 2 * math.pi / 3, 4 * math.pi / 3), strict=True)
    )


@pytest.mark.parametrize(
    ("joined", "shares"),
    [
        ("star, two terminals", (1, -1, 0)),
        ("star, one terminal against two", (1, -0.5, -0.5)),
        ("delta, two terminals", (2 / 3, -1 / 3, -1 / 3)),
    ],
)
def test_the_equivalent_current_has_the_same_mmf(joined, shares):
    """Balanced currents of 1 A r.m.s. at an instant: sqrt(2) times cosines a third of a cycle apart. sqrt(2/3), sqrt(1/2) and sqrt(2)/3
    are the handbook's values (memory)."""
    balanced = abs(mmf([math.sqrt(2) * math.cos(0.4 - 2 * math.pi * k / 3) for k in range(3)]))
    assert equivalent_current(10.0, joined) == pytest.approx(10 * abs(mmf(shares)) / balanced)
    with pytest.raises(ValueError, match="joined"):
        equivalent_current(1.0, "star")


def test_the_largest_torque_is_where_the_handbook_has_it():
    """One cage, no saturation: the peak at the speed R2 / (X2 + Xm) of synchronous speed, 3 I^2 Xm^2 / (2 w (X2 + Xm)) (handbook)."""
    current = 30.0
    speeds = np.linspace(0.0, 0.2, 200001)
    point = BrakedMotor(ONE_CAGE, SLIP, current, saturates=False).at(speeds)
    best = int(np.argmax(point.torque))
    assert speeds[best] == pytest.approx(0.332 / (0.464 + 26.3), rel=1e-3)
    assert point.torque[best] == pytest.approx(3 * current**2 * 26.3**2 / (2 * 60 * math.pi * (0.464 + 26.3)), rel=1e-6)


@pytest.mark.parametrize("speed", [0.05, 0.3, 0.9])
def test_the_windings_from_moment_to_moment_come_to_the_same(speed):
    """A stator fed with a steady voltage for the current, its rotor held at that speed, once the transient is over."""
    current = 30.0
    motor = star_wound(ONE_CAGE, math.inf)
    volts = 0.641 * math.sqrt(2) * current
    history = run(motor, MotorState(speed=30 * speed), 3.0, 0.01, lambda time: volts + 0j, lambda speed: 0.0)
    point = BrakedMotor(ONE_CAGE, SLIP, current, saturates=False).at(speed)
    assert -history.torque[-1] == pytest.approx(float(point.torque), rel=1e-3)
    assert history.rotor_loss[-1] == pytest.approx(float(point.rotor_loss), rel=1e-3)


def heat_over_energy(torque, loss, first: float, last: float) -> float:
    """Rotor heat over the energy stored at speed 1, as the speed goes from first to last on its own torque: J dw = T dt."""
    return abs(quad(lambda speed: float(loss(speed)) / float(torque(speed)), first, last, limit=200)[0]) / (0.5 * 2 * math.pi * 25)


def test_rotor_heat_three_times_by_plugging_once_by_direct_current_and_by_a_start():
    """Without load, in terms of the energy of the drive at synchronous speed: to rest from it on swapped lines 3, on direct current 1,
    from rest to it 1 (handbook, J w^2 (s1^2 - s2^2) / 2); a cage with two cages and a saturating iron make no difference."""
    plugged = heat_over_energy(lambda v: CIRCUIT.at(1 + v).torque, lambda v: CIRCUIT.at(1 + v).rotor_loss, 1.0, 0.0)
    started = heat_over_energy(lambda v: CIRCUIT.at(1 - v).torque, lambda v: CIRCUIT.at(1 - v).rotor_loss, 0.0, 1 - 1e-9)
    braked = BrakedMotor(CIRCUIT, 35 / 1500, 30.0)
    direct = heat_over_energy(lambda v: braked.at(v).torque, lambda v: braked.at(v).rotor_loss, 1.0, 1e-6)
    assert (plugged, started, direct) == pytest.approx((3.0, 1.0, 1.0), rel=1e-4)


def test_saturation_takes_most_near_rest_and_flux_never_grows_with_speed():
    speeds = np.linspace(0.0, 1.0, 101)
    full, linear = (BrakedMotor(CIRCUIT, 35 / 1500, 40.0, saturates).at(speeds) for saturates in (True, False))
    assert full.torque.max() < 0.6 * linear.torque.max() and full.torque[-1] == pytest.approx(linear.torque[-1], rel=0.03)
    assert (np.diff(np.abs(full.flux)) <= 1e-12).all()
    # at rest all of it magnetises: 0.75 u + 0.25 u^7 of the rated flux is what 40 A gives against that of the rated point
    at_rest = abs(full.flux[0])
    rated = abs(complex(CIRCUIT.at(35 / 1500).gap_voltage)) / 24.54
    assert 0.75 * at_rest + 0.25 * at_rest**7 == pytest.approx(40.0 / rated, rel=1e-6)
    assert full.torque[0] == 0 and full.rotor_current[0] == 0


def test_past_synchronous_speed_power_flows_back_and_adds_up():
    """Chapman's motor driven as far past synchronous speed as it slips when loaded: the shaft gives what the lines get, and the heat."""
    point = ONE_CAGE.at(-SLIP)
    assert point.torque < 0 and point.input_power < 0
    shaft = -float(point.converted_power)
    assert shaft == pytest.approx(-float(point.torque) * 2 * math.pi * 30 * (1 + SLIP))
    assert shaft == pytest.approx(-float(point.input_power) + float(point.stator_loss) + float(point.rotor_loss))


def test_every_joining_has_its_share():
    assert set(EQUIVALENT) == {"star, two terminals", "star, one terminal against two", "delta, two terminals"}
    with pytest.raises(ValueError, match="rated_slip"):
        BrakedMotor(CIRCUIT, 0.0, 10.0)
    with pytest.raises(ValueError, match="current"):
        BrakedMotor(CIRCUIT, 0.02, -1.0)

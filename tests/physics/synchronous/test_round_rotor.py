"""The round-rotor machine in steady running: against EMF behind a reactance, the phasor diagram, and a textbook's example."""

import cmath
import math

import numpy as np
import pytest

from physics.synchronous import SynchronousMachine
from physics.synchronous.round_rotor import Damper, RoundRotorMachine, pull_out, running_at_angle, running_at_load

LOSSLESS = RoundRotorMachine(resistance=0.0, reactance=5.0, leakage_reactance=0.5, frequency=50, poles=4)
REAL = RoundRotorMachine(0.32, 9.6, 1.07, 50, 2, Damper(0.53, 1.07))


@pytest.mark.parametrize("degrees", [-80, -10, 0, 25, 60, 90])
def test_without_resistance_it_is_the_emf_behind_a_reactance(degrees):
    plain, delta = SynchronousMachine(400, 360, 5, 50, 4), math.radians(degrees)
    running = running_at_angle(LOSSLESS, 400, 360, delta)
    assert running.torque == pytest.approx(plain.torque(delta), abs=1e-9)
    assert running.load_angle == pytest.approx(delta)
    # the same current, turned until the terminal voltage is at angle 0, and peak for r.m.s.
    turned = running.current * abs(running.voltage) / running.voltage / math.sqrt(2)
    assert turned == pytest.approx(plain.current(delta))


def test_pull_out_without_resistance_is_that_of_the_closed_form():
    most = pull_out(LOSSLESS, 400, 360)
    angle, torque = SynchronousMachine(400, 360, 5, 50, 4).pull_out()
    assert most.torque == pytest.approx(torque) and most.load_angle == pytest.approx(angle)


def test_pull_out_with_resistance_is_the_largest_torque_of_all_angles():
    torques = [running_at_angle(REAL, 400, 540, angle).torque for angle in np.linspace(0, math.pi, 20001)]
    assert pull_out(REAL, 400, 540).torque == pytest.approx(max(torques), rel=1e-7)


@pytest.mark.parametrize("emf", [250, 400, 540, 700])
@pytest.mark.parametrize("share", [-0.8, 0.0, 0.5, 0.999])
def test_power_from_the_line_is_shaft_and_copper(emf, share):
    torque = share * pull_out(REAL, 400, emf).torque
    running = running_at_load(REAL, 400, emf, torque)
    assert abs(running.voltage) == pytest.approx(400 * math.sqrt(2 / 3))
    from_the_line = 1.5 * (running.voltage * running.current.conjugate()).real
    assert running.torque == pytest.approx(torque, abs=1e-9)
    assert from_the_line == pytest.approx(torque * 2 * math.pi * 50 + 1.5 * 0.32 * abs(running.current) ** 2)
    # the stable side: more angle gives more torque
    behind = cmath.phase(running.voltage / 1j)
    assert running_at_angle(REAL, 400, emf, behind + 0.01).torque > torque


def test_a_worked_example_of_a_textbook():
    """Chapman, Electric Machinery Fundamentals, example on load changes of a synchronous motor (memory): 208 V, 60 Hz, delta, 2.5 ohm a
    phase, no resistance; 15 hp at 0.8 leading with 2.5 kW of losses: 27.4 A a phase, E = 255 V at -12.4 degrees; at 30 hp 23 degrees,
    41.2 A at 15 degrees leading."""
    machine = RoundRotorMachine(0.0, 2.5 / 3, 0.1, 60, 4)  # its star
    hp, speed = 746.0, 2 * math.pi * 30
    for power, angle, current, leads in ((15 * hp + 2500, 12.4, 27.4, 36.87), (30 * hp + 2500, 23.0, 41.2, 15.0)):
        running = running_at_load(machine, 208, 255, power / speed)
        assert math.degrees(running.load_angle) == pytest.approx(angle, abs=0.1)
        assert abs(running.current) / math.sqrt(6) == pytest.approx(current, rel=0.01)  # peak of a line to r.m.s. of a phase in delta
        assert math.degrees(-running.phase_angle) == pytest.approx(leads, abs=0.5)


def test_the_v_curve_has_its_least_current_at_unity_power_factor():
    emfs = np.linspace(420, 700, 561)
    running = [running_at_load(LOSSLESS, 400, emf, 100.0) for emf in emfs]
    least = int(np.argmin([abs(each.current) for each in running]))
    assert math.cos(running[least].phase_angle) == pytest.approx(1.0, abs=1e-5)
    # E^2 = V^2 + (X I)^2 there, line values: 100 N m x 157.08 rad/s / (sqrt(3) 400 V) = 22.67 A
    assert emfs[least] == pytest.approx(math.sqrt(400**2 + 3 * (5 * 22.672) ** 2), abs=0.6)
    assert running[0].phase_angle > 0 > running[-1].phase_angle, "lags below, leads above"


def test_beyond_the_pull_out_torque_nothing_runs():
    with pytest.raises(ValueError, match="pull-out torque"):
        running_at_load(REAL, 400, 400, 1.001 * pull_out(REAL, 400, 400).torque)
    with pytest.raises(ValueError, match="pull-out torque"):
        running_at_load(REAL, 400, 0.0, 1.0)


@pytest.mark.parametrize(
    ("name", "value"), [("resistance", -1), ("reactance", 0), ("leakage_reactance", 9.6), ("frequency", math.inf), ("poles", 3)]
)
def test_what_is_wrong_is_named(name, value):
    right = {"resistance": 0.32, "reactance": 9.6, "leakage_reactance": 1.07, "frequency": 50, "poles": 2}
    with pytest.raises(ValueError, match=name):
        RoundRotorMachine(**(right | {name: value}))

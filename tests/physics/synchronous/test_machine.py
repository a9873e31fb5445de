"""The synchronous machine against its phasor diagram, energy, and the closed form of handbooks."""

import cmath
import math

import numpy as np
import pytest

from physics.synchronous import SynchronousMachine

MACHINE = SynchronousMachine(line_voltage=400, emf=360, reactance=5, frequency=50, poles=4)


def test_pull_out_of_the_handbook():
    """T = 3 V E / (X w) at 90 degrees, V and E per phase (standard result); 400 V, 360 V, 5 ohm, 157.08 rad/s by hand: 183.3 N m."""
    angle, torque = MACHINE.pull_out()
    assert angle == pytest.approx(math.radians(90))
    assert torque == pytest.approx(3 * (400 / 3**0.5) * (360 / 3**0.5) / (5 * 157.0796), rel=1e-6) == pytest.approx(183.35, abs=0.01)
    assert MACHINE.speed == 25


@pytest.mark.parametrize("degrees", [-120, -30, 0, 10, 45, 90, 150])
def test_power_from_the_line_is_power_at_the_shaft_and_the_voltages_add_up(degrees):
    delta = math.radians(degrees)
    current = MACHINE.current(delta)
    phase_voltage, back = 400 / math.sqrt(3), cmath.rect(360 / math.sqrt(3), -delta)
    assert back + 5j * current == pytest.approx(phase_voltage)
    assert 3 * phase_voltage * current.real == pytest.approx(MACHINE.torque(delta) * 2 * math.pi * 25)


def test_more_excitation_turns_a_lagging_current_into_a_leading_one():
    """V-curves (standard result): at no load, E below V lags, E above V leads, E equal to V takes nothing."""
    at = [SynchronousMachine(400, emf, 5, 50, 4).current(0.0) for emf in (300, 400, 500)]
    assert at[0].imag < 0 and at[1] == pytest.approx(0) and at[2].imag > 0


def test_the_load_angle_is_where_the_torque_is_borne():
    for torque in (-100.0, 0.0, 50.0, 183.0):
        assert MACHINE.torque(MACHINE.load_angle(torque)) == pytest.approx(torque)
    with pytest.raises(ValueError, match="pull-out torque of 183.3 N m"):
        MACHINE.load_angle(184)
    np.testing.assert_allclose(MACHINE.torque(np.array([0.2, -0.2])), [MACHINE.torque(0.2), -MACHINE.torque(0.2)])


@pytest.mark.parametrize(("name", "value"), [("line_voltage", 0), ("emf", -1), ("reactance", 0), ("frequency", math.inf), ("poles", 3)])
def test_what_is_wrong_is_named(name, value):
    right = {"line_voltage": 400, "emf": 360, "reactance": 5, "frequency": 50, "poles": 4}
    with pytest.raises(ValueError, match=name):
        SynchronousMachine(**(right | {name: value}))

"""The single-phase motor: published examples, closed forms, and the differential equations of its windings in their own axes."""

from __future__ import annotations

import cmath
import math

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from physics.induction.joined_windings import JoinedMotor
from physics.induction.two_windings import TwoWindingMotor, pulsation, quadrature_capacitance
from physics.terminals import Wiring
from tests.physics.induction.test_joined_windings import CIRCUIT

MOTOR = TwoWindingMotor(2.6, 3.8, 5.0, 5.5, 1.25, 4.4, 3.8, 110.0, 50.0, 2)
VOLTS, OMEGA = 230.0, 100 * math.pi
SERIES = MOTOR.capacitor(25e-6)
SPEEDS = np.array([-0.9, -0.3, 0.0, 0.4, 0.8, 0.95, 1.0])


def test_the_published_quarter_horsepower_motor():
    """Fitzgerald, Kingsley, Umans, Electric Machinery, the 1/4-hp, 110 V, 60 Hz, 4-pole capacitor-start motor running on its main
    winding (memory, redone by arithmetic): slip 0.05, 3.59 A at power factor 0.62, and 147 W at the shaft, after 24 W for the
    iron and 13 W of friction, both taken from what is turned into motion; 1710 r/min."""
    motor = TwoWindingMotor(2.02, 2.79, 7.14, 3.22, 1.18, 4.12, 2.12, 66.8, 60.0, 4)
    running = motor.on(110.0, 0.95)
    assert abs(running.main_current) == pytest.approx(3.59, abs=0.015)
    assert math.cos(cmath.phase(complex(running.main_current))) == pytest.approx(0.62, abs=0.005)
    assert running.converted_power - 24 - 13 == pytest.approx(147, abs=1.0)
    assert 60 * motor.synchronous_speed * 0.95 == pytest.approx(1710)


def test_the_published_start_capacitor():
    """The same book, a 2.5 kW, 120 V, 60 Hz motor (memory): 4.5 + j3.7 ohm of the main and 9.5 + j3.5 of the auxiliary winding at rest
    want about 177 microfarad for currents a quarter cycle apart."""
    main, auxiliary = 4.5 + 3.7j, 9.5 + 3.5j
    farad = quadrature_capacitance(main, auxiliary, 60.0)
    assert 1e6 * farad == pytest.approx(177, abs=1.0)
    capacitor = 1 / (2j * math.pi * 60 * farad)
    assert cmath.phase(main / (auxiliary + capacitor)) == pytest.approx(math.pi / 2)
    for winding in (0j, 4.5 + 0j, 3.7j):
        with pytest.raises(ValueError, match="main"):
            quadrature_capacitance(winding, auxiliary, 60.0)


def by_integration(speed: float):
    """Currents, torque over a cycle at the end, and capacitor voltage: flux linkages of two axes at rest with the stator, main along x
    and the auxiliary a quarter turn behind it in the forward sense; the rotor's two windings as seen from there."""
    a, xm = MOTOR.turns_ratio, MOTOR.magnetising_reactance
    inductances = (
        np.array(
            [
                [MOTOR.main_reactance + xm, 0, xm, 0],
                [0, MOTOR.auxiliary_reactance + a**2 * xm, 0, -a * xm],
                [xm, 0, xm + MOTOR.rotor_reactance, 0],
                [0, -a * xm, 0, xm + MOTOR.rotor_reactance],
            ]
        )
        / OMEGA
    )
    inverse = np.linalg.inv(inductances)
    turning = speed * OMEGA

    def rates(time, state):
        linkages, charge_voltage = state[:4], state[4]
        currents = inverse @ linkages
        volts = math.sqrt(2) * VOLTS * math.cos(OMEGA * time)
        own = (MOTOR.main_resistance, MOTOR.auxiliary_resistance, MOTOR.rotor_resistance, MOTOR.rotor_resistance)
        across = np.array([volts, volts - charge_voltage, -turning * linkages[3], turning * linkages[2]])
        return [*(across - own * currents), currents[1] / 25e-6]

    times = np.linspace(0.9, 0.92, 401)
    found = solve_ivp(rates, (0, 0.92), np.zeros(5), t_eval=times, rtol=1e-8, atol=1e-9, method="DOP853")
    currents = inverse @ found.y[:4]
    # the force of the stator's fluxes on the stator's currents: along x i_x, along y -a i_a
    torque = (found.y[0] - MOTOR.main_reactance / OMEGA * currents[0]) * (-a * currents[1]) - (
        -(found.y[1] - MOTOR.auxiliary_reactance / OMEGA * currents[1]) / a
    ) * currents[0]
    return times, currents, torque, found.y[4]


@pytest.mark.parametrize("speed", [0.0, 0.6, 0.95])
def test_the_windings_integrated_come_to_the_same(speed):
    times, currents, torque, charge = by_integration(speed)
    running = MOTOR.on(VOLTS, speed, SERIES)
    turned = math.sqrt(2) * np.exp(1j * OMEGA * times)
    np.testing.assert_allclose(currents[0], (complex(running.main_current) * turned).real, atol=0.03)
    np.testing.assert_allclose(currents[1], (complex(running.auxiliary_current) * turned).real, atol=0.03)
    np.testing.assert_allclose(charge, (complex(running.series_voltage) * turned).real, atol=2.0)
    swing = (complex(running.pulsation) * np.exp(2j * OMEGA * times)).real
    np.testing.assert_allclose(torque, float(running.torque) + swing, atol=0.02)


@pytest.mark.parametrize("series", [None, SERIES, SERIES + 3.0])
def test_energy_adds_up_and_turning_the_other_way_is_reversing_one_winding(series):
    running = MOTOR.on(VOLTS, SPEEDS, series)
    spent = running.stator_loss + running.series_loss + running.rotor_loss + running.converted_power
    np.testing.assert_allclose(running.input_power, spent, atol=1e-9)
    np.testing.assert_allclose(running.converted_power, running.torque * SPEEDS * OMEGA, atol=1e-9)
    np.testing.assert_allclose(running.torque, running.forward_torque + running.backward_torque, atol=1e-12)
    assert (running.rotor_loss >= 0).all() and (running.backward_torque <= 0).all()
    for ends in ({"reversed_main": True}, {"reversed_auxiliary": True}):
        np.testing.assert_allclose(MOTOR.on(VOLTS, -SPEEDS, series, **ends).torque, -running.torque, atol=1e-9)
    both = MOTOR.on(VOLTS, SPEEDS, series, True, True)
    np.testing.assert_allclose(both.torque, running.torque, atol=1e-9)
    np.testing.assert_allclose(both.line_current, running.line_current, atol=1e-9)


def test_one_winding_hums_at_rest_and_goes_on_either_way():
    """Double-revolving-field theory (handbook): two equal fields, no torque at rest and as much forward as backward at any speed."""
    running = MOTOR.on(VOLTS, SPEEDS)
    np.testing.assert_allclose(np.abs(running.forward), np.abs(running.backward))
    np.testing.assert_allclose(running.torque, -MOTOR.on(VOLTS, -SPEEDS).torque, atol=1e-12)
    at_rest, running_on = MOTOR.on(VOLTS, 0.0), MOTOR.on(VOLTS, 0.5)
    assert abs(at_rest.torque) < 1e-12 and running_on.torque > 1 and MOTOR.on(VOLTS, -0.5).torque < -1
    assert abs(at_rest.pulsation) < 1e-9, "current and flux along one axis make no torque at any instant"
    assert float(MOTOR.on(VOLTS, 1.0).torque) < 0, "it never comes to synchronous speed"


def test_two_equal_windings_a_quarter_cycle_apart_make_a_round_field():
    """Two equal windings, the current of the auxiliary a quarter cycle ahead: one rotating field, whose torque does not swing."""
    even = TwoWindingMotor(3.0, 4.0, 3.0, 4.0, 1.0, 4.0, 4.0, 100.0, 50.0, 2)
    gap = complex(even.gap_impedance(0.06))
    whole = complex(3.0, 4.0) + gap
    # what has to stand in series for a current of j I: V = j I (Z + series) while V = I Z
    running = even.on(230.0, 0.94, whole / 1j - whole)
    assert abs(running.backward) < 1e-9 and abs(running.pulsation) < 1e-9
    assert running.auxiliary_current / running.main_current == pytest.approx(1j)
    assert running.torque == pytest.approx(2 * (230 / abs(whole)) ** 2 * gap.real / OMEGA)


@pytest.mark.parametrize("speed", [0.0, 0.5, 0.97])
def test_a_three_phase_motor_that_lost_a_line_has_both_sequence_impedances_in_series(speed):
    """Star, one line open: the line voltage drives one current through Z1 + Z2 (handbook, single-phasing by symmetrical components);
    positive and negative sequence currents are each 1/sqrt(3) of it. Checked where the iron is as at the rated point: the circuit's
    magnetising reactance is put at what its flux gives."""
    motor = JoinedMotor(CIRCUIT, 35 / 1500)
    running = motor.on(Wiring({"L1": "U1", "L2": "V1"}, [("W2", "U2"), ("U2", "V2")]).network(400.0), 50.0, speed)
    magnetising = 24.54j / (0.75 + 0.25 * float(running.flux) ** 6)
    impedances, gaps = [], []
    for slip in (1 - speed, 1 + speed):
        cage = 0.5926 / slip + 2.836j
        rotor = cage * (0.5011 / slip) / (cage + 0.5011 / slip) + 0.721j
        gaps.append(magnetising * rotor / (magnetising + rotor))
        impedances.append(0.415 + 0.721j + gaps[-1])
    current = 400 / abs(sum(impedances))
    assert abs(running.line_currents[0]) == pytest.approx(current, rel=1e-6)
    parts = current / math.sqrt(3)
    # the torque swings as the space vectors do: forward flux with backward current, less the other way round
    swing = pulsation(3, OMEGA / 2, (running.components[1], running.gap_voltages[0]), (running.components[2], running.gap_voltages[1]))
    assert abs(swing) == pytest.approx(3 * parts**2 * abs(gaps[0] - gaps[1]) / (OMEGA / 2), rel=1e-6, abs=1e-6)
    assert running.torque == pytest.approx(3 * parts**2 * (gaps[0].real - gaps[1].real) / (OMEGA / 2), rel=1e-6, abs=1e-9)


def test_what_cannot_be_is_said():
    with pytest.raises(ValueError, match="turns_ratio"):
        TwoWindingMotor(2.6, 3.8, 5.0, 5.5, 0.0, 4.4, 3.8, 110.0, 50.0, 2)
    with pytest.raises(ValueError, match="poles"):
        TwoWindingMotor(2.6, 3.8, 5.0, 5.5, 1.0, 4.4, 3.8, 110.0, 50.0, 3)
    with pytest.raises(ValueError, match="farad"):
        MOTOR.capacitor(0.0)
    with pytest.raises(ValueError, match="speed"):
        MOTOR.on(230.0, math.nan)

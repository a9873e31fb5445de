"""A synchronous machine in motion: against scipy in three phases, against the balance of energy, and what becomes of it."""

import math

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from physics.shaft.shafts import FreeShaft
from physics.synchronous import motion
from physics.synchronous.motion import FIELD_RISE, Mains, Moment, RisingFrequency, advance, in_step, instant
from physics.synchronous.round_rotor import Damper, RoundRotorMachine, pull_out, running_at_load

BASE = 400**2 / 15000  # ohm of a 15 kVA machine
RATED = 15000 / (2 * math.pi * 25)  # N m at 1500 r/min
INERTIA = 2 * 0.25 * 15000 / (2 * math.pi * 25) ** 2  # kg m2, of an inertia constant of 0.25 s
MAINS = Mains(400, 50)
WITH = RoundRotorMachine(0.03 * BASE, 0.9 * BASE, 0.1 * BASE, 50, 4, Damper(0.05 * BASE, 0.1 * BASE))
WITHOUT = RoundRotorMachine(0.03 * BASE, 0.9 * BASE, 0.1 * BASE, 50, 4)


def in_three_phases(machine, sense, load, moment, excitation, seconds):
    """Speed and torque after `seconds` on the mains by phases a, b, c and a damper of two coils, torque from i d(linkage)/d(angle).

    Phases stand a third of a pole pair apart counter-clockwise; a cosine of the pole axis's angle links each with the rotor.
    """
    w = 2 * math.pi * 50
    mutual = 0.8 * BASE / w
    thirds = 2 * math.pi / 3 * np.arange(3)
    stator = np.full((3, 3), -mutual / 3) + np.eye(3) * (mutual + 0.1 * BASE / w)
    of_damper = (0.8 + 0.1) * BASE / w
    has = machine.damper is not None

    def parts(state):
        angle, speed, flux, damper = 2 * state[0], state[1], state[2:5], state[5:7]
        cos, sin = np.cos(angle - thirds), np.sin(angle - thirds)
        along = np.column_stack([cos, -sin]) * mutual  # of the damper's coils with the phases
        linked = flux - excitation * cos
        if has:
            matrix = np.block([[stator, along], [2 / 3 * along.T, of_damper * np.eye(2)]])
            currents = np.linalg.solve(matrix, np.concatenate([linked, damper - [excitation, 0]]))
            i, d = currents[:3], currents[3:]
        else:
            i, d = np.linalg.solve(stator, linked), np.zeros(2)
        torque = 2 * np.sum(i * (-(mutual * d[0] + excitation) * sin - mutual * d[1] * cos))
        return speed, i, d, torque

    def rate(time, state):
        speed, i, d, torque = parts(state)
        volts = 400 * math.sqrt(2 / 3) * np.cos(sense * w * time - thirds)
        return np.concatenate([[speed, (torque - load) / INERTIA], volts - 0.03 * BASE * i, -0.05 * BASE * d * has])

    flux = np.real(moment.stator * np.exp(1j * (2 * moment.angle - thirds)))
    start = np.concatenate([[moment.angle, moment.speed], flux, [moment.damper.real, moment.damper.imag]])
    done = solve_ivp(rate, (0, seconds), start, rtol=1e-9, atol=1e-9).y[:, -1]
    _, i, _, torque = parts(done)
    return done[0], done[1], torque, i


@pytest.mark.parametrize("machine", [WITH, WITHOUT])
@pytest.mark.parametrize("sense", [1.0, -1.0])
def test_a_load_step_goes_as_in_three_phases(machine, sense):
    start = in_step(machine, MAINS, sense, running_at_load(machine, 400, 540, 0.0))
    shaft = FreeShaft(INERTIA, load=lambda speed: sense * RATED)
    after = advance(machine, MAINS, sense, shaft, start, start.excitation, 0.15)
    angle, speed, torque, phases = in_three_phases(machine, sense, sense * RATED, start, start.excitation, 0.15)
    assert after.speed == pytest.approx(speed, rel=1e-5)
    assert math.remainder(after.angle - angle, 2 * math.pi) == pytest.approx(0, abs=1e-4)
    now = instant(machine, MAINS, sense, after)
    assert now.torque == pytest.approx(torque, rel=1e-3)
    first = (now.current * np.exp(2j * after.angle)).real
    assert first == pytest.approx(phases[0], abs=0.02)


@pytest.mark.parametrize(("step", "near"), [(motion.LONGEST_STEP, 1e-3), (1e-4, 2e-6)])
def test_a_start_from_rest_goes_as_in_three_phases(monkeypatch, step, near):
    monkeypatch.setattr(motion, "LONGEST_STEP", step)
    excited = WITH.excitation(300)
    start = Moment(angle=0.3, stator=excited, damper=excited, excitation=excited)
    after = advance(WITH, MAINS, -1.0, FreeShaft(INERTIA), start, excited, 0.12)
    _, speed, torque, _ = in_three_phases(WITH, -1.0, 0.0, start, excited, 0.12)
    assert after.speed == pytest.approx(speed, rel=near) and speed < -20
    assert instant(WITH, MAINS, -1.0, after).torque == pytest.approx(torque, rel=2 * near)


@pytest.mark.parametrize("machine", [WITH, WITHOUT])
def test_energy_from_the_line_is_in_shaft_copper_and_field(machine):
    """Simpson's rule over every step, from a start at half speed, excited, with a constant load."""
    excited = machine.excitation(480)
    moment = Moment(angle=0.4, speed=80.0, stator=excited, damper=excited, excitation=excited)
    shaft = FreeShaft(INERTIA, load=lambda speed: 30.0)

    def powers(moment):
        now = instant(machine, MAINS, 1.0, moment)
        electric = 1.5 * (now.voltage * now.current.conjugate()).real
        damper = machine.damper.resistance if machine.damper else 0.0
        copper = 1.5 * (machine.resistance * abs(now.current) ** 2 + damper * abs(now.damper_current) ** 2)
        stored = 0.5 * INERTIA * moment.speed**2 + machine.magnetic_energy(now.current, now.damper_current)
        return electric, copper, 30.0 * moment.speed, stored

    at_first, came, went = powers(moment)[3], 0.0, 0.0
    for _ in range(600):
        middle = advance(machine, MAINS, 1.0, shaft, moment, excited, 2e-4)
        end = advance(machine, MAINS, 1.0, shaft, middle, excited, 2e-4)
        one, two, three = (powers(each) for each in (moment, middle, end))
        came += 4e-4 / 6 * (one[0] + 4 * two[0] + three[0])
        went += 4e-4 / 6 * sum(a + 4 * b + c for a, b, c in zip(one[1:3], two[1:3], three[1:3], strict=True))
        moment = end
    stored = powers(moment)[3] - at_first
    assert came == pytest.approx(went + stored, abs=1e-4 * max(abs(came), abs(went))) and abs(came) > 50


@pytest.mark.parametrize("poles", [2, 4])
def test_what_runs_in_step_stays_in_step(poles):
    machine = RoundRotorMachine(0.32, 9.6, 1.07, 50, poles, Damper(0.53, 1.07))
    running = running_at_load(machine, 400, 540, 40.0)
    start = in_step(machine, MAINS, -1.0, running)
    after = advance(machine, MAINS, -1.0, FreeShaft(0.2, 40.0), start, start.excitation, 0.5)
    assert instant(machine, MAINS, -1.0, after).torque == pytest.approx(-40.0, abs=0.01)
    assert after.speed == pytest.approx(-2 * math.pi * 100 / poles, rel=1e-6)
    assert abs(instant(machine, MAINS, -1.0, after).current) == pytest.approx(abs(running.current), rel=1e-3)


def mean_speed(machine, moment, load, excitation, supply=MAINS, seconds=4.0):
    """Over the last second, as a share of synchronous speed; `load` of rated torque, a brake."""
    shaft = FreeShaft(INERTIA, load * RATED)
    before = advance(machine, supply, 1.0, shaft, moment, excitation, seconds - 1)
    speeds = []
    for _ in range(200):
        before = advance(machine, supply, 1.0, shaft, before, excitation, 0.005)
        speeds.append(before.speed)
    return np.mean(speeds) / machine.speed


def test_it_falls_out_of_step_above_the_pull_out_and_not_below():
    """The load rises in small steps, so that no swing adds to it."""
    most = pull_out(WITH, 400, 540).torque
    for top, stays in ((0.97 * most, True), (1.03 * most, False)):
        moment = in_step(WITH, MAINS, 1.0, running_at_load(WITH, 400, 540, 0.0))
        for load in np.linspace(0, top, 40):
            moment = advance(WITH, MAINS, 1.0, FreeShaft(INERTIA, load), moment, moment.excitation, 0.05)
        held = mean_speed(WITH, moment, top / RATED, moment.excitation)
        assert (abs(held - 1) < 1e-3) == stays, (top, held)


def test_a_damper_starts_it_and_without_one_it_stays():
    """Standard result: unexcited until it is nearly at speed, then pulled into step."""
    asleep = Moment()
    run_up = advance(WITH, MAINS, 1.0, FreeShaft(INERTIA, 0.3 * RATED), asleep, 0.0, 2.0)
    assert 0.95 < run_up.speed / WITH.speed < 1.0, "it slips: no cage reaches the field"
    assert mean_speed(WITH, run_up, 0.3, WITH.excitation(540)) == pytest.approx(1.0, abs=1e-4)
    excited = WITHOUT.excitation(540)
    awake = Moment(stator=excited, damper=excited, excitation=excited)
    assert abs(mean_speed(WITHOUT, awake, 0.0, excited)) < 0.05
    # its torque swings both ways and comes to about nothing
    torques = []
    for _ in range(400):
        awake = advance(WITHOUT, MAINS, 1.0, FreeShaft(INERTIA), awake, excited, 0.001)
        torques.append(instant(WITHOUT, MAINS, 1.0, awake).torque)
    assert max(torques) > 0.5 * RATED and min(torques) < -0.5 * RATED and abs(np.mean(torques)) < 0.2 * RATED


def test_it_follows_an_inverter_from_rest():
    excited = WITHOUT.excitation(540)
    start = Moment(stator=excited, damper=excited, excitation=excited)
    supply = RisingFrequency(400, 50, 2.0, boost=10.0)
    assert mean_speed(WITH, start, 0.5, excited, supply, 5.0) == pytest.approx(1.0, abs=1e-3)


def test_the_excitation_brakes_a_run_up():
    """Standard result: with the rotor excited the EMF drives a braking current through the supply."""
    shaft, excited = FreeShaft(INERTIA, 0.3 * RATED), WITH.excitation(540)
    plain = advance(WITH, MAINS, 1.0, shaft, Moment(), 0.0, 0.5)
    braked = advance(WITH, MAINS, 1.0, shaft, Moment(stator=excited, damper=excited, excitation=excited), excited, 0.5)
    assert plain.speed > 0.9 * WITH.speed > 2 * braked.speed


def test_the_inverter_rises_evenly_and_the_field_current_with_its_time_constant():
    supply = RisingFrequency(400, 50, 2.0, boost=10.0)
    assert supply.frequency(1.0) == 25 and supply.frequency(3.0) == 50
    assert supply.peak(0.0) == 10 and supply.peak(1.0) == pytest.approx(173.2993, abs=1e-3) and supply.peak(9) == pytest.approx(326.5986)
    for time in (0.4, 1.999, 2.5):
        turned = math.remainder(supply.angle(time + 1e-6) - supply.angle(time - 1e-6), 2 * math.pi)
        assert turned / 2e-6 == pytest.approx(2 * math.pi * supply.frequency(time), rel=1e-4)
    after = advance(WITH, MAINS, 1.0, FreeShaft(INERTIA), Moment(), 1.0, FIELD_RISE)
    assert after.excitation == pytest.approx(1 - math.exp(-1))


def test_a_brake_holds_a_rotor_at_rest():
    held = advance(WITH, MAINS, 1.0, FreeShaft(INERTIA, 20 * RATED), Moment(angle=0.2), 0.0, 0.2)
    assert held.speed == 0.0 and held.angle == 0.2 and abs(held.stator) > 0.5

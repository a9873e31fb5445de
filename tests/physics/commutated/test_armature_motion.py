"""The armature in time: against closed forms, against averages, and against scipy's integrators on a second model."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp, trapezoid
from scipy.optimize import brentq

from physics.commutated.armature import Armature
from physics.commutated.averages import averages, emf_constant, resistance, settled_speed
from physics.commutated.commutator import Commutator, SlipRings
from physics.commutated.motion import run, step
from physics.commutated.network import LoadResistor, OpenCircuit, Source, coil_ends
from physics.fields.pole_field import PoleField
from physics.shaft.shafts import DrivenShaft, FreeShaft

quick = settings(max_examples=30, deadline=None)
FIELD = PoleField(0.3, pole_arc=np.radians(100))
MOTOR = Armature(FIELD, turns=20, length=0.05, radius=0.03, coil_resistance=1.5)
SUPPLY = Source(6.0, 0.5)
NO_FIELD = replace(MOTOR, field=PoleField(0.0))
# each brush so wide that no segment is ever without one: then coil currents are free to be the state of a model
WIDE = Commutator(np.radians(130), np.radians(4), contact_resistance=0.2)


def at_rest(armature, angle=0.1):
    return armature.state(angle, 0.0, OpenCircuit())


def second_model(armature, circuit, inertia):
    """Rates of [angle, speed, coil currents ...] from the equations written out one by one.

    Unknown are the potentials of segments and positive brush, the terminal current and, without inductance, the coil
    currents, each with its equation; the circuit is a supply or a load resistor.
    """
    coils = armature.coils
    begins, ends = coil_ends(coils)
    inductance = armature.coil_inductance

    def rates(time, motion):
        angle, speed, currents = motion[0], motion[1], motion[2:]
        shares = armature.collector.contact_shares(angle, coils, armature.field.axis)
        conductance = shares / armature.collector.contact_resistance
        segments = shares.shape[1]
        first_side = angle + 2 * np.pi * np.arange(coils) / coils
        per_ampere = 2 * armature.turns * armature.length * armature.radius * armature.field.at(first_side)
        emfs = -per_ampere * speed
        size = segments + 2 + coils
        brush, outside, coil = segments, segments + 1, segments + 2 + np.arange(coils)
        matrix, right = np.zeros((size, size)), np.zeros(size)
        for segment in range(segments):
            matrix[segment, segment] = conductance[:, segment].sum()
            matrix[segment, brush] = -conductance[0, segment]
        np.add.at(matrix, (begins, coil), 1.0)
        np.add.at(matrix, (ends, coil), -1.0)
        matrix[brush, :segments] = -conductance[0]
        matrix[brush, brush] = conductance[0].sum()
        matrix[brush, outside] = -1.0
        matrix[outside, brush], matrix[outside, outside] = 1.0, circuit.resistance
        right[outside] = circuit.emf
        for k in range(coils):
            if inductance:
                matrix[coil[k], coil[k]], right[coil[k]] = 1.0, currents[k]
            else:
                matrix[coil[k], coil[k]] = armature.coil_resistance
                matrix[coil[k], begins[k]] -= 1.0
                matrix[coil[k], ends[k]] += 1.0
                right[coil[k]] = emfs[k]
        solution = np.linalg.solve(matrix, right)
        coil_currents = solution[coil]
        torque = per_ampere @ coil_currents
        across = solution[begins] - solution[ends]
        rise = (across + emfs - armature.coil_resistance * coil_currents) / inductance if inductance else 0.0 * emfs
        return np.concatenate([[speed, torque / inertia], rise])

    return rates


@pytest.mark.parametrize(
    "armature, supply",
    [
        (MOTOR, SUPPLY),
        (replace(MOTOR, coils=5, field=PoleField(0.3)), Source(-6.0)),
        (replace(MOTOR, coils=3, coil_inductance=2e-3, collector=WIDE), SUPPLY),
        (replace(MOTOR, coils=1, coil_inductance=2e-3), SUPPLY),
        (replace(MOTOR, coils=1, coil_inductance=2e-3, collector=SlipRings()), SUPPLY),
    ],
    ids=["three coils", "five coils", "wide brushes, inductance", "split ring, inductance", "slip rings, inductance"],
)
def test_run_up_agrees_with_scipy_on_a_second_model(armature, supply):
    inertia, duration = 4e-5, 0.04
    start = at_rest(armature)
    motion = np.concatenate([[0.1, 0.0], np.zeros(armature.coils)])
    # the contacts bend wherever a segment's edge meets a brush's, hence the small steps
    reference = solve_ivp(second_model(armature, supply, inertia), (0.0, duration), motion, "LSODA", rtol=1e-8, atol=1e-9, max_step=1e-4)
    angle, speed = reference.y[:2, -1]
    coarse = step(armature, start, FreeShaft(inertia), supply, duration)
    fine = step(armature, start, FreeShaft(inertia), supply, duration, largest_turn=5e-3, longest_substep=1e-4)
    assert abs(speed) > 15.0
    assert (fine.angle, fine.speed) == pytest.approx((angle, speed), rel=2e-4, abs=2e-4)
    assert (coarse.angle, coarse.speed) == pytest.approx((angle, speed), rel=1e-2, abs=1e-2)
    if armature.coil_inductance:
        largest = np.abs(reference.y[2:]).max()
        assert fine.coil_currents == pytest.approx(reference.y[2:, -1], abs=2e-3 * largest)


def test_the_rule_is_of_second_order():
    # one coil on slip rings has no bends: halving the sub-step must quarter the error
    armature = replace(MOTOR, field=PoleField(0.3), coils=1, coil_inductance=2e-3, collector=SlipRings())
    load = LoadResistor(1.0)
    start = replace(armature.state(0.3, 0.0, OpenCircuit()), speed=np.asarray(150.0))
    reference = solve_ivp(second_model(armature, load, 2e-5), (0.0, 0.02), [0.3, 150.0, 0.0], rtol=1e-11, atol=1e-11)
    errors = []
    for substep in (4e-4, 2e-4, 1e-4):
        end = step(armature, start, FreeShaft(2e-5), load, 0.02, largest_turn=10.0, longest_substep=substep)
        off = np.array([end.angle, end.speed, end.coil_currents[0]]) - reference.y[:, -1]
        errors.append(np.linalg.norm(off / [1.0, 100.0, 1.0]))
    assert errors[2] < 1e-3
    assert np.log2(np.divide(errors[:-1], errors[1:])) == pytest.approx(2.0, abs=0.1)


def test_current_of_a_stalled_coil_rises_with_its_time_constant():
    # i = E / R (1 - exp(-t R / L)), the textbook rise
    armature = replace(MOTOR, coils=1, coil_inductance=5e-3, collector=SlipRings(0.25))
    noted = run(armature, at_rest(armature), DrivenShaft(0.0), SUPPLY, 0.01, 1e-3, longest_substep=1e-4)
    total = 1.5 + 2 * 0.25 + 0.5
    expected = 6.0 / total * (1.0 - np.exp(-noted.time * total / 5e-3))
    assert noted.terminal_current == pytest.approx(expected, abs=2e-3)
    assert np.all(noted.angle == 0.1)


def test_inductance_makes_the_current_of_a_slip_ring_generator_lag():
    # phasors: E / sqrt(R^2 + (w L)^2), behind the EMF by the angle whose tangent is w L / R
    speed, inductance, total = 200.0, 10e-3, 1.5 + 2 * 0.05 + 2.4
    armature = Armature(PoleField(0.3), 20, 0.05, 0.03, 1.5, coils=1, coil_inductance=inductance, collector=SlipRings())
    settled = step(armature, at_rest(armature, 0.0), DrivenShaft(speed), LoadResistor(2.4), 0.03, 0.02)
    turn = 2 * np.pi / speed
    noted = run(armature, settled, DrivenShaft(speed), LoadResistor(2.4), turn, turn / 90, 0.02)
    emf = 2 * 20 * 0.3 * 0.05 * 0.03 * speed
    lag = np.arctan(speed * inductance / total)
    # brush 0 is at the coil's beginning, so the current into it is the coil's own, whose EMF is -cos
    expected = -emf / np.hypot(total, speed * inductance) * np.cos(noted.angle - lag)
    assert noted.terminal_current == pytest.approx(expected, abs=2e-3 * np.abs(expected).max())
    assert np.all(noted.speed == speed)


def test_power_adds_up_along_a_run_with_inductance():
    armature = replace(MOTOR, coil_inductance=1e-3)
    state = at_rest(armature)
    for _ in range(30):
        state = step(armature, state, FreeShaft(2e-5, 1e-3, 1e-5), SUPPLY, 2e-3)
        parts = [state.copper_loss, state.contact_loss, state.magnetic_power, state.mechanical_power]
        assert sum(parts) == pytest.approx(state.terminal_power, abs=1e-12 * (1.0 + np.abs(parts).sum()))
        assert (state.side_emfs * state.side_currents).sum() == pytest.approx(-state.mechanical_power, rel=1e-12)
        assert state.torque == pytest.approx(0.03 * state.side_forces.sum(), rel=1e-12)


def test_energy_from_the_supply_is_heat_and_motion():
    state = at_rest(MOTOR)
    interval, steps = 1e-4, 500
    power = [0.0]
    for _ in range(steps):
        state = step(MOTOR, state, FreeShaft(4e-5), SUPPLY, interval)
        power.append(float(state.terminal_power - state.copper_loss - state.contact_loss))
    assert trapezoid(power, dx=interval) == pytest.approx(0.5 * 4e-5 * float(state.speed) ** 2, rel=2e-3)


def test_starting_current_and_torque():
    # at the first instant nothing turns and no EMF opposes the supply
    state = step(MOTOR, at_rest(MOTOR, 0.0), FreeShaft(1e-3), SUPPLY, 1e-6)
    assert state.terminal_current == pytest.approx(6.0 / (0.5 + 2 * 1.5 / 3 + 2 * 0.05), rel=1e-6)
    assert state.speed == pytest.approx(1e-6 * state.torque / 1e-3, rel=1e-3)


def test_a_motor_of_many_coils_approaches_its_speed_exponentially():
    # w = E / k (1 - exp(-t / T)), T = J R / k^2: the textbook motor of constant k and R
    armature = replace(MOTOR, coils=15, turns=4, coil_resistance=0.3, field=PoleField(0.3))
    constant, total = emf_constant(armature), resistance(armature) + 0.5
    inertia = 2e-4
    time_constant = inertia * total / constant**2
    noted = run(armature, at_rest(armature), FreeShaft(inertia), SUPPLY, 2 * time_constant, time_constant / 4)
    expected = 6.0 / constant * (1.0 - np.exp(-noted.time / time_constant))
    assert noted.speed == pytest.approx(expected, rel=1e-2)


@pytest.mark.parametrize("armature", [MOTOR, replace(MOTOR, coils=7, turns=8)], ids=["three coils", "seven coils"])
def test_it_settles_where_average_torque_meets_the_load(armature):
    dry = 0.02
    expected = settled_speed(armature, SUPPLY, dry)
    start = replace(at_rest(armature), speed=np.asarray(0.97 * expected))
    shaft = FreeShaft(5e-5, dry)
    before = step(armature, start, shaft, SUPPLY, 1.5)
    noted = run(armature, before, shaft, SUPPLY, 0.1, 1e-3)
    assert noted.speed.mean() == pytest.approx(expected, rel=3e-3)
    current = averages(armature, expected, SUPPLY).terminal_current
    assert noted.terminal_current.mean() == pytest.approx(current, rel=2e-2)


def test_it_settles_on_a_fan():
    def fan(speed):
        return 2e-6 * speed * abs(speed)

    expected = brentq(lambda speed: averages(MOTOR, speed, SUPPLY).torque - fan(speed), 0.0, 500.0)
    start = replace(at_rest(MOTOR), speed=np.asarray(0.95 * expected))
    end = step(MOTOR, start, FreeShaft(2e-4, load=fan), SUPPLY, 1.0)
    assert end.speed == pytest.approx(expected, rel=5e-3)


def test_a_falling_weight_drives_it_as_a_generator():
    expected = settled_speed(MOTOR, LoadResistor(2.0), -0.02)
    start = replace(at_rest(MOTOR), speed=np.asarray(0.9 * expected))
    end = step(MOTOR, start, FreeShaft(1e-4, load=lambda speed: -0.02), LoadResistor(2.0), 2.5)
    assert expected > 0.0
    assert end.speed == pytest.approx(expected, rel=1e-2)
    assert end.terminal_power < 0.0


def test_reversals_in_motion():
    turned = replace(MOTOR, field=FIELD.reversed())
    ends = [
        step(armature, at_rest(armature), FreeShaft(1e-4), supply, 0.03)
        for armature in (MOTOR, turned)
        for supply in (SUPPLY, SUPPLY.reversed())
    ]
    assert [np.sign(end.speed) for end in ends] == [1, -1, -1, 1]
    assert ends[3].speed == pytest.approx(ends[0].speed)


def test_dry_friction_holds_a_shaft_and_brings_it_to_rest():
    held = step(MOTOR, at_rest(MOTOR), FreeShaft(1e-4, dry_friction=1.0), SUPPLY, 0.1)
    assert (held.speed, held.angle) == (0.0, pytest.approx(0.1))
    assert held.terminal_current > 2.0
    # w falls by friction / J in every second; the shaft turns J w^2 / (2 friction) before it stands
    start = replace(at_rest(NO_FIELD), speed=np.asarray(50.0))
    noted = run(NO_FIELD, start, FreeShaft(1e-4, dry_friction=0.02), OpenCircuit(), 0.4, 0.01)
    assert noted.speed == pytest.approx(np.maximum(50.0 - 200.0 * noted.time, 0.0), abs=0.02)
    assert noted.speed[-1] == 0.0
    assert noted.angle[-1] - 0.1 == pytest.approx(1e-4 * 50.0**2 / (2 * 0.02), rel=1e-3)


def test_viscous_friction_alone_is_an_exponential():
    start = replace(at_rest(NO_FIELD), speed=np.asarray(50.0))
    noted = run(NO_FIELD, start, FreeShaft(1e-4, viscous_friction=1e-3), OpenCircuit(), 0.2, 0.02)
    assert noted.speed == pytest.approx(50.0 * np.exp(-10.0 * noted.time), rel=1e-4)


@quick
@given(st.floats(-9.0, -3.0), st.floats(-9.0, -2.0), st.integers(1, 6), st.floats(0.0, 6.0), st.sampled_from([-6.0, 6.0]))
def test_it_stays_calm_however_light_the_rotor_and_whatever_the_inductance(inertia, inductance, coils, angle, emf):
    armature = replace(MOTOR, coils=coils, coil_inductance=10.0**inductance)
    end = step(armature, at_rest(armature, angle), FreeShaft(10.0**inertia), Source(emf, 0.5), 0.004)
    fastest = 6.0 / (2 * 20 * 0.05 * 0.03 * 0.3)
    assert abs(end.speed) < 10.0 * fastest
    assert np.abs(end.coil_currents).max() < 20.0
    assert np.isfinite(end.segment_potentials).all()


@quick
@given(st.floats(0.0, 6.0), st.floats(-100.0, 100.0), st.floats(1e-4, 1e-3), st.sampled_from([0.0, 1e-3]))
def test_two_steps_are_one_longer_step(angle, speed, duration, inductance):
    armature = replace(MOTOR, coil_inductance=inductance)
    start = replace(at_rest(armature, angle), speed=np.asarray(speed))
    limits = {"largest_turn": 0.02, "longest_substep": 1e-4}
    shaft = FreeShaft(1e-4)
    whole = step(armature, start, shaft, SUPPLY, 2 * duration, **limits)
    half = step(armature, start, shaft, SUPPLY, duration, **limits)
    halves = step(armature, half, shaft, SUPPLY, duration, **limits)
    assert halves.angle == pytest.approx(whole.angle, rel=1e-3, abs=1e-3)
    assert halves.speed == pytest.approx(whole.speed, rel=1e-3, abs=1e-2)


def test_no_time_changes_nothing():
    start = at_rest(MOTOR)
    assert step(MOTOR, start, FreeShaft(1e-4), SUPPLY, 0.0) is start


def test_a_run_notes_both_ends():
    noted = run(MOTOR, at_rest(MOTOR), FreeShaft(1e-4), SUPPLY, 0.01, 0.002)
    assert noted.time == pytest.approx([0.0, 0.002, 0.004, 0.006, 0.008, 0.01])
    assert noted.coil_currents.shape == (6, 3)
    last = step(MOTOR, at_rest(MOTOR), FreeShaft(1e-4), SUPPLY, 0.01)
    assert noted.speed[-1] == pytest.approx(last.speed, rel=1e-2)


def test_wrong_input_is_named():
    start = at_rest(MOTOR)
    with pytest.raises(ValueError, match="inertia"):
        FreeShaft(0.0)
    with pytest.raises(ValueError, match="dry_friction"):
        FreeShaft(1e-4, dry_friction=-1.0)
    with pytest.raises(ValueError, match="viscous_friction"):
        FreeShaft(1e-4, viscous_friction=np.nan)
    with pytest.raises(ValueError, match="speed"):
        DrivenShaft(np.inf)
    with pytest.raises(ValueError, match="load"):
        step(MOTOR, start, FreeShaft(1e-4, load=lambda speed: np.nan), SUPPLY, 1e-3)
    with pytest.raises(ValueError, match="duration"):
        step(MOTOR, start, FreeShaft(1e-4), SUPPLY, -1e-3)
    with pytest.raises(ValueError, match="largest_turn"):
        step(MOTOR, start, FreeShaft(1e-4), SUPPLY, 1e-3, largest_turn=0.0)
    with pytest.raises(ValueError, match="longest_substep"):
        step(MOTOR, start, FreeShaft(1e-4), SUPPLY, 1e-3, longest_substep=0.0)
    with pytest.raises(ValueError, match="state"):
        step(MOTOR, MOTOR.state([0.0, 1.0], 0.0, SUPPLY), FreeShaft(1e-4), SUPPLY, 1e-3)
    with pytest.raises(ValueError, match="interval"):
        run(MOTOR, start, FreeShaft(1e-4), SUPPLY, 0.1, 1.0)

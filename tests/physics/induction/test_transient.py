"""The transient of an induction motor, against a general solver, the circuit and the energy balance."""

import cmath
import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq

from physics.induction.run_up import run, run_up
from physics.induction.transient import AT_REST, Motor, MotorState, delta_wound, flux_rates, star_wound, steady_state, step
from physics.supply.space_vectors import DELTA, STAR, Connection, phase_values, space_vector, supply_vector
from tests.physics.induction.phase_by_phase import (
    CIRCUIT,
    FIFTY,
    MAINS,
    STAR_PATHS,
    SUPPLY,
    PhaseByPhase,
    check,
    every,
    no_load,
    two_line_voltages,
)


class TestAgainstScipy:
    def test_direct_on_line_start(self):
        def fan(speed):
            return 0.01 * speed * abs(speed)

        history = run_up(CIRCUIT, 0.05, fan, 0.2, 1e-3)
        voltage = two_line_voltages(MAINS.phase_voltages)
        reference = PhaseByPhase(star_wound(CIRCUIT, 0.05), STAR_PATHS, voltage, fan).run(history.time)
        check(history, reference, rel=2e-6)
        check(every(run_up(CIRCUIT, 0.05, fan, 0.2, 2.5e-5), 40), reference, rel=1e-9)

    @pytest.mark.parametrize("lost", ["U", "V", "W"])
    def test_start_pushed_by_hand_with_a_line_lost_in_star(self, lost):
        """The other two phases in series on one voltage: one stator loop."""
        whole = [phase for phase in range(3) if phase != "UVW".index(lost)]
        paths = np.zeros((3, 1))
        paths[whole, 0] = 1, -1
        motor = star_wound(CIRCUIT, 0.05)
        history = run(motor, MotorState(speed=12.0), 0.15, 1e-3, SUPPLY, no_load, Connection("star", (lost,)))

        def voltage(time):
            first, second = MAINS.phase_voltages(time)[whole]
            return np.array([first - second])

        reference = PhaseByPhase(motor, paths, voltage, no_load)
        assert not np.any(np.abs(history.phase_currents[:, "UVW".index(lost)]) > 1e-9)
        check(history, reference.run(history.time, speed=12.0), rel=1e-6)

    def test_line_lost_in_delta(self):
        """Without line W one winding has the voltage U-V, the other two have it in series, the other way."""
        motor = delta_wound(CIRCUIT, 0.05)
        history = run(motor, MotorState(speed=12.0), 0.15, 1e-3, SUPPLY, no_load, Connection("delta", ("W",)))

        def voltage(time):
            first, second, _ = MAINS.phase_voltages(time)
            return np.array([first - second, second - first])

        reference = PhaseByPhase(motor, np.array([[1, 0], [0, 1], [0, 1]]), voltage, no_load)
        check(history, reference.run(history.time, speed=12.0), rel=1e-6)
        assert np.max(np.abs(history.line_currents[:, 2])) < 1e-9

    def test_unbalanced_and_distorted_voltage(self):
        """Any voltage function of time: here a fifth harmonic and one phase low, as phase values."""

        def phases(time):
            angle = 2 * math.pi * 60 * time - 2 * math.pi / 3 * np.arange(3)
            return 375.6 * np.array([0.9, 1, 1]) * np.cos(angle) + 30 * np.cos(5 * angle)

        motor = star_wound(CIRCUIT, 0.05)
        history = every(run(motor, AT_REST, 0.1, 5e-5, lambda time: complex(space_vector(phases(time))), no_load), 20)
        reference = PhaseByPhase(motor, STAR_PATHS, two_line_voltages(phases), no_load)
        check(history, reference.run(history.time), rel=1e-6)


class TestAgainstCircuit:
    @pytest.mark.parametrize("slip", [-0.05, 0.0, 0.022, 0.2, 1.0, 1.5])
    def test_settled_at_a_held_speed(self, slip):
        motor = star_wound(CIRCUIT, math.inf)
        state = step(motor, MotorState(speed=(1 - slip) * 30.0), 5.0, SUPPLY, no_load)
        point = CIRCUIT.at(slip)
        # phase U has its voltage at the peak again after 300 whole cycles: the vectors are the phasors
        assert motor.stator_current(state) == pytest.approx(math.sqrt(2) * point.stator_current, rel=1e-6)
        assert motor.rotor_current(state) == pytest.approx(-math.sqrt(2) * point.rotor_current, rel=1e-6, abs=1e-6)
        assert motor.torque(state) == pytest.approx(point.torque, rel=1e-6, abs=1e-5)
        assert state.speed == (1 - slip) * 30.0

    def test_settled_under_load(self):
        history = run_up(CIRCUIT, 0.05, lambda speed: 2.0 * speed, 4.0, 0.01)
        largest, _ = CIRCUIT.breakdown()
        slip = brentq(lambda slip: CIRCUIT.at(slip).torque - 2.0 * (1 - slip) * 30, 0, largest, xtol=1e-14)
        point = CIRCUIT.at(slip)
        assert 1 - history.speed[-1] / 30.0 == pytest.approx(slip, rel=1e-6)
        assert history.speed[-1] == pytest.approx(point.speed, rel=1e-6)
        assert history.torque[-1] == pytest.approx(point.torque, rel=1e-6)
        peak = np.abs(space_vector(history.phase_currents[-1]))
        assert peak == pytest.approx(math.sqrt(2) * abs(point.stator_current), rel=1e-6)
        assert history.rotor_loss[-1] == pytest.approx(point.rotor_loss, rel=1e-5)
        assert history.stator_loss[-1] == pytest.approx(point.stator_loss, rel=1e-6)

    @pytest.mark.parametrize("connection, wound", [(STAR, star_wound), (DELTA, delta_wound)])
    def test_steady_state_stays_so(self, connection, wound):
        motor = wound(CIRCUIT, 0.05)
        load = CIRCUIT.at(0.03).torque
        start = steady_state(CIRCUIT, 0.03, connection=connection)
        later = step(motor, start, 0.0217, SUPPLY, lambda speed: load, connection)
        expected = steady_state(CIRCUIT, 0.03, time=0.0217, connection=connection)
        assert later.stator_flux == pytest.approx(expected.stator_flux, rel=1e-6)
        assert later.rotor_flux == pytest.approx(expected.rotor_flux, rel=1e-6)
        assert later.speed == pytest.approx(expected.speed, rel=1e-9)
        assert later.angle == pytest.approx(expected.angle, rel=1e-9)
        assert motor.torque(start) == pytest.approx(load, rel=1e-12)

    def test_delta_draws_what_its_star_equivalent_draws(self):
        delta = run(delta_wound(CIRCUIT, 0.05), AT_REST, 0.2, 1e-3, SUPPLY, no_load, DELTA)
        star = run_up(CIRCUIT, 0.05, no_load, 0.2, 1e-3)
        np.testing.assert_allclose(delta.line_currents, star.line_currents, rtol=0, atol=1e-9)
        np.testing.assert_allclose(delta.speed, star.speed, rtol=0, atol=1e-9)
        # phase U of the delta lies between the terminals U and V: line U carries phase U less phase W
        between = delta.phase_currents - np.roll(delta.phase_currents, 1, axis=1)
        np.testing.assert_allclose(between, delta.line_currents, rtol=0, atol=1e-9)

    def test_star_takes_a_third_of_delta(self):
        """Standard result: a delta motor joined in star starts with a third of line current and torque."""
        motor = delta_wound(CIRCUIT, math.inf)
        settled = [run(motor, AT_REST, 5.0, 5.0, SUPPLY, no_load, connection) for connection in (STAR, DELTA)]
        star, delta = ((np.abs(space_vector(h.line_currents[-1])), h.torque[-1]) for h in settled)
        assert star[0] == pytest.approx(delta[0] / 3, rel=1e-9)
        assert star[1] == pytest.approx(delta[1] / 3, rel=1e-9)


class TestEnergy:
    @pytest.mark.parametrize("connection", [STAR, DELTA, Connection("star", ("V",)), Connection("delta", ("U", "W"))])
    @FIFTY
    @given(
        stator=st.complex_numbers(max_magnitude=2, allow_nan=False),
        rotor=st.complex_numbers(max_magnitude=2, allow_nan=False),
        speed=st.floats(-40, 40),
        time=st.floats(0, 1),
    )
    def test_power_in_is_heat_motion_and_field(self, connection, stator, rotor, speed, time):
        """At any moment, whatever the state: 3/2 Re(conj(i) v) = losses + torque w + rate of 1/2 L i^2."""
        motor = star_wound(CIRCUIT, 1.0)
        state = step(motor, MotorState(time, stator, rotor, speed), 0.0, SUPPLY, no_load, connection)
        rates = MotorState(0.0, *flux_rates(motor, state, SUPPLY, connection))
        winding, cage = motor.stator_current(state), motor.rotor_current(state)
        power_in = 1.5 * (winding.conjugate() * connection.ratio * SUPPLY(time)).real
        heat = 1.5 * (motor.stator_resistance * abs(winding) ** 2 + motor.rotor_resistance * abs(cage) ** 2)
        motion = motor.torque(state) * 2 * math.pi * speed
        leakage = (motor.stator_inductance - motor.magnetising_inductance) * (winding.conjugate() * motor.stator_current(rates)) + (
            motor.rotor_inductance - motor.magnetising_inductance
        ) * (cage.conjugate() * motor.rotor_current(rates))
        gap = (winding + cage).conjugate() * motor.gap_flux(rates)
        field = 1.5 * (leakage + gap).real
        a, b, _ = motor.inverse_inductances
        scale = heat + abs(motion) + abs(field) + abs(SUPPLY(time)) * (a * abs(state.stator_flux) + b * abs(rotor))
        assert power_in == pytest.approx(heat + motion + field, abs=1e-9 * scale + 1e-300)

    def test_rotor_heat_of_an_unloaded_start_is_the_kinetic_energy(self):
        """Standard result, exact where the currents follow the speed at once. What the field takes to build up, and to
        change on the way, is a fixed number of joules; the inertia makes them few beside the kinetic energy."""
        history = run_up(CIRCUIT, 10.0, no_load, 18.0, 1e-3)
        assert history.speed[-1] == pytest.approx(30.0, rel=1e-5)
        kinetic = 0.5 * 10.0 * (2 * math.pi * 30.0) ** 2
        assert history.rotor_heat[-1] == pytest.approx(kinetic, rel=1e-3)

    def test_the_same_by_the_circuit(self):
        """Heat = integral of loss over time = integral of loss / torque over J w, from standstill to the field."""
        per_speed, _ = quad(lambda slip: CIRCUIT.at(slip).rotor_loss / CIRCUIT.at(slip).torque, 1e-12, 1)
        synchronous = 2 * math.pi * 30.0
        assert 5.0 * synchronous * per_speed == pytest.approx(0.5 * 5.0 * synchronous**2, rel=1e-9)


class TestSpaceVectors:
    @FIFTY
    @given(vector=st.complex_numbers(max_magnitude=1e3), common=st.floats(-1e3, 1e3))
    def test_there_and_back(self, vector, common):
        values = phase_values(vector)
        assert np.sum(values) == pytest.approx(0, abs=1e-9)
        assert complex(space_vector(values + common)) == pytest.approx(vector, abs=1e-9)

    def test_balanced_phases_make_a_vector_of_their_peak_that_turns(self):
        for time in (0.0, 0.001, 0.01):
            values = MAINS.phase_voltages(time)
            assert complex(space_vector(values)) == pytest.approx(SUPPLY(time), rel=1e-12)
            expected = 460 * math.sqrt(2 / 3) * cmath.exp(2j * math.pi * 60 * time)
            assert SUPPLY(time) == pytest.approx(expected, rel=1e-12)

    def test_unbalanced_phasors(self):
        phasors = np.array([200 + 10j, -90 - 180j, -100 + 60j])
        supply = supply_vector(phasors, 50)
        for time in (0.0, 0.0013, 0.017):
            values = math.sqrt(2) * (phasors * cmath.exp(2j * math.pi * 50 * time)).real
            assert supply(time) == pytest.approx(complex(space_vector(values)), rel=1e-12)


class TestBadInput:
    MOTOR = star_wound(CIRCUIT, 0.05)

    @pytest.mark.parametrize(
        "name, value",
        [
            ("stator_resistance", -1),
            ("rotor_resistance", 0),
            ("stator_inductance", 0.01),
            ("rotor_inductance", math.nan),
            ("magnetising_inductance", 0),
            ("pole_pairs", 1.5),
            ("inertia", 0),
            ("inertia", -math.inf),
            ("frequency", 0),
        ],
    )
    def test_motor(self, name, value):
        with pytest.raises(ValueError, match=f"^{name} must "):
            replace(self.MOTOR, **{name: value})

    def test_no_leakage(self):
        with pytest.raises(ValueError, match="leakage"):
            Motor(1, 0.1, 1, 0.1, 0.1, 2, 0.05, 50)

    def test_runs(self):
        for changed, name in (
            (dict(duration=-1), "duration"),
            (dict(duration=math.nan), "duration"),
            (dict(step=0), "step"),
            (dict(inertia=-1), "inertia"),
            (dict(load_torque=5.0), "load_torque"),
            (dict(load_torque=lambda speed: math.nan), "supply and load_torque"),
        ):
            usual = dict(inertia=0.05, load_torque=no_load, duration=0.01, step=0.001)
            with pytest.raises(ValueError, match=f"^{name} must "):
                run_up(CIRCUIT, **{**usual, **changed})
        with pytest.raises(ValueError, match="^seconds must "):
            step(self.MOTOR, AT_REST, -0.1, SUPPLY, no_load)
        with pytest.raises(ValueError, match="^supply must "):
            step(self.MOTOR, AT_REST, 0.1, 400.0, no_load)
        with pytest.raises(ValueError, match="^slip must "):
            steady_state(CIRCUIT, math.nan)

    def test_connection(self):
        with pytest.raises(ValueError, match="^winding must "):
            Connection("triangle")
        with pytest.raises(ValueError, match="^lines_lost must "):
            Connection("star", ("L1",))
        assert Connection("star", "WU").lines_lost == ("U", "W")

import cmath
import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad, solve_ivp
from scipy.optimize import brentq

from physics import induction
from physics.induction import EquivalentCircuit
from physics.induction.run_up import run, run_up
from physics.induction.transient import AT_REST, Motor, MotorState, delta_wound, flux_rates, star_wound, steady_state, step
from physics.supply.space_vectors import DELTA, STAR, Connection, phase_values, space_vector, supply_vector
from physics.supply.supplies import ThreePhaseSupply

FIFTY = settings(max_examples=50, deadline=None)
CIRCUIT = EquivalentCircuit(0.641, 1.106, 0.332, 0.464, 26.3, 460, 60, 4)  # Chapman's, see references in test_induction
MAINS = ThreePhaseSupply(460, 60)
SUPPLY = supply_vector(MAINS.phase_phasors, 60)


def no_load(speed):
    return 0.0


def supply_of(mains):
    return supply_vector(mains.phase_phasors, mains.frequency)


class PhaseByPhase:
    """The same motor without space vectors: three stator and three rotor windings, their mutual inductances as cosines
    of the angles between their axes, and Kirchhoff's laws as a matrix that says which currents can flow.

    `paths` (6, m): winding currents are paths @ loop currents. `loop_voltage` time to (m,). An independent formulation
    (the "phase-variable" machine of Krause, Analysis of Electric Machinery), integrated by scipy at tight tolerance.
    """

    ROTOR = np.eye(6)[:, 3:]  # each rotor phase short-circuited on itself

    def __init__(self, motor, stator_paths, stator_voltage, load_torque):
        self.motor, self.load_torque, self.stator_voltage = motor, load_torque, stator_voltage
        stator_paths = np.vstack([stator_paths, np.zeros((3, np.shape(stator_paths)[1]))])
        self.paths = np.hstack([stator_paths, self.ROTOR])
        self.resistances = np.diag([motor.stator_resistance] * 3 + [motor.rotor_resistance] * 3)

    def inductances(self, angle):
        """(6, 6) H, and their rates with the mechanical angle."""
        motor = self.motor
        mutual = 2 / 3 * motor.magnetising_inductance
        leakage = np.repeat([motor.stator_inductance, motor.rotor_inductance], 3) - motor.magnetising_inductance
        third = 2 * math.pi / 3
        axes = np.concatenate([third * np.arange(3), third * np.arange(3) + motor.pole_pairs * angle])
        moving = np.concatenate([np.zeros(3), np.full(3, motor.pole_pairs)])
        between = axes[:, None] - axes[None, :]
        rate = -mutual * np.sin(between) * (moving[:, None] - moving[None, :])
        return mutual * np.cos(between) + np.diag(leakage), rate

    def currents(self, loop_flux, angle):
        inductances, rate = self.inductances(angle)
        loops = np.linalg.solve(self.paths.T @ inductances @ self.paths, loop_flux)
        current = self.paths @ loops
        return current, 0.5 * current @ rate @ current

    def rates(self, time, values):
        loop_flux, speed, angle = values[:-2], values[-2], values[-1]
        current, torque = self.currents(loop_flux, angle)
        voltage = np.concatenate([self.stator_voltage(time), np.zeros(3)])
        flux_rate = voltage - self.paths.T @ self.resistances @ current
        acceleration = (torque - self.load_torque(speed)) / (2 * math.pi * self.motor.inertia)
        return np.concatenate([flux_rate, [acceleration, 2 * math.pi * speed]])

    def run(self, times, speed=0.0):
        start = np.concatenate([np.zeros(self.paths.shape[1]), [speed, 0.0]])
        solved = solve_ivp(self.rates, (0, times[-1]), start, method="DOP853", t_eval=times, rtol=1e-11, atol=1e-11)
        pairs = [self.currents(column[:-2], column[-1]) for column in solved.y.T]
        return solved.y[-2], np.array([pair[0][:3] for pair in pairs]), np.array([pair[1] for pair in pairs])


STAR_PATHS = np.array([[1, 0], [0, 1], [-1, -1]])


def two_line_voltages(phases):
    """U-W and V-W of a function that gives three phase values: what drives the two loops of a star."""
    return lambda time: phases(time)[:2] - phases(time)[2]


def every(history, count):
    """Only each `count`-th moment."""
    return replace(history, **{name: getattr(history, name)[::count] for name in history.__dataclass_fields__})


def check(history, reference, rel):
    speed, currents, torque = reference
    for ours, theirs in ((history.speed, speed), (history.phase_currents, currents), (history.torque, torque)):
        np.testing.assert_allclose(ours, theirs, rtol=0, atol=rel * np.max(np.abs(theirs)))


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


class TestWhatItDoes:
    def settle(self, supply, state=AT_REST, seconds=1.0, load=no_load, connection=STAR, motor=None):
        return step(motor or star_wound(CIRCUIT, 0.05), state, seconds, supply, load, connection)

    def test_exchanging_two_lines_is_the_mirror_image(self):
        usual = run_up(CIRCUIT, 0.05, no_load, 0.3, 1e-3)
        supply = supply_of(MAINS.with_lines_exchanged("L2", "L3"))
        exchanged = run(star_wound(CIRCUIT, 0.05), AT_REST, 0.3, 1e-3, supply, no_load)
        np.testing.assert_allclose(exchanged.speed, -usual.speed, rtol=0, atol=1e-9)
        np.testing.assert_allclose(exchanged.torque, -usual.torque, rtol=0, atol=1e-7)
        np.testing.assert_allclose(exchanged.phase_currents, usual.phase_currents[:, [0, 2, 1]], rtol=0, atol=1e-8)

    @pytest.mark.parametrize("pair", [("L1", "L2"), ("L2", "L3"), ("L3", "L1")])
    def test_any_two_lines_exchanged_reverse_a_running_motor(self, pair):
        running = self.settle(SUPPLY)
        assert running.speed == pytest.approx(30.0, rel=1e-6)
        plugged = self.settle(supply_of(MAINS.with_lines_exchanged(*pair)), running, seconds=2.0)
        assert plugged.speed == pytest.approx(-30.0, rel=1e-6)

    def test_all_three_lines_moved_on_change_nothing(self):
        supply = supply_of(replace(MAINS, lines=("L2", "L3", "L1")))
        assert self.settle(supply).speed == pytest.approx(30.0, rel=1e-6)

    @pytest.mark.parametrize("lost", ["U", "V", "W"])
    def test_with_a_line_lost_it_does_not_start_but_runs_on(self, lost):
        connection = Connection("star", (lost,))
        history = run(star_wound(CIRCUIT, 0.05), AT_REST, 0.3, 1e-3, SUPPLY, no_load, connection)
        assert np.max(np.abs(history.speed)) < 1e-9 and np.max(np.abs(history.torque)) < 1e-9
        assert np.max(np.abs(history.phase_currents)) > 50
        running = self.settle(SUPPLY, load=lambda speed: 10.0)
        history = run(star_wound(CIRCUIT, 0.05), running, 1.0, 1e-3, SUPPLY, lambda speed: 10.0, connection)
        assert np.all(history.speed[-200:] > 29.0) and np.mean(history.speed[-200:]) < running.speed
        whole = [phase for phase in range(3) if "UVW"[phase] != lost]
        three = math.sqrt(2) * abs(CIRCUIT.at(CIRCUIT.slip_at_torque(10.0)).stator_current)
        assert np.max(np.abs(history.phase_currents[-200:, whole])) > 1.3 * three  # common practice: it overheats

    def test_turns_either_way_on_two_lines(self):
        for push in (10.0, -10.0):
            history = run(star_wound(CIRCUIT, 0.05), MotorState(speed=push), 1.0, 0.01, SUPPLY, no_load, Connection("star", "U"))
            assert abs(history.speed[-1]) > 29.5 and history.speed[-1] * push > 0

    def test_driven_past_synchronous_speed_it_generates(self):
        motor = star_wound(CIRCUIT, 0.05)
        state = self.settle(SUPPLY, seconds=3.0, load=lambda speed: -60.0)
        assert state.speed > 30.0
        assert motor.torque(state) == pytest.approx(-60.0, rel=1e-6)
        assert state.speed == pytest.approx(float(CIRCUIT.at(CIRCUIT.slip_at_torque(-60.0)).speed), rel=1e-9)
        assert 1.5 * (motor.stator_current(state).conjugate() * SUPPLY(state.time)).real < -9000

    def test_a_load_above_its_standstill_torque_keeps_it_down(self):
        """A constant load that pulls, as a hoist without brake does: 80 N m, against some 106 at standstill."""
        assert self.settle(SUPPLY, load=lambda speed: 80.0).speed > 27
        assert self.settle(SUPPLY, load=lambda speed: 140.0).speed < 0

    def test_disconnected_its_field_dies_with_the_rotor_time_constant(self):
        """Exact: with no stator current the rotor flux, carried round by the rotor, decays as exp(-t R2 / L2)."""
        motor = star_wound(CIRCUIT, math.inf)
        running = steady_state(CIRCUIT, 0.02)
        off = step(motor, running, 0.05, SUPPLY, no_load, Connection("star", "UVW"))
        decay = math.exp(-0.05 * motor.rotor_resistance / motor.rotor_inductance)
        turned = cmath.exp(2j * 2 * math.pi * running.speed * 0.05)
        assert off.rotor_flux == pytest.approx(running.rotor_flux * decay * turned, rel=1e-6)
        assert abs(motor.stator_current(off)) < 1e-9 and abs(motor.torque(off)) < 1e-9

    def test_what_is_switched_between_steps(self):
        """Rotor resistance, connection and voltage may change at any step; flux linkages go on from where they were."""
        motor = star_wound(CIRCUIT, 0.5)
        state = step(motor, AT_REST, 0.1, SUPPLY, no_load)
        more = replace(motor, rotor_resistance=4 * motor.rotor_resistance)
        for change in (
            dict(motor=more),
            dict(supply=supply_of(replace(MAINS, line_voltage=230))),
            dict(supply=lambda time: 100 + 0j),
        ):
            after = step(**{"motor": motor, "supply": SUPPLY, **change}, state=state, seconds=1e-9, load_torque=no_load)
            assert after.stator_flux == pytest.approx(state.stator_flux, abs=1e-6)
            assert after.rotor_flux == pytest.approx(state.rotor_flux, abs=1e-6)
            assert after.speed == pytest.approx(state.speed, abs=1e-6)
        slower, quicker = (step(m, AT_REST, 0.2, SUPPLY, no_load).speed for m in (motor, more))
        assert quicker > 1.5 * slower  # more rotor resistance, more torque at the start (references: Chapman's motor)

    def test_steps_as_long_as_a_frame_or_as_slow_motion_end_alike(self):
        motor = star_wound(CIRCUIT, 0.05)
        frame = step(motor, AT_REST, 0.033, SUPPLY, no_load)
        slow = AT_REST
        for _ in range(100):
            slow = step(motor, slow, 0.00033, SUPPLY, no_load)
        assert slow.time == pytest.approx(frame.time)
        assert slow.stator_flux == pytest.approx(frame.stator_flux, rel=1e-6)
        assert slow.rotor_flux == pytest.approx(frame.rotor_flux, rel=1e-6)
        assert slow.speed == pytest.approx(frame.speed, rel=1e-6)
        assert step(motor, frame, 0.0, SUPPLY, no_load) == frame

    def test_a_run_in_two_pieces_is_one_run(self):
        motor = star_wound(CIRCUIT, 0.05)
        whole = run(motor, AT_REST, 0.2, 1e-3, SUPPLY, no_load)
        first = run(motor, AT_REST, 0.1, 1e-3, SUPPLY, no_load)
        second = run(motor, first.state(-1), 0.1, 1e-3, SUPPLY, no_load)
        np.testing.assert_allclose(second.speed, whole.speed[100:], rtol=0, atol=1e-9)
        np.testing.assert_allclose(second.angle, whole.angle[100:], rtol=0, atol=1e-9)

    def test_history(self):
        history = induction.run_up(CIRCUIT, 0.05, no_load, 0.1, 1e-3)
        assert isinstance(history, induction.History)
        assert history.time.shape == history.speed.shape == history.torque.shape == (101,)
        assert history.phase_currents.shape == (101, 3)
        np.testing.assert_allclose(history.time, np.linspace(0, 0.1, 101), rtol=0, atol=1e-12)
        assert history.speed[0] == 0 and not np.any(history.phase_currents[0])
        turned = np.concatenate([[0], np.cumsum((history.speed[1:] + history.speed[:-1]) / 2 * 1e-3 * 2 * math.pi)])
        np.testing.assert_allclose(history.angle, turned, atol=2e-3)


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

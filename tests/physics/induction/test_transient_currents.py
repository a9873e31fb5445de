"""What the transient does that a motor is known to do."""

import cmath
import math
from dataclasses import replace

import numpy as np
import pytest

from physics import induction
from physics.induction.run_up import run, run_up
from physics.induction.transient import AT_REST, MotorState, star_wound, steady_state, step
from physics.supply.space_vectors import STAR, Connection
from tests.physics.induction.phase_by_phase import CIRCUIT, MAINS, SUPPLY, no_load, supply_of


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

"""A rotor with two cages: the circuit by its own impedances, the transient by a matrix of inductances, the bars by layers."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from physics.induction import EquivalentCircuit, run_up
from physics.induction.motion import bar_currents
from physics.induction.run_up import run
from physics.induction.transient import AT_REST, delta_wound, star_wound, steady_state, step
from physics.shaft.loads import Conveyor, Fan, Friction, Shaft
from physics.starting.methods import DirectOnLine, RotorResistance, StarDelta
from physics.starting.stages import Feed
from physics.starting.starts import compare, start
from physics.starting.transients import record
from physics.supply.space_vectors import DELTA, STAR, Connection
from tests.physics.induction.two_cages import FIFTY, ONE, SLIPS, SUPPLY, TWO, Matrix, circuits, most_torque, solved


class TestCircuit:
    @FIFTY
    @given(circuit=circuits, slip=st.sampled_from(SLIPS.tolist()))
    def test_each_branch_by_itself(self, circuit, slip):
        point = circuit.at(slip)
        current, torque, heat = solved(circuit, slip)
        assert point.stator_current == pytest.approx(current, rel=1e-10)
        assert point.torque == pytest.approx(torque, rel=1e-9)
        assert point.rotor_loss == pytest.approx(heat, rel=1e-9)
        assert point.input_power == pytest.approx(point.stator_loss + point.rotor_loss + point.converted_power, rel=1e-9)

    def test_resistance_rises_and_leakage_falls_with_slip(self):
        """From both in parallel to the starting cage alone; from the running cage's leakage to none of it."""
        slow, fast = TWO.rotor_impedance(1e-6), TWO.rotor_impedance(1e6)
        assert slow.real == pytest.approx(0.07 * 0.18 / 0.25, rel=1e-6)
        assert slow.imag / 1e-6 == pytest.approx(0.2 + 0.49 * (0.18 / 0.25) ** 2, rel=1e-6)
        assert fast.real == pytest.approx(0.18, rel=1e-6)
        assert fast.imag / 1e6 == pytest.approx(0.2, rel=1e-6)
        impedances = TWO.rotor_impedance(np.linspace(0.001, 2, 200))
        assert np.all(np.diff(impedances.real) > 0) and np.all(np.diff(impedances.imag / np.linspace(0.001, 2, 200)) < 0)

    @FIFTY
    @given(circuit=circuits)
    def test_breakdown_is_the_top_of_the_curve(self, circuit):
        slips = np.geomspace(1e-4, 300, 30001)
        for sign, (slip, torque) in ((1, circuit.breakdown()), (-1, circuit.generator_breakdown())):
            curve = sign * circuit.at(sign * slips).torque
            top = int(np.argmax(curve))
            most = most_torque(lambda slip, sign=sign: sign * solved(circuit, sign * slip)[1], slips, top)
            assert sign * torque == pytest.approx(most, rel=1e-6)
            assert circuit.at(slip).torque == pytest.approx(torque, rel=1e-6)

    @FIFTY
    @given(circuit=circuits, share=st.floats(0.01, 1.0))
    def test_slip_at_torque_is_the_first_that_has_it(self, circuit, share):
        torque = share * circuit.breakdown()[1]
        slip = circuit.slip_at_torque(torque)
        assert circuit.at(slip).torque == pytest.approx(torque, rel=1e-5)
        assert np.all(circuit.at(np.linspace(0, 0.999 * slip, 500)).torque < torque)
        braked = circuit.slip_at_torque(share * circuit.generator_breakdown()[1])
        assert circuit.at(braked).torque == pytest.approx(share * circuit.generator_breakdown()[1], rel=1e-5) and braked < 0

    def test_first_hump_and_higher_hump(self):
        """A running cage of much leakage: a low hump near synchronous speed, a higher one of the starting cage."""
        humped = replace(TWO, rotor_resistance=0.02, running_cage_reactance=2.0, starting_cage_resistance=0.35)
        slips = np.linspace(1e-4, 1, 20001)
        torque = humped.at(slips).torque
        first = slips[np.argmax(np.diff(torque) < 0)]
        assert humped.pull_out_slip() == pytest.approx(first, abs=2e-4)
        assert humped.breakdown()[0] > 5 * first and humped.breakdown()[1] > torque[np.argmax(np.diff(torque) < 0)]

    @pytest.mark.parametrize("values", [dict(starting_cage_resistance=0.2), dict(running_cage_reactance=0.2)])
    def test_half_a_second_cage_is_none(self, values):
        with pytest.raises(ValueError, match="must be given together"):
            replace(ONE, **values)

    def test_bars_lag_as_the_branch_does(self):
        """The largest bar stands where the field's crest was the lag of the rotor branch before."""
        slip = 0.3
        running, starting = 0.07 / slip + 0.49j, 0.18 / slip
        lag = np.angle(0.2j + running * starting / (running + starting))
        angles = np.linspace(-np.pi / 2, np.pi / 2, 200001)
        largest = angles[np.argmax(bar_currents(TWO, slip, 1.0, angles))]
        assert abs(2 * largest) == pytest.approx(lag, abs=1e-4)


class TestTransient:
    @pytest.mark.parametrize(("wound", "connection", "to_star"), [(star_wound, STAR, 1.0), (delta_wound, DELTA, 3.0)])
    def test_a_start_against_a_matrix_of_inductances(self, wound, connection, to_star):
        motor, load = wound(TWO, 0.4), lambda speed: 20.0 + 0.1 * speed**2
        state = step(motor, AT_REST, 0.15, SUPPLY, load, connection)
        matrix = Matrix(TWO, to_star)
        other = matrix.run(0.15, 0.4, load, lambda time: connection.ratio * SUPPLY(time))
        fluxes = np.array([state.stator_flux, state.rotor_flux, state.running_flux])
        assert fluxes == pytest.approx(other[:3], abs=1e-4)
        assert state.speed == pytest.approx(other[3].real, abs=1e-4)
        currents = matrix.currents(other[:3])
        assert motor.stator_current(state) == pytest.approx(currents[0], abs=0.1)
        assert motor.running_cage_current(state) == pytest.approx(currents[2], abs=0.1)
        assert motor.rotor_current(state) == pytest.approx(currents[1] + currents[2], abs=0.1)
        # what was drawn is heat, motion, what the load took and what is left in the fields
        assert motor.rotor_loss(state) == pytest.approx(1.5 * np.sum((matrix.resistances * abs(currents) ** 2)[1:]), rel=1e-3)

    @pytest.mark.parametrize(("slip", "seconds"), [(0.012, 2.0), (0.1, 2.0), (0.5, 2.0), (1.0, 11.0)])
    def test_held_at_a_speed_it_settles_at_the_circuit(self, slip, seconds):
        """Currents and torque of the circuit solved here, once the flux of switching on has died away: locked, with
        stator and rotor at rest to each other, that takes several of Lm / (R1 parallel R2), about a second each."""
        motor = star_wound(TWO, math.inf)
        state = replace(AT_REST, speed=25 * (1 - slip))
        state = step(motor, state, seconds, SUPPLY, lambda speed: 0.0)
        history = run(motor, state, 0.02, 1e-3, SUPPLY, lambda speed: 0.0)
        current, torque, heat = solved(TWO, slip)
        settled = slice(-20, None)  # one cycle
        assert history.torque[settled] == pytest.approx(torque, rel=2e-4)
        rms = np.sqrt(np.mean(history.phase_currents[settled] ** 2, axis=0))
        assert rms == pytest.approx(abs(current), rel=2e-4)
        assert history.rotor_loss[settled] == pytest.approx(heat, rel=4e-4)

    @pytest.mark.parametrize("slip", [-0.3, 0.0, 0.02, 1.0])
    def test_steady_state_stays(self, slip):
        motor = delta_wound(TWO, math.inf)
        state = steady_state(TWO, slip, 0.003, DELTA)
        later = step(motor, state, 0.0127, SUPPLY, lambda speed: 0.0, DELTA)
        expected = steady_state(TWO, slip, 0.0157, DELTA)
        for name in ("stator_flux", "rotor_flux", "running_flux"):
            assert getattr(later, name) == pytest.approx(getattr(expected, name), abs=1e-6)

    @pytest.mark.parametrize("connection", [STAR, Connection("star", ("V",)), Connection("delta", ("W",))])
    def test_energy_adds_up(self, connection):
        """Drawn = heat + turned into motion + gain of the fields, also with a phase lost; trapezoids over 20 microseconds."""
        wound, to_star = (star_wound, 1.0) if connection.winding == "star" else (delta_wound, 3.0)
        motor, matrix = wound(TWO, 0.3), Matrix(TWO, to_star)
        state = steady_state(TWO, 0.3, 0.0, Connection(connection.winding))
        history = run(motor, state, 0.06, 2e-5, SUPPLY, lambda speed: 50.0, connection)
        # what a winding draws: its voltage is what its resistance and its flux take, lost line or not
        winding = np.array([motor.stator_current(history.state(i)) for i in range(history.time.size)])
        rate = np.gradient(history.stator_flux, history.time, edge_order=2)
        drawn = 1.5 * ((motor.stator_resistance * winding + rate) * winding.conjugate()).real
        motion = 2 * math.pi * history.speed * history.torque
        rest = drawn - motion - history.stator_loss - history.rotor_loss
        stored = [matrix.energy(np.array([history.stator_flux[i], history.rotor_flux[i], history.running_flux[i]])) for i in (1, -2)]
        gained = float(np.sum(0.5 * (rest[2:-1] + rest[1:-2]) * np.diff(history.time[1:-1])))
        assert gained == pytest.approx(stored[1] - stored[0], abs=2e-4 * float(np.sum(np.abs(drawn))) * 2e-5)

    def test_power_drawn_from_the_lines_is_heat_motion_and_field(self):
        matrix = Matrix(TWO)
        *fluxes, speed, heat, drawn = matrix.run(0.1, 0.4, lambda speed: 0.0, SUPPLY)
        motor = star_wound(TWO, 0.4)
        history = run(motor, AT_REST, 0.1, 1e-5, SUPPLY, lambda speed: 0.0)
        lost = history.stator_loss + history.rotor_loss
        ours = float(np.sum(0.5 * (lost[1:] + lost[:-1]) * np.diff(history.time)))
        assert ours == pytest.approx(heat.real, rel=1e-4)
        moving = 0.5 * 0.4 * (2 * math.pi * speed.real) ** 2
        assert drawn.real == pytest.approx(heat.real + moving + matrix.energy(np.array(fluxes)), rel=1e-5)

    def test_one_cage_has_no_second_flux(self):
        motor = star_wound(ONE, 0.4)
        assert step(motor, AT_REST, 0.02, SUPPLY, lambda speed: 0.0).running_flux == 0
        with pytest.raises(ValueError, match="must be given together"):
            replace(motor, running_cage_inductance=1e-3)


class TestStarts:
    SHAFT = Shaft(0.3, Fan(24.0, 180.0, 1.0, Friction(5.0)))

    def test_run_up_and_quasi_steady_come_to_the_same_speed(self):
        history = run_up(TWO, self.SHAFT.inertia, self.SHAFT.torque, 3.0, 1e-2)
        result = start(TWO, self.SHAFT, DirectOnLine())
        assert result.outcome == "runs"
        assert history.speed[-1] == pytest.approx(result.settled_speed, abs=0.005)

    def test_in_star_a_third(self):
        in_star, direct = start(TWO, self.SHAFT, StarDelta()), start(TWO, self.SHAFT, DirectOnLine())
        assert in_star.starting_torque == pytest.approx(solved(TWO, 1.0)[1] / 3, rel=1e-9)
        assert direct.starting_torque == pytest.approx(solved(TWO, 1.0)[1], rel=1e-9)
        assert in_star.starting_line_current == pytest.approx(abs(solved(TWO, 1.0)[0]) / 3, rel=1e-9)

    def test_half_frequency_halves_every_reactance(self):
        fed = Feed(0.5, 0.5).circuit(TWO)
        by_hand = EquivalentCircuit(0.08, 0.1, 0.07, 0.1, 4.5, 200, 25, 4, 0.18, 0.245)
        assert fed.at(0.2).torque == pytest.approx(solved(by_hand, 0.2)[1], rel=1e-9)

    def test_star_delta_moment_by_moment(self):
        """The record passes both cages' flux from stage to stage and settles where the quasi-steady start does."""
        stages = record(TWO, self.SHAFT, StarDelta(), 5.0, 5e-3)
        assert [stage.name for stage in stages] == ["star", "change-over", "delta"]
        settled = start(TWO, self.SHAFT, StarDelta()).settled_speed
        assert stages[-1].history.speed[-1] == pytest.approx(settled, abs=0.01)

    def test_crawling_behind_the_first_hump_is_no_running(self):
        humped = replace(TWO, rotor_resistance=0.02, running_cage_reactance=2.0, starting_cage_resistance=0.35)
        slips = np.linspace(humped.pull_out_slip(), 1, 2001)
        between = float(humped.at(slips).torque.min()) + 2.0
        result = start(humped, Shaft(0.3, Conveyor(0.2, Friction(between))), DirectOnLine())
        assert result.outcome == "crawls"

    def test_two_cages_have_no_slip_rings(self):
        assert "rotor resistance" not in [each.method for each in compare(TWO, self.SHAFT)]
        with pytest.raises(ValueError, match="no slip rings"):
            RotorResistance.between_torques(TWO, 3, 300.0)
        with pytest.raises(ValueError, match="no slip rings"):
            Feed(rotor_resistance=0.1).circuit(TWO)

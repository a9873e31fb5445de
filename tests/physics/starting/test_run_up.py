"""Run-ups: by steady torque, against the transient, and whether the motor starts at all."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from physics import speeds
from physics.shaft.loads import Conveyor, Fan, Friction, Hoist, OtherWay, Shaft, kinetic_energy
from physics.starting.methods import (
    Autotransformer,
    DirectOnLine,
    InverterRamp,
    RotorResistance,
    SoftStarter,
    StarDelta,
    standard_methods,
)
from physics.starting.quasi_steady import settling_speed
from physics.starting.starts import CRAWLS, DRIVEN_BACK, RUNS, RUNS_AWAY, STAYS_AT_REST, compare, start
from physics.starting.transients import record
from physics.supply.space_vectors import space_vector
from tests.physics.starting.motors import BELT, CHAPMAN, FAN, FIFTY, TWENTY, UNLOADED, circuits, row


class TestQuasiSteadyRun:
    @pytest.mark.parametrize("shaft", [FAN, BELT, UNLOADED], ids=["fan", "belt", "unloaded"])
    def test_direct_start_against_scipy(self, shaft):
        result = start(CHAPMAN, shaft, DirectOnLine())

        def rates(_, state):
            slip = speeds.slip(CHAPMAN.synchronous_speed, state[0])
            point = CHAPMAN.at(slip)
            return [(point.torque - shaft.torque(state[0])) / (2 * math.pi * shaft.inertia), point.rotor_loss]

        def there(_, state):
            return state[0] - 0.99 * result.settled_speed

        there.terminal = True
        solved = solve_ivp(rates, (0, 20), [0.0, 0.0], events=there, rtol=1e-9, atol=1e-9, max_step=0.01)
        assert result.time == pytest.approx(solved.t[-1], rel=2e-5)
        assert result.rotor_heat == pytest.approx(solved.y[1, -1], rel=2e-5)

    @pytest.mark.parametrize("method", [SoftStarter(0.4, 3.0), InverterRamp(3.0, 15.0)], ids=["voltage", "frequency"])
    @pytest.mark.parametrize("shaft", [FAN, BELT], ids=["fan", "belt"])
    def test_ramps_against_scipy(self, method, shaft):
        ramp = method.stages(CHAPMAN)[0]

        def rates(time, state):
            circuit = ramp.feed(time).circuit(CHAPMAN)
            torque = circuit.at(speeds.slip(circuit.synchronous_speed, state[0])).torque
            return [(torque - shaft.torque(state[0])) / (2 * math.pi * shaft.inertia)]

        run_up = start(CHAPMAN, shaft, method).run_up
        during = run_up.stage == 0
        moments = run_up.time[during]
        solved = solve_ivp(rates, (0, 3), [0.0], method="LSODA", t_eval=moments, rtol=1e-8, atol=1e-8)
        assert np.abs(solved.y[0] - run_up.speed[during]).max() < 0.005 * CHAPMAN.synchronous_speed

    @pytest.mark.parametrize("shaft", [FAN, UNLOADED], ids=["fan", "unloaded"])
    def test_work_on_the_shaft_is_its_energy(self, shaft):
        for result in compare(CHAPMAN, shaft):
            run_up = result.run_up
            power = (run_up.torque - run_up.load_torque) * speeds.angular_speed(run_up.speed)
            work = np.sum(0.5 * (power[1:] + power[:-1]) * np.diff(run_up.time))
            stepwise = result.method in ("soft starter", "inverter ramp")
            energy = kinetic_energy(shaft.inertia, run_up.speed[-1])
            assert work == pytest.approx(energy, rel=3e-3 if stepwise else 1e-5), result.method

    @pytest.mark.parametrize("method", standard_methods(CHAPMAN), ids=lambda method: method.name)
    def test_a_run_up_is_without_gaps(self, method):
        run_up = start(CHAPMAN, FAN, method).run_up
        assert (np.diff(run_up.time) >= 0).all() and (np.diff(run_up.stage) >= 0).all()
        assert np.abs(np.diff(run_up.speed)).max() < 0.01 * CHAPMAN.synchronous_speed
        assert run_up.time[0] == run_up.speed[0] == 0.0
        for name in ("stator_heat", "rotor_heat", "resistor_heat"):
            assert (np.diff(getattr(run_up, name)) >= 0).all()
        assert max(run_up.stage) == len(run_up.stages) - 1

    @TWENTY
    @given(circuit=circuits, load=st.floats(0.05, 0.6), factor=st.floats(1.5, 20.0))
    def test_time_and_heat_go_as_the_inertia(self, circuit, load, factor):
        fan = Fan(circuit.synchronous_speed, load * circuit.at(1.0).torque, 0.0)
        light, heavy = (start(circuit, Shaft(inertia, fan), DirectOnLine()) for inertia in (0.5, 0.5 * factor))
        assert heavy.settled_speed == pytest.approx(light.settled_speed, rel=1e-12)
        assert heavy.time == pytest.approx(factor * light.time, rel=1e-9)
        assert heavy.rotor_heat == pytest.approx(factor * light.rotor_heat, rel=1e-9)

    @FIFTY
    @given(circuit=circuits, load=st.floats(-0.5, 0.95))
    def test_settles_where_the_circuit_says(self, circuit, load):
        breakdown_slip, breakdown = circuit.breakdown()
        if load < 0:
            breakdown_slip, breakdown = circuit.generator_breakdown()
        torque = abs(load) * breakdown

        class Constant:
            inertia = 1.0

            @staticmethod
            def torque(speed):
                return torque + 0.0 * speed

        beginning = circuit.synchronous_speed * (1 - 0.999 * breakdown_slip)
        expected = circuit.synchronous_speed * (1 - circuit.slip_at_torque(torque))
        assert settling_speed(circuit, Constant, float(beginning)) == pytest.approx(expected, rel=1e-8)


class TestWhetherItStarts:
    def test_star_may_be_too_weak_to_break_a_load_away(self):
        rows = compare(CHAPMAN, BELT)
        assert [each.outcome for each in rows] == [RUNS, STAYS_AT_REST, STAYS_AT_REST, RUNS, RUNS, RUNS]
        star = row(rows, "star-delta")
        assert star.last_stage == "star" and not star.starts and "stays at rest (star)" in star.sentence
        assert 0 <= star.settled_speed < 0.1
        assert star.settled_line_current == pytest.approx(star.starting_line_current, rel=1e-3)
        # 48 A where about 19 are rated: it heats its windings with about (48 / 19)^2 times what they are made for
        rated = CHAPMAN.at(0.022)
        assert star.settled_heating > 6 * (rated.stator_loss + rated.rotor_loss)

    def test_stuck_on_resistors_part_of_the_heat_is_outside(self):
        stiff = Shaft(0.1, Conveyor(inertia=1.0, friction=Friction(running=50.0, breakaway=220.0)))
        result = start(CHAPMAN, stiff, RotorResistance((CHAPMAN.rotor_resistance,), (0.3,)))
        assert (result.outcome, result.last_stage) == (STAYS_AT_REST, "resistance step 1")
        at_rest = replace(CHAPMAN, rotor_resistance=2 * CHAPMAN.rotor_resistance).at(1.0)
        assert result.settled_heating == pytest.approx(at_rest.stator_loss + at_rest.rotor_loss / 2, rel=0.01)

    def test_the_transient_does_not_break_it_away_either(self):
        (stage,) = record(CHAPMAN, BELT, StarDelta(), 1.5, 1e-3)
        assert stage.name == "star"
        settled = start(CHAPMAN, BELT, StarDelta()).settled_speed
        assert stage.history.speed[-1] == pytest.approx(settled, rel=0.02)

    def test_a_fan_too_large_lets_the_motor_crawl(self):
        """The torques also meet where the motor's rises with speed if the fan's rises more quickly."""
        shaft = Shaft(0.1, Fan(rated_speed=29.0, rated_torque=900.0, inertia=1.0))
        result = start(CHAPMAN, shaft, DirectOnLine())
        assert result.outcome == CRAWLS and not result.starts
        by_scipy = brentq(lambda speed: CHAPMAN.at(1 - speed / CHAPMAN.synchronous_speed).torque - shaft.torque(speed), 5.0, 20.0)
        assert result.settled_speed == pytest.approx(by_scipy, rel=1e-9)
        assert f"crawls at {60 * by_scipy:.0f} r/min (on full voltage)" in result.sentence
        (stage,) = record(CHAPMAN, shaft, DirectOnLine(), 3.0, 1e-2)
        assert stage.history.speed[-1] == pytest.approx(by_scipy, rel=2e-3)

    @FIFTY
    @given(circuit=circuits, running=st.floats(0.02, 1.1), more=st.floats(1.0, 2.0))
    def test_starts_where_its_torque_stays_above_the_load(self, circuit, running, more):
        """Whatever the belt: direct starting succeeds just where the motor's torque exceeds friction at rest, and then
        that in motion up to the breakdown."""
        breakdown_slip, breakdown = circuit.breakdown()
        belt = Conveyor(0.5, Friction(running * breakdown, more * running * breakdown))
        result = start(circuit, Shaft(0.1, belt), DirectOnLine())
        way = np.linspace(0.0, circuit.synchronous_speed * max(1.0 - breakdown_slip, 0.01), 20001)[1:]
        surplus = circuit.at(1.0 - way / circuit.synchronous_speed).torque - belt.torque(way)
        if abs(surplus.min()) > 1e-3 * breakdown:
            assert result.starts == (surplus.min() > 0.0)

    def test_star_may_hang_below_its_change_over(self):
        shaft = Shaft(0.1, Fan(rated_speed=29.0, rated_torque=250.0, inertia=1.0))
        result = start(CHAPMAN, shaft, StarDelta())
        assert (result.outcome, result.last_stage) == (CRAWLS, "star")

    def test_star_that_runs_with_more_slip_than_meant_is_changed_over_there(self):
        shaft = Shaft(0.1, Fan(rated_speed=29.0, rated_torque=75.0, inertia=1.0))
        result = start(CHAPMAN, shaft, StarDelta(change_over_slip=0.03))
        assert result.starts and result.run_up.stages == ("star", "change-over", "delta")
        in_star = result.run_up.speed[result.run_up.stage == 0]
        assert 0.8 * CHAPMAN.synchronous_speed < in_star[-1] < 0.97 * CHAPMAN.synchronous_speed

    def test_a_weight_beyond_starting_torque_drives_the_motor_back(self):
        hoist = Shaft(0.1, Hoist(mass=500.0, drum_radius=0.2), gear_ratio=20.0)
        assert start(CHAPMAN, hoist, DirectOnLine()).starts
        result = start(CHAPMAN, hoist, Autotransformer(0.5))
        assert result.outcome == DRIVEN_BACK and math.isnan(result.time) and math.isnan(result.settled_speed)
        assert start(CHAPMAN, hoist, InverterRamp()).outcome == DRIVEN_BACK

    def test_lowering_it_goes_past_synchronous_speed_and_brakes(self):
        lowering = OtherWay(Shaft(0.1, Hoist(mass=1000.0, drum_radius=0.2), gear_ratio=40.0))
        result = start(CHAPMAN, lowering, DirectOnLine())
        assert result.starts and result.settled_speed > CHAPMAN.synchronous_speed
        slip = CHAPMAN.slip_at_torque(-1000.0 * 9.80665 * 0.2 / 40)
        assert result.settled_speed == pytest.approx(CHAPMAN.synchronous_speed * (1 - slip), rel=1e-9)

    def test_a_weight_beyond_generator_breakdown_runs_away(self):
        lowering = OtherWay(Shaft(0.1, Hoist(mass=20000.0, drum_radius=0.2), gear_ratio=40.0))
        result = start(CHAPMAN, lowering, DirectOnLine())
        assert result.outcome == RUNS_AWAY and "runs away" in result.sentence


class TestAgainstTheTransient:
    def test_a_heavy_start_is_the_same_without_electrical_transients(self):
        """The heavier the shaft, the less the transients matter: the two ways come together."""
        differences = []
        for inertia in (0.5, 1.5, 4.5):
            shaft = Shaft(inertia)
            result = start(CHAPMAN, shaft, DirectOnLine())
            (stage,) = record(CHAPMAN, shaft, DirectOnLine(), 1.2 * result.time, 2e-3)
            history = stage.history
            there = int(np.argmax(history.speed >= 0.98 * CHAPMAN.synchronous_speed))
            quasi = np.interp(0.98 * CHAPMAN.synchronous_speed, result.run_up.speed, result.run_up.time)
            differences.append(abs(history.time[there] / quasi - 1))
        assert differences[2] < 0.01 and differences[2] < differences[1] < differences[0] < 0.1

    @pytest.mark.parametrize(
        "method",
        [*standard_methods(CHAPMAN)[:3], SoftStarter(0.5, 2.0), standard_methods(CHAPMAN)[4], InverterRamp(2.0, 15.0)],
        ids=lambda method: method.name,
    )
    def test_stages_speeds_and_peaks_are_those_of_the_whole_record(self, method):
        result = start(CHAPMAN, FAN, method)
        stages = record(CHAPMAN, FAN, method, result.run_up.time[-1] + 0.2, 1e-3)
        assert tuple(stage.name for stage in stages) == result.run_up.stages
        for index, stage in enumerate(stages[:-1]):
            quasi = result.run_up.stage == index
            assert stage.history.time[-1] == pytest.approx(result.run_up.time[quasi][-1], rel=0.03, abs=0.03)
            assert stage.history.speed[-1] == pytest.approx(result.run_up.speed[quasi][-1], abs=0.2)
        assert stages[-1].history.speed[-1] == pytest.approx(result.settled_speed, rel=0.01)
        currents = [np.abs(space_vector(stage.history.line_currents)) for stage in stages]
        assert result.peak_motor_current == pytest.approx(max(current.max() for current in currents), rel=0.03)
        settled = CHAPMAN.at(1 - stages[-1].history.speed[-1] / CHAPMAN.synchronous_speed)
        assert currents[-1][-1] / math.sqrt(2) == pytest.approx(abs(settled.stator_current), rel=0.02)

    def test_change_over_may_draw_more_than_direct_starting(self):
        """Well known of the open transition (common practice): the windings meet the mains out of step with the EMF of
        the flux that is left. So the peak depends on the pause."""
        direct = start(CHAPMAN, FAN, DirectOnLine()).peak_line_current
        peaks = [start(CHAPMAN, FAN, StarDelta(pause=pause)).peak_line_current for pause in (0.02, 0.05, 2.0)]
        assert max(peaks) > direct
        assert np.ptp(peaks) > 0.2 * direct

    def test_flux_left_in_the_pause_stays_in_step_where_nothing_slips(self):
        """Off the lines and on again at synchronous speed with hardly a pause: no inrush but that of the delta's step
        of 30 degrees and a voltage sqrt(3) times as high."""
        unloaded = Shaft(50.0)
        quick = start(CHAPMAN, unloaded, StarDelta(change_over_slip=1e-4, pause=1e-4)).peak_line_current
        # star: fluxes E; delta asks for sqrt(3) E exp(30 deg). The difference over the leakage, and at most doubled
        leakage = abs(complex(0.641 + 0.332, 1.106 + 0.464))
        step = abs(math.sqrt(3) * np.exp(1j * math.pi / 6) - 1) * math.sqrt(2) * 460 / math.sqrt(3) / math.sqrt(3)
        settled = math.sqrt(2) * abs(CHAPMAN.at(0.0).stator_current)
        assert 0.5 * step / leakage < quick < 2 * step / leakage + settled

"""A rotor with two cages: the circuit by its own impedances, the transient by a matrix of inductances, the bars by layers."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import minimize_scalar

from physics.cage import Cage
from physics.cage.bars_and_rings import deep_bar_layers
from physics.induction import EquivalentCircuit, run_up
from physics.induction.gap import Bore, steady_cage, transient_cage
from physics.induction.motion import bar_currents
from physics.induction.run_up import run
from physics.induction.transient import AT_REST, delta_wound, star_wound, steady_state, step
from physics.shaft.loads import Conveyor, Fan, Friction, Shaft
from physics.starting.methods import DirectOnLine, RotorResistance, StarDelta
from physics.starting.stages import Feed
from physics.starting.starts import compare, start
from physics.starting.transients import record
from physics.supply.space_vectors import DELTA, STAR, Connection, supply_vector
from physics.supply.supplies import ThreePhaseSupply

FIFTY = settings(max_examples=50, deadline=None)
# about 37 kW, four poles, 400 V, 50 Hz: ordinary per-unit values (common practice, no source)
TWO = EquivalentCircuit(0.08, 0.2, 0.07, 0.2, 9.0, 400, 50, 4, 0.18, 0.49)
ONE = EquivalentCircuit(0.08, 0.2, 0.07, 0.2, 9.0, 400, 50, 4)
SLIPS = np.array([-0.9, -0.02, 0.004, 0.015, 0.1, 0.4, 1.0, 1.7])
SUPPLY = supply_vector(ThreePhaseSupply(400, 50).phase_phasors, 50)

circuits = st.builds(
    EquivalentCircuit,
    stator_resistance=st.floats(0.01, 0.2),
    stator_reactance=st.floats(0.05, 0.5),
    rotor_resistance=st.floats(0.02, 0.3),
    rotor_reactance=st.floats(0.02, 0.5),
    magnetising_reactance=st.floats(3.0, 20.0),
    line_voltage=st.just(400),
    frequency=st.sampled_from([50, 60]),
    poles=st.sampled_from([2, 4, 6]),
    starting_cage_resistance=st.floats(0.05, 1.0),
    running_cage_reactance=st.floats(0.05, 1.5),
)


def solved(circuit: EquivalentCircuit, slip: float) -> tuple[complex, float, float]:
    """Stator current, torque and rotor heat by the branches one by one, slip not 0."""
    running = circuit.rotor_resistance / slip + 1j * circuit.running_cage_reactance
    starting = circuit.starting_cage_resistance / slip
    rotor = 1j * circuit.rotor_reactance + running * starting / (running + starting)
    gap = 1j * circuit.magnetising_reactance * rotor / (1j * circuit.magnetising_reactance + rotor)
    current = circuit.line_voltage / math.sqrt(3) / (circuit.stator_resistance + 1j * circuit.stator_reactance + gap)
    cages = current * gap / rotor * (running * starting / (running + starting))
    heat = 3 * circuit.rotor_resistance * abs(cages / running) ** 2
    heat += 3 * circuit.starting_cage_resistance * abs(cages / starting) ** 2
    return current, heat / slip / (4 * math.pi * circuit.frequency / circuit.poles), heat


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
            found = minimize_scalar(
                lambda at, sign=sign: -sign * solved(circuit, sign * math.exp(at))[1],
                bounds=(math.log(slips[max(0, top - 1)]), math.log(slips[min(top + 1, slips.size - 1)])),
                method="bounded",
            )
            assert sign * torque == pytest.approx(-found.fun, rel=1e-6)
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


class Matrix:
    """The same motor as coils that link each other: currents from the inverse of one matrix of inductances, its rates by
    scipy's integrator. Stator, starting cage, running cage; axes at rest with the stator."""

    def __init__(self, circuit: EquivalentCircuit, winding_to_star: float = 1.0):
        henry = winding_to_star / (2 * math.pi * circuit.frequency)
        x1, x2, xm, xr = (circuit.stator_reactance, circuit.rotor_reactance, circuit.magnetising_reactance, circuit.running_cage_reactance)
        self.inductances = henry * np.array([[x1 + xm, xm, xm], [xm, x2 + xm, x2 + xm], [xm, x2 + xm, x2 + xm + xr]])
        self.resistances = winding_to_star * np.array(
            [circuit.stator_resistance, circuit.starting_cage_resistance, circuit.rotor_resistance]
        )
        self.pairs = circuit.poles // 2

    def currents(self, fluxes):
        return np.linalg.solve(self.inductances, fluxes)

    def run(self, seconds, inertia, load, voltage, speed=0.0):
        def rates(time, state):
            fluxes, speed = state[:3], state[3].real
            currents = self.currents(fluxes)
            turning = 1j * self.pairs * 2 * math.pi * speed * np.array([0, 1, 1])
            torque = 1.5 * self.pairs * (fluxes[0].conjugate() * currents[0]).imag
            rate = np.array([voltage(time), 0, 0]) - self.resistances * currents + turning * fluxes
            heat = 1.5 * np.sum(self.resistances * np.abs(currents) ** 2)
            drawn = 1.5 * (voltage(time) * currents[0].conjugate()).real
            return np.array([*rate, (torque - load(speed)) / (2 * math.pi * inertia), heat, drawn])

        begun = np.array([0, 0, 0, speed, 0, 0], dtype=complex)
        return solve_ivp(rates, (0, seconds), begun, method="DOP853", rtol=1e-9, atol=1e-9).y[:, -1]

    def energy(self, fluxes):
        return 0.75 * (np.conj(fluxes) @ self.currents(fluxes)).real


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
        """Drawn = heat + turned into motion + gain of the fields, also with a line lost; trapezoids over 20 microseconds."""
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


LAYERED = Cage(28, 70e-6, 0.5e-6, 2e-6, 6e-9, 0.06, 0.12, (), 300e-6, 1.2e-6)
TURNS, FACTOR = 96, 0.925


def circuit_of(cage: Cage, poles: int = 4) -> EquivalentCircuit:
    rotor = cage.referred_rotor(TURNS, FACTOR, 50, poles // 2)
    return EquivalentCircuit(0.6, 1.1, magnetising_reactance=30, line_voltage=400, frequency=50, poles=poles, **rotor)


def heat_in(cage: Cage, currents: np.ndarray, ring: np.ndarray, slip_frequency: float) -> float:
    """W by the two layers of each bar and the rings, the currents sinusoidal: at an instant, averaged over the bars."""
    running = cage.bar_resistance + 1j * slip_frequency * cage.running_bar_inductance
    share = cage.starting_bar_resistance / (running + cage.starting_bar_resistance)
    layers = cage.bar_resistance * abs(share) ** 2 + cage.starting_bar_resistance * abs(1 - share) ** 2
    return float(layers * np.sum(currents**2) + 2 * cage.ring_resistance * np.sum(ring**2))


class TestBars:
    @FIFTY
    @given(
        bars=st.integers(13, 60),
        starting=st.floats(80e-6, 900e-6),
        running=st.floats(0.1e-6, 3e-6),
        ring_resistance=st.floats(0, 5e-6),
        ring_inductance=st.floats(0, 2e-8),
        poles=st.sampled_from([2, 4, 6]),
        slip=st.floats(-1, 2),
        time=st.floats(0, 0.1),
    )
    def test_torque_and_heat_of_bars_and_circuit(self, bars, starting, running, ring_resistance, ring_inductance, poles, slip, time):
        """The forces on the bars of two layers add up to the torque of the circuit with two cages, rings and all."""
        cage = replace(
            LAYERED,
            bars=bars,
            starting_bar_resistance=starting,
            running_bar_inductance=running,
            ring_resistance=ring_resistance,
            ring_inductance=ring_inductance,
        )
        circuit = circuit_of(cage, poles)
        state = steady_cage(circuit, slip, cage, Bore(0.07, 0.15, TURNS, FACTOR), time)
        assert state.torque == pytest.approx(-circuit.at(slip).torque, rel=1e-8, abs=1e-9)
        heat = heat_in(cage, state.current, state.ring_current, slip * 2 * math.pi * 50)
        assert heat == pytest.approx(circuit.at(slip).rotor_loss, rel=1e-8, abs=1e-9)

    @FIFTY
    @given(slip=st.floats(0.01, 2), time=st.floats(0, 0.1))
    def test_steady_and_transient_draw_the_same(self, slip, time):
        circuit, bore = circuit_of(LAYERED), Bore(0.06, 0.12, TURNS, FACTOR)
        state = steady_state(circuit, slip, time)
        drawn = transient_cage(star_wound(circuit, 1.0), state, LAYERED, bore, SUPPLY)
        steady = steady_cage(circuit, slip, LAYERED, bore, time, rotor_angle=bore.sense * state.angle)
        scale = np.max(np.abs(steady.current))
        np.testing.assert_allclose(drawn.current, steady.current, rtol=0, atol=1e-8 * scale)
        np.testing.assert_allclose(drawn.emf, steady.emf, rtol=0, atol=1e-8)

    def test_torque_of_bars_all_through_a_start(self):
        circuit, bore = circuit_of(LAYERED), Bore(0.06, 0.12, TURNS, FACTOR)
        motor, state = star_wound(circuit, 0.02), replace(AT_REST, speed=5.0)
        for _ in range(20):
            state = step(motor, state, 0.0037, SUPPLY, lambda speed: 3.0)
            bars = transient_cage(motor, state, LAYERED, bore, SUPPLY)
            assert bars.torque == pytest.approx(bore.sense * motor.torque(state), rel=1e-9, abs=1e-9)

    def test_current_crowds_into_the_starting_layer(self):
        """Its share of a bar's current, the voltage of the layers over its resistance: by resistances alone, 70 to 300
        microhm, at a hertz; most of it at 50 Hz."""
        shares = []
        for hertz in (1.0, 50.0):
            shared_leakage = 2j * math.pi * hertz * LAYERED.bar_inductance
            shares.append(abs(LAYERED.bar_impedance(2 * math.pi * hertz) - shared_leakage) / 300e-6)
        assert shares[0] == pytest.approx(70 / 370, rel=0.01) and shares[1] > 0.6

    def test_missing_bars_of_two_layers_are_solved_as_a_network(self):
        """One bar missing where every bar has the impedance of its layers at slip frequency, as a single layer of that."""
        impedance = LAYERED.bar_impedance(2 * 2 * math.pi * 2.0)
        single = replace(
            LAYERED,
            bar_resistance=impedance.real,
            bar_inductance=impedance.imag / (2 * 2 * math.pi * 2.0),
            starting_bar_resistance=math.inf,
            running_bar_inductance=0.0,
            missing=(3,),
        )
        broken = replace(LAYERED, missing=(3,))
        ours = broken.steady(0.6, 2, 2 * math.pi * 25, 2 * math.pi * 23, 0.3)
        assert ours.current == pytest.approx(single.steady(0.6, 2, 2 * math.pi * 25, 2 * math.pi * 23, 0.3).current)

    def test_two_numbers_cannot_refer_two_layers(self):
        with pytest.raises(ValueError, match="referred_rotor"):
            LAYERED.referred(TURNS, FACTOR, 50, 2)
        with pytest.raises(ValueError, match="must be given together"):
            replace(LAYERED, running_bar_inductance=0.0)


class TestDeepBar:
    @pytest.mark.parametrize(("xi", "within"), [(0.3, 1e-4), (0.7, 2e-3), (1.0, 8e-3), (1.5, 0.03), (2.0, 0.12)])
    def test_against_the_factors_of_skin_effect(self, xi, within):
        """K_R and K_X of a deep rectangular bar (handbook result, memory), which are the parts of z coth z."""
        z = (1 + 1j) * xi
        below = math.cosh(2 * xi) - math.cos(2 * xi)
        k_r = xi * (math.sinh(2 * xi) + math.sin(2 * xi)) / below
        k_x = 3 / (2 * xi) * (math.sinh(2 * xi) - math.sin(2 * xi)) / below
        exact = z / np.tanh(z)
        assert k_r == pytest.approx(exact.real) and k_x * 2 * xi**2 / 3 == pytest.approx(exact.imag)
        resistance, inductance = 80e-6, 0.9e-6
        running, leakage, starting = deep_bar_layers(resistance, inductance)
        cage = replace(LAYERED, bar_resistance=running, running_bar_inductance=leakage, starting_bar_resistance=starting, bar_inductance=0)
        slip_frequency = 2 * xi**2 * resistance / (3 * inductance)
        bar = cage.bar_impedance(slip_frequency)
        assert bar.real == pytest.approx(k_r * resistance, rel=within)
        assert bar.imag == pytest.approx(k_x * slip_frequency * inductance, rel=within)

    def test_against_a_bar_cut_into_slices(self):
        """The ladder: 400 slices one above the other, each linked by the slot flux of all below it (any textbook)."""
        resistance, inductance, slices = 80e-6, 0.9e-6, 400
        slip_frequency = 2 * 0.8**2 * resistance / (3 * inductance)
        # slot flux between neighbouring slices: 3 L / slices for each, so that even current has L in all
        step_reactance = 1j * slip_frequency * 3 * inductance / slices
        impedance = slices * resistance
        for _ in range(slices - 1):
            impedance = impedance + step_reactance
            impedance = impedance * slices * resistance / (impedance + slices * resistance)
        running, leakage, starting = deep_bar_layers(resistance, inductance)
        below = running + 1j * slip_frequency * leakage
        assert below * starting / (below + starting) == pytest.approx(impedance, rel=5e-3)

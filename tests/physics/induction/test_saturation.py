"""Leakage that saturates: the circuit by bisection, the transient by its own flux linkages and a general solver."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from physics.induction import EquivalentCircuit
from physics.induction.run_up import run
from physics.induction.transient import AT_REST, delta_wound, star_wound, steady_state, step
from physics.starting.stages import Feed
from physics.supply.space_vectors import DELTA, STAR, Connection
from tests.physics.induction.two_cages import RANDOM, SUPPLY, most_torque

TWENTY = settings(max_examples=20, deadline=None)
# about 37 kW, 65 A, four poles: ordinary per-unit values, half of the stator's leakage in iron that saturates
# (common practice, no source)
SATURATING = EquivalentCircuit(0.08, 0.1, 0.07, 0.15, 9.0, 400, 50, 4, 0.18, 0.4, 0.25, 65.0)
ONE_CAGE = EquivalentCircuit(0.08, 0.1, 0.07, 0.15, 9.0, 400, 50, 4, saturable_reactance=0.25, saturation_current=65.0)

circuits = st.builds(
    EquivalentCircuit,
    **RANDOM
    | dict(
        stator_reactance=st.floats(0.02, 0.3),
        rotor_reactance=st.floats(0.02, 0.3),
        saturable_reactance=st.floats(0.01, 1.0),
        saturation_current=st.floats(5.0, 500.0),
    ),
)


def solved(circuit: EquivalentCircuit, slip: float) -> tuple[complex, float]:
    """Stator current and torque, slip not 0: the length of the current between none and the voltage over next to nothing."""
    running = circuit.rotor_resistance / slip + 1j * circuit.running_cage_reactance
    rotor = 1j * circuit.rotor_reactance + 1 / (1 / running + slip / circuit.starting_cage_resistance)
    gap = 1 / (1 / rotor + 1 / (1j * circuit.magnetising_reactance))
    phase = circuit.line_voltage / math.sqrt(3)

    def impedance(current):
        falling = circuit.saturable_reactance * circuit.saturation_current / (circuit.saturation_current + current)
        return circuit.stator_resistance + 1j * (circuit.stator_reactance + falling) + gap

    length = brentq(lambda current: abs(impedance(current)) * current - phase, 0.0, 1e5, xtol=1e-11, rtol=1e-14)
    current = phase / impedance(length)
    return current, 3 * abs(current) ** 2 * gap.real * circuit.poles / (4 * math.pi * circuit.frequency)


class TestCircuit:
    @TWENTY
    @given(circuit=circuits, slip=st.sampled_from([-0.9, -0.02, 0.004, 0.1, 1.0, 1.7]))
    def test_the_current_is_the_one_whose_leakage_lets_it_through(self, circuit, slip):
        point = circuit.at(slip)
        current, torque = solved(circuit, slip)
        assert point.stator_current == pytest.approx(current, rel=1e-9)
        assert point.torque == pytest.approx(torque, rel=1e-8)
        assert point.input_power == pytest.approx(point.stator_loss + point.rotor_loss + point.converted_power, rel=1e-9)
        assert circuit.at(np.array([0.3, slip])).torque[1] == pytest.approx(torque, rel=1e-8)

    @TWENTY
    @given(circuit=circuits, share=st.floats(0.01, 0.99))
    def test_breakdown_and_slip_at_torque(self, circuit, share):
        slips = np.geomspace(1e-3, 30, 4001)
        for sign, (slip, torque) in ((1, circuit.breakdown()), (-1, circuit.generator_breakdown())):
            top = int(np.argmax(sign * circuit.at(sign * slips).torque))
            most = most_torque(lambda slip, sign=sign: sign * solved(circuit, sign * slip)[1], slips, top)
            assert sign * torque == pytest.approx(most, rel=1e-6)
            assert circuit.at(slip).torque == pytest.approx(torque, rel=1e-9)
            at = circuit.slip_at_torque(share * torque)
            assert sign * at > 0 and circuit.at(at).torque == pytest.approx(share * torque, rel=1e-6)
            assert np.all(sign * circuit.at(np.linspace(0, 0.999 * at, 300)).torque < sign * share * torque)

    def test_first_hump(self):
        slips = np.linspace(1e-4, 1, 20001)
        first = slips[np.argmax(np.diff(SATURATING.at(slips).torque) < 0)]
        assert SATURATING.pull_out_slip() == pytest.approx(first, abs=1e-4)

    @pytest.mark.parametrize("slip", [-0.1, 0.01, 1.0])
    def test_far_below_its_current_and_far_above(self, slip):
        """All of it beside a very large saturation current, none of it beside a very small one."""
        unsaturated = EquivalentCircuit(0.08, 0.35, 0.07, 0.15, 9.0, 400, 50, 4, 0.18, 0.4)
        assert replace(SATURATING, saturation_current=1e9).at(slip).torque == pytest.approx(unsaturated.at(slip).torque, rel=1e-5)
        without = replace(unsaturated, stator_reactance=0.1)
        assert replace(SATURATING, saturation_current=1e-6).at(slip).torque == pytest.approx(without.at(slip).torque, rel=1e-5)

    def test_more_starting_current_for_the_same_breakdown_torque(self):
        """What it is for: with constant leakage that gives the same breakdown torque, less current is drawn at standstill."""

        def constant(leakage):
            return EquivalentCircuit(0.08, leakage, 0.07, 0.15, 9.0, 400, 50, 4)

        same = constant(brentq(lambda leakage: constant(leakage).breakdown()[1] - ONE_CAGE.breakdown()[1], 0.02, 1.0))
        assert abs(ONE_CAGE.at(1.0).stator_current) > 1.01 * abs(same.at(1.0).stator_current)

    @pytest.mark.parametrize("values", [dict(saturable_reactance=0.0), dict(saturation_current=math.inf)])
    def test_half_of_saturation_is_none(self, values):
        with pytest.raises(ValueError, match="must be given together"):
            replace(SATURATING, **values)

    @pytest.mark.parametrize("frequency, voltage", [(1.0, 1.0), (0.6, 0.6), (1.0, 0.5)])
    def test_put_into_star_each_winding_is_what_it_was_in_delta(self, frequency, voltage):
        """On sqrt(3) times the voltage the same stands on every winding: sqrt(3) times less current in a line, the same torque."""
        delta = Feed(voltage, frequency).circuit(SATURATING).at(0.2)
        star = Feed(voltage * math.sqrt(3), frequency, connection=STAR).circuit(SATURATING).at(0.2)
        assert star.torque == pytest.approx(delta.torque, rel=1e-9)
        assert star.stator_current == pytest.approx(delta.stator_current / math.sqrt(3), rel=1e-9)


class TestTransient:
    @pytest.mark.parametrize("circuit", [SATURATING, ONE_CAGE], ids=["two cages", "one cage"])
    @pytest.mark.parametrize("winding, connection", [(star_wound, STAR), (delta_wound, DELTA)], ids=["star", "delta"])
    @pytest.mark.parametrize("slip", [-0.05, 0.02, 0.4, 1.0])
    def test_a_steady_run_stays_the_circuits(self, circuit, winding, connection, slip):
        motor = winding(circuit, math.inf)
        state = steady_state(circuit, slip, 0.0, connection)
        current, torque = solved(circuit, slip)
        for later in (state, step(motor, state, 0.013, SUPPLY, lambda speed: 0.0, connection)):
            drawn = motor.stator_current(later) * connection.ratio.conjugate()
            assert abs(drawn) == pytest.approx(math.sqrt(2) * abs(current), rel=1e-5)
            assert motor.torque(later) == pytest.approx(torque, rel=1e-5)

    def test_switching_on_as_a_general_solver_has_it(self):
        """The linkages of each winding written out, currents by root finding at every moment; SciPy integrates."""
        per_ohm = 1 / (2 * math.pi * 50)
        mutual, own, rotor_leakage = 9.0 * per_ohm, 0.1 * per_ohm, 0.15 * per_ohm
        saturable, knee, resistances = 0.25 * per_ohm, 65.0 * math.sqrt(2), (0.08, 0.18, 0.07)

        def currents(stator, starting, running):
            below = (running - starting) / (0.4 * per_ohm)

            def missing(length):  # of the linkage that a stator current of this length would need
                return (own + saturable * knee / (knee + length)) * length + mutual * rotor_leakage / (mutual + rotor_leakage) * length

            drives = stator - mutual / (mutual + rotor_leakage) * starting
            length = brentq(lambda tried: missing(tried) - abs(drives), 0.0, 1e5, xtol=1e-10, rtol=1e-13)
            drawn = length * drives / abs(drives) if drives else 0j
            of_both = (starting - mutual * drawn) / (mutual + rotor_leakage)
            return drawn, of_both, below

        def rates(time, values):
            stator, starting, running = values[:3]
            drawn, of_both, below = currents(stator, starting, running)
            return [
                SUPPLY(time) - resistances[0] * drawn,
                -resistances[1] * (of_both - below),
                -resistances[2] * below,
            ]

        times = np.arange(0, 0.0401, 0.001)
        found = solve_ivp(rates, (0, 0.04), [0j, 0j, 0j], t_eval=times, rtol=1e-9, atol=1e-10).y
        expected = [currents(*values)[0] for values in found.T]
        motor = star_wound(SATURATING, math.inf)
        history = run(motor, AT_REST, 0.04, 0.001, SUPPLY, lambda speed: 0.0)
        assert history.stator_flux == pytest.approx(found[0], rel=1e-4, abs=1e-4 * abs(found[0]).max())
        assert history.phase_currents[:, 0] == pytest.approx(np.real(expected), abs=1e-3 * np.abs(expected).max())
        torque = [3 * np.imag(np.conj(flux) * drawn) for flux, drawn in zip(found[0], expected, strict=True)]
        assert history.torque == pytest.approx(np.array(torque), abs=2e-3 * np.abs(torque).max())

    def test_with_a_line_lost_no_current_flows_in_it(self):
        motor, state = star_wound(SATURATING, 1.0), steady_state(SATURATING, 0.02)
        history = run(motor, state, 0.02, 0.001, SUPPLY, lambda speed: 0.0, Connection("star", ("W",)))
        largest = np.abs(history.phase_currents).max()
        assert np.abs(history.phase_currents[:, 2]).max() < 1e-9 * largest
        assert history.phase_currents[:, 0] == pytest.approx(-history.phase_currents[:, 1], abs=1e-9 * largest)

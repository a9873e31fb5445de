"""The bars of a rotor with two cages, and of deep bars in layers."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from physics.cage import Cage
from physics.cage.bars_and_rings import deep_bar_layers
from physics.induction import EquivalentCircuit
from physics.induction.gap import Bore, steady_cage, transient_cage
from physics.induction.transient import AT_REST, star_wound, steady_state, step
from tests.physics.induction.two_cages import FIFTY, SUPPLY

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

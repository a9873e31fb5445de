import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from physics.cage import Cage
from physics.induction import EquivalentCircuit
from physics.induction.gap import Bore, GapField, gap_field, steady_cage, steady_gap_field, transient_cage
from physics.induction.transient import AT_REST, star_wound, steady_state, step
from physics.supply.space_vectors import Connection, phase_values, space_vector, supply_vector
from physics.supply.supplies import ThreePhaseSupply
from physics.windings import Winding

FIFTY = settings(max_examples=50, deadline=None)
WINDING = Winding(slots=36, poles=4, turns=8, coil_pitch=8, layers=2)
TURNS, FACTOR = WINDING.series_turns, float(WINDING.winding_factor())
CAGE = Cage(28, 70e-6, 0.5e-6, 2e-6, 6e-9, radius=0.06, length=0.12)
BORE = Bore(0.06, 0.12, TURNS, FACTOR)
SUPPLY = supply_vector(ThreePhaseSupply(400, 50).phase_phasors, 50)
turnings = st.sampled_from(["clockwise", "counter-clockwise"])


def circuit_of(cage, poles=4, turns=TURNS, factor=FACTOR, frequency=50):
    rotor_resistance, rotor_reactance = cage.referred(turns, factor, frequency, poles // 2)
    return EquivalentCircuit(0.6, 1.1, rotor_resistance, rotor_reactance, 30, 400, frequency, poles)


CIRCUIT = circuit_of(CAGE)


class TestTorqueTwoWays:
    @FIFTY
    @given(
        bars=st.integers(13, 60),
        bar_inductance=st.floats(0, 2e-6),
        ring_resistance=st.floats(0, 5e-6),
        poles=st.sampled_from([2, 4, 6]),
        factor=st.floats(0.5, 1),
        slip=st.floats(-1, 2),
        time=st.floats(0, 0.1),
        rotor_angle=st.floats(-3, 3),
        turning=turnings,
        bore_radius=st.floats(0.03, 0.2),
    )
    def test_bars_and_circuit(self, bars, bar_inductance, ring_resistance, poles, factor, slip, time, rotor_angle, turning, bore_radius):
        """The forces on the bars add up to the torque of the circuit, wherever the bars stand."""
        cage = replace(CAGE, bars=bars, bar_inductance=bar_inductance, ring_resistance=ring_resistance)
        circuit = circuit_of(cage, poles, 120, factor)
        bore = Bore(bore_radius, 0.15, 120, factor, turning)
        state = steady_cage(circuit, slip, cage, bore, time, rotor_angle)
        expected = circuit.at(slip).torque * (-1 if turning == "clockwise" else 1)
        # near synchronism the slip is the small difference of two speeds
        assert state.torque == pytest.approx(expected, rel=1e-9, abs=1e-10)
        heat = cage.bar_resistance * np.sum(state.current**2) + 2 * cage.ring_resistance * np.sum(state.ring_current**2)
        assert heat == pytest.approx(circuit.at(slip).rotor_loss, rel=1e-9, abs=1e-12)

    def test_by_the_contract_alone(self):
        """The same without the bridge: gap field from 4.44 f N k_w Phi, then the bars."""
        for slip in (-0.1, 0.03, 1.0, 1.5):
            point = CIRCUIT.at(slip)
            flux = abs(point.gap_voltage) / (math.sqrt(2) * math.pi * 50 * TURNS * FACTOR)
            field = flux * 2 / (2 * 0.06 * 0.12)
            state = CAGE.steady(field, 2, 2 * math.pi * 25, 2 * math.pi * point.speed, 0.7)
            assert state.torque == pytest.approx(point.torque, rel=1e-9)

    @pytest.mark.parametrize("turning", ["clockwise", "counter-clockwise"])
    @pytest.mark.parametrize("connection", [Connection("star"), Connection("star", ("U",))])
    def test_bars_and_transient(self, turning, connection):
        """All through a start, also where nothing is sinusoidal yet."""
        bore = replace(BORE, turning=turning)
        motor = star_wound(CIRCUIT, 0.02)
        state = replace(AT_REST, speed=5.0)
        for _ in range(30):
            state = step(motor, state, 0.0037, SUPPLY, lambda speed: 3.0, connection)
            bars = transient_cage(motor, state, CAGE, bore, SUPPLY, connection)
            assert bars.torque == pytest.approx(bore.sense * motor.torque(state), rel=1e-9, abs=1e-9)
            heat = 70e-6 * np.sum(bars.current**2) + 2 * 2e-6 * np.sum(bars.ring_current**2)
            loss = 1.5 * motor.rotor_resistance * abs(motor.rotor_current(state)) ** 2
            assert heat == pytest.approx(loss, rel=1e-9)

    @FIFTY
    @given(slip=st.floats(-1, 2), time=st.floats(0, 0.1), turning=turnings)
    def test_steady_and_transient_draw_the_same(self, slip, time, turning):
        bore = replace(BORE, turning=turning)
        state = steady_state(CIRCUIT, slip, time)
        drawn = transient_cage(star_wound(CIRCUIT, 1.0), state, CAGE, bore, SUPPLY)
        steady = steady_cage(CIRCUIT, slip, CAGE, bore, time, rotor_angle=bore.sense * state.angle)
        scale = np.max(np.abs(steady.current))
        np.testing.assert_allclose(drawn.current, steady.current, rtol=0, atol=1e-8 * scale + 1e-8)
        np.testing.assert_allclose(drawn.emf, steady.emf, rtol=0, atol=1e-9)
        if abs(slip) > 1e-6:
            assert math.remainder(drawn.lag - steady.lag, 2 * math.pi) == pytest.approx(0, abs=1e-6)

    @pytest.mark.parametrize("turning", ["clockwise", "counter-clockwise"])
    def test_kirchhoff_in_the_cage_while_the_field_grows(self, turning):
        """EMF less R i + L di/dt of two neighbouring bars is what their ring segments take, in the first cycles too,
        where the field is not yet that of any steady running. Rates by differences over a microsecond."""
        bore = replace(BORE, turning=turning)
        motor = star_wound(CIRCUIT, 0.02)
        state, short = AT_REST, 1e-6
        for _ in range(12):
            state = step(motor, state, 0.0023, SUPPLY, lambda speed: 0.0)
            later = step(motor, state, short, SUPPLY, lambda speed: 0.0)
            latest = step(motor, later, short, SUPPLY, lambda speed: 0.0)
            before, now, after = (transient_cage(motor, moment, CAGE, bore, SUPPLY) for moment in (state, later, latest))
            bar = 70e-6 * now.current + 0.5e-6 * (after.current - before.current) / (2 * short)
            ring = 2e-6 * now.ring_current + 6e-9 * (after.ring_current - before.ring_current) / (2 * short)
            left = now.emf - bar - np.roll(now.emf - bar, -1) - 2 * ring
            assert np.max(np.abs(left)) < 1e-6 * np.max(np.abs(now.emf))


class TestField:
    def linkage(self, field):
        """Flux linkage of each phase, coil by coil: the integral of B r l from the return side to the go side."""
        linkages = np.zeros(3)
        for coil in WINDING.coils:
            go, back = WINDING.slot_angles[[coil.go, coil.back]]
            # outward flux counts positive where the coil magnetises outward: from its go side clockwise to the return
            span = (go - back) % (2 * math.pi)
            middle, half = go - span / 2, span / 2
            pairs = field.pole_pairs
            integral = 2 / pairs * math.sin(pairs * half) * math.cos(pairs * (middle - field.axis)) * field.amplitude
            linkages["UVW".index(coil.phase)] += coil.sign * WINDING.turns * integral * 0.06 * 0.12
        return linkages

    @FIFTY
    @given(vector=st.complex_numbers(min_magnitude=1e-3, max_magnitude=5))
    def test_flux_linkage_of_a_real_winding(self, vector):
        """The field told for a flux linkage, linked with the winding slot by slot, gives that flux linkage back."""
        np.testing.assert_allclose(self.linkage(gap_field(vector, 2, BORE)), phase_values(vector), rtol=0, atol=1e-9 * abs(vector))

    @FIFTY
    @given(vector=st.complex_numbers(min_magnitude=1e-3, max_magnitude=100))
    def test_axis_is_that_of_the_winding(self, vector):
        """What the winding magnetises with no rotor current stands where its own MMF stands."""
        axis = WINDING.field_axis(phase_values(vector))
        drawn = gap_field(0.07 * vector, 2, BORE).axis * 2
        assert math.remainder(axis - drawn, 2 * math.pi) == pytest.approx(0, abs=1e-9)

    @pytest.mark.parametrize("slip", [-0.08, 0.04, 1.0])
    def test_stator_and_rotor_mmf_make_the_gap_field(self, slip):
        """The winding's wave, slot by slot, plus the cage's, bar by bar, is one along the gap field, as large as the
        magnetising current alone would make it."""
        motor = star_wound(CIRCUIT, 1.0)
        state = steady_state(CIRCUIT, slip, 0.0031)
        stator = WINDING.mmf_wave(phase_values(motor.stator_current(state)))
        bars = transient_cage(motor, state, CAGE, BORE, SUPPLY)
        rotor = bars.reaction_mmf * np.exp(2j * (bars.reaction_axis - state.angle))  # bar 0 has turned clockwise
        field = gap_field(motor.gap_flux(state), 2, BORE)
        magnetising = abs(motor.gap_flux(state)) / motor.magnetising_inductance
        wave = 3 * TURNS * FACTOR / (math.pi * 2) * magnetising
        assert (stator + rotor) * np.exp(-2j * field.axis) == pytest.approx(wave, rel=1e-9)

    def test_induces_the_gap_voltage(self):
        """By flux: phase U links cos of the field's turning; its rate is the voltage that the circuit tells."""
        short = 1e-6
        for time in (0.0, 0.004):
            after, before = (self.linkage(steady_gap_field(CIRCUIT, 0.03, BORE, moment)) for moment in (time + short, time - short))
            induced = complex(space_vector((after - before) / (2 * short))) * np.exp(-2j * math.pi * 50 * time)
            assert induced == pytest.approx(math.sqrt(2) * complex(CIRCUIT.at(0.03).gap_voltage), rel=1e-6)

    def test_turns_as_it_is_laid(self):
        for turning, sense in (("clockwise", -1), ("counter-clockwise", 1)):
            bore = replace(BORE, turning=turning)
            first, second = (steady_gap_field(CIRCUIT, 0.03, bore, time) for time in (0.0, 0.001))
            moved = math.remainder(2 * (second.axis - first.axis), 2 * math.pi)
            assert moved == pytest.approx(sense * 2 * math.pi * 50 * 0.001, rel=1e-9)

    def test_values_round_the_gap(self):
        field = GapField(0.8, 0.3, 2)
        np.testing.assert_allclose(field.at([0.3, 0.3 + math.pi / 2, 0.3 + math.pi / 4]), [0.8, -0.8, 0], atol=1e-15)


class TestBadInput:
    @pytest.mark.parametrize(
        "name, value",
        [
            ("radius", 0),
            ("length", -1),
            ("series_turns", 0),
            ("winding_factor", 1.01),
            ("turning", "left"),
        ],
    )
    def test_bore(self, name, value):
        with pytest.raises(ValueError, match=f"^{name} must "):
            replace(BORE, **{name: value})

    def test_calls(self):
        with pytest.raises(ValueError, match="^slip must "):
            steady_cage(CIRCUIT, math.nan, CAGE, BORE)
        with pytest.raises(ValueError, match="^rotor_angle must "):
            steady_cage(CIRCUIT, 0.1, CAGE, BORE, rotor_angle=math.inf)
        with pytest.raises(ValueError, match="^missing must "):
            transient_cage(star_wound(CIRCUIT, 1.0), AT_REST, replace(CAGE, missing=(1,)), BORE, SUPPLY)
        with pytest.raises(ValueError, match="^angles must "):
            GapField(0.8, 0.3, 2).at(math.nan)

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from physics.cage import Cage
from physics.cage import network as cage_network

WHOLE = dict(
    bars=28,
    bar_resistance=70e-6,
    bar_inductance=0.5e-6,
    ring_resistance=2e-6,
    ring_inductance=6e-9,
    radius=0.06,
    length=0.12,
)
FIELD = dict(field=0.8, pole_pairs=2, field_speed=157.0, rotor_speed=150.0, angle=0.4)
FIFTY = settings(max_examples=50, deadline=None)

cages = st.builds(
    Cage,
    bars=st.integers(3, 60),
    bar_resistance=st.floats(1e-6, 1e-2),
    bar_inductance=st.floats(0, 1e-5),
    ring_resistance=st.floats(1e-8, 1e-3),
    ring_inductance=st.floats(0, 1e-6),
    radius=st.floats(0.01, 1.0),
    length=st.floats(0.01, 1.0),
)
speed = st.floats(-400, 400)


def nodal_bar_currents(cage, emf, slip_frequency):
    """Bar currents by the other method of network theory: the potential of every ring node, both rings apart.

    Each whole bar is a source with its impedance between its two nodes; one node is earth. Independent of the mesh
    equations under test, and without their assumption that both rings carry the same.
    """
    bars = cage.bars
    bar_admittance = 1 / cage.bar_impedance(slip_frequency)
    ring_admittance = 1 / cage.ring_impedance(slip_frequency)
    nodes = np.zeros((2 * bars, 2 * bars), complex)
    injected = np.zeros(2 * bars, complex)
    for k in range(bars):
        near, far = k, bars + k
        for start in (0, bars):
            here, there = start + k, start + (k + 1) % bars
            nodes[here, here] += ring_admittance
            nodes[there, there] += ring_admittance
            nodes[here, there] -= ring_admittance
            nodes[there, here] -= ring_admittance
        if k in cage.missing:
            continue
        nodes[[near, far], [near, far]] += bar_admittance
        nodes[near, far] -= bar_admittance
        nodes[far, near] -= bar_admittance
        injected[near] += bar_admittance * emf[k]
        injected[far] -= bar_admittance * emf[k]
    potentials = np.zeros(2 * bars, complex)
    potentials[1:] = np.linalg.solve(nodes[1:, 1:], injected[1:])
    currents = bar_admittance * (emf - potentials[:bars] + potentials[bars:])
    currents[list(cage.missing)] = 0
    return currents


def phasors(cage, field, pole_pairs, field_speed, rotor_speed, angle):
    """EMF of the bars as phasors, from B l v alone."""
    cutting_speed = (field_speed - rotor_speed) * cage.radius
    return field * cage.length * cutting_speed * np.exp(1j * pole_pairs * (angle - cage.bar_angles))


class TestHandRules:
    """Worked by hand: B l v, Ohm's law and B i l on single bars."""

    def test_figures_of_the_bar_under_the_crest(self):
        # e = B l v = 0.8 T * 0.12 m * 0.06 m * 7 rad/s = 40.32 mV; without inductance i = e / Z_effective
        cage = Cage(**{**WHOLE, "bar_inductance": 0, "ring_inductance": 0})
        state = cage.steady(**{**FIELD, "angle": 0})
        assert state.emf[0] == pytest.approx(0.04032, rel=1e-12)
        resistance = 70e-6 + 2e-6 / (2 * math.sin(2 * math.pi / 28) ** 2)
        assert state.current[0] == pytest.approx(0.04032 / resistance, rel=1e-12)
        assert state.force[0] == pytest.approx(0.8 * 0.04032 / resistance * 0.12, rel=1e-12)

    def test_field_outward_ahead_of_the_rotor_generates_out_of_the_drive_end_and_pushes_along(self):
        state = Cage(**WHOLE).steady(**{**FIELD, "angle": 0})
        assert state.emf[0] > 0 and state.current[0] > 0 and state.force[0] > 0 and state.torque > 0

    def test_right_hand_and_left_hand_rule_as_cross_products(self):
        cage = Cage(**WHOLE)
        state = cage.steady(**FIELD)
        outward = np.stack([np.cos(cage.bar_angles), np.sin(cage.bar_angles), np.zeros(28)], axis=1)
        onward = np.stack([-np.sin(cage.bar_angles), np.cos(cage.bar_angles), np.zeros(28)], axis=1)
        field = 0.8 * np.cos(2 * (cage.bar_angles - 0.4))[:, None] * outward
        motion = cage.radius * (150.0 - 157.0) * onward  # of the bar as seen from the field
        along_bar = np.array([0, 0, cage.length])
        np.testing.assert_allclose(state.emf, np.cross(motion, field) @ along_bar, rtol=0, atol=1e-15)
        force = np.cross(state.current[:, None] * along_bar, field)
        np.testing.assert_allclose(state.force, np.sum(force * onward, axis=1), rtol=0, atol=1e-9)

    def test_current_follows_its_emf_in_time(self):
        """e = Z i means R i + L di/dt = e at every bar with its rings, also with the slip negative."""
        cage = Cage(**WHOLE)
        short = 1e-6
        for rotor_speed in (0.0, 150.0, 170.0, -100.0):
            cutting = 157.0 - rotor_speed

            def state(time, cutting=cutting, rotor_speed=rotor_speed):
                return cage.steady(**{**FIELD, "rotor_speed": rotor_speed, "angle": 0.4 + cutting * time})

            now, before, after = state(0), state(-short), state(short)
            current_rate = (after.current - before.current) / (2 * short)
            ring_rate = (after.ring_current - before.ring_current) / (2 * short)
            bar_drop = cage.bar_resistance * now.current + cage.bar_inductance * current_rate
            ring_drop = cage.ring_resistance * now.ring_current + cage.ring_inductance * ring_rate
            round_mesh = (now.emf - bar_drop) - np.roll(now.emf - bar_drop, -1) - 2 * ring_drop
            assert np.max(np.abs(round_mesh)) < 1e-7 * np.max(np.abs(now.emf))


class TestNetwork:
    def test_rings_take_what_the_bars_bring(self):
        for missing in ((), (3, 4, 11)):
            state = Cage(**WHOLE, missing=missing).steady(**FIELD)
            leaving = state.ring_current - np.roll(state.ring_current, 1)
            np.testing.assert_allclose(leaving, state.current, rtol=0, atol=1e-9 * np.max(np.abs(state.current)))

    @FIFTY
    @given(cage=cages, pole_pairs=st.integers(1, 4), field_speed=speed, rotor_speed=speed, angle=st.floats(-7, 7))
    def test_healthy_cage_is_what_the_meshes_give(self, cage, pole_pairs, field_speed, rotor_speed, angle):
        assume(pole_pairs % cage.bars != 0)  # else there is no current
        state = cage.steady(0.7, pole_pairs, field_speed, rotor_speed, angle)
        slip_frequency = pole_pairs * (field_speed - rotor_speed)
        meshes = cage_network.bar_currents(
            phasors(cage, 0.7, pole_pairs, field_speed, rotor_speed, angle),
            cage.bar_impedance(slip_frequency),
            cage.ring_impedance(slip_frequency),
            np.arange(cage.bars),
        )
        crest = np.max(np.abs(meshes))
        np.testing.assert_allclose(state.current, meshes.real, rtol=0, atol=1e-9 * crest)

    @FIFTY
    @given(missing=st.sets(st.integers(0, 27), max_size=28), rotor_speed=speed, angle=st.floats(-7, 7))
    def test_missing_bars_against_node_potentials(self, missing, rotor_speed, angle):
        cage = Cage(**WHOLE, missing=tuple(missing))
        field = {**FIELD, "rotor_speed": rotor_speed, "angle": angle}
        generated, slip_frequency = phasors(cage, **field), 2 * (157.0 - rotor_speed)
        expected = nodal_bar_currents(cage, generated, slip_frequency)
        # one bar alone carries nothing, and the nodes' potentials leave some rounding of what it would carry short-circuited
        scale = np.max(np.abs(generated)) / abs(cage.bar_impedance(slip_frequency)) + 1e-9
        np.testing.assert_allclose(cage.steady(**field).current, expected.real, rtol=0, atol=1e-9 * scale)

    def test_neighbours_of_a_broken_bar_carry_more(self):
        """Common practice, no source: a cage breaks on, because the bars beside a break take over its current."""
        healthy, broken = Cage(**WHOLE), Cage(**WHOLE, missing=(7,))
        turn = np.linspace(0, 2 * math.pi, 200)
        most = [np.max([np.abs(cage.steady(**{**FIELD, "angle": angle}).current) for angle in turn], axis=0) for cage in (healthy, broken)]
        assert most[1][7] == 0
        assert most[1][6] > 1.02 * most[0][6] and most[1][8] > 1.02 * most[0][8]

    def test_a_broken_bar_makes_the_torque_waver_at_twice_slip_frequency(self):
        angles = np.arange(64) * math.pi / 64  # one slip cycle of a four-pole field is pi of mechanical angle
        torques = np.array([Cage(**WHOLE, missing=(0,)).steady(**{**FIELD, "angle": a}).torque for a in angles])
        spectrum = np.abs(np.fft.rfft(torques)) / 64
        assert spectrum[2] > 1e-3 * spectrum[0]
        np.testing.assert_allclose(np.delete(spectrum, [0, 2]), 0, atol=1e-9 * spectrum[0])

    def test_ring_without_impedance(self):
        """Then every bar has only its own impedance to drive against."""
        ideal = {**WHOLE, "ring_resistance": 0, "ring_inductance": 0}
        healthy = Cage(**ideal).steady(**FIELD)
        expected = phasors(Cage(**ideal), **FIELD) / complex(70e-6, 14 * 0.5e-6)
        np.testing.assert_allclose(healthy.current, expected.real, rtol=1e-9)
        broken = Cage(**ideal, missing=(5,)).steady(**FIELD)
        potential = -np.sum(np.delete(expected, 5)) / 27  # the rings settle where the currents add up to nothing
        np.testing.assert_allclose(np.delete(broken.current, 5), np.delete(expected + potential, 5).real, rtol=1e-9)

    @pytest.mark.parametrize("left", [0, 1])
    def test_without_a_way_back_no_current(self, left):
        state = Cage(**WHOLE, missing=tuple(range(left, 28))).steady(**FIELD)
        assert not np.any(state.current) and state.torque == 0 and np.any(state.emf)
        assert math.isnan(state.lag) and math.isnan(state.reaction_axis)

    def test_bars_all_under_the_same_field_have_no_way_back_either(self):
        cage = Cage(**{**WHOLE, "bars": 4})
        state = cage.steady(**{**FIELD, "pole_pairs": 4})
        assert np.any(state.emf) and not np.any(state.current)


class TestSlip:
    @FIFTY
    @given(cage=cages, pole_pairs=st.integers(1, 4), turning=speed, angle=st.floats(-7, 7))
    def test_a_bar_that_moves_with_the_field_is_left_alone(self, cage, pole_pairs, turning, angle):
        state = cage.steady(0.9, pole_pairs, turning, turning, angle)
        assert not np.any(state.emf) and not np.any(state.current) and not np.any(state.force) and state.torque == 0
        assert not np.any(state.ring_current) and state.reaction_mmf == 0 and math.isnan(state.lag)

    @FIFTY
    @given(cage=cages.filter(lambda cage: cage.bars > 9), pole_pairs=st.integers(1, 4), slip_speed=st.floats(0.1, 400))
    def test_torque_reverses_across_synchronous_speed(self, cage, pole_pairs, slip_speed):
        below = cage.steady(0.9, pole_pairs, 100.0, 100.0 - slip_speed, 0.3).torque
        above = cage.steady(0.9, pole_pairs, 100.0, 100.0 + slip_speed, 0.3).torque
        assert below > 0
        assert above == pytest.approx(-below, rel=1e-9)

    @pytest.mark.parametrize("missing", [(), (3, 9)])
    def test_only_the_speed_against_the_field_counts(self, missing):
        cage = Cage(**WHOLE, missing=missing)
        turning = cage.steady(**FIELD)
        stopped = cage.steady(**{**FIELD, "field_speed": 0.0, "rotor_speed": -7.0})
        np.testing.assert_allclose(stopped.current, turning.current, rtol=1e-12)
        assert stopped.torque == pytest.approx(turning.torque, rel=1e-12)

    @FIFTY
    @given(rotor_speed=speed, angle=st.floats(-3, 3))
    def test_mirror_image(self, rotor_speed, angle):
        """Everything seen from the other end: angles, speeds and torque change sign, bar k becomes bar -k."""
        cage = Cage(**WHOLE)
        seen = cage.steady(0.8, 2, 157.0, rotor_speed, angle)
        mirrored = cage.steady(0.8, 2, -157.0, -rotor_speed, -angle)
        scale = np.max(np.abs(seen.current)) + 1e-12
        np.testing.assert_allclose(mirrored.current, -np.roll(seen.current[::-1], 1), atol=1e-12 * scale)
        assert mirrored.torque == pytest.approx(-seen.torque, rel=1e-9, abs=1e-12)


class TestRotorField:
    """The rotor's own field: a quarter wave behind the gap field, and further by the leakage angle."""

    def test_resistive_cage_lags_a_quarter_wave(self):
        cage = Cage(**{**WHOLE, "bar_inductance": 0, "ring_inductance": 0})
        state = cage.steady(**FIELD)
        assert state.lag == pytest.approx(math.pi / 2, abs=1e-12)
        assert state.reaction_axis == pytest.approx(0.4 - math.pi / 4, abs=1e-12)
        assert cage.steady(**{**FIELD, "rotor_speed": 170.0}).lag == pytest.approx(-math.pi / 2, abs=1e-12)

    @pytest.mark.parametrize("rotor_speed", [-100.0, 0.0, 120.0, 150.0])
    def test_leakage_adds_its_angle(self, rotor_speed):
        cage = Cage(**WHOLE)
        impedance = cage.effective_impedance(2, 2 * (157.0 - rotor_speed))
        leakage_angle = math.atan2(impedance.imag, impedance.real)
        assert cage.steady(**{**FIELD, "rotor_speed": rotor_speed}).lag == pytest.approx(math.pi / 2 + leakage_angle)
        faster = cage.steady(**{**FIELD, "rotor_speed": 314.0 - rotor_speed})
        assert faster.lag == pytest.approx(-math.pi / 2 - leakage_angle)

    def test_mmf_wave_from_the_bars_one_by_one(self):
        """Round the gap the MMF falls by i at every bar (Ampere's law, outward positive); its second harmonic, summed
        numerically from that staircase, is the wave reported."""
        cage = Cage(**WHOLE)
        state = cage.steady(**FIELD)
        angles = (np.arange(280000) + 0.5) * 2 * math.pi / 280000
        staircase = -np.repeat(np.cumsum(state.current), 10000)
        wave = np.mean(staircase * np.exp(2j * angles)) * 2
        assert state.reaction_mmf == pytest.approx(abs(wave), rel=1e-6)
        assert 2 * state.reaction_axis == pytest.approx(np.angle(wave), abs=1e-6)

    def test_field_of_the_other_sign_is_a_field_half_a_wave_on(self):
        cage = Cage(**WHOLE)
        inward = cage.steady(**{**FIELD, "field": -0.8})
        shifted = cage.steady(**{**FIELD, "angle": 0.4 + math.pi / 2})
        np.testing.assert_allclose(inward.current, shifted.current, rtol=1e-9)
        assert inward.lag == pytest.approx(shifted.lag) and inward.torque == pytest.approx(shifted.torque)


class TestReferred:
    def test_by_heat_and_turns(self):
        """The referred phase, at standstill on the EMF that the field gives the winding (4.44 f N k_w Phi), makes the
        heat that the bars and rings make: R i^2 summed over every piece of the cage, averaged over a cycle."""
        cage, frequency, pole_pairs, turns, factor = Cage(**WHOLE), 50.0, 2, 96, 0.925
        field_speed = 2 * math.pi * frequency / pole_pairs
        heat = []
        for angle in np.arange(16) * math.pi / 16:
            state = cage.steady(0.8, pole_pairs, field_speed, 0.0, angle)
            heat.append(70e-6 * np.sum(state.current**2) + 2 * 2e-6 * np.sum(state.ring_current**2))
        flux = 0.8 * 2 * cage.radius * cage.length / pole_pairs
        emf = math.sqrt(2) * math.pi * frequency * turns * factor * flux
        resistance, reactance = cage.referred(turns, factor, frequency, pole_pairs)
        assert 3 * emf**2 * resistance / (resistance**2 + reactance**2) == pytest.approx(np.mean(heat), rel=1e-9)

    def test_figures_by_hand(self):
        # 12 (96 * 0.925)^2 / 28 = 12 * 7885.44 / 28 = 3379.47429; sin^2(2 pi / 28) = 0.0495155660
        # R: 70e-6 + 2e-6 / 0.0990311321 = 90.19567e-6; X: 100 pi * (0.5e-6 + 6e-9 / 0.0990311321) = 176.11360e-6
        resistance, reactance = Cage(**WHOLE).referred(96, 0.925, 50, 2)
        assert resistance == pytest.approx(3379.47429 * 90.19567e-6, rel=1e-6)
        assert reactance == pytest.approx(3379.47429 * 176.11360e-6, rel=1e-6)


class TestBadInput:
    @pytest.mark.parametrize(
        "name, value",
        [
            ("bars", 1),
            ("bars", 28.5),
            ("bar_resistance", 0),
            ("bar_resistance", -1e-6),
            ("bar_inductance", -1e-9),
            ("ring_resistance", -1e-9),
            ("ring_inductance", math.inf),
            ("radius", 0),
            ("length", math.nan),
            ("missing", (28,)),
            ("missing", (-1,)),
            ("missing", (0.5,)),
        ],
    )
    def test_cage(self, name, value):
        with pytest.raises(ValueError, match=f"^{name} must "):
            Cage(**{**WHOLE, name: value})

    @pytest.mark.parametrize("name", ["field", "field_speed", "rotor_speed", "angle"])
    def test_steady(self, name):
        with pytest.raises(ValueError, match=f"^{name} must "):
            Cage(**WHOLE).steady(**{**FIELD, name: math.nan})

    def test_pole_pairs(self):
        for value in (0, 1.5, -2):
            with pytest.raises(ValueError, match="^pole_pairs must "):
                Cage(**WHOLE).steady(**{**FIELD, "pole_pairs": value})
        with pytest.raises(ValueError, match="^pole_pairs must not be a multiple"):
            Cage(**WHOLE).referred(96, 0.925, 50, 28)

    def test_referred(self):
        for arguments, name in [
            ((0, 0.9, 50, 2), "series_turns"),
            ((96, 1.1, 50, 2), "winding_factor"),
            ((96, 0, 50, 2), "winding_factor"),
            ((96, 0.9, 0, 2), "frequency"),
        ]:
            with pytest.raises(ValueError, match=f"^{name} must "):
                Cage(**WHOLE).referred(*arguments)
        with pytest.raises(ValueError, match="^missing must "):
            Cage(**WHOLE, missing=(1,)).referred(96, 0.9, 50, 2)


def test_missing_is_kept_in_order_without_doubles():
    assert Cage(**WHOLE, missing=(9, 3, 9)).missing == (3, 9)
    assert Cage(**WHOLE, missing=5).missing == (5,)

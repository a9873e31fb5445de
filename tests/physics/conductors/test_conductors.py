"""Force, torque and EMF along conductors; flux linked and cut; circuits that are closed."""

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.special import ellipe, ellipk

from physics.conductors.force_and_emf import flux_cut, flux_linkage, force, generate, mean_field, motional_emf, sample, torque
from physics.constants import VACUUM_PERMEABILITY
from physics.directions import emf_direction, force_direction
from physics.fields import block_magnet_field, loop_field, segment_field
from physics.fields.currents import gap_field, long_wire_field

quick = settings(max_examples=50, deadline=None)
seeds = st.integers(0, 2**32 - 1)
parts = st.floats(-1.0, 1.0, allow_nan=False)
vectors = st.tuples(parts, parts, parts).map(np.array).filter(lambda v: np.linalg.norm(v) > 0.05)

MAGNET = gap_field(0.06, [0.05, 0.04, 0.05], 1.2)
ROD = np.array([[0.0, 0.0, -0.08], [0.0, 0.0, 0.08]])


def even(flux_density):
    """The same field everywhere."""
    return lambda points: np.broadcast_to(np.asarray(flux_density, float), np.shape(points))


def circle(centre, normal, radius, corners):
    """A closed path, first point repeated, counter-clockwise seen with `normal` at the eye."""
    normal = np.asarray(normal, float) / np.linalg.norm(normal)
    first = np.cross(normal, [1.0, 0, 0] if abs(normal[0]) < 0.9 else [0, 1.0, 0])
    first /= np.linalg.norm(first)
    turn = np.linspace(0, 2 * np.pi, corners + 1)
    return centre + radius * (np.outer(np.cos(turn), first) + np.outer(np.sin(turn), np.cross(normal, first)))


def closed_field(path, current):
    return lambda points: segment_field(points, path[:-1], path[1:], current)


class TestForce:
    def test_perpendicular(self):
        # F = B I l for mutually perpendicular B, I, l (any textbook): 0.2 T, 5 A, 0.3 m give 0.3 N. Field to the
        # right, current toward the viewer: up.
        push = force([[0, 0, 0], [0, 0, 0.1], [0, 0, 0.3]], 5.0, even([0.2, 0, 0]))
        np.testing.assert_allclose(push, [0, 0.3, 0], rtol=1e-14, atol=1e-16)

    @pytest.mark.parametrize("angle", np.radians([0, 30, 45, 90, 150]))
    def test_falls_as_the_sine_of_the_angle(self, angle):
        # F = I L x B: B I l sin(angle).
        push = force([[0, 0, 0], [0.3 * np.cos(angle), 0, 0.3 * np.sin(angle)]], 5.0, even([0.2, 0, 0]), turns=7)
        np.testing.assert_allclose(push, [0, 7 * 0.3 * np.sin(angle), 0], rtol=1e-13, atol=1e-15)

    def test_between_two_long_wires(self):
        # Two parallel wires 1 m apart with 1 A each: 2e-7 N a metre, attracting when the currents run the same way
        # (SI Brochure, 8th edition; since 2019 true to the tenth figure, not exactly).
        push = force([[1, 0, -0.5], [1, 0, 0.5]], 1.0, lambda p: long_wire_field(p, [0, 0, 0], [0, 0, 1], 1.0))
        np.testing.assert_allclose(push, [-2e-7, 0, 0], rtol=1e-9, atol=1e-20)
        assert VACUUM_PERMEABILITY / (2 * np.pi) == pytest.approx(2e-7, rel=1e-9)

    @quick
    @given(vectors, vectors, st.floats(0.1, 50))
    def test_reversals_and_right_angles(self, line, flux_density, current):
        assume(np.linalg.norm(np.cross(line, flux_density)) > 1e-3)
        path, field, opposite = [[0, 0, 0], line], even(flux_density), even(-flux_density)
        push = force(path, current, field)
        np.testing.assert_allclose(push, current * np.cross(line, flux_density), rtol=1e-9, atol=1e-13)
        np.testing.assert_allclose(push / np.linalg.norm(push), force_direction(flux_density, line), atol=1e-9)
        np.testing.assert_array_equal(force(path, -current, field), -push)
        np.testing.assert_array_equal(force(path, current, opposite), -push)
        np.testing.assert_array_equal(force(path, -current, opposite), push)
        assert abs(push @ line) < 1e-12 * current and abs(push @ flux_density) < 1e-12 * current

    @quick
    @given(vectors, st.floats(-50, 50))
    def test_none_along_the_field(self, flux_density, current):
        path = np.outer([0.0, 0.3, 2.0], flux_density)
        np.testing.assert_allclose(force(path, current, even(flux_density)), 0, atol=1e-13)

    @settings(max_examples=15, deadline=None)
    @given(seeds)
    def test_newtons_third_law_between_closed_paths(self, seed):
        generator = np.random.default_rng(seed)
        first = circle([0, 0, 0], generator.normal(size=3), 0.3, 6)
        second = circle([0.8, 0.2, 0.1], generator.normal(size=3), 0.25, 5)
        on_second = force(second, 4.0, closed_field(first, 3.0))
        on_first = force(first, 3.0, closed_field(second, 4.0))
        np.testing.assert_allclose(on_first, -on_second, rtol=1e-9, atol=1e-9 * np.linalg.norm(on_first))
        # Torques about one common point are opposite too.
        about = generator.normal(size=3)
        sum_of_both = torque(second, 4.0, closed_field(first, 3.0), about) + torque(first, 3.0, closed_field(second, 4.0), about)
        np.testing.assert_allclose(sum_of_both, 0, atol=1e-9 * np.linalg.norm(on_first))

    def test_newtons_third_law_between_two_wires_side_by_side(self):
        first, second = np.array([[0, 0, -1], [0, 0, 1.0]]), np.array([[0.1, 0.02, -1], [0.1, 0.02, 1.0]])
        on_second = force(second, 20.0, lambda p: segment_field(p, first[:1], first[1:], 30.0), samples=200)
        on_first = force(first, 30.0, lambda p: segment_field(p, second[:1], second[1:], 20.0), samples=200)
        np.testing.assert_allclose(on_first, -on_second, rtol=1e-9, atol=1e-15)
        assert on_second[0] < 0

    def test_between_coaxial_loops_it_is_the_change_of_mutual_inductance(self):
        # F = I1 I2 dM/dz, M = mu0 sqrt(R1 R2) ((2 / k - k) K - (2 / k) E): Maxwell's formula for coaxial circles
        # (memory), with scipy's elliptic integrals.
        def mutual(z, one=0.3, two=0.2):
            m = 4 * one * two / ((one + two) ** 2 + z**2)
            k = np.sqrt(m)
            return VACUUM_PERMEABILITY * np.sqrt(one * two) * ((2 / k - k) * ellipk(m) - 2 / k * ellipe(m))

        def first(points):
            return loop_field(points, [0, 0, 0], [0, 0, 1], 0.3, 10.0)

        # A polygon of many sides with the circle's area stands for the circle.
        sides = 2000
        radius = 0.2 * np.sqrt(2 * np.pi / sides / np.sin(2 * np.pi / sides))
        second = circle([0, 0, 0.1], [0, 0, 1], radius, sides)
        push = force(second, 5.0, first, samples=2)
        expected = 50.0 * (mutual(0.1 + 1e-5) - mutual(0.1 - 1e-5)) / 2e-5
        np.testing.assert_allclose(push, [0, 0, expected], rtol=1e-5, atol=1e-12)
        linked = flux_linkage(second[:-1], lambda p: loop_field(p, [0, 0, 0], [0, 0, 1], 0.3, 10.0), samples=12)
        assert linked == pytest.approx(10.0 * mutual(0.1), rel=1e-5)


class TestTorque:
    def test_coil_in_an_even_field(self):
        # T = N I A B sin(angle) on a flat coil, about any point (any textbook).
        coil = circle([0.3, -0.1, 0.2], [0, np.sin(0.7), np.cos(0.7)], 0.1, 6)
        area = 6 / 2 * 0.1**2 * np.sin(np.pi / 3)
        turning = torque(coil, 2.0, even([0, 0, 0.5]), about=[1, 2, 3], turns=50)
        np.testing.assert_allclose(turning, [50 * 2 * area * 0.5 * np.sin(0.7), 0, 0], rtol=1e-12, atol=1e-12)

    def test_lever(self):
        # 0.3 N upward, half a metre to the right of the point: 0.15 N m counter-clockwise.
        turning = torque([[0.5, 0, 0], [0.5, 0, 0.3]], 5.0, even([0.2, 0, 0]), about=[0, 0, 0.15])
        np.testing.assert_allclose(turning, [0, 0, 0.15], rtol=1e-13, atol=1e-16)


class TestMotionalEmf:
    def test_perpendicular(self):
        # E = B l v for mutually perpendicular B, l, v (any textbook): 0.2 T, 0.3 m, 4 m/s give 0.24 V. Field to the
        # right, moved up: away from the viewer.
        emf = motional_emf([[0, 0, 0.3], [0, 0, 0]], [0, 4.0, 0], even([0.2, 0, 0]))
        assert emf == pytest.approx(0.24, rel=1e-14)

    @quick
    @given(vectors, vectors, vectors, st.integers(1, 200))
    def test_general(self, line, velocity, flux_density, turns):
        # E = (v x B) . L; proportional to the turns, reversed with field or motion.
        path, field = [[1, 2, 3], np.add([1, 2, 3], line)], even(flux_density)
        emf = motional_emf(path, velocity, field, turns)
        assert emf == pytest.approx(turns * np.cross(velocity, flux_density) @ line, rel=1e-9, abs=1e-12)
        assert motional_emf(path, -velocity, field, turns) == -emf
        assert motional_emf(path, velocity, even(-flux_density), turns) == -emf
        across = np.cross(velocity, flux_density)
        if np.linalg.norm(across) > 1e-6:
            along = emf_direction(flux_density, velocity)
            assert motional_emf([[0, 0, 0], along], velocity, field) == pytest.approx(np.linalg.norm(across), rel=1e-9)

    @quick
    @given(vectors, vectors, st.floats(-10, 10))
    def test_none_moving_along_the_field_or_along_itself(self, line, flux_density, speed):
        path, field = [[0, 0, 0], line], even(flux_density)
        assert abs(motional_emf(path, speed * flux_density, field)) < 1e-12
        assert abs(motional_emf(path, speed * line, field)) < 1e-12

    def test_a_turning_spoke(self):
        # A spoke of length a that turns at w across a field: E = B w a^2 / 2 (Faraday's disc, any textbook).
        path = [[0, 0, 0], [0.1, 0, 0], [0.25, 0, 0]]
        spin = np.array([0, 0, 30.0])
        expected = 0.8 * 30 * 0.25**2 / 2
        at_points = motional_emf(path, np.cross(spin, path), even([0, 0, 0.8]))
        as_function = motional_emf(path, lambda points: np.cross(spin, points), even([0, 0, 0.8]))
        assert at_points == pytest.approx(expected, rel=1e-13)
        assert as_function == pytest.approx(expected, rel=1e-13)


class TestFlux:
    def test_flat_loop_in_an_even_field(self):
        # Phi = B A cos(angle); seen with the field toward the eye, counter-clockwise corners link it positively.
        square = [[0, 0, 0], [0.2, 0, 0], [0.2, 0.3, 0], [0, 0.3, 0]]
        assert flux_linkage(square, even([0, 0, 0.5]), turns=10) == pytest.approx(10 * 0.5 * 0.06, rel=1e-13)
        assert flux_linkage(square[::-1], even([0, 0, 0.5])) == pytest.approx(-0.5 * 0.06, rel=1e-13)

    def test_square_beside_a_long_wire(self):
        # mu0 I a / (2 pi) ln(r2 / r1) through a rectangle beside a long wire (any textbook).
        rectangle = [[0.1, 0, 0], [0.1, 0, 0.2], [0.4, 0, 0.2], [0.4, 0, 0]]
        linked = flux_linkage(rectangle, lambda p: long_wire_field(p, [0, 0, 0], [0, 0, 1], 30.0))
        assert linked == pytest.approx(VACUUM_PERMEABILITY * 30 * 0.2 / (2 * np.pi) * np.log(4), rel=1e-9)

    def test_any_surface_will_do(self):
        # A loop that is not flat: its fan from the middle, and the fan of a loop with one more corner on an edge.
        loop = np.array([[-0.1, -0.08, 0.07], [0.1, -0.08, 0.05], [0.1, 0.08, 0.09], [-0.1, 0.08, 0.05]])
        finer = np.vstack([loop[:1], loop[:1] * 0.3 + loop[1:2] * 0.7, loop[1:]])
        assert flux_linkage(loop, MAGNET) == pytest.approx(flux_linkage(finer, MAGNET), rel=1e-8)

    @settings(max_examples=10, deadline=None)
    @given(seeds)
    def test_closed_surfaces_have_no_flux(self, seed):
        tips = np.random.default_rng(seed).uniform(-0.1, 0.1, (4, 3)) + [0.0, 0.25, 0.0]
        faces = [tips[[0, 1, 2]], tips[[0, 2, 3]], tips[[0, 3, 1]], tips[[1, 3, 2]]]
        fluxes = [flux_linkage(face, MAGNET) for face in faces]
        assert abs(sum(fluxes)) < 1e-9 * sum(map(abs, fluxes))


class TestTwoWaysToTheEmf:
    """By motion, the integral of (v x B).dl, and by flux: they must agree to 1e-6."""

    @settings(max_examples=20, deadline=None)
    @given(seeds)
    def test_a_rod_cuts_flux(self, seed):
        generator = np.random.default_rng(seed)
        velocity = generator.uniform(-1, 1, 3)
        rod = ROD + generator.uniform(-0.015, 0.015, (2, 3))
        seconds = 1e-3 / max(np.linalg.norm(velocity), 0.1)
        before, after = rod - velocity * seconds / 2, rod + velocity * seconds / 2
        cut = flux_cut(before, after, MAGNET, turns=20) / seconds
        # Simpson's rule over the short way gives the mean of the EMF.
        mean = np.mean(
            [motional_emf(before + share * (after - before), velocity, MAGNET, turns=20) for share in (0, 0.5, 0.5, 0.5, 0.5, 1)]
        )
        scale = 20 * 0.3 * np.linalg.norm(velocity) * 0.16
        assert cut == pytest.approx(mean, rel=1e-6, abs=1e-9 * scale)

    @settings(max_examples=20, deadline=None)
    @given(seeds)
    def test_a_loop_that_moves_turns_and_changes_shape(self, seed):
        generator = np.random.default_rng(seed)
        loop = np.array([[0.0, -0.05, -0.05], [0.0, 0.05, -0.05], [0.0, 0.05, 0.05], [0.0, -0.05, 0.05]])
        loop += generator.uniform(-0.01, 0.01, (4, 3))
        velocity = generator.uniform(-1, 1, (4, 3))
        closed, closed_velocity = np.vstack([loop, loop[:1]]), np.vstack([velocity, velocity[:1]])
        emf = motional_emf(closed, closed_velocity, MAGNET, turns=5)
        step = 1e-4
        linked = [flux_linkage(loop + shift * step * velocity, MAGNET, turns=5) for shift in (-2, -1, 1, 2)]
        rate = (linked[0] - 8 * linked[1] + 8 * linked[2] - linked[3]) / (12 * step)
        assert emf == pytest.approx(-rate, rel=1e-6, abs=1e-9)

    def test_flux_cut_is_the_change_of_flux_linked(self):
        # A loop with three fixed sides and one that moves outward: what is cut on the way is no longer linked.
        fixed = np.array([[0.0, -0.2, 0.08], [0.0, -0.2, -0.08]])
        before, after = ROD + [0.0, -0.05, 0], ROD + [0.004, 0.06, 0]
        linked_before = flux_linkage(np.vstack([fixed, before]), MAGNET, samples=64)
        linked_after = flux_linkage(np.vstack([fixed, after]), MAGNET, samples=64)
        # The sides also move a little out of their plane; their own cut closes the balance.
        sides = flux_cut(np.vstack([fixed[1], before[0]]), np.vstack([fixed[1], after[0]]), MAGNET, samples=64) + flux_cut(
            np.vstack([before[1], fixed[0]]), np.vstack([after[1], fixed[0]]), MAGNET, samples=64
        )
        cut = flux_cut(before, after, MAGNET, samples=64) + sides
        assert cut == pytest.approx(-(linked_after - linked_before), rel=1e-6)


class TestClosedCircuit:
    @settings(max_examples=20, deadline=None)
    @given(seeds, st.floats(0.01, 100), st.integers(1, 200))
    def test_power_in_is_power_out_and_the_force_opposes(self, seed, resistance, turns):
        generator = np.random.default_rng(seed)
        velocity = generator.uniform(-1, 1, 3)
        result = generate(ROD, velocity, MAGNET, resistance, turns)
        assert result.emf == pytest.approx(motional_emf(ROD, velocity, MAGNET, turns), rel=1e-12)
        assert result.current == pytest.approx(result.emf / resistance, rel=1e-14)
        np.testing.assert_allclose(result.force, force(ROD, result.current, MAGNET, turns), rtol=1e-12, atol=1e-15)
        assert result.mechanical_power == pytest.approx(result.electrical_power, rel=1e-12)
        assert result.force @ velocity <= 0
        assert -result.force @ velocity == pytest.approx(result.electrical_power, rel=1e-9, abs=1e-18)

    def test_worked_example(self):
        # Arithmetic from E = B l v, I = E / R, F = B I l: 0.5 T, 0.4 m, 3 m/s, 0.2 ohm give 0.6 V, 3 A, 0.6 N, 1.8 W.
        result = generate([[0, 0, 0.4], [0, 0, 0]], [0, 3.0, 0], even([0.5, 0, 0]), 0.2)
        assert result.emf == pytest.approx(0.6) and result.current == pytest.approx(3.0)
        np.testing.assert_allclose(result.force, [0, -0.6, 0], rtol=1e-13, atol=1e-15)
        assert result.mechanical_power == pytest.approx(1.8) and result.electrical_power == pytest.approx(1.8)


def test_the_default_samples_are_enough_for_a_rod_across_a_magnet():
    for path in (ROD, ROD + [0.02, 0.01, 0.0], ROD + [0.0, 0.06, 0.0]):
        fine = force(path, 1.0, MAGNET, samples=400)
        np.testing.assert_allclose(force(path, 1.0, MAGNET), fine, rtol=0, atol=1e-7 * np.linalg.norm(fine))


def test_a_path_through_a_block_is_felt_along_its_whole_length():
    # The pieces that stand for the samples add up to the path, whatever its corners.
    path = np.array([[0, 0, 0], [0.1, 0, 0], [0.1, 0.2, 0], [0, 0.2, 0.5]])
    sampled = sample(path, 5)
    assert sampled.points.shape == (15, 3)
    np.testing.assert_allclose(sampled.lengths.sum(axis=0), path[-1] - path[0], atol=1e-15)
    push = force(path, 1.0, lambda p: block_magnet_field(p, [5, 0, 0], [1, 1, 1], [1, 0, 0]))
    assert np.linalg.norm(push) > 0


@pytest.mark.parametrize(
    "call, argument",
    [
        (lambda: force([[0, 0, 0]], 1.0, MAGNET), "path"),
        (lambda: force(ROD[:, :2], 1.0, MAGNET), "path"),
        (lambda: force(ROD, np.nan, MAGNET), "current"),
        (lambda: force(ROD, 1.0, MAGNET, turns=0), "turns"),
        (lambda: force(ROD, 1.0, MAGNET, turns=1.5), "turns"),
        (lambda: force(ROD, 1.0, MAGNET, samples=0), "samples"),
        (lambda: torque(ROD, 1.0, MAGNET, about=[0, 0]), "about"),
        (lambda: motional_emf(ROD, [1.0, 0], MAGNET), "velocity"),
        (lambda: motional_emf(ROD, np.zeros((3, 3)), MAGNET), "velocity"),
        (lambda: motional_emf(ROD, lambda points: np.zeros(3), MAGNET), "velocity"),
        (lambda: flux_linkage(ROD, MAGNET), "loop"),
        (lambda: flux_cut(ROD, np.zeros((3, 3)), MAGNET), "path_after"),
        (lambda: flux_cut(ROD[:1], ROD, MAGNET), "path_before"),
        (lambda: generate(ROD, [1.0, 0, 0], MAGNET, 0.0), "resistance"),
    ],
)
def test_wrong_input_is_named(call, argument):
    with pytest.raises(ValueError, match=argument):
        call()


def test_the_mean_field_of_a_straight_conductor_makes_the_handbooks_formulas_exact():
    def uneven(points):
        x, y, z = points.T
        return np.stack([0.1 * z, 0.2 + 3 * z**2 + x, 0.05 * y], axis=1)

    path, velocity = np.array([[0.01, 0.0, -0.05], [0.03, 0.02, 0.06]]), np.array([0.4, -0.2, 0.1])
    line = path[1] - path[0]
    mean = [quad(lambda share, k=k: uneven((path[0] + share * line)[np.newaxis])[0, k], 0, 1)[0] for k in range(3)]
    np.testing.assert_allclose(mean_field(path, uneven), mean, rtol=1e-12)
    np.testing.assert_allclose(force(path, 2.0, uneven), 2.0 * np.cross(line, mean), rtol=1e-12)
    assert motional_emf(path, velocity, uneven) == pytest.approx(np.cross(velocity, mean) @ line, rel=1e-12)
    bent = np.vstack([path, [[0.03, 0.05, 0.06]]])  # the longer piece counts more
    long, short = np.linalg.norm(line), 0.03
    expected = (long * mean_field(path, uneven) + short * mean_field(bent[1:], uneven)) / (long + short)
    np.testing.assert_allclose(mean_field(bent, uneven), expected, rtol=1e-12)

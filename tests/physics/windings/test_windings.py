"""Regular windings: against handbook tables, against the field of real wires, and against themselves two ways."""

import magpylib
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from physics.windings import Winding
from physics.windings.coils_in_slots import BALANCED, PHASES, Coil, ConnectedCoils

SIXTY_DEGREES = np.pi / 3


def balanced(electrical_angle):
    """Currents of 1 A peak at this instant, in the order U-V-W."""
    return np.real(BALANCED * np.exp(1j * np.asarray(electrical_angle)[..., np.newaxis]))


def difference(angle, other):
    """Smallest angle from one to the other, in (-pi, pi]."""
    return np.angle(np.exp(1j * (angle - other)))


@st.composite
def windings(draw):
    poles = 2 * draw(st.integers(1, 6))
    full_pitch = 3 * draw(st.integers(1, 6))
    layers = draw(st.integers(1, 2))
    pitch = draw(st.integers(max(1, full_pitch // 2), full_pitch)) if layers == 2 else None
    return Winding(full_pitch * poles, poles, turns=draw(st.integers(1, 40)), coil_pitch=pitch, layers=layers)


thorough = settings(max_examples=50, deadline=None)


# Published values


def test_twelve_slots_two_poles():
    """12 slots, 2 poles, 3 phases: 2 slots per pole and phase, four slots and two coils a phase (arithmetic of any
    handbook, e.g. Chapman, Electric Machinery Fundamentals, appendix on windings; memory)."""
    winding = Winding(12, 2)
    assert winding.slots_per_pole_and_phase == 2
    assert winding.coils_per_phase == 2
    assert len(winding.coils) == 6
    for phase in PHASES:
        assert len({side.slot for side in winding.slot_table if side.phase == phase}) == 4
    assert winding.slot_rows()[:3] == ["slot   1:  +U coil 1", "slot   2:  +U coil 2", "slot   3:  -W coil 5"]


# Winders' data of single-layer windings with 60-degree belts (common practice, no source): slots, poles, slots per pole
# and phase, coils a phase, return side of the coil from slot 1, first slots of U, V and W
WINDERS_DATA = [(12, 2, 2, 2, 7, (1, 5, 9)), (24, 4, 2, 4, 7, (1, 5, 9)), (36, 4, 3, 6, 10, (1, 7, 13)),
                (36, 6, 2, 6, 7, (1, 5, 9)), (48, 4, 4, 8, 13, (1, 9, 17)), (24, 2, 4, 4, 13, (1, 9, 17))]  # fmt: skip


@pytest.mark.parametrize(("slots", "poles", "belt", "coils", "back", "starts"), WINDERS_DATA)
def test_winders_data(slots, poles, belt, coils, back, starts):
    winding = Winding(slots, poles)
    assert winding.slots_per_pole_and_phase == belt
    assert winding.coils_per_phase == coils
    assert winding.coils[0] == Coil("U", 0, back - 1, 1)
    first = tuple(1 + min(s.slot for s in winding.slot_table if (s.phase, s.sign) == (phase, 1)) for phase in PHASES)
    assert first == starts


# Distribution factors of 60-degree belts with q = 2, 3, 4 slots a belt: the table in Liwschitz-Garik and Whipple,
# A-C Machines, and in most handbooks (memory, redone by arithmetic): q, harmonic, factor
DISTRIBUTION_FACTORS = [
    (1, 1, 1.000), (2, 1, 0.966), (3, 1, 0.960), (4, 1, 0.958), (5, 1, 0.957), (6, 1, 0.956),
    (2, 3, 0.707), (3, 3, 0.667), (4, 3, 0.653),
    (2, 5, 0.259), (3, 5, 0.218), (4, 5, 0.205),
    (2, 7, -0.259), (3, 7, -0.177), (4, 7, -0.158),
    (2, 11, -0.966), (3, 11, -0.177), (4, 11, -0.126),
]  # fmt: skip

# Pitch factors (same tables, memory, redone by arithmetic): slots a pole, pitch in slots, harmonic, size of the factor
PITCH_FACTORS = [
    (6, 5, 1, 0.9659), (6, 5, 5, 0.2588), (6, 5, 7, 0.2588), (12, 10, 1, 0.9659),
    (6, 4, 1, 0.8660), (6, 4, 3, 0.0000), (9, 8, 1, 0.9848), (9, 7, 1, 0.9397),
    (15, 12, 1, 0.9511), (15, 12, 5, 0.0000),
]  # fmt: skip


@pytest.mark.parametrize(("q", "harmonic", "printed"), DISTRIBUTION_FACTORS)
def test_distribution_factors_of_the_handbook(q, harmonic, printed):
    assert Winding(6 * q, 2).distribution_factor(harmonic) == pytest.approx(printed, abs=6e-4)


@pytest.mark.parametrize(("full_pitch", "pitch", "harmonic", "printed"), PITCH_FACTORS)
def test_pitch_factors_of_the_handbook(full_pitch, pitch, harmonic, printed):
    winding = Winding(4 * full_pitch, 4, coil_pitch=pitch, layers=2)
    assert abs(winding.pitch_factor(harmonic)) == pytest.approx(printed, abs=6e-5)


def test_winding_factor_of_a_worked_example():
    """Fitzgerald, Kingsley, Umans, Electric Machinery, appendix on windings (memory, redone by arithmetic): 24 slots,
    2 poles, pitch 5/6: k_d 0.958, k_p 0.966, k_w 0.925."""
    winding = Winding(24, 2, coil_pitch=10, layers=2)
    assert winding.distribution_factor() == pytest.approx(0.958, abs=5e-4)
    assert winding.pitch_factor() == pytest.approx(0.966, abs=5e-4)
    assert winding.winding_factor() == pytest.approx(0.925, abs=5e-4)


def test_belts_follow_each_other_round_the_bore():
    """Standard slot tables of 60-degree belts: in steps of 60 electrical degrees the largest current stands in the
    belts +U, -W, +V, -U, +W, -V, and these are neighbours in the order of the slots."""
    winding = Winding(12, 2)
    steps = SIXTY_DEGREES * np.arange(6)
    assert [winding.belt_at_largest_current(balanced(step)) for step in steps] == ["+U", "-W", "+V", "-U", "+W", "-V"]
    for number, step in enumerate(steps):
        largest = np.argsort(winding.slot_currents(balanced(step)))[-2:]
        assert set(largest) == {2 * number, 2 * number + 1}


# The field of real wires


def field_in_the_bore(winding, currents):
    """Field at the centre of the bore of long straight wires in the slots, by magpylib."""
    wires = [
        magpylib.current.Polyline(current=current, vertices=[(x, y, -100), (x, y, 100)])
        for current, x, y in zip(winding.slot_currents(currents), np.cos(winding.slot_angles), np.sin(winding.slot_angles), strict=True)
        if current
    ]
    return magpylib.getB(wires, (0, 0, 0), sumup=True)


@pytest.mark.parametrize("winding", [Winding(12, 2), Winding(18, 2, coil_pitch=7, layers=2)])
@pytest.mark.parametrize("currents", [(1, -0.5, -0.5), (-0.5, 1, -0.5), (0.3, 0.9, -1.2), (-1, 0.5, 0.5)])
def test_the_axis_is_where_the_wires_field_points(winding, currents):
    field = field_in_the_bore(winding, currents)
    assert difference(np.arctan2(field[1], field[0]), winding.field_axis(currents)) == pytest.approx(0, abs=1e-9)


def test_balanced_currents_turn_the_field_clockwise_seen_from_the_drive_end():
    """IEC 60034-8: U, V, W on L1, L2, L3 turns clockwise seen facing the drive end, which here is the +z end."""
    winding = Winding(12, 2)
    now, soon = (field_in_the_bore(winding, balanced(angle)) for angle in (0.0, 0.3))
    assert np.cross(now, soon)[2] < 0
    swapped = [balanced(angle)[[0, 2, 1]] for angle in (0.0, 0.3)]
    now, soon = (field_in_the_bore(winding, currents) for currents in swapped)
    assert np.cross(now, soon)[2] > 0


# Two ways to the same figure


@thorough
@given(winding=windings())
def test_winding_factors_by_product_and_by_slot_star(winding):
    harmonics = np.arange(1, 12 * winding.slots_per_pole_and_phase + 8)
    product = winding.winding_factor(harmonics)
    star = np.array([winding.slot_star(harmonic) for harmonic in harmonics])
    np.testing.assert_allclose(star[:, 0], product, rtol=0, atol=1e-12)
    # the three phases are alike but for a third of a pole pair
    np.testing.assert_allclose(star[:, 1], product * np.exp(-2j * np.pi / 3 * harmonics), rtol=0, atol=1e-12)
    np.testing.assert_allclose(star[:, 2], product * np.exp(2j * np.pi / 3 * harmonics), rtol=0, atol=1e-12)


@thorough
@given(winding=windings(), currents=st.tuples(*[st.floats(-100, 100)] * 3), pole_pairs=st.integers(1, 40))
def test_waves_are_the_fourier_integral_of_the_curve(winding, currents, pole_pairs):
    """Integral of MMF times exp(j m angle), tooth by tooth, against the sum over the steps at the slots."""
    pitch = 2 * np.pi / winding.slots
    teeth = winding.slot_angles + pitch / 2
    on_teeth = winding.mmf(teeth, currents)
    integral = on_teeth @ np.exp(1j * pole_pairs * teeth) * 2 * np.sin(pole_pairs * pitch / 2) / pole_pairs
    wave = winding.mmf_wave(currents, pole_pairs)
    assert abs(wave - integral / np.pi) <= 1e-11 * (1 + np.abs(winding.slot_currents(currents)).sum())


@thorough
@given(winding=windings(), currents=st.tuples(*[st.floats(-100, 100)] * 3))
def test_mmf_is_stepped_by_the_slot_currents_and_has_no_mean(winding, currents):
    pitch = 2 * np.pi / winding.slots
    scale = 1e-12 * (1 + np.abs(winding.slot_currents(currents)).sum())
    before = winding.mmf(winding.slot_angles - 0.49 * pitch, currents)
    after = winding.mmf(winding.slot_angles + 0.49 * pitch, currents)
    # Ampere's law round one slot, counter-clockwise
    np.testing.assert_allclose(before - after, winding.slot_currents(currents), rtol=0, atol=scale)
    np.testing.assert_allclose(winding.mmf(winding.slot_angles, currents), (before + after) / 2, rtol=0, atol=scale)
    np.testing.assert_allclose(winding.mmf(winding.slot_angles + 0.01 * pitch, currents), after, rtol=0, atol=scale)
    assert abs(after.mean()) <= scale
    assert abs(winding.mmf(np.radians(np.arange(0, 360, 360 / (8 * winding.slots))), currents).mean()) <= scale
    assert winding.slot_currents(currents).sum() == pytest.approx(0, abs=scale)


# Balanced, unbalanced, exchanged


@thorough
@given(winding=windings(), angle=st.floats(-10, 10))
def test_balanced_currents_give_a_field_of_constant_size_that_turns_with_them(winding, angle):
    one_phase = winding.fundamental_amplitude((1, 0, 0))
    expected = 4 / np.pi * winding.series_turns * winding.winding_factor() / winding.poles
    assert one_phase == pytest.approx(abs(expected), rel=1e-12)
    assert winding.fundamental_amplitude(balanced(angle)) == pytest.approx(1.5 * one_phase, rel=1e-12)
    assert difference(winding.field_axis(balanced(angle)), -angle) == pytest.approx(0, abs=1e-11)


@thorough
@given(winding=windings(), angle=st.floats(-3, 3), exchange=st.sampled_from([(0, 1), (1, 2), (0, 2)]))
def test_exchanging_two_lines_reverses_the_field(winding, angle, exchange):
    order = [0, 1, 2]
    order[exchange[0]], order[exchange[1]] = order[exchange[1]], order[exchange[0]]
    as_joined = difference(winding.field_axis(balanced(angle + 0.1)), winding.field_axis(balanced(angle)))
    exchanged = difference(winding.field_axis(balanced(angle + 0.1)[order]), winding.field_axis(balanced(angle)[order]))
    assert as_joined == pytest.approx(-0.1, abs=1e-11)
    assert exchanged == pytest.approx(0.1, abs=1e-11)
    other_leads = winding.with_leads_exchanged(PHASES[exchange[0]], PHASES[exchange[1]])
    assert other_leads.field_axis(balanced(angle)) == pytest.approx(winding.field_axis(balanced(angle)[order]))


@pytest.mark.parametrize(("harmonic", "sense"), [(1, -1), (5, +1), (7, -1), (11, +1), (13, -1), (17, +1)])
@pytest.mark.parametrize("winding", [Winding(36, 4), Winding(24, 4, turns=5, coil_pitch=5, layers=2)])
def test_harmonics_of_balanced_currents_turn_forward_and_backward(winding, harmonic, sense):
    """5th backward at n/5, 7th forward at n/7 (standard handbook result); forward is clockwise here, sense -1."""
    pole_pairs = harmonic * winding.pole_pairs
    step = 1e-3
    crests = np.angle(winding.mmf_wave(balanced(np.array([0.2, 0.2 + step])), pole_pairs))
    assert difference(crests[1], crests[0]) / pole_pairs == pytest.approx(sense * step / pole_pairs, rel=1e-9)

    clockwise, counter_clockwise = winding.travelling_waves(BALANCED, pole_pairs)
    present, absent = (clockwise, counter_clockwise) if sense < 0 else (counter_clockwise, clockwise)
    size = 1.5 * 4 / np.pi * winding.series_turns * abs(winding.winding_factor(harmonic)) / (harmonic * winding.poles)
    assert abs(present) == pytest.approx(size, rel=1e-10)
    assert abs(absent) <= 1e-12 * winding.series_turns


@pytest.mark.parametrize("harmonic", [2, 3, 4, 6, 9])
def test_balanced_currents_make_no_even_and_no_third_harmonics(harmonic):
    winding = Winding(36, 4, coil_pitch=8, layers=2)
    np.testing.assert_allclose(winding.travelling_waves(BALANCED, harmonic * winding.pole_pairs), 0, atol=1e-13)


@thorough
@given(
    winding=windings(),
    sizes=st.tuples(*[st.floats(0.1, 10)] * 3),
    phases=st.tuples(*[st.floats(-np.pi, np.pi)] * 3),
)
def test_unbalanced_currents_make_the_field_run_on_an_ellipse(winding, sizes, phases):
    phasors = np.array(sizes) * np.exp(1j * np.array(phases))
    clockwise, counter_clockwise = winding.travelling_waves(phasors)
    major, minor = abs(clockwise) + abs(counter_clockwise), abs(abs(clockwise) - abs(counter_clockwise))
    turn = np.exp(1j * np.linspace(0, 2 * np.pi, 100))
    tip = winding.mmf_wave(np.real(phasors * turn[:, np.newaxis]))
    # upright, the tip obeys (x / major)^2 + (y / minor)^2 = 1
    upright = tip * np.exp(-0.5j * (np.angle(clockwise) + np.angle(counter_clockwise)))
    on_ellipse = minor**2 * upright.real**2 + major**2 * upright.imag**2
    np.testing.assert_allclose(on_ellipse, (major * minor) ** 2, rtol=0, atol=1e-9 * (major**4 + 1e-20))
    np.testing.assert_allclose(np.abs(tip), winding.fundamental_amplitude(np.real(phasors * turn[:, None])), rtol=1e-12)


def test_many_instants_at_once_are_the_same_as_one_by_one():
    winding = Winding(36, 4, coil_pitch=8, layers=2)
    angles = np.linspace(0, 2 * np.pi, 50).reshape(5, 10)
    currents = balanced(np.linspace(0, 1, 4))
    together = winding.mmf(angles, currents)
    assert together.shape == (4, 5, 10)
    for row, instant in zip(together, currents, strict=True):
        np.testing.assert_allclose(row, winding.mmf(angles, instant), rtol=0, atol=1e-14)
    axes = winding.field_axis(currents)
    np.testing.assert_allclose(axes, [winding.field_axis(instant) for instant in currents], rtol=0, atol=1e-14)
    assert winding.mmf_wave(currents, np.arange(1, 8)).shape == (4, 7)


def test_no_field_has_no_axis_and_the_axis_opposite_is_plus_pi():
    winding = Winding(36, 6)
    assert np.isnan(winding.field_axis((0, 0, 0)))
    assert np.isnan(winding.field_axis((2, 2, 2)))
    assert winding.field_axis((1, -0.5, -0.5)) == pytest.approx(0, abs=1e-12)
    assert winding.field_axis((-1, 0.5, 0.5)) == pytest.approx(np.pi, abs=1e-12)
    assert winding.field_axis((-1, 0.5, 0.5)) > 0
    assert isinstance(winding.field_axis((1, 0, 0)), float)


# Wrongly connected


def test_one_of_two_coils_reversed():
    """Two coils 30 degrees apart in opposition: what is left is sin 15 = 0.259 of their sum, a quarter turn off."""
    reversed_coil = Winding(12, 2).with_coil_reversed(0)
    factors = reversed_coil.slot_star()
    assert abs(factors[0]) == pytest.approx(np.sin(np.pi / 12), rel=1e-12)
    assert abs(np.degrees(np.angle(factors[0]))) == pytest.approx(90)
    np.testing.assert_allclose(np.abs(factors[1:]), np.cos(np.pi / 12), rtol=1e-12)
    clockwise, counter_clockwise = reversed_coil.travelling_waves(BALANCED)
    assert abs(counter_clockwise) > 0.1 * abs(clockwise)
    assert reversed_coil.slot_rows()[0] == "slot   1:  -U coil 1"
    assert reversed_coil.with_coil_reversed(0).slot_table == Winding(12, 2).slot_table


def test_a_reversed_coil_makes_waves_that_the_sound_winding_does_not():
    sound = Winding(24, 4)
    assert abs(sound.mmf_wave(balanced(0), 1)) < 1e-14
    assert abs(sound.with_coil_reversed(0).mmf_wave(balanced(0), 1)) > 0.1


def test_a_phase_left_out_leaves_a_field_that_pulsates():
    """One line open, the other two in series: two waves of equal size against each other (standard result)."""
    two_phases = Winding(36, 4).without_phase("U")
    clockwise, counter_clockwise = two_phases.travelling_waves((0, 1, -1))
    assert abs(clockwise) == pytest.approx(abs(counter_clockwise), rel=1e-12)
    assert two_phases.field_axis((5, 1, -1)) == pytest.approx(-np.pi / 2)
    assert two_phases.slot_star()[0] == 0
    assert two_phases.slot_rows()[0].endswith("0U coil 1")
    np.testing.assert_array_equal(two_phases.mmf([0.1, 1, 2], (5, 1, -1)), two_phases.mmf([0.1, 1, 2], (0, 1, -1)))


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: Winding(12, 3), "poles must be an even whole number"),
        (lambda: Winding(12, 0), "poles"),
        (lambda: Winding(14, 2), r"slots must be a multiple of 6 \(3 phases x 2 poles\), not 14"),
        (lambda: Winding(0, 2), "slots"),
        (lambda: Winding(12.5, 2), "slots"),
        (lambda: Winding(12, 2, turns=0), "turns must be a whole number of at least 1"),
        (lambda: Winding(12, 2, layers=3), "layers must be 1 or 2"),
        (lambda: Winding(12, 2, layers=0), "layers"),
        (lambda: Winding(12, 2, coil_pitch=0, layers=2), "coil_pitch"),
        (lambda: Winding(12, 2, coil_pitch=7, layers=2), "coil_pitch must be from 1 to the full pitch of 6 slots"),
        (lambda: Winding(12, 2, coil_pitch=5), "coil_pitch must be the full pitch of 6 slots in a single-layer"),
        (lambda: Winding(12, 2).winding_factor(0), "harmonic"),
        (lambda: Winding(12, 2).winding_factor(1.5), "harmonic"),
        (lambda: Winding(12, 2).slot_star(0), "harmonic"),
        (lambda: Winding(12, 2).mmf(np.nan, (1, 0, 0)), "angles must be finite"),
        (lambda: Winding(12, 2).mmf(0, (1, 0)), "phase_currents must have three values"),
        (lambda: Winding(12, 2).mmf(0, 1), "phase_currents"),
        (lambda: Winding(12, 2).field_axis((1, np.inf, 0)), "phase_currents"),
        (lambda: Winding(12, 2).travelling_waves((1, np.nan, 0)), "phase_phasors"),
        (lambda: Winding(12, 2).travelling_waves(("a", 1, 0)), "phase_phasors"),
        (lambda: Winding(12, 2).mmf_wave((1, 0, 0), 0), "pole_pairs"),
        (lambda: Winding(12, 2).with_coil_reversed(6), "coil must be less than 6"),
        (lambda: Winding(12, 2).without_phase("R"), "phase must be one of the phases U, V, W"),
        (lambda: Winding(12, 2).with_leads_exchanged("U", 1), "second must be one of the phases"),
        (lambda: ConnectedCoils(12, (Coil("U", 0, 12),)), "coils must lie in slots 0 to 11"),
        (lambda: ConnectedCoils(12, (Coil("U", 0, 6, 0),)), "coils must make a field"),
        (lambda: ConnectedCoils(12, (Coil("U", 0, 6),), layers=3), "layers"),
    ],
)
def test_bad_input_is_told_in_a_sentence(call, named):
    with pytest.raises(ValueError, match=named):
        call()

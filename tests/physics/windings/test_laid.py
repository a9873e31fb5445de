"""Windings laid coil by coil: against the regular winding, published winding factors, and phasors and curves added up here."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from physics.windings import LaidWinding, Winding
from physics.windings.coils_in_slots import BALANCED, PHASES, Coil
from physics.windings.laid import circulating_currents

PLANS = [(12, 2, None, 1), (18, 2, 7, 2), (24, 4, 5, 2), (36, 4, None, 1), (12, 4, 2, 2), (36, 6, 5, 2), (24, 8, None, 1), (48, 8, 5, 2)]
AROUND = 2 * np.pi * (np.arange(1440) + 0.5) / 1440


def right(plan: Winding) -> LaidWinding:
    """All coils, each where the plan's next one goes."""
    winding = LaidWinding(plan)
    for phase in PHASES:
        while (coil := winding.next_right(phase)) is not None:
            start, finish = (coil.go, coil.back) if coil.sign > 0 else (coil.back, coil.go)
            winding = winding.with_coil(phase, start, finish)
    return winding


def curve(winding: LaidWinding, currents) -> np.ndarray:
    """MMF round the bore, zero mean, added up coil by coil: up by its ampere turns between its finish and its start."""
    total = np.zeros(len(AROUND))
    for coil in winding.coils:
        start, finish = (coil.go, coil.back) if coil.sign > 0 else (coil.back, coil.go)
        # slots count clockwise from the first; current toward +z at the start pushes flux outward clockwise of it
        passed = (winding.plan.first_slot_angle - AROUND) / (2 * np.pi) * winding.slots
        within = (passed - start) % winding.slots < (finish - start) % winding.slots
        total += within * winding.turns * currents[PHASES.index(coil.phase)]
    return total - total.mean()


@pytest.mark.parametrize(("slots", "poles", "pitch", "layers"), PLANS)
def test_laid_right_it_is_the_regular_winding(slots, poles, pitch, layers):
    plan = Winding(slots, poles, 3, pitch, layers)
    winding = right(plan)
    assert winding.whole and winding.right and sorted(winding.coils) == sorted(plan.coils)
    currents = (1.0, 0.3, -1.3)
    assert winding.mmf(AROUND, currents) == pytest.approx(plan.mmf(AROUND, currents), abs=1e-12)
    assert winding.field_axis(currents) == pytest.approx(plan.field_axis(currents))
    for order in (1, 5, 7, 11):
        assert np.abs(winding.slot_star(order)) == pytest.approx(np.full(3, abs(plan.winding_factor(order))), abs=1e-9)
    assert winding.phase_emfs() == pytest.approx(BALANCED, abs=1e-12)
    clockwise, other = winding.travelling_waves(BALANCED)
    assert abs(other) < 1e-9 * abs(clockwise)


# Winding factors of three-phase windings with 60-degree belts, handbook tables (memory, redone by arithmetic): slots a pole, pitch, k_w of
# the fundamental, the 5th and the 7th
PUBLISHED = [(6, 6, 0.966, 0.259, 0.259), (9, 9, 0.960, 0.218, 0.177), (12, 12, 0.958, 0.205, 0.158), (6, 5, 0.933, 0.067, 0.067),
             (9, 7, 0.902, 0.038, 0.136), (12, 10, 0.925, 0.053, 0.041)]  # fmt: skip


@pytest.mark.parametrize(("full", "pitch", "first", "fifth", "seventh"), PUBLISHED)
def test_winding_factors_of_the_handbook(full, pitch, first, fifth, seventh):
    winding = right(Winding(4 * full, 4, coil_pitch=pitch, layers=2))
    found = [abs(winding.slot_star(order)[0]) for order in (1, 5, 7)]
    assert found == pytest.approx([first, fifth, seventh], abs=6e-4)


@st.composite
def laid_at_random(draw):
    slots, poles, pitch, layers = draw(st.sampled_from(PLANS))
    winding = LaidWinding(Winding(slots, poles, 2, pitch, layers))
    for _ in range(draw(st.integers(0, 8))):
        phase, start = draw(st.sampled_from(PHASES)), draw(st.integers(0, slots - 1))
        sense = draw(st.sampled_from((1, -1)))
        try:
            winding = winding.with_coil(phase, start, (start + sense * winding.plan.span) % slots)
        except ValueError:
            continue
    return winding


@settings(max_examples=20, deadline=None)
@given(laid_at_random(), st.tuples(*[st.floats(-5, 5)] * 3))
def test_any_coils_make_the_curve_that_their_ampere_turns_add_up_to(winding, currents):
    assert winding.mmf(AROUND, currents) == pytest.approx(curve(winding, currents), abs=1e-9)
    # EMFs: of a wave of p pole pairs that goes round clockwise, a coil's flux is what lies between its sides
    for coil, emf in zip(winding.coils, winding.emfs(), strict=True):
        start, finish = (coil.go, coil.back) if coil.sign > 0 else (coil.back, coil.go)
        between = (finish - start) % winding.slots
        middle = winding.plan.first_slot_angle - 2 * np.pi * (start + between / 2) / winding.slots
        size = np.sin(np.pi * winding.pole_pairs * between / winding.slots)
        assert emf == pytest.approx(size * np.exp(1j * winding.pole_pairs * middle), abs=1e-12)
    sides = [(slot, layer) for coil in winding.coils for slot, layer in ((coil.go, 1), (coil.back, winding.layers))]
    assert len(sides) == len(set(sides))


def test_a_coil_the_wrong_way_round_weakens_the_field_and_adds_one_against_it():
    """12 slots, 2 poles, one of the two coils of V reversed: V's EMFs at 30 degrees to each other subtract instead of adding, 2 sin 15
    instead of 2 cos 15 (arithmetic)."""
    good = right(Winding(12, 2))
    coils = list(good.coils)
    coils[2] = coils[2]._replace(sign=-1)
    bad = LaidWinding(good.plan, tuple(coils))
    assert not bad.right
    assert np.abs(bad.phase_emfs()) == pytest.approx([1, np.tan(np.radians(15)), 1])
    clockwise, other = (abs(wave) for wave in bad.travelling_waves(BALANCED))
    whole = abs(good.travelling_waves(BALANCED)[0])
    v = bad.phase_emfs()[1]
    # Fortescue: what the three axes, each with its current, give forward and backward
    forward = abs(1 + v * np.conj(BALANCED[1]) + 1) / 3
    backward = abs(1 + v * BALANCED[1] + BALANCED[2] ** 2) / 3
    assert (clockwise / whole, other / whole) == pytest.approx((forward, backward))
    assert 0 < other < clockwise < whole


@pytest.mark.parametrize(("shift", "forward", "backward"), [(0, 1.0, 0.0), (1, 2 / 3, 1 / 3)])
def test_a_phase_started_a_belt_too_early(shift, forward, backward):
    """V at 60 and W at 120 degrees behind U instead of 120 and 240: forward (1 + 1/_60 + 1/_120)/3 = 2/3, backward
    (1 + 1/_180 + 1/_0)/3 = 1/3 (arithmetic)."""
    plan = Winding(12, 2)
    winding = LaidWinding(plan)
    for phase, belt in zip(PHASES, (0, 2 - shift, 4 - 2 * shift), strict=True):
        for slot in (2 * belt, 2 * belt + 1):
            winding = winding.with_coil(phase, slot, (slot + 6) % 12)
    clockwise, other = (abs(wave) for wave in winding.travelling_waves(BALANCED))
    whole = abs(plan.travelling_waves(BALANCED)[0])
    assert (clockwise / whole, other / whole) == pytest.approx((forward, backward), abs=1e-12)
    lag = np.degrees(-np.angle(winding.phase_emfs() / winding.phase_emfs()[0])) % 360
    assert lag == pytest.approx([0, 120 - 60 * shift, 240 - 120 * shift])
    assert winding.right == (shift == 0)


def test_parallel_paths_that_are_equal_and_such_that_are_not():
    """24 slots, 4 poles: its two groups are alike. 12 slots, 2 poles: the two coils of its one group stand 30 degrees apart, and
    between them is 2 sin 15 = 0.518 of a coil's EMF (arithmetic)."""
    four = LaidWinding(Winding(24, 4), Winding(24, 4).coils, paths=2)
    assert [four.circulating_voltage(phase) for phase in PHASES] == pytest.approx([0, 0, 0], abs=1e-12)
    two = LaidWinding(Winding(12, 2), Winding(12, 2).coils, paths=2)
    assert two.circulating_voltage("U") == pytest.approx(2 * np.sin(np.radians(15)) / np.cos(np.radians(15)))
    assert two.mmf(AROUND, (1, 0, -1)) == pytest.approx(Winding(12, 2).mmf(AROUND, (1, 0, -1)) / 2)
    # what is driven round them, by the loop of the two paths: the difference over both impedances
    currents = circulating_currents([10, 10j], 0.5 + 1j)
    assert currents == pytest.approx([(10 - 10j) / (1 + 2j), -(10 - 10j) / (1 + 2j)])
    with pytest.raises(ValueError, match="impedance must be a finite number"):
        circulating_currents([1, 2], 0)


@pytest.mark.parametrize(("slots", "poles", "pitch", "layers"), PLANS)
def test_the_current_passes_every_coil_of_a_phase_once_each_from_start_to_finish(slots, poles, pitch, layers):
    winding = right(Winding(slots, poles, 1, pitch, layers))
    for phase in PHASES:
        (path,) = winding.connections(phase)
        assert sorted(each.coil for each in path) == [n for n, coil in enumerate(winding.coils) if coil.phase == phase]
        for each in path:
            assert winding.conductors[each.start, PHASES.index(phase)] > 0 > winding.conductors[each.finish, PHASES.index(phase)]


def test_what_does_not_fit_is_said_in_a_sentence_and_changes_nothing():
    winding = LaidWinding(Winding(12, 2)).with_coil("U", 0, 6)
    with pytest.raises(ValueError, match=r"A coil spans 6 slots here: from slot 2 it goes to slot 8, not to slot 7\."):
        winding.with_coil("U", 1, 6)
    with pytest.raises(ValueError, match=r"Slots 1 and 7 are full: a coil needs two free places\."):
        winding.with_coil("V", 6, 0)
    full = winding.with_coil("U", 1, 7)
    with pytest.raises(ValueError, match="Phase U has all its 2 coils"):
        full.with_coil("U", 2, 8)
    assert full.next_right("U") is None and full.without_coil(0).coils == (Coil("U", 1, 7),)
    with pytest.raises(ValueError, match="No coil is laid yet"):
        LaidWinding(Winding(12, 2)).without_coil()
    with pytest.raises(ValueError, match="paths must divide the 3 coils of a phase evenly, not be 2"):
        LaidWinding(Winding(18, 2), paths=2)
    with pytest.raises(ValueError, match="start must be a slot from 0 to 11"):
        winding.with_coil("U", 12, 6)
    with pytest.raises(ValueError, match="from slot 1 it goes to slot 6 or 20, not to slot 7"):
        LaidWinding(Winding(24, 4, coil_pitch=5, layers=2)).with_coil("U", 0, 6)

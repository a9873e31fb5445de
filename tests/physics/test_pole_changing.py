"""Pole-changing windings: their pole numbers from the MMF itself, from the field of wires, and the trade's speeds."""

from functools import partial

import magpylib
import numpy as np
import pytest

from physics.pole_changing import FourSpeedWinding, TappedWinding
from physics.windings import Winding
from physics.windings.coils_in_slots import BALANCED, ConnectedCoils

# slots, lower number of poles
TAPPED = [(12, 2), (24, 2), (36, 2), (24, 4), (48, 4), (72, 4), (36, 6), (72, 6), (48, 8)]


def net_currents(coils, angle):
    return coils.slot_currents(np.real(BALANCED * np.exp(1j * angle)))


def field_in_the_gap(coils, angle, at):
    """Radial field of long straight wires in the slots, by magpylib, at angles `at` on a circle inside the bore."""
    wires = [
        magpylib.current.Polyline(current=current, vertices=[(x, y, -100), (x, y, 100)])
        for current, x, y in zip(net_currents(coils, angle), np.cos(coils.slot_angles), np.sin(coils.slot_angles), strict=True)
        if abs(current) > 1e-12
    ]
    outward = np.column_stack([np.cos(at), np.sin(at), np.zeros_like(at)])
    return np.sum(magpylib.getB(wires, 0.8 * outward, sumup=True) * outward, axis=1)


@pytest.mark.parametrize(("slots", "poles"), TAPPED)
def test_one_tapped_winding_gives_two_speeds_two_to_one(slots, poles):
    """Common practice. The number of poles is looked for in the MMF of balanced currents, twice over."""
    winding = TappedWinding(slots, poles)
    assert winding.fast.poles == poles
    assert winding.slow.poles == 2 * poles
    assert winding.fast.synchronous_speed(50) == 2 * winding.slow.synchronous_speed(50)
    for connection in winding.speeds:
        round_the_bore = connection.coils.mmf(np.linspace(0, 2 * np.pi, 4096, endpoint=False), BALANCED.real)
        spectrum = np.abs(np.fft.rfft(round_the_bore))
        assert 2 * np.argmax(spectrum) == connection.poles


@pytest.mark.parametrize(("slots", "poles"), [(24, 2), (24, 4), (36, 6)])
def test_poles_counted_in_the_field_of_the_wires(slots, poles):
    at = np.linspace(0, 2 * np.pi, 721)
    for connection in TappedWinding(slots, poles).speeds:
        changes = np.count_nonzero(np.diff(np.sign(field_in_the_gap(connection.coils, 0.1, at))))
        assert changes == connection.poles


@pytest.mark.parametrize(("poles", "fast", "slow"), [(2, 3000, 1500), (4, 1500, 750), (6, 1000, 500)])
def test_speeds_of_the_catalogue_at_50_hz(poles, fast, slow):
    """Two-speed motors for 50 Hz as they are listed: 3000/1500, 1500/750, 1000/500 r/min (common practice)."""
    winding = TappedWinding(12 * poles, poles)
    assert 60 * winding.fast.synchronous_speed() == pytest.approx(fast, rel=1e-14)
    assert 60 * winding.slow.synchronous_speed() == pytest.approx(slow, rel=1e-14)
    assert 60 * winding.fast.synchronous_speed(60) == pytest.approx(1.2 * fast, rel=1e-14)


def test_two_tapped_windings_give_four_speeds():
    """Common practice: 12/8/6/4 poles give 500/750/1000/1500 r/min at 50 Hz."""
    speeds = FourSpeedWinding(72, (4, 6)).speeds
    assert [connection.poles for connection in speeds] == [12, 8, 6, 4]
    np.testing.assert_allclose([60 * connection.synchronous_speed() for connection in speeds], [500, 750, 1000, 1500], rtol=1e-14)
    assert all(connection.turns_clockwise for connection in speeds)
    # all of them lie in one and the same core
    for connection in speeds:
        np.testing.assert_array_equal(connection.coils.slot_angles, speeds[0].coils.slot_angles)


def wired(slots, poles, supplied, marking, angle):
    """Ampere conductors of every slot, toward the drive end, at an instant of the supply: from the terminals alone.

    The winder's lay, clockwise seen from the drive end (standard handbook scheme, Dahlander): belts of 60 degrees of the
    lower number of poles, each coil half a pole of it wide; what lies in every second belt is one half of a phase. From
    the end of a phase current goes through the first half to the tap and through the second to the star point, the same
    way round in both; from the tap it goes through the first half backwards. `marking`: (end, tap) of the three phases, in
    the order of their belts.
    """
    lines = {terminal: np.cos(angle - 2 * np.pi * n / 3) for n, terminal in enumerate(supplied)}
    width, pitch = slots // (3 * poles), slots // (2 * poles)
    currents = np.zeros(slots)
    for slot in range(slots):
        belt = slot // width % 6
        phase = (0, 2, 1)[belt % 3]  # belts in the order U, W, V, then U, W, V of the other half
        end, tap = marking[phase]
        second_half = belt % 2 == 0
        if end in lines:
            current = lines[end]
        else:
            current = lines[tap] / 2 * (1 if second_half else -1)
        currents[slot] += current
        currents[(slot + pitch) % slots] -= current
    return currents


def curve_round_the_bore(currents, angles, at):
    """MMF by Ampere's law, drawn outward: going counter-clockwise it falls past each slot by the current toward the drive end."""
    curve = np.array([-sum(current for current, place in zip(currents, angles, strict=True) if place % (2 * np.pi) < here) for here in at])
    return curve - curve.mean()


def turning(currents_at, angles):
    """Number of poles of the strongest wave, and its direction seen from the drive end, from two instants."""
    at = 2 * np.pi * (np.arange(1440) + 0.5) / 1440
    waves = []
    for angle in (0.3, 0.8):
        curve = curve_round_the_bore(currents_at(angle), angles, at)
        waves.append([np.sum(curve * np.exp(1j * pairs * at)) for pairs in range(1, 25)])
    pairs = 1 + int(np.argmax(np.abs(waves[0])))
    moved = np.angle(waves[1][pairs - 1] / waves[0][pairs - 1])
    assert abs(moved) == pytest.approx(0.5, abs=5e-3)  # with the currents, as finely as the curve is drawn
    return 2 * pairs, "counter-clockwise" if moved > 0 else "clockwise"


def test_terminals_by_iec():
    """IEC 60034-8: the figure before U, V, W rises with the speed; low speed on 1U, 1V, 1W with 2U, 2V, 2W open, high speed
    on 2U, 2V, 2W with 1U, 1V, 1W joined; letters in alphabetical order on L1, L2, L3 (memory)."""
    for slow, fast in (TappedWinding(24, 2).speeds, TappedWinding(36, 6).speeds):
        assert slow.supplied == ("1U", "1V", "1W") and slow.joined == () and slow.left_open == ("2U", "2V", "2W")
        assert fast.supplied == ("2U", "2V", "2W") and fast.joined == ("1U", "1V", "1W") and fast.left_open == ()
    four = FourSpeedWinding(72, (6, 4)).speeds
    assert [connection.supplied for connection in four] == [tuple(f"{n}{letter}" for letter in "UVW") for n in (1, 2, 3, 4)]


@pytest.mark.parametrize(("slots", "poles"), TAPPED)
def test_letters_in_alphabetical_order_turn_clockwise_at_each_speed(slots, poles):
    """IEC 60034-8, seen from the drive end. The currents are followed from the terminals through a lay of the test's own."""
    winding = TappedWinding(slots, poles)
    angles = -2 * np.pi * (np.arange(slots) + 0.25) / slots  # slots numbered clockwise
    for connection, expected in ((winding.slow, 2 * poles), (winding.fast, poles)):
        found, direction = turning(partial(wired, slots, poles, connection.supplied, winding.ends_and_taps), angles)
        assert (found, direction) == (expected, "clockwise")
        assert (connection.poles, connection.turns_clockwise) == (expected, True)
        # and the coils that the connection hands on are those
        for angle in (0.0, 1.1):
            np.testing.assert_allclose(
                net_currents(connection.coils, angle), wired(slots, poles, connection.supplied, winding.ends_and_taps, angle), atol=1e-12
            )
    # if end and tap of a phase had the same letter, one of the speeds would turn back
    alike = [(f"1{letter}", f"2{letter}") for letter in "UVW"]
    assert turning(lambda angle: wired(slots, poles, ("1U", "1V", "1W"), alike, angle), angles)[1] == "counter-clockwise"


@pytest.mark.parametrize(("slots", "poles"), [(24, 2), (48, 4)])
def test_two_leads_swapped_at_one_speed_turn_that_one_back(slots, poles):
    winding = TappedWinding(slots, poles)
    for swapped in (winding.slow.with_leads_exchanged("V", "W"), winding.slow.with_leads_exchanged("U", "V")):
        assert not swapped.turns_clockwise and sorted(swapped.supplied) == ["1U", "1V", "1W"]
        assert swapped.left_open == winding.slow.left_open
        found = turning(partial(wired, slots, poles, swapped.supplied, winding.ends_and_taps), winding.slow.coils.slot_angles)
        assert found == (2 * poles, "counter-clockwise")
    # and so say the momentary currents: from phase U's axis the peak moves on by their angle
    for connection, sense in [(winding.slow, -1), (winding.fast, -1), (winding.slow.with_leads_exchanged("V", "W"), 1)]:
        axis = connection.coils.field_axis(np.real(BALANCED * np.exp(0.2j)))
        assert axis == pytest.approx(0.2 * sense, abs=1e-12)


def test_half_the_coils_of_each_phase_are_reversed_and_none_is_moved():
    slow, fast = TappedWinding(24, 4).slow.coils, TappedWinding(24, 4).fast.coils
    for phase in "UVW":
        pairs = [(a, b) for a, b in zip(slow.coils, fast.coils, strict=True) if b.phase == phase]
        assert len(pairs) == 8
        assert all((a.go, a.back) == (b.go, b.back) for a, b in pairs)
        assert sum(a.sign == -b.sign for a, b in pairs) == 4
        assert all(a.sign == 1 for a, _ in pairs)  # consequent poles: all alike
        # fed at its end by another line than at its tap, but for U
        assert {a.phase for a, _ in pairs} == {{"U": "U", "V": "W", "W": "V"}[phase]}
    assert slow.slot_rows()[2] == "slot   3:  +V coil 3      -W coil 24"
    assert fast.slot_rows()[2] == "slot   3:  -W coil 3      +V coil 24"


def test_reversing_those_coils_one_by_one_leads_from_one_speed_to_the_other():
    coils = TappedWinding(24, 4).slow.with_leads_exchanged("V", "W").coils
    for number, (slow, fast) in enumerate(zip(coils.coils, TappedWinding(24, 4).fast.coils.coils, strict=True)):
        if slow.sign != fast.sign:
            coils = coils.with_coil_reversed(number)
    assert coils.slot_table == TappedWinding(24, 4).fast.coils.slot_table


def test_a_regular_winding_is_found_to_have_the_poles_it_was_laid_for():
    """The way of finding the poles, put to windings whose poles are known from their layout."""
    for regular in [Winding(12, 2), Winding(36, 4, coil_pitch=7, layers=2), Winding(54, 6), Winding(24, 8)]:
        found = ConnectedCoils(regular.slots, regular.coils, layers=regular.layers)
        assert found.poles == regular.poles


@pytest.mark.parametrize("slots_per_belt", [2, 4, 6])
def test_winding_factors_of_both_connections(slots_per_belt):
    """Slow: belts of 120 degrees and full pitch; fast: belts of 60 degrees and half pitch (standard handbook results;
    for many slots a belt they tend to 0.827 x 1 and 0.955 x 0.707, as in Pyrhonen's tables, memory)."""
    winding = TappedWinding(6 * slots_per_belt, 2)

    def distribution(belt_degrees):
        step = np.radians(belt_degrees / slots_per_belt)
        return np.sin(slots_per_belt * step / 2) / (slots_per_belt * np.sin(step / 2))

    np.testing.assert_allclose(np.abs(winding.slow.coils.slot_star()), distribution(120), rtol=1e-12)
    np.testing.assert_allclose(np.abs(winding.fast.coils.slot_star()), distribution(60) * np.sqrt(0.5), rtol=1e-12)
    assert abs(winding.slow.coils.slot_star()[0]) == pytest.approx(0.827, abs=0.04)
    assert abs(winding.fast.coils.slot_star()[0]) == pytest.approx(0.955 * 0.707, abs=0.01)


def test_in_parallel_a_coil_carries_half_the_line_current():
    winding = TappedWinding(24, 2, turns=6)
    assert np.abs(winding.slow.coils.slot_currents((1, 0, 0))).max() == 6
    assert np.abs(winding.fast.coils.slot_currents((1, 0, 0))).max() == 3


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: TappedWinding(18, 2), r"slots must be a multiple of 12 \(6 x 2 poles\), not 18"),
        (lambda: TappedWinding(24, 3), "poles must be an even whole number"),
        (lambda: TappedWinding(24, 2, turns=0), "turns"),
        (lambda: TappedWinding(24, 2, slow_terminals=2), "fast_terminals must be above slow_terminals"),
        (lambda: TappedWinding(24, 2, first_slot_angle=np.nan), "first_slot_angle"),
        (lambda: TappedWinding(24, 2).slow.with_leads_exchanged("U", "L1"), "second must be one of the phases U, V, W"),
        (lambda: FourSpeedWinding(72, (4, 8)), "poles must be two numbers, different and neither twice the other"),
        (lambda: FourSpeedWinding(72, (4, 4)), "poles must be two numbers"),
        (lambda: FourSpeedWinding(72, (4,)), "poles must be two numbers"),
        (lambda: FourSpeedWinding(48, (4, 6)), r"slots must be a multiple of 36 \(6 x 6 poles\), not 48"),
        (lambda: FourSpeedWinding(72, (4, 6), (1,)), "turns must be two numbers"),
        (lambda: TappedWinding(24, 2).fast.synchronous_speed(-1), "frequency"),
    ],
)
def test_bad_input_is_told_in_a_sentence(call, named):
    with pytest.raises(ValueError, match=named):
        call()

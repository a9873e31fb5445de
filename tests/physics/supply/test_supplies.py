"""Battery, mains, inverter, star and delta, a lost line, unbalance: against standards, handbooks and arithmetic."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from physics.supply import supplies
from physics.supply.star_delta import DeltaLoad, StarLoad
from physics.supply.supplies import Battery, Inverter, ThreePhaseSupply
from physics.windings import Winding

MAINS = ThreePhaseSupply(400, 50)

thorough = settings(max_examples=50, deadline=None)
impedance = st.builds(complex, st.floats(0.5, 50), st.floats(-0.4, 20))
phasor = st.builds(lambda size, angle: size * np.exp(1j * angle), st.floats(1, 500), st.floats(-np.pi, np.pi))


# Battery


def test_battery_on_a_load():
    """E = 12 V, r = 0.5 ohm on 5.5 ohm: 2 A and 11 V (Ohm's law, by arithmetic)."""
    battery = Battery(12, 0.5)
    assert battery.current(5.5) == 2
    assert battery.voltage(2) == 11
    assert battery.current(0) == 24
    assert battery.reversed().current(5.5) == -2
    np.testing.assert_allclose(battery.current(5.5, back_emf=[0, 6, 12, 15]), [2, 1, 0, -0.5])


@thorough
@given(emf=st.floats(1, 100), inside=st.floats(0.01, 10), outside=st.floats(0, 100))
def test_battery_gives_most_power_to_a_load_like_itself(emf, inside, outside):
    """Greatest power E^2 / (4 r) at R = r (Jacobi's theorem); and what the EMF gives is lost inside or given out."""
    battery = Battery(emf, inside)
    current = battery.current(outside)
    assert battery.voltage(current) * current <= emf**2 / (4 * inside) * (1 + 1e-12)
    assert battery.voltage(current) == pytest.approx(current * outside, abs=1e-9)
    assert battery.current(inside) * battery.voltage(battery.current(inside)) == pytest.approx(emf**2 / (4 * inside))


# Three phases


def test_line_and_phase_voltages_of_public_mains():
    """IEC 60038, standard voltages: 230/400 V, 400/690 V and 120/208 V, 277/480 V (phase / line)."""
    for phase, line in [(230, 400), (400, 690), (120, 208), (277, 480)]:
        assert ThreePhaseSupply(line, 50).phase_voltage == pytest.approx(phase, rel=5e-3)


def test_line_voltage_leads_phase_voltage_by_30_degrees():
    """Chapman, Electric Machinery Fundamentals, appendix on three-phase circuits (memory): V_ab = sqrt(3) V_an at +30
    degrees in the abc sequence, at -30 degrees in the acb sequence."""
    ratio = MAINS.line_phasors / MAINS.phase_phasors
    np.testing.assert_allclose(ratio, np.sqrt(3) * np.exp(1j * np.pi / 6), rtol=1e-14)
    ratio = MAINS.with_lines_exchanged("L2", "L3").line_phasors[0] / MAINS.phase_phasors[0]
    assert ratio == pytest.approx(np.sqrt(3) * np.exp(-1j * np.pi / 6), rel=1e-14)


def test_peaks_come_in_the_order_of_the_lines():
    time = np.arange(0, 0.02, 1e-5)
    voltages = MAINS.phase_voltages(time)
    np.testing.assert_allclose(time[voltages.argmax(axis=0)], [0, 0.02 / 3, 0.04 / 3], atol=1e-5)
    np.testing.assert_allclose(voltages.sum(axis=1), 0, atol=1e-10)
    np.testing.assert_allclose(np.sqrt((voltages**2).mean(axis=0)), 400 / np.sqrt(3), rtol=1e-12)


@pytest.mark.parametrize(
    ("lines", "sequence"),
    [
        ("L1 L2 L3", "positive"), ("L2 L3 L1", "positive"), ("L3 L1 L2", "positive"),
        ("L2 L1 L3", "negative"), ("L1 L3 L2", "negative"), ("L3 L2 L1", "negative"),
    ],
)  # fmt: skip
def test_sequence_is_what_the_voltages_and_the_field_do(lines, sequence):
    """IEC 60034-8: L1, L2, L3 in this order turns clockwise seen facing the drive end (the axis falls), and exchanging
    any two lines reverses it."""
    supply = ThreePhaseSupply(400, 50, tuple(lines.split()))
    assert supply.sequence == sequence
    zero, positive, negative = np.abs(supplies.symmetrical_components(supply.phase_phasors))
    present, absent = (positive, negative) if sequence == "positive" else (negative, positive)
    np.testing.assert_allclose([zero, absent, present], [0, 0, supply.phase_voltage], atol=1e-10)
    axes = np.unwrap(Winding(12, 2).field_axis(supply.phase_voltages([0, 1e-3])))
    assert (axes[1] < axes[0]) == (sequence == "positive")


# Star and delta


def test_star_takes_a_third_of_the_line_current_and_power_of_delta():
    """Standard handbook result, the ground of star-delta starting."""
    star, delta = (load(10 + 5j).on(MAINS.phase_phasors) for load in (StarLoad, DeltaLoad))
    np.testing.assert_allclose(star.line_currents * 3, delta.line_currents, rtol=1e-12)
    assert star.power * 3 == pytest.approx(delta.power, rel=1e-12)
    np.testing.assert_allclose(np.abs(delta.line_currents), np.sqrt(3) * np.abs(delta.phase_currents), rtol=1e-12)
    np.testing.assert_allclose(np.abs(delta.phase_voltages), np.sqrt(3) * np.abs(star.phase_voltages), rtol=1e-12)


def test_balanced_star_of_a_textbook():
    """Nilsson and Riedel, Electric Circuits, chapter on balanced circuits (memory, redone by arithmetic): 120 V a
    phase, 40 + j30 ohm a phase in all: 2.4 A, 36.87 degrees behind."""
    current = StarLoad(40 + 30j).on(ThreePhaseSupply(120 * np.sqrt(3), 60).phase_phasors).line_currents[0]
    assert abs(current) == pytest.approx(2.4, rel=1e-12)
    assert np.degrees(np.angle(current)) == pytest.approx(-36.87, abs=0.005)


@pytest.mark.parametrize("lost", ["U", "V", "W"])
def test_a_line_lost(lost):
    """By Ohm's law for resistance R: in star the two phases left share the line voltage, 0.866 of their voltage and
    half the power; in delta one phase keeps its current, two have half, and the lines left carry 0.866 of before."""
    index = "UVW".index(lost)
    whole, star = (StarLoad(10).on(MAINS.phase_phasors, line_lost=line) for line in (None, lost))
    np.testing.assert_allclose(np.sort(np.abs(star.phase_voltages)), [0, 200, 200], atol=1e-9)
    assert star.line_currents[index] == pytest.approx(0, abs=1e-12)
    assert np.max(np.abs(star.line_currents)) == pytest.approx(np.sqrt(3) / 2 * np.abs(whole.line_currents[0]))
    assert star.power == pytest.approx(whole.power / 2, abs=1e-9)

    whole, delta = (DeltaLoad(10).on(MAINS.phase_phasors, line_lost=line) for line in (None, lost))
    np.testing.assert_allclose(np.sort(np.abs(delta.phase_currents)), [20, 20, 40], rtol=1e-12)
    # the phase opposite the lost terminal keeps its lines
    assert np.argmax(np.abs(delta.phase_currents)) == (index + 1) % 3
    assert np.max(np.abs(delta.line_currents)) == pytest.approx(np.sqrt(3) / 2 * np.abs(whole.line_currents[0]))
    assert delta.line_currents[index] == pytest.approx(0, abs=1e-12)
    assert delta.power == pytest.approx(whole.power / 2, abs=1e-9)
    # with two lines, no turning field: both sequences of the line currents are of one size
    _, positive, negative = np.abs(supplies.symmetrical_components(delta.line_currents))
    assert positive == pytest.approx(negative, rel=1e-12)


lost_line = st.sampled_from([None, "U", "V", "W"])


@thorough
@given(
    sizes=st.tuples(*[st.floats(0.5, 50)] * 3),
    angle=st.floats(-1.5, 1.5),
    voltages=st.tuples(phasor, phasor, phasor),
    lost=lost_line,
)
def test_delta_and_its_star_take_the_same_from_the_lines(sizes, angle, voltages, lost):
    delta = DeltaLoad(tuple(np.array(sizes) * np.exp(1j * angle)))
    on_delta = delta.on(voltages, line_lost=lost)
    on_star = delta.star_equivalent().on(voltages, line_lost=lost)
    scale = np.abs(on_delta.line_currents).max() + 1
    np.testing.assert_allclose(on_star.line_currents, on_delta.line_currents, rtol=0, atol=1e-10 * scale)


@thorough
@given(
    load=st.sampled_from([StarLoad, DeltaLoad]),
    impedances=st.tuples(impedance, impedance, impedance),
    voltages=st.tuples(phasor, phasor, phasor),
    lost=lost_line,
)
def test_power_of_the_phases_is_power_from_the_lines(load, impedances, voltages, lost):
    state = load(impedances).on(voltages, line_lost=lost)
    scale = np.abs(state.line_currents).max() + 1
    assert abs(state.line_currents.sum()) <= 1e-10 * scale
    power_from_lines = np.sum(state.terminal_voltages * np.conj(state.line_currents))
    assert state.power == pytest.approx(power_from_lines, abs=1e-7 * scale)
    if lost is not None:
        assert abs(state.line_currents["UVW".index(lost)]) <= 1e-10 * scale


# Inverter


def test_constant_volts_per_hertz_below_base_and_constant_volts_above():
    """Common practice: a 400 V, 50 Hz motor gets 8 V/Hz up to 50 Hz, then 400 V; at 100 Hz half its flux."""
    inverter = Inverter(400, 50)
    np.testing.assert_allclose(inverter.voltage([0, 5, 25, 50, 75, 100]), [0, 40, 200, 400, 400, 400])
    np.testing.assert_allclose(inverter.flux([5, 25, 50, 100]), [1, 1, 1, 0.5])
    np.testing.assert_array_equal(inverter.weakens_field([25, 50, 51]), [False, False, True])
    assert inverter.supply(25) == ThreePhaseSupply(200, 25)


def test_boost_lifts_low_speed_and_nothing_else():
    inverter = Inverter(400, 50, boost=20)
    frequencies = np.linspace(0, 100, 201)
    lift = inverter.voltage(frequencies) - Inverter(400, 50).voltage(frequencies)
    assert lift[0] == 20
    assert np.all(np.diff(lift) <= 1e-12)
    np.testing.assert_allclose(lift[frequencies >= 50], 0)
    assert np.all(np.diff(inverter.flux(frequencies[1:])) <= 1e-12)


# Unbalance


def test_unbalance_of_nema():
    """NEMA MG 1, unbalanced voltages (memory, redone by arithmetic): 220, 215, 210 V: mean 215, deviation 5: 2.3 %."""
    assert supplies.unbalance_of_line_voltages([220, 215, 210]) == pytest.approx(0.023, abs=5e-4)


def unbalance_of_iec(line_voltages):
    """Unbalance factor from three line voltages alone, as IEC 61000-4-30 gives it (memory; after CIGRE)."""
    squares = np.square(line_voltages)
    beta = np.sum(squares**2) / np.sum(squares) ** 2
    root = np.sqrt(3 - 6 * beta)
    return np.sqrt((1 - root) / (1 + root))


@thorough
@given(negative=st.floats(0.01, 0.9), angle=st.floats(-np.pi, np.pi), zero=phasor)
def test_unbalance_factor_is_that_of_iec(negative, angle, zero):
    phases = supplies.from_symmetrical_components([zero, 230, 230 * negative * np.exp(1j * angle)])
    lines = phases - np.roll(phases, -1)
    assert supplies.unbalance_factor(phases) == pytest.approx(negative, rel=1e-9)
    assert supplies.unbalance_factor(lines) == pytest.approx(negative, rel=1e-9)
    assert unbalance_of_iec(np.abs(lines)) == pytest.approx(negative, rel=1e-6)


@thorough
@given(phasors=st.tuples(phasor, phasor, phasor))
def test_symmetrical_components_add_up_to_the_phasors(phasors):
    components = supplies.symmetrical_components(phasors)
    np.testing.assert_allclose(supplies.from_symmetrical_components(components), phasors, rtol=0, atol=1e-10)
    # Parseval: the powers of the components are the powers of the phases
    assert 3 * np.sum(np.abs(components) ** 2) == pytest.approx(np.sum(np.abs(phasors) ** 2), rel=1e-12)


def test_symmetrical_components_of_a_textbook():
    """Grainger and Stevenson, Power System Analysis, first example on symmetrical components (memory, redone by
    arithmetic): line c open, 10 A out through a and back through b: 5.78 A at -30 degrees positive sequence, 5.78 A at
    +30 degrees negative, no zero sequence."""
    zero, positive, negative = supplies.symmetrical_components([10, -10, 0])
    assert abs(zero) < 1e-14
    assert abs(positive) == pytest.approx(5.78, abs=0.01)
    assert np.degrees(np.angle(positive)) == pytest.approx(-30)
    assert abs(negative) == pytest.approx(5.78, abs=0.01)
    assert np.degrees(np.angle(negative)) == pytest.approx(30)


@thorough
@given(phasors=st.tuples(phasor, phasor, phasor))
def test_sequences_are_the_two_waves_of_the_field(phasors):
    """Fortescue's components in time are the waves round the bore: the positive sequence turns clockwise."""
    winding = Winding(24, 4)
    clockwise, counter_clockwise = winding.travelling_waves(phasors)
    _, positive, negative = supplies.symmetrical_components(phasors)
    of_one = 1.5 * winding.fundamental_amplitude((1, 0, 0))
    assert abs(clockwise) == pytest.approx(of_one * abs(positive), abs=1e-9)
    assert abs(counter_clockwise) == pytest.approx(of_one * abs(negative), abs=1e-9)


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: Battery(np.nan), "emf must be finite"),
        (lambda: Battery(12, -1), "internal_resistance must be 0 or more"),
        (lambda: Battery(12).current(0), "resistance must be 0 or more, and above 0"),
        (lambda: Battery(12, 1).current(-1), "resistance must be 0 or more"),
        (lambda: Battery(12, 1).voltage(np.inf), "current"),
        (lambda: ThreePhaseSupply(-400, 50), "line_voltage must be 0 or more"),
        (lambda: ThreePhaseSupply(400, -50), "frequency must be 0 or more"),
        (lambda: ThreePhaseSupply(400, 50, ("L1", "L1", "L3")), "lines must be L1, L2 and L3 in any order"),
        (lambda: MAINS.with_lines_exchanged("L1", "U"), "second must be one of the lines L1, L2, L3"),
        (lambda: MAINS.phase_voltages(np.nan), "time"),
        (lambda: Inverter(0, 50), "base_voltage must be greater than 0"),
        (lambda: Inverter(400, 0), "base_frequency"),
        (lambda: Inverter(400, 50, boost=400), "boost must be below the base voltage of 400 V"),
        (lambda: Inverter(400, 50, boost=-1), "boost"),
        (lambda: Inverter(400, 50, highest_frequency=40), "highest_frequency must be at least the base frequency"),
        (lambda: Inverter(400, 50).voltage(101), "frequency must be from 0 to 100 Hz"),
        (lambda: Inverter(400, 50).voltage(-1), "frequency"),
        (lambda: Inverter(400, 50).flux(0), "frequency must be greater than 0"),
        (lambda: StarLoad(0), "impedances must have a resistance of 0 or more and must not be 0"),
        (lambda: StarLoad(-1), "impedances"),
        (lambda: DeltaLoad((1 + 2j, 1 + 2j, 4)).star_equivalent(), "impedances must be nearer to each other"),
        (lambda: DeltaLoad((1, 2)), "impedances must be one number or three"),
        (lambda: StarLoad(1).on((1, 2)), "voltages must be three phasors"),
        (lambda: StarLoad(1).on((1, 2, 3), line_lost="L1"), 'line_lost must be None, "U", "V" or "W"'),
        (lambda: supplies.symmetrical_components([1, 2]), "phasors must have three values"),
        (lambda: supplies.unbalance_factor([0, 0, 0]), "phasors must have a positive sequence"),
        (lambda: supplies.unbalance_of_line_voltages([1, 0, 1]), "voltages must be three voltages above 0"),
    ],
)
def test_bad_input_is_told_in_a_sentence(call, named):
    with pytest.raises(ValueError, match=named):
        call()

"""An armature as generator and as motor, against handbook relations."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from physics.commutated import averages as armature_averages
from physics.commutated.armature import Armature
from physics.commutated.commutator import SlipRings
from physics.commutated.network import LoadResistor, OpenCircuit, Source
from physics.fields.pole_field import PoleField
from tests.physics.commutated.armatures import AROUND, NARROW, THREE_COILS, angles, armatures, narrow, quick


def test_slip_rings_bring_out_a_sine_that_reverses_twice_a_revolution():
    # standard result: the coil EMF of a two-pole machine makes one full cycle a revolution, so it reverses twice in it
    alternator = replace(THREE_COILS, coils=1, collector=SlipRings())
    voltage = alternator.state(AROUND, 40.0, OpenCircuit()).terminal_voltage
    peak = 2 * 20 * 0.3 * 0.05 * 0.03 * 40.0
    # brush 0 is joined to the beginning of the coil, whose EMF drives from beginning to end
    assert voltage == pytest.approx(peak * np.cos(AROUND), abs=1e-12)
    assert np.count_nonzero(np.diff(np.sign(np.append(voltage, voltage[0])))) == 2
    assert voltage.mean() == pytest.approx(0.0, abs=1e-12)
    assert np.sqrt((voltage**2).mean()) == pytest.approx(peak / np.sqrt(2))
    with_three = replace(THREE_COILS, collector=SlipRings()).state(AROUND, 40.0, OpenCircuit()).terminal_voltage
    assert with_three == pytest.approx(voltage, abs=1e-12)


def test_one_coil_on_two_segments_gives_the_sine_rectified():
    armature = narrow(1)
    state = armature.state(AROUND, 40.0, OpenCircuit())
    peak = 2 * 20 * 0.3 * 0.05 * 0.03 * 40.0
    assert state.terminal_voltage == pytest.approx(peak * np.abs(np.cos(AROUND)), abs=1e-9)
    assert np.count_nonzero(np.diff(np.sign(state.coil_emfs[:, 0]))) == 2


def test_ripple_of_one_coil_falls_to_zero_where_each_brush_touches_both_segments():
    # US Navy NEETS module 5 (NAVEDTRA 14177), chapter 1, effects of commutation: the brush voltage keeps its polarity,
    # varies twice a revolution between zero and its maximum, and is zero where each brush touches both segments
    split_ring = replace(THREE_COILS, coils=1)
    state = split_ring.state(AROUND, 40.0, OpenCircuit())
    assert state.terminal_voltage.min() > -1e-12
    both = state.short_circuited.all(axis=(1, 2))
    middle = np.abs(np.cos(AROUND)) < 1e-3
    assert both[middle].all()
    assert state.terminal_voltage[middle] == pytest.approx(0.0, abs=2e-3)
    above_half = state.terminal_voltage > state.terminal_voltage.max() / 2
    assert np.count_nonzero(np.diff(np.append(above_half, above_half[0]))) == 4


@pytest.mark.parametrize("coils, ripples", [(3, 6), (4, 4), (5, 10), (8, 8)])
def test_ripple_by_number_of_coils(coils, ripples):
    # sum of the cosines in one path (arithmetic): an odd number of segments ripples twice as often as there are
    # segments, an even one as often; least to greatest cos(pi / ripples); three coils: six times, between cos 30 and 1
    armature = narrow(coils)
    voltage = armature.state(AROUND, 40.0, OpenCircuit()).terminal_voltage
    one_coil = 2 * 20 * 0.3 * 0.05 * 0.03 * 40.0
    peak = one_coil / (2 * np.sin(np.pi / (2 * coils)) if coils % 2 else np.sin(np.pi / coils))
    assert voltage.max() == pytest.approx(peak, rel=1e-5)
    assert voltage.min() == pytest.approx(peak * np.cos(np.pi / ripples), rel=3e-3, abs=2e-3 * peak)
    spectrum = np.abs(np.fft.rfft(voltage))
    assert spectrum[1:60].argmax() + 1 == ripples


def test_two_coils_at_right_angles_give_the_greater_of_two_rectified_sines():
    """Two loops at right angles on four segments: the voltage is that of the loop nearer to the poles, so it never falls below
    cos 45 degrees of its peak and ripples four times a revolution (every handbook's second picture of a generator); its mean is
    2 sqrt(2) / pi of the peak (arithmetic)."""
    armature = narrow(2)
    state = armature.state(AROUND, 40.0, OpenCircuit())
    peak = 2 * 20 * 0.3 * 0.05 * 0.03 * 40.0
    assert state.terminal_voltage == pytest.approx(peak * np.maximum(np.abs(np.cos(AROUND)), np.abs(np.sin(AROUND))), abs=2e-3 * peak)
    assert np.abs(np.fft.rfft(state.terminal_voltage))[1:60].argmax() + 1 == 4
    assert state.terminal_voltage.mean() == pytest.approx(peak * 2 * np.sqrt(2) / np.pi, rel=1e-3)
    loaded = armature.state(AROUND, 40.0, LoadResistor(3.0))
    alone = np.abs(np.abs(np.cos(AROUND)) - np.abs(np.sin(AROUND))) > 0.02
    first = np.abs(np.cos(AROUND)) > np.abs(np.sin(AROUND))
    assert loaded.coil_currents[alone & first, 1] == pytest.approx(0.0, abs=1e-9), "the coil that no brush touches carries nothing"
    assert loaded.coil_currents[alone & ~first, 0] == pytest.approx(0.0, abs=1e-9)
    assert np.abs(loaded.coil_currents[alone]).max(axis=-1) == pytest.approx(np.abs(loaded.terminal_current[alone]), rel=1e-7)
    assert np.all(loaded.torque <= 0) and not loaded.short_circuited.any()


def test_of_two_coils_on_slip_rings_the_second_is_joined_to_nothing():
    state = replace(THREE_COILS, coils=2, collector=SlipRings()).state(AROUND, 40.0, LoadResistor(1.5))
    assert state.coil_currents[:, 1] == pytest.approx(0.0, abs=1e-9)
    # its own 1.5 ohm, the load's 1.5 and two contacts of 0.05
    assert state.coil_currents[:, 0] == pytest.approx(state.coil_emfs[:, 0] / 3.1, abs=1e-9)


def test_average_emf_of_a_handbook_generator():
    # worked examples 1.2 and 1.1 of a textbook chapter on D.C. generators (in the public collection Nemotron-CC-Math,
    # which does not name the book): 4 poles, lap, 42 coils of 8 turns, 21 mWb a pole, 1120 r/min: 263.424 V; 440
    # conductors, 0.07 Wb, 900 r/min: 462 V. E = P Phi Z n / a, where poles and paths of a lap winding cancel, so that a
    # two-pole winding of as many conductors has the same. Arithmetic redone
    for coils, turns, flux, revolutions, volts in [(42, 8, 0.021, 1120, 263.424), (22, 10, 0.07, 900, 462.0)]:
        length, radius = 0.2, 0.1
        shape = PoleField(1.0, np.radians(126))
        field = PoleField(flux / shape.pole_flux(radius, length), shape.pole_arc)
        armature = Armature(field, turns, length, radius, 0.05, coils=coils, collector=NARROW)
        assert field.pole_flux(radius, length) == pytest.approx(flux)
        speed = revolutions * 2 * np.pi / 60
        assert armature_averages.emf_constant(armature, 1201) * speed == pytest.approx(volts, rel=5e-4)


def test_average_emf_and_torque_of_a_handbook_motor():
    # B. S. Guru and H. R. Hiziroglu, Electric Machinery and Transformers, exercise on a permanent-magnet motor
    # (memory of the source; arithmetic redone): 2 poles, 18 loops of 3 turns, radius 4 cm, length 15 cm, 0.74 T over
    # the whole pole: K = Z P / (2 pi a) = 17.19, 13.95 mWb, 200 rad/s on 48 V without load, 2.4 N m at 10 A
    flux = 0.74 * np.pi * 0.04 * 0.15
    shape = PoleField(1.0, np.radians(150))
    field = PoleField(flux / shape.pole_flux(0.04, 0.15), shape.pole_arc)
    motor = Armature(field, 3, 0.15, 0.04, 0.2, coils=18, collector=NARROW)
    constant = armature_averages.emf_constant(motor, 1201)
    assert flux == pytest.approx(13.95e-3, rel=1e-3)
    assert constant == pytest.approx(17.19 * flux, rel=5e-4)
    assert 48.0 / constant == pytest.approx(200.2, rel=1e-3)
    assert 10.0 * constant == pytest.approx(2.398, rel=1e-3)


@pytest.mark.parametrize("coils, paths", [(1, 1), (3, 2), (4, 2), (7, 2)])
def test_emf_equation_for_any_number_of_coils(coils, paths):
    # E = P Phi Z n / a with P = 2: per rad/s Z Phi / (pi a), whatever the shape of an even field
    armature = narrow(coils)
    flux = armature.field.pole_flux(0.03, 0.05)
    expected = 2 * 20 * coils * flux / (np.pi * paths)
    assert armature_averages.emf_constant(armature, 3601) == pytest.approx(expected, rel=1e-3)


def test_brushes_out_of_the_neutral_axis_lose_emf():
    # in a cosine field the average falls with the cosine of the shift (arithmetic)
    shifted = [replace(narrow(15), collector=replace(NARROW, brush_shift=shift)) for shift in (0.0, 0.5, np.pi / 2)]
    constants = [armature_averages.emf_constant(armature, 3601) for armature in shifted]
    assert constants[1] == pytest.approx(constants[0] * np.cos(0.5), rel=1e-3)
    assert constants[2] == pytest.approx(0.0, abs=1e-3 * constants[0])


@quick
@given(armatures, angles)
def test_volts_per_speed_are_newton_metres_per_ampere_at_every_position(armature, angle):
    # reciprocity of the linear circuit: a known property of every direct-current machine, here at each instant
    emf = armature.state(angle, 1.0, OpenCircuit()).terminal_voltage
    fed = armature.state(angle, 0.0, Source(10.0, 1.0))
    assert fed.torque == pytest.approx(emf * fed.terminal_current, rel=1e-9, abs=1e-9)


def test_a_loaded_generator_gives_power_brakes_and_drops_in_voltage():
    open_circuit = THREE_COILS.state(AROUND, 100.0, OpenCircuit())
    loaded = THREE_COILS.state(AROUND, 100.0, LoadResistor(5.0))
    assert np.all(open_circuit.terminal_voltage > 0.0)
    assert np.all(loaded.terminal_voltage < open_circuit.terminal_voltage)
    assert np.all(loaded.terminal_voltage > 0.0)
    assert np.all(loaded.terminal_current < 0.0)
    assert np.all(loaded.torque < 0.0)
    assert -loaded.terminal_power == pytest.approx(5.0 * loaded.terminal_current**2)
    backward = THREE_COILS.state(-AROUND, -100.0, OpenCircuit())
    assert backward.terminal_voltage == pytest.approx(-open_circuit.terminal_voltage)


# --- as motor -------------------------------------------------------------------------------------------------------


def test_exchanging_armature_or_field_connections_reverses_it_and_both_does_not():
    # common practice, no source: armature or field connections exchanged reverse a direct-current machine, both do not
    supply = Source(6.0, 0.5)
    reversed_field = replace(THREE_COILS, field=THREE_COILS.field.reversed())
    torque = THREE_COILS.state(AROUND, 0.0, supply).torque
    assert np.all(torque > 0.0)
    assert THREE_COILS.state(AROUND, 0.0, supply.reversed()).torque == pytest.approx(-torque)
    assert reversed_field.state(AROUND, 0.0, supply).torque == pytest.approx(-torque)
    assert reversed_field.state(AROUND, 0.0, supply.reversed()).torque == pytest.approx(torque)
    settled = armature_averages.settled_speed(THREE_COILS, supply)
    assert armature_averages.settled_speed(reversed_field, supply) == pytest.approx(-settled)
    assert armature_averages.settled_speed(reversed_field, supply.reversed()) == pytest.approx(settled)


@quick
@given(armatures, angles, st.floats(-24.0, 24.0), st.floats(0.0, 5.0))
def test_reversals_hold_for_any_machine(armature, angle, emf, resistance):
    turned = replace(armature, field=armature.field.reversed())
    torque = armature.state(angle, 0.0, Source(emf, resistance)).torque
    tolerance = {"rel": 1e-9, "abs": 1e-9}
    assert armature.state(angle, 0.0, Source(-emf, resistance)).torque == pytest.approx(-torque, **tolerance)
    assert turned.state(angle, 0.0, Source(emf, resistance)).torque == pytest.approx(-torque, **tolerance)
    assert turned.state(angle, 0.0, Source(-emf, resistance)).torque == pytest.approx(torque, **tolerance)


def test_three_coils_start_from_every_position_and_one_coil_does_not():
    # common practice, no source: two segments have a dead centre, three are the fewest that always start
    three = THREE_COILS.state(AROUND, 0.0, Source(6.0)).torque
    one = replace(THREE_COILS, coils=1).state(AROUND, 0.0, Source(6.0)).torque
    assert three.min() > 0.7 * three.max()
    assert one.min() == pytest.approx(0.0, abs=1e-3 * one.max())


def test_the_back_emf_limits_the_current_of_a_motor():
    supply = Source(6.0, 0.5)
    standing = armature_averages.averages(THREE_COILS, 0.0, supply)
    running = armature_averages.averages(THREE_COILS, 200.0, supply)
    assert running.terminal_current < standing.terminal_current
    constant = armature_averages.emf_constant(THREE_COILS)
    whole_circuit = armature_averages.resistance(THREE_COILS) + 0.5
    # I = (E - k w) / R and T = k I, the averages; pulsation leaves half a percent or so
    assert standing.terminal_current == pytest.approx(6.0 / whole_circuit, rel=5e-3)
    assert running.terminal_current == pytest.approx((6.0 - constant * 200.0) / whole_circuit, rel=2e-2)
    assert standing.torque == pytest.approx(constant * standing.terminal_current, rel=5e-3)
    assert armature_averages.settled_speed(THREE_COILS, supply) == pytest.approx(6.0 / constant, rel=1e-2)


def test_averages_are_those_of_the_states_round_a_revolution():
    turn = 2 * np.pi * np.arange(720) / 720
    for speed in (-50.0, 0.0, 120.0):
        states = THREE_COILS.state(turn, speed, Source(6.0, 0.5))
        average = armature_averages.averages(THREE_COILS, speed, Source(6.0, 0.5))
        for name in ("terminal_voltage", "terminal_current", "torque"):
            assert getattr(average, name) == pytest.approx(getattr(states, name).mean())
    many = armature_averages.averages(THREE_COILS, [[0.0], [120.0]], Source(6.0, 0.5))
    assert many.torque.shape == (2, 1)

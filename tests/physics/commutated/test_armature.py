"""The commutated armature at one position: EMF, circuit, force and torque."""

from dataclasses import fields, replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from physics.commutated import averages as armature_averages
from physics.commutated.armature import Armature
from physics.commutated.commutator import Commutator, SlipRings
from physics.commutated.network import LoadResistor, OpenCircuit, Source, coil_ends
from physics.fields.pole_field import PoleField

quick = settings(max_examples=50, deadline=None)
angles = st.floats(-10.0, 10.0)
speeds = st.floats(-400.0, 400.0)
circuits = st.one_of(
    st.builds(Source, st.floats(-24.0, 24.0), st.floats(0.0, 5.0)),
    st.builds(LoadResistor, st.floats(0.0, 50.0)),
    st.just(OpenCircuit()),
)
collectors = st.one_of(
    st.builds(
        Commutator,
        brush_width=st.floats(0.05, 2.0),
        insulation=st.floats(0.0, 0.2),
        contact_resistance=st.floats(0.01, 1.0),
        lead=st.floats(-2.0, 2.0),
        brush_shift=st.floats(-0.5, 0.5),
    ),
    st.builds(SlipRings, contact_resistance=st.floats(0.01, 1.0)),
)
armatures = st.builds(
    Armature,
    field=st.builds(PoleField, st.floats(-1.0, 1.0), st.floats(0.0, 3.0), st.floats(-4.0, 4.0)),
    turns=st.integers(1, 50),
    length=st.floats(0.02, 0.2),
    radius=st.floats(0.01, 0.1),
    coil_resistance=st.floats(0.05, 10.0),
    coils=st.integers(1, 9),
    collector=collectors,
)

# three coils in an even field, brushes so narrow that only at six places of a revolution two segments are bridged
NARROW = Commutator(brush_width=0.002, insulation=0.001, contact_resistance=1e-3)
THREE_COILS = Armature(PoleField(0.3), turns=20, length=0.05, radius=0.03, coil_resistance=1.5)
AROUND = 2 * np.pi * (np.arange(3600) + 0.5) / 3600


def narrow(coils, **changes):
    return replace(THREE_COILS, coils=coils, collector=NARROW, **changes)


# --- field, EMF and force -------------------------------------------------------------------------------------------


@quick
@given(armatures, angles, speeds, circuits)
def test_force_and_emf_of_each_side_are_the_vector_products(armature, angle, speed, circuit):
    # F = I L x B and E = (v x B) . L in three dimensions, L along +z; v = omega x r
    state = armature.state(angle, speed, circuit)
    outward = np.stack([np.cos(state.side_angles), np.sin(state.side_angles), np.zeros((armature.coils, 2))], -1)
    field = state.side_fields[..., None] * outward
    along = np.array([0.0, 0.0, armature.length])
    force = armature.turns * state.side_currents[..., None] * np.cross(along, field)
    velocity = np.cross([0.0, 0.0, speed], armature.radius * outward)
    torque = np.cross(armature.radius * outward, force)[..., 2]
    scale = 1e-12 * (1.0 + np.abs(torque).sum())
    assert state.torque == pytest.approx(torque.sum(), abs=scale)
    assert state.side_forces * armature.radius == pytest.approx(torque, abs=scale)
    assert state.side_emfs == pytest.approx(armature.turns * np.cross(velocity, field) @ along, abs=1e-10)


@quick
@given(armatures, angles, st.floats(1.0, 400.0))
def test_emf_is_minus_the_rate_of_change_of_flux_linkage(armature, angle, speed):
    turn = 1e-5
    before, after = armature.flux_linkages(np.array([angle - turn, angle + turn]))
    emf = armature.state(angle, speed, OpenCircuit()).coil_emfs
    largest = 2 * armature.turns * armature.length * armature.radius * abs(armature.field.flux_density) * speed
    assert emf == pytest.approx(-(after - before) / (2 * turn) * speed, abs=1e-7 * largest + 1e-15)


def test_a_rotating_loop_between_curved_pole_faces():
    # S. J. Chapman, Electric Machinery Fundamentals, the first DC example (memory; arithmetic redone): r 0.5 m,
    # l 1 m, 0.25 T under the faces, 0.3 ohm, 120 V: 400 A at the start, 480 rad/s without load; with 10 N m against
    # the motion 40 A, 108 V, 432 rad/s; with 7.5 N m in the direction of motion 30 A back, 129 V, 516 rad/s
    contact = 1e-9
    loop = Armature(
        PoleField(0.25, pole_arc=np.radians(140)),
        turns=1,
        length=1.0,
        radius=0.5,
        coil_resistance=0.3 - 2 * contact,
        coils=1,
        collector=Commutator(contact_resistance=contact),
    )
    standing = loop.state(0.2, 0.0, Source(120.0))
    assert standing.terminal_current == pytest.approx(400.0, rel=1e-6)
    assert standing.torque == pytest.approx(2 * 0.5 * 1.0 * 0.25 * 400.0, rel=1e-6)
    free, motor, generator = (loop.state(0.2, speed, Source(120.0)) for speed in (480.0, 432.0, 516.0))
    assert free.terminal_current == pytest.approx(0.0, abs=1e-5)
    assert (motor.terminal_current, motor.torque) == pytest.approx((40.0, 10.0), rel=1e-6)
    assert motor.coil_emfs == pytest.approx(-108.0)
    assert (generator.terminal_current, generator.torque) == pytest.approx((-30.0, -7.5), rel=1e-6)
    assert generator.coil_emfs == pytest.approx(-129.0)


# --- the circuit ----------------------------------------------------------------------------------------------------


@quick
@given(armatures, angles, speeds, circuits)
def test_every_law_of_the_circuit_holds(armature, angle, speed, circuit):
    state = armature.state(angle, speed, circuit)
    begins, ends = coil_ends(armature.coils)
    potential, coil_currents, contacts = state.segment_potentials, state.coil_currents, state.contact_currents
    volts = 1e-10 * (1.0 + abs(circuit.emf) + np.abs(state.coil_emfs).sum())
    amperes = volts / min(armature.coil_resistance, armature.collector.contact_resistance)

    # a coil: its EMF and the potential across it drive its current through its resistance
    across = potential[begins] - potential[ends]
    assert armature.coil_resistance * coil_currents == pytest.approx(across + state.coil_emfs, abs=volts)
    # a segment: what comes in from the brushes goes out through the coils
    through_coils = np.zeros(potential.size)
    np.add.at(through_coils, begins, coil_currents)
    np.add.at(through_coils, ends, -coil_currents)
    assert contacts.sum(axis=0) == pytest.approx(through_coils, abs=amperes)
    # a contact: in proportion to the area and the difference of potential
    brush = np.array([state.terminal_voltage, 0.0])
    by_area = state.contact_shares * (brush[:, None] - potential) / armature.collector.contact_resistance
    assert contacts == pytest.approx(by_area, abs=amperes)
    # the brushes and the outside
    assert contacts.sum(axis=1) == pytest.approx(state.terminal_current * np.array([1.0, -1.0]), abs=amperes)
    if isinstance(circuit, OpenCircuit):
        assert state.terminal_current == pytest.approx(0.0, abs=amperes)
    else:
        drop = circuit.resistance * state.terminal_current
        assert state.terminal_voltage + drop == pytest.approx(circuit.emf, abs=volts + circuit.resistance * amperes)


@quick
@given(armatures, angles, speeds, circuits)
def test_power_adds_up(armature, angle, speed, circuit):
    state = armature.state(angle, speed, circuit)
    parts = np.array([state.copper_loss, state.contact_loss, state.mechanical_power, -state.terminal_power])
    emf_power = (state.side_emfs * state.side_currents).sum()
    # an open circuit leaves currents of rounding size, so the power of a short circuit counts a little as well
    volts = abs(circuit.emf) + np.abs(state.coil_emfs).sum()
    shorted = volts**2 / min(armature.coil_resistance, armature.collector.contact_resistance)
    tolerance = 1e-12 * (np.abs(parts).sum() + 1e-3 * shorted) + 1e-30
    assert abs(parts.sum()) < tolerance
    assert abs(emf_power + state.torque * state.speed) < tolerance
    assert abs(state.magnetic_power) < tolerance


@quick
@given(armatures, angles, speeds, st.floats(-24.0, 24.0))
def test_a_segment_pitch_further_on_the_next_coil_has_taken_the_place(armature, angle, speed, emf):
    if isinstance(armature.collector, SlipRings) or armature.coils < 3:
        armature = replace(armature, coils=3, collector=Commutator())
    here = armature.state(angle, speed, Source(emf, 0.5))
    there = armature.state(angle + 2 * np.pi / armature.coils, speed, Source(emf, 0.5))
    scale = 1e-8 * (1.0 + np.abs(here.coil_currents).max())
    assert np.roll(there.coil_currents, 1) == pytest.approx(here.coil_currents, abs=scale)
    assert there.torque == pytest.approx(here.torque, rel=1e-7, abs=scale)


@quick
@given(armatures, angles, speeds, circuits)
def test_many_angles_at_once_are_the_same_as_one_by_one(armature, angle, speed, circuit):
    batch = armature.state([[angle, angle + 0.1, angle + 0.2]], [[speed], [speed + 1.0]], circuit)
    single = armature.state(angle + 0.2, speed + 1.0, circuit)
    for field in fields(single):
        one = np.asarray(getattr(single, field.name), dtype=float)
        assert np.asarray(getattr(batch, field.name), dtype=float)[1, 2] == pytest.approx(one, rel=1e-9, abs=1e-9)


def test_resistance_from_brush_to_brush_of_a_closed_three_coil_winding():
    # worked by hand: one coil beside two in series, 2 R / 3, between two full contacts; while a brush bridges a coil
    # it is two coils side by side, R / 2, between one full contact and what the insulation leaves of the other
    armature = replace(THREE_COILS, collector=Commutator(np.radians(20), np.radians(4), contact_resistance=0.05))
    between = armature.state(0.0, 0.0, Source(1.0))
    bridging = armature.state(np.radians(30), 0.0, Source(1.0))
    assert 1.0 / between.terminal_current == pytest.approx(2 * 1.5 / 3 + 2 * 0.05)
    assert 1.0 / bridging.terminal_current == pytest.approx(1.5 / 2 + 0.05 + 0.05 * 20 / 16)
    assert not between.short_circuited.any()
    # the first side of the third coil has come to 270 degrees, where the positive brush stands
    assert bridging.short_circuited.tolist() == [[False, False, True], [False, False, False]]


def test_a_bridged_coil_lies_in_the_neutral_axis_and_its_current_changes_over_there():
    # twelve coils at standstill: each half of the winding carries half the current, in opposite sense, and a coil's
    # current goes from one to the other while a brush bridges its segments
    armature = replace(narrow(12), collector=Commutator(np.radians(12), np.radians(2), contact_resistance=0.05))
    turn = np.radians(np.linspace(-130.0, 50.0, 721))
    state = armature.state(turn, 0.0, Source(6.0, 20.0))
    share = state.coil_currents[:, 0] / state.terminal_current
    bridged = state.short_circuited[:, :, 0].any(axis=1)
    first_side = np.degrees(state.side_angles[:, 0, 0])
    assert np.abs(first_side[bridged] + 90.0).max() <= 5.0
    assert np.all(share[first_side < -96] < -0.45)
    assert np.all(share[first_side > -84] > 0.45)
    near = np.abs(first_side + 90.0) <= 5.0
    assert np.all(np.diff(share[near]) > 0.0)
    assert share[np.abs(first_side + 90.0).argmin()] == pytest.approx(0.0, abs=1e-3)


def test_a_sharper_change_of_field_drives_current_round_a_closed_winding_of_odd_coils():
    # the EMFs of three coils a third of a turn apart leave the third harmonic of the field over; four cancel in pairs
    flat = replace(THREE_COILS, field=PoleField(0.3, np.radians(140)))
    three, four = (replace(flat, coils=coils).state(AROUND, 50.0, OpenCircuit()) for coils in (3, 4))
    even = THREE_COILS.state(AROUND, 50.0, OpenCircuit())
    assert np.abs(three.coil_emfs.sum(axis=1)).max() > 0.1 * np.abs(three.coil_emfs).max()
    assert np.abs(four.coil_emfs.sum(axis=1)).max() < 1e-12
    assert np.abs(even.coil_emfs.sum(axis=1)).max() < 1e-12
    clear = ~three.short_circuited.any(axis=(1, 2))
    assert three.coil_currents[clear].mean(axis=1) == pytest.approx(three.coil_emfs[clear].mean(axis=1) / 1.5)


def test_two_segments_under_wide_brushes_short_circuit_the_supply():
    # at the change-over both brushes bridge both segments: the supply sees its own resistance and the contacts alone
    split_ring = replace(THREE_COILS, coils=1, collector=Commutator(np.radians(20), np.radians(4), 0.05))
    changing = split_ring.state(np.pi / 2, 0.0, Source(6.0, 0.5))
    running = split_ring.state(0.0, 0.0, Source(6.0, 0.5))
    assert running.terminal_current == pytest.approx(6.0 / (0.5 + 1.5 + 2 * 0.05))
    assert changing.terminal_current == pytest.approx(6.0 / (0.5 + 2 * 0.05 * 20 / 16))
    assert changing.short_circuited.all()
    assert changing.coil_currents == pytest.approx(0.0, abs=1e-12)
    assert changing.torque == pytest.approx(0.0, abs=1e-12)


def test_brushes_on_insulation_carry_nothing_and_have_a_potential_all_the_same():
    dead = Commutator(np.radians(8), np.radians(12))
    split_ring = replace(THREE_COILS, coils=1, collector=dead)
    for circuit in (OpenCircuit(), LoadResistor(0.0), LoadResistor(10.0), Source(6.0, 0.5), Source(6.0)):
        state = split_ring.state(np.pi / 2 + 0.01, 50.0, circuit)
        assert state.terminal_current == pytest.approx(0.0, abs=1e-9)
        assert state.terminal_voltage == pytest.approx(circuit.emf, abs=1e-9)
        assert np.isfinite(state.segment_potentials).all()


# --- as generator ---------------------------------------------------------------------------------------------------


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


# --- wrong input ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "change, named",
    [
        ({"turns": 0}, "turns"),
        ({"turns": 2.5}, "turns"),
        ({"length": -0.1}, "length"),
        ({"radius": 0.0}, "radius"),
        ({"coil_resistance": 0.0}, "coil_resistance"),
        ({"coils": 0}, "coils"),
        ({"coils": np.nan}, "coils"),
        ({"coil_inductance": -1e-3}, "coil_inductance"),
    ],
)
def test_wrong_data_are_named(change, named):
    with pytest.raises(ValueError, match=named):
        replace(THREE_COILS, **change)


def test_wrong_positions_speeds_and_circuits_are_named():
    with pytest.raises(ValueError, match="angle"):
        THREE_COILS.state(np.nan, 0.0, OpenCircuit())
    with pytest.raises(ValueError, match="speed"):
        THREE_COILS.state(0.0, "fast", OpenCircuit())
    with pytest.raises(ValueError, match="emf"):
        Source(np.inf)
    with pytest.raises(ValueError, match="resistance"):
        Source(6.0, -1.0)
    with pytest.raises(ValueError, match="resistance"):
        LoadResistor(-1.0)
    with pytest.raises(ValueError, match="positions"):
        armature_averages.emf_constant(THREE_COILS, 0)
    with pytest.raises(ValueError, match="brush_width"):
        armature_averages.resistance(replace(THREE_COILS, coils=1, collector=Commutator(0.1, 0.2)))
    with pytest.raises(ValueError, match="load_torque"):
        armature_averages.settled_speed(THREE_COILS, Source(6.0), np.nan)
    with pytest.raises(ValueError, match="field"):
        armature_averages.settled_speed(replace(THREE_COILS, field=PoleField(0.0)), Source(6.0))

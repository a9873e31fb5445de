"""The commutated armature at one position: EMF, circuit, force and torque."""

from dataclasses import fields, replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from physics.commutated import averages as armature_averages
from physics.commutated.armature import Armature
from physics.commutated.commutator import Commutator, SlipRings
from physics.commutated.network import LoadResistor, OpenCircuit, Source, coil_ends
from physics.fields.pole_field import PoleField
from tests.physics.commutated.armatures import AROUND, THREE_COILS, angles, armatures, circuits, narrow, quick, speeds


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

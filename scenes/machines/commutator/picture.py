"""The commutator machine on the bench: what is made once, and where everything is at one instant."""

from __future__ import annotations

from functools import cache

import numpy as np

from physics.commutated.network import coil_ends
from physics.fields.block_magnets import block_magnet_field
from physics.fields.flux_lines import between_faces
from scenes.machines.commutator.machine import (
    BATTERY_RESISTANCE,
    BRUSHES,
    COIL_RESISTANCE,
    COMMUTATORS,
    GAP,
    LAMP,
    LARGEST_FIELD,
    LENGTH,
    RADIUS,
    SIDES,
    TURNS,
    armature_of,
)
from scenes.machines.commutator.snapshot import Snapshot
from scenes.scene.story import Look
from visual.machines.commutator.bench import CommutatorBench
from visual.machines.commutator.machine import CommutatorMachine
from visual.machines.commutator.shapes import CHEVRONS, POLE

NEWTON_SCALES = (0.1, 0.05, 0.02, 0.01)  # m per newton; the longest that the strongest force allows is used
METRES_PER_TESLA = 0.05 / LARGEST_FIELD
METRES_PER_SPEED = 0.06  # m for each m/s
LARGEST_CURRENT, LEAST_FLOW = 1.5, 0.03  # A in a coil, at which dots and crosses are full size, and above which marks flow
CLOSE = "commutator"  # the view in which there is no room for hand and arrows
VOLTMETER, AMMETER = 3.0, 5.0  # V and A at full scale


FLOW_SPEED = 0.06  # m/s, as it is shown, of the marks on a coil that carries 1 A
MIDWAY = [(0.0, y, side * 0.046) for y in (-0.033, -0.011, 0.011, 0.033) for side in (-1, 1)]  # m, where flux lines pass the shaft's plane


def build(host) -> CommutatorBench:
    windings = {coils: winding(coils) for coils in COMMUTATORS}
    machine = CommutatorMachine(RADIUS, LENGTH, GAP, windings, COMMUTATORS[1].brush_edges(0.0), BRUSHES, _lines())
    drawn = CommutatorBench(SIDES, machine, LENGTH, METRES_PER_TESLA, METRES_PER_SPEED)
    drawn.name_for_tests(host)
    return drawn


def winding(coils: int) -> tuple:
    """Of so many coils at rotor angle 0, rad: where their first sides lie, the edges of the segments, and where the first coil is
    joined to them."""
    commutator, (begins, ends) = COMMUTATORS[coils], coil_ends(coils)
    middles = commutator.segment_centres(0.0, coils)
    first_sides = armature_of(0.2, "commutator", coils).side_angles(0.0)[:, 0]
    return first_sides, commutator.segment_edges(0.0, coils), (middles[begins[0]], middles[ends[0]])


@cache
def _lines() -> list[np.ndarray]:
    """Flux lines of a field to the right, each (n, 3), from face to face, before and behind the armature."""
    size, far = POLE.tolist(), (GAP + POLE[0]) / 2

    def field(points):
        return sum(block_magnet_field(points, [side * far, 0, 0], size, [1.0, 0, 0]) for side in (-1, 1))

    return between_faces(field, MIDWAY, 0, GAP / 2)


def place(drawn: CommutatorBench, now: Snapshot, look: Look) -> None:
    setup, machine, shown = now.setup, drawn.machine, look.reveals_answer
    drawn.look_from(look.view.side, look.view.name == CLOSE)
    machine.wind(setup.coils)
    machine.turn(now.angle)
    machine.magnetise(setup.flux_density)
    machine.collect_with(setup.collector)
    machine.drive(setup.by_hand, setup.brake > 0)
    machine.winding.bridge(now.machine.short_circuited.any(axis=0) & (not setup.rings))
    # the battery's currents are given, those of a generator are part of the answer
    told = now.machine.coil_currents * (np.abs(now.machine.coil_currents) > LEAST_FLOW) * (shown or not setup.by_hand)
    machine.winding.carry(told, np.array(now.passed) * FLOW_SPEED / CHEVRONS)
    reveals = shown and abs(now.volts) > 1e-6
    # which terminal of the battery is positive is given; what a generator makes is part of the answer
    machine.sign(now.volts if reveals else 0.0 if setup.by_hand else setup.battery)
    middling = np.full(len(now.machine.segment_potentials), 0.5)
    shares = (now.machine.segment_potentials - min(now.volts, 0.0)) / abs(now.volts) if reveals else middling
    machine.winding.charge(shares, reveals)
    _place_sides(drawn, now, look)
    if setup.by_hand:
        drawn.load(setup.lamp, now.lamp_light if shown else 0.0)
        drawn.measure(now.volts if shown else 0.0, VOLTMETER, "V")
    else:
        drawn.feed(setup.battery)
        drawn.measure(now.current if shown else 0.0, AMMETER, "A")


def _place_sides(drawn: CommutatorBench, now: Snapshot, look: Look) -> None:
    """Every coil side with its current, force and EMF, and field, motion and hand at the side shown."""
    setup, shown, pointed = now.setup, look.reveals_answer, now.shown
    drawn.scale(metres_per_newton(now), metres_per_volt(now))
    middles, forces = now.places.tolist(), (shown * now.forces).tolist()  # plain numbers are faster than small arrays
    for name, at in SIDES.items():
        if name not in setup.sides:
            drawn.leave_out(name)
            continue
        # the battery's currents are given, those of a generator are part of the answer
        current = float(now.machine.side_currents[at]) if shown or not setup.by_hand else 0.0
        emf = float(now.machine.side_emfs[at]) if shown and (setup.by_hand or at == pointed.at) else 0.0
        coil, part = at
        drawn.put_side(name, middles[coil][part], current / LARGEST_CURRENT, forces[coil][part], emf)
    motion = now.velocities[pointed.at] if setup.by_hand else np.zeros(3)
    drawn.point_out(pointed.name, now.places[pointed.at], now.fields[pointed.at], motion)
    drawn.hold_out(hand_of(now, look), now.places[pointed.at])


def hand_of(now: Snapshot, look: Look):
    return look.held(now.shown.hand if now.shown.live and look.view.name != CLOSE else None)


def metres_per_volt(now: Snapshot) -> float:
    return 0.05 if now.setup.by_hand else 0.02


def metres_per_newton(now: Snapshot) -> float:
    """The scale for the strongest force of this set-up: the motor's at standstill, or the generator's with the lamp connected."""
    setup = now.setup
    volts = 2 * setup.cranked * TURNS * LENGTH * RADIUS * setup.flux_density if setup.by_hand else setup.battery
    ohms = LAMP.resistance(LAMP.temperature) / 2 if setup.by_hand else BATTERY_RESISTANCE
    strongest = TURNS * LENGTH * abs(setup.flux_density * volts) / (ohms + 2 / 3 * COIL_RESISTANCE)
    return next((scale for scale in NEWTON_SCALES if scale * strongest < 0.1), NEWTON_SCALES[-1])


def scales(now: Snapshot) -> dict[str, str]:
    return {
        "B": f"10 mm is {0.01 / METRES_PER_TESLA * 1000:.0f} mT",
        "F": f"10 mm is {0.01 / metres_per_newton(now):.2f} N",
        "e": f"10 mm is {0.01 / metres_per_volt(now):.2f} V",
        "v": f"10 mm is {0.01 / METRES_PER_SPEED:.2f} m/s",
    }

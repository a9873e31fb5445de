"""The alternator on the bench: what is made once, and where everything is at one instant."""

from __future__ import annotations

import numpy as np

from physics.windings.coils_in_slots import PHASES
from scenes.machines.alternator.snapshot import LAMP_POWER, LARGEST_FIELD, SHAPE, Snapshot, alternator_of
from scenes.scene import common_controls, phases
from scenes.scene.story import Look
from visual.machines.alternator_drawn import AlternatorDrawn

METRES_PER_TESLA = 0.05 / LARGEST_FIELD
METRES_PER_SPEED = 0.05 / 20.0  # m for each m/s
WORTH_A_HAND = 0.03  # of the largest EMF


def build(host) -> AlternatorDrawn:
    machines = {}
    for poles in common_controls.POLES:
        winding = alternator_of(poles, 1.0).winding
        machines[poles] = (winding.slot_angles, [(PHASES.index(coil.phase), coil.go, coil.back) for coil in winding.coils])
    drawn = AlternatorDrawn(machines, METRES_PER_TESLA, METRES_PER_SPEED)
    for poles, machine in drawn.machines.items():
        host.name(f"alternator-wheel-{poles}", machine.wheel.drawn)
        for phase, coil in zip(PHASES, machine.coils, strict=True):
            host.name(f"alternator-coil-{poles}-{phase}", coil.drawn)
        for slot, mark in enumerate(machine.marks):
            host.name(f"alternator-mark-{poles}-{slot}", mark.solid.drawn)
    for phase, lamp in zip(PHASES, drawn.lamps, strict=True):
        host.name(f"alternator-lamp-{phase}", lamp.bulb.drawn)
    for name, part in (("field", drawn.field.shaft), ("motion", drawn.motion.shaft), ("right-hand", drawn.hand.solid)):
        host.name(f"alternator-{name}", part.drawn)
    return drawn


def place(drawn: AlternatorDrawn, now: Snapshot, look: Look) -> None:
    setup, side, shown = now.setup, look.view.side, look.reveals_answer
    region = phases.REGIONS[setup.colours]
    drawn.show(setup.poles)
    drawn.colour(region.colours, region.inks)
    machine = drawn.machine
    machine.seen_from(side)
    wound = [phase in setup.wound for phase in PHASES]
    machine.wind(wound)
    drawn.terminals.wind(setup.coils, side)
    # a north pole is where flux leaves the magnet: one pole further on when the magnet is reversed
    machine.turn(now.angle + (2 * np.pi / setup.poles if setup.flux_density < 0 else 0.0), side, bool(setup.flux_density))
    generated = bool(shown and now.peak)
    machine.drive(np.sign(now.machine.winding.conductors) @ now.emfs / now.peak if generated else np.zeros(len(machine.marks)))
    drawn.connect([there and setup.lamps for there in wound])
    drawn.light(now.on_lamps.lamp_power / LAMP_POWER if shown else np.zeros(3))
    at = now.at_u
    hand = look.held(at.hand if now.peak and abs(now.emfs[0]) > WORTH_A_HAND * now.peak else None)
    pointed = look.hands  # without a hand nobody says what the arrows are, and that of the coil's motion would pass for the magnet's
    place_of_u = at.place + [0, 0, side * (SHAPE.half_length + 0.016)]
    drawn.point_out(place_of_u, at.field * pointed, at.motion * (pointed and bool(setup.flux_density)), hand)

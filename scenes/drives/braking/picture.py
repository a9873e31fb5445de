"""A braking: what is made once, and what is closed, flows, turns and heats at one instant."""

from __future__ import annotations

import math

from scenes.drives.braking.motors import BY_INVERTER, DIRECT, FREQUENCY, LINES, RATED_CURRENT, RATED_TORQUE, SWAPPED, SYNCHRONOUS
from scenes.drives.braking.shaft import RAMP
from scenes.drives.braking.snapshot import Snapshot
from scenes.scene.story import Look
from visual import palette
from visual.braking.contactors import BrakingCircuit
from visual.braking.energies import EnergyBars
from visual.one_phase.machine import OnePhaseMachine
from visual.solid.solids import Group

METRES_PER_TESLA = 0.062
FULL_TORQUE, FULL_CURRENT = 3.0, 4.0  # of rated: the longest arrow, and in times the rated peak, the largest mark
SHEET, SIZE = (0.262, 0.0, 0.0), (0.27, 0.205)
BARS_AT, PER_ENERGY, LEAST, MOST = (0.445, 0.090, 0.0), 0.0125, -2.2, 8.2
HEADING = "× energy at start"
CLOSED = {LINES: "K1", SWAPPED: "K2", DIRECT: "K3"}
NAMES = (
    ("in motion", palette.MOTION),
    ("rotor heat", palette.EMF),
    ("stator heat", palette.CURRENT),
    ("to the load", palette.STEEL),
    ("from the lines", palette.FIELD),
)


class Drawn(Group):
    """The machine, beside it its main circuit, and below that where the energy goes."""

    def __init__(self):
        super().__init__()
        self.machine = self.add(OnePhaseMachine(METRES_PER_TESLA))
        self.circuit = self.add(BrakingCircuit(SHEET, SIZE))
        self.bars = self.add(EnergyBars(BARS_AT, NAMES, PER_ENERGY, LEAST, MOST, HEADING))


def build(host) -> Drawn:
    drawn = Drawn()
    host.name("braking-rotor", drawn.machine.rotor.drawn)
    for name, contacts in drawn.circuit.made.items():
        host.name(f"braking-{name}", contacts.drawn)
    for (name, _), bar in zip(NAMES, drawn.bars.bars, strict=True):
        host.name(f"braking-{name.replace(' ', '-')}", bar.drawn)
    return drawn


def place(drawn: Drawn, now: Snapshot, look: Look) -> None:
    side, shown, machine = look.view.side, look.reveals_answer, drawn.machine
    near = look.view.name  # from near, one of the three alone
    machine.visible = drawn.visible and near in ("drive-end", "machine")
    drawn.circuit.visible, drawn.bars.visible = (drawn.visible and near in ("drive-end", own) for own in ("circuit", "energy"))
    full = FULL_CURRENT * math.sqrt(2) * RATED_CURRENT
    machine.carry("UVW", {letter: flows / full for letter, flows in zip("UVW", now.flowing, strict=True)}, side)
    machine.turn(now.rotor_angle, side)
    field = now.field * math.cos(now.field_angle), now.field * math.sin(now.field_angle)
    machine.show_fields((0.0, 0.0), (0.0, 0.0), field, False, side)
    torque = -float(now.running.torque) if shown else 0.0
    machine.show_shaft(torque, FULL_TORQUE * RATED_TORQUE, 60 * now.shaft_speed, 60 * SYNCHRONOUS, side)
    closed = frozenset((CLOSED[now.supplied],)) if now.supplied in CLOSED else frozenset()
    frequency = FREQUENCY if now.supplied != BY_INVERTER else now.ratio * FREQUENCY
    drawn.circuit.show(closed, now.setup.method == RAMP, f"inverter {frequency:.0f} Hz")
    drawn.bars.show(now.energies, shown)


def scales(now: Snapshot) -> dict[str, str]:
    return {"B": f"10 mm is {0.01 / METRES_PER_TESLA:.2f} T"}

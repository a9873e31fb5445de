"""The commutator machine's settings, how it moves, and everything physical at one instant."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from physics.commutated.armature import Armature, ArmatureState
from physics.commutated.block_poles import BlockPoles
from physics.commutated.filament import ROOM
from physics.commutated.motion import step
from physics.commutated.network import LoadResistor, OpenCircuit, OutsideCircuit, Source
from physics.directions import Hand, cross, left_hand, right_hand
from physics.shaft.shafts import DrivenShaft, FreeShaft
from scenes.machines.commutator.machine import (
    AT_FIRST,
    BATTERY_RESISTANCE,
    FRICTION,
    INERTIA,
    LAMP,
    LENGTH,
    RADIUS,
    SIDES,
    TURNS,
    armature_of,
)

AXIS = np.array([0.0, 0.0, 1.0])  # of the shaft, toward the drive end: positive is counter-clockwise looking at that end
LARGEST_TURN, LONGEST_SUBSTEP = np.radians(15.0), 0.003  # rad and s: finer than the eye follows
LONGEST_WITH_LAMP = 0.005  # s for which a filament's temperature is as good as constant
WORTH_A_HAND = 0.01  # N of force on a coil side, or V of EMF in it
NEAR, SLOW = 0.03, 1e-3  # of the torque that is left at standstill; rad/s: what counts as no longer speeding up, and as standing
AROUND = np.linspace(0, 2 * np.pi, 72, endpoint=False)
NEAR_A_POLE = "n-pole"  # in place of a coil side: the one nearest to the N pole


@dataclass(frozen=True)
class Setup:
    """The settings. by_hand: cranked as a generator, else a motor on a battery. battery: V, + on A1. brake: N m. cranked: rad/s
    counter-clockwise looking at the drive end. lamp: across the brushes of the generator. flux_density: T to the right at a
    coil side facing a pole. collector: "commutator" or "slip-rings". coils: 1 to 3. side: the coil side shown, or "n-pole".
    slowness: how many times slower than real time it is shown."""

    by_hand: bool
    battery: float
    brake: float
    cranked: float
    lamp: bool
    flux_density: float
    collector: str
    coils: int
    side: str
    slowness: float

    @classmethod
    def of(cls, settings: dict) -> Setup:
        return cls(
            by_hand=settings["mode"] == "hand",
            battery=settings["battery"],
            brake=settings["brake"],
            cranked=-settings["crank"] * 2 * np.pi / 60 + 0.0,
            lamp=settings["load"] == "lamp",
            flux_density=settings["field"] / 1000,
            collector=settings["collector"],
            coils=int(settings["coils"]),
            side=_side_that_is_there(settings["side"], int(settings["coils"])),
            slowness=float(settings["slow"]),
        )

    @property
    def rings(self) -> bool:
        return self.collector == "slip-rings"

    @property
    def sides(self) -> list[str]:
        """The names of the coil sides that there are."""
        return list(SIDES)[: 2 * self.coils]

    @property
    def armature(self) -> Armature:
        return armature_of(self.flux_density, self.collector, self.coils)

    @property
    def shaft(self) -> DrivenShaft | FreeShaft:
        return DrivenShaft(self.cranked) if self.by_hand else FreeShaft(INERTIA, FRICTION + self.brake)

    @property
    def north(self) -> np.ndarray:
        """From the shaft to the N pole, unit vector (3,); to the left where there is no field."""
        return np.array([1.0 if self.flux_density < 0 else -1.0, 0.0, 0.0])

    def circuit(self, filament: float) -> OutsideCircuit:
        """What is connected between the brushes; `filament`: K of the lamp's."""
        if not self.by_hand:
            return Source(self.battery, BATTERY_RESISTANCE)
        return LoadResistor(LAMP.resistance(filament)) if self.lamp else OpenCircuit()


def _side_that_is_there(side: str, coils: int) -> str:
    """The coil side shown; that at the N pole where the machine has no such coil."""
    return side if side == NEAR_A_POLE or SIDES[side][0] < coils else NEAR_A_POLE


@dataclass(frozen=True)
class Running:
    """angle, speed: rad and rad/s, counter-clockwise looking at the drive end; filament: K; time: s since the start; passed:
    coulombs, times the slowness, that have gone through each coil from its beginning to its end."""

    angle: float = AT_FIRST
    speed: float = 0.0
    filament: float = ROOM
    time: float = 0.0
    passed: tuple[float, ...] = (0.0, 0.0, 0.0)


def begin(setup: Setup) -> Running:
    """A motor at rest; a generator that has been cranked for a while, so that its lamp is warm."""
    if not setup.by_hand:
        return Running()
    return Running(speed=setup.cranked, filament=_warm(setup.armature, setup.cranked) if setup.lamp else ROOM)


def advance(setup: Setup, state: Running, seconds: float) -> Running:
    shining = setup.by_hand and setup.lamp
    pieces = max(1, int(np.ceil(seconds / LONGEST_WITH_LAMP))) if shining else 1
    filament, passed = state.filament, np.array(state.passed)
    machine = _machine(setup, state)
    for _ in range(pieces):
        machine = step(setup.armature, machine, setup.shaft, setup.circuit(filament), seconds / pieces, LARGEST_TURN, LONGEST_SUBSTEP)
        filament = LAMP.warmed(filament, float(machine.terminal_voltage) if shining else 0.0, seconds / pieces)
        passed[: setup.coils] += machine.coil_currents * setup.slowness * seconds / pieces
    return Running(float(machine.angle), float(machine.speed), filament, state.time + seconds, tuple(passed.tolist()))


@lru_cache(maxsize=4)
def _machine(setup: Setup, state: Running) -> ArmatureState:
    """The armature at the rotor's present position and speed: observed for a picture, it is where the next piece of time begins."""
    return setup.armature.state(state.angle, setup.cranked if setup.by_hand else state.speed, setup.circuit(state.filament))


@lru_cache(maxsize=64)
def _warm(armature: Armature, cranked: float) -> float:
    """The filament temperature, K, at which the lamp radiates the power it takes, averaged over a revolution.

    At each angle the armature is a source with a resistance in series (Thevenin), known from its brushes open and with the lamp cold.
    """
    cold = LAMP.resistance(ROOM)
    opened, loaded = (armature.state(AROUND, cranked, each).terminal_voltage for each in (OpenCircuit(), LoadResistor(cold)))
    inside = cold * np.where(opened, opened / np.where(loaded, loaded, 1.0) - 1.0, 0.0)
    low, high = ROOM, 2 * LAMP.temperature
    for _ in range(24):
        middle = (low + high) / 2
        lamp = LAMP.resistance(middle)
        gets = float(np.mean((opened * lamp / (lamp + inside)) ** 2)) / lamp
        low, high = (middle, high) if gets > LAMP.radiated(middle) else (low, middle)
    return low


def settled(setup: Setup, speed: float) -> bool:
    """Whether a motor speeds up or slows down no more, by its torque over a revolution, or stands and cannot start."""

    def surplus(at: float) -> float:
        torque = setup.armature.state(AROUND, at, setup.circuit(ROOM)).torque
        return abs(float(np.mean(torque))) - setup.brake - FRICTION

    at_rest = surplus(0.0)
    return abs(surplus(speed)) <= NEAR * abs(at_rest) or at_rest <= 0 and abs(speed) < SLOW


@dataclass(frozen=True)
class Snapshot:
    """Everything physical at one instant.

    machine                        the armature's state; angle, speed, torque counter-clockwise looking at the drive end
    passed                         coulombs, times the slowness, that have gone through each coil
    places, fields, velocities     (coils, 2, 3) of the coil sides: m, T (the mean along the side), m/s
    forces                         (coils, 2, 3) N, on all turns of a side
    picked_off                     V, A1 above A2: EMF of the coils between open-circuited brushes
    current                        A, from the battery into A1 or out of A1 through the lamp
    lamp_resistance, lamp_power, lamp_light     ohm; W taken; share of its rated power that its filament radiates
    shown                          the coil side shown
    """

    setup: Setup
    time: float
    passed: tuple[float, ...]
    machine: ArmatureState
    places: np.ndarray
    fields: np.ndarray
    velocities: np.ndarray
    forces: np.ndarray
    picked_off: float
    current: float
    lamp_resistance: float
    lamp_power: float
    lamp_light: float
    shown: Shown

    @property
    def angle(self) -> float:
        return float(self.machine.angle)

    @property
    def speed(self) -> float:
        return float(self.machine.speed)

    @property
    def torque(self) -> float:
        return float(self.machine.torque)

    @property
    def volts(self) -> float:
        """V at the brushes, A1 above A2."""
        return float(self.machine.terminal_voltage)


@dataclass(frozen=True)
class Shown:
    """The coil side shown: its name, its index in arrays (coil, side), the hand that goes with it, and whether there is
    enough of a force or EMF for that hand."""

    name: str
    at: tuple[int, int]
    hand: Hand
    live: bool


def observe(setup: Setup, state: Running) -> Snapshot:
    """The snapshot at the rotor's present position."""
    armature, machine = setup.armature, _machine(setup, state)
    assert isinstance(armature.field, BlockPoles)  # the magnets that are drawn
    angles = machine.side_angles
    outward = np.stack([np.cos(angles), np.sin(angles), np.zeros_like(angles)], axis=-1)
    onward = cross(AXIS, outward)
    fields = machine.side_fields[..., np.newaxis] * outward + armature.field.tangential(angles)[..., np.newaxis] * onward
    velocities = RADIUS * machine.speed * onward
    forces = TURNS * LENGTH * cross(machine.side_currents[..., np.newaxis] * AXIS, fields)  # F = N i l x B
    lamp_resistance = LAMP.resistance(state.filament)
    lit = setup.by_hand and setup.lamp
    return Snapshot(
        setup=setup,
        time=state.time,
        passed=state.passed[: setup.coils],
        machine=machine,
        places=RADIUS * outward,
        fields=fields,
        velocities=velocities,
        forces=forces,
        picked_off=float(armature.state(state.angle, machine.speed, OpenCircuit()).terminal_voltage),
        current=float(-machine.terminal_current if setup.by_hand else machine.terminal_current) + 0.0,
        lamp_resistance=lamp_resistance,
        lamp_power=float(machine.terminal_voltage) ** 2 / lamp_resistance if lit else 0.0,
        lamp_light=LAMP.radiated(state.filament) / LAMP.power if lit else 0.0,
        shown=_shown(setup, machine, outward, fields, velocities, forces),
    )


def _shown(setup: Setup, machine: ArmatureState, outward, fields, velocities, forces) -> Shown:
    name = setup.side
    if name == NEAR_A_POLE:
        name = max(setup.sides, key=lambda each: float(outward[SIDES[each]] @ setup.north))
    at = SIDES[name]
    if setup.by_hand:
        hand, live = right_hand(fields[at], velocities[at]), abs(float(machine.side_emfs[at])) > WORTH_A_HAND
    else:
        hand = left_hand(fields[at], float(machine.side_currents[at]) * AXIS)
        live = float(np.linalg.norm(forces[at])) > WORTH_A_HAND
    return Shown(name, at, hand, live and hand.shows_something)

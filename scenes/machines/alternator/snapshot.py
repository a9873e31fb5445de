"""The alternator's settings, how it moves, and everything physical at one instant."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from physics.directions import Hand, right_hand
from physics.speeds import frequency_of_speed
from physics.synchronous.alternator import Alternator, LoadedAlternator, RotorMagnet
from physics.windings import Winding
from physics.windings.coils_in_slots import PHASES
from visual.machines.stator import StatorShape

SHAPE = StatorShape()
TURNS = 48  # of a phase, all its coils in series, whatever the poles: so the voltage follows speed and field alone
RESISTANCE = 1.0  # ohm of a phase
LAMP_VOLTAGE, LAMP_POWER = 40.0, 25.0  # V, W, at full brightness
LAMP_RESISTANCE = LAMP_VOLTAGE**2 / LAMP_POWER  # ohm
AT_FIRST = np.radians(40.0)  # rad, position of the middle of a north pole at the start
LARGEST_FIELD = 0.5  # T: the drawn teeth, four tenths of a slot pitch, then carry 1.25 T and the yoke of two poles 1.6 T
LARGEST_SPEED = 3000.0  # r/min


@dataclass(frozen=True)
class Setup:
    """The settings. coils: how many phases are wound; speed: rev/s, counter-clockwise looking at the drive end; flux_density:
    T at the middle of a pole, negative with the magnet reversed; lamps: whether each phase feeds one."""

    coils: int
    speed: float
    poles: int
    flux_density: float
    lamps: bool
    colours: str

    @classmethod
    def of(cls, settings: dict) -> Setup:
        return cls(
            coils=int(settings["coils"]),
            speed=-settings["speed"] / 60 + 0.0,
            poles=int(settings["poles"]),
            flux_density=settings["field"] / 1000,
            lamps=settings["load"] == "lamp",
            colours=settings["colours"],
        )

    @property
    def wound(self) -> tuple[str, ...]:
        return PHASES[: self.coils]


@dataclass(frozen=True)
class Turned:
    """The position of the middle of a north pole, rad, counter-clockwise looking at the drive end; whole turns included."""

    angle: float = AT_FIRST


def begin(setup: Setup) -> Turned:
    return Turned()


def advance(setup: Setup, state: Turned, seconds: float) -> Turned:
    return replace(state, angle=state.angle + 2 * np.pi * setup.speed * seconds)


@dataclass(frozen=True)
class Snapshot:
    """Everything physical at one instant. Voltages, currents: of U, V, W, shape (3,); a current is positive where its EMF
    drives it. torque: N m on the magnet, counter-clockwise looking at the drive end."""

    setup: Setup
    machine: Alternator
    on_lamps: LoadedAlternator
    angle: float
    peak: float
    frequency: float
    emfs: np.ndarray
    currents: np.ndarray
    torque: float
    at_u: AtU

    @property
    def rms(self) -> float:
        """EMF of a phase, V r.m.s."""
        return self.peak / np.sqrt(2)

    @property
    def turned(self) -> float:
        """Degrees turned since the last whole turn."""
        return float(np.degrees(abs(self.angle - AT_FIRST)) % 360)

    @property
    def order(self) -> str:
        """The phases in the order in which they peak; "none" if nothing is generated."""
        if not self.peak:
            return "none"
        if self.setup.coils < 3:
            return "-".join(self.setup.wound)
        return "U-W-V" if self.setup.speed > 0 else "U-V-W"


@dataclass(frozen=True)
class AtU:
    """What the right hand shows: the place of coil side +U, the field there in T, and the wire's velocity relative to the
    magnet, m/s; each (3,)."""

    place: np.ndarray
    field: np.ndarray
    motion: np.ndarray
    hand: Hand


@lru_cache(maxsize=64)
def alternator_of(poles: int, flux_density: float) -> Alternator:
    """The alternator shown: one coil per phase and pole pair, with a sinusoidal field round the bore."""
    winding = Winding(3 * poles, poles, TURNS * 2 // poles)
    return Alternator(winding, RotorMagnet(poles, SHAPE.bore, 2 * SHAPE.half_length, {1: flux_density}), RESISTANCE)


def observe(setup: Setup, state: Turned) -> Snapshot:
    """The snapshot at the magnet's present position."""
    machine = alternator_of(setup.poles, setup.flux_density)
    on_lamps = machine.on_lamps(setup.speed, LAMP_RESISTANCE)  # star points joined; with a sine field no current flows between them
    fed = (np.arange(3) < setup.coils) * setup.lamps
    currents = on_lamps.currents(state.angle) * fed
    return Snapshot(
        setup=setup,
        machine=machine,
        on_lamps=on_lamps,
        angle=state.angle,
        peak=float(np.sqrt(2) * machine.emf(setup.speed)[0]),
        frequency=float(frequency_of_speed(setup.speed, setup.poles)),
        emfs=machine.emfs(state.angle, setup.speed),
        currents=currents,
        torque=-float(currents @ machine.emfs(state.angle, 1 / (2 * np.pi))),
        at_u=_at_u(setup, machine, state.angle),
    )


def _at_u(setup: Setup, machine: Alternator, angle: float) -> AtU:
    go = next(coil.go for coil in machine.winding.coils if coil.phase == "U")
    slot = machine.winding.slot_angles[go]
    outward, onward = np.array([np.cos(slot), np.sin(slot), 0.0]), np.array([-np.sin(slot), np.cos(slot), 0.0])
    field = float(machine.magnet.flux_density(slot, angle)) * outward
    # the wire is at rest and the field moves past it: relative to the magnet the wire moves backwards
    motion = -2 * np.pi * setup.speed * SHAPE.bore * onward
    return AtU(SHAPE.bore * outward, field, motion, right_hand(field, motion))

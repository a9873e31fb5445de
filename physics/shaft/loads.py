"""Loads on a motor's shaft: fan, pump, hoist, conveyor, flywheel, each by its torque at any speed and its inertia.

Speeds are rev/s, positive in the motor's intended direction. A load's torque, N m, is what holds the shaft back: at a
positive speed it is positive where it brakes and negative where it drives (overhauls); friction changes sign with the
speed. So `shaft.torque` is what the runs of the motor ask for as load_torque. `torque` takes a number or an array of
any shape and gives the same; `ValueError` for a speed that is not finite.

Friction at rest has no value of its own: it is whatever keeps the shaft still. Here it passes through 0 smoothly
within `REST_SPEED` of rest, so that it can be integrated; a motor that cannot break a load away is then seen to creep
with less than `REST_SPEED`, which stands for rest.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import copysign, isfinite
from typing import Protocol

import numpy as np
from numpy.typing import ArrayLike

from physics import arguments
from physics.arguments import NumberOrArray
from physics.constants import STANDARD_GRAVITY

REST_SPEED = 0.1
"""rev/s; anything slower counts as rest. Friction is largest just here."""

BREAKAWAY_SPEED = 0.5
"""rev/s beyond `REST_SPEED` at which what friction at rest has more than friction in motion has fallen to a quarter."""


class Load(Protocol):
    """What every load on a shaft has."""

    @property
    def inertia(self) -> float:
        """Moment of inertia of everything that moves, referred to the shaft, kg m2."""

    def torque(self, speed: NumberOrArray) -> NumberOrArray:
        """Load torque, N m, at `speed`, rev/s."""


@dataclass(frozen=True)
class Friction:
    """Friction of bearings, belts and gears.

    running: N m whatever the speed; breakaway: N m to overcome from rest, at least `running` (None: the same);
    viscous: N m per rev/s.
    """

    running: float = 0.0
    breakaway: float | None = None
    viscous: float = 0.0

    def __post_init__(self) -> None:
        running = arguments.not_negative("running", self.running)
        arguments.not_negative("viscous", self.viscous)
        if self.breakaway is None:
            object.__setattr__(self, "breakaway", running)
        if arguments.number("breakaway", self.breakaway) < running:
            raise ValueError(f"breakaway must be at least the running {running:g} N m, not {self.breakaway:g}")

    def torque(self, speed: NumberOrArray) -> NumberOrArray:
        """Torque against the motion, N m, at `speed`, rev/s; exactly `breakaway` (and a little viscous) at `REST_SPEED`."""
        return self.against(_speed(speed))

    def against(self, speed: NumberOrArray) -> NumberOrArray:
        """`torque` at a `speed` that has been checked: a run asks hundreds of thousands of times."""
        if not self.breakaway:
            return self.viscous * speed
        if isinstance(speed, float) and abs(speed) >= REST_SPEED and self.breakaway == self.running:  # as a rule
            return copysign(self.running, speed) + self.viscous * speed
        in_rest_speeds = speed / REST_SPEED
        if isinstance(in_rest_speeds, float):
            near_rest = min(max(in_rest_speeds, -1.0), 1.0)
        else:
            near_rest = np.clip(in_rest_speeds, -1.0, 1.0)
        beyond = (in_rest_speeds - near_rest) * (REST_SPEED / BREAKAWAY_SPEED)
        # a cubic from 0 to +-1 that is level where it meets what lies beyond
        direction = near_rest * (1.5 - 0.5 * near_rest * near_rest)
        more_at_rest = (self.breakaway - self.running) / (1.0 + beyond * beyond) ** 2
        return direction * (self.running + more_at_rest) + self.viscous * speed


FRICTIONLESS = Friction()


@dataclass(frozen=True)
class Fan:
    """A fan: torque as the square of the speed, plus friction.

    rated_speed: rev/s; rated_torque: N m that the air takes at that speed; inertia: kg m2. Backwards it takes as
    much as forwards.
    """

    rated_speed: float
    rated_torque: float
    inertia: float
    friction: Friction = FRICTIONLESS

    def __post_init__(self) -> None:
        arguments.positive("rated_speed", self.rated_speed)
        arguments.not_negative("rated_torque", self.rated_torque)
        arguments.not_negative("inertia", self.inertia)
        _check_friction(self.friction)

    def torque(self, speed: NumberOrArray) -> NumberOrArray:
        """Load torque, N m, at `speed`, rev/s."""
        speed = _speed(speed)
        return self.rated_torque * speed * abs(speed) / self.rated_speed**2 + self.friction.against(speed)


@dataclass(frozen=True)
class Pump:
    """A centrifugal pump behind a check valve, plus friction.

    rated_speed: rev/s; rated_torque: N m that the liquid takes at that speed, delivering; inertia: kg m2; static_head:
    the height to be lifted as a fraction, below 1, of the head that the pump makes at rated speed with the valve shut;
    shut_torque: torque at rated speed with the valve shut as a fraction of `rated_torque` (common practice for radial
    pumps: 0.3 to 0.5).

    By the affinity laws the head with the valve shut goes as n^2, and the torque at a flow Q as n^2 times a function of
    Q / n, here a straight line (common practice for radial pumps): T / T_r = a n^2 + (1 - a) n Q. Against a static head
    h the valve opens at n^2 = h, and from then on, pump and pipe both losing head as Q^2, Q^2 = (n^2 - h) / (1 - h)
    (n and Q as fractions of the rated values). Without static head that is the square of the speed. Turned backward the
    pump opens no valve.
    """

    rated_speed: float
    rated_torque: float
    inertia: float
    static_head: float = 0.0
    shut_torque: float = 0.4
    friction: Friction = FRICTIONLESS

    def __post_init__(self) -> None:
        arguments.positive("rated_speed", self.rated_speed)
        arguments.not_negative("rated_torque", self.rated_torque)
        arguments.not_negative("inertia", self.inertia)
        _check_friction(self.friction)
        if not 0 <= arguments.number("static_head", self.static_head) < 1:
            raise ValueError(f"static_head must be from 0 to below 1, not {self.static_head:g}")
        if not 0 <= arguments.number("shut_torque", self.shut_torque) <= 1:
            raise ValueError(f"shut_torque must be from 0 to 1, not {self.shut_torque:g}")

    def torque(self, speed: NumberOrArray) -> NumberOrArray:
        """Load torque, N m, at `speed`, rev/s."""
        speed = _speed(speed)
        share = speed / self.rated_speed
        opened = (share * abs(share) - self.static_head) / (1.0 - self.static_head)
        # the positive part: (x + |x|) / 2
        flow = (0.5 * (opened + abs(opened))) ** 0.5
        liquid = self.shut_torque * share * abs(share) + (1.0 - self.shut_torque) * share * flow
        return self.rated_torque * liquid + self.friction.against(speed)


@dataclass(frozen=True)
class Hoist:
    """A weight on a rope round a drum: the same torque at any speed and in either direction. Positive speeds lift; lowering,
    the weight drives.

    mass: kg on the rope; drum_radius: m; drum_inertia: kg m2. Its brake is open.
    """

    mass: float
    drum_radius: float
    drum_inertia: float = 0.0
    friction: Friction = FRICTIONLESS

    def __post_init__(self) -> None:
        arguments.not_negative("mass", self.mass)
        arguments.positive("drum_radius", self.drum_radius)
        arguments.not_negative("drum_inertia", self.drum_inertia)
        _check_friction(self.friction)

    @property
    def inertia(self) -> float:
        """Moment of inertia of drum and weight, kg m2: J + m r^2."""
        return self.drum_inertia + self.mass * self.drum_radius**2

    def torque(self, speed: NumberOrArray) -> NumberOrArray:
        """Load torque, N m, at `speed`, rev/s: m g r, and friction."""
        return self.mass * STANDARD_GRAVITY * self.drum_radius + self.friction.torque(speed)


@dataclass(frozen=True)
class Conveyor:
    """A belt on rollers: friction and nothing else, usually with a breakaway well above the running value.

    inertia: kg m2 of rollers, belt and what lies on it.
    """

    inertia: float
    friction: Friction

    def __post_init__(self) -> None:
        arguments.not_negative("inertia", self.inertia)
        _check_friction(self.friction)

    def torque(self, speed: NumberOrArray) -> NumberOrArray:
        """Load torque, N m, at `speed`, rev/s."""
        return self.friction.torque(speed)


@dataclass(frozen=True)
class Flywheel:
    """A mass that only has to be accelerated. inertia: kg m2."""

    inertia: float

    def __post_init__(self) -> None:
        arguments.not_negative("inertia", self.inertia)

    def torque(self, speed: NumberOrArray) -> NumberOrArray:
        """Load torque: 0 N m at any speed."""
        return 0.0 * _speed(speed)


NOTHING = Flywheel(0.0)


@dataclass(frozen=True)
class Shaft:
    """The motor's shaft with a load on it, directly or through a gear; itself a load.

    rotor_inertia: kg m2 of the motor's rotor; gear_ratio: turns of the motor for one turn of the load; friction: of the
    motor and the gear, at the motor's speed. A gear that also turns the load the other way is not meant here.
    """

    rotor_inertia: float
    load: Load = NOTHING
    gear_ratio: float = 1.0
    friction: Friction = FRICTIONLESS

    def __post_init__(self) -> None:
        arguments.positive("rotor_inertia", self.rotor_inertia)
        check_load("load", self.load)
        arguments.positive("gear_ratio", self.gear_ratio)
        _check_friction(self.friction)

    @property
    def inertia(self) -> float:
        """Moment of inertia referred to the motor, kg m2: J_rotor + J_load / i^2."""
        return self.rotor_inertia + self.load.inertia / self.gear_ratio**2

    def torque(self, speed: NumberOrArray) -> NumberOrArray:
        """Load torque referred to the motor, N m, at its `speed`, rev/s: that of the load over the ratio, and friction."""
        speed = _speed(speed)
        return self.load.torque(speed / self.gear_ratio) / self.gear_ratio + self.friction.against(speed)


@dataclass(frozen=True)
class OtherWay:
    """The same shaft driven in the opposite direction, such as a hoist that lowers."""

    shaft: Load

    def __post_init__(self) -> None:
        check_load("shaft", self.shaft)

    @property
    def inertia(self) -> float:
        """Moment of inertia, kg m2."""
        return self.shaft.inertia

    def torque(self, speed: NumberOrArray) -> NumberOrArray:
        """Load torque, N m, at `speed`, rev/s, counted positive the other way."""
        return -self.shaft.torque(-_speed(speed))


def check_load(name: str, value: Load) -> Load:
    """`value`; `ValueError` naming the argument unless it is a load."""
    if not (hasattr(value, "inertia") and callable(getattr(value, "torque", None))):
        raise ValueError(f"{name} must have an inertia and a torque at any speed, as a Fan has, not {value!r}")
    return value


def _check_friction(value: object) -> None:
    if not isinstance(value, Friction):
        raise ValueError(f"friction must be a Friction, such as Friction(running=2.0), not {value!r}")


def kinetic_energy(inertia: float, speed: ArrayLike) -> NumberOrArray:
    """Kinetic energy, J, of `inertia`, kg m2, at `speed`, rev/s: J w^2 / 2; arrays too."""
    return 2.0 * np.pi**2 * arguments.not_negative("inertia", inertia) * arguments.numbers("speed", speed)[()] ** 2


def _speed(speed: ArrayLike) -> NumberOrArray:
    """`speed` as finite float64: checked shortly where it is one number, since a run asks thousands of times."""
    if isinstance(speed, float) and isfinite(speed):
        return float(speed)
    return arguments.numbers("speed", speed)[()]

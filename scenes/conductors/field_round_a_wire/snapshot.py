"""Compasses round a wire: the settings, how the needles swing, and everything physical at one instant."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from physics.fields.compass import Compass, Needles, fields_of_the_others
from physics.fields.currents import segment_field
from scenes.conductors.earth import EARTH

UP = np.array([0.0, 1.0, 0.0])  # along the wire: the direction of a positive current
LEVEL = np.array([1.0, 0.0, 1.0])
HALF_WIRE = 1.0  # m, from the table to either end of the wire
PLACES = {
    "right": np.array([1.0, 0, 0]),
    "front": np.array([0, 0, 1.0]),
    "left": np.array([-1.0, 0, 0]),
    "back": np.array([0, 0, -1.0]),
}
IN_WORDS = {"right": "east of", "front": "south of", "left": "west of", "back": "north of"}
DIAGONALS = [np.array([x, 0, z]) / np.sqrt(2) for x in (1, -1) for z in (1, -1)]
KIND = Compass(damping=2.75e-9)

# The path of the current, from the lower end of the wire round to it again, metres. Battery, switch and the leads near the
# table lie level with the needles: their field there is vertical, and does not turn a needle.
LOWER_END, UPPER_END = -HALF_WIRE * UP, HALF_WIRE * UP
FROM_UPPER_END = np.array([[-0.94, 1.0, 0.0], [-1.0, 0.94, 0.0], [-1.0, 0.06, -0.06], [-0.94, 0.003, -0.06], [-0.26, 0.003, -0.07]])
BATTERY = np.array([[-0.19, 0.003, -0.053], [-0.19, 0.003, -0.023]])  # its left and right terminals
TO_SWITCH = np.array([[-0.21, 0.003, -0.01]])
SWITCH = np.array([[-0.19, 0.003, 0.0125], [-0.19, 0.003, 0.0575]])  # hinge and jaw
TO_LOWER_END = np.array([[-0.26, 0.003, 0.08], [-0.94, 0.003, 0.06], [-1.0, -0.06, 0.06], [-1.0, -0.94, 0.0], [-0.94, -1.0, 0.0]])
CIRCUIT = np.vstack([LOWER_END, UPPER_END, FROM_UPPER_END, BATTERY, TO_SWITCH, SWITCH, TO_LOWER_END, LOWER_END])


@dataclass(frozen=True)
class Setup:
    """The settings. set_current: A, positive up through the table while the switch is closed; radius: m, from the wire to the
    compasses; place: the key in `PLACES` of the compass that is read; earth: whether the Earth's field is included."""

    closed: bool
    set_current: float
    radius: float
    place: str
    earth: bool

    @classmethod
    def of(cls, settings: dict) -> Setup:
        return cls(settings["switch"], settings["current"], settings["distance"] / 1000, settings["compass"], settings["earth"])

    @property
    def current(self) -> float:
        """A, positive up through the table."""
        return self.set_current if self.closed else 0.0

    @property
    def chosen(self) -> int:
        """Which of the needles is read."""
        return list(PLACES).index(self.place)

    @property
    def spots(self) -> np.ndarray:
        """Where the needles' pivots are, the four that can be read first, shape (8, 3), m."""
        return self.radius * np.array([*PLACES.values(), *DIAGONALS])


def begin(setup: Setup) -> Needles:
    """Needles at rest in the Earth's field alone, as before the switch is closed."""
    return at_rest(setup.radius, 0.0, True)


def advance(setup: Setup, needles: Needles, seconds: float) -> Needles:
    field = outside(setup.radius, setup.current, setup.earth) + of_the_others(setup.spots, needles)
    return KIND.swing(needles, field, seconds)


@dataclass(frozen=True)
class Snapshot:
    """Everything physical at one instant.

    needles   where all eight point;  before: the same without current
    field     of the current in wire and leads at the compass that is read, T, shape (3,); of this and the next two only the
              horizontal part, which turns a needle
    earth     of the Earth there;  others: of the other needles
    """

    setup: Setup
    needles: Needles
    before: Needles
    field: np.ndarray
    earth: np.ndarray
    others: np.ndarray

    @cached_property
    def rest(self) -> float:
        """Where the needle that is read comes to rest, radians from north, positive toward west; nan if nothing from outside turns it."""
        setup = self.setup
        free = not setup.current and not setup.earth
        return float("nan") if free else float(at_rest(setup.radius, setup.current, setup.earth).angle[setup.chosen])

    @property
    def total(self) -> np.ndarray:
        """The resultant field that turns the needle."""
        return self.field + self.earth + self.others

    @property
    def angle(self) -> float:
        """Of the needle that is read, radians from north in (-pi, pi], positive toward west."""
        return float(np.pi - np.mod(np.pi - self.needles.angle[self.setup.chosen], 2 * np.pi))


def observe(setup: Setup, needles: Needles) -> Snapshot:
    k = setup.chosen
    return Snapshot(
        setup=setup,
        needles=needles,
        before=begin(setup),
        field=setup.current * circuit_field(setup.radius)[k] * LEVEL,
        earth=setup.earth * EARTH * LEVEL,
        others=of_the_others(setup.spots, needles)[k] * LEVEL,
    )


@lru_cache(maxsize=64)
def circuit_field(radius: float) -> np.ndarray:
    """The field of the whole circuit at the needles per ampere, T/A, shape (8, 3)."""
    spots = radius * np.array([*PLACES.values(), *DIAGONALS])
    return segment_field(spots, CIRCUIT[:-1], CIRCUIT[1:], 1.0)


def outside(radius: float, current: float, earth: bool) -> np.ndarray:
    """The field at the needles of everything but the needles, T, shape (8, 3)."""
    return current * circuit_field(radius) + earth * EARTH


def of_the_others(spots, needles: Needles) -> np.ndarray:
    """The field at each needle of the seven others, T, shape (8, 3)."""
    return fields_of_the_others(spots, KIND.moment * KIND.directions(needles.angle))


@lru_cache(maxsize=256)
def at_rest(radius: float, current: float, earth: bool) -> Needles:
    """The needles where they come to rest, each also in the field of the others."""
    field = outside(radius, current, earth)
    spots = radius * np.array([*PLACES.values(), *DIAGONALS])
    needles = KIND.settled(field)
    for _ in range(60):  # converges: the others' share of the field is about a tenth
        needles = KIND.settled(field + of_the_others(spots, needles))
    return needles

"""The pushed conductor's settings, how it swings, and everything physical at one instant."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from physics.conductors.force_and_emf import force, mean_field
from physics.conductors.hung_rod import HungRod, Swing, TorqueCurve
from physics.constants import COPPER_DENSITY
from physics.directions import Hand, left_hand
from physics.fields.block_magnets import gap_field

POLE = np.array([0.110, 0.024, 0.110])  # m, each block: across the rod, toward the gap, along the rod
GAP = 0.070  # m
POLARISATION = 1.3  # T, typical of a rare-earth magnet (common practice, no source)
HALF_ROD, ROD_RADIUS = 0.023, 0.007  # m
LENGTH_OF_ROD = 2 * HALF_ROD
HEIGHT = 0.120  # m, from the rod up to the rails it hangs from
RAIL = 0.009  # m, of each rail from the middle: the leads hang from the rails, which carry the current
REACH = 0.087  # m, how far the leads go out round the upper pole, one to either side so that they balance
LEAD_RADIUS = 0.00075  # m
DAMPING = 6e-4  # N m s, of air and joints (no source)
STOP = np.radians(20.0)
ALONG_ROD = np.array([0.0, 0.0, 1.0])  # of the rod lying level: toward its marked end
NOT_PUSHED = 1e-6  # a sine below which the rod counts as lying along the field


@dataclass(frozen=True)
class Setup:
    """The settings. battery: A toward the marked end with the switch closed; closed: the switch; sense: +1 for
    a field upward, -1 downward; tilt: degrees by which the marked end is raised."""

    battery: float
    closed: bool
    sense: float
    tilt: float

    @classmethod
    def of(cls, settings: dict) -> Setup:
        return cls(settings["current"], settings["switch"], 1.0 if settings["field"] == "up" else -1.0, settings["tilt"])

    @property
    def current(self) -> float:
        """Current along the rod, A, positive toward its marked end."""
        return self.battery if self.closed else 0.0

    @property
    def along(self) -> np.ndarray:
        """The direction of the rod as it hangs at rest, toward its marked end, shape (3,)."""
        tilt = np.radians(self.tilt)
        return np.array([0.0, np.sin(tilt), np.cos(tilt)]).round(15) + 0.0


@lru_cache(maxsize=2)
def field_of(sense: float):
    """The field of the two blocks as a function of points."""
    return gap_field(GAP, POLE, sense * POLARISATION, direction=(0, 1, 0))


@lru_cache(maxsize=16)
def hung(tilt: float) -> HungRod:
    """The rod on its two leads, all of solid copper."""
    along = Setup(0.0, True, 1.0, tilt).along
    first, second = HALF_ROD * np.array([-along, along])
    return HungRod(
        ends=np.array([first, second]),
        hinge=np.array([0.0, HEIGHT, 0.0]),
        axis=ALONG_ROD,
        damping=DAMPING,
        stop=STOP,
        mass=COPPER_DENSITY * np.pi * ROD_RADIUS**2 * 2 * HALF_ROD,
        leads=(_lead(first, -1.0), _lead(second, 1.0)[::-1]),
        lead_mass=COPPER_DENSITY * np.pi * LEAD_RADIUS**2,
    )


def _lead(end, side: float) -> np.ndarray:
    """The path of a lead: from a rail out to its side, down past the pole to the rod's height, and in to the rod's end."""
    return np.array([[side * RAIL, HEIGHT, end[2]], [side * REACH, HEIGHT, end[2]], [side * REACH, 0.0, end[2]], end])


@lru_cache(maxsize=32)
def curve(sense: float, tilt: float) -> TorqueCurve:
    """The torque on rod and leads per ampere, computed once for each field and tilt."""
    return hung(tilt).torque_curve(field_of(sense), angles=65)


@lru_cache(maxsize=64)
def settled(current: float, sense: float, tilt: float) -> float:
    """The angle at which it comes to rest, radians, positive to the right."""
    return hung(tilt).settles_at(current, curve(sense, tilt))


def begin(setup: Setup) -> Swing:
    return Swing()


def advance(setup: Setup, state: Swing, seconds: float) -> Swing:
    return hung(setup.tilt).swings(state, setup.current, curve(setup.sense, setup.tilt), seconds)


@dataclass(frozen=True, eq=False)
class Snapshot:
    """Everything physical at one instant.

    turn     3x3, how the rod and its leads are swung;  angle  rad, positive to the right
    ends     of the rod, its marked end last, (2, 3) m;  middle (3,) m;  leads  both as they hang now, each (4, 3) m
    field    mean along the rod, (3,) T;  current (3,) A;  force  on the rod, (3,) N
    sine     of the angle between rod and field;  degrees  from current to field (to the marked end without a current)
    hand     the left hand for them
    """

    setup: Setup
    turn: np.ndarray
    angle: float
    ends: np.ndarray
    middle: np.ndarray
    leads: tuple[np.ndarray, np.ndarray]
    field: np.ndarray
    current: np.ndarray
    force: np.ndarray
    sine: float
    degrees: float
    hand: Hand

    @cached_property
    def settled(self) -> float:
        """Where it comes to rest, rad, positive to the right."""
        return settled(self.setup.current, self.setup.sense, self.setup.tilt)

    @property
    def is_pushed(self) -> bool:
        return bool(np.any(self.force))


def observe(setup: Setup, state: Swing) -> Snapshot:
    """The snapshot at the rod's present angle."""
    rod, field = hung(setup.tilt), field_of(setup.sense)
    c, s = np.cos(state.angle), np.sin(state.angle)
    turn = np.array([[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, 1.0]])
    ends = rod.path(state.angle)
    along = turn @ setup.along
    mean = mean_field(ends, field)
    sine = float(np.linalg.norm(np.cross(along, mean)) / np.linalg.norm(mean))
    cosine = float(np.sign(setup.current or 1.0) * along @ mean / np.linalg.norm(mean))
    current = setup.current * along
    pushed = sine >= NOT_PUSHED and setup.current != 0.0
    return Snapshot(
        setup=setup,
        turn=turn,
        angle=state.angle,
        ends=ends,
        middle=ends.mean(axis=0),
        leads=tuple((lead - rod.hinge) @ turn.T + rod.hinge for lead in rod.leads),
        field=mean,
        current=current,
        force=force(ends, setup.current, field) if pushed else np.zeros(3),
        sine=sine,
        degrees=float(np.degrees(np.arctan2(sine, cosine))),
        hand=left_hand(mean, current if pushed else np.zeros(3)),
    )

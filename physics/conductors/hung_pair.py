"""Two wires that hang side by side and swing, each in the field of the other, of the leads and of the Earth."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from math import asin, ceil, cos, hypot, pi, sin, sqrt
from typing import TypeAlias

import numpy as np
from numpy.typing import ArrayLike

from physics.arguments import not_negative, numbers, positive, vector
from physics.constants import STANDARD_GRAVITY, VACUUM_PERMEABILITY
from physics.directions import cross
from physics.fields.currents import segment_field

# Spots along each conductor on which a field is summed up, as shares of its length, and their weights.
_SPOTS, _WEIGHTS = (
    (part * 0.5 + shift)[np.newaxis, :, np.newaxis] for part, shift in zip(np.polynomial.legendre.leggauss(8), (0.5, 0.0), strict=True)
)
_ON_LEADS = np.r_[0:8, 16:24]  # those on the leads that hang: down to the wire, and up from it
_STEP_PHASE = 0.15  # a step covers no more than this part of a radian of the fastest that happens
_MOST_STEPS = 1000
_FARTHEST = 1.4  # rad, at which a swing is caught

LEFT, RIGHT = 0, 1

Four: TypeAlias = tuple[float, float, float, float]  # the two angles and their rates
Pair: TypeAlias = Sequence[float] | np.ndarray  # the left one first


@dataclass(frozen=True)
class PairSwing:
    """The motion of the wires: `angles` in rad from hanging straight down, positive to the right (+x), and `rates` in rad/s, each of the
    left and the right wire."""

    angles: tuple[float, float] = (0.0, 0.0)
    rates: tuple[float, float] = (0.0, 0.0)


# Long, for field, forces and motion of the pair depend on one another at every step and share what is worked out once.
@dataclass(frozen=True, eq=False)
class HungPair:
    """Two equal wires along z that hang level, each on two leads, and swing out to either side (x).

    length          of each wire, metres, more than 0
    spacing         from wire to wire as they hang without current, metres, more than `thickness`
    leads           from the line each wire swings about, at y = `leads`, down to the wire, metres: more than half of what is
                    between the wires. The current comes down one lead and goes up the other
    mass_per_metre  of the wires, kg/m, more than 0; the leads are light
    thickness       of the wires with what keeps them apart, metres, more than 0: so near they touch
    damping         torque on each wire per speed of turning, N m s, 0 or more
    fixed           straight leads of the right wire that do not move, in the direction of a current that flows toward +z in
                    the wire, shape (m, 2, 3), metres; those of the left wire are their mirror image in x = 0
    outside         a field that is the same everywhere, such as the Earth's, shape (3,), T

    Currents are positive toward +z. Raises `ValueError` naming the argument.
    """

    length: float
    spacing: float
    leads: float
    mass_per_metre: float
    thickness: float
    damping: float = 0.0
    fixed: np.ndarray = field(default_factory=lambda: np.empty((0, 2, 3)))
    outside: ArrayLike = (0.0, 0.0, 0.0)

    def __post_init__(self) -> None:
        for name in ("length", "spacing", "leads", "mass_per_metre", "thickness"):
            positive(name, getattr(self, name))
        not_negative("damping", self.damping)
        fixed = numbers("fixed", self.fixed)
        if fixed.shape[1:] != (2, 3):
            raise ValueError("fixed must be of shape (m, 2, 3)")
        object.__setattr__(self, "fixed", fixed)
        object.__setattr__(self, "outside", vector("outside", self.outside))
        if self.spacing <= self.thickness:
            raise ValueError(f"spacing must be greater than thickness, {self.thickness:g}, not {self.spacing:g}")
        if self.spacing - self.thickness >= 2 * self.leads:
            raise ValueError(f"leads must be more than half of what is between the wires, not {self.leads:g}")

    @property
    def inertia(self) -> float:
        """Moment of inertia of each wire about the line it swings about, kg m^2: m l h^2."""
        return self.mass_per_metre * self.length * self.leads**2

    def middles(self, angles: Pair) -> np.ndarray:
        """Positions of the middles of the wires, the left one first, shape (2, 3), metres, for `angles`, shape (2,), rad."""
        angles = np.asarray(angles)
        x = np.array([-self.spacing, self.spacing]) / 2 + self.leads * np.sin(angles)
        return np.column_stack([x, self.leads * (1 - np.cos(angles)), np.zeros(2)])

    def hung(self, angles: Pair) -> np.ndarray:
        """The conductors that swing, each from start to end along a positive current: of each wire the lead down, the wire and
        the lead up, shape (2, 3, 2, 3), metres."""
        half = np.array([0.0, 0.0, self.length / 2])
        frames = []
        for hinge, middle in zip((-self.spacing / 2, self.spacing / 2), self.middles(angles), strict=True):
            top = np.array([hinge, self.leads, 0.0])
            frames.append([[top - half, middle - half], [middle - half, middle + half], [middle + half, top + half]])
        return np.array(frames)

    def at_rest(self) -> np.ndarray:
        """The fixed leads of both, the left one's first, shape (2, m, 2, 3), metres."""
        return np.stack([self.fixed * [-1, 1, 1], self.fixed])

    def of_currents(self, points: np.ndarray, angles: Pair, currents: Pair) -> np.ndarray:
        """Flux density of all conductors together, T, shape (n, 3), at `points`, shape (n, 3), metres."""
        of_each = np.concatenate([self.hung(angles), self.at_rest()], axis=1)
        conductors = of_each.reshape(-1, 2, 3)
        return segment_field(points, conductors[:, 0], conductors[:, 1], np.repeat(currents, of_each.shape[1]))

    def between(self, angles: Pair, currents: Pair) -> np.ndarray:
        """The force of the right wire on the left one, shape (3,), N; that of the left on the right is the reverse.

        Formula: as `parallel_wires.force_between`, along the line from the one to the other.
        """
        left, right = self.middles(angles)
        away = right - left
        spacing = max(hypot(away[0], away[1]), 1e-12)
        return self._push(spacing, *currents) * away / spacing

    def of_outside(self, currents: Pair) -> np.ndarray:
        """The force of the outside field on each wire, N, shape (2, 3). Formula: F = I l x B."""
        return np.outer(currents, np.cross([0.0, 0.0, self.length], np.asarray(self.outside, float)))

    def lead_torques(self, angles: Pair, currents: Pair) -> np.ndarray:
        """The torque of all leads' fields on what swings, and of the wires' on the leads that hang, about the lines they swing
        about, N m, shape (2,), positive where it turns a wire to the right. By Biot and Savart and F = I l x B, at angles
        rounded to a thousandth of a radian."""
        left, right = currents
        if not left and not right:
            return np.zeros(2)
        of_other, of_own = _lead_torques(self, *(round(float(angle), 3) for angle in angles))
        return left * right * of_other + np.square(currents) * of_own

    def swings(self, swing: PairSwing, currents: Pair, seconds: float) -> PairSwing:
        """The wires' motion after `seconds` (0 or more) with constant currents, amperes, shape (2,).

        Equation for each: J x'' = (forces between the wires and of the outside field) x lever + torque of the leads - m g h
        sin(x) - c x', by classical Runge-Kutta steps. The torque of the leads, which changes little, is that of the start.
        Where they touch, the wires go on together. Raises `ValueError` naming the argument.
        """
        seconds, currents = not_negative("seconds", seconds), numbers("currents", currents)
        if currents.shape != (2,):
            raise ValueError(f"currents must be two, not of shape {currents.shape}")
        leads = self.lead_torques(swing.angles, currents).tolist()
        (outside_left, _, _), (outside_right, _, _) = self.of_outside(currents).tolist()
        left, right = currents.tolist()
        inertia, long = self.inertia, self.leads
        weight = self.mass_per_metre * self.length * STANDARD_GRAVITY * long

        def accelerations(a: float, b: float, a_rate: float, b_rate: float) -> tuple[float, float]:
            across = self.spacing + long * (sin(b) - sin(a))
            up = long * (cos(a) - cos(b))
            spacing = max(hypot(across, up), self.thickness / 2)
            per_metre = self._push(spacing, left, right) / spacing  # times across and up: the force on the left one
            x, y = per_metre * across, per_metre * up
            return (
                (long * ((x + outside_left) * cos(a) + y * sin(a)) + leads[0] - weight * sin(a) - self.damping * a_rate) / inertia,
                (long * ((outside_right - x) * cos(b) - y * sin(b)) + leads[1] - weight * sin(b) - self.damping * b_rate) / inertia,
            )

        nearest = abs(self._push(self.thickness, left, right)) / self.thickness  # N/m, how steeply it grows where they touch
        fastest = max(sqrt((weight + 2 * nearest * long**2) / inertia), self.damping / inertia)
        steps = min(max(ceil(seconds * fastest / _STEP_PHASE), 1), _MOST_STEPS)
        h = seconds / steps
        state: Four = (*swing.angles, *swing.rates)
        for _ in range(steps):
            state = self._kept_apart(*_runge_kutta(accelerations, state, h))
        return PairSwing(state[:2], state[2:])

    def _push(self, spacing: float, left: float, right: float) -> float:
        """Newtons, positive together; `parallel_wires.force_between` for plain numbers."""
        return VACUUM_PERMEABILITY / (2 * pi) * left * right / spacing * self.length**2 / (hypot(self.length, spacing) + spacing)

    def _kept_apart(self, a: float, b: float, a_rate: float, b_rate: float) -> Four:
        """Angles and rates with the wires not nearer than they can come, and not beyond where a swing is caught."""
        overlap = self.thickness - self.spacing - self.leads * (sin(b) - sin(a))
        if overlap > 0:
            a, b = (asin(sin(x) + sign * overlap / 2 / self.leads) for x, sign in ((a, -1), (b, 1)))
            if a_rate > b_rate:
                a_rate = b_rate = (a_rate + b_rate) / 2
        (a, a_rate), (b, b_rate) = (
            (angle, rate) if abs(angle) < _FARTHEST else (_FARTHEST if angle > 0 else -_FARTHEST, 0.0)
            for angle, rate in ((a, a_rate), (b, b_rate))
        )
        return a, b, a_rate, b_rate


@lru_cache(maxsize=1024)
def _lead_torques(pair: HungPair, *angles: float) -> tuple[np.ndarray, np.ndarray]:
    """The torque on each for one ampere in both: of the other circuit's leads (and wire, on leads that hang), and of the own
    circuit's fixed leads; N m, each of shape (2,)."""
    frames, still = pair.hung(angles), pair.at_rest()
    of_other, of_own = np.zeros(2), np.zeros(2)
    for one, other in ((LEFT, RIGHT), (RIGHT, LEFT)):
        starts, ends = frames[one][:, :1], frames[one][:, 1:]
        points = (starts + _SPOTS * (ends - starts)).reshape(-1, 3)
        pieces = ((ends - starts) * _WEIGHTS).reshape(-1, 3)
        sources = np.concatenate([frames[other][[0, 2]], still[other]])
        starts_on, ends_on = frames[other][1][:, np.newaxis]
        flux = segment_field(points, sources[:, 0], sources[:, 1], 1.0)
        flux[_ON_LEADS] += segment_field(points[_ON_LEADS], starts_on, ends_on, 1.0)
        arms = points - [(-1, 1)[one] * pair.spacing / 2, pair.leads, 0.0]
        of_other[one] = _about_z(arms, cross(pieces, flux))
        if len(pair.fixed):
            of_own[one] = _about_z(arms, cross(pieces, segment_field(points, still[one][:, 0], still[one][:, 1], 1.0)))
    return of_other, of_own


def _about_z(arms: np.ndarray, forces: np.ndarray) -> float:
    return float(arms[:, 0] @ forces[:, 1] - arms[:, 1] @ forces[:, 0])


def _runge_kutta(accelerations: Callable[[float, float, float, float], tuple[float, float]], state: Four, h: float) -> Four:
    """Angles and rates a step `h` later, by the classical fourth-order formula."""

    def rates(s: Four) -> Four:
        return s[2], s[3], *accelerations(*s)

    def ahead(slope: Four, part: float) -> Four:
        a, b, a_rate, b_rate = (x + part * d for x, d in zip(state, slope, strict=True))
        return a, b, a_rate, b_rate

    first = rates(state)
    second = rates(ahead(first, h / 2))
    third = rates(ahead(second, h / 2))
    fourth = rates(ahead(third, h))
    a, b, a_rate, b_rate = (x + h / 6 * (p + 2 * q + 2 * r + s) for x, p, q, r, s in zip(state, first, second, third, fourth, strict=True))
    return a, b, a_rate, b_rate

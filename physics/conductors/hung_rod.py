"""A rod that hangs on two leads and swings out when a current through it meets a field."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from math import ceil, cos, sin, sqrt

import numpy as np
from numpy.typing import ArrayLike

from physics.arguments import NumberOrArray, not_negative, number, numbers, positive, vector, vectors, whole
from physics.conductors.force_and_emf import SURFACE_SAMPLES, sample
from physics.constants import STANDARD_GRAVITY
from physics.directions import axis_of

# A step of the integration covers no more than this part of a radian of the fastest thing that happens. However long
# a frame, it is divided into no more than _MOST_STEPS of them; a longer one, which no display shows, is less exact.
_STEP_PHASE = 0.2
_MOST_STEPS = 1000


@dataclass(frozen=True)
class Swing:
    """The motion of a hung rod at one instant: `angle` in radians from hanging straight down, `rate` in radians per second."""

    angle: float = 0.0
    rate: float = 0.0


@dataclass(frozen=True, eq=False)
class TorqueCurve:
    """The torque of a field on a hung rod for each ampere, worked out beforehand at evenly spaced angles.

    least    the smallest of the angles, radians;  spacing  between neighbouring ones, radians
    torque   at each, N m for each ampere, shape (k,);  slope  its rate with the angle, N m per ampere and radian

    Called with angles of any shape it gives the torques between, by cubic pieces that meet smoothly; beyond the ends,
    the torque at the end. Minus the rate of turning times this is also the EMF of the swinging rod, in volts.
    """

    least: float
    spacing: float
    torque: np.ndarray
    slope: np.ndarray

    def __call__(self, angle: NumberOrArray) -> np.ndarray:
        place = np.clip((angle - self.least) / self.spacing, 0.0, len(self.torque) - 1)
        left = np.minimum(place, len(self.torque) - 2).astype(int)
        share = place - left
        start, end = self.torque[left], self.torque[left + 1]
        start_slope, end_slope = self.spacing * self.slope[left], self.spacing * self.slope[left + 1]
        rise = end - start
        bend = (1 - share) * (start_slope - rise) + share * (rise - end_slope)
        return start + share * (rise + (1 - share) * bend)


# Long, for inertia, weight and torque of one body, checked once, give both where it comes to rest and how it swings.
@dataclass(frozen=True, eq=False)
class HungRod:
    """A straight rod on two light leads of equal length, turning about the line between their upper ends.

    ends      of the rod as it hangs at rest, shape (2, 3), metres; a positive current flows from first to second
    hinge     a point of the line the leads turn about, shape (3,), metres, straight above the rod's middle
    axis      along that line, shape (3,); the angle is positive counter-clockwise seen with it pointing at the eye
    mass      of the rod, kg, more than 0
    damping   torque per speed of turning, N m s, 0 or more
    stop      the angle, radians, at which the swing is caught, more than 0
    back_stop  the same on the side where angles are negative, more than 0; as far as `stop` where it is not given
    turns     rods that lie together in series, for the force and the EMF
    down      the direction of gravity, shape (3,)
    leads     the two leads as they hang at rest, each shape (k, 3): from above down to the rod's first end, and from its
              second end up again; they swing with the rod as one stiff frame, are pushed by the field and weigh
    lead_mass  kg for each metre of lead, 0 or more

    Without `leads` the field is felt along the rod alone. Raises `ValueError` naming the argument.
    """

    ends: np.ndarray
    hinge: np.ndarray
    axis: np.ndarray
    mass: float
    damping: float = 0.0
    stop: float = np.pi / 2
    turns: int = 1
    down: tuple[float, float, float] = (0.0, -1.0, 0.0)
    back_stop: float | None = None
    leads: tuple[np.ndarray, ...] = ()
    lead_mass: float = 0.0

    def __post_init__(self) -> None:
        ends = vectors("ends", self.ends)
        if ends.shape != (2, 3) or np.array_equal(ends[0], ends[1]):
            raise ValueError("ends must be two different points, shape (2, 3)")
        hinge, axis = vector("hinge", self.hinge), axis_of("axis", self.axis)
        down = axis_of("down", self.down)
        lever = ends.mean(axis=0) - hinge
        lever = lever - (lever @ axis) * axis
        if lever @ down <= 0 or np.linalg.norm(np.cross(lever, down)) > 1e-9 * np.linalg.norm(lever):
            raise ValueError("hinge must be straight above the middle of the rod")
        positive("mass", self.mass)
        not_negative("damping", self.damping)
        positive("stop", self.stop)
        positive("back_stop", -self.least_angle)
        whole("turns", self.turns)
        not_negative("lead_mass", self.lead_mass)
        leads = tuple(vectors("leads", lead) for lead in self.leads)
        if leads and (len(leads) != 2 or not (np.allclose(leads[0][-1], ends[0]) and np.allclose(leads[1][0], ends[1]))):
            raise ValueError("leads must be two: one that comes to the rod's first end and one that leaves its second")
        object.__setattr__(self, "leads", leads)
        for name, value in (("ends", ends.copy()), ("hinge", hinge.copy()), ("axis", axis), ("down", down)):
            object.__setattr__(self, name, value)

    @property
    def least_angle(self) -> float:
        """The negative angle at which the swing is caught, radians."""
        return -self.stop if self.back_stop is None else -self.back_stop

    @property
    def _bodies(self) -> list[tuple[np.ndarray, np.ndarray, float]]:
        """Everything that swings as thin straight pieces: both ends of each from the hinge, metres, and its mass, kg."""
        pieces = [(self.ends[0] - self.hinge, self.ends[1] - self.hinge, self.mass)]
        for lead in self.leads:
            pieces += [
                (first - self.hinge, last - self.hinge, self.lead_mass * float(np.linalg.norm(last - first)))
                for first, last in zip(lead[:-1], lead[1:], strict=True)
            ]
        return pieces

    @cached_property
    def inertia(self) -> float:
        """Moment of inertia about the hinge, kg m^2: of each thin uniform piece, m times the mean square of its distance from the axis."""
        total = 0.0
        for first, last, mass in self._bodies:
            first, last = (end - (end @ self.axis) * self.axis for end in (first, last))
            total += mass * float(first @ first + first @ last + last @ last) / 3
        return total

    @property
    def frequency(self) -> float:
        """Angular frequency of small swings without current, radians per second: the square root of m g h / J."""
        return float(np.sqrt(self._weight_torque / self.inertia))

    @cached_property
    def _weight_torque(self) -> float:
        """The torque of the weight with the leads level, N m; at an angle, minus this times its sine."""
        return STANDARD_GRAVITY * float(self._mass_moment @ self.down)

    @cached_property
    def _unbalance(self) -> float:
        """The torque of the weight as it hangs at rest, N m, of leads that weigh more on one side; at an angle, this times its cosine."""
        return STANDARD_GRAVITY * float(np.cross(self._mass_moment, self.down) @ self.axis)

    @property
    def _mass_moment(self) -> np.ndarray:
        """The sum of mass times place from the hinge, kg m."""
        return np.sum([mass * (first + last) / 2 for first, last, mass in self._bodies], axis=0)

    def path(self, angle: ArrayLike) -> np.ndarray:
        """Positions of the rod's ends at `angle`, radians: shape (2, 3), metres; angles of shape (n,) give shape (n, 2, 3)."""
        return self.hinge + _turned(self.ends - self.hinge, self.axis, numbers("angle", angle))

    def velocity(self, swing: Swing) -> np.ndarray:
        """Velocities of both ends, shape (2, 3), metres per second, as `conductors.motional_emf` takes them with `path`."""
        return np.cross(swing.rate * self.axis, self.path(swing.angle) - self.hinge)

    def torque_per_ampere(self, angle: ArrayLike, field: Callable[[np.ndarray], np.ndarray], samples: int = SURFACE_SAMPLES) -> np.ndarray:
        """The torque of the field about the hinge, N m for each ampere, at angles of any shape, in that shape.

        Times minus the rate it is also the EMF of the swinging rod in volts. Formula: integral of r x (dl x B).
        """
        angle = numbers("angle", angle)
        sampled = sample(np.vstack([self.leads[0][:-1], self.ends, self.leads[1][1:]]) if self.leads else self.ends, samples)
        flat = angle.reshape(-1)
        arms = _turned(sampled.points - self.hinge, self.axis, flat)
        pieces = _turned(sampled.lengths, self.axis, flat)
        flux_density = field((self.hinge + arms).reshape(-1, 3)).reshape(arms.shape)
        # axis . (r x (dl x B)) = (axis x r) . (dl x B) = (axis x r) x dl . B
        lever = np.cross(np.cross(self.axis, arms), pieces)
        return self.turns * np.einsum("nsi,nsi->n", lever, flux_density).reshape(angle.shape)

    def torque_curve(self, field: Callable[[np.ndarray], np.ndarray], angles: int = 257) -> TorqueCurve:
        """The torque for each ampere between the stops, from the field at `angles` angles (at least 5).

        Make a new one when the field or the rod changes, not at every step: asking a field thousands of times a
        second is slow.
        """
        at = np.linspace(self.least_angle, self.stop, whole("angles", angles, least=5))
        torque, spacing = self.torque_per_ampere(at, field), at[1] - at[0]
        slope = np.gradient(torque, spacing, edge_order=2)
        slope[2:-2] = (torque[:-4] - 8 * torque[1:-3] + 8 * torque[3:-1] - torque[4:]) / (12 * spacing)
        return TorqueCurve(float(at[0]), float(spacing), torque, slope)

    def torque(self, angle: NumberOrArray, current: float, curve: Callable[[NumberOrArray], NumberOrArray]) -> np.ndarray:
        """Torque of field and weight together, N m, at angles of any shape, radians; `curve` as `torque_curve` gives it."""
        return number("current", current) * curve(angle) - self._weight_torque * np.sin(angle) + self._unbalance * np.cos(angle)

    def settles_at(self, current: float, curve: Callable[[NumberOrArray], NumberOrArray]) -> float:
        """The angle at which the rod comes to rest when it is let out slowly from hanging straight down, radians.

        That is the first angle, on the side to which it is pushed at rest, at which field and weight balance; the
        stop, when the field is stronger all the way.
        """
        sense = np.sign(self.torque(0.0, current, curve))
        if sense == 0:
            return 0.0
        # An even grid finds where the torque first turns against the motion; then the interval is narrowed.
        low, high = 0.0, self.stop if sense > 0 else self.least_angle
        while abs(high - low) > 1e-13:
            angles = np.linspace(low, high, 65)
            against = np.flatnonzero(sense * self.torque(angles, current, curve)[1:] <= 0)
            if not against.size:
                return float(high)
            low, high = angles[against[0]], angles[against[0] + 1]
        return float(high)

    def swings(self, swing: Swing, current: float, curve: Callable[[NumberOrArray], NumberOrArray], seconds: float) -> Swing:
        """The rod's motion after `seconds` (0 or more) with a constant current, amperes; `curve` as above.

        Equation: J x'' = I T(x) - m g h sin(x) + m g b cos(x) - c x', by the classical Runge-Kutta steps, short enough for weight,
        field and damping. At a stop the rod comes to rest. Raises `ValueError` naming the argument.
        """
        seconds = not_negative("seconds", seconds)
        current, inertia, weight = number("current", current), self.inertia, self._weight_torque
        unbalance = self._unbalance
        angle, rate = float(np.clip(swing.angle, self.least_angle, self.stop)), float(swing.rate)

        def acceleration(angle: float, rate: float) -> float:
            return (current * float(curve(angle)) - weight * sin(angle) + unbalance * cos(angle) - self.damping * rate) / inertia

        # Where the rod enters or leaves the field, the push changes within a fraction of a radian.
        stiffness = (weight + 4 * abs(current * float(curve(angle)))) / inertia
        fastest = max(sqrt(stiffness), self.damping / inertia)
        steps = min(max(ceil(seconds * fastest / _STEP_PHASE), 1), _MOST_STEPS)
        h = seconds / steps
        for _ in range(steps):
            k1 = acceleration(angle, rate)
            k2 = acceleration(angle + h / 2 * rate, rate + h / 2 * k1)
            k3 = acceleration(angle + h / 2 * rate + h * h / 4 * k1, rate + h / 2 * k2)
            k4 = acceleration(angle + h * rate + h * h / 2 * k2, rate + h * k3)
            angle += h * rate + h * h / 6 * (k1 + k2 + k3)
            rate += h / 6 * (k1 + 2 * k2 + 2 * k3 + k4)
            if not self.least_angle < angle < self.stop:
                angle, rate = min(max(angle, self.least_angle), self.stop), 0.0
        return Swing(angle, rate)


def _turned(offsets: np.ndarray, axis: np.ndarray, angle: np.ndarray) -> np.ndarray:
    """Offsets, shape (k, 3), turned about `axis` by angles of any shape: shape (..., k, 3). Rodrigues' formula."""
    angle = np.asarray(angle)[..., np.newaxis, np.newaxis]
    along = np.outer(offsets @ axis, axis)
    return along + np.cos(angle) * (offsets - along) + np.sin(angle) * np.cross(axis, offsets)

"""The field of two magnet poles in the air gap round a rotor.

Only the radial part is described: it is what a conductor on the rotor cuts. A positive value points outward, from
the rotor into the pole. The flux enters the rotor on one side and leaves it on the other, so the field half a
turn away is the same with the opposite sign. Angles are in radians, counter-clockwise seen from +z.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike

from physics.arguments import NumberOrArray, number, numbers


@dataclass(frozen=True)
class PoleField:
    """Radial field of a two-pole magnet, the same along the whole length of the rotor.

    flux_density  T in the middle of the pole at `axis`, outward positive; a negative value is the magnet turned end
                  for end
    pole_arc      rad, at least 0 and less than pi: how much of the bore one pole face covers with its full flux
                  density. From the pole tips the field falls along a quarter of a cosine to zero in the neutral
                  axis. An arc of 0 leaves the cosine alone, which is the radial part of a uniform field straight
                  across the rotor
    axis          rad, the direction in which the field crosses the rotor: the middle of the pole that the flux
                  enters (the magnet's south pole while `flux_density` is positive)

    Raises `ValueError` for anything that is not a finite number, and for a pole arc out of its range.
    """

    flux_density: float
    pole_arc: float = 0.0
    axis: float = 0.0

    def __post_init__(self) -> None:
        for name in ("flux_density", "pole_arc", "axis"):
            object.__setattr__(self, name, number(name, getattr(self, name)))
        if not 0.0 <= self.pole_arc < np.pi:
            raise ValueError(f"pole_arc must be at least 0 and less than pi radians, not {self.pole_arc:g}")

    @property
    def neutral_axis(self) -> float:
        """Angle, rad, between the poles where the field is zero: a quarter turn before `axis`; the other is
        half a turn further on."""
        return self.axis - np.pi / 2

    def at(self, angles: ArrayLike) -> np.ndarray:
        """Radial flux density in T, outward positive, at `angles` (any shape, rad); same shape."""
        from_axis = numbers("angles", angles) - self.axis
        past_tip = self._past_tip(np.abs(self._from_pole_line(from_axis)))
        return self.flux_density * np.where(np.cos(from_axis) < 0.0, -1.0, 1.0) * np.cos(past_tip)

    def summed(self, angles: ArrayLike) -> np.ndarray:
        """The flux density summed from `axis` round to `angles` (any shape, rad): T rad, same shape.

        Times radius and length this is the flux through that part of the bore: the integral of `at`, in closed form.
        """
        from_line = self._from_pole_line(numbers("angles", angles) - self.axis)
        half_arc = self.pole_arc / 2
        under_pole = np.minimum(np.abs(from_line), half_arc)
        in_fringe = (1.0 - 2.0 * half_arc / np.pi) * np.sin(self._past_tip(np.abs(from_line)))
        return self.flux_density * np.sign(from_line) * (under_pole + in_fringe)

    def pole_flux(self, radius: float, length: float) -> float:
        """Flux of one pole, Wb, over a rotor of this `radius` and `length`, m."""
        return float(2.0 * radius * length * self.summed(self.axis + np.pi / 2))

    def reversed(self) -> PoleField:
        """The same magnet turned end for end."""
        return replace(self, flux_density=-self.flux_density)

    @staticmethod
    def _from_pole_line(from_axis: np.ndarray) -> NumberOrArray:
        """Angle to the line through both pole centres, in [-pi/2, pi/2], keeping the sign of the sine."""
        return np.arctan2(np.sin(from_axis), np.abs(np.cos(from_axis)))

    def _past_tip(self, from_line: np.ndarray) -> NumberOrArray:
        """How far beyond the pole tip, stretched so that the neutral axis is at a quarter turn."""
        half_arc = self.pole_arc / 2
        return np.maximum(from_line - half_arc, 0.0) / (1.0 - 2.0 * half_arc / np.pi)

"""The field of two block magnets that face each other across a rotor without iron, as its conductors meet it.

Between two flat blocks the field is strongest before the faces and falls off quickly toward the neutral axis; that is
far from a uniform field. It is computed from the blocks themselves, averaged along the conductors. Angles in
radians, counter-clockwise seen from +z; 0 is the direction from the shaft to the middle of the right-hand block.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import ClassVar

import numpy as np
from numpy.typing import ArrayLike

from physics.arguments import number, numbers, positive
from physics.fields.block_magnets import block_magnet_field

HARMONICS = np.arange(1, 32, 2)  # only odd ones: half a turn away the radial field is the same with the other sign
AROUND, ALONG = 128, 17  # places round the rotor and along a conductor at which the field is taken


@dataclass(frozen=True)
class BlockPoles:
    """Two equal block magnets on the x axis, both magnetised along it, on either side of a rotor with its shaft on z.

    flux_density  T along x at a conductor before the middle of a face, positive to the right, averaged over its length;
                  a negative value is both magnets turned end for end
    radius        m, from the shaft to the conductors
    length        m, of a conductor, half of it on either side of z = 0
    gap           m, between the two faces; more than 2 * radius
    size          (x, y, z) m, of each block

    Raises `ValueError` naming the argument that is out of range.
    """

    flux_density: float
    radius: float
    length: float
    gap: float
    size: tuple[float, float, float]
    axis: ClassVar[float] = 0.0  # rad, the direction in which the field crosses the rotor while `flux_density` is positive

    def __post_init__(self) -> None:
        object.__setattr__(self, "flux_density", number("flux_density", self.flux_density))
        for name in ("radius", "length", "gap"):
            object.__setattr__(self, name, positive(name, getattr(self, name)))
        object.__setattr__(self, "size", tuple(positive("size", part) for part in self.size))
        if self.gap <= 2 * self.radius:
            raise ValueError(f"gap must be more than the {2 * self.radius:g} m across the rotor, not {self.gap:g}")

    @property
    def remanence(self) -> float:
        """T that the blocks must be magnetised with for this flux density; its sign is that of `flux_density`."""
        return self.flux_density / self._shape[2]

    def at(self, angles: ArrayLike) -> np.ndarray:
        """Radial flux density in T, outward positive, at `angles` (any shape, rad); same shape."""
        return self.flux_density * (np.cos(_times(angles)) @ self._shape[0])

    def tangential(self, angles: ArrayLike) -> np.ndarray:
        """Flux density round the rotor in T, counter-clockwise positive, at `angles` (any shape, rad); same shape."""
        return self.flux_density * (np.sin(_times(angles)) @ self._shape[1])

    def summed(self, angles: ArrayLike) -> np.ndarray:
        """The radial flux density summed from angle 0 round to `angles` (any shape, rad): T rad, same shape."""
        return self.flux_density * (np.sin(_times(angles)) @ (self._shape[0] / HARMONICS))

    @property
    def _shape(self) -> tuple[np.ndarray, np.ndarray, float]:
        return _harmonics(self.radius, self.length, self.gap, self.size)


def _times(angles: ArrayLike) -> np.ndarray:
    return numbers("angles", angles)[..., np.newaxis] * HARMONICS


@lru_cache(maxsize=8)
def _harmonics(radius: float, length: float, gap: float, size: np.ndarray) -> tuple[np.ndarray, np.ndarray, float]:
    """Cosine parts of the radial field and sine parts of the tangential one, for 1 T at angle 0, and that field for 1 T
    of remanence."""
    angles = 2 * np.pi * np.arange(AROUND) / AROUND
    # the middles of equal pieces: their mean is the mean along the conductor
    along = length * ((np.arange(ALONG) + 0.5) / ALONG - 0.5)
    places = np.array([[radius * np.cos(a), radius * np.sin(a), z] for a in angles for z in along])
    left, right = (block_magnet_field(places, [side * (gap + size[0]) / 2, 0, 0], size, [1.0, 0, 0]) for side in (-1, 1))
    x, y, _ = (left + right).reshape(AROUND, ALONG, 3).mean(axis=1).T
    radial, tangential = x * np.cos(angles) + y * np.sin(angles), y * np.cos(angles) - x * np.sin(angles)
    cosines = 2 / AROUND * np.cos(np.outer(HARMONICS, angles)) @ radial
    sines = 2 / AROUND * np.sin(np.outer(HARMONICS, angles)) @ tangential
    before_face = float(cosines.sum())
    return cosines / before_face, sines / before_face, before_face

"""A lead that moves: from terminal to terminal in straight pieces that are placed anew in each picture."""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.apparatus.wiring import Terminal
from visual.solid.mesh import at_right_angles, rod
from visual.solid.solids import Group, Solid
from visual.solid.told import Told


class MovingLead(Group):
    """A lead of so many `pieces`; it joins `first` to `second`, which may be names where they move."""

    def __init__(self, first: Terminal | str, second: Terminal | str, pieces: int, thickness: float, colour=palette.CORD):
        super().__init__()
        self.first, self.second, self.thickness = first, second, thickness
        straight = Solid(rod([0, 0, 0], [1, 0, 0], 0.5, colour, 8))
        self.pieces = [self.add(straight)] + [self.add(straight.copy()) for _ in range(pieces - 1)]

    def put(self, line) -> None:
        """Lay it through the points of `line`, shape (pieces + 1, 3), metres, from its first terminal to its second."""
        line = np.asarray(line, float)
        steps = np.diff(line, axis=0)
        for piece, start, step, long in zip(
            self.pieces, line.tolist(), steps.tolist(), np.linalg.norm(steps, axis=1).tolist(), strict=False
        ):
            along = [part / long for part in step]
            overlap = 0.4 * self.thickness  # so that no gap is seen at the corners
            piece.put_along(
                [at - overlap * way for at, way in zip(start, along, strict=True)],
                along,
                at_right_angles(along),
                (long + 2 * overlap, self.thickness, self.thickness),
            )

    def tell(self, found: Told) -> None:
        found.leads.append((str(self.first), str(self.second), ""))


def hanging(first, second, leaving, arriving, pieces: int) -> np.ndarray:
    """A smooth line, shape (pieces + 1, 3), from `first`, which it leaves along `leaving`, to `second`, at which it arrives
    along `arriving`, each (3,), metres: the longer these, the wider it hangs. A cubic curve by Bezier's formula."""
    first, second, leaving, arriving = (np.asarray(part, float) for part in (first, second, leaving, arriving))
    t = np.linspace(0.0, 1.0, pieces + 1)[:, np.newaxis]
    return (1 - t) ** 3 * first + 3 * t * (1 - t) ** 2 * (first + leaving) + 3 * t**2 * (1 - t) * (second - arriving) + t**3 * second

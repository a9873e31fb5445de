"""Wiring as data: terminals with names, leads that go from one to another, and what conducts inside a thing.

A lead is drawn between its terminals, so that a circuit reported closed is also drawn closed.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from visual import palette
from visual.solid.mesh import Mesh, at_right_angles, circle, rod, simplified, swept
from visual.solid.solids import Solid
from visual.solid.told import Told

CORNER = 0.005  # m beside a corner within which a lead is bent, where it is laid square


@dataclass(eq=False)
class Terminal:
    """A place where a lead can end: the thing it belongs to, its marking, and where it stands on the bench, metres.

    The marking of a battery's terminal changes when the battery is turned round between its leads.
    """

    thing: str
    marking: str
    at: tuple[float, float, float]

    def __str__(self) -> str:
        return f"{self.thing} {self.marking}"


class Joint(Solid):
    """What joins one terminal to another, drawn as `mesh`; it does not move."""

    def __init__(self, group, first: Terminal, second: Terminal, mesh: Mesh):
        super().__init__(mesh)
        self.first, self.second = first, second
        self.put((0, 0, 0))
        group.add(self)

    def tell(self, found: Told) -> None:
        found.leads.append((str(self.first), str(self.second), ""))


class Lead(Joint):
    """A lead from one terminal to another, through the points `via` (n, 3), m, in between."""

    def __init__(self, group, first: Terminal, second: Terminal, via=(), thickness: float = 0.0035, colour=palette.CORD):
        super().__init__(group, first, second, cord(np.array([first.at, *via, second.at], float), thickness, colour))


class Inside:
    """The connection between two terminals inside a thing (a battery, a closed switch, a rod): told with the leads, not drawn by itself.

    `conducts` says whether it does so now; without it, always. Terminals may be given as names where they move.
    """

    visible = True

    def __init__(self, group, through: str, first: Terminal | str, second: Terminal | str, conducts: Callable[[], bool] = lambda: True):
        self.through, self.first, self.second, self.conducts = through, first, second, conducts
        group.add(self)

    def tell(self, found: Told) -> None:
        if self.conducts():
            found.leads.append((str(self.first), str(self.second), self.through))


def cord(points, thickness: float, colour=palette.CORD, smooth: int = 6):
    """A lead through `points` (n, 3), its corners rounded, as a mesh."""
    line = np.asarray(points, float)
    for _ in range(2):  # cut the corners off, twice
        cut = np.empty((2 * len(line) - 2, 3))
        cut[0::2], cut[1::2] = 0.78 * line[:-1] + 0.22 * line[1:], 0.22 * line[:-1] + 0.78 * line[1:]
        line = np.vstack([line[:1], cut, line[-1:]])
    line = simplified(line, thickness / 30)
    tangents = np.gradient(line, axis=0)
    sideways = np.eye(3)[np.argmin(np.max(np.abs(tangents) / np.linalg.norm(tangents, axis=1, keepdims=True), axis=0))]
    return swept(circle(thickness / 2, smooth), line, sideways, colour)


def squared(points) -> list:
    """The points with one more at each side of every corner, so that only the corners are bent (`cord` cuts a part of each length)."""
    line = [np.asarray(point, float) for point in points]
    made = [line[0]]
    for before, corner, after in zip(line, line[1:], line[2:], strict=False):
        for other in (before, after):
            long = float(np.linalg.norm(other - corner))
            near = corner + (other - corner) * min(CORNER / long, 0.45) if long else corner
            made.append(near)
            if other is before:
                made.append(corner)
    made.append(line[-1])
    return made


class TautLead:
    """A straight lead between two terminals of which either may move: put it anew when one has."""

    def __init__(self, group, first: Terminal, second: Terminal, thickness: float = 0.003, colour=palette.CORD):
        self.first, self.second, self.thickness = first, second, thickness
        self.solid = group.add(Solid(rod([0, 0, 0], [1, 0, 0], 0.5, colour, 6)))
        group.add(self)
        self.put()

    visible = True  # the solid is in the group by itself

    def put(self) -> None:
        start, between = np.array(self.first.at), np.subtract(self.second.at, self.first.at)
        long = float(np.linalg.norm(between))
        along = (between / long).tolist()
        self.solid.put_along(start, along, at_right_angles(along), (long, self.thickness, self.thickness))

    def tell(self, found: Told) -> None:
        if self.solid.visible:
            found.leads.append((str(self.first), str(self.second), ""))

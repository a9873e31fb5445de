"""A lift on a machine's shaft: its sheave, and a piece of its hoistway that goes down with the car. Metres; the shaft is z."""

from __future__ import annotations

import math

import numpy as np

from visual import palette
from visual.apparatus.driven import PALE, TURN, Driven
from visual.machines.machine_shapes import lathed, ring_part
from visual.solid.mesh import Mesh, block, circle, joined, repeated, rod, swept
from visual.solid.solids import Group, Solid
from visual.solid.told import Told, point

DOOR = (0.62, 0.67, 0.70)


class Lift(Driven):
    """A sheave before the motor, with a gear between; over it ropes to a car with people in it and to a counterweight.

    Between the sheave and the car lies more of the hoistway than can be shown: what is seen of it, below, goes down with the car. So the
    car stays in the picture, the floors pass it at the speed of the rope, and the counterweight, which goes up, at twice that. Below both
    hangs a balancing rope, as in a tall building.
    """

    RADIUS, ROPE, FRONT = 0.05, 0.0022, 0.1  # m
    TOP, LOWEST = -0.142, -0.312  # m: what is seen of the hoistway
    CAR, ROOF = 0.11, -0.168  # m, the car's height, and where its roof is in the picture
    FLOORS, PASSES = 0.14, 0.70  # m of the hoistway from floor to floor, and of the picture from one pass of the counterweight to the next
    WEIGHT = 0.08  # m, its height

    def __init__(self, gear: float) -> None:
        super().__init__("mark on the lift's sheave", _sheave(self.RADIUS, self.FRONT), 1 / gear, self._at_rest())
        self.car = self.add(Solid(_car(self.CAR)))
        self.car.put((self.RADIUS, self.ROOF, self.FRONT))
        wide, behind = 0.25, self.FRONT - 0.047
        kinds = (  # what a floor has: how far up it begins, how high it is, and a block of it 1 m high
            (0.0, 0.01, block([0.01, 0, behind], [wide, 1, 0.006], palette.SLATE)),
            (0.01, 0.075, block([-0.047, 0, behind - 0.001], [0.05, 1, 0.004], DOOR)),
        )
        count = math.ceil((self.TOP - self.LOWEST) / self.FLOORS) + 1
        self.floors = [
            (number, Strip(self, up, high, mesh, (self.LOWEST, self.TOP))) for number in range(count) for up, high, mesh in kinds
        ]
        weight = block([-self.RADIUS, 0, self.FRONT], [0.034, 1, 0.024], palette.SLATE)
        self.counterweight = Strip(self, 0.0, self.WEIGHT, weight, (self.LOWEST, self.TOP))

    def _at_rest(self) -> Mesh:
        """The hoistway's back wall with its rails, and the ropes, which look the same however far they have run."""
        high, middle, (x, z) = self.TOP - self.LOWEST, (self.TOP + self.LOWEST) / 2, (self.RADIUS, self.FRONT)
        angles = np.linspace(0, math.pi, 13)
        over = self.RADIUS * np.column_stack([np.cos(angles), np.sin(angles), 0 * angles])
        return joined(
            block([0.01, middle, z - 0.053], [0.25, high, 0.004], PALE),
            *[block([at, middle, z - 0.042], [0.005, high, 0.006], palette.IRON) for at in (-0.014, 0.122, -0.08)],
            swept(circle(self.ROPE, 6), over, [0, 0, 1], palette.INK).moved([0, 0, z]),
            rod([x, 0, z], [x, self.ROOF, z], self.ROPE, palette.INK, 6),
            rod([x, self.ROOF - self.CAR, z], [x, self.LOWEST, z], self.ROPE, palette.INK, 6),
            rod([-x, 0, z], [-x, self.LOWEST, z], self.ROPE, palette.INK, 6),
        )

    def put(self, turned: float) -> None:
        """Where the sheave turns clockwise, the car at its right goes down, and so all that stands still goes up past it."""
        super().put(turned)
        down = -self.RADIUS * turned
        for number, strip in self.floors:
            strip.put(self.LOWEST - self.FLOORS + down % self.FLOORS + number * self.FLOORS)
        self.counterweight.put(self.LOWEST - self.WEIGHT + 2 * down % self.PASSES)

    def tell(self, found: Told) -> None:
        super().tell(found)
        found.needles += [("car of the lift", point(self.car.place[0]), (0.0, -1.0, 0.0))]


class Strip:
    """Something that moves up or down behind a window, of which only as much is drawn as is seen there.

    It begins `up` above where it is put and is `high`; `mesh` is 1 m high about its middle. window: its lower and upper edge."""

    def __init__(self, group: Group, up: float, high: float, mesh: Mesh, window: tuple[float, float]):
        self.up, self.high, self.window = up, high, window
        self.solid = group.add(Solid(mesh))
        self.seen = (0.0, 0.0)  # its lower and upper edge in the window

    def put(self, at: float) -> None:
        low, high = (min(max(edge, self.window[0]), self.window[1]) for edge in (at + self.up, at + self.up + self.high))
        self.seen = low, high
        self.solid.put((0.0, (low + high) / 2, 0.0), None, (1.0, max(high - low, 1e-6), 1.0))


def _sheave(radius: float, z: float) -> Mesh:
    rim = lathed(
        [(-0.008, 0.0), (-0.008, radius + 0.005), (-0.003, radius - 0.002), (0.003, radius - 0.002), (0.008, radius + 0.005)],
        palette.IRON,
        32,
    )
    spokes = repeated(block([0, 0.5 * radius, 0.009], [0.009, radius, 0.004], palette.SLATE), np.arange(5) * TURN / 5)
    mark = block([0, 0.8 * radius, 0.0115], [0.011, 0.012, 0.003], palette.MOTION)
    return joined(
        rim,
        ring_part(0.0, radius + 0.004, 0, TURN, 0.006, 0.008, palette.STEEL, 12),
        spokes,
        mark,
        rod([0, 0, -0.09], [0, 0, 0.016], 0.009, palette.STEEL, 12),
    ).moved([0, 0, z])


def _car(high: float) -> Mesh:
    """An open car with three people in it, hung at its roof's middle."""
    wide, deep = 0.105, 0.06
    wood, frame = palette.rgb("#d9b36c"), palette.SLATE
    shell = [
        block([0, -high / 2, -deep / 2], [wide, high, 0.004], wood),
        block([0, -0.004, 0], [wide + 0.006, 0.008, deep], frame),
        block([0, -high + 0.003, 0], [wide + 0.006, 0.006, deep], frame),
        *[block([side * wide / 2, -high / 2, 0], [0.006, high, deep], frame) for side in (-1, 1)],
    ]
    people = [
        _person(colour).moved([x, -high + 0.006, 0.006])
        for x, colour in ((-0.032, palette.FIELD), (0.0, palette.EMF), (0.032, palette.FORCE))
    ]
    return joined(*shell, *people)


def _person(colour) -> Mesh:
    body = lathed([(0.0, 0.0), (0.0, 0.009), (0.03, 0.012), (0.052, 0.0125), (0.06, 0.005), (0.06, 0.0)], colour, 10)
    head = lathed(
        [(0.058, 0.0), (0.06, 0.005), (0.064, 0.008), (0.069, 0.009), (0.074, 0.0075), (0.077, 0.004), (0.078, 0.0)],
        palette.rgb("#d8a47f"),
        10,
    )
    return joined(body, head).turned([[1, 0, 0], [0, 0, 1], [0, -1, 0]])

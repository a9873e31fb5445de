"""What a machine's shaft drives, or is driven by, as everybody knows it: a fan, a drill's chuck, the wheel of a train or of a bicycle, a
turbine. The machine's shaft is z, its drive end +z; metres.

What lies behind a machine is larger than that, and is seen round it; what lies before it has little that hides the machine.
"""

from __future__ import annotations

import math

import numpy as np

from visual import palette
from visual.machines.machine_shapes import lathed, ring_part
from visual.solid.mesh import Mesh, block, circle, cone, joined, repeated, ring, rod, swept
from visual.solid.solids import Group, Solid
from visual.solid.told import Told, point

TURN = 2 * math.pi
PALE, BLADE, GRASS = (0.80, 0.84, 0.86), (0.36, 0.55, 0.62), (0.45, 0.60, 0.35)


class Driven(Group):
    """A thing that turns with a shaft. ratio: of its revolutions to the shaft's, negative for the other direction; at: x and y of its
    own axis."""

    at = (0.0, 0.0)

    def __init__(self, words: str, wheel: Mesh, ratio: float, still: Mesh | None = None):
        super().__init__()
        self.ratio = ratio
        self.words = words
        self.wheel = self.add(Solid(wheel))
        if still is not None:
            self.add(Solid(still)).put((0, 0, 0))
        self.angle = 0.0  # of the shaft since `begin`, rad, counter-clockwise looking at the drive end
        self._shaft: float | None = None

    def begin(self) -> None:
        """As it stands before the shaft has moved."""
        self.angle, self._shaft = 0.0, None

    def follow(self, shaft: float) -> None:
        """Turn on to where the shaft is now, which is less than half a turn from where it was."""
        if self._shaft is None:
            self.angle = shaft if self.ratio == 1.0 else 0.0
        else:
            self.angle += math.remainder(shaft - self._shaft, TURN)
        self._shaft = shaft
        self.put(self.ratio * self.angle)

    def put(self, turned: float) -> None:
        """The thing itself is turned by so much, rad, counter-clockwise looking at the drive end."""
        self.wheel.put((*self.at, 0.0), _about_z(turned))

    def tell(self, found: Told) -> None:
        (x, y, z), (across, up, _), _, _ = self.wheel.place
        found.needles.append((self.words, point((x, y, z)), point((across, up, 0.0))))


class Fan(Driven):
    """Four broad blades in a ring, behind the machine."""

    def __init__(self, gear: float) -> None:
        super().__init__("blade of the fan", _fan(-0.13), 1 / gear, _guard(-0.13))


class Turbine(Driven):
    """A runner with many blades, behind the machine."""

    def __init__(self, gear: float) -> None:
        super().__init__("blade of the turbine", _turbine(-0.12), 1 / gear)


class Saw(Driven):
    """The blade of a circular saw, behind the machine."""

    def __init__(self, gear: float) -> None:
        super().__init__("tooth of the saw", _saw(-0.1), 1 / gear)


class WindRotor(Driven):
    """The three blades of a wind turbine on its tower, before the machine, where nothing hides them."""

    def __init__(self, gear: float) -> None:
        super().__init__("blade of the wind turbine", _wind_rotor(0.17), 1 / gear, _tower(0.14))


class Chuck(Driven):
    """The chuck of a drill with its bit, before the machine."""

    def __init__(self, gear: float) -> None:
        super().__init__("jaw of the chuck", _chuck(0.15), 1 / gear)


class TrainWheel(Driven):
    """A wheel of a train on its rail, behind the motor that drives it by a pair of gears; the sleepers pass below. The track is longer
    than the picture is wide."""

    RADIUS, APART = 0.17, 0.08  # m
    at = (0.0, 0.03)

    def __init__(self, gear: float) -> None:
        rail = block([0, self.at[1] - self.RADIUS - 0.006, -0.11], [1.5, 0.012, 0.02], palette.STEEL)
        super().__init__("spoke of the train's wheel", _train_wheel(self.RADIUS, -0.11), -1 / gear, rail)  # gears turn against each other
        ties = [
            block([part * self.APART, self.at[1] - self.RADIUS - 0.02, -0.11], [0.032, 0.016, 0.1], palette.CORD) for part in range(-9, 10)
        ]
        self.sleepers = self.add(Solid(joined(*ties)))

    def put(self, turned: float) -> None:
        super().put(turned)
        self.sleepers.put((math.remainder(self.RADIUS * turned, self.APART), 0.0, 0.0))


class BicycleWheel(Driven):
    """A bicycle's wheel, whose tyre turns a roller on the shaft's drive end: there it is seen how they touch."""

    RADIUS, FRONT = 0.12, 0.085  # m

    def __init__(self, gear: float) -> None:
        roller = self.RADIUS / gear
        self.at = 0.0, self.RADIUS + roller
        super().__init__("spoke of the bicycle's wheel", _bicycle_wheel(self.RADIUS, self.FRONT), -1 / gear)
        self.roller = self.add(Solid(_roller(roller, self.FRONT)))

    def put(self, turned: float) -> None:
        super().put(turned)
        self.roller.put((0, 0, 0), _about_z(turned / self.ratio))


def _fan(z: float) -> Mesh:
    tilt = _about_y(math.radians(24))
    blade = ring_part(0.03, 0.14, math.pi / 2 - 0.48, math.pi / 2 + 0.48, -0.0025, 0.0025, BLADE).turned(tilt)
    hub = lathed([(-0.03, 0.0), (-0.03, 0.036), (0.03, 0.036), (0.03, 0.0)], palette.SLATE, 18)
    return joined(hub, repeated(blade, np.arange(4) * TURN / 4), rod([0, 0, 0], [0, 0, -z], 0.009, palette.STEEL, 10)).moved([0, 0, z])


def _guard(z: float) -> Mesh:
    """The ring round the fan."""
    return ring(0.155, 0.01, palette.SLATE, 48, 6).turned(_UPRIGHT).moved([0, 0, z])


def _turbine(z: float) -> Mesh:
    blade = block([0, 0.105, 0], [0.022, 0.085, 0.004], palette.STEEL).turned(_about_y(math.radians(35)))
    parts = [
        ring_part(0.03, 0.065, 0, TURN, -0.015, 0.015, palette.SLATE, 15),
        ring_part(0.145, 0.152, 0, TURN, -0.015, 0.015, palette.BRASS, 10),
    ]
    return joined(*parts, repeated(blade, np.arange(16) * TURN / 16), rod([0, 0, 0], [0, 0, -z], 0.009, palette.STEEL, 10)).moved([0, 0, z])


def _saw(z: float) -> Mesh:
    teeth = repeated(cone([-0.004, 0.142, 0], [0.014, 0.166, 0], 0.012, palette.STEEL, 4), np.arange(24) * TURN / 24)
    return joined(ring_part(0.0, 0.146, 0, TURN, -0.002, 0.002, palette.STEEL, 10), teeth).moved([0, 0, z])


def _wind_rotor(z: float) -> Mesh:
    blade = swept([[-0.014, -0.003], [0.014, -0.003], [0.014, 0.003], [-0.014, 0.003]], [[0, 0.01, 0], [0, 0.2, 0]], [1, 0, 0], BLADE)
    slim = np.where(blade.points[:, 1:2] > 0.1, [[0.3, 1, 1]], [[1, 1, 1]])  # toward the tip
    blade = Mesh(blade.points * slim, blade.normals, blade.colours, blade.triangles).turned(_about_y(math.radians(15)))
    hub = joined(rod([0, 0, -0.085], [0, 0, 0.004], 0.009, palette.STEEL, 14), rod([0, 0, -0.012], [0, 0, 0.016], 0.02, palette.SLATE, 18))
    return joined(repeated(blade, np.arange(3) * TURN / 3), hub).moved([0, 0, z])


def _tower(z: float) -> Mesh:
    """What the rotor's bearing stands on, slim, and the ground below it."""
    return joined(
        rod([0, 0, -0.022], [0, 0, 0.014], 0.017, PALE, 14),
        cone([0, -0.23, 0], [0, 0.12, 0], 0.017, PALE, 16),
        rod([0, -0.236, 0], [0, -0.23, 0], 0.05, GRASS, 24),
    ).moved([0, 0, z])


def _chuck(z: float) -> Mesh:
    body = lathed([(0, 0.0), (0, 0.021), (0.03, 0.021), (0.032, 0.019), (0.052, 0.008), (0.052, 0.0)], palette.SLATE, 16)
    jaws = repeated(block([0.0085, 0, 0.05], [0.006, 0.005, 0.016], palette.STEEL), np.arange(3) * TURN / 3)
    turns = np.linspace(0, 3 * TURN, 40)
    helix = np.column_stack([0.0032 * np.cos(turns), 0.0032 * np.sin(turns), 0.055 + 0.07 * turns / turns[-1]])
    flutes = [swept(circle(0.0026, 5), helix * [sign, sign, 1], [0.3, 0.2, 1.0], palette.STEEL) for sign in (1, -1)]
    return joined(body, jaws, *flutes).moved([0, 0, z])


def _train_wheel(radius: float, z: float) -> Mesh:
    tyre = ring_part(radius - 0.022, radius, 0, TURN, -0.012, 0.012, palette.STEEL, 7.5)
    flange = ring_part(radius - 0.022, radius + 0.009, 0, TURN, -0.018, -0.012, palette.IRON, 7.5)
    spokes = repeated(block([0, 0.5 * radius, 0], [0.02, 0.75 * radius, 0.014], palette.SLATE), np.arange(9) * TURN / 9)
    return joined(tyre, flange, spokes, ring_part(0.0, 0.03, 0, TURN, -0.02, 0.02, palette.SLATE, 20)).moved([0, 0, z])


def _bicycle_wheel(radius: float, z: float) -> Mesh:
    tyre = ring(radius - 0.005, 0.01, palette.INK, 60, 6).turned(_UPRIGHT)
    rim = ring(radius - 0.013, 0.006, palette.STEEL, 60, 4).turned(_UPRIGHT)
    spokes = repeated(rod([0.008, 0, 0], [0, radius - 0.014, 0], 0.0009, palette.IRON, 4), np.arange(18) * TURN / 18)
    hub = rod([0, 0, -0.015], [0, 0, 0.015], 0.009, palette.STEEL, 12)
    reflector = block([0, 0.6 * radius, 0], [0.012, 0.03, 0.004], palette.rgb("#e8862a"))
    return joined(tyre, rim, spokes, hub, reflector).moved([0, 0, z])


def _roller(radius: float, z: float) -> Mesh:
    """With ribs, by which one sees it turn."""
    ribs = repeated(block([0, radius - 0.001, 0], [0.0022, 0.003, 0.026], palette.BRASS), np.arange(6) * TURN / 6)
    return joined(rod([0, 0, -0.013], [0, 0, 0.013], radius - 0.0008, palette.SLATE, 18), ribs).moved([0, 0, z])


_UPRIGHT = np.array([[1.0, 0, 0], [0, 0, -1.0], [0, 1.0, 0]])  # what lay round y stands round z


def _about_z(angle: float) -> np.ndarray:
    c, s = math.cos(angle), math.sin(angle)
    return np.array([[c, -s, 0], [s, c, 0], [0, 0, 1.0]])


def _about_y(angle: float) -> np.ndarray:
    c, s = math.cos(angle), math.sin(angle)
    return np.array([[c, 0, s], [0, 1.0, 0], [-s, 0, c]])

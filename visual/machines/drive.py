"""A motor on its bedplate, what it drives, and what stands beside it while it starts. The shaft is z, drive end +z."""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.machines.machine_shapes import lathed
from visual.solid.mesh import Mesh, block, joined, rod
from visual.solid.shade import bench_plate, shaded
from visual.solid.solids import Group, Letters, Solid
from visual.solid.told import Told, point

BODY, SHAFT = 0.07, 0.012  # m, radii
COUPLING = 0.115  # m, where the load's own shaft begins
GLAND = (-0.012, 0.087, 0.0)  # m, where the cable goes into the terminal box
GROUND = -0.085  # m, the height of the bench
BENCH, BENCH_COLOUR = (0.18,), (0.66, 0.68, 0.68)  # m that its middle lies to the left of the shaft
HUB = 0.19  # m, the middle of what is driven
FRAME, BOARD = (0.33, 0.47, 0.50), (0.93, 0.93, 0.9)


def motor_frame() -> Mesh:
    """The part that stands still: ribbed frame and fan cowl on its feet, with its terminal box."""
    rib = block([0, BODY + 0.002, 0], [0.004, 0.008, 0.13], FRAME)
    ribs = [rib.turned(_about_z(angle)) for angle in np.radians(np.arange(0, 360, 18))]
    cowl = lathed([(-0.115, 0.0), (-0.115, 0.055), (-0.11, 0.066), (-0.07, 0.07)], palette.SLATE, 20)
    body = joined(lathed([(-0.07, BODY), (0.07, BODY)], FRAME, 20), *ribs, end_shield(), cowl)
    return joined(shaded(body, feet_and_box(), ground=GROUND), feet_and_box())


def end_shield() -> Mesh:
    """The end shield at the drive end."""
    return lathed([(0.07, BODY), (0.074, BODY), (0.085, 0.03), (0.086, 0.0)], FRAME, 20)


def feet_and_box() -> Mesh:
    """Four feet, and the terminal box on top with the gland of its cable."""
    feet = [block([side * 0.055, -0.075, z], [0.05, 0.02, 0.03], FRAME) for side in (-1, 1) for z in (-0.045, 0.045)]
    box = block([0.03, 0.087, 0.0], [0.062, 0.038, 0.075], FRAME)
    lid = block([0.03, 0.1075, 0.0], [0.066, 0.005, 0.079], np.asarray(FRAME) * 0.8)
    return joined(
        *[shaded(foot, ground=GROUND) for foot in feet], box, lid, rod([-0.012, 0.087, 0], [0.0, 0.087, 0], 0.009, palette.BRASS, 8)
    )


def bench_top() -> Mesh:
    """What motor, driven machine and panel stand on, dark where they do."""
    feet = [(side * 0.055 + BENCH[0], z, 0.025, 0.015) for side in (-1, 1) for z in (-0.105, -0.015)]
    under = [(BENCH[0], 0.0, 0.05, 0.13), (BENCH[0] - 0.32, 0.0, 0.2, 0.004)]
    return bench_plate(0.37, 0.2, GROUND, 0.014, BENCH_COLOUR, [*feet, *under], 30).moved([-BENCH[0], 0, 0.06])


def shaft_with_coupling() -> Mesh:
    """The shaft outside the motor with a key and a coupling, whose bolts show that it turns."""
    bolts = [
        rod(
            [0.03 * np.cos(a), 0.03 * np.sin(a), COUPLING - 0.012],
            [0.03 * np.cos(a), 0.03 * np.sin(a), COUPLING + 0.014],
            0.005,
            palette.BRASS,
            6,
        )
        for a in np.radians([45, 165, 285])
    ]
    return joined(
        rod([0, 0, 0.08], [0, 0, HUB + 0.03], SHAFT, palette.STEEL, 12),
        lathed([(COUPLING - 0.012, 0.0), (COUPLING - 0.012, 0.038), (COUPLING + 0.012, 0.038), (COUPLING + 0.012, 0.0)], palette.SLATE, 16),
        *bolts,
    )


def fan_wheel() -> Mesh:
    """Six blades on a hub."""
    blade = block([0, 0.062, 0], [0.034, 0.075, 0.004], palette.STEEL).turned(_about_y(np.radians(35)))
    blades = [blade.turned(_about_z(angle)).moved([0, 0, HUB]) for angle in np.radians(np.arange(0, 360, 60))]
    return joined(lathed([(HUB - 0.02, 0.0), (HUB - 0.02, 0.026), (HUB + 0.02, 0.022), (HUB + 0.028, 0.0)], palette.SLATE, 14), *blades)


def pump_wheel() -> Mesh:
    """An open impeller with bent vanes."""
    vanes = [
        block([0.02, 0.038, 0], [0.006, 0.05, 0.018], palette.BRASS).turned(_about_z(angle)).moved([0, 0, HUB + 0.01])
        for angle in np.radians(np.arange(0, 360, 60))
    ]
    return joined(lathed([(HUB - 0.006, 0.0), (HUB - 0.006, 0.068), (HUB + 0.001, 0.068), (HUB + 0.001, 0.0)], palette.STEEL, 20), *vanes)


def pump_casing() -> Mesh:
    """The open half of a volute with its delivery branch."""
    back = [(HUB - 0.03, 0.0), (HUB - 0.03, 0.085), (HUB - 0.012, 0.085), (HUB - 0.012, 0.0)]
    return joined(
        lathed(back, FRAME, 22),
        rod([0.06, 0.02, HUB - 0.01], [0.06, 0.096, HUB - 0.01], 0.024, FRAME, 14),
        block([0, -0.085, HUB - 0.02], [0.09, 0.03, 0.03], FRAME),
    )


def belt_drum() -> Mesh:
    """A drum with lagging strips, so that one sees it turn."""
    strips = [
        block([0.052, 0, 0], [0.008, 0.014, 0.1], palette.BRASS).turned(_about_z(angle)).moved([0, 0, HUB])
        for angle in np.radians(np.arange(0, 360, 45))
    ]
    return joined(lathed([(HUB - 0.055, 0.0), (HUB - 0.055, 0.05), (HUB + 0.055, 0.05), (HUB + 0.055, 0.0)], palette.SLATE, 20), *strips)


def belt() -> Mesh:
    """A belt that leaves the drum to the right with a crate on it."""
    return joined(
        block([0.085, 0.056, HUB], [0.17, 0.006, 0.09], palette.INK),
        block([0.085, -0.056, HUB], [0.17, 0.006, 0.09], palette.INK),
        rod([0.17, 0, HUB - 0.05], [0.17, 0, HUB + 0.05], 0.052, palette.SLATE, 16),
        block([0.095, 0.08, HUB], [0.05, 0.042, 0.06], palette.WOOD),
    )


def flywheel() -> Mesh:
    """A heavy rim on four spokes."""
    rim = [(HUB - 0.02, 0.062), (HUB - 0.02, 0.084), (HUB + 0.02, 0.084), (HUB + 0.02, 0.062), (HUB - 0.02, 0.062)]
    spokes = [
        block([0, 0.035, 0], [0.014, 0.07, 0.016], palette.IRON).turned(_about_z(angle)).moved([0, 0, HUB])
        for angle in np.radians([0, 90, 180, 270])
    ]
    return joined(lathed(rim, palette.SLATE, 28), *spokes, block([0, 0.073, HUB + 0.0205], [0.016, 0.02, 0.003], palette.BRASS))


class TurningShaft(Group):
    """The shaft, its coupling and the driven machine, of which one of `wheels` is shown; told by the coupling's first bolt."""

    def __init__(self, group):
        super().__init__()
        group.add(self)
        self.shaft = self.add(Solid(shaft_with_coupling()))
        shapes = {"fan": fan_wheel, "pump": pump_wheel, "conveyor": belt_drum, "flywheel": flywheel}
        self.rotor: Solid | None = None
        self.wheels = {name: self.add(Solid(shape())) for name, shape in shapes.items()}
        self.angle = 0.0

    def add_rotor(self, shape: Mesh) -> Solid:
        """A rotor on the same shaft, in sight where the motor is open."""
        self.rotor = self.add(Solid(shape))
        return self.rotor

    def put(self, driven: str, angle: float) -> None:
        """Turned to `angle`, rad, counter-clockwise looking at the drive end (+z)."""
        self.angle = angle
        turn = _about_z(angle)
        self.shaft.put((0, 0, 0), turn)
        if self.rotor:
            self.rotor.put((0, 0, 0), turn)
        for name, wheel in self.wheels.items():
            wheel.visible = self.visible and name == driven
            wheel.put((0, 0, 0), turn)

    def tell(self, found: Told) -> None:
        _, (x, y, _), (across, up, _), _ = self.shaft.place
        part = np.sqrt(0.5)  # the first bolt stands at 45 degrees
        found.needles.append(("first bolt of the coupling", (0.0, 0.0, COUPLING), (part * (x + across), part * (y + up), 0.0)))


class Bars(Group):
    """Bars that lie one under another on one scale from 0 to `full`, each with its name before it: of each its largest figure,
    pale, and of the chosen one what the figure is now, thicker and in full colour, with the letter at its end."""

    PALE, FAILED = 0.42, (0.45, 0.47, 0.48)
    APART = 0.044  # m: on a telephone too each name keeps to its own row
    THICK = 0.026  # m

    def __init__(self, group, names, letter: str, colour, pos, length: float, full: float, marks: dict[float, str]):
        super().__init__()
        group = group.add(self)
        self.quantity, self.chosen = letter, 0
        self.pos, self.length, self.full = np.asarray(pos, float), length, full
        self.pale = np.asarray(colour) + self.PALE * (1.0 - np.asarray(colour))
        high = self.APART * len(names)
        middle = 0.5 * self.APART - 0.5 * high
        back = group.add(
            Solid(
                joined(
                    block([length / 2, middle, 0], [length, high, 0.004], BOARD),
                    *[block([length * at / full, middle, 0], [0.002, high + 0.006, 0.006], palette.INK) for at in marks],
                )
            )
        )
        back.put(self.pos)
        bar = Solid(block([0.5, 0, 0], [1.0, self.THICK, 0.012], (1, 1, 1)))
        self.largest = [group.add(bar), *[group.add(bar.copy()) for _ in names[1:]]]
        self.bar = group.add(bar.copy())
        self.bar.colour(colour)
        self.letter = group.add(Letters(letter, palette.PAPER, 18, ground=colour))
        self.names = [group.add(Letters(name, palette.PAPER, 13, ground=palette.SLATE)) for name in names]
        for place, name in enumerate(self.names):
            name.put(self._foot(place) - [0.016 + 0.0042 * len(name.text), 0, -0.01])
        for at, words in marks.items():
            group.add(Letters(words, palette.PAPER, 13, ground=palette.SLATE)).put(
                self.pos + [length * at / full, 0.5 * self.APART - high - 0.016, 0]
            )
        self._tints: list = [None] * len(names)

    def show(self, largest: list[float | None], failed: list[bool], chosen: int, now: float | None) -> None:
        """`largest` figures, None where there is none to show; grey where it `failed`; the `chosen` place and its figure now, None
        to show none."""
        for place, (figure, bar) in enumerate(zip(largest, self.largest, strict=False)):
            bar.visible = self.visible and figure is not None
            if figure is not None:
                bar.put(self._foot(place), None, (self._long(figure), 1.0, 1.0))
                tint = self.FAILED if failed[place] else tuple(self.pale)
                if tint != self._tints[place]:
                    self._tints[place] = tint
                    bar.colour(tint)
        self.chosen = chosen
        self.bar.visible = self.letter.visible = self.visible and now is not None
        if now is None:
            return
        self.bar.put(self._foot(chosen), None, (self._long(now), 0.62, 1.8))
        self.letter.put(self._foot(chosen) + [self._long(now) + 0.011, 0, 0.012])

    def tell(self, found: Told) -> None:
        """Each bar as a pointer along x, as long as the figure it stands for."""
        drawn = [(f"{name.text}, largest {self.quantity}", bar) for name, bar in zip(self.names, self.largest, strict=True) if bar.visible]
        if self.bar.visible:
            drawn.append((f"{self.names[self.chosen].text}, {self.quantity} now", self.bar))
        for words, bar in drawn:
            (foot, _, _, (stretch, _, _)) = bar.place
            found.needles.append((words, point(foot), (stretch / self.length * self.full, 0.0, 0.0)))

    def _foot(self, place: int) -> np.ndarray:
        return self.pos - [0, self.APART * place, 0]

    def _long(self, figure: float) -> float:
        return float(np.clip(figure / self.full, 1e-4, 1.05)) * self.length


def _about_z(angle: float) -> np.ndarray:
    c, s = np.cos(angle), np.sin(angle)
    return np.array([[c, -s, 0], [s, c, 0], [0, 0, 1.0]])


def _about_y(angle: float) -> np.ndarray:
    c, s = np.cos(angle), np.sin(angle)
    return np.array([[c, 0, s], [0, 1.0, 0], [-s, 0, c]])

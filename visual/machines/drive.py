"""A motor on its bedplate, what it drives, and what stands beside it while it starts. The shaft is z, drive end +z."""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.machines.machine_shapes import lathed
from visual.solid.mesh import Mesh, block, joined, rod
from visual.solid.solids import Letters, Solid

BODY, SHAFT = 0.07, 0.012  # m, radii
COUPLING = 0.115  # m, where the load's own shaft begins
HUB = 0.19  # m, the middle of what is driven
FRAME, BOARD = (0.33, 0.47, 0.50), (0.93, 0.93, 0.9)


def motor_frame() -> Mesh:
    """The part that stands still: ribbed frame, feet, terminal box, end shields, fan cowl, bedplate."""
    ribs = [block([0, 0, 0], [0.004, 2 * BODY + 0.012, 0.13], FRAME).turned(_about_z(angle)) for angle in np.radians(np.arange(0, 180, 18))]
    return joined(
        lathed([(-0.07, BODY), (0.07, BODY)], FRAME, 20),
        *ribs,
        lathed([(0.07, BODY), (0.074, BODY), (0.085, 0.03), (0.086, 0.0)], FRAME, 20),
        lathed([(-0.115, 0.0), (-0.115, 0.055), (-0.11, 0.066), (-0.07, 0.07)], palette.SLATE, 20),
        *[block([side * 0.055, -0.078, z], [0.05, 0.014, 0.03], FRAME) for side in (-1, 1) for z in (-0.045, 0.045)],
        block([0.06, 0.035, 0.0], [0.06, 0.06, 0.075], FRAME),
        block([0, -0.093, 0.06], [0.26, 0.016, 0.42], palette.SLATE),
    )


def shaft_with_coupling() -> Mesh:
    """The shaft outside the motor with a key and a coupling, whose bolts show that it turns."""
    bolts = [rod([0.03 * np.cos(a), 0.03 * np.sin(a), COUPLING - 0.012], [0.03 * np.cos(a), 0.03 * np.sin(a), COUPLING + 0.014], 0.005, palette.BRASS, 6)
             for a in np.radians([45, 165, 285])]
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
    vanes = [block([0.02, 0.038, 0], [0.006, 0.05, 0.018], palette.BRASS).turned(_about_z(angle)).moved([0, 0, HUB + 0.01])
             for angle in np.radians(np.arange(0, 360, 60))]
    return joined(lathed([(HUB - 0.006, 0.0), (HUB - 0.006, 0.068), (HUB + 0.001, 0.068), (HUB + 0.001, 0.0)], palette.STEEL, 20), *vanes)


def pump_casing() -> Mesh:
    """The open half of a volute with its delivery branch."""
    back = [(HUB - 0.03, 0.0), (HUB - 0.03, 0.085), (HUB - 0.012, 0.085), (HUB - 0.012, 0.0)]
    return joined(lathed(back, FRAME, 22), rod([0.06, 0.02, HUB - 0.01], [0.06, 0.12, HUB - 0.01], 0.024, FRAME, 14),
                  block([0, -0.085, HUB - 0.02], [0.09, 0.03, 0.03], FRAME))


def belt_drum() -> Mesh:
    """A drum with lagging strips, so that one sees it turn."""
    strips = [block([0.052, 0, 0], [0.008, 0.014, 0.1], palette.BRASS).turned(_about_z(angle)).moved([0, 0, HUB]) for angle in np.radians(np.arange(0, 360, 45))]
    return joined(lathed([(HUB - 0.055, 0.0), (HUB - 0.055, 0.05), (HUB + 0.055, 0.05), (HUB + 0.055, 0.0)], palette.SLATE, 20), *strips)


def belt() -> Mesh:
    """A belt that leaves the drum to the right with a crate on it."""
    return joined(
        block([0.085, 0.056, HUB], [0.17, 0.006, 0.09], palette.INK), block([0.085, -0.056, HUB], [0.17, 0.006, 0.09], palette.INK),
        rod([0.17, 0, HUB - 0.05], [0.17, 0, HUB + 0.05], 0.052, palette.SLATE, 16),
        block([0.095, 0.08, HUB], [0.05, 0.042, 0.06], palette.WOOD),
    )


def flywheel() -> Mesh:
    """A heavy rim on four spokes."""
    rim = [(HUB - 0.02, 0.062), (HUB - 0.02, 0.084), (HUB + 0.02, 0.084), (HUB + 0.02, 0.062), (HUB - 0.02, 0.062)]
    spokes = [block([0, 0.035, 0], [0.014, 0.07, 0.016], palette.IRON).turned(_about_z(angle)).moved([0, 0, HUB]) for angle in np.radians([0, 90, 180, 270])]
    return joined(lathed(rim, palette.SLATE, 28), *spokes, block([0, 0.073, HUB + 0.0205], [0.016, 0.02, 0.003], palette.BRASS))


class Column:
    """A standing column as high as a figure, from 0 to `full`, with marks and a letter, to be seen from both sides."""

    def __init__(self, group, letter: str, colour, pos, height: float, full: float, marks: dict[float, str]):
        self.pos, self.height, self.full = np.asarray(pos, float), height, full
        back = group.add(Solid(joined(block([0, height / 2, 0], [0.03, height, 0.004], BOARD),
                                      *[block([0, height * at / full, 0], [0.036, 0.002, 0.006], palette.INK) for at in marks])))
        back.put(self.pos)
        self.bar = group.add(Solid(block([0, 0.5, 0], [0.024, 1.0, 0.016], (1, 1, 1))))
        self.bar.colour(colour)
        self.letter = group.add(Letters(letter, palette.PAPER, 22, ground=colour))
        self.letter.put(self.pos + [0, -0.018, 0.01])
        for at, words in marks.items():
            group.add(Letters(words, palette.PAPER, 14, ground=palette.SLATE)).put(self.pos + [0.03 + 0.0028 * len(words), height * at / full, 0])

    def show(self, value: float) -> None:
        share = float(np.clip(value / self.full, 1e-4, 1.05))
        self.bar.put(self.pos, None, (1.0, share * self.height, 1.0))


class ColumnsBesideEachOther:
    """Numbered columns on one scale from 0 to `full`: of each its largest figure, pale, and of the chosen one what the
    figure is now, thicker and in full colour, with the letter on top; its number and name stand as `heading.text` above all.
    To be seen from both sides."""

    PALE, FAILED = 0.42, (0.45, 0.47, 0.48)
    APART = 0.031  # m

    def __init__(self, group, count: int, letter: str, colour, pos, height: float, full: float, marks: dict[float, str]):
        self.pos, self.height, self.full = np.asarray(pos, float), height, full
        self.pale = np.asarray(colour) + self.PALE * (1.0 - np.asarray(colour))
        middle, width = self.APART * (count - 1) / 2, self.APART * count
        back = group.add(Solid(joined(block([middle, height / 2, 0], [width, height, 0.004], BOARD),
                                      *[block([middle, height * at / full, 0], [width + 0.006, 0.002, 0.006], palette.INK) for at in marks])))
        back.put(self.pos)
        bar = Solid(block([0, 0.5, 0], [0.024, 1.0, 0.012], (1, 1, 1)))
        self.largest = [group.add(bar), *[group.add(bar.copy()) for _ in range(count - 1)]]
        self.bar = group.add(bar.copy())
        self.bar.colour(colour)
        self.letter = group.add(Letters(letter, palette.PAPER, 20, ground=colour))
        self.numbers = [group.add(Letters(str(place + 1), palette.PAPER, 15, ground=palette.SLATE)) for place in range(count)]
        for place, number in enumerate(self.numbers):
            number.put(self._foot(place) + [0, -0.014, 0.01])
        self.heading = group.add(Letters("", palette.PAPER, 16, ground=palette.SLATE))
        self.heading.put(self.pos + [middle, height + 0.022, 0.01])
        for at, words in marks.items():
            group.add(Letters(words, palette.PAPER, 14, ground=palette.SLATE)).put(self.pos + [-0.042 - 0.0028 * len(words), height * at / full, 0])
        self._tints: list = [None] * count

    def show(self, largest: list[float | None], failed: list[bool], chosen: int, now: float) -> None:
        """`largest` figures, None where there is none to show; grey where it `failed`; the `chosen` place and its figure now."""
        for place, (figure, bar) in enumerate(zip(largest, self.largest)):
            bar.visible = figure is not None
            if figure is not None:
                bar.put(self._foot(place), None, (1.0, self._high(figure), 1.0))
                tint = self.FAILED if failed[place] else tuple(self.pale)
                if tint != self._tints[place]:
                    self._tints[place] = tint
                    bar.colour(tint)
        self.bar.put(self._foot(chosen), None, (1.0, self._high(now), 1.8))
        self.letter.put(self._foot(chosen) + [0, self._high(now) + 0.012, 0.01])

    def _foot(self, place: int) -> np.ndarray:
        return self.pos + [self.APART * place, 0, 0]

    def _high(self, figure: float) -> float:
        return float(np.clip(figure / self.full, 1e-4, 1.05)) * self.height


class TerminalBoard:
    """The six terminals as IEC 60034-8 letters them, with the links that join them in star or in delta."""

    AT = {"U1": (-1, 1), "V1": (0, 1), "W1": (1, 1), "W2": (-1, -1), "U2": (0, -1), "V2": (1, -1)}

    def __init__(self, group, pos, size: float):
        pos = np.asarray(pos, float)
        places = {name: np.array([0.36 * x, 0.28 * y, 0]) * size for name, (x, y) in self.AT.items()}
        studs = [rod(place + [0, 0, 0], place + [0, 0, 0.09 * size], 0.045 * size, palette.BRASS, 8) for place in places.values()]
        group.add(Solid(joined(block([0, 0, -0.02 * size], [1.25 * size, 1.0 * size, 0.05 * size], palette.SLATE), *studs))).put(pos)
        for name, place in places.items():
            group.add(Letters(name, palette.PAPER, 15, ground=palette.INK)).put(pos + place + [0, 0.17 * size * np.sign(place[1]), 0.06 * size])
        bar = Solid(block([0, 0, 0], [1.0, 1.0, 1.0], palette.COPPER))
        self.star = group.add(bar)
        self.star.put(pos + [0, -0.28 * size, 0.1 * size], None, (0.86 * size, 0.1 * size, 0.03 * size))
        self.delta = [group.add(bar.copy()) for _ in range(3)]
        for link, x in zip(self.delta, (-1, 0, 1)):
            link.put(pos + [0.36 * size * x, 0, 0.1 * size], None, (0.1 * size, 0.68 * size, 0.03 * size))

    def join(self, how: str) -> None:
        """Lay the links for "star" or "delta"; none for anything else (between the two)."""
        self.star.visible = how == "star"
        for link in self.delta:
            link.visible = how == "delta"


class ResistorSteps:
    """Resistors on the slip rings: as many of the steps are in as `show` says."""

    def __init__(self, group, pos, steps: int):
        self.steps = [group.add(Solid(joined(*[block([x * 0.02, 0, 0], [0.012, 0.05, 0.012], (1, 1, 1)) for x in (-1, 0, 1)]))) for _ in range(steps)]
        for number, one in enumerate(self.steps):
            one.put(np.asarray(pos, float) + [0.072 * number, 0, 0])
        self.letters = group.add(Letters("rotor resistors", palette.PAPER, 15, ground=palette.SLATE))
        self.letters.put(np.asarray(pos, float) + [0.036 * steps - 0.036, -0.045, 0.01])

    def show(self, count: int) -> None:
        """`count` steps in circuit (hot), the others short-circuited (grey); below 0 there are none at all."""
        self.letters.visible = count >= 0
        for number, one in enumerate(self.steps):
            one.visible = count >= 0
            one.colour(palette.EMF if number < count else (0.6, 0.64, 0.66))


def _about_z(angle: float) -> np.ndarray:
    c, s = np.cos(angle), np.sin(angle)
    return np.array([[c, -s, 0], [s, c, 0], [0, 0, 1.0]])


def _about_y(angle: float) -> np.ndarray:
    c, s = np.cos(angle), np.sin(angle)
    return np.array([[c, 0, s], [0, 1.0, 0], [-s, 0, c]])
